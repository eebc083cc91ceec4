"""Bodies that no tailor has met: the style says what cannot be drawn, in its own words."""

from __future__ import annotations

from pathlib import Path

import pytest
from godet.cli.main import main
from support.style_runs import PATTERNS


@pytest.mark.parametrize(
    ("singer", "slip", "said"),
    [
        ("alto_3", "shoulder_length = 130.0", "`shoulder_above_armpit` is outside its bounds"),
        ("soprano_1", "armpit_height = 12.25", "`armpit_above_waist` is outside its bounds"),
    ],
)
def test_a_monstrous_body_is_told_in_the_words_of_the_style(
    singer: str, slip: str, said: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    lines = (PATTERNS / "bodies" / f"{singer}.toml").read_text("utf-8").splitlines()
    name = slip.partition(" ")[0]
    body = tmp_path / "odd.toml"
    body.write_text("\n".join(slip if line.startswith(f"{name} =") else line for line in lines), "utf-8")
    assert main(["check", str(PATTERNS / "yoke_shirt.style"), "--body", str(body)]) == 2
    captured = capsys.readouterr()
    assert "E901" not in captured.err
    assert said in captured.err
