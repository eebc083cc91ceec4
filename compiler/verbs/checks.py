"""What checks measure on pieces: angles at corners and over seams, widths on a level, girths of what is sewn, notches."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

import numpy as np

from ..geometry.lanes import dot, norm
from ..geometry.path import Path
from ..pattern import measures
from ..pattern.edges import edge_path
from ..pattern.laid import SeamEdge
from ..pattern.piece import Piece, Reals, Trouble
from ..pattern.truing import Seamed, angle_at, corner_at, kink_over_dart
from ..pattern.truing import kink as kink_of
from ..pattern.walking import notch_gap
from .kinds import ANGLE, LENGTH, Kind
from .registry import PlacedEdge, verb, word
from .sums import Pieces
from .truing import SEAM_WORDS, check_seam
from .values import Edge, Run, Seam

LEVEL = word("at_level", "point", "a point at that level, on the paper of the draft")


@verb(
    "inner_angle",
    family="checks",
    doc="Angle of the cloth at the corner where two edges meet.",
    gives=ANGLE,
    subject=word("edge", "edge", "one edge, at the edge it meets there", place=PlacedEdge(end="by")),
    example="angle found = inner_angle front.neckline at shoulder",
)
def inner_angle(subject: Edge, by: str) -> Reals:
    return angle_at(subject.piece, corner_at(subject.piece, subject.name, by))


def _kink_kind(static: Mapping[str, Any]) -> Kind:
    check_seam(static)
    return ANGLE


@verb(
    "kink",
    family="checks",
    doc="By how much an edge fails to run on smoothly over a seam into another piece, or over a dart, once that is sewn.",
    gives=_kink_kind,
    subject=word("edge", "edge", "the edge"),
    words=(word("over", SEAM_WORDS[0].want, SEAM_WORDS[0].meaning), *SEAM_WORDS[1:]),
    example="angle found = kink front.neckline over shoulder to back.neckline",
)
def kink(subject: Edge, over: str, to: Edge | None = None, meeting: Edge | None = None) -> Reals:
    if to is None:
        return kink_over_dart(subject.piece, subject.name, over)
    across = over if meeting is None else meeting.name
    return kink_of(Seamed(subject.piece, subject.name, over), Seamed(to.piece, to.name, across))


@verb(
    "width_across",
    family="checks",
    doc="Width of a piece on a level line, from edge to edge; what darts take out is left out.",
    gives=LENGTH,
    subject=word("piece", "piece", "the piece"),
    words=(LEVEL,),
    example="length at_waist = width_across front at_level waist",
)
def width_across(subject: Piece, at_level: Reals) -> Reals:
    return measures.width_across(subject, at_level[:, 1])


@verb(
    "girth",
    family="checks",
    doc="Girth of the garment at a level: the widths of its pieces there, each as often as cut, twice on the fold.",
    gives=LENGTH,
    subject=word("pieces", "pieces", "the piece, or all of them with `+` between them"),
    words=(LEVEL,),
    example="length at_bust = girth front + back at_level bust_point",
)
def girth(subject: Piece | Pieces, at_level: Reals) -> Reals:
    total: Reals = np.zeros(1)
    for one in subject.all if isinstance(subject, Pieces) else (subject,):
        total = total + measures.worn_width(one, at_level[:, 1])
    return total


@verb(
    "asymmetry",
    family="checks",
    doc="How far the outline of a piece lies from its mirror image across one of its lines at most.",
    gives=LENGTH,
    subject=word("piece", "piece", "the piece"),
    words=(word("across", "own edge", "the line it is mirrored across, as the former fold"),),
    example="shape whole = unfold front across centre\nlength off = asymmetry whole across centre",
)
def asymmetry(subject: Piece, across: str) -> Reals:
    return measures.asymmetry(subject, across)


def sharpest(value: Edge | Path) -> Reals:
    """Smallest radius (L,) mm of an edge or curve between its corners."""
    return measures.sharpest([value] if isinstance(value, Path) else edge_path(value.piece, value.name))


def gap_of_notches(seam: Seam) -> Reals:
    """How far (L,) mm the notches stated on the two sides lie apart at most."""
    left, right = _stretches(seam)
    return notch_gap(left, right)


def _stretches(seam: Seam) -> tuple[list[SeamEdge], list[SeamEdge]]:
    """Both sides of a seam as edges of pieces, the same piece under the same number."""
    known: list[Piece] = []
    made: tuple[list[SeamEdge], list[SeamEdge]] = ([], [])
    for side, row in zip((seam.left, seam.right), made, strict=True):
        for edge in side.edges if isinstance(side, Run) else (side,):
            if not edge.piece.run(edge.name):
                raise Trouble(f"`{edge.name}` lies inside its piece: it has no notches", "name an edge of the outline")
            number = next((k for k, piece in enumerate(known) if _same_cloth(piece, edge.piece)), len(known))
            known += [edge.piece][: number == len(known)]
            row.append(SeamEdge(edge.piece, edge.name, str(number)))
    return made


def _same_cloth(one: Piece, other: Piece) -> bool:
    """Whether two pieces are one: groups of bodies are taken from a piece several times over."""
    if len(one.ring) != len(other.ring):
        return False
    pairs = zip(one.ring, other.ring, strict=True)
    return all(a.names == b.names and np.array_equal(a.drawn.controls, b.drawn.controls) for a, b in pairs)


def gap_of_grains(seam: Seam) -> Reals:
    """By how much (L,) radians the two sides of a seam lie differently to the grain of their pieces."""
    leans = []
    for side in (seam.left, seam.right):
        if isinstance(side, Run):
            raise Trouble("a run of edges does not lie to one grain", "check the seam of one edge")
        leans.append(_to_grain(side))
    return np.abs(leans[0] - leans[1])


def _to_grain(edge: Edge) -> Reals:
    """Angle (L,) in radians, none to a quarter turn, between the straight way from end to end of an edge and the grain,
    which is `up` where none is stated."""
    grain = np.full(1, 1j) if edge.piece.finish.grain is None else edge.piece.finish.grain
    paths = edge_path(edge.piece, edge.name)
    way = paths[-1].end - paths[0].start
    return np.asarray(np.arccos(np.clip(np.abs(dot(way, np.stack([grain.real, grain.imag], axis=-1))) / norm(way), 0.0, 1.0)))
