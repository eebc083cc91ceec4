"""What a name means where it stands: a definition, something a block gives, a name of a piece, a measurement."""

from __future__ import annotations

import re
from collections.abc import Mapping

from ..bodies.vocabulary import canonical, meanings, suggestions, vocabulary
from ..diagnostics import chain_words
from ..diagnostics import meaning_words as words
from ..diagnostics.diagnostic import Diagnostic, Span
from ..diagnostics.sides_words import on_both_sides
from ..diagnostics.suggest import nearest
from ..pattern.piece import Piece
from ..syntax import tree as t
from ..verbs import kinds as k
from . import misnamed
from . import payloads as p
from .checker import BROKEN, Checker, Scope
from .style import BlockKind, Typed
from .symbols import part_of

START = "starting_point"
"""The name of the point (0, 0) of the paper, from which a draft is begun."""

CUT = ".cut"
"""After the name of an edge of the outline: where that edge is cut, its allowance included, without the corners."""


def named(checker: Checker, scope: Scope, name: t.Name) -> Typed:
    """The node a dotted name stands for."""
    first = name.parts[0]
    if first.text == START and scope.holder(START) is None:
        checker.note(first.span, "reserved word", START, k.POINT)
        return checker.node(scope, p.Zero(), k.POINT, first.span)
    own = _of_piece_in_hand(checker, scope, name)
    if own is not None:
        checker.note_part(name.span, scope.own, name.text)
        return own
    found = checker.lookup(scope, first) or _measure(checker, scope, first)
    if found is None:
        own = scope.piece()
        part = None if own is None else _part(checker, scope, own, name.text, name.span)
        checker.note_part(name.span, own, name.text)
        return part or _not_defined(checker, scope, name)
    return found if len(name.parts) == 1 else member(checker, scope, found, name)


def part_in_hand(checker: Checker, scope: Scope, name: t.Name) -> Typed | None:
    """In a link of a chain and in the braces of a piece, its edge, dart or point that is called so; None elsewhere."""
    if scope.own is None or scope.own.kind is k.BROKEN:
        return None
    return _part(checker, scope, scope.own, name.text, name.span)


def _of_piece_in_hand(checker: Checker, scope: Scope, name: t.Name) -> Typed | None:
    """In a link of a chain and in the braces of a piece, what the piece calls so; a number of the style with that name is the
    number."""
    part = part_in_hand(checker, scope, name)
    if part is None or scope.holder(name.parts[0].text) is None:
        return part
    other = checker.lookup(scope, name.parts[0]) or part
    if other.kind in (*k.QUANTITIES, k.FLAG):
        return other
    if part.kind is k.POINT and other.kind is k.POINT:
        return checker.report(scope, chain_words.either_point(name.span, name.text, scope.in_hand is not None))
    return part


def _measure(checker: Checker, scope: Scope, word: t.Word) -> Typed | None:
    name = canonical(word.text) or word.text
    entry = vocabulary().get(name)
    if entry is None:
        return None
    kind = {"length": k.LENGTH, "angle": k.ANGLE}.get(entry.kind, k.NUMBER)
    checker.note(word.span, "measurement", name, kind)
    return checker.measure(scope, name, kind, word.span)


def _not_defined(checker: Checker, scope: Scope, name: t.Name) -> Typed:
    first = name.parts[0]
    recipe = scope.recipe(first.text)
    if recipe is not None:
        rest = ".".join(part.text for part in name.parts[1:]) or "front"
        return checker.report(scope, words.recipe_not_draft(name.span, first.text, _draft_of(scope, first.text), rest))
    told = _unknown(checker, scope, first)
    clear = canonical(first.text) or meanings(first.text)
    return checker.report_unknown(scope, told if clear else misnamed.later(checker, scope, told, name), first.text)


def _unknown(checker: Checker, scope: Scope, word: t.Word) -> Diagnostic:
    """A word of the trade or a misspelt measurement is told from a misspelt name: a name of the style comes first. An edge
    or a dart that stands without its piece is told with it."""
    own = nearest(word.text, scope.visible())
    meant = _on_pieces(checker, scope, word.text) or (() if own else suggestions(word.text) or _nearly(checker, scope, word.text))
    return words.unknown_name(word.span, word.text, [START, *scope.visible(), *vocabulary()], meant)


def known_somehow(checker: Checker, scope: Scope, name: t.Name) -> None:
    """Tell of a name in what is not elaborated that means nothing: no definition, no measurement, on no piece."""
    first = name.parts[0].text
    is_measure = canonical(first) or first in vocabulary()
    if not (scope.holder(first) or is_measure or first == START or _on_pieces(checker, scope, first)):
        _not_defined(checker, scope, name)


def _draft_of(scope: Scope, recipe: str) -> str | None:
    """The name of a definition made with the recipe, to suggest it."""
    for name, sentence in scope.sentences.items():
        made = isinstance(sentence, t.Definition) and isinstance(sentence.value, t.Operation)
        if made and sentence.value.verb.text == recipe:  # type: ignore[union-attr]
            return name
    return None


def _nearly(checker: Checker, scope: Scope, part: str) -> tuple[str, ...]:
    """The same of the part that is called nearly so on a piece that the sentence names."""
    said = {name: typed.kind for name, typed in scope.known.items() if _is_said(checker, name)}
    pieces = {name: kind for name, kind in said.items() if isinstance(kind, k.PieceKind)}
    near = nearest(part, {one for kind in pieces.values() for one in sketch_names(kind)}, 1, parts=False)
    return tuple(f"{name}.{one}" for one in near for name, kind in pieces.items() if one in sketch_names(kind))[:3]


def _is_said(checker: Checker, piece: str) -> bool:
    """Whether the sentence that is read asks for a part of a piece."""
    said = checker.written(checker.sentence[-1][0]) if checker.sentence else ""
    return re.search(rf"(?<![\w.]){re.escape(piece)}\.", said) is not None


def _on_pieces(checker: Checker, scope: Scope, part: str) -> tuple[str, ...]:
    """Up to three names of pieces made so far that have an edge, dart or point called so, each with it; of pieces that the
    sentence names, where these have it."""
    found: list[str] = []
    holder: Scope | None = scope
    while holder is not None:
        for name, typed in holder.known.items():
            given = typed.kind.members.items() if isinstance(typed.kind, BlockKind) else ()
            for whole, kind in ((name, typed.kind), *((f"{name}.{inner}", kind) for inner, (kind, _) in given)):
                if isinstance(kind, k.PieceKind) and part in sketch_names(kind):
                    found.append(f"{whole}.{part}")
        holder = holder.parent
    here = [one for one in found if _is_said(checker, one.rpartition(".")[0])]
    return tuple((here or found)[:3])


def member(checker: Checker, scope: Scope, owner: Typed, name: t.Name) -> Typed:
    """`base.front.waist_dart.inner_leg`: walk from the owner through what it gives."""
    rest = list(name.parts[1:])
    said = name.parts[0].text
    while rest and isinstance(owner.kind, BlockKind):
        part = rest.pop(0)
        if part.text not in owner.kind.members:
            if part.text.removeprefix("with_") in owner.kind.shared:
                return checker.report(scope, chain_words.on_both_parts(part.span, said, part.text, _roles(owner.kind)))
            if owner.kind.partial or checker.is_unknown(part.text):  # what gives it asks for that name too, and that is told
                return BROKEN
            labels = misnamed.among(part.text, owner.kind.places)
            return checker.report_unknown(
                scope, words.no_member(part.span, said, part.text, list(owner.kind.members), labels), f"{said}.{part.text}"
            )
        kind, node = owner.kind.members[part.text]
        place = owner.kind.places.get(part.text) or (checker.origins[node].span if node >= 0 else None)
        owner, said = Typed(kind, node), f"{said}.{part.text}"
        checker.note(part.span, "member", said, kind, place)
    if not rest or owner.kind is k.BROKEN:
        return owner
    span = rest[0].span.to(rest[-1].span)
    inner = ".".join(part.text for part in rest)
    if isinstance(owner.kind, k.DartKind):
        inner, sketch = f"{owner.kind.name}.{inner}", owner.kind.sketch
    elif isinstance(owner.kind, k.PieceKind):
        sketch = owner.kind.sketch
    else:
        return checker.report(scope, words.no_member(span, said, inner, []))
    found = _part(checker, scope, owner, inner, name.span)
    checker.note_part(span, owner, inner)
    near = [f"{dart}.{tip}" for dart in sketch.dart_names() for tip in apexes(sketch, dart) if inner.endswith("apex")]
    return found or no_such(checker, scope, near or sketch_names(owner.kind), inner, span, why_gone(sketch, inner))


def is_part(sketch: Piece, name: str) -> bool:
    """Whether a piece has an edge, dart or point of that name."""
    return part_of(sketch, name) is not None


def _part(checker: Checker, scope: Scope, owner: Typed, inner: str, span: Span) -> Typed | None:
    """An edge, dart or point of a piece, or of the piece a dart is on, by its name there; None if it has none."""
    assert isinstance(owner.kind, (k.PieceKind, k.DartKind))
    sketch = owner.kind.sketch
    if inner in sketch.edge_names():
        return checker.node(scope, p.EdgeOf(inner), k.edge(sketch, inner), span, {"piece": owner})
    if inner in sketch.dart_names():
        return checker.node(scope, p.DartOn(inner), k.dart(sketch, inner), span, {"piece": owner})
    if inner in sketch.points:
        return checker.node(scope, p.Landmark(inner), k.POINT, span, {"piece": owner})
    dart, _, tip = inner.rpartition(".")
    if (end := apexes(sketch, dart).get(tip)) is not None:
        return checker.node(scope, p.Apex(dart, end), k.POINT, span, {"piece": owner})
    edge = inner.removesuffix(CUT)
    if inner != edge and sketch.run(edge):
        return checker.node(scope, p.CutEdge(edge), k.PATH, span, {"piece": owner})
    return None


def _roles(block: BlockKind) -> list[list[str]]:
    """The roles of each piece of a block."""
    found: dict[int, list[str]] = {}
    for role, (_, node) in block.members.items():
        found.setdefault(node, []).append(role)
    return list(found.values())


def owner_of(checker: Checker, scope: Scope, name: t.Name) -> tuple[Typed, str] | None:
    """The piece a dotted name is of, and what it names there; None where it is of no piece. Nothing is told."""
    if len(name.parts) < 2 or scope.holder(name.parts[0].text) is None:
        return None
    found, rest = checker.lookup(scope, name.parts[0]), list(name.parts[1:])
    while rest and found is not None and isinstance(found.kind, BlockKind):
        member = found.kind.members.get(rest.pop(0).text)
        found = None if member is None else Typed(*member)
    if found is None or not rest or not isinstance(found.kind, k.PieceKind):
        return None
    return found, ".".join(part.text for part in rest)


def why_gone(sketch: Piece, name: str) -> str | None:
    """Why a piece has not, or no more, what is called so; None where that is not known."""
    known = {*sketch.edge_names(), *sketch.dart_names(), *sketch.points}
    both = name not in known and {f"left_{name}", f"right_{name}"} <= known
    return sketch.removed.get(name) or (on_both_sides(name) if both else None)


def apexes(sketch: Piece, dart: str) -> Mapping[str, str]:
    """What the apexes of a dart are called behind its name, and which of its ends each is; none where there is no such dart."""
    if sketch.hole(dart) is not None:
        return {"upper_apex": "upper", "lower_apex": "lower"}
    return {} if sketch.dart(dart) is None else {"apex": "apex"}


def sketch_names(kind: k.Kind) -> list[str]:
    """All names of a piece a cutter may write."""
    assert isinstance(kind, (k.PieceKind, k.DartKind, k.EdgeKind))
    sketch = kind.sketch
    return [*sketch.edge_names(), *sketch.dart_names(), *sketch.points]


def no_such(checker: Checker, scope: Scope, names: list[str], name: str, span: Span, reason: str | None) -> Typed:
    left = {one.removeprefix("left_") for one in names if one.startswith("left_")}
    names = [*names, *(one for one in sorted(left) if f"right_{one}" in names)]  # both are meant by the bare name
    return checker.report(scope, misnamed.of_parts(checker, words.no_edge(span, name, names, reason), name))


__all__ = ["apexes", "is_part", "member", "named", "no_such", "part_in_hand", "sketch_names"]
