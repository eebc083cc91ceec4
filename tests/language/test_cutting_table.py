"""Sentences as they are said at the cutting table, each written in one sentence of the language, and what it comes to.

What is said and written is the page of the reference, `said.toml` of the package; `cutting_table.style` is what lies on the
table, `cutting_table.toml` what each comes to. Every number can be checked by hand, and with
other words in their place each sentence comes to another, so that none holds whatever is written."""

from __future__ import annotations

import tomllib
from dataclasses import asdict
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from godet.jobs.outcome import outcomes
from godet.jobs.trade import said as said_and_written
from support.reports import report
from support.styles import said, written

HERE = Path(__file__).parent
TABLE = (HERE / "cutting_table.style").read_text("utf-8")
WRITTEN = {aloud: sentence for sentences in said_and_written().values() for aloud, sentence in sentences.items()}
SAID: list[dict[str, Any]] = tomllib.loads((HERE / "cutting_table.toml").read_text("utf-8"))["said"]
KINDS = {"mm": ("length", 1.0), "deg": ("angle", 180.0 / np.pi), "": ("number", 1.0)}
BODY = "table_body.toml"
CLOSE = 1e-3  # of mm, of degrees, of a number


def style(case: dict[str, Any], sentence: str, measured: str = "") -> str:
    """What lies on the table with the sentence, in the braces of a piece where they leave a place for it."""
    on = case.get("on", "...\n")
    laid = on.replace("...", sentence) if "..." in on else f"{on}\n{sentence}"
    uses = [line for line in laid.split("\n") if line.startswith("use ")]
    others = [line for line in laid.split("\n") if line not in uses]
    head, _, rest = TABLE.partition("\n")
    return "\n".join([head, *uses, rest, *others, measured, ""])


def measured(case: dict[str, Any], sentence: str, wanted: str) -> None:
    number, _, unit = wanted.partition(" ")
    kind, factor = KINDS[unit]
    prepared = written(style(case, sentence, f"{kind} found = {case['measured']}"), body=BODY)
    assert prepared.style is not None, said(prepared)
    results, evaluated = outcomes(prepared, [prepared.style.names["found"]])
    assert not results[0].errors, said(prepared)
    value = evaluated.parts[0].values[prepared.style.names["found"]]
    assert isinstance(value, np.ndarray)
    assert factor * float(value[0]) == pytest.approx(float(number), abs=CLOSE)


def reported(case: dict[str, Any], sentence: str, wanted: object) -> None:
    prepared = written(style(case, sentence), body=BODY)
    assert prepared.style is not None, said(prepared)
    found: Any = asdict(report(prepared).bodies[0])
    assert not found.get("errors"), said(prepared)
    for step in case["reported"].split():
        found = found[step] if isinstance(found, dict) else _called(found, step)
    assert (", ".join(found) if isinstance(found, tuple) else found) == wanted


def _called(rows: tuple[dict[str, Any], ...], name: str) -> dict[str, Any]:
    return next(row for row in rows if name in (row.get("name"), row.get("cloth")))


def proves(case: dict[str, Any], sentence: str, wanted: Any) -> None:
    (measured if "measured" in case else reported)(case, sentence, wanted)


@pytest.mark.parametrize("case", SAID, ids=lambda case: case["aloud"])
def test_what_is_said_is_one_sentence_and_comes_to_its_number(case: dict[str, Any]) -> None:
    proves(case, WRITTEN[case["aloud"]], case["comes_to"])


@pytest.mark.parametrize("case", SAID, ids=lambda case: case["aloud"])
def test_said_otherwise_it_comes_to_another(case: dict[str, Any]) -> None:
    old, new = case["but"]
    assert WRITTEN[case["aloud"]].count(old) == 1
    assert case["then_to"] != case["comes_to"]
    proves(case, WRITTEN[case["aloud"]].replace(old, new), case["then_to"])


def test_they_are_forty_or_more_and_all_that_is_said_is_proved() -> None:
    assert sorted(case["aloud"] for case in SAID) == sorted(WRITTEN)
    assert len(WRITTEN) >= 40
