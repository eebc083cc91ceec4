"""The small words that stand before a value for the ear alone: `by` in a step, `of` behind a word. They leave nothing in the
tree.

Written out, `by` stands before all but a plain measure (`waist up 3 cm`, `waist up by collar_depth`): a name behind a direction
is heard as one word with it. `of` stays where it was written, but not before a plain number: from a word alone no one can tell
whether it is a noun.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from .expressions import Clause, Expr, Moves, Negative, Number, Quantity
from .tokens import Token
from .tree import Sentence, held, within


def literal(value: Expr) -> bool:
    """Whether it is a number, with or without a unit."""
    return isinstance(value.value if isinstance(value, Negative) else value, (Number, Quantity))


def jointed(tokens: Sequence[Token], sentence: Sentence) -> list[Token]:
    """The tokens of a sentence with these words where they are wanted, and only there."""
    wanted = dict(_joints(held(sentence)))
    made: list[Token] = []
    before: Token | None = None
    for token in tokens:
        said = wanted.get(before.end) if before is not None else None
        if said == "by" and before is not None and token.type != "BY":
            made.append(Token("BY", "by", before.end, before.end, before.file))
        if not (said == "" and token.type in ("BY", "OF")):
            made.append(token)
        before = token
    return made


def _joints(node: object) -> Iterator[tuple[int, str]]:
    """Behind which places, as where a word ends, `by` is said, or neither word."""
    if isinstance(node, Moves):
        for direction, far in node.steps:
            yield direction.span.end, "" if literal(far) else "by"
    elif isinstance(node, Clause) and literal(node.value):
        yield node.word.span.end, ""
    for one in within(node, braces=False):
        yield from _joints(one)
