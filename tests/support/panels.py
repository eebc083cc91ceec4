"""Rectangular panels written in the language, for tests of seams."""

FINISH = "allow 1 cm"


def panel(name: str, wide: float, mirrored: bool, upper: str, inner: str, outer: str, extra: str = "") -> str:
    """A panel 10 cm deep with its upper edge running outward from `inner` to `outer`; mirrored, it is drawn inward.

    One called a front or a back says that it covers that part of the body."""
    part = next((half for half in ("front", "back") if half in name.split("_")), "")
    extra += f"\n    covers bodice_{part}" if part else ""
    way = "inward" if mirrored else "outward"
    return f"""
point {name}_a = starting_point
point {name}_b = starting_point {way} {wide} mm
point {name}_c = {name}_b up 10 cm
point {name}_d = starting_point up 10 cm
piece {name} {{
    line hem from {name}_a to {name}_b
    line {outer} from {name}_b to {name}_c
    line {upper} from {name}_d to {name}_c
    line {inner} from {name}_d to {name}_a
    cut 1{" on fold" if extra.startswith("fold") else ""}
    {FINISH}
    {extra}
}}
"""
