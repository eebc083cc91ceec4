"""What stands in sentences: values, what is done to them, and conditions, each with its place."""

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
