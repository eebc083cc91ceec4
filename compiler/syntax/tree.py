"""The tree of a style: sentences and expressions, each with its place. It says what was written, not what it means."""

from __future__ import annotations

from dataclasses import dataclass

from ..diagnostics.diagnostic import Span


@dataclass(frozen=True, slots=True)
class Word:
    """A single name or word of the language as written."""

    text: str
    span: Span


# ---- expressions -------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Name:
    """`base.front`: one or more words joined by points."""

    parts: tuple[Word, ...]
    span: Span

    @property
    def text(self) -> str:
        return ".".join(part.text for part in self.parts)


@dataclass(frozen=True, slots=True)
class Number:
    """A bare number: a ratio, a share or a count."""

    value: float
    written: str
    span: Span


@dataclass(frozen=True, slots=True)
class Quantity:
    """A number with its unit: `15 cm`, `1 1/2 inch`, `20 deg`. `value` is in the written unit."""

    value: float
    written: str
    unit: str
    span: Span


@dataclass(frozen=True, slots=True)
class Text:
    value: str
    span: Span


@dataclass(frozen=True, slots=True)
class Flag:
    """`yes` or `no`."""

    value: bool
    span: Span


@dataclass(frozen=True, slots=True)
class Direction:
    """One of `up`, `down`, `outward`, `inward`."""

    word: Word
    span: Span


@dataclass(frozen=True, slots=True)
class Heading:
    """A direction found from the draft: `toward x`, `away_from x`, `along edge`, `square_to edge`."""

    word: Word
    target: Expr
    span: Span


@dataclass(frozen=True, slots=True)
class Of:
    """`length of front.side`: binds tighter than anything else."""

    word: Word
    target: Expr
    span: Span


@dataclass(frozen=True, slots=True)
class Arithmetic:
    """`left + right` and the like; `operator` is one of + - * /."""

    operator: str
    left: Expr
    right: Expr
    span: Span


@dataclass(frozen=True, slots=True)
class Negative:
    value: Expr
    span: Span


@dataclass(frozen=True, slots=True)
class Moves:
    """`nape down scye_depth + 1.5 cm outward 2 cm`: a point and steps from it."""

    start: Expr
    steps: tuple[tuple[Direction, Expr], ...]
    span: Span


@dataclass(frozen=True, slots=True)
class Chosen:
    """`a when condition otherwise b`; without a condition, `a otherwise b`: a where it was measured, else b."""

    value: Expr
    condition: Condition | None
    otherwise: Expr
    span: Span


@dataclass(frozen=True, slots=True)
class Clause:
    """A word and its value inside a sentence or an operation."""

    word: Word
    value: Expr

    @property
    def span(self) -> Span:
        return self.word.span.to(self.value.span)


@dataclass(frozen=True, slots=True)
class Operation:
    """`verb subject word value …`, or `verb with word value …`."""

    verb: Word
    subject: Expr | None
    clauses: tuple[Clause, ...]
    span: Span


@dataclass(frozen=True, slots=True)
class SoFar:
    """`7 cm from hem`, `1/3 from hem`: a length or a share along an edge, and the end it is measured from."""

    value: Expr
    end: Expr
    span: Span


@dataclass(frozen=True, slots=True)
class Spot:
    """`front.side at 7 cm from hem`, `front.shoulder at armhole`: an edge and a place on it, which may be an end or a point."""

    edge: Expr
    place: SoFar | Expr
    span: Span


@dataclass(frozen=True, slots=True)
class Between:
    """`x between low and high`: a part of an edge or curve between two places; or, where a condition stands, a test, and
    behind the value of a choice its bounds."""

    value: Expr
    word: Word
    low: Expr
    high: Expr
    span: Span


@dataclass(frozen=True, slots=True)
class Listed:
    """`a, b`: two or more things that are treated alike."""

    items: tuple[Expr, ...]
    span: Span


@dataclass(frozen=True, slots=True)
class Chain:
    """`half_front then unfold across centre then …`: each link works on the piece the one before it made."""

    start: Expr
    links: tuple[Operation, ...]
    span: Span


Expr = (
    Name
    | Number
    | Quantity
    | Text
    | Flag
    | Direction
    | Heading
    | Of
    | Arithmetic
    | Negative
    | Moves
    | Chosen
    | SoFar
    | Spot
    | Between
    | Listed
    | Chain
    | Operation
)

# ---- conditions --------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Comparison:
    """`a at_least b`, `a at_most b`, `a more_than b`, `a less_than b`, `a equals b tolerance t`, `a between b and c`.

    `right` is b; `extra` is the tolerance t of `equals` or the upper bound c of `between`, else None.
    """

    word: Word
    left: Expr
    right: Expr
    extra: Expr | None
    span: Span


@dataclass(frozen=True, slots=True)
class Plain:
    """A condition that is a value: a yes-or-no choice."""

    value: Expr
    span: Span


@dataclass(frozen=True, slots=True)
class Joint:
    """`a and b`, `a or b`."""

    word: Word
    left: Condition
    right: Condition
    span: Span


@dataclass(frozen=True, slots=True)
class Inverse:
    """`not a`."""

    value: Condition
    span: Span


Condition = Comparison | Plain | Joint | Inverse

# ---- sentences ---------------------------------------------------------------------------------


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
class Alike:
    """`change front_neck, back_neck with lowered 3 cm`: words of sentences of the base get other values, the rest stays.

    `kind` where it is written before the names. In a block the name may be that of a statement, with its subject:
    `change notch side with strokes 2`. With braces, `change front, back { … }`, these change the braces of each.
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


Made = Definition | Check | Solve | Recipe | Each | EachPiece | Statement
Edit = Add | Change | Alike | Without
Sentence = Language | Title | Use | Takes | TakesAll | Needs | Gives | GivesAll | Made | Edit


def held(sentence: Sentence) -> Sentence:
    """The sentence itself, or the one that `gives`, `add` or `change` stands before."""
    if isinstance(sentence, Gives):
        return sentence.definition
    return sentence.sentence if isinstance(sentence, Add | Change) else sentence


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
