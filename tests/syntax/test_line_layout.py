"""Where a sentence ends: lines, indentation, brackets and braces."""

import pytest
from godet.diagnostics.printing import place
from godet.syntax.parser import parse
from godet.syntax.tree import Definition, Each
from support.syntax_samples import brief, codes, good, only, placeless

ONE_LINE = "shape half = kimono base.front reach overarm shoulder_drop 4 cm"


@pytest.mark.parametrize(
    "text",
    [
        "shape half = kimono base.front\n    reach overarm\n    shoulder_drop 4 cm",
        "shape half =\n  kimono base.front\n    reach overarm\n  shoulder_drop 4 cm",
        "shape half = kimono base.front  # subject\n    # words\n\n    reach overarm shoulder_drop 4 cm",
        "shape half = kimono base.front\r\n\treach overarm\r\n\tshoulder_drop 4 cm\r\n",
    ],
)
def test_a_deeper_line_continues_the_sentence(text: str) -> None:
    assert placeless(good(text)) == placeless(good(ONE_LINE))


def test_a_bracket_keeps_the_sentence_open_at_any_indentation() -> None:
    assert placeless(good("length a = (b +\nc)")) == placeless(good("length a = (b + c)"))


def test_a_line_that_begins_with_kind_and_name_never_continues() -> None:
    tree, found = parse("piece a = unfold half across centre\n    dart d on waist", "a.style")
    assert [d.code for d in found] == ["E126"]
    assert len(tree.sentences) == 2


def test_a_kind_without_a_name_may_begin_a_continuing_line() -> None:
    assert len(good("shape a = pivot front\n    dart (d) into slash").sentences) == 1


def test_braces_nest_and_may_stand_on_one_line() -> None:
    sentence = only("each k from 1 to 3 { each n from 1 to 2 { mark k at n } }")
    assert isinstance(sentence, Each)
    (inner,) = sentence.block
    assert isinstance(inner, Each)
    assert len(inner.block) == 1


def test_a_bracket_that_is_closed_in_another_sentence_is_shown_where_it_opened() -> None:
    """The sentence between the two is not to blame."""
    text = "piece p = q {\n    cut 1 on ( fold\n    cut 1 on fold in fusing\n    allow ) 1 cm\n}\n"
    (one,) = parse(text, "a.style")[1]
    assert one.span is not None
    assert (one.code, text[one.span.start - 3 : one.span.end]) == ("E120", "on (")


def test_an_unclosed_bracket_is_shown_where_it_opened_and_hides_nothing_else() -> None:
    text = "length a = (b + (c\nlength d = 3 kg\n"
    _, found = parse(text, "a.style")
    assert [d.code for d in found] == ["E120", "E108"]
    assert found[0].span is not None
    assert place(text, found[0].span.start) == (1, 17)


def test_the_brace_blamed_is_the_one_whose_block_did_not_end() -> None:
    text = "recipe r {\n    piece a = b {\n        cut 1\n    piece c = d {\n        cut 1\n    }\n}\n"
    _, found = parse(text, "a.style")
    assert [d.code for d in found] == ["E122"]
    assert found[0].span is not None
    assert place(text, found[0].span.start) == (2, 17)


@pytest.mark.parametrize(
    ("text", "code"),
    [
        ("piece a = b {\n    cut 1\n    grain up\nlength c = 1 cm\n", "E122"),
        ("length a = b {\nlength c = 1 cm\n", "E122"),
        ("recipe r {\n    piece a = b {\n        cut 1\n}\nlength c = 1 cm\n", "E122"),
        ("piece a = b\n    cut 1\n}\nlength c = 1 cm\n", "E123"),
        ("recipe r\n    takes shape s\n}\nlength c = 1 cm\n", "E123"),
        ("length a = b }\n    + 1 cm\nlength c = 1 cm\n", "E123"),
    ],
)
def test_one_brace_amiss_is_told_once_and_what_follows_stands_where_it_stood(text: str, code: str) -> None:
    tree, found = parse(text, "a.style")
    assert [d.code for d in found] == [code]
    last = tree.sentences[-1]
    assert isinstance(last, Definition)
    assert (brief(last.name), len(tree.sentences)) == ("c", 2)


def test_a_brace_on_its_own_line_still_opens_the_block() -> None:
    tree, found = parse("shape a = b\n{\n    cut 1\n}\n", "a.style")
    assert [d.code for d in found] == ["E124"]
    (piece,) = tree.sentences
    assert isinstance(piece, Definition)
    assert piece.block is not None
    assert len(piece.block) == 1


def test_every_independent_error_is_reported_and_the_rest_is_read() -> None:
    text = "length a = 1,5 cm\npice b = c\nlength d = 3 cm\ncheck e that f = g\npoint h =\n"
    tree, found = parse(text, "a.style")
    assert [d.code for d in found] == ["E102", "E140", "E153", "E150"]
    assert [brief(s.name) for s in tree.sentences if isinstance(s, Definition)] == ["a", "d"]


def test_a_slip_is_mended_where_the_meaning_is_clear() -> None:
    tree, _ = parse("length a = 1,5 cm\nlength side-seam = 5/8\"\nlength Front = 3 cm", "a.style")
    meant = good("length a = 1.5 cm\nlength side_seam = 5/8 inch\nlength front = 3 cm")
    assert placeless(tree) == placeless(meant)


@pytest.mark.parametrize(
    "text",
    [
        "length a = " + "(" * 10_000 + "1" + ")" * 10_000,
        "shape a = b {\n" * 10_000,
        "length a = " + "1 + " * 20_000 + "1",
        "length a = " + "(" * 1_000_000,
        "seam a joins " + "b to " * 50_000 + "c",
        "-" * 1_000_000,
        "length " + "a-" * 100_000,
        "}" * 100_000,
    ],
)
def test_hostile_text_ends_in_few_diagnostics(text: str) -> None:
    _, found = parse(text, "a.style")
    assert 1 <= len(found) <= 201


def test_nesting_that_is_allowed_is_read() -> None:
    assert codes("length a = " + "(" * 100 + "b" + ")" * 100) == []
    assert codes("each k from 1 to 2 {\n" * 12 + "}\n" * 12) == []
