"""The blocks of the library grow as the published table they are drafted from: where a row goes up by so much from one size to
the next, what is measured of the finished pieces at that level goes up by as much, the ease being the same in every size.

Measured on flattened outlines and along edges, with no verb of the language, and with no number of ours in what is expected.
"""

from __future__ import annotations

import csv
import tomllib
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path

import numpy as np
import pytest
from godet.bodies.body import Body
from godet.bodies.chart import Chart
from godet.bodies.chart_file import read_chart
from godet.bodies.vocabulary import canonical
from support.drawn_styles import Drawings, Reals, drawings

HERE = Path(__file__).parent
STYLE = HERE / "drafts" / "graded.style"
DATA = HERE.parent / "data"
NAMES = (
    *("short.front", "short.back", "short.d.armpit_level", "long.front", "long.back", "long.d.bust_level", "long.d.hip_drop"),
    *("skirt.front", "skirt.back", "skirt.hip_level", "legs.front", "legs.back", "sleeve", "bust_point"),
)
HAIR = 0.01  # mm inside a corner that a level passes

CLOSE = 0.2
"""A step of a finished measurement may differ from that of the table by so much, mm; such tables are printed to 1 or 3 mm."""

SHOWN = (
    *("bust_girth", "natural_waist_girth", "neck_base_girth"),
    *("natural_waist_girth of the skirt", "natural_waist_girth of the trousers"),
)
"""Finished measurements by the row they are drafted from, of those that the standard shows."""

OTHERS = (
    *("hip_girth", "hip_girth of the skirt", "armscye_girth", "upper_arm_girth", "shoulder_length", "across_back_width"),
    *("bust_point_to_bust_point", "side_neck_point_to_bust_point", "back_neck_point_to_waist", "outer_arm_length"),
)


@dataclass(frozen=True)
class Measured:
    """The finished measurements of the pieces by the row of the table they are drafted from, in the order of the sizes, mm."""

    made: Drawings

    def rows(self) -> Mapping[str, Reals]:
        back = np.argsort(np.concatenate(self.made.lanes))
        return {name: row[back] for name, row in (*self._girths(), *self._lengths())}

    def _round(self, block: str, level: Reals) -> Reals:
        """Of both halves, front and back."""
        return 2 * (self.made.width_at(f"{block}.back", level) + self.made.width_at(f"{block}.front", level))

    def _both(self, edge: str, block: str = "short") -> Reals:
        return self.made.of_edge(f"{block}.back", edge) + self.made.of_edge(f"{block}.front", edge)

    def _corner(self, piece: str, edge: str, upper: bool) -> Reals:
        """The upper or the lower end of an edge."""
        first, last = self.made.ends(piece, edge)
        return np.where(((first[:, 1] > last[:, 1]) == upper)[:, None], first, last)

    def _girths(self) -> Sequence[tuple[str, Reals]]:
        underarm = self._corner("long.back", "side", upper=True)[:, 1]
        bust = np.minimum(self.made.numbers("long.d.bust_level"), underarm - HAIR)
        return [
            ("bust_girth", self._round("long", bust)),
            ("hip_girth", self._round("long", HAIR - self.made.numbers("long.d.hip_drop"))),
            ("natural_waist_girth", 2 * self._both("waistline")),
            ("hip_girth of the skirt", self._round("skirt", self.made.numbers("skirt.hip_level")[:, 1])),
            ("natural_waist_girth of the skirt", 2 * self._both("waistline", "skirt")),
            ("natural_waist_girth of the trousers", 2 * self._both("waistline", "legs")),
            ("neck_base_girth", 2 * self._both("neckline")),
            ("armscye_girth", self._both("armhole")),
            ("upper_arm_girth", self.made.width_at("sleeve", self._corner("sleeve", "front_cap", upper=False)[:, 1] - HAIR)),
        ]

    def _lengths(self) -> Sequence[tuple[str, Reals]]:
        tip, armpit = self._corner("short.back", "armhole", upper=True)[:, 1], self.made.numbers("short.d.armpit_level")
        bust, neck = self.made.numbers("bust_point"), self._corner("short.front", "neckline", upper=True)
        cap = self._corner("sleeve", "front_cap", upper=True)[:, 1]
        return [
            ("shoulder_length", self.made.of_edge("short.front", "shoulder")),
            ("across_back_width", 2 * self.made.width_at("short.back", (tip + armpit) / 2)),
            ("bust_point_to_bust_point", 2 * bust[:, 0]),
            ("side_neck_point_to_bust_point", np.linalg.norm(neck - bust, axis=1)),
            ("back_neck_point_to_waist", self.made.of_edge("short.back", "centre")),
            ("outer_arm_length", cap - self.made.middle("sleeve", "hem")[:, 1]),
        ]


@lru_cache(maxsize=2)
def published(which: str) -> tuple[Mapping[str, Reals], Mapping[str, Reals]]:
    """Finished measurements and the table's own rows, over its sizes, mm."""
    people = {"survey": survey, "standard": standard}[which]()
    made = drawings(STYLE, people, (), NAMES)
    assert made.failed == 0
    return Measured(made).rows(), {name: np.array([one.measures[name] for one in people]) for name in people[0].measures}


def survey() -> Sequence[Body]:
    """The women's run of the survey of 1988, every row, printed to 0.1 mm."""
    words = {"waist_girth": "natural_waist_girth", "waist_height": "natural_waist_height"}
    with (DATA / "run_women_1988.csv").open(encoding="utf-8", newline="") as file:
        rows = {words.get(row["dimension"], row["dimension"]): row for row in csv.DictReader(file)}
    sizes = [size for size in rows["hip_girth"] if size.isdigit()]
    known = {name: row for name, row in rows.items() if canonical(name) == name}
    girths = [{"bust_girth": float(size), "stature": 1640.0} for size in sizes]
    return [
        Body(size, "mm", "F", {**given, **{name: float(row[size]) for name, row in known.items()}})
        for size, given in zip(sizes, girths, strict=True)
    ]


def standard() -> Sequence[Body]:
    """The sizes of a standard of which some girths are published; all that it does not show is that of the survey's woman of the
    same bust, each row of whom is a straight line."""
    table = tomllib.loads((DATA / "published_grades.toml").read_text("utf-8"))["astm_d5585_11"]
    rows = {name: cells for name, cells in table.items() if isinstance(cells, list) and name != "sizes"}
    head = f"unit,{table['unit']}\nsex,F\nsample,8\nmeasurement,{','.join(table['sizes'])}\n"
    chart, problems = read_chart(head + "".join(f"{name},{','.join(cells)}\n" for name, cells in rows.items()), "standard")
    assert isinstance(chart, Chart), problems
    small, large = survey()[0].measures, survey()[-1].measures
    found = []
    for one in chart.bodies():
        share = (one.measures["bust_girth"] - small["bust_girth"]) / (large["bust_girth"] - small["bust_girth"])
        line = {name: low + share * (large[name] - low) for name, low in small.items()}
        found.append(Body(one.name, one.unit, one.sex, {**line, **one.measures}))
    return found


def steps(which: str, row: str) -> tuple[Reals, Reals]:
    """From size to size, of the finished measurement and of the row of the table."""
    made, table = published(which)
    return np.diff(made[row]), np.diff(table[row.partition(" ")[0]])


@pytest.mark.parametrize("row", [*SHOWN, *OTHERS])
def test_finished_measurements_grow_as_the_run_of_the_survey(row: str) -> None:
    made, table = steps("survey", row)
    assert made == pytest.approx(table, abs=CLOSE)


@pytest.mark.parametrize("row", SHOWN)
def test_finished_girths_grow_as_the_standard_says_by_its_uneven_steps(row: str) -> None:
    made, table = steps("standard", row)
    assert np.ptp(table) > 3.0  # an eighth of an inch, as the table is printed
    assert made == pytest.approx(table, abs=CLOSE)
