"""What a style comes to on each body: pieces, seams, checks, estimates and errors, as plain values."""

from __future__ import annotations

from collections import deque
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from functools import partial

import numpy as np

from ..diagnostics.diagnostic import Diagnostic
from ..finish.seams import SewnSeam
from ..finish.stated import NONE, allowance_of
from ..finish.together import Garment, finish
from ..geometry.lanes import Lanes, in_groups
from ..geometry.length import length
from ..geometry.tolerances import COINCIDE
from ..graph.evaluate import Evaluated, Part, evaluate, evaluate_again
from ..meaning.style import CheckedStyle
from ..output.records import EdgeLength, Tidings
from ..pattern.darts import is_open_below
from ..pattern.piece import Allowance, Piece, Reals, Side
from .checked import checked, told_all_the_same
from .estimated import estimated_on
from .failing import add_faults, cut_faults, errors_of
from .fit import fits
from .garments import garments, in_order_of
from .keeping import KEEP_NOTHING
from .laying import warnings_on
from .numbers import column
from .prepare import Prepared
from .results import BodyResult, PieceResult
from .sewn import declared, on_each_body, walked_on_each, walked_too
from .sizes import sizes
from .specification import specification

CHUNK = 2000
"""Bodies laid side by side at a time. Fewer cost more each, since they part into groups by structure; more need more memory."""


def outcomes(prepared: Prepared, extra: Iterable[int] = ()) -> tuple[tuple[BodyResult, ...], Evaluated]:
    """Evaluate a sound style on its bodies; results in the order of the bodies, and all values, `extra` nodes among them."""
    assert prepared.style is not None
    evaluated = _evaluated(prepared, extra)
    return _results(prepared, evaluated, range(len(prepared.bodies))), evaluated


def _evaluated(prepared: Prepared, extra: Iterable[int]) -> Evaluated:
    """All values, those that are kept found again."""
    assert prepared.style is not None
    keeping = prepared.keeping
    if not keeping.keeps:
        return evaluate(prepared.style, prepared.population, extra)
    kept = keeping.on(prepared.bodies)
    evaluated, keeping.values = evaluate_again(prepared.style, prepared.population, kept, extra)
    keeping.evaluated += len(evaluated.worked_out)
    return evaluated


def results_of(prepared: Prepared) -> Iterator[BodyResult]:
    """As `outcomes`, body by body: no more than a chunk of bodies is laid side by side, and kept, at a time."""
    for first in range(0, len(prepared.bodies), CHUNK):
        results = deque(outcomes(replace(prepared, bodies=prepared.bodies[first : first + CHUNK]))[0])
        while len(results) > 1:
            yield results.popleft()
        yield _by_itself(results.pop())


def _by_itself(result: BodyResult) -> BodyResult:
    """A result that keeps nothing of the other bodies: whoever still holds the last of a chunk does not hold the chunk."""
    return replace(result, pieces=tuple(replace(one, cloth=one.alone(), lane=0) for one in result.pieces))


def _results(prepared: Prepared, evaluated: Evaluated, lanes: Iterable[int]) -> tuple[BodyResult, ...]:
    style = prepared.style
    assert style is not None
    errors = errors_of(style, prepared, evaluated)
    found: dict[int, BodyResult] = {}
    for part in evaluated.parts:
        _of_part(style, prepared, part, errors, found)
    told = told_all_the_same(style, prepared, evaluated)
    for lane in lanes:
        if lane not in found:
            wrong = tuple(errors.get(lane, ()))
            found[lane] = BodyResult(prepared.bodies[lane].name, (), (), told.get(lane, ()), (), wrong)
    return tuple(found[lane] for lane in lanes)


def _of_part(
    style: CheckedStyle,
    prepared: Prepared,
    part: Part,
    errors: dict[int, list[Diagnostic]],
    results: dict[int, BodyResult],
) -> None:
    """The results of the bodies of a part; of one whose pieces are no cloth only what needs no cloth."""
    lanes = part.lanes.tolist()
    add_faults(style, prepared, part, _pieces(style, part), errors)
    those = (style.checks, () if prepared.counted else style.tidings)
    checks, told = ([checked(style, one, part, prepared) for one in some] for some in those)
    estimated = estimated_on(style, prepared, part)
    for at, lane in enumerate(lanes):
        tidings = tuple(Tidings(one.name, one.advice, one.text, one.figures) for one in (rows[at] for rows in told) if one.holds)
        held = tuple(rows[at] for rows in checks)
        body, wrong = prepared.bodies[lane], tuple(errors.get(lane, ()))
        results[lane] = BodyResult(body.name, (), (), held, estimated[at], wrong, tidings=tidings, unit=body.unit)
    sound = np.array([at for at, lane in enumerate(lanes) if not results[lane].errors], dtype=np.intp)
    for at, result in _sewn(style, prepared, part, sound, [results[lane] for lane in lanes]):
        results[lanes[at]] = result


def _sewn(
    style: CheckedStyle, prepared: Prepared, part: Part, sound: Lanes, results: Sequence[BodyResult]
) -> Iterator[tuple[int, BodyResult]]:
    """The results of the sound bodies of a part, by their place in it, with pieces, seams and all that is judged on these."""
    if not sound.size:
        return
    count, all_sound = part.lanes.size, sound.size == part.lanes.size
    pieces, seams = _pieces(style, part), declared(style, part)
    fitted = fits(style, part, prepared.population, [prepared.bodies[lane].unit for lane in part.lanes.tolist()])
    edges = {name: [()] * count if prepared.counted else _edges(piece, count) for name, piece in pieces.items()}
    rows, by_size = on_each_body(pieces, seams, count), sizes(style)
    some = pieces if all_sound else {name: piece.take(sound) for name, piece in pieces.items()}
    sewn = [seam.to_finish().take(sound) for seam in seams]
    for lanes, garment in finish(some, sewn, sound.size, prepared.keeping):
        walks = [walked_on_each(garment.walks[seam.said.name], lanes.size) for seam in seams]
        made = [
            replace(
                results[at],
                pieces=tuple(PieceResult(name, cloth, lane, edges[name][at]) for name, cloth in garment.pieces.items()),
                seams=tuple(walked_too(row[at], walk[lane]) for row, walk in zip(rows, walks, strict=True)),
                specification=specification(style, part, at, by_size),
                fits=fitted[at],
            )
            for lane, at in enumerate(sound[lanes].tolist())
        ]
        made = _as_garments(style, prepared, part, sound[lanes], garment, made)
        warned = [()] * len(made) if prepared.counted else _warned(style, garment, made, partial(_finished, some, sewn, lanes))
        judged = cut_faults(style, garment, made), warned
        for at, one, wrong, told in zip(sound[lanes].tolist(), made, *judged, strict=True):
            yield at, replace(results[at], errors=wrong) if wrong else replace(one, warnings=told)


def _finished(pieces: Mapping[str, Piece], seams: Sequence[SewnSeam], bodies: Lanes, lanes: Lanes) -> Garment:
    """The garment of some of the bodies that go together, by their lanes among these."""
    here = bodies[lanes]
    some = {name: piece.take(here) for name, piece in pieces.items()}
    ((_, made),) = finish(some, [seam.take(here) for seam in seams], here.size, KEEP_NOTHING)
    return made


def _warned(
    style: CheckedStyle, garment: Garment, results: Sequence[BodyResult], finished: Callable[[Lanes], Garment]
) -> list[tuple[Diagnostic, ...]]:
    """The warnings of each of some bodies that were finished together; where these part, each part with its own garment."""
    found: dict[int, tuple[Diagnostic, ...]] = {}

    def told(lanes: Lanes) -> list[tuple[Diagnostic, ...]]:
        here = garment if lanes.size == len(results) else finished(lanes)
        return warnings_on(style, here, [results[lane] for lane in lanes.tolist()])

    for lanes, rows in in_groups(len(results), told):
        found |= dict(zip(lanes.tolist(), rows, strict=True))
    return [found[lane] for lane in range(len(results))]


def _as_garments(
    style: CheckedStyle, prepared: Prepared, part: Part, at: Lanes, garment: Garment, results: Sequence[BodyResult]
) -> list[BodyResult]:
    """The results of bodies that were finished together with the garment they make, seams in the order in which it is sewn."""
    assert prepared.assembly is not None
    bodies = [prepared.bodies[lane] for lane in part.lanes[at].tolist()]
    cloth = {name: one.piece for name, one in garment.pieces.items()}
    made = garments(style, prepared.assembly, cloth, results, bodies)
    if prepared.counted:
        return [replace(one, assembly=assembly) for one, assembly in zip(results, made, strict=True)]
    return [
        replace(one, assembly=assembly, seams=tuple(in_order_of(one.seams, assembly)))
        for one, assembly in zip(results, made, strict=True)
    ]


def _pieces(style: CheckedStyle, part: Part) -> dict[str, Piece]:
    return {name: part.values[node] for name, node in style.pieces.items()}  # type: ignore[misc]


def _edges(piece: Piece, count: int) -> list[tuple[EdgeLength, ...]]:
    """For each body the edges of a piece by name, with their sewn lengths, darts closed."""
    lengths: dict[str, Reals] = {}
    for side in piece.ring:
        for name in side.names:
            lengths[name] = lengths.get(name, np.zeros(1)) + length(side.drawn)
    rows = []
    for name, numbers in lengths.items():
        stated = [_stated(piece, side) for side in piece.sides(name)]
        widths = [one.width for one in stated], [np.zeros(1) if one.under is None else one.under for one in stated]
        said = ([None if np.isnan(one) else one for one in column(_alike(each), count)] for each in widths)
        rows.append([EdgeLength(name, *row) for row in zip(column(numbers, count), *said, strict=True)])
    return list(zip(*rows, strict=True))


def _stated(piece: Piece, side: Side) -> Allowance:
    """The allowance stated for a side; the leg of a dart that is folded has none."""
    folded = {leg for dart in piece.darts if not is_open_below(piece, dart) for leg in (dart.first, dart.second)}
    return NONE if folded.intersection(side.names) else allowance_of(piece, side)


def _alike(widths: Sequence[Reals]) -> Reals:
    """What sides have of a width (L,), each (L,) mm, where all have the same; NaN where they differ."""
    all_of = np.stack(np.broadcast_arrays(*widths))
    return np.where(np.ptp(all_of, axis=0) > COINCIDE, np.nan, all_of[0])
