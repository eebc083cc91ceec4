"""Records as JSON, keys in the order of their fields."""

from __future__ import annotations

import json
from dataclasses import fields


def json_text(record: object) -> str:
    """A whole record, to be printed; its keys: `schema`."""
    return json_line(record, 1) + "\n"


def json_line(value: object, indent: int | None = None) -> str:
    """A record, or a part of one, in one line where nothing is indented."""
    return json.dumps(value, ensure_ascii=False, allow_nan=False, default=_keys, indent=indent)


def _keys(record: object) -> dict[str, object]:
    """The keys and values of a record, or of a mapping that is none of Python's own."""
    return {one.name: getattr(record, one.name) for one in fields(record)}  # type: ignore[arg-type]
