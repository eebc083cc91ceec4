"""Closed forms of pleats in tests/data/geometry_checks.toml: a straight edge, and the cloth that pleats in it take.

They need no book: plane geometry. The Norfolk pleat is one of print (W. D. F. Vincent, a pleat of 4 in of cloth)."""

from __future__ import annotations

import tomllib
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from godet.geometry.path import line
from godet.pattern.edges import cloth_length, edge_length
from godet.pattern.outline import outline
from godet.pattern.piece import Piece, Reals, Trouble
from godet.pattern.pleating import Fashion, Pleating
from godet.pattern.pleats import pleat
from godet.pattern.slash import OnEdge, SlashLine

FORMS: dict[str, dict[str, Any]] = tomllib.loads((Path(__file__).parents[1] / "data" / "geometry_checks.toml").read_text("utf-8"))
CLOSE = 0.0005  # cm


def lanes(*values: float) -> Reals:
    return np.array(values)


def panel(width: float) -> Piece:
    """A rectangle in cm, 30 cm high: hem below, waist above."""
    corners = [lanes(0.0, 0.0), lanes(10 * width, 0.0), lanes(10 * width, 300.0), lanes(0.0, 300.0)]
    names = ("hem", "side", "waist", "centre")
    return outline([(n, line(corners[k][None], corners[(k + 1) % 4][None]), k, (k + 1) % 4) for k, n in enumerate(names)])


def pleated(width: float, count: int, fashion: Fashion, depth: float) -> Piece:
    """The rectangle with `count` pleats, each in the middle of its share of the edge; cm."""
    piece = panel(width)
    places = [10 * width * (k + 0.5) / count for k in range(count)]
    cuts = [SlashLine(OnEdge("waist", lanes(at)), OnEdge("hem", lanes(at), "end")) for at in places]
    toward = "side" if fashion == "knife" else None
    return pleat(piece, cuts, Pleating(fashion, (lanes(10 * depth), lanes(10 * depth)), toward))


def cloth(piece: Piece, edge: str) -> float:
    return float(cloth_length(piece, edge)[0]) / 10


def test_touching_knife_pleats_take_three_times_their_length() -> None:
    form = FORMS["knife_pleats"]
    made = pleated(form["finished"], int(form["pleats"]), "knife", form["depth"])
    for edge in ("waist", "hem"):
        assert cloth(made, edge) == pytest.approx(form["cloth"], abs=CLOSE)
        assert float(edge_length(made, edge)[0]) / 10 == pytest.approx(form["finished"], abs=CLOSE)


def test_touching_box_pleats_take_three_times_their_length() -> None:
    form = FORMS["box_pleats"]
    made = pleated(form["finished"], int(form["pleats"]), "box", form["face"] / 2)
    assert cloth(made, "waist") == pytest.approx(form["cloth"], abs=CLOSE)
    with pytest.raises(Trouble, match="beyond the end"):  # the first and the last reach the end as they stand
        pleated(form["finished"], int(form["pleats"]), "box", form["face"] / 2 + 0.01)


def test_spaced_knife_pleats_take_twice_their_depth_each() -> None:
    form = FORMS["spaced_pleats"]
    made = pleated(form["finished"], int(form["pleats"]), "knife", form["depth"])
    assert cloth(made, "hem") == pytest.approx(form["cloth"], abs=CLOSE)


def test_a_norfolk_pleat_takes_four_inches_of_cloth_for_two_inches_of_pleat() -> None:
    made = pleated(30.0, 1, "box", 2.54)  # two inches of pleat: the belt is as wide
    assert cloth(made, "waist") - 30.0 == pytest.approx(4 * 2.54, abs=CLOSE)
    folds = [made.sides(f"pleat_k1.{name}")[0].drawn.start for name in ("fold", "far_fold")]
    assert float(abs(folds[0][0, 0] - folds[1][0, 0])) / 10 == pytest.approx(2 * 2.54, abs=CLOSE)
