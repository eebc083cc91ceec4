"""What each node of a checked style computes, over all bodies of a group at once."""

from __future__ import annotations

import keyword
from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from functools import cache, reduce
from typing import Any, Protocol

import numpy as np
from numpy.typing import NDArray

from ..finish.finished import cut_edge, finished
from ..geometry.lanes import agree
from ..geometry.path import Path, chain, line, polyline, reverse
from ..geometry.tolerances import ROUNDING
from ..meaning import payloads as p
from ..meaning.payloads import Payload
from ..meaning.style import Node
from ..pattern.darts import apex_of
from ..pattern.edges import edge_from
from ..pattern.ends import length_of_half
from ..pattern.named import PartEnd, along
from ..pattern.piece import Piece, Reals, Trouble
from ..verbs.comparing import compared
from ..verbs.lines import part_between
from ..verbs.measuring import EXTREMES, OF
from ..verbs.opened import opened_curve
from ..verbs.outlines import outline_of
from ..verbs.points import corner, on_edge
from ..verbs.registry import verbs
from ..verbs.rows import read_off
from ..verbs.sums import end_to_end
from ..verbs.values import DartOf, Edge, Heading, Mask, Verdict, numbered

_WAYS = {"up": (0.0, 1.0), "down": (0.0, -1.0), "outward": (1.0, 0.0), "inward": (-1.0, 0.0)}
WAYS = {word: np.array([way]) for word, way in _WAYS.items()}


class BodyTable(Protocol):
    """The bodies: for a measurement its values (L,), which of them were measured, and which are estimated."""

    @property
    def lane_names(self) -> tuple[str, ...]: ...

    def value(self, name: str) -> tuple[Reals, Mask, Mask]: ...

    def chosen(self, set_to: Mapping[str, float]) -> Mapping[str, float | Reals]:
        """What choices are set to (mm, radians, bare), for all bodies or for each (L,), that are `set_to` so by the style."""
        ...


@dataclass(frozen=True)
class Group:
    """Bodies evaluated together: their positions among all (L,); and what the choices are set to, one number for all bodies, or
    one for each of them."""

    people: BodyTable
    lanes: NDArray[np.intp]
    chosen: Mapping[str, float | Reals]


Args = Mapping[str, Any]
Operation = Callable[[Any, Args, Group], Any]
"""Given the payload it is named by, below."""


def _constant(told: p.Constant, args: Args, group: Group) -> Any:
    return np.array([told.value])


def _choice(told: p.Setting, args: Args, group: Group) -> Any:
    value = group.chosen[told.name]
    if isinstance(value, np.ndarray):
        return value[group.lanes]
    return np.array([bool(value) if told.is_flag else value])


def _text(told: p.Text, args: Args, group: Group) -> Any:
    return told.value


def not_measured(name: str, of_child: bool = False) -> tuple[str, str]:
    """What is wrong, and what to do, where a measurement is missing."""
    nothing = "no figures of children estimate it (adults' are not used)" if of_child else "nothing estimates it"
    return f"`{name}` was not measured, and {nothing}", f"measure it: `godet words {name}` says how"


def _measure(told: p.Measure, args: Args, group: Group) -> Any:
    values, measured, estimated = group.people.value(told.name)
    missing = ~(measured | estimated)[group.lanes]
    if missing.any():
        raise Trouble(*not_measured(told.name), missing)
    return _internal(told, values[group.lanes])


def _internal(told: p.Measure | p.Fallback, values: Reals) -> Reals:
    return np.radians(values) if told.is_angle else values


def _fallback(told: p.Fallback, args: Args, group: Group) -> Any:
    values = _internal(told, group.people.value(told.name)[0][group.lanes])
    if "second" not in args:  # every body of the group was measured
        return values
    return np.where(group.people.value(told.name)[1][group.lanes], values, args["second"])


def _measured(told: p.Measured, args: Args, group: Group) -> Any:
    _, measured, _ = group.people.value(told.name)
    return np.asarray(measured[group.lanes])


def _negative(told: p.Negative, args: Args, group: Group) -> Any:
    return -args["value"]


def _arithmetic(told: p.Arithmetic, args: Args, group: Group) -> Any:
    left, right = args["left"], args["right"]
    match told.operator:
        case "+":
            return left + right
        case "-":
            return left - right
        case "*":
            return left * right
        case _:
            if (nothing := right == 0).any():
                lanes = np.broadcast_to(nothing, np.broadcast_shapes(left.shape, right.shape))
                raise Trouble("this divides by zero", "give the divisor a value", np.asarray(lanes))
            return left / right


def _moves(told: p.Moves, args: Args, group: Group) -> Any:
    point = args["start"]
    for number, way in enumerate(told.ways):
        point = point + args[numbered("step", number)][:, None] * WAYS[way]
    return point


def _direction(told: p.Direction, args: Args, group: Group) -> Any:
    return Heading("fixed", WAYS[told.word])


def _heading(told: p.Heading, args: Args, group: Group) -> Any:
    target, word = args["target"], told.word
    if isinstance(target, Edge):
        return Heading(word, path=chain([side.drawn for side in target.sides]))
    return Heading(word, path=target) if isinstance(target, Path) else Heading(word, target)


def chosen_by(node: Node, values: Mapping[int, Any], group: Group) -> Mask:
    """Which bodies (L,) take the first arm of a choice."""
    if isinstance(node.payload, p.Fallback):
        return np.asarray(group.people.value(node.payload.name)[1][group.lanes])
    if isinstance(node.payload, p.Known):
        asked = [group.people.value(name) for name in node.payload.asks]
        known = np.ones(group.lanes.shape, dtype=bool)
        for _, measured, estimated in asked:
            known &= (measured | estimated)[group.lanes]
        return known
    return holding(values[node.args["test"]])


def _chosen(told: p.Chosen, args: Args, group: Group) -> Any:
    """Each body takes its arm; arms that are not numbers or points split the group."""
    test = holding(args["test"])
    if "first" not in args or "second" not in args:
        return args["first"] if "first" in args else args["second"]
    first, second = args["first"], args["second"]
    if isinstance(first, np.ndarray) and isinstance(second, np.ndarray):
        shaped = test if first.ndim == 1 else test.reshape(-1, *[1] * (first.ndim - 1))
        return np.where(shaped, first, second)
    return first if agree(np.broadcast_to(test, group.lanes.shape).astype(np.intp)) else second


def _known(told: p.Known, args: Args, group: Group) -> Any:
    """A value of bodies on whom all it rests on is known, else None."""
    return args.get("first")


def _of(told: p.Of, args: Args, group: Group) -> Any:
    return OF[told.word].run(args["target"])


def figure(name: str, value: Reals, kind: str) -> tuple[str, Reals]:
    """A number of a kind as a figure of a trouble: its name says the unit."""
    match kind:
        case "angle":
            return f"{name} angle", np.degrees(value)
        case "number":
            return f"{name} ratio", value
        case _:
            return name, value


def _bounded(told: p.Bounded, args: Args, group: Group) -> Any:
    value, low, high = args["value"], args["low"], args["high"]
    outside = np.broadcast_to((value < low - ROUNDING) | (value > high + ROUNDING), group.lanes.shape)
    if outside.any():
        name = told.name
        shown = {name: value, "lowest": low, "highest": high}
        figures = dict(figure(word, number, told.kind) for word, number in shown.items())
        fix = "measure again what it comes from, choose another value, or widen its bounds"
        raise Trouble(f"`{name}` is outside its bounds", fix, np.asarray(outside), figures)
    return value


def _joint(told: p.Joint, args: Args, group: Group) -> Any:
    left, right = holding(args["left"]), holding(args["right"])
    return left & right if told.word == "and" else left | right


def _inverse(told: p.Inverse, args: Args, group: Group) -> Any:
    return ~holding(args["value"])


def holding(value: Any) -> Mask:
    """On which bodies (L,) a condition holds."""
    return value.holds if isinstance(value, Verdict) else np.asarray(value, dtype=bool)


def _comparison(told: p.Comparison, args: Args, group: Group) -> Any:
    return compared(told.word, args["left"], args["right"], args.get("extra"))


def _table(told: p.Table, args: Args, group: Group) -> Any:
    return read_off(args["by"], told.keys, told.rows, told.between, told.beyond, told.unit)


def _end_to_end(told: p.EndToEnd, args: Args, group: Group) -> Any:
    return end_to_end(args["left"], args["right"])


def _point_on(told: p.PointOn, args: Args, group: Group) -> Any:
    edge: Edge = args["edge"]
    along(edge.piece, edge.name, PartEnd("point", value=args["point"]))  # which tells where it lies on another
    return args["point"]


def _corner(told: p.CornerWith, args: Args, group: Group) -> Any:
    return corner(args["edge"], told.meets, told.written)


def _end_of(told: p.EndOf, args: Args, group: Group) -> Any:
    return args["edge"].start if told.end == "start" else args["edge"].end


def _so_far(told: p.SoFarFrom, args: Args, group: Group) -> Any:
    return on_edge(args["edge"], told.end, args.get("at"), args.get("share"))


def _part(told: p.PartOf, args: Args, group: Group) -> Any:
    first, last = (replace(one, value=args.get(numbered("at", number))) for number, one in enumerate((told.first, told.last)))
    return part_between(args["edge"], first, last)


def _far_along(told: p.FarAlong, args: Args, group: Group) -> Any:
    edge: Edge = args["edge"]
    at = along(edge.piece, edge.name, PartEnd("point", value=args["point"]))
    return at if edge_from(edge.piece, edge.name, told.end) == "start" else edge.length() - at


def _extreme(told: p.Extreme, args: Args, group: Group) -> Any:
    return reduce(EXTREMES[told.word][0], args.values())


def _edge(told: p.EdgeOf, args: Args, group: Group) -> Any:
    edge = Edge(args["piece"], told.name)
    return edge if edge.sides else _not_here(edge.piece, edge.name)


def _not_here(piece: Piece, name: str) -> Any:
    """A name its piece has by the names alone, but not on this body: a dart it does not need, a point of the other part."""
    why = piece.removed.get(name, "it is not on this piece")
    raise Trouble(f"this body has no `{name}` there: {why}", "take it from the piece it is on, or design without it")


def _cut_edge(told: p.CutEdge, args: Args, group: Group) -> Any:
    return polyline(cut_edge(finished(args["piece"]), told.name))


def _dart(told: p.DartOn, args: Args, group: Group) -> Any:
    return DartOf(args["piece"], told.name)


def _landmark(told: p.Landmark, args: Args, group: Group) -> Any:
    piece, name = args["piece"], told.name
    return piece.points[name] if name in piece.points else _not_here(piece, name)


def _apex(told: p.Apex, args: Args, group: Group) -> Any:
    piece, name = args["piece"], told.name
    if name not in piece.dart_names():
        return _not_here(piece, name)
    return apex_of(piece, name, "lower" if told.end == "lower" else "upper")


def _uncut(told: p.Uncut, args: Args, group: Group) -> Any:
    piece: Piece = args["piece"]
    return replace(piece, finish=replace(piece.finish, cuts=(), remarks=()))


def _outline(told: p.Outline, args: Args, group: Group) -> Any:
    return outline_of(told.edges, args)


def _opened_curve(told: p.OpenedCurve, args: Args, group: Group) -> Any:
    """The edge, with the darts that are drafted in it and the outline it is part of."""
    darts = [(dart, {word: args[argument] for word, argument in words}) for dart, words in told.darts]
    ring = [_ring_path(args, side) for side in told.ring]
    return opened_curve(darts=darts, ring=ring, **{_python(name): args[name] for name in told.words})


def _ring_path(args: Args, side: p.RingSide) -> Path:
    """An edge of the outline in the sense of the ring; one that has darts itself counts as the straight way between its ends."""
    given = [args[name] for name in side.arguments]
    path = given[0] if len(given) == 1 else line(*np.broadcast_arrays(*given))
    return path if side.forward else reverse(path)


def _verb(told: p.Call, args: Args, group: Group) -> Any:
    verb = verbs()[told.verb]
    settled = dict(told.words)
    return verb.run(**{_python(name): value for name, value in (dict(args) | settled).items()})


@cache
def _python(name: str) -> str:
    name = name.replace(" ", "_")
    return f"{name}_" if keyword.iskeyword(name) else name


def _followed(told: p.Followed, args: Args, group: Group) -> Any:
    """How long an edge of a block's piece is on the pieces that are cut, all that carry it together."""
    return np.asarray(sum((length_of_half(one, told.name) for one in args.values()), np.zeros(1)))


def _origin(told: p.Zero, args: Args, group: Group) -> Any:
    return np.zeros((1, 2))


OPERATIONS: Mapping[type[Payload], Operation] = {
    p.Constant: _constant,
    p.Setting: _choice,
    p.Text: _text,
    p.Measure: _measure,
    p.Fallback: _fallback,
    p.Measured: _measured,
    p.Negative: _negative,
    p.Arithmetic: _arithmetic,
    p.Moves: _moves,
    p.Direction: _direction,
    p.Heading: _heading,
    p.Chosen: _chosen,
    p.Known: _known,
    p.Of: _of,
    p.Bounded: _bounded,
    p.Joint: _joint,
    p.Inverse: _inverse,
    p.Comparison: _comparison,
    p.Table: _table,
    p.EndToEnd: _end_to_end,
    p.PointOn: _point_on,
    p.CornerWith: _corner,
    p.EndOf: _end_of,
    p.SoFarFrom: _so_far,
    p.PartOf: _part,
    p.FarAlong: _far_along,
    p.Extreme: _extreme,
    p.EdgeOf: _edge,
    p.CutEdge: _cut_edge,
    p.DartOn: _dart,
    p.Landmark: _landmark,
    p.Apex: _apex,
    p.Uncut: _uncut,
    p.Outline: _outline,
    p.OpenedCurve: _opened_curve,
    p.Call: _verb,
    p.Followed: _followed,
    p.Zero: _origin,
}
