"""The seam map: one letter on both sides of a seam, dots where these meet, a sign on every edge, nothing on anything else."""

from __future__ import annotations

import itertools
from functools import lru_cache
from xml.etree import ElementTree

import numpy as np
import pypdfium2
import pytest
import shapely
from godet.assembly.panels import Atom
from godet.assembly.ways import meetings
from godet.drawing.mapped import SAID, SEAMS, MapEdge, MapPiece, MapSeam, SeamMap
from godet.drawing.marks import STYLES, Circle, Label, Line, Reals, Sheet
from godet.drawing.seam_map import beneath, map_sheets
from godet.geometry.length import length
from godet.jobs.build import Wanted, as_pdf, plate
from godet.jobs.outcome import outcomes
from godet.jobs.seam_map import LETTERS, letter, seam_map
from godet.pattern.piece import Piece
from support.sewn_styles import opened, without
from support.sheets import on_body
from support.style_runs import PATTERNS, invented, prepared
from support.styles import written

STYLES_SEWN = sorted(path.stem for path in PATTERNS.glob("*.style"))
A4 = (210.0, 297.0)
DRAFT = """language 1
use plain_half from shapes
block base = plain_half with bust_ease 8 cm
piece front = base.front {
    cut 1 on fold
    grain up
    allow 1 cm
}
"""


@lru_cache
def map_of(style: str) -> SeamMap:
    made = prepared(PATTERNS / f"{style}.style", [invented("alto_3")])
    found = seam_map(made, on_body(style, "alto_3")[0])
    assert found is not None
    return found


@lru_cache
def page_of(style: str) -> Sheet:
    (page,) = map_sheets(map_of(style), *A4)
    return page


def length_of(line: Reals) -> float:
    return float(np.linalg.norm(np.diff(line, axis=0), axis=1).sum())


# ---- what it says --------------------------------------------------------------------------------


@pytest.mark.parametrize("style", STYLES_SEWN)
def test_every_edge_has_a_sign_and_nothing_of_a_sound_garment_ends_in_nothing(style: str) -> None:
    _, cloth = on_body(style, "alto_3")
    for piece in map_of(style).pieces:
        ring = cloth[piece.name].ring
        around = sum(float(length(side.drawn)[0]) for side in ring)
        outer = [line for edge in piece.edges if not edge.inner for line in edge.lines]
        legs = [line for line in piece.darts if any(touches(line, side.drawn.end[0]) for side in ring)]
        assert sum(map(length_of, (*outer, *legs))) == pytest.approx(around, rel=1e-3)
        for edge in piece.edges:
            assert edge.letters or edge.finishes, f"{piece.name}.{edge.name}"
            assert "nothing" not in edge.finishes


@pytest.mark.parametrize("style", STYLES_SEWN)
def test_both_sides_of_a_seam_have_its_letter_and_its_dots_are_where_they_meet(style: str) -> None:
    drawn, (result, cloth) = map_of(style), on_body(style, "alto_3")
    garment = result.assembly.whole
    assert garment is not None
    made = garment.structure
    signs = {one.name: one.letter for one in drawn.seams}
    edges = {piece.name: piece.edges for piece in drawn.pieces}
    ways = {name: [way] for name, way in garment.laid.ways.items()}
    met = list(meetings(made.pieces, made.sewn, ways))
    for seam in made.sewn:
        sign = signs[seam.seam.sentence.replace("_", " ")]
        for owner, name in seam.seam.edges:
            lined = [line for edge in edges[owner] if sign in edge.letters for line in edge.lines]
            sides = [cloth[owner].ring[i] for i in (made.pieces[owner].along(name) or cloth[owner].run(name))]
            for side in sides:
                assert any(touches(line, side.drawn.start[0]) and touches(line, side.drawn.end[0]) for line in lined)
        here = [one for one in met if one.seam == seam]
        if here:
            dotted = [dots_of(edges[atom.piece], sign) for atom in here[0].own]
            assert any(all(map(at_a_dot, itertools.repeat(cloth), one.own, one.beside, dotted)) for one in here), seam.name


def touches(line: Reals, point: Reals) -> bool:
    return bool(shapely.LineString(line).distance(shapely.Point(point)) < 0.5)


def dots_of(edges: tuple[MapEdge, ...], sign: str) -> list[Reals]:
    """The corners of a piece by which the dots of a seam stand."""
    return [edge.lines[-end][-end] for edge in edges for one, end in edge.dots if one == sign]


def at_a_dot(cloth: dict[str, Piece], own: Atom, beside: Atom | None, dots: list[Reals]) -> bool:
    """Whether a dot stands at the corner between two sides; where the second is the other half, at an end of the first."""
    ring = cloth[own.piece].ring
    ends = [ring[own.side].drawn.start[0], ring[own.side].drawn.end[0]]
    if beside is not None:
        corners = [ring[beside.side].drawn.start[0], ring[beside.side].drawn.end[0]]
        ends = [one for one in ends if min(float(np.linalg.norm(one - other)) for other in corners) < 0.01]
    return any(float(np.linalg.norm(one - dot)) < 0.01 for one in ends for dot in dots)


def test_letters_stand_in_the_order_of_sewing_with_how_often() -> None:
    rows = map_of("concert_top").seams
    names = [one.name for one in rows]
    assert [one.letter for one in rows] == list(LETTERS[: len(rows)])
    assert names.index("facing overarms") < names.index("front neck edge")  # closed before it is sewn on
    assert {one.name: one.times for one in rows}["overarms"] == 2
    assert rows[0].said == "drape seam, once"


def test_what_is_sewn_otherwise_on_the_halves_is_told_and_a_fly_is_no_seam() -> None:
    drawn = map_of("plain_trousers")
    sign = {one.name: one.letter for one in drawn.seams}
    pieces = {one.name: one for one in drawn.pieces}
    fly, right, left = (sign[name] for name in ("fly facing seam", "right waist", "left waist"))
    assert pieces["front"].words[-1] == f"{fly} left, {right} right, {left} left half only"
    assert pieces["pocket_bag"].words[-1] == f"{sign['front pockets']} and {sign['back pockets']}: one of each"
    faced = next(edge for edge in pieces["front"].edges if fly in edge.letters)
    assert sign["centre front"] in faced.letters
    assert faced.sewn == (fly,)


def test_letters_are_none_that_is_taken_for_a_figure_and_two_follow_on_one() -> None:
    many = [letter(n) for n in range(1, 600)]
    assert len(set(many)) == len(many)
    assert not set("IOQ") & set("".join(many))
    assert many[22:25] == ["Z", "AA", "AB"]


def test_what_ends_in_nothing_is_shown_so() -> None:
    (result,) = opened("gored_skirt", without("gored_skirt", "front_seams")).on(PATTERNS / "bodies" / "alto_3.toml")
    svg = result.seam_map()
    assert svg is not None
    root = ElementTree.fromstring(svg)
    (group,) = [one for one in root.iter() if one.get("id") == "nothing"]
    assert {one.get("data-piece") for one in group} - {None} == {"front", "side_front"}
    assert SAID["nothing"] in svg
    assert "front seams" not in svg


def test_a_draft_has_none_nor_has_a_toile() -> None:
    made = written(DRAFT)
    (result,), _ = outcomes(made)
    assert not result.errors
    assert seam_map(made, result) is None
    sewn = prepared(PATTERNS / "gored_skirt.style", [invented("alto_3")])
    toile = plate(sewn, on_body("gored_skirt", "alto_3")[0], sewn.bodies[0], Wanted(toile=True))
    assert toile.maps == ()


# ---- how it looks ----------------------------------------------------------------------------------


@pytest.mark.parametrize("style", STYLES_SEWN)
def test_no_ring_lies_on_another_nor_on_a_line_nor_on_a_word(style: str) -> None:
    page = page_of(style)
    rings = [one for one in page.marks if isinstance(one, Circle)]
    labels = [one for one in page.marks if isinstance(one, Label)]
    letters = {id(one) for one in labels for ring in rings if np.linalg.norm(ring.centre - one.box.mean(axis=0)) < ring.radius}
    words = shapely.polygons([one.box for one in labels if id(one) not in letters])
    lines = [shapely.LineString(one.points) for one in page.marks if isinstance(one, Line) and one.layer != "frame"]
    middles = shapely.points([one.centre for one in rings])
    assert len(rings) == len(letters) > 2 * len(map_of(style).seams)
    for k, ring in enumerate(rings):
        others = np.delete(middles, k)
        assert shapely.distance(middles[k], others).min() > 2 * ring.radius
        assert shapely.distance(middles[k], lines).min() > ring.radius
        assert shapely.distance(middles[k], words).min() > ring.radius
    for one, other in itertools.combinations(words, 2):
        assert shapely.intersection(one, other).area < 0.01
    assert shapely.STRtree(words).query(lines, predicate="intersects").size == 0
    sheet = shapely.box(0.0, 0.0, *A4)
    assert all(shapely.contains(sheet, [*lines, *words, *middles]))


@pytest.mark.parametrize("style", STYLES_SEWN)
def test_each_edge_is_given_each_of_its_letters_once(style: str) -> None:
    asked = [(piece.name, sign) for piece in map_of(style).pieces for edge in piece.edges for sign in edge.sewn]
    shown = []
    for one in page_of(style).drawings:
        centres = [mark.centre for mark in one.marks if isinstance(mark, Circle)]
        signs = [mark for mark in one.marks if isinstance(mark, Label) and mark.source != "name"]
        assert len(centres) == len(signs)
        shown += [(one.name, mark.text) for mark in signs]
    assert sorted(shown) == sorted(asked)


def test_lines_of_seams_are_told_apart_without_colour_and_colours_without_red_or_green() -> None:
    looks = [STYLES[layer] for layer in SEAMS]
    assert len({one.dash for one in looks}) == len(looks) == 8
    for style in STYLES_SEWN:
        layers = [*map_of(style).layers.values()]
        assert all(STYLES[one].dash != STYLES[other].dash for one, other in itertools.pairwise(layers))
        for piece in map_of(style).pieces:
            own = {sign for edge in piece.edges for sign in edge.letters}
            assert len({map_of(style).layers[sign] for sign in own}) >= min(len(own), len(SEAMS)) - 1, piece.name
    for seen in SEEN.values():
        colours = [lab(seen @ linear(one.colour)) for one in looks]
        assert min(float(np.linalg.norm(one - other)) for one, other in itertools.combinations(colours, 2)) > 10.0


SEEN = {
    "all": np.eye(3),
    "no red": np.array([[0.152286, 1.052583, -0.204868], [0.114503, 0.786281, 0.099216], [-0.003882, -0.048116, 1.051998]]),
    "no green": np.array([[0.367322, 0.860646, -0.227968], [0.280085, 0.672501, 0.047413], [-0.011820, 0.042940, 0.968881]]),
}
"""Linear sRGB as eyes see it that lack a kind of cones: Machado, Oliveira and Fernandes 2009, severity 1."""


def linear(colour: str) -> Reals:
    share = np.array([int(colour[k : k + 2], 16) / 255 for k in (1, 3, 5)])
    return np.where(share <= 0.04045, share / 12.92, ((share + 0.055) / 1.055) ** 2.4)


def lab(rgb: Reals) -> Reals:
    """CIE L*a*b* (D65) of linear sRGB."""
    xyz = np.array([[0.4124, 0.3576, 0.1805], [0.2126, 0.7152, 0.0722], [0.0193, 0.1192, 0.9505]]) @ np.clip(rgb, 0.0, 1.0)
    x, y, z = np.where((t := xyz / [0.9505, 1.0, 1.089]) > 0.008856, np.cbrt(t), 7.787 * t + 16 / 116)
    return np.array([116 * y - 16, 500 * (x - y), 200 * (y - z)])


def test_a_zip_in_a_side_that_a_pocket_parts_ends_where_it_ends() -> None:
    """An edge in parts, each with seams of its own, is open as far as its closure goes, whichever way its ring runs."""
    made = written(POCKETED)
    results, _ = outcomes(made)
    drawn = seam_map(made, results[0])
    assert drawn is not None
    assert map_sheets(drawn, *A4)
    in_parts, in_one = {100: pytest.approx(100.0), 150: pytest.approx(50.0)}, {600: pytest.approx(150.0)}
    for piece, longs, open_on in zip(drawn.pieces, ([100, 150, 350], [600]), (in_parts, in_one), strict=False):
        edges = [edge for edge in piece.edges if "B" in edge.letters]
        parts = [(round(sum(map(length_of, edge.lines))), edge.opens, edge.finishes) for edge in edges]
        closed = [(long, opens or (0.0, float(long))) for long, opens, finishes in parts if "closed" in finishes]
        assert sorted(long for long, _, _ in parts) == longs
        assert {long: stop - start for long, (start, stop) in closed} == open_on


POCKETED = """language 1
style "Side"
point a = starting_point
point b = a outward 30 cm
point c = b down 60 cm
point d = a down 60 cm
point q = b down 10 cm
point n = b down 25 cm
point p = q inward 10 cm
shape panel {
    line top from a to b
    line side from b to c
    line hem from c to d
    line centre from d to a
    edge mouth = side between q and n
}
each piece {
    allow 1 cm
    grain up
}
piece front = panel {
    cut 1
    unsewn top
    unsewn hem
    unsewn centre
}
piece back = mirror panel {
    cut 1
    unsewn top
    unsewn hem
    unsewn centre
}
piece bag {
    line mouth from q to n
    line inner from n to p
    line upper from p to q
    cut 1
    lies inside
    unsewn inner
    unsewn upper
}
seam front_bag joins bag.mouth to front.mouth sewn plain
seam sides joins front.side to back.side sewn plain after front_bag
closure zip in sides as_long_as 15 cm "a zip"
sewing plain stitch 301
cloth shell width 140 cm
"""


def test_what_does_not_fit_one_page_goes_on_several_and_nothing_is_lost() -> None:
    corners = np.array([[0.0, 0.0], [900.0, 0.0], [900.0, 700.0], [0.0, 700.0], [0.0, 0.0]])
    signs = [letter(n) for n in range(1, 121)]
    edges = [MapEdge(sign, (sign,), (), (corners[n % 4 : n % 4 + 2],)) for n, sign in enumerate(signs)]
    pieces = [MapPiece(f"p{k}", (f"p{k}", "cut 1"), tuple(edges[4 * k : 4 * k + 4])) for k in range(30)]
    pages = map_sheets(SeamMap("Many", "one", "12345678", tuple(pieces), tuple(MapSeam(s, f"seam {s}", 1) for s in signs)), *A4)
    assert sorted(one.name for page in pages for one in page.drawings) == sorted(one.name for one in pieces)
    texts = [mark.text for page in pages for mark in page.frame if isinstance(mark, Label)]
    assert all(texts.count(sign) == 1 for sign in signs)
    sheet = shapely.box(0.0, 0.0, *A4)
    for page in pages:
        assert all(shapely.contains(sheet, [shapely.Point(one.centre) for one in page.marks if isinstance(one, Circle)]))
    tall = beneath(pages)
    assert (tall.height, len(tall.marks)) == (len(pages) * A4[1], sum(len(page.marks) for page in pages))


def test_the_print_has_the_map_in_front_of_the_pieces() -> None:
    made = prepared(PATTERNS / "gored_skirt.style", [invented("alto_3")])
    drawn = plate(made, on_body("gored_skirt", "alto_3")[0], made.bodies[0], Wanted())
    page = pypdfium2.PdfDocument(as_pdf(drawn, "a4"))[1]
    text = page.get_textpage().get_text_range()
    assert "Gored skirt, alto 3: seam map" in text
    assert "front seams, twice" in text
