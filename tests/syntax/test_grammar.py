"""The grammar has no conflicts, knows the reserved words, and its table survives a damaged or missing cache."""

from pathlib import Path

import pytest
from godet.folders import shipped
from godet.syntax import grammar
from godet.syntax.words import RESERVED, WORD_TYPES
from lark.exceptions import GrammarError
from support.syntax_samples import codes, only


@pytest.fixture
def cache(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path))
    return tmp_path / "godet"


def fresh() -> object:
    """A parser as a new process would get it."""
    return grammar.parser.__wrapped__()


def test_the_grammar_has_no_conflicts() -> None:
    grammar.build(grammar.grammar_text(), strict=True)


def test_strict_mode_does_find_conflicts() -> None:
    ambiguous = grammar.grammar_text().replace("| sum MINUS product ", "| sum MINUS sum ")
    with pytest.raises(GrammarError):
        grammar.build(ambiguous, strict=True)


def test_every_type_of_word_is_in_the_grammar() -> None:
    assert set(WORD_TYPES.values()) <= set(grammar.grammar_text().split())


@pytest.mark.parametrize("word", sorted(RESERVED))
def test_no_reserved_word_is_a_name(word: str) -> None:
    assert codes(f"length {word} = 3 cm") == ["E143"]


def test_the_table_is_kept_and_used_again(cache: Path) -> None:
    fresh()
    (table,) = cache.iterdir()
    before = table.read_bytes()
    fresh()
    assert list(cache.iterdir()) == [table]
    assert table.read_bytes() == before


def test_a_kept_table_reads_like_a_new_one(cache: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    built = only("length a = b + 3 cm")
    fresh()
    kept = fresh()
    monkeypatch.setattr("godet.syntax.grammar.parser", lambda: kept)
    assert only("length a = b + 3 cm") == built


@pytest.mark.parametrize("damage", [b"", b"not a table", b"\x80\x05}."])
def test_a_damaged_table_is_built_anew(cache: Path, damage: bytes) -> None:
    fresh()
    (table,) = cache.iterdir()
    table.write_bytes(damage)
    assert fresh() is not None
    assert table.read_bytes() != damage


def test_without_a_cache_folder_all_works(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (tmp_path / "file").write_text("in the way")
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "file"))
    assert fresh() is not None


def test_shipped_folders() -> None:
    assert (shipped("grammar") / "style.lark").is_file()
    with pytest.raises(FileNotFoundError, match="no_such_folder"):
        shipped("no_such_folder")
