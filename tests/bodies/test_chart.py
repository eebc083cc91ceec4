"""Size charts: what is read, what is refused with its place, what is questioned."""

from __future__ import annotations

import csv
from dataclasses import replace
from pathlib import Path

import pytest
from godet.bodies.chart import Chart, chosen_sizes
from godet.bodies.chart_file import read_chart
from godet.bodies.chart_review import review_chart
from godet.bodies.lanes import Population
from godet.diagnostics.diagnostic import Diagnostic
from godet.diagnostics.printing import place
from hypothesis import given, settings
from hypothesis import strategies as st

ROOT = Path(__file__).parents[2]
CHARTS = ROOT / "patterns" / "charts"
RUN = ROOT / "tests" / "data" / "run_women_1988.csv"

SMALL = """chart,"Small, invented"
unit,cm
sex,F
sample,88
range,middle,84..88
# A note.
measurement,unit,note,80,84,88,92
bust_girth,,,80,84,88,92
natural_waist_girth,,"over a shirt",64,68,72,76
shoulder_slope,degrees,,22,22,22.5,23
"""


def chart(text: str) -> Chart:
    found, problems = read_chart(text, "small.csv")
    assert found is not None, problems
    return found


def problem(text: str) -> tuple[Diagnostic, int]:
    """The one thing that is wrong with a chart, and its line."""
    found, (only,) = read_chart(text, "small.csv")
    assert found is None
    assert only.span is not None
    return only, place(text, only.span.start)[0]


def warnings(text: str) -> list[Diagnostic]:
    return review_chart(chart(text))


def test_a_size_is_a_body_and_the_chart_keeps_its_places() -> None:
    read = chart(SMALL)
    assert read.sizes == ("80", "84", "88", "92")
    assert read.sample == "88"
    body = read.body("84")
    assert (body.name, body.sex, dict(body.measures)) == (
        "84", "F", {"bust_girth": 840.0, "natural_waist_girth": 680.0, "shoulder_slope": 22.0},
    )
    span = body.spans["natural_waist_girth"]
    assert SMALL[span.start : span.end] == "68"
    assert body.lines["natural_waist_girth"] == 9


@pytest.mark.parametrize("separator", [";", "\t"])
def test_other_separators_take_a_decimal_comma(separator: str) -> None:
    text = SMALL.replace('"Small, invented"', "Small").replace(",", separator).replace("22.5", "22,5")
    assert chart(text).rows == chart(SMALL.replace('"Small, invented"', "Small")).rows


def test_inches_are_written_as_a_tape_reads_them() -> None:
    text = "unit,in\nsample,10\nmeasurement,10,12\nbust_girth,36 1/2,38\n"
    assert chart(text).rows["bust_girth"].values == pytest.approx((36.5 * 25.4, 38 * 25.4))


def test_steps_are_taken_from_the_neighbour_on_the_side_of_the_sample() -> None:
    steps = SMALL.replace("sample,88", "sample,88\nform,steps")
    steps = steps.replace("bust_girth,,,80,84,88,92", "bust_girth,,,4,4,88,4").replace("64,68,72,76", "4,+4,72,4")
    steps = steps.replace("22,22,22.5,23", "0,0.5,22.5,0.5")
    assert [row.values for row in chart(steps).rows.values()] == [row.values for row in chart(SMALL).rows.values()]


@settings(max_examples=40)
@given(st.lists(st.decimals(50, 130, places=1), min_size=2, max_size=9), st.data())
def test_a_chart_of_steps_is_the_chart_of_values_to_the_bit(values: list[object], data: st.DataObject) -> None:
    numbers = [float(str(one)) for one in values]
    sample = data.draw(st.integers(0, len(values) - 1))
    tenths = [round(one * 10) for one in numbers]
    steps = [
        (tenths[k] - tenths[k - 1] if k > sample else tenths[k + 1] - tenths[k]) if k != sample else tenths[k]
        for k in range(len(tenths))
    ]
    head = f"unit,cm\nsample,{sample}\n%smeasurement,{','.join(map(str, range(len(values))))}\nhip_girth,%s\n"
    straight = chart(head % ("", ",".join(f"{one / 10}" for one in tenths)))
    stepped = chart(head % ("form,steps\n", ",".join(f"{one / 10}" for one in steps)))
    assert straight.rows["hip_girth"].values == stepped.rows["hip_girth"].values


@pytest.mark.parametrize(
    ("change", "code", "line"),
    [
        (("unit,cm\n", ""), "E422", 1),
        (("unit,cm", "unit,ft"), "E424", 2),
        (("sample,88\n", ""), "E422", 1),
        (("sample,88", "sample,89"), "E424", 4),
        (("sex,F", "sex,W"), "E424", 3),
        (("sex,F", "gender,F"), "E423", 3),
        (("84..88", "84..90"), "E424", 5),
        (("note,80,84,88,92", "note,80,84,88,84"), "E426", 7),
        (("64,68,72,76", "64,,72,76"), "E427", 9),
        (("64,68,72,76", "64,68,72"), "E427", 9),
        (("64,68,72,76", "64,68,72,76,80"), "E429", 9),
        (("64,68,72,76", "64,6x,72,76"), "E428", 9),
        (("64,68,72,76", "64,6800,72,76"), "E430", 9),
        (("64,68,72,76", "64,-68,72,76"), "E428", 9),
        (("natural_waist_girth", "waist"), "E405", 9),
        (("natural_waist_girth", "wiast_girth"), "E404", 9),
        (("natural_waist_girth", "bust_girth"), "E411", 9),
        (("degrees", "cm"), "E424", 10),
        (('"over a shirt"', '"over a shirt'), "E432", 9),
    ],
)
def test_what_is_wrong_is_told_at_its_line(change: tuple[str, str], code: str, line: int) -> None:
    assert change[0] in SMALL
    found, where = problem(SMALL.replace(*change))
    assert (found.code, where) == (code, line)


def test_a_file_that_is_no_chart_says_what_one_is() -> None:
    found, _ = problem("name = 'alto'\n")
    assert found.code == "E421"


def test_sizes_are_asked_for_one_by_one_in_a_row_or_by_a_name() -> None:
    read = chart(SMALL)
    assert chosen_sizes(read, "") == (("80", "84", "88", "92"), None)
    assert chosen_sizes(read, "92, 80") == (("80", "92"), None)
    assert chosen_sizes(read, "84..92") == (("84", "88", "92"), None)
    assert chosen_sizes(read, "middle,92") == (("84", "88", "92"), None)
    for asked, code in (("90", "E433"), ("84..90", "E433"), ("92..84", "E434")):
        sizes, told = chosen_sizes(read, asked)
        assert told is not None
        assert (sizes, told.code) == ((), code)
    between = chosen_sizes(read, "86")[1]
    assert between is not None
    assert between.fix.startswith("it lies between 84 and 88")


@pytest.mark.parametrize("name", ["women_1988", "men_1988", "choir_women"])
def test_the_charts_of_the_project_are_read_and_nothing_in_them_is_questioned(name: str) -> None:
    assert review_chart(chart((CHARTS / f"{name}.csv").read_text("utf-8"))) == []


def test_the_charts_are_the_published_run() -> None:
    """Where the run has the size, the chart has its numbers, to 0.1 mm."""
    names = {"waist_girth": "natural_waist_girth", "waist_height": "natural_waist_height", "body_mass_kg": "body_mass"}
    for who in ("women", "men"):
        read = chart((CHARTS / f"{who}_1988.csv").read_text("utf-8"))
        held = 0
        for row in csv.DictReader((RUN.parent / f"run_{who}_1988.csv").read_text("utf-8").splitlines()):
            name = names.get(row["dimension"], row["dimension"])
            for size, value in zip(read.sizes, read.rows[name].values if name in read.rows else (), strict=False):
                if f"{size}0" in row:
                    assert value == pytest.approx(float(row[f"{size}0"]), abs=0.051), (name, size)
                    held += 1
        assert held > 300


def test_what_four_rows_leave_out_is_filled_as_the_run_prints_it() -> None:
    """Stature, bust, waist and hip alone estimate other girths to 0.1 mm of the run they come from."""
    text = (CHARTS / "women_1988.csv").read_text("utf-8")
    whole = chart(text)
    kept = ("stature", "bust_girth", "natural_waist_girth", "hip_girth")
    few = Population.of(replace(whole, rows={name: whole.rows[name] for name in kept}).bodies())
    near = [
        name
        for name, row in whole.rows.items()
        if name not in kept and max(abs(few.value(name)[0] - row.values)) < 0.15
    ]
    assert len(near) >= 30
    assert {"upper_arm_girth", "under_bust_girth", "thigh_girth", "back_neck_point_to_waist"} <= set(near)


def test_rows_may_stand_in_any_order() -> None:
    lines = SMALL.splitlines()
    turned = "\n".join([*lines[:7], *reversed(lines[7:]), ""])
    assert {name: row.values for name, row in chart(turned).rows.items()} == {
        name: row.values for name, row in chart(SMALL).rows.items()
    }


def test_the_unit_is_only_how_it_is_written() -> None:
    text = (CHARTS / "women_1988.csv").read_text("utf-8")
    lines = text.replace("unit,cm", "unit,mm").splitlines()
    at = next(k for k, line in enumerate(lines) if line.startswith("measurement"))
    for k in range(at + 1, len(lines)):
        cells = lines[k].split(",")
        if cells[1] == "":
            lines[k] = ",".join([*cells[:3], *(f"{float(cell) * 10:.1f}" for cell in cells[3:])])
    for name, row in chart("\n".join(lines)).rows.items():
        assert row.values == pytest.approx(chart(text).rows[name].values, abs=1e-9)


def _with(row: str, size: str, value: str) -> str:
    """The women's chart with one cell changed."""
    lines = (CHARTS / "women_1988.csv").read_text("utf-8").splitlines()
    sizes = next(line for line in lines if line.startswith("measurement")).split(",")
    k = next(k for k, line in enumerate(lines) if line.startswith(f"{row},"))
    cells = lines[k].split(",")
    cells[sizes.index(size)] = value
    lines[k] = ",".join(cells)
    return "\n".join(lines)


@pytest.mark.parametrize(
    ("row", "size", "value", "fits"),
    [
        ("hip_girth", "92", "79.71", "97.7 cm"),  # two digits exchanged: 97.71
        ("natural_waist_girth", "100", "31.7", "80.5 cm"),  # in inches
        ("upper_arm_girth", "84", "271.9", "27.2 cm"),  # without its point
        ("neck_base_girth", "104", "46.5", "36.5 cm"),  # a ten too many
    ],
)
def test_a_slip_of_one_cell_is_told_by_its_row(row: str, size: str, value: str, fits: str) -> None:
    (found,) = warnings(_with(row, size, value))
    assert (found.code, found.data["row"], found.data["size"]) == ("W451", row, size)
    assert fits in found.fix


def test_a_step_against_the_row_is_told_with_the_others() -> None:
    (found,) = warnings(_with("natural_waist_girth", "100", "77.0"))
    assert found.message.startswith("`natural_waist_girth`")
    assert found.data["row"] == "natural_waist_girth"


def test_a_row_in_another_unit_is_told_once() -> None:
    lines = (CHARTS / "women_1988.csv").read_text("utf-8").splitlines()
    k = next(k for k, line in enumerate(lines) if line.startswith("upper_arm_girth,"))
    cells = lines[k].split(",")
    lines[k] = ",".join([*cells[:3], *(f"{float(cell) / 2.54:.2f}" for cell in cells[3:])])
    found = [one for one in warnings("\n".join(lines)) if one.data.get("word") == "upper_arm_girth"]
    assert len(found) == 1
    assert "all sizes" in found[0].message
    assert "inches" in found[0].fix


def test_a_row_that_stands_one_size_too_far_is_told_by_the_names() -> None:
    text = SMALL.replace("bust_girth,,,80,84,88,92", "bust_girth,,,84,88,92,96")
    assert [one.code for one in warnings(text) if one.code == "W454"] == ["W454"]


def test_every_cell_in_another_unit_is_found() -> None:
    """Of a chart of girths and lengths: one cell in inches, whichever it is, is told at its place, and nothing else is."""
    text = (CHARTS / "women_1988.csv").read_text("utf-8")
    lines = text.splitlines()
    at = next(k for k, line in enumerate(lines) if line.startswith("measurement"))
    sizes = lines[at].split(",")
    kept = ("bust_girth", "natural_waist_girth", "hip_girth", "thigh_girth", "upper_arm_girth", "scye_depth", "trunk_girth")
    head = [*lines[: at + 1], *(line for line in lines[at + 1 :] if line.split(",")[0] in kept)]
    for k in range(at + 1, len(head)):
        for column in range(3, len(sizes)):
            cells = head[k].split(",")
            cells[column] = f"{float(cells[column]) / 2.54:.1f}"
            found = review_chart(chart("\n".join([*head[:k], ",".join(cells), *head[k + 1 :]])), [sizes[column]])
            assert ("W451", cells[0], sizes[column]) in [(one.code, one.data.get("row"), one.data.get("size")) for one in found]


def test_children_and_adults_in_one_chart_are_told() -> None:
    text = "unit,cm\nsample,152\nmeasurement,140,152,164,176\nage,9,12,15,18\nstature,140,152,164,176\n"
    (found,) = [one for one in warnings(text) if one.code == "W455"]
    assert found.message == "sizes `140`, `152` and `164` are a child's, `176` an adult's"


def test_sizes_whose_files_would_have_one_name_are_one_size_twice() -> None:
    found, _ = problem("unit,cm\nsample,m\nmeasurement,s,m,M\nbust_girth,84,88,92\n")
    assert found.code == "E426"


def test_cells_beyond_the_second_of_an_entry_are_not_lost() -> None:
    head = 'chart,Women, EU\nunit,cm\nsample,88\nrange,outer,80,92\n'
    read, problems = read_chart(head + "measurement,80,84,88,92\nbust_girth,80,84,88,92\n", "a.csv")
    assert not problems
    assert read is not None
    assert (read.title, read.ranges["outer"]) == ("Women, EU", ("80", "92"))


def test_a_range_without_sizes_is_not_all_of_them() -> None:
    _, problems = read_chart("unit,cm\nsample,88\nrange,small,,\nmeasurement,84,88\nbust_girth,84,88\n", "a.csv")
    assert "range" in problems[0].message
