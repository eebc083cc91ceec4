"""Small styles that once were drawn wrong, or not at all, in silence: what becomes of each of them."""

from __future__ import annotations

import json
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from godet.bodies.body import Body
from godet.bodies.plausibility import review
from godet.drawing.lines import cut_lines
from godet.drawing.marks import Label
from godet.jobs.files import Disk
from godet.jobs.outcome import outcomes
from godet.jobs.prepare import prepare
from godet.jobs.results import BodyResult
from support.reports import as_json, report
from support.sheets import sheet_of
from support.style_runs import invented, results
from support.styles import said, written

TRIALS = Path(__file__).parent / "trials"


def drawn(name: str, *bodies: Body) -> tuple[BodyResult, ...]:
    return results(TRIALS / f"{name}.style", bodies or (invented("alto_3"),))


def test_unlike_allowances_on_edges_nearly_in_line_make_a_step_and_no_spike() -> None:
    """The cut lines, 1.5 and 1 cm off edges nearly in line, would meet some 28 cm away."""
    ((one,),) = (result.pieces for result in drawn("cut_line_spike"))
    cut, ring = one.alone().cut[0], np.concatenate([side.drawn.controls[0].reshape(-1, 2) for side in one.piece.ring])
    assert (ring.min(axis=0) - cut.min(axis=0)).max() == pytest.approx(15.0, abs=1.0)


def test_a_fold_is_not_cut_under_a_new_lower_edge() -> None:
    ((one,),) = (result.pieces for result in drawn("cut_on_the_fold"))
    fold = one.piece.sides("centre")[0].drawn.start[0, 0]
    for mark in cut_lines(one.alone()):
        along = np.abs(mark.points[:, 0] - fold) < 0.1  # type: ignore[union-attr]
        assert not (along[1:] & along[:-1]).any()


def test_an_allowance_on_a_fold_is_an_error_that_names_both_sentences() -> None:
    made = prepare(Disk(), str(TRIALS / "fold_with_allowance.style"))
    assert [(one.code, len(one.spans())) for one in made.diagnostics] == [("E249", 2), ("E249", 2)]


@pytest.mark.parametrize("body", ["alto_3", "alto_5", "mezzo_2"])
def test_pleats_that_end_on_the_leg_of_a_dart_leave_its_cap_whole(body: str) -> None:
    """What the pleats fold away on the leg belongs to the dart: nothing is cut between its legs."""
    (result,) = drawn("slash_to_dart_leg", invented(body))
    assert not result.errors
    (one,) = result.pieces
    cloth = one.alone()
    assert all(cloth.sides[i] is None for i, side in enumerate(cloth.piece.ring) if side.edge.endswith("far_underlay"))


def test_a_girth_that_runs_into_a_dart_is_refused() -> None:
    (result,) = drawn("girth_over_a_dart")
    assert [one.message for one in result.errors] == ["the level line runs into the dart `side_dart`"]


def test_an_estimate_behind_a_condition_of_a_solved_piece_is_told() -> None:
    body = invented("alto_3")
    without = replace(body, measures={name: value for name, value in body.measures.items() if name != "knee_height"})
    (known,), (estimated,) = drawn("estimate_not_told"), drawn("estimate_not_told", without)
    assert [one.name for one in known.estimated] == []
    assert [one.name for one in estimated.estimated] == ["waist_to_knee_height"]


def band(name: str, long: str) -> str:
    return (
        f"point {name}_a = starting_point\npoint {name}_b = starting_point outward {long}\npoint {name}_c = {name}_b up 5 cm\n"
        f"point {name}_d = starting_point up 5 cm\npiece {name} {{\n    line lower from {name}_a to {name}_b\n"
        f"    line end from {name}_b to {name}_c\n    line upper from {name}_c to {name}_d\n"
        f"    line start from {name}_d to {name}_a\n    cut 1\n    allow 1 cm\n    grain along lower\n}}\n"
    )


def test_an_estimate_stands_on_the_pieces_that_rest_on_it_and_on_no_other() -> None:
    body = invented("alto_3")
    without = replace(body, measures={name: value for name, value in body.measures.items() if name != "wrist_girth"})
    made = replace(written("language 1\n" + band("cuff", "wrist_girth + 4 cm") + band("belt", "50 cm")), bodies=(without,))
    told = json.loads(as_json(report(made)))["bodies"][0]
    assert told["estimated"] == ["wrist_girth"]
    assert {piece["name"]: piece["estimated"] for piece in told["pieces"]} == {"cuff": ["wrist_girth"], "belt": []}
    ((result,), _) = outcomes(made)
    assert [one.pieces for one in result.estimated] == [("cuff",)]


def test_an_estimate_that_no_piece_rests_on_stands_on_the_sheet() -> None:
    """The girth of the neck is asked by a check of the shirt alone, the length of the arm by its sleeve."""
    sheet = sheet_of("yoke_shirt", "alto_3")
    assert sheet.title.cautions == ("Not measured: neck girth, estimated 32.1 ± 1.1 cm.",)
    labels = [" ".join(mark.text for mark in one.marks if isinstance(mark, Label)) for one in sheet.drawings]
    assert [one.name for one, label in zip(sheet.drawings, labels, strict=True) if "outer arm length" in label] == ["sleeve"]


def test_an_edge_that_a_facing_has_no_more_is_missed_with_the_reason() -> None:
    text = (
        "language 1\nuse plain_half from shapes\nblock base = plain_half with bust_ease 8 cm\n"
        "piece armhole_facing = facing base.front along armhole depth 4 cm {\n    cut 2 as pair\n    allow 1 cm on neckline\n}\n"
    )
    assert "it is not on the facing" in said(written(text))


@pytest.mark.parametrize("body", ["alto_3", "alto_5", "mezzo_2"])
def test_necklines_drawn_round_run_on_over_the_shoulder_by_themselves(body: str) -> None:
    """What breaks by more than 5 degrees is told of a seam without being asked."""
    (result,) = drawn("neckline_kink", invented(body))
    assert not result.errors
    assert [one.message for one in result.warnings if one.code == "W310"] == []


HALF = "language 1\nuse plain_half from shapes\nblock base = plain_half with bust_ease 8 cm\n"
CUT = "    cut 1 on fold\n    grain up\n    allow 1 cm\n"


@pytest.mark.parametrize(
    "outer",
    [
        "length hem = 2 cm\ncheck far that hem + 1 cm at_least 1 cm\n",
        "point hem = starting_point up 3 cm\ncheck far that distance from hem to starting_point at_least 1 cm\n",
    ],
)
def test_a_name_of_the_style_that_an_edge_has_too_moves_no_notch(outer: str) -> None:
    piece = f"piece one = base.front {{\n{CUT}    notch side at 7 cm from hem\n}}\n"
    spots = []
    for text in (piece, outer + piece):
        ((result,), _) = outcomes(written(HALF + text))
        spots.append([(notch.side, float(notch.at[0])) for notch in result.pieces[0].piece.notches if notch.stated])
    assert spots[0] == spots[1] != []


def test_a_seam_on_a_shape_that_is_not_cut_is_told_with_the_pieces_that_may_be_meant() -> None:
    pieces = "".join(f"piece {name} = base.front {{\n{CUT}}}\n" for name in ("one", "two"))
    told = said(written(f"{HALF}{pieces}seam sides joins base.front.side to two.side\n"))
    assert "`sides` is sewn on `base.front.side`, an edge of a shape that is not cut" in told
    assert "write `one.side` or `two.side`" in told


def test_a_scye_9_cm_too_deep_on_a_man_is_questioned() -> None:
    man = invented("bass_2")
    (found,) = review(replace(man, measures={**man.measures, "scye_depth": man.measures["scye_depth"] + 90.0}))
    assert found.message == "`scye_depth` of 30.7 cm is far from every body measured"
