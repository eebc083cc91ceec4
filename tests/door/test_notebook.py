"""The notebook that comes with the tests runs, and what its cells end with shows itself.

Its cells are executed here one after the other; a kernel would only add packages to what is tested.
"""

from __future__ import annotations

import ast
import json
from pathlib import Path
from xml.etree import ElementTree

import pytest
from support.style_runs import ROOT

NOTEBOOK = Path(__file__).parent / "choir.ipynb"
LARGEST = 400_000
"""Characters of what a cell shows."""


def shown(source: str, names: dict[str, object]) -> object:
    """What a cell ends with: its last expression."""
    *before, last = ast.parse(source).body
    assert isinstance(last, ast.Expr)
    exec(compile(ast.Module(before, []), "cell", "exec"), names)
    return eval(compile(ast.Expression(last.value), "cell", "eval"), names)


def test_the_notebook_runs_and_shows_pictures_and_tables(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(ROOT)
    notebook = json.loads(NOTEBOOK.read_text("utf-8"))
    assert (notebook["nbformat"], notebook["nbformat_minor"]) == (4, 4)
    cells = [one for one in notebook["cells"] if one["cell_type"] == "code"]
    assert not any(one["outputs"] for one in cells)
    names: dict[str, object] = {}
    kinds = [_kind(shown("".join(one["source"]), names)) for one in cells]
    assert kinds == ["svg", "svg", "svg", "html", "svg", "text"]


def _kind(value: object) -> str:
    """As what a notebook shows a value: the richest way in which it can be shown, which is well-formed and small."""
    for kind in ("html", "svg"):
        found = getattr(value, f"_repr_{kind}_", lambda: None)()
        if found is not None:
            assert ElementTree.fromstring(found).tag.endswith("svg" if kind == "svg" else "table")
            assert len(found) < LARGEST
            return kind
    return "text"
