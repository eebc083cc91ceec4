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
from ..pattern.parts import names_of, parts_of
from ..pattern.piece import Piece, Reals, Trouble
from ..pattern.routes import divide, divide_through
from .kinds import Given, Kind, PieceKind, SeveralKind, piece
from .points import as_path
from .registry import verb, word
from .values import Edge

_LINE = "point chest = waist up 30 cm\nline yoke_line from chest to (chest outward 25 cm)"
_WORDS = "back along yoke_line meeting centre, armhole"

_ROUTE = (
    word("along", "path", "the line; through one dart, the way from its apex to the edge", optional=True),
    word(
        "meeting",
        "several own edge",
        "the two edges the line runs between; through darts, where it goes on from the first and from the last: a dart with "
        "two ends is opened to the edge",
        optional=True,
    ),
    word("through", "several own dart", "the dart, or two in order, whose legs become the new edge", optional=True),
    word("across", "several own dart", "darts whose legs the line crosses, as far from the apex on both", optional=True),
    word("absorbing", "own dart", "a dart whose apex the line runs through: it is closed out whole", optional=True),
    word("rounded_over", "length", "through darts: how far it is rounded on both sides of each apex, on its way", optional=True),
)


def _must_say(said: Mapping[str, Any]) -> None:
    """The words that go together: a line from edge to edge, or darts."""
    ends = said.get("meeting", ())
    if len(ends) > 2:
        raise Trouble("a piece is divided from one edge to one other", "name two edges behind `meeting`")
    if "through" in said:
        for name in ("across", "absorbing"):
            if name in said:
                raise Trouble(f"`{name}` is said of darts on the way of a drawn line", f"take `{name}` or `through` away")
        return
    if "rounded_over" in said:
        raise Trouble("only a seam through darts is rounded", "take `rounded_over` away, and draw the line round")
    for name in ("along", "meeting"):
        if name not in said:
            fix = "write `along` and a line, `meeting` and the two edges it runs between; or `through` and a dart"
            raise Trouble(f"where the piece is divided is not said: `{name}` is missing", fix)
    if len(ends) < 2:
        raise Trouble("a line divides a piece from one edge to another", f"name both: `meeting {ends[0]}, …`")


def _divided(one: Piece, said: Mapping[str, Any], keep: str, drawn: Path | None) -> Piece:
    """The part of a piece, or of its sketch, that holds an edge."""
    called = {"keep": keep, "called": said["calling_the_new_edge"]}
    if "through" in said:
        start, end = _goes_on_to(one, said["through"], said.get("meeting", ()))
        rounding, is_drawn = None if one.is_sketch else said.get("rounded_over"), "along" in said
        return divide_through(
            one, said["through"], **called, start=start, end=end, drawn=drawn, is_drawn=is_drawn, rounding=rounding
        )
    across = said.get("across", ())
    absorbing = (said["absorbing"],) if "absorbing" in said else ()
    start, end = said["meeting"]
    return divide(one, drawn, (start, end), **called, across=across, absorbing=absorbing)


def _goes_on_to(one: Piece, darts: tuple[str, ...], ends: tuple[str, ...]) -> tuple[str | None, str | None]:
    """The edges a seam goes on to from its first dart and from its last: a lone one is that of a dart with two ends."""
    if len(ends) == 2:
        return ends[0], ends[1]
    if not ends:
        return None, None
    first, last = (one.hole(name) is not None for name in (darts[0], darts[-1]))
    return (ends[0], None) if first and not last else (None, ends[0])


def _cropped_names(static: Mapping[str, Any]) -> PieceKind:
    _must_say(static)
    return piece(_divided(static["subject"].sketch, static, static["keeping"], None))


def _divided_names(static: Mapping[str, Any]) -> Kind:
    _must_say(static)
    whole: Piece = static["subject"].sketch
    parts = parts_of(whole, lambda edge: _divided(whole, static, edge, None))
    given = [Given(piece(one.sketch), tuple(f"with_{name}" for name in one.own), {"keep": one.keep}) for one in parts]
    told = {name for one in parts for name in one.own}
    shared = {name for one in parts for name in names_of(one.sketch) if name not in told}
    return SeveralKind("block", tuple(given), frozenset(shared))


def _said(words: Mapping[str, Any], called: str, along: Path | Edge | None) -> tuple[dict[str, Any], Path | None]:
    """The words that are written, and the line drawn."""
    said = {name: value for name, value in words.items() if value is not None} | {"calling_the_new_edge": called}
    return (said, None) if along is None else (said | {"along": along}, as_path(along))


@verb(
    "divide",
    family="dividing",
    doc="Both parts of a piece divided along a line from edge to edge, or through its darts, as a block: a part is reached by "
    "`with_EDGE`, for any edge, dart or point that only that part has. They keep their edges; one the line ends on keeps its "
    "name on both, and both have the new edge. Points, darts and inner lines go with the part they lie on. A dart the line runs "
    "across is closed out on the part with its mouth, where the fold's panel stays, else that of its first edge; its rest "
    "stands on the new edge of the other. Legs of a dart it runs through become the new edge.",
    gives=_divided_names,
    subject=word("piece", "piece", "the piece"),
    words=(*_ROUTE, word("calling_the_new_edge", "new name", "the name of the new edge")),
    example=f"{_LINE}\nblock cut_back = divide {_WORDS} calling_the_new_edge yoke_seam",
)
def divide_piece(subject: Piece, keep: str, calling_the_new_edge: str, along: Path | Edge | None = None, **rest: Any) -> Piece:
    said, drawn = _said(rest, calling_the_new_edge, along)
    return _divided(subject, said, keep, drawn)


@verb(
    "crop",
    family="dividing",
    doc="One part of a piece divided along a line from edge to edge, or through its darts: that with the edge named. It is what "
    "`divide` makes of it; a panel with that edge stays where a dart closes, but for the fold's. Of a part cut out of one edge "
    "that edge is named.",
    gives=_cropped_names,
    subject=word("piece", "piece", "the piece"),
    words=(
        *_ROUTE,
        word("keeping", "own edge", "an edge that only the part wanted has"),
        word("calling_the_new_edge", "new name", "the name of the new edge"),
    ),
    example=f"{_LINE}\nshape yoke = crop {_WORDS} keeping neckline calling_the_new_edge yoke_seam",
)
def crop_piece(subject: Piece, keeping: str, calling_the_new_edge: str, along: Path | Edge | None = None, **rest: Any) -> Piece:
    said, drawn = _said(rest, calling_the_new_edge, along)
    return _divided(subject, said, keeping, drawn)


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
    example=f"{_LINE}\nblock cut_back = divide {_WORDS} calling_the_new_edge yoke_seam\n"
    "shape one = join cut_back.with_neckline to cut_back.with_hem along yoke_seam",
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
