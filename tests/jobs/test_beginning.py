"""The first style of one's own: it draws, sews and fits on every body it is for, in the one layout, and teaches."""

from __future__ import annotations

from pathlib import Path

import pytest
from godet.cli.arguments import parser
from godet.cli.main import main
from godet.jobs.beginning import kinds
from godet.jobs.files import Disk
from godet.jobs.formatting import formatted
from godet.jobs.outcome import outcomes
from godet.jobs.prepare import prepare
from support.real_bodies import real_men, real_women
from support.style_runs import PATTERNS, results, sews

BODIES = sorted((PATTERNS / "bodies").glob("*.toml"))
MEN = [path for path in BODIES if path.stem.startswith("bass")]
WOMEN = [path for path in BODIES if path not in MEN]
FOR = {"skirt": WOMEN, "dirndl": WOMEN, "top": WOMEN, "trousers": WOMEN, "shirt": BODIES}


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.chdir(tmp_path)
    return tmp_path


def test_each_kind_is_offered_and_tried_here() -> None:
    assert kinds() == tuple(sorted(FOR))
    for kind in kinds():
        assert parser().parse_args(["new", "mine", "--of", kind]).of == kind


@pytest.mark.parametrize("kind", FOR)
def test_it_draws_sews_and_fits_on_every_body_it_is_for(kind: str, folder: Path) -> None:
    assert main(["new", "my_own", "--of", kind]) == 0
    prepared = prepare(Disk(), "my_own.style", [str(path) for path in FOR[kind]])
    assert prepared.diagnostics == ()
    results, _ = outcomes(prepared)
    assert len(results) == len(FOR[kind])
    for result in results:
        assert not result.errors
        assert not result.warnings
        assert all(one.holds for one in result.checks)
        assert all(one.holds for one in result.seams)
        assert all(one.holds for one in result.fits)
    assert not formatted(Disk(), "my_own.style").changed


@pytest.mark.parametrize("kind", FOR)
def test_it_does_on_real_people_too(kind: str, folder: Path) -> None:
    """On as many as the library's blocks must: 99 of 100."""
    main(["new", "my_own", "--of", kind])
    people = real_men(100, 5) if kind == "shirt" else real_women(100, 5)
    drawn = results(folder / "my_own.style", people)
    assert sum(sews(one) for one in drawn) >= 99


@pytest.mark.parametrize("kind", FOR)
def test_every_part_of_it_is_explained_and_has_its_own_title(kind: str, folder: Path) -> None:
    main(["new", "choir_wear", "--of", kind])
    rows = Path("choir_wear.style").read_text("utf-8").split("\n")
    assert rows[:2] == ["language 1", 'style "Choir wear"']
    for number, row in enumerate(rows):
        if row.startswith(("use", "choice", "block", "each", "solve")) and not rows[number - 1]:
            raise AssertionError(f"line {number + 1} begins a part without a comment")


def test_it_tells_what_to_type_next(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["new", "mine.style", "--of", "skirt"]) == 0
    told = capsys.readouterr().out
    assert "wrote mine.style\n" in told
    assert main(told.split("godet ")[1].split("  ")[0].split()) == 0
    assert "hip_girth" in capsys.readouterr().out


def test_what_stands_there_is_left_as_it_is(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    Path("mine.style").write_text("my work", "utf-8")
    assert main(["new", "mine", "--of", "top"]) == 2
    assert "`mine.style` is there already; nothing was written" in capsys.readouterr().err
    assert Path("mine.style").read_text("utf-8") == "my work"


def test_a_name_no_style_can_be_built_from_is_refused_with_one_that_can(
    folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["new", "My Skirt", "--of", "skirt"]) == 2
    assert "write `my_skirt`" in capsys.readouterr().err
    assert not list(folder.iterdir())
