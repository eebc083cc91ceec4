"""Fit on each body: what was promised of it, what the garment came to, whether it holds."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

import numpy as np

from ..bodies.units import Unit
from ..diagnostics import fit_words as words
from ..diagnostics.diagnostic import Diagnostic
from ..geometry.tolerances import SEW
from ..graph.evaluate import Part, rested_on
from ..graph.operations import BodyTable
from ..meaning.payloads import Fallback, Measure
from ..meaning.style import CheckedStyle, Node
from ..pattern.piece import Piece, Reals
from ..verbs.attached import Cloth, Fit
from ..verbs.fitting import CUT, DRAFTED, LEAST, copies, opened, outer
from ..verbs.values import listed
from .lengthened import Change, changes
from .lost_levels import lost
from .numbers import in_unit, number_at
from .shortfall import Shortfall

SLACK = 0.05
"""What rounding may take (mm) does not decide whether a garment fits: half of what a report prints."""

NOTHING_WRONG = "", ""


@dataclass(frozen=True)
class FitResult:
    """A promise of fit on one body, mm. `level` is "" for a length; `body_mm` is None where the body was not measured there,
    `garment_mm` where no piece lies there, `given_mm` where either is so; `drafted_mm` is what the block's own pieces come to,
    None for a girth the style itself promises. `wrong` says in words why it does not hold, `fix` what to do, `told` what else
    is to be known; `of_draft`: what is wrong is so of what the block drafts, whatever the style made of it. `stretch` is the
    share by which its cloth stretches. `estimated`: what the body measures is itself an estimate. `reached`: a piece that is
    cut lies at the level; of a length always so.
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
    fix: str
    told: tuple[str, ...]
    stretch: float
    estimated: bool
    text: str
    reached: bool = True
    of_draft: bool = False

    @property
    def holds(self) -> bool:
        return not self.wrong

    @property
    def is_asked(self) -> bool:
        """Whether there is something to be held against the body."""
        return bool(self.wrong) or (self.reached and self.body_mm is not None)


def fits(style: CheckedStyle, part: Part, people: BodyTable, units: Sequence[Unit]) -> list[tuple[FitResult, ...]]:
    """For each body of a part its promises, in the order of the style; `units` are those of the bodies, for what is said."""
    columns = [_column(style, part, people, name, units) for name in style.fits]
    return [tuple(column[at] for column in columns) for at in range(part.lanes.size)]


def without_ease(style: CheckedStyle, fitted: Sequence[FitResult]) -> tuple[Diagnostic, ...]:
    """A warning where all girths that are promised of a body ask for no more than the body has, and no cloth stretches; where
    these fail, that is told. It stands at the sentence of the style that makes them."""
    girths = [one for one in fitted if one.level and one.body_mm is not None]
    if not girths or any(one.asked_mm > 0.0 or one.stretch > 0.0 or one.wrong for one in girths):
        return ()
    origin = style.origins[style.fits[girths[0].name]]
    return (words.no_ease(origin.trace[0].span if origin.trace else origin.span, len(girths)),)


def _column(style: CheckedStyle, part: Part, people: BodyTable, name: str, units: Sequence[Unit]) -> list[FitResult]:
    """A promise on every body of a part."""
    index = style.fits[name]
    value, node, count = part.values[index], style.nodes[index], part.lanes.size
    assert isinstance(value, Fit)
    lengths = (value.body, value.ease, value.over, value.under, value.drafted, value.cut, value.garment)
    rows = zip(
        *(_spread(one, count) for one in lengths),
        _stretch(style, part, index).tolist(),
        _estimated(style, part, people, node.args["over"]),
        strict=True,
    )
    told = _Telling(style, part, index, value)
    made = []
    for at, (body, asked, over, under, drafted, cut, garment, stretch, estimated) in enumerate(rows):
        assert asked is not None
        assert under is not None
        given = None if body is None or garment is None else garment - body
        level, round_, text = told.level, node.words["round"], style.notes.get(name, "")
        wrong, fix = NOTHING_WRONG
        row = FitResult(
            name, level, round_, body, asked, over, under, drafted, garment, given, wrong, fix, (), stretch, estimated, text
        )
        made.append(told.of(row, cut, at, in_unit(units[at])))
    return made


def _spread(value: Reals | None, count: int) -> Sequence[float | None]:
    return [None] * count if value is None else np.broadcast_to(value, (count,)).tolist()


class _Telling:
    """What there is to be said of a promise on the bodies of a part. What is dear is looked for where it is needed alone."""

    def __init__(self, style: CheckedStyle, part: Part, index: int, value: Fit) -> None:
        node = style.nodes[index]
        self.level: str = node.words.get("at_level", "")
        self._of_block = "." in style.origins[index].name
        self._shortfall = Shortfall(style, part, index) if self.level and _may_lack(value) else None
        cut = (part.values[at] for at in listed(node.args, CUT))
        shown = outer([one for one in cut if isinstance(one, Piece)]) if self.level else []
        self._is_cut = bool(style.pieces)
        is_gone = bool(self.level) and self._is_cut and value.cut is None
        self._lost = lost(style, part, listed(node.args, DRAFTED), self.level) if is_gone else []
        self._open: Reals = sum((opened(one, self.level) * copies(one, self.level) for one in shown), start=np.zeros(1))
        self._changes = changes(style, part, node.args["followed"]) if _differs(node, value) else ()

    def of(self, row: FitResult, cut: float | None, at: int, say: Callable[[float], str]) -> FitResult:
        """A row with what is wrong with it on a body, and what else is told."""
        found, of_draft = (NOTHING_WRONG, False) if row.body_mm is None else _wrong(row, row.body_mm, cut, say)
        told = self._of_length(row, cut, at, say) if not self.level else []
        if self.level and self._is_cut and cut is None and not found[0]:
            return replace(row, garment_mm=None, given_mm=None, told=(self._not_reached(at),), reached=False)
        if (wide := number_at(self._open, at)) > LEAST:
            told.append(words.open_as_meant(say(wide)))
        if self._shortfall is not None and cut is not None:
            taken = 0.0 if row.drafted_mm is None else row.drafted_mm - cut
            if found[0] and found[0] == _less(row, row.body_mm or 0.0, "the garment", cut, say)[0]:
                others = [words.taken_by_style(say(taken))] if taken > LEAST else []
                found = _joined(found, list(self._shortfall.why(at, say)) or others)
            elif taken > LEAST and (opened := self._shortfall.opened(at, say)):
                told.append(words.cut_away(opened, self.level)[0])
        return replace(row, wrong=found[0], fix=found[1], told=tuple(told), of_draft=of_draft)

    def _not_reached(self, at: int) -> str:
        """Why no piece lies at the level on a body: it was lost with its edge, or the garment ends sooner."""
        gone = [one for one in self._lost if one.on_cloth[at if one.on_cloth.size > 1 else 0]]
        return words.lost(self.level, [(one.edge, one.by, one.ends) for one in gone]) if gone else words.not_reached()

    def _of_length(self, row: FitResult, cut: float | None, at: int, say: Callable[[float], str]) -> list[str]:
        """Of a length a block promises: that it is the block's alone, or what the style made of it."""
        if not self._of_block or row.drafted_mm is None:
            return []
        if cut is None:
            return [words.of_block()]
        if abs(by := cut - row.drafted_mm) <= SEW:
            return []
        return [words.changed(say(abs(by)), by > 0.0, _names(self._changes, at))]


def _may_lack(value: Fit) -> bool:
    """Whether the garment has less at a level than its block, or there is no block to tell."""
    return value.cut is not None and (value.drafted is None or bool((value.drafted - value.cut > LEAST).any()))


def _differs(node: Node, value: Fit) -> bool:
    if "followed" not in node.args or value.cut is None or value.drafted is None:
        return False
    return bool((np.abs(value.cut - value.drafted) > SEW).any())


def _names(found: Sequence[Change], at: int) -> list[str]:
    return list(dict.fromkeys(name for name, by in found if name and abs(by[at if by.size > 1 else 0]) > SEW))


def _joined(found: words.Told, reasons: Sequence[words.Told]) -> words.Told:
    """What is wrong with its reasons, and what to do about these."""
    return "; ".join([found[0], *(why for why, _ in reasons)]), "; ".join(fix for _, fix in reasons) or found[1]


def _wrong(row: FitResult, body: float, cut: float | None, say: Callable[[float], str]) -> tuple[words.Told, bool]:
    """Why a promise does not hold, and what to do, nothing where it does; and whether that is so of the draft. A length holds of
    the draft: what a style makes of it is its design. It may be asked shorter than the body's, a girth not, but for what the
    cloth stretches."""
    is_girth, drafted = bool(row.level), row.drafted_mm
    if cut is None and drafted is None:
        return words.NOT_COVERED, False
    for what, found in (("the garment", cut if is_girth else None), ("the draft", drafted)):
        if found is not None and (told := _less(row, body, what, found, say))[0]:
            return told, found is drafted
    what, held = ("the garment", cut) if drafted is None else ("the draft", drafted)
    if held is not None and row.over_mm is not None and (by := held - body - row.asked_mm) > row.over_mm + SLACK:
        return words.more(what, say(by)), held is drafted
    if is_girth and (by := body - (body + row.asked_mm) * (1.0 + row.stretch)) > row.under_mm + SLACK:
        return words.absurd(say(-row.asked_mm), row.stretch > 0.0, row.round), False
    return NOTHING_WRONG, False


def _less(row: FitResult, body: float, what: str, found: float, say: Callable[[float], str]) -> words.Told:
    """What is to be said where a garment or a draft has less than the body, or less than asked."""
    is_girth, worn = bool(row.level), found * (1.0 + row.stretch)
    too_small = is_girth and worn < body - row.under_mm - SLACK
    by = body + row.asked_mm - worn
    if not too_small and by <= row.under_mm + SLACK:
        return NOTHING_WRONG
    if found < body - SLACK and (is_girth or row.asked_mm >= 0.0):
        stretches = row.stretch > 0.0
        asked = "" if too_small or not stretches else say(by)
        return words.smaller(what, is_girth, say(body - found), asked, stretches, row.round, row.asked_mm < 0.0)
    return words.less(what, say(by))


def _stretch(style: CheckedStyle, part: Part, index: int) -> Reals:
    """By which share (L,) all the cloths stretch that the pieces of a promise are cut in."""
    node = style.nodes[index]
    pieces = [part.values[at] for at in listed(node.args, CUT)]
    cloths = {one.finish.cuts[0].cloth for one in pieces if isinstance(one, Piece) and one.finish.cuts}
    shares = [_share(style, part, name) for name in cloths] or [np.zeros(1)]
    least: Reals = np.min(np.stack(np.broadcast_arrays(np.zeros(part.lanes.size) + np.inf, *shares)), axis=0)
    return least


def _share(style: CheckedStyle, part: Part, cloth: str) -> Reals:
    value = part.values[style.attached[cloth]] if cloth in style.attached else None
    return value.stretch if isinstance(value, Cloth) and value.stretch is not None else np.zeros(1)


def _estimated(style: CheckedStyle, part: Part, people: BodyTable, start: int) -> list[bool]:
    """On which bodies what the body measures rests on an estimate."""
    found = np.zeros(part.lanes.size, dtype=bool)
    for index, bodies in rested_on(style, part, people, [start]).items():
        asked = style.nodes[index].payload
        if isinstance(asked, Measure | Fallback):
            found |= bodies & ~people.value(asked.name)[1][part.lanes]
    answers: list[bool] = found.tolist()
    return answers
