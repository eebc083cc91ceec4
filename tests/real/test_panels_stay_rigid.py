"""Every panel of the slashed front is congruent to what it was: all distances within a panel, on real women, to 1e-6 mm."""

from __future__ import annotations

import re
from pathlib import Path

import numpy as np
from godet.graph.evaluate import evaluate
from godet.pattern.edges import edge_length
from godet.pattern.piece import Piece, Side
from support.real_bodies import real_women
from support.style_runs import PATTERNS, prepared


def spread(folder: Path, drape: str) -> tuple[Piece, Piece]:
    """The front before and after slashing, gaps bridged straight, for women who fall into one group."""
    style = folder / "straight.style"
    text = (PATTERNS / "concert_top.style").read_text("utf-8")
    straight = re.sub(r"\s+gaps_drawn smooth", "", text)
    assert straight != text
    style.write_text(straight, "utf-8")
    made = prepared(style, real_women(6, 11), [f"drape={drape}"])
    assert made.style is not None
    wanted = [made.style.names[name] for name in ("plain_front", "draped_front")]
    parts = evaluate(made.style, made.population, wanted).parts
    part = max(parts, key=lambda one: one.lanes.size)
    before, after = (part.values[node] for node in wanted)
    assert isinstance(before, Piece)
    assert isinstance(after, Piece)
    return before, after


def panels(piece: Piece) -> list[list[Side]]:
    """The sides of each panel: the strips of one number, of the slashed leg and of the far side."""
    numbers = range(1 + max(int(name.rpartition("strip_k")[2]) for name in piece.edge_names() if ".strip_k" in name))
    return [[side for side in piece.ring if any(n.endswith(f".strip_k{k}") for n in side.names)] for k in numbers]


def corners(sides: list[Side]) -> np.ndarray[tuple[int, ...], np.dtype[np.float64]]:
    return np.concatenate([side.drawn.controls.reshape(side.drawn.lanes, -1, 2) for side in sides], axis=1)


def test_all_distances_within_every_panel_are_kept(tmp_path: Path) -> None:
    """Two spreads of the same piece: panel by panel, every control point keeps its distance to every other."""
    _, little = spread(tmp_path, "1 cm")
    _, much = spread(tmp_path, "4.5 cm")
    assert len(panels(little)) == 5  # four cuts
    assert all(len(sides) == 2 for sides in panels(much))
    for one, other in zip(panels(little), panels(much), strict=True):
        a, b = corners(one), corners(other)
        assert a.shape == b.shape
        within = [np.linalg.norm(c[:, :, None] - c[:, None], axis=-1) for c in (a, b)]
        assert np.abs(within[0] - within[1]).max() < 1e-6


def test_the_still_panel_does_not_move_and_the_hinge_keeps_its_length(tmp_path: Path) -> None:
    before, after = spread(tmp_path, "4.5 cm")
    neck = [np.concatenate([side.drawn.controls for side in piece.sides("neckline")], axis=1) for piece in (before, after)]
    assert np.abs(neck[0] - neck[1]).max() < 1e-9
    lengths = [edge_length(piece, "left_side") for piece in (before, after)]
    assert np.abs(lengths[0] - lengths[1]).max() < 1e-6
