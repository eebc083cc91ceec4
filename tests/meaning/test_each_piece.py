"""What `each piece` states holds on every piece that is cut, as far as the piece, or its shape, says nothing itself."""

from pathlib import Path

import pytest
from godet.finish.finished import finished
from godet.jobs.outcome import outcomes
from support.styles import stored, written

FEATURE = Path(__file__).parents[1] / "language" / "features" / "each_piece.style"

# Left, bottom, right and top of the cut line of a piece 200 by 300 mm; 10 all round, 30 at the hem and 5 above for all.
EXTENTS = {
    "as_all": (-10.0, -30.0, 210.0, 305.0),
    "wider": (-20.0, -30.0, 220.0, 305.0),
    "own_hem": (-10.0, -40.0, 210.0, 305.0),
    "collar": (-10.0, -30.0, 210.0, 305.0),
    "of_shape": (-20.0, -30.0, 220.0, 305.0),
}


def extents(name: str) -> tuple[float, ...]:
    (result,), _ = outcomes(stored(FEATURE))
    cut = finished(next(one.piece for one in result.pieces if one.name == name)).cut[0]
    return (*cut.min(axis=0), *cut.max(axis=0))


@pytest.mark.parametrize("name", EXTENTS)
def test_the_nearer_word_is_the_stronger(name: str) -> None:
    assert extents(name) == pytest.approx(EXTENTS[name], abs=1e-9)


def test_the_grain_is_that_of_the_piece_where_it_says_one() -> None:
    (result,), _ = outcomes(stored(FEATURE))
    ways = {one.name: one.piece.finish.grain for one in result.pieces}
    assert ways["own_hem"] is not None
    assert ways["as_all"] is not None
    assert abs(ways["own_hem"][0]) == pytest.approx(1.0)
    assert abs(ways["as_all"][0].imag) == pytest.approx(1.0)


def test_an_edge_on_the_fold_is_passed_by_and_that_of_a_pair_is_not() -> None:
    half = FEATURE.read_text("utf-8").partition("piece as_all")[0]
    half = half.replace("on hem", "on hem, centre").replace("neckline, top", "top")
    half = half.replace("    line centre from top_in to low\n", "    line centre from top_in to low\n    fold centre\n")
    made = written(half + "piece folded = plain {\n    cut 1 on fold\n}\npiece paired = plain {\n    cut 2 as pair\n}\n")
    assert made.style is not None, [one.message for one in made.diagnostics]
    (result,), _ = outcomes(made)
    left = {one.name: float(finished(one.piece).cut[0][:, 0].min()) for one in result.pieces}
    assert left == pytest.approx({"folded": 0.0, "paired": -30.0}, abs=1e-9)


def test_a_style_built_from_another_may_change_it() -> None:
    head = 'language 1\nstyle "S" from features/each_piece\n'
    made = written(f"{head}change each piece {{\n    allow 3 cm\n    grain up\n}}\n")
    assert made.style is not None, [one.message for one in made.diagnostics]
    (result,), _ = outcomes(made)
    cut = finished(next(one.piece for one in result.pieces if one.name == "as_all")).cut[0]
    assert (*cut.min(axis=0), *cut.max(axis=0)) == pytest.approx((-30.0, -30.0, 230.0, 330.0), abs=1e-9)
