"""The sentences of the language in the reference: every one has an entry, and its examples can be read."""

from __future__ import annotations

import pytest
from godet.jobs.examples import example, on_ground
from godet.jobs.forms import FORMS
from godet.jobs.outcome import outcomes
from godet.jobs.prepare import prepare
from godet.jobs.vocabulary import entry, recipes
from godet.jobs.writing import WRITTEN
from godet.syntax.parser import parse
from godet.syntax.words import HEADS
from support.style_runs import ROOT
from support.styles import Written

REFERENCE = (ROOT / "grammar" / "reference.md").read_text("utf-8")
"""As it is kept: that it is what `godet words --all` prints, tests/test_house.py holds, and once is enough."""


def test_every_word_that_begins_a_sentence_has_an_entry() -> None:
    assert FORMS.keys() - {"when", "otherwise"} == HEADS
    for word in FORMS:
        found = entry(word)
        assert found is not None
        assert found.strip() in REFERENCE


@pytest.mark.parametrize(("word", "example"), [(word, example) for word, (_, rows) in FORMS.items() for example in rows])
def test_an_example_can_be_read(word: str, example: str) -> None:
    text = f"{example}\n"
    inside = f"shape p = q {{\n    {text}}}\n" if word == "without" or example.startswith("change allow") else text
    tree, found = parse(inside, "example")
    assert found == ()
    assert tree.sentences
    assert {word, "block" if word == "recipe" else word} & set(example.split())


@pytest.mark.parametrize("sentence", [sentence for one in WRITTEN for sentence in one.examples])
def test_a_sentence_that_shows_how_it_is_written_stands_on_the_ground_of_the_examples(sentence: str) -> None:
    assert sentence.replace("\n", "\n    ") in REFERENCE
    made = example(sentence)
    assert {one.code for one in made.problems} <= {"W201"}
    assert made.style is not None


@pytest.mark.parametrize("title", ["patch_pocket", "caught_in"])
def test_what_shows_how_something_is_sewn_is_sewn_so(title: str) -> None:
    """Drawn on the body of the examples, with seams that hold."""
    (sentence,) = next(one.examples for one in WRITTEN if one.title == title)
    text = "\n".join(on_ground(sentence)) + "\n"
    (result,), _ = outcomes(prepare(Written(text), "a.style", [str(ROOT / "grammar" / "examples.toml")]))
    assert (result.errors, result.warnings) == ((), ())
    assert [seam.name for seam in result.seams if not seam.holds] == []
    assert result.seams


@pytest.mark.parametrize(
    ("recipe", "row"),
    [
        (
            "straight_skirt",
            "  gives shape back: waistline, centre, hem, side, dart inner_dart, dart outer_dart, line top_hip, line hip\n",
        ),
        (
            "set_in",
            "  gives shape sleeve: front_cap, back_cap, back_seam, hem, front_seam, line biceps, line elbow, "
            "point shoulder_mark, point front_pitch, point back_pitch\n",
        ),
        ("flat_collar", "  gives shape collar, in the example: outer_edge, neckline, centre_back, line shoulder\n"),
    ],
)
def test_a_recipe_tells_what_the_pieces_it_gives_consist_of(recipe: str, row: str) -> None:
    assert row in (entry(recipe) or "")


def test_a_default_is_printed_whole_with_its_brackets() -> None:
    told = entry("set_in") or ""
    assert "(length, wrist_girth + (9 cm when mens otherwise 8 cm) if left out; between 10 cm and 80 cm)" in told
    for one in recipes():
        for row in (entry(one.name) or "").split("\n"):
            assert row.count("(") == row.count(")"), f"{one.name}: {row}"


def test_a_block_tells_at_which_level_its_ease_is_true() -> None:
    assert "  promises bust: over bust_girth ease of bust_ease tolerance 5 mm\n" in (entry("bodice") or "")
    handed_on = entry("half_circle") or ""  # of the circle_pair it hands on
    assert "  promises " in handed_on
    assert [row for row in handed_on.split("\n") if row.startswith("  promises")] == [
        row for row in (entry("circle_pair") or "").split("\n") if row.startswith("  promises")
    ]


def test_whole_recipes_and_blocks_are_shown_and_compile() -> None:
    for sentence in FORMS["recipe"][1]:
        made = example(sentence)
        assert {one.code for one in made.problems} <= {"W201"}, made.problems
        assert made.style is not None


def test_a_kind_with_rows_of_its_own_tells_how_they_are_written() -> None:
    assert "between_rows row_above beyond_rows held {\n        row 95 cm is 18 cm\n" in (entry("table") or "")
