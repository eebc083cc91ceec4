"""The wording of errors in spelling and layout, and in files that are no text: one function per error, E101 to E131.

Like those of `sentence_words` they speak of words, numbers, lines and brackets; never of the parser's own parts.
"""

from __future__ import annotations

import unicodedata
from collections.abc import Iterable
from types import MappingProxyType

from .diagnostic import Diagnostic, Label, Span
from .suggest import either

_LONGEST_QUOTE = 40


def shown(text: str) -> str:
    """A piece of the user's text for use inside a message: in backticks, shortened, without control characters."""
    if len(text) > _LONGEST_QUOTE:
        text = text[:_LONGEST_QUOTE] + "…"
    clean = "".join(c if c.isprintable() else f"U+{ord(c):04X}" for c in text)
    return f"`{clean}`"


def error(code: str, message: str, span: Span | None, note: str = "", fix: str = "", **data: object) -> Diagnostic:
    """An error in what could not be read; `data` holds what its words were made from."""
    return Diagnostic(code, message, span, note, fix, data=MappingProxyType(data), unread=True)


# ---- characters, numbers, names ----------------------------------------------------------------

_MEANT = {
    "<": "for a comparison write `at_most`",
    ">": "for a comparison write `at_least`",
    ";": "leave it away: a sentence ends at the end of its line",
    ":": "leave it away: a name is followed by `=` or by a word",
    "[": "brackets are round: `(`",
    "]": "brackets are round: `)`",
    "'": 'a text stands in plain double quotes: "…"',
    "’": 'a text stands in plain double quotes: "…"',
    "‘": 'a text stands in plain double quotes: "…"',
    "×": "for times write `*`",
    "÷": "for a division write `/`",
    "−": "write a plain minus `-`",
    "–": "write a plain minus `-`",
    "—": "write a plain minus `-`",
    "°": "write `deg` after the number",
    "½": "write `1/2`",
    "¼": "write `1/4`",
    "¾": "write `3/4`",
    "⅛": "write `1/8`",
    "%": "write `25 percent`, or the share as a fraction or a decimal: `1/4`, `0.25`",
    "&": "write `and`",
    "|": "write `or`",
    "!": "write `not`",
    "\u00a0": "this is a hard space: type a plain one",
}


def unknown_character(character: str, span: Span) -> Diagnostic:
    name = unicodedata.name(character, "").lower()
    about = f"{shown(character)}" + (f" ({name})" if name and not character.isascii() else "")
    fix = _MEANT.get(character, "leave it away")
    return error("E101", f"the language has no sign {about}", span, fix=fix, character=character)


def decimal_comma(written: str, mended: str, span: Span) -> Diagnostic:
    return error(
        "E102",
        f"{shown(written)} has a decimal comma",
        span,
        note="decimals take a point",
        fix=f"write {shown(mended)}",
    )


def inch_mark(written: str, mended: str, span: Span) -> Diagnostic:
    return error(
        "E103",
        f"{shown(written)} marks inches with a quote",
        span,
        note="a quote begins a text",
        fix=f"write {shown(mended)}",
    )


def curly_quotes(span: Span) -> Diagnostic:
    return error(
        "E104",
        "this text stands in curly quotes",
        span,
        note="a text stands in plain quotes",
        fix='write "…"; turn off smart quotes in the editor',
    )


def unclosed_text(span: Span) -> Diagnostic:
    return error(
        "E105",
        "this text is not closed",
        span,
        note="no closing quote on this line",
        fix='close it with `"` on the same line',
    )


def mixed_fraction_without_unit(written: str, span: Span) -> Diagnostic:
    whole, part = written.split(None, 1)
    return error(
        "E106",
        f"{shown(written)} needs a unit",
        span,
        note="a whole number and a fraction belong together only before a unit",
        fix=f"write {shown(f'{written} inch')} if it is a length, `({whole} + {part})` if it is a number",
    )


def odd_fraction(written: str, span: Span) -> Diagnostic:
    return error(
        "E107",
        f"{shown(written)} is not a fraction on the tape",
        span,
        note="halves, quarters, eighths, sixteenths and thirty-seconds are",
        fix="write the length with a decimal point, or divide: `20 cm / 3`",
    )


def unknown_unit(number: str, written: str, offer: str, units: Iterable[str], span: Span) -> Diagnostic:
    fix = f"write {shown(f'{number} {offer}')}" if offer else f"the units are {either(units, 'and')}"
    hint = f"did you mean `{offer}`?" if offer else ""
    return error("E108", f"{shown(written)} is not a unit", span, note=hint, fix=fix, unit=written)


def unit_without_number(unit: str, span: Span) -> Diagnostic:
    return error(
        "E109",
        f"`{unit}` is a unit and follows a number only",
        span,
        fix=f"write a number before it: `15 {unit}`; a measure with a name already has its unit",
    )


def unclear_minus(before: str, after: str, span: Span) -> Diagnostic:
    taken = f"{before or 'a'} - {after or 'b'}"
    signed = f"-{after or '3 cm'}"
    sign = f"{shown(signed)} after a word"
    return error(
        "E110",
        "this minus can be read in two ways",
        span,
        note="a space on both sides subtracts; glued to what follows, after a space, it is a sign",
        fix=f"write {shown(taken)} to subtract, or {sign}",
    )


def hyphen_in_name(written: str, span: Span) -> Diagnostic:
    mended = written.replace("-", "_")
    return error(
        "E111", f"{shown(written)} is not a name", span, note="names take an underscore", fix=f"write {shown(mended)}"
    )


def capital_in_name(written: str, mended: str, span: Span) -> Diagnostic:
    return error(
        "E112",
        f"{shown(written)} has a capital letter",
        span,
        note="names and words are in small letters",
        fix=f"write {shown(mended)}",
    )


def foreign_letters(written: str, mended: str, span: Span) -> Diagnostic:
    return error(
        "E113",
        f"{shown(written)} is not a name",
        span,
        note="a name begins with a letter and has small letters a to z, digits and underscores",
        fix=f"write {shown(mended)}" if mended else "take another name",
    )


def call_with_brackets(name: str, inside: str, span: Span) -> Diagnostic:
    offer = f"{name} of {inside}" if inside else f"{name} of x"
    return error(
        "E114",
        f"`{name}` stands right before a bracket",
        span,
        note="nothing is called with brackets here",
        fix=f"write {shown(offer)}; if `{name}` is a verb or a word, put a space before the bracket",
    )


def number_too_long(span: Span) -> Diagnostic:
    return error("E115", "this number has more than 15 digits", span, fix="no measure of a garment needs so many")


def bare_decimal_point(written: str, mended: str, span: Span) -> Diagnostic:
    return error(
        "E116",
        f"{shown(written)} lacks a digit beside its point",
        span,
        fix=f"write {shown(mended)}",
    )


def name_too_long(word: str, limit: int, span: Span) -> Diagnostic:
    return error("E119", f"{shown(word)} is longer than {limit} letters", span, fix="take a shorter name")


def lone_point(span: Span) -> Diagnostic:
    return error(
        "E118",
        "this point joins nothing",
        span,
        note="a point joins two names, without spaces",
        fix="write `front.hem`; what a bracket makes has no names to reach: define it first, `shape moved = …`, then `moved.hem`",
    )


def reserved_part(word: str, span: Span) -> Diagnostic:
    return error(
        "E117",
        f"`{word}` is a word of the language and cannot be part of a name",
        span,
        fix=f"write the name that was defined, such as `{word}_a`",
    )


# ---- brackets, braces, lines -------------------------------------------------------------------


def bracket_not_closed(span: Span) -> Diagnostic:
    return error("E120", "this bracket is not closed", span, note="opened here", fix="close it with `)`")


def stray_bracket(span: Span) -> Diagnostic:
    return error("E121", "no bracket is open here", span, fix="leave this `)` away, or open one before it")


def brace_not_closed(span: Span) -> Diagnostic:
    return error(
        "E122", "this brace is not closed", span, note="opened here", fix="close it with `}` on a line of its own"
    )


def stray_brace(brace: str, span: Span, second: bool = False, sentence: Span | None = None) -> Diagnostic:
    what = "no brace is open here" if brace == "}" else "this brace belongs to no sentence"
    fix = f"leave this `{brace}` away"
    if second:
        what = "this sentence has its braces already"
        fix = "give these to a sentence of their own: `shape finished = grown {`, where `grown` is this one"
    labels = () if sentence is None else (Label(sentence, "the sentence above"),)
    if sentence is not None:
        fix = f"open it with `{{` at the end of its sentence, or leave this `{brace}` away"
    return Diagnostic("E123", what, span, fix=fix, labels=labels)


def brace_on_own_line(span: Span, sentence: Span) -> Diagnostic:
    return Diagnostic(
        "E124",
        "a brace opens on the line of its sentence",
        span,
        fix="move this `{` to the end of the sentence above",
        labels=(Label(sentence, "this sentence"),),
    )


def nested_too_deep(what: str, limit: int, span: Span) -> Diagnostic:
    return error(
        "E125",
        f"{what} stand more than {limit} deep in each other",
        span,
        fix="give the inner parts names of their own",
    )


def indented_by_accident(span: Span, above: Span) -> Diagnostic:
    return Diagnostic(
        "E126",
        "this sentence is indented as if it belonged to the one above",
        span,
        fix="begin it below the first word of the sentence above",
        labels=(Label(above, "the sentence above"),),
    )


def sentence_too_long(what: str, limit: int, span: Span) -> Diagnostic:
    return error(
        "E127",
        f"this sentence has more than {limit} {what}",
        span,
        fix="give parts of it names of their own",
    )


def too_many_errors(limit: int, span: Span | None) -> Diagnostic:
    return error("E128", f"this file has more than {limit} errors; the rest is not shown", span)


# ---- files -------------------------------------------------------------------------------------


def unprintable(sign: str, span: Span) -> Diagnostic:
    return error("E129", f"a text holds a sign that cannot be printed, {sign}", span, fix="take it out of the text", sign=sign)


def not_utf8(file: str, line: int, byte: int) -> Diagnostic:
    return error(
        "E130",
        f"`{file}` is not UTF-8 text: line {line} holds the byte {byte:02X}",
        Span(file, 0, 0),
        fix="save it as UTF-8 in the editor",
        line=line,
        byte=byte,
    )


def no_style(file: str, text: str) -> Diagnostic:
    first = Span(file, 0, (text + "\n").index("\n"))
    fix = "give a style; it begins with `language 1`"
    return error("E134", f"`{file}` is no style: its sentences cannot be read", first, fix=fix)


def not_text(file: str, line: int) -> Diagnostic:
    return error(
        "E131",
        f"`{file}` is not a text: line {line} holds a zero byte",
        Span(file, 0, 0),
        fix="styles and bodies are plain text; give the right file, or save it as UTF-8",
        line=line,
    )
