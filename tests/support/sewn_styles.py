"""Styles with a fault in how they are sewn: those of the project, one sentence changed."""

from __future__ import annotations

import re
from collections.abc import Callable
from functools import cache
from pathlib import Path

from godet.door.style import Style, open_style

from .style_runs import PATTERNS

BODIES = {"mens_trousers": "bass_2", "tenor_shirt": "bass_2"}


@cache
def text_of(style: str) -> str:
    return (PATTERNS / f"{style}.style").read_text("utf-8")


def changed(style: str, *edits: tuple[str, str]) -> str:
    """The text of a style with one place after the other changed."""
    text = text_of(style)
    for old, new in edits:
        assert old in text, old
        text = text.replace(old, new, 1)
    return text


def sentence(style: str, kind: str, name: str) -> str:
    """A sentence of a style, all its lines."""
    found = re.search(rf"^{kind} {name} .*\n(?:[ ]+\S.*\n)*", text_of(style), re.MULTILINE)
    assert found is not None, name
    return found.group()


def without(style: str, seam: str) -> str:
    """A style without a seam, nor what asks for it: the seams that come after it, the checks and closures that name it."""
    text = text_of(style).replace(sentence(style, "seam", seam), "", 1)
    text = re.sub(r"^(?:check|closure|finished|shown) .*\n(?:[ ]+\S.*\n)*", _unless(seam), text, flags=re.MULTILINE)
    lists = re.compile(r"\bafter (\w+(?:,\s+\w+)*)")
    return lists.sub(lambda found: _after(found.group(1), seam), text)


def _unless(seam: str) -> Callable[[re.Match[str]], str]:
    asks = re.compile(rf"\b(?:of|in) {seam}\b")
    return lambda found: "" if asks.search(found.group()) else found.group()


def _after(listed: str, seam: str) -> str:
    rest = [name.strip() for name in listed.split(",") if name.strip() != seam]
    return f"after {', '.join(rest)}" if rest else ""


def opened(style: str, text: str) -> Style:
    """A style of another text, as it would stand beside the one of its name."""
    return open_style(PATTERNS / f"{style}.style", text=text)


def _body_of(style: str) -> Path:
    return PATTERNS / "bodies" / f"{BODIES.get(style, 'alto_3')}.toml"


@cache
def _worn(style: str) -> Style:
    """A style of the project drawn on its body: edited, it draws anew what the edit moves, to the byte what it is afresh
    (`tests/door/test_edits.py`)."""
    made = open_style(PATTERNS / f"{style}.style")
    for one in made.on(_body_of(style)):
        assert not one.assembly.wrong
    return made


def told(style: str, text: str, body: bool = False) -> list[str]:
    """The codes of what is told of a style: that it cannot be read, what is wrong with it as it is sewn, and on a body."""
    made = _worn(style).edited(text) if body else opened(style, text)
    if made.has_errors:
        return sorted({one.code for one in made.diagnostics if one.is_error})
    assert made.assembly is not None
    found = [one.code for one in made.assembly.diagnostics]
    if body:
        (result,) = made.on(_body_of(style))
        assert not result.errors, [one.message for one in result.errors]
        found += [one.code for one in result.assembly.wrong]
    return found


