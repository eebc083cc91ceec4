"""The words of errors in places on edges. One function an error; codes E284 to E289, E193 to E196, E222."""

from __future__ import annotations

from collections.abc import Sequence

from .diagnostic import Diagnostic, Lack, Span


def place_missing(span: Span, edge: str, end_alone: bool) -> Diagnostic:
    form = f"{edge} at hem" if end_alone else f"{edge} at 7 cm from hem"
    what = "which end of it" if end_alone else "where on it"
    return Diagnostic("E286", f"{what} is not said", span, fix=f"write the place behind the edge, as in `{form}`")


def no_share(span: Span) -> Diagnostic:
    fix = "write a unit, as in `3 cm from hem`, or a share from 0 to 1, as in `1/3 from hem`"
    return Diagnostic("E288", "a share of an edge lies between 0 and 1", span, fix=fix)


def from_which_end(span: Span, written: str) -> Diagnostic:
    fix = f"write what the edge meets at that end, as in `{written} from hem`"
    return Diagnostic("E284", "from which end this is measured is not said", span, fix=fix)


def end_wanted(span: Span) -> Diagnostic:
    fix = "name the edge, dart or point that the edge meets at that end"
    return Diagnostic("E287", "the name of an end of the edge is wanted here", span, fix=fix)


def so_far_alone(span: Span, verb: str = "") -> Diagnostic:
    """`verb` is one that stands before `from`, where it is an operation that lacks its brackets."""
    if verb:
        return Diagnostic("E285", f"`{verb}` and what follows it stand in brackets here", span, fix=f"write `({verb} from …)`")
    fix = "write the edge before it, as in `front.side at 7 cm from hem`; of a word before it `from` says nothing"
    return Diagnostic("E285", "so far from an end is a place only on an edge", span, fix=fix)


def no_place_on(span: Span, found: str) -> Diagnostic:
    fix = "name an edge of a piece or a line or curve of the draft before `at`"
    return Diagnostic("E289", f"`at` gives a place on an edge, and this is {found}", span, fix=fix)


def no_part_of(span: Span, found: str) -> Diagnostic:
    fix = "name an edge of a piece or a line or curve of the draft before `between`"
    return Diagnostic("E193", f"`between` gives a part of an edge, and this is {found}", span, fix=fix)


def limits_alone(span: Span, kept: str) -> Diagnostic:
    fix = f"write `{kept}`; `between` sets the bounds of a choice, or tests in a condition"
    return Diagnostic("E194", "a value is not kept within limits by `between`", span, fix=fix)


def part_in_brackets(span: Span, word: str, part: str) -> Diagnostic:
    what = f"`{word} of` measures the whole edge, and the part of it stands in brackets"
    return Diagnostic("E222", what, span, fix=f"write `{word} of ({part})`")


def no_such_place(span: Span, name: str, edge: str, ends: Sequence[str], places: Sequence[str]) -> Diagnostic:
    listed = ", ".join(f"`{one}`" for one in (*ends, *places))
    fix = f"write one of {listed}, or so far from an end, as in `7 cm from {ends[0] if ends else 'hem'}`"
    return Diagnostic("E195", f"no place of `{edge}` is called `{name}`", span, fix=fix, lack=Lack.NAME)


def part_of_no_piece(span: Span) -> Diagnostic:
    fix = "name the part in the braces of its piece, as in `edge zip_part = side between zip_end and hem`, and write that name"
    return Diagnostic("E196", "a part is sewn only where its edge is one of a piece that is cut", span, fix=fix)
