"""The words in which is told that a garment does not close as it should: W354 to W356."""

from __future__ import annotations

from collections.abc import Sequence

from .diagnostic import Diagnostic, Severity, Span
from .running_words import Say
from .suggest import either


def buttoned_within(span: Span, piece: str, row: str, edge: str, level: str, inset: float, say: Say) -> Diagnostic:
    return Diagnostic(
        "W354",
        f"the row `{row}` of `{piece}` lies {say(inset, 1)} within `{edge}`, at which `{level}` ends: there is nothing to lap "
        "over",
        span,
        note=f"buttoned, each side goes over the other by so much, and the garment is {say(2.0 * inset, 0)} narrower than it "
        "is drawn",
        fix=f"draw it on beyond `{edge}`, as with `button_stand … wide {say(inset, 1)}`, and lay the row on `{edge}`",
        data={"of": (piece, row, edge), "figures": {"mm": inset}},
        severity=Severity.WARNING,
    )


def wraps_too_little(span: Span, edges: Sequence[tuple[str, str]], level: str, lap: float, least: float, say: Say) -> Diagnostic:
    names = either([f"{piece}.{edge}" for piece, edge in edges], "and")
    return Diagnostic(
        "W355",
        f"at `{level}` the fronts lap over each other by {say(lap, 0)} in all, and nothing closes {names}: it opens at every "
        "step",
        span,
        fix=f"draw the edges on until they lap by {say(least, 0)} at least, or close them: `closure`, or buttons",
        data={"of": edges[0], "figures": {"mm": lap}},
        severity=Severity.WARNING,
    )


def ties_too_short(span: Span, ties: Sequence[str], long: float, around: float, bow: float, say: Say) -> Diagnostic:
    return Diagnostic(
        "W356",
        f"{either(ties, 'and')}: {say(long, 0)} of tie in all go round {say(around, 0)}, and are too short for a bow",
        span,
        note=f"the two ties go round what the band closes, once, and a bow takes {say(bow, 0)} of both",
        fix=f"make the ties {say(around + bow - long, 0)} longer in all",
        data={"of": tuple(ties), "figures": {"mm": long}},
        severity=Severity.WARNING,
    )
