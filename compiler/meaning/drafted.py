"""Darts drafted with an edge of an outline, by their two ends or by their place on its chord: it is drawn with them closed."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from ..diagnostics import meaning_words as words
from ..pattern.outline import ring_order
from ..pattern.piece import Trouble
from ..pattern.ring import End
from ..syntax import tree as t
from ..verbs import kinds as k
from ..verbs.opened import Drafted, Way
from ..verbs.outlines import OutlineEdge
from ..verbs.registry import verbs
from .bench import BROKEN, Bench, Scope
from .style import Typed

WORDS: Mapping[Way, Mapping[str, k.Kind]] = {
    "ends": {"from": k.POINT, "to": k.POINT, "apex": k.POINT},
    "chord": {"chord": k.NUMBER, "width": k.LENGTH, "long": k.LENGTH},
}
WRITTEN: Mapping[Way, str] = {"ends": "dart … from … to", "chord": "dart … chord"}
MEANINGS = {"from": "where its inner leg stands", "to": "where its outer leg stands", "on": "the edge it stands on"}


def drafted_on(dart: t.Definition) -> str | None:
    """The edge a dart is drafted with (`on armhole from a to b apex c`, `on top chord 1/2 …`); None for one to be placed."""
    given = {clause.word.text: clause.value for clause in dart.clauses}
    edge = given.get("on")
    return edge.text if isinstance(edge, t.Name) and way_of(dart) is not None else None


def way_of(dart: t.Definition) -> Way | None:
    names = {clause.word.text for clause in dart.clauses}
    return "chord" if "chord" in names else "ends" if "to" in names else None


def opened(
    bench: Bench, inner: Scope, edge: OutlineEdge, edges: Sequence[OutlineEdge], found: Mapping[str, Typed]
) -> tuple[Typed, tuple[Drafted, ...]]:
    """The node of an edge with its darts cut into it, and these darts; broken where a dart is not stated as it should."""
    sentence = inner.sentences[edge.name]
    bench.sentence.append((sentence.span, f"{inner.prefix}{edge.name}"))
    node = bench.nodes[found[edge.name].node]
    args = {name: Typed(bench.nodes[one].kind, one) for name, one in node.args.items()}
    darts: list[tuple[Drafted, tuple[str, ...]]] = []
    sound = True
    for dart in inner.drafted[edge.name]:
        one = _dart(bench, inner, dart, edge, edges, args)
        sound = sound and one is not None
        darts += [] if one is None else [one]
    ring = _ring(bench, edge, edges, found, args)
    kind = found[edge.name].kind
    made = bench.node(inner, "opened curve", kind, sentence.span, args, darts=tuple(darts), ring=ring) if sound else BROKEN
    bench.sentence.pop()
    if made.kind is not k.BROKEN:
        bench.names[f"{inner.prefix}{edge.name}"] = made.node
    return made, tuple(one for one, _ in darts)


def _dart(
    bench: Bench,
    inner: Scope,
    dart: t.Definition,
    edge: OutlineEdge,
    edges: Sequence[OutlineEdge],
    args: dict[str, Typed],
) -> tuple[Drafted, tuple[str, ...]] | None:
    """A dart and its words, whose values are added to the arguments; None, and told, where one is missing or no word of it."""
    way = way_of(dart)
    assert way is not None
    known = ("on", "from", *(name for name in WORDS[way] if name != "from"))
    given: dict[str, t.Clause] = {}
    sound = True
    for clause in dart.clauses:
        name = clause.word.text
        if name not in known:
            bench.report(inner, words.unknown_word(clause.word.span, WRITTEN[way], name, known))
        elif name in given:
            bench.report(inner, words.word_twice(clause.word.span, WRITTEN[way], name))
        sound = sound and name in known and name not in given
        given[name] = clause
    for name in known:
        if name not in given:
            bench.report(inner, words.missing_word(dart.span, WRITTEN[way], name, _meaning(name)))
            sound = False
    if not sound:
        return None
    for name, kind in WORDS[way].items():
        args[f"dart {dart.name.text} {name}"] = bench.value(inner, given[name].value, kind)
    side = "start" if way == "ends" else _side(bench, inner, edge, edges, given["from"].value)
    return None if side is None else (Drafted(dart.name.text, way, side), tuple(WORDS[way]))


def _meaning(name: str) -> str:
    entry = verbs()["dart"].word(name)
    return MEANINGS[name] if entry is None else entry.meaning


def _side(
    bench: Bench, inner: Scope, edge: OutlineEdge, edges: Sequence[OutlineEdge], expr: t.Expr
) -> End | None:
    """The end of an edge that another edge of the outline meets."""
    text = expr.text if isinstance(expr, t.Name) else ""
    ends = [[one.name for one in edges if one is not edge and key in (one.start, one.end)] for key in (edge.start, edge.end)]
    touching = [text in names for names in ends]
    if touching in ([True, False], [False, True]):
        return "start" if touching[0] else "end"
    listed = " and at ".join(f"`{name}`" for names in ends for name in names)
    message = f"`{text}` is not at one end of `{edge.name}`"
    bench.report(inner, words.names_forbid(expr.span, message, f"its ends are at {listed}"))
    return None


def _ring(
    bench: Bench,
    edge: OutlineEdge,
    edges: Sequence[OutlineEdge],
    found: Mapping[str, Typed],
    args: dict[str, Typed],
) -> tuple[tuple[str, bool], ...]:
    """The outline in order, from this edge on: the argument of each edge, and whether it is run as drawn. Empty where it does
    not close, which is told of the piece."""
    others = [edge, *(one for one in edges if one is not edge)]
    try:
        order = ring_order([(one.name, None, one.start, one.end) for one in others])
    except Trouble:
        return ()
    ring = []
    for number, forward in order:
        name = others[number].name
        key = f"ring {name}"
        if isinstance(found[name].kind, k.OpenedKind):
            ends = bench.nodes[found[name].node].args
            args |= {f"{key} {end}": Typed(k.POINT, ends[end]) for end in ("from", "to")}
        else:
            args[key] = found[name]
        ring.append((key, forward))
    return tuple(ring)
