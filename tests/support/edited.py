"""Texts of styles, edited as their authors might, and compiled."""

from __future__ import annotations

import re
from collections.abc import Mapping
from pathlib import Path
from random import Random

from godet.jobs.files import Disk
from godet.jobs.workspace import Workspace
from godet.meaning.analysis import Analysis
from godet.meaning.style import CheckedStyle
from godet.syntax.source import Source
from godet.verbs.kinds import Kind
from hypothesis import assume

from .style_runs import PATTERNS

EDITED = re.compile(r"^( *(?:choice|allow|point|length|notch|shape|piece|block) .*?)(\d+(?:\.\d+)?) cm", re.MULTILINE)
HEAD = ("language ", "style ", "use ")


def text_of(name: str) -> str:
    return (PATTERNS / f"{name}.style").read_text("utf-8")


Settings = Mapping[str, tuple[Kind, float]]


def analysed(text: str, file: Path = PATTERNS / "edited.style", settings: Settings | None = None) -> Analysis:
    return Workspace(Disk()).analyse(Source(str(file), text), settings or {})


def compiled(text: str, file: Path = PATTERNS / "edited.style", settings: Settings | None = None) -> CheckedStyle:
    found = analysed(text, file, settings)
    wrong = [(one.message, one.span and text[one.span.start : one.span.end]) for one in found.diagnostics]
    assert found.style is not None, wrong
    return found.style


def sentences(text: str) -> list[str]:
    """The sentences of a formatted text, each with its braces; comments left out."""
    found: list[str] = []
    for line in text.splitlines():
        if line.lstrip().startswith("#") or not line.strip():
            continue
        if line[0] in " }":
            found[-1] += f"\n{line}"
        else:
            found.append(line)
    return found


def shuffled(text: str, random: Random) -> str:
    """The sentences of a text in another order; what a file begins with stays there."""
    told = sentences(text)
    rest = [one for one in told if not one.startswith(HEAD)]
    random.shuffle(rest)
    return "\n".join([one for one in told if one.startswith(HEAD)] + rest) + "\n"


def laid_out_anew(text: str, random: Random) -> str:
    """Comments between the sentences, and more space between their words."""
    wide = [re.sub(r" = ", " " * random.randint(1, 9) + "=  ", one) for one in sentences(text)]
    return "".join(f"{one}\n" + "\n" * random.randint(0, 2) + f"# number {random.random()}\n" for one in wide)


def replaced(text: str, old: str, new: str) -> str:
    """The text with one place written anew."""
    assert text.count(old) == 1, f"{old!r} stands {text.count(old)} times"
    return text.replace(old, new)


def renamed(text: str, old: str, new: str) -> str:
    """The text with a definition called otherwise, wherever it is named."""
    assert re.search(rf"\b{old}\b", text)
    assert not re.search(rf"\b{new}\b", text)
    return re.sub(rf"\b{old}\b", new, text)


def edited_at_random(text: str, random: Random) -> str:
    """A text with one of its lengths a little longer or shorter, that a style can still be read from."""
    places = list(EDITED.finditer(text))
    random.shuffle(places)
    for place in places:
        far = round(float(place[2]) + random.choice((-0.3, -0.1, 0.1, 0.4)), 3)
        made = f"{text[: place.start(2)]}{far}{text[place.end(2) :]}"
        if far > 0 and analysed(made).style is not None:
            return made
    assume(False)
    raise AssertionError
