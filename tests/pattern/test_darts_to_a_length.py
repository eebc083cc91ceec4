"""Darts shortened and extended, by a length and to one: each undoes the other, and neither goes the other's way."""

import numpy as np
import pytest
from godet.pattern.piece import Piece, Trouble
from godet.pattern.shaping import long_of
from godet.verbs.registry import verbs
from godet.verbs.values import DartOf
from hypothesis import given, settings
from hypothesis import strategies as st
from pattern_drafts import area, lanes, names_of, same, skirt
from test_darts_on_a_piece import diamond, with_waist_dart

law = settings(max_examples=25, deadline=None)


def done(verb: str, piece: Piece, end: str = "upper", **how: float) -> Piece:
    given_lanes = {word: lanes(mm) for word, mm in how.items()}
    made = verbs()[verb].run(subject=DartOf(piece, "waist_dart"), end=end, **given_lanes)
    assert isinstance(made, Piece)
    return made


@law
@given(st.floats(20.0, 60.0), st.floats(130.0, 200.0), st.floats(10.0, 50.0))
def test_a_dart_made_so_long_is_so_long_and_the_other_verb_undoes_it(short: float, far: float, width: float) -> None:
    before = with_waist_dart(skirt([240.0, 300.0]), width)
    long = float(long_of(before, "waist_dart")[0])
    for there, back, to in (("shorten", "extend", short), ("extend", "shorten", far)):
        made = done(there, before, to=to)
        np.testing.assert_allclose(long_of(made, "waist_dart"), to, atol=1e-9)
        np.testing.assert_allclose(area(made) - area(before), (long - to) * width / 2.0, atol=1e-5)
        same(done(there, made, to=to), made, 1e-9)
        same(done(back, made, to=long), before, 1e-9)
        same(done(back, made, by=abs(long - to)), before, 1e-9)
        assert names_of(made) == names_of(before)


def test_the_wrong_way_is_told_with_both_lengths() -> None:
    before = with_waist_dart(skirt([240.0]), 30.0)
    long = long_of(before, "waist_dart")
    for verb, to in (("shorten", float(long[0]) + 10.0), ("extend", float(long[0]) - 10.0)):
        with pytest.raises(Trouble) as caught:
            done(verb, before, to=to)
        np.testing.assert_allclose(caught.value.figures["long"], long)
        np.testing.assert_allclose(caught.value.figures["asked"], to)
    with pytest.raises(Trouble, match="longer so"):
        done("extend", before, by=-5.0)


def test_of_two_ends_each_has_its_own_length() -> None:
    before = diamond(skirt([240.0]))
    lower = long_of(before, "waist_dart", "lower")
    made = done("extend", before, by=10.0)
    np.testing.assert_allclose(long_of(made, "waist_dart", "lower"), lower)
    np.testing.assert_allclose(long_of(made, "waist_dart"), long_of(before, "waist_dart") + 10.0)
