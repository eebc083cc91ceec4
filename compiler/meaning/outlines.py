"""The block of a piece: the outline drawn in it, the darts on it, and what is stated for cutting."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from ..diagnostics import meaning_words as words
from ..diagnostics.diagnostic import Diagnostic, Span
from ..pattern.piece import Trouble
from ..syntax import tree as t
from ..verbs import kinds as k
from ..verbs.outlines import OutlineEdge, outline_of
from ..verbs.pieces import redrawn as redraw_names
from ..verbs.registry import verbs
from . import payloads as p
from .allowances import stated_once
from .both_sides import stated_of_both
from .checker import BROKEN, Checker, Scope
from .drafted import drafted_on, opened
from .each_piece import shared
from .edge_ends import written_ends
from .in_braces import NAMED, Stated, in_turn, rank
from .mentioned import written_names
from .named_parts import names_a_part, stated_part
from .operations import apply
from .recipes import declare
from .style import Typed

EDGES = ("line", "curve", "edge")
DRAWN_ELSEWHERE = "an outline is drawn in `shape name { … }`, without `=`; here the piece is finished"
ON_A_PIECE = "write `shape name = darted … on … width … called …`, of a piece that is drawn"


def outline(checker: Checker, scope: Scope, sentence: t.Definition) -> Typed:
    """A piece drawn in its block: its edges closed to a ring, then darts and statements in the order written."""
    assert sentence.block is not None
    inner = Scope(scope.file, scope, f"{scope.prefix}{sentence.name.text}.", scope.trace)
    darts = [one for one in sentence.block if isinstance(one, t.Definition) and one.kind.text == "dart"]
    inner.loose = _is_loose(checker, scope, sentence.block)
    parts = _parts_named(sentence.block, scope)
    declare(checker, inner, [one for one in sentence.block if one not in darts and one not in parts])
    for dart in darts:
        if (edge := drafted_on(dart)) is not None:
            inner.drafted.setdefault(edge, []).append(dart)
    made = _ring(checker, inner, sentence)
    for dart in darts:
        if made.kind is not k.BROKEN and drafted_on(dart) is None:
            made = _placed(checker, inner, dart, made)
    return _stated(checker, inner, _statements(sentence.block, parts), made)


def _is_loose(checker: Checker, scope: Scope, block: Sequence[t.Sentence]) -> bool:
    """Whether some of the sentences in the braces of a piece cannot be read. One that begins with no verb is told."""
    known = _statement_verbs()
    strange = [one for one in block if isinstance(one, t.Statement) and one.verb.text not in known]
    for one in strange:
        checker.report(scope, words.unknown_verb(one.verb.span, one.verb.text, known))
    return bool(strange) or any(isinstance(one, t.Broken) for one in block)


def _statement_verbs() -> list[str]:
    return [name for name, verb in verbs().items() if verb.statement and name not in ("dart", "edge")]


def _may_draw(one: t.Sentence) -> bool:
    """Whether a sentence that cannot be read may have drawn an edge or a dart: `lne side from a to b` too."""
    if isinstance(one, t.Broken):
        return bool(one.kind) or not one.names or one.names[0].text not in _statement_verbs()
    strange = isinstance(one, t.Statement) and one.verb.text not in _statement_verbs()
    return strange and isinstance(one.subject, t.Name) and bool(one.clauses)  # type: ignore[union-attr]


def _parts_named(block: Sequence[t.Sentence], scope: Scope) -> list[t.Definition]:
    """The sentences of a block, in which edges are drawn, that name parts of them."""
    made = [one for one in block if isinstance(one, t.Definition)]
    drawn = [one.name.text for one in made if one.kind.text in (*EDGES, "dart")]
    return [one for one in made if names_a_part(one, scope, drawn)]


def _statements(block: Sequence[t.Sentence], parts: Sequence[t.Definition]) -> list[Stated]:
    return [one for one in block if isinstance(one, t.Statement) or one in parts]  # type: ignore[misc]


def _ring(checker: Checker, inner: Scope, sentence: t.Definition) -> Typed:
    """The node of the closed ring, from the edges of the block."""
    edges, args = _edges(checker, inner, sentence)
    if edges is None:
        return BROKEN
    try:
        sketch = outline_of(edges, None)
    except Trouble as trouble:
        return checker.report(inner, words.open_outline(sentence.name.span, trouble.message, trouble.fix))
    made = checker.node(inner, p.Outline(_numbered(edges)), k.piece(sketch), sentence.span, args)
    checker.name_parts(made, [*_names(inner, edges), *(dart.name for darts in inner.drafted.values() for dart in darts)])
    return made


def _names(inner: Scope, edges: Sequence[OutlineEdge]) -> Iterator[t.Word]:
    return (inner.sentences[edge.name].name for edge in edges)


def _numbered(edges: Sequence[OutlineEdge]) -> tuple[OutlineEdge, ...]:
    """The edges with their ends as numbers: what the points are called is nothing of the piece."""
    numbers: dict[str, str] = {}
    for key in (key for edge in edges for key in (edge.start, edge.end)):
        numbers.setdefault(key, str(len(numbers)))
    return tuple(replace(edge, start=numbers[edge.start], end=numbers[edge.end]) for edge in edges)


def _edges(checker: Checker, inner: Scope, piece: t.Definition) -> tuple[list[OutlineEdge] | None, dict[str, Typed]]:
    """The edges drawn in a block, with the points they run between; None when one of them is broken."""
    edges: list[OutlineEdge] = []
    args: dict[str, Typed] = {}
    sound = not any(map(_may_draw, piece.block or ()))
    for name, definition in inner.sentences.items():
        found = checker.lookup(inner, definition.name) or BROKEN
        sound = sound and found.kind is not k.BROKEN  # it may have been meant for an edge
        if not isinstance(definition, t.Definition) or definition.kind.text not in EDGES:
            continue
        ends = found.kind.ends if isinstance(found.kind, (k.PathKind, k.OpenedKind)) else None
        if found.kind is not k.BROKEN and ends is None:
            checker.report(inner, _unnamed(definition))
        if found.kind is k.BROKEN or ends is None:
            sound = False
            continue
        args[name] = found
        start, end = (_key(inner, one) for one in ends)
        edges.append(OutlineEdge(name, start, end))
    cut = _with_darts(checker, inner, edges, args) if sound else None
    return cut, args


def _unnamed(edge: t.Definition) -> Diagnostic:
    """Of an edge that has no point of a name at both ends: the end that is another place, or that both are not written."""
    name, ends = edge.name.text, written_ends(edge)
    for word, value in ends.items():
        if not isinstance(value, t.Name) and len(ends) == 2:
            which, point = ("begins", "start") if word == "from" else ("ends", "end")
            message = f"the edge `{name}` {which} at a place that has no name, and another edge must meet it there"
            fix = f"name it before, `point {name}_{point} = …`, and write `{word} {name}_{point}`"
            return words.open_outline(value.span, message, fix)
    fix = "write `from` and `to` with the names of two points; trace an edge of another piece so: "
    fix += f"`curve {name} = EDGE between POINT and POINT`"
    return words.open_outline(edge.span, f"the edge `{name}` does not state both ends", fix)


def _with_darts(checker: Checker, inner: Scope, edges: Sequence[OutlineEdge], args: dict[str, Typed]) -> list[OutlineEdge] | None:
    """The edges with the darts drafted in them, whose nodes take the place of the plain curves; None when one is broken."""
    known = [edge.name for edge in edges]
    sound, cut, made = True, list(edges), {}
    for name, darts in inner.drafted.items():
        if name not in known:
            checker.report(inner, words.no_edge(_on(darts[0]), name, known, None))
        else:
            number = known.index(name)
            made[name], drafted = opened(checker, inner, edges[number], edges, args)
            cut[number] = replace(edges[number], darts=drafted)
        sound = sound and name in made and made[name].kind is not k.BROKEN
    args |= made
    return cut if sound else None


def _on(dart: t.Definition) -> Span:
    return next(clause.value.span for clause in dart.clauses if clause.word.text == "on")


def _key(scope: Scope, name: str) -> str:
    """What tells two points apart: the name, and where it is defined."""
    holder = scope.holder(name.split(".")[0])
    return f"{holder.prefix if holder else ''}{name}"


def _placed(checker: Checker, inner: Scope, dart: t.Definition, piece: Typed) -> Typed:
    """A dart placed on an edge, or inside with two ends."""
    checker.note_new(dart.name, inner.prefix, k.Kind("dart"))
    made = apply(checker, inner, verbs()["dart"], None, dart.clauses, dart.span, piece, dart.name.text)
    checker.name_parts(made, [dart.name])
    return made


def redrawn(checker: Checker, scope: Scope, sentence: t.Definition, value: t.Operation) -> Typed:
    """`replace edges … { edges }`: the new stretch is drawn in the block, as an outline is."""
    assert sentence.block is not None
    inner = Scope(scope.file, scope, f"{scope.prefix}{sentence.name.text}.", scope.trace)
    inner.loose = _is_loose(checker, scope, sentence.block)
    parts = _parts_named(sentence.block, scope)
    declare(checker, inner, [one for one in sentence.block if one not in parts])
    for one in inner.sentences.values():
        if isinstance(one, t.Definition) and one.kind.text == "dart":
            return checker.report(inner, words.misplaced(one.span, "dart", ON_A_PIECE))
    rows, args = _edges(checker, inner, sentence)
    checker.note(value.verb.span, "verb", "replace")
    made = apply(checker, scope, verbs()["replace"], value.subject, value.clauses, value.span, name=sentence.name.text)
    if made.kind is k.BROKEN or rows is None:
        return BROKEN
    node = checker.taken_back()  # what the words came to; the edges of the block make it whole below
    before = Typed(checker.nodes[node.args["subject"]].kind, node.args["subject"])
    assert isinstance(before.kind, k.PieceKind)
    try:
        settled = {word: said for word, said in node.words.items() if word != "name"} | {"chain": _in_line(rows)}
        sketch = redraw_names(before.kind.sketch, settled, None)
    except Trouble as trouble:
        return checker.report(inner, words.open_outline(sentence.name.span, trouble.message, trouble.fix))
    piece = checker.node(inner, p.Call("replace", settled), k.piece(sketch), sentence.span, {"subject": before, **args})
    checker.name_parts(piece, _names(inner, rows))
    return _stated(checker, inner, _statements(sentence.block, parts), piece)


def _in_line(edges: Sequence[OutlineEdge]) -> tuple[tuple[str, bool], ...]:
    """The edges one after the other, each with whether it is run forward, found by the points they share."""
    ends = [key for edge in edges for key in (edge.start, edge.end)]
    loose = [key for key in ends if ends.count(key) == 1]
    if len(loose) != 2:
        raise Trouble("the new edges do not follow each other", "let each start at the point where another ends")
    here = next(
        edge.start if edge.start in loose else edge.end for edge in edges if {edge.start, edge.end} & set(loose)
    )
    order: list[tuple[str, bool]] = []
    rest = list(edges)
    while rest:
        edge = next((one for one in rest if here in (one.start, one.end)), None)
        if edge is None:  # its ends are no points that have a name, or the rest is a ring of its own
            raise Trouble(
                f"`{rest[0].name}` does not follow the others",
                "let it start at the point where another ends; a part of an edge meets others at points that have a name",
            )
        rest.remove(edge)
        order.append((edge.name, edge.start == here))
        here = edge.end if edge.start == here else edge.start
    return tuple(order)


def finish(checker: Checker, scope: Scope, sentence: t.Definition, made: Typed) -> Typed:
    """What the block after a value states for cutting."""
    assert sentence.block is not None
    inner = Scope(scope.file, scope, f"{scope.prefix}{sentence.name.text}.", scope.trace)
    inner.loose = _is_loose(checker, scope, sentence.block)
    parts = [one for one in sentence.block if isinstance(one, t.Definition) and names_a_part(one)]
    declare(checker, inner, [one for one in sentence.block if one not in parts])
    for definition in inner.sentences.values():
        if made.kind is not k.BROKEN and isinstance(definition, t.Definition) and definition.kind.text in (*EDGES, "dart"):
            where = ON_A_PIECE if definition.kind.text == "dart" else DRAWN_ELSEWHERE
            checker.report(inner, words.misplaced(definition.span, definition.kind.text, where))
    return _stated(checker, inner, _statements(sentence.block, parts), made)


def _stated(checker: Checker, inner: Scope, stated: Sequence[Stated], piece: Typed) -> Typed:
    """Apply the statements of a block; a broken one is told and the others are still read."""
    sound = piece.kind is not k.BROKEN and not inner.loose
    statements = [one for one in stated if isinstance(one, t.Statement)]
    parts = [one for one in stated if isinstance(one, t.Definition)]
    cut = next((one for one in statements if one.verb.text == "cut"), None)
    if cut is not None and sound:  # what is cut is a piece of its own: how its forerunner was cut does not count
        piece = checker.node(inner, p.Uncut(), piece.kind, cut.span, {"piece": piece})
    written = statements
    if isinstance(piece.kind, k.PieceKind):
        written = [one for one in stated_of_both(statements, piece.kind.sketch) if isinstance(one, t.Statement)]
    sound = stated_once(checker, inner, written) and sound
    every: list[Stated] = in_turn((*statements, *parts))
    named = [one for one in every if rank(one) < NAMED]
    made = _taken(checker, inner, named, piece)
    rest = every[len(named) :]
    if cut is not None and isinstance(made[0].kind, k.PieceKind):
        more = shared(checker, written, made[0])
        expanded = stated_of_both(more, made[0].kind.sketch)
        sound = stated_once(checker, inner, [one for one in expanded if isinstance(one, t.Statement)]) and sound
        rest = in_turn((*rest, *more))
    piece, held = _taken(checker, inner, rest, made[0])
    return piece if sound and made[1] and held else BROKEN


def _taken(checker: Checker, inner: Scope, stated: Sequence[Stated], piece: Typed) -> tuple[Typed, bool]:
    """The piece after statements, and whether all of them are sound; after one that is not the others are still read."""
    sound = not inner.loose
    for one in stated:
        if piece.kind is k.BROKEN:
            return BROKEN, False
        checker.sentence.append((one.span, checker.sentence[-1][1] if checker.sentence else ""))
        made = _after(checker, inner, one, piece)
        checker.sentence.pop()
        if made.kind is k.BROKEN:  # what it would have named is not missed by the others
            sound = False
            inner.unmade |= {part.text for name in written_names(one) for part in name.parts}
            inner.unmade |= {one.name.text} if isinstance(one, t.Definition) else set()
        piece = piece if made.kind is k.BROKEN else made
    return piece, sound


def _after(checker: Checker, inner: Scope, one: Stated, piece: Typed) -> Typed:
    """The piece after one statement of its block, said for both sides where its name is theirs."""
    if isinstance(one, t.Statement) and one.verb.text not in _statement_verbs():
        return BROKEN
    assert isinstance(piece.kind, k.PieceKind)
    if isinstance(one, t.Statement):
        checker.note(one.verb.span, "verb", one.verb.text)
    for each in stated_of_both([one], piece.kind.sketch):
        if piece.kind is k.BROKEN:
            return BROKEN
        inner.own = piece
        if isinstance(each, t.Definition):
            piece = stated_part(checker, inner, each, piece)
        else:
            piece = apply(checker, inner, verbs()[each.verb.text], each.subject, each.clauses, each.span, piece)
    return piece
