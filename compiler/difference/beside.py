"""What is told beside the pieces: bodies that only one side draws; seams, checks and fit that say something else; finished
measurements, held against their tolerance."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from ..diagnostics import difference_words as words
from .cloth import BodyDifference, ClothDifference
from .figures import Figures
from .sayings import FinishedChange, Number, SayingChange


@dataclass(frozen=True)
class SaidRow:
    """A line and the bodies on which it is so."""

    kind: str
    name: str
    told: str
    bodies: tuple[str, ...]


@dataclass(frozen=True)
class FinishedRow:
    """A finished measurement: its tolerance in words, and by how much it is more on each body, mm, None where it is new or gone
    there; the bodies on which that is beyond its tolerance."""

    name: str
    tolerance: str
    more: Mapping[str, float | None]
    beyond: tuple[str, ...]

    @property
    def told(self) -> str:
        """What stands behind its numbers."""
        return words.beyond() if self.beyond else ""


def said_rows(difference: ClothDifference) -> tuple[SaidRow, ...]:
    """All that is said otherwise, each line once, with the bodies on which it is so."""
    found: dict[tuple[str, str, str], list[str]] = {}
    for body in difference.bodies:
        for line in said_lines(body):
            found.setdefault(line, []).append(body.name)
    return tuple(SaidRow(*line, tuple(bodies)) for line, bodies in found.items())


def said_lines(body: BodyDifference) -> Iterator[tuple[str, str, str]]:
    """What is told of a body beside its pieces and its finished measurements: of what, its name, and the line."""
    if body.drawn in ("old", "new"):
        yield "body", "", words.not_drawn(body.drawn == "new", "; ".join(body.errors))
    for change in body.sayings:
        yield from ((change.kind, change.name, line) for line in _said(change, Figures(body.unit)))


def _said(change: SayingChange, figures: Figures) -> Iterator[str]:
    what = words.called(change.kind, change.name)
    if change.present != "both":
        yield words.said_anew(what, change.present == "new")
        return
    if change.holds[0] != change.holds[1]:
        yield words.held(what, change.holds[1], change.holds[0], change.told[1] or change.told[0])
    for word, was, now in change.words:
        yield words.said_otherwise(what, word, now, was)
    for word, kind, old, new in change.numbers:
        yield words.said_otherwise(what, word, *(_number(value, kind, figures) for value in (new, old)))


def _number(value: float, kind: Number, figures: Figures) -> str:
    return figures.moved(value) if kind == "mm" else f"{value:.2f}"


def finished_rows(difference: ClothDifference) -> tuple[FinishedRow, ...]:
    """Finished measurements that are not as they were, with all bodies that both sides draw."""
    figures = {body.name: Figures(body.unit) for body in difference.bodies}
    found: dict[str, dict[str, FinishedChange]] = {}
    for body in difference.bodies:
        for change in body.finished:
            found.setdefault(change.name, {})[body.name] = change
    drawn = [body.name for body in difference.bodies if body.drawn == "both"]
    return tuple(_row(name, changes, drawn, figures) for name, changes in found.items())


def _row(
    name: str, changes: Mapping[str, FinishedChange], drawn: list[str], figures: Mapping[str, Figures]
) -> FinishedRow:
    body, first = next(iter(changes.items()))
    more = {one: changes[one].more if one in changes else 0.0 for one in drawn}
    lone = {one: None for one, change in changes.items() if change.old_mm is None or change.new_mm is None}
    told = words.tolerance(figures[body].moved(first.over), figures[body].moved(first.under))
    return FinishedRow(name, told, {**more, **lone}, tuple(one for one, change in changes.items() if change.beyond))
