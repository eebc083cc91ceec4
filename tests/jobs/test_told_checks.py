"""Of a body that cannot be drawn, the checks that fail all the same are told."""

from __future__ import annotations

from pathlib import Path

import pytest
from godet.bodies.units import Unit
from godet.cli.main import main
from godet.jobs.numbers import told_apart

STYLE = """language 1
style "Told"

choice wide = 20 cm

point low = starting_point up 30 cm
point side = low outward wide
solve far between 1 cm and 10 cm that wide equals far * 3 tolerance 0.1 mm "make it narrower"
point end = starting_point outward far
piece cloth {
    line lower from starting_point to end
    line outer from end to side
    line upper from side to low
    line inner from low to starting_point
    grain up
    cut 1
}

check it_can_be_solved that wide at_most 30 cm "choose a narrower one"
check it_is_drawn that length of cloth.outer at_least 5 cm
"""
BODY = 'name = "invented"\nunit = "cm"\nsex = "F"\n[measures]\nbust_girth = 92\n'


@pytest.fixture
def told(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> object:
    (tmp_path / "told.style").write_text(STYLE, "utf-8")
    (tmp_path / "body.toml").write_text(BODY, "utf-8")

    def run(command: str, wide: str) -> tuple[int, str]:
        code = main([command, str(tmp_path / "told.style"), "--body", str(tmp_path / "body.toml"), "--set", f"wide={wide}"])
        return code, capsys.readouterr().out

    return run


def test_of_a_body_that_cannot_be_drawn_the_checks_that_need_no_drawing_are_told(told: object) -> None:
    assert callable(told)
    code, out = told("check", "40 cm")
    assert code == 2
    assert "FAILS  it_can_be_solved: wide at_most 30 cm  (400.0 mm, 300.0 mm); choose a narrower one" in out
    assert "it_is_drawn" not in out


@pytest.mark.parametrize(
    ("values", "unit", "said"),
    [
        ([185.1324, 185.1328], "mm", ["185.132 mm", "185.133 mm"]),
        ([185.1, 167.5, 0.01], "mm", ["185.10 mm", "167.50 mm", "0.01 mm"]),
        ([185.1, 185.1], "mm", ["185.1 mm", "185.1 mm"]),  # more_than: they are the same
        ([254.0, 254.04], "in", ["10 in (254.00 mm)", "10 in (254.04 mm)"]),
    ],
)
def test_numbers_that_do_not_agree_are_told_apart(values: list[float], unit: Unit, said: list[str]) -> None:
    assert told_apart([("length", one) for one in values], unit) == said


def test_what_fails_inside_the_library_is_told_at_the_sentence_that_uses_it(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "wide.style").write_text(
        'language 1\nstyle "Wide"\nuse sleeve_draft from sleeves/set_in\n'
        "piece sleeve = sleeve_draft with front_armhole 10 cm back_armhole 10 cm sleeve_width 80 cm cap_ease 0.05 "
        "sleeve_length 56 cm hem_width 24 cm {\n    cut 2 as pair\n    grain up\n}\n",
        "utf-8",
    )
    (tmp_path / "body.toml").write_text(BODY + "upper_arm_girth = 29\n", "utf-8")
    assert main(["check", str(tmp_path / "wide.style"), "--body", str(tmp_path / "body.toml")]) == 2
    told = capsys.readouterr().err
    assert "wide.style:4:16" in told
    assert "= it fails in recipe `sleeve_draft`, at stdlib/sleeves/set_in.style:" in told
