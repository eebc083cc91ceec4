"""Told as estimated is what acted on the body: the arm that was taken, an estimate or the recipe's rule; alone and together."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

from godet.bodies.body import Body
from support.real_bodies import real_women
from support.style_runs import results

STYLE = """language 1
style "S"
length fall = armpit_height - bust_height when measured bust_height otherwise 4 cm
length hip_drop = waist_to_hip_height otherwise stature * 0.133
point wide = starting_point outward hip_drop
point low = starting_point down fall
piece p {
    line top from starting_point to wide
    line slant from wide to low
    line side from low to starting_point
    grain up
    cut 1
    allow 1 cm
}
"""


def given(woman: Body, *names: str) -> Body:
    return replace(woman, name="-".join((woman.name, *names)), measures={name: woman.measures[name] for name in names})


def test_only_what_acted_is_told_alone_and_together(tmp_path: Path) -> None:
    style = tmp_path / "s.style"
    style.write_text(STYLE, "utf-8")
    (woman,) = real_women(1, seed=6)
    four = ("stature", "bust_girth", "natural_waist_girth", "hip_girth")
    wanted = [
        # Heights of waist and hip: their difference is exact and stands before the rule of thumb.
        (given(woman, *four, "bust_height", "natural_waist_height", "hip_height"), {"armpit_height"}),
        (given(woman, *four, "bust_height", "armpit_height"), {"waist_to_hip_height"}),
        # Neither bust nor armpit height acts where the bust height was not measured.
        (given(woman, *four), {"waist_to_hip_height"}),
        (given(woman, *four, "waist_to_hip_height"), set()),
    ]
    together = results(style, [body for body, _ in wanted])
    for one, (body, names) in zip(together, wanted, strict=True):
        assert not one.errors
        assert {each.name for each in one.estimated} == names
        assert one.estimated == results(style, [body])[0].estimated
        rules = [each for each in one.estimated if each.name == "waist_to_hip_height"]
        assert all(each.how.startswith(each.rule) and each.rule.startswith("by the rule at ") for each in rules)
        assert not any(each.rule for each in one.estimated if each not in rules)
    edges = {edge.name: edge.length_mm for edge in together[0].pieces[0].edges}
    assert edges["top"] == woman.measures["natural_waist_height"] - woman.measures["hip_height"]
