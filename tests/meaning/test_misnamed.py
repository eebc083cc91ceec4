"""A slip in the name of a definition shows where that is used: beside each error stands the definition that nothing asks for. One
slip is told once."""

from __future__ import annotations

from dataclasses import dataclass
from functools import partial
from typing import NoReturn

import pytest
from godet.diagnostics.diagnostic import Diagnostic, Label, Span
from godet.meaning.checker import Checker
from godet.meaning.misnamed import settled
from support.styles import written

HEAD = "language 1\nuse plain_half from shapes\nblock base = plain_half with bust_ease 8 cm\n"
CUT = " {\n    cut 1 on fold\n    grain up\n    allow 1 cm\n}\n"
FRONT = f"piece front = base.front{CUT}"


@dataclass(frozen=True)
class Slip:
    """What was written beside `HEAD`: the `code` of its one error, the `place` it points to, what its `labels` point to, by the
    words that stand there, and some of what the `fix` says."""

    text: str
    code: str
    place: str
    labels: tuple[str, ...] = ()
    fix: str = ""


SLIPS = {
    "a length called by the name of something else": Slip(
        f"length meeting = 3 cm\n{FRONT}check long that length of front.side at_least drape\n", "E201", "drape", ("meeting",)
    ),
    "one of several is used by its meaning": Slip(
        f"length apart = 3 cm\nlength meeting = apart + 1 cm\n{FRONT}check long that length of front.side at_least drape\n",
        "E201",
        "drape",
        ("meeting",),
    ),
    "a name that only an end of an edge is called": Slip(
        "length hem = 3 cm\npoint low = base.front.side at 2 cm from hem\n"
        f"length far = distance from low to starting_point\n{FRONT}"
        "check long that length of front.side at_least far + drape\n",
        "E201",
        "drape",
        ("hem",),
    ),
    "a piece is meant where a part is asked of it": Slip(
        f"length spare = 2 cm\nshape whole = base.front\n{FRONT}check long that length of half.side at_least spare\n",
        "E201",
        "half",
        ("whole",),
    ),
    "a letter wrong where it is used blames nothing else": Slip(
        f"length drape = 3 cm\nlength more = drpae + drape\n{FRONT}check long that length of front.side at_least more\n",
        "E201",
        "drpae",
        (),
        "`drape`",
    ),
    "a word of the trade blames nothing else": Slip(
        f"length spare = 3 cm\n{FRONT}check long that length of front.side at_least bust\n", "E201", "bust", (), "`bust_girth`"
    ),
    "a length called as an edge is, which the sentence names that misses it": Slip(
        f"length side = 3 cm\nshape whole = lengthen base.front.hem at side by drape then smooth side\n{FRONT}"
        "check long that length of whole.side at_least 1 cm\n",
        "E201",
        "drape",
        ("side",),
    ),
    "a piece of which nothing else asks for an edge": Slip(
        f"{FRONT}{FRONT.replace('piece front', 'piece waistline')}seam sides joins front.side to back.side\n",
        "E201",
        "back",
        ("waistline",),
    ),
    "a trim called by another name": Slip(
        f"{FRONT}trim hem count 3\nclosure fly in front.centre as_long_as 10 cm closed_by button\n", "E201", "button", ("hem",)
    ),
    "a recipe takes by another name what is given": Slip(
        "recipe lowered \"a point further down\" {\n    takes length hem = 2 cm\n    takes length far = 1 cm\n"
        "    gives point low = starting_point down (hem + far + deep)\n}\npoint low = lowered with far 2 cm deep 1 cm\n"
        f"{FRONT}check long that distance from low to starting_point at_least 1 cm\n",
        "E203",
        "deep",
        ("hem",),
    ),
    "a recipe takes another kind than is given": Slip(
        "recipe lowered \"a point further down\" {\n    takes length place\n    gives point low = starting_point down place\n}\n"
        f"point end = base.front.side at hem\npoint low = lowered with place end\n{FRONT}"
        "check long that distance from low to end at_least 1 cm\n",
        "E208",
        "end",
        ("place",),
    ),
    "a recipe takes a name twice": Slip(
        "recipe lowered \"a point further down\" {\n    takes length far\n    takes length far\n"
        "    gives point low = starting_point down (far + deep)\n}\npoint low = lowered with far 2 cm deep 1 cm\n"
        f"{FRONT}check long that distance from low to starting_point at_least 1 cm\n",
        "E212",
        "far",
        ("far",),
    ),
    "a number taken without its unit is known all the same": Slip(
        "recipe lowered \"a point further down\" {\n    takes length far = 12\n    takes length deep = far / 2\n"
        "    takes length more\n    gives point low = starting_point down (far + deep + more)\n}\n"
        "point low = lowered with more 1 cm\n"
        f"{FRONT}check long that distance from low to starting_point at_least 1 cm\n",
        "E209",
        "12",
    ),
    "what comes next stands without then": Slip(
        f"shape longer = lengthen base.front.side at hem by 2 cm smooth side\n{FRONT}", "E203", "smooth", (), "`then`"
    ),
    "a word behind its value": Slip(
        "line low from (base.front.side at 5 cm from hem) to (base.front.centre at 5 cm from hem)\n"
        f"shape short = crop base.front along low meeting side, keeping centre neckline\n{FRONT}",
        "E203",
        "centre",
        (),
        "`keeping centre`",
    ),
    "an edge that all pieces allow for, misspelt": Slip(
        f"each piece {{\n    allow 2 cm on shoudler\n}}\n{FRONT}", "E257", "shoudler", (), "`shoulder`"
    ),
}


@pytest.mark.parametrize("slip", SLIPS.values(), ids=SLIPS)
def test_slip(slip: Slip) -> None:
    text = HEAD + slip.text
    (error,) = [one for one in written(text).diagnostics if one.is_error]
    assert error.code == slip.code
    places = [error.span, *(label.span for label in error.labels)]
    assert [text[one.start : one.end] for one in places if one is not None] == [slip.place, *slip.labels]
    assert slip.fix in error.fix


def _here(start: int) -> tuple[Label, ...]:
    return (Label(Span("a.style", start, start + 4), "here"),)


def _never(*_: object) -> NoReturn:
    raise AssertionError


def test_what_one_name_made_is_told_once_whatever_it_is_called() -> None:
    """Of errors beside which one place stands as the cause the first is told; what is only beside it hides nothing."""
    checker = Checker({}, _never, _never)
    name, uses = Span("a.style", 0, 4), [Span("a.style", start, start + 4) for start in (10, 20, 30)]
    for use, blamed in zip(uses, (True, True, False), strict=True):
        label = Label(name, f"any words, {use.start}", blamed)
        checker.diagnostics.append(Diagnostic("E201", "nothing is called so", use, labels=(label,)))
    settled(checker)
    assert [one.span for one in checker.diagnostics] == [uses[0], uses[2]]


def test_what_was_meant_is_looked_for_as_the_error_that_is_told_asks() -> None:
    """An error of a recipe comes with each of its uses, at one place, and is told at the first."""
    checker, told = Checker({}, _never, _never), Diagnostic("E201", "nothing is called so", Span("a.style", 10, 14))
    for start in (0, 5):
        checker.look_later(told, partial(_here, start))
    checker.diagnostics.append(told)
    settled(checker)
    assert [label.span.start for label in checker.diagnostics[0].labels] == [0]
