"""Whether JSON keeps to a schema of ours."""

from __future__ import annotations

from typing import Any

KINDS: dict[str, type | tuple[type, ...]] = {
    "string": str,
    "integer": int,
    "number": (int, float),
    "boolean": bool,
    "array": list,
    "object": dict,
    "null": type(None),
}


def keeps_to(value: Any, schema: dict[str, Any], whole: dict[str, Any], at: str = "report") -> None:
    """Fail where a value does not keep to a schema: those words of it that ours uses."""
    schema = whole["$defs"][schema["$ref"].rpartition("/")[2]] if "$ref" in schema else schema
    if "anyOf" in schema:
        ours, none = schema["anyOf"]
        keeps_to(value, none if value is None else ours, whole, at)
        return
    if "enum" in schema:
        assert value in schema["enum"], at
        return
    kinds = schema["type"] if isinstance(schema["type"], list) else [schema["type"]]
    assert any(isinstance(value, KINDS[kind]) and isinstance(value, bool) is (kind == "boolean") for kind in kinds), at
    if isinstance(value, list):
        pairs = schema["prefixItems"] if "prefixItems" in schema else [schema["items"]] * len(value)
        for number, (one, kind) in enumerate(zip(value, pairs, strict=True)):
            keeps_to(one, kind, whole, f"{at}[{number}]")
    if isinstance(value, dict):
        properties, others = schema.get("properties", {}), schema["additionalProperties"]
        assert set(schema.get("required", [])) <= set(value), at
        assert others or set(value) <= set(properties), at
        for key, one in value.items():
            keeps_to(one, properties.get(key, others), whole, f"{at}.{key}")
