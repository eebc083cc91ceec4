"""Small garments of two or three panels, as texts: a skirt with a zip in the centre back, and a top with a collar."""

from __future__ import annotations

from pathlib import Path

from godet.door.style import Style, open_style
from godet.jobs.results import AssemblyResult

from .style_runs import PATTERNS

SKIRT = """language 1
style "Small skirt"
sewing plain_seam stitch 301
sewing hemmed stitch 103 on front.hem + back.hem
trim zip as_long_as 20 cm
point low = starting_point
point high = low up 60 cm
point far_low = low outward 27 cm
point far_high = high outward 19 cm
shape half {
    line hem from low to far_low
    line side from far_low to far_high
    line waistline from far_high to high
    line centre from high to low
}
shape front_half = half {
    worn left
}
each piece {
    allow 1 cm
}
piece front = unfold front_half across centre {
    grain up
    cut 1
    allow 3 cm on hem with_corners shaped_to_fold
    unsewn waistline
}
piece back = half {
    worn right
    grain up
    cut 2 as pair
    allow 3 cm on hem with_corners shaped_to_fold
    unsewn waistline
}
seam centre_back joins back.centre to back.centre sewn plain_seam
seam sides joins front.side to back.side sewn plain_seam
closure back_zip in centre_back as_long_as 20 cm closed_by zip which_widens 76 cm to_pass hip_girth
"""

BAND = """point band_low = starting_point
point band_far = band_low outward 76 cm
point band_top = band_far up 4 cm
point band_near = band_low up 4 cm
piece band {
    line lower from band_low to band_far
    line end from band_far to band_top
    line folded from band_top to band_near
    line other_end from band_near to band_low
    fold folded
    cut 1 on fold
    grain along lower
}
seam waist joins band.lower to back.waistline + front.waistline + back.waistline sewn plain_seam
"""
"""A band in one, open at the centre back."""

TOP = """language 1
style "Small top"
sewing plain_seam stitch 301
sewing hemmed stitch 103 on front.hem + back.hem + front.armhole + back.armhole
point low = starting_point
point far_low = low outward 30 cm
point armpit = far_low up 35 cm
point shoulder_end = low outward 20 cm up 55 cm
point neck_side = low outward 9 cm up 58 cm
point neck_low = low up 52 cm
shape half {
    line hem from low to far_low
    line side from far_low to armpit
    line armhole from armpit to shoulder_end
    line shoulder from shoulder_end to neck_side
    line neckline from neck_side to neck_low
    line centre from neck_low to low
}
each piece {
    allow 1 cm
}
shape front_half = half {
    worn left
}
shape back_half = half {
    worn right
}
piece front = unfold front_half across centre {
    grain up
    cut 1
}
piece back = unfold back_half across centre {
    grain up
    cut 1
}
length neck = length of front.neckline + length of back.neckline
point collar_low = starting_point
point collar_far = collar_low outward neck
point collar_top = collar_far outward 12 cm up 10 cm
point collar_near = collar_low inward 12 cm up 10 cm
piece collar {
    line lower from collar_low to collar_far
    line end from collar_far to collar_top
    line outer from collar_top to collar_near
    line other_end from collar_near to collar_low
    fold outer
    cut 1 on fold
    grain along lower
}
seam shoulders joins front.shoulder to back.shoulder sewn plain_seam
seam sides joins front.side to back.side sewn plain_seam
seam collar_ends joins collar.end to collar.other_end sewn plain_seam
seam neck_seam joins collar.lower to front.neckline + back.neckline sewn plain_seam
"""


def opened(text: str) -> Style:
    return open_style(Path("small.style"), text=text)


def changed(text: str, *edits: tuple[str, str]) -> str:
    """A text with one place after the other changed."""
    for old, new in edits:
        assert old in text, old
        text = text.replace(old, new, 1)
    return text


def made(text: str) -> AssemblyResult:
    """A garment on the alto 3."""
    style = opened(text)
    assert not style.has_errors, [one.message for one in style.diagnostics]
    (result,) = style.on(PATTERNS / "bodies" / "alto_3.toml")
    assert not result.errors, [one.message for one in result.errors]
    return result.assembly


def told(text: str) -> list[str]:
    """The codes of what is told of a garment, by names and on the alto 3."""
    assembly = opened(text).assembly
    assert assembly is not None
    return [one.code for one in (*assembly.diagnostics, *made(text).wrong)]
