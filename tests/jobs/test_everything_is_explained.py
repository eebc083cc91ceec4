"""Whatever is drawn or reckoned of a bundled style can be asked for by its name, and is told in a screen's length."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from godet.graph.evaluate import Evaluated
from godet.jobs.asked import asked
from godet.jobs.explain import LONGEST, explain, printed, told_on
from godet.jobs.outcome import outcomes
from godet.jobs.results import BodyResult
from godet.meaning.style import CheckedStyle
from support.style_runs import PATTERNS, invented, prepared

STATED = ("grain", "cut", "allow")
EVERY = 4
"""Of what is reckoned one in so many is asked for, which tells as much in less time: its answer is made in one way."""


def drawn(style: CheckedStyle, result: BodyResult) -> Iterator[str]:
    """Pieces, their edges, inner lines, darts and points, what is said of them; seams."""
    for made in result.pieces:
        piece = made.piece
        yield made.name
        yield from (f"{made.name}.{one}" for one in (*piece.edge_names(), *piece.dart_names(), *piece.points))
        yield from (f"{made.name}.{one}" for one in STATED)
    for name in style.seams:
        yield name
        yield name.removesuffix(".left").removesuffix(".right")  # both, as they are written


def reckoned(style: CheckedStyle, found: Evaluated) -> Iterator[str]:
    """What the style defines itself, the blocks it uses and what these are made of, checks, promises, what is attached."""
    own = [name for name, node in style.names.items() if node in found.parts[0].values and name.count(".") <= 1]
    yield from (name for name in own if "." not in name)
    yield from (name.partition(".")[0] for name in own)
    yield from (one.name for one in (*style.checks, *style.tidings))
    yield from (*style.fits, *style.attached, *(one.name for one in style.choices))


@pytest.mark.parametrize("path", sorted(PATTERNS.glob("*.style")), ids=lambda path: path.stem)
def test_everything_drawn_and_reckoned_has_its_answer(path: Path) -> None:
    made = prepared(path, [invented("alto_3")])
    assert made.style is not None
    found = outcomes(made)
    names = dict.fromkeys((*drawn(made.style, found[0][0]), *list(reckoned(made.style, found[1]))[::EVERY]))
    assert len(names) > 40
    for name in names:
        what, problem = asked(made.style, name)
        assert what is not None, (name, problem)
        told, errors = told_on(made, found, name, what)
        assert not errors, name
        lines = printed(*told[0], False)
        assert 2 <= len(lines) <= LONGEST, name


@pytest.mark.parametrize("style", ["concert_top", "plain_trousers"])
def test_every_measurement_has_its_answer(style: str) -> None:
    """Taken or estimated."""
    made = prepared(PATTERNS / f"{style}.style", [invented("alto_3")])
    assert made.style is not None
    for measure in made.style.measures:
        told, errors = explain(made, str(measure))
        assert not errors
        assert len(printed(*told[0], False)) == 2
