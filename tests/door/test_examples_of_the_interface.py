"""The examples of the interface, in README and in its docstrings, do what they say."""

from __future__ import annotations

import doctest
import re
from types import ModuleType

import pytest
from godet.bodies import frames, rows
from godet.door import errors, piece, result, style
from godet.output import schema
from support.style_runs import ROOT


def ran(text: str, name: str) -> int:
    """How many examples of a text were run; it fails where one does not print what it says."""
    test = doctest.DocTestParser().get_doctest(text, {}, name, name, 0)
    said: list[str] = []
    outcome = doctest.DocTestRunner(verbose=False).run(test, out=said.append)
    assert not outcome.failed, "".join(said)
    return outcome.attempted


@pytest.mark.parametrize(("page", "least"), [("README.md", 5), ("compiler/door/PYTHON.md", 40)])
def test_the_examples_of_a_page(page: str, least: int, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(ROOT)
    blocks = re.findall(r"```pycon\n(.*?)```", (ROOT / page).read_text("utf-8"), re.S)
    assert ran("\n".join(blocks), page) >= least


@pytest.mark.parametrize("module", [errors, piece, result, style, rows, frames, schema], ids=lambda one: one.__name__)
def test_the_examples_of_docstrings(module: ModuleType, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(ROOT)
    for one in doctest.DocTestFinder(exclude_empty=True).find(module):
        outcome = doctest.DocTestRunner(verbose=False).run(one)
        assert not outcome.failed
