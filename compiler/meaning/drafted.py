"""Darts drafted with an edge of an outline, by their two ends or by their place on its chord: it is drawn with them closed."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from ..diagnostics import meaning_words as words
from ..diagnostics import place_words, value_words
from ..pattern.outline import ring_order
from ..pattern.piece import Trouble
from ..pattern.ring import End
from ..syntax import tree as t
from ..verbs import kinds as k
from ..verbs.opened import Drafted, Way
from ..verbs.outlines import OutlineEdge
from ..verbs.registry import verbs
from . import payloads as p
from .checker import BROKEN, Checker, Scope
from .style import Typed

WORDS: Mapping[Way, tuple[str, ...]] = {"mouth": ("on", "mouth", "ending_at"), "chord": ("on", "chord", "width", "as_long_as")}
WANTED: Mapping[Way, Mapping[str, k.Kind]] = {
    "mouth": {"from": k.POINT, "to": k.POINT, "ending_at": k.POINT},
    "chord": {"chord": k.NUMBER, "width": k.LENGTH, "as_long_as": k.LENGTH},
}
"""What is known of a dart once its words are read: where its inner and outer leg stand, or its place on the chord."""
WRITTEN: Mapping[Way, str] = {"mouth": "dart … mouth", "chord": "dart … chord"}
MEANINGS = {
    "mouth": "where its inner and where its outer leg stand, with a comma between",
    "on": "the edge it stands on",
}


def drafted_on(dart: t.Definition) -> str | None:
    """The edge a dart is drafted with (`mouth a, b ending_at c`, `chord 1/2 from centre …`); None for one to be placed."""
    given = {clause.word.text: clause.value for clause in dart.clauses}
    edge = given.get("on")
    return edge.text if isinstance(edge, t.Name) and way_of(dart) is not None else None


def way_of(dart: t.Definition) -> Way | None:
    names = {clause.word.text for clause in dart.clauses}
    return "chord" if "chord" in names else "mouth" if "mouth" in names else None


def opened(
    checker: Checker, inner: Scope, edge: OutlineEdge, edges: Sequence[OutlineEdge], found: Mapping[str, Typed]
) -> tuple[Typed, tuple[Drafted, ...]]:
    """The node of an edge with its darts cut into it, and these darts; broken where a dart is not stated as it should."""
    sentence = inner.sentences[edge.name]
    checker.sentence.append((sentence.span, f"{inner.prefix}{edge.name}"))
    node = checker.nodes[found[edge.name].node]
    args = {name: Typed(checker.nodes[one].kind, one) for name, one in node.args.items()}
    said = tuple(args)
    darts: list[tuple[Drafted, tuple[tuple[str, str], ...]]] = []
    sound = True
    for dart in inner.drafted[edge.name]:
        checker.note_new(dart.name, inner.prefix, k.Kind("dart"))
        one = _dart(checker, inner, dart, edge, edges, args)
        sound = sound and one is not None
        darts += [] if one is None else [one]
    ring = _ring(checker, edge, edges, found, args)
    kind = found[edge.name].kind
    made = checker.node(inner, p.OpenedCurve(said, tuple(darts), ring), kind, sentence.span, args) if sound else BROKEN
    checker.sentence.pop()
    if made.kind is not k.BROKEN:
        checker.names[f"{inner.prefix}{edge.name}"] = made.node
    return made, tuple(one for one, _ in darts)


def _dart(
    checker: Checker,
    inner: Scope,
    dart: t.Definition,
    edge: OutlineEdge,
    edges: Sequence[OutlineEdge],
    args: dict[str, Typed],
) -> tuple[Drafted, tuple[tuple[str, str], ...]] | None:
    """A dart and its words, each with the argument its value is added as; None, and told, where one is missing or no word."""
    way = way_of(dart)
    assert way is not None
    known = WORDS[way]
    given: dict[str, t.Clause] = {}
    sound = True
    for clause in dart.clauses:
        name = clause.word.text
        if name not in known:
            checker.report(inner, words.unknown_word(clause.word.span, WRITTEN[way], name, known))
        elif name in given:
            checker.report(inner, words.word_twice(clause.word.span, WRITTEN[way], name))
        sound = sound and name in known and name not in given
        given[name] = clause
    for name in known:
        if name not in given:
            checker.report(inner, words.missing_word(dart.span, WRITTEN[way], name, _meaning(name)))
            sound = False
    if not sound:
        return None
    said = {name: clause.value for name, clause in given.items()}
    side: End | None = "start"
    if way == "mouth":
        split = _two(checker, inner, said["mouth"])
    else:
        split, side = _counted(checker, inner, edge, edges, said["chord"])
    if split is None or side is None:
        return None
    arguments = {name: f"{name} of {dart.name.text}" for name in WANTED[way]}
    for name, kind in WANTED[way].items():
        args[arguments[name]] = checker.value(inner, (said | split)[name], kind)
    return Drafted(dart.name.text, way, side), tuple(arguments.items())


def _two(checker: Checker, inner: Scope, expr: t.Expr) -> dict[str, t.Expr] | None:
    """The two points of `mouth a, b`."""
    if isinstance(expr, t.Listed) and len(expr.items) == 2:
        return {"from": expr.items[0], "to": expr.items[1]}
    checker.report(inner, value_words.two_wanted(expr.span, "mouth", "where the inner leg stands, and where the outer"))
    return None


def _counted(
    checker: Checker, inner: Scope, edge: OutlineEdge, edges: Sequence[OutlineEdge], expr: t.Expr
) -> tuple[dict[str, t.Expr] | None, End | None]:
    """The share of `chord 1/3 from centre`, and the end of the edge it is counted from."""
    if not isinstance(expr, t.SoFar):
        checker.report(inner, place_words.from_which_end(expr.span, "1/3"))
        return None, None
    return {"chord": expr.value}, _side(checker, inner, edge, edges, expr.end)


def _meaning(name: str) -> str:
    entry = verbs()["dart"].word(name)
    return MEANINGS[name] if entry is None else entry.meaning


def _side(
    checker: Checker, inner: Scope, edge: OutlineEdge, edges: Sequence[OutlineEdge], expr: t.Expr
) -> End | None:
    """The end of an edge that another edge of the outline meets."""
    text = expr.text if isinstance(expr, t.Name) else ""
    ends = [[one.name for one in edges if one is not edge and key in (one.start, one.end)] for key in (edge.start, edge.end)]
    touching = [text in names for names in ends]
    if touching in ([True, False], [False, True]):
        return "start" if touching[0] else "end"
    listed = " and at ".join(f"`{name}`" for names in ends for name in names)
    message = f"`{text}` is not at one end of `{edge.name}`"
    checker.report(inner, words.names_forbid(expr.span, message, f"its ends are at {listed}"))
    return None


def _ring(
    checker: Checker,
    edge: OutlineEdge,
    edges: Sequence[OutlineEdge],
    found: Mapping[str, Typed],
    args: dict[str, Typed],
) -> tuple[p.RingSide, ...]:
    """The outline in order, from this edge on. Empty where it does not close, which is told of the piece."""
    others = [edge, *(one for one in edges if one is not edge)]
    try:
        order = ring_order([(one.name, None, one.start, one.end) for one in others])
    except Trouble:
        return ()
    ring = []
    for number, forward in order:
        name = others[number].name
        if isinstance(found[name].kind, k.OpenedKind):
            ends = checker.nodes[found[name].node].args
            made = {f"{end} of {name}": Typed(k.POINT, ends[end]) for end in ("from", "to")}
        else:
            made = {f"path of {name}": found[name]}
        args |= made
        ring.append(p.RingSide(tuple(made), forward))
    return tuple(ring)
