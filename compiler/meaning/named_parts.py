"""Parts of edges as edges: named in the braces of their piece, or written where an edge is wanted.

A part that is written without a name is called as it is written, `side between zip_end and hem`, so that a report says what the
sentence does.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace

from ..diagnostics import meaning_words as words
from ..diagnostics.diagnostic import Span
from ..pattern.named import with_part
from ..pattern.piece import Trouble
from ..syntax import tree as t
from ..verbs import kinds as k
from . import payloads as p
from .checker import BROKEN, Checker, Scope
from .places import owner_of_part, part_ends
from .style import Typed

SEWN = {"seam": ("joins", "eases", "gathers", "to"), "sewing": ("on",), "closure": ("in",)}
"""Words of the sentences beside the pieces, by their kind, that want an edge as it is cut and sewn."""


def names_a_part(one: t.Sentence, scope: Scope | None = None, drawn: Sequence[str] = ()) -> bool:
    """Whether a sentence of a piece's braces names a part of an edge of it. Where edges are `drawn`, in a `scope`, a part of a
    curve of the style is one more of these."""
    if not isinstance(one, t.Definition) or one.kind.text != "edge" or not isinstance(one.value, t.Between):
        return False
    whole = one.value.value
    if not isinstance(whole, t.Name):
        return False
    first = whole.parts[0].text
    return scope is None or first in drawn or scope.holder(first) is None


def stated_part(checker: Checker, scope: Scope, sentence: t.Definition, piece: Typed) -> Typed:
    """The piece with a part of an edge that its braces give a name."""
    assert isinstance(sentence.value, t.Between)
    checker.note_new(sentence.name, scope.prefix, k.Kind("edge"))
    made = _parted(checker, scope, sentence.value, piece, sentence.name.text, sentence.span)
    checker.name_parts(made, [sentence.name])
    return made


def part_of(checker: Checker, scope: Scope, expr: t.Between, piece: Typed) -> tuple[Typed, str]:
    """The piece with a part of one of its edges as an edge, and what that is called: as it is written."""
    assert isinstance(piece.kind, k.PieceKind)
    name = _called(checker, expr, expr.value)
    known = name in piece.kind.sketch.edge_names()
    return (piece if known else _parted(checker, scope, expr, piece, name, expr.span)), name


def part_as_edge(checker: Checker, scope: Scope, expr: t.Between, edge: Typed) -> Typed:
    """A part of an edge of a piece as an edge."""
    assert isinstance(edge.kind, k.EdgeKind)
    bare = t.Name(tuple(t.Word(one, expr.value.span) for one in edge.kind.name.split(".")), expr.value.span)
    piece, name = part_of(checker, scope, replace(expr, value=bare), owner_of_part(checker, edge))
    if not isinstance(piece.kind, k.PieceKind):
        return BROKEN
    return checker.node(scope, p.EdgeOf(name), k.edge(piece.kind.sketch, name), expr.span, {"piece": piece})


def _parted(checker: Checker, scope: Scope, expr: t.Between, piece: Typed, name: str, span: Span) -> Typed:
    assert isinstance(piece.kind, k.PieceKind)
    sketch, whole = piece.kind.sketch, expr.value
    if not isinstance(whole, t.Name) or whole.text not in sketch.edge_names():
        written = whole.text if isinstance(whole, t.Name) else ""
        return checker.report(scope, words.no_edge(whole.span, written, list(sketch.edge_names()), sketch.removed.get(written)))
    found = part_ends(checker, scope, expr, k.edge(sketch, whole.text), piece)
    if found is None:
        return BROKEN
    settled = {"subject": whole.text, "name": name, "first": found.first, "last": found.last}
    try:
        made = with_part(sketch, whole.text, name, found.first, found.last)
    except Trouble as trouble:
        return checker.report(scope, words.names_forbid(span, trouble.message, trouble.fix))
    return checker.node(scope, p.Call("edge", settled), k.piece(made), span, {"piece": piece, **found.values})


def _called(checker: Checker, expr: t.Between, edge: t.Expr) -> str:
    """What a part is called that has no name: as it is written, but for its decimal points, which would part the name."""
    first, last = (_bracketed(checker.written(one.span)).replace(".", ",") for one in (expr.low, expr.high))
    return f"{edge.text if isinstance(edge, t.Name) else ''} between {first} and {last}"


def _bracketed(written: str) -> str:
    """A text with the brackets that its span leaves out at its ends."""
    missing = written.count(")") - written.count("(")
    return "(" * missing + written + ")" * -missing


# ---- beside the pieces ---------------------------------------------------------------------------


def parts_that_are_sewn(checker: Checker, scope: Scope) -> None:
    """Each part that a seam, a closure or a way of sewing names is stated in the braces of its piece, which is cut with it, and
    stands by its name where it was written."""
    for name, sentence in list(scope.sentences.items()):
        if isinstance(sentence, t.Definition) and sentence.kind.text in SEWN:
            sewn = SEWN[sentence.kind.text]
            clauses = tuple(
                replace(one, value=_with_parts(one.value, lambda part: _sewn_part(checker, scope, part)))
                if one.word.text in sewn
                else one
                for one in sentence.clauses
            )
            scope.sentences[name] = replace(sentence, clauses=clauses)


def _with_parts(expr: t.Expr, named: Callable[[t.Between], t.Expr]) -> t.Expr:
    if isinstance(expr, t.Between):
        return named(expr)
    if isinstance(expr, t.Arithmetic):
        return replace(expr, left=_with_parts(expr.left, named), right=_with_parts(expr.right, named))
    return expr


def _sewn_part(checker: Checker, scope: Scope, part: t.Between) -> t.Expr:
    """The name of a part of a piece that is cut, which is stated there; the part as it is where it is of none."""
    whole = part.value
    if not isinstance(whole, t.Name) or len(whole.parts) < 2:
        return part
    first, *rest = whole.parts
    piece = scope.sentences.get(first.text)
    if not isinstance(piece, t.Definition) or piece.kind.text != "piece":
        return part
    edge = t.Name(tuple(rest), rest[0].span.to(rest[-1].span))
    inner = replace(part, value=edge, low=_own(part.low, first.text), high=_own(part.high, first.text))
    called = t.Word(_called(checker, part, edge), part.span)
    if called.text not in _stated(piece.block or ()):
        stated = t.Definition(t.Word("edge", part.span), called, inner, (), None, None, None, part.span)
        scope.sentences[first.text] = replace(piece, block=_in_turn(piece.block or (), stated))
    return replace(whole, parts=(first, called), span=part.span)


def _in_turn(block: Sequence[t.Sentence], stated: t.Definition) -> tuple[t.Sentence, ...]:
    """A block with such a part, all of them behind the rest by their names, whichever sentence named one first."""
    parts = [one for one in block if isinstance(one, t.Definition) and " between " in one.name.text]
    rest = (one for one in block if one not in parts)
    return (*rest, *sorted([*parts, stated], key=lambda one: one.name.text))


def _stated(block: Sequence[t.Sentence]) -> Iterator[str]:
    return (one.name.text for one in block if isinstance(one, t.Definition))


def _own(place: t.Expr, piece: str) -> t.Expr:
    """A place as it is called in the braces of the piece it is on."""
    if isinstance(place, t.Name) and len(place.parts) > 1 and place.parts[0].text == piece:
        return replace(place, parts=place.parts[1:])
    return place
