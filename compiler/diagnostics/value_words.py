"""The words of errors in values: of another kind than is wanted, without a unit, out of bounds. One function an error."""

from __future__ import annotations

from collections.abc import Sequence

from .diagnostic import Diagnostic, Span
from .suggest import either

WRONG_KIND = "E208"

_BARE = {"lines": "a set of slash lines", "flag": "yes or no", "care": "a sentence of care", "edges": "edges"}
_WRITTEN = {
    "point": "name a point, or write how it is found: `nape down 2 cm`",
    "length": "write a number with its unit, a measurement of the body, or what is measured: `length of front.side`",
    "area": "measure a piece: `area of front`",
    "number": "write a number without a unit, or divide two that are alike",
    "angle": "write degrees, such as `18 deg`, or measure: `inner_angle front.side by hem`",
    "weight": "write grams per square metre, such as `180 gsm`",
    "line": "name a line of the draft, or a straight edge such as `front.centre`",
    "curve": "name a line or curve of the draft, or an edge such as `front.side`",
    "piece": "name a piece, or write in brackets what makes one: `(mirror half_front)`",
    "edge": "name an edge of a piece, such as `front.side`",
    "run of edges": "name the edges one after the other: `back.waistline + front.waistline`",
    "dart": "name a dart of a piece, such as `front.bust_dart`",
    "flag": "write `yes`, `no` or a condition",
    "text": "write a text in quotes",
    "direction": "write `up`, `down`, `outward`, `inward`, or `toward` and a point",
    "lines": "draw the lines first: `lines cuts = slash_lines … running_to … count 4`",
    "way of sewing": "define one first: `sewing plain stitch 301`",
    "new name": "write one word that nothing is called yet",
}

_OTHER_KIND = {
    ("point", "edge"): "take a point of it: `front.side at 3 cm from hem`, or `front.side at hem` for one of its ends",
    ("point", "curve"): "take a point of it: `… at 3 cm from …`, or the point it runs from or to",
    ("length", "run of edges"): "measure it: `length of (front.hem + back.hem)`",
    ("length", "edge"): "write `length of` before it",
    ("length", "curve"): "write `length of` before it",
    ("length", "point"): "measure between two points: `distance from … to …`",
    ("angle", "length"): "an angle is written in degrees, such as `18 deg`",
    ("length", "angle"): "a length is written in `cm`, `mm`, `m` or `inch`",
    ("edge or run of edges or curve", "length"): "it is a length already: leave `length of` away, or name an edge: `front.side`",
    ("run of edges", "length"): "name the edges themselves, without `length of`",
    ("edge", "piece"): "name an edge of the piece, such as `front.side`",
    ("length", "piece"): "name an edge of it: `length of front.side`",
    ("seam", "piece"): "name a seam, or an edge of the piece, such as `front.side`",
    ("flag", "number"): "write `yes` or `no`",
    ("number", "length"): "write the number without a unit, or divide by a length",
    ("piece", "edge"): "name the whole piece, without the edge",
}


def one(kind: str) -> str:
    """The kind with its article: `an angle`."""
    return _BARE.get(kind) or f"{'an' if kind[:1] in 'aeiou' else 'a'} {kind}"


def wrong_kind(span: Span, wanted: str, found: str, fix: str = "") -> Diagnostic:
    """`wanted` may be several kinds, joined by ` or `."""
    usual = _WRITTEN.get(wanted.split(" or ")[0], f"name {one(wanted)}")
    helped = fix or _OTHER_KIND.get((wanted, found), usual)
    return Diagnostic(WRONG_KIND, f"{one(wanted)} is wanted here, and this is {one(found)}", span, fix=helped)


def no_unit(span: Span, written: str, wanted: str) -> Diagnostic:
    units = {"angle": ("deg",), "weight": ("gsm",)}.get(wanted, ("cm", "mm", "inch"))
    which = "which unit? " if len(units) > 1 else ""
    fix = f"{which}write {either([f'{written} {unit}' for unit in units])}"
    return Diagnostic("E209", f"`{written}` has no unit, and {one(wanted)} is wanted here", span, fix=fix)


def mixed(span: Span, operator: str, left: str, right: str) -> Diagnostic:
    said = {"+": "added to", "-": "taken from", "*": "multiplied with", "/": "divided by"}[operator]
    first, second = (right, left) if operator == "-" else (left, right)
    drawn = [kind for kind in (left, right) if kind in ("edge", "curve", "piece", "point")]
    measured = _OTHER_KIND["length", drawn[0]] if drawn else ""
    fix = measured or "give both the same unit, or multiply by a bare number"
    return Diagnostic("E210", f"{one(first)} cannot be {said} {one(second)}", span, fix=fix)


def measure_in_brackets(span: Span, whole: str) -> Diagnostic:
    message = "what is measured is reckoned with, and has no brackets"
    return Diagnostic("E640", message, span, fix=f"write `{whole}`")


def not_constant(span: Span, word: str) -> Diagnostic:
    return Diagnostic(
        "E219",
        f"`{word}` must be the same for every body",
        span,
        fix="write a whole number, or a choice whose default is one",
    )


def one_of(span: Span, word: str, options: Sequence[str]) -> Diagnostic:
    listed = " or ".join(f"`{option}`" for option in options)
    return Diagnostic("E220", f"`{word}` takes {listed}", span, fix=f"write {listed}")


def lacks_value(span: Span, word: str, meaning: str) -> Diagnostic:
    return Diagnostic("E221", f"`{word}` has no value", span, fix=f"a word is always followed by its value: {meaning}")


def verb_as_value(span: Span, word: str) -> Diagnostic:
    return Diagnostic(
        "E223",
        f"`{word}` is a word of the verb, and a value is wanted here",
        span,
        fix=f"give the word before `{word}` its value",
    )


def bounds_reversed(span: Span) -> Diagnostic:
    return Diagnostic("E244", "nothing lies between these: the first is the greater", span, fix="write the smaller one first")


def out_of_bounds(span: Span, name: str, value: str, low: str, high: str) -> Diagnostic:
    return Diagnostic(
        "E224",
        f"`{name}` may lie between {low} and {high}, and is {value}",
        span,
        fix=f"choose a value between {low} and {high}",
    )


def several_wanted(span: Span, word: str) -> Diagnostic:
    return Diagnostic("E190", f"`{word} of` compares several values", span, fix=f"list them in brackets: `{word} of (a, b)`")


def measured_what(span: Span) -> Diagnostic:
    fix = "write one name of a measurement, as in `measured back_crotch_length`"
    return Diagnostic("E191", "`measured` asks for one measurement", span, fix=fix)


def two_wanted(span: Span, word: str, meaning: str) -> Diagnostic:
    return Diagnostic("E192", f"`{word}` takes two", span, fix=f"write both, with a comma between: {meaning}")


def block_value(span: Span, name: str, members: Sequence[str]) -> Diagnostic:
    listed = ", ".join(f"`{name}.{one}`" for one in members)
    return Diagnostic("E233", f"`{name}` gives several things", span, fix=f"say which: {listed}")


def bad_setting(name: str, found: str, wanted: str, example: str, choice: Span) -> Diagnostic:
    """A value given from outside (mm, radians, a number, a flag) of another kind than the choice's default."""
    message = f"`{name}` is {one(wanted)}, and was set to {one(found)}"
    return Diagnostic("E226", message, choice, fix=f'write for example `--set {name}="{example}"`')
