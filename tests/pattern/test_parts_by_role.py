"""Both parts of a divided piece, and the names that only one of them has."""

import pytest
from godet.geometry.length import length, point_at
from godet.geometry.path import line
from godet.pattern.parts import Part, names_of, parts_of
from godet.pattern.piece import Piece, Reals, Trouble
from godet.pattern.routes import divide, divide_through
from hypothesis import given, settings
from hypothesis import strategies as st
from pattern_drafts import front, skirt

ENDS = [("centre", "side"), ("armhole", "centre"), ("neckline", "waistline"), ("shoulder", "centre")]


def at(piece: Piece, edge: str, share: float) -> Reals:
    path = piece.sides(edge)[0].drawn
    return point_at(path, length(path) * share)


def parts(piece: Piece, ends: tuple[str, str]) -> tuple[Part, ...]:
    return parts_of(piece.sketch(), lambda edge: divide(piece.sketch(), None, ends, keep=edge, called="cut"))


@pytest.mark.parametrize("ends", ENDS)
def test_what_one_part_has_the_other_has_not(ends: tuple[str, str]) -> None:
    whole = front()
    one, other = parts(whole, ends)
    assert not set(one.own) & set(other.own)
    for mine, its in ((one, other), (other, one)):
        assert set(mine.own) <= set(names_of(mine.sketch))
        assert not set(mine.own) & set(names_of(its.sketch))
    assert {"cut", *ends}.isdisjoint({*one.own, *other.own})
    assert set(names_of(whole)) <= {*names_of(one.sketch), *names_of(other.sketch)}


@settings(max_examples=15, deadline=None)
@given(st.floats(0.1, 0.9), st.floats(0.1, 0.9))
def test_whichever_edge_of_its_own_a_part_is_asked_by_it_is_the_same_cloth(left: float, right: float) -> None:
    whole = skirt([240.0, 300.0])
    drawn = line(at(whole, "centre", left), at(whole, "side", right))
    found = parts(whole, ("centre", "side"))
    assert {part.own for part in found} == {("waistline",), ("hem",)}
    for part in found:
        cloth = divide(whole, drawn, ("centre", "side"), keep=part.keep, called="cut")
        assert set(names_of(cloth)) == set(names_of(part.sketch))


def test_a_part_cut_out_of_one_edge_is_told_by_it_and_the_rest_by_the_others() -> None:
    found = {part.keep: part for part in parts(skirt([240.0]), ("side", "side"))}
    assert found["side"].own == ("side",)
    (rest,) = (part for keep, part in found.items() if keep != "side")
    assert set(rest.own) == {"waistline", "hem", "centre"}


def test_a_corner_cut_off_has_no_edge_of_its_own() -> None:
    (rest,) = parts(front(), ("armhole", "side"))
    assert "centre" in rest.own


def test_what_cannot_be_divided_at_all_says_why() -> None:
    whole = front().sketch()
    names = list(whole.dart_names())
    with pytest.raises(Trouble, match="alone does not divide"):
        parts_of(whole, lambda edge: divide_through(whole, names[:1], keep=edge, called="cut"))
