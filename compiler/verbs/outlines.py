"""The outline of a piece from the edges of its block, and the darts and landmarks placed on it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from types import MappingProxyType
from typing import Any, get_args

import numpy as np

from ..geometry.lanes import agree
from ..geometry.path import Path
from ..pattern.covers import Covers
from ..pattern.darts import place_dart, place_two_ended
from ..pattern.edges import edge_from
from ..pattern.outline import outline
from ..pattern.piece import OperationNote, Piece, Reals, Trouble, Worn, leg_names
from ..pattern.ring import edge_total, record
from .kinds import PieceKind, piece
from .opened import SMALLEST_DART, UNNEEDED, Drafted, in_order
from .places import along
from .registry import PlacedEdge, verb, word
from .values import Opened

DART_WORDS = (
    word(
        "on",
        "own edge",
        "the edge it stands on, at the place of its middle; the inner leg lies on the side of the end that is measured from",
        optional=True,
        place=PlacedEdge("at", "share", near="near", required=False),
    ),
    word("inner", "own end", "where the place is a point: the end on whose side the inner leg lies", optional=True),
    word("width", "length", "what it takes in"),
    word("as_long_as", "length", "its length, square to the edge", optional=True),
    word("ending_at", "point", "its apex", optional=True),
    word("around", "point", "the middle of a dart with two ends", optional=True),
    word("reaching_up_to", "point", "its upper apex", optional=True),
    word("reaching_down_to", "point", "its lower apex", optional=True),
)

CHORD = word(
    "chord",
    "number",
    "where it is drafted: its place on the straight way between the ends of the edge, as a share from one; square to that",
    optional=True,
)


@dataclass(frozen=True)
class OutlineEdge:
    """An edge of an outline: the keys of the points it runs between, and the darts drafted in it."""

    name: str
    start: str
    end: str
    darts: tuple[Drafted, ...] = ()


def outline_of(edges: Sequence[OutlineEdge], values: Mapping[str, Any] | None) -> Piece:
    """The closed piece; without values, its sketch. An edge with drafted darts has the value of `opened_curve`."""
    rows: list[tuple[str, Path | None, str, str]] = []
    legs: list[tuple[str, str]] = []
    gone: list[str] = []
    for edge in edges:
        value = None if values is None else values[edge.name]
        if not edge.darts:
            rows.append((edge.name, value, edge.start, edge.end))
            continue
        parts = _cut_rows(edge, value)
        rows += parts
        drawn = {name for name, *_ in parts}
        for dart in edge.darts:
            if leg_names(dart.name)[0] in drawn:
                legs.append((dart.name, edge.name))
            else:
                gone += [dart.name, *leg_names(dart.name)]
    made = record(outline(rows, legs=legs), dict.fromkeys(gone, UNNEEDED))
    if values is not None:
        return made
    by_body = [dart.name for edge in edges for dart in edge.darts if dart.way == "chord"]
    return replace(made, uncertain=frozenset(name for dart in by_body for name in (dart, *leg_names(dart))))


def _cut_rows(edge: OutlineEdge, value: Opened | None) -> list[tuple[str, Path | None, str, str]]:
    """The parts of an edge with drafted darts, and the legs between them."""
    sides = {dart.name: dart.side for dart in in_order(edge.darts)}
    names = tuple(sides) if value is None else value.darts
    parts = [None] * (len(names) + 1) if value is None else value.parts
    legs = [(None, None)] * len(names) if value is None else value.legs
    rows: list[tuple[str, Path | None, str, str]] = []
    here = edge.start
    for name, part, (to_apex, from_apex) in zip(names, parts, legs, strict=False):
        first, second = ("inner", "outer") if sides[name] == "start" else ("outer", "inner")
        one, apex, two = (f"{name} {end}" for end in ("first end", "apex", "second end"))
        rows += [
            (edge.name, part, here, one),
            (f"{name}.{first}_leg", to_apex, one, apex),
            (f"{name}.{second}_leg", from_apex, apex, two),
        ]
        here = two
    return [*rows, (edge.name, parts[-1], here, edge.end)]


def _dart_names(static: Mapping[str, Any]) -> PieceKind:
    sketch: Piece = static["piece"].sketch
    if "chord" in static:
        raise Trouble("a dart on the chord is drafted on an edge", "write `on` and the name of the edge")
    _must_say(static)
    if "on" in static:
        end = edge_from(sketch, static["on"], static.get("inner", static.get("from")))
        return piece(place_dart(sketch, static["name"], static["on"], at=None, width=None, from_end=end))
    return piece(
        place_two_ended(sketch, static["name"], middle=None, width=None, upper_apex=None, lower_apex=None, inner=None)
    )


def _must_say(static: Mapping[str, Any]) -> None:
    """A dart on an edge states where its middle lies, from which end, and where it ends; one with two ends both of them."""
    if "on" in static:
        if "near" in static and "inner" not in static:
            raise Trouble("which is the inner leg is not said", "write `inner` and the end of the edge on whose side it lies")
        if not {"at", "share", "near"} & static.keys():
            fix = "write it behind the edge, as in `on waistline at 9 cm from centre`"
            raise Trouble("where on its edge the dart stands is not said", fix)
        needed: list[tuple[str, ...]] = [("as_long_as", "ending_at")]
    else:
        needed = [("reaching_up_to",), ("reaching_down_to",)]
    for group in needed:
        if sum(name in static for name in group) != 1:
            listed = " or ".join(f"`{name}`" for name in group)
            which = "on an edge" if "on" in static else "with two ends"
            raise Trouble(f"a dart {which} needs {listed}", "write it, once, and its value")


@verb(
    "dart",
    family="darts",
    doc="A dart of the outline that is drawn: placed on an edge, or with two ends around a point (on a piece that is drawn "
    "already: `darted`). Or drafted with its edge, which is drawn as one smooth line with all such darts closed: by its place "
    "on the chord, with `width` and `as_long_as`, or by the two ends of its mouth, `on armhole mouth chest_point, lower_end "
    "ending_at bust_point`. One that takes in less than 1 mm is left out. Its inner leg is the one toward the end its place is "
    "counted from; by its mouth, at the first of the two; of a dart with two ends, toward the centre of the half.",
    gives=_dart_names,
    statement=True,
    either=(("on", "around"),),
    words=(*DART_WORDS, CHORD),
    example="dart waist_dart on waistline chord 1/2 from centre width 3 cm as_long_as 14 cm\n"
    "dart side_dart on side at 1/2 from armhole width 2 cm as_long_as 9 cm",
)
def dart(piece: Piece, name: str, width: Reals, **rest: Any) -> Piece:
    """A dart that takes in less than a millimetre is left out: such bodies are a group of their own."""
    sewn = agree(np.atleast_1d(width >= SMALLEST_DART).astype(np.int64))
    if not sewn:
        return record(piece, dict.fromkeys((name, *leg_names(name)), UNNEEDED))
    if rest.get("around") is not None:
        inward = np.array([[-1.0, 0.0]])
        return place_two_ended(
            piece,
            name,
            middle=rest["around"],
            width=width,
            upper_apex=rest["reaching_up_to"],
            lower_apex=rest["reaching_down_to"],
            inner=inward,
        )
    return _on_edge(piece, name, width, **rest)


def _on_edge(
    piece: Piece,
    name: str,
    width: Reals,
    on: str,
    from_: str | None = None,
    share: Reals | None = None,
    at: Reals | None = None,
    near: Reals | None = None,
    inner: str | None = None,
    as_long_as: Reals | None = None,
    ending_at: Reals | None = None,
    **_: Any,
) -> Piece:
    place, end = along(piece, on, from_, at, share, near)
    if inner is not None and (side := edge_from(piece, on, inner)) != end:
        place, end = edge_total(piece, on) - place, side
    return place_dart(piece, name, on, at=place, width=width, apex=ending_at, long=as_long_as, from_end=end)


def _darted_names(static: Mapping[str, Any]) -> PieceKind:
    sketch = static["subject"].sketch
    return _dart_names({**static, "piece": piece(sketch), "name": static["called"]})


@verb(
    "darted",
    family="darts",
    doc="A piece with a dart more: placed on an edge, or with two ends around a point. It takes its width out of the edge, "
    "which is sewn that much shorter.",
    gives=_darted_names,
    subject=word("piece", "piece", "the piece"),
    either=(("on", "around"),),
    words=(*DART_WORDS, word("called", "new name", "the name of the dart")),
    example="shape with_dart = darted base.back on shoulder at 1/2 from neckline width 1.5 cm as_long_as 7 cm "
    "called shoulder_dart",
)
def darted(subject: Piece, called: str, width: Reals, **rest: Any) -> Piece:
    on = rest.get("on")
    made: Piece = dart(subject, called, width, **rest)
    if on is None or made.dart(called) is None:
        return made
    lengths = {"before": edge_total(subject, on), "after": edge_total(made, on)}
    return made.with_note(OperationNote(f"`{called}` placed", on, MappingProxyType(lengths)))


def _with_point(static: Mapping[str, Any]) -> PieceKind:
    sketch: Piece = static["piece"].sketch
    return piece(replace(sketch, points=MappingProxyType({**sketch.points, static["called"]: None})))


@verb(
    "landmark",
    family="outline",
    doc="Keep a point of the draft as a named point of the piece; it moves with the cloth it lies on.",
    gives=_with_point,
    statement=True,
    subject=word("point", "point", "the point"),
    words=(word("called", "new name", "its name on the piece"),),
    example="landmark bust_point called bust_point",
)
def landmark(piece: Piece, subject: Reals, called: str) -> Piece:
    return replace(piece, points=MappingProxyType({**piece.points, called: subject}))


def _folded(static: Mapping[str, Any]) -> PieceKind:
    return piece(replace(static["piece"].sketch, fold=static["subject"]))


@verb(
    "fold",
    family="outline",
    doc="The edge that lies on the fold of the cloth, or along which the piece will be unfolded.",
    gives=_folded,
    statement=True,
    subject=word("edge", "own edge", "the edge on the fold"),
    example="fold centre",
)
def fold(piece: Piece, subject: str) -> Piece:
    return replace(piece, fold=subject)


def _off_fold(static: Mapping[str, Any]) -> PieceKind:
    sketch: Piece = static["piece"].sketch
    if sketch.fold != static["subject"]:
        fix = f"the fold is at `{sketch.fold}`" if sketch.fold else "take the sentence out: the piece has no fold"
        raise Trouble(f"`{static['subject']}` does not lie on the fold", fix)
    return piece(replace(sketch, fold=None))


@verb(
    "off_fold",
    family="outline",
    doc="A half is cut by itself, not on the fold: the edge that lay there is cut like any other, with its allowance.",
    gives=_off_fold,
    statement=True,
    subject=word("edge", "own edge", "the edge that lay on the fold"),
    example="off_fold centre",
)
def off_fold(piece: Piece, subject: str) -> Piece:
    return replace(piece, fold=None, was_fold=piece.fold)


def _worn(static: Mapping[str, Any]) -> PieceKind:
    return piece(replace(static["piece"].sketch, worn=static["subject"]))


@verb(
    "worn",
    family="outline",
    doc="Which half of the wearer a half piece covers. A half is drafted as the wearer's left, seen from outside: the right one "
    "is its `mirror`. On the fold, or in a pair, the one half is the other turned over, and none need be said; but say it of a "
    "piece on the fold that `covers` no part of the body where a seam names an edge of it twice, once for each half.",
    gives=_worn,
    statement=True,
    subject=word("side", "one of left right", "left or right, the wearer's"),
    example="worn left",
)
def worn(piece: Piece, subject: Worn) -> Piece:
    return replace(piece, worn=subject)


def _covering(static: Mapping[str, Any]) -> PieceKind:
    return piece(replace(static["piece"].sketch, covers=static["subject"]))


@verb(
    "covers",
    family="outline",
    doc="Which part of the body a piece covers: what fits a front does not fit a sleeve.",
    gives=_covering,
    statement=True,
    subject=word("part", f"one of {' '.join(get_args(Covers))}", "the part of the body"),
    example="covers bodice_front",
)
def covers(piece: Piece, subject: Covers) -> Piece:
    return replace(piece, covers=subject)
