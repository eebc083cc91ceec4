"""The pictures of a proof: how the ease delivered is spread, and for each failure that two measurements tell, who fails."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace

import numpy as np

from ..bodies.vocabulary import vocabulary
from ..drawing.plots import Pair, Spread, pair, spreads
from ..output.proof_records import DeliveredRecord, PictureRecord, ProofRecord
from ..output.svg import svg_text
from ..pattern.piece import Reals
from ..population.sample import Seen
from ..population.tally import Asked, Key, Tally
from ..population.telling import Told, told
from .behind import THOUSANDTHS, Behind
from .prepare import Prepared
from .proof import failing_keys

UNITS: Mapping[str, str] = {"length": "mm", "angle": "degrees", "mass": "kg", "years": "years"}


def with_pictures(prepared: Prepared, tally: Tally, record: ProofRecord) -> tuple[ProofRecord, dict[str, str]]:
    """The record with its pictures and with what is not drawn, and the pictures by file name."""
    files: dict[str, str] = {}
    listed: list[PictureRecord] = []
    undrawn: list[str] = []

    def put(of: str, name: str, svg: str) -> None:
        plain = re.sub(r"\W+", "_", name)
        free = next(one for at in range(1, 1000) if (one := f"{plain}{f'_{at}' if at > 1 else ''}.svg") not in files)
        files[free] = svg
        listed.append(PictureRecord(of, free))

    title = f"{record.style} on {record.population.bodies:,} bodies of {record.population.source}"
    if record.delivered:
        rows = [_spread(one) for one in record.delivered]
        of = "ease delivered less ease asked"
        put(of, "delivered", svg_text(spreads(f"{title}: {of}, mm", rows)))
    else:
        undrawn.append("no picture of the ease delivered: nothing that is promised of the body could be held against one")
    for of, shown in _pairs(prepared, tally):
        if shown is None:
            undrawn.append(f"no picture of {of}, which fails: no two measurements tell on whom")
        else:
            put(of, of, svg_text(pair(shown)))
    if not record.groups:
        undrawn.append("no picture of who fails: nobody does")
    return replace(record, pictures=tuple(listed), undrawn=tuple(undrawn)), files


def _spread(row: DeliveredRecord) -> Spread:
    low, high = row.asked_mm
    asked = f"{low:.1f}" if low == high else f"{low:.1f} to {high:.1f}"
    over = "any over" if row.over_mm is None else f"{row.over_mm:.1f} over as drafted"
    told = f"{row.bodies:,} bodies, {row.failing:,} fail; mean {row.mean_mm:.1f}, SD {row.sd_mm:.1f}"
    return Spread(
        f"{row.name}: asked {asked}; allowed {row.under_mm:.1f} under, {over}",
        told,
        row.bars[0].low_mm,
        row.bars[1].low_mm - row.bars[0].low_mm,
        tuple(one.count for one in row.bars),
        (-row.under_mm, row.over_mm),
        (row.below, row.above),
    )


def _pairs(prepared: Prepared, tally: Tally) -> Iterator[tuple[str, Pair | None]]:
    """For each failure its name and its picture; None where no two measurements tell it."""
    assert prepared.style is not None
    measures = Behind(prepared.style).names
    for key in failing_keys(tally):
        asked, found = tally.asked[key], told(tally, key)
        axes = found.measures if len(found.measures) == 2 else (*found.measures, found.beside)
        name = " ".join(str(part) for part in (key[1:2] if key[0] == "told" else key[:2]))
        drawable = found.tells and None not in axes
        some = [at for at in axes if at is not None]
        yield name, _pair(name, tally, key, asked, found, some, measures) if drawable else None


def _pair(
    name: str, tally: Tally, key: Key, asked: Asked, found: Told, axes: Sequence[int], measures: Sequence[str]
) -> Pair:
    passed = _points([one for one in tally.some if key not in one.failing and (one.drawn or asked.gate == 0)], axes)
    failed = _points(asked.some, axes)
    by_number = found.by == "variance"
    share = f"{found.share:.3f} of the margin is explained" if by_number else f"{100 * found.share:.0f} % rightly parted"
    names = [f"{measures[at]}, {UNITS[vocabulary()[measures[at]].kind]}" for at in axes]
    rest = tally.count - asked.failed if asked.gate == 0 else tally.alone[0] - asked.failed_drawn
    counts = f"{asked.failed:,} fail (filled: {len(failed):,} of them), {rest:,} do not (open: {len(passed):,} of them)"
    line = "; on the line the number is at its bound" if found.line else ""
    return Pair(f"{name} fails", f"{counts}; {share}{line}", (names[0], names[1]), passed, failed, _lines(asked, found))


def _points(those: Sequence[Seen], axes: Sequence[int]) -> Reals:
    rows = [[one.measures[at] for at in axes] for one in those]
    return np.array([row for row in rows if None not in row], dtype=np.float64).reshape(-1, 2) / THOUSANDTHS


def _lines(asked: Asked, found: Told) -> tuple[tuple[float, float, float], ...]:
    """Where the number, as these measurements tell it, is at each bound that is the same on all bodies."""
    if not found.line:
        return ()
    slopes = [*found.line[1:], 0.0][:2]
    bounds = [one.least for one in asked.bounds if one.least is not None and one.least == one.greatest]
    return tuple((slopes[0], slopes[1], (bound - found.line[0]) / THOUSANDTHS) for bound in bounds)
