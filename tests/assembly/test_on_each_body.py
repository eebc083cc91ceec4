"""The garment of many bodies: what cloth tells differs from body to body, and is told of each by its own."""

from __future__ import annotations

from pathlib import Path

from godet.jobs.outcome import outcomes
from support.style_runs import invented, prepared

STYLE = """language 1
sewing closed stitch 301
point low = starting_point
point high = low up 30 cm
point far_low = low outward 20 cm
point far_high = far_low up 30 cm
shape half {
    line hem from low to far_low
    line side from far_low to far_high
    line upper from far_high to high
    line centre from high to low
    fold centre
    worn left
}
piece front = half {
    cut 1 on fold
    grain up
    allow 1 cm
}
length slant = larger of (bust_girth - 95 cm, 0 cm)
point tip = far_high up slant
piece flap {
    line lower from low to far_low
    line outer from far_low to tip
    line upper from tip to high
    line side from high to low
    cut 2
    grain up
    allow 1 cm
}
seam sides joins front.side to flap.side sewn closed
"""


def test_a_piece_alike_turned_over_on_one_body_is_told_on_the_other(tmp_path: Path) -> None:
    """A flap that is a rectangle on a narrow body and slants on a wide one."""
    path = tmp_path / "a.style"
    path.write_text(STYLE, "utf-8")
    bodies = [invented(name) for name in ("soprano_1", "alto_5", "alto_3")]
    results, _ = outcomes(prepared(path, bodies))
    together = [[one.code for one in result.assembly.wrong] for result in results]
    alone = [[one.code for one in outcomes(prepared(path, [body]))[0][0].assembly.wrong] for body in bodies]
    assert [result.errors for result in results] == [(), (), ()]
    assert together == alone
    assert {tuple(codes).count("E607") for codes in together} == {0, 1}
