"""Definitions by kind: what may stand on the right of each, and the node it becomes."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from ..diagnostics import chain_words, specification_words, value_words
from ..diagnostics import meaning_words as words
from ..syntax import tree as t
from ..syntax.words import WORDED
from ..verbs import kinds as k
from ..verbs.registry import verbs
from . import payloads as p
from .both_sides import sewn_twice, with_both
from .chains import before_last, in_hand, parts_known
from .checker import BROKEN, Checker, Scope
from .drawn_in import drawn_round
from .edge_ends import ends_of
from .expressions import condition
from .operations import apply, called
from .outlines import finish, outline, redrawn
from .recipes import TAKEN, declare, within, written
from .style import BlockKind, Choice, Typed, reversed_bounds
from .tables import table
from .told_apart import head_of
from .units import UNITS

SENTENCE_VERBS = ("line", "curve", "seam", *WORDED)


def define(checker: Checker, scope: Scope, sentence: t.Definition | t.Solve) -> Typed:
    """The node of a definition; broken, and noted as absent, where its `when` does not hold: its errors are told all the same."""
    if isinstance(sentence, t.Solve):
        return _solve(checker, scope, sentence)
    made = _defined(checker, scope, sentence)
    if sentence.when is None or is_there(checker, scope, sentence.when):
        return made
    checker.absent[sentence.name.text] = sentence.when.span
    return BROKEN


def is_there(checker: Checker, scope: Scope, when: t.Condition) -> bool:
    """Whether a sentence with this `when` is in the style: one for all bodies, so that they share its pieces and seams."""
    if scope.parent is not None:
        checker.report(scope, words.misplaced(when.span, "when", "a whole sentence takes `when` in a style, not inside braces"))
        return False
    test = condition(checker, scope, when)
    if test.kind is not k.BROKEN and test.constant is None:
        checker.report(scope, words.differs_by_body(when.span))
    return bool(test.constant)


def _defined(checker: Checker, scope: Scope, sentence: t.Definition) -> Typed:
    holder = scope.holders.get(sentence.name.text)
    if isinstance(holder, t.Each):
        return _repeat(checker, scope, holder, sentence.name.text)
    kind = sentence.kind.text
    if kind == "table":
        return table(checker, scope, sentence)
    if kind == "choice":
        return _choice(checker, scope, sentence)
    if kind in ("shape", "piece"):
        return _piece(checker, scope, sentence)
    if kind in WORDED and sentence.value is not None:
        return checker.report(scope, specification_words.no_equals(sentence.value.span, kind, verbs()[kind].example))
    if kind in SENTENCE_VERBS and sentence.value is None:
        return _drawn(checker, scope, sentence, kind)
    if sentence.value is None:
        place = sentence.name.span
        return checker.report(
            scope, value_words.lacks_value(place, sentence.name.text, f"write `{kind} {sentence.name.text} = …`")
        )
    found = checker.value(scope, sentence.value, _wanted(kind))
    if darts := scope.drafted.get(sentence.name.text):
        where = f"draw `{sentence.name.text}` with `line` or `curve … from … to …`, or place the dart `at` a distance"
        return checker.report(scope, words.misplaced(darts[0].span, "dart", where))
    if isinstance(found.kind, k.PathKind) and (ends := ends_of(sentence)) is not None:
        return replace(found, kind=k.PathKind("curve", ends))
    return found


def _wanted(kind: str) -> k.Kind:
    if kind == "lines":
        return k.CUTS
    return TAKEN.get(kind, k.Kind(kind))


def _drawn(checker: Checker, scope: Scope, sentence: t.Definition, kind: str) -> Typed:
    """`line shoulder from a to b`, `curve neckline from … leaving …`, `seam side joins … to …`."""
    if kind == "seam" and (twice := sewn_twice(checker, scope, sentence)) is not None:
        return _seam_of_both(checker, scope, twice)
    clauses = with_both(checker, scope, sentence.clauses)
    made = apply(checker, scope, verbs()[kind], None, clauses, sentence.span)
    if kind == "trim":
        return drawn_round(checker, scope, made)
    if isinstance(made.kind, k.PathKind):
        opens = sentence.name.text in scope.drafted  # the darts are cut into it when the whole outline is known
        ends = ends_of(sentence)
        made = replace(made, kind=k.OpenedKind("curve with a dart in it", ends) if opens else k.PathKind("curve", ends))
    return made


def _seam_of_both(checker: Checker, scope: Scope, twice: Mapping[str, t.Definition]) -> Typed:
    """A seam sewn on the left and on the right, as a block of both; broken where there is none to sew."""
    members: dict[str, tuple[k.Kind, int]] = {}
    span, name = checker.sentence[-1]
    for side, one in twice.items():
        made = apply(checker, scope, verbs()["seam"], None, with_both(checker, scope, one.clauses, side), one.span)
        if made.kind is k.BROKEN:
            return BROKEN
        members[side] = made.kind, made.node
        checker.names.setdefault(f"{name}.{side}", made.node)
        checker.definitions.setdefault(f"{name}.{side}", span)
    places = {side: twice[side].name.span for side in members}
    return Typed(BlockKind("seam on both sides", members, places=places), -1) if members else BROKEN


def _choice(checker: Checker, scope: Scope, sentence: t.Definition) -> Typed:
    """A choice: an input of the style, that is its default, or what was set, within its bounds; known without a body."""
    if sentence.value is None:
        return checker.report(scope, value_words.lacks_value(sentence.name.span, sentence.name.text, "its default"))
    default = checker.value(scope, sentence.value)
    if default.constant is None:
        if default.kind is k.BROKEN:
            return BROKEN
        return checker.report(scope, value_words.not_constant(sentence.value.span, sentence.name.text))
    name = sentence.name.text
    if sentence.bounds is not None and not _is_bounded_alike(checker, scope, sentence.value, sentence.bounds, default):
        return BROKEN
    given = checker.settings.get(name)
    if given is not None and given[0] != default.kind:
        example = written(default.constant, default.kind)
        place = sentence.name.span
        checker.report(scope, value_words.bad_setting(name, given[0].word, default.kind.word, example, place))
        given = None
    whole = f"{scope.prefix}{name}"
    checker.chosen[whole] = default.constant if given is None else given[1]
    made = checker.node(scope, p.Setting(whole, default.kind is k.FLAG), default.kind, sentence.span)
    chosen = replace(made, constant=checker.chosen[whole], chosen=True)
    low = high = None
    if (bounds := sentence.bounds) is not None:
        ends = (checker.value(scope, bounds.low, default.kind), checker.value(scope, bounds.high, default.kind))
        within(checker, scope, name, bounds, ends, default, sentence.value.span)
        if given is not None:
            chosen = within(checker, scope, name, bounds, ends, chosen, sentence.name.span)
        low, high = (one.constant for one in ends)
    text = sentence.text.value if sentence.text else ""
    checker.choices.append(Choice(name, default.kind, default.constant, low, high, text, sentence.span))
    return chosen


def _is_bounded_alike(checker: Checker, scope: Scope, written: t.Expr, bounds: t.Bounds, default: Typed) -> bool:
    """Whether a default is of the kind of its bounds; where these agree and it does not, it is what is told."""
    low, high = (one.value if isinstance(one, t.Negative) else one for one in (bounds.low, bounds.high))
    if not isinstance(low, t.Quantity) or not isinstance(high, t.Quantity):
        return True
    kind, other = UNITS[low.unit][0], UNITS[high.unit][0]
    if kind != other or kind == default.kind:
        return True
    if isinstance(written, t.Number):
        checker.report(scope, value_words.no_unit(written.span, written.written, kind.word))
    else:
        checker.report(scope, value_words.wrong_kind(written.span, kind.word, default.kind.word))
    return False


def _known(found: Typed) -> k.Kind | None:
    return None if found.kind is k.BROKEN else found.kind


def _solve(checker: Checker, scope: Scope, sentence: t.Solve) -> Typed:
    """A solve: its node stands before what rests on it; its equation is settled when all else is made."""
    goal = sentence.condition
    if not isinstance(goal, t.Comparison) or goal.extra is None or goal.word.text != "equals":
        return checker.report(scope, words.solve_needs_equals(goal.span))
    low = checker.value(scope, sentence.bounds.low)
    if low.kind is not k.BROKEN and low.kind not in k.MEASURED:
        low = checker.report(scope, value_words.wrong_kind(sentence.bounds.low.span, "length", low.kind.word))
    within = checker.value(scope, goal.extra)
    args = {"low": low, "high": checker.value(scope, sentence.bounds.high, _known(low)), "within": within}
    if reversed_bounds(low, args["high"]):
        return checker.report(scope, value_words.bounds_reversed(sentence.bounds.low.span.to(sentence.bounds.high.span)))
    advice = sentence.text.value if sentence.text else ""
    solve = p.Solve(sentence.name.text, advice, sentence.kept)
    unknown = checker.node(scope, solve, low.kind, sentence.span, args)
    if unknown.kind is k.BROKEN:
        return unknown
    checker.unsettled.append((scope, sentence, unknown))
    return unknown


def settle(checker: Checker) -> None:
    """The equations of all solves: they are measured on what rests on the unknown, so all of that is made first."""
    while checker.unsettled:
        scope, sentence, unknown = checker.unsettled.pop(0)
        checker.sentence.append((sentence.span, f"{scope.prefix}{sentence.name.text}"))
        _equation(checker, scope, sentence, unknown)
        checker.sentence.pop()


def _equation(checker: Checker, scope: Scope, sentence: t.Solve, unknown: Typed) -> None:
    goal = sentence.condition
    assert isinstance(goal, t.Comparison)
    assert goal.extra is not None
    left = checker.value(scope, goal.left)
    if left.kind is not k.BROKEN and left.kind not in k.QUANTITIES:
        left = checker.report(scope, value_words.wrong_kind(goal.left.span, "length", left.kind.word))
    right = checker.value(scope, goal.right, _known(left))
    if BROKEN in (left, right):
        return
    node = checker.nodes[unknown.node]
    within = checker.nodes[node.args["within"]].kind
    if within != left.kind:
        checker.report(scope, value_words.wrong_kind(goal.extra.span, left.kind.word, within.word))
    assert isinstance(node.payload, p.Solve)
    checker.nodes[unknown.node] = replace(node, payload=replace(node.payload, left=left.node, right=right.node))


def _piece(checker: Checker, scope: Scope, sentence: t.Definition) -> Typed:
    """A shape, which is worked on, or a piece, which is cut: only a style cuts."""
    name, cut = sentence.name, says_cut(sentence)
    if sentence.kind.text == "shape" and cut:
        checker.report(scope, chain_words.shape_is_cut(name.span, name.text))
    elif sentence.kind.text == "piece" and scope is not checker.style:
        checker.report(scope, chain_words.cut_in_recipe(name.span, name.text))
    made = _outlined(checker, scope, sentence)
    is_read = made.kind is not k.BROKEN and not any(isinstance(one, t.Broken) for one in sentence.block or ())
    if sentence.kind.text == "piece" and scope is checker.style and not cut and is_read:
        checker.report(scope, chain_words.never_cut(name.span, name.text))
    return made


def says_cut(sentence: t.Definition) -> bool:
    return any(isinstance(one, t.Statement) and one.verb.text == "cut" for one in sentence.block or ())


def _outlined(checker: Checker, scope: Scope, sentence: t.Definition) -> Typed:
    """What is drawn in braces, drawn anew in them, or made by a value that braces say more of."""
    if sentence.value is None:
        if sentence.block is None:
            return checker.report(
                scope, value_words.lacks_value(sentence.name.span, sentence.name.text, "an outline in braces, or `=`")
            )
        return outline(checker, scope, sentence)
    last = sentence.value.links[-1] if isinstance(sentence.value, t.Chain) else sentence.value
    if isinstance(last, t.Operation) and last.verb.text == "replace" and sentence.block is not None:
        if not isinstance(sentence.value, t.Chain):
            return redrawn(checker, scope, sentence, last)
        before = before_last(checker, scope, sentence.value)
        if before.kind is k.BROKEN:
            return BROKEN
        inner = in_hand(scope, before, called(sentence.value))
        return redrawn(checker, inner, sentence, last) if parts_known(checker, inner, last, before) else BROKEN
    made = checker.value(scope, sentence.value, k.Kind("piece"))
    if sentence.block is None:
        return made
    return finish(checker, scope, sentence, made)


def _repeat(checker: Checker, scope: Scope, each: t.Each, wanted: str) -> Typed:
    """Write out a repeat: every definition inside becomes a set of items keyed k1, k2, …"""
    low, high = (checker.value(scope, one, k.NUMBER).constant for one in (each.low, each.high))
    limit = checker.value(scope, each.limit, k.NUMBER).constant if each.limit is not None else 100.0
    if low is None or high is None or limit is None:
        place = each.low if low is None else each.high
        return checker.report(scope, value_words.not_constant(place.span, each.name.text))
    if high - low + 1 > limit:
        return checker.report(scope, words.too_many(each.span, round(limit)))
    for one in each.block:
        if not isinstance(one, (t.Definition, t.Solve, t.Gives, t.Each, t.Broken)):
            fix = "take it out of the braces: only what is defined is made for each number"
            return checker.report(scope, words.misplaced(one.span, head_of(one), fix))
    members: dict[str, dict[str, tuple[k.Kind, int]]] = {}
    for number in range(round(low), round(high) + 1):
        inner = Scope(scope.file, scope, f"{scope.prefix}{each.name.text}{number}.", scope.trace)
        inner.places[each.name.text] = each.name.span
        inner.known[each.name.text] = checker.constant(scope, k.NUMBER, float(number), each.name.span)
        declare(checker, inner, each.block)
        for name in inner.sentences:
            found = checker.lookup(inner, inner.sentences[name].name) or BROKEN
            members.setdefault(name, {})[f"k{number}"] = (found.kind, found.node)
    for name, keyed in members.items():
        scope.known[name] = Typed(BlockKind("set", keyed, places=dict.fromkeys(keyed, inner.sentences[name].name.span)), -1)
    return scope.known.get(wanted, BROKEN)
