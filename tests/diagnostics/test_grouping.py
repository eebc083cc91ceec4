"""One trouble that many bodies meet is told once."""

from __future__ import annotations

from godet.diagnostics import running_words as words
from godet.diagnostics.diagnostic import Span, Step
from godet.diagnostics.grouping import grouped

HERE, THERE = Span("a.style", 0, 5), Span("a.style", 10, 15)


def test_a_trouble_of_one_body_is_told_as_it_is() -> None:
    one = words.narrow_dart(HERE, "front", "bust_dart", 4.0, 6.0, words.in_mm).on("alto 1")
    assert grouped([one]) == (one,)


def test_a_trouble_of_many_is_told_once_with_some_of_them_and_the_range_of_its_figures() -> None:
    widths = (4.0, 2.0, 5.0, 3.0, 1.0)
    found = [words.narrow_dart(HERE, "front", "bust_dart", wide, 6.0, words.in_mm).on(f"alto {wide:.0f}") for wide in widths]
    (told,) = grouped(found)
    assert told.body == "alto 4, alto 2, alto 5 and 2 bodies more"
    assert told.message == found[0].message
    assert told.note.endswith("; of all these: mm wide 1.0 to 5.0")


def test_other_darts_places_and_codes_are_other_troubles() -> None:
    found = [
        words.narrow_dart(HERE, "front", "bust_dart", 4.0, 6.0, words.in_mm).on("alto 1"),
        words.narrow_dart(HERE, "front", "waist_dart", 4.0, 6.0, words.in_mm).on("alto 1"),
        words.narrow_dart(THERE, "front", "bust_dart", 4.0, 6.0, words.in_mm).on("alto 1"),
        words.no_grain(HERE, "front").on("alto 1"),
    ]
    assert grouped(found) == tuple(found)


def test_two_bodies_are_both_named_and_the_figures_of_an_error_keep_their_words() -> None:
    legs = {"a": 10.0, "b": 12.5}
    found = [words.sentence_fails(HERE, "too short", "", {"left leg": long}).on(name) for name, long in legs.items()]
    (told,) = grouped(found)
    assert told.body == "a and b"
    assert told.note == "a: left leg 10.0 mm; of all these: left leg 10.0 to 12.5"


def test_errors_that_two_uses_of_a_recipe_lead_to_stay_two() -> None:
    one = words.sentence_fails(HERE, "too short", "", {})
    found = [one.within(Step(THERE, "in one")).on("a"), one.within(Step(HERE, "in another")).on("b")]
    assert grouped(found) == tuple(found)
