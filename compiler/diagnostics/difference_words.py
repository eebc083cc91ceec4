"""The wording of what differs between the pieces of two styles, as a cutter would say it. `by` is a length in words, or "" where
a table tells it beside."""

from __future__ import annotations

import re
from collections.abc import Sequence

LEAST = "less than a pencil line"


def spoken(name: str) -> str:
    """A name as it is said: `right waist dart, lower inner leg`, `buttonhole 3`."""
    counted = re.sub(r"[._]k(\d+)", r" \1", name)
    return counted.replace(".", ", ").replace("_", " ")


def both(name: str) -> str:
    """A name without the half it is on."""
    return re.sub(r"^(left|right)[_ ]", "", name)


def subject(name: str, halves: bool) -> str:
    """An edge; of both halves alike, once."""
    return f"left and right {spoken(both(name))}" if halves else spoken(name)


def _by(by: str) -> str:
    return f" {by}" if by else ""


def _ways(ways: Sequence[str]) -> str:
    return " and ".join(ways)


def along_whole(edge: str, by: str, ways: Sequence[str]) -> str:
    return f"{edge}{_by(by)} {_ways(ways)}, along the whole edge"


def longer(edge: str, by: str, more: bool, where: str) -> str:
    """`where`: the end, or both, with its article; "": somewhere."""
    told = f"{edge} {'longer' if more else 'shorter'}" + (f" by {by}" if by else "")
    return f"{told} at {where}" if where else told


def end_of(edge: str) -> str:
    """The end of an edge where it meets another."""
    return edge if edge == "end" or edge.endswith(" end") else f"{edge} end"


def end_moves(edge: str, by: str, ways: Sequence[str], end: str) -> str:
    return f"{edge}: {end_of(end)}{_by(by)} {_ways(ways)}"


def across_end(edge: str, by: str, way: str, end: str) -> str:
    """An edge that runs from side to side dips or rises at its end, one that runs up and down goes outward or inward."""
    told = f"{edge} {way}{_by(by)}" if way in ("dips", "rises") else f"{edge}{_by(by)} {way}"
    return f"{told} at the {end_of(end)}"


def inside(edge: str, by: str, ways: Sequence[str], place: str, end: str) -> str:
    where = f"{place} from the {end}" if place else "in the middle"
    return f"{edge}{_by(by)} {_ways(ways)}, {where}"


def named_anew(old: Sequence[str], new: Sequence[str]) -> str:
    return f"{_listed(old)} is now {_listed(new)}" if len(old) == 1 else f"{_listed(old)} are now {_listed(new)}"


def edge_gone(edge: str, by: str, gone: bool) -> str:
    state = "gone" if gone else "new"
    return f"{edge} {state}" + (f", as far as {by} off the other outline" if by else "")


def allowed(edge: str, now: str, was: str, moves: str) -> str:
    told = f"{edge} allowed {now}, was {was}"
    return f"{told}: cut edge moves {moves}" if moves else told


def turned_under(edge: str, now: str, was: str) -> str:
    return f"{edge}: {now} of the hem turned under, was {was}"


def cornered(edge: str, now: str, was: str) -> str:
    return f"{edge} with corners {spoken(now)}, were {spoken(was)}"


def piece_new() -> str:
    return "new"


def piece_gone() -> str:
    return "gone"


def piece_renamed(was: str) -> str:
    return f"was {spoken(was)}"


def cut(cloth: str, now: str, was: str) -> str:
    """How often a piece is cut in a cloth."""
    where = "" if cloth == "shell" else f" in {spoken(cloth)}"
    if not now:
        return f"no longer cut{where or ' in shell'}, was {was}"
    return f"cut {now}{where}, was {was}" if was else f"cut {now}{where or ' in shell'}, was not"


def stated(what: str, now: str, was: str) -> str:
    if what == "fold":
        return f"on the fold at {spoken(now)}, was {f'at {spoken(was)}' if was else 'not'}" if now else "no longer on the fold"
    named = spoken(what.removeprefix("sign "))
    if not was or not now:
        return f"{named} {'new' if now else 'gone'}"
    return f"{named}: {spoken(now)}, was {spoken(was)}"


def grain_turned(degrees: float) -> str:
    """Seen from the side that lies up; by half a turn the nap lies the other way."""
    if abs(abs(degrees) - 180.0) < 0.05:
        return "grain turned end for end"
    return f"grain turned by {f'{abs(degrees):.1f}'.removesuffix('.0')} degrees to the {'left' if degrees > 0 else 'right'}"


def mirrored() -> str:
    return "drawn mirrored"


def laid_at(edge: str) -> str:
    return f"laid together at {spoken(edge)}"


def notches_moved(edge: str, by: str) -> str:
    return f"notches of {edge}" + (f" moved by {by} at most" if by else " moved, at most")


def notches_recounted(edge: str, now: Sequence[str], was: Sequence[str]) -> str:
    """Places along the edge, the unit behind the last."""
    count = f"{len(now) or 'no'} notch{'' if len(now) == 1 else 'es'}"
    here = f" at {', '.join(now)}" if now else ""
    were = f"{'was' if len(was) == 1 else 'were'} {len(was) or 'none'}" + (f" at {', '.join(was)}" if was else "")
    return f"{count} on {edge}{here}, {were}"


def notch_strokes(edge: str, now: Sequence[int], was: Sequence[int]) -> str:
    counts = [", ".join(map(str, row)) for row in (now, was)]
    return f"notches of {edge} of {counts[0]} strokes, were {counts[1]}"


def point_moved(point: str, by: str, ways: Sequence[str]) -> str:
    return f"{point}{_by(by)} {_ways(ways)}"


def point_new(point: str, new: bool) -> str:
    return f"{point} {'new' if new else 'gone'}"


def ends_with_edges(by: str) -> str:
    return "lines inside end with their edges" + (f", by {by} at most" if by else ", at most")


def levels_moved(by: str) -> str:
    return "levels of the body lie elsewhere on it" + (f", by {by} at most" if by else ", at most")


def cut_line(by: str) -> str:
    return "cut line moved" + (f" by {by} at most" if by else "")


def small(edges: Sequence[str], by: str) -> str:
    return f"{_listed(edges)}: {LEAST} ({by})"


def same_pieces(names: Sequence[str]) -> str:
    return f"Same on this body: {_listed(names)}."


def otherwise(body: str, told: str) -> str:
    """What is told of an edge on other bodies than that on which it moves most."""
    return f"{body}: {told}"


def not_drawn(now: bool, why: str) -> str:
    return f"drawn now, was not: {why}" if now else f"no longer drawn: {why}"


def held(what: str, now: bool | None, was: bool | None, told: str) -> str:
    """A seam, a check, a promise of fit that holds or fails, unlike before."""
    here = {True: "holds", False: "fails", None: "is not asked"}[now]
    then = {True: "it held", False: "it failed", None: "it was not asked"}[was]
    return f"{what} {here}, before {then}" + (f": {told}" if told else "")


def said_anew(what: str, new: bool) -> str:
    return f"{what} {'new' if new else 'gone'}"


def said_otherwise(what: str, word: str, now: str, was: str) -> str:
    return f"{what}: {word} {now or 'none'}, was {was or 'none'}"


def called(kind: str, name: str) -> str:
    """What a thing is called among all that is said: `seam sides, left`, `check cap fits`, `the garment`."""
    return spoken(name) if kind == "assembly" else f"{kind} {spoken(name)}"


def tolerance(over: str, under: str) -> str:
    """`8.0 mm`, `+15.0 mm -10.0 mm`."""
    return over if over == under else f"+{over} -{under}"


def beyond() -> str:
    return "beyond its tolerance"


def numbered(told: Sequence[str]) -> str:
    """Things of one name and other numbers of which the same is told, in one line; "" where it is not the same."""
    found = [re.match(r"([a-z ]+) (\d+)(?=[, ])(.*)", one) for one in told]
    rest = {(one.group(1), one.group(3)) for one in found if one is not None}
    if None in found or len(rest) != 1:
        return ""
    numbers = sorted(int(one.group(2)) for one in found if one is not None)
    name, tail = rest.pop()
    return f"{name} {_counted(numbers)}{tail}"


def _counted(numbers: Sequence[int]) -> str:
    told = [str(one) for one in numbers]
    if len(told) > 2 and numbers[-1] - numbers[0] == len(numbers) - 1:
        return f"{told[0]} to {told[-1]}"
    return told[0] if len(told) == 1 else f"{', '.join(told[:-1])} and {told[-1]}"


def _listed(names: Sequence[str]) -> str:
    told = [spoken(name) for name in names]
    return told[0] if len(told) == 1 else f"{', '.join(told[:-1])} and {told[-1]}"
