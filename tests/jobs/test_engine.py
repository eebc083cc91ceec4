"""Work that a cluster shares: a real one of two workers on this machine, one of which is killed, gives the same bytes."""

from __future__ import annotations

import gzip
import logging
import os
import signal
import socket
import threading
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from time import sleep
from typing import Any

import godet
import pytest
from distributed import LocalCluster
from godet.cli.main import main
from godet.folders import shipped
from godet.jobs import engine, proving
from godet.jobs.files import Disk
from godet.jobs.prepare import prepare
from support.real_bodies import POPULATIONS

CLIENTS = Path(__file__).with_name("clients.style")
PEOPLE = Path(__file__).with_name("populations.style")
HEAD = "name,sex,unit,natural_waist_girth,hip_girth,top_hip_girth,choice long"
ROWS = [f"Client {k},F,cm,{66 + k},{90 + k},{82 + k},{60 + k % 2}" for k in range(6)]
"""All invented."""


@pytest.fixture(scope="module")
def two() -> Iterator[LocalCluster]:
    started: Any = LocalCluster  # it has few types
    with started(n_workers=2, threads_per_worker=1, dashboard_address=None, silence_logs=50) as those:
        yield those


def address(those: LocalCluster) -> str:
    return str(those.scheduler_address).replace("tcp://", engine.SCHEME)


class Killer:
    """Ends one of the workers when it hears that the first part is done: that is while there is work left."""

    def __init__(self, those: LocalCluster) -> None:
        self.workers, self.ended = those.workers, 0

    def __call__(self, done: int, *_: int) -> None:
        if done and not self.ended:
            self.ended = int(self.workers[0].pid)
            os.kill(self.ended, signal.SIGKILL)


def test_a_population_gives_the_same_bytes_with_a_worker_killed(
    two: LocalCluster, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    with gzip.open(POPULATIONS / "women_1988.csv.gz", "rt") as file:
        lines = [next(file) for _ in range(41)]
    lines[7] = lines[7].replace(",", ",no number,", 5)  # a row that is no body
    (tmp_path / "some.csv").write_text("".join(lines), "utf-8")
    alone = godet.open_style(PEOPLE).prove(tmp_path / "some.csv", jobs=1)
    monkeypatch.setattr(proving, "CHUNK", 8)
    killer = Killer(two)
    shared = godet.open_style(PEOPLE).prove(tmp_path / "some.csv", engine=address(two), each=killer)
    assert killer.ended
    assert (shared.json, shared.text, shared.diagnostics) == (alone.json, alone.text, alone.diagnostics)
    assert shared.with_pictures()[1] == alone.with_pictures()[1]


def test_clients_get_the_same_files_with_a_worker_killed(two: LocalCluster, tmp_path: Path) -> None:
    (tmp_path / "clients.csv").write_text("\n".join([HEAD, *ROWS, ""]), "utf-8")
    on, killer = godet.open_style(CLIENTS).clients(tmp_path / "clients.csv"), Killer(two)
    here = on.build(tmp_path / "here", jobs=1)
    there = on.build(tmp_path / "there", engine=address(two), each=killer)
    assert killer.ended
    assert [Path(one).name for one in there.written] == [Path(one).name for one in here.written]
    assert replace(there, written=here.written) == here
    found = [{path.name: path.read_bytes() for path in (tmp_path / out).iterdir()} for out in ("here", "there")]
    assert found[0] == found[1]
    assert len(found[1]) > 2 * len(ROWS)


@pytest.fixture
def one(monkeypatch: pytest.MonkeyPatch) -> Iterator[LocalCluster]:
    """A cluster of one worker in this process."""
    monkeypatch.setattr(engine, "ANSWERS_WITHIN", 0.5)
    started: Any = LocalCluster
    alone = {"n_workers": 1, "threads_per_worker": 1, "processes": False, "protocol": "tcp"}
    with started(**alone, dashboard_address=":0", silence_logs=50) as those:
        yield those


def test_a_scheduler_that_is_lost_is_told_as_that(one: LocalCluster, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def lost(_: int) -> None:
        those: Any = one
        those.close()

    with gzip.open(POPULATIONS / "women_1988.csv.gz", "rt") as file:
        (tmp_path / "some.csv").write_text("".join(next(file) for _ in range(41)), "utf-8")
    monkeypatch.setattr(proving, "CHUNK", 2)
    with pytest.raises(godet.StyleError) as raised:
        godet.open_style(PEOPLE).prove(tmp_path / "some.csv", engine=address(one), each=lost)
    assert [problem.code for problem in raised.value.diagnostics] == ["E562"]


def test_clients_that_came_back_before_the_scheduler_was_lost_are_told_as_made(one: LocalCluster, tmp_path: Path) -> None:
    def lost(done: int, _: int) -> None:
        if done:
            those: Any = one
            those.close()

    (tmp_path / "clients.csv").write_text("\n".join([HEAD, *ROWS, ""]), "utf-8")
    on = godet.open_style(CLIENTS).clients(tmp_path / "clients.csv")
    on.build(tmp_path / "out", levels=False, jobs=1)
    found = on.build(tmp_path / "out", engine=address(one), each=lost)
    made = [row.state for row in found.rows].count("made")
    assert 0 < made < len(ROWS)
    assert [row.state for row in found.rows] == ["made"] * made + ["not made"] * (len(ROWS) - made)
    assert not found.left  # what an earlier run made of the others is still theirs
    assert {problem.code for problem in found.told if problem.is_error} == {"E562"}
    listed = Path(found.not_made).read_text("utf-8").splitlines()
    assert [line.split(",")[0] for line in listed[1:]] == [f"Client {k}" for k in range(made, len(ROWS))]
    again = on.build(tmp_path / "out", jobs=1)
    assert [row.state for row in again.rows] == ["unchanged"] * made + ["made"] * (len(ROWS) - made)


def test_a_style_that_travelled_is_the_same_though_its_file_was_changed_since(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    Path("stdlib").mkdir()  # a folder called as the library is, with a module beside
    Path("stdlib/neck.style").write_bytes((shipped("stdlib") / "necklines" / "round.style").read_bytes())
    own = PEOPLE.read_text("utf-8").replace("language 1", "language 1\nuse round_neck from neck")
    Path("stdlib/own.style").write_text(own, "utf-8")
    style = prepare(Disk(), "stdlib/own.style")
    sources = engine.Sources.of(style, ())
    assert len(sources.texts) == 2
    for path in Path("stdlib").iterdir():
        path.unlink()
    _, there = sources.opened()
    assert there.fingerprint == style.fingerprint


def test_another_version_is_told_before_the_style_is_read(monkeypatch: pytest.MonkeyPatch) -> None:
    sources = replace(engine.Sources.of(prepare(Disk(), str(PEOPLE)), ()), texts=(), made_by="another version")
    with pytest.raises(engine.UnlikeWorker):
        sources.opened()


class Job:
    """One that knows how often it was packed to be sent."""

    sent = 0

    def __reduce__(self) -> tuple[type[Job], tuple[()]]:
        Job.sent += 1
        return Job, ()


def doubled(_: type, task: int) -> int:
    return 2 * task


def test_what_all_tasks_need_is_sent_once(one: LocalCluster) -> None:
    with engine.cluster(address(one)) as those:
        assert list(those.done(type, doubled, Job(), range(20))) == [2 * k for k in range(20)]
    assert Job.sent <= 2  # once, and perhaps once tried


def too_late(*_: int) -> int:
    raise TimeoutError("too late")


def test_a_task_that_ran_out_of_time_is_not_waited_for(one: LocalCluster) -> None:
    with engine.cluster(address(one)) as those, pytest.raises(engine.NoEngine) as raised:
        list(those.done(int, too_late, 0, [1]))
    assert raised.value.problem.note == "TimeoutError: too late"


def slow(_: int, seconds: float) -> None:
    sleep(seconds)


def test_work_waits_a_while_for_another_worker(one: LocalCluster, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(engine, "WITHOUT_WORKERS", 0.1)
    workers = iter([0, 1, 0, 0])
    with engine.cluster(address(one)) as those:
        monkeypatch.setattr(those, "_workers_now", lambda: next(workers))
        with pytest.raises(engine.NoEngine) as raised:
            list(those.done(int, slow, 0, [1]))
    assert raised.value.problem.code == "E559"
    assert not list(workers)  # after the first without one it was still waited for


def test_where_no_scheduler_answers_it_is_told(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr(engine, "ANSWERS_WITHIN", 0.3)
    with socket.socket() as free:
        free.bind(("127.0.0.1", 0))  # bound and not listening: nobody answers there
        nobody = f"dask://127.0.0.1:{free.getsockname()[1]}"
        (tmp_path / "clients.csv").write_text("\n".join([HEAD, ROWS[0], ""]), "utf-8")
        assert main(["build", str(CLIENTS), "--clients", str(tmp_path / "clients.csv"), "--engine", nobody]) == 2
    said = capsys.readouterr().err
    assert "no scheduler answers" in said
    assert "without `--engine`" in said


def test_nothing_of_the_library_stays(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(engine, "ANSWERS_WITHIN", 0.3)
    monkeypatch.setattr(logger := logging.getLogger("distributed"), "level", logging.INFO)
    threads = set(threading.enumerate())
    with pytest.raises(engine.NoEngine), engine.cluster("dask://127.0.0.1:9"):
        pass
    assert logger.level == logging.INFO
    assert set(threading.enumerate()) <= threads


@pytest.mark.parametrize(
    "more, said",
    [
        (["--engine", "dask://nowhere"], "`dask://nowhere` is no engine"),
        (["--engine", "tcp://here:8786"], "--engine dask://192.168.1.20:8786"),
        (["--engine", "dask://here:8786", "--jobs", "2"], "`--engine` and `--jobs` stand together"),
    ],
)
def test_an_engine_is_an_address(more: list[str], said: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["prove", str(PEOPLE), "--population", str(POPULATIONS / "women_1988.csv.gz"), *more]) == 2
    assert said in capsys.readouterr().err


def test_what_is_not_installed_is_told(monkeypatch: pytest.MonkeyPatch) -> None:
    def missing(name: str) -> None:
        raise ImportError(name)

    monkeypatch.setattr(engine, "import_module", missing)
    with pytest.raises(engine.NoEngine) as raised, engine.cluster("dask://127.0.0.1:8786"):
        pass
    assert 'pip install "godet[dask]"' in raised.value.problem.fix
