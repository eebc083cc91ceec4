"""How far points move with each measurement and choice, and growth by cause."""

from __future__ import annotations

import csv
import io
import json
from dataclasses import asdict
from pathlib import Path

import godet
import pytest
from godet.cli.main import main
from godet.output.json_text import json_text
from godet.output.rates import rates_csv
from godet.output.rates_records import BodyRatesRecord, PointRatesRecord, RateRecord, RatesReport
from godet.output.schema import schema

HERE = Path(__file__).parents[1] / "language" / "rates.style"
STYLE = """language 1
style "Flap"
choice high = 30 cm between 10 cm and 60 cm
choice flare = 10 deg between 0 deg and 20 deg
choice least = 21 cm between 10 cm and 40 cm "the width it has at least"
length wide = larger of (bust_girth / 4, least)
point low = starting_point
point out = low outward wide
point top = low up high
point out_top = out up (high + natural_waist_girth * sine of flare)
piece flap {
    line hem from low to out
    line side from out to out_top
    line upper from out_top to top
    line centre from top to low
    sizes_meet_on hem at centre along hem
    cut 1
}
"""
BODY = {"name": "anna", "unit": "cm", "sex": "F", "bust_girth": 92, "natural_waist_girth": 74}
CHART = """chart,"Invented"
unit,cm
sex,F
sample,88
measurement,80,84,88,92
bust_girth,80,84,88,92
natural_waist_girth,62,66,70,74
"""


def rates(row: dict[str, object] | None = None, style: str = STYLE, **choices: str) -> BodyRatesRecord:
    (found,) = godet.open_style(HERE, text=style, settings=choices).on(row or BODY).rates().bodies
    return found


def point(body: BodyRatesRecord, name: str) -> PointRatesRecord:
    return next(one for piece in body.pieces for one in piece.points if one.name == name)


def rate(body: BodyRatesRecord, name: str, of: str) -> RateRecord | None:
    return next((one for one in point(body, name).rates if one.of == of), None)


def test_a_quarter_of_the_bust_moves_the_side_by_a_quarter_of_it() -> None:
    found = rates()
    bust, high = rate(found, "hem by side", "bust_girth"), rate(found, "upper by centre", "high")
    assert bust
    assert (bust.across, bust.up) == pytest.approx((0.25, 0.0), abs=1e-6)
    assert not bust.switches
    assert high
    assert (high.across, high.up) == pytest.approx((0.0, 1.0), abs=1e-6)
    assert rate(found, "centre by hem", "bust_girth") is None  # there it is laid


def test_an_angle_moves_per_degree() -> None:
    flare = rate(rates(), "side by upper", "flare")
    assert flare
    assert flare.up == pytest.approx(740.0 * 0.0174533 * 0.984808, rel=1e-4)


def test_what_holds_a_choice_that_moves_nothing_is_named() -> None:
    least = next(one for one in rates().sources if one.name == "least")
    assert not least.moves
    assert least.held_by == f"`length wide = larger of (bust_girth / 4, least)` ({HERE}:6) takes `bust_girth / 4`"


def test_a_body_on_a_switch_is_told_with_both_sides() -> None:
    found = rates({**BODY, "bust_girth": 84})  # a quarter of it is `least`
    side = rate(found, "hem by side", "bust_girth")
    assert side
    assert side.switches
    assert (side.across_less, side.across_more) == pytest.approx((0.0, 0.25), abs=1e-6)
    bust = next(one for one in found.sources if one.name == "bust_girth")
    assert [one.sentence for one in bust.switches] == ["length wide = larger of (bust_girth / 4, least)"]


def test_what_bends_smoothly_is_no_switch() -> None:
    found = rates(style=STYLE.replace("bust_girth / 4,", "bust_girth * bust_girth / 4 m,"))
    side = rate(found, "hem by side", "bust_girth")
    assert side
    assert not side.switches
    assert side.across == pytest.approx(2 * 0.92 / 4, abs=1e-6)


def test_an_estimate_is_held_while_what_it_rests_on_is_moved() -> None:
    """The armscye of this body follows its bust in an estimate; a rate is that of the draft, not of the estimate."""
    style = STYLE.replace("natural_waist_girth", "armscye_girth")
    found = rates({**BODY, "stature": 168}, style)
    assert rate(found, "side by upper", "armscye_girth")
    bust = rate(found, "side by upper", "bust_girth")
    assert bust
    assert bust.up == 0.0
    assert not next(one for one in found.sources if one.name == "armscye_girth").given


@pytest.mark.parametrize("name", ["hip_girth", "waist_to_hip_height"])
def test_rates_are_what_bodies_differ_by_that_are_drawn_anew(name: str, tmp_path: Path) -> None:
    """Of every point of every piece of a skirt: three sizes that differ in one measurement, by a millimetre."""
    rows = {"natural_waist_girth": 740, "top_hip_girth": 900, "hip_girth": 1000, "waist_to_hip_height": 205}
    lines = [f"{one},{','.join(str(mm + by * (one == name)) for by in (-1, 0, 1))}" for one, mm in rows.items()]
    head = ["chart,Invented", "unit,mm", "sex,F", "sample,here", "measurement,less,here,more"]
    (tmp_path / "invented.csv").write_text("\n".join([*head, *lines]) + "\n")
    on = godet.open_style("patterns/gored_skirt.style").sizes(tmp_path / "invented.csv")
    found = {piece.name: piece for piece in on.rates().bodies[1].pieces}
    for piece in on.growth().pieces:
        for corner in piece.points:
            (moved,) = [one for one in found[piece.name].points if one.name == corner.name]
            own = next((one for one in moved.rates if one.of == name), None)
            here = (own.across, own.up) if own else (0.0, 0.0)
            anew = [sum(getattr(step, way) for step in corner.steps) / 2 for way in ("across_mm", "up_mm")]
            assert here == pytest.approx(anew, abs=1e-3), f"{piece.name}: {corner.name}"


@pytest.fixture(scope="module")
def of_chart(tmp_path_factory: pytest.TempPathFactory) -> tuple[RatesReport, godet.OnSizes]:
    folder = tmp_path_factory.mktemp("rates")
    (folder / "invented.csv").write_text(CHART)
    on = godet.open_style(HERE, text=STYLE).sizes(folder / "invented.csv")
    return on.rates(), on


def test_growth_is_the_sum_of_its_causes_and_a_rest(of_chart: tuple[RatesReport, godet.OnSizes]) -> None:
    report, on = of_chart
    grown = {(piece.name, one.name): one.steps for piece in on.growth().pieces for one in piece.points}
    for piece in report.growth:
        for one in piece.points:
            for step, whole in zip(one.steps, grown[piece.name, one.name], strict=True):
                across = sum(cause.across_mm for cause in step.causes) + step.rest_across_mm
                up = sum(cause.up_mm for cause in step.causes) + step.rest_up_mm
                assert (across, up) == pytest.approx((whole.across_mm, whole.up_mm), abs=1e-9)
                assert max(abs(step.rest_across_mm), abs(step.rest_up_mm)) < 0.15


def test_a_step_in_which_a_sentence_switches_is_summed_before_and_behind(of_chart: tuple[RatesReport, godet.OnSizes]) -> None:
    """From 80 to 84 the hem stays as wide as `least`; from 84 on it is a quarter of the bust."""
    report, _ = of_chart
    side = next(one for piece in report.growth for one in piece.points if one.name == "hem by side")
    assert next(step.causes for step in side.steps) == ()
    (cause,) = side.steps[2].causes
    assert (cause.of, cause.by) == ("bust_girth", 40.0)
    assert cause.across_mm == pytest.approx(10.0, abs=1e-5)


def test_a_switch_between_two_sizes_leaves_little_over(tmp_path: Path) -> None:
    (tmp_path / "invented.csv").write_text(CHART)
    style = godet.open_style(HERE, text=STYLE, settings={"least": "21.3 cm"})
    report = style.sizes(tmp_path / "invented.csv").rates()
    side = next(one for piece in report.growth for one in piece.points if one.name == "hem by side")
    step = side.steps[1]
    assert (step.size_from, step.turns) == ("84", True)
    assert step.across_mm == pytest.approx(7.0, abs=1e-6)  # 21.3 to 22 cm
    assert abs(step.rest_across_mm) < 0.15


def test_the_table_adds_up(of_chart: tuple[RatesReport, godet.OnSizes]) -> None:
    rows = [*csv.DictReader(io.StringIO(rates_csv(of_chart[0])))]
    some = [row for row in rows if row["what"] == "growth" and row["point"] == "side by upper" and row["at"] == "88"]
    assert sum(float(row["across"]) for row in some) == pytest.approx(10.0, abs=1e-9)
    assert {row["of"] for row in some} == {"bust_girth", "natural_waist_girth", "rest"}
    assert {row["at"] for row in rows if row["what"] == "rate"} == {"80", "84", "88", "92"}


def test_rates_keep_to_their_schema(of_chart: tuple[RatesReport, godet.OnSizes]) -> None:
    read = json.loads(json_text(of_chart[0]))
    assert set(read) == set(schema("rates")["required"])
    assert read == json.loads(json.dumps(asdict(of_chart[0])))


def test_command(capsys: pytest.CaptureFixture[str]) -> None:
    style, body = "patterns/gored_skirt.style", "patterns/bodies/alto_3.toml"
    assert main(["grade", style, "--body", body, "--rates", "--set", "long=70 cm"]) == 0
    told = capsys.readouterr().out
    assert "per 1 of each measurement and choice" in told
    assert "natural_waist_girth" in told
    assert main(["grade", style, "--rates"]) == 2
    assert "--body" in capsys.readouterr().err
    assert main(["grade", style, "--body", body, "--rates", "--picture", "x.svg"]) == 2
    assert "`--picture` draws growth" in capsys.readouterr().err
    assert main(["grade", style, "--body", body]) == 2
    assert "--rates" in capsys.readouterr().err
