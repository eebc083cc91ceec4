"""Fit on one body: what was promised at each level and along each length, what the garment came to, whether it holds."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from ..graph.evaluate import Part, rested_on
from ..graph.operations import People
from ..meaning.style import CheckedStyle
from ..pattern.piece import Piece, Reals
from ..verbs.attached import Cloth, Fit
from ..verbs.fitting import CUT

SLACK = 0.05
"""What rounding may take (mm) does not decide whether a garment fits: half of what a report prints."""


@dataclass(frozen=True)
class FitResult:
    """A promise of fit on one body, mm. `level` is "" for a length; `body_mm` is None where the body was not measured there,
    `garment_mm` where no piece lies there, `given_mm` where either is so; `drafted_mm` is what the block's own pieces come to,
    None for a promise of the style itself. `wrong` says in words why it does not hold. `estimated`: what the body measures is
    itself an estimate.
    """

    name: str
    level: str
    round: str
    body_mm: float | None
    asked_mm: float
    over_mm: float | None
    under_mm: float
    drafted_mm: float | None
    garment_mm: float | None
    given_mm: float | None
    wrong: str
    estimated: bool
    text: str

    @property
    def holds(self) -> bool:
        return not self.wrong


def fits(style: CheckedStyle, part: Part, people: People) -> list[tuple[FitResult, ...]]:
    """For each body of a part its promises, in the order of the style."""
    count = part.lanes.size
    columns = [_column(style, part, people, name, node) for name, node in style.fits.items()]
    return [tuple(column[at] for column in columns) for at in range(count)]


def _column(style: CheckedStyle, part: Part, people: People, name: str, index: int) -> list[FitResult]:
    """A promise on every body of a part."""
    value, node, count = part.values[index], style.nodes[index], part.lanes.size
    assert isinstance(value, Fit)
    settled = node.fixed["settled"]
    lengths = (value.body, value.ease, value.over, value.under, value.drafted, value.cut, value.garment)
    rows = zip(
        *(_spread(one, count) for one in lengths),
        _stretch(style, part, index).tolist(),
        _estimated(style, part, people, node.args["body"]),
        strict=True,
    )
    made = []
    for body, asked, over, under, drafted, cut, garment, stretch, estimated in rows:
        assert asked is not None
        assert under is not None
        level, round_, text = settled.get("level", ""), settled["round"], style.notes.get(name, "")
        wrong = "" if body is None else _wrong(bool(level), body, asked, over, under, drafted, cut, stretch)
        given = None if body is None or garment is None else garment - body
        made.append(FitResult(name, level, round_, body, asked, over, under, drafted, garment, given, wrong, estimated, text))
    return made


def _spread(value: Reals | None, count: int) -> Sequence[float | None]:
    return [None] * count if value is None else np.broadcast_to(value, (count,)).tolist()


def _wrong(
    is_girth: bool,
    body: float,
    asked: float,
    over: float | None,
    under: float,
    drafted: float | None,
    cut: float | None,
    stretch: float,
) -> str:
    """Why a promise does not hold, in words; "" where it does. A length may be asked shorter than the body's, a girth not."""
    if cut is None and drafted is None:
        return "no piece of the garment lies there"
    for what, found in (("the garment", cut), ("the draft", drafted)):
        if found is None:
            continue
        if (worn := found * (1.0 + stretch)) < body - under - SLACK and is_girth:
            beyond = ", more than its cloth stretches" if stretch else ""
            return f"{what} is {body - found:.1f} mm smaller than the body{beyond}"
        if (less := body + asked - worn) > under + SLACK:
            return f"{what} has {less:.1f} mm less than asked"
    what, held = ("the garment", cut) if drafted is None else ("the draft", drafted)
    if held is not None and over is not None and (more := held - body - asked) > over + SLACK:
        return f"{what} has {more:.1f} mm more than asked"
    return ""


def _stretch(style: CheckedStyle, part: Part, index: int) -> Reals:
    """By which share (L,) all the cloths stretch that the pieces of a promise are cut in."""
    node = style.nodes[index]
    pieces = [part.values[arg] for name, arg in node.args.items() if name.startswith(CUT)]
    cloths = {one.finish.cuts[0].cloth for one in pieces if isinstance(one, Piece) and one.finish.cuts}
    shares = [_share(style, part, name) for name in cloths] or [np.zeros(1)]
    least: Reals = np.min(np.stack(np.broadcast_arrays(np.zeros(part.lanes.size) + np.inf, *shares)), axis=0)
    return least


def _share(style: CheckedStyle, part: Part, cloth: str) -> Reals:
    value = part.values[style.attached[cloth]] if cloth in style.attached else None
    return value.stretch if isinstance(value, Cloth) and value.stretch is not None else np.zeros(1)


def _estimated(style: CheckedStyle, part: Part, people: People, start: int) -> list[bool]:
    """On which bodies what the body measures rests on an estimate."""
    found = np.zeros(part.lanes.size, dtype=bool)
    for index, bodies in rested_on(style, part, people, [start]).items():
        node = style.nodes[index]
        if node.op in ("measure", "fallback"):
            found |= bodies & ~people.value(str(node.fixed["name"]))[1][part.lanes]
    answers: list[bool] = found.tolist()
    return answers
