"""Every line and mark is traced to its sentences, in order, with one body's arithmetic."""

from __future__ import annotations

import re
from functools import lru_cache

import pytest
from godet.cli.main import main
from godet.graph.evaluate import evaluate
from godet.jobs.explain import LONGEST, explain, printed
from godet.jobs.outcome import outcomes
from godet.jobs.passed import sentence_of, way_of
from godet.jobs.prepare import Prepared
from godet.pattern.piece import Piece
from support.style_runs import PATTERNS, invented, prepared

STYLE, ALTO = str(PATTERNS / "concert_top.style"), str(PATTERNS / "bodies" / "alto_3.toml")
Captured = pytest.CaptureFixture[str]


def asked(name: str, capsys: Captured, *more: str, style: str = STYLE) -> list[str]:
    assert main(["explain", style, name, "--body", ALTO, *more]) == 0
    return capsys.readouterr().out.splitlines()


def in_order(told: list[str], *wanted: str) -> bool:
    """Whether lines that hold these follow each other."""
    lines = iter(told)
    return all(any(one in line for line in lines) for one in wanted)


def test_an_edge_is_told_by_the_sentences_that_made_and_changed_it(capsys: Captured) -> None:
    told = asked("panel.hem", capsys, style=str(PATTERNS / "pleated_skirt.style"))
    drawn = ("shape flat_panel", "line hem from hem_right to hem_left", "hem_right = (", "hem_left = (0.0, -460.0) mm")
    changed = ("pleat flat_panel along folds", "pleat_deep = 35.0 mm", "allow 4 cm on hem")
    assert in_order(told, "panel.hem = 768.3 mm long", *drawn, *changed)
    assert "level hip" not in "\n".join(told)  # which leaves it as it is
    assert in_order(told, "5 more sentences of its piece leave it as it is")


def test_through_an_unfolded_piece_it_has_the_name_of_its_half(capsys: Captured) -> None:
    told = asked("front.left_side", capsys)
    drafted = ("curve side = side_above", "lengthen marked_at_hip.side at hem", "sleeved.side =")
    made = ("draped_front.left_side = ", "slash plain_front", "piece front = smooth draped_front.left_side moving")
    assert in_order(told, *drafted, *made)


@pytest.mark.parametrize(
    ("name", "sentences"),
    [
        ("front.left_waist", ("mark_level waist along waist_line", "open waist_dart to hem")),
        ("front.left_bust_point", ("landmark d.bust_point called bust_point", "base.d.bust_point = (94.0, 140.0) mm")),
        ("front.right_waist_dart", ("base.d.front_dart =", "repoint waist_dart", "shorten right_waist_dart")),
        ("dartless_back", ("shape back = hip_back d", "shape cut_out = replace", "leave waist_dart as ease")),
        ("base", ("long_bodice with bust_ease 8 cm", "base.back = a piece", "base.front = a piece")),
    ],
)
def test_marks_darts_pieces_and_blocks(name: str, sentences: tuple[str, ...], capsys: Captured) -> None:
    assert in_order(asked(name, capsys), *sentences)


def test_a_seam_and_its_edges_tell_their_notches_and_why_they_are_there(capsys: Captured) -> None:
    told = asked("side_left", capsys)
    assert told[3:5] == [
        "    notch of front.left_side = 167.0 mm from hem: half of seam side_left",
        "    notch of back.side = 167.7 mm from hem: half of seam side_left",
    ]
    assert "    notch = 167.0 mm from hem: half of seam side_left" in asked("front.left_side", capsys)
    shirt = asked("back.armhole", capsys, style=str(PATTERNS / "puff_sleeve.style"))
    assert any("2 strokes: stated" in line for line in shirt)


def test_both_sides_of_a_seam_that_is_sewn_twice_are_told(capsys: Captured) -> None:
    assert in_order(asked("overarms", capsys), "overarms.left = 350.0 mm", "overarms.right = 350.0 mm")


def test_what_a_draft_is_made_of_is_told_by_its_name(capsys: Captured) -> None:
    assert in_order(asked("base.d", capsys), "definitions", "base.d.bust_level = 140.0 mm")


def test_what_is_said_of_a_piece_is_told_by_its_verb(capsys: Captured) -> None:
    assert in_order(asked("back.buttons", capsys), "buttons on slit at 0.6 cm from neckline inset_by 0.6 cm")
    assert in_order(asked("front.grain", capsys), "grain up taken_from neckline")


def test_more_than_a_screen_is_told_when_it_is_asked_for(capsys: Captured) -> None:
    short, long = asked("front.hem", capsys), asked("front.hem", capsys, "--all")
    assert len(short) <= LONGEST < len(long)
    assert in_order(long, "bust_girth = 920.0 mm")
    cut = asked("base.d.underarm_front", capsys)
    assert len(cut) == LONGEST
    assert re.fullmatch(r"  … and \d+ lines more: `--all` shows them", cut[-1])
    assert len(asked("base.d.underarm_front", capsys, "--all")) == LONGEST - 1 + int(re.findall(r"\d+", cut[-1])[0])


@lru_cache(maxsize=4)
def ready(name: str) -> Prepared:
    return prepared(PATTERNS / f"{name}.style", [invented("alto_3")])


@pytest.mark.parametrize("name", ["concert_top", "gored_skirt", "pleated_skirt", "yoke_shirt"])
def test_every_line_and_mark_of_a_style_has_its_sentences(name: str) -> None:
    """Its last sentence leaves it as it is drawn, the first that is told is one that makes it, and files and places exist."""
    style = ready(name).style
    assert style is not None
    values = evaluate(style, ready(name).population).parts[0].values
    for called, node in style.pieces.items():
        piece = values[node]
        assert isinstance(piece, Piece)
        for part in ("", *piece.edge_names(), *piece.dart_names(), *piece.points):
            way = way_of(style, values, node, part, 0)
            assert way[-1].node == node
            assert way[0].changed, (called, part)
            assert [one.node for one in way] == sorted({one.node for one in way})
            for one in way:
                span = sentence_of(style, one)
                assert style.texts[span.file][span.start : span.end].strip()


@pytest.mark.parametrize("part", ["front.hem", "front", "front.neckline", "back.underarm", "back_facing.neckline", "sleeved"])
def test_no_explanation_is_longer_than_asked(part: str) -> None:
    told, errors = explain(ready("concert_top"), part, False)
    assert not errors
    assert 3 <= len(printed(*told[0], False)) <= LONGEST


def test_the_length_told_is_that_of_the_report() -> None:
    made = ready("concert_top")
    piece = next(one for one in outcomes(made)[0][0].pieces if one.name == "back")
    for edge in piece.edges:
        told, _ = explain(made, f"back.{edge.name}", False)
        assert told[0][1][0].value == f"{edge.length_mm:.1f} mm long"
