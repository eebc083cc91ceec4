"""The words in which a promise of fit is told: why it does not hold, what to do about it, and what else is to be known."""

from __future__ import annotations

from collections.abc import Sequence

from .diagnostic import Diagnostic, Severity, Span
from .suggest import either

Told = tuple[str, str]
"""What is wrong, and what to do about it."""

NOT_COVERED = "no piece of the garment lies there", "cut a piece that reaches the level, or promise nothing there"


def smaller(what: str, is_girth: bool, than_body: str, asked: str, stretched: bool, round_: str, is_asked: bool) -> Told:
    """A garment, or a draft, that is smaller than the body itself, or than its arm or leg, as `round_` says. `asked` is what it
    has less than asked, where it stretches round the body all the same; `is_asked` whether no more is asked for than that."""
    told = f"{what} is {than_body} {_than(round_) if is_girth else 'shorter than the body'}"
    fix = "give it more ease, or take a cloth that stretches more"
    if asked:
        return f"{told}; stretched round it, it has {asked} less than asked", fix
    if stretched:
        return f"{told}, more than its cloth stretches", fix
    if is_girth:
        wider = "ask for more than the body has there: make it wider" if is_asked else "give it more ease"
        return told, f"{wider}; where the cloth stretches, say so: `cloth … stretch 20 percent`"
    return told, "measure the body again, or ask for less"


def _than(round_: str) -> str:
    return f"narrower than the {round_}" if round_ in ("arm", "leg") else "smaller than the body"


def less(what: str, by: str) -> Told:
    return f"{what} has {by} less than asked", "give it more ease, or promise less"


def more(what: str, by: str) -> Told:
    return f"{what} has {by} more than asked", "take it in, or let the promise be over by more"


def absurd(by: str, stretches: bool, round_: str) -> Told:
    why = "no cloth of it stretches so far" if stretches else "no stretch of its cloth is stated"
    fix = "ask for an ease of nothing or more, or state how far the cloth stretches: `cloth … stretch 20 percent`"
    return f"what is asked is {by} {_than(round_)}, and {why}", fix


def half_missing(pieces: Sequence[str]) -> Told:
    is_ = "is half a piece and is" if len(pieces) == 1 else "are half pieces and are"
    told = f"{either(pieces, 'and')} {is_} cut once: the other half is missing"
    return told, "cut it `2 as pair`, lay it on a `fold`, or `unfold` it"


def part_missing(part: str, level: str) -> Told:
    told = f"no piece of the {part.replace('_', ' ')} that is cut reaches the {_level(level)} level"
    return told, "cut that piece too, down to the level, or promise nothing there"


def cut_away(places: Sequence[tuple[str, str, str]], level: str) -> Told:
    """`places` are edges, the pieces they are of, and how much of the level they cut off."""
    told = " and ".join(f"the `{edge}` of `{piece}` cuts {by} of it away" for edge, piece, by in places)
    edge, piece, _ = places[0]
    fix = f"where that is meant, write `opens {edge}` in the braces of `{piece}`; else end the edge above the level"
    return f"the {_level(level)} level is cut open: {told}", fix


def taken_by_style(by: str) -> Told:
    fix = "let out what was taken in, or promise less; where other cloth is sewn on in its place, as a band, draw that edge with "
    return f"the style takes {by} of what its block has there", f"{fix}`replace` and write `opens EDGE`: it counts as worn then"


def _level(level: str) -> str:
    return level.removesuffix("_level").removesuffix("_line").replace("_", " ")


def open_as_meant(by: str) -> str:
    return f"{by} of it is open, as the style means"


def not_reached() -> str:
    return "no piece that is cut reaches this level: nothing is held to it"


def lost(level: str, edges: Sequence[tuple[str, str, tuple[str, ...]]]) -> str:
    """`edges` were the level: each with what draws it anew, and the edges the level ran between."""
    gone = " and ".join(f"`{by}` draws `{edge}` anew" for edge, by, _ in edges)
    meeting = ", ".join(edges[0][2])
    told = f"the level lay along an edge, and is lost where {gone}: nothing is held to it"
    return f"{told}; mark it anew there: `mark_level {level} along … meeting {meeting}`"


def of_block() -> str:
    return "the block's length: the pieces that are cut do not carry it whole"


def changed(by: str, is_longer: bool, names: Sequence[str]) -> str:
    told = f"{by} {'longer' if is_longer else 'shorter'} than the block's"
    return f"{told}, by {either(names, 'and')}" if names else told


def no_ease(span: Span, count: int) -> Diagnostic:
    girths = "1 girth is" if count == 1 else f"{count} girths are"
    return Diagnostic(
        "W307",
        "nothing that is promised of the body asks for ease: a garment just as wide as the body would hold it all",
        span,
        note=f"{girths} promised, each with an ease of nothing or less, and no cloth stretches",
        fix="write how much more than the body the garment has, as `ease 6 cm`, or the `stretch` of the cloth",
        severity=Severity.WARNING,
    )
