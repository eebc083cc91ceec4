"""An edge trued over several panels at once: they are laid together as they are sewn, and one smooth line is drawn over all."""

from __future__ import annotations

import itertools
from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from ..geometry.fit import smooth_fit
from ..geometry.lanes import dot
from ..geometry.length import cut_at, length
from ..geometry.meet import line_path
from ..geometry.motion import Motion, apply_path, apply_points, inverse, mirror_path
from ..geometry.path import Path, chain, end_direction, reverse, start_direction
from .extend import extended
from .piece import Piece, Reals, Trouble, Turns
from .ring import End, edge_run, with_ends
from .truing import drawn_as_one

Panel = tuple[Piece, str]
"""A piece and the edge of it that is trued."""

AXIS = np.array([[0.0, 0.0]]), np.array([[0.0, 1.0]])


def smoothed_over(panels: Sequence[Panel], over: Sequence[str] = ()) -> tuple[list[Piece], Reals]:
    """The panels with one smooth line over all of them, and how far (L,) mm it lies from the old edges at most.

    They stand in the order in which they are sewn; `over` names the seam edges between them, where more than one edge has one
    name on both. The far ends of the line and its directions there stay; between, the corners move along the seams, which get
    longer or shorter by as much on both their sides. Trouble where darts stand on an edge, or no seam edge is told.
    """
    seams = _seams(panels, over)
    ends = _ends(panels, seams)
    if any(piece.is_sketch for piece, _ in panels):
        return [drawn_as_one(piece, edge, None)[0] for piece, edge in panels], np.zeros(1)
    laid = _laid_together(panels, ends)
    whole = chain(_joined([one.path for one in laid]))
    line, moved = smooth_fit(whole, start_direction(whole), end_direction(whole))
    places = _places(laid, line, panels)
    parts = _parts(line, [at for at, _ in places])
    grown = [by for _, by in places]
    return [
        _redrawn(panel, one, part, (seams[k - 1], grown[k - 1]) if k else None, (seams[k], grown[k]) if k < len(seams) else None)
        for k, (panel, one, part) in enumerate(zip(panels, laid, parts, strict=True))
    ], moved


def _seams(panels: Sequence[Panel], over: Sequence[str]) -> list[str]:
    """The seam edge between each panel and the next."""
    if len(panels) < 2:
        fix = "name several with `+`, in the order in which they are sewn; or `smooth` the one"
        raise Trouble("one panel is no more than an edge of its own", fix)
    if over:
        if len(over) != len(panels) - 1:
            raise Trouble("`over` does not name one seam edge for each two panels", "name them in the order of the panels")
        return list(over)
    found = []
    for (one, edge), (other, beside) in itertools.pairwise(panels):
        names = _neighbours(one, edge)
        shared = [name for name in names if name in _neighbours(other, beside) and name not in (one.fold, other.fold)]
        if len(shared) != 1:
            fix = "write `over` and the seam edges, in the order of the panels; both sides of a seam have one name"
            raise Trouble(f"which edge beside `{edge}` is sewn to the next panel is not told by the names", fix)
        found.append(shared[0])
    return found


def _neighbours(piece: Piece, edge: str) -> list[str]:
    numbers, count = edge_run(piece, edge), len(piece.ring)
    return [name for i in (numbers[0] - 1, numbers[-1] + 1) for name in piece.ring[i % count].names]


def _ends(panels: Sequence[Panel], seams: Sequence[str]) -> list[bool]:
    """Of each panel whether its edge, as its ring runs, goes on toward the next panel."""
    found: list[bool] = []
    for k, (piece, edge) in enumerate(panels):
        ahead = _end_at(piece, edge, seams[k]) == "end" if k < len(seams) else None
        behind = _end_at(piece, edge, seams[k - 1]) == "start" if k else None
        if ahead is not None and behind is not None and ahead != behind:
            fix = "name the panels in the order in which they are sewn"
            raise Trouble(f"both seams of a panel meet `{edge}` at one end", fix)
        found.append(bool(behind if ahead is None else ahead))
    return found


def _end_at(piece: Piece, edge: str, seam: str) -> End:
    numbers, count = edge_run(piece, edge), len(piece.ring)
    if any((after - before) % count != 1 for before, after in itertools.pairwise(numbers)):
        fix = "close the dart or leave it first; true a pleated edge before it is pleated"
        raise Trouble(f"`{edge}` is broken by a dart or a pleat: it cannot become one line", fix)
    if seam in piece.ring[(numbers[0] - 1) % count].names:
        return "start"
    if seam in piece.ring[(numbers[-1] + 1) % count].names:
        return "end"
    raise Trouble(f"`{seam}` is not at an end of `{edge}`", "name the seam edges in the order of the panels")


@dataclass(frozen=True)
class _PlacedPanel:
    """A panel as it lies beside the others: its edge, toward the next; the way along its seams with those before and after, into
    the cloth; whether it was turned over, since its edge runs the other way in its ring, and how it was moved then."""

    path: Path
    behind: Reals
    ahead: Reals
    over: bool
    motion: Motion

    def moved(self, motion: Motion) -> _PlacedPanel:
        turn = Motion(motion.turn, np.zeros_like(motion.shift))
        ways = (apply_points(turn, way) for way in (self.behind, self.ahead))
        return replace(self, path=apply_path(motion, self.path), behind=next(ways), ahead=next(ways), motion=motion)


def _laid_together(panels: Sequence[Panel], ends: Sequence[bool]) -> list[_PlacedPanel]:
    laid: list[_PlacedPanel] = []
    for (piece, edge), on in zip(panels, ends, strict=True):
        one = _flat(piece, edge, on)
        if laid:
            last = laid[-1]
            turn = _complex(last.ahead) * np.conj(_complex(one.behind))
            turn = turn / np.abs(turn)
            one = one.moved(Motion(turn, _complex(last.path.end) - turn * _complex(one.path.start)))
        laid.append(one)
    return laid


def _flat(piece: Piece, edge: str, on: bool) -> _PlacedPanel:
    """A panel before it is laid: turned over where its edge runs the other way, so that the cloth lies on its left."""
    numbers, count = edge_run(piece, edge), len(piece.ring)
    path = chain([piece.ring[i].drawn for i in numbers])
    before, after = piece.ring[(numbers[0] - 1) % count].drawn, piece.ring[(numbers[-1] + 1) % count].drawn
    if not on:
        path, before, after = (mirror_path(*AXIS, one) for one in (path, before, after))
    ways = -end_direction(before), start_direction(after)
    still = Motion(np.ones(1, dtype=np.complex128), np.zeros(1, dtype=np.complex128))
    if on:
        return _PlacedPanel(path, *ways, False, still)
    return _PlacedPanel(reverse(path), ways[1], ways[0], True, still)


def _complex(points: Reals) -> Turns:
    made: Turns = points[..., 0] + 1j * points[..., 1]
    return made


def _joined(paths: Sequence[Path]) -> list[Path]:
    """Paths laid end to end, each made to start where the one before ends to the last bit."""
    made = [paths[0]]
    for path in paths[1:]:
        controls = np.broadcast_arrays(path.controls, made[-1].controls[:, -1:, -1:])[0].copy()
        controls[:, 0, 0] = made[-1].end
        made.append(Path(controls, path.straight))
    return made


def _places(laid: Sequence[_PlacedPanel], line: Path, panels: Sequence[Panel]) -> list[tuple[Reals, Reals]]:
    """For each seam how far (L,) mm along the line it meets that, and by how much longer (L,) mm it is then."""
    found = []
    for k, one in enumerate(laid[:-1]):
        at, point, met = line_path(one.path.end, one.ahead, line)
        if not met.all():
            raise Trouble(f"the smooth line does not meet a seam of `{panels[k][1]}`", "true the panels two by two first", ~met)
        found.append((at, -dot(point - one.path.end, one.ahead)))
    return found


def _parts(line: Path, places: Sequence[Reals]) -> list[Path]:
    parts, rest, passed = [], line, np.zeros(1)
    for at in places:
        first, rest = cut_at(rest, at - passed)
        parts.append(first)
        passed = passed + length(first)
    return [*parts, rest]


def _redrawn(
    panel: Panel, laid: _PlacedPanel, part: Path, behind: tuple[str, Reals] | None, ahead: tuple[str, Reals] | None
) -> Piece:
    """A panel with its seams as long as the line asks for, and its part of the line."""
    piece, edge = panel
    for seam in (behind, ahead):
        if seam is not None:
            piece = extended(piece, seam[0], edge, seam[1])
    own = apply_path(inverse(laid.motion), part)
    own = reverse(mirror_path(*AXIS, own)) if laid.over else own
    numbers = edge_run(piece, edge)
    side = piece.ring[numbers[0]]
    ends = side.drawn.start, piece.ring[numbers[-1]].drawn.end
    return drawn_as_one(piece, edge, with_ends(replace(side, path=own), start=ends[0], end=ends[1]).drawn)[0]
