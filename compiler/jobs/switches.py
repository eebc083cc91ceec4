"""Why steps are uneven: the sentences that choose otherwise from some place of the chart on, and the points that turn there.

Between neighbouring sizes a few bodies are evaluated that nobody draws. Where a sentence takes another arm between two of them,
and its value bends or jumps there, the place is narrowed down; a point turns there that grows otherwise before than behind.
"""

from __future__ import annotations

from collections.abc import Container, Iterator, Mapping, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from ..bodies.chart import Chart
from ..bodies.lanes import Population
from ..diagnostics.printing import place
from ..grading.growth import UNEVEN
from ..grading.laying import laid
from ..grading.run import Reals, named_points, unlike
from ..graph.evaluate import Evaluated, evaluate
from ..graph.switching import Choosing, choosing
from ..meaning.payloads import Extreme
from ..meaning.style import CheckedStyle
from ..pattern.piece import Piece
from .nest import Run
from .prepare import Prepared

SPLIT = 5
"""A step of the chart is looked at in so many parts."""

FINER = 8
"""A place is narrowed down to so many parts of these: to a fortieth of a step, 1 mm of bust where sizes are 4 cm apart."""

MOVES = {"length": 0.1, "angle": 0.0005, "number": 0.0005}
"""A value that bends, or lies apart from what it takes the place of, by less than this moves nothing: mm, radians, or bare."""


@dataclass(frozen=True)
class Turned:
    """A point that turns, and how it grows before and behind: across and up, mm a step."""

    piece: str
    point: str
    before: tuple[float, float]
    after: tuple[float, float]

    @property
    def by(self) -> float:
        """How much its growth differs, mm a step."""
        return max(abs(a - b) for a, b in zip(self.after, self.before, strict=True))


@dataclass(frozen=True)
class Choice:
    """A sentence (its node) that takes one arm before and another behind a place along the chart (1.25: a quarter of the way from
    the second size to the third)."""

    node: int
    at: float
    before: int
    after: int


@dataclass(frozen=True)
class Switch:
    """Where points turn: the sentences that choose otherwise there, and the points, the most turned first."""

    choices: tuple[Choice, ...]
    points: tuple[Turned, ...]

    @property
    def step(self) -> int:
        """The step of the chart it lies in."""
        return int(self.choices[0].at)


@dataclass(frozen=True)
class Unseen:
    """A place along the chart at which pieces cannot be drawn, or are made of other edges: what turns beside it is not known."""

    at: float
    pieces: tuple[str, ...]


def switches(prepared: Prepared, run: Run) -> tuple[tuple[Switch, ...], tuple[Unseen, ...]]:
    """The switches that turn points, and the places beside which none can be told, in the order of the chart."""
    style, chart = prepared.style, run.chart
    assert style is not None
    first, last = chart.sizes.index(run.sizes[0]), chart.sizes.index(run.sizes[-1])
    if first == last:
        return (), ()
    places = np.linspace(first, last, (last - first) * SPLIT + 1)
    evaluated, found = _evaluated(style, chart, places)
    by_part: dict[int, list[int]] = {}
    for node, one in found.items():
        for k in _changes(one.arms):
            if _moves(style, node, one, k):
                by_part.setdefault(k, []).append(node)
    points = _points(style, evaluated, run, len(places))
    turned = {k: some for k in sorted(by_part) if (some := _turned(points, k, by_part))}
    exact = _narrowed(style, chart, places, {k: by_part[k] for k in turned})
    made = (Switch(exact[k] or _roughly(style, places, found, k, by_part[k]), some) for k, some in turned.items())
    return tuple(made), tuple(_unseen(style, points, places))


def _roughly(
    style: CheckedStyle, places: Reals, found: Mapping[int, Choosing], k: int, nodes: Sequence[int]
) -> tuple[Choice, ...]:
    """Choices in the middle of a part in which nothing can be drawn between its ends."""
    middle = float(places[k] + places[k + 1]) / 2
    return _each_once(style, [Choice(node, middle, int(found[node].arms[k]), int(found[node].arms[k + 1])) for node in nodes])


def _unseen(style: CheckedStyle, points: Mapping[tuple[str, str], Reals], places: Reals) -> Iterator[Unseen]:
    seen = {name: np.zeros(len(places), dtype=bool) for name in style.pieces}
    for (piece, _), rows in points.items():
        seen[piece] |= ~np.isnan(rows).any(axis=1)
    for k, at in enumerate(places.tolist()):
        missing = tuple(name for name, there in seen.items() if not there[k])
        if missing:
            yield Unseen(at, missing)


def _evaluated(style: CheckedStyle, chart: Chart, places: Sequence[float] | Reals) -> tuple[Evaluated, Mapping[int, Choosing]]:
    people = Population.of([chart.between(float(at), f"place {k}") for k, at in enumerate(places)])
    evaluated = evaluate(style, people)
    return evaluated, choosing(style, evaluated, people, style.pieces.values())


def _changes(arms: NDArray[np.intp]) -> list[int]:
    """Where neighbours take different arms, both of which are known."""
    known = (arms[:-1] >= 0) & (arms[1:] >= 0)
    return np.flatnonzero(known & (arms[:-1] != arms[1:])).tolist()


def _moves(style: CheckedStyle, node: int, one: Choosing, k: int) -> bool:
    """Whether a value bends or jumps between the bodies k and k + 1: of two that stay alike, either may be the larger."""
    near = slice(max(k - 1, 0), k + 3)
    least = MOVES.get(style.nodes[node].kind.word, 0.0)
    values, margin = one.values[near], one.margin[near]
    bends = np.isnan(values).any() or len(values) < 3 or np.abs(np.diff(values, 2)).max() > least / SPLIT
    return bool(bends and (np.isnan(margin).any() or margin.max() > least))


def _points(style: CheckedStyle, evaluated: Evaluated, run: Run, count: int) -> dict[tuple[str, str], Reals]:
    """The points of the pieces on every body, (bodies, 2), as they are laid on the first; NaN where one is not drawn, or is made
    of other edges."""
    found: dict[tuple[str, str], Reals] = {}
    for name, node in style.pieces.items():
        sizes: dict[str, Piece] = {}
        for part in evaluated.parts:
            value = part.values[node]
            if isinstance(value, Piece):
                sizes |= {str(lane): value.take(np.array([at])) for at, lane in enumerate(part.lanes.tolist())}
        while sizes and (other := unlike(sizes, next(iter(sizes)))) is not None:
            del sizes[other]
        if not sizes:
            continue
        lie = laid(name, sizes, next(iter(sizes)), run.results[run.at].seams)
        for lane, piece in sizes.items():
            for point, at in named_points(piece).items():
                found.setdefault((name, point), np.full((count, 2), np.nan))[int(lane)] = lie.by_size[lane].points(at[0])
    return found


def _turned(points: Mapping[tuple[str, str], Reals], k: int, parts: Container[int]) -> tuple[Turned, ...]:
    """The points that grow otherwise before the part k of a step than behind it, or jump in it; not those that turn more in the
    part before or behind, where another sentence switches."""
    found = []
    for (piece, name), rows in points.items():
        steps = np.diff(rows, axis=0) * SPLIT
        here = _turn(steps, k)
        if here > UNEVEN and all(_turn(steps, other) <= here for other in (k - 1, k + 1) if other in parts):
            before, after = steps[max(k - 1, 0)], steps[min(k + 1, len(steps) - 1)]
            found.append(Turned(piece, name, (float(before[0]), float(before[1])), (float(after[0]), float(after[1]))))
    return tuple(sorted(found, key=lambda one: (-one.by, one.piece, one.point)))


def _turn(steps: Reals, k: int) -> float:
    """By how much growth (parts, 2), mm a step, differs on both sides of a part, or lies outside both in it; nothing where it is
    not known (`Unseen`)."""
    before, after = steps[max(k - 1, 0)], steps[min(k + 1, len(steps) - 1)]
    outside = steps[k] - np.clip(steps[k], np.minimum(before, after), np.maximum(before, after))
    return float(np.nan_to_num(np.maximum(np.abs(after - before), np.abs(outside))).max())


def _narrowed(style: CheckedStyle, chart: Chart, places: Reals, wanted: Mapping[int, list[int]]) -> dict[int, tuple[Choice, ...]]:
    """Where in the parts of steps nodes take another arm, by part."""
    if not wanted:
        return {}
    finer = [np.linspace(places[k], places[k + 1], FINER + 1) for k in wanted]
    _, found = _evaluated(style, chart, np.concatenate(finer))
    made: dict[int, tuple[Choice, ...]] = {}
    for number, (k, nodes) in enumerate(wanted.items()):
        start = number * (FINER + 1)
        choices = []
        for node in nodes:
            arms = found[node].arms[start : start + FINER + 1]
            at = finer[number]
            choices += [Choice(node, float(at[j] + at[j + 1]) / 2, int(arms[j]), int(arms[j + 1])) for j in _changes(arms)]
        made[k] = _each_once(style, sorted(choices, key=lambda one: (one.at, one.node)))
    return made


def _each_once(style: CheckedStyle, choices: Sequence[Choice]) -> tuple[Choice, ...]:
    """Sentences of which a recipe that is used twice has two, once; of one that goes back and forth where it first does."""
    found: dict[str, Choice] = {}
    for one in choices:
        found.setdefault(sentence_of(style, one.node)[1], one)
    return tuple(found.values())


def sentence_of(style: CheckedStyle, node: int) -> tuple[str, str]:
    """The sentence a node is written in, on one line, and its place as `file:line`."""
    origin = style.origins[node]
    span = style.definitions.get(origin.name, origin.sentence)
    line, _ = place(style.texts[span.file], span.start)
    return " ".join(style.texts[span.file][span.start : span.end].split()), f"{span.file}:{line}"


def arm_of(style: CheckedStyle, choice: Choice, arm: int) -> str:
    """An arm of a choice in the words of the style."""
    made = style.nodes[choice.node]
    args = [*made.args.values()] if isinstance(made.payload, Extreme) else [made.args["first"], made.args["second"]]
    span = style.origins[args[arm]].span
    text = " ".join(style.texts[span.file][span.start : span.end].split())
    if text.startswith("choice "):
        return text.split()[1]
    return "(" * (text.count(")") - text.count("(")) + text + ")" * (text.count("(") - text.count(")"))
