"""Pieces that cannot be laid on their cloth as they say."""

from __future__ import annotations

import numpy as np
import pytest
from godet.jobs.laying import off_grain
from godet.jobs.outcome import outcomes
from support.styles import written

SHAPE = "language 1\nuse shape from shapes\nblock base = shape with bust_ease 8 cm\n"


def told(inside: str) -> list[tuple[str, str]]:
    """Codes and words of the warnings for a front with this in its braces; its centre, on the fold, stands upright."""
    made = written(f"{SHAPE}piece front = base.front {{\n    cut 1\n    allow seams 1 cm\n{inside}}}\n")
    return [(one.code, one.message) for one in off_grain(made, outcomes(made)[0])]


def test_a_piece_that_is_cut_without_a_grain_is_told() -> None:
    assert told("") == [("W302", "`front` is cut, and nothing says how it lies to the grain")]


@pytest.mark.parametrize("grain", ["up", "outward", "up as bias", "up as cross", "along centre"])
def test_cloth_is_folded_along_the_thread_across_it_or_on_the_bias(grain: str) -> None:
    assert told(f"    grain {grain}\n") == []


def test_a_fold_off_the_grain_is_told_and_by_how_much() -> None:
    """The neckline rises 7 cm over 7 cm, the shoulder falls 4 over 11: that far the shoulder lies off the thread across."""
    off = np.degrees(np.arctan2(4.0, 11.0))
    assert told("    grain along neckline\n") == []  # 45 degrees to the centre: on the bias
    assert told("    grain along shoulder\n") == [("W303", f"the fold `centre` of `front` lies {off:.1f} degrees off the grain")]


def test_a_pair_has_no_fold_to_lay() -> None:
    made = written(f"{SHAPE}piece front = base.front {{\n    cut 2 as pair\n    grain along shoulder\n    allow seams 1 cm\n}}\n")
    assert off_grain(made, outcomes(made)[0]) == ()
