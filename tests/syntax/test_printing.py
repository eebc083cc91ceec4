"""How a diagnostic looks: place, line, underline, fix, other places, the way through recipes, the body."""

from dataclasses import replace

from godet.diagnostics.diagnostic import Diagnostic, Label, Severity, Span, Step
from godet.diagnostics.printing import place, print_all, print_diagnostic
from hypothesis import given, settings
from hypothesis import strategies as st

LINE = "shape shut = pivot front dart waist_dart into side_slash"
TEXT = "\n" * 17 + LINE + "\nseam side_seam joins a to b\n"


def at(part: str, file: str = "concert_top.style", text: str = TEXT) -> Span:
    start = text.index(part)
    return Span(file, start, start + len(part))


LEGS = Diagnostic(
    "E214",
    "`waist_dart` cannot close: its legs differ by 6.2 mm",
    at("pivot front dart waist_dart into side_slash"),
    note="left leg 118.4 mm, right leg 112.2 mm",
    fix="true the legs first, or move the apex to the middle of the intake",
    body="alto 3",
)


def shown(diagnostic: Diagnostic, text: str = TEXT) -> list[str]:
    return print_diagnostic(diagnostic, {"concert_top.style": text}).split("\n")


def test_the_form_is_the_one_of_the_brief() -> None:
    assert shown(LEGS) == [
        "error[E214]: `waist_dart` cannot close: its legs differ by 6.2 mm",
        "  --> concert_top.style:18:14",
        "   |",
        f"18 | {LINE}",
        "   |              ^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^ left leg 118.4 mm, right leg 112.2 mm (alto 3)",
        "   |",
        "   = fix: true the legs first, or move the apex to the middle of the intake",
    ]


def test_a_warning_without_place_is_two_lines() -> None:
    warning = Diagnostic("W301", "no body gives `bust_girth`", fix="add it", severity=Severity.WARNING, body="alto 3")
    assert shown(warning) == ["warning[W301]: no body gives `bust_girth` (alto 3)", "  = fix: add it"]


def test_other_places_and_the_way_through_recipes() -> None:
    labelled = replace(LEGS, fix="", labels=(Label(at("side_seam"), "sewn here"),))
    traced = labelled.within(Step(at("front"), "in recipe `shut_dart`"))
    assert shown(traced)[5:] == [
        "  --> concert_top.style:19:6",
        "   |",
        "19 | seam side_seam joins a to b",
        "   |      --------- sewn here",
        "   |",
        "   = in recipe `shut_dart`, used at concert_top.style:18:20",
    ]


def test_a_file_that_is_not_at_hand_is_named() -> None:
    assert print_diagnostic(LEGS, {}).split("\n") == [
        "error[E214]: `waist_dart` cannot close: its legs differ by 6.2 mm (alto 3)",
        " --> concert_top.style",
        "  = note: left leg 118.4 mm, right leg 112.2 mm",
        "  = fix: true the legs first, or move the apex to the middle of the intake",
    ]


def test_a_long_line_is_clipped_around_the_part() -> None:
    text = "a" * 500_000 + "WRONG" + "b" * 500_000
    lines = shown(Diagnostic("E101", "odd", at("WRONG", text=text)), text)
    assert max(map(len, lines)) < 140
    column = lines[3].index("WRONG")
    assert lines[4] == "  |".ljust(column) + "^^^^^"


def test_a_part_of_several_lines_is_underlined_to_the_end_of_the_first() -> None:
    text = "length a = (b +\n    c)"
    lines = shown(Diagnostic("E101", "odd", Span("concert_top.style", 11, len(text))), text)
    assert lines[3:] == ["1 | length a = (b +", "  |            ^^^^"]


def test_tabs_and_wide_letters_keep_the_underline_in_its_place() -> None:
    text = "\tlength 袖丈 = b"
    lines = shown(Diagnostic("E113", "odd", at("袖丈", text=text)), text)
    assert lines[3:] == ["1 |     length 袖丈 = b", "  |            ^^^^"]


def test_nothing_from_the_text_steers_the_terminal() -> None:
    text = "length a\x1b[31m = \u202eb"
    lines = shown(Diagnostic("E101", "odd \x1b[0m", at("b", text=text)), text)
    assert all(line.isprintable() for line in lines)
    assert lines[4].index("^") == lines[3].index("b")


@settings(max_examples=50, deadline=None)
@given(st.text(max_size=60), st.integers(0, 70), st.integers(0, 70))
def test_any_span_of_any_text_is_printed(text: str, start: int, length: int) -> None:
    found = Diagnostic("E101", "odd", Span("f", start, start + length), note="n", fix="f")
    lines = print_all([found], {"f": text}).split("\n")
    assert len(lines) == 7
    assert lines[4].startswith("  | ")
    assert "^" in lines[4]


def test_place_counts_from_one() -> None:
    assert [place("ab\nc", i) for i in range(5)] == [(1, 1), (1, 2), (1, 3), (2, 1), (2, 2)]
