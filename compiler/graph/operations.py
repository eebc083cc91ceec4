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
from ..verbs.values import DartOf, Edge, Heading, Mask, Verdict

_WAYS = {"up": (0.0, 1.0), "down": (0.0, -1.0), "outward": (1.0, 0.0), "inward": (-1.0, 0.0)}
WAYS = {word: np.array([way]) for word, way in _WAYS.items()}


class People(Protocol):
    """The bodies: for a measurement its values (L,), which of them were measured, and which are estimated."""

    @property
    def lane_names(self) -> tuple[str, ...]: ...

    def value(self, name: str) -> tuple[Reals, Mask, Mask]: ...


@dataclass(frozen=True)
class Group:
    """Bodies evaluated together: their positions among all (L,)."""

    people: People
    lanes: NDArray[np.intp]


Args = Mapping[str, Any]
Operation = Callable[[Node, Args, Group], Any]


def _constant(node: Node, args: Args, group: Group) -> Any:
    value = node.fixed["value"]
    return np.array([bool(value)]) if node.kind.word == "flag" else np.array([float(value)])


def _text(node: Node, args: Args, group: Group) -> Any:
    return str(node.fixed["value"])


def not_measured(name: str, of_child: bool = False) -> tuple[str, str]:
    """What is wrong, and what to do, where a measurement is missing."""
    nothing = "no figures of children estimate it (adults' are not used)" if of_child else "nothing estimates it"
    return f"`{name}` was not measured, and {nothing}", f"measure it: `godet words {name}` says how"


def _measure(node: Node, args: Args, group: Group) -> Any:
    values, measured, estimated = group.people.value(node.fixed["name"])
    missing = ~(measured | estimated)[group.lanes]
    if missing.any():
        raise Trouble(*not_measured(node.fixed["name"]), missing)
    return _internal(node, values[group.lanes])


def _internal(node: Node, values: Reals) -> Reals:
    return np.radians(values) if node.kind.word == "angle" else values


def _fallback(node: Node, args: Args, group: Group) -> Any:
    values = _internal(node, group.people.value(node.fixed["name"])[0][group.lanes])
    if "second" not in args:  # every body of the group was measured
        return values
    return np.where(chosen_by(node, {}, group), values, args["second"])


def _measured(node: Node, args: Args, group: Group) -> Any:
    _, measured, _ = group.people.value(node.fixed["name"])
    return np.asarray(measured[group.lanes])


def _negative(node: Node, args: Args, group: Group) -> Any:
    return -args["value"]


def _arithmetic(node: Node, args: Args, group: Group) -> Any:
    left, right = args["left"], args["right"]
    match node.fixed["operator"]:
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


def _moves(node: Node, args: Args, group: Group) -> Any:
    point = args["start"]
    for number, way in enumerate(node.fixed["ways"]):
        point = point + args[f"step{number}"][:, None] * WAYS[way]
    return point


def _direction(node: Node, args: Args, group: Group) -> Any:
    return Heading("fixed", WAYS[node.fixed["word"]])


def _heading(node: Node, args: Args, group: Group) -> Any:
    target, word = args["target"], node.fixed["word"]
    if isinstance(target, Edge):
        return Heading(word, path=chain([side.drawn for side in target.sides]))
    return Heading(word, path=target) if isinstance(target, Path) else Heading(word, target)


def chosen_by(node: Node, values: Mapping[int, Any], group: Group) -> Mask:
    """Which bodies (L,) take the first arm of a choice."""
    if node.op == "fallback":
        return np.asarray(group.people.value(node.fixed["name"])[1][group.lanes])
    if node.op == "known":
        asked = [group.people.value(name) for name in node.fixed["asks"]]
        known = np.ones(group.lanes.shape, dtype=bool)
        for _, measured, estimated in asked:
            known &= (measured | estimated)[group.lanes]
        return known
    return holding(values[node.args["test"]])


def _chosen(node: Node, args: Args, group: Group) -> Any:
    """Each body takes its arm; arms that are not numbers or points split the group."""
    test = holding(args["test"])
    if "first" not in args or "second" not in args:
        return args["first"] if "first" in args else args["second"]
    first, second = args["first"], args["second"]
    if isinstance(first, np.ndarray) and isinstance(second, np.ndarray):
        shaped = test if first.ndim == 1 else test.reshape(-1, *[1] * (first.ndim - 1))
        return np.where(shaped, first, second)
    return first if agree(np.broadcast_to(test, group.lanes.shape).astype(np.intp)) else second


def _known(node: Node, args: Args, group: Group) -> Any:
    """A value of bodies on whom all it rests on is known, else None."""
    return args.get("first")


def _of(node: Node, args: Args, group: Group) -> Any:
    return OF[node.fixed["word"]].run(args["target"])


def figure(name: str, value: Reals, kind: str) -> tuple[str, Reals]:
    """A number of a kind as a figure of a trouble: its name says the unit."""
    match kind:
        case "angle":
            return f"{name} angle", np.degrees(value)
        case "number":
            return f"{name} ratio", value
        case _:
            return name, value


def _bounded(node: Node, args: Args, group: Group) -> Any:
    value, low, high = args["value"], args["low"], args["high"]
    outside = np.broadcast_to((value < low - 1e-9) | (value > high + 1e-9), group.lanes.shape)
    if outside.any():
        name = node.fixed["name"]
        shown = {name: value, "lowest": low, "highest": high}
        figures = dict(figure(word, number, node.kind.word) for word, number in shown.items())
        fix = "measure again what it comes from, choose another value, or widen its bounds"
        raise Trouble(f"`{name}` is outside its bounds", fix, np.asarray(outside), figures)
    return value


def _joint(node: Node, args: Args, group: Group) -> Any:
    left, right = holding(args["left"]), holding(args["right"])
    return left & right if node.fixed["word"] == "and" else left | right


def _inverse(node: Node, args: Args, group: Group) -> Any:
    return ~holding(args["value"])


def holding(value: Any) -> Mask:
    """On which bodies (L,) a condition holds."""
    return value.holds if isinstance(value, Verdict) else np.asarray(value, dtype=bool)


def _comparison(node: Node, args: Args, group: Group) -> Any:
    return compared(node.fixed["word"], args["left"], args["right"], args.get("extra"))


def _table(node: Node, args: Args, group: Group) -> Any:
    keys, rows, between, beyond = (node.fixed[name] for name in ("keys", "rows", "between", "beyond"))
    return read_off(args["by"], keys, rows, between, beyond, node.fixed["told"])


def _end_to_end(node: Node, args: Args, group: Group) -> Any:
    return end_to_end(args["left"], args["right"])


def _spot(node: Node, args: Args, group: Group) -> Any:
    if "point" in args:
        edge: Edge = args["edge"]
        along(edge.piece, edge.name, PartEnd("point", value=args["point"]))  # which tells where it lies on another
        return args["point"]
    if "meets" in node.fixed:
        return corner(args["edge"], node.fixed["meets"])
    if "end" in node.fixed:
        return args["edge"].start if node.fixed["end"] == "start" else args["edge"].end
    return on_edge(args["edge"], node.fixed["from"], args.get("at"), args.get("share"))


def _part(node: Node, args: Args, group: Group) -> Any:
    first, last = (replace(node.fixed[name], value=args.get(f"at_{number}")) for number, name in enumerate(("first", "last")))
    return part_between(args["edge"], first, last)


def _far_along(node: Node, args: Args, group: Group) -> Any:
    edge: Edge = args["edge"]
    at = along(edge.piece, edge.name, PartEnd("point", value=args["point"]))
    return at if edge_from(edge.piece, edge.name, node.fixed["end"]) == "start" else edge.length() - at


def _extreme(node: Node, args: Args, group: Group) -> Any:
    return reduce(EXTREMES[node.fixed["word"]][0], args.values())


def _edge(node: Node, args: Args, group: Group) -> Any:
    edge = Edge(args["piece"], node.fixed["name"])
    return edge if edge.sides else _not_here(edge.piece, edge.name)


def _not_here(piece: Piece, name: str) -> Any:
    """A name its piece has by the names alone, but not on this body: a dart it does not need, a point of the other part."""
    why = piece.gone.get(name, "it is not on this piece")
    raise Trouble(f"this body has no `{name}` there: {why}", "take it from the piece it is on, or design without it")


def _cut_edge(node: Node, args: Args, group: Group) -> Any:
    return polyline(cut_edge(finished(args["piece"]), node.fixed["name"]))


def _dart(node: Node, args: Args, group: Group) -> Any:
    return DartOf(args["piece"], node.fixed["name"])


def _landmark(node: Node, args: Args, group: Group) -> Any:
    piece, name = args["piece"], node.fixed["name"]
    return piece.points[name] if name in piece.points else _not_here(piece, name)


def _apex(node: Node, args: Args, group: Group) -> Any:
    piece, name = args["piece"], node.fixed["name"]
    if name not in piece.dart_names():
        return _not_here(piece, name)
    return apex_of(piece, name, "lower" if node.fixed["end"] == "lower" else "upper")


def _uncut(node: Node, args: Args, group: Group) -> Any:
    piece: Piece = args["piece"]
    return replace(piece, finish=replace(piece.finish, cuts=(), remarks=()))


def _outline(node: Node, args: Args, group: Group) -> Any:
    return outline_of(node.fixed["edges"], args)


def _opened_curve(node: Node, args: Args, group: Group) -> Any:
    """The edge, with the darts that are drafted in it and the outline it is part of."""
    given = {name: value for name, value in args.items() if not name.startswith(("dart ", "ring "))}
    darts = [(dart, {word: args[f"dart {dart.name} {word}"] for word in words}) for dart, words in node.fixed["darts"]]
    ring = [_ring_path(args, key, forward) for key, forward in node.fixed["ring"]]
    return opened_curve(darts=darts, ring=ring, **{_python(name): value for name, value in given.items()})


def _ring_path(args: Args, key: str, forward: bool) -> Path:
    """An edge of the outline in the sense of the ring; one that has darts itself counts as the straight way between its ends."""
    path = args[key] if key in args else line(*np.broadcast_arrays(args[f"{key} from"], args[f"{key} to"]))
    return path if forward else reverse(path)


def _verb(node: Node, args: Args, group: Group) -> Any:
    verb = verbs()[node.fixed["verb"]]
    settled = dict(node.fixed["settled"])
    return verb.run(**{_python(name): value for name, value in (dict(args) | settled).items()})


@cache
def _python(name: str) -> str:
    name = name.replace(" ", "_")
    return f"{name}_" if keyword.iskeyword(name) else name


def _followed(node: Node, args: Args, group: Group) -> Any:
    """How long an edge of a block's piece is on the pieces that are cut, all that carry it together."""
    return np.asarray(sum((length_of_half(one, node.fixed["name"]) for one in args.values()), np.zeros(1)))


def _origin(node: Node, args: Args, group: Group) -> Any:
    return np.zeros((1, 2))


OPERATIONS: Mapping[str, Operation] = {
    "origin": _origin,
    "constant": _constant,
    "text": _text,
    "measure": _measure,
    "fallback": _fallback,
    "measured": _measured,
    "negative": _negative,
    "arithmetic": _arithmetic,
    "moves": _moves,
    "direction": _direction,
    "heading": _heading,
    "chosen": _chosen,
    "known": _known,
    "of": _of,
    "bounded": _bounded,
    "joint": _joint,
    "inverse": _inverse,
    "comparison": _comparison,
    "table": _table,
    "end to end": _end_to_end,
    "spot": _spot,
    "part": _part,
    "far along": _far_along,
    "extreme": _extreme,
    "edge": _edge,
    "cut edge": _cut_edge,
    "dart": _dart,
    "landmark": _landmark,
    "apex": _apex,
    "uncut": _uncut,
    "outline": _outline,
    "opened curve": _opened_curve,
    "verb": _verb,
    "followed": _followed,
}
