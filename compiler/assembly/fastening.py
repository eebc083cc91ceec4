"""What is done to the garment beside its seams: closures, buttons, hems and other edges; after which seams they come, before
which, and of a closure whether it is set in in the round."""

from __future__ import annotations

import itertools
from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence

from ..pattern.which_ends import Name
from .closures import Closing
from .endings import Endings, How
from .groups import Groups
from .panels import Atom
from .readied import seams_of
from .said import GarmentSaid, SewingSaid
from .step import Step, WhyStep
from .surface import Corner, Glued, Outline, Surface, end_of, panels_of
from .ways import Meeting

At = Mapping[Corner, Sequence[Atom]]
"""By each corner the sides that end in it, on all panels that meet there."""


def steps(
    outline: Outline,
    said: GarmentSaid,
    ends: Endings,
    made: Surface,
    closings: Sequence[Closing],
    met: Sequence[Meeting],
    laid_on: Collection[str],
) -> Iterator[Step]:
    """The closures that are set in, as written, then edges that are in no seam, then buttons. `laid_on` are the pieces that are
    sewn on inside the outline of another."""
    there = _by_corner(outline, made) if closings else {}
    for closure in (one for one in said.closures if one.set_in):
        own, over, covers = (dict[str, None]() for _ in range(3))
        for one in (each for each in closings if each.closure.name == closure.name):
            own |= dict.fromkeys(([closure.seam] if closure.seam else []) + _names(ends, (atom for atom, _ in one.run), "seam"))
            over |= dict.fromkeys(_gone_over(outline, ends, made, there, one))
            covers |= dict.fromkeys(_covering(outline, ends, made, there, one))
        after: dict[str, WhyStep] = {**dict.fromkeys(over, "closes_over"), **dict.fromkeys(own, "set_into")}
        yield Step(closure.name, "closure", after, dict.fromkeys((name for name in covers if name not in after), "covers"))
    for way in said.sewing:
        yield from _edged(outline, said, way, ends, met, laid_on)
    yield from _buttons(outline, said)


def _edged(
    outline: Outline, said: GarmentSaid, way: SewingSaid, ends: Endings, met: Sequence[Meeting], laid_on: Collection[str]
) -> Iterator[Step]:
    """The edges of a way of sewing: hems, mouths of what is laid on another piece, or such as run over seams."""
    is_slit = any(one.runs_straight(outline.pieces) for one in _run_over(way, ends, met))
    if is_slit or not _is_hem(outline, way):
        over = dict.fromkeys(one.seam.name for one in _run_over(way, ends, met))
        if over:
            yield Step(_on(way, way.on), "edges", dict.fromkeys(over, "finished"))
        return
    mouths = [edge for edge in way.on if edge[0] in laid_on]
    hems = [edge for edge in way.on if edge not in mouths]
    if mouths:
        seams = seams_of(said, [owner for owner, _ in mouths])
        yield Step(_on(way, mouths), "mouth", before=dict.fromkeys(seams, "hemmed"))
    if hems:
        seams = seams_of(said, [owner for owner, _ in hems])
        yield Step(_on(way, hems), "hem", dict.fromkeys(seams, "finished"))


def _on(way: SewingSaid, edges: Sequence[Name]) -> str:
    return f"{way.name} on {' + '.join('.'.join(edge) for edge in edges)}"


def _buttons(outline: Outline, said: GarmentSaid) -> Iterator[Step]:
    for name, piece in outline.pieces.items():
        if piece.said.fastenings:
            seams = seams_of(said, [name])
            yield Step(f"{' and '.join(piece.said.fastenings)} of {name}", "buttons", dict.fromkeys(seams, "finished"))
    for closure in said.closures:
        seam = said.seam(closure.seam) if closure.seam else None
        owners = dict.fromkeys(owner for owner, _ in (seam.edges if seam else closure.edges))
        if not closure.set_in and closure.is_bought and not any(said.pieces[one].fastenings for one in owners):
            yield Step(closure.name, "buttons", dict.fromkeys(seams_of(said, owners), "finished"))


def _run_over(way: SewingSaid, ends: Endings, met: Sequence[Meeting]) -> Iterator[Meeting]:
    """The ends of seams over which the edges of a way of sewing run on from one piece to the next, as those of a slit over the
    seams it lies between: it comes after these. Of other edges nothing tells when they are done."""
    for one in met:
        if one.own[0].piece == one.own[1].piece:  # the ring of a binding, which is turned over what it is sewn to
            continue
        both = [ends.get(atom, ()) if atom is not None else () for atom in one.beside]
        if all(any(end.how == "way" and end.sentence == way.name for end in found) for found in both):
            yield one


def _is_hem(outline: Outline, way: SewingSaid) -> bool:
    """Whether a way of sewing turns up edges."""
    pieces = {owner: outline.pieces[owner] for owner, _ in way.on}
    sides = ((pieces[owner].said, pieces[owner].said.piece.ring[i]) for owner, edge in way.on for i in pieces[owner].along(edge))
    return bool(way.on) and (way.turns or any(said.hemmed & set(side.names) for said, side in sides))


def _names(ends: Endings, atoms: Iterable[Atom], *hows: How) -> list[str]:
    return [end.sentence for atom in atoms for end in ends.get(atom, ()) if end.how in hows]


def _gone_over(outline: Outline, ends: Endings, made: Surface, there: At, one: Closing) -> Iterator[str]:
    """The seams over which the run of a closure goes on from one piece to the next."""
    for (a, forward), (b, _) in itertools.pairwise(one.run):
        if a.piece != b.piece:
            yield from _names(ends, there[made.at(outline, end_of((a, forward), True))], "seam")


def _covering(outline: Outline, ends: Endings, made: Surface, there: At, one: Closing) -> Iterator[str]:
    """The seams on the edges at which a closure comes out at an opening; not those on its own edges, as that of a fly facing,
    which is sewn on before or after as is the custom."""
    for k, is_open in zip((0, -1), one.open_at, strict=True):
        for atom in there[made.at(outline, end_of(one.run[k], bool(k)))] if is_open else ():
            if not any(end.sentence in (one.closure.name, one.closure.seam) for end in ends.get(atom, ())):
                yield from _names(ends, [atom], "seam", "facing")


def _by_corner(outline: Outline, made: Surface) -> At:
    found: dict[Corner, list[Atom]] = {}
    for atom in outline.atoms:
        for corner in dict.fromkeys(made.at(outline, (atom, end)) for end in (0, 1)):
            found.setdefault(corner, []).append(atom)
    return found


def in_the_round(glued: Sequence[Glued], step: Step, done: Collection[str]) -> bool | None:
    """Whether a closure is set in where the cloth is a tube by then: of two panels, that something joins them besides the seam it
    is set into; of a slit in one, that seams lead from this back to it. None of one that lies on no outer cloth."""
    own = {step.name, *(name for name, why in step.after.items() if why == "set_into")}
    across = {
        ((a.piece, a.panel), (b.piece, b.panel))
        for one in glued
        if one.seam.name in own
        for (a, _), (b, _) in zip(one.left, one.right, strict=False)
    }
    if not across:
        return None
    sewn = [panels_of(one) for one in glued if one.seam.name in done and one.seam.name not in own]
    return any(_joined(sewn, *pair) for pair in across)


def _joined(sewn: Sequence[Sequence[tuple[str, int]]], one: tuple[str, int], two: tuple[str, int]) -> bool:
    """Whether seams, each by its panels, join two panels, or lead from one back to itself."""
    if one != two:
        groups = Groups([one, two]).join_all(sewn)
        return groups.first(one) == groups.first(two)
    groups = Groups([one]).join_all(seam for seam in sewn if one not in seam)
    beside = [groups.first(panel) for seam in sewn if one in seam for panel in seam if panel != one]
    return len(set(beside)) < len(beside) or any(seam == [one] for seam in sewn)
