"""What a style comes to on each body: pieces, seams, checks, estimates and errors, as plain values."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

import numpy as np

from ..bodies.vocabulary import vocabulary
from ..diagnostics import running_words as words
from ..diagnostics.diagnostic import Diagnostic
from ..diagnostics.printing import place
from ..geometry.length import length
from ..geometry.tolerances import COINCIDE
from ..graph.evaluate import Evaluated, Failure, Part, evaluate, needed
from ..graph.operations import not_measured
from ..meaning.style import CheckedStyle, Node
from ..pattern.check import faults
from ..pattern.piece import Piece, Reals
from ..verbs import sewing
from ..verbs.kinds import EdgeKind
from ..verbs.values import Seam
from .prepare import Prepared
from .specification import Specification, in_order, specification


@dataclass(frozen=True)
class EdgeLength:
    name: str
    length_mm: float
    allowance_mm: float


@dataclass(frozen=True)
class PieceResult:
    """A piece on one body. `piece` has this body's lane at `lane`."""

    name: str
    piece: Piece
    lane: int
    edges: tuple[EdgeLength, ...]


@dataclass(frozen=True)
class SeamResult:
    """A seam on one body: what to what, both lengths, whether they go together; the way of sewing, the seam sewn before it,
    the text at its end and the strokes of its notches (0: not), where they are stated."""

    name: str
    how: str
    left: tuple[str, ...]
    right: tuple[str, ...]
    left_mm: float
    right_mm: float
    holds: bool
    sewn: str = ""
    after: str = ""
    note: str = ""
    strokes: int = 0

    @property
    def ratio(self) -> float | None:
        """Left to right; None where there is nothing to sew to."""
        return self.left_mm / self.right_mm if self.right_mm > COINCIDE else None


@dataclass(frozen=True)
class CheckResult:
    """A check on one body. `text` is the condition as written, `advice` what the style's author says to it."""

    name: str
    text: str
    holds: bool
    figures: str
    advice: str = ""


@dataclass(frozen=True)
class Unmeasured:
    """A measurement the pieces rest on that the body's file does not give, and what stands in for it."""

    name: str
    how: str


NOTHING = Specification()


@dataclass(frozen=True)
class BodyResult:
    """All of one body. With errors it has no pieces."""

    name: str
    pieces: tuple[PieceResult, ...]
    seams: tuple[SeamResult, ...]
    checks: tuple[CheckResult, ...]
    estimated: tuple[Unmeasured, ...]
    errors: tuple[Diagnostic, ...]
    specification: Specification = NOTHING

    @property
    def holds(self) -> bool:
        held = all(check.holds for check in self.checks) and all(seam.holds for seam in self.seams)
        return held and self.specification.holds


def outcomes(prepared: Prepared, extra: Iterable[int] = ()) -> tuple[tuple[BodyResult, ...], Evaluated]:
    """Evaluate a sound style on its bodies; results in the order of the bodies."""
    style = prepared.style
    assert style is not None
    people = prepared.population
    evaluated = evaluate(style, people, extra)
    errors = _errors(style, prepared, evaluated)
    results: dict[int, BodyResult] = {}
    for part in evaluated.parts:
        _of_part(style, prepared, part, errors, results)
    for lane, body in enumerate(prepared.bodies):
        if lane not in results:
            results[lane] = BodyResult(body.name, (), (), (), (), tuple(errors.get(lane, ())))
    return tuple(results[lane] for lane in range(len(prepared.bodies))), evaluated


def _errors(style: CheckedStyle, prepared: Prepared, evaluated: Evaluated) -> dict[int, list[Diagnostic]]:
    found: dict[int, list[Diagnostic]] = {}
    for failure in evaluated.failures:
        told = [(failure.node, failure.message, failure.fix)]
        if style.nodes[failure.node].op == "measure":  # all that is missing at once, not one a run
            missing = _missing(style, prepared, failure.lane)
            told = [(node, *not_measured(style.nodes[node].fixed["name"])) for node in missing] or told
        for index, message, fix in told:
            node = style.nodes[index]
            error = words.sentence_fails(node.origin.span, message, fix, failure.figures)
            if failure.tries:
                error = words.unsolved(node.origin.span, message, fix, str(node.fixed["name"]), _tries(style, node, failure))
            found.setdefault(failure.lane, []).append(error.within(*node.origin.trace).on(prepared.bodies[failure.lane].name))
    return found


def _tries(style: CheckedStyle, node: Node, failure: Failure) -> list[tuple[str, str]]:
    """What a solve tried and by how much it missed, as a cutter reads them."""
    of = style.nodes[node.fixed["left"]].kind.word
    ways = ("too much", "too little")
    return [(quantity(value, node.kind.word), f"{quantity(abs(over), of)} {ways[over < 0]}") for value, over in failure.tries]


def _missing(style: CheckedStyle, prepared: Prepared, lane: int) -> list[int]:
    """Nodes of the measurements a style cannot do without that this body neither has nor lets be estimated."""
    people = prepared.population
    asked = [index for index in needed(style) if style.nodes[index].op == "measure"]
    known = {index: people.value(style.nodes[index].fixed["name"]) for index in asked}
    return [index for index, (_, measured, estimated) in known.items() if not (measured[lane] or estimated[lane])]


def _estimated(style: CheckedStyle, prepared: Prepared, part: Part, lane: int) -> tuple[Unmeasured, ...]:
    """Measurements this body's pieces rest on and its file does not give: estimated, or found by a recipe's own rule."""
    people = prepared.population
    found: dict[str, str] = {}
    for index in part.values:
        node = style.nodes[index]
        if node.op not in ("measure", "fallback"):
            continue
        name = str(node.fixed["name"])
        if bool(people.value(name)[1][lane]):
            continue
        if node.op == "measure":
            found[name] = people.history(name, lane)
        else:
            span = node.origin.span
            line, _ = place(style.texts[span.file], span.start)
            found.setdefault(name, f"by the rule at {span.file}:{line}")
    trunk = {name for name in found if vocabulary()[name].trunk}
    warn = "; a length of the trunk, which nothing tells well: measure it"
    return tuple(Unmeasured(name, how + (warn if name in trunk else "")) for name, how in sorted(found.items()))


def _of_part(
    style: CheckedStyle,
    prepared: Prepared,
    part: Part,
    errors: dict[int, list[Diagnostic]],
    results: dict[int, BodyResult],
) -> None:
    count = part.lanes.size
    pieces: dict[str, Piece] = {name: part.values[node] for name, node in style.pieces.items()}  # type: ignore[misc]
    _faults(style, prepared, part, pieces, errors)
    lengths = {name: _edge_lengths(piece, count) for name, piece in pieces.items()}
    seams = [(name, style.nodes[node], part.values[node]) for name, node in style.seams.items()]
    for at, lane in enumerate(int(one) for one in part.lanes):
        made = tuple(
            PieceResult(
                name, piece, at, tuple(_edge(piece, edge, numbers, at) for edge, numbers in lengths[name].items())
            )
            for name, piece in pieces.items()
        )
        sewn = tuple(_seam(style, name, node, value, at) for name, node, value in seams if isinstance(value, Seam))
        checks = tuple(
            CheckResult(
                check.name,
                check.written,
                bool(_at(part.values[check.node], at)),
                _figures(style, part, check.node, at),
                check.text,
            )
            for check in style.checks
        )
        body = prepared.bodies[lane].name
        wrong = tuple(errors.get(lane, ()))
        results[lane] = BodyResult(
            body,
            () if wrong else made,
            in_order(sewn),
            checks,
            _estimated(style, prepared, part, lane),
            wrong,
            NOTHING if wrong else specification(style, part, at),
        )


def _faults(
    style: CheckedStyle,
    prepared: Prepared,
    part: Part,
    pieces: Mapping[str, Piece],
    errors: dict[int, list[Diagnostic]],
) -> None:
    """Pieces that cross themselves or are no cloth are errors of their body."""
    for name, piece in pieces.items():
        origin = style.nodes[style.pieces[name]].origin
        for message, lanes in faults(piece):
            for at in np.flatnonzero(np.broadcast_to(lanes, part.lanes.shape)):
                lane = int(part.lanes[at])
                told = words.faulty_piece(origin.sentence, name, message).on(prepared.bodies[lane].name)
                errors.setdefault(lane, []).append(told)


def _at(value: object, lane: int) -> float:
    numbers = np.asarray(value)
    return float(numbers[lane] if numbers.shape[0] > 1 else numbers[0])


def _edge_lengths(piece: Piece, count: int) -> dict[str, Reals]:
    """Sewn length (L,) of every named edge of the ring, darts closed."""
    found: dict[str, Reals] = {}
    for side in piece.ring:
        for name in side.names:
            found[name] = found.get(name, np.zeros(count)) + length(side.drawn)
    return found


def _edge(piece: Piece, name: str, numbers: Reals, lane: int) -> EdgeLength:
    allowances = piece.finish.allowances
    side = piece.sides(name)[0]
    stated = next((allowances[one] for one in reversed(side.names) if one in allowances), allowances.get("seams"))
    width = 0.0 if stated is None or name == piece.fold else _at(stated.width, lane)
    return EdgeLength(name, _at(numbers, lane), width)


def _seam(style: CheckedStyle, name: str, node: Node, value: Seam, lane: int) -> SeamResult:
    left, right = node.args[value.how], node.args["to"]
    ways = {index: way for way, index in style.attached.items()}
    others = {index: other for other, index in style.seams.items()}
    return SeamResult(
        name,
        value.how,
        edge_names(style, left),
        edge_names(style, right),
        _at(value.left_mm, lane),
        _at(value.right_mm, lane),
        bool(_at(sewing.holds(value), lane)),
        ways.get(node.args.get("sewn", -1), ""),
        others.get(node.args.get("after", -1), ""),
        style.notes.get(name, ""),
        node.fixed["settled"].get("strokes", 0),
    )


def edge_names(style: CheckedStyle, index: int) -> tuple[str, ...]:
    """`piece.edge` for each edge of one side of a seam; the piece by the name it is defined under."""
    node = style.nodes[index]
    if isinstance(node.kind, EdgeKind):
        owner = next((name for name, one in style.names.items() if one == node.args["piece"]), "")
        return (f"{owner}.{node.kind.name}",)
    return tuple(name for arg in node.args.values() for name in edge_names(style, arg))


def _figures(style: CheckedStyle, part: Part, index: int, lane: int) -> str:
    """The numbers a check compares, for its line: the two sides of the comparison."""
    node = style.nodes[index]
    if node.op != "comparison":
        return ""
    shown = []
    for name in ("left", "right", "extra"):
        if name in node.args:
            kind = style.nodes[node.args[name]].kind.word
            shown.append(quantity(_at(part.values[node.args[name]], lane), kind))
    return ", ".join(shown)


def quantity(value: float, kind: str) -> str:
    """A number as a cutter reads it: `152.4 mm`, `21.5 deg`, `1.75`, `842.1 cm2`."""
    match kind:
        case "length":
            return f"{value:.1f} mm"
        case "angle":
            return f"{np.degrees(value):.2f} deg"
        case "area":
            return f"{value / 100:.1f} cm2"
        case _:
            return f"{value:.4g}"
