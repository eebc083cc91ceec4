"""The seam map of a style on one body: how every edge ends, which letter a seam has, where its two sides begin."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence

import numpy as np

from ..assembly.endings import Ending, How
from ..assembly.panels import Half, Lying
from ..assembly.said import SeamSaid
from ..assembly.sewn import atoms
from ..assembly.ways import Way
from ..assembly.whole import Whole
from ..drawing.lines import flat
from ..drawing.mapped import Finish, MapEdge, MapPiece, MapSeam, SeamMap
from ..drawing.marks import Reals
from ..drawing.wording import Ending as Opening
from ..drawing.wording import cut_words
from ..geometry.length import length
from ..geometry.tolerances import SEW
from ..pattern.laid import Corner
from ..pattern.piece import Piece
from ..pattern.which_ends import Sewn
from .garment_records import times
from .openings import endings
from .prepare import Prepared
from .results import BodyResult

LETTERS = "ABCDEFGHJKLMNPRSTUVWXYZ"
"""No letter that is taken for a figure or for another one."""

FINISHES: Mapping[How, Finish] = {
    "facing": "faced",
    "with_facing": "faced",
    "hem": "hemmed",
    "folded": "hemmed",
    "closure": "closed",
    "fastened": "closed",
    "raw": "left",
    "unsewn": "left",
}

Tip = tuple[str, int, bool]
"""An end of an edge: its piece, the number of the side that ends there, and whether this begins there."""


def seam_map(prepared: Prepared, result: BodyResult) -> SeamMap | None:
    """The seam map of a body; None of a draft, which does not say how it is sewn."""
    garment = result.assembly.whole
    if garment is None or prepared.style is None or prepared.assembly is None or not prepared.assembly.judged:
        return None
    mapping = _Mapping(garment, result)
    seams = tuple(_row(garment, result, name, number) for number, name in enumerate(mapping.letters, 1))
    return SeamMap(prepared.style.title, result.name, prepared.fingerprint, tuple(mapping.pieces()), seams)


def letter(number: int) -> str:
    """The letter of a seam by its number, from 1; behind the last letter stand two."""
    letters = ""
    while number:
        number, last = divmod(number - 1, len(LETTERS))
        letters = LETTERS[last] + letters
    return letters


def _row(garment: Whole, result: BodyResult, sentence: str, number: int) -> MapSeam:
    said = garment.structure.said
    names = {one.name for one in said.seams if one.sentence == sentence}
    count = sum(times(garment.structure, name) for name in sorted(names))
    closures = tuple(one.name.replace("_", " ") for one in said.closures if one.seam in names)
    return MapSeam(letter(number), sentence.replace("_", " "), count, closures)


class _Mapping:
    """What the edges of the pieces are drawn with."""

    def __init__(self, garment: Whole, result: BodyResult) -> None:
        self.made = garment.structure
        self.cloth = {one.name: one.alone().piece for one in result.pieces}
        self.openings = endings(result, Sewn(self.cloth, result.seams))
        sentences = dict.fromkeys(one.name.partition(".")[0] for one in garment.order if one.kind == "seam")
        self.letters = {name: letter(number) for number, name in enumerate(sentences, 1)}
        self.ends: dict[tuple[str, int], list[Ending]] = defaultdict(list)  # by piece and side, of all its panels
        for atom, found in self.made.endings.items():
            self.ends[atom.piece, atom.side] += found or [Ending("unsewn", NOTHING)]
        self.edges: dict[tuple[str, int, str], str] = {}  # by piece, side and letter: what the seam calls the edge
        self.inner: dict[str, dict[str, list[str]]] = defaultdict(lambda: defaultdict(list))  # by piece and edge inside: letters
        for seam in self.made.sewn:
            for owner, edge in seam.seam.edges:
                self._note(seam.seam, owner, edge)
        self.dots = _dots(garment, self.letters)
        self.turning = {one.name for one in self.made.said.sewing if one.turns}
        opened = {one.seam.partition(".")[0] for one in self.made.said.closures}
        self.opened = {sign for name, sign in self.letters.items() if name in opened}

    def _note(self, seam: SeamSaid, owner: str, edge: str) -> None:
        piece, sign = self.made.pieces[owner], self.letters[seam.sentence]
        sides = piece.along(edge) or piece.said.piece.run(edge)
        for side in sides:
            self.edges.setdefault((owner, side, sign), edge)
            if side not in piece.sides:  # the leg of a dart that is sewn as a seam is
                self.ends[owner, side].append(Ending("seam", seam.name))
        if not sides and sign not in self.inner[owner][edge]:
            self.inner[owner][edge].append(sign)

    def pieces(self) -> Iterator[MapPiece]:
        for number, (name, piece) in enumerate(self.cloth.items(), 1):
            rows = (f"{number}  {name.replace('_', ' ')}", *cut_words(piece), *self._of_some(name))
            edges = [self._edge(name, piece, row) for row in self._rows(name, piece)]
            within = (_inside(piece, edge, signs) for edge, signs in self.inner[name].items())
            edges += [edge for edge in within if edge.lines]
            darts = [flat(piece.ring[i].drawn) for i in sorted(piece.dart_sides()) if (name, i) not in self.ends]
            darts += [flat(side.drawn) for hole in piece.holes for side in hole.sides]
            yield MapPiece(name, rows, tuple(edges), tuple(darts))

    def _rows(self, name: str, piece: Piece) -> list[list[int]]:
        """The sides of a piece in rows of what is one edge and ends alike, darts shut that are no seams."""
        shut = piece.dart_sides()
        sides = [i for i in range(len(piece.ring)) if i not in shut or (name, i) in self.ends]
        kinds = {i: self._kind(name, piece, i) for i in sides}
        first = next((k for k, i in enumerate(sides) if kinds[i] != kinds[sides[k - 1]]), 0)
        rows: list[list[int]] = []
        for i in (*sides[first:], *sides[:first]):
            if rows and kinds[rows[-1][-1]] == kinds[i]:
                rows[-1].append(i)
            else:
                rows.append([i])
        return rows

    def _kind(self, name: str, piece: Piece, side: int) -> tuple[object, ...]:
        signs, finishes = self._signs(name, side)
        called = tuple(self.edges.get((name, side, sign), "") for sign in signs) or piece.ring[side].edge
        return signs, finishes, called

    def _signs(self, name: str, side: int) -> tuple[tuple[str, ...], tuple[Finish, ...]]:
        """The letters of a side in the order of sewing, and how else it ends."""
        if (name, side) not in self.ends:
            return (), ("folded",)
        ends = self.ends[name, side]
        here = {end.sentence.partition(".")[0] for end in ends if end.how in ("seam", "facing")}
        found = dict.fromkeys("nothing" if end.sentence == NOTHING else self._finish(end) for end in ends)
        found = dict.fromkeys(one for one in found if one != "held" or "hemmed" not in found)
        return tuple(sign for one, sign in self.letters.items() if one in here), tuple(one for one in found if one is not None)

    def _finish(self, end: Ending) -> Finish | None:
        """How an edge ends; one sewn by itself is turned up or bound, or only stitched down, or caught in a seam."""
        if end.how == "way":
            return "hemmed" if end.sentence in self.turning else "held"
        return FINISHES.get(end.how)

    def _edge(self, name: str, piece: Piece, row: Sequence[int]) -> MapEdge:
        signs, finishes = self._signs(name, row[0])
        dots = [
            (sign, int(not begins))
            for sign in signs
            for owner, side, begins in self.dots.get(sign, ())
            if owner == name and side == row[0 if begins else -1]
        ]
        opens = next((part for one in self.openings.get(name, ()) if (part := _opens(piece, row, one)) is not None), None)
        if opens is not None:
            reached = opens[1] - opens[0] > SEW
            finishes = tuple(one for one in finishes if one != "closed")
            finishes = (*finishes, "closed") if reached else finishes
            opens = opens if reached else None
        unsewn = tuple(sign for sign in signs if sign in self.opened) if "closed" in finishes else ()
        parts, here = tuple(_parts(piece, row)), tuple(dict.fromkeys(dots))
        return MapEdge(piece.ring[row[0]].edge, signs, finishes, parts, here, opens, unsewn)

    def _of_some(self, name: str) -> Iterator[str]:
        """What is told of a piece that is drawn once and sewn otherwise on its two halves, or on the two cloths of one half."""
        piece = self.made.pieces[name]
        halves = {piece.half(atom) for atom in self.made.endings if atom.piece == name}
        found: dict[tuple[int, str], set[Half]] = defaultdict(set)
        cloths: dict[tuple[int, Half], dict[str, set[int]]] = defaultdict(lambda: defaultdict(set))
        for seam in self.made.sewn:
            sign = self.letters[seam.seam.sentence]
            for atom in atoms(self.made.pieces, [one for one in seam.stretches() if one.edge[0] == name]):
                found[atom.side, sign].add(piece.half(atom))
                cloths[atom.side, piece.half(atom)][sign].add(atom.panel)
        if len(halves) > 1 and (piece.lying is Lying.PAIR or piece.folds_open):
            on = {sign: own for (_, sign), own in found.items() if len(own) == 1}
            said = [f"{sign} {half}" for sign in self.letters.values() for half in on.get(sign, ())]
            yield from [f"{', '.join(said)} half only"] if said else []
        pairs = {tuple(row) for row in cloths.values() if len(row) > 1 and not set.intersection(*row.values())}
        yield from (f"{' and '.join(pair)}: one of each" for pair in sorted(pairs))


def _opens(piece: Piece, row: Sequence[int], ending: Opening) -> tuple[float, float] | None:
    """From where to where (mm) along a row of sides without a dart an edge of it is open, from its upper end to where a closure
    ends, which other rows may share; None where nothing of the row is of that edge. What is open ends where it begins on a row
    that the closure does not come to."""
    run = [i for i in piece.run(ending.edge) if i not in piece.dart_sides()]
    shared = next((i for i in row if i in run), None)
    if shared is None or len(_parts(piece, row)) > 1:
        return None
    before, total = _long(piece, row[: row.index(shared)]), _long(piece, row)
    shift = before - _long(piece, run[: run.index(shared)])
    begins_higher = piece.ring[run[0]].drawn.start[0, 1] > piece.ring[run[-1]].drawn.end[0, 1]
    start, stop = (0.0, ending.at) if begins_higher else (ending.at, _long(piece, run))
    start = min(max(start + shift, 0.0), total)
    return start, max(start, min(stop + shift, total))


def _long(piece: Piece, sides: Sequence[int]) -> float:
    return sum(float(length(piece.ring[i].drawn)[0]) for i in sides)


NOTHING = "\0"
"""Stands for the sentence of an edge that ends in nothing: no name is like it."""


def _parts(piece: Piece, row: Sequence[int]) -> list[Reals]:
    """A row of sides as lines, one from dart to dart."""
    parts: list[list[Reals]] = []
    for before, side in zip((None, *row), row, strict=False):
        points = flat(piece.ring[side].drawn)
        if before is not None and (before + 1) % len(piece.ring) == side:
            parts[-1].append(points[1:])
        else:
            parts.append([points])
    return [np.concatenate(part) for part in parts]


def _inside(piece: Piece, edge: str, signs: Sequence[str]) -> MapEdge:
    """A line inside a piece on which something is sewn."""
    sides = (*piece.lines, *(side for hole in piece.holes for side in hole.sides))
    lines = [flat(side.drawn) for side in sides if edge in side.names]
    return MapEdge(edge, tuple(signs), (), tuple(lines), inner=True)


# ---- which ends meet -------------------------------------------------------------------------------


def _dots(garment: Whole, letters: Mapping[str, str]) -> dict[str, set[Tip]]:
    """By letter the ends of edges that meet where its seam begins: at the top where that tells, and on both of the wearer's
    sides alike."""
    found: dict[str, set[Tip]] = defaultdict(set)
    for seam in garment.structure.said.seams:
        way = garment.laid.ways.get(seam.name)
        if way is not None and way[0].stretches and way[1].stretches:
            tips = found[letters[seam.sentence]]
            tips |= set(map(_tip, _corners(way, _begin(way, tips))))
    return dict(found)


def _begin(way: Way, known: set[Tip]) -> int:
    """The end, 0 or 1, of a seam at which its dots stand."""
    for end in (0, 1):
        if known.intersection(map(_tip, _corners(way, end))):
            return end
    first, last = (float(_point(way[0].corner(end))[1]) for end in (0, 1))
    return int(last > first + SEW)


def _corners(way: Way, end: int) -> list[Corner]:
    return [side.corner(end) for side in way]


def _begins(corner: Corner) -> bool:
    return corner.own is corner.piece.ring[corner.number]


def _tip(corner: Corner) -> Tip:
    begins = _begins(corner)
    return corner.owner, corner.number if begins else (corner.number - 1) % len(corner.piece.ring), begins


def _point(corner: Corner) -> Reals:
    point: Reals = (corner.own.drawn.start if _begins(corner) else corner.own.drawn.end)[0]
    return point
