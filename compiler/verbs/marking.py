"""What is marked on a piece, in its block: buttons, buttonholes, drill holes, lines, the place of another piece."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from types import MappingProxyType
from typing import Any, Literal

import numpy as np

from ..geometry.path import Path
from ..pattern import marks
from ..pattern.edges import edge_from, edge_length
from ..pattern.facing_marks import count_of, shared_end, under
from ..pattern.levels import with_level, with_level_edge
from ..pattern.piece import Piece, Reals, Sign, SignKind, Trouble
from ..pattern.spacing import About, must_go_together
from .kinds import EdgeKind, Kind, PieceKind, piece
from .places import along
from .points import as_path
from .registry import PlacedEdge, Word, verb, word
from .values import Edge

SPACED = (
    word(
        "on",
        "own edge",
        "the edge or line they stand on: with a place for a single one, else with the part from the first to the last",
        place=PlacedEdge("first", "first_share", last=PlacedEdge("last", "last_share", end="until"), required=False),
    ),
    word("count", "count", "how many, on every body; one where nothing is said", optional=True),
    word("apart", "length", "about how far apart, evenly spread: as many as that takes on each body", optional=True),
    word("up_to", "count", "the most of them there may be", optional=True),
    word("through", "own point", "a point beside which one of them lies", optional=True),
    word("inset_by", "length", "how far inside the edge they lie; on it if left out", optional=True),
)


def _spacing(piece: Piece, on: str, from_: str | None, given: Mapping[str, Any]) -> marks.Spacing:
    assert from_ is not None
    many = About(given["apart"], given["up_to"]) if given.get("apart") is not None else given.get("count") or 1
    first, _ = along(piece, on, from_, given.get("first"), given.get("first_share"))
    last = inset = np.zeros(1)
    if given.get("until") is not None:
        last, end = along(piece, on, given["until"], given.get("last"), given.get("last_share"))
        if end == edge_from(piece, on, from_):  # both places are counted from one end
            last = edge_length(piece, on) - last
    return marks.Spacing(on, from_, many, first, last, given.get("inset_by", inset), given.get("through"))


def _named(static: Mapping[str, Any]) -> tuple[int, int]:
    """For how many marks there are names, and how many of these every body has."""
    must_go_together(static)
    if "from" not in static:
        fix = f"write `{static['on']} at …` for a single one, `{static['on']} between … and …` for several"
        raise Trouble("where they stand is not said", fix)
    if "until" not in static and ("apart" in static or static.get("count", 1) > 1):
        fix = f"write the part they stand on: `{static['on']} between … from {static['from']} and …`"
        raise Trouble("where the last of them lies is not said", fix)
    if "until" in static and "apart" not in static and static.get("count", 1) < 2:
        raise Trouble("how many there are is not said", "write `count`, or `apart` and `up_to`; a single one lies `at` a place")
    if "apart" in static:
        if static["up_to"] < 2:
            raise Trouble("marks some way apart are two at least", "raise `up_to`, or write `count`")
        return static["up_to"], 2
    count = static.get("count", 1)
    if count < 1:
        raise Trouble("there is nothing to mark", "count 1 or more")
    return count, count


def _called(default: str) -> Word:
    return word("called", "new name", f"what they are called; `{default}` where nothing is said", optional=True)


def _under(static: Mapping[str, Any]) -> tuple[int, int]:
    """As `_named`, of buttons under the buttonholes of another piece."""
    said = [name for name in ("count", "apart", "up_to", "through", "inset_by") if name in static]
    if "from" in static:
        raise Trouble("their places are told by the buttonholes", f"write `{static['on']}` alone, or take `like` away")
    if said:
        raise Trouble(f"`{said[0]}` is told by the buttonholes", f"take `{said[0]}` away, or `like`")
    like: EdgeKind = static["like"]
    shared_end(static["piece"].sketch, static["on"], like.sketch)
    return count_of(like.sketch, like.name)


def _button_names(static: Mapping[str, Any]) -> PieceKind:
    most, sure = _under(static) if "like" in static else _named(static)
    called = static.get("called", "button")
    made = marks.with_points(static["piece"].sketch, called, most, "button")
    return piece(marks.unsure_from(made, called, sure, most))


@verb(
    "buttons",
    family="marks",
    doc="Places of buttons, evenly spaced along an edge or a line: points `button.k1`, `button.k2` and so on from the end named; "
    "or `like` the buttonholes of another piece, under which they lie where its edge of this name is laid on that here.",
    gives=_button_names,
    statement=True,
    words=(*SPACED, word("like", "edge", "the buttonholes of another piece", optional=True), _called("button")),
    example="buttons on centre between 1.5 cm from neckline and 6 cm from hem count 5 inset_by 2 cm",
)
def buttons(
    piece: Piece, on: str, from_: str | None = None, like: Edge | None = None, called: str | None = None, **given: Any
) -> Piece:
    if like is not None:
        found = under(piece, on, like.piece, like.name)
    else:
        found = marks.places(piece, _spacing(piece, on, from_, given))
    return marks.with_points(piece, called or "button", found, "button")


def _hole_names(static: Mapping[str, Any]) -> PieceKind:
    most, sure = _named(static)
    called, lines = static.get("called", "buttonhole"), dict.fromkeys((f"k{k + 1}" for k in range(most)), None)
    made = marks.with_lines(static["piece"].sketch, called, lines, "buttonhole")
    return piece(marks.unsure_from(made, called, sure, most))


@verb(
    "buttonholes",
    family="marks",
    doc="Buttonholes at the places `buttons` would give: lines `buttonhole.k1` and so on, each begun a little past its button, "
    "toward the edge named; or along the line they stand on, where none is.",
    gives=_hole_names,
    statement=True,
    words=(
        *SPACED,
        word("as_long_as", "length", "length of a buttonhole"),
        word("beyond", "length", "how far past the button it begins (common practice, no source)", default="3 mm"),
        word("toward", "own edge", "the edge toward which they lie, square to their line", optional=True),
        _called("buttonhole"),
    ),
    example="buttonholes on centre between 1.5 cm from neckline and 6 cm from hem count 5 inset_by 2 cm as_long_as 2 cm "
    "toward centre",
)
def buttonholes(
    piece: Piece,
    on: str,
    as_long_as: Reals,
    beyond: Reals,
    from_: str | None = None,
    toward: str | None = None,
    called: str | None = None,
    **given: Any,
) -> Piece:
    spacing = _spacing(piece, on, from_, given)
    paths = marks.holes(piece, marks.places(piece, spacing), as_long_as, beyond, toward, spacing)
    lines: dict[str, Path | None] = {f"k{k + 1}": path for k, path in enumerate(paths)}
    return marks.with_lines(piece, called or "buttonhole", lines, "buttonhole", beyond)


def _marked_names(static: Mapping[str, Any]) -> PieceKind:
    sign: SignKind = "slit" if static["as"] == "opening" else static["as"]
    return piece(marks.with_lines(static["piece"].sketch, static["called"], {"": None}, sign))


@verb(
    "mark",
    family="marks",
    doc="A line or curve drawn on the piece, which moves with its cloth: where something is placed or folded, or what is left "
    "open. Such an opening goes on through the allowance of the edge it ends on; along an edge it is a seam left open, with "
    "a notch where that begins on both its sides.",
    gives=_marked_names,
    statement=True,
    subject=word("line", "path", "the line or curve, or an edge of the piece"),
    words=(
        word("called", "new name", "its name on the piece"),
        word("as", "one of placement fold opening", "what it is for", default="placement"),
    ),
    example="mark waist_line called natural_waist\nmark centre called back_opening as opening",
)
def mark(piece: Piece, subject: Path | Edge, called: str, as_: Literal["placement", "fold", "opening"]) -> Piece:
    path = as_path(subject)
    return marks.with_slit(piece, called, path) if as_ == "opening" else marks.with_lines(piece, called, {"": path}, as_)


def _level_names(static: Mapping[str, Any]) -> PieceKind:
    met = static["meeting"]
    if len(met) != 2:
        raise Trouble("a level runs from one edge to another", "name two behind `meeting`, with a comma")
    return piece(_levelled(static["piece"].sketch, static["subject"], static["along"], met))


@verb(
    "mark_level",
    family="marks",
    doc="A level of the body on the piece, which moves with its cloth: along it the finished garment is measured, darts and "
    "pleats as sewn.",
    gives=_level_names,
    statement=True,
    subject=word("level", "new name", "what the level is called"),
    words=(
        word("along", "path", "the line or curve, or an edge of the piece"),
        word("meeting", "several own edge", "the two edges it runs between"),
    ),
    example="mark_level waist along waistline meeting centre, side",
)
def level(piece: Piece, subject: str, along: Path | Edge, meeting: tuple[str, ...]) -> Piece:
    start, end = meeting
    return _levelled(piece, subject, along, (start, end))


def _levelled(made: Piece, called: str, along: Path | Edge | Kind, ends: tuple[str, str]) -> Piece:
    """The piece, or its sketch, with a level along a line, or along an edge of its own."""
    if isinstance(along, (Edge, EdgeKind)) and made.run(along.name):
        return with_level_edge(made, called, along.name, ends)
    return with_level(made, called, None if isinstance(along, Kind) else as_path(along), ends)


def _placed_names(static: Mapping[str, Any]) -> PieceKind:
    lines = marks.laid_names(static["subject"].sketch)
    return piece(marks.with_lines(static["piece"].sketch, static["called"], lines, "placement"))


@verb(
    "place",
    family="marks",
    doc="The place of another piece, such as a pocket: its outline as lines `NAME.EDGE`, one of its points laid on a point here.",
    gives=_placed_names,
    statement=True,
    subject=word("piece", "piece", "the piece that is sewn on"),
    words=(
        word("by", "point", "the point of that piece that is laid down"),
        word("onto", "point", "where it is laid"),
        word("turned", "angle", "how far the piece is turned about it, anticlockwise", default="0 deg"),
        word("called", "new name", "what its place is called"),
    ),
    example="place pocket by pocket_corner onto dart_middle called pocket_place",
)
def place(piece: Piece, subject: Piece, by: Reals, onto: Reals, turned: Reals, called: str) -> Piece:
    return marks.with_lines(piece, called, marks.laid(subject, by, onto, turned), "placement")


def _drilled_names(static: Mapping[str, Any]) -> PieceKind:
    sketch: Piece = static["piece"].sketch
    is_dart = static["subject"] in sketch.dart_names()
    if is_dart and "back" not in static:
        fix = "leave this sentence away, or write `back` and how far back instead"
        raise Trouble("every dart is drilled 1 cm back from its apex", fix)
    if "back" in static and not is_dart:
        raise Trouble("a point is drilled where it lies", "take `back` and its length away")
    if static["subject"] in sketch.edge_names():
        raise Trouble(f"`{static['subject']}` is an edge: a hole is drilled at a point", "name a point or a dart")
    return piece(drill(sketch, static["subject"]))


@verb(
    "drill",
    family="marks",
    doc="A drill hole at a point; or how far back from its apex a dart is drilled, where that is not 1 cm as in every dart.",
    gives=_drilled_names,
    statement=True,
    subject=word("point", "own mark", "the point, or the dart"),
    words=(word("back", "length", "how far from the apex of the dart the hole lies", optional=True),),
    example="drill bust_dart back 1.5 cm",
)
def drill(piece: Piece, subject: str, back: Reals | None = None) -> Piece:
    if back is None:
        return replace(piece, signs=MappingProxyType({**piece.signs, subject: Sign("drill")}))
    if (back < 0).any():
        raise Trouble("a hole is drilled before the apex, inside the dart", "write 0 cm or more", back < 0, {"back": back})
    return replace(piece, signs=MappingProxyType({**piece.signs, subject: Sign("drill", back)}))
