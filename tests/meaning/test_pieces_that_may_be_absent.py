"""`when` on a whole sentence: a piece, a seam or a check that is there only then, and what rests on it."""

from __future__ import annotations

import pytest
from godet.jobs.outcome import outcomes
from godet.syntax.formatter import format_style
from support.styles import LANGUAGE, said, stored, written

STYLE = LANGUAGE / "features" / "there_or_not.style"
TEXT = STYLE.read_text("utf-8")


@pytest.mark.parametrize(
    ("settings", "there"),
    [
        ([], "front apron apron_covers"),
        (["with_pocket=yes"], "front pocket pocket_seam pocket_is_small tape"),
        (["high=45 cm"], "front apron apron_seam apron_covers"),
        (["with_pocket=yes", "high=45 cm"], "front pocket pocket_seam pocket_is_small tape"),
        (["high=15 cm"], "front"),
    ],
)
def test_what_rests_on_an_absent_piece_is_absent_too(settings: list[str], there: str) -> None:
    prepared = stored(STYLE, settings)
    assert said(prepared) == ""  # no error, and nothing said to be unused
    (result,), _ = outcomes(prepared)
    assert prepared.style is not None
    made = [one.name for one in result.pieces] + [one.name for one in result.seams] + [one.name for one in result.checks]
    assert sorted([*made, *prepared.style.attached]) == sorted(there.split())


def test_errors_in_what_is_not_there_are_told_all_the_same() -> None:
    wrong = written(TEXT.replace("from out to deep", "from out to depe"))
    assert {one.code for one in wrong.diagnostics if one.is_error} == {"E201"}


def test_the_condition_of_a_base_stays_until_another_is_said() -> None:
    head = 'language 1\nstyle "Derived" from features/there_or_not\n'
    changed = written(head + "change piece apron = front {\n    cut 3\n}\n", ["with_pocket=yes"])
    assert changed.style is not None
    assert "apron" not in changed.style.pieces
    other = written(head + "change piece apron = front when with_pocket {\n    cut 3\n}\n", ["with_pocket=yes"])
    assert other.style is not None
    assert "apron" in other.style.pieces


def test_inside_a_recipe_a_whole_sentence_takes_no_when() -> None:
    recipe = "recipe turned_over {\n    takes shape draft\n    gives shape made = mirror draft when with_pocket\n}\n"
    wrong = written(TEXT + recipe + "shape other = turned_over front\n")
    assert "E230" in {one.code for one in wrong.diagnostics}


def test_the_layout_is_settled() -> None:
    assert format_style(TEXT, "a.style") == (TEXT, ())
    long = "seam pocket_seam joins pocket.mouth_of_the_large_pocket to front.hem_of_the_whole_front_piece tolerance 3 mm"
    once, _ = format_style(f"language 1\n{long} when with_pocket\n", "a.style")
    assert once.endswith("\n        tolerance 3 mm when with_pocket\n")
