"""What became of everything that was asked of some bodies: answers that can be counted (`compiler/population/`)."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterator, Sequence
from hashlib import blake2b

import numpy as np

from ..diagnostics.diagnostic import Diagnostic, Span
from ..graph.evaluate import Evaluated
from ..meaning.style import CheckedStyle
from ..population.moments import Ints, Mask
from ..population.tally import Answer, Bodies, Key, Number, Tally, tally
from .behind import Behind
from .estimated import how_found
from .fit import SLACK, FitResult
from .margins import check_number, seam_number, whole
from .prepare import Prepared
from .results import BodyResult

DRAWS, SEWS, TOGETHER, FITS = range(4)


def judged(prepared: Prepared, behind: Behind, results: Sequence[BodyResult], evaluated: Evaluated) -> Tally:
    """The tally of bodies that were evaluated together."""
    measures, known = behind.values(prepared.population)
    digests = [_digest(body.name, row, here) for body, row, here in zip(prepared.bodies, measures, known, strict=True)]
    passed = np.array([_gates(one) for one in results], dtype=bool).reshape(-1, 4)
    bodies = Bodies([body.name for body in prepared.bodies], digests, measures, known, passed)
    answers = dict(_Judging(prepared, behind, results, evaluated, passed[:, DRAWS]).answers())
    return tally(bodies, answers, _estimated(prepared, results))


def _gates(one: BodyResult) -> tuple[bool, bool, bool, bool]:
    """Which gates a body passes, each alone; one that is not drawn passes none."""
    drawn = not one.errors
    together = all(check.holds for check in one.checks) and one.specification.holds and one.assembly.holds is not False
    return (
        drawn,
        drawn and all(seam.holds for seam in one.seams),
        drawn and together,
        drawn and all(fit.holds for fit in one.fits),
    )


def _digest(name: str, measures: Ints, known: Mask) -> bytes:
    return blake2b(name.encode() + measures.tobytes() + known.tobytes(), digest_size=16).digest()


def _estimated(prepared: Prepared, results: Sequence[BodyResult]) -> Counter[tuple[str, str]]:
    found: Counter[tuple[str, str]] = Counter()
    for lane, result in enumerate(results):
        found.update((one.name, how_found(prepared, one, lane)) for one in result.estimated)
    return found


class _Judging:
    """The answers of some bodies, each thing after the other."""

    def __init__(
        self, prepared: Prepared, behind: Behind, results: Sequence[BodyResult], evaluated: Evaluated, drawn: Mask
    ) -> None:
        assert prepared.style is not None
        self.style: CheckedStyle = prepared.style
        self.prepared, self.behind, self.results, self.evaluated, self.drawn = prepared, behind, results, evaluated, drawn

    def answers(self) -> Iterator[tuple[Key, Answer]]:
        yield from self._errors()
        yield from self._seams()
        yield from self._checks()
        yield from self._closures()
        yield from self._assembly()
        yield from self._fits()

    def _told(
        self,
        gate: int,
        found: Callable[[BodyResult], Sequence[Diagnostic]],
        nodes: Callable[[int, Diagnostic], Sequence[int]],
    ) -> Iterator[tuple[Key, Answer]]:
        """Diagnostics of bodies, one answer for each trouble; `nodes` tells what of the style it rests on."""
        lanes: dict[Key, list[int]] = {}
        told: dict[Key, Diagnostic] = {}
        behind: dict[Key, set[int]] = {}
        for lane, result in enumerate(self.results):
            for one in found(result):
                key = _key(one)
                lanes.setdefault(key, []).append(lane)
                told.setdefault(key, one)
                behind.setdefault(key, set()).update(nodes(lane, one))
        for key, where in lanes.items():
            failed = np.isin(np.arange(len(self.results)), where)
            yield key, Answer(gate, failed, self.behind.of(behind[key]), told=told[key].message)

    def _errors(self) -> Iterator[tuple[Key, Answer]]:
        failed = {one.lane: one.node for one in self.evaluated.failures}
        pieces = {self.style.definitions[name]: node for name, node in self.style.pieces.items()}

        def nodes(lane: int, one: Diagnostic) -> list[int]:
            if lane in failed:
                return [failed[lane]]
            return [pieces[one.span]] if one.span in pieces else list(self.style.pieces.values())

        yield from self._told(DRAWS, lambda one: one.errors, nodes)

    def _assembly(self) -> Iterator[tuple[Key, Answer]]:
        pieces = list(self.style.pieces.values())
        yield from self._told(TOGETHER, _wrong, lambda *_: pieces)
        failed = np.array([one.assembly.holds is False and not _wrong(one) for one in self.results])
        if failed.any():
            yield ("assembly",), Answer(TOGETHER, failed, ())

    def _seams(self) -> Iterator[tuple[Key, Answer]]:
        wrong = [{seam.name for seam in one.seams if not seam.holds} for one in self.results]
        for name, node in self.style.seams.items():
            columns = self.behind.of([node])
            failed = np.array([name in failing for failing in wrong])
            number = seam_number(self.style, self.evaluated, node, self.drawn)
            lengths = failed & number.has & (number.room() < 0)
            yield ("seam", name), Answer(SEWS, lengths, columns, number)
            if (others := failed & ~lengths).any():
                yield ("notches", name), Answer(SEWS, others, columns)

    def _checks(self) -> Iterator[tuple[Key, Answer]]:
        wrong = [{check.name for check in one.checks if not check.holds} for one in self.results]
        for check in self.style.checks:
            failed = np.array([check.name in failing for failing in wrong])
            number = check_number(self.style, self.evaluated, check.node, self.drawn)
            yield ("check", check.name), Answer(TOGETHER, failed, self.behind.of([check.node]), number)

    def _closures(self) -> Iterator[tuple[Key, Answer]]:
        names = dict.fromkeys(row.name for one in self.results for row in one.specification.closures)
        for name in names:
            rows = [next((row for row in one.specification.closures if row.name == name), None) for one in self.results]
            failed = np.array([row is not None and not row.holds for row in rows])
            room = [None if row is None or row.needed_mm is None else row.long_mm - row.needed_mm for row in rows]
            value, has = whole(room)
            number = Number(value, has & self.drawn, np.zeros_like(value), None) if has.any() else None
            yield ("closure", name), Answer(TOGETHER, failed, self.behind.of([self.style.attached[name]]), number)

    def _fits(self) -> Iterator[tuple[Key, Answer]]:
        for at, (name, node) in enumerate(self.style.fits.items()):
            rows = [one.fits[at] if one.fits else None for one in self.results]
            failed = np.array([row is not None and not row.holds for row in rows])
            value, has = whole([_judged(row) for row in rows])
            delivered = whole([_over(row) for row in rows])
            asked, _ = whole([None if row is None else row.asked_mm for row in rows])
            under, _ = whole([None if row is None else -row.under_mm - SLACK for row in rows])
            over, bounded = whole([None if row is None or row.over_mm is None else row.over_mm + SLACK for row in rows])
            number = Number(value, has, under, over if bounded[has].all() else None)
            yield ("fit", name), Answer(FITS, failed, self.behind.of([node]), number, asked, delivered)


def _wrong(one: BodyResult) -> list[Diagnostic]:
    return [wrong for wrong in one.assembly.wrong if wrong.is_error]


def _judged(row: FitResult | None) -> float | None:
    """The ease by which a promise holds, less that asked, mm: of a girth the lesser of garment and draft, stretched as the cloth
    does; where a draft has more than is allowed, that of the draft. It is the draft that is held to how far it may be over."""
    if row is None or row.body_mm is None or not row.reached:
        return None
    wanted = row.body_mm + row.asked_mm
    held = row.garment_mm if row.drafted_mm is None else row.drafted_mm
    if held is not None and row.over_mm is not None and held - wanted > row.over_mm + SLACK:
        return held - wanted
    found = [row.drafted_mm, row.garment_mm if row.level or row.drafted_mm is None else None]
    made = [one for one in found if one is not None]
    return min(made) * (1.0 + row.stretch) - wanted if made else None


def _over(row: FitResult | None) -> float | None:
    """The ease delivered less the ease asked, mm: of a girth as the garment is, of a length as it is drafted."""
    if row is None or row.body_mm is None or not row.reached:
        return None
    made = row.garment_mm if row.level or row.drafted_mm is None else row.drafted_mm
    return None if made is None else made - row.body_mm - row.asked_mm


def _key(one: Diagnostic) -> Key:
    """What makes two troubles of bodies one: code, place, the innermost sentence, and the words where these tell it apart."""
    inner = innermost(one)
    where = () if inner is None else (inner.file, inner.start, inner.end)
    return ("told", one.code, where, one.data.get("of", one.message))


def innermost(one: Diagnostic) -> Span | None:
    """The sentence that fails, in a recipe where it stands in one."""
    inside = [step.span for step in one.trace if step.inside]
    return inside[-1] if inside else one.span
