"""The JSON schemas of what commands print, made from their records."""

from __future__ import annotations

import json
import types
from collections.abc import Mapping
from dataclasses import fields, is_dataclass
from typing import Annotated, Any, Literal, Union, get_args, get_origin, get_type_hints

from .command_records import (
    BuildReport,
    CheckReport,
    ExplainReport,
    FormatReport,
    MeasuresReport,
    WordsReport,
)
from .difference_records import DifferenceRecord
from .growth_records import GrowthReport
from .proof_records import ProofRecord
from .rates_records import RatesReport
from .records import Report

DIALECT = "https://json-schema.org/draft/2020-12/schema"
_PLAIN: Mapping[object, str] = {str: "string", int: "integer", float: "number", bool: "boolean", type(None): "null"}


RECORDS: Mapping[str, tuple[type, str]] = {
    "build": (BuildReport, "What building a Godet style wrote"),
    "check": (CheckReport, "Godet styles, checked"),
    "diff": (DifferenceRecord, "What changes from one version of Godet styles to another"),
    "explain": (ExplainReport, "Where something of a Godet style comes from"),
    "fmt": (FormatReport, "The layout of Godet styles"),
    "grade": (GrowthReport, "Growth of a Godet style over sizes"),
    "measures": (MeasuresReport, "Measurements of a Godet style"),
    "prove": (ProofRecord, "A Godet style on a population"),
    "rates": (RatesReport, "Rates of a Godet style"),
    "report": (Report, "Report of a Godet style"),
    "words": (WordsReport, "Words of the language"),
}
"""By command what it prints with `--format json`; `rates` is `grade --rates`."""


def schema(command: str) -> dict[str, Any]:
    """The JSON schema of what a command prints with `--format json`, a definition for each record; it is a new value with each
    call. KeyError where the command prints none; `rates` is `grade --rates`.

    >>> schema("report")["title"], "CheckedBody" in schema("check")["$defs"]
    ('Report of a Godet style', True)
    """
    record, title = RECORDS[command]
    known: dict[str, Any] = {}
    whole = _record(record, known)
    return {"$schema": DIALECT, "title": title, **whole, "$defs": known}


def schema_text(schema: Mapping[str, Any]) -> str:
    """A schema as it is printed."""
    return json.dumps(schema, ensure_ascii=False, indent=1) + "\n"


def _record(record: type, known: dict[str, Any]) -> dict[str, Any]:
    hints = get_type_hints(record, include_extras=True)
    properties = {one.name: _of(hints[one.name], known) for one in fields(record)}
    return {
        "description": (record.__doc__ or "").strip(),
        "type": "object",
        "properties": properties,
        "required": list(properties),
        "additionalProperties": False,
    }


def _of(kind: Any, known: dict[str, Any]) -> dict[str, Any]:
    origin, args = get_origin(kind), get_args(kind)
    if origin is Annotated:
        return {**_of(args[0], known), "description": args[1]}
    if origin in (Union, types.UnionType) and get_origin(args[0]) is Literal:
        return {"enum": [*get_args(args[0]), *(None for arg in args if arg is type(None))]}
    if origin in (Union, types.UnionType) and is_dataclass(args[0]):
        return {"anyOf": [_of(arg, known) for arg in args]}
    if origin in (Union, types.UnionType):
        return {"type": [_PLAIN[arg] for arg in args]}
    if origin is Literal:
        return {"enum": list(args)}
    if origin is tuple and args[-1] is Ellipsis:
        return {"type": "array", "items": _of(args[0], known)}
    if origin is tuple:
        return {"type": "array", "prefixItems": [_of(arg, known) for arg in args], "minItems": len(args), "maxItems": len(args)}
    if origin is Mapping:
        return {"type": "object", "additionalProperties": _of(args[1], known)}
    if is_dataclass(kind):
        assert isinstance(kind, type)
        if kind.__name__ not in known:
            known[kind.__name__] = _record(kind, known)
        return {"$ref": f"#/$defs/{kind.__name__}"}
    return {"type": _PLAIN[kind]}
