"""The words in which is told that a collar or a lining will not lie as it should, W351 to W353."""

from __future__ import annotations

from .diagnostic import Diagnostic, Severity, Span
from .running_words import Say


def as_large(span: Span, seam: str, pieces: tuple[str, str], smaller: float, say: Say) -> Diagnostic:
    one, other = pieces
    how = "are as large as each other" if smaller < 0.05 else f"differ by {say(smaller, 1)} only"
    return Diagnostic(
        "W351",
        f"`{one}` and `{other}`, turned out at `{seam}`, {how}: fallen over, the lower one shows at the edge",
        span,
        note="the layer that lies above goes round the one beneath: this is smaller by 1 to 3 mm along the seam, by the "
        "thickness of the cloth",
        fix="make the one that lies beneath smaller, as with `then lengthen EDGE at OUTER by -2 mm` for each edge beside the "
        "outer one, and ease the other to it in the seam",
        data={"of": (seam, one, other), "figures": {"mm smaller": smaller}},
        severity=Severity.WARNING,
    )


def stands(span: Span, seam: str, piece: str, edge: str, mm: tuple[float, float, float], say: Say) -> Diagnostic:
    """`mm`: how high it stands, how long its outer edge is, and the place it would lie on."""
    high, outer, place = mm
    return Diagnostic(
        "W352",
        f"`{piece}` stands up by {say(high, 0)} at `{seam}`: its outer edge is {say(outer, 0)} long, and flat on front and "
        f"back, laid together at the shoulder, it would go round {say(place, 0)}",
        span,
        note="a collar falls to where the garment is as long as its outer edge, and stands by half of what it is deeper than "
        "that",
        fix=f"open it from the outer edge by up to {say(place - outer, 0)} in all (`slash … hinged_at {edge}`), make it less "
        "deep, or trace it from front and back, as `flat_collar` does",
        data={"of": (seam, piece), "figures": {"mm high": high}},
        severity=Severity.WARNING,
    )


def lining_without_ease(span: Span, pieces: tuple[str, str], level: str, wider: float, longer: float, say: Say) -> Diagnostic:
    """What is NaN is enough."""
    lining, shell = pieces
    amounts = [f"{say(wider, 0)} wider at `{level}`"] if wider == wider else []
    amounts += [f"{say(longer, 0)} longer"] if longer == longer else []
    helps = ["give it a pleat at the centre back: `lining … pleat 1 cm`, or draw it out there by 1 cm"] if wider == wider else []
    helps += ["let it down by 1 cm at its lower edge, which lies as a fold over the hem"] if longer == longer else []
    return Diagnostic(
        "W353",
        f"`{lining}` has no ease against `{shell}`, into which it is sewn: it is {' and '.join(amounts)}",
        span,
        note="a lining gives less than its shell: sewn in without ease it pulls at the seams and tears when the wearer reaches "
        "out",
        fix="; and ".join(helps),
        data={"of": (lining, shell), "figures": {"mm": min(mm for mm in (wider, longer) if mm == mm)}},
        severity=Severity.WARNING,
    )
