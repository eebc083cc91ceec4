"""The kimono pair of the library on the bodice: on real women (tests/data/README.md), and what it refuses."""

from __future__ import annotations

from pathlib import Path

from godet.bodies.body import Body
from support.real_bodies import all_women, real_women
from support.style_runs import results

HERE = Path(__file__).parent


def failing(style: str, settings: list[str], bodies: list[Body]) -> set[str]:
    """Names of the checks that fail on the one body."""
    (made,) = results(HERE / style, bodies, settings)
    assert not made.errors
    return {one.name for one in made.checks if not one.holds}


def a_woman() -> list[Body]:
    """One on whom the pair is drawn without any complaint."""
    return next([one] for one in all_women() if results(HERE / "kimono.style", [one])[0].holds)


def test_real_women_have_a_pair_whose_seams_agree() -> None:
    """All must draw and sew; some are told that their bodice misses something, few that a kimono is not for them."""
    hollow = set()
    for one in results(HERE / "kimono.style", real_women(100, 1988)):
        assert not one.errors
        assert all(seam.holds for seam in one.seams), one.name
        failed = {check.name for check in one.checks if not check.holds and not check.name.startswith("base.")}
        assert all(name.endswith(".top_line_hollow") for name in failed), one.name
        hollow |= {one.name} if failed else set()
    assert len(hollow) <= 3


def test_a_top_line_too_hollow_to_be_worn_fails_and_is_not_only_told() -> None:
    """Nobody wears a kimono whose overarm turns up by 20 degrees beyond the shoulder without a gusset: not one such holds."""
    turned = 0
    for one in results(HERE / "kimono.style", all_women()[:400]):
        told = [tiding for tiding in one.tidings if tiding.name.endswith("hollow_top_line")]
        bends = [float(tiding.figures.partition(" deg")[0]) for tiding in told]
        turned += (most := min(bends, default=0.0)) < -18.0
        assert not (most < -18.0 and one.holds), one.name
    assert turned > 0


def test_sides_of_two_lengths_are_refused() -> None:
    body = a_woman()
    assert failing("kimono.style", ["side_longer=0.8 mm"], body) == set()
    found = failing("kimono.style", ["side_longer=3 mm"], body)
    assert found == {"short.pair.side_agreement", "long.pair.side_agreement"}


def test_a_dart_on_the_armhole_or_high_in_the_side_is_refused() -> None:
    body = a_woman()
    found = failing("kimono_darts.style", [], body)
    assert found >= {"left_in.pair.front_armhole_darts", "too_high.pair.side_darts"}
    assert "too_high.pair.front_armhole_darts" not in found


def test_a_short_reach_is_lengthened_or_refused() -> None:
    """Held, it fails its check, also where nothing can be drawn with it."""
    women = [body for body in all_women()[:12] if results(HERE / "kimono.style", [body])[0].holds]
    assert all(one.holds for one in results(HERE / "kimono.style", women, ["reach=9 cm"]))
    for one in results(HERE / "kimono.style", women, ["reach=9 cm", "fixed_reach=yes"]):
        assert {check.name for check in one.checks if not check.holds} == {"short.pair.hem_distance"}


def test_an_overarm_that_is_hollow_by_more_than_8_degrees_is_told_and_fails_nothing() -> None:
    made = results(HERE / "kimono.style", real_women(60, 7))
    told = [[one for one in body.tidings if one.name.endswith("hollow_top_line")] for body in made]
    assert 0 < sum(bool(one) for one in told) < 30
    assert all("gusset" in one.text for row in told for one in row)
