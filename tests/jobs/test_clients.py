"""A style for each client of a table: who stands beside whom changes no byte, and what has not changed is not made again."""

from __future__ import annotations

import json
import pickle
import random
from collections.abc import Iterable
from dataclasses import replace
from multiprocessing import get_context
from pathlib import Path

import godet
import openpyxl
import pytest
from godet.cli.main import main
from godet.jobs import client_work, sharing
from godet.jobs.files import Disk

STYLE = Path(__file__).with_name("clients.style")
HEAD = "name,id,sex,unit,natural_waist_girth,hip_girth,top_hip_girth,ankle_girth,choice long,note"
ROWS = (
    "Anna,7,F,cm,74.5,99.5,88.5,24,,likes red",
    "Zoë Ångström,8,F,cm,80,104,92,,65,",
    '"Smith, J/R",9,F,in,28 1/2,38,35,,25 1/2,',
    "CON,10,F,cm,66,92,84,,70 cm,",
)
"""All invented."""


def table(folder: Path, rows: Iterable[str], head: str = HEAD, name: str = "clients.csv") -> Path:
    path = folder / name
    path.write_text("\n".join([head, *rows, ""]), "utf-8")
    return path


def built(rows: Path, out: Path, label: str = "name", **how: object) -> godet.ClientsBuilt:
    style = godet.open_style(STYLE)
    on = style.clients(rows, label="id" if label == "id" else "name")
    return on.build(out, **how)  # type: ignore[arg-type]  # as it is given


def states(found: godet.ClientsBuilt) -> list[str]:
    return [row.state for row in found.rows]


def files(folder: Path) -> dict[str, bytes]:
    """The files of clients, without the list of them."""
    return {path.name: path.read_bytes() for path in folder.iterdir() if path.suffix in (".svg", ".pdf")}


def lines(folder: Path) -> list[dict[str, object]]:
    return [json.loads(line) for line in (folder / "made.jsonl").read_text("utf-8").splitlines()]


@pytest.fixture(scope="module")
def first(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The folder of four clients, made in one run."""
    folder = tmp_path_factory.mktemp("clients")
    assert states(built(table(folder, ROWS), folder / "out")) == ["made"] * 4
    return folder / "out"


def test_the_files_of_a_client_are_those_of_its_body_alone(first: Path, tmp_path: Path) -> None:
    body = {"name": "Anna", "sex": "F", "unit": "cm", "natural_waist_girth": 74.5, "hip_girth": 99.5, "top_hip_girth": 88.5}
    godet.open_style(STYLE).on(body).build(tmp_path)
    alone = files(tmp_path)
    assert alone
    assert alone.items() <= files(first).items()


def test_names_are_safe_as_files(first: Path) -> None:
    stems = {Path(name).stem for name in files(first)}
    assert stems == {"clients_anna", "clients_zoë_ångström", "clients_smith__j_r", "clients_con"}


def test_the_order_of_rows_changes_no_byte(first: Path, tmp_path: Path) -> None:
    rows = list(ROWS)
    random.Random(3).shuffle(rows)
    found = built(table(tmp_path, rows), tmp_path / "out")
    assert [row.label[:3] for row in found.rows] == [row.strip('"')[:3] for row in rows]
    assert files(tmp_path / "out") == files(first)
    assert sorted(map(str, lines(tmp_path / "out"))) == sorted(map(str, lines(first)))


def test_processes_change_no_byte(first: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(client_work, "SEVERAL_FROM", 2)
    monkeypatch.setattr(sharing, "get_context", lambda _: get_context("fork"))  # begins at once
    monkeypatch.setattr(client_work.Styles, "fresh", lambda self: pickle.loads(pickle.dumps(replace(self, _held={}))))
    built(table(tmp_path, ROWS), tmp_path / "out", jobs=2)
    assert files(tmp_path / "out") == files(first)
    assert lines(tmp_path / "out") == lines(first)


def test_a_second_run_writes_nothing(first: Path, tmp_path: Path) -> None:
    rows = table(tmp_path, ROWS)
    before = {path: path.stat().st_mtime_ns for path in first.iterdir()}
    found = built(rows, first)
    assert states(found) == ["unchanged"] * 4
    assert found.written == ()
    assert {path: path.stat().st_mtime_ns for path in first.iterdir()} == before


class Stopped(Disk):
    """A disk on which work is interrupted after so many clients, before or after the list is added to."""

    def __init__(self, after: int, torn: bool) -> None:
        self.after, self.torn = after, torn

    def append(self, path: str, content: bytes) -> None:
        if not self.after:
            if self.torn:
                super().append(path, content[:40])
            raise KeyboardInterrupt
        self.after -= 1
        super().append(path, content)


@pytest.mark.parametrize(("after", "torn"), [(0, False), (2, False), (2, True)])
def test_interrupted_it_goes_on_where_it_stopped(first: Path, tmp_path: Path, after: int, torn: bool) -> None:
    rows, out = table(tmp_path, ROWS), tmp_path / "out"
    with pytest.raises(KeyboardInterrupt):
        godet.open_style(STYLE, files=Stopped(after, torn)).clients(rows).build(out)
    found = built(rows, out)
    assert states(found) == ["unchanged"] * after + ["made"] * (4 - after)
    assert files(out) == files(first)
    assert states(built(rows, out)) == ["unchanged"] * 4


def changed(rows: Iterable[str], before: str, after: str) -> list[str]:
    text = "\n".join(rows)
    assert text.count(before) == 1
    return text.replace(before, after).split("\n")


@pytest.mark.parametrize(
    ("before", "after", "whom"),
    [
        (",88.5,24,", ",88.5,25,", []),  # an ankle, on which nothing rests
        ("likes red", "likes blue", []),
        (",88.5,24,", ",89,24,", ["Anna"]),
        (",88.5,24,", ",,24,", ["Anna"]),  # measured before, estimated now
        ("80,104", "81,104", ["Zoë Ångström"]),
        ("25 1/2", "26", ["Smith, J/R"]),
        ("25 1/2", "25.5", []),  # the same, written otherwise
        ("CON,", "Con,", ["Con"]),  # what stands on the sheet
    ],
)
def test_what_changes_is_made_again_and_nothing_else(
    tmp_path: Path, first: Path, before: str, after: str, whom: list[str]
) -> None:
    out = tmp_path / "out"
    out.mkdir()
    for path in first.iterdir():
        (out / path.name).write_bytes(path.read_bytes())
    found = built(table(tmp_path, changed(ROWS, before, after)), out)
    assert [row.label for row in found.rows if row.state == "made"] == whom


def test_another_setting_or_a_lost_file_is_made_again(tmp_path: Path) -> None:
    rows, out = table(tmp_path, ROWS[:2]), tmp_path / "out"
    built(rows, out)
    (out / "clients_anna.pdf").write_bytes(b"by hand")
    assert states(built(rows, out)) == ["made", "unchanged"]
    assert states(built(rows, out, paper="a3")) == ["made", "made"]
    style = godet.open_style(STYLE, settings={"long": "50 cm"})
    assert states(style.clients(rows).build(out, paper="a3")) == ["made", "unchanged"]  # a row's own choice comes before


def test_a_broken_row_does_not_stop_the_others(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    broken = ["Bert,11,F,cm,7x,92,84,,,", "Carl,12,F,ell,66,92,84,,,", "Dora,13,F,cm,66,92,84,,9 m,", "Emil,14,F,cm,,92,84,,,"]
    rows, out = table(tmp_path, [broken[0], ROWS[0], *broken[1:]]), tmp_path / "out"
    assert main(["build", str(STYLE), "--clients", str(rows), "--out", str(out)]) == 2
    told = capsys.readouterr()
    assert {Path(name).stem for name in files(out)} == {"clients_anna"}
    assert "5 clients: 1 made, 4 not made" in told.out
    assert f"{rows}:2:14" in told.err
    assert "`7x` in the column `natural_waist_girth` is not a number" in told.err
    assert f"{rows}:4:11" in told.err
    assert f"{rows}:5:{len('Dora,13,F,cm,66,92,84,,') + 1}" in told.err
    listed = (out / "not_made.csv").read_text("utf-8").splitlines()
    assert listed[0] == f"{HEAD},why"
    assert [row[: len(given)] for row, given in zip(listed[1:], broken, strict=True)] == broken
    assert "between 30 cm and 90 cm" in listed[3]
    mended = tmp_path / "mended.csv"
    mended.write_text((out / "not_made.csv").read_text("utf-8").replace("7x", "70"), "utf-8")
    assert states(built(mended, out)) == ["made", "not made", "not made", "not made"]
    with pytest.raises(godet.StyleError, match="written over"):
        built(out / "not_made.csv", out)


def test_a_check_that_fails_is_told_each_time(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    rows = table(tmp_path, [ROWS[0], "Round,20,F,cm,110,100,100,,,"])
    for state in ("made", "unchanged"):
        assert main(["build", str(STYLE), "--clients", str(rows), "--out", str(tmp_path / "out")]) == 1
        told = capsys.readouterr().out
        assert f"2 clients: 2 {state}" in told
        assert "FAILS: 1 of 1 check" in told
        assert "; 1 warned, 1 fails" in told
        no_measures = {"style", "id", "key", "files", "holds", "failing", "warnings", "estimated"}
        assert all(line.keys() == no_measures for line in lines(tmp_path / "out"))


@pytest.mark.parametrize(
    ("one", "other"),
    [
        ("Anna,1", "anna,2"),
        ("Anna,1", "ANNA!,2"),
        ("A b,1", "a/b,2"),
        ("Straße,1", "STRASSE,2"),  # one name where a system takes capitals and small letters for the same
        ("Anna,1", "Anna seams,2"),  # whose sheet is called as the seam map of the other
        ("Anna,1", "Bea,1"),
        ("Anna,", "Anna,"),
    ],
)
def test_two_rows_of_one_name_stop_all_before_anything_is_written(tmp_path: Path, one: str, other: str) -> None:
    rest = ",F,cm,74.5,99.5,88.5,,,"
    rows = table(tmp_path, [one + rest, "Between,5" + rest, other + rest])
    with pytest.raises(godet.StyleError) as raised:
        built(rows, tmp_path / "out")
    assert "line 2" in str(raised.value)
    assert "line 4" in str(raised.value)
    assert not (tmp_path / "out").exists()


def test_by_id_no_name_is_on_paper_or_in_the_list(tmp_path: Path) -> None:
    found = built(table(tmp_path, [ROWS[0], "Anna,6,F,cm,74.5,99.5,88.5,,,"]), tmp_path / "out", label="id")
    assert states(found) == ["made"] * 2
    assert {Path(name).stem for name in files(tmp_path / "out")} == {"clients_6", "clients_7"}
    for path in (tmp_path / "out").iterdir():
        assert b"Anna" not in path.read_bytes()
        assert "anna" not in path.name


def test_whoever_is_no_longer_in_the_table_is_told_and_kept(tmp_path: Path) -> None:
    out = tmp_path / "out"
    built(table(tmp_path, ROWS[:2]), out)
    found = built(table(tmp_path, ROWS[1:2]), out)
    assert {Path(path).name for path in found.left} == {"clients_anna.svg", "clients_anna.pdf"}
    assert len(files(out)) == 4


BODY = """name = "Anna"
unit = "cm"
sex = "F"
[measures]
natural_waist_girth = 74.5
hip_girth = 99.5
ankle_girth = 24
"""


def test_a_folder_a_table_and_a_spreadsheet_give_the_same_bytes(tmp_path: Path) -> None:
    bodies = tmp_path / "bodies"
    bodies.mkdir()
    (bodies / "anna.toml").write_text(BODY)
    (bodies / "bea.toml").write_text(BODY.replace("Anna", "Bea").replace("74.5", "7o"))
    book = openpyxl.Workbook()
    sheet = book.active
    assert sheet is not None
    sheet.append(["name", "unit", "sex", "natural_waist_girth", "hip_girth", "ankle_girth"])
    sheet.append(["Anna", "cm", "F", 74.5, 99.5, 24])
    book.save(tmp_path / "clients.xlsx")
    semicolons = ["Anna;745;995"]
    rows = table(tmp_path, semicolons, "Name;Taille;Hüfte")
    columns = "theirs,ours,unit\nName,name,\nTaille,natural_waist_girth,mm\nHüfte,hip_girth,mm\n"
    (tmp_path / "columns.csv").write_text(columns, "utf-8")
    style = godet.open_style(STYLE)
    of_folder = style.clients(bodies).build(tmp_path / "one")
    assert states(of_folder) == ["made", "not made"]
    assert "bea.toml" in (tmp_path / "one" / "not_made.csv").read_text("utf-8")
    assert states(style.clients(tmp_path / "clients.xlsx").build(tmp_path / "two")) == ["made"]
    assert files(tmp_path / "one") == files(tmp_path / "two")
    assert lines(tmp_path / "one") == lines(tmp_path / "two")
    mapped = style.clients(rows, columns=tmp_path / "columns.csv")
    assert not mapped.diagnostics
    assert states(mapped.build(tmp_path / "three")) == ["made"]
    assert files(tmp_path / "one").keys() == files(tmp_path / "three").keys()


@pytest.mark.parametrize(
    ("arguments", "code"),
    [
        (["--clients", "CLIENTS", "--body", "x.toml"], "E538"),
        (["--label", "id", "--body", "x.toml"], "E555"),
        (["--clients", "no.csv"], "E501"),
    ],
)
def test_options_that_do_not_go_together_are_refused(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], arguments: list[str], code: str
) -> None:
    path = str(table(tmp_path, ROWS))
    given = [path if one == "CLIENTS" else one for one in arguments]
    assert main(["build", str(STYLE), *given, "--out", str(tmp_path / "out")]) == 2
    assert code in capsys.readouterr().err
    assert not (tmp_path / "out").exists()
