"""Slips of the first hour, each with the exact words a cutter reads. The words themselves are the thing tested: every
text beside a style was read as a cutter would read it, and is changed only on purpose."""

from pathlib import Path

import pytest
from support.styles import said, stored, written

SLIPS = sorted((Path(__file__).parent / "slips").glob("*.style"))
SET = {"choice_out_of_range": "drop=9 cm", "choice_unknown": "drp=3 cm", "choice_of_another_kind": "drop=3"}
JARGON = ("token", "terminal", "NAME", "lark", "unexpected", "parse", "syntax", "identifier", "type", "node", "lane")
HEAD = "language 1\n"


@pytest.mark.parametrize("file", SLIPS, ids=lambda file: file.stem)
def test_slip(file: Path) -> None:
    settings = [SET[file.stem]] if file.stem in SET else []
    assert said(stored(file, settings)) + "\n" == file.with_suffix(".txt").read_text("utf-8")


@pytest.mark.parametrize("file", SLIPS, ids=lambda file: file.stem)
def test_every_slip_has_a_place_and_a_fix_without_jargon(file: Path) -> None:
    printed = file.with_suffix(".txt").read_text("utf-8")
    told = [part for part in printed.split("\n\n") if part]
    assert told
    for part in told:
        assert "= fix: " in part
        places = (f"--> {file.name}:", f"used at {file.name}:")  # the second where the base of a style is at fault
        assert any(place in part for place in places) or file.stem == "choice_unknown"  # that one stands on no line
        lines = [line for line in part.splitlines() if " | " not in line or "^" in line]
        assert not [word for word in JARGON if word in "\n".join(lines)]


def test_all_errors_of_a_style_are_told_in_one_run() -> None:
    text = (Path(__file__).parent / "slips" / "several_errors.style").read_text("utf-8")
    codes = [one.code for one in written(text).diagnostics if one.is_error]
    assert codes == ["E213", "E201", "E210", "E209", "E213"]


@pytest.mark.parametrize(
    ("content", "code"), [(b"\x89PNG\r\n\x00\x01\xff", "E131"), (b'language 1\nstyle "\xe9t\xe9"\n', "E130")]
)
def test_a_file_that_is_not_text(content: bytes, code: str) -> None:
    assert code in {one.code for one in written(content).diagnostics}


@pytest.mark.parametrize(
    "text",
    [
        HEAD + "length a = " + "1 cm + " * 150_000 + "1 cm\n",
        HEAD + "length a = " + "b" * 1_000_000 + "\n",
        HEAD + "length a = " + "(" * 10_000 + "1 cm" + ")" * 10_000 + "\n",
        HEAD + "length a = " + "(" * 10_000 + "\n",
        HEAD + "".join(f"length a{k} = a{k + 1}\n" for k in range(3000)) + "length a3000 = 1 cm\n",
    ],
    ids=["a line of 1 MB", "a name of 1 MB", "10000 brackets", "10000 open brackets", "a chain of 3000 definitions"],
)
def test_a_monstrous_text_is_told_in_few_words(text: str) -> None:
    printed = said(written(text))
    assert len(printed) < 20_000
    assert "error[E1" in printed or "E239" in printed


def test_a_recipe_that_uses_itself_is_a_ring() -> None:
    takes = '    takes length before "a length"\n'
    text = HEAD + f'recipe again "again" {{\n{takes}    gives length after = again with before before\n}}\n'
    assert "E211" in said(written(text + "length a = again with before 2 cm\n"))
