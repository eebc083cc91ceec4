"""`godet prove`: what is counted of a population is what `check` says of each of its bodies, however it is parted and ordered."""

from __future__ import annotations

import csv
import gzip
import json
import random
from collections.abc import Iterator, Sequence
from concurrent.futures.process import BrokenProcessPool
from functools import lru_cache
from pathlib import Path

import pyarrow as pa
import pyarrow.parquet as pq
import pytest
from godet import StyleError, open_style, schema
from godet.bodies.populations import open_table
from godet.cli.main import main
from godet.jobs import proving
from godet.jobs.files import Disk
from godet.jobs.outcome import outcomes
from godet.jobs.prepare import Prepared, prepare
from godet.jobs.proof import proof_record
from godet.jobs.proof_pictures import with_pictures
from godet.jobs.proving import Counted, Worker
from godet.output.json_text import json_text
from godet.output.proof import text
from godet.output.proof_records import ProofRecord
from support.real_bodies import POPULATIONS, real_women
from support.schemas import keeps_to
from support.style_runs import prepared

STYLE = Path(__file__).with_name("populations.style")
WOMEN = POPULATIONS / "women_1988.csv.gz"
COUNT = 60


@lru_cache(maxsize=1)
def lines() -> tuple[str, ...]:
    """The names of the columns, and the first women."""
    with gzip.open(WOMEN, "rt") as file:
        return tuple(next(file) for _ in range(COUNT + 1))


@lru_cache(maxsize=1)
def style() -> Prepared:
    return prepare(Disk(), str(STYLE))


def proved(tmp_path: Path, picked: Sequence[str], size: int = 10**6) -> tuple[ProofRecord, Counted]:
    """What is told of a table of these lines, worked off by so many at a time."""
    (tmp_path / "some.csv").write_text("".join([lines()[0], *picked]), "utf-8")
    with (tmp_path / "some.csv").open("rb") as file:
        table = open_table("some.csv", file)
        rows = list(table.rows)
        worker, found = Worker(style(), "some.csv", table.columns), Counted()
        for at in range(0, len(rows), size):
            found += worker.count(rows[at : at + size])
    return proof_record(style(), "some.csv", found), found


def test_any_chunks_and_any_order_give_the_same_bytes(tmp_path: Path) -> None:
    women = list(lines()[1:])
    record, found = proved(tmp_path, women)
    whole = json_text(record), with_pictures(style(), found.tally, record)
    assert {group.gate for group in record.groups} == {"draws", "sews", "goes together", "fits"}
    for size, seed in ((60, 1), (23, 2)):
        random.Random(seed).shuffle(women)
        again, counted = proved(tmp_path, women, size)
        assert (json_text(again), with_pictures(style(), counted.tally, again)) == whole


def test_processes_give_the_same_bytes(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (tmp_path / "some.csv").write_text("".join(lines()[:41]), "utf-8")
    alone = open_style(STYLE).prove(tmp_path / "some.csv", jobs=1)
    monkeypatch.setattr(proving, "WORTH_A_PROCESS", 4)
    monkeypatch.setattr(proving, "CHUNK", 10)
    heard: list[int] = []
    assert open_style(STYLE).prove(tmp_path / "some.csv", jobs=2, each=heard.append).json == alone.json
    assert heard == [5, 10, 15, 20, 25, 30, 35, 40]


def test_a_process_that_is_ended_is_told_as_that(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (tmp_path / "some.csv").write_text("".join(lines()[:9]), "utf-8")
    monkeypatch.setattr(proving, "WORTH_A_PROCESS", 4)

    def ended(*_: object) -> Counted:
        raise BrokenProcessPool  # what a pool says of a process that was killed

    monkeypatch.setattr(proving, "by_processes", ended)
    with pytest.raises(StyleError) as raised:
        open_style(STYLE).prove(tmp_path / "some.csv", jobs=2)
    assert "too little memory" in raised.value.diagnostics[-1].message
    assert "--jobs 1" in raised.value.diagnostics[-1].fix


def test_processes_are_no_more_than_the_bodies_are_worth(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (tmp_path / "some.csv").write_text("".join(lines()[:41]), "utf-8")
    begun: list[object] = []
    monkeypatch.setattr(proving, "WORTH_A_PROCESS", 12)

    def shared(*given: object) -> Iterator[Counted]:
        begun.append(given[-1])
        yield Counted()

    monkeypatch.setattr(proving, "by_processes", shared)
    for jobs in (2, 8):
        with pytest.raises(StyleError):  # nothing was counted
            open_style(STYLE).prove(tmp_path / "some.csv", jobs=jobs)
    assert begun == [2, 3]


def test_parquet_and_csv_give_the_same(tmp_path: Path) -> None:
    women = list(csv.DictReader(lines()[:13]))
    rows = [{k: v if k in ("name", "sex", "unit") else float(v) for k, v in one.items()} for one in women]
    pq.write_table(pa.Table.from_pylist(rows), tmp_path / "some.parquet")
    (tmp_path / "some.csv").write_text("".join(lines()[:13]), "utf-8")
    by_csv, by_parquet = (json.loads(open_style(STYLE).prove(tmp_path / f"some.{kind}").json) for kind in ("csv", "parquet"))
    assert by_csv | {"population": 0} == by_parquet | {"population": 0}


@pytest.mark.parametrize("seed", range(4))
def test_a_population_of_one_is_what_check_says_of_it(tmp_path: Path, seed: int) -> None:
    (woman,) = real_women(1, seed)
    ((one,), _) = outcomes(prepared(STYLE, [woman]))
    with gzip.open(WOMEN, "rt") as file:
        line = next(row for row in file if row.startswith(f"{woman.name},"))
    record, _ = proved(tmp_path, [line])
    passed = {gate.name: gate.alone == 1 for gate in record.gates}
    drawn = not one.errors
    assert passed == {
        "draws": drawn,
        "sews": drawn and all(seam.holds for seam in one.seams),
        "goes together": drawn and all(check.holds for check in one.checks),
        "fits": drawn and all(fit.holds for fit in one.fits),
    }
    assert (record.gates[-1].passed == 1) == (drawn and one.holds)
    assert not any(told.low is not None for group in record.groups for told in group.told_by)


def test_the_gates_are_passed_in_order_and_failures_are_told_by_what_makes_them(tmp_path: Path) -> None:
    record, _ = proved(tmp_path, lines()[1:])
    rows = [{k: float(v) for k, v in one.items() if k.endswith("girth")} for one in csv.DictReader(lines())]
    drawn = [row for row in rows if row["bust_girth"] > 820]
    sewn = [row for row in drawn if row["neck_base_girth"] >= 340]
    whole = [row for row in sewn if row["hip_girth"] >= row["natural_waist_girth"] + 200]
    fitting = [row for row in whole if abs(100 + (row["bust_girth"] - 820) / 2 + 570 - row["natural_waist_girth"]) <= 50.05]
    assert [(one.passed, one.of) for one in record.gates] == [
        (len(after), len(before)) for before, after in ((rows, drawn), (drawn, sewn), (sewn, whole), (whole, fitting))
    ]
    told = {group.name: {one.measurement for one in group.told_by} for group in record.groups if group.gate != "draws"}
    assert told["hips_wider"] == {"hip_girth", "natural_waist_girth"}
    assert told["neck"] == {"neck_base_girth"}
    assert told["waist"] == {"bust_girth", "natural_waist_girth"}


def test_the_command_prints_text_json_and_pictures(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (tmp_path / "some.csv").write_text("".join([*lines()[:31], "odd,F,mm,tall\n"]), "utf-8")
    given = ["prove", str(STYLE), "--population", str(tmp_path / "some.csv"), "--jobs", "1"]
    assert main([*given, "--format", "json", "--pictures", str(tmp_path)]) == 2  # a row is no body
    printed = capsys.readouterr()
    record = json.loads(printed.out)
    assert "1 of 31 rows" in printed.err
    assert record["population"] | {"source": ""} == {"source": "", "rows": 31, "bodies": 30, "estimated": []}
    assert all((tmp_path / one["file"]).read_text("utf-8").startswith("<?xml") for one in record["pictures"])
    assert {one["of"] for one in record["pictures"]} >= {"ease delivered less ease asked", "seam neck"}
    main(given)
    said = capsys.readouterr().out
    assert "told by neck_base_girth (1.00 of the margin)" in said
    assert "Ease delivered less ease asked, mm" in said


def test_a_proof_keeps_to_its_schema(tmp_path: Path) -> None:
    record, _ = proved(tmp_path, lines()[1:])
    keeps_to(json.loads(json_text(record)), schema("prove"), schema("prove"))
    assert text(record).startswith("Invented tube")


def test_without_a_population_or_with_a_missing_one_it_is_told(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["prove", str(STYLE)]) == 2
    assert "add `--population FILE`" in capsys.readouterr().err
    assert main(["prove", str(STYLE), "--population", "nowhere.csv"]) == 2
    assert "there is no file `nowhere.csv`" in capsys.readouterr().err


def test_each_failure_has_a_picture_or_it_is_said_why_not(tmp_path: Path) -> None:
    record, found = proved(tmp_path, lines()[1:])
    told, _ = with_pictures(style(), found.tally, record)
    drawn = len(told.pictures) - 1  # and one of the ease delivered
    assert drawn + len(told.undrawn) == len(told.groups)
    assert drawn == sum(bool(group.told_by) for group in told.groups)
    whole, found = next(one for line in lines()[1:] if not (one := proved(tmp_path, [line]))[0].groups)
    assert "no picture of who fails: nobody does" in with_pictures(style(), found.tally, whole)[0].undrawn
