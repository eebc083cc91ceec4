"""A checked style is found again in the cache folder as long as all that was read for it says the same, and not longer."""

from __future__ import annotations

from pathlib import Path

import godet
import pytest
from godet.jobs import compiled
from godet.meaning.analysis import Analysis, analyse
from godet.meaning.reading import Sources
from godet.syntax.source import Source
from support.style_runs import PATTERNS

MODULE = 'language 1\nrecipe doubled "twice" {\n    takes length one "a length"\n    gives length two = one * 2\n}\n'
STYLE = (
    'language 1\nstyle "Small"\nuse doubled from twice\nchoice deep = 3 cm between 1 cm and 9 cm "deep"\n'
    'length wide = doubled with one deep\ncheck broad that wide at_least bust_girth / 50 "wide"\n'
)


@pytest.fixture
def cache(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "cache"))
    return tmp_path / "cache" / "godet"


@pytest.fixture
def checked(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """The styles that were checked anew."""
    found: list[str] = []

    def noted(source: Source, sources: Sources, settings: compiled.Settings) -> Analysis:
        found.append(source.id)
        return analyse(source, sources, settings)

    monkeypatch.setattr(compiled, "analyse", noted)
    return found


@pytest.fixture
def style(tmp_path: Path, cache: Path) -> str:
    (tmp_path / "twice.style").write_text(MODULE, "utf-8")
    (tmp_path / "small.style").write_text(STYLE, "utf-8")
    assert not godet.open_style(tmp_path / "small.style").has_errors
    return str(tmp_path / "small.style")


def test_what_says_the_same_is_found_again(style: str, checked: list[str]) -> None:
    (one,) = godet.open_style(style).on({"name": "a", "unit": "cm", "bust_girth": 92})
    assert checked == []
    assert [(check.name, check.figures) for check in one.checks] == [("broad", "60.0 mm, 18.4 mm")]


@pytest.mark.parametrize("change", ["text", "module", "setting", "a module that is gone", "compiler"])
def test_what_says_something_else_is_checked_anew(
    style: str, checked: list[str], change: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    folder, settings = Path(style).parent, {}
    if change == "text":
        Path(style).write_text(STYLE.replace("3 cm", "4 cm"), "utf-8")
    elif change == "module":
        (folder / "twice.style").write_text(MODULE.replace("one * 2", "one * 4"), "utf-8")
    elif change == "setting":
        settings = {"deep": "5 cm"}
    elif change == "compiler":
        monkeypatch.setattr(compiled, "_compiler", lambda: iter([("syntax/parser.py", 1, 1)]))
    else:
        (folder / "twice.style").unlink()
    later = godet.open_style(style, settings=settings)
    assert checked == [style]
    assert later.has_errors == (change == "a module that is gone")


def test_a_style_with_errors_and_one_held_in_memory_are_not_kept(cache: Path, tmp_path: Path, checked: list[str]) -> None:
    wrong = tmp_path / "wrong.style"
    wrong.write_text(STYLE, "utf-8")
    assert godet.open_style(wrong).has_errors
    godet.open_style(PATTERNS / "small.style", text='language 1\nstyle "Small"\n')
    assert list(cache.glob("style-*")) == []


@pytest.mark.parametrize("at", [0, 31, 32, 200, -200, -1])
def test_a_file_with_one_byte_damaged_is_made_anew(style: str, cache: Path, checked: list[str], at: int) -> None:
    (file,) = cache.glob("style-*")
    content = bytearray(file.read_bytes())
    content[at] ^= 1
    file.write_bytes(content)
    for _ in range(2):
        assert not godet.open_style(style).has_errors
    assert checked == [style]


def test_no_more_than_a_few_styles_are_kept(cache: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(compiled, "MOST", 2)
    for number in range(4):
        path = tmp_path / f"{number}.style"
        path.write_text('language 1\nstyle "Small"\n', "utf-8")
        godet.open_style(path)
    assert len(list(cache.glob("style-*"))) == 2
