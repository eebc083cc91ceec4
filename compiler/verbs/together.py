"""Several pieces changed at once, as they are sewn together, each reached by its name: a seam moved, an edge trued over all."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

import numpy as np

from ..pattern.edges import edge_length
from ..pattern.panels_trued import smoothed_over
from ..pattern.piece import OperationNote, Piece, Reals, Trouble
from ..pattern.shifting import shifted
from .kinds import EdgeKind, Given, Kind, SeveralKind, piece
from .registry import verb, word
from .truing import moving_at_most, must_not_go_far
from .values import Edge, listed


def _each(pieces: Sequence[Piece], roles: Sequence[str]) -> Kind:
    """The kind of several pieces that keep the names they have."""
    for k, role in enumerate(roles):
        if not role:
            raise Trouble("an edge stands without its piece", "write the piece before it, as in `front.side`")
        if role in roles[:k]:
            raise Trouble(f"two of the pieces are called `{role}`", "give one of them another name first")
    return SeveralKind("block", tuple(Given(piece(one), (roles[k],), {"part": k}) for k, one in enumerate(pieces)))


def _shifted_names(static: Mapping[str, Any]) -> Kind:
    gains, loses = static["subject"], static["to"]
    made = shifted(gains.sketch, gains.name, loses.sketch, loses.name, np.zeros(1))
    return _each(made, (static["subject called"], static["to called"]))


@verb(
    "shift_seam",
    family="reshaping",
    doc="Both pieces of a seam, as a block, with the seam moved into the second of them: what that loses along the edges beside "
    "the seam the first gains, drawn as it was; each keeps the shape of its own edge. Each is reached by the name it has.",
    gives=_shifted_names,
    subject=word("edge", "named edge", "the edge of the piece that gains"),
    words=(
        word("to", "named edge", "the edge it is sewn to, of the piece that loses"),
        word("by", "length", "how far, along the edges beside the seam"),
    ),
    example="block moved = shift_seam base.front.side to base.back.side by 1 cm",
)
def shift_seam(subject: Edge, to: Edge, by: Reals, part: int, **_: str) -> Piece:
    made, old = shifted(subject.piece, subject.name, to.piece, to.name, by)[part], (subject, to)[part]
    lengths = {"before": edge_length(old.piece, old.name), "after": edge_length(made, old.name)}
    return made.with_note(OperationNote("moved with its seam", old.name, lengths))


def _over_names(static: Mapping[str, Any]) -> Kind:
    roles = static["subject called"]
    edges: list[EdgeKind] = listed(static, "subject")
    made, _ = smoothed_over([(edge.sketch, edge.name) for edge in edges], static.get("over", ()))
    return _each(made, roles)


@verb(
    "smooth_over",
    family="truing",
    doc="Panels, as a block, with an edge of each trued to one smooth line over all of them as they are sewn, such as a "
    "waistline. Its far ends stay; between, it ends on the seams, which get longer or shorter there by as much on both their "
    "sides. Each panel is reached by the name it has.",
    gives=_over_names,
    subject=word("edges", "named edges", "the edges, with `+`, in the order in which the panels are sewn"),
    words=(
        word(
            "over",
            "several new name",
            "the seam edges between them in that order, where the names beside do not tell",
            optional=True,
        ),
        moving_at_most("10 mm"),
    ),
    example="shape middle_panel = crop draft through bust_dart, waist_dart keeping centre calling_the_new_edge princess\n"
    "shape side_panel = crop draft through bust_dart, waist_dart keeping side calling_the_new_edge princess\n"
    "block trued = smooth_over middle_panel.waistline + side_panel.waistline",
)
def smooth_over(moving_at_most: Reals, part: int, over: tuple[str, ...] = (), **subject: Any) -> Piece:
    edges: list[Edge] = listed(subject, "subject")
    made, moved = smoothed_over([(edge.piece, edge.name) for edge in edges], over)
    old = edges[part]
    must_not_go_far(old.name, "trued over the panels", moved, moving_at_most)
    lengths = {"moved at most": moved, "before": old.length(), "after": edge_length(made[part], old.name)}
    return made[part].with_note(OperationNote("trued over the panels", old.name, lengths))
