"""Every error and warning has a code of its own: what is done about it is told by that, in talk and in print."""

from __future__ import annotations

import ast
import re
from collections import defaultdict
from collections.abc import Iterator
from pathlib import Path

WORDING = Path(__file__).parents[2] / "compiler" / "diagnostics"


def _codes() -> Iterator[tuple[str, str]]:
    """Each code that is written in a function or a constant of the wording, with that."""
    for file in WORDING.glob("*.py"):
        for one in ast.parse(file.read_text("utf-8")).body:
            if isinstance(one, ast.FunctionDef | ast.Assign):
                name = one.name if isinstance(one, ast.FunctionDef) else ast.unparse(one.targets[0])
                texts = (str(node.value) for node in ast.walk(one) if isinstance(node, ast.Constant))
                yield from ((text, f"{file.stem}.{name}") for text in texts if re.fullmatch(r"[EW]\d{3}", text))


def test_no_two_errors_share_a_code() -> None:
    found: dict[str, set[str]] = defaultdict(set)
    for code, where in _codes():
        found[code].add(where)
    assert len(found) > 250
    assert {code: where for code, where in found.items() if len(where) > 1} == {}
