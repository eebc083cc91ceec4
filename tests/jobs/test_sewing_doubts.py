"""What holds by its numbers and goes wrong at the machine: told without a check being written."""

from __future__ import annotations

import re

import pytest
from godet.finish.seams import laid_sides
from godet.pattern.laid import SeamSide
from godet.pattern.which_ends import Sewn, Sides
from support.doubts import CUT, box, doubts
from support.styles import written

HEAD = "language 1\nblock base = plain_half with bust_ease 8 cm\nuse plain_half from shapes\n"


@pytest.mark.parametrize(("reach", "hooks"), [("2 cm", True), ("3 cm", True), ("12 cm", False)])
def test_a_hem_squared_off_over_too_short_a_stretch_hooks_at_the_side(reach: str, hooks: bool) -> None:
    """The hem falls by 8 cm over 30 to an upright side: squared off, it must turn by 15 degrees."""
    text = (
        "language 1\npoint low = starting_point\n"
        "point side_low = low outward 30 cm down 8 cm\npoint side_top = side_low up 30 cm\n"
        "point top = low up 22 cm\nshape drawn {\n    line hem from low to side_low\n    line side from side_low to side_top\n"
        "    line upper from side_top to top\n    line centre from top to low\n}\n"
        f"piece panel = square_off drawn.hem at side as_far_as {reach} moving_at_most 3 cm {{\n{CUT}}}\n"
    )
    found = doubts(text, "W321")
    assert [one.data["of"] for one in found] == [("panel", "hem")] * hooks
    assert all("turns back on itself" in one.message for one in found)


def test_a_sleeve_head_is_an_s_and_does_not_turn_back() -> None:
    head = "curve hem from {name}_a to {name}_b leaving outward arriving outward"
    assert doubts("language 1\n" + box("sleeve", "30 cm down 12 cm", CUT, "piece", head), "W321") == []


def sewn(left: str, right: str, how: str = "joins one.side to two.side", extra: str = "") -> str:
    """Two boxes with so much allowance at their sides, which are sewn to each other."""
    one, two = (f"    cut 1\n    grain up\n    allow 1 cm\n    allow {wide} on side\n" for wide in (left, right))
    return f"language 1\n{box('one', '30 cm', one, 'piece')}{box('two', '20 cm', two, 'piece')}{extra}seam sides {how}\n"


def test_unlike_allowances_of_one_seam_are_told_with_both() -> None:
    (found,) = doubts(sewn("1.5 cm", "1 cm"), "W322")
    assert found.message == "the allowances of `sides` are not alike: 15.0 mm at `one.side`, 10.0 mm at `two.side`"
    assert doubts(sewn("1.5 cm", "1.5 cm"), "W322") == []


def test_in_a_lapped_or_bound_seam_one_edge_may_stand_out() -> None:
    way = 'sewing SEWN stitch 301 seam "CLASS"\n'
    for number, many in (("2.04.05", 0), ("1.01.01", 1)):
        extra = way.replace("CLASS", number).replace("SEWN", "way")
        found = doubts(sewn("1.5 cm", "0.8 cm", "joins one.side to two.side sewn way", extra), "W322")
        assert len(found) == many


def test_sides_of_a_seam_that_differ_within_its_tolerance_make_a_step() -> None:
    """One side is 20 cm long, the other 20.8: it was said that this may be so."""
    longer = sewn("1 cm", "1 cm", "joins one.side to two.side tolerance 1 cm").replace(
        "point two_c = two_b up 20 cm", "point two_c = two_b up 20.8 cm"
    )
    (found,) = doubts(longer, "W323")
    assert found.message.startswith("`one.hem` and `two.hem` make a step of 8.0 mm at an end of `sides`")
    assert doubts(longer.replace("20.8 cm", "20.4 cm"), "W323") == []


@pytest.mark.parametrize(("longer", "told"), [("22.5 cm", False), ("24 cm", True)])
def test_more_ease_than_cloth_takes_in_is_told(longer: str, told: bool) -> None:
    text = sewn("1 cm", "1 cm", "eases two.side to one.side").replace("two_c = two_b up 20 cm", f"two_c = two_b up {longer}")
    found = [one.message for one in doubts(text, "W324")]
    assert found == ["`sides` eases 20 percent of its length in: no cloth takes so much without puckers"] * told
    assert doubts(text.replace("eases", "gathers"), "W324") == []


@pytest.mark.parametrize(
    ("deep", "told"), [("1 cm", "that shows below it"), ("1.6 cm", "so little beyond it rolls out"), ("3 cm", "")]
)
def test_a_facing_hardly_wider_than_the_allowance_it_covers_is_told(deep: str, told: str) -> None:
    text = (
        f"{HEAD}piece front = base.front {{\n    cut 1 on fold\n    grain up\n    allow 1.5 cm\n}}\n"
        f"piece neck_facing = facing front along neckline depth {deep} {{\n    cut 1 on fold\n    grain up\n    allow 1 cm\n}}\n"
        "seam neck joins neck_facing.neckline to front.neckline\n"
    )
    found = doubts(text, "W325")
    wide = 10.0 * float(deep.removesuffix(" cm"))
    message = f"`neck_facing` is {wide} mm wide at `neckline`, whose seam has an allowance of 15.0 mm: {told}"
    assert [one.message for one in found] == [message] * bool(told)


def faced(to: str, extra: str = "") -> str:
    """A box whose upper edge is a neckline that runs on, without a corner, as a slope; faced along the one or along both."""
    faced, edge = ("neck_facing.neckline + neck_facing.slope", "front.neckline + front.slope") if to else (
        "neck_facing.neckline", "front.neckline"
    )
    return (
        "language 1\npoint a = starting_point\n"
        "point b = a outward 30 cm\npoint c = b up 18 cm\npoint mid = a outward 15 cm up 20 cm\n"
        "point d = a up 20 cm\npiece front {\n    line hem from a to b\n    line side from b to c\n    line slope from c to mid\n"
        f"    line neckline from mid to d\n    line centre from d to a\n{CUT}{extra}}}\n"
        f"piece neck_facing = facing front along neckline {to}depth 4 cm {{\n{CUT}    allow 0 cm on inner_edge\n}}\n"
        f"seam neck joins {faced} to {edge}\n"
    )


def test_a_facing_that_stops_short_of_the_edge_it_faces_is_told() -> None:
    (found,) = doubts(faced(""), "W326")
    assert found.message.startswith("`neck_facing` stops where `front.neckline` ends, and the edge runs on there as `slope`")
    assert "`to slope`" in found.fix
    assert doubts(faced("to slope "), "W326") == []
    assert doubts(faced("", "    allow 2 cm on slope with_corners shaped_to_fold\n"), "W326") == []  # it is a hem
    assert doubts(faced("") + "sewing bound stitch 301 on front.slope\n", "W326") == []


def panels(front: str, back: str) -> str:
    """Front and back of a skirt, with so much in their braces, sewn at the side."""
    cut = "    cut 1\n    allow 1 cm\n"
    one = box("front", "30 cm", f"{cut}    covers skirt_front\n{front}", "piece")
    two = box("back", "30 cm", f"{cut}    covers skirt_back\n{back}", "piece")
    return f"language 1\n{one}{two}seam sides joins front.side to back.side\n"


@pytest.mark.parametrize("across", ["outward", "along hem"])
def test_a_piece_that_lies_across_beside_one_that_lies_along_is_told_once(across: str) -> None:
    (found,) = doubts(panels("    grain up\n", f"    grain {across}\n"), "W329")
    assert found.message == "`back` lies across the thread and `front`, to which `sides` sews it, along it"
    assert "`grain up as cross`" in found.fix


@pytest.mark.parametrize("meant", ["grain up as cross", "grain up as bias", "grain along side"])
def test_a_piece_that_is_said_to_lie_across_or_on_the_bias_is_not_told(meant: str) -> None:
    assert doubts(panels("    grain up\n", f"    {meant}\n"), "W329") == []


def test_both_across_is_no_fault_nor_is_a_yoke_across() -> None:
    assert doubts(panels("    grain outward\n", "    grain outward\n"), "W329") == []
    yoke = panels("    grain up\n", "    grain outward\n").replace("joins front.side to back.side", "joins front.top to back.hem")
    assert doubts(yoke, "W329") == []


def test_hems_of_unlike_depth_over_a_side_seam_are_told() -> None:
    deep = "    grain up\n    allow {} on hem with_corners shaped_to_fold\n"
    (found,) = doubts(panels(deep.format("3 cm"), deep.format("4 cm")), "W330")
    assert found.message == (
        "`front.hem` has an allowance of 30.0 mm and `back.hem` of 40.0 mm: turned up, they do not meet at `sides`"
    )
    assert doubts(panels(deep.format("4 cm"), deep.format("4 cm")), "W330") == []


@pytest.mark.parametrize(("deep", "told"), [("1 cm", True), ("3 cm", False), ("0 cm", False)])
def test_the_hem_of_a_facing_is_turned_up_as_deep_as_that_of_its_front(deep: str, told: bool) -> None:
    """One left raw is not turned up."""
    hem = "    grain up\n    allow {} on hem with_corners shaped_to_fold\n"
    faced = panels(hem.format("3 cm"), "    lies inside\n" + hem.format(deep))
    found = [one.message for one in doubts(faced, "W330")]
    message = "`front.hem` has an allowance of 30.0 mm and `back.hem` of 10.0 mm: turned up, they do not meet at `sides`"
    assert found == [message] * told


def test_beside_a_seam_that_ends_above_a_slit_allowances_may_differ() -> None:
    """The under side of a slit stands out beneath the other."""
    slit = panels("    grain up\n    allow 2 cm on side\n", "    grain up\n").replace(
        "joins front.side to back.side", "joins front.side between 1/2 from hem and top to back.side between 1/2 from hem and top"
    )
    assert doubts(slit, "W330") == []


def test_a_seam_without_any_allowance_is_told_once() -> None:
    (found,) = doubts(sewn("0 cm", "0 cm"), "W331")
    assert found.message == "`sides` has no allowance on either side: `one.side` and `two.side` are cut where they should be sewn"
    assert doubts(sewn("0 cm", "1 cm"), "W331") == []


def test_edges_that_meet_or_are_bound_have_no_allowance_nor_has_a_pattern_without_any() -> None:
    met = 'sewing way stitch 301 seam "4.01.01"\n'
    assert doubts(sewn("0 cm", "0 cm", "joins one.side to two.side sewn way", met), "W331") == []
    assert doubts(sewn("0 cm", "0 cm").replace("    allow 1 cm\n", ""), "W331") == []


def strips(rows: str, seam: str) -> str:
    """Two strips of one length, the edges by which they are sewn in two parts as long as each other."""
    strip = (
        "point a{n} = starting_point\npoint b{n} = a{n} outward 15 cm\npoint c{n} = a{n} outward 30 cm\n"
        "point d{n} = c{n} up 8 cm\npoint e{n} = a{n} up 8 cm\n"
        "piece {name} {{\n    line near from a{n} to b{n}\n    line far from b{n} to c{n}\n    line end_{n} from c{n} to d{n}\n"
        "    line top_{n} from d{n} to e{n}\n    line start_{n} from e{n} to a{n}\n{cut}{rows}}}\n"
    )
    one, two = (strip.format(n=n, name=name, cut=CUT, rows=more) for n, name, more in ((1, "one", rows), (2, "two", "")))
    return f"language 1\n{one}{two}seam strips joins {seam}\n"


def test_where_nothing_tells_which_ends_meet_only_what_is_so_in_every_way_is_told(monkeypatch: pytest.MonkeyPatch) -> None:
    part = strips("    allow 2 cm on near\n", "one.near + one.far to two.near + two.far")
    all_along = strips("    allow 2 cm on top_1\n", "one.top_1 to two.top_2")
    assert [len(doubts(text, "W322")) for text in (part, all_along)] == [1, 1]

    def in_two_ways(seam: Sides, sewn: Sewn) -> list[tuple[SeamSide, SeamSide]]:
        left, right = laid_sides(seam, sewn)[0]
        return [(left, right), (left, SeamSide(right.stretches[::-1], tuple(not one for one in right.forward[::-1])))]

    monkeypatch.setattr("godet.finish.unlike.laid_sides", in_two_ways)
    assert [len(doubts(text, "W322")) for text in (part, all_along)] == [0, 1]


def lined(armhole: str) -> str:
    front = "piece {} = base.front {{\n    cut 1 on fold {}\n    covers bodice_front\n    grain up\n    allow 1 cm\n}}\n"
    sleeve = box("sleeve", "length of front.armhole", CUT, "piece")
    return (
        f"{HEAD}cloth shell width 150 cm\ncloth satin width 140 cm\n{front.format('front', '')}"
        f"{front.format('inner', 'in satin')}{sleeve}"
        f"seam armhole joins sleeve.hem to {armhole}.armhole\nseam neck joins front.neckline to inner.neckline\n"
    )


def test_a_sleeve_set_into_the_armhole_of_the_lining_is_told() -> None:
    (found,) = doubts(lined("inner"), "W327")
    assert found.message == "`sleeve` is sewn to `inner` alone, and `front` lies before: nothing holds it to the garment itself"
    assert found.fix == "name `front` in `armhole`, in place of `inner`"
    assert doubts(lined("front"), "W327") == []


def test_a_seam_on_a_shape_is_told_with_the_piece_that_is_meant() -> None:
    text = f"{HEAD}piece front = base.front {{\n    cut 2 as pair\n    grain up\n    allow 1 cm\n}}\n"
    made = written(text + "seam centre joins base.front.centre to front.centre\n")
    (found,) = (one for one in made.diagnostics if one.code == "W203")
    assert "`base.front.centre`, an edge of a shape that is not cut" in found.message
    assert found.fix == "write `front.centre`"
    later = "seam centre joins base.front.centre to front.centre\nseam sides joins front.side to front.side after centre\n"
    told = [one.message for one in written(text + later).diagnostics if one.code == "W203"]
    assert [one.partition(" ")[0] for one in told] == ["`centre`"]
    on_piece = written(text + "seam centre joins front.centre to front.centre\n")
    assert not [one for one in on_piece.diagnostics if one.code == "W203"]


@pytest.mark.parametrize(
    ("then", "told"),
    [
        ("", "ends at `bust_point`: sewn so far it makes a tip there"),
        (" then shorten bust by 2.5 cm", ""),
        (" then repoint bust to beyond", "runs 20.0 mm beyond `bust_point`: it takes in what that needs"),
        (" then repoint bust to beside", ""),
    ],
)
def test_a_dart_that_is_sewn_to_the_bust_point_or_beyond_is_told(then: str, told: str) -> None:
    text = (
        "language 1\npoint low = starting_point\npoint right = low outward 20 cm\npoint top_right = right up 30 cm\n"
        "point top = low up 30 cm\npoint tip = low outward 9 cm up 14 cm\npoint beyond = low outward 7 cm up 14 cm\n"
        "point beside = low outward 7 cm up 20 cm\n"
        "shape drawn {\n    line hem from low to right\n    line side from right to top_right\n"
        "    line shoulder from top_right to top\n    line centre from top to low\n    covers bodice_front\n"
        f"    dart bust on side at 14 cm from hem width 3 cm ending_at tip\n    landmark tip called bust_point\n}}\n"
        f"piece front = drawn{then} {{\n{CUT}}}\n"
    )
    found = [one.message for one in doubts(text, "W328", "W344")]
    assert found == [f"the dart `bust` of `front` {told}"] * bool(told)


@pytest.mark.parametrize(
    ("seam", "wide", "told"), [("6.03.01", "0.4 cm", True), ("6.03.01", "1 cm", False), ("6.02.01", "0.4 cm", False)]
)
def test_a_hem_turned_twice_needs_cloth_for_it(seam: str, wide: str, told: bool) -> None:
    piece = box("one", "30 cm", f"{CUT}    allow {wide} on hem\n", "piece")
    text = f'language 1\n{piece}sewing turned stitch 301 seam "{seam}" on one.hem\n'
    assert [one.data["of"] for one in doubts(text, "W332")] == ["one.hem"] * told


def test_a_place_marked_over_a_dart_is_told_with_what_the_dart_takes_out_of_it() -> None:
    """A line 10 cm long over the middle of a dart of 4 cm that is 10 cm high: 2 cm of it, and of one beside it none."""
    text = (
        "language 1\npoint apex = starting_point outward 15 cm up 10 cm\n"
        "line over from (starting_point outward 10 cm up 5 cm) to (starting_point outward 20 cm up 5 cm)\n"
        "line beside from (starting_point outward 20 cm up 5 cm) to (starting_point outward 25 cm up 5 cm)\n"
    )
    rows = "    dart taken on hem at 13 cm from centre width 4 cm ending_at apex\n{}" + CUT
    marked = "    mark {0} called pocket as placement\n"
    pieces = {one: box("one", "30 cm", rows.format(marked.format(one)), "piece") for one in ("over", "beside")}
    found = {one: doubts(text + piece, "W333") for one, piece in pieces.items()}
    assert [one.data["figures"] for one in found["over"]] == [{"mm": pytest.approx(20.0, abs=0.5)}]
    assert found["beside"] == []


@pytest.mark.parametrize(("holes", "told"), [(3, False), (4, True)])
def test_more_buttonholes_than_buttons_are_told(holes: int, told: bool) -> None:
    row = "between 2 cm from hem and 18 cm from hem count {0} inset_by 1 cm"
    rows = CUT + f"    buttonholes on side {row.format(holes)} as_long_as 2 cm\n    buttons on centre {row.format(3)}\n"
    piece = box("one", "30 cm", rows, "piece")
    assert bool(doubts(f"language 1\n{piece}", "W334")) is told
    behind = box("behind", "30 cm", f"{CUT}    lies inside\n    buttonholes on side {row.format(9)} as_long_as 2 cm\n", "piece")
    assert bool(doubts(f"language 1\n{piece}{behind}", "W334")) is told, "the same holes go through what lies behind"


@pytest.mark.parametrize(
    ("front", "rows", "told"),
    [("9 cm", "", True), ("4 cm", "", False), ("9 cm", "    grain up as bias\n", False)],
    ids=["flared to straight", "hardly flared", "meant on the bias"],
)
def test_a_side_far_off_the_thread_sewn_to_one_along_it_is_told(front: str, rows: str, told: bool) -> None:
    """A front that widens by 9 cm on 30 at its side leaves the thread there by 17 degrees."""
    text = panels(rows or "    grain up\n", "    grain up\n").replace("up 20 cm", "up 30 cm")
    flared = text.replace("point front_c = front_b up 30 cm", f"point front_c = front_b up 30 cm inward {front}")
    flared = flared.replace("joins front.side to back.side", "joins front.side to back.side tolerance 2 cm")
    found = [one.message for one in doubts(flared, "W343")]
    message = "`sides` sews `front.side`, 17 degrees off the thread, to `back.side`, 0 degrees off it"
    assert found == [message] * told
    alike = flared.replace("point back_c = back_b up 30 cm", f"point back_c = back_b up 30 cm inward {front}")
    assert doubts(alike, "W343") == []


@pytest.mark.parametrize(
    ("front", "back", "told"),
    [
        ("up as bias", "up as bias", []),
        ("up as bias", "outward as bias", ["28 degrees", "62 degrees"]),
        ("up", "outward as bias", ["17 degrees", "62 degrees"]),
        ("up", "up", []),
    ],
    ids=["slanted like mirror images", "slanted one way round the body", "straight to bias", "both straight"],
)
def test_threads_on_the_bias_that_are_not_mirrored_at_the_side_are_told(front: str, back: str, told: list[str]) -> None:
    """Front and back widen alike at their side, by 17 degrees: what lies on the bias leaves its thread by 45 more or less. Both
    are drawn one way round, so that one of them is turned over where they are sewn to each other."""
    text = panels(f"    grain {front}\n", f"    grain {back}\n").replace("up 20 cm", "up 30 cm")
    for one in ("front", "back"):
        text = text.replace(f"point {one}_c = {one}_b up 30 cm", f"point {one}_c = {one}_b up 30 cm inward 9 cm")
    found = doubts(text, "W347")
    assert [re.findall("[0-9]+ degrees", one.message) for one in found] == [told] * bool(told)


@pytest.mark.parametrize(("grain", "told"), [("up", False), ("outward", True), ("up as cross", False)])
def test_a_front_facing_cut_across_the_thread_is_told(grain: str, told: bool) -> None:
    rows = f"    cut 1\n    grain {grain}\n    allow 1 cm\n"
    facing = f"piece inner = facing front along side depth 6 cm {{\n{rows}}}\nseam faced joins inner.side to front.side\n"
    text = "language 1\n" + box("front", "30 cm", f"{CUT}    covers bodice_front\n", "piece") + facing
    found = [one.message for one in doubts(text, "W329")]
    assert found == ["`inner` lies across the thread and `front`, to which `faced` sews it, along it"] * told


@pytest.mark.parametrize(("outer", "told"), [("outward", False), ("up", True)])
def test_a_band_faced_on_two_sides_lies_as_its_facing_does(outer: str, told: bool) -> None:
    """The end of the inner band, across the thread, lies on the end of the outer one, and not on its upper edge."""
    cut = f"    cut 1\n    grain {outer}\n    allow 1 cm\n    covers skirt_front\n"
    band = "language 1\n" + box("band", "60 cm", cut, "piece")
    rows = "    cut 1\n    grain outward\n    allow 1 cm\n"
    facing = f"piece inside_band = facing band along top to side depth 19 cm {{\n{rows}}}\n"
    seam = "seam turned joins inside_band.side + inside_band.top to band.side + band.top\n"
    assert bool(doubts(band + facing + seam, "W329")) is told
