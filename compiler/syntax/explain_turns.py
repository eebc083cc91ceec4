"""Words and values that do not take turns -> the one error that a cutter can act on. Each attempt knows one kind of slip."""

from __future__ import annotations

from collections.abc import Sequence

from ..diagnostics import sentence_words as say
from ..diagnostics import syntax_words as spell
from ..diagnostics import turn_words
from ..diagnostics.diagnostic import Diagnostic
from .refused import OPENERS, Refused, written
from .tokens import Token
from .turns import COMPARED
from .words import HEADINGS, KINDS, RESERVED

_WRITTEN = frozenset(("NUMBER", "QUANTITY"))
_MEASURED = frozenset(("length", "angle", "number"))
# Words of other tongues, or of none, with what is written here.
_MEANT = {"else": "otherwise", "if": "when", "where": "that", "until": "to", "least": "at_least", "most": "at_most"}
_SIGNS = frozenset(("PLUS", "MINUS", "STAR", "SLASH"))
# Behind these a name with `from` behind it is an operation without its brackets.
_MEASURED_BEHIND = _SIGNS | {"EQUALS", "COMPARE", "DIR", "BY"}
_VALUES = frozenset(("DOTTED", "NUMBER", "QUANTITY", "LPAR", "YESNO", "SIGN"))
_BEHIND_VERB = _VALUES | {"NAME", "JOINER", "TO", "BY", "ALONG", "TOWARD"}


def meant(r: Refused) -> Diagnostic | None:
    """A word that the language has under another name, at the refused word or just before it."""
    for token in reversed(r.tokens[max(0, r.at - 2) : r.at + 1]):
        if token.type == "NAME" and token.text in _MEANT:
            return turn_words.another_word(token.text, _MEANT[token.text], token.span)
    return None


def numbers(r: Refused) -> Diagnostic | None:
    if r.bad.type in _WRITTEN and r.before.type in _WRITTEN:
        return turn_words.two_numbers(r.before.text, r.bad.text, r.before.span.to(r.bad.span))
    if r.bad.text == "in" and r.before.type in _WRITTEN:
        return spell.unknown_unit(r.before.text, "in", "inch", ("inch",), r.bad.span)
    return None


def sign(r: Refused) -> Diagnostic | None:
    """Slips that show in the refused word itself."""
    bad, before = r.bad, r.before
    if bad.type == "UNIT":
        return spell.unit_without_number(bad.text, bad.span)
    if bad.type == "COMMA":
        return _comma(r)
    if bad.type == before.type and bad.text == before.text and bad.type not in ("LPAR", "RPAR"):
        return turn_words.twice(bad.text, before.span.to(bad.span))
    if bad.type == "WITH" and r.tokens[r.start].type == "NAME" and r.start:
        return turn_words.with_behind_verb(r.tokens[r.start].text, bad.span)
    verb, behind = r.tokens[r.start], r.tokens[r.start + 1] if r.start < r.at else bad
    if verb.type == "NAME" and behind.type == "COMMA" and r.at > r.start + 2 and bad.type in _BEHIND_VERB:
        return turn_words.stray_comma(behind.span)
    if bad.type in _SIGNS and "NUMBER" in r.expected:
        stray = before.type == "COMMA"
        return turn_words.stray_comma(before.span) if stray else turn_words.value_before_sign(bad.text, bad.span)
    if bad.type == "EQ" and r.head.type == "CHECK" and r.at > 2:
        return say.equals_sign_in_check(bad.span)
    if bad.type == "OF" and before.type in ("NAME", "DOTTED"):
        inner = [i for i in range(r.at) if r.tokens[i].type == "OF"]
        return turn_words.of_takes_one(r.tokens[inner[-1] - 1].text, before.span.to(bad.span)) if inner else None
    if before.type == "EQ" and bad.type in ("END", "STRING", "BETWEEN"):
        return say.value_missing(before.text, before.span)
    return None


def _comma(r: Refused) -> Diagnostic:
    """A comma where nothing is listed; behind `between` it stands for the `and`."""
    depth = 0
    for i in range(r.at - 1, -1, -1):
        kind = r.tokens[i].type
        depth += (kind == "RPAR") - (kind == "LPAR")
        if depth < 0 or (depth == 0 and kind == "AND"):
            break
        if depth == 0 and kind == "BETWEEN":
            low, high = r.tokens[i + 1 : r.at], r.at + 1 + (r.tokens[r.at + 1].type == "AND")
            said = f"{written(low)} and {r.until_end(high)}" if low else r.until_end(high)
            return turn_words.comma_for_and(said, r.bad.span)
    return turn_words.stray_comma(r.bad.span)


def first_word(r: Refused) -> Diagnostic | None:
    """The word that a sentence begins with behind its name is left out, as in `line x a to b`."""
    if r.head.type != "KIND" or r.tokens[1].type != "NAME" or not (known := r.takes(r.head.text)):
        return None
    first = r.tokens[2]
    bare = r.at == 3 and first.type == "NAME" and first.text not in known and r.bad.text in known
    told = bare or (r.at == 3 and first.type == "KIND" and r.bad.type == "OF")
    if not told and not (r.at == 2 and first.type in _VALUES):
        return None
    said = f"{r.head.text} {r.tokens[1].text} {known[0]} {r.until_end(2)}"
    return turn_words.first_word_missing(known[0], first.text, said, first.span)


def measured(r: Refused) -> Diagnostic | None:
    """What stands behind `of` and is measured by another `of`, or compared, without its brackets."""
    if r.before.type != "OF" or r.bad.type != "KIND" or r.at < 2:
        return None
    word, rest = r.tokens[r.at - 2].text, r.until_end(r.at)
    if word in COMPARED:
        return turn_words.measured_list(word, rest, r.tokens[r.at - 2].span.to(r.bad.span))
    return turn_words.of_of(word, rest, r.tokens[r.at - 2].span.to(r.bad.span))


def operation(r: Refused) -> Diagnostic | None:
    """An operation as the value of a word, or as what a verb works on, without its brackets: `measures inner_angle front.side at
    hem`, `mirror unfold half across centre`."""
    start = r.start
    outer = r.takes(r.tokens[start].text) or r.takes(r.head.text)
    behind = range(start + 1, r.at)
    first = start + 1 if start and r.tokens[start].type == "NAME" else 0
    inside = (i for i in behind if i == first or r.tokens[i - 1].text in outer)
    at = next((i for i in inside if _is_verb(r, i) and r.tokens[i].text not in outer), 0)
    if not at or r.tokens[at + 1].type not in _BEHIND_VERB | {"KIND", "FROM"} or r.tokens[at + 1].text in outer:
        return None
    inner = r.takes(r.tokens[at].text)
    last, depth = at + 1, 0
    while r.tokens[last].type not in ("END", "STRING") and depth >= 0:
        token = r.tokens[last]
        if depth == 0 and token.text in outer and token.text not in inner:
            break
        depth += (token.type == "LPAR") - (token.type == "RPAR")
        last += 1
    word, value = r.tokens[at - 1].text, written(r.tokens[at:last])
    return turn_words.value_in_brackets(word, value, r.tokens[at].span.to(r.tokens[last - 1].span))


def _is_verb(r: Refused, at: int) -> bool:
    return r.tokens[at].type == "NAME" and bool(r.takes(r.tokens[at].text))


def place(r: Refused) -> Diagnostic | None:
    """A place or a step that is not finished, or has something behind it that belongs to no value."""
    if r.before.type == "AT":
        return turn_words.place_unfinished(r.before.span)
    if r.bad.type in _WRITTEN and r.tokens[r.at + 1].type == "FROM" and r.before.type in ("NAME", "DOTTED"):
        return turn_words.at_missing(r.bad.text, r.bad.span)
    start = r.start
    own = r.tokens[start : r.at]
    if own and own[0].type == "DIR" and r.tokens[start - 1].type == "EQ" and r.bad.type in _VALUES | {"NAME"}:
        return turn_words.start_missing(own[0].text, own[0].span)
    if r.before.type == "DIR" and len(own) > 1 and r.tokens[start - 1].type == "EQ":
        return turn_words.step_unfinished(r.before.text, r.before.span)
    if r.bad.type == "FROM" and r.before.type == "NAME" and r.at > 1 and r.tokens[r.at - 2].type in _MEASURED_BEHIND:
        return turn_words.operation_in_brackets(r.before.text, r.before.span)
    if r.bad.type == "FROM" and "NAME" in r.expected and r.before.type not in OPENERS:
        return turn_words.from_in_the_middle(r.bad.span)
    if r.bad.type == "BETWEEN" and r.before.type == "COMMA":
        return turn_words.stray_comma(r.before.span)
    if r.bad.type == "BETWEEN" and len(own) > 1 and r.before.type != "STRING":
        return turn_words.bounded_in_brackets(own[0].span.to(r.before.span))
    if r.tokens[start - 1].type != "EQ" or "END" not in r.expected or r.bad.type == "END":
        return None
    if any(token.type == "DIR" for token in own):
        return turn_words.after_steps(r.bad.text, r.bad.span)
    if any(token.type == "AT" for token in own):
        return turn_words.after_place(r.bad.text, r.bad.span)
    return None


def verb(r: Refused) -> Diagnostic | None:
    """Where a verb should stand, another thing does; or behind it stands nothing."""
    if r.before.type == "THEN":
        return turn_words.link_without_verb(r.before.span.to(r.bad.span))
    if r.bad.type == "THEN" and r.tokens[r.start - 1].type == "OTHERWISE":
        return turn_words.chain_behind_choice(r.bad.span)
    if r.before.type == "WITH" and r.at > 1 and r.tokens[r.at - 2].type == "NAME" and r.bad.type in ("END", "RPAR"):
        return turn_words.verb_without_values(r.tokens[r.at - 2].text, r.tokens[r.at - 2].span.to(r.before.span))
    if r.before.type == "EQ" and r.bad.type in ("JOINER", "FROM", "TO", "BY", "AT"):
        return turn_words.needless_equals(r.bad.text, r.bad.span)
    if r.before.type == "KIND" and r.expected == {"OF"} and r.bad.type in ("NAME", "DOTTED"):
        if r.before.text in _MEASURED:
            return turn_words.forgotten_of(r.before.text, r.bad.text, r.before.span.to(r.bad.span))
        return say.reserved_name(r.before.text, f"{r.before.text}_a", r.before.span)
    start = r.start
    first = r.tokens[start]
    if start and first.type in (*_VALUES, "STRING") and start < r.at and r.bad.type in _BEHIND_VERB:
        return turn_words.verb_missing("this" if first.type == "LPAR" else first.text, first.span)
    return None


def comparison(r: Refused) -> Diagnostic | None:
    start = r.start
    compared = start and r.tokens[start - 1].type in ("EQUALS", "COMPARE") and r.tokens[start].type == "NAME"
    ends = r.bad.type in ("END", "STRING", "RPAR", "AND", "OR")
    if compared and r.at > start + 1 and not ends:
        return turn_words.operation_in_brackets(r.tokens[start].text, r.tokens[start].span.to(r.bad.span))
    equals = [i for i in range(r.at) if r.tokens[i].type == "EQUALS"]
    if equals and ends and "NAME" in r.expected:
        left = next((i + 1 for i in range(equals[-1] - 1, -1, -1) if r.tokens[i].type in OPENERS), 0)
        return turn_words.tolerance_missing(r.tokens[left].span.to(r.before.span))
    return None


def turns(r: Refused) -> Diagnostic | None:
    """Words and values that do not take turns, told with what the verb takes where that is known."""
    start = r.start
    verb = r.tokens[start]
    known = r.takes(verb.text)
    if skipped := _skipped_value(r, start + 1, known):
        return turn_words.lacks_value(skipped.text, skipped.span)
    if not {"NAME", "JOINER"} & r.expected:
        return None
    if "NUMBER" in r.expected:  # a value is wanted
        worded = r.before.type in ("NAME", "JOINER", "TO", "BY", "ALONG", "TOWARD") and r.at > start + 1
        return turn_words.lacks_value(r.before.text, r.before.span) if worded and r.bad.text not in RESERVED - KINDS else None
    if r.bad.type in _VALUES or r.bad.type == "STRING":
        bare = start and r.at == start + 2 and not known and verb.type == "NAME"
        offer = f"{verb.text} with {r.before.text} …" if bare else ""
        return turn_words.word_wanted("this" if r.bad.type == "LPAR" else r.bad.text, verb.text, known, r.bad.span, offer)
    return None


def _skipped_value(r: Refused, first: int, known: Sequence[str]) -> Token | None:
    """The first word of the verb that another word of it follows where its value should stand."""
    depth = 0
    for i in range(first, r.at):
        token, follower = r.tokens[i], r.tokens[i + 1]
        depth += (token.type == "LPAR") - (token.type == "RPAR")
        wordlike = token.text in known and token.type not in ("AT", "FROM")
        if depth == 0 and wordlike and follower.text in known and follower.text != token.text:
            headed = follower.text in HEADINGS and i + 2 <= r.at and r.tokens[i + 2].type in ("NAME", "DOTTED", "LPAR")
            if not headed:
                return token
    return None
