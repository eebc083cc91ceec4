"""Both sides by a bare name: after `unfold`, `side` is `left_side` and `right_side` in statements for cutting and in seams."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import fields, is_dataclass, replace
from typing import Any

from ..diagnostics import sides_words as words
from ..diagnostics.diagnostic import Span
from ..pattern.piece import Piece
from ..syntax import tree as t
from ..verbs import kinds as k
from . import payloads as p
from .checker import Checker, Scope
from .names import owner_of
from .style import BlockKind, Typed

SIDES = ("left", "right")
LISTED = ("allow", "turn_under")
"""Statements that name each side in their list of edges."""

TWICE = ("notch", "cut_corner", "press", "drill", "unsewn")
"""Statements that are said for each side; others make a name, or say one thing of the piece."""

SEWN = ("joins", "eases", "gathers", "to")

Change = Callable[[t.Name], t.Expr]


def is_both(sketch: Piece, name: str) -> bool:
    """Whether a piece has the name on its left and on its right, and not the bare one."""
    return name not in _all(sketch) and all(f"{side}_{name}" in _all(sketch) for side in SIDES)


def _all(sketch: Piece) -> set[str]:
    return {*sketch.edge_names(), *sketch.dart_names(), *sketch.points}


def on_side(name: t.Name, side: str, bare: str) -> t.Name:
    """The name with that of the part, its last words, for a side."""
    owner = name.parts[: len(name.parts) - len(bare.split("."))]
    first = name.parts[len(owner)]
    return replace(name, parts=(*owner, t.Word(f"{side}_{first.text}", first.span), *name.parts[len(owner) + 1 :]))


def changed(node: Any, change: Change) -> Any:
    """A value with each name of a part in it as `change` has it, but for how far along an edge; what is listed in the place of
    one of several is listed with them."""
    if isinstance(node, t.Name):
        return change(node)
    if isinstance(node, tuple):
        return tuple(changed(one, change) for one in node)
    if isinstance(node, t.Listed):
        items = [changed(one, change) for one in node.items]
        flat = [one for item in items for one in (item.items if isinstance(item, t.Listed) else (item,))]
        return replace(node, items=tuple(flat))
    if isinstance(node, t.SoFar):
        return replace(node, end=changed(node.end, change))
    if is_dataclass(node) and not isinstance(node, Span | t.Word | type):
        return replace(node, **{one.name: changed(getattr(node, one.name), change) for one in fields(node)})
    return node


def names_in(node: object) -> Iterator[t.Name]:
    """The names of parts that are written as values."""
    if isinstance(node, t.Name):
        yield node
    elif isinstance(node, t.SoFar):
        yield from names_in(node.end)
    else:
        for one in t.within(node):
            yield from names_in(one)


# ---- statements ----------------------------------------------------------------------------------


Stated = t.Statement | t.Definition


def stated_of_both(statements: Iterable[Stated], sketch: Piece) -> list[Stated]:
    """Statements with a bare name of both sides written out: in a list each is named, else the sentence is said twice, and the
    names it gives are those of both sides too."""
    found: list[Stated] = []
    for one in statements:
        if isinstance(one, t.Definition):
            found += _named_on_both(one, sketch)
        elif one.verb.text in TWICE and any(is_both(sketch, name.text) for name in _said(one)):
            found += [_for_side(one, sketch, side) for side in SIDES]
        else:
            found.append(_with_lists(one, sketch) if one.verb.text in LISTED else one)
    return found


def _named_on_both(one: t.Definition, sketch: Piece) -> list[Stated]:
    """A part of an edge that both sides have, named on each."""
    assert isinstance(one.value, t.Between)
    whole = one.value.value
    if not isinstance(whole, t.Name) or not is_both(sketch, whole.text):
        return [one]
    sides: list[Stated] = []
    for side in SIDES:
        name = replace(one.name, text=f"{side}_{one.name.text}")
        sides.append(replace(one, name=name, value=_of_side(one.value, sketch, side)))
    return sides


def _of_side(value: t.Between, sketch: Piece, side: str) -> t.Between:
    made = changed(value, lambda name: on_side(name, side, name.text) if is_both(sketch, name.text) else name)
    assert isinstance(made, t.Between)
    return made


def _said(one: t.Statement) -> Iterator[t.Name]:
    yield from names_in(one.subject)
    for clause in one.clauses:
        yield from names_in(clause.value)


def _with_lists(one: t.Statement, sketch: Piece) -> t.Statement:
    """What the statement is `on`, each side named."""

    def each(name: t.Name) -> t.Expr:
        if not is_both(sketch, name.text):
            return name
        return t.Listed(tuple(on_side(name, side, name.text) for side in SIDES), name.span)

    def listed(value: t.Expr) -> t.Expr:
        """A part of both, as two, then every name."""
        items = value.items if isinstance(value, t.Listed) else (value,)
        made: list[t.Expr] = []
        for item in items:
            both = isinstance(item, t.Between) and isinstance(item.value, t.Name) and is_both(sketch, item.value.text)
            made += [_of_side(item, sketch, side) for side in SIDES] if both and isinstance(item, t.Between) else [item]
        value = made[0] if len(made) == 1 else t.Listed(tuple(made), value.span)
        return changed(value, each)  # type: ignore[no-any-return]

    clauses = [replace(c, value=listed(c.value)) if c.word.text == "on" else c for c in one.clauses]
    return replace(one, clauses=tuple(clauses))


def _for_side(one: t.Statement, sketch: Piece, side: str) -> t.Statement:
    def change(name: t.Name) -> t.Expr:
        return on_side(name, side, name.text) if is_both(sketch, name.text) else name

    clauses = tuple(
        replace(c, value=on_side(c.value, side, c.value.text))
        if c.word.text == "called" and isinstance(c.value, t.Name)
        else replace(c, value=changed(c.value, change))
        for c in one.clauses
    )
    return replace(one, subject=changed(one.subject, change), clauses=clauses)


# ---- seams ---------------------------------------------------------------------------------------


def sewn_twice(checker: Checker, scope: Scope, sentence: t.Definition) -> dict[str, t.Definition] | None:
    """A seam of names that both sides have, as one sentence for each side: left with left, right with right; None where there
    is no such name. A part that has one edge for both sides, as the hem of a whole front, is sewn by its halves; a piece that
    is cut as a pair by the same edge of either. Told where a piece has the edge only once; the seam is broken then."""
    parts = {name: found for name in _edges_of(sentence) if (found := owner_of(checker, scope, name)) is not None}
    both = [name for name, (owner, inner) in parts.items() if is_both(_sketch(owner), inner)]
    if not both:
        return None
    strange = any(inner not in _all(_sketch(owner)) and not is_both(_sketch(owner), inner) for owner, inner in parts.values())
    if strange or any(_is_broken(checker, scope, name) for name in _edges_of(sentence)):
        return {"left": _seam_of(sentence, parts, "left")}  # it stays broken; what else is wrong with it is told
    if len({str((owner.node, inner)) for owner, inner in parts.values()}) == 1:
        halves = [on_side(both[0], side, parts[both[0]][1]).text for side in SIDES]
        checker.report(scope, words.sewn_to_itself(sentence.span, both[0].text, halves))
        return {}
    single = [name for name, (owner, inner) in parts.items() if not (_has_halves(owner, inner) or is_pair(checker, owner))]
    if single:
        halves = [on_side(both[0], side, parts[both[0]][1]).text for side in SIDES]
        checker.report(scope, words.sewn_to_one(single[0].span, single[0].text, both[0].text, halves))
        return {}
    return {side: _seam_of(sentence, parts, side) for side in SIDES}


def _is_broken(checker: Checker, scope: Scope, name: t.Name) -> bool:
    """Whether what an edge is said to be of is broken, or not there."""
    if scope.holder(name.parts[0].text) is None:
        return len(name.parts) > 1
    found = checker.lookup(scope, name.parts[0])
    return found is not None and found.kind is k.BROKEN


def _edges_of(sentence: t.Definition) -> list[t.Name]:
    return [name for clause in sentence.clauses if clause.word.text in SEWN for name in names_in(clause.value)]


def _sketch(owner: Typed) -> Piece:
    assert isinstance(owner.kind, k.PieceKind)
    return owner.kind.sketch


def _has_halves(owner: Typed, inner: str) -> bool:
    return all(f"{side}_{inner}" in _all(_sketch(owner)) for side in SIDES)


def _seam_of(sentence: t.Definition, parts: dict[t.Name, tuple[Typed, str]], side: str) -> t.Definition:
    def change(name: t.Name) -> t.Expr:
        owner, inner = parts.get(name, (None, ""))
        return name if owner is None or not _has_halves(owner, inner) else on_side(name, side, inner)

    clauses = [replace(c, value=changed(c.value, change)) if c.word.text in SEWN else c for c in sentence.clauses]
    return replace(sentence, clauses=tuple(clauses))


def is_pair(checker: Checker, piece: Typed) -> bool:
    """Whether a piece is cut as a pair."""
    following: int | None = piece.node
    while following is not None and not isinstance(checker.nodes[following].payload, p.Uncut):
        node = checker.nodes[following]
        if node.verb == "cut" and node.words.get("as") == "pair":
            return True
        following = node.before
    return False


def with_both(checker: Checker, scope: Scope, clauses: Sequence[t.Clause], side: str = "") -> tuple[t.Clause, ...]:
    """Clauses of a seam or a way of sewing: an edge that is sewn so, on both sides, as the two put end to end; a seam of both
    sides that comes before as that of the `side`, or where there is none as both."""

    def edges(name: t.Name) -> t.Expr:
        found = owner_of(checker, scope, name)
        if found is None or not is_both(_sketch(found[0]), found[1]):
            return name
        left, right = (on_side(name, one, found[1]) for one in SIDES)
        return t.Arithmetic("+", left, right, name.span)

    def seams(name: t.Name) -> t.Expr:
        found = checker.lookup(scope, name.parts[0]) if len(name.parts) == 1 and scope.holder(name.text) else None
        if found is None or not isinstance(found.kind, BlockKind):
            return name
        sides = [replace(name, parts=(*name.parts, t.Word(one, name.span))) for one in SIDES if one in found.kind.members]
        meant = [one for one in sides if one.parts[-1].text == side] or sides
        return t.Listed(tuple(meant), name.span) if len(meant) > 1 else meant[0] if meant else name

    changes = {"on": edges, "after": seams, "caught_in": seams}
    made = (changed(c.value, changes[c.word.text]) if c.word.text in changes else c.value for c in clauses)
    return tuple(replace(c, value=value) for c, value in zip(clauses, made, strict=True))
