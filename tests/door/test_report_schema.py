"""The JSON schema of the report: what is printed keeps to it, and it says something of every key."""

from __future__ import annotations

import json
from typing import Any

import pytest
from godet import schema
from godet.cli.main import main
from support.schemas import keeps_to
from support.style_runs import PATTERNS


@pytest.mark.parametrize("style", ["concert_top", "yoke_shirt", "pleated_skirt"])
def test_reports_keep_to_the_schema(style: str, capsys: pytest.CaptureFixture[str]) -> None:
    bodies = ["--body", str(PATTERNS / "bodies" / "alto_3.toml"), "--body", str(PATTERNS / "bodies" / "bass_2.toml")]
    main(["report", str(PATTERNS / f"{style}.style"), *bodies, "--format", "json"])
    report = json.loads(capsys.readouterr().out)
    assert report["bodies"]
    keeps_to(report, schema("report"), schema("report"))


@pytest.mark.parametrize(
    "spoil", [lambda one: one.pop("style"), lambda one: one.update(more=1), lambda one: one.update(schema="1")]
)
def test_what_does_not_keep_to_it_is_found(spoil: Any) -> None:
    known = schema("report")
    garment: dict[str, Any] = {key: [] for key in known["$defs"]["GarmentRecord"]["properties"]} | {"judged": True, "told": ""}
    empty = {key: [] for key in known["properties"]} | {"schema": 1, "style": "", "fingerprint": "", "assembly": garment}
    keeps_to(empty, known, known)
    spoil(empty)
    with pytest.raises(AssertionError, match="report"):
        keeps_to(empty, known, known)


def test_the_command_prints_it(capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit) as ended:
        main(["report", "--schema"])
    assert ended.value.code == 0
    assert json.loads(capsys.readouterr().out) == schema("report")


def test_every_record_is_described() -> None:
    known = schema("report")
    assert len(known["$defs"]) > 15
    assert all(one["description"] for one in (known, *known["$defs"].values()))
    assert not [name for name, one in known["$defs"].items() if one["description"].startswith(f"{name}(")]  # dataclass's own
