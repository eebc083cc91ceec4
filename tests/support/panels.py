"""Rectangular panels written in the language, for tests of seams."""

FINISH = "cut 1\n    allow seams 1 cm"


def panel(name: str, wide: float, mirrored: bool, upper: str, inner: str, outer: str, extra: str = "") -> str:
    """A panel 10 cm deep with its upper edge running outward from `inner` to `outer`; mirrored, it is drawn inward."""
    way = "inward" if mirrored else "outward"
    return f"""
point {name}_a = origin
point {name}_b = origin {way} {wide} mm
point {name}_c = {name}_b up 10 cm
point {name}_d = origin up 10 cm
shape {name} {{
    line hem from {name}_a to {name}_b
    line {outer} from {name}_b to {name}_c
    line {upper} from {name}_d to {name}_c
    line {inner} from {name}_d to {name}_a
    {FINISH}
    {extra}
}}
"""
