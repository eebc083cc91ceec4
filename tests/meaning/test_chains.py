"""A chain comes to what its links come to with a name for every stage, whatever is done."""

import numpy as np
import pytest
from godet.jobs.explain import explain
from godet.jobs.outcome import outcomes
from godet.pattern.piece import Piece
from hypothesis import given, settings
from hypothesis import strategies as st
from support.styles import written

HEAD = "language 1\nuse plain_half from shapes\nblock base = plain_half with bust_ease 8 cm\n"

# Each link, and the sentence it stands for, with `{}` for the piece it is done to.
LINKS = (
    ("shorten side_dart by 1 cm", "shorten {}.side_dart by 1 cm"),
    ("repoint side_dart to bust_point", "repoint {0}.side_dart to {0}.bust_point"),
    ("lengthen side at hem by 2 cm", "lengthen {}.side at hem by 2 cm"),
    ("square_off hem at centre moving_at_most 5 cm", "square_off {}.hem at centre moving_at_most 5 cm"),
    ("straighten armhole moving_at_most 20 cm", "straighten {}.armhole moving_at_most 20 cm"),
    ("bow waist_dart by 2 mm", "bow {}.waist_dart by 2 mm"),
    ("mirror", "mirror {}"),
    ("leave side_dart as ease", "leave {}.side_dart as ease"),
    ("open waist_dart to hem", "open {}.waist_dart to hem"),
)


@settings(max_examples=20, deadline=None)
@given(st.lists(st.sampled_from(LINKS), min_size=1, max_size=5))
def test_a_chain_is_its_links_by_name(links: list[tuple[str, str]]) -> None:
    chain = "".join(f"\n    then {link}" for link, _ in links)
    stages = "".join(
        f"shape s{k + 1} = {sentence.format('base.front' if not k else f's{k}')}\n" for k, (_, sentence) in enumerate(links)
    )
    prepared = written(f"{HEAD}shape whole = base.front{chain}\n{stages}")
    if prepared.style is None:  # a dart left by one link is gone for the next: in the chain as by names
        told = {(one.code, one.message) for one in prepared.diagnostics if one.is_error}
        assert len(told) == 1
        return
    names = prepared.style.names
    results, evaluated = outcomes(prepared, [names["whole"], names[f"s{len(links)}"]])
    if results[0].errors:  # both fail, at the same thing
        assert len({one.message for one in results[0].errors}) == 1
        return
    one, other = (evaluated.parts[0].values[names[name]] for name in ("whole", f"s{len(links)}"))
    assert isinstance(one, Piece)
    assert isinstance(other, Piece)
    assert one.edge_names() == other.edge_names()
    assert sides(one).keys() == sides(other).keys()
    for place, mine in sides(one).items():
        for ours, theirs in zip(mine, sides(other)[place], strict=True):
            np.testing.assert_array_equal(ours, theirs)


def sides(piece: Piece) -> dict[str, list[object]]:
    """The control points of every side of a piece: of its outline, its darts inside, its lines."""
    drawn = {f"ring {k}": side for k, side in enumerate(piece.ring)} | {f"line {k}": side for k, side in enumerate(piece.lines)}
    drawn |= {f"hole {hole.name} {k}": side for hole in piece.holes for k, side in enumerate(hole.sides)}
    return {name: list(side.drawn.controls) for name, side in drawn.items()}


def test_a_recipe_may_stand_in_a_chain_twice() -> None:
    """Its checks are told apart by the link they belong to."""
    recipe = (
        "recipe longer {\n    takes shape draft\n    gives shape long = lengthen draft.side at hem by 1 cm\n"
        "    check is_long that length of long.side at_least 1 cm\n}\n"
    )
    prepared = written(f"{HEAD}{recipe}shape whole = base.front then longer then longer then mirror\n")
    assert prepared.style is not None, prepared.diagnostics
    assert [one.name for one in prepared.style.checks] == ["whole.longer.is_long", "whole.longer_2.is_long"]


def test_a_part_of_the_piece_in_hand_comes_before_what_the_style_calls_so_where_a_part_is_wanted() -> None:
    text = (
        "length side = 3 cm\npoint hem = starting_point\nshape whole = base.front then lengthen side at hem by side"
        " then repoint waist_dart to hem\n"
    )
    prepared = written(HEAD + text)
    assert prepared.style is not None, prepared.diagnostics
    _, evaluated = outcomes(prepared, [prepared.style.names["whole"]])
    whole = evaluated.parts[0].values[prepared.style.names["whole"]]
    assert isinstance(whole, Piece)


def test_the_piece_in_hand_is_not_lost_where_a_chain_ends_with_a_drawing() -> None:
    """Another piece may not be named, and bare names in the braces are those of the piece in hand."""
    braces = " {\n    point low = hem at centre\n    point high = neckline at centre\n    line front_line from low to high\n}\n"
    end = "replace {}centre"
    stray = written(f"{HEAD}shape other = mirror base.front\nshape whole = base.front then {end.format('other.')}{braces}")
    assert [one.code for one in stray.diagnostics if one.is_error] == ["E293"]
    named = written(f"{HEAD}shape whole = base.front then mirror then {end.format('')}{braces}")
    assert named.style is not None, named.diagnostics


@pytest.mark.parametrize("last", ["then mirror", "then replace neckline {\n    line neckline from low to high\n}"])
def test_where_a_piece_of_a_chain_comes_from_is_told_link_by_link(last: str) -> None:
    ground = "point low = base.front.centre at neckline\npoint high = base.front.shoulder at neckline\n"
    chained = written(f"{HEAD}{ground}shape made = leave base.front.side_dart as ease then straighten hem {last}\n")
    assert chained.style is not None, chained.diagnostics
    ((_, lines),), problems = explain(chained, "made")
    assert not problems
    made, *links = [line for line in lines if line.name == "made"]
    assert made.sentence.startswith("shape made = leave")
    assert [line.sentence for line in links] == ["leave base.front.side_dart as ease", "straighten hem"]
    assert [line.depth for line in (made, *links)] == [0, 1, 1]
