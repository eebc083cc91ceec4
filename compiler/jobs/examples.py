"""The examples of the reference, run on the common ground they stand on: `grammar/examples.style` and an invented body.

An example is one sentence or a few. It may use the names of the common ground, measurements, and what it defines itself;
where it defines a name that stands there too, its own takes the place. A sentence of a piece's block is put into the first
block of a piece, in the order of that file, that takes it.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cache

import numpy as np

from ..bodies.body_file import read_body
from ..bodies.lanes import Population
from ..diagnostics.diagnostic import Diagnostic
from ..folders import shipped
from ..graph.evaluate import alone
from ..meaning.style import CheckedStyle
from ..syntax.source import Source
from ..syntax.words import KINDS
from ..verbs.values import Value, value_at
from .files import Disk
from .workspace import Workspace

GROUND = "examples.style"
BODY = "examples.toml"
_HEAD = re.compile(rf"(?:{'|'.join(sorted(KINDS))}|solve)\s+([a-z]\w*)")


@dataclass(frozen=True)
class Example:
    """An example on the common ground.

    `style` is None when it has errors; `problems` tells them. `made` is the name of what the example defines, or of the
    piece in whose block it stands.
    """

    sentence: str
    made: str
    style: CheckedStyle | None
    problems: tuple[Diagnostic, ...]


@cache
def ground() -> tuple[str, ...]:
    """The sentences of the common ground, each with its block; comments are parts of their own."""
    text = (shipped("grammar") / GROUND).read_text("utf-8")
    return tuple(re.split(r"\n(?=[^\s}])", text.rstrip("\n")))


@cache
def without() -> CheckedStyle:
    """The common ground alone, without any example."""
    style, problems = _compiled(ground())
    assert style is not None, problems
    return style


@cache
def _people() -> Population:
    body, problems = read_body((shipped("grammar") / BODY).read_text("utf-8"), BODY)
    assert body is not None, problems
    return Population.of([body])


def example(sentence: str, in_block: bool = False, use: str = "") -> Example:
    """The example on the common ground, checked. `in_block`: it is a sentence of a piece's block. `use`: the sentence that
    brings in a recipe."""
    if not in_block:
        style, problems = _compiled(on_ground(sentence, use))
        return Example(sentence, [*_defined(sentence), ""][0], style, problems)
    tried: list[Example] = []
    for piece, sentences in _in_blocks(sentence):
        tried.append(Example(sentence, piece, *_compiled(sentences)))
        if tried[-1].style is not None:
            return tried[-1]
    return tried[0]


def on_ground(sentence: str, use: str = "") -> list[str]:
    """The common ground with an example at its end, and without what that defines itself."""
    own = set(_defined(sentence))
    kept = [one for one in ground() if not own.intersection(_defined(one)[:1])]
    brought = [] if any(one.strip() == use for one in kept) else [use]
    return [*kept[:2], *brought, *kept[2:], sentence]


def _defined(text: str) -> list[str]:
    """Names defined at the beginning of a line, the last one first: that is what the text is about."""
    found = (_HEAD.match(line) for line in text.split("\n"))
    return [match.group(1) for match in found if match is not None][::-1]


def _in_blocks(sentence: str) -> Iterator[tuple[str, list[str]]]:
    """For each piece of the ground with a block: its name, and the ground with the sentence at the end of that block."""
    for number, one in enumerate(ground()):
        if one.startswith("shape ") and "{\n" in one:
            before, _, after = one.rpartition("\n}")
            if sentence.startswith("cut "):  # what is cut is a piece
                before = before.replace("shape", "piece", 1)
            inside = "\n    ".join(sentence.split("\n"))
            yield _defined(one)[0], [*ground()[:number], f"{before}\n    {inside}\n}}{after}", *ground()[number + 1 :]]


def _compiled(sentences: Sequence[str]) -> tuple[CheckedStyle | None, tuple[Diagnostic, ...]]:
    analysis = Workspace(Disk()).analyse(Source(GROUND, "\n".join(sentences) + "\n"), {})
    return analysis.style, analysis.diagnostics


def values(style: CheckedStyle, nodes: Sequence[int]) -> list[Value]:
    """What the nodes come to on the invented body, each of one lane. Raises AssertionError where a sentence fails on it."""
    evaluated = alone(style, _people(), np.zeros(1, dtype=np.intp), nodes)
    assert not evaluated.failures, evaluated.failures[0].message
    (part,) = evaluated.parts
    return [value_at(part.values[node], np.zeros(1, dtype=np.intp)) for node in nodes]
