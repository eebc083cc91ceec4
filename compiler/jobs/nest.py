"""A style in the sizes of a chart: the sizes of each piece laid on one another, and drawn as one plate."""

from __future__ import annotations

from collections.abc import Callable, Hashable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import PurePath

import numpy as np

from ..bodies.body import Body
from ..bodies.chart import Chart
from ..diagnostics import grading_words as words
from ..diagnostics.chart_words import no_size_named
from ..diagnostics.diagnostic import Diagnostic
from ..drawing.marks import Layer
from ..drawing.nest import MOST_SIZES, Nested, NestedSize, size_layer
from ..drawing.nest_signs import SAID, NestSign, buttons_of
from ..drawing.seam_map import beneath
from ..finish.finished import FinishedPiece
from ..grading.laying import SizesLaid, laid
from ..grading.run import Reals, edges_in_order, named_points, shared_names, unlike
from ..output.svg import svg_text
from ..pattern.piece import Piece
from ..pattern.which_ends import Sewn
from .build import Built, Known, Nesting, Plate, Wanted, as_pdf, as_svg, known_of, plate
from .charts import lead
from .crossed import crossed
from .files import Files, write
from .openings import endings
from .outcome import results_of
from .prepare import Prepared
from .results import BodyResult


@dataclass(frozen=True)
class Sized:
    """A piece in its sizes, small to large: the cloths, how they are laid, the points every size has, by name, as they are laid
    (sizes, 2), and those of these that are corners."""

    name: str
    sizes: Mapping[str, FinishedPiece]
    laid: SizesLaid
    points: Mapping[str, Reals]
    corners: Mapping[str, Reals]


@dataclass(frozen=True)
class Run:
    """A style in sizes of a chart, all of which can be drawn: the results small to large; the size the others are laid on, which
    is the chart's sample or, where that is not asked for, the nearest to it; the pieces in all sizes."""

    chart: Chart
    sizes: tuple[str, ...]
    sample: str
    results: tuple[BodyResult, ...]
    bodies: tuple[Body, ...]
    pieces: tuple[Sized, ...]

    @property
    def at(self) -> int:
        """The place of the sample among the sizes."""
        return self.sizes.index(self.sample)

    @property
    def whom(self) -> str:
        """`sizes 80 to 112`, in words; of one `size 92`."""
        if len(self.sizes) == 1:
            return f"size {self.sizes[0]}"
        return f"sizes {self.sizes[0]} to {self.sizes[-1]}"


def run_of(prepared: Prepared, chart: Chart, results: Sequence[BodyResult]) -> tuple[Run | None, tuple[Diagnostic, ...]]:
    """The pieces of a style over its sizes; None, with what is wrong, where a size cannot be drawn or is made of other edges."""
    undrawn = [one.name for one in results if one.errors]
    if not results:
        return None, (no_size_named(chart.sizes, [*chart.ranges]),)
    if undrawn:
        return None, (words.undrawn_sizes(undrawn),)
    sizes = tuple(one.name for one in results)
    sample = lead(chart, sizes)
    made, found = [], []
    for name in (one.name for one in results[0].pieces):
        some = {one.name: next(p for p in one.pieces if p.name == name).alone() for one in results}
        pieces = {size: cloth.piece for size, cloth in some.items()}
        other = unlike(pieces, sample)
        if other is not None:
            ranges = [_range(some) for some in alike(results)]
            found.append(_unlike(prepared, name, (sample, pieces[sample]), (other, pieces[other]), ranges))
            continue
        made.append(_sized(name, some, sample, results[sizes.index(sample)]))
    if found:
        return None, tuple(found)
    return Run(chart, sizes, sample, tuple(results), prepared.bodies, tuple(made)), ()


def doubted(prepared: Prepared, run: Run) -> tuple[Diagnostic, ...]:
    """Warnings of what is doubtful of sizes together, whatever holds of each alone."""
    found = (crossed(prepared, one.name, one.sizes, one.laid, run.chart.unit) for one in run.pieces)
    return tuple(one for one in found if one is not None)


def _sized(name: str, sizes: Mapping[str, FinishedPiece], sample: str, result: BodyResult) -> Sized:
    lie = laid(name, {size: cloth.piece for size, cloth in sizes.items()}, sample, result.seams)
    points = [{key: at[0] for key, at in named_points(cloth.piece).items()} for cloth in sizes.values()]
    there = {
        key: np.stack([lie.by_size[size].points(row[key]) for size, row in zip(sizes, points, strict=True)])
        for key in shared_names(points)
    }
    corners = {key: rows for key, rows in there.items() if " by " in key or key.endswith(" point")}
    return Sized(name, sizes, lie, there, corners)


def alike(results: Sequence[BodyResult]) -> list[tuple[str, ...]]:
    """Sizes that follow one another and whose pieces all are made of the same edges."""
    made = [{one.name: edges_in_order(one.piece) for one in result.pieces} for result in results]
    found: list[list[str]] = []
    for k, result in enumerate(results):
        if k and made[k] == made[k - 1]:
            found[-1].append(result.name)
        else:
            found.append([result.name])
    return [tuple(some) for some in found]


def _range(sizes: Sequence[str]) -> str:
    return f"{sizes[0]}..{sizes[-1]}" if len(sizes) > 1 else sizes[0]


def _unlike(
    prepared: Prepared, name: str, one: tuple[str, Piece], other: tuple[str, Piece], together: Sequence[str]
) -> Diagnostic:
    style = prepared.style
    assert style is not None
    span = style.definitions.get(name, style.origins[style.pieces[name]].sentence)
    mine, theirs = ((size, edges_in_order(piece)) for size, piece in (one, other))
    return words.unlike_sizes(span, name, mine, theirs, together)


def nest_plate(prepared: Prepared, run: Run, wanted: Wanted) -> Plate:
    """All pieces of a style, each in all its sizes."""
    sample = run.results[run.at]
    pieces = {one.name: _nested(run, one) for one in run.pieces}
    where = {one.name: one.laid.told for one in run.pieces}
    nesting = Nesting(run.whom, _legend(run), pieces, where, _told(prepared, run))
    return plate(prepared, sample, run.bodies[run.at], wanted, nesting)


def _told(prepared: Prepared, run: Run) -> tuple[str, ...]:
    """What must be known of sizes before they are cut, each once; what is estimated stands on the pieces."""
    found: dict[Hashable, dict[str, Known]] = {}
    for result in run.results:
        for one in known_of(prepared, result):
            if one.kind != "guessed":
                found.setdefault((one.kind, one.what), {})[result.name] = one
    return tuple(map(_of_sizes, found.values()))


def _of_sizes(told: Mapping[str, Known]) -> str:
    """What is told of sizes, each with its own figure, where it has one; where figures stand within the words, as of the last."""
    alike: dict[str, list[str]] = {}
    for size, one in told.items():
        alike.setdefault(one.figure, []).append(size)
    each = [f"{', '.join(sizes)}: {figure}" for figure, sizes in alike.items()] if len(alike) > 1 else [*alike]
    (*_, (last, known)) = told.items()
    each = each if any(alike) else [f"as in {last}"] if len({one.text for one in told.values()}) > 1 else []
    said = f"Size{'s' if len(told) > 1 else ''} {', '.join(told)}: {known.text}"
    return f"{said} ({'; '.join(each)})" if each else said


def _nested(run: Run, one: Sized) -> Nested:
    sizes = tuple(
        NestedSize(size, cloth, one.laid.by_size[size].turn, one.laid.by_size[size].shift, abs(k - run.at))
        for k, (size, cloth) in enumerate(one.sizes.items())
    )
    return Nested(sizes, one.corners, one.laid.at)


def _legend(run: Run) -> tuple[tuple[Layer | NestSign, str], ...]:
    """Which sizes are drawn in which line, the sample first; then what the signs say that there are."""
    name = "the sample" if run.sample == run.chart.sample else "on which the others are laid"
    rows: list[tuple[Layer | NestSign, str]] = [("cut", f"{run.sample}, {name}" if len(run.sizes) > 1 else run.sample)]
    for distance in range(1, len(run.sizes)):
        some = [run.sizes[k] for k in (run.at - distance, run.at + distance) if 0 <= k < len(run.sizes)]
        rows += [(size_layer(distance), " and ".join(some))] if some else []
    rows.append(("sew", f"thin: the sewing line, and what lies within, of {run.sample}"))
    return (*rows, *((sign, SAID[sign]) for sign in _signs(run)))


def _signs(run: Run) -> Iterator[NestSign]:
    pieces = [one.sizes[run.sample].piece for one in run.pieces]
    if len(run.sizes) > 1:
        yield from ("laid", "corner")
        if any(buttons_of(piece) for piece in pieces):
            yield "buttons"
    if any(piece.darts or any(sign.kind == "drill" for sign in piece.signs.values()) for piece in pieces):
        yield "drill"
    result = run.results[run.at]
    if endings(result, Sewn({one.name: piece for one, piece in zip(run.pieces, pieces, strict=True)}, result.seams)):
        yield "opening"


def build_nest(
    files: Files,
    prepared: Prepared,
    chart: Chart,
    folder: str,
    wanted: Wanted,
    split: bool,
    tell: Callable[[BodyResult], None],
) -> Built:
    """Draw all sizes as one plate and write it, or, with `split`, as one for each range of sizes that are made alike. Nothing is
    written where a size cannot be drawn, or is made of other edges than those with it."""
    assert prepared.style is not None
    if len(prepared.bodies) > MOST_SIZES:
        return Built((), words.too_many_sizes(len(prepared.bodies), MOST_SIZES, [*chart.ranges]))
    results = []
    for result in results_of(prepared):
        tell(result)
        results.append(result)
    drawable = not any(one.errors for one in results)
    together = alike(results) if split and drawable else [tuple(one.name for one in results)]
    contents: list[tuple[str, bytes]] = []
    doubts: list[Diagnostic] = []
    for sizes in together:
        some = [k for k, one in enumerate(results) if one.name in sizes]
        part = replace(prepared, bodies=tuple(prepared.bodies[k] for k in some))
        run, problems = run_of(part, chart, [results[k] for k in some])
        if run is None:
            return Built((), problems[0] if problems else None, doubts=problems[1:])
        stem = f"{PurePath(prepared.style.file).stem}_{PurePath(chart.file).stem}"
        ends = dict.fromkeys((part.bodies[0].file_name, part.bodies[-1].file_name))
        stem += f"_{'_to_'.join(ends)}" if len(together) > 1 else ""
        contents += _files(part, run, wanted, str(PurePath(folder) / stem))
        doubts += doubted(part, run)
    problem = write(files, contents)
    return Built(() if problem else tuple(path for path, _ in contents), problem, doubts=tuple(doubts))


def _files(prepared: Prepared, run: Run, wanted: Wanted, stem: str) -> list[tuple[str, bytes]]:
    """A nest as an SVG and a PDF, and its seam map."""
    made = nest_plate(prepared, run, wanted)
    found = [(f"{stem}.svg", as_svg(made, prepared.keeping).encode("utf-8")), (f"{stem}.pdf", as_pdf(made, wanted.paper))]
    return [*found, (f"{stem}_seams.svg", svg_text(beneath(made.maps)).encode("utf-8"))] if made.maps else found
