"""What is rendered from a tree says the same: read again, it is that tree."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from godet.meaning.in_braces import as_written
from godet.syntax import tree as t
from godet.syntax.parser import parse
from godet.syntax.rendered import rendered
from support.style_runs import ROOT
from support.syntax_samples import good

STYLES = sorted(path for folder in ("stdlib", "patterns", "tests/language/features") for path in (ROOT / folder).rglob("*.style"))


def sentences(block: tuple[t.Sentence, ...]) -> Iterator[t.Sentence]:
    for one in block:
        yield t.held(one)
        yield from sentences(getattr(t.held(one), "block", None) or ())


@pytest.mark.parametrize("path", STYLES, ids=lambda path: path.stem)
def test_values_and_conditions_come_back(path: Path) -> None:
    seen = 0
    for one in sentences(parse(path.read_text("utf-8"), path.name)[0].sentences):
        if isinstance(one, t.Definition) and one.value is not None and one.kind.text != "choice":
            (again,) = good(f"{one.kind.text} x = {rendered(one.value)}\n").sentences
            assert isinstance(again, t.Definition)
            assert as_written(again.value) == as_written(one.value)
            seen += 1
        elif isinstance(one, t.Check):
            (again,) = good(f"check x that {rendered(one.condition)}\n").sentences
            assert isinstance(again, t.Check)
            assert as_written(again.condition) == as_written(one.condition)
            seen += 1
    assert seen or path.parent.name != "patterns"


@pytest.mark.parametrize(
    ("written", "plain"),
    [
        ("(a + b) * c at_least d   # a remark", "(a + b) * c at_least d"),
        ("a - -(-b) at_least c", "a - -(-b) at_least c"),
        ("a - (b - c) more_than (d)", "a - (b - c) more_than d"),
        ("not (a at_least b or c) and d", "not (a at_least b or c) and d"),
        ("-(a + 1/2) between 1 1/2 inch and (2 cm)", "-(a + 1/2) between 1 1/2 inch and 2 cm"),
        ("(length of (front.side between hem and waist)) equals b tolerance 1 mm",
         "length of (front.side between hem and waist) equals b tolerance 1 mm"),
    ],
)
def test_brackets_stand_where_they_are_needed(written: str, plain: str) -> None:
    (check,) = good(f"check x that {written}\n").sentences
    assert isinstance(check, t.Check)
    assert rendered(check.condition) == plain
