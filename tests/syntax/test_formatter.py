"""The one layout: what it looks like, and that it changes nothing but looks."""

import re
from itertools import count

import pytest
from godet.syntax.formatter import format_style
from hypothesis import given, settings
from hypothesis import strategies as st
from support.syntax_samples import BODICE, CONCERT_TOP, UNTIDY, good, placeless

TIDY = """\
# about this style

language 1  # the first
style "Untidy"
use a, b from blocks/bodice  # two names
choice overarm = 15 cm between 8 cm and 25 cm "shoulder point to hem"

# the subject
# and its words
shape half = kimono base.front reach overarm shoulder_drop 1 1/2 inch
piece long = kimono base.front reach overarm shoulder_drop 4 cm half_width 22 cm over ((a + b) / 4)
        share 1/2 rise 3 cm {  # b
    # inner

    cut 1 face up
    allow 1 cm
    allow -3 mm on hem  # all around
}  # end of it
each k from 1 to n up_to 20 {
    notch hem at (k * 2 cm) from side
}
recipe drawn "with text" {
    takes length ease = 8 cm between 0 cm and 30 cm "whole"
    takes shape draft
    needs draft.shoulder "the shoulder"
    gives curve side from a to b leaving outward arriving square_to c "last"
    gives shape whole = unfold draft across centre {
        fold centre
    }
}
length chosen = a when b at_least c and not (d or measured e) otherwise f otherwise 3 cm
point p = nape down by scye_depth + 1.5 cm outward by (2 * 3 cm)
check sides that length of a.side equals length of b.side tolerance 2 mm "sewn together"
seam s joins a count 6 in x
tell t when a at_least b "one"
# the end
"""


def formatted(text: str) -> str:
    made, found = format_style(text, "a.style")
    assert found == ()
    return made


def test_an_untidy_style_becomes_tidy() -> None:
    assert formatted(UNTIDY) == TIDY


@pytest.mark.parametrize(
    ("written", "said"),
    [
        ("point p = nape down depth outward by 2 cm", "point p = nape down by depth outward 2 cm"),
        ("point p = nape down by -1 cm", "point p = nape down -1 cm"),
        ("shape f = facing front along neckline depth of 3 cm", "shape f = facing front along neckline depth 3 cm"),
        ("shape f = facing front along neckline depth of deep", "shape f = facing front along neckline depth of deep"),
        ("trim loop as_long_as of length of front.hem", "trim loop as_long_as of length of front.hem"),
        ("shape l = lengthen front.side at hem by 2 cm", "shape l = lengthen front.side at hem by 2 cm"),
    ],
)
def test_the_small_words_stand_before_what_is_no_plain_number(written: str, said: str) -> None:
    assert formatted(f"language 1\n{written}\n") == f"language 1\n{said}\n"
    assert formatted(f"language 1\n{said}\n") == f"language 1\n{said}\n"


@pytest.mark.parametrize("text", [UNTIDY, TIDY, CONCERT_TOP, BODICE])
def test_formatting_twice_changes_nothing_and_the_meaning_stays(text: str) -> None:
    once = formatted(text)
    assert formatted(once) == once
    assert placeless(good(once)) == placeless(good(text))
    assert [c.text for c in good(once).comments] == [c.text for c in good(text).comments]


CHAIN = """\
# about the whole
shape moved = base.front  # as drafted
    # first down
    then open waist_dart to hem  # to the hem
    # then the bust
    # with its dart
    then pivot bust_dart into (side at 6 cm from armhole) called side_dart sharing 1/3, 2/3
        keeping neckline
    then smooth hem  # at last
shape next = moved
"""


def test_a_comment_stays_at_its_link() -> None:
    assert formatted(CHAIN) == CHAIN
    inside = "shape a = b then open c  # here\n  # and here\n  to d then smooth\n # there\n e"
    told = "shape a = b\n    # here\n    # and here\n    then open c to d\n    # there\n    then smooth e\n"
    assert formatted(inside) == told
    bracketed = "shape a = (b\n  # here\n  then open c to d)"
    assert formatted(bracketed) == "# here\nshape a = (b then open c to d)\n"


between = st.sampled_from([" ", "  # behind\n", "\n    # above\n# above again\n", "  # behind\n  # above\n\n"])
inside = st.sampled_from([" ", "\n        ", "  # inside\n        ", "\n  # inside\n        "])


@settings(deadline=None, max_examples=200)
@given(st.lists(between, min_size=3, max_size=3), st.lists(inside, min_size=3, max_size=3))
def test_comments_in_a_chain_keep_their_order_and_their_link(between: list[str], inside: list[str]) -> None:
    links = [f"then open c{inside[0]}to d", f"then{inside[1]}smooth e", f"then crop along f{inside[2]}keeping g {{\n}}"]
    text = "shape a = b" + "".join(gap + link for gap, link in zip(between, links, strict=True))
    numbers = count()
    text = re.sub("#", lambda _: f"# {next(numbers)}", text)
    once = formatted(text)
    assert formatted(once) == once
    assert placeless(good(once)) == placeless(good(text))
    assert [c.text for c in good(once).comments] == [c.text for c in good(text).comments]
    assert at_their_links(once) == at_their_links(text)


def at_their_links(text: str) -> list[tuple[str, int]]:
    """Each comment that stands between links, with the number of links before it."""
    return [(c.text, text.count("then", 0, c.span.start)) for c in good(text).comments if "inside" not in c.text]


def test_a_text_with_errors_is_left_as_it_is() -> None:
    text = "length   a = 3cm\nlength b =\n"
    made, found = format_style(text, "a.style")
    assert made == text
    assert [d.code for d in found] == ["E150"]


def test_a_long_sentence_is_broken_before_a_word_and_stays_one() -> None:
    words = " ".join(f"word_{i} value_{i}" for i in range(20))
    lines = formatted(f"shape p = slash front {words}").splitlines()
    assert all(len(line) <= 100 for line in lines)
    assert all(line.startswith("        word_") for line in lines[1:])
    assert " ".join(line.strip() for line in lines) == f"shape p = slash front {words}"


def test_a_renamed_word_changes_one_line() -> None:
    once = formatted(CONCERT_TOP).splitlines()
    renamed = formatted(CONCERT_TOP.replace("drape_fullness", "x")).splitlines()
    assert sum(a != b for a, b in zip(once, renamed, strict=True)) == 1


@pytest.mark.parametrize(
    ("text", "tidy"),
    [
        ("", ""),
        ("\n\n", ""),
        ("# only", "# only\n"),
        ("length a=1/2*b", "length a = 1/2 * b\n"),
        ("length a=b/1/2", "length a = b / 1 / 2\n"),
        ("shape a = x {  }", "shape a = x {\n}\n"),
        ("shape a = x {\n\n\n  # only\n\n}", "shape a = x {\n    # only\n}\n"),
    ],
)
def test_small_things(text: str, tidy: str) -> None:
    assert formatted(text) == tidy


BROKEN = """\
solve waist_taken_in kept between side_limit * -1 and side_limit + front_spare + back_spare
        that length of front.waistline + length of back.waistline equals half_waist tolerance 0.1 mm
        "measure again"
lines cuts = slash_lines plain.right_waist_dart.inner_leg
        between 1/6 and 5/6 from right_waist_dart.outer_leg
        running_to plain.left_side between 1/12 and 1/2 from left_underarm count 4
length neck_wanted = larger of (head_girth + 2 cm - length of back.neckline,
        length of back.neckline + fall)
length waist = 2 * (length of centre_front.waistline + length of side_front.waistline
        + length of centre_back.waistline + length of side_back.waistline)
length armpit_found = armpit_height - natural_waist_height
        when measured armpit_height and measured natural_waist_height otherwise armpit_by_back
"""


def test_a_long_sentence_is_broken_at_clauses_and_never_in_a_place_a_part_or_limits() -> None:
    assert formatted(BROKEN) == BROKEN
    assert formatted(BROKEN.replace("\n        ", " ")) == BROKEN


PLACES = st.sampled_from(["right_side at 7 cm from the_lower_hem", "right_side between 1/6 and 5/6 from the_hem", "a.neckline"])
SUMS = st.sampled_from(["3 cm", "length of front.side + 2 cm", "larger of (girth, width) * 2", "(drop from a to b)"])
WORDS = st.sampled_from(["running_to", "called", "depth", "hinged_at", "at_armhole"])


@st.composite
def long_sentences(draw: st.DrawFn) -> str:
    places, sums = draw(st.lists(st.tuples(WORDS, PLACES), max_size=5)), draw(st.lists(st.tuples(WORDS, SUMS), max_size=5))
    clauses = " ".join(f"{word} {value}" for word, value in draw(st.permutations(places + sums)))
    low, high, left, right = (draw(SUMS) for _ in range(4))
    return draw(
        st.sampled_from([
            f"shape made = slash {draw(PLACES)} {clauses}",
            f"solve wide between {low} and {high} that {left} equals {right} tolerance 1 mm",
            f"length wide = {low} when {left} between {high} and 15 mm and not {right} at_least 1 mm otherwise 2 cm",
            f'takes length wide = 3 cm between {low} and {high} "how wide it is"',
            f"gives point made = {draw(PLACES)} outward {low} down {high}",
        ])
    )


@settings(deadline=None, max_examples=200)
@given(st.lists(long_sentences(), min_size=1, max_size=4))
def test_long_sentences_fit_the_width_whole_in_their_places_and_mean_the_same(sentences: list[str]) -> None:
    text = "recipe r {\n" + "\n".join(sentences) + "\n}\n"
    once = formatted(text)
    assert formatted(once) == once
    assert placeless(good(once)) == placeless(good(text))
    lines = once.splitlines()
    assert all(len(line) <= 100 for line in lines)
    for line in lines:
        assert not re.match(r" *(and \d|and (length|larger|\(drop)|from |at )", line), line
        assert not re.search(r" (at|between|from|and|of|not|when|that)$", line), line


@pytest.mark.parametrize(
    ("text", "tidy"),
    [
        ("point a = b.crotch at zip_long - 3 cm from waistline", "point a = b.crotch at (zip_long - 3 cm) from waistline"),
        ("shape a = c with wide length of b.side deep 3 cm", "shape a = c with wide (length of b.side) deep 3 cm"),
        ("shape a = c with wide (a + b) * 2 deep a * (c + d)", "shape a = c with wide ((a + b) * 2) deep a * (c + d)"),
        ("shape a = c with wide (a + b) * (c + d) deep 3 cm", "shape a = c with wide ((a + b) * (c + d)) deep 3 cm"),
        ("shape a = c with wide (x + 2 * (c + d)) deep 3 cm", "shape a = c with wide (x + 2 * (c + d)) deep 3 cm"),
        ("shape a = c with wide -x deep a.b share 1/3 high 3 cm", "shape a = c with wide -x deep a.b share 1/3 high 3 cm"),
        ("length a = length of b.side", "length a = length of b.side"),
        ("seam s joins a.b + a.c to d.e sewn flat", "seam s joins a.b + a.c to d.e sewn flat"),
    ],
)
def test_a_sum_between_words_and_values_is_bracketed_and_what_is_one_value_stays_bare(text: str, tidy: str) -> None:
    assert formatted(text) == f"{tidy}\n"
    assert formatted(tidy) == f"{tidy}\n"
    assert placeless(good(tidy)) == placeless(good(text))


def test_a_sentence_that_cannot_be_broken_stays_on_the_line_it_begins() -> None:
    long = "the plackets are stitched in along the box, then the slit is cut and snipped into its corners, as far as that"
    text = f'language 1\npiece sleeve = plain {{\n    cut 2 as pair\n    remark "{long}"\n}}\n'
    assert format_style(text, "a.style") == (text, ())
