"""A row of a table of which nothing is to be told is read without a text; it is the body that the text would be."""

from __future__ import annotations

from godet.bodies.body_file import read_body
from godet.bodies.rows import body_text, plain_body
from hypothesis import given
from hypothesis import strategies as st

WORDS = ("bust_girth", "bust", "stature", "weight", "shoulder_slope", "age", "waist", "no_such_word", "natural_waist_girth")
CELLS = st.one_of(
    st.none(),
    st.floats(min_value=9.0, max_value=400.0),
    st.sampled_from([0.0, -1.0, 1e7, float("nan"), float("inf"), "36 1/2", "", True]),
)
ROWS = st.fixed_dictionaries(
    {"name": st.sampled_from(["anna", "Zoë 2", " ", "a\tb", None]), "unit": st.sampled_from(["cm", "mm", "in", "ell", None])},
    optional={"sex": st.sampled_from(["F", "M", "X", None]), **dict.fromkeys(WORDS, CELLS)},
)


@given(ROWS)
def test_a_plain_row_is_the_body_of_its_text(row: dict[str, object]) -> None:
    plain = plain_body(row, "some.csv:2")
    if plain is not None:
        read, problems = read_body(body_text(row), "some.csv:2")
        assert not problems
        assert read is not None
        assert (read.name, read.unit, read.sex, read.file) == (plain.name, plain.unit, plain.sex, plain.file)
        assert list(read.measures.items()) == list(plain.measures.items())


def test_a_row_as_surveys_have_it_is_plain() -> None:
    row = {"name": "1988-12", "sex": "F", "unit": "mm", "bust_girth": 921.0, "stature": 1640.0, "age": None}
    plain = plain_body(row, "some.csv:2")
    assert plain is not None
    assert dict(plain.measures) == {"bust_girth": 921.0, "stature": 1640.0}
