"""Darts left unsewn: as ease or flare, as gathers, or laid in a pleat or a tuck."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from types import MappingProxyType
from typing import Literal

import numpy as np

from ..geometry.curve import hobby
from ..geometry.lanes import join, unit
from ..geometry.length import length, part
from ..geometry.meet import line_path
from ..geometry.motion import apply_path, mirror_path, rotation
from ..geometry.path import Path, end_direction, line, reverse, start_direction
from .darts import apex_of, is_open_below, leg_run, no_such_dart
from .edges import cloth_length, edge_length
from .piece import Dart, Notch, OperationNote, Piece, Reals, Side, Sign, Trouble, leg_names
from .pivot import closing_angle
from .ring import RingPart, end_of, rebuilt, record, runs_of, shared_names, start_of, straight

Left = Literal["ease", "flare", "gathers", "pleat", "tuck", "inverted_tuck"]


@dataclass(frozen=True)
class Laying:
    """How a dart is laid: toward which leg, an inverted tuck toward both, and for which length (L,) mm from the edge it is sewn
    down (None: not)."""

    fashion: Literal["pleat", "tuck", "inverted_tuck"]
    toward: Literal["inner", "outer"] = "inner"
    stitched: bool = False
    sewn: Reals | None = None


def leave(piece: Piece, name: str, how: Left = "ease", laying: Laying | None = None) -> Piece:
    """The dart is not sewn, and its legs go. What it took in is left in its edge; before and after are told.

    As ease or flare the opening is bridged straight, as gathers by a smooth line, with the names of its edge. Laid in a
    pleat or tuck it stays open by two sides `NAME.underlay`, which are folded away in the edge: cut as they lie when
    folded toward a leg, by inner lines `NAME.fold`, `NAME.inner_fold` and `NAME.placement` (a tuck's: `NAME.fold`), and
    `NAME.stitching` and `NAME.far_stitching` where it is sewn down. An inverted tuck has its two folds `NAME.fold` and
    `NAME.far_fold` on the legs, meeting over `NAME.placement`, and two inner folds. Trouble where the legs do not close, the
    pleat lies beyond the edge, or a dart with two ends has no edge to take it up.
    """
    why = f"the dart `{name}` was left unsewn, as {how}"
    lost = {name: why, **{leg: why for leg in leg_names(name) if leg in piece.edge_names()}}
    dart = piece.dart(name)
    if dart is None:
        if piece.hole(name) is None:
            raise no_such_dart(piece, name)
        _must_be_plain(name, how)
        return record(replace(piece, holes=tuple(hole for hole in piece.holes if hole.name != name)), lost)
    if is_open_below(piece, dart):
        _must_be_plain(name, how)
    legs, count = leg_run(piece, dart), len(piece.ring)
    before, after = piece.ring[(legs[0] - 1) % count], piece.ring[(legs[-1] + 1) % count]
    names = shared_names(before, after, dart.edge)
    if laying is None:
        bridge, lines = [_bridge(piece, legs, names, before, after, how)], _Lines()
    else:
        bridge, lines = _laid(piece, dart, names, before, after, laying)
    runs = [run for k, run in enumerate(runs_of(piece)) if k not in legs]
    at = sum(1 for k in range(legs[0]) if k not in legs)
    runs[at:at] = [RingPart(side) for side in bridge]
    darts = tuple(other for other in piece.darts if other.name != name)
    signs = MappingProxyType({**piece.signs, **lines.signs})
    made = rebuilt(piece, runs, lost=lost, darts=darts, lines=(*piece.lines, *lines.sides), signs=signs)
    return _telling(piece, _notched(made, name), dart, how)


def _must_be_plain(name: str, how: Left) -> None:
    if how not in ("ease", "flare"):
        fix = f"leave it as flare, or open its edge with `slash`; a dart on an edge can be left as {how}"
        raise Trouble(f"`{name}` is open at both ends: it has no edge to take it up as {how}", fix)


def _bridge(
    piece: Piece, legs: tuple[int, ...], names: tuple[str, ...], before: Side, after: Side, how: Left
) -> Side:
    """The side across the opening."""
    a, b = start_of(piece.ring[legs[0]]), end_of(piece.ring[legs[-1]])
    if how != "gathers" or a is None or b is None:
        return straight(names, a, b)
    across = hobby(join([a[:, None], b[:, None]], 1), end_direction(before.drawn), start_direction(after.drawn))
    return Side(names, across)


@dataclass(frozen=True)
class _Lines:
    """Inner lines and how they are drawn."""

    sides: tuple[Side, ...] = ()
    signs: Mapping[str, Sign] = field(default_factory=dict)


def _laid(
    piece: Piece, dart: Dart, names: tuple[str, ...], before: Side, after: Side, how: Laying
) -> tuple[list[Side], _Lines]:
    """The sides folded away, from the first leg to the middle and on to the second, and the lines of the pleat."""
    under = (f"{dart.name}.underlay",)
    lines = _lines_of(dart.name, how)
    signs = {one.name: one.sign for one in lines}
    if piece.is_sketch:
        return [Side(under, folded=names)], _Lines(tuple(Side((one.name,)) for one in lines), signs)
    apex = apex_of(piece, dart.name)
    assert apex is not None
    angle = closing_angle(piece, dart, dart.name)
    near_first = dart.inner_first == (how.toward == "inner")
    if how.fashion == "inverted_tuck":
        to_second = _folded(apex, reverse(after.drawn), -angle / 2.0, dart)
        paths = [*_folded(apex, before.drawn, angle / 2.0, dart), *(reverse(path) for path in reversed(to_second))]
    elif near_first:
        paths = [*_folded(apex, before.drawn, angle, dart)]
    else:
        paths = [reverse(path) for path in reversed(_folded(apex, reverse(after.drawn), -angle, dart))]
    places = [*(path.start for path in paths), paths[-1].end]
    ordered = places if near_first else places[::-1]
    sides = [Side((one.name,), _down(ordered[one.where], apex, how, one.stitched)) for one in lines]
    return [Side(under, path, folded=names) for path in paths], _Lines(tuple(sides), signs)


@dataclass(frozen=True)
class _Line:
    """A line of a pleat: where it begins, its sign, and whether it is sewn along."""

    name: str
    where: int
    sign: Sign
    stitched: bool = False


def _lines_of(dart: str, how: Laying) -> list[_Line]:
    """The lines of a pleat, each with the number of its place among those where the edge turns back, from the
    leg it is laid on, or from the inner one, to the other."""
    met = Sign("fold", toward=f"{dart}.placement")
    inner, placed = Sign("fold"), Sign("placement")
    if how.fashion == "inverted_tuck":  # sewn where its folds lie, on the legs
        return [
            _Line(f"{dart}.fold", 0, met),
            _Line(f"{dart}.inner_fold", 1, inner),
            _Line(f"{dart}.placement", 2, placed),
            _Line(f"{dart}.far_inner_fold", 3, inner),
            _Line(f"{dart}.far_fold", 4, met),
        ]
    lines = [_Line(f"{dart}.fold", 1, Sign("fold", toward=f"{dart}.stitching" if how.stitched else ""))]
    if how.fashion == "pleat":
        lines = [
            _Line(f"{dart}.fold", 2, met),
            _Line(f"{dart}.inner_fold", 1, inner),
            _Line(f"{dart}.placement", 0, placed),
        ]
    if how.stitched:
        lines += [_Line(f"{dart}.stitching", 0, placed, True), _Line(f"{dart}.far_stitching", 2, placed, True)]
    return lines


def _folded(apex: Reals, edge: Path, angle: Reals, dart: Dart) -> tuple[Path, Path]:
    """What is folded away, from the leg it is laid on to the middle and from there to the other leg.

    `edge` ends at that leg, `angle` goes from it to the other. Pressed onto the edge, the half next to it lies there as
    its mirror image across the leg, the other half turned back by the whole dart.
    """
    leg = unit(edge.end - apex)
    middle = leg[:, 0] + 1j * leg[:, 1]
    middle = middle * np.exp(-0.5j * angle)
    at, _, met = line_path(apex, np.stack([middle.real, middle.imag], axis=-1), edge)
    if not met.all():
        fix = "let it be laid toward the other leg, or pivot a share of the dart away"
        raise Trouble(f"`{dart.name}` would be laid beyond the end of `{dart.edge}`", fix, ~met)
    lying = part(edge, at, length(edge))
    return reverse(mirror_path(apex, edge.end, lying)), apply_path(rotation(apex, angle), lying)


def _down(mouth: Reals, apex: Reals, how: Laying, stitched: bool) -> Path:
    """A line of the pleat from the edge toward the apex; stitching, and a tuck's fold, as far as it is sewn."""
    whole = line(mouth, apex)
    if how.sewn is None or not (stitched or how.fashion != "pleat"):
        return whole
    beyond = how.sewn >= length(whole)
    if beyond.any():
        figures = {"sewn": how.sewn, "length of the dart": length(whole)}
        what = "it is sewn down to the apex of the dart or beyond: that is the dart"
        raise Trouble(what, "sew it a shorter way", beyond, figures)
    return part(whole, np.zeros(1), how.sewn)


def _notched(piece: Piece, name: str) -> Piece:
    """Notches at both ends of what is folded away."""
    under = [i for i, side in enumerate(piece.ring) if f"{name}.underlay" in side.names]
    if not under or piece.is_sketch:
        return piece
    ends = (Notch(under[0], np.zeros(1)), Notch(under[-1], length(piece.ring[under[-1]].drawn)))
    return replace(piece, notches=(*piece.notches, *ends))


def _telling(before: Piece, after: Piece, dart: Dart, how: Left) -> Piece:
    if before.is_sketch:
        return after
    was, now, cloth = edge_length(before, dart.edge), edge_length(after, dart.edge), cloth_length(after, dart.edge)
    lengths = {"before": was, "after": now, **({} if how in ("ease", "flare", "gathers") else {"cloth": cloth})}
    told = OperationNote(f"`{dart.name}` left as {how}", dart.edge, lengths, {"ratio": cloth / was})
    return after.with_note(told)

