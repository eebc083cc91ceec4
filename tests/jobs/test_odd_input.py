"""What is not as expected: files that are no styles or bodies, choices outside bounds, folders in the way, bodies that fail."""

from __future__ import annotations

import json
import math
import os
from collections.abc import Callable
from pathlib import Path

import numpy as np
import pytest
import shapely
from godet.cli.main import main
from godet.geometry.path import flatten_within
from godet.jobs.files import Disk, write
from godet.jobs.outcome import outcomes
from godet.jobs.prepare import prepare
from godet.pattern.piece import Side
from numpy.typing import NDArray
from scipy.integrate import quad
from support.style_runs import PATTERNS

STYLE = str(PATTERNS / "concert_top.style")
BODIES = PATTERNS / "bodies"
ALTO = str(BODIES / "alto_3.toml")
SMALL = """language 1
style "S"
piece p {
    line a from starting_point to far
    line b from far to high
    line c from high to starting_point
    cut 1
    allow 1 cm
}
point far = starting_point outward bust_girth
point high = starting_point up 9 cm
"""
Captured = pytest.CaptureFixture[str]
Corners = NDArray[np.float64]


def binary(path: Path) -> None:
    path.write_bytes(bytes(range(256)) * 8)


def empty(path: Path) -> None:
    path.write_bytes(b"")


def latin(path: Path) -> None:
    path.write_bytes(b"language 1\n# caf\xe9\n")


def wide(path: Path) -> None:
    path.write_bytes(b"\xff\xfe" + "language 1".encode("utf-16-le"))


def nested(path: Path) -> None:
    path.write_text("language 1\nlength a = " + "(" * 5000 + "1 cm" + ")" * 5000 + "\n", "utf-8")


def one_line(path: Path) -> None:
    path.write_text("length a = " + "1 cm + " * 3000 + "1 cm\n", "utf-8")


ODD: list[Callable[[Path], None]] = [binary, wide, nested, Path.mkdir]


def plain(said: str) -> None:
    """Words for a cutter: no trace of the machinery."""
    assert "Traceback" not in said
    assert "E901" not in said


@pytest.mark.parametrize("make", ODD, ids=lambda make: make.__name__)
def test_what_is_no_style_is_refused_in_words(make: Callable[[Path], None], tmp_path: Path, capsys: Captured) -> None:
    path = tmp_path / "odd.style"
    make(path)
    for command in (["check"], ["build", "--body", ALTO, "--out", str(tmp_path / "out")], ["fmt"]):
        assert main([*command, str(path)]) == 2, command
        said = capsys.readouterr()
        plain(said.out + said.err)
        assert "error[" in said.err
        assert str(path) in said.err
    assert not (tmp_path / "out").exists()


@pytest.mark.parametrize("make", [empty, one_line], ids=lambda make: make.__name__)
def test_what_is_odd_but_readable_ends_in_words_too(make: Callable[[Path], None], tmp_path: Path, capsys: Captured) -> None:
    path = tmp_path / "odd.style"
    make(path)
    assert main(["check", str(path), "--body", ALTO]) in (0, 2)
    said = capsys.readouterr()
    plain(said.out + said.err)


@pytest.mark.parametrize("make", [*ODD[:3], empty], ids=lambda make: make.__name__)
def test_what_is_no_body_is_refused_in_words(make: Callable[[Path], None], tmp_path: Path, capsys: Captured) -> None:
    path = tmp_path / "odd.toml"
    make(path)
    assert main(["check", STYLE, "--body", str(path)]) == 2
    said = capsys.readouterr()
    plain(said.out + said.err)
    assert "error[" in said.err
    assert str(path) in said.err


def test_a_folder_without_bodies_and_a_body_that_is_not_there(tmp_path: Path, capsys: Captured) -> None:
    assert main(["check", STYLE, "--body", str(tmp_path)]) == 2
    assert "E504" in capsys.readouterr().err
    assert main(["check", STYLE, "--body", str(tmp_path / "none.toml")]) == 2
    assert "E501" in capsys.readouterr().err


@pytest.mark.parametrize(
    ("setting", "said"),
    [
        ("overarm=17.9 cm", "between 18 cm and 30 cm"),
        ("overarm=30.1 cm", "between 18 cm and 30 cm"),
        ("drape=-1 cm", "between 1 cm and 4.5 cm"),
        ("overarm=15", "overarm"),
        ("overarm=yes", "overarm"),
        ("overarm=15 deg", "overarm"),
        ("sleeve=15 cm", "sleeve"),
        ("=15 cm", "E506"),
        ("overarm=", "E506"),
        ("overarm=15 cm\nlength a = 1 cm", "E506"),
        ("Overarm=15 cm", "write `overarm`"),
        ("overarm=15,5 cm", "write `15.5 cm`"),
    ],
)
def test_a_setting_that_cannot_be_is_refused(setting: str, said: str, capsys: Captured) -> None:
    assert main(["check", STYLE, "--body", ALTO, "--set", setting]) == 2
    captured = capsys.readouterr()
    plain(captured.out + captured.err)
    assert said in captured.err


@pytest.mark.parametrize("setting", ["overarm=18 cm", "overarm=30cm", "overarm=250mm", "overarm=10 inch"])
def test_a_setting_on_its_bounds_or_in_another_unit_is_taken(setting: str, capsys: Captured) -> None:
    assert main(["check", STYLE, "--set", setting]) == 0
    assert "error" not in capsys.readouterr().err


def test_a_setting_may_be_below_zero_where_the_bounds_are(tmp_path: Path, capsys: Captured) -> None:
    style = tmp_path / "s.style"
    choice = 'choice raised = 0 cm between -2 cm and 2 cm "of the hem"\n'
    style.write_text(f'language 1\nstyle "S"\n{choice}check c that raised equals -1.5 cm tolerance 0.1 mm\n', "utf-8")
    assert main(["check", str(style), "--body", ALTO, "--set", "raised=-1.5 cm"]) == 0
    assert main(["check", str(style), "--body", ALTO]) == 1
    assert main(["check", str(style), "--set", "raised=-2.1 cm"]) == 2
    assert "between -2 cm and 2 cm" in capsys.readouterr().err


def test_bodies_are_those_of_files_and_folders_in_the_order_given(tmp_path: Path, capsys: Captured) -> None:
    style = tmp_path / "s.style"
    style.write_text(SMALL, "utf-8")
    folder = tmp_path / "bodies"
    folder.mkdir()
    for name in ("mezzo_2", "alto_5"):
        (folder / f"{name}.toml").write_bytes((BODIES / f"{name}.toml").read_bytes())
    (folder / "notes.txt").write_text("not a body", "utf-8")
    given = ["--body", str(BODIES / "soprano_1.toml"), "--body", str(folder), "--body", ALTO, "--format", "json"]
    assert main(["report", str(style), *given]) == 0
    names = [body["name"] for body in json.loads(capsys.readouterr().out)["bodies"]]
    assert names == ["soprano 1", "alto 5", "mezzo 2", "alto 3"]


@pytest.mark.parametrize("sentence", ["use a from odd", 'style "S" from odd'])
@pytest.mark.parametrize(("make", "code"), [(binary, "E131"), (latin, "E130"), (Path.mkdir, "E502")])
def test_a_module_that_is_no_text_is_told_once_where_it_is_asked_for(
    make: Callable[[Path], None], code: str, sentence: str, tmp_path: Path, capsys: Captured
) -> None:
    make(tmp_path / "odd.style")
    style = tmp_path / "s.style"
    style.write_text(f"language 1\n{sentence}\n", "utf-8")
    assert main(["check", str(style)]) == 2
    said = capsys.readouterr().err
    assert said.count("error[") == 1
    assert f"error[{code}]" in said
    assert f"{style}:2:" in said


def test_a_body_given_twice_and_an_empty_name_for_one(capsys: Captured) -> None:
    assert main(["check", STYLE, "--body", ALTO, "--body", ALTO]) == 2
    assert "give the file once" in capsys.readouterr().err
    assert main(["check", STYLE, "--body", ""]) == 2
    assert "E502" in capsys.readouterr().err


@pytest.mark.parametrize(
    ("name", "said"),
    [
        ("front.waist", "did you mean `front.left_waist` or `front.right_waist`"),
        ("waist_girth", "the style does not use the measurement `waist_girth`"),
    ],
)
def test_what_explain_cannot_explain_is_not_said_to_be_missing(name: str, said: str, capsys: Captured) -> None:
    assert main(["explain", STYLE, name, "--body", ALTO]) == 2
    captured = capsys.readouterr()
    assert said in captured.err
    assert "did you mean" in said or "nothing called" not in captured.err


def test_a_sentence_without_a_number_is_explained_by_itself(capsys: Captured) -> None:
    assert main(["explain", STYLE, "shell", "--body", ALTO]) == 0
    assert "  shell   [" in capsys.readouterr().out


def failing_for_alto(folder: Path) -> Path:
    style = folder / "s.style"
    style.write_text(SMALL + "check c that 1 m / (bust_girth - 92 cm) less_than 1 m / 1 mm\n", "utf-8")
    return style


def test_a_body_that_fails_is_not_built_and_the_others_are(tmp_path: Path, capsys: Captured) -> None:
    style, out = failing_for_alto(tmp_path), tmp_path / "out"
    assert main(["build", str(style), "--body", str(BODIES), "--out", str(out)]) == 2
    others = {path.stem for path in BODIES.glob("*.toml")} - {"alto_3"}
    assert {path.stem for path in out.iterdir()} == {f"s_{name}" for name in others}
    said = capsys.readouterr()
    assert "(alto 3)" in said.err
    assert "divides by zero" in said.err


def test_a_body_that_fails_stands_in_the_report_with_its_error(tmp_path: Path, capsys: Captured) -> None:
    assert main(["report", str(failing_for_alto(tmp_path)), "--body", str(BODIES), "--format", "json"]) == 2
    bodies = {body["name"]: body for body in json.loads(capsys.readouterr().out)["bodies"]}
    assert {name for name, body in bodies.items() if body["errors"]} == {"alto 3"}
    assert bodies["alto 3"]["pieces"] == []
    assert len(bodies["mezzo 2"]["pieces"]) == 1


def length_by_quadrature(side: Side) -> float:
    """Arc length of a side's cubics by scipy's quadrature of the speed."""

    def speed(t: float, cubic: Corners) -> float:
        a, b, c, d = cubic
        x, y = 3 * ((1 - t) ** 2 * (b - a) + 2 * (1 - t) * t * (c - b) + t**2 * (d - c))
        return math.hypot(x, y)

    (cubics,) = side.drawn.controls
    return sum(float(quad(speed, 0.0, 1.0, args=(cubic,), epsabs=1e-9, limit=200)[0]) for cubic in cubics)


def test_reported_lengths_are_those_of_scipy_and_shapely() -> None:
    """Arc length of each edge by quadrature to 1e-3 mm, and by shapely on a fine polyline of it."""
    (one,), _ = outcomes(prepare(Disk(), STYLE, [ALTO]))
    compared = 0
    for made in one.pieces:
        alone = made.piece.take(np.array([made.lane]))
        for edge in made.edges:
            sides = [side for side in alone.ring if edge.name in side.names]
            assert edge.length_mm == pytest.approx(sum(length_by_quadrature(side) for side in sides), abs=1e-3)
            lines = [shapely.LineString(flatten_within(side.drawn, 0.001)) for side in sides]
            assert edge.length_mm == pytest.approx(sum(line.length for line in lines), abs=0.05)
            compared += 1
    assert compared > 30




@pytest.mark.parametrize("refused", [0, 1, 2])
def test_when_one_file_cannot_be_written_all_is_as_before(refused: int, tmp_path: Path) -> None:
    """A folder stands where the file should go; the others, old or new, are as they were."""
    names = ["old", "new", "other"]
    (tmp_path / "old").write_bytes(b"before")
    blocked = tmp_path / names[refused]
    blocked.unlink(missing_ok=True)
    blocked.mkdir()
    before = {path.name: path.read_bytes() for path in tmp_path.iterdir() if path.is_file()}
    problem = write(Disk(), [(str(tmp_path / name), name.encode()) for name in names])
    assert problem is not None
    assert problem.code == "E503"
    assert str(blocked) in problem.message
    assert {path.name: path.read_bytes() for path in tmp_path.iterdir() if path.is_file()} == before


@pytest.mark.parametrize("failing", range(1, 5))
def test_when_a_rename_fails_halfway_all_is_put_back(failing: int, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (tmp_path / "old").write_bytes(b"before")
    true, calls = os.replace, iter(range(1, 100))

    def replace(source: str, target: str) -> None:
        if next(calls) == failing:
            raise OSError(28, "No space left on device", target)
        true(source, target)

    monkeypatch.setattr(os, "replace", replace)
    problem = write(Disk(), [(str(tmp_path / name), b"after") for name in ("first", "old", "third")])
    assert problem is not None
    assert [(path.name, path.read_bytes()) for path in tmp_path.iterdir()] == [("old", b"before")]


def test_written_files_replace_those_before_and_leave_nothing_else(tmp_path: Path) -> None:
    (tmp_path / "old").write_bytes(b"before")
    assert write(Disk(), [(str(tmp_path / "old"), b"after"), (str(tmp_path / "sub" / "new"), b"new")]) is None
    assert {path.name for path in tmp_path.iterdir()} == {"old", "sub"}
    assert (tmp_path / "old").read_bytes() == b"after"
    assert (tmp_path / "sub" / "new").read_bytes() == b"new"


def test_nothing_to_write_is_no_problem() -> None:
    assert write(Disk(), []) is None


def test_an_output_folder_that_is_a_file_is_told(tmp_path: Path, capsys: Captured) -> None:
    style = tmp_path / "s.style"
    style.write_text(SMALL, "utf-8")
    (tmp_path / "out").write_text("a file", "utf-8")
    assert main(["build", str(style), "--body", ALTO, "--out", str(tmp_path / "out")]) == 2
    said = capsys.readouterr().err
    assert "E503" in said
    assert "a file stands where its folder should be" in said
    assert (tmp_path / "out").read_text("utf-8") == "a file"
