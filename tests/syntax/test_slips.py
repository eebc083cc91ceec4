"""Every slip with the exact words a cutter reads. The words themselves are the thing tested: each case of slips.txt was
read as a cutter would read it, and is changed only on purpose."""

import re
from pathlib import Path

import pytest
from godet.diagnostics.printing import print_all
from godet.syntax.parser import parse

HERE = Path(__file__).parent
CASES = re.findall(
    r"=== (.*?)\n(.*?)\n---\n(.*?)\n(?=\n=== |\Z)", (HERE / "slips.txt").read_text(encoding="utf-8"), re.DOTALL
)
WORDING = Path(__file__).parents[2] / "compiler" / "diagnostics"
# These need texts too large or too odd for the list and are tested beside it.
# The words a verb takes are not known here: E136, E137 and E187 are among the slips of the first hour.
ELSEWHERE = {"E125", "E127", "E128", "E129", "E130", "E131", "E136", "E137", "E187"}


@pytest.mark.parametrize(("title", "text", "printed"), CASES, ids=[title for title, _, _ in CASES])
def test_slip(title: str, text: str, printed: str) -> None:
    _, found = parse(text, "a.style")
    assert print_all(found, {"a.style": text}) == printed


def test_every_error_has_a_slip_and_a_code_of_its_own() -> None:
    wording = "".join((WORDING / f"{name}.py").read_text("utf-8") for name in ("syntax_words", "sentence_words", "turn_words"))
    written = re.findall(r'"(E1\d\d)"', wording)
    assert len(set(written)) == len(written)
    assert set(written) == set(re.findall(r"^error\[(E1\d\d)\]", "\n".join(c[2] for c in CASES), re.M)) | ELSEWHERE


@pytest.mark.parametrize("jargon", ["token", "terminal", "NAME", "lark", "unexpected", "parse", "syntax", "identifier"])
def test_no_message_speaks_of_the_parser(jargon: str) -> None:
    assert all(jargon not in printed for _, _, printed in CASES)


@pytest.mark.parametrize(
    ("text", "code"),
    [
        ("length a = " + "(" * 101 + "b" + ")" * 101, "E125"),
        ("each k from 1 to 2 {\n" * 13 + "}\n" * 13, "E125"),
        ("length a = " + "1 + " * 101 + "1", "E127"),
        ("seam a joins " + "b to " * 1000 + "c", "E127"),
        ("language 1\n" + "pice a = b\n" * 300, "E128"),
    ],
)
def test_too_much_of_something(text: str, code: str) -> None:
    assert code in {d.code for d in parse(text, "a.style")[1]}
