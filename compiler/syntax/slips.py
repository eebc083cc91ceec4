"""Slips in the spelling of numbers, names and signs: what was meant, so that the rest of the file can still be read."""

from __future__ import annotations

import re
import unicodedata
from dataclasses import dataclass

from ..diagnostics import syntax_words as say
from ..diagnostics.diagnostic import Diagnostic, Span
from ..diagnostics.suggest import nearest
from .tokens import Token
from .words import FOREIGN_UNITS, UNITS

_TAPE = frozenset((2, 4, 8, 16, 32))
_SHAPE = r"(?:[0-9]++[ \t]++)?+[0-9]++/[0-9]++|[0-9]++(?:\.[0-9]++)?+"
_DECIMAL = re.compile(r"[0-9]++(?:\.[0-9]++)?+")
_MIXED = re.compile(r"[0-9]++[ \t]++[0-9]++/[0-9]++(?![0-9.])")
_COMMA = re.compile(rf"([0-9]++),([0-9]++)(?:[ \t]*+((?:{'|'.join(UNITS)})(?![\w.])))?+")
_INCHES = re.compile(rf"({_SHAPE})[ \t]?(?:″|\"(?=[\s)]|\Z))")
_GLUED = re.compile(rf"({_SHAPE})([^\W0-9]\w*+)")
_FOREIGN = re.compile(rf"({_SHAPE})[ \t]*+((?i:{'|'.join(FOREIGN_UNITS)})\b)")
_HYPHENATED = re.compile(r"[a-z][a-z0-9_]*+(?:-[a-z][a-z0-9_]*+)++")
_CURLY = re.compile(r'[“”„‟«»][^“”„‟«»"\n]*+[“”„‟«»"]?')
_AFTER = re.compile(rf"[ \t]?([\w.]{{1,30}}(?:[ ](?:{'|'.join(UNITS)})\b)?)")
_INSIDE = re.compile(r"\([ \t]*+([\w.]{1,40})[ \t]*+\)")
_NAME = re.compile(r"[a-z][a-z0-9_]*+(?:\.[a-z][a-z0-9_]*+)*+\Z")


@dataclass(frozen=True, slots=True)
class Mended:
    """A slip, the tokens that were meant, and the place to go on from. Not `sure` where others may have been meant."""

    diagnostic: Diagnostic | None
    tokens: tuple[Token, ...]
    end: int
    sure: bool = True


def on_the_tape(written: str) -> bool:
    """Whether "5/8" or "1 5/8" has a denominator a tape is divided by."""
    digits = written.rpartition("/")[2]
    return len(digits) < 3 and int(digits) in _TAPE


def number(text: str, start: int, file: str, naming: bool) -> Mended:
    """A number that is not plainly one: decimal comma, inch mark, fraction without unit, unknown unit, lone point.

    `naming` when a name was to follow here.
    """
    for attempt in (_comma, _inches, _foreign, _mixed):
        found = attempt(text, start, file)
        if found:
            return found
    if naming and (glued := _GLUED.match(text, start)):
        name = Token("NAME", "a" + glued[2].lower(), start, glued.end(), file)
        return Mended(say.foreign_letters(glued[0], "", name.span), (name,), glued.end(), sure=False)
    return _glued(text, start, file) or _plain(text, start, file)


def _comma(text: str, start: int, file: str) -> Mended | None:
    match = _COMMA.match(text, start)
    if not match:
        return None
    unit = f" {match[3]}" if match[3] else ""
    meant = f"{match[1]}.{match[2]}{unit}"
    token = Token("QUANTITY" if unit else "NUMBER", meant, start, match.end(), file)
    return Mended(say.decimal_comma(match[0], meant, token.span), (token,), match.end())


def _inches(text: str, start: int, file: str) -> Mended | None:
    match = _INCHES.match(text, start)
    if not match:
        return None
    meant = f"{' '.join(match[1].split())} inch"
    token = Token("QUANTITY", meant, start, match.end(), file)
    return Mended(say.inch_mark(match[0], meant, token.span), (token,), match.end())


def _mixed(text: str, start: int, file: str) -> Mended | None:
    match = _MIXED.match(text, start)
    if not match:
        return None
    token = Token("QUANTITY", f"{' '.join(match[0].split())} inch", start, match.end(), file)
    return Mended(say.mixed_fraction_without_unit(match[0], token.span), (token,), match.end())


def _foreign(text: str, start: int, file: str) -> Mended | None:
    match = _FOREIGN.match(text, start)
    return _unknown_unit(match, file) if match else None


def _glued(text: str, start: int, file: str) -> Mended | None:
    match = _GLUED.match(text, start)
    return _unknown_unit(match, file) if match else None


def _unknown_unit(match: re.Match[str], file: str) -> Mended:
    count, written = match[1], match[2]
    low = written.lower()
    offer = FOREIGN_UNITS.get(low, low if low in UNITS else next(iter(nearest(low, UNITS, 1)), ""))
    token = Token("QUANTITY", f"{' '.join(count.split())} {offer or 'mm'}", match.start(), match.end(), file)
    return Mended(say.unknown_unit(count, written, offer, UNITS, Span(file, *match.span(2))), (token,), match.end())


def _plain(text: str, start: int, file: str) -> Mended:
    """A good number before a sign, or one that ends in a lone point."""
    match = _DECIMAL.match(text, start)
    assert match is not None  # the lexer saw a digit
    end = match.end()
    token = Token("NUMBER", match[0], start, end, file)
    if text[end : end + 1] != ".":
        return Mended(None, (token,), end)
    return Mended(say.bare_decimal_point(f"{match[0]}.", match[0], Span(file, start, end + 1)), (token,), end + 1)


def word(written: str, start: int, file: str) -> Mended:
    """A name with a capital, a foreign letter or a point too many."""
    end = start + len(written)
    if written.endswith("."):
        inner = word(written[:-1], start, file)
        return Mended(say.lone_point(Span(file, end - 1, end)), inner.tokens, end)
    span = Span(file, start, end)
    meant = _small(written)
    good = bool(_NAME.match(meant))
    token = Token("DOTTED" if "." in meant else "NAME", meant if good else "a", start, end, file)
    if good and written.isascii() and meant.replace("_", "") == written.lower().replace("_", ""):
        return Mended(say.capital_in_name(written, meant, span) if meant != written else None, (token,), end)
    return Mended(say.foreign_letters(written, meant if good else "", span), (token,), end, sure=good)


def _small(written: str) -> str:
    """`frontHem`, `Front`, `Ärmel` -> `front_hem`, `front`, `armel`."""
    plain = unicodedata.normalize("NFKD", written)
    plain = "".join(c for c in plain if not unicodedata.combining(c)).strip("_")
    plain = re.sub(r"(?<=[a-z0-9])(?=[A-Z])", "_", plain)
    return plain.lower()


_COMPARISONS = {"<": "at_most", ">": "at_least"}


def character(text: str, start: int, file: str) -> Mended:
    """A sign the language does not have, a curly quote, a text without end, a decimal without its first digit."""
    sign = text[start]
    curly = _CURLY.match(text, start)
    if curly:
        token = Token("STRING", curly[0].strip("“”„‟«»\""), start, curly.end(), file)
        return Mended(say.curly_quotes(token.span), (token,), curly.end())
    if sign == '"':
        end = text.find("\n", start)
        end = start + len(text[start : end if end >= 0 else len(text)].rstrip())
        token = Token("STRING", text[start + 1 : end], start, end, file)
        return Mended(say.unclosed_text(token.span), (token,), end)
    decimal = _DECIMAL.match(text, start + 1) if sign == "." else None
    if decimal:
        token = Token("NUMBER", f"0.{decimal[0].replace('.', '')}", start, decimal.end(), file)
        return Mended(say.bare_decimal_point(f".{decimal[0]}", token.text, token.span), (token,), decimal.end())
    if sign == ".":
        return Mended(say.lone_point(Span(file, start, start + 1)), (), start + 1, sure=False)
    if sign in _COMPARISONS:
        end = start + (2 if text[start + 1 : start + 2] == "=" else 1)
        token = Token("COMPARE", _COMPARISONS[sign], start, end, file)
        return Mended(say.unknown_character(sign, token.span), (token,), end)
    return Mended(say.unknown_character(sign, Span(file, start, start + 1)), (), start + 1, sure=False)


def hyphenated(text: str, start: int) -> str:
    """The name with hyphens that begins at `start`, or an empty string."""
    match = _HYPHENATED.match(text, start)
    return match[0] if match else ""


def behind(text: str, minus: int) -> str:
    """The word or measure that stands behind a minus, or an empty string."""
    match = _AFTER.match(text, minus + 1)
    return match[1] if match else ""


def inside_brackets(text: str, start: int) -> str:
    """The one word between the bracket at `start` and its end, or an empty string."""
    match = _INSIDE.match(text, start)
    return match[1] if match else ""
