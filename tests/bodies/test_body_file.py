"""Body files as a cutter writes them, and each slip with its place, its words and its fix."""

import math
from pathlib import Path

import pytest
from godet.bodies.body import Body
from godet.bodies.body_file import read_body
from godet.bodies.units import inches_meant, inches_text, parse_inches
from godet.bodies.vocabulary import vocabulary
from godet.diagnostics.diagnostic import Diagnostic
from hypothesis import given, settings
from hypothesis import strategies as st

INVENTED = sorted((Path(__file__).parents[2] / "patterns" / "bodies").glob("*.toml"))

ALTO = """# a comment with bust_girth = 1
name = "alto 3"
unit = "cm"
sex = "F"

[measures]
bust_girth = 88.5  # in the bra for the concert
back_waist_length = 40
shoulder_slope = 23
body_mass = 64.5
"""


def good(text: str) -> Body:
    body, problems = read_body(text, "alto_3.toml")
    assert problems == ()
    assert body is not None
    return body


def only(text: str) -> Diagnostic:
    body, problems = read_body(text, "alto_3.toml")
    assert body is None
    assert len(problems) == 1, problems
    return problems[0]


def marked(text: str, problem: Diagnostic) -> str:
    assert problem.span is not None
    assert problem.span.file == "alto_3.toml"
    return text[problem.span.start : problem.span.end]


def with_measures(*lines: str, unit: str = "cm") -> str:
    return "\n".join(['name = "alto 3"', f'unit = "{unit}"', "[measures]", *lines, ""])


def test_lengths_become_millimetres_and_other_kinds_stay() -> None:
    body = good(ALTO)
    assert body.name == "alto 3"
    assert body.sex == "F"
    assert dict(body.measures) == {
        "bust_girth": 885.0,
        "back_neck_point_to_waist": 400.0,
        "shoulder_slope": 23.0,
        "body_mass": 64.5,
    }


def test_places_skip_comments_and_count_lines_from_one() -> None:
    body = good(ALTO)
    span = body.spans["bust_girth"]
    assert ALTO[span.start : span.end] == "bust_girth = 88.5"
    assert body.lines["bust_girth"] == 7
    assert body.lines["unit"] == 3


def test_a_short_form_is_accepted_and_reported() -> None:
    assert dict(good(ALTO).short_forms) == {"back_neck_point_to_waist": "back_waist_length"}


def test_inches_and_eighths() -> None:
    body = good(with_measures('bust_girth = "36 1/2"', "hip_girth = 40", "waist_to_hip_height = 8.25", unit="in"))
    assert body.measures["bust_girth"] == pytest.approx(927.1)
    assert body.measures["hip_girth"] == pytest.approx(1016.0)
    assert body.measures["waist_to_hip_height"] == pytest.approx(209.55)


def test_slope_stays_in_degrees_in_an_inch_file() -> None:
    assert good(with_measures("shoulder_slope = 22", unit="in")).measures["shoulder_slope"] == 22.0


def test_sex_may_be_left_out() -> None:
    assert good(with_measures("bust_girth = 90")).sex is None


@pytest.mark.parametrize("path", INVENTED, ids=lambda path: path.stem)
def test_invented_bodies_read_without_a_word(path: Path) -> None:
    text = path.read_text("utf-8")
    assert text.startswith("# Invented for the demo: no real person.\n")
    body = good(text)
    assert body.name.replace(" ", "_") == path.stem


def test_there_are_invented_bodies_in_both_units() -> None:
    assert {good(path.read_text("utf-8")).unit for path in INVENTED} == {"cm", "in"}


@pytest.mark.parametrize(
    "line, code, message, fix",
    [
        ("bust = 88", "E405", "`bust` does not say which measurement it is", "write `bust_girth`"),
        (
            "waist = 70",
            "E405",
            "`waist` does not say which measurement it is",
            "write `natural_waist_girth`, `waist_girth` or `navel_girth`",
        ),
        (
            "hip_girt = 98",
            "E404",
            "`hip_girt` is not a body measurement",
            "did you mean `hip_girth`, `top_hip_girth` or `thigh_girth`?",
        ),
        ("glove = 7", "E404", "`glove` is not a body measurement", "use a word of the measurement list"),
        (
            "hip_girth = true",
            "E406",
            "`hip_girth` needs a number, not true",
            "write the number alone, such as `hip_girth = 38.5`",
        ),
        (
            'hip_girth = "98"',
            "E408",
            '`hip_girth` is the text "98"; only inches may stand in quotes',
            "write a number in cm without quotes",
        ),
        (
            "hip_girth = -98",
            "E409",
            "`hip_girth` is -98, and a measurement is more than nothing",
            "measure it, or leave the line out: then it is estimated where that can be done",
        ),
        (
            "hip_girth = 985",
            "E410",
            "`hip_girth` is 985 cm, which no body has",
            "98.5 cm would fit: written in millimetres in a file in cm?",
        ),
        (
            "shoulder_slope = 85",
            "E410",
            "`shoulder_slope` is 85 deg, which no body has",
            "look at the unit of the file and at the decimal point",
        ),
    ],
)
def test_a_wrong_line_is_underlined_and_mended(line: str, code: str, message: str, fix: str) -> None:
    text = with_measures("stature = 165", line)
    problem = only(text)
    assert (problem.code, problem.message, problem.fix) == (code, message, fix)
    assert marked(text, problem) == line
    assert problem.is_error


@pytest.mark.parametrize("number", ["nan", "inf", "-inf", "0", "0.0"])
def test_no_length_is_nothing_or_without_end(number: str) -> None:
    assert only(with_measures(f"hip_girth = {number}")).code == "E409"


@pytest.mark.parametrize(
    "text, fix",
    [("36-1/2", 'write "36 1/2"'), ('36 1/2\\"', 'write "36 1/2"'), ("36 1/3", 'write "36", "36 1/2" or "5/8"')],
)
def test_badly_written_inches(text: str, fix: str) -> None:
    problem = only(with_measures(f'hip_girth = "{text}"', unit="in"))
    assert problem.code == "E407"
    assert problem.fix.startswith(fix)


def test_one_measurement_under_two_words() -> None:
    text = with_measures("back_waist_length = 40", "back_neck_point_to_waist = 41")
    problem = only(text)
    assert problem.code == "E411"
    assert marked(text, problem) == "back_neck_point_to_waist = 41"
    label = problem.labels[0].span
    assert text[label.start : label.end] == "back_waist_length = 40"


def test_a_decimal_comma_has_its_own_fix() -> None:
    text = with_measures("stature = 165", "hip_girth = 98,5")
    problem = only(text)
    assert problem.code == "E401"
    assert problem.fix == "a decimal takes a point: `hip_girth = 98.5`"
    assert marked(text, problem) == ","


def test_inches_without_quotes_have_their_own_fix() -> None:
    problem = only(with_measures("hip_girth = 38 1/2", unit="in"))
    assert problem.fix == 'inches and fractions stand in quotes: `hip_girth = "38 1/2"`'


def test_a_line_given_twice() -> None:
    assert only(with_measures("hip_girth = 98", "hip_girth = 99")).fix.startswith("`hip_girth` was given before")


def test_what_is_missing_is_asked_for() -> None:
    _, problems = read_body("[measures]\nhip_girth = 98\n", "x.toml")
    assert [problem.message for problem in problems] == ["the body file has no `name`", "the body file has no `unit`"]
    _, problems = read_body('name = "alto 3"\nunit = "cm"\n', "x.toml")
    assert [problem.code for problem in problems] == ["E413"]


def test_unit_and_sex_are_checked() -> None:
    text = 'name = "alto 3"\nunit = "inch"\nsex = "W"\n[measures]\nhip_girth = 98\n'
    _, problems = read_body(text, "alto_3.toml")
    assert [problem.code for problem in problems] == ["E403", "E412"]
    assert marked(text, problems[0]) == 'unit = "inch"'


def test_a_measure_above_its_heading_is_told_where_it_belongs() -> None:
    problem = only('name = "alto 3"\nunit = "cm"\nhip_girth = 98\n[measures]\nstature = 165\n')
    assert (problem.code, problem.fix) == ("E414", "move it below the line `[measures]`")


def test_a_whole_file_in_millimetres_is_one_error() -> None:
    problem = only(with_measures("stature = 1650", "bust_girth = 885", "hip_girth = 985", "natural_waist_girth = 700"))
    assert (problem.code, problem.fix) == ("E415", 'the numbers fit mm: write `unit = "mm"`')


def test_every_independent_error_is_reported_in_order() -> None:
    _, problems = read_body(with_measures("bust = 88", "hip_girth = true", "glove = 7"), "x.toml")
    assert [problem.code for problem in problems] == ["E405", "E406", "E404"]


def test_parse_inches() -> None:
    assert parse_inches("36") == 36.0
    assert parse_inches(" 36 1/2 ") == 36.5
    assert parse_inches("5/8") == 0.625
    for text in ("", "1/2 36", "36 2/2", "36 1/3", "36 3/2", "36-1/2", "36.5", "1/0"):
        assert parse_inches(text) is None, text
    assert inches_meant("36 - 1/2") == "36 1/2"
    assert inches_meant("about 36") is None


@given(st.integers(1, 32 * 90))
@settings(max_examples=60)
def test_inches_written_are_read_back(parts: int) -> None:
    assert parse_inches(inches_text(parts / 32)) == parts / 32


@given(
    st.dictionaries(
        st.sampled_from([name for name, measure in vocabulary().items() if measure.kind == "length"]),
        st.floats(1.0, 299.0),
        min_size=1,
        max_size=8,
    )
)
@settings(max_examples=40)
def test_what_is_written_is_read(values: dict[str, float]) -> None:
    text = with_measures(*(f"{name} = {value!r}" for name, value in values.items()))
    body, problems = read_body(text, "x.toml")
    assert problems == ()
    assert body is not None
    for name, value in values.items():
        assert math.isclose(body.measures[name], value * 10, rel_tol=1e-12)
        span = body.spans[name]
        assert text[span.start : span.end] == f"{name} = {value!r}"


@given(st.text(max_size=80))
@settings(max_examples=60)
def test_no_text_raises(text: str) -> None:
    body, problems = read_body(text, "x.toml")
    assert (body is None) == bool(problems)
    _, problems = read_body(with_measures(text), "x.toml")
    for problem in problems:
        assert problem.span is not None
        assert 0 <= problem.span.start <= problem.span.end


@pytest.mark.parametrize(
    ("written", "said"),
    [
        ("1e308", "E410"),
        ("1e300", "E410"),
        ("9" * 400, "E410"),
        ("9" * 5000, "E401"),
        ("[" * 5000, "E401"),
        ("inf", "E409"),
        ("-inf", "E409"),
        ("nan", "E409"),
    ],
    ids=lambda text: text[:8],
)
def test_a_number_beyond_all_reason_is_told_in_few_words(written: str, said: str) -> None:
    body, problems = read_body(with_measures(f"upper_arm_girth = {written}"), "x.toml")
    assert body is None
    assert [problem.code for problem in problems] == [said]
    assert len(problems[0].message) < 120
    assert problems[0].fix


def test_a_name_that_cannot_be_printed_is_refused() -> None:
    text = with_measures("upper_arm_girth = 28").replace('name = "', 'name = "\\u0001', 1)
    body, problems = read_body(text, "x.toml")
    assert body is None
    assert [problem.code for problem in problems] == ["E416"]
