"""The tree of a style: its sentences, each with its place. It says what was written, not what it means.

What stands in the sentences is in `expressions`, and part of the tree.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, fields, is_dataclass

from ..diagnostics.diagnostic import Span
from .expressions import (
    Arithmetic,
    Between,
    Chain,
    Chosen,
    Clause,
    Comparison,
    Condition,
    Direction,
    Expr,
    Flag,
    Heading,
    Inverse,
    Joint,
    Listed,
    Moves,
    Name,
    Negative,
    Number,
    Of,
    Operation,
    Plain,
    Quantity,
    SoFar,
    Spot,
    Text,
    Word,
)

__all__ = [
    "Add",
    "Arithmetic",
    "Between",
    "Bounds",
    "Broken",
    "Chain",
    "Change",
    "ChangeValues",
    "Check",
    "Chosen",
    "Clause",
    "Comment",
    "Comparison",
    "Condition",
    "Definition",
    "Direction",
    "Each",
    "EachPiece",
    "Edit",
    "Expr",
    "Flag",
    "Gives",
    "GivesAll",
    "Heading",
    "Inverse",
    "Joint",
    "Language",
    "Listed",
    "Made",
    "Moves",
    "Name",
    "Needs",
    "Negative",
    "Number",
    "Of",
    "Operation",
    "Plain",
    "Quantity",
    "Recipe",
    "Sentence",
    "SoFar",
    "Solve",
    "Spot",
    "Statement",
    "StyleFile",
    "Takes",
    "TakesAll",
    "Text",
    "Title",
    "Use",
    "Without",
    "Word",
    "held",
    "within",
    "written",
]


@dataclass(frozen=True, slots=True)
class Language:
    """`language 1`."""

    version: Word
    span: Span


@dataclass(frozen=True, slots=True)
class Title:
    """`style "Concert top"`; `style "Long top" from concert_top` is built from another, its base."""

    text: Text
    base: Word | None
    span: Span


@dataclass(frozen=True, slots=True)
class Use:
    """`use bodice from blocks/bodice`, several names as `use a, b from m`."""

    names: tuple[Word, ...]
    module: Word
    span: Span


@dataclass(frozen=True, slots=True)
class Bounds:
    """`between low and high` of a choice or of what a recipe takes."""

    low: Expr
    high: Expr
    span: Span


@dataclass(frozen=True, slots=True)
class Definition:
    """`kind name = value` or `kind name word value …`, with an optional block in braces and an optional text, last.

    Covers points, lengths, lines, curves, pieces, darts, seams, choices. Exactly one of `value` and `clauses` is used
    (clauses may be empty when only a block is given). `bounds` belong to a choice; `when` says that a piece, a seam or a
    sentence of the specification is there only then.
    """

    kind: Word
    name: Word
    value: Expr | None
    clauses: tuple[Clause, ...]
    bounds: Bounds | None
    text: Text | None
    block: tuple[Sentence, ...] | None
    span: Span
    when: Condition | None = None


@dataclass(frozen=True, slots=True)
class Check:
    """`check name that condition "text"`; with `when` it is made only then.

    `tells`: written `tell name when condition "text"`; where it holds that is told, and nothing fails.
    """

    name: Word
    condition: Condition
    text: Text | None
    span: Span
    when: Condition | None = None
    tells: bool = False


@dataclass(frozen=True, slots=True)
class Solve:
    """`solve width between low and high that a equals b tolerance t "text"`: the length for which the condition holds.

    `kept`: written `solve width kept between …`; where none is found, the bound with less left over is the answer.
    """

    name: Word
    bounds: Bounds
    condition: Condition
    text: Text | None
    span: Span
    kept: bool = False


@dataclass(frozen=True, slots=True)
class Recipe:
    """`block bodice "…" { … }` or `recipe kimono "…" { … }`; `kind` is the word."""

    kind: Word
    name: Word
    text: Text | None
    block: tuple[Sentence, ...]
    span: Span


@dataclass(frozen=True, slots=True)
class Takes:
    """`takes length bust_ease = 8 cm between 0 cm and 30 cm "…"`; a piece: `takes shape draft`."""

    kind: Word
    name: Word
    default: Expr | None
    bounds: Bounds | None
    text: Text | None
    span: Span


@dataclass(frozen=True, slots=True)
class TakesAll:
    """`takes all of gores`: every word of that recipe, but those the recipe takes itself."""

    recipe: Word
    span: Span


@dataclass(frozen=True, slots=True)
class Needs:
    """`needs draft.shoulder`, `needs draft.bust_point`: what an incoming piece must have."""

    name: Name
    text: Text | None
    span: Span


@dataclass(frozen=True, slots=True)
class Gives:
    """`gives definition`: a definition that is seen outside the recipe."""

    definition: Definition
    span: Span


@dataclass(frozen=True, slots=True)
class GivesAll:
    """`gives all of g`: every piece that block gives, but those of a name that the recipe gives itself."""

    source: Name
    span: Span


@dataclass(frozen=True, slots=True)
class Statement:
    """A sentence of a piece's block: `allow 1 cm`, `notch side at 7 cm from hem`, `fold centre`."""

    verb: Word
    subject: Expr | None
    clauses: tuple[Clause, ...]
    span: Span


@dataclass(frozen=True, slots=True)
class Each:
    """`each k from 1 to n up_to 20 { … }`."""

    name: Word
    low: Expr
    high: Expr
    limit: Expr | None
    block: tuple[Sentence, ...]
    span: Span


@dataclass(frozen=True, slots=True)
class EachPiece:
    """`each piece { … }`: what all pieces that are cut start from."""

    kind: Word
    block: tuple[Sentence, ...]
    span: Span


# ---- sentences of a style built from another -----------------------------------------------------


@dataclass(frozen=True, slots=True)
class Add:
    """`add` and a sentence the base does not have."""

    sentence: Made
    span: Span


@dataclass(frozen=True, slots=True)
class Change:
    """`change` and a sentence that stands in place of one of the base."""

    sentence: Made
    span: Span


@dataclass(frozen=True, slots=True)
class ChangeValues:
    """`change front_neck, back_neck with lowered 3 cm`: words of sentences of the base get other values, the rest stays.

    `kind` where it is written before the names. In a block the name may be that of a statement, with its subject:
    `change notch side with as double`. With braces, `change front, back { … }`, these change the braces of each.
    """

    kind: Word | None
    names: tuple[Word, ...]
    subject: Expr | None
    clauses: tuple[Clause, ...]
    text: Text | None
    span: Span
    block: tuple[Sentence, ...] | None = None


@dataclass(frozen=True, slots=True)
class Without:
    """`without drape, drape_seam`: sentences of the base that are taken away; in a block `without notch side`."""

    names: tuple[Word, ...]
    subject: Expr | None
    span: Span


@dataclass(frozen=True, slots=True)
class Broken:
    """A sentence that cannot be read, with what is known of it.

    `head` is the word that heads it (`gives`, `add`, `use`, `solve` …) and `kind` its kind, each "" where none is written;
    `names` what it may have defined or named, empty where that is not known; `block` the sentences in its braces.
    """

    head: str
    kind: str
    names: tuple[Word, ...]
    block: tuple[Sentence, ...] | None
    span: Span


Made = Definition | Check | Solve | Recipe | Each | EachPiece | Statement
Edit = Add | Change | ChangeValues | Without
Sentence = Language | Title | Use | Takes | TakesAll | Needs | Gives | GivesAll | Made | Edit | Broken


def held(sentence: Sentence) -> Sentence:
    """The sentence itself, or the one that `gives`, `add` or `change` stands before."""
    if isinstance(sentence, Gives):
        return sentence.definition
    return sentence.sentence if isinstance(sentence, Add | Change) else sentence


def within(node: object, braces: bool = True) -> Iterator[object]:
    """What stands directly within a part of a tree, in its order, places left out; without `braces` not what a sentence has in
    its own."""
    if isinstance(node, tuple):
        yield from node
    elif is_dataclass(node) and not isinstance(node, Span):
        yield from (getattr(node, one.name) for one in fields(node) if braces or one.name != "block")


def written(sentence: Sentence) -> Iterator[object]:
    """All parts of a sentence, but for what stands in its braces."""
    whole = held(sentence)
    todo: list[object] = [whole]
    while todo:
        at = todo.pop()
        yield at
        if not isinstance(at, Word):
            todo.extend(within(at, braces=at is not whole))


@dataclass(frozen=True, slots=True)
class Comment:
    """A comment as written, `#` included; `own_line` when nothing stands before it on its line."""

    text: str
    span: Span
    own_line: bool


@dataclass(frozen=True, slots=True)
class StyleFile:
    """A whole file: its sentences, and its comments beside them."""

    file: str
    text: str
    sentences: tuple[Sentence, ...]
    comments: tuple[Comment, ...]
