"""What is regulated for children stands on the sheet, on the first page, in the report and in its JSON."""

from __future__ import annotations

import json
import re
from pathlib import Path

import pypdfium2
import pytest
from godet.cli.main import main

STYLE = """language 1
style "Bib"
piece bib {
    line top from starting_point to wide
    line slant from wide to low
    line side from low to starting_point
    grain up
    cut 1
    allow 1 cm
}
point wide = starting_point outward chest_girth / 4
point low = starting_point down 20 cm
"""
TREBLE = 'name = "treble 1"\nunit = "cm"\n[measures]\nage = {}\nstature = 120\nchest_girth = 61\n'


def files(folder: Path, age: float) -> list[str]:
    (folder / "bib.style").write_text(STYLE, "utf-8")
    (folder / "treble.toml").write_text(TREBLE.format(age), "utf-8")
    return [str(folder / "bib.style"), "--body", str(folder / "treble.toml")]


@pytest.mark.parametrize("age, rules", [(2.5, 3), (6.5, 2), (16, 0)])
def test_they_stand_wherever_the_pattern_goes(age: float, rules: int, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    given, out = files(tmp_path, age), tmp_path / "out"
    assert main(["build", *given, "--out", str(out)]) == 0
    page = pypdfium2.PdfDocument(out / "bib_treble_1.pdf")[0]
    texts = [(out / "bib_treble_1.svg").read_text("utf-8"), page.get_textpage().get_text_range()]
    capsys.readouterr()
    assert main(["report", *given]) == 0
    texts.append(capsys.readouterr().out)
    assert main(["report", *given, "--format", "json"]) == 0
    told = json.loads(capsys.readouterr().out)["bodies"][0]["cautions"]
    assert len(told) == (rules + 1 if rules else 0)
    for text in [*texts, "\n".join(told)]:
        said = re.sub(r"\s+|<[^>]*>", " ", text)
        assert ("EN 14682" in said) == (rules > 0)
        assert ("16 CFR 1501" in said) == (rules == 3)
        assert ("where the garment is" in said) == (rules > 0)
