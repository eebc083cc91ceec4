"""Kinds and nodes of expressions: numbers with units, arithmetic, names, steps from a point, conditions."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from ..bodies.vocabulary import canonical, vocabulary
from ..diagnostics import chain_words, place_words, value_words
from ..diagnostics import meaning_words as words
from ..diagnostics.diagnostic import Span
from ..syntax import tree as t
from ..verbs import kinds as k
from ..verbs.comparing import compared
from ..verbs.measuring import EXTREMES, OF
from ..verbs.registry import verbs
from ..verbs.values import numbered
from . import payloads as p
from .chains import chain
from .checker import BROKEN, Checker, Scope
from .fits import promised
from .mentioned import values_in
from .named_parts import part_as_edge
from .names import known_somehow, named, part_in_hand
from .operations import operation, verb_known
from .places import part, spot
from .style import BlockKind, Typed, reversed_bounds
from .sums import one_wanted, put_end_to_end
from .units import measured

POWER = {k.NUMBER: 0, k.LENGTH: 1, k.AREA: 2}
OF_POWER = {power: kind for kind, power in POWER.items()}


EDGE = k.Kind("edge")
PARTS = (EDGE, k.Kind("dart"), k.PATH)
"""Kinds of which, in a link of a chain, a bare name is that of the piece in hand whatever the style calls so."""


def value(checker: Checker, scope: Scope, expr: t.Expr, want: k.Kind | None = None) -> Typed:
    """The node of an expression. With `want`, a value of another kind is an error at its place."""
    if isinstance(expr, t.Between) and want in (EDGE, k.RUN):
        edge = value(checker, scope, expr.value, EDGE)
        return edge if edge.kind is k.BROKEN else part_as_edge(checker, scope, expr, edge)
    found = _by_want(checker, scope, expr, want) or _any(checker, scope, expr)
    if want is None or found.kind is k.BROKEN or fits(found.kind, want):
        return found
    if isinstance(expr, t.Number) and want in (k.LENGTH, k.ANGLE, k.WEIGHT):
        return checker.report(scope, value_words.no_unit(expr.span, expr.written, want.word))
    if isinstance(found.kind, BlockKind) and isinstance(expr, t.Name):
        return checker.report(scope, value_words.block_value(expr.span, expr.text, list(found.kind.members)))
    if isinstance(found.kind, BlockKind) and isinstance(expr, t.Operation):
        return checker.report(scope, chain_words.one_of_several(expr.span, expr.verb.text, next(iter(found.kind.members))))
    return checker.report(scope, value_words.wrong_kind(expr.span, want.word, found.kind.word))


def _by_want(checker: Checker, scope: Scope, expr: t.Expr, want: k.Kind | None) -> Typed | None:
    """In a link of a chain or the braces of a piece, what a name means that the piece has and the style too, where the wanted
    kind tells."""
    if want is None or not isinstance(expr, t.Name) or scope.holder(expr.parts[0].text) is None:
        return None
    part = part_in_hand(checker, scope, expr)
    if part is None or (fits(part.kind, want) and want not in PARTS):
        return None
    if fits(part.kind, want):
        return part
    other = checker.lookup(scope, expr.parts[0]) if len(expr.parts) == 1 else None
    return other if other is not None and fits(other.kind, want) else None


def fits(found: k.Kind, want: k.Kind) -> bool:
    """Whether a value of kind `found` may stand where `want` is wanted; an edge is a curve too, and a run of one."""
    if want is k.PATH:
        return isinstance(found, (k.PathKind, k.EdgeKind)) or found == k.RUN
    return found.word == want.word or (want is k.RUN and isinstance(found, k.EdgeKind))


def _any(checker: Checker, scope: Scope, expr: t.Expr) -> Typed:  # one line for each class of expression
    match expr:
        case t.Number():
            return checker.constant(scope, k.NUMBER, expr.value, expr.span)
        case t.Quantity():
            return checker.constant(scope, *measured(expr), expr.span)
        case t.Flag():
            return checker.constant(scope, k.FLAG, float(expr.value), expr.span)
        case t.Text():
            return checker.node(scope, p.Text(expr.value), k.TEXT, expr.span)
        case t.Direction():
            return checker.node(scope, p.Direction(expr.word.text), k.DIRECTION, expr.span)
        case t.Heading():
            return _heading(checker, scope, expr)
        case t.Name():
            return named(checker, scope, expr)
        case t.Of():
            return _of(checker, scope, expr)
        case t.Arithmetic():
            return _arithmetic(checker, scope, expr)
        case t.Negative():
            inner = checker.value(scope, expr.value)
            return _scaled(checker, scope, inner, expr.span)
        case t.Moves():
            return _moves(checker, scope, expr)
        case t.Chosen():
            return _chosen(checker, scope, expr)
        case t.Spot():
            return spot(checker, scope, expr)
        case t.SoFar():
            return checker.report(scope, place_words.so_far_alone(expr.span, _verb_of(expr.value)))
        case t.Listed():
            return one_wanted(checker, scope, expr)
        case t.Chain():
            return chain(checker, scope, expr)
        case t.Between():
            return part(checker, scope, expr)
        case t.Operation():
            return _measured(checker, scope, expr) if expr.verb.text == "measured" else operation(checker, scope, expr)


def _verb_of(value: t.Expr) -> str:
    """The verb that a value of one word names, if it does."""
    return value.text if isinstance(value, t.Name) and value.text in verbs() else ""


def _measured(checker: Checker, scope: Scope, expr: t.Operation) -> Typed:
    """`measured across_back_width`: whether the body's file gives it."""
    if not isinstance(expr.subject, t.Name) or expr.clauses:
        return checker.report(scope, value_words.measured_what(expr.span))
    name = canonical(expr.subject.text) or expr.subject.text
    if name not in vocabulary():
        return checker.report(scope, words.unknown_name(expr.span, name, vocabulary()))
    checker.measures.setdefault(name, []).append(expr.span)
    return checker.node(scope, p.Measured(name), k.FLAG, expr.span)


def _scaled(checker: Checker, scope: Scope, inner: Typed, span: Span) -> Typed:
    if inner.kind is not k.BROKEN and inner.kind not in k.QUANTITIES:
        return checker.report(scope, value_words.wrong_kind(span, "length", inner.kind.word))
    if inner.constant is not None and not inner.chosen:
        return checker.constant(scope, inner.kind, -inner.constant, span)
    made = checker.node(scope, p.Negative(), inner.kind, span, {"value": inner})
    return made if inner.constant is None else replace(made, constant=-inner.constant, chosen=True)


def _heading(checker: Checker, scope: Scope, expr: t.Heading) -> Typed:
    pointed = expr.word.text in ("toward", "away_from")
    target = checker.value(scope, expr.target, k.POINT if pointed else k.PATH)
    return checker.node(scope, p.Heading(expr.word.text), k.DIRECTION, expr.span, {"target": target})


def _of(checker: Checker, scope: Scope, expr: t.Of) -> Typed:
    if expr.word.text in EXTREMES:
        return _extreme(checker, scope, expr)
    entry = OF.get(expr.word.text)
    if entry is None:
        known = sorted([*OF, *EXTREMES])
        return checker.report(scope, words.unknown_word(expr.word.span, "of", expr.word.text, known))
    checker.note(expr.word.span, "word", f"{expr.word.text} of", entry.gives)
    target = _promise(checker, scope, expr) if entry.wants == ("fit",) else checker.value(scope, expr.target)
    if target.kind is k.BROKEN:
        return BROKEN
    if isinstance(target.kind, BlockKind) and isinstance(expr.target, t.Name):
        return checker.report(scope, value_words.block_value(expr.target.span, expr.target.text, list(target.kind.members)))
    if not any(target.kind.word == kind for kind in entry.wants):
        wanted = " or ".join(entry.wants)
        return checker.report(scope, value_words.wrong_kind(expr.target.span, wanted, target.kind.word))
    return checker.node(scope, p.Of(expr.word.text), entry.gives, expr.span, {"target": target})


def _extreme(checker: Checker, scope: Scope, expr: t.Of) -> Typed:
    """`larger of (a, b)`, `smaller of (a, b, c)`: the largest or the smallest of several values of one kind."""
    checker.note(expr.word.span, "word", f"{expr.word.text} of")
    items = expr.target.items if isinstance(expr.target, t.Listed) else ()
    if not items:
        return checker.report(scope, value_words.several_wanted(expr.target.span, expr.word.text))
    first = checker.value(scope, items[0])
    if first.kind is not k.BROKEN and first.kind not in k.MEASURED:
        first = checker.report(scope, value_words.wrong_kind(items[0].span, "length, angle or number", first.kind.word))
    found = [first, *(checker.value(scope, item, None if first.kind is k.BROKEN else first.kind) for item in items[1:])]
    known = [one.constant for one in found if one.constant is not None]
    constant = (max if expr.word.text == "larger" else min)(known) if len(known) == len(found) else None
    chosen = any(one.chosen for one in found)
    if constant is not None and not chosen and first.kind is not k.BROKEN:
        return checker.constant(scope, first.kind, constant, expr.span)
    args = {numbered("value", number): one for number, one in enumerate(found)}
    made = checker.node(scope, p.Extreme(expr.word.text), first.kind, expr.span, args)
    return made if constant is None else replace(made, constant=constant, chosen=chosen)


def _promise(checker: Checker, scope: Scope, expr: t.Of) -> Typed:
    """A promise of fit by its whole name: of this style, or of a block it uses."""
    name = expr.target.text if isinstance(expr.target, t.Name) else ""
    if "." in name and isinstance(expr.target, t.Name):
        block = checker.lookup(scope, expr.target.parts[0])  # which promises once it is made
        if block is not None and block.kind is k.BROKEN:
            return BROKEN
        if block is not None and isinstance(block.kind, BlockKind) and block.kind.partial and name not in checker.promises:
            return BROKEN
    if name not in checker.promises and scope.is_broken(name):
        return BROKEN
    found = promised(checker, name) if name in checker.promises else None
    if found is not None:
        checker.note(expr.target.span, "definition", name, found.kind, checker.promises[name][1].name.span)
    return found or checker.report(scope, words.no_promise(expr.target.span, name, sorted(checker.promises)))


def _arithmetic(checker: Checker, scope: Scope, expr: t.Arithmetic) -> Typed:
    left = checker.value(scope, expr.left)
    right = checker.value(scope, expr.right)
    if BROKEN in (left, right):
        return BROKEN
    if expr.operator == "+" and (whole := put_end_to_end(checker, scope, expr, left, right)) is not None:
        return whole
    kind = _result(expr.operator, left.kind, right.kind)
    if kind is None:
        if expr.operator in "+-" and k.NUMBER in (left.kind, right.kind):
            bare, other = (expr.left, right) if left.kind is k.NUMBER else (expr.right, left)
            if isinstance(bare, t.Number) and other.kind in (k.LENGTH, k.ANGLE):
                return checker.report(scope, value_words.no_unit(bare.span, bare.written, other.kind.word))
        return checker.report(scope, value_words.mixed(expr.span, expr.operator, left.kind.word, right.kind.word))
    args, chosen = {"left": left, "right": right}, left.chosen or right.chosen
    if left.constant is None or right.constant is None or (expr.operator == "/" and right.constant == 0):
        return checker.node(scope, p.Arithmetic(expr.operator), kind, expr.span, args)
    constant = _compute(expr.operator, left.constant, right.constant)
    if not chosen:
        return checker.constant(scope, kind, constant, expr.span)
    made = checker.node(scope, p.Arithmetic(expr.operator), kind, expr.span, args)
    return replace(made, constant=constant, chosen=True)


def _compute(operator: str, left: float, right: float) -> float:
    match operator:
        case "+":
            return left + right
        case "-":
            return left - right
        case "*":
            return left * right
        case _:
            return left / right


def _result(operator: str, left: k.Kind, right: k.Kind) -> k.Kind | None:
    """Kind of the result, or None where the kinds do not go together."""
    if left not in k.QUANTITIES or right not in k.QUANTITIES:
        return None
    if operator in "+-":
        return left if left == right else None
    if left is k.ANGLE or right is k.ANGLE:
        other = right if left is k.ANGLE else left
        if operator == "*":
            return k.ANGLE if other is k.NUMBER else None
        if left is k.ANGLE:
            return k.ANGLE if right is k.NUMBER else k.NUMBER if right is k.ANGLE else None
        return None
    power = POWER[left] + POWER[right] if operator == "*" else POWER[left] - POWER[right]
    return OF_POWER.get(power)


def _moves(checker: Checker, scope: Scope, expr: t.Moves) -> Typed:
    args = {"start": checker.value(scope, expr.start, k.POINT)}
    for number, (_, amount) in enumerate(expr.steps):
        args[numbered("step", number)] = checker.value(scope, amount, k.LENGTH)
    ways = tuple(direction.word.text for direction, _ in expr.steps)
    return checker.node(scope, p.Moves(ways), k.POINT, expr.span, args)


def _chosen(checker: Checker, scope: Scope, expr: t.Chosen) -> Typed:
    if expr.condition is None:
        return _fallback(checker, scope, expr)
    test = condition(checker, scope, expr.condition)
    if test.kind is k.BROKEN:
        return BROKEN
    if test.constant is not None:  # known without a body: the other arm may not even be drawable, but its names are names
        taken, left = (expr.value, expr.otherwise) if test.constant else (expr.otherwise, expr.value)
        for name in values_in(left):
            known_somehow(checker, scope, name)
        made = checker.value(scope, taken)
        if isinstance(left, t.Number) and made.kind in (k.LENGTH, k.ANGLE):
            return checker.report(scope, value_words.no_unit(left.span, left.written, made.kind.word))
        if isinstance(left, t.Operation) and left.verb.text != "measured":
            verb_known(checker, scope, left)
        return made
    first = checker.value(scope, expr.value)
    second = checker.value(scope, expr.otherwise, None if first.kind is k.BROKEN else first.kind)
    if isinstance(first.kind, k.PieceKind) and isinstance(second.kind, k.PieceKind):
        one, other = (set(kind.sketch.edge_names()) for kind in (first.kind, second.kind))
        if one != other:
            darts = set(first.kind.sketch.dart_names()) ^ set(second.kind.sketch.dart_names())
            return checker.report(scope, words.pieces_differ(expr.span, sorted(one ^ other), sorted(darts)))
    args = {"test": test, "first": first, "second": second}
    return checker.node(scope, p.Chosen(), first.kind, expr.span, args)


def _fallback(checker: Checker, scope: Scope, expr: t.Chosen) -> Typed:
    name = expr.value.text if isinstance(expr.value, t.Name) else ""
    name = canonical(name) or name
    if name not in vocabulary() or scope.holder(name):
        return checker.report(
            scope,
            value_words.wrong_kind(
                expr.value.span, "measurement", "value of the draft", "`otherwise` without `when` follows a measurement"
            ),
        )
    first = named(checker, scope, expr.value) if isinstance(expr.value, t.Name) else BROKEN
    second = checker.value(scope, expr.otherwise, first.kind)
    return checker.node(scope, p.Fallback(name, first.kind is k.ANGLE), first.kind, expr.span, {"second": second})


def condition(checker: Checker, scope: Scope, expr: t.Condition) -> Typed:
    """A condition as a node of kind flag."""
    match expr:
        case t.Plain():
            return checker.value(scope, expr.value, k.FLAG)
        case t.Inverse():
            inner = condition(checker, scope, expr.value)
            made = checker.node(scope, p.Inverse(), k.FLAG, expr.span, {"value": inner})
            return made if inner.constant is None else replace(made, constant=1.0 - inner.constant)
        case t.Joint():
            args = {"left": condition(checker, scope, expr.left), "right": condition(checker, scope, expr.right)}
            made = checker.node(scope, p.Joint(expr.word.text), k.FLAG, expr.span, args)
            return replace(made, constant=_joint(expr.word.text, [one.constant for one in args.values()]))
        case t.Comparison():
            return _comparison(checker, scope, expr)


def _joint(word: str, sides: Sequence[float | None]) -> float | None:
    """What two conditions come to together, where it is known without a body: one may settle it alone."""
    settling = 0.0 if word == "and" else 1.0
    if settling in sides:
        return settling
    return None if None in sides else 1.0 - settling


def _comparison(checker: Checker, scope: Scope, expr: t.Comparison) -> Typed:
    left = checker.value(scope, expr.left)
    if left.kind is not k.BROKEN and left.kind not in k.QUANTITIES:
        return checker.report(scope, value_words.wrong_kind(expr.left.span, "length", left.kind.word))
    want = None if left.kind is k.BROKEN else left.kind
    args = {"left": left, "right": checker.value(scope, expr.right, want)}
    if expr.extra is not None:
        args["extra"] = checker.value(scope, expr.extra, want)
    if expr.extra is not None and expr.word.text == "between" and reversed_bounds(args["right"], args["extra"]):
        return checker.report(scope, value_words.bounds_reversed(expr.right.span.to(expr.extra.span)))
    made = checker.node(scope, p.Comparison(expr.word.text), k.FLAG, expr.span, args)
    known = [arg.constant for arg in args.values() if arg.constant is not None]
    if made.kind is k.BROKEN or len(known) < len(args):
        return made
    return replace(made, constant=float(compared(expr.word.text, *known)))
