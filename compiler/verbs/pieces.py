"""Whole pieces: unfolded, mirrored, a stretch of the outline drawn anew, names changed."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from ..geometry.path import Path, reverse
from ..pattern.edges import as_one, rename
from ..pattern.piece import Piece, Trouble
from ..pattern.redrawing import NewSide, redraw
from ..pattern.unfold import mirror, unfold
from .kinds import PieceKind, piece
from .registry import verb, word

PIECE = word("piece", "piece", "the piece")


@verb(
    "unfold",
    family="pieces",
    doc="The whole piece of a half: mirrored across its centre line, which becomes an inner line. An edge that ends there, as "
    "neckline and hem, stays whole under its name, with halves `left_hem` and `right_hem`; of every other edge, dart, line and "
    "point there are two, such as `left_side` and `right_side`.",
    gives=lambda static: piece(unfold(static["subject"].sketch, static["across"])),
    subject=PIECE,
    words=(word("across", "own edge", "the centre line"),),
    example="shape whole = unfold base.front across centre",
)
def unfold_piece(subject: Piece, across: str) -> Piece:
    return unfold(subject, across)


@verb(
    "mirror",
    family="pieces",
    doc="The piece of the other side of the body; `left_` and `right_` change places in its names.",
    gives=lambda static: piece(mirror(static["subject"].sketch)),
    subject=PIECE,
    example="shape other = mirror base.front",
)
def mirror_piece(subject: Piece) -> Piece:
    return mirror(subject)


def _renamed_names(static: Mapping[str, Any]) -> PieceKind:
    return piece(renamed(static["subject"].sketch, static["marks"], static["as"]))


@verb(
    "rename",
    family="pieces",
    doc="The same piece with an edge, dart or point called something else; or with two edges that meet end to end called one "
    "edge, as the halves of a sleeve cap, with parts `cap.of_front_cap` and so on.",
    gives=_renamed_names,
    subject=word("mark", "mark", "what is renamed: an edge, a dart or a point of a piece, or two edges with `+`"),
    words=(word("as", "new name", "the new name"),),
    example="shape renamed = rename base.front.side as side_seam",
)
def renamed(subject: Piece, marks: Sequence[str], as_: str) -> Piece:
    return rename(subject, {marks[0]: as_}) if len(marks) == 1 else as_one(subject, marks[0], marks[1], as_)


def redrawn(sketch: Piece, settled: Mapping[str, Any], values: Mapping[str, Any] | None) -> Piece:
    """The piece with a stretch of its outline drawn anew, from the edges of a block.

    `settled` has the names of the edges (`marks`, `beginning_at`) and `chain`: the new edges in order as (name, whether run
    forward). Without values, the sketch.
    """
    new: list[NewSide] = []
    for name, forward in settled["chain"]:
        path = None if values is None else values[name]
        new.append((name, path if path is None or forward else reverse(path)))
    return redraw(sketch, settled["marks"], new, settled.get("beginning_at"))


def _redrawn_names(static: Mapping[str, Any]) -> PieceKind:
    """Where the block is at hand its names are mapped from that; a `replace` without one draws nothing."""
    if "name" not in static:
        fix = "write `shape name = replace … { … }`, with the new edges in the braces"
        raise Trouble("`replace` needs a block with the new edges", fix)
    return piece(static["subject"].sketch)


@verb(
    "replace",
    family="pieces",
    doc="Draw a stretch of the outline anew: the edges in the block stand in place of one or several, and meet the edges on both "
    "sides, which are cut short there. Where several are replaced, the new ones begin where the first of these does. What lies "
    "on the stretch goes with it: darts, notches, places, and a fold if it is replaced (`fold` names the new edge in the braces "
    "of the next shape). Darts elsewhere, points, inner lines and grain stay where they lie on the cloth.",
    gives=_redrawn_names,
    subject=word("edges", "marks", "the edge of a piece that is replaced, or several that follow each other, with `+`"),
    words=(
        word("beginning_at", "own edge", "the edge the first of several new ones meets, where one is replaced", optional=True),
    ),
    example="""shape grown = replace plain.shoulder + plain.armhole {
    line overarm from neck_point to tip
    line sleeve_hem from tip to under
    curve underarm from under to side_mark arriving along plain.side
}""",
)
def replaced(
    subject: Piece, marks: Sequence[str], chain: Sequence[tuple[str, bool]], beginning_at: str | None = None, **edges: Path
) -> Piece:
    return redrawn(subject, {"marks": marks, "beginning_at": beginning_at, "chain": chain}, edges)
