"""What to say when a body is a child: cords, nightwear, small parts. The rules where the garment is sold decide."""

from __future__ import annotations

from ..diagnostics import body_words as words
from ..diagnostics.diagnostic import Diagnostic
from .body import Body

# EN 14682 and 16 CFR 1616 reach up to and with 14 years; EN 14682 is stricter up to 7; 16 CFR 1501 ends at 3.
CODES = frozenset(("W441", "W442", "W443"))
_CHILD, _YOUNG, _SMALL = 15.0, 7.0, 3.0


def cautioned(body: Body, in_full: bool = True) -> tuple[str, ...]:
    """The same as lines for reports, or in short for sheets; the last one sends to the rules where it is sold."""
    found = cautions(body)
    lines = [f"{_sentence(one.message)} {_sentence(one.note)}" if in_full else _sentence(one.message) for one in found]
    return (*lines, words.RULES_DECIDE) if found else ()


def _sentence(text: str) -> str:
    return f"{text[0].upper()}{text[1:]}."


def cautions(body: Body) -> tuple[Diagnostic, ...]:
    """Warnings for a body whose file gives an age of 14 years or less; none where no age is given."""
    age = body.measures.get("age")
    if age is None or age >= _CHILD:
        return ()
    span = body.spans.get("age")
    found = [words.cords_on_children(body.name, span, age <= _YOUNG), words.nightwear_for_children(body.name, span)]
    if age < _SMALL:
        found.append(words.small_parts_for_children(body.name, span))
    return tuple(found)
