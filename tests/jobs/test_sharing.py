"""Processes that share work: what comes of it is in the order of the tasks, and few of those are held."""

from __future__ import annotations

from collections.abc import Iterator
from multiprocessing import get_context

import pytest
from godet.jobs import sharing


def times(factor: int, task: int) -> int:
    return factor * task


def test_tasks_are_read_as_they_are_worked_off(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(sharing, "get_context", lambda _: get_context("fork"))  # begins at once
    read: list[int] = []

    def tasks() -> Iterator[int]:
        for one in range(30):
            read.append(one)
            yield one

    for at, came in enumerate(sharing.by_processes(int, times, "3", tasks(), 2)):
        assert came == 3 * at
        assert len(read) <= at + 4  # two for each process, whatever the length of the table
    assert len(read) == 30
