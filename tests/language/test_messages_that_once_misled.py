"""What new users wrote in their first hours, and were misled by what was said of it: each with the words that help, and the place
these point to. All but the last few are sentences; those are commands. What `explain` refused is in tests/jobs/test_explain.py,
and how `fmt` breaks a line in tests/syntax/test_formatter.py."""

from __future__ import annotations

import contextlib
import io
from dataclasses import dataclass
from pathlib import Path

import pytest
from godet.cli.main import main
from godet.diagnostics.diagnostic import Diagnostic
from godet.jobs.outcome import outcomes
from support.styles import written

HEAD = "language 1\nuse plain_half, shifted from shapes\nblock base = plain_half with bust_ease 8 cm\n"
CUT = "cut 1 on fold\n    grain up\n    allow 1 cm\n"
TWO = f"piece front = base.front {{\n    {CUT}}}\npiece back = base.front {{\n    {CUT}}}\n"
ENDS = "point p = base.front.side at hem\npoint q = base.front.hem at centre\n"
BAND = (
    "point a = starting_point\npoint b = a outward 30 cm\npoint c = b up 4 cm\npoint d = a up 4 cm\nshape band {\n"
    "    line lower from a to b\n    line end from b to c\n    line upper from c to d\n    line start from d to a\n}\n"
)


@dataclass(frozen=True)
class Said:
    """What was written: the text beside `HEAD`; of its one error or warning the `code`, the `place` it points to, and `words` of
    message, note and fix that help. Without a code nothing is wrong."""

    text: str
    code: str = ""
    place: str = ""
    words: tuple[str, ...] = ()


SENTENCES = {
    "a place without its at": Said(
        f"piece one = base.front {{\n    {CUT}    notch side 20 cm from armhole\n}}\n",
        "E185",
        "20 cm",
        ("`at` is missing before `20 cm`", "side at 7 cm from hem"),
    ),
    "a length without its unit": Said(
        f"piece one = base.front {{\n    {CUT}    allow 15 on hem\n}}\n", "E209", "15", ("`15 cm`, `15 mm` or `15 inch`",)
    ),
    "edges summed without brackets": Said(
        "length x = length of base.front.hem + base.front.side\n",
        "E296",
        "length of base.front.hem + base.front.side",
        ("`length of (base.front.hem + base.front.side)`",),
    ),
    "the length of a length": Said("length x = length of hip_girth + 2 cm\n", "E208", "hip_girth", ("leave `length of` away",)),
    "a measure reckoned with without brackets": Said(
        f"{ENDS}length w = width from p to q - 3 cm\n", "E640", "width from p to q - 3 cm", ("`(width from p to q) - 3 cm`",)
    ),
    "an operation behind a word without brackets": Said(
        "finished bust measures girth front then front level p tolerance 1 cm\n",
        "E137",
        "girth front then front level p",
        ("`measures (girth front then front level p)`",),
    ),
    "a sign before a name": Said(
        "length wider = 2 cm\nlength a = -wider\npiece one = lengthen base.front.hem at side by -wider {\n"
        f"    {CUT}    allow 1 cm + a / 4 on hem\n}}\n"
    ),
    "a sign before a name that is misspelt": Said(
        "length wider = 2 cm\nlength a = -widr\n", "E201", "widr", ("did you mean `wider`?",)
    ),
    "a band unfolded": Said(
        f"{BAND}shape whole = unfold band across upper\n",
        "E229",
        "unfold band across upper",
        ("`worn left` or `worn right`", "a band, which has no wearer's side", "`fold upper`"),
    ),
    "a bare name after unfold, of both": Said(
        "piece whole = unfold base.front across centre {\n    cut 1\n    grain up\n    allow 1 cm\n    allow 2 cm on side\n"
        "    notch side at 7 cm from hem\n}\n"
    ),
    "a bare name after unfold, where one is wanted": Said(
        "shape whole = unfold base.front across centre\nlength x = length of whole.side\n",
        "E213",
        "side",
        ("two of them now", "`left_side` or `right_side`"),
    ),
    "a bare edge where the piece is another": Said(
        f"{TWO}angle k = kink front.neckline over shoulder to back.neckline meeting shoulder\n",
        "E201",
        "shoulder",
        ("did you mean `front.shoulder` or `back.shoulder`?",),
    ),
    "a full name where the edge stands bare": Said(
        f"{TWO}angle k = kink front.neckline over front.shoulder to back.neckline meeting back.shoulder\n",
        "E213",
        "front.shoulder",
        ("did you mean `shoulder`?",),
    ),
    "a dart with two ends moved": Said(
        "shape p = pivot base.front.waist_dart into side_dart\n",
        "E229",
        "pivot base.front.waist_dart into side_dart",
        ("`waist_dart` has two ends", "`leave … .waist_dart as ease`"),
    ),
    "a dart opened to an edge and moved": Said(
        "shape p = open base.front.waist_dart to hem then pivot waist_dart into side_dart\n",
        "E229",
        "pivot waist_dart into side_dart",
        ("pivot another dart into it", "leave it unsewn"),
    ),
    "a definition that is not used": Said("length wobble = 3 cm\n", "W201", "wobble", ("take the sentence out, or use it",)),
    "a value beyond what a recipe takes": Said(
        "shape s = shifted base.front further 12 cm\n", "E224", "12 cm", ("`further` may lie between 0 cm and 10 cm",)
    ),
    "a solve that finds none": Said(
        "solve drop between 0 cm and 2 cm that length of longer.side equals 60 cm tolerance 0.5 mm\n"
        f"piece longer = lengthen base.front.hem at side by drop {{\n    {CUT}}}\n",
        "E304",
        "solve drop between 0 cm and 2 cm that length of longer.side equals 60 cm tolerance 0.5 mm",
        ("no `drop` within its bounds", "the first side with drop 0.0 mm: "),
    ),
    "one bad name": Said(
        "length a = bust_grith + 1 cm\nlength b = a * 2\npoint p = starting_point outward b\n"
        f"shape s = lengthen base.front.hem at side by a\npiece one = smooth s.hem {{\n    {CUT}}}\n"
        "seam sides joins one.side to one.shoulder\ncheck long that length of one.side at_least b\n",
        "E201",
        "bust_grith",
        ("did you mean `bust_girth`",),
    ),
    "an outline behind an equals sign": Said(
        "piece one = shape {\n    line hem from a to b\n    cut 1\n}\n", "E138", "shape", ("`piece one {`",)
    ),
    "a piece with a fold, cut twice": Said(
        "piece one = base.front {\n    cut 2\n    grain up\n}\n", "E229", "cut 2", ("`on fold`", "`cut 2 as pair`")
    ),
    "a piece whose cut is misspelt": Said(
        "piece one = base.front {\n    cutt 1 on fold\n    grain up\n}\n", "E202", "cutt", ("did you mean `cut`?",)
    ),
    "a seam caught in one that comes after it": Said(
        f"{TWO}seam a joins front.side to back.side caught_in b\nseam b joins front.shoulder to back.shoulder after a\n",
        "E649",
        "a",
        ("`a`, which is caught in `b`, which is sewn after `a`", "take the `after` away"),
    ),
}
"""By what was written."""

UNASKED = frozenset(("W201", "W203"))
"""That a sentence leads to nothing is not told here, but where it is what is asked."""


def told(text: str) -> list[tuple[Diagnostic, str]]:
    """What is said of a text, each with the place it points to."""
    made = written(HEAD + text)
    found = [*made.diagnostics]
    if made.style is not None and not made.broken:
        (result,), _ = outcomes(made)
        found += result.errors
    places = (one.span for one in found)
    return [(one, made.texts[at.file][at.start : at.end] if at else "") for one, at in zip(found, places, strict=True)]


@pytest.mark.parametrize("name", SENTENCES)
def test_what_is_said_helps(name: str) -> None:
    row = SENTENCES[name]
    found = [(one, place) for one, place in told(row.text) if one.code not in UNASKED - {row.code} and place != "base"]
    assert [(one.code, place) for one, place in found] == ([(row.code, row.place)] if row.code else [])
    for one, _ in found:
        words = " | ".join((one.message, one.note, one.fix))
        assert [part for part in row.words if part not in words] == []


def test_a_name_used_in_the_block_of_each_alone_is_used() -> None:
    text = (
        "length apart = 3 cm\neach k from 1 to 2 {\n    point spot = starting_point outward apart * k\n}\n"
        f"length far = distance from spot.k1 to spot.k2\ncheck far_enough that far at_least 1 cm\n{TWO}"
    )
    assert [place for one, place in told(text)] == []
    assert [place for one, place in told(text.replace("outward apart", "outward 3 cm"))] == ["apart"]


STYLE = (
    "language 1\npoint a = starting_point\npoint b = a outward bust_girth / 4 - 10 cm\npoint c = a outward 13 cm up 20 cm\n"
    "point d = a up 10 cm\npiece panel {\n    line low from a to b\n    line side from b to c\n    line high from c to d\n"
    "    line centre from d to a\n    cut 1\n    grain up\n}\n"
)
BODY = 'name = "one"\nunit = "cm"\nsex = "F"\n[measures]\nbust_girth = {}\nnatural_waist_girth = 74\nhip_girth = 100\n'


def check(folder: Path, style: str, *girths: float) -> list[str]:
    """The arguments that prove a style on bodies with these girths."""
    (folder / "s.style").write_text(style, "utf-8")
    (folder / "bodies").mkdir()
    for k, girth in enumerate(girths):
        (folder / "bodies" / f"b{k}.toml").write_text(BODY.format(girth).replace('"one"', f'"body {k}"'), "utf-8")
    return ["check", str(folder / "s.style"), "--body", str(folder / "bodies")]


def test_a_measurement_that_is_doubted_is_told_before_what_fails_by_it(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """29 for 92: the panel turns inside out."""
    assert main(check(tmp_path, STYLE, 29.0)) == 2
    err = capsys.readouterr().err
    assert 0 <= err.index("`bust_girth`") < err.index("error[E302]")


def test_an_error_of_every_body_is_told_once_with_the_range(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    further = "point tip = panel.side at bust_girth from low\nlength far = distance from tip to a\n"
    further += "check f that far at_least 1 cm\n"
    style = STYLE + further
    assert main(check(tmp_path, style, 88.0, 92.0, 96.0)) == 2
    err = capsys.readouterr().err
    assert err.count("error[E301]") == 1
    assert "body 0, body 1 and body 2" in err


def test_what_is_said_and_what_is_found_stand_on_lines_of_their_own(tmp_path: Path) -> None:
    """Both streams in one file, as a terminal shows them."""
    both = io.StringIO()
    with contextlib.redirect_stdout(both), contextlib.redirect_stderr(both):
        main(check(tmp_path, STYLE + "length idle = 2 cm\n", 92.0))
    lines = both.getvalue().splitlines()
    begun = [line for line in lines if "warning[" in line or "body 0: 1 piece" in line]
    assert [line.partition(" ")[0] for line in begun] == ["warning[W201]:", "body"]


@pytest.mark.parametrize(
    ("asked", "answer"),
    [
        (["cut", "2", "on", "fold"], "cut"),
        (["zip"], "closure"),
        (["band"], "waistband"),
        (["cap"], "sleeve_draft"),
        (["gather"], "seam"),
        (["waistband"], "waistband"),
        (["princess"], "princess"),
        (["hem", "level"], "level_off"),
    ],
)
def test_the_words_of_the_trade_are_found(asked: list[str], answer: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["words", *asked]) == 0
    assert answer in capsys.readouterr().out
