"""A body given as a row of values (a mapping, a row of a table) as the text of a body file, so that it is read as one."""

from __future__ import annotations

import json
import re
from collections.abc import Mapping
from decimal import Decimal
from numbers import Real
from types import MappingProxyType

from .body import Body
from .body_file import GREATEST, LIMITS
from .units import MM_PER
from .vocabulary import canonical, vocabulary

_HEAD = ("name", "unit", "sex")
_NUMBERS = (Real, Decimal)  # a database writes decimals, which Python does not count among the reals


def body_text(row: Mapping[str, object]) -> str:
    """The body file of a row: `name`, `unit` and `sex`, all else as measures; None and NaN are what was not measured."""
    given = {str(key): value for key, value in row.items() if not _is_missing(value)}
    head = [f"{key} = {_value(given[key])}" for key in _HEAD if key in given]
    measures = [f"{_key(key)} = {_value(value)}" for key, value in given.items() if key not in _HEAD]
    return "\n".join([*head, "[measures]", *measures, ""])


def plain_body(row: Mapping[str, object], file: str) -> Body | None:
    """The body of a row, without the places of its numbers, where the reader of body files would find nothing amiss; None where
    that is to look at it. It spares a million bodies of a table to be written out and parsed."""
    name, unit, sex = (row.get(key) for key in _HEAD)
    factor = MM_PER.get(unit) if isinstance(unit, str) else None  # type: ignore[call-overload]  # it may be no unit
    if factor is None or not isinstance(name, str) or not name.strip() or not name.isprintable() or sex not in ("F", "M", None):
        return None
    measures: dict[str, float] = {}
    for word, value in row.items():
        if word in _HEAD or value is None or value != value:
            continue
        known = canonical(word)
        if known is None or known in measures or not isinstance(value, float) or value > GREATEST:
            return None
        kind = vocabulary()[known].kind
        measures[known] = value * factor if kind == "length" else value
        low, high = LIMITS[kind]
        if not low <= measures[known] <= high:
            return None
    return Body(name, unit, sex, MappingProxyType(measures), file) if measures else None  # type: ignore[arg-type]  # both seen to


def _is_missing(value: object) -> bool:
    return value is None or (isinstance(value, _NUMBERS) and value != value)  # NaN alone is unlike itself


def _key(key: str) -> str:
    return key if re.fullmatch(r"[A-Za-z0-9_-]+", key) else _text(key)


def _value(value: object) -> str:
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, _NUMBERS):
        return repr(float(value))
    if isinstance(value, (list, tuple, dict)):  # the reader says that it is no number
        return "{}" if isinstance(value, dict) else "[]"
    return _text(str(value))


def _text(text: str) -> str:
    return json.dumps(text, ensure_ascii=False).replace("\x7f", "\\u007f")
