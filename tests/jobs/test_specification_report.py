"""What is attached to the pieces, body by body, and how a report prints it. Numbers by hand from the feature's style."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace
from typing import Protocol, TypeVar

import pytest
from godet.assembly.order import as_said
from godet.bodies.body import Body
from godet.jobs.files import Disk
from godet.jobs.outcome import outcomes
from godet.jobs.prepare import prepare
from godet.output.records import Report
from godet.syntax.words import RESERVED, WORDED
from godet.verbs.registry import verbs
from godet.verbs.standards import standards
from hypothesis import given, settings
from hypothesis import strategies as st
from support.doubts import CUT, box
from support.reports import as_text, report
from support.style_runs import PATTERNS
from support.styles import LANGUAGE, stored, written

HEAD = "language 1\nuse plain_half from shapes\nblock base = plain_half with bust_ease 8 cm\n"
FEATURE = LANGUAGE / "features" / "specification.style"


@pytest.fixture(scope="module")
def told() -> Report:
    return report(stored(FEATURE))


class HasName(Protocol):
    @property
    def name(self) -> str: ...


Named = TypeVar("Named", bound=HasName)


def row(rows: Sequence[Named], name: str) -> Named:
    return next(one for one in rows if one.name == name)


def test_the_kinds_written_in_words_are_the_verbs_of_the_family() -> None:
    assert {name for name, verb in verbs().items() if verb.family == "specification"} == WORDED


def test_a_draft_may_be_called_by_such_a_kind() -> None:
    """They are kinds only where a line begins with them."""
    text = HEAD + "cloth cloth width 140 cm\npiece trim = base.front {\n    cut 1 on fold in cloth\n    allow 1 cm\n}\n"
    made = written(text + "length closure = length of trim.hem\nfinished care measures closure tolerance 1 cm\n")
    assert not made.diagnostics
    assert outcomes(made)[0][0].specification.finished[0].measures_mm == pytest.approx(250.0)


@pytest.mark.parametrize(
    "sentence",
    ["length a = trim with count 3", "shape front = cloth with width 3 cm", "length a = ease of (seam with joins b to c)"],
)
def test_a_sentence_written_in_words_is_no_value(sentence: str) -> None:
    assert [one.code for one in written(f"language 1\n{sentence}\n").diagnostics] == ["E202"]


def test_a_trim_that_draws_an_edge_in_tells_how_full_that_is(told: Report) -> None:
    trims = told.bodies[0].trims
    drawn, tape = row(trims, "hem_elastic"), row(trims, "elastic")
    assert (drawn.amount_mm, drawn.place, drawn.times, drawn.place_mm) == (400.0, ("front.hem",), (2,), 500.0)
    assert (tape.place, tape.place_mm) == ((), None)
    printed = " ".join(as_text(told).split())
    assert "hem_elastic 400.0 soft; 6.0 wide; draws in 2 x front.hem, 500.0: 1.25 to 1; to let that open wholly" in printed


def test_finished_measurements_have_a_tolerance_each_way(told: Report) -> None:
    body = told.bodies[0]
    hem = row(body.finished, "hem_around")
    assert (hem.measures_mm, hem.over_mm, hem.under_mm) == (500.0, 10.0, 5.0)
    assert hem.text == "along the hem, flat"
    assert "  hem_around   500.0  +10.0   -5.0  along the hem, flat\n" in as_text(told)


def test_sizes_that_a_value_holds_for_are_told_as_written(told: Report) -> None:
    body = told.bodies[0]
    by_bust = "1 cm when bust_girth less_than 100 cm otherwise 1.5 cm"
    assert row(body.finished, "side_length").holds_for == (by_bust,)
    assert row(body.finished, "hem_around").holds_for == ()  # its edge differs, not what is said of it
    assert row(body.trims, "buttons").holds_for == ("5 when bust_girth less_than 90 cm otherwise 6",)
    assert f"by size: {by_bust}\n" in as_text(told)


def test_a_table_and_what_stands_behind_a_name_are_told_and_a_choice_is_no_size() -> None:
    text = HEAD + (
        "piece front = base.front {\n    cut 1 on fold\n    allow 1 cm\n}\nchoice with_hooks = yes\n"
        "table long by hip_girth between_rows row_above beyond_rows held {\n    row 90 cm is 18 cm\n    row 110 cm is 22 cm\n}\n"
        "trim zip as_long_as long\ntrim hooks count (2 when with_hooks otherwise 1)\n"
        "number few = 5 when bust_girth less_than 80 cm otherwise 6\ntrim buttons count few\n"
    )
    trims = report(written(text)).bodies[0].trims
    rows = "row 90 cm is 18 cm row 110 cm is 22 cm"
    table = f"table long by hip_girth between_rows row_above beyond_rows held {{ {rows} }}"
    assert [one.holds_for for one in trims] == [(table,), (), ("5 when bust_girth less_than 80 cm otherwise 6",)]


def test_what_is_cut_with_its_allowance_is_told_of_each_edge() -> None:
    """A dart's leg is folded, not cut; the fold has no allowance; strips of a slashed edge go unsaid in words."""
    text = HEAD + (
        "shape flat = leave base.front.side_dart as ease\n"
        "shape loose = leave flat.waist_dart as ease\nlines cuts = slash_lines loose.hem running_to loose.neckline count 1\n"
        "piece front = slash loose along cuts open_each_by 2 cm keeping side {\n"
        "    cut 1 on fold\n    allow 1 cm\n    allow 3 cm on hem\n"
        '    turn_under 1 cm on hem\n    remark "toile first"\n}\n'
        "piece other = base.front {\n    cut 1 on fold\n    allow 1 cm\n}\n"
    )
    made = report(written(text))
    front, other = made.bodies[0].pieces
    assert (row(front.edges, "hem").allowance_mm, row(front.edges, "hem").under_mm) == (30.0, 10.0)
    assert row(other.edges, "side_dart.inner_leg").allowance_mm == 0.0
    assert row(other.edges, "centre").allowance_mm == 0.0
    assert any(edge.name.startswith("hem.strip") for edge in front.edges)
    words = as_text(made)
    assert "hem.strip" not in words
    assert "allowance 30.0  10.0 of it turned under\n" in words
    assert "  toile first\n" in words


def test_cloths_and_the_cut_list(told: Report) -> None:
    assert [one.name for one in told.bodies[0].cloths] == ["shell", "fusing"]
    cuts = told.bodies[0].cut_list
    assert [(one.cloth, [piece.name for piece in one.pieces]) for one in cuts] == [
        ("shell", ["front"]),
        ("fusing", ["facing"]),
    ]
    text = as_text(told)
    assert "  shell   1 x front on the fold\n" in text
    shrinks = "shrinks 3 % along and 2 % across; pieces are drawn without: 1030.9 along and 1020.4 across become 1000"
    assert shrinks in " ".join(text.split())  # 1000 / 0.97 = 1030.93, 1000 / 0.98 = 1020.41


def test_numbers_are_shown_in_text_and_as_values(told: Report) -> None:
    shown = told.bodies[0].shown
    assert [(one.name, one.kind, one.text) for one in shown] == [
        ("hem_half", "length", "half the hem, without tolerance"),
        ("hem_to_side", "number", ""),
        ("corner", "angle", "at the centre of the hem"),
    ]
    side = next(edge.length_mm for edge in told.bodies[0].pieces[0].edges if edge.name == "side")
    assert [one.value for one in shown] == pytest.approx([250.0, 250.0 / side, 90.0], abs=1e-3)
    text = as_text(told)
    assert "numbers shown" in text
    corner = next(line for line in text.split("\n") if line.split()[:1] == ["corner"])
    assert corner.split(maxsplit=3)[1:] == ["90.0", "deg", "at the centre of the hem"]


def test_trims_by_length_and_by_number(told: Report) -> None:
    trims = told.bodies[0].trims
    assert (row(trims, "elastic").amount_mm, row(trims, "elastic").count) == (210.0, None)
    assert (row(trims, "buttons").amount_mm, row(trims, "buttons").count) == (None, 6)


def test_closures_and_what_they_need(told: Report) -> None:
    closures = told.bodies[0].closures
    found = {one.name: (one.place, one.needed_mm, one.holds) for one in closures}
    assert found == {
        "neck_slit": (("side_seam",), 105.0, True),
        "waist_zip": (("front.side",), 130.0, False),
        "too_long": (("side_seam",), None, False),
    }
    assert "FAILS: it is longer than that" in as_text(told)


def test_seams_come_in_the_order_of_sewing_with_their_way_and_note(told: Report) -> None:
    seams = told.bodies[0].seams
    assert [(one.name, one.sewn, one.after, one.note) for one in seams] == [
        ("side_seam", "plain", (), "clip at the dart"),
        ("hem_seam", "closed", ("side_seam",), ""),
    ]
    text = as_text(told)
    assert re.search(r"  1  side_seam +front.side to facing.side  plain; clip at the dart\n", text)
    assert re.search(r"  2  hem_seam +front.hem to facing.hem    closed; after side_seam\n", text)


def test_an_edge_that_is_no_seam_may_be_sewn_in_a_way(told: Report) -> None:
    assert row(told.bodies[0].sewing, "hemmed").place == ("front.hem",)
    assert "stitch 103 (single-thread blind stitch); seam 6.06.01 (blind hem); on front.hem\n" in as_text(told)


@pytest.mark.parametrize("sentence", ["cloth lining width 90 cm", "sewing closed stitch 516"])
def test_what_nothing_uses_is_told(sentence: str) -> None:
    text = HEAD + "cloth shell width 140 cm\npiece front = base.front {\n    cut 1 on fold\n    allow 1 cm\n}\n"
    assert [one.code for one in written(f"{text}{sentence}\n").diagnostics] == ["W201"]


def test_finished_measurements_of_several_bodies_stand_side_by_side() -> None:
    text = HEAD + (
        "piece front = base.front {\n    cut 1 on fold\n    allow 1 cm\n}\n"
        "finished hem_width measures length of front.hem over_by_at_most 1 cm under_by_at_most 0.5 cm\n"
        "finished side measures length of front.side tolerance (5 mm when bust_girth less_than 100 cm otherwise 8 mm)\n"
    )
    people = tuple(Body(f"size {girth}", "cm", "F", {"bust_girth": 10.0 * girth}) for girth in (84, 112))
    lines = as_text(report(replace(written(text), bodies=people))).splitlines()
    first = lines.index("finished measurements, body by body")
    assert lines[first + 1 : first + 4] == [  # the hem is a quarter of the bust and 8 cm; the side stays
        "               over   under  size 84  size 112",
        "  hem_width   +10.0    -5.0    230.0     300.0",
        "  side       varies  varies    320.0     320.0",
    ]


def test_together_as_alone() -> None:
    """The concert top on all bodies at once, and on every other of them alone."""
    bodies = sorted(str(path) for path in (PATTERNS / "bodies").glob("*.toml"))
    together = report(prepare(Disk(), str(PATTERNS / "concert_top.style"), bodies)).bodies
    alone = [report(prepare(Disk(), str(PATTERNS / "concert_top.style"), [one])).bodies[0] for one in bodies[::2]]
    assert len(bodies) > 3
    for one, other in zip(together[::2], alone, strict=True):
        for table in ("finished", "trims", "closures", "cut_list"):
            assert getattr(one, table) == getattr(other, table)


def test_care_in_the_order_of_the_symbols(told: Report) -> None:
    words = told.bodies[0].care[0].words
    assert words[0] == "wash at 30 C, mild"
    assert [one.split()[0] for one in words] == ["wash", "do", "do", "dry", "iron", "dry"]


def test_tolerances_and_numbers_may_differ_by_body() -> None:
    """Together as alone: what holds for some bodies is chosen by a condition."""
    text = HEAD + (
        "piece front = base.front {\n    cut 1 on fold\n    allow 1 cm\n}\n"
        "finished hem_width measures length of front.hem tolerance (5 mm when bust_girth less_than 100 cm otherwise 8 mm)\n"
        "trim buttons count (5 when bust_girth less_than 100 cm otherwise 7)\n"
    )

    people = tuple(Body(str(girth), "cm", "F", {"bust_girth": 10.0 * girth}) for girth in (84, 112))
    made = [result.specification for result in outcomes(replace(written(text), bodies=people))[0]]
    assert [one.finished[0].over_mm for one in made] == [5.0, 8.0]
    assert [one.finished[0].measures_mm for one in made] == pytest.approx([230.0, 300.0])  # (bust + 8 cm) / 4
    assert [one.trims[0].count for one in made] == [5, 7]


def test_what_goes_with_the_style_is_told_of_the_first_body_and_where_it_changes() -> None:
    """Alone as together: a cloth that is taken wider for some bodies is told of each with its own width."""
    text = HEAD + (
        "cloth shell width (140 cm when bust_girth less_than 100 cm otherwise 150 cm)\n"
        "piece front = base.front {\n    cut 1 on fold in shell\n    allow 1 cm\n}\n"
    )
    people = tuple(Body(str(girth), "cm", "F", {"bust_girth": 10.0 * girth}) for girth in (112, 84, 88))
    made = report(replace(written(text), bodies=people))
    assert [one.cloths[0].width_mm for one in made.bodies] == [1500.0, 1400.0, 1400.0]
    assert as_text(made).count("\ncloths\n") == 2


def test_an_edge_whose_parts_have_several_allowances_tells_none() -> None:
    text = HEAD + (
        "piece front = base.front {\n    edge low = hem between 5 cm from centre and centre\n"
        "    cut 1 on fold\n    allow 1 cm\n    allow 3 cm on low\n}\n"
    )
    (front,) = report(written(text)).bodies[0].pieces
    assert (row(front.edges, "low").allowance_mm, row(front.edges, "hem").allowance_mm) == (30.0, None)


def test_a_style_without_a_specification_prints_none() -> None:
    plain = as_text(report(written(HEAD + "piece front = base.front {\n    cut 1 on fold\n    allow 1 cm\n}\n")))
    assert not any(f"\n{heading}" in plain for heading in ("cloths", "trims", "closures", "care", "finished", "ways"))


@pytest.mark.parametrize(
    ("sentence", "message"),
    [
        ("trim elastic as_long_as length of base.front.hem - 2 m", "the trim comes to less than nothing"),
        ("trim buttons count 2.5", "this many cannot be counted out"),
        ("cloth shell width 140 cm shrinks_along 100 percent", "cloth shrinks by a share between none and all of it"),
    ],
)
def test_what_cannot_be_bought(sentence: str, message: str) -> None:
    result = outcomes(written(f"{HEAD}{sentence}\n"))[0][0]
    assert [error.message for error in result.errors] == [message]


@settings(max_examples=50, deadline=None)
@given(st.data())
def test_the_order_of_sewing_keeps_all_seams_each_behind_its_own(data: st.DataObject) -> None:
    names = [f"seam{k}" for k in range(data.draw(st.integers(1, 8)))]
    earlier = [tuple(data.draw(st.lists(st.sampled_from(names[:k]), unique=True))) if k else () for k in range(len(names))]
    after = dict(data.draw(st.permutations([*zip(names, earlier, strict=True)])))
    placed = as_said(after)
    assert sorted(placed) == sorted(names)
    assert all(placed.index(before) < placed.index(name) for name, those in after.items() for before in those)
    assert any(after.values()) or placed == [*after]


def test_listed_words_are_all_told() -> None:
    """Every list a verb asks for is there, its entries have meanings, and those with a form keep to it."""
    asked = {word.want.removeprefix("listed ") for verb in verbs().values() for word in verb.words if "listed" in word.want}
    assert asked == set(standards())
    for one in standards().values():
        assert all(one.words.values())
        assert not RESERVED.intersection(one.words)
        assert not one.form or all(one.looks_right(written) for written in one.words)


def test_what_is_promised_is_printed_with_how_far_off_it_may_be_and_in_inches_for_a_body_measured_so() -> None:
    """96 cm round, of a body of 90 cm: 37 13/16 and 35 7/16 inches; 5 mm are 3/16."""
    tube = (
        "language 1\npoint side_low = starting_point outward 24 cm\npoint side_top = side_low up 30 cm\n"
        "point top = starting_point up 30 cm\nshape half {\n    line hem from starting_point to side_low\n"
        "    line side from side_low to side_top\n"
        "    line upper from side_top to top\n    line centre from top to starting_point\n    fold centre\n    worn left\n"
        "    mark_level hip along hem meeting centre, side\n}\n"
        "piece front = half {\n    grain up\n    cut 2 on fold\n    allow 1 cm\n}\n"
        "fit close at_level hip over 90 cm ease 6 cm tolerance 5 mm\n"
        "fit loose at_level hip over 90 cm ease 2 cm\n"
        "fit middling at_level hip over 90 cm ease 5 cm over_by_at_most 2 cm under_by_at_most 1 cm\n"
        "finished hem_girth measures 96 cm tolerance 5 mm\n"
    )
    made = written(tube)
    told = as_text(report(made))
    for row in ("900.0    960.0  +60.0 ±5.0     +60.0  holds", "+20.0 or more   +60.0  holds", "+40.0 to +70.0  +60.0  holds"):
        assert " ".join(row.split()) in " ".join(told.split())
    assert "fit: girths" in told
    inches = as_text(report(replace(made, bodies=tuple(replace(body, unit="in") for body in made.bodies))))
    assert "finished measurements, in inches" in inches
    assert "fit, in inches: girths" in inches
    assert "35 7/16 37 13/16 +2 3/8 ±3/16 +2 3/8 holds" in " ".join(inches.split())
    assert "hem_girth 37 13/16 +3/16 -3/16" in " ".join(inches.split())


def test_a_part_of_an_edge_without_a_name_is_printed_as_it_is_written() -> None:
    text = f"language 1\nlength below = 3 cm\n{box('one', '30 cm', CUT, 'piece')}"
    told = as_text(report(written(f"{text}sewing tape stitch 301 on one.side between (below - 1.25 cm) from hem and hem\n")))
    assert "on one.side between (below - 1.25 cm) from hem and hem" in told
    assert ",25" not in told
