"""The pattern of a toile: what is left out, and what allowances are left."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

import pytest
from godet.cli.main import main
from godet.drawing.marks import Label
from godet.finish.finished import finished
from godet.finish.stated import allowance_of
from godet.jobs.build import Plate, Wanted, plate
from godet.jobs.outcome import outcomes
from godet.jobs.toile import toile as toile_of
from godet.pattern.piece import Piece
from support.style_runs import PATTERNS, invented, prepared
from support.styles import LANGUAGE, written

BOX = """
piece {name} {{
    point a = starting_point
    point b = a outward 20 cm
    point c = b up 30 cm
    point d = a up 30 cm
    line hem from a to b
    line side from b to c
    line top from c to d
    line middle from d to a
    grain up
    {cut}
    allow 1 cm
    allow 3 cm on hem with_corners shaped_to_fold
    allow 0.6 cm on top
}}
"""


def box(name: str, cut: str = "cut 2 as pair") -> str:
    return BOX.format(name=name, cut=cut)


def pattern(text: str, toile: bool) -> Plate:
    prepared = written("language 1\n" + text)
    assert prepared.style is not None, [one.message for one in prepared.diagnostics]
    (result,), _ = outcomes(prepared)
    assert not result.errors, [one.message for one in result.errors]
    return plate(prepared, result, prepared.bodies[0], Wanted(toile=toile))


def pieces(text: str) -> tuple[Mapping[str, Piece], Mapping[str, str]]:
    """The pieces of a toile, and why others are none."""
    prepared = written("language 1\n" + text)
    assert prepared.style is not None, [one.message for one in prepared.diagnostics]
    (result,), _ = outcomes(prepared)
    made = toile_of(prepared.style, result, {one.name: one.piece for one in result.pieces})
    return {name: cloth.piece for name, cloth in made.pieces.items()}, {one.name: one.why for one in made.left_out}


FACED = (
    box("front")
    + box("back")
    + "piece edging = facing front along top depth 5 cm {\n    grain up\n    cut 2 as pair\n    allow 1 cm\n}\n"
    + box("neck_facing", "lies inside\n    cut 2 as pair")
    + box("pocket_bag", "cut 2 in pocketing")
    + box("collar", "cut 2 in shell\n    cut 1 in fusing")
    + "seam sides joins front.side to back.side\nseam necks joins front.top to edging.top\n"
)


def test_facings_and_what_is_cut_in_other_cloths_alone_are_left_out_and_told() -> None:
    kept, left_out = pieces(FACED)
    assert [*kept] == ["front", "back", "collar"]
    assert left_out == {
        "edging": "a facing",
        "neck_facing": "worn inside",
        "pocket_bag": "cut in pocketing, not in shell",
    }
    assert {cut.cloth for piece in kept.values() for cut in piece.finish.cuts} == {"toile_cloth"}


def test_seams_are_wide_hems_wider_by_as_much_and_other_edges_as_stated() -> None:
    """The top is sewn to a facing alone, the middle to nothing: they stay as they are."""
    kept, _ = pieces(FACED)
    widths = {side.edge: float(allowance_of(kept["front"], side).width[0]) for side in kept["front"].ring}
    assert widths == {"hem": 55.0, "side": 25.0, "top": 6.0, "middle": 10.0}
    assert not finished(kept["front"]).patched.any()
    assert kept["front"].notches


ARMHOLE = """
piece {name} {{
    point a = starting_point
    point b = a outward 20 cm
    point c = b up 30 cm
    point d = a up 30 cm
    line hem from a to b
    line side from b to c
    curve armhole from c to d leaving {leaving} arriving {arriving}
    line middle from d to a
    grain up
    cut 2 as pair
    allow 1 cm
}}
"""


def test_what_bends_tightly_keeps_its_allowance_and_so_does_what_is_sewn_to_it() -> None:
    """An armhole 20 cm wide bends to a radius of about 10 cm, what is sewn to it hardly; a seam of straight edges is wide."""
    scooped = ARMHOLE.format(name="scooped", leaving="down", arriving="up")
    level = ARMHOLE.format(name="level", leaving="inward", arriving="inward")
    kept, _ = pieces(scooped + level + "seam a eases scooped.armhole to level.armhole\nseam b joins scooped.side to level.side\n")
    for name in ("scooped", "level"):
        widths = {side.edge: float(allowance_of(kept[name], side).width[0]) for side in kept[name].ring}
        assert widths == {"hem": 10.0, "side": 25.0, "armhole": 10.0, "middle": 10.0}


def test_a_style_without_shell_has_the_cloth_of_its_first_piece() -> None:
    kept, left_out = pieces(box("front", "cut 1 in jersey") + box("cuff", "cut 2 in rib"))
    assert [*kept] == ["front"]
    assert left_out == {"cuff": "cut in rib, not in jersey"}


def test_the_label_says_toile_and_counts_its_pieces() -> None:
    for wanted, said in ((True, ", toile"), (False, "")):
        made = pattern('style "Smock"\n' + FACED, toile=wanted)
        texts = {mark.text for mark in made.drawings[0].marks if isinstance(mark, Label)}
        assert f"Smock{said}" in texts
        assert made.title.style == f"Smock{said}"
        assert [drawing.name for drawing in made.drawings] == (
            ["front", "back", "collar"] if wanted else ["front", "back", "edging", "neck facing", "pocket bag", "collar"]
        )
        assert any(text.endswith(f"piece 1 of {len(made.drawings)}") for text in texts)


def test_a_toile_is_written_under_another_name_and_what_it_lacks_is_told(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    style = tmp_path / "smock.style"
    style.write_text("language 1\n" + FACED, "utf-8")
    out = tmp_path / "out"
    body = str(LANGUAGE / "body.toml")
    assert main(["build", str(style), "--body", body, "--out", str(out), "--toile"]) == 0
    printed = capsys.readouterr().out
    assert "left out of the toile: neck_facing, worn inside\n" in printed
    assert "left out of the toile: pocket_bag, cut in pocketing, not in shell\n" in printed
    assert all(path.stem.endswith("_toile") for path in out.iterdir())
    assert main(["build", str(style), "--body", body, "--out", str(out)]) == 0
    assert "left out" not in capsys.readouterr().out
    assert len([*out.iterdir()]) == 4


def test_a_hem_that_the_wide_allowance_no_longer_lets_fold_is_told() -> None:
    """Of the garment nothing is told: its own allowance can be folded back."""
    made = prepared(PATTERNS / "concert_top.style", [invented("alto_3")])
    assert made.style is not None
    (result,), _ = outcomes(made)
    assert result.warnings == ()
    told = toile_of(made.style, result, {one.name: one.alone().piece for one in result.pieces}).doubts
    assert {one.code for one in told} == {"W304"}
    assert {one.body for one in told} == {"alto 3"}
