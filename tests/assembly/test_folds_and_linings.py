"""What is on the fold, in another cloth, bagged out, or finished before it is closed, each in a garment made for it."""

from __future__ import annotations

import pytest
from support.hand_made import BAND, SKIRT, TOP, changed, made, opened, told

FRONT = "piece front = unfold front_half across centre {\n    grain up\n    cut 1\n"
FOLDED = changed(SKIRT, (FRONT, "piece front = half {\n    fold centre\n    grain up\n    cut 1 on fold\n"))


def hems(text: str) -> float:
    return next(one.girth_mm for one in made(text).openings if one.name == "hem")


# ---- on the fold -----------------------------------------------------------------------------------


def test_of_a_piece_on_the_fold_it_need_not_be_said_which_half_is_drawn() -> None:
    assert told(FOLDED) == []
    assert hems(FOLDED) == pytest.approx(1080.0, abs=0.1)


@pytest.mark.parametrize("half", ["left", "right"])
def test_it_may_be_said_and_is_the_same(half: str) -> None:
    assert hems(changed(FOLDED, ("    fold centre\n", f"    fold centre\n    worn {half}\n"))) == pytest.approx(1080.0, abs=0.1)


def test_two_on_the_fold_that_cover_the_body_go_round_it() -> None:
    """And not each doubled, layer on layer."""
    back = "    fold centre\n    covers skirt_back\n    grain up\n    cut 1 on fold\n"
    both = changed(
        FOLDED,
        ("    fold centre\n", "    fold centre\n    covers skirt_front\n"),
        ("    worn right\n    grain up\n    cut 2 as pair\n", back),
        ("seam centre_back joins back.centre to back.centre sewn plain_seam\n", ""),
        ("closure back_zip in centre_back as_long_as 20 cm closed_by zip which_widens 76 cm to_pass hip_girth\n", ""),
        ("trim zip as_long_as 20 cm\n", ""),
    )
    assert hems(both) == pytest.approx(1080.0, abs=0.1)


STRAPS = BAND.replace("band", "strap").replace("    fold folded\n    cut 1 on fold\n", "    cut 4\n")


def test_so_many_alike_are_told_to_be_so_many() -> None:
    """And not one."""
    assembly = opened(SKIRT + changed(STRAPS, ("back.waistline + front.waistline + back.waistline", "back.waistline"))).assembly
    assert assembly is not None
    one = next(one for one in assembly.diagnostics if one.code == "E609")
    assert one.message.startswith("`strap` is cut 4 times, all alike")
    assert one.fix.startswith("cut half of them turned over, `cut 4 as pair`")


# ---- in another cloth ------------------------------------------------------------------------------

TAPED = """piece tape = facing front_half along shoulder depth 2 cm {
    cut 2 as pair
}
seam taped joins tape.shoulder to front.shoulder sewn plain_seam
"""


def test_a_back_in_satin_is_no_facing_of_the_front() -> None:
    """Though the edge it is sewn to is in another seam as well."""
    top = TOP + TAPED
    for half, worn in (("front", "left"), ("back", "right")):
        top = changed(top, (f"    worn {worn}\n", f"    worn {worn}\n    covers bodice_{half}\n"))
    back = "unfold back_half across centre {\n    grain up\n    cut 1"
    satin = changed(top, (back, f"{back} in satin"))
    assert told(satin + "cloth satin width 140 cm\ncloth shell width 140 cm\n") == told(top)


# ---- bagged out ------------------------------------------------------------------------------------

BAGGED = """language 1
style "Bagged"
sewing plain_seam stitch 301 seam "1.01.01"
sewing faced stitch 301 seam "1.06.02"
sewing felled stitch 202
point low = starting_point
point high = low up 60 cm
point far_low = low outward 27 cm
point far_high = high outward 25 cm
each piece {
    allow 1 cm
    grain up
}
shape half {
    line hem from low to far_low
    line side from far_low to far_high
    line top from far_high to high
    line centre from high to low
}
piece shell = half {
    cut 2 as pair
}
piece inner = half {
    lies inside
    cut 2 as pair
}
seam back joins shell.centre to shell.centre sewn plain_seam
seam lining_back joins inner.centre to inner.centre sewn plain_seam
seam round joins inner.hem + inner.side + inner.top to shell.hem + shell.side + shell.top sewn faced
"""
HIGH, LOW = (f"inner.centre between {one}" for one in ("top and 20 cm from hem", "20 cm from hem and hem"))
OPEN = f"seam lining_back joins {HIGH} to {HIGH} sewn plain_seam\nseam by_hand joins {LOW} to {LOW} sewn felled\n"
SHUT = "seam lining_back joins inner.centre to inner.centre sewn plain_seam\n"


def test_a_shell_and_its_lining_sewn_all_round_cannot_be_turned_out() -> None:
    (one,) = made(BAGGED.replace("sewing felled stitch 202\n", "")).wrong
    assert one.code == "E637"
    assert one.data["of"] == ("round",)


@pytest.mark.parametrize(
    "edits",
    [
        [(SHUT, OPEN)],
        [("shell.top sewn faced", "shell.top sewn felled")],
        [('faced stitch 301 seam "1.06.02"', 'faced stitch 301 seam "2.02.01"')],
        [('faced stitch 301 seam "1.06.02"', "faced stitch 301")],
        [("inner.hem + ", ""), ("shell.hem + ", ""), ("stitch 202", "stitch 202 on shell.hem + inner.hem")],
    ],
    ids=["a part by hand", "all by hand", "from outside", "not said how", "open at the hem"],
)
def test_one_that_may_be_turned_is_not_told(edits: list[tuple[str, str]]) -> None:
    assert "E637" not in told(changed(BAGGED, *edits))


# ---- finished before it is closed --------------------------------------------------------------------


def test_a_slit_is_finished_when_the_seam_above_it_is_sewn() -> None:
    slit = "    edge slit = side between hem and 15 cm from hem\n"
    text = changed(
        BAGGED,
        ("piece shell = half {\n", f"piece shell = half {{\n    worn left\n{slit}"),
        ("piece inner = half {\n    lies inside\n", f"piece inner = half {{\n    worn right\n{slit}"),
        (BAGGED[BAGGED.index("seam round") :], SLIT),
    )
    found = made(text).whole
    assert found is not None
    order = [one.name for one in found.order]
    assert order.index("sides") < order.index("slit_turned on shell.slit + inner.slit") < order.index("tops")


SLIT = """seam sides joins shell.side between 15 cm from hem and top to inner.side between 15 cm from hem and top sewn faced
seam tops joins shell.top to inner.top sewn plain_seam
sewing slit_turned stitch 301 on shell.slit + inner.slit
sewing hemmed stitch 103 on shell.hem + inner.hem
"""
