"""For a word of a style: what it stands for, where that is defined, and where else it is named, in all files."""

from __future__ import annotations

import os
import re
from functools import lru_cache
from pathlib import Path

import pytest
from godet import Style, Symbol, open_style
from godet.diagnostics.diagnostic import Span
from godet.meaning import symbols as symbols_module
from godet.meaning.symbols import Symbols
from godet.syntax.lexer import lex
from godet.syntax.tokens import Lexed
from support.style_runs import PATTERNS, prepared

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
BLOCKS = """language 1

block inner "Inner" {
    takes shape draft
    gives length deep = length of draft.side
    gives length deeper = deep + 1 cm
}

block outer "Outer" {
    takes shape draft
    block i = inner draft
    gives all of i
}
"""
OF_BLOCKS = """language 1
style "Cup"
use bodice from blocks/bodice
use inner, outer from helpers
block base = bodice with bust_ease 8 cm
block one = inner base.front
block other = outer base.front
length long = 1 cm + one.deep + other.deep
"""
TEXT_OF_MARK = """language 1
style "Cup"
use bodice from blocks/bodice
block base = bodice with bust_ease 8 cm
point tip = base.front.bust_point
"""
STYLES = sorted(PATTERNS.glob("*.style"))
BUILT = ("long_top", "mens_trousers", "tenor_shirt")
"""Styles built from others."""
ONE_OF = re.compile(r"(lower_|upper_)?(inner|outer)_leg|left|right|k\d+")
UNWRITTEN = re.compile(r"(left|right|with)_\w|inner_edge$")


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
    """One edge, on the piece of the block and on what is made of it, here and in a recipe."""
    side, other = at(cup, "length of base.front.|side"), at(cup, "length of front.|side")
    assert side is not None
    assert other is not None
    assert side.defined is not None
    assert side.defined.file == "stdlib/blocks/halves.style"
    assert other.defined == side.defined
    assert cup.uses(other) == cup.uses(side)
    used = [cup.place(one) for one in cup.uses(side) if not one.file.startswith("stdlib/")]
    helpers = cup.path.replace(FILE, "helpers.style")
    assert used == [(cup.path, 9, 31), (cup.path, 10, 50), (helpers, 6, 41)]


def test_a_member_is_what_the_block_defines(tmp_path: Path) -> None:
    """Through a block of a block, and through one that hands on whole what another gives."""
    helpers, path = os.fspath(tmp_path / "helpers.style"), os.fspath(tmp_path / FILE)
    (tmp_path / "helpers.style").write_text(BLOCKS, "utf-8")
    style = open_style(Path(path), text=OF_BLOCKS)
    deep = at(style, "gives length |deep", BLOCKS, helpers)
    assert deep is not None
    assert deep.defined is not None
    assert style.place(deep.defined) == (helpers, 5, 18)
    used = [style.place(one) for one in style.uses(deep)]
    assert used == [(path, 8, 26), (path, 8, 39), (helpers, 6, 27)]
    for file, line, column in used:
        found = style.symbol_at(file, line, column)
        assert found is not None
        assert (found.defined, style.uses(found)) == (deep.defined, style.uses(deep))


def test_a_mark_leads_to_its_new_name_and_not_to_the_point_it_is_put_on() -> None:
    """Where both are written alike in one sentence, as in `landmark d.bust_point called bust_point`."""
    style = open_style(Path(FILE), text=TEXT_OF_MARK)
    found = at(style, "base.front.|bust_point", TEXT_OF_MARK)
    assert found is not None
    assert (found.what, found.name) == ("point", "bust_point")
    assert found.defined is not None
    symbols = _symbols(PATTERNS / "concert_top.style")  # for the text of the library
    assert symbols.texts[found.defined.file][: found.defined.start].endswith("landmark d.bust_point called ")


@pytest.mark.parametrize("path", STYLES, ids=lambda path: path.stem)
def test_all_that_is_named_leads_to_its_name(path: Path) -> None:
    """Or to that of the dart, the seam or the repeat it is one of; to the sentence only where a verb gives a name that is not
    written in it: `left_side` of `unfold`, `with_hem` of `divide`, `inside` of `facing`."""
    texts, seen = _symbols(path).texts, 0
    for _, symbol in _met(path):
        if symbol.defined is None or symbol.what == "module":
            continue
        seen += 1
        written = texts[symbol.defined.file][symbol.defined.start : symbol.defined.end]
        whole, _, name = symbol.name.rpartition(" ")[2].rpartition(".")
        if written != name and not (ONE_OF.fullmatch(name) and written == whole.rpartition(".")[2]):
            assert UNWRITTEN.match(symbol.name.rpartition(".")[2] if symbol.what == "member" else symbol.name), symbol
            assert not re.search(rf"\b{name}\b", written), symbol
    assert seen > 200


@pytest.mark.parametrize("path", STYLES, ids=lambda path: path.stem)
def test_every_place_is_the_definition_of_what_it_names_or_a_use_of_it(path: Path) -> None:
    symbols = _symbols(path)
    for span, symbol in _met(path):
        assert span == symbol.defined or span in symbols.uses(symbol), (span, symbol)


@pytest.mark.parametrize("path", [path for path in STYLES if path.stem not in BUILT], ids=lambda path: path.stem)
def test_a_name_asked_for_by_its_definition_and_by_its_use_is_one(path: Path) -> None:
    """But in styles built from another: there a sentence that is changed stands twice."""
    symbols, seen = _symbols(path), 0
    for span, symbol in _met(path):
        defined = symbol.defined
        if defined is None or symbol.what == "module" or not _is_name(symbols.texts[defined.file], defined, symbol.name):
            continue
        seen += span != defined
        there = symbols.at(defined.file, defined.start)
        assert there is not None, symbol
        assert there.defined == defined
        assert span == defined or span in symbols.uses(there), (span, symbol)
    assert seen > 100


def _is_name(text: str, span: Span, name: str) -> bool:
    return text[span.start : span.end] == name.rpartition(" ")[2].rpartition(".")[2]


def _symbols(path: Path) -> Symbols:
    analysis = prepared(path).analysis
    assert analysis is not None
    return analysis.symbols


@lru_cache(maxsize=len(STYLES))
def _met(path: Path) -> list[tuple[Span, Symbol]]:
    """Every place of a style and of all it is made of that names something, and what is found there."""
    symbols, found = _symbols(path), []
    for span in dict.fromkeys(note.span for note in symbols.notes):
        symbol = symbols.at(span.file, span.end - 1)  # of `front.side` the last: the first is a name of its own
        assert symbol is not None, span
        found.append((span, symbol))
    return found


def test_a_text_is_read_once_for_its_reserved_words(monkeypatch: pytest.MonkeyPatch) -> None:
    read: list[str] = []

    def counted(text: str, file: str) -> Lexed:
        read.append(file)
        return lex(text, file)

    monkeypatch.setattr(symbols_module, "lex", counted)
    text = "language 1\nlength deep = 3 cm\n# read once\n"
    style = open_style(Path("once.style"), text=text)
    found = [style.symbol_at("once.style", *place) for place in ((1, 1), (2, 1), (2, 13), (3, 4))]
    assert [one and (one.what, one.name) for one in found] == [
        ("reserved word", "language"), ("reserved word", "length"), None, None
    ]
    assert read == ["once.style"]


def test_symbols_of_a_style_with_errors() -> None:
    style = open_style(FILE, text="language 1\nlength deep = 3 cm cm\nlength deeper = deep + 1 cm\nlength other = deeper\n")
    found = style.symbol_at(FILE, 3, 17)
    assert found is not None
    assert (found.name, found.kind) == ("deep", "")
    assert found.defined is not None
    assert style.place(found.defined) == (FILE, 2, 8)
