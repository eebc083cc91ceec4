"""Pleats and tucks: cuts spread apart by the cloth each takes, its fold and placement lines, its edges cut as folded."""

from __future__ import annotations

import itertools
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from types import MappingProxyType

import numpy as np

from ..geometry.lanes import agree, cross, norm
from ..geometry.length import least_away, length, nearest, part, point_at
from ..geometry.motion import apply_points, inverse
from ..geometry.path import Path, flatten_fixed, line, reverse
from ..geometry.tolerances import COINCIDE
from .edges import OFF, cloth_length, edge_length
from .folding import Ends, Flank, Opened, hinge_of, strip_edge, stripe_edges
from .piece import Notch, OperationNote, Piece, Reals, Side, Sign, Trouble
from .pleating import FOLDS, LAID, PLANS, STITCHED, Plan, Pleating, Where
from .ring import RingPart, RingPlace, edge_run, edge_total, place_on, rebuilt, runs_of, settled
from .slash import OnEdge, SlashLine, Width, gap_name, slash


@dataclass(frozen=True)
class _Head:
    """An end of a pleat: what fills its gap, the ends (L, 2) of its fold lines and of the lines beside its flanks or halfway
    to the next, and how far (L,) mm along the edge those beside lie from the cut."""

    plan: Plan
    paths: tuple[Path, ...]
    folds: tuple[Reals, ...]
    beside: Mapping[Where, Reals]
    reach: Mapping[Where, Reals]


def pleat(piece: Piece, cuts: Sequence[SlashLine], how: Pleating, *, still: str | None = None) -> Piece:
    """The piece with a pleat at every cut: opened by what the pleat takes up, its edges cut as they lie when folded.

    A pleat of depth d takes 2 d (knife, accordion, tuck) or 4 d (box, inverted). An accordion stands, and its edge runs
    straight over what each takes; its counter-folds lie halfway between its folds. Names: the edges keep theirs, without
    what is folded away, which is `CALLED_kN.underlay` (at the far end `CALLED_kN.far_underlay`); at the edge where the
    pleats hang free that is part of the edge too. Inner lines `CALLED_kN.fold`, `.inner_fold`, `.placement` and so on
    (see PLANS). Trouble with lanes when pleats reach beyond an edge, or box pleats over each other.
    """
    _must_be_plain(piece, cuts, how)
    plan = PLANS[how.fashion, "a"]
    takes = [[None if one is None else len(plan.stripes) * one for one in depths] for depths in _depths(cuts, how)]
    opened = slash(piece, cuts, [(near, far) for near, far in takes], still=still).piece
    gaps = {gap_name(_end(cut, n).edge, k): (k, n) for k, cut in enumerate(cuts, 1) for n in (0, 1)}
    heads = {} if piece.is_sketch else _heads(piece, opened, cuts, how)
    if how.fashion == "box" and heads:
        _must_clear(piece, cuts, heads)
    runs: list[RingPart] = []
    for run in runs_of(opened):
        at = next((gaps[name] for name in run.side.names if name in gaps), None)
        if at is None:
            runs.append(run)
            continue
        side = _head_side(opened, run.side, at, how, _end(cuts[at[0] - 1], at[1]).edge)
        runs += [RingPart(replace(side, path=path)) for path in heads[at].paths] if heads else [RingPart(side)]
    lines = _lines(cuts, heads, how)
    lost = dict.fromkeys(gaps, "it is folded away in a pleat")
    signs = MappingProxyType({**opened.signs, **_signs(cuts, heads, how)})
    made = rebuilt(opened, runs, lost=lost, lines=(*opened.lines, *lines), signs=signs)
    made = replace(made, uncertain=made.uncertain | _unsure(cuts, how)) if piece.is_sketch else made
    if heads:
        made = replace(made, notches=(*made.notches, *_notches(made, cuts, lines, heads, how)))
    return made.with_note(*_tell(piece, made, cuts, how))


def _depths(cuts: Sequence[SlashLine], how: Pleating) -> list[tuple[Width, Width]]:
    return [how.depth(k, len(cuts)) for k in range(1, len(cuts) + 1)]


def _names(cuts: Sequence[SlashLine], how: Pleating, plan: Plan, number: int) -> Mapping[str, Where]:
    """The lines of a pleat by their own names."""
    return how.lines(plan, number, sum(cut.sure for cut in cuts))


def _unsure(cuts: Sequence[SlashLine], how: Pleating) -> frozenset[str]:
    """Names of pleats that not every body has, and of ends that may take nothing."""
    found: set[str] = set()
    for k, cut in enumerate(cuts, 1):
        lines = (*_names(cuts, how, PLANS[how.fashion, "a"], k), "underlay", "far_underlay")
        # The last pleat alone has a counter-fold behind it, and which is the last a body tells.
        open_ended = ("far_inner_fold",) if how.fashion == "accordion" and not cuts[-1].sure else ()
        names = lines if not cut.sure else (*open_ended, *(("underlay", "far_underlay") if how.tapered else ()))
        found |= {how.name(k, name) for name in names}
    return frozenset(found)


def _must_be_plain(piece: Piece, cuts: Sequence[SlashLine], how: Pleating) -> None:
    """Trouble when the cuts, or what is said of the pleats, cannot be folded."""
    if any(not isinstance(end, OnEdge) for cut in cuts for end in (cut.start, cut.end)) or any(c.through for c in cuts):
        raise Trouble("a pleat runs straight from edge to edge", "draw its line with `slash_lines`")
    ends = {_end(cut, which).edge for cut in cuts for which in (0, 1)}
    laid = how.fashion in LAID
    if laid and how.toward is None:
        raise Trouble(f"to which side the {how.fashion} folds point is not said", "write `toward` and an edge there")
    if not laid and how.toward is not None:
        raise Trouble(f"{how.fashion} pleats are laid to no one side", "take `toward` away")
    if how.toward in ends:
        raise Trouble(f"`{how.toward}` lies on both sides of the pleats", "name an edge that they do not cross")
    if how.free is not None and how.free not in ends:
        raise Trouble(f"the pleats do not reach `{how.free}`", "name an edge that their lines end on")
    if how.fashion == "accordion" and (len(cuts) < 2 or len({(_end(c, 0).edge, _end(c, 1).edge) for c in cuts}) > 1):
        what = "an accordion is two pleats or more, between the same two edges"
        raise Trouble(what, "write a `count` from 2, or take pleats of another kind")
    if how.name(1, "fold") in piece.edge_names():
        raise Trouble(f"there are pleats called `{how.called}` already", "give these a name of their own: `called …`")


def _end(cut: SlashLine, which: int) -> OnEdge:
    end = (cut.start, cut.end)[which]
    assert isinstance(end, OnEdge)
    return end


def _heads(piece: Piece, opened: Piece, cuts: Sequence[SlashLine], how: Pleating) -> dict[tuple[int, int], _Head]:
    """Both ends of every pleat, by its number and 0 or 1, on cloth."""
    heads = {}
    for k, cut in enumerate(cuts, 1):
        places = [_place(piece, _end(cut, which)) for which in (0, 1)]
        ends = tuple(point_at(piece.ring[place.side].drawn, place.at) for place in places)
        assert len(ends) == 2
        plan = PLANS[how.fashion, _flank_toward(piece, cut, ends, how)]
        gap = _gap(opened, cut, ends, k, len(plan.stripes))
        for which in (0, 1):
            shut = _gap_side(opened, cut, which, k) is None
            if how.fashion == "accordion":
                heads[k, which] = _standing(piece, cuts, k, which, gap, plan, shut)
            else:
                heads[k, which] = _shut(gap, which, plan) if shut else _head(piece, cut, which, places[which], gap, plan)
    return heads


def _place(piece: Piece, end: OnEdge) -> RingPlace:
    return settled(piece, place_on(piece, end.edge, end.at, end.from_end))


def _flank_toward(piece: Piece, cut: SlashLine, ends: Ends, how: Pleating) -> Flank:
    """The flank on the side of the edge or line the folds point to. Raises Disagreement when lanes differ in that."""
    if how.toward is None:
        return "a"
    sides = piece.sides(how.toward)
    if not sides:
        edge_run(piece, how.toward)
    middle = np.mean(np.concatenate([flatten_fixed(side.drawn, 8) for side in sides], axis=1), axis=1)
    left = agree((cross(ends[1] - ends[0], middle - ends[0]) > 0.0).astype(np.int64))
    # Flank A lies toward the end the cuts are counted from: to the left of the cut if that is where its edge starts.
    return "a" if bool(left) == (_end(cut, 0).from_end == "start") else "b"


def _gap_side(opened: Piece, cut: SlashLine, which: int, number: int) -> Side | None:
    name = gap_name(_end(cut, which).edge, number)
    return next((side for side in opened.ring if name in side.names), None)


def _gap(opened: Piece, cut: SlashLine, ends: Ends, number: int, folds: int) -> Opened:
    """The cut after opening: from the sides that bridge it, or from one where the other end stays shut."""
    long = norm(ends[1] - ends[0])
    flanks: list[Ends | None] = []
    for which in (0, 1):
        side = _gap_side(opened, cut, which, number)
        if side is None:
            flanks.append(None)
            continue
        path = side.drawn
        flanks.append((path.start, path.end) if _a_first(cut, which) else (path.end, path.start))
    for which in (0, 1):
        other = flanks[1 - which]
        if flanks[which] is None and other is not None:
            start, end = other if _a_first(cut, 1 - which) else other[::-1]
            flanks[which] = (hinge_of(start, end, long),) * 2
    near, far = flanks
    assert near is not None
    assert far is not None
    return Opened(ends, (near[0], far[0]), (near[1], far[1]), folds)


def _a_first(cut: SlashLine, which: int) -> bool:
    """Whether the outline meets flank A before flank B at an end of the cut; it does not at the other."""
    return _end(cut, which).from_end == "start"


def _shut(gap: Opened, which: int, plan: Plan) -> _Head:
    """An end of a tapered pleat where it takes nothing."""
    spot = gap.a[which]
    nothing = np.zeros(1)
    return _Head(plan, (), (spot,) * (gap.folds + 1), {"a": spot, "b": spot}, {"a": nothing, "b": nothing})


def _head(piece: Piece, cut: SlashLine, which: int, place: RingPlace, gap: Opened, plan: Plan) -> _Head:
    """An end of a pleat, its edges those of the strips they lie on."""
    edge, back = _end(cut, which).edge, inverse(gap.placed)
    strips: dict[Flank, Path] = {}
    for flank in dict.fromkeys(stripe.flank for stripe in plan.stripes):
        limit = gap.fold(-1 if flank == "a" else 1)
        flat = (apply_points(back, limit[0]), apply_points(back, limit[1]))
        forward = (flank == "b") == _a_first(cut, which)
        strips[flank], reached = strip_edge(piece, edge, place, forward, flat)
        if flank in plan.lines.values() and not reached:
            all_lanes = np.ones(strips[flank].lanes, dtype=np.bool_)  # lanes that differ in this were parted before
            fix = "make it less deep, or cut further from the end"
            raise Trouble(f"a box pleat is laid beyond the end of `{edge}`", fix, all_lanes)
    paths = stripe_edges(gap, plan.stripes, strips)
    folds = (paths[0].start, *(path.end for path in paths))
    beside: dict[Where, Reals] = {flank: apply_points(gap.placed, path.end) for flank, path in strips.items()}
    if "b" in beside:
        beside["b"] = apply_points(gap.power(gap.folds), beside["b"])
    if not _a_first(cut, which):
        paths = [reverse(path) for path in reversed(paths)]
    return _Head(plan, tuple(paths), folds, beside, {flank: length(path) for flank, path in strips.items()})


def _halfway(piece: Piece, cuts: Sequence[SlashLine], number: int, which: int) -> tuple[Reals, Reals]:
    """The places (L, 2) on the flat edge halfway to the cut before and after; beyond the first and the last as far as on
    their other side, or where the edge ends."""
    ends = [_end(cut, which) for cut in cuts]
    at = [np.zeros(1) if end.at is None else end.at for end in ends]
    k, last = number - 1, len(cuts) - 1
    back, on = (at[max(k, 1)] - at[max(k, 1) - 1]) / 2.0, (at[min(k, last - 1) + 1] - at[min(k, last - 1)]) / 2.0
    long = edge_total(piece, ends[k].edge)
    places = [_place(piece, replace(ends[k], at=np.clip(s, 0.0, long))) for s in (at[k] - back, at[k] + on)]
    before, after = (point_at(piece.ring[place.side].drawn, place.at) for place in places)
    return before, after


def _standing(
    piece: Piece, cuts: Sequence[SlashLine], number: int, which: int, gap: Opened, plan: Plan, shut: bool
) -> _Head:
    """An end of a pleat that stands: its edge goes straight over what it takes, from fold line to fold line."""
    before, after = (apply_points(gap.placed, spot) for spot in _halfway(piece, cuts, number, which))
    beside: dict[Where, Reals] = {"before": before, "after": apply_points(gap.power(gap.folds), after)}
    folds = tuple(gap.fold(k)[which] for k in range(gap.folds + 1))
    along = folds if _a_first(cuts[number - 1], which) else folds[::-1]
    paths = () if shut else tuple(line(one, other) for one, other in itertools.pairwise(along))
    return _Head(plan, paths, folds, beside, {})


def _must_clear(piece: Piece, cuts: Sequence[SlashLine], heads: Mapping[tuple[int, int], _Head]) -> None:
    """Trouble where a box pleat lies over the next."""
    for k in range(1, len(cuts)):
        for which in (0, 1):
            one, two = (_end(cuts[n], which) for n in (k - 1, k))
            if one.at is None or two.at is None or one.edge != two.edge:
                continue
            apart = np.abs(two.at - one.at)
            over = heads[k, which].reach["b"] + heads[k + 1, which].reach["a"] - apart
            if (over > 10.0 * COINCIDE).any():
                raise Trouble(
                    f"the box pleats {k} and {k + 1} lie over each other at `{one.edge}`",
                    "make them less deep, or fewer",
                    over > 10.0 * COINCIDE,
                    {"over": over},
                )


def _head_side(piece: Piece, side: Side, at: tuple[int, int], how: Pleating, edge: str) -> Side:
    """A side of the gap under its names: where the pleat hangs free it is part of the edge, elsewhere folded away."""
    named = how.underlay(*at)
    whole = tuple(name for name in side.names if name not in piece.parts or not piece.parts[name].is_gap)
    if edge == how.free:
        return replace(side, names=(*side.names, named))
    return replace(side, names=(named,), folded=whole)


def _lines(cuts: Sequence[SlashLine], heads: Mapping[tuple[int, int], _Head], how: Pleating) -> list[Side]:
    """The inner lines of all pleats."""
    made = []
    for k in range(1, len(cuts) + 1):
        plan = heads[k, 0].plan if heads else PLANS[how.fashion, "a"]
        for name, where in _names(cuts, how, plan, k).items():
            called = (how.name(k, name),)
            if not heads:
                made.append(Side(called))
                continue
            both = (heads[k, 0], heads[k, 1])
            ends = [head.folds[where] if isinstance(where, int) else head.beside[where] for head in both]
            made.append(Side(called, _as_sewn(line(ends[0], ends[1]), how, name)))
    return made


def _as_sewn(path: Path, how: Pleating, name: str) -> Path:
    """A line of a pleat; stitching reaches as far as it is said to, and the fold of a tuck with it."""
    if how.sewn is None or not (name in STITCHED or how.fashion == "tuck"):
        return path
    long = length(path)
    beyond = how.sewn > long + COINCIDE
    if beyond.any():
        figures = {"sewn": how.sewn, "length of the pleat": long}
        raise Trouble("a pleat is sewn down further than it is long", "sew it a shorter way", beyond, figures)
    return part(path, np.zeros(1), np.minimum(how.sewn, long))


def _signs(cuts: Sequence[SlashLine], heads: Mapping[tuple[int, int], _Head], how: Pleating) -> dict[str, Sign]:
    """How the lines are drawn: folds dashed, with an arrow to the line they are laid on."""
    signs = {}
    for k in range(1, len(cuts) + 1):
        plan = heads[k, 0].plan if heads else PLANS[how.fashion, "a"]
        for name in _names(cuts, how, plan, k):
            on = plan.laid.get(name)
            sign = Sign("fold", toward=how.name(k, on) if on else "") if name in FOLDS else Sign("placement")
            signs[how.name(k, name)] = sign
    return signs


def _notches(
    piece: Piece, cuts: Sequence[SlashLine], lines: Sequence[Side], heads: Mapping[tuple[int, int], _Head], how: Pleating
) -> list[Notch]:
    """A notch where a fold, or the line it is laid on, meets the outline: they are brought together there; of a tuck where
    its stitching does. None where a pleat has come to nothing."""
    laid = {sign.toward for sign in piece.signs.values()}
    paths = {side.names[0]: side.drawn for side in lines}
    found = []
    for (k, which), head in heads.items():
        for own in _names(cuts, how, head.plan, k) if head.paths else ():
            name = how.name(k, own)
            folded = how.fashion != "tuck" and (piece.signs[name].toward or name in laid)
            if folded or own in STITCHED:
                found.append(_notch_at(piece, paths[name].end if which else paths[name].start))
    return [notch for notch in found if notch is not None]


def _notch_at(piece: Piece, spot: Reals) -> Notch | None:
    """A notch at a point (L, 2) of the outline; none where the line ends inside the piece."""
    near = [number for number, side in enumerate(piece.ring) if (least_away(side.drawn, spot) <= OFF).any()]
    if not near:
        return None
    met = [nearest(piece.ring[number].drawn, spot) for number in near]
    away = np.stack(np.broadcast_arrays(*(gap for _, gap in met)), axis=1)
    if agree((away.min(axis=1) > OFF).astype(np.int64)):
        return None
    at = agree(np.argmin(np.round(away, 6), axis=1))
    return Notch(near[at], met[at][0])


def _tell(before: Piece, after: Piece, cuts: Sequence[SlashLine], how: Pleating) -> list[OperationNote]:
    """Every edge the pleats stand on: how long it was, how long it is sewn, and the cloth in it."""
    told = []
    for edge in dict.fromkeys(_end(cut, which).edge for which in (0, 1) for cut in cuts):
        if before.is_sketch:
            break
        was, sewn, cloth = edge_length(before, edge), edge_length(after, edge), cloth_length(after, edge)
        what = "tucks" if how.fashion == "tuck" else f"{how.fashion} pleats"
        lengths = {"before": was, "after": sewn, "cloth": cloth}
        told.append(OperationNote(what, edge, MappingProxyType(lengths), MappingProxyType({"ratio": cloth / was})))
    return told
