"""The commands on real files: exit codes, what is written, what is said, and that nothing is half-written."""

from __future__ import annotations

import argparse
import json
import os
import re
import subprocess
import sys
import warnings
from collections.abc import Iterable
from pathlib import Path

import numpy as np
import pytest
import shapely
from godet.cli.main import main
from godet.jobs.build import Wanted, build
from godet.jobs.files import Disk
from godet.jobs.prepare import prepare
from support.style_runs import PATTERNS
from support.styles import written

KEYS = ["schema", "style", "built_from", "fingerprint", "assembly"]
STYLE = str(PATTERNS / "concert_top.style")
ALTO = str(PATTERNS / "bodies" / "alto_3.toml")
MEZZO = str(PATTERNS / "bodies" / "mezzo_2.toml")
WITH_PACKAGES = {**os.environ, "PYTHONPATH": os.pathsep.join(sys.path)}
SMALL = (
    "language 1\npoint a = starting_point\npoint b = a outward 5 cm\npoint c = a up 5 cm\npiece patch {\n"
    "    line lower from a to b\n    line upper from b to c\n    line side from c to a\n    cut 1\n    grain up\n}\n"
)


class Full(Disk):
    """A disk that is full when the second file is written."""

    def write(self, contents: Iterable[tuple[str, bytes]]) -> None:
        first, second, *others = contents
        Path(second[0]).mkdir(parents=True)  # a folder of that name: the file cannot take its place
        super().write([first, second, *others])


def test_build_writes_all_files_of_every_body_and_the_same_bytes_twice(tmp_path: Path) -> None:
    for folder in ("one", "two"):
        assert main(["build", STYLE, "--body", ALTO, "--body", MEZZO, "--out", str(tmp_path / folder)]) == 0
    first = {path.name: path.read_bytes() for path in (tmp_path / "one").iterdir()}
    second = {path.name: path.read_bytes() for path in (tmp_path / "two").iterdir()}
    ends = (".pdf", ".svg", "_seams.svg")
    assert sorted(first) == [f"concert_top_{name}{end}" for name in ("alto_3", "mezzo_2") for end in ends]
    assert first == second


def test_files_are_written_whole_or_not_at_all(tmp_path: Path) -> None:
    made = build(Full(), prepare(Disk(), STYLE, [ALTO]), str(tmp_path / "out"), Wanted(), lambda _: None)
    assert made.problem is not None
    assert made.problem.code == "E503"
    assert made.written == ()
    assert [path for path in (tmp_path / "out").iterdir() if path.is_file()] == []


def test_a_reader_who_has_seen_enough_is_no_fault_of_the_files(tmp_path: Path) -> None:
    """`godet build … | head -1`: what is printed while the files are made goes nowhere."""

    def gone(_: object) -> None:
        raise BrokenPipeError

    with pytest.raises(BrokenPipeError):
        build(Disk(), written(SMALL), str(tmp_path / "out"), Wanted(), gone)
    assert [path for path in (tmp_path / "out").glob("*") if path.is_file()] == []


def test_a_command_whose_reader_has_gone_ends_in_silence() -> None:
    command = [sys.executable, "-c", "import sys; from godet.cli.main import main; sys.exit(main(['words']))"]
    reading, writing = os.pipe()
    os.close(reading)
    ended = subprocess.run(command, stdout=writing, stderr=subprocess.PIPE, text=True, check=False, env=WITH_PACKAGES)
    os.close(writing)
    assert (ended.returncode, ended.stderr) == (141, "")


def test_report_has_its_keys_and_agrees_with_its_own_outline(capsys: pytest.CaptureFixture[str]) -> None:
    """Lengths and areas of the report against shapely's, on the outline flattened to 0.05 mm."""
    assert main(["report", STYLE, "--body", ALTO, "--format", "json"]) == 0
    report = json.loads(capsys.readouterr().out)
    assert list(report) == [*KEYS, "bodies", "warnings"]
    (body,) = report["bodies"]
    assert {"name", "pieces", "seams", "checks", "estimated", "errors"} <= set(body)
    for piece in body["pieces"]:
        outline = shapely.Polygon(piece["outline_mm"])
        assert outline.is_valid
        assert outline.area == pytest.approx(piece["area_mm2"], abs=0.05 * outline.length)
    facing = next(piece for piece in body["pieces"] if piece["name"] == "back_facing")
    around = sum(edge["length_mm"] for edge in facing["edges"])
    assert shapely.Polygon(facing["outline_mm"]).length == pytest.approx(around, rel=3e-4)
    for seam in body["seams"]:
        assert seam["ratio"] == pytest.approx(seam["left_mm"] / seam["right_mm"], abs=1e-3)


def test_report_lists_edges_and_not_what_they_consist_of(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Of a slashed hem no strips and gaps, of pleats no underlays: their lengths are no seam's."""
    style = tmp_path / "fold.style"
    style.write_text(PLEATED, "utf-8")
    assert main(["report", str(style), "--body", ALTO]) == 0
    _, _, rows = capsys.readouterr().out.partition("folded: cut 1")
    edges = [row.split()[0] for row in rows.splitlines()[1:] if row.startswith("  ") and ":" not in row]
    assert sorted(edges) == ["lower", "other_side", "side", "upper"]


PLEATED = """language 1
style "Folded"
point right_top = starting_point outward 40 cm
point right_low = right_top down 30 cm
point left_low = starting_point down 30 cm
shape flat {
    line upper from starting_point to right_top
    line side from right_top to right_low
    line lower from right_low to left_low
    line other_side from left_low to starting_point
}
lines cuts = slash_lines flat.lower running_to flat.upper count 3 beginning_at side
shape wide = slash flat along cuts open_each_by 2 cm hinged_at upper
lines folds = slash_lines wide.upper running_to wide.lower count 2 beginning_at side
piece folded = pleat wide along folds depth 2 cm as knife toward side leaving_free lower {
    grain up
    cut 1
}
"""


def test_explain_goes_down_to_the_measurements(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["explain", STYLE, "base.d.half_waist", "--body", ALTO]) == 0
    told = capsys.readouterr().out
    assert "base.d.half_waist = 422.5 mm" in told  # half of 74.5 cm and 10 cm of ease
    assert "length half_waist = (natural_waist_girth + waist_ease) / 2" in told
    assert "measured: 74.5 cm in" in told


@pytest.mark.parametrize(
    ("arguments", "code", "said"),
    [
        (["check", STYLE, "--body", ALTO], 0, "15 checks, 15 seams, 1 closure and 17 fits hold"),
        (["check", STYLE], 0, "no errors"),
        (["check", "missing.style"], 2, "E501"),
        (["check", str(PATTERNS)], 2, "E502"),
        (["build", STYLE], 2, "E505"),
        (["check", STYLE, "--body", ALTO, "--set", "overarm=40 cm"], 2, "between 18 cm and 30 cm"),
        (["check", STYLE, "--body", ALTO, "--set", "overram=15 cm"], 2, "did you mean `overarm`"),
        (["check", STYLE, "--body", ALTO, "--set", "overarm"], 2, "E506"),
        (["check", STYLE, "--body", ALTO, "--body", ALTO], 2, "two bodies are called"),
        (["explain", STYLE, "nothing_such", "--body", ALTO], 2, "E508"),
        (["words", "crve"], 2, "did you mean `curve`"),
        (["words", "slash"], 0, "Slash a piece along lines"),
        (["words", "back_waist_length"], 0, "back_neck_point_to_waist"),
        (["words", "kimono"], 0, "use kimono from sleeves/kimono"),
        (["measures", STYLE], 0, "bust_girth"),
    ],
)
def test_exit_codes_and_words(arguments: list[str], code: int, said: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(arguments) == code
    out = capsys.readouterr()
    assert said in out.out + out.err
    assert "Traceback" not in out.out + out.err


def test_bodies_whose_files_would_have_one_name_are_told_apart(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Else the pattern of the second would be written over that of the first."""
    text = Path(ALTO).read_text("utf-8")
    (tmp_path / "a.toml").write_text(text, "utf-8")
    (tmp_path / "b.toml").write_text(text.replace('"alto 3"', '"Alto_3"'), "utf-8")
    assert main(["build", STYLE, "--body", str(tmp_path), "--out", str(tmp_path / "out")]) == 2
    assert "two bodies are called nearly alike, `alto 3` and `Alto_3`" in capsys.readouterr().err
    assert not (tmp_path / "out").exists()


def test_a_check_that_fails_is_exit_code_1_with_its_numbers(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    text = Path(STYLE).read_text("utf-8").replace("at_least 3 cm", "at_least 90 cm")
    style = tmp_path / "strict.style"
    style.write_text(text, "utf-8")
    assert main(["check", str(style), "--body", ALTO]) == 1
    failed = r"FAILS  drape_ease: ease of drape_seam at_least 90 cm  \(1\d\d\.\d mm, 900\.0 mm\)"
    assert re.search(failed, capsys.readouterr().out)


def test_all_missing_measurements_are_told_at_once(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    body = tmp_path / "few.toml"
    body.write_text('name = "few"\nunit = "cm"\n[measures]\nbust_girth = 96\nnatural_waist_girth = 78\n', "utf-8")
    assert main(["check", STYLE, "--body", str(body)]) == 2
    said = capsys.readouterr().err
    for name in ("shoulder_length", "back_neck_point_to_waist", "neck_base_girth", "head_girth"):
        assert f"`{name}` was not measured" in said
    assert "scye_depth" not in said  # the block has a rule for it


def test_fmt_check_and_fmt(tmp_path: Path) -> None:
    style = tmp_path / "a.style"
    style.write_text('language   1\nstyle "A"\n\n\n\npoint a   = starting_point  # kept\n', "utf-8")
    assert main(["fmt", "--check", str(style)]) == 1
    assert main(["fmt", str(style)]) == 0
    assert style.read_text("utf-8") == 'language 1\nstyle "A"\n\npoint a = starting_point  # kept\n'
    assert main(["fmt", "--check", str(style)]) == 0


def test_a_choice_that_breaks_a_body_names_the_bound(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    text = Path(STYLE).read_text("utf-8").replace("at_least 3 cm", "at_least 10 cm")
    style = tmp_path / "strict.style"
    style.write_text(text, "utf-8")
    for command in ("check", "report"):
        assert main([command, str(style), "--body", ALTO, "--set", "drape=1 cm"]) == 1
        assert "change the lower bound of `drape`" in capsys.readouterr().err


def test_the_whole_piece_on_paper_is_the_piece_in_the_report() -> None:
    """The cut line lies outside the sewing line everywhere, by shapely."""
    from godet.jobs.coordinates import outline
    from godet.jobs.outcome import outcomes

    results, _ = outcomes(prepare(Disk(), STYLE, [ALTO]))
    for one in results[0].pieces:
        cloth = one.alone()
        sewn = shapely.Polygon(outline(one.piece))
        cut = shapely.Polygon(np.asarray(cloth.cut[0])).buffer(0)
        assert cut.buffer(0.2).contains(sewn)
        assert one.piece.notches


@pytest.mark.parametrize("style", sorted(PATTERNS.glob("*.style")), ids=lambda path: path.stem)
def test_the_picture_beside_a_style_is_of_this_version(style: Path) -> None:
    """Its label carries the fingerprint, which changes with the style and the library; build it again when this fails."""
    fingerprint = prepare(Disk(), str(style)).fingerprint
    assert fingerprint in (PATTERNS / f"{style.stem}_alto_3.svg").read_text("utf-8")


def test_what_a_library_warns_of_is_told_in_our_words_and_never_raw(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    def warns(given: argparse.Namespace) -> int:
        print("drawn")
        warnings.warn("invalid value encountered in difference", RuntimeWarning, stacklevel=1)
        return 0

    monkeypatch.setattr("godet.cli.commands.fmt", warns)
    assert main(["fmt", "a.style"]) == 0
    told = capsys.readouterr()
    assert told.out == "drawn\n"
    assert told.err.startswith("warning[W901]: a number of this pattern may not be what it should")
    assert "RuntimeWarning" not in told.err


@pytest.mark.parametrize("block", ["bodice", "long_bodice"])
def test_a_deep_v_neck_warns_of_nothing_that_is_not_told(block: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A V lowered by 28 cm runs through the levels of the chest, as far as the waist on short bodies."""
    style = tmp_path / "deep.style"
    style.write_text(
        f"language 1\nuse {block} from blocks/bodice\nuse vee_neck from necklines/vee\nblock base = {block} with bust_ease 8 cm\n"
        "piece back = base.back {\n    grain up\n    cut 2 as pair\n    allow 1 cm\n}\n"
        "piece front = vee_neck base.front lowered 28 cm {\n    grain up\n    cut 1 on fold\n    allow 1 cm\n}\n",
        "utf-8",
    )
    with warnings.catch_warnings():
        warnings.simplefilter("error")
        assert main(["report", str(style), "--body", str(PATTERNS / "bodies")]) == 1
    told = capsys.readouterr()
    assert "W901" not in told.err
    assert "the bust level is cut open" in " ".join(told.out.split())
