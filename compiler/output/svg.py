"""A sheet as SVG at true scale: one user unit is one millimetre, one group for each layer."""

from __future__ import annotations

import io
from collections.abc import Iterable

import svgwrite
import svgwrite.base
import svgwrite.container
import svgwrite.shapes

from ..drawing.lettering import type_size
from ..drawing.marks import STYLES, Circle, Curve, Label, Layer, Line, Mark, Reals, Sheet, by_layer

FONTS = "Helvetica, Arial, Liberation Sans, sans-serif"
DIGITS = 3
"""Coordinates are rounded to a thousandth of a millimetre."""


def svg_text(sheet: Sheet, within: float | None = None) -> str:
    """The sheet as the text of an SVG file. Layers are groups `cut`, `sew`, …; inside them every piece is a group.

    It is shown at true scale, or so small that it is no wider and no higher than `within` mm.
    """
    scale = 1.0 if within is None else min(1.0, within / max(sheet.width, sheet.height))
    size = (f"{_number(scale * sheet.width)}mm", f"{_number(scale * sheet.height)}mm")
    view = f"0 0 {_number(sheet.width)} {_number(sheet.height)}"
    svg = svgwrite.Drawing(size=size, viewBox=view, profile="full", debug=False)
    svg.set_desc(title=sheet.title)
    svg.add(svg.rect((0, 0), (_number(sheet.width), _number(sheet.height)), fill="white"))
    owned = [(drawing.name, by_layer(drawing.marks)) for drawing in sheet.drawings]
    owned.append(("", by_layer(sheet.frame)))
    for layer in STYLES:
        held = [(name, marks[layer]) for name, marks in owned if layer in marks]
        if held:
            svg.add(_layer(svg, layer, held, sheet.height))
    out = io.StringIO()
    svg.write(out, pretty=True, indent=1)
    return out.getvalue()


def _layer(
    svg: svgwrite.Drawing, layer: Layer, held: Iterable[tuple[str, list[Mark]]], height: float
) -> svgwrite.container.Group:
    style = STYLES[layer]
    look: dict[str, object] = {"fill": "none", "stroke": _ink(style.colour), "stroke_width": style.width}
    if layer == "label":
        look = {"fill": "black", "font_family": FONTS}
    elif style.dash:
        look["stroke_dasharray"] = ",".join(_number(dash) for dash in style.dash)
    group = svg.g(id=layer, stroke_linejoin="round", **look)
    for name, marks in held:
        part = svg.g()
        if name:
            part.attribs["data-piece"] = name
        for mark in marks:
            for element in _elements(svg, mark, height):
                if mark.source:
                    element.attribs["data-source"] = mark.source
                part.add(element)
        group.add(part)
    return group


def _elements(svg: svgwrite.Drawing, mark: Mark, height: float) -> list[svgwrite.base.BaseElement]:
    match mark:
        case Line():
            look: dict[str, object] = {"fill": _ink(STYLES[mark.layer].colour), "stroke": "none"} if mark.filled else {}
            if mark.solid and STYLES[mark.layer].dash:
                look["stroke_dasharray"] = "none"
            return [svg.path(d=_polyline(mark.points, mark.closed, height), **look)]
        case Curve():
            return [svg.path(d=_cubics(mark, height))]
        case Circle():
            x, y = _place(mark.centre, height)
            return [svg.circle(center=(x, y), r=_number(mark.radius), fill="white")]
        case Label():
            return _text(svg, mark, height)


def _text(svg: svgwrite.Drawing, label: Label, height: float) -> list[svgwrite.base.BaseElement]:
    x, y = _place(label.at, height)
    found = []
    if label.boxed:
        found.append(svg.path(d=_polyline(label.box, True, height), fill="white"))
    text = svg.text(label.text, insert=(x, y), font_size=_number(type_size(label.height)))
    text.attribs["textLength"] = _number(label.width)
    text.attribs["lengthAdjust"] = "spacingAndGlyphs"
    if round(label.angle, DIGITS):
        text.attribs["transform"] = f"rotate({_number(-label.angle)} {x} {y})"
    return [*found, text]


def _ink(colour: str) -> str:
    return "black" if colour == "#000000" else colour


def _number(value: float) -> str:
    """Rounded, without trailing zeros and without a minus before zero."""
    text = f"{value:.{DIGITS}f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def _place(point: Reals, height: float) -> tuple[str, str]:
    """A point in the file's axes: y downwards."""
    return _number(point[0]), _number(height - point[1])


def _places(points: Reals, height: float) -> list[str]:
    """Points (n, 2) in the file's axes, as x,y."""
    return [f"{_number(x)},{_number(height - y)}" for x, y in points.tolist()]


def _polyline(points: Reals, closed: bool, height: float) -> str:
    return f"M{' L'.join(_places(points, height))}{' Z' if closed else ''}"


def _cubics(mark: Curve, height: float) -> str:
    parts = [f"M{_places(mark.spans[0, :1], height)[0]}"]
    for span, straight in zip(mark.spans, mark.straight, strict=True):
        parts.append(("L" if straight else "C") + " ".join(_places(span[3:] if straight else span[1:], height)))
    return " ".join(parts)
