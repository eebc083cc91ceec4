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
from .bench import BROKEN, Bench, Scope
from .both_sides import sewn_twice, with_both
from .chains import before_last, in_hand, parts_known
from .expressions import condition
from .operations import apply, called
from .outlines import finish, outline, redrawn
from .recipes import TAKEN, declare, within, written
from .style import Choice, Typed, reversed_bounds
from .tables import table
from .told_apart import head_of

SENTENCE_VERBS = ("line", "curve", "seam", *WORDED)


def define(bench: Bench, scope: Scope, sentence: t.Definition | t.Solve) -> Typed:
    """The node of a definition; broken, and noted as absent, where its `when` does not hold: its errors are told all the same."""
    if isinstance(sentence, t.Solve):
        return _solve(bench, scope, sentence)
    made = _defined(bench, scope, sentence)
    if sentence.when is None or is_there(bench, scope, sentence.when):
        return made
    bench.absent[sentence.name.text] = sentence.when.span
    return BROKEN


def is_there(bench: Bench, scope: Scope, when: t.Condition) -> bool:
    """Whether a sentence with this `when` is in the style: one for all bodies, so that they share its pieces and seams."""
    if scope.parent is not None:
        bench.report(scope, words.misplaced(when.span, "when", "a whole sentence takes `when` in a style, not inside braces"))
        return False
    test = condition(bench, scope, when)
    if test.kind is not k.BROKEN and test.constant is None:
        bench.report(scope, words.differs_by_body(when.span))
    return bool(test.constant)


def _defined(bench: Bench, scope: Scope, sentence: t.Definition) -> Typed:
    holder = scope.holders.get(sentence.name.text)
    if isinstance(holder, t.Each):
        return _repeat(bench, scope, holder, sentence.name.text)
    kind = sentence.kind.text
    if kind == "table":
        return table(bench, scope, sentence)
    if kind == "choice":
        return _choice(bench, scope, sentence)
    if kind in ("shape", "piece"):
        return _piece(bench, scope, sentence)
    if kind in WORDED and sentence.value is not None:
        return bench.report(scope, specification_words.no_equals(sentence.value.span, kind, verbs()[kind].example))
    if kind in SENTENCE_VERBS and sentence.value is None:
        return _drawn(bench, scope, sentence, kind)
    if sentence.value is None:
        place = sentence.name.span
        return bench.report(
            scope, value_words.lacks_value(place, sentence.name.text, f"write `{kind} {sentence.name.text} = …`")
        )
    found = bench.value(scope, sentence.value, _wanted(kind))
    if darts := scope.drafted.get(sentence.name.text):
        where = f"draw `{sentence.name.text}` with `line` or `curve … from … to …`, or place the dart `at` a distance"
        return bench.report(scope, words.misplaced(darts[0].span, "dart", where))
    if isinstance(found.kind, k.PathKind) and (ends := ends_of(sentence)) is not None:
        return replace(found, kind=k.PathKind("curve", ends))
    return found


def _wanted(kind: str) -> k.Kind:
    if kind == "lines":
        return k.CUTS
    return TAKEN.get(kind, k.Kind(kind))


def _drawn(bench: Bench, scope: Scope, sentence: t.Definition, kind: str) -> Typed:
    """`line shoulder from a to b`, `curve neckline from … leaving …`, `seam side joins … to …`."""
    if kind == "seam" and (twice := sewn_twice(bench, scope, sentence)) is not None:
        return _seam_of_both(bench, scope, twice)
    clauses = with_both(bench, scope, sentence.clauses)
    made = apply(bench, scope, verbs()[kind], None, clauses, sentence.span)
    if isinstance(made.kind, k.PathKind):
        opens = sentence.name.text in scope.drafted  # the darts are cut into it when the whole outline is known
        ends = ends_of(sentence)
        made = replace(made, kind=k.OpenedKind("curve with a dart in it", ends) if opens else k.PathKind("curve", ends))
    return made


def _seam_of_both(bench: Bench, scope: Scope, twice: Mapping[str, t.Definition]) -> Typed:
    """A seam sewn on the left and on the right, as a block of both; broken where there is none to sew."""
    members: dict[str, tuple[k.Kind, int]] = {}
    span, name = bench.sentence[-1]
    for side, one in twice.items():
        made = apply(bench, scope, verbs()["seam"], None, with_both(bench, scope, one.clauses, side), one.span)
        if made.kind is k.BROKEN:
            return BROKEN
        members[side] = made.kind, made.node
        bench.names.setdefault(f"{name}.{side}", made.node)
        bench.definitions.setdefault(f"{name}.{side}", span)
    return Typed(k.BlockKind("seam on both sides", members), -1) if members else BROKEN


def ends_of(sentence: t.Definition) -> tuple[str, str] | None:
    """The names of the points an edge runs between, from its own words or those of the verb that makes it."""
    clauses = sentence.clauses
    if isinstance(sentence.value, t.Operation):
        clauses = sentence.value.clauses
    ends = {clause.word.text: clause.value for clause in clauses if clause.word.text in ("from", "to")}
    first, last = ends.get("from"), ends.get("to")
    return (first.text, last.text) if isinstance(first, t.Name) and isinstance(last, t.Name) else None


def _choice(bench: Bench, scope: Scope, sentence: t.Definition) -> Typed:
    """A choice: an input of the style, that is its default, or what was set, within its bounds; known without a body."""
    if sentence.value is None:
        return bench.report(scope, value_words.lacks_value(sentence.name.span, sentence.name.text, "its default"))
    default = bench.value(scope, sentence.value)
    if default.constant is None:
        if default.kind is k.BROKEN:
            return BROKEN
        return bench.report(scope, value_words.not_constant(sentence.value.span, sentence.name.text))
    name = sentence.name.text
    given = bench.settings.get(name)
    if given is not None and given[0] != default.kind:
        example = written(default.constant, default.kind)
        place = sentence.name.span
        bench.report(scope, value_words.bad_setting(name, given[0].word, default.kind.word, example, place))
        given = None
    whole = f"{scope.prefix}{name}"
    bench.chosen[whole] = default.constant if given is None else given[1]
    made = bench.node(scope, p.Setting(whole, default.kind is k.FLAG), default.kind, sentence.span)
    chosen = replace(made, constant=bench.chosen[whole], chosen=True)
    low = high = None
    if (bounds := sentence.bounds) is not None:
        ends = (bench.value(scope, bounds.low, default.kind), bench.value(scope, bounds.high, default.kind))
        within(bench, scope, name, bounds, ends, default, sentence.value.span)
        if given is not None:
            chosen = within(bench, scope, name, bounds, ends, chosen, sentence.name.span)
        low, high = (one.constant for one in ends)
    text = sentence.text.value if sentence.text else ""
    bench.choices.append(Choice(name, default.kind, default.constant, low, high, text, sentence.span))
    return chosen


def _known(found: Typed) -> k.Kind | None:
    return None if found.kind is k.BROKEN else found.kind


def _solve(bench: Bench, scope: Scope, sentence: t.Solve) -> Typed:
    """A solve: its node stands before what rests on it; its equation is settled when all else is made."""
    goal = sentence.condition
    if not isinstance(goal, t.Comparison) or goal.extra is None or goal.word.text != "equals":
        return bench.report(scope, words.solve_needs_equals(goal.span))
    low = bench.value(scope, sentence.bounds.low)
    if low.kind is not k.BROKEN and low.kind not in k.MEASURED:
        low = bench.report(scope, value_words.wrong_kind(sentence.bounds.low.span, "length", low.kind.word))
    within = bench.value(scope, goal.extra)
    args = {"low": low, "high": bench.value(scope, sentence.bounds.high, _known(low)), "within": within}
    if reversed_bounds(low, args["high"]):
        return bench.report(scope, value_words.bounds_reversed(sentence.bounds.low.span.to(sentence.bounds.high.span)))
    advice = sentence.text.value if sentence.text else ""
    solve = p.Solve(sentence.name.text, advice, sentence.kept)
    unknown = bench.node(scope, solve, low.kind, sentence.span, args)
    if unknown.kind is k.BROKEN:
        return unknown
    bench.unsettled.append((scope, sentence, unknown))
    return unknown


def settle(bench: Bench) -> None:
    """The equations of all solves: they are measured on what rests on the unknown, so all of that is made first."""
    while bench.unsettled:
        scope, sentence, unknown = bench.unsettled.pop(0)
        bench.sentence.append((sentence.span, f"{scope.prefix}{sentence.name.text}"))
        _equation(bench, scope, sentence, unknown)
        bench.sentence.pop()


def _equation(bench: Bench, scope: Scope, sentence: t.Solve, unknown: Typed) -> None:
    goal = sentence.condition
    assert isinstance(goal, t.Comparison)
    assert goal.extra is not None
    left = bench.value(scope, goal.left)
    if left.kind is not k.BROKEN and left.kind not in k.QUANTITIES:
        left = bench.report(scope, value_words.wrong_kind(goal.left.span, "length", left.kind.word))
    right = bench.value(scope, goal.right, _known(left))
    if BROKEN in (left, right):
        return
    node = bench.nodes[unknown.node]
    within = bench.nodes[node.args["within"]].kind
    if within != left.kind:
        bench.report(scope, value_words.wrong_kind(goal.extra.span, left.kind.word, within.word))
    assert isinstance(node.payload, p.Solve)
    bench.nodes[unknown.node] = replace(node, payload=replace(node.payload, left=left.node, right=right.node))


def _piece(bench: Bench, scope: Scope, sentence: t.Definition) -> Typed:
    """A shape, which is worked on, or a piece, which is cut: only a style cuts."""
    name, cut = sentence.name, says_cut(sentence)
    if sentence.kind.text == "shape" and cut:
        bench.report(scope, chain_words.shape_is_cut(name.span, name.text))
    elif sentence.kind.text == "piece" and scope is not bench.style:
        bench.report(scope, chain_words.cut_in_recipe(name.span, name.text))
    elif sentence.kind.text == "piece" and not cut and not any(isinstance(one, t.Broken) for one in sentence.block or ()):
        bench.report(scope, chain_words.never_cut(name.span, name.text))
    return _outlined(bench, scope, sentence)


def says_cut(sentence: t.Definition) -> bool:
    return any(isinstance(one, t.Statement) and one.verb.text == "cut" for one in sentence.block or ())


def _outlined(bench: Bench, scope: Scope, sentence: t.Definition) -> Typed:
    """What is drawn in braces, drawn anew in them, or made by a value that braces say more of."""
    if sentence.value is None:
        if sentence.block is None:
            return bench.report(
                scope, value_words.lacks_value(sentence.name.span, sentence.name.text, "an outline in braces, or `=`")
            )
        return outline(bench, scope, sentence)
    last = sentence.value.links[-1] if isinstance(sentence.value, t.Chain) else sentence.value
    if isinstance(last, t.Operation) and last.verb.text == "replace" and sentence.block is not None:
        if not isinstance(sentence.value, t.Chain):
            return redrawn(bench, scope, sentence, last)
        before = before_last(bench, scope, sentence.value)
        if before.kind is k.BROKEN:
            return BROKEN
        inner = in_hand(scope, before, called(sentence.value))
        return redrawn(bench, inner, sentence, last) if parts_known(bench, inner, last, before) else BROKEN
    made = bench.value(scope, sentence.value, k.Kind("piece"))
    if sentence.block is None:
        return made
    return finish(bench, scope, sentence, made)


def _repeat(bench: Bench, scope: Scope, each: t.Each, wanted: str) -> Typed:
    """Write out a repeat: every definition inside becomes a set of items keyed k1, k2, …"""
    low, high = (bench.value(scope, one, k.NUMBER).constant for one in (each.low, each.high))
    limit = bench.value(scope, each.limit, k.NUMBER).constant if each.limit is not None else 100.0
    if low is None or high is None or limit is None:
        place = each.low if low is None else each.high
        return bench.report(scope, value_words.not_constant(place.span, each.name.text))
    if high - low + 1 > limit:
        return bench.report(scope, words.too_many(each.span, round(limit)))
    for one in each.block:
        if not isinstance(one, (t.Definition, t.Solve, t.Gives, t.Each, t.Broken)):
            fix = "take it out of the braces: only what is defined is made for each number"
            return bench.report(scope, words.misplaced(one.span, head_of(one), fix))
    members: dict[str, dict[str, tuple[k.Kind, int]]] = {}
    for number in range(round(low), round(high) + 1):
        inner = Scope(scope.file, scope, f"{scope.prefix}{each.name.text}{number}.", scope.trace)
        inner.places[each.name.text] = each.name.span
        inner.known[each.name.text] = bench.constant(scope, k.NUMBER, float(number), each.name.span)
        declare(bench, inner, each.block)
        for name in inner.sentences:
            found = bench.lookup(inner, inner.sentences[name].name) or BROKEN
            members.setdefault(name, {})[f"k{number}"] = (found.kind, found.node)
    for name, keyed in members.items():
        scope.known[name] = Typed(k.BlockKind("set", keyed), -1)
    return scope.known.get(wanted, BROKEN)
