"""A piece in several sizes on one drawing: the sample in full, of the others what differs, their sizes written in their lines."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np
import shapely

from ..finish.finished import FinishedPiece
from ..geometry.path import thinned
from ..geometry.tolerances import SEW
from ..pattern.piece import Dart, Hole, Piece
from .lines import cut_lines, dart_cut, dart_snip_marks, flat, fold_lines, notch_marks
from .marks import STYLES, Circle, Curve, Drawing, Layer, Line, Mark, Reals, laid
from .nest_labels import size_labels
from .nest_signs import APART, button_trails, buttons_of, laid_here, trail
from .piece import Plain, inner_marks, plain_piece
from .signed import set_back, slits_through
from .signs import across, drill_hole
from .wording import PieceInfo

MOST_SIZES = sum(layer.startswith("size_") for layer in STYLES) + 1
"""So many sizes can be told apart in one nest."""

NOTCH = 3.5
"""Length (mm) of a notch of another size than the sample: a whole stroke would cross the lines beside it."""

ALONG_FOLD = 0.3
"""Folds no further apart than this (mm) are one line."""


@dataclass(frozen=True)
class NestedSize:
    """A size of a piece: its cloth, how it is laid on the sample (`laid` of the marks), and how many sizes it is from it."""

    name: str
    cloth: FinishedPiece
    turn: complex
    shift: complex
    distance: int

    @property
    def layer(self) -> Layer:
        """The line it is drawn in."""
        return size_layer(self.distance)

    def there(self, points: Reals) -> Reals:
        """Its points (…, 2) as they lie on the sample."""
        z = (points[..., 0] + 1j * points[..., 1]) * self.turn + self.shift
        return np.stack([z.real, z.imag], axis=-1)


@dataclass(frozen=True)
class Nested:
    """A piece in all its sizes, small to large, the sample among them at distance 0; the corners (sizes, 2) that are the same, by
    name; where they are laid (2,), on the sample."""

    sizes: tuple[NestedSize, ...]
    corners: Mapping[str, Reals]
    at: Reals

    @property
    def sample(self) -> int:
        """The place of the sample among the sizes."""
        return next(k for k, one in enumerate(self.sizes) if one.distance == 0)


def size_layer(distance: int) -> Layer:
    """The line of a size so far from the sample; that of the sample is the cut line."""
    names: dict[int, Layer] = {int(one.removeprefix("size_")): one for one in STYLES if one.startswith("size_")}
    return names[distance] if distance else "cut"


def nested_piece(nested: Nested, info: PieceInfo) -> Plain:
    """The lines of a piece in all sizes; its words, which are those of the sample, come after and stay clear of them."""
    sample = nested.sizes[nested.sample]
    base = plain_piece(sample.cloth, info)
    marks = [replace(mark, source=f"size {sample.name}") if mark.layer == "cut" else mark for mark in base.drawing.marks]
    for one in nested.sizes:
        if one.distance:
            marks += [laid(mark, one.turn, one.shift) for mark in _of_size(one, nested)]
            marks += _folds(one, sample)
    trails = [mark for points in nested.corners.values() for mark in trail(points, nested.sample)]
    middles = [{name: one.there(at) for name, at in buttons_of(one.cloth.piece).items()} for one in nested.sizes]
    trails += button_trails([one.name for one in nested.sizes], middles, nested.sample)
    marks += [*trails, *laid_here(nested.at)]
    marks += size_labels(nested.sizes, nested.sample, marks)
    outlines = [shapely.make_valid(shapely.Polygon(one.there(one.cloth.cut[0]))) for one in nested.sizes]
    whole = shapely.union_all(outlines)
    outer = max(shapely.get_parts(whole), key=lambda part: part.area)
    outline = thinned(shapely.get_coordinates(outer.exterior)[:-1])
    return Plain(base.cloth, base.info, Drawing(base.drawing.name, tuple(marks), outline))


def _of_size(one: NestedSize, nested: Nested) -> Iterator[Mark]:
    """What is drawn of a size that is not the sample, as its own draft lies."""
    source, piece = f"size {one.name}", one.cloth.piece
    cuts = [mark for dart in piece.darts for mark in dart_cut(one.cloth, dart)]
    for mark in (*cut_lines(one.cloth), *slits_through(one.cloth), *cuts):
        if not (isinstance(mark, Line) and mark.layer == "notch"):
            yield replace(mark, layer=one.layer, source=source)
    yield from _notches(one)
    for dart in piece.darts:
        if _moves(dart.name, one, nested):
            yield from _dart(one, dart)
    for hole in piece.holes:
        if _moves(hole.name, one, nested):
            yield from _hole(one, hole)
    sample = nested.sizes[nested.sample]
    theirs, mine = (_unbuttoned(size.cloth.piece) for size in (sample, one))
    for mark, other in _beside(mine, theirs):
        moved = laid(mark, one.turn, one.shift)
        if mark.layer != "guide" and (other is None or _off(moved, other) > APART):
            yield replace(mark, layer=one.layer, source=source)


def _unbuttoned(piece: Piece) -> list[Mark]:
    """The marks inside a piece but buttons and buttonholes, which lie on their trails."""
    left_out = buttons_of(piece)
    return [mark for mark in inner_marks(piece) if mark.source not in left_out]


def _beside(marks: Sequence[Mark], others: Sequence[Mark]) -> Iterator[tuple[Mark, Mark | None]]:
    """Marks of a size, each with that of the sample; none where one has more than the other."""
    for k, mark in enumerate(marks):
        yield mark, others[k] if len(marks) == len(others) else None


def _off(mark: Mark, other: Mark) -> float:
    """How far (mm) a mark lies from that of the sample."""
    match mark, other:
        case (Line(), Line()) if mark.points.shape == other.points.shape:
            return float(np.abs(mark.points - other.points).max())
        case (Curve(), Curve()) if mark.spans.shape == other.spans.shape:
            return float(np.abs(mark.spans - other.spans).max())
        case (Circle(), Circle()):
            return float(np.abs(mark.centre - other.centre).max())
        case _:
            return float("inf")


def _moves(name: str, one: NestedSize, nested: Nested) -> bool:
    """Whether a dart does not lie as that of the sample does."""
    places = []
    for size in (one, nested.sizes[nested.sample]):
        piece = size.cloth.piece
        dart, hole = piece.dart(name), piece.hole(name)
        legs = (dart.first, dart.second) if dart else ()
        sides = hole.sides if hole else [side for leg in legs for side in piece.sides(leg)]
        places.append([size.there(side.drawn.start[0]) for side in sides])
    here, there = places
    return len(here) != len(there) or float(np.abs(np.array(here) - np.array(there)).max(initial=0.0)) > APART


def _dart(one: NestedSize, dart: Dart) -> Iterator[Mark]:
    """Legs and point of a dart, and its drill hole."""
    piece, source = one.cloth.piece, f"size {one.name}"
    legs = [side for leg in (dart.first, dart.second) for side in piece.sides(leg)]
    for side in legs:
        yield Line(one.layer, thinned(flat(side.drawn)), source=source)
    apex = piece.sides(dart.first)[-1].drawn.end[0]
    back = set_back(piece, dart.name, 10.0)
    ends = [legs[0].drawn.start[0], legs[-1].drawn.end[0]]
    middle = sum((end - apex) / np.linalg.norm(end - apex) for end in ends) / 2.0
    if back > 0.0 and np.linalg.norm(middle) > 0.0:
        yield from _small_hole(apex + back * middle / np.linalg.norm(middle), source)


def _hole(one: NestedSize, hole: Hole) -> Iterator[Mark]:
    source = f"size {one.name}"
    for side in hole.sides:
        yield Line(one.layer, thinned(flat(side.drawn)), source=source)


def _small_hole(centre: Reals, source: str) -> list[Mark]:
    return [mark for mark in drill_hole(centre, source) if isinstance(mark, Line)]


def _notches(one: NestedSize) -> Iterator[Mark]:
    """The notches of a size and the snips at the mouths of its darts, each as long as there is room for."""
    cloth = one.cloth
    for mark in (*notch_marks(cloth), *(snip for dart in cloth.piece.darts for snip in dart_snip_marks(cloth, dart))):
        if isinstance(mark, Line):
            start, end = mark.points
            along = min(1.0, NOTCH / max(float(np.linalg.norm(end - start)), SEW))
            yield Line("notch", np.stack([start, start + (end - start) * along]), source=f"size {one.name}")


def _folds(one: NestedSize, sample: NestedSize) -> Iterator[Mark]:
    """A fold as far as it runs on beyond that of the sample; the whole of one that lies elsewhere."""
    for (start, end, edge), (first, last, _) in zip(fold_lines(one.cloth), fold_lines(sample.cloth), strict=False):
        a, b = one.there(start), one.there(end)
        way = (last - first) / np.linalg.norm(last - first)
        if max(abs(float(across(way) @ (point - first))) for point in (a, b)) > ALONG_FOLD:
            yield Line(one.layer, np.stack([a, b]), source=edge)
            continue
        if (a - first) @ way < -SEW:
            yield Line("fold", np.stack([a, first]), source=edge)
        if (b - last) @ way > SEW:
            yield Line("fold", np.stack([last, b]), source=edge)
