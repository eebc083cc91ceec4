"""Explain: where a number comes from, or cloth: sentences, inputs down to the measurements, and this body's arithmetic."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from ..bodies.units import Unit
from ..bodies.vocabulary import canonical
from ..diagnostics import running_words as words
from ..diagnostics.diagnostic import Diagnostic, Span
from ..diagnostics.printing import place
from ..diagnostics.suggest import did_you_mean
from ..geometry.length import length
from ..geometry.path import Path, ring_area
from ..graph.evaluate import Part
from ..meaning.payloads import Measure
from ..meaning.style import CheckedStyle
from ..output.summary import counted
from ..pattern.piece import Piece
from ..verbs.attached import Closure, Finished, Fit, Trim
from ..verbs.kinds import Kind, PieceKind
from ..verbs.values import Edge, Run, Seam, Value
from .numbers import area, bare, quantity
from .outcome import outcomes
from .passed import Passed, inputs_of, last_of_each, sentence_of, way_of
from .prepare import Prepared

LONGEST = 40
"""Lines of an explanation of one body, more of which few read."""


@dataclass(frozen=True)
class Line:
    """One line of an explanation: how deep it is nested, a name or "", the sentence as written, its value, its place."""

    depth: int
    name: str
    sentence: str
    value: str
    where: str


def explain(
    prepared: Prepared, name: str, whole: bool = False
) -> tuple[tuple[tuple[str, tuple[Line, ...]], ...], tuple[Diagnostic, ...]]:
    """For each body its name and the lines that tell where `name` comes from; errors if there is no such name. With `whole` of
    cloth also the sentences that leave it as it is, and all that lies behind those that drew it."""
    style = prepared.style
    assert style is not None
    measure = canonical(name)
    if name not in style.names and measure in style.measures:
        people = prepared.population
        rows = [Line(0, str(measure), "", people.history(str(measure), k), "") for k in range(len(prepared.bodies))]
        return tuple((body.name, (row,)) for body, row in zip(prepared.bodies, rows, strict=True)), ()
    found_nodes, inner, problem = _asked(style, name)
    if problem is not None:
        return (), (problem,)
    results, evaluated = outcomes(prepared, found_nodes)
    told: list[tuple[str, tuple[Line, ...]]] = []
    errors: list[Diagnostic] = []
    for lane, result in enumerate(results):
        found = evaluated.of(lane)
        if found is None:
            errors.extend(result.errors)
            continue
        tale = _History(prepared, style, *found, lane, whole)
        lines = tale.block(name, found_nodes) if inner is None else tale.of(found_nodes[0], inner)
        told.append((result.name, tuple(lines)))
    return tuple(told), tuple(errors)


def printed(body: str, lines: Sequence[Line], whole: bool) -> list[str]:
    """An explanation as lines of text, no more than `LONGEST` of them unless all are wanted."""
    text = [body]
    for line in lines:
        indent = "  " * (line.depth + 1)
        source = f"   [{line.where}]" if line.where else ""
        text.append(f"{indent}{line.name}{' = ' if line.value else ''}{line.value}{source}")
        text += [f"{indent}    {line.sentence}"] if line.sentence else []
    if whole or len(text) <= LONGEST:
        return text
    return [*text[: LONGEST - 1], f"  … and {counted(len(text) - LONGEST + 1, 'line')} more: `--all` shows them"]


def _asked(style: CheckedStyle, name: str) -> tuple[tuple[int, ...], str | None, Diagnostic | None]:
    """The node that is asked for, and the name of the edge, dart or point of it, if one is; or the nodes that a block gives and
    None."""
    node = _called(style, name)
    if node is not None:
        return (node,), "", None
    owner, _, part = name.rpartition(".")
    while owner and (style.names.get(owner) is None or part not in _parts(style.nodes[style.names[owner]].kind)):
        owner, _, last = owner.rpartition(".")
        part = f"{last}.{part}"
    if owner:
        return (style.names[owner],), part, None
    ends = [one for one in style.names if one.endswith(f".{name}")]  # short for the one definition that ends so
    if len(ends) == 1:
        return (style.names[ends[0]],), "", None
    given = (node for one, node in style.names.items() if one.rpartition(".")[0] == name)
    pieces = tuple(dict.fromkeys(node for node in given if isinstance(style.nodes[node].kind, PieceKind)))
    return pieces, None, None if pieces else _unfound(style, name, ends)


def _called(style: CheckedStyle, name: str) -> int | None:
    """The node of a definition or a check by its whole name."""
    if name in style.names:
        return style.names[name]
    return next((one.node for one in (*style.checks, *style.tidings) if one.name == name), None)


def _unfound(style: CheckedStyle, name: str, ends: Sequence[str]) -> Diagnostic:
    """Why there is nothing to explain; `ends` are names that end in this one."""
    inside = sorted((one for one in style.names if one.startswith(f"{name}.")), key=lambda one: one.count("."))
    if inside or ends:
        return words.several(name, (inside or ends)[:6])
    measure = canonical(name)
    parts = [f"{piece}.{part}" for piece, node in style.pieces.items() for part in _parts(style.nodes[node].kind)]
    return words.not_used(measure) if measure else words.no_such_name(name, did_you_mean(name, [*style.names, *parts]))


def _parts(kind: Kind) -> tuple[str, ...]:
    """The names of edges, darts and points of a piece."""
    sketch = kind.sketch if isinstance(kind, PieceKind) else None
    return () if sketch is None else (*sketch.edge_names(), *sketch.dart_names(), *sketch.points)


class _History:
    """The tale of one body: each definition once, its inputs below it."""

    def __init__(self, prepared: Prepared, style: CheckedStyle, part: Part, at: int, lane: int, whole: bool) -> None:
        self.prepared = prepared
        self.style = style
        self.part = part
        self.at = at
        self.lane = lane
        self.unit = prepared.bodies[lane].unit
        self.whole = whole
        # A recipe's own name yields to that of its use, other roles of a piece to the first.
        self.named: dict[int, str] = {}
        for name in sorted(style.names, key=lambda name: name.count(".")):
            self.named.setdefault(style.names[name], name)
        self.told: set[int] = set()

    def of(self, node: int, part: str) -> list[Line]:
        """The tale of a value; of a piece, or of a part of it, the sentences its cloth went through, in order."""
        if not isinstance(self.style.nodes[node].kind, PieceKind):
            return self._definition(node, 0)
        way = way_of(self.style, self.part.values, node, part, self.at)
        name = self.named[node]
        if not part:
            told = way if self.whole else last_of_each(self.style, way)[:-1]
            head = Line(0, name, self._sentence(node, name), self._value(node), self._where(node, name))
            return [head, *(line for one in told for line in self._passed(one))]
        told = [one for one in way if one.changed or self.whole]
        rest = len({sentence_of(self.style, one) for one in way} - {sentence_of(self.style, one) for one in told})
        which, them = f"{rest} more sentences of its piece leave", "them"
        if rest == 1:
            which, them = "1 more sentence of its piece leaves", "it"
        left = [Line(0, f"{which} it as it is: `--all` shows {them}", "", "", "")] if rest else []
        head = Line(0, f"{name}.{part}", "", self._of_part(node, part), "")
        return [head, *(line for one in told for line in self._passed(one)), *left]

    def block(self, name: str, pieces: Sequence[int]) -> list[Line]:
        """What a block gives, each piece with the sentence that finished it."""
        trace = self.style.origins[pieces[0]].trace
        head = [Line(0, name, self._written(trace[0].span), "", self._at(trace[0].span))] if trace else []
        return head + [line for one in pieces for line in self._passed(Passed(one, "", True, stated=False))]

    def _passed(self, one: Passed) -> list[Line]:
        """A sentence, what the cloth was after it, the numbers it was given, and where it drew an edge, how."""
        drafted = self.style.origins[one.node].name
        name = self.named.get(one.node, drafted)
        span = sentence_of(self.style, one)
        said, where = self._written(span), self._at(span)
        if one.node in self.named and (name != drafted or not one.stated):  # by the use of a recipe, not what that calls it
            said, where = self._sentence(one.node, name), self._where(one.node, name)
        lines = [Line(1, f"{name}.{one.name}" if one.name else name, said, self._of_part(one.node, one.name), where)]
        if one.drawn is not None and not isinstance(self.style.nodes[one.drawn].kind, PieceKind):
            if self.whole:
                return lines + self._definition(one.drawn, 2)
            drawn = self.style.origins[one.drawn].name
            lines.append(Line(1, drawn, self._sentence(one.drawn, drawn), "", self._where(one.drawn, drawn)))
        given = inputs_of(self.style, one.node if one.drawn is None else one.drawn, self.named)
        known = [arg for arg in given if arg in self.part.values]
        return lines + [Line(2, self.named[arg], "", self._value(arg), self._where(arg, self.named[arg])) for arg in known]

    def _of_part(self, index: int, part: str) -> str:
        """What an edge, a dart or a point of a piece is on this body, or the piece."""
        piece = self.part.values.get(index)
        if part == "" or not isinstance(piece, Piece):
            return self._value(index)
        point = piece.points.get(part)
        if point is not None:
            return shown(point, "point", self.at, self.unit)
        return shown(Edge(piece, part), "edge", self.at, self.unit) if Edge(piece, part).sides else ""

    def _definition(self, index: int, depth: int) -> list[Line]:
        node = self.style.nodes[index]
        name = self.named.get(index, "in hand" if index in self.style.links else self.style.origins[index].name)
        if isinstance(node.payload, Measure):
            measure = node.payload.name
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
            if arg in self.named or arg in self.style.links or isinstance(node.payload, Measure):
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
        return self.style.definitions.get(name, self.style.origins[index].sentence)

    def _where(self, index: int, name: str) -> str:
        return self._at(self._span(index, name))

    def _at(self, span: Span) -> str:
        line, _ = place(self.style.texts[span.file], span.start)
        return f"{span.file}:{line}"

    def _value(self, index: int) -> str:
        return shown(self.part.values.get(index), self.style.nodes[index].kind.word, self.at, self.unit)


def shown(value: Value, kind: str, lane: int, unit: Unit) -> str:
    """A value of one body in words."""

    def at(numbers: NDArray[Any]) -> float:
        return float(numbers[lane] if numbers.shape[0] > 1 else numbers[0])

    def said(numbers: NDArray[Any]) -> str:
        return quantity(at(numbers), "length", unit)

    def signed(numbers: NDArray[Any]) -> str:
        return f"{'-' if at(numbers) < 0 else '+'}{said(np.abs(numbers))}"

    match value:
        case Path() | Edge() | Run():
            total = length(value) if isinstance(value, Path) else value.length()
            return f"{said(total)} long"
        case Piece():
            cloth = area(at(ring_area([side.drawn for side in value.ring])), unit)
            edges = dict.fromkeys(side.edge for side in value.ring)
            return f"a piece of {len(edges)} edges, {cloth}"
        case Finished():
            return said(value.value)
        case Fit():
            if value.garment is None:
                return "no piece lies there"
            worn = "not measured" if value.body is None else f"{signed(value.garment - value.body)} on the body"
            return f"{said(value.garment)}, {worn}; {signed(value.ease)} asked"
        case Closure():
            return f"{said(value.long)} long"
        case Trim():
            held = value.count if value.amount is None else value.amount
            assert held is not None
            return f"{at(held):.0f}" if value.amount is None else said(held)
        case Seam():
            return f"{said(value.left_mm)} to {said(value.right_mm)}"
        case np.ndarray() if value.ndim == 2:
            x, y = value[lane if value.shape[0] > 1 else 0]
            return f"({bare(float(x), unit)}, {bare(float(y), unit)}) {'in' if unit == 'in' else 'mm'}"
        case np.ndarray() if value.dtype == bool:
            return "yes" if at(value) else "no"
        case np.ndarray():
            return quantity(at(value), kind, unit)
        case _:
            return ""
