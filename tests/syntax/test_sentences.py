"""What sentences and values are read as."""

import pytest
from godet.syntax.tree import (
    Check,
    Definition,
    Each,
    Gives,
    Language,
    Needs,
    Recipe,
    Statement,
    Takes,
    Title,
    Use,
)
from godet.syntax.words import HEADED
from support.syntax_samples import BODICE, CONCERT_TOP, UNTIDY, brief, codes, good, only


def definition(text: str) -> Definition:
    sentence = only(text)
    assert isinstance(sentence, Definition)
    return sentence


def value(text: str) -> str:
    return brief(definition(f"length x = {text}").value)


def condition(text: str) -> str:
    sentence = only(f"check x that {text}")
    assert isinstance(sentence, Check)
    return brief(sentence.condition)


def statement(text: str) -> Statement:
    made = definition("shape p = unfold q across r {\n    " + text + "\n}")
    assert made.block is not None
    (inner,) = made.block
    assert isinstance(inner, Statement)
    return inner


def test_the_samples_of_the_brief_have_no_errors() -> None:
    assert len(good(CONCERT_TOP).sentences) == 17
    (recipe,) = good(BODICE).sentences
    assert isinstance(recipe, Recipe)
    assert recipe.text is not None
    gives = recipe.block[-1]
    assert isinstance(gives, Gives)
    assert gives.definition.block is not None
    assert [type(s).__name__ for s in gives.definition.block].count("Definition") == 7


def test_every_shape_of_sentence_is_read() -> None:
    tree = good(UNTIDY)
    recipe = next(s for s in tree.sentences if isinstance(s, Recipe))
    shapes = {type(s) for s in (*tree.sentences, *recipe.block)}
    assert {Language, Title, Use, Definition, Each, Recipe, Takes, Needs, Gives, Check} <= shapes


@pytest.mark.parametrize(
    ("text", "read"),
    [
        ("a + b * c", "(Arithmetic + a (Arithmetic * b c))"),
        ("a - b - c", "(Arithmetic - (Arithmetic - a b) c)"),
        ("(a + b) / c", "(Arithmetic / (Arithmetic + a b) c)"),
        ("length of a / b", "(Arithmetic / (Of length a) b)"),
        ("floor of (a / b)", "(Of floor (Arithmetic / a b))"),
        ("nape down a + b", "(Moves nape (Direction down) (Arithmetic + a b))"),
        ("nape outward a up b", "(Moves nape (Direction outward) a (Direction up) b)"),
        ("toward x", "(Heading toward x)"),
        ("square_to x", "(Heading square_to x)"),
        ("a when b otherwise c", "(Chosen a (Plain b) c)"),
        ("a otherwise b otherwise c", "(Chosen a (Chosen b c))"),
        ("a when b at_least c otherwise d", "(Chosen a (Comparison at_least b c) d)"),
        ("(a when b otherwise c) + d", "(Arithmetic + (Chosen a (Plain b) c) d)"),
        ("up", "(Direction up)"),
        ("yes", "(Flag True)"),
    ],
)
def test_values(text: str, read: str) -> None:
    assert value(text) == read


@pytest.mark.parametrize(
    ("text", "amount", "unit"),
    [
        ("15 cm", 15.0, "cm"),
        ("15cm", 15.0, "cm"),
        ("2.5 mm", 2.5, "mm"),
        ("5/8 inch", 0.625, "inch"),
        ("1 1/2 inch", 1.5, "inch"),
        ("1 1/32inch", 1.03125, "inch"),
        ("20 deg", 20.0, "deg"),
    ],
)
def test_quantities(text: str, amount: float, unit: str) -> None:
    made = definition(f"length x = {text}").value
    assert (getattr(made, "value", None), getattr(made, "unit", None)) == (amount, unit)


def test_a_glued_minus_is_a_sign_and_a_spaced_one_subtracts() -> None:
    assert value("(-3 cm)") == "(Negative (Quantity 3 cm))"
    assert value("nape down -3 cm") == "(Moves nape (Direction down) (Negative (Quantity 3 cm)))"
    assert value("a - 3 cm") == "(Arithmetic - a (Quantity 3 cm))"


@pytest.mark.parametrize(
    ("text", "read"),
    [
        ("unfold half across centre", "(Operation unfold half (Clause across centre))"),
        ("bodice with ease 8 cm", "(Operation bodice (Clause ease (Quantity 8 cm)))"),
        ("join a to b along c", "(Operation join a (Clause to b) (Clause along c))"),
        (
            "measured_off from a by 3 cm toward b",
            "(Operation measured_off (Clause from a) (Clause by (Quantity 3 cm)) (Clause toward b))",
        ),
        ("divide along line_a meeting b, c", "(Operation divide (Clause along line_a) (Clause meeting (Listed b c)))"),
        ("dart_on a chord 1/3 from b", "(Operation dart_on a (Clause chord (SoFar (Arithmetic / (Number 1) (Number 3)) b)))"),
        ("pivot a dart b into c", "(Operation pivot a (Clause dart b) (Clause into c))"),
        ("kimono (leave a as b) reach c", "(Operation kimono (Operation leave a (Clause as b)) (Clause reach c))"),
        (
            "cut a leaving up arriving square_to b",
            "(Operation cut a (Clause leaving (Direction up)) (Clause arriving (Heading square_to b)))",
        ),
        ("draw from b down 3 cm to c", "(Operation draw (Clause from (Moves b (Direction down) (Quantity 3 cm))) (Clause to c))"),
        ("slash plain along cuts", "(Operation slash plain (Clause along cuts))"),
        ("move a by along b", "(Operation move a (Clause by (Heading along b)))"),
    ],
)
def test_operations(text: str, read: str) -> None:
    assert value(text) == read


@pytest.mark.parametrize(
    "text",
    [
        "seam side joins front.side back.side",
        "shape p = slash plain along cuts hinged_at",
        "length x = length of a + b level",
        "block b = bodice using a, b 2 cm",
        "allow seams 1 cm",
        "shape p = unfold a across",
        "point p = lay 3 cm from a",
        "piece f = a then then b",
    ],
)
def test_what_does_not_take_turns_is_no_sentence(text: str) -> None:
    inside = text.startswith("allow")
    assert len(codes(f"piece p = a {{\n    {text}\n}}" if inside else text)) == 1


@pytest.mark.parametrize(
    ("text", "read"),
    [
        ("a at_least b", "(Comparison at_least a b)"),
        ("a equals b tolerance 2 mm", "(Comparison equals a b (Quantity 2 mm))"),
        ("a between 1 and 2 and b", "(Joint and (Comparison between a (Number 1) (Number 2)) (Plain b))"),
        ("a or b and c", "(Joint or (Plain a) (Joint and (Plain b) (Plain c)))"),
        ("(a or b) and not c", "(Joint and (Joint or (Plain a) (Plain b)) (Inverse (Plain c)))"),
        ("(a + b) more_than c", "(Comparison more_than (Arithmetic + a b) c)"),
        ("measured a.b", "(Plain (Operation measured a.b))"),
        ("length of a at_most b + 2 cm", "(Comparison at_most (Of length a) (Arithmetic + b (Quantity 2 cm)))"),
    ],
)
def test_conditions(text: str, read: str) -> None:
    assert condition(text) == read


@pytest.mark.parametrize(
    ("text", "subject", "clauses"),
    [
        (
            "allow 3 cm on hem, top with_corners shaped_to_fold",
            "(Quantity 3 cm)",
            "(Clause on (Listed hem top)) (Clause with_corners shaped_to_fold)",
        ),
        ("fold centre", "centre", ""),
        ("cut 1 face up", "(Number 1)", "(Clause face (Direction up))"),
        ("notch side at 7 cm from hem", "(Spot side (SoFar (Quantity 7 cm) hem))", ""),
        ("grain up taken_from neckline", "(Direction up)", "(Clause taken_from neckline)"),
        ("hang along hem", "", "(Clause along hem)"),
        ("finish", "", ""),
    ],
)
def test_statements(text: str, subject: str, clauses: str) -> None:
    made = statement(text)
    assert (brief(made.subject), brief(made.clauses)) == (subject, clauses)


def test_a_text_is_last_and_belongs_to_the_sentence() -> None:
    seam = definition('seam s joins a to b "sewn first"')
    assert seam.text is not None
    assert (seam.text.value, brief(seam.clauses)) == ("sewn first", "(Clause joins a) (Clause to b)")
    piece = definition('shape p = unfold half across centre "whole"')
    assert piece.text is not None
    assert piece.text.value == "whole"


def test_a_text_is_the_value_of_a_word_that_lacks_one() -> None:
    made = definition('shape p = label front saying "Front"')
    assert made.text is None
    assert brief(made.value) == "(Operation label front (Clause saying (Text Front)))"


@pytest.mark.parametrize("word", sorted(HEADED))
def test_a_kind_only_written_in_words_is_one_at_the_head_of_a_line_and_a_name_elsewhere(word: str) -> None:
    headed = definition(f"{word} a on b")
    assert (headed.kind.text, headed.name.text, headed.value) == (word, "a", None)
    given = only(f"gives {word} a on b")
    assert isinstance(given, Gives)
    assert given.definition.kind.text == word
    named = definition(f"length {word} = length of a.{word} + {word}")
    assert (named.name.text, brief(named.value)) == (word, f"(Arithmetic + (Of length a.{word}) {word})")


def test_bounds_belong_to_the_definition() -> None:
    made = definition('choice a = b when c otherwise 3 cm between 1 cm and 5 cm "how far"')
    assert made.bounds is not None
    assert made.text is not None
    assert brief(made.bounds) == "(Bounds (Quantity 1 cm) (Quantity 5 cm))"


def test_a_block_with_a_value_is_a_definition_and_without_a_recipe() -> None:
    assert isinstance(only("block base = bodice with ease 8 cm"), Definition)
    assert isinstance(only('block bodice "draft" {\n}'), Recipe)
    assert codes("block bodice") == ["E147"]


def test_spans_cover_what_was_written() -> None:
    text = "length a = (b + 1 1/2 inch) / 4"
    made = definition(text)
    assert text[made.span.start : made.span.end] == text
    assert made.value is not None
    assert text[made.value.span.start : made.value.span.end].endswith("/ 4")


def test_words_of_the_language_are_no_names_even_after_a_point() -> None:
    assert codes("length a = front.of") == ["E117"]
