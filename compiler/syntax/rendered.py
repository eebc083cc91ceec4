"""An expression or a condition of the tree -> its text: one space between words, brackets where they are needed, no comments."""

from __future__ import annotations

from collections.abc import Sequence

from . import tree as t
from .joints import literal
from .words import JOINERS

# How tightly parts bind, as in the grammar; looser ones stand in brackets inside tighter ones.
_CHOICE, _OR, _AND, _NOT, _TEST, _DOING, _LIST, _MOVES, _ITEM, _SUM, _PRODUCT, _OPERAND, _ATOM = range(13)
_JOINT = {"or": _OR, "and": _AND}
_ARITHMETIC = {"+": _SUM, "-": _SUM, "*": _PRODUCT, "/": _PRODUCT}
_BINDING: dict[type, int] = {
    t.Chosen: _CHOICE,
    t.Chain: _CHOICE,
    t.Inverse: _NOT,
    t.Comparison: _TEST,
    t.Operation: _DOING,
    t.Heading: _LIST,
    t.Direction: _LIST,
    t.Text: _LIST,
    t.Listed: _LIST,
    t.Moves: _MOVES,
    t.Spot: _ITEM,
    t.Between: _ITEM,
    t.SoFar: _ITEM,
    t.Of: _OPERAND,
    t.Negative: _OPERAND,
}


def rendered(node: t.Expr | t.Condition, least: int = _CHOICE) -> str:
    """The text of an expression, in brackets where it binds less tightly than what it stands in."""
    if isinstance(node, t.Plain):
        return rendered(node.value, least)
    text = _condition(node) if isinstance(node, (t.Comparison, t.Joint, t.Inverse)) else _value(node)
    return f"({text})" if _binding(node) < least else text


def _binding(node: t.Expr | t.Condition) -> int:
    if isinstance(node, t.Joint):
        return _JOINT[node.word.text]
    if isinstance(node, t.Arithmetic):
        return _ARITHMETIC[node.operator]
    return _BINDING.get(type(node), _ATOM)


def _condition(node: t.Comparison | t.Joint | t.Inverse) -> str:
    match node:
        case t.Inverse():
            return f"not {rendered(node.value, _NOT)}"
        case t.Joint():
            binding = _JOINT[node.word.text]
            return f"{rendered(node.left, binding)} {node.word.text} {rendered(node.right, binding + 1)}"
        case t.Comparison():
            joined = "tolerance" if node.word.text == "equals" else "and"
            extra = "" if node.extra is None else f" {joined} {rendered(node.extra, _MOVES)}"
            return f"{rendered(node.left, _LIST)} {node.word.text} {rendered(node.right, _MOVES)}{extra}"


def _value(node: t.Expr) -> str:  # one line for each class of expression
    match node:
        case t.Name():
            return node.text
        case t.Number():
            return node.written
        case t.Quantity():
            return f"{node.written} {node.unit}"
        case t.Text():
            return f'"{node.value}"'
        case t.Flag():
            return "yes" if node.value else "no"
        case t.Direction():
            return node.word.text
        case t.Heading():
            return f"{node.word.text} {rendered(node.target, _ATOM)}"
        case t.Of():
            return f"{node.word.text} of {rendered(node.target, _ATOM)}"
        case t.Negative():
            return f"-{rendered(node.value, _ATOM if isinstance(node.value, t.Negative) else _OPERAND)}"
        case t.Arithmetic():
            return _arithmetic(node)
        case t.Moves():
            steps = (f" {way.word.text} {'' if literal(far) else 'by '}{rendered(far, _ITEM)}" for way, far in node.steps)
            return f"{rendered(node.start, _ITEM)}{''.join(steps)}"
        case t.SoFar():
            return f"{rendered(node.value, _SUM)} from {rendered(node.end, _ATOM)}"
        case t.Spot():
            return f"{rendered(node.edge, _SUM)} at {_place(node.place)}"
        case t.Between():
            return f"{rendered(node.value, _SUM)} {node.word.text} {_place(node.low)} and {_place(node.high)}"
        case t.Listed():
            return ", ".join(rendered(item, _MOVES) for item in node.items)
        case t.Chosen():
            when = "" if node.condition is None else f" when {rendered(node.condition, _OR)}"
            return f"{rendered(node.value, _OR)}{when} otherwise {rendered(node.otherwise)}"
        case t.Chain():
            return " then ".join(rendered(link, _DOING) for link in (node.start, *node.links))
        case t.Operation():
            return " ".join((node.verb.text, *_told(node)))


def _place(node: t.Expr) -> str:
    return rendered(node) if isinstance(node, t.SoFar) else rendered(node, _SUM)


def _arithmetic(node: t.Arithmetic) -> str:
    binding = _ARITHMETIC[node.operator]
    left, right = rendered(node.left, binding), rendered(node.right, binding + 1)
    fraction = node.operator == "/" and isinstance(node.left, t.Number) and isinstance(node.right, t.Number)
    return f"{left}/{right}" if fraction else f"{left} {node.operator} {right}"


def _told(node: t.Operation) -> Sequence[str]:
    """What follows a verb: what it works on, or `with` where a plain word comes first, then words and values in turn."""
    found = [] if node.subject is None else [rendered(node.subject, _LIST)]
    handed = [clause.word.text for clause in node.clauses if clause.word.span == clause.value.span]
    said = [f"{one.word.text} {_given(one.value)}" for one in node.clauses if one.word.span != one.value.span]
    if not found and node.clauses and node.clauses[0].word.text not in JOINERS and said:
        found.append("with")
    return [*found, *said, *([f"using {', '.join(handed)}"] if handed else [])]


def _given(node: t.Expr) -> str:
    return rendered(node) if isinstance(node, t.SoFar) else rendered(node, _LIST)
