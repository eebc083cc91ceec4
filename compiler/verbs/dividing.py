"""Dividing a piece along a line or through its darts, and joining two along an edge."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

import numpy as np

from ..geometry.lanes import norm, unit
from ..geometry.motion import Motion
from ..geometry.path import Path
from ..geometry.tolerances import COINCIDE
from ..pattern.join import join, laid
from ..pattern.piece import Piece, Reals, Trouble
from ..pattern.routes import divide, divide_through
from .kinds import PieceKind, piece
from .points import as_path
from .registry import verb, word
from .values import Edge

_LINE = "point chest = waist up 30 cm\nline yoke_line from chest to (chest outward 25 cm)"
_WORDS = "back along yoke_line from centre to armhole"


def _must_say(said: Mapping[str, Any]) -> None:
    """The words of `divide` that go together: a line from edge to edge, or darts."""
    if "through" in said:
        for name in ("across", "absorbing"):
            if name in said:
                raise Trouble(f"`{name}` is said of darts on the way of a drawn line", f"take `{name}` or `through` away")
        return
    if "rounding" in said:
        raise Trouble("only a seam through darts is rounded", "take `rounding` away, and draw the line round")
    for name in ("along", "from", "to"):
        if name not in said:
            fix = "write `along` and a line, `from` and `to` and the edges it runs between; or `through` and a dart"
            raise Trouble(f"where the piece is divided is not said: `{name}` is missing", fix)


def divided(one: Piece, said: Mapping[str, Any], drawn: Path | None) -> Piece:
    """The part of a piece, or of its sketch, from the words of `divide`."""
    called = {"keep": said["keep"], "called": said["called"]}
    if "through" in said:
        darts, start, end = said["through"], said.get("from"), said.get("to")
        rounding, is_drawn = None if one.is_sketch else said.get("rounding"), "along" in said
        return divide_through(
            one, darts, **called, start=start, end=end, drawn=drawn, is_drawn=is_drawn, rounding=rounding
        )
    across = said.get("across", ())
    absorbing = (said["absorbing"],) if "absorbing" in said else ()
    return divide(one, drawn, (said["from"], said["to"]), **called, across=across, absorbing=absorbing)


def _divided_names(static: Mapping[str, Any]) -> PieceKind:
    _must_say(static)
    return piece(divided(static["subject"].sketch, static, None))


@verb(
    "divide",
    family="dividing",
    doc="The part of a piece that holds an edge, divided along a line from edge to edge, or through its darts. It keeps its "
    "edges; one the line ends on keeps its name on both parts, and both have the new edge. Points, darts and inner lines go "
    "with the part they lie on. A dart the line runs across is closed out on the part with its mouth; its rest stands on the "
    "new edge of the other. Legs of a dart it runs through become the new edge.",
    gives=_divided_names,
    subject=word("piece", "piece", "the piece"),
    words=(
        word("along", "path", "the line; through one dart, the way from its apex to the edge", optional=True),
        word("from", "own edge", "the edge the line starts on", optional=True),
        word("to", "own edge", "the edge it ends on, or a dart with two ends is opened to", optional=True),
        word("through", "several own dart", "the dart, or two in order, whose legs become the new edge", optional=True),
        word("across", "several own dart", "darts whose legs the line crosses, as far from the apex on both", optional=True),
        word("absorbing", "own dart", "a dart whose apex the line runs through: it is closed out whole", optional=True),
        word("rounding", "length", "through darts: how far it is rounded on both sides of each apex, on its way", optional=True),
        word("keep", "own edge", "an edge of the part wanted"),
        word("called", "new name", "the name of the new edge"),
    ),
    example=f"{_LINE}\nshape yoke = divide {_WORDS} keep neckline called yoke_seam",
)
def divide_piece(subject: Piece, keep: str, called: str, along: Path | Edge | None = None, **rest: Any) -> Piece:
    said: dict[str, Any] = {name.rstrip("_"): value for name, value in rest.items() if value is not None}
    said |= {"keep": keep, "called": called}
    if along is None:
        return divided(subject, said, None)
    return divided(subject, said | {"along": along}, as_path(along))


def _joined_names(static: Mapping[str, Any]) -> PieceKind:
    called = static.get("subject called", ""), static.get("to called", "")
    along, naming = static["along"], static.get("naming", "")
    by = static.get("by", along)
    return piece(join(static["subject"].sketch, static["to"].sketch, along, by, called=called, naming=naming))


@verb(
    "join",
    family="dividing",
    doc="Two pieces as one: the second is laid with its edge on that of the first. Edges of one name that meet there end to "
    "end become one, with parts such as `hem.of_front`; the edge is an inner line then. Other names in both are told apart by "
    "`naming`.",
    gives=_joined_names,
    subject=word("piece", "named piece", "the piece that stays, and keeps what is stated for cutting"),
    words=(
        word("to", "named piece", "the piece that is laid against it"),
        word("along", "own edge", "the edge of the first"),
        word("by", "new name", "the edge of the second, where its name is another", optional=True),
        word("naming", "new name", "goes before names of the second that both have: `back` makes `back_side`", optional=True),
        word("tolerance", "length", "how far the two edges may lie apart", default="1 mm"),
    ),
    example=f"{_LINE}\nshape yoke = divide {_WORDS} keep neckline called yoke_seam\n"
    f"shape lower_back = divide {_WORDS} keep hem called yoke_seam\nshape one = join yoke to lower_back along yoke_seam",
)
def join_pieces(
    subject: Piece, to: Piece, along: str, tolerance: Reals, by: str | None = None, naming: str = "", **called: str
) -> Piece:
    names = called.get("subject_called", ""), called.get("to_called", "")
    return join(subject, to, along, by or along, called=names, naming=naming, within=tolerance)


@verb(
    "laid",
    family="dividing",
    doc="A piece laid elsewhere on the paper, unchanged: one point on a place, and a second one toward another.",
    gives=lambda static: piece(static["subject"].sketch),
    subject=word("piece", "piece", "the piece"),
    words=(
        word("putting", "point", "a point of the piece"),
        word("onto", "point", "where that comes to lie"),
        word("turning", "point", "a second point of the piece"),
        word("toward", "point", "toward which that lies, seen from the first"),
    ),
    example="shape beside = laid back putting waist onto band_corner turning nape toward band_top",
)
def laid_piece(subject: Piece, putting: Reals, onto: Reals, turning: Reals, toward: Reals) -> Piece:
    arm, way = turning - putting, toward - onto
    none = np.minimum(norm(arm), norm(way)) <= COINCIDE
    if none.any():
        raise Trouble("two points that should tell how the piece is turned are one", "name two that lie apart", none)
    start, goal = (unit(one)[:, 0] + 1j * unit(one)[:, 1] for one in (arm, way))
    turn = goal * np.conj(start)
    shift = onto[:, 0] + 1j * onto[:, 1] - turn * (putting[:, 0] + 1j * putting[:, 1])
    return laid(subject, Motion(turn, shift))
