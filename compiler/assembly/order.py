"""The order of sewing, derived: what must be done before a seam, and why; the order of the sentences where nothing tells."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import Literal

from .endings import Endings
from .fastening import in_the_round
from .faults import Fault
from .flat import sewn_flat
from .panels import Atom, Pieces
from .proof import Structure
from .said import SeamSaid
from .sewn import SewnOnce
from .step import Kind, Step, WhyStep
from .surface import Glued, Outline
from .turning_bags import taken_along, turned_through
from .ways import Meeting

Why = Literal["said", "caught", "run_over", "faced_over", "as_one", "flat", "turned_through", "taken_along"] | WhyStep
"""`said` in the sentence; `caught` in the seam; the run goes on over the seam; the edge is faced over it; it is crossed at one
place with another seam that comes before (or after) as well; it is sewn on a panel that lies flat, or layers are turned by an
opening that the other shuts, or an end is taken along in the other, where nothing else tells otherwise."""


Over = tuple[SewnOnce, Atom, Atom]
"""A seam, and the sides that stand beside two of its edges where one goes over into the other."""


@dataclass(frozen=True)
class Place:
    """A seam, a closure or another step in its place: the steps it needs done, each with the reason, and, of one that was moved,
    that before which it was, and why; of a closure whether it is set in in the round."""

    name: str
    needs: Mapping[str, Why] = field(default_factory=dict)
    moved_before: str = ""
    why: Why = "said"
    kind: Literal["seam"] | Kind = "seam"
    in_round: bool | None = None


@dataclass
class _Rules:
    """For each seam those that come before it, with the first reason that was found."""

    before: dict[str, dict[str, Why]]

    def comes_before(self, one: str, other: str) -> bool:
        """Whether a seam comes before another by what is known."""
        seen, todo = set[str](), [other]
        while todo:
            for name in self.before.get(todo.pop(), ()):
                if name == one:
                    return True
                if name not in seen:
                    seen.add(name)
                    todo.append(name)
        return False

    def add(self, one: str, other: str, why: Why) -> bool:
        """Note that a seam comes before another; False where the other comes before it already."""
        if one == other or one in self.before[other]:
            return True
        if self.comes_before(other, one):
            return False
        self.before[other][one] = why
        return True


def sewing_order(
    structure: Structure,
    met: Sequence[Meeting],
    over: Sequence[Over],
    steps: Sequence[Step],
    laid: tuple[Outline, Sequence[Glued]],
) -> tuple[list[Place], list[Fault]]:
    """The seams and the other steps in the order of sewing, and what of the order that is asked cannot be. `over` are the
    places where runs go on from one edge to another, `laid` the outer cloth and how it is glued together."""
    pieces, ends, inside, seams = structure.pieces, structure.endings, structure.inside, structure.said.seams
    rules = _Rules({seam.name: {} for seam in seams})
    faults: list[Fault] = []
    _add_said(rules, seams)
    for one, other, why in (*_run_over(over, ends), *_faced_over(met, ends, inside)):
        if not rules.add(one, other, why) and rules.before[one].get(other) != "caught":
            faults.append(Fault("too_soon", (one, other)))
    faults += _crossing(rules, list(_crossed(pieces, met, ends, inside)))
    for one, other in sewn_flat(structure, laid[0].bags):
        rules.add(one, other, "flat")
    for one, other in taken_along(structure, met):
        rules.add(one, other, "taken_along")
    for one, other in turned_through(structure, lambda late, soon: rules.comes_before(soon, late)):
        rules.add(one, other, "turned_through")
    placed = _placed(_with_steps([seam.name for seam in seams], steps, rules), rules)
    return _of_kinds(placed, steps, laid[1]), list(dict.fromkeys(faults))


def _add_said(rules: _Rules, seams: Sequence[SeamSaid]) -> None:
    """What the sentences say of the order, of which the checker has refused rings."""
    for seam in seams:
        for name in seam.after:
            if name in rules.before:
                rules.add(name, seam.name, "said")
        for name in seam.caught_in:
            if name in rules.before:
                rules.add(seam.name, name, "caught")


def _of_kinds(placed: Sequence[Place], steps: Sequence[Step], glued: Sequence[Glued]) -> list[Place]:
    """The places with what is told of closures and other steps."""
    known, done, found = {step.name: step for step in steps}, list[str](), list[Place]()
    for one in placed:
        step = known.get(one.name)
        found.append(replace(one, kind=step.kind, in_round=in_the_round(glued, step, done)) if step else one)
        done.append(one.name)
    return found


def as_said(after: Mapping[str, Sequence[str]]) -> list[str]:
    """Seams, by name, as they are written, but each behind those that its sentence names: all that is known of the order where
    the garment is not judged. The checker has refused rings."""
    rules = _Rules({name: {one: "said" for one in those if one in after} for name, those in after.items()})
    return [one.name for one in _placed([*after], rules)]


def _seam_of(ends: Endings, atom: Atom | None) -> str:
    """The seam a side is in."""
    return next((end.sentence for end in ends.get(atom, ()) if end.how == "seam"), "") if atom is not None else ""


def _run_over(over: Sequence[Over], ends: Endings) -> Iterator[tuple[str, str, Why]]:
    """Of each run the seams it goes over, from one edge to the next."""
    for seam, one, two in over:
        name = _seam_of(ends, one)
        if name not in ("", seam.name) and name == _seam_of(ends, two):
            yield name, seam.name, "run_over"


def _faced_over(met: Sequence[Meeting], ends: Endings, inside: frozenset[str]) -> Iterator[tuple[str, str, Why]]:
    """Of each seam by which a facing lies on an edge the seams that cross it, of the facing and of what it lies on."""
    for one in met:
        lies = [atom.piece in inside for atom in one.own]
        if lies[0] != lies[1]:
            names = [_seam_of(ends, beside) for beside in one.beside]
            if all(names) and names[0] != names[1] and not _goes_on(one, names, ends):
                yield from ((name, one.seam.name, "faced_over") for name in names if name != one.seam.name)


def _goes_on(one: Meeting, names: Sequence[str], ends: Endings) -> bool:
    """Whether the facing goes on beside an end, or lies on an edge that is sewn too, and nothing is crossed there."""
    faced = any(end.how == "facing" for atom in one.beside if atom is not None for end in ends.get(atom, ()))
    return faced or any(end.sentence in names for atom in one.own for end in ends.get(atom, ()))


def _crossed(pieces: Pieces, met: Sequence[Meeting], ends: Endings, inside: frozenset[str]) -> Iterator[tuple[str, str, str]]:
    """Each seam with two that cross it at one place, one on each of its sides."""
    for one in met:
        if not any(atom.piece in inside for atom in one.own):
            a, b = (_seam_of(ends, beside) for beside in one.beside)
            if a and b and len({a, b, one.seam.name}) == 3 and not one.runs_straight(pieces):
                yield one.seam.name, a, b


def _crossing(rules: _Rules, crossed: Sequence[tuple[str, str, str]]) -> list[Fault]:
    """Two seams that cross a third at one place come both before it, in the round, or both after it as one."""
    faults: dict[tuple[str, ...], Fault] = {}
    changed = True
    while changed:
        changed = False
        for seam, *both in dict.fromkeys(crossed):
            for one, other in (both, both[::-1]):
                count = sum(map(len, rules.before.values()))
                fine = True
                if rules.comes_before(one, seam):
                    fine = rules.add(other, seam, "as_one")
                elif rules.comes_before(seam, one):
                    fine = rules.add(seam, other, "as_one")
                if not fine:
                    faults.setdefault(tuple(sorted(both)), _between(rules, crossed, seam, (one, other)))
                changed |= sum(map(len, rules.before.values())) > count
    return list(faults.values())


def _between(rules: _Rules, crossed: Sequence[tuple[str, str, str]], seam: str, both: tuple[str, str]) -> Fault:
    """What is wrong where a seam comes after one that crosses it and before another. Where that crosses the other as well, which
    comes after it too, the two are sewn over it in one go."""
    for first, other in (both, both[::-1]):
        each = all(any(name == one and first in rest for name, *rest in crossed) for one in (seam, other))
        if each and all(rules.comes_before(first, one) for one in (seam, other)):
            return Fault("in_two", (other, seam, first))
    return Fault("between", (seam, *both))


def _placed(written: Sequence[str], rules: _Rules) -> list[Place]:
    """The seams as they are written, but each behind those it needs."""
    number = {name: k for k, name in enumerate(written)}
    placed: dict[str, Place] = {}

    def place(name: str, wanted_by: str) -> None:
        if name in placed:
            return
        moved = wanted_by if wanted_by and number[name] > number[wanted_by] else ""
        for before in sorted(rules.before[name], key=number.__getitem__):
            place(before, name)
        placed[name] = Place(name, dict(rules.before[name]), moved, rules.before[moved][name] if moved else "said")

    for name in written:
        place(name, "")
    return list(placed.values())


def _with_steps(written: Sequence[str], steps: Sequence[Step], rules: _Rules) -> list[str]:
    """The seams as they are written with the steps that no sentence puts in the order: interlinings first, hems and then buttons
    last; of the others each behind the last seam it is set into or goes over, else before the first that covers it, else at the
    end. What the seams ask of each other goes first."""
    found = [*written]
    for step in steps:
        rules.before[step.name] = {}
        for name, why in step.after.items():
            rules.add(name, step.name, why)
        for name, why in step.before.items():
            rules.add(step.name, name, why)
        if step.kind not in ("mounted", "hem", "buttons"):
            after, before = ([found.index(name) for name in names if name in found] for names in (step.after, step.before))
            found.insert(max(after) + 1 if after else min(before, default=len(found)), step.name)
    first, hems, buttons = ([one.name for one in steps if one.kind == kind] for kind in ("mounted", "hem", "buttons"))
    return [*first, *found, *hems, *buttons]
