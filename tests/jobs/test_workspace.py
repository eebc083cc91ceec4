"""All files of a style are read by one room: each under one name, none from elsewhere, and by as many threads as one likes."""

from __future__ import annotations

from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from random import Random
from threading import Barrier

import pytest
from godet import open_style
from godet.diagnostics.printing import print_all
from godet.jobs.files import Disk
from godet.jobs.workspace import Workspace
from godet.meaning.analysis import Analysis
from godet.syntax.source import Source
from support.broken import torn
from support.edited import text_of
from support.style_runs import PATTERNS
from support.styles import written

USING = "language 1\nuse raised from helpers\nshape high = raised high\n"
WRONG = 'language 1\nrecipe raised "Raised" {\n    takes shape draft draft\n}\n'


@pytest.fixture
def cups(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    (tmp_path / "cups").mkdir()
    (tmp_path / "cups" / "cup.style").write_text(USING, "utf-8")
    monkeypatch.chdir(tmp_path)
    return tmp_path


def files_named(path: str) -> set[str]:
    return {one.span.file for one in open_style(path).diagnostics if one.span}


def test_a_file_beside_is_printed_as_the_style_is(cups: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (cups / "cups" / "helpers.style").write_text(WRONG, "utf-8")
    (cups / "helpers.style").write_text("length = = nothing of that style\n", "utf-8")
    assert "cups/helpers.style" in files_named("cups/cup.style")
    assert str(cups / "cups" / "helpers.style") in files_named(str(cups / "cups" / "cup.style"))
    monkeypatch.chdir(cups / "cups")
    assert "helpers.style" in files_named("cup.style")
    told = print_all(open_style("cup.style").diagnostics, {"helpers.style": WRONG, "cup.style": USING})
    assert "--> helpers.style:3:17" in told


def test_a_folder_called_as_the_library_is_told_apart(cups: Path) -> None:
    (cups / "stdlib").mkdir()
    (cups / "stdlib" / "cup.style").write_text("language 1\nlength deep = shallow\n", "utf-8")
    assert files_named("stdlib/cup.style") == {"./stdlib/cup.style"}


def test_a_link_out_of_the_folder_is_refused(cups: Path) -> None:
    (cups / "secret.style").write_text(WRONG, "utf-8")
    (cups / "cups" / "helpers.style").symlink_to(cups / "secret.style")
    (told,) = [one for one in open_style("cups/cup.style").diagnostics if one.code == "E512"]
    assert "cups/helpers.style" in told.message
    (cups / "cups" / "helpers.style").unlink()
    (cups / "cups" / "own.style").write_text(WRONG, "utf-8")
    (cups / "cups" / "helpers.style").symlink_to(cups / "cups" / "own.style")
    assert not [one for one in open_style("cups/cup.style").diagnostics if one.code == "E512"]


def test_an_open_text_stands_in_for_the_stored_one(cups: Path) -> None:
    (cups / "cups" / "helpers.style").write_text(WRONG, "utf-8")
    workspace = Workspace(Disk(), {"./cups/helpers.style": "language 1\n"})
    source, _ = workspace.source("cups/cup.style")
    assert source is not None
    assert [one.code for one in workspace.analyse(source, {}).diagnostics] == ["E217"]


def told(found: Analysis) -> object:
    kinds = {name: kind.word for name, kind in found.kinds.items()}
    return found.diagnostics, found.pieces, kinds, found.symbols.notes, found.style and (found.style.names, found.style.measures)


def test_threads_find_what_one_finds_alone() -> None:
    workspace = Workspace(Disk())
    texts = [text_of(name) for name in ("gored_skirt", "puff_sleeve", "pleated_skirt", "cowl_top")]
    sources = [(PATTERNS / f"made_{i}.style", torn(text, Random(i), i % 2 / 3).text) for i, text in enumerate(texts * 2)]
    styles = [open_source(path, text) for path, text in sources]
    alone = [told(workspace.analyse(one, {})) for one in styles]
    gate = Barrier(2)

    def rounds(number: int) -> list[tuple[int, object]]:
        gate.wait()
        order = [(number * 3 + i) % len(styles) for i in range(2 * len(styles))]
        return [(i, told(workspace.analyse(styles[i], {}))) for i in order]

    with ThreadPoolExecutor(2) as pool:
        for found in pool.map(rounds, range(2)):
            for i, one in found:
                assert one == alone[i]


def open_source(path: Path, text: str) -> Source:
    source, _ = Workspace(Disk(), {str(path): text}).source(str(path))
    assert source is not None
    return source


def test_a_recipe_asked_for_of_another_module_is_told_with_its_home() -> None:
    found = written("language 1\nuse vee_neck from necklines/round\n").diagnostics
    assert [(one.code, one.fix) for one in found] == [("E217", "it is in `necklines/vee`: `use vee_neck from necklines/vee`")]
