"""A body: one person's measurements as they were given, and where each was written."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from ..diagnostics.diagnostic import Span
from .units import Unit
from .vocabulary import Sex, Wearer

# The adult surveys begin at 17 years; below, their regressions and limits do not hold.
ADULT_FROM_AGE = 17.0
# Below this no adult is plausible (the least of 10,050, less 7 %): without an age it is taken for a child. mm.
SHORTEST_ADULT = 1310.0


@dataclass(frozen=True)
class Body:
    """One person. `measures`: body word -> mm, degrees, kg or years; only what was measured, nothing estimated.

    `sex` chooses whose survey serves for limits and estimates; None where the file does not say. `spans` and `lines`
    (from 1) hold the place of each measure and of `name`, `unit`, `sex`; `short_forms`
    body word -> the short form used for it. `choices`: what choices of the style are set to for this body alone, as a size
    chart may say: name -> mm, radians or a bare number.
    """

    name: str
    unit: Unit
    sex: Sex | None
    measures: Mapping[str, float]
    file: str = ""
    spans: Mapping[str, Span] = field(default_factory=dict)
    lines: Mapping[str, int] = field(default_factory=dict)
    short_forms: Mapping[str, str] = field(default_factory=dict)
    choices: Mapping[str, float] = field(default_factory=dict)

    @property
    def file_name(self) -> str:
        """Its name as part of a file name: letters, digits and underscores."""
        return "".join(letter if letter.isalnum() else "_" for letter in self.name.lower()).strip("_") or "body"

    @property
    def survey_sex(self) -> Sex:
        """Whose survey serves: the women's where the file does not say, since the styles are womenswear first."""
        return self.sex or "F"

    @property
    def wearer(self) -> Wearer:
        """Whose measurements are asked for: a woman's where neither age nor sex say otherwise."""
        return "child" if self.is_child else "man" if self.sex == "M" else "woman"

    @property
    def is_child(self) -> bool:
        """By its age; where none is given, by a stature that no adult has."""
        age = self.measures.get("age")
        return age < ADULT_FROM_AGE if age is not None else self.measures.get("stature", SHORTEST_ADULT) < SHORTEST_ADULT
