"""What a verb is given, as it is gathered, and the places on edges among it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from typing import Any

from ..bodies.vocabulary import canonical
from ..diagnostics import meaning_words as words
from ..diagnostics import place_words, value_words
from ..diagnostics.diagnostic import Lack
from ..pattern.edges import edge_from
from ..pattern.ends import SIDES
from ..pattern.named import How, PartEnd, is_place
from ..pattern.piece import Piece, Trouble
from ..syntax import tree as t
from ..syntax.rendered import rendered
from ..verbs import kinds as k
from ..verbs.registry import PlacedEdge
from ..verbs.values import numbered
from . import misnamed
from . import payloads as p
from .checker import BROKEN, Checker, Scope
from .names import START
from .style import Typed

Lined = k.EdgeKind | k.PathKind
"""Kinds that a place may lie on."""

COUNTED = t.Quantity | t.Number | t.Arithmetic
"""How far along an edge may be written, without the end that it is measured from."""


@dataclass
class Arguments:
    """What a verb is given: nodes, names settled without a body, the kinds of both, and the `named` words that are new names."""

    nodes: dict[str, Typed] = field(default_factory=dict)
    fixed: dict[str, Any] = field(default_factory=dict)
    static: dict[str, Any] = field(default_factory=dict)
    named: list[t.Word] = field(default_factory=list)
    broken: bool = False

    def add(self, name: str, found: Typed) -> None:
        self.broken = self.broken or found.kind is k.BROKEN
        self.nodes[name] = found
        self.static[name] = found.kind


def sketch_of(given: Arguments) -> Piece | None:
    """The piece whose bare names may be written: the subject's, or the block's own."""
    for name in ("subject", "piece"):
        kind = given.static.get(name)
        if isinstance(kind, (k.PieceKind, k.EdgeKind, k.DartKind)):
            return kind.sketch
    return None


def owner_in(given: Arguments) -> Typed | None:
    """The piece whose bare names may be written, or a part of it; None where there is none."""
    found = (given.nodes.get(name) for name in ("subject", "piece"))
    return next((one for one in found if one is not None and isinstance(one.kind, (k.PieceKind, k.EdgeKind, k.DartKind))), None)


def part_on(checker: Checker, scope: Scope, given: Arguments, name: str, place: PlacedEdge, part: t.Between) -> None:
    """Between which places of its edge a part lies, as `place_on` gives each."""
    assert place.last is not None
    low, high = both_from(checker, scope, part, _edge_at(given, name))
    if isinstance(low, COUNTED) and isinstance(high, COUNTED):  # one end is lacking, not two
        checker.report(scope, place_words.from_which_end(low.span.to(high.span), checker.written(high.span)))
        given.broken = True
        return
    place_on(checker, scope, given, name, place, low)
    place_on(checker, scope, given, name, place.last, high)


def both_from(checker: Checker, scope: Scope, part: t.Between, kind: Lined | None) -> tuple[t.Expr, t.Expr]:
    """The places of a part; one `from`, behind the second, serves both: `between 1/6 and 5/6 from hem`."""
    low, high = part.low, part.high
    if isinstance(high, t.SoFar) and _counts(checker, scope, low, kind):
        return t.SoFar(low, high.end, low.span), high
    return low, high


def _counts(checker: Checker, scope: Scope, low: t.Expr, kind: Lined | None) -> bool:
    """Whether a place is how far or which share of the edge, and lacks its end."""
    if isinstance(low, t.Name):
        if _is_end(kind, low.text) or _is_place_of(kind, low.text):
            return False
        if scope.holder(low.parts[0].text) is None and canonical(low.text) is None:
            return False
    if isinstance(low, t.SoFar | t.Spot | t.Moves):
        return False
    return isinstance(low, COUNTED) or checker.value(scope, low).kind in (k.LENGTH, k.NUMBER)


def place_on(checker: Checker, scope: Scope, given: Arguments, name: str, place: PlacedEdge, where: t.Expr) -> None:
    """Where on its edge a place lies: as values and the name of an end for the verb."""
    if not isinstance(where, t.SoFar):
        _bare_place(checker, scope, given, name, place, where)
        return
    if not place.at:
        checker.report(scope, place_words.end_wanted(where.span))
        given.broken = True
        return
    far = _far(checker, scope, where.value)
    given.add(place.share if far.kind is k.NUMBER else place.at, far)
    end_at(checker, scope, given, place.end, where.end, _edge_at(given, name))


def _bare_place(checker: Checker, scope: Scope, given: Arguments, name: str, place: PlacedEdge, where: t.Expr) -> None:
    """A place that is a name: an end of the edge, or a point the edge passes."""
    kind = _edge_at(given, name)
    counted = isinstance(where, COUNTED)
    if isinstance(where, t.Name) and _is_place_of(kind, where.text) and (place.near or place.at):
        _at_place(checker, scope, given, place, where, kind)
        return
    if counted or (isinstance(where, t.Name) and (not place.near or _is_end(kind, where.text))):
        end_at(checker, scope, given, place.end, where, kind)
        if place.at:
            given.add(place.at, checker.constant(scope, k.LENGTH, 0.0, where.span))
        return
    if place.near:
        point = checker.value(scope, where)
        if point.kind in (k.LENGTH, k.NUMBER):  # so far or such a share, and its end is left out
            point = checker.report(scope, place_words.from_which_end(where.span, checker.written(where.span)))
        elif point.kind is not k.BROKEN and point.kind is not k.POINT:
            point = checker.report(scope, value_words.wrong_kind(where.span, "point", point.kind.word))
        given.add(place.near, point)
        return
    checker.report(scope, place_words.end_wanted(where.span))
    given.broken = True


def _at_place(
    checker: Checker, scope: Scope, given: Arguments, place: PlacedEdge, where: t.Name, kind: Lined | None
) -> None:
    """A named place: its point, or for verbs that measure along the edge, how far it lies from an end."""
    assert isinstance(kind, k.EdgeKind)
    owner = given.nodes.get("piece") or given.nodes["subject"]
    if isinstance(owner.kind, (k.EdgeKind, k.DartKind)):
        owner = owner_of_part(checker, owner)
    point = _named_place(checker, scope, where, kind, owner)
    if place.near:
        given.add(place.near, point)
        return
    end = next((one for one in ends_told(kind)), None)
    if end is None:
        checker.report(scope, place_words.end_wanted(where.span))
        given.broken = True
        return
    edge = checker.node(scope, p.EdgeOf(kind.name), kind, where.span, {"piece": owner})
    given.add(place.at, checker.node(scope, p.FarAlong(end), k.LENGTH, where.span, {"edge": edge, "point": point}))
    given.fixed[place.end] = given.static[place.end] = end


def owner_of_part(checker: Checker, part: Typed) -> Typed:
    """The piece that an edge or a dart is on."""
    node = checker.nodes[part.node].args["piece"]
    return Typed(checker.nodes[node].kind, node)


def ends_told(kind: k.EdgeKind) -> list[str]:
    """What an edge meets at its ends, where that tells them apart."""
    ring = kind.sketch.ring
    numbers = kind.sketch.run(kind.name)
    beside = (ring[i % len(ring)].edge for i in (numbers[0] - 1, numbers[-1] + 1)) if numbers else ()
    return [one for one in beside if _is_end(kind, one)]


def _is_place_of(kind: Lined | None, name: str) -> bool:
    return _place_called(kind, name) is not None


def _place_called(kind: Lined | None, name: str) -> str | None:
    """What a place is called on the piece of an edge: on a left or right edge, that of its side may go without the side."""
    if not isinstance(kind, k.EdgeKind):
        return None
    side = next((side for side in SIDES if kind.name.startswith(side)), "")
    return next((one for one in (name, side + name) if is_place(kind.sketch, one)), None)


def _places_on(kind: k.EdgeKind) -> list[str]:
    """The places on an edge, or on that which it is a part of: where on it they lie no sketch knows."""
    ring = kind.sketch.ring
    wholes = {ring[i].edge for i in kind.sketch.run(kind.name)}
    return [notch.name for notch in kind.sketch.notches if notch.name and ring[notch.side].edge in wholes]


def _named_place(checker: Checker, scope: Scope, where: t.Name, kind: Lined, owner: Typed) -> Typed:
    """The point of a place; told where that lies on another edge."""
    name = _place_called(kind, where.text)
    assert isinstance(kind, k.EdgeKind)
    places = _places_on(kind)
    if name not in places:
        return checker.report(scope, place_words.no_such_place(where.span, where.text, kind.name, ends_told(kind), places))
    checker.note_part(where.span, owner, name)
    return checker.node(scope, p.Landmark(name), k.POINT, where.span, {"piece": owner})


def _edge_at(given: Arguments, name: str) -> Lined | None:
    """The edge a place is on: the value of its word, or the edge of the piece it names."""
    kind, sketch = given.static.get(name), sketch_of(given)
    if isinstance(kind, str) and sketch is not None:
        return k.edge(sketch, kind)
    return kind if isinstance(kind, Lined) else None


def _is_end(kind: Lined | None, name: str) -> bool:
    if not isinstance(kind, k.EdgeKind):
        return kind is not None and kind.ends is not None and name in kind.ends
    if _is_place_of(kind, name):
        return False
    try:
        edge_from(kind.sketch, kind.name, name)
    except Trouble:
        return False
    return True


def end_at(
    checker: Checker, scope: Scope, given: Arguments, name: str, expr: t.Expr, kind: Lined | None
) -> None:
    """An end by its name. Of a curve: the point it runs from or to; of an edge: what it touches there, since which way a ring
    runs is known only with a body."""
    found = end_of(checker, scope, expr, kind)
    given.broken = given.broken or found is None
    given.fixed[name] = given.static[name] = found or ""
    checker.note_part(expr.span, owner_in(given), found or "")


def end_of(checker: Checker, scope: Scope, expr: t.Expr, kind: Lined | None) -> str | None:
    """The end of a curve as `start` or `end`, that of an edge by its name; None, and told, where there is none."""
    if isinstance(expr, COUNTED):
        written = f"{expr.written} {expr.unit}" if isinstance(expr, t.Quantity) else "1/3"
        checker.report(scope, place_words.from_which_end(expr.span, written))
        return None
    if not isinstance(expr, t.Name) or kind is None:
        checker.report(scope, place_words.end_wanted(expr.span))
        return None
    if isinstance(kind, k.PathKind):
        if kind.ends is None or expr.text not in kind.ends:
            checker.report(scope, words.needs_end(expr.span, expr.text, kind.ends or ()))
            return None
        return "start" if expr.text == kind.ends[0] else "end"
    try:
        edge_from(kind.sketch, kind.name, expr.text)
    except Trouble as trouble:
        told = misnamed.of_parts(checker, words.names_forbid(expr.span, trouble.message, trouble.fix), expr.text)
        if _is_broken(checker, scope, expr):
            return None
        known = (*kind.sketch.edge_names(), *kind.sketch.dart_names(), *kind.sketch.points)
        if scope.holder(expr.parts[0].text) is None and expr.text not in known:  # no edge, and no place that is drawn either
            told = replace(misnamed.later(checker, scope, told, expr), lack=Lack.NAME)
        checker.report(scope, told)
        return None
    return expr.text


def _is_broken(checker: Checker, scope: Scope, name: t.Name) -> bool:
    """Whether the draft has what is called so, and something is wrong with it that is told there."""
    found = checker.lookup(scope, name.parts[0]) if scope.holder(name.parts[0].text) is not None else None
    return found is not None and found.kind is k.BROKEN


def _far(checker: Checker, scope: Scope, expr: t.Expr) -> Typed:
    """How far along an edge: a length, or a number that is a share of it."""
    far = checker.value(scope, expr)
    if far.kind is k.NUMBER and far.constant is not None and not -1e-9 <= far.constant <= 1.0 + 1e-9:
        return checker.report(scope, place_words.no_share(expr.span))
    if far.kind in (k.BROKEN, k.LENGTH, k.NUMBER):
        return far
    return checker.report(scope, value_words.wrong_kind(expr.span, "length", far.kind.word))


def spot(checker: Checker, scope: Scope, expr: t.Spot) -> Typed:
    """The point of a spot: so far or such a share from an end, or the end itself."""
    edge = checker.value(scope, expr.edge)
    if edge.kind is k.BROKEN:
        return BROKEN
    if not isinstance(edge.kind, Lined):
        return checker.report(scope, place_words.no_place_on(expr.edge.span, value_words.one(edge.kind.word)))
    if isinstance(expr.place, t.Name) and _is_place_of(edge.kind, expr.place.text):
        point = _named_place(checker, scope, expr.place, edge.kind, owner_of_part(checker, edge))
        return checker.node(scope, p.PointOn(), k.POINT, expr.span, {"edge": edge, "point": point})
    if not isinstance(expr.place, t.SoFar):
        return _at_end(checker, scope, expr, edge, edge.kind)
    far = _far(checker, scope, expr.place.value)
    end = end_of(checker, scope, expr.place.end, edge.kind)
    checker.note_part(expr.place.end.span, edge, end or "")
    if far.kind is k.BROKEN or end is None:
        return BROKEN
    args = {"edge": edge, "share" if far.kind is k.NUMBER else "at": far}
    return checker.node(scope, p.SoFarFrom(end), k.POINT, expr.span, args)


def _at_end(checker: Checker, scope: Scope, expr: t.Spot, edge: Typed, kind: Lined) -> Typed:
    end = end_of(checker, scope, expr.place, kind)
    checker.note_part(expr.place.span, edge, end or "")
    if end is None:
        return BROKEN
    edge_written = rendered(expr.edge)
    owner = edge_written.rpartition(".")[0]
    written = edge_written, f"{owner}.{end}" if owner else end
    where = p.CornerWith(end, written) if isinstance(kind, k.EdgeKind) else p.EndOf(end)
    return checker.node(scope, where, k.POINT, expr.span, {"edge": edge})


def part(checker: Checker, scope: Scope, expr: t.Between) -> Typed:
    """The curve of a part of an edge, from its first place to its second; either of them may be a point that lies on it."""
    edge = checker.value(scope, expr.value)
    if edge.kind is k.BROKEN:
        return BROKEN
    if edge.kind in k.QUANTITIES:
        return _no_limits(checker, scope, expr)
    if not isinstance(edge.kind, Lined):
        return checker.report(scope, place_words.no_part_of(expr.value.span, value_words.one(edge.kind.word)))
    owner = owner_of_part(checker, edge) if isinstance(edge.kind, k.EdgeKind) else None
    found = part_ends(checker, scope, expr, edge.kind, owner)
    if found is None:
        return BROKEN
    ends = tuple(one.text if isinstance(one, t.Name) else "" for one in found.places)
    args, kind = {"edge": edge, **found.values}, k.PathKind("curve", (ends[0], ends[1]))
    return checker.node(scope, p.PartOf(found.first, found.last), kind, expr.span, args)


def _no_limits(checker: Checker, scope: Scope, expr: t.Between) -> Typed:
    """Told, that `between` stands behind a quantity: one that is measured binds tighter, and its brackets are missing."""
    last = expr.value
    while isinstance(last, t.Arithmetic):
        last = last.right
    ends = checker.written(expr.word.span.to(expr.high.span))
    if isinstance(last, t.Of) and (_is_place(scope, expr.low) or _is_place(scope, expr.high)):
        edge = checker.written(last.target.span)
        return checker.report(scope, place_words.part_in_brackets(last.span.to(expr.high.span), last.word.text, f"{edge} {ends}"))
    value, low, high = (checker.written(one.span) for one in (expr.value, expr.low, expr.high))
    return checker.report(scope, place_words.limits_alone(expr.word.span, f"larger of ({low}, smaller of ({value}, {high}))"))


def _is_place(scope: Scope, where: t.Expr) -> bool:
    """Whether an end of what stands behind `between` is a place on an edge: measured from an end, or an end by its name."""
    return isinstance(where, t.SoFar) or (isinstance(where, t.Name) and scope.holder(where.parts[0].text) is None)


@dataclass(frozen=True)
class PartEnds:
    """The two ends of a part as they are written, `at_0` and `at_1` the nodes of their values."""

    first: PartEnd
    last: PartEnd
    values: Mapping[str, Typed]
    places: tuple[t.Expr, t.Expr]


def part_ends(
    checker: Checker, scope: Scope, expr: t.Between, kind: Lined, owner: Typed | None
) -> PartEnds | None:
    """The places between which a part lies, on an edge of a piece, or on a curve where no one owns it; None, and told, where
    there are none."""
    places = both_from(checker, scope, expr, kind)
    ends, values = list[PartEnd](), dict[str, Typed]()
    for number, where in enumerate(places):
        found = _part_end(checker, scope, where, kind, owner)
        if found is None:
            return None
        how, value, end = found
        ends.append(PartEnd(how, end))
        values |= {} if value is None else {numbered("at", number): value}
    return PartEnds(ends[0], ends[1], values, places)


def _part_end(
    checker: Checker, scope: Scope, where: t.Expr, kind: Lined, owner: Typed | None
) -> tuple[How, Typed | None, str] | None:
    """How the end of a part is given, its value, and the end of the edge it is measured from; None, and told, where none."""
    if isinstance(where, t.SoFar):
        far, end = _far(checker, scope, where.value), end_of(checker, scope, where.end, kind)
        checker.note_part(where.end.span, owner, end or "")
        return None if far.kind is k.BROKEN or end is None else ("share" if far.kind is k.NUMBER else "at", far, end)
    if isinstance(where, COUNTED) or (isinstance(where, t.Name) and _is_end(kind, where.text)):
        end = end_of(checker, scope, where, kind)
        checker.note_part(where.span, owner, end or "")
        return None if end is None else ("end", None, end)
    if owner is not None and isinstance(where, t.Name) and _is_place_of(kind, where.text):
        return "point", _named_place(checker, scope, where, kind, owner), ""
    if isinstance(kind, k.EdgeKind) and isinstance(where, t.Name) and not _may_mean(scope, where):
        checker.report(scope, place_words.no_such_place(where.span, where.text, kind.name, ends_told(kind), _places_on(kind)))
        return None
    point = checker.value(scope, where, k.POINT)
    return None if point.kind is k.BROKEN else ("point", point, "")


def _may_mean(scope: Scope, name: t.Name) -> bool:
    """Whether a name means anything here but a place of the edge in question."""
    own = scope.piece()
    here = own is not None and isinstance(own.kind, k.PieceKind) and name.text in own.kind.sketch.points
    first = name.parts[0].text
    return here or scope.holder(first) is not None or canonical(first) is not None or first == START
