"""Whole pieces: unfolded, mirrored, a stretch of the outline drawn anew, names changed."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

import numpy as np

from ..geometry.lanes import agree
from ..geometry.length import nearest
from ..geometry.path import Path, chain, reverse
from ..pattern.edges import as_one, edge_path, redraw, rename
from ..pattern.piece import Piece, Trouble
from ..pattern.unfold import mirror, unfold
from .kinds import PieceKind, piece
from .registry import verb, word

PIECE = word("piece", "piece", "the piece")


@verb(
    "unfold",
    family="pieces",
    doc="The whole piece of a half: mirrored across its centre line, which becomes an inner line.",
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

    `settled` has the names of the edges (`from`, `to`, `replacing`) and `chain`: the new edges in order as (name, whether run
    forward). Without values, the sketch.
    """
    new: list[tuple[str, Path | None]] = []
    for name, forward in settled["chain"]:
        path = None if values is None else values[name]
        new.append((name, path if path is None or forward else reverse(path)))
    if values is not None and _runs_back(sketch, settled["from"], new):
        new = [(name, path if path is None else reverse(path)) for name, path in reversed(new)]
    return redraw(sketch, settled["from"], settled["to"], settled["replacing"], new)


def _runs_back(piece: Piece, first: str, new: list[tuple[str, Path | None]]) -> bool:
    """Whether the new stretch ends, rather than starts, on the edge it is to start on. All lanes must agree."""
    start, end = new[0][1], new[-1][1]
    if start is None or end is None:
        return False
    whole = chain(edge_path(piece, first))
    return bool(agree((nearest(whole, end.end)[1] < nearest(whole, start.start)[1]).astype(np.int64)))


def _redrawn_names(static: Mapping[str, Any]) -> PieceKind:
    """Where the block is at hand its names are mapped from that; a `redraw` without one draws nothing."""
    if "name" not in static:
        fix = "write `shape name = redraw … { … }`, with the new edges in the braces"
        raise Trouble("`redraw` needs a block with the new edges", fix)
    return piece(static["subject"].sketch)


@verb(
    "redraw",
    family="pieces",
    doc="Draw a stretch of the outline anew: the edges in the block replace all between two edges, which they meet.",
    gives=_redrawn_names,
    subject=PIECE,
    words=(
        word("from", "own edge", "the edge the new stretch starts on; it is cut short there"),
        word("to", "own edge", "the edge it ends on"),
        word("replacing", "own edge", "an edge that is replaced, to tell the way round"),
    ),
    example="""shape grown = replace plain.shoulder + plain.armhole {
    line overarm from neck_point to tip
    line sleeve_hem from tip to under
    curve underarm from under to side_mark arriving along plain.side
}""",
)
def redraw_piece(
    subject: Piece, from_: str, to: str, replacing: str, chain: Sequence[tuple[str, bool]], **edges: Path
) -> Piece:
    return redrawn(subject, {"from": from_, "to": to, "replacing": replacing, "chain": chain}, edges)
