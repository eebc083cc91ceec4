"""What a style comes to on each body: pieces, seams, checks, estimates and errors, as plain values."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace

import numpy as np

from ..bodies.vocabulary import Wearer, vocabulary
from ..diagnostics import running_words as words
from ..diagnostics.diagnostic import Diagnostic
from ..diagnostics.printing import place
from ..finish.stated import NONE, allowance_of
from ..geometry.length import length
from ..geometry.tolerances import COINCIDE
from ..graph.evaluate import Evaluated, Failure, Part, check_alone, chunks, drawn_from, evaluate, needed, rested_on
from ..graph.operations import not_measured
from ..meaning.style import CheckedStyle, NamedCheck, Node
from ..pattern.check import faults
from ..pattern.darts import is_open_below
from ..pattern.piece import Allowance, Piece, Reals
from ..pattern.walking import Sewn
from ..verbs import sewing
from ..verbs.kinds import EdgeKind
from ..verbs.values import Seam
from .fit import FitResult, fits
from .prepare import Prepared
from .sizes import sizes
from .specification import Specification, in_order, specification
from .stretches import StretchResult, column, stretches


@dataclass(frozen=True)
class EdgeLength:
    """`under_mm` of the allowance are turned under again. A leg of a dart that is folded has no allowance."""

    name: str
    length_mm: float
    allowance_mm: float
    under_mm: float


@dataclass(frozen=True)
class PieceResult:
    """A piece on one body. `piece` has this body's lane at `lane`."""

    name: str
    piece: Piece
    lane: int
    edges: tuple[EdgeLength, ...]


@dataclass(frozen=True)
class SeamResult:
    """A seam on one body: what to what, both lengths, whether they go together, as do its stretches between notches with a name;
    the way of sewing, the seams sewn before it, the text at its end and the strokes of its notches (0: not), where stated."""

    name: str
    how: str
    left: tuple[str, ...]
    right: tuple[str, ...]
    left_mm: float
    right_mm: float
    holds: bool
    sewn: str = ""
    after: tuple[str, ...] = ()
    note: str = ""
    strokes: int = 0
    stretches: tuple[StretchResult, ...] = ()

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
class Tidings:
    """What a style or a recipe has to tell of one body: the text, the condition that made it so as written, its numbers."""

    name: str
    text: str
    condition: str
    figures: str


@dataclass(frozen=True)
class Unmeasured:
    """A measurement the pieces rest on that the body's file does not give, and what stands in for it."""

    name: str
    how: str


NOTHING = Specification()


@dataclass(frozen=True)
class BodyResult:
    """All of one body. With errors it has no pieces, and only those checks that fail all the same."""

    name: str
    pieces: tuple[PieceResult, ...]
    seams: tuple[SeamResult, ...]
    checks: tuple[CheckResult, ...]
    estimated: tuple[Unmeasured, ...]
    errors: tuple[Diagnostic, ...]
    specification: Specification = NOTHING
    fits: tuple[FitResult, ...] = ()
    tidings: tuple[Tidings, ...] = ()

    @property
    def holds(self) -> bool:
        held = all(check.holds for check in self.checks) and all(seam.holds for seam in self.seams)
        return held and self.specification.holds and all(fit.holds for fit in self.fits)


def outcomes(prepared: Prepared, extra: Iterable[int] = ()) -> tuple[tuple[BodyResult, ...], Evaluated]:
    """Evaluate a sound style on its bodies; results in the order of the bodies, and all values, `extra` nodes among them."""
    assert prepared.style is not None
    evaluated = evaluate(prepared.style, prepared.population, extra)
    return _results(prepared, evaluated, range(len(prepared.bodies))), evaluated


def results_of(prepared: Prepared) -> Iterator[BodyResult]:
    """As `outcomes`, body by body: of what led to the results no more is kept than of a chunk of bodies."""
    assert prepared.style is not None
    first = 0
    for evaluated in chunks(prepared.style, prepared.population):
        count = len(evaluated.failures) + sum(part.lanes.size for part in evaluated.parts)
        yield from _results(prepared, evaluated, range(first, first + count))
        first += count


def _results(prepared: Prepared, evaluated: Evaluated, lanes: Iterable[int]) -> tuple[BodyResult, ...]:
    style = prepared.style
    assert style is not None
    errors = _errors(style, prepared, evaluated)
    found: dict[int, BodyResult] = {}
    for part in evaluated.parts:
        _of_part(style, prepared, part, errors, found)
    told = _told_all_the_same(style, prepared, evaluated)
    for lane in lanes:
        if lane not in found:
            wrong = tuple(errors.get(lane, ()))
            found[lane] = BodyResult(prepared.bodies[lane].name, (), (), told.get(lane, ()), (), wrong)
    return tuple(found[lane] for lane in lanes)


def _errors(style: CheckedStyle, prepared: Prepared, evaluated: Evaluated) -> dict[int, list[Diagnostic]]:
    found: dict[int, list[Diagnostic]] = {}
    for failure in evaluated.failures:
        told = [(failure.node, failure.message, failure.fix)]
        if style.nodes[failure.node].op == "measure":  # all that is missing at once, not one a run
            missing, of_child = _missing(style, prepared, failure.lane), prepared.bodies[failure.lane].is_child
            told = [(node, *not_measured(style.nodes[node].fixed["name"], of_child)) for node in missing] or told
        for index, message, fix in told:
            node = style.nodes[index]
            error = words.sentence_fails(node.origin.span, message, fix, failure.figures)
            if failure.tries:
                fix = str(node.fixed["advice"]) or fix
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


def _estimated(style: CheckedStyle, prepared: Prepared, part: Part) -> list[tuple[Unmeasured, ...]]:
    """For each body of a part, measurements its pieces rest on and its file does not give: estimated, or found by a
    recipe's own rule."""
    people = prepared.population
    found: list[dict[str, str]] = [{} for _ in part.lanes]
    for index, bodies in sorted(rested_on(style, part, people, drawn_from(style)).items()):
        node = style.nodes[index]
        if node.op not in ("measure", "fallback"):
            continue
        name, rule = str(node.fixed["name"]), node.op == "fallback" and rule_of(style, node)
        for at in np.flatnonzero(bodies & ~people.value(name)[1][part.lanes]):
            if rule:
                found[at].setdefault(name, rule)
            else:
                found[at][name] = people.history(name, int(part.lanes[at]))
    wearers = [prepared.bodies[lane].wearer for lane in part.lanes.tolist()]
    return [
        tuple(Unmeasured(name, how + _if_trunk(name, wearer)) for name, how in sorted(one.items()))
        for one, wearer in zip(found, wearers, strict=True)
    ]


def _if_trunk(name: str, wearer: Wearer) -> str:
    entry = vocabulary()[name]
    unsure = entry.trunk and entry.is_asked_of(wearer)
    return "; a length of the trunk, which nothing tells well: measure it" if unsure else ""


def rule_of(style: CheckedStyle, node: Node) -> str:
    """Where the rule stands by which a recipe does without a measurement."""
    span = node.origin.span
    line, _ = place(style.texts[span.file], span.start)
    return f"by the rule at {span.file}:{line}"


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
    edges = {name: _edges(piece, count) for name, piece in pieces.items()}
    sewn, checked = _seams(style, part), [_checked(style, check, part) for check in style.checks]
    told = [_checked(style, check, part) for check in style.tidings]
    estimated, by_size = _estimated(style, prepared, part), sizes(style)
    fitted = fits(style, part, prepared.population, [prepared.bodies[lane].unit for lane in part.lanes.tolist()])
    for at, lane in enumerate(part.lanes.tolist()):
        wrong = tuple(errors.get(lane, ()))
        results[lane] = BodyResult(
            prepared.bodies[lane].name,
            () if wrong else tuple(PieceResult(name, piece, at, edges[name][at]) for name, piece in pieces.items()),
            tuple(rows[at] for rows in sewn),
            tuple(rows[at] for rows in checked),
            estimated[at],
            wrong,
            NOTHING if wrong else specification(style, part, at, by_size),
            () if wrong else fitted[at],
            tuple(Tidings(one.name, one.advice, one.text, one.figures) for one in (rows[at] for rows in told) if one.holds),
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
        span = style.definitions[name]
        for message, lanes in faults(piece):
            for at in np.flatnonzero(np.broadcast_to(lanes, part.lanes.shape)):
                lane = int(part.lanes[at])
                told = words.faulty_piece(span, name, message).on(prepared.bodies[lane].name)
                errors.setdefault(lane, []).append(told)


def _edges(piece: Piece, count: int) -> list[tuple[EdgeLength, ...]]:
    """For each body the edges of a piece by name, with their sewn lengths, darts closed."""
    lengths: dict[str, Reals] = {}
    for side in piece.ring:
        for name in side.names:
            lengths[name] = lengths.get(name, np.zeros(1)) + length(side.drawn)
    rows = []
    for name, numbers in lengths.items():
        stated = _stated(piece, name)
        under = np.zeros(1) if stated.under is None else stated.under
        columns = (column(one, count) for one in (numbers, stated.width, under))
        rows.append([EdgeLength(name, *row) for row in zip(*columns, strict=True)])
    return list(zip(*rows, strict=True))


def _stated(piece: Piece, name: str) -> Allowance:
    """The allowance stated for an edge; the leg of a dart that is folded has none."""
    side = piece.sides(name)[0]
    folded = {leg for dart in piece.darts if not is_open_below(piece, dart) for leg in (dart.first, dart.second)}
    return NONE if folded.intersection(side.names) else allowance_of(piece, side)


def _seams(style: CheckedStyle, part: Part) -> list[list[SeamResult]]:
    """The seams in the order of sewing, each with its result for every body."""
    values = {name: value for name, node in style.seams.items() if isinstance(value := part.values[node], Seam)}
    ordered = in_order([_seam(style, name, value) for name, value in values.items()])
    sewn, rows = pairs_sewn(ordered), []
    for seam in ordered:
        value = values[seam.name]
        between = stretches(value, (seam.left, seam.right), sewn, part.lanes.size)
        columns = (column(one, part.lanes.size) for one in (value.left_mm, value.right_mm, sewing.holds(value)))
        rows.append(
            [
                replace(seam, left_mm=left, right_mm=right, holds=bool(held) and all(s.holds for s in parts), stretches=parts)
                for left, right, held, parts in zip(*columns, between, strict=True)
            ]
        )
    return rows


def pairs_sewn(seams: Iterable[SeamResult]) -> Sewn:
    return {frozenset((a, b)) for seam in seams for a in seam.left for b in seam.right}


def _seam(style: CheckedStyle, name: str, value: Seam) -> SeamResult:
    """A seam as it is on every body, its lengths left out."""
    node = style.nodes[style.seams[name]]
    ways = {index: way for way, index in style.attached.items()}
    others = {index: other for other, index in style.seams.items()}
    return SeamResult(
        name,
        value.how,
        edge_names(style, node.args[value.how]),
        edge_names(style, node.args["to"]),
        0.0,
        0.0,
        False,
        ways.get(node.args.get("sewn", -1), ""),
        tuple(others[arg] for word, arg in node.args.items() if word.startswith("after ") and arg in others),
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


def _checked(style: CheckedStyle, check: NamedCheck, part: Part) -> list[CheckResult]:
    """A check on every body."""
    count = part.lanes.size
    return [
        CheckResult(check.name, check.written, bool(held), figures, check.text)
        for held, figures in zip(column(part.values[check.node], count), _figures(style, part, check.node), strict=True)
    ]


def _told_all_the_same(style: CheckedStyle, prepared: Prepared, evaluated: Evaluated) -> dict[int, tuple[CheckResult, ...]]:
    """Of bodies that cannot be drawn, the checks that fail before what cannot be drawn: they say why, in the style's words."""
    found: dict[int, tuple[CheckResult, ...]] = {}
    lanes = np.array(sorted({one.lane for one in evaluated.failures}), dtype=np.intp)
    for check in style.checks if lanes.size else ():
        for part in check_alone(style, prepared.population, lanes, check).parts:
            for lane, row in zip(part.lanes.tolist(), _checked(style, check, part), strict=True):
                found[lane] = (*found.get(lane, ()), *(() if row.holds else (row,)))
    return found


def _figures(style: CheckedStyle, part: Part, index: int) -> list[str]:
    """For each body the numbers a check compares, for its line: the two sides of the comparison; of several what they compare."""
    node, count = style.nodes[index], part.lanes.size
    compared = [node.args[name] for name in ("left", "right", "extra") if node.op == "comparison" and name in node.args]
    if node.op == "joint":
        compared = list(dict.fromkeys(_compared(style, index)))
    shown = [[quantity(number, style.nodes[arg].kind.word) for number in column(part.values[arg], count)] for arg in compared]
    return [", ".join(row) for row in zip(*shown, strict=True)] if shown else [""] * count


def _compared(style: CheckedStyle, index: int) -> Iterator[int]:
    """What the comparisons that are joined by `and` and `or` compare: their first sides."""
    node = style.nodes[index]
    if node.op == "comparison":
        yield node.args["left"]
    elif node.op in ("joint", "inverse"):
        for one in node.args.values():
            yield from _compared(style, one)


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
