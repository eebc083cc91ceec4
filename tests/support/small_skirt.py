"""A skirt of one piece, with a module beside it: small enough that a change of it is known by arithmetic."""

from __future__ import annotations

SKIRT = """language 1
style "A skirt"
use yoke from yokes
choice deep = 60 cm between 40 cm and 90 cm "from waist to hem"
shape half = yoke with wide 12 cm using deep
piece front = half {
    grain up
    cut 1
    allow 1 cm
    allow 3 cm on hem
}
sewing hemmed stitch 103 seam "6.06.01" on front.hem "all round, 3 cm turned once"
"""

YOKES = """language 1
recipe yoke "A straight yoke" {
    takes length wide
    takes length deep
    point low = starting_point down deep
    point far = low outward by wide
    point high = starting_point outward by wide
    gives shape cloth {
        line top from starting_point to high
        line side from high to far
        line hem from far to low
        line centre from low to starting_point
    }
}
"""
