"""For a word of a style: what it stands for, where that is defined, and where else it is named, in all files."""

from __future__ import annotations

import re

import pytest
from godet import Style, Symbol, open_style
from support.style_runs import PATTERNS

FILE = "cup.style"
TEXT = """language 1
style "Cup"
use bodice from blocks/bodice
use raised from helpers

block base = bodice with bust_ease 8 cm
length deep = 3 cm
shape front = raised base.front far deep
length long = length of front.side
length whole = bust_girth + length of base.front.side + long
piece top = front {
    cut 1 on fold
    allow deep on waistline
}
"""
HELPERS = """language 1

recipe raised "Raised" {
    takes shape draft
    takes length far = 1 cm "how far"
    gives shape longer = lengthen draft.side at waistline by far
}
"""


@pytest.fixture(scope="module")
def cup(tmp_path_factory: pytest.TempPathFactory) -> Style:
    folder = tmp_path_factory.mktemp("cups")
    (folder / "helpers.style").write_text(HELPERS, "utf-8")
    return open_style(folder / FILE, text=TEXT)


def at(style: Style, written: str, text: str = TEXT, file: str = "") -> Symbol | None:
    """The symbol of the word marked as `|word` in a line of a text."""
    line, word = next((n, line) for n, line in enumerate(text.splitlines(), 1) if written.replace("|", "") in line)
    column = word.index(written.replace("|", "")) + written.index("|") + 1
    return style.symbol_at(file or style.path, line, column)


def word_at(style: Style, place: tuple[str, int, int], texts: dict[str, str]) -> str:
    file, line, column = place
    return re.match(r"\w+", texts[file].splitlines()[line - 1][column - 1 :])[0]  # type: ignore[index]


@pytest.mark.parametrize(
    ("written", "what", "name", "kind", "line"),
    [
        ("far |deep", "definition", "deep", "length", 7),
        ("allow |deep", "definition", "deep", "length", 7),
        ("= |raised base", "recipe", "raised", "", 3),
        ("base.front |far", "word", "raised far", "", 5),
        ("raised base.|front", "member", "base.front", "piece", None),
        ("length of front.|side", "edge", "side", "edge", None),
        ("|bust_girth", "measurement", "bust_girth", "length", None),
        ("|allow deep", "verb", "allow", "", None),
        ("on |waistline", "edge", "waistline", "edge", None),
        ("|piece top", "reserved word", "piece", "", None),
        ("from |helpers", "module", "helpers.style", "", 1),
    ],
)
def test_what_a_word_stands_for(cup: Style, written: str, what: str, name: str, kind: str, line: int | None) -> None:
    found = at(cup, written)
    assert found is not None
    assert (found.what, found.name.rpartition("/")[2], found.kind) == (what, name, kind)
    if line is not None:
        assert found.defined is not None
        assert cup.place(found.defined)[1] == line


def test_uses_are_found_in_all_files(cup: Style) -> None:
    far = at(cup, "base.front |far")
    assert far is not None
    helpers = cup.path.replace(FILE, "helpers.style")
    assert [cup.place(one)[:2] for one in cup.uses(far)] == [(cup.path, 8), (helpers, 6)]
    assert at(cup, "by |far", HELPERS, helpers) is not None


def test_an_edge_leads_to_the_library_where_it_is_drawn(cup: Style) -> None:
    side = at(cup, "base.front.|side")
    assert side is not None
    assert side.defined is not None
    assert side.defined.file.startswith("stdlib/blocks/")
    other = at(cup, "length of front.|side")
    assert other is not None
    assert len([one for one in cup.uses(side) if one.file == cup.path]) == 2 or other.defined != side.defined


def test_a_name_asked_for_by_its_definition_and_by_its_use_is_one() -> None:
    """Of every style: whoever goes from a use to the definition and back finds the use again."""
    style = open_style(PATTERNS / "gored_skirt.style")
    text = (PATTERNS / "gored_skirt.style").read_text("utf-8")
    seen = 0
    for line, written in enumerate(text.splitlines(), 1):
        for word in re.finditer(r"[a-z_]\w+", written.partition("#")[0].partition('"')[0]):
            found = style.symbol_at(style.path, line, word.start() + 1)
            if found is None or found.what != "definition" or found.defined is None:
                continue
            seen += 1
            places = [style.place(one) for one in (found.defined, *style.uses(found))]
            assert (style.path, line, word.start() + 1) in places
            file, at_line, column = style.place(found.defined)
            if file == style.path:
                assert style.symbol_at(file, at_line, column).defined == found.defined  # type: ignore[union-attr]
    assert seen > 50


def test_symbols_of_a_style_with_errors() -> None:
    style = open_style(FILE, text="language 1\nlength deep = 3 cm cm\nlength deeper = deep + 1 cm\nlength other = deeper\n")
    found = style.symbol_at(FILE, 3, 17)
    assert found is not None
    assert (found.name, found.kind) == ("deep", "")
    assert found.defined is not None
    assert style.place(found.defined) == (FILE, 2, 8)
