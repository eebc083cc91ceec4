"""The examples of the interface, in README and in its docstrings, do what they say."""

from __future__ import annotations

import doctest
import re
from types import ModuleType

import pytest
from godet.bodies import rows
from godet.door import errors, piece, result, style
from support.style_runs import ROOT


def ran(text: str, name: str) -> int:
    """How many examples of a text were run; it fails where one does not print what it says."""
    test = doctest.DocTestParser().get_doctest(text, {}, name, name, 0)
    said: list[str] = []
    outcome = doctest.DocTestRunner(verbose=False).run(test, out=said.append)
    assert not outcome.failed, "".join(said)
    return outcome.attempted


def test_the_examples_of_the_readme(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(ROOT)
    blocks = re.findall(r"```pycon\n(.*?)```", (ROOT / "README.md").read_text("utf-8"), re.S)
    assert ran("\n".join(blocks), "README.md") >= 6


@pytest.mark.parametrize("module", [errors, piece, result, style, rows], ids=lambda one: one.__name__)
def test_the_examples_of_docstrings(module: ModuleType, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(ROOT)
    for one in doctest.DocTestFinder(exclude_empty=True).find(module):
        outcome = doctest.DocTestRunner(verbose=False).run(one)
        assert not outcome.failed
