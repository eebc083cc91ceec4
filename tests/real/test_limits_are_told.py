"""README's table of limits tells every row of a contract that holds for fewer than 99 of 100."""

from __future__ import annotations

import re

from support.contract import LIMITS
from support.style_runs import ROOT

TOLD = {"trousers and skirts on stout bodies beyond the survey (hip over 115 cm)"}
"""Limits of README that are no row on the survey: what bodies beyond it get."""


def told() -> dict[str, str]:
    """The table of limits: what, and for how many it holds."""
    text = (ROOT / "README.md").read_text("utf-8").split("Rows that hold for fewer than 99 of 100", 1)[1].split("\n\n", 2)[1]
    rows = [line.strip("|").split("|") for line in text.splitlines()[2:]]
    return {what.strip(): holds.strip() for what, holds in rows}


def test_every_limit_is_told_in_readme_with_its_share() -> None:
    found = told()
    assert set(found) == {what for _, what in LIMITS.values()} | TOLD
    for share, what in LIMITS.values():
        shares = [float(one) for one in re.findall(r"([0-9.]+) %", found[what])]
        assert shares
        assert min(shares) == 100 * share
