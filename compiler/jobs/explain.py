"""Explain: where a number comes from, or cloth: sentences, inputs down to the measurements, and this body's arithmetic."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import Any

import numpy as np
from numpy.typing import NDArray

from ..bodies.units import Unit
from ..bodies.vocabulary import canonical
from ..diagnostics.diagnostic import Diagnostic, Span
from ..diagnostics.printing import place
from ..geometry.length import length
from ..geometry.path import Path, ring_area
from ..graph.evaluate import Evaluated, Part
from ..meaning.payloads import Measure
from ..meaning.style import CheckedStyle
from ..output.command_records import ExplainLine as Line
from ..output.summary import counted
from ..pattern.piece import Piece
from ..verbs.attached import Closure, Finished, Fit, Trim
from ..verbs.kinds import PieceKind, SeamKind
from ..verbs.values import Edge, Run, Seam, Value
from .asked import Asked, asked
from .notches_told import notches_told, of_seam
from .numbers import area, bare, quantity
from .outcome import outcomes
from .passed import Passed, inputs_of, last_of_each, sentence_of, way_of
from .prepare import Prepared
from .results import BodyResult

LONGEST = 40
"""Lines of an explanation of one body, more of which few read."""


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
    found_there, problem = asked(style, name)
    if found_there is None:
        return (), () if problem is None else (problem,)
    found = outcomes(prepared, () if found_there.what == "members" else found_there.nodes)
    return told_on(prepared, found, name, found_there, whole)


def told_on(
    prepared: Prepared, found: tuple[Sequence[BodyResult], Evaluated], name: str, what: Asked, whole: bool = False
) -> tuple[tuple[tuple[str, tuple[Line, ...]], ...], tuple[Diagnostic, ...]]:
    """As `explain`, of what came of the bodies already."""
    results, evaluated = found
    told: list[tuple[str, tuple[Line, ...]]] = []
    errors: list[Diagnostic] = []
    assert prepared.style is not None
    for lane, result in enumerate(results):
        values = evaluated.of(lane)
        if values is None:
            errors.extend(result.errors)
            continue
        tale = _History(prepared, prepared.style, *values, lane, whole, result)
        told.append((result.name, tuple(tale.of(name, what))))
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


class _History:
    """The tale of one body: each definition once, its inputs below it."""

    def __init__(
        self, prepared: Prepared, style: CheckedStyle, part: Part, at: int, lane: int, whole: bool, result: BodyResult
    ) -> None:
        self.prepared = prepared
        self.style = style
        self.part = part
        self.at = at
        self.lane = lane
        self.unit = prepared.bodies[lane].unit
        self.whole = whole
        self.result = result
        # A recipe's own name yields to that of its use, other roles of a piece to the first.
        self.named: dict[int, str] = {}
        for name in sorted(style.names, key=lambda name: name.count(".")):
            self.named.setdefault(style.names[name], name)
        self.told: set[int] = set()

    def of(self, name: str, asked: Asked) -> list[Line]:
        """What is told of what is asked for."""
        match asked.what:
            case "block":
                return self.block(name, asked.nodes)
            case "members":
                return self.members(name, asked.nodes)
            case "sentences":
                owner = name.rpartition(".")[0]
                told = [line for one in asked.nodes for line in self._passed(Passed(one, "", True))]
                return [Line(0, name, "", "", ""), *(replace(one, value="") if one.name == owner else one for one in told)]
        return self.one(asked.nodes[0], asked.part)

    def one(self, node: int, part: str) -> list[Line]:
        """The tale of a value; of a piece, or of a part of it, the sentences its cloth went through, in order; of a seam its
        notches."""
        kind = self.style.nodes[node].kind
        if isinstance(kind, SeamKind):
            seam, *behind = self._definition(node, 0)
            return [seam, *self._notches(node), *behind]
        if not isinstance(kind, PieceKind):
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
        marked = [Line(1, "notch", "", words, "") for words in notches_told(self.result, name, part)]
        return [head, *marked, *(line for one in told for line in self._passed(one)), *left]

    def block(self, name: str, pieces: Sequence[int]) -> list[Line]:
        """What a block gives, each piece with the sentence that finished it."""
        trace = self.style.origins[pieces[0]].trace
        head = [Line(0, name, self._written(trace[0].span), "", self._at(trace[0].span))] if trace else []
        return head + [line for one in pieces for line in self._passed(Passed(one, "", True, stated=False))]

    def members(self, name: str, nodes: Sequence[int]) -> list[Line]:
        """All that has this name before its own, as far as this body needs it."""
        known = [one for one in dict.fromkeys(nodes) if one in self.part.values]
        rows = [Line(1, self.named[one], "", self._value(one), self._where(one, self.named[one])) for one in known]
        if known and all(isinstance(self.style.nodes[one].kind, SeamKind) for one in known):
            return [line for one in known for line in (self._definition(one, 0)[0], *self._notches(one))]
        return [Line(0, name, "", counted(len(rows), "definition"), ""), *rows]

    def _notches(self, seam: int) -> list[Line]:
        return [Line(1, f"notch of {place}", "", words, "") for place, words in of_seam(self.result, self.named[seam])]

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
