"""Names that are defined with each other, and which way round they go."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from ..diagnostics import meaning_words as words
from ..diagnostics.diagnostic import Diagnostic, Span
from ..syntax import tree as t


def told(
    made: Sequence[t.Definition | t.Solve], names: Sequence[str], spans: Sequence[Span], texts: Mapping[str, str]
) -> Diagnostic:
    """The error for a ring: its sentences, their names from one round to the same, and where each asks for the next."""
    if not all(isinstance(one, t.Definition) and one.kind.text == "seam" for one in made):
        return words.ring(spans[-1], names, spans)
    return words.seams_in_ring(spans[-1], names, spans, [_is_caught(one, texts) for one in spans])


def _is_caught(name: Span, texts: Mapping[str, str]) -> bool:
    """Whether the name of a seam stands in another behind `caught_in`, and not behind `after`."""
    before = texts.get(name.file, "")[: name.start].split()
    return next((one == "caught_in" for one in reversed(before) if one in ("after", "caught_in")), False)
