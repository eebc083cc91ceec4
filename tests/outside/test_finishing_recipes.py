"""The library's linings and bindings: strips on the bias against the closed forms, a lining against its shell."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest
from godet.pattern.edges import edge_length
from godet.pattern.piece import Piece
from support.style_runs import invented
from test_worked_manipulations import CLOSE, FORMS, HERE, cm, drawn

STYLE = HERE / "manipulations" / "linings_and_bindings.style"


@pytest.fixture(scope="module")
def found() -> dict[str, Any]:
    return drawn(STYLE, body=invented("alto_3"))


def test_bias_strips_are_as_long_and_wide_as_their_square_allows(found: dict[str, Any]) -> None:
    form = FORMS["bias_square"]
    assert cm(found["square_for_long"]) == pytest.approx(form["square_for_1000"], abs=CLOSE)
    assert cm(found["along_thread"]) == pytest.approx(form["along_thread"], abs=CLOSE)
    assert cm(found["strip_long"]) == pytest.approx(42.0)
    assert cm(found["strip_width"]) == pytest.approx(form["width"])
    grain = found["strip"].finish.grain
    assert np.degrees(np.angle(grain)) == pytest.approx(45.0)


def test_a_lining_is_shorter_and_wider_than_its_shell(found: dict[str, Any]) -> None:
    assert [cm(found[name]) for name in ("side_taken", "centre_taken")] == pytest.approx([2.0, 2.0], abs=1e-6)
    assert cm(found["shoulder_changed"]) == pytest.approx(0.0, abs=1e-6)
    assert cm(found["neck_changed"]) == pytest.approx(0.0, abs=1e-6)  # sewn with the pleat folded
    assert cm(found["pleat_taken"]) == pytest.approx(1.0, abs=1e-6)
    shell, inner = found["shell"], found["inner"]
    assert isinstance(shell, Piece)
    assert isinstance(inner, Piece)
    left = [min(float(side.drawn.controls[..., 0].min()) for side in piece.ring) for piece in (shell, inner)]
    assert left[0] - left[1] == pytest.approx(10.0, abs=1e-6)  # the pleat
    underarms = [piece.sides("side")[0].drawn.end[0] for piece in (shell, inner)]
    assert np.linalg.norm(underarms[1] - underarms[0]) == pytest.approx(3.0, abs=0.02)  # the ease, square to its cut


def test_without_ease_and_pleat_it_is_the_shell(found: dict[str, Any]) -> None:
    shell, plain = found["shell"], found["plain"]
    assert set(plain.edge_names()) == set(shell.edge_names())
    for name in shell.edge_names():
        assert edge_length(plain, name) == pytest.approx(edge_length(shell, name), abs=0.01)


def test_a_button_stand_is_added_and_the_centre_stays_as_a_line(found: dict[str, Any]) -> None:
    lapped = found["lapped"]
    assert isinstance(lapped, Piece)
    assert cm(found["stand_taken"]) == pytest.approx(0.0, abs=1e-6)
    assert cm(found["centre_changed"]) == pytest.approx(0.0, abs=1e-6)
    assert min(float(side.drawn.controls[..., 0].min()) for side in lapped.ring) == pytest.approx(-20.0)
    assert not lapped.run("centre")
    assert lapped.fold is None
    total = float(edge_length(lapped, "centre")[0])
    assert cm(found["between_buttons"]) == pytest.approx((total / 10 - 6.5) / 3)


def test_a_vent_is_cloth_added_below_its_upper_end(found: dict[str, Any]) -> None:
    """A trapezium 4 cm wide, 20 cm at the fold and 17 cm at its edge: its area over its width is 18.5 cm."""
    assert cm(found["centre_left"]) == pytest.approx(20.0)
    assert cm(found["vent_fold_long"]) == pytest.approx(20.0)
    assert cm(found["vent_edge_long"]) == pytest.approx(17.0)
    assert cm(found["vent_added"]) == pytest.approx(18.5)
    assert found["vented"].signs["vent_fold"].kind == "fold"
