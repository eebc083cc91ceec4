"""What holds for every text: reading never fails, and formatting keeps meaning, comments and itself."""

from godet.diagnostics.printing import print_all
from godet.syntax.formatter import format_style
from godet.syntax.parser import parse
from godet.syntax.source import decode
from godet.syntax.words import RESERVED
from hypothesis import assume, example, given, settings
from hypothesis import strategies as st
from support.syntax_samples import BODICE, CONCERT_TOP, UNTIDY, placeless

PARTS = [
    *sorted(RESERVED),
    *("a", "b.c", "front", "3", "1/2", "15 cm", "1 1/2 in", "2.5mm", '"text"', "-3 cm", "point p =", "cut 1"),
    *("(", ")", "{", "}", "=", "+", "-", "*", "/", ",", "\n", "\n    ", "\n        ", "\t", "# note\n"),
    *("“x”", '"', "1,5", "A", "é", ".", "feet", "2 feet"),
]
words = st.lists(st.sampled_from(PARTS), max_size=40).map(" ".join)


@st.composite
def mutations(draw: st.DrawFn) -> str:
    """A good style with a few pieces cut out, doubled, or replaced."""
    text = draw(st.sampled_from([CONCERT_TOP, BODICE, UNTIDY]))
    for _ in range(draw(st.integers(1, 4))):
        at = draw(st.integers(0, len(text)))
        cut = draw(st.integers(0, 12))
        text = text[:at] + draw(st.sampled_from(["", " ", "\n", text[at : at + cut] * 2, *PARTS])) + text[at + cut :]
    return text


@st.composite
def sentences(draw: st.DrawFn) -> str:
    """Good sentences with comments, blank lines and breaks in odd places."""
    lines = [line for line in (CONCERT_TOP + BODICE + UNTIDY).split("\n") if "{" not in line and "}" not in line]
    gap = st.sampled_from(["\n", "\n\n\n", "  # note\n", "\n# own line\n\n", "\n    # deeper\n"])
    text = ""
    for line in draw(st.lists(st.sampled_from(lines), max_size=6)):
        broken = draw(st.sampled_from([" ", "  ", " ", "\n            ", "  # inside\n            "]))
        text += line.strip().replace(" to ", f"{broken}to ").replace(" + ", f"{broken}+ ") + draw(gap)
    return text


def check_reading(text: str) -> None:
    tree, found = parse(text, "a.style")
    assert tree.text == text
    for diagnostic in found:
        assert diagnostic.message
        assert diagnostic.fix or diagnostic.code == "E128"
        assert diagnostic.span is not None
        assert 0 <= diagnostic.span.start <= diagnostic.span.end <= len(text)
    print_all(found, {"a.style": text})


def check_formatting(text: str) -> None:
    tree, found = parse(text, "a.style")
    made, _ = format_style(text, "a.style")
    if found:
        assert made == text
        return
    again, errors = parse(made, "a.style")
    assert errors == ()
    assert placeless(again) == placeless(tree)
    assert [c.text for c in again.comments] == [c.text for c in tree.comments]
    assert format_style(made, "a.style")[0] == made
    assert "\n\n\n" not in made


@settings(max_examples=60, deadline=None)
@given(st.text(max_size=200))
@example("length a-b- = 3 cm")
def test_any_text_is_read(text: str) -> None:
    check_reading(text)


@settings(max_examples=60, deadline=None)
@given(words)
@example(") \n above")
def test_any_words_are_read_and_formatted(text: str) -> None:
    check_reading(text)
    check_formatting(text)


@settings(max_examples=60, deadline=None)
@given(mutations())
def test_damaged_styles_are_read_and_formatted(text: str) -> None:
    check_reading(text)
    check_formatting(text)


@settings(max_examples=60, deadline=None)
@given(sentences())
def test_formatting_keeps_meaning_and_comments(text: str) -> None:
    assume(not parse(text, "a.style")[1])
    check_formatting(text)


@settings(max_examples=40, deadline=None)
@given(st.binary(max_size=100))
def test_any_bytes_are_decoded_or_refused(data: bytes) -> None:
    text, found = decode(data, "a.style")
    assert (text is None) == bool(found)
