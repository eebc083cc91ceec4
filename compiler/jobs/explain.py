"""Explain: where a number comes from, down to the measurements, with this body's arithmetic."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from ..bodies.vocabulary import canonical
from ..diagnostics import running_words as words
from ..diagnostics.diagnostic import Diagnostic, Span
from ..diagnostics.printing import place
from ..diagnostics.suggest import did_you_mean
from ..geometry.length import length
from ..geometry.path import Path, ring_area
from ..graph.evaluate import Part
from ..meaning.style import CheckedStyle
from ..pattern.piece import Piece
from ..verbs.attached import Closure, Finished, Fit, Trim
from ..verbs.kinds import Kind, PieceKind
from ..verbs.values import Edge, Run, Seam, Value
from .numbers import quantity
from .outcome import outcomes
from .prepare import Prepared


@dataclass(frozen=True)
class Line:
    """One line of an explanation: how deep it is nested, a name or "", the sentence as written, its value, its place."""

    depth: int
    name: str
    sentence: str
    value: str
    where: str


def explain(prepared: Prepared, name: str) -> tuple[tuple[tuple[str, tuple[Line, ...]], ...], tuple[Diagnostic, ...]]:
    """For each body its name and the lines that tell where `name` comes from; errors if there is no such name."""
    style = prepared.style
    assert style is not None
    measure = canonical(name)
    if name not in style.names and measure in style.measures:
        people = prepared.population
        rows = [Line(0, str(measure), "", people.history(str(measure), k), "") for k in range(len(prepared.bodies))]
        return tuple((body.name, (row,)) for body, row in zip(prepared.bodies, rows, strict=True)), ()
    node, problem = _find(style, name)
    if node is None:
        return (), (problem,) if problem else ()
    results, evaluated = outcomes(prepared, [node])
    told: list[tuple[str, tuple[Line, ...]]] = []
    errors: list[Diagnostic] = []
    for lane, result in enumerate(results):
        found = evaluated.of(lane)
        if found is None:
            errors.extend(result.errors)
            continue
        told.append((result.name, tuple(_History(prepared, style, *found, lane).of(node))))
    return tuple(told), tuple(errors)


def _find(style: CheckedStyle, name: str) -> tuple[int | None, Diagnostic | None]:
    if name in style.names:
        return style.names[name], None
    check = next((one for one in (*style.checks, *style.tidings) if one.name == name), None)
    if check is not None:
        return check.node, None
    ends = [one for one in style.names if one.endswith(f".{name}")]
    if len(ends) == 1:
        return style.names[ends[0]], None
    return None, _unfound(style, name, ends)


def _unfound(style: CheckedStyle, name: str, ends: Sequence[str]) -> Diagnostic:
    """Why there is nothing to explain; `ends` are names that end in this one."""
    inside = sorted((one for one in style.names if one.startswith(f"{name}.")), key=lambda one: one.count("."))
    owner, _, _ = name.rpartition(".")
    if inside or ends:
        return words.several(name, (inside or ends)[:6])
    if owner in style.names and name.removeprefix(f"{owner}.") in _parts(style.nodes[style.names[owner]].kind):
        return words.part_of_a_piece(name, owner)
    measure = canonical(name)
    return words.not_used(measure) if measure else words.no_such_name(name, did_you_mean(name, style.names))


def _parts(kind: Kind) -> tuple[str, ...]:
    """The names of edges, darts and points of a piece."""
    sketch = kind.sketch if isinstance(kind, PieceKind) else None
    return () if sketch is None else (*sketch.edge_names(), *sketch.dart_names(), *sketch.points)


class _History:
    """The tale of one body: each definition once, its inputs below it."""

    def __init__(self, prepared: Prepared, style: CheckedStyle, part: Part, at: int, lane: int) -> None:
        self.prepared = prepared
        self.style = style
        self.part = part
        self.at = at
        self.lane = lane
        # A recipe's own name yields to that of its use, other roles of a piece to the first.
        self.named: dict[int, str] = {}
        for name in sorted(style.names, key=lambda name: name.count(".")):
            self.named.setdefault(style.names[name], name)
        self.told: set[int] = set()

    def of(self, node: int) -> list[Line]:
        return self._definition(node, 0)

    def _definition(self, index: int, depth: int) -> list[Line]:
        node = self.style.nodes[index]
        name = self.named.get(index, "in hand" if index in self.style.links else node.origin.name)
        if node.op == "measure":
            measure = str(node.fixed["name"])
            return [Line(depth, measure, "", self._value(index), self.prepared.population.history(measure, self.lane))]
        line = Line(depth, name, self._sentence(index, name), self._value(index), self._where(index, name))
        if index in self.told:
            return [Line(depth, name, "(as above)", line.value, "")]
        self.told.add(index)
        lines = [line]
        for arg in self._inputs(index):
            lines += self._definition(arg, depth + 1)
        return lines

    def _inputs(self, index: int) -> list[int]:
        """The definitions and measurements a sentence uses, through the nameless values inside it."""
        found: list[int] = []
        todo = list(self.style.nodes[index].args.values())
        while todo:
            arg = todo.pop(0)
            node = self.style.nodes[arg]
            if arg not in self.part.values:
                continue  # the arm of a choice that this body does not take
            if arg in self.named or arg in self.style.links or node.op == "measure":
                if arg not in found:
                    found.append(arg)
            else:
                todo = [*node.args.values(), *todo]
        return found

    def _written(self, span: Span) -> str:
        text = self.style.texts[span.file]
        sentence = " ".join(text[span.start : span.end].split())
        head, brace, _ = sentence.partition("{")
        return head.rstrip() + (" { … }" if brace else "")

    def _sentence(self, index: int, name: str) -> str:
        """The sentence, and where the style changes it, what it was in the base."""
        said = self._written(self._span(index, name))
        before = self.style.changed.get(name)
        if before is None:
            return said
        line, _ = place(self.style.texts[before.file], before.start)
        return f"{said}   (was, at {before.file}:{line}: {self._written(before)})"

    def _span(self, index: int, name: str) -> Span:
        """The sentence that defines the name, the link of a chain, or the sentence a nameless value stands in."""
        if index in self.style.links and index not in self.named:
            return self.style.links[index]
        return self.style.definitions.get(name, self.style.nodes[index].origin.sentence)

    def _where(self, index: int, name: str) -> str:
        span = self._span(index, name)
        line, _ = place(self.style.texts[span.file], span.start)
        return f"{span.file}:{line}"

    def _value(self, index: int) -> str:
        return shown(self.part.values.get(index), self.style.nodes[index].kind.word, self.at)


def shown(value: Value, kind: str, lane: int) -> str:
    """A value of one body in words."""

    def at(numbers: NDArray[Any]) -> float:
        return float(numbers[lane] if numbers.shape[0] > 1 else numbers[0])

    match value:
        case Path() | Edge() | Run():
            total = length(value) if isinstance(value, Path) else value.length()
            return f"{at(total):.1f} mm long"
        case Piece():
            area = at(ring_area([side.drawn for side in value.ring])) / 100
            edges = dict.fromkeys(side.edge for side in value.ring)
            return f"a piece of {len(edges)} edges, {area:.1f} cm2"
        case Finished():
            return quantity(at(value.value), "length")
        case Fit():
            if value.garment is None:
                return "no piece lies there"
            worn = "not measured" if value.body is None else f"{at(value.garment - value.body):+.1f} mm on the body"
            return f"{at(value.garment):.1f} mm, {worn}; {at(value.ease):+.1f} mm asked"
        case Closure():
            return f"{at(value.long):.1f} mm long"
        case Trim():
            held = value.count if value.amount is None else value.amount
            assert held is not None
            return f"{at(held):.0f}" if value.amount is None else quantity(at(held), "length")
        case Seam():
            return f"{at(value.left_mm):.1f} mm to {at(value.right_mm):.1f} mm"
        case np.ndarray() if value.ndim == 2:
            x, y = value[lane if value.shape[0] > 1 else 0]
            return f"({x:.1f}, {y:.1f}) mm"
        case np.ndarray() if value.dtype == bool:
            return "yes" if at(value) else "no"
        case np.ndarray():
            return quantity(at(value), kind)
        case _:
            return ""
