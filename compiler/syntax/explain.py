"""A sentence that the grammar does not take -> the one error that a cutter can act on."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from ..diagnostics import sentence_words as say
from ..diagnostics import turn_words
from ..diagnostics.diagnostic import Diagnostic
from ..diagnostics.suggest import nearest
from . import explain_turns
from .refused import Refused
from .tried import tried, tries
from .words import HEADS, KINDS, RESERVED

BEGINNINGS = KINDS | HEADS
_DEFINERS = frozenset(("KIND", "GIVES", "TAKES"))
_NAMED = frozenset(("KIND", "CHECK", "TELL", "RECIPE", "EACH", "SOLVE"))
# What a reader calls the thing that is wanted: all of the first set could follow, none of the second.
_WANTED: tuple[tuple[set[str], set[str], str], ...] = (
    ({"THAT"}, set(), "`that`"),
    ({"NAME", "JOINER"}, {"NUMBER"}, "a word"),
    ({"AND"}, {"END", "RPAR", "OTHERWISE"}, "`and`"),
    ({"OTHERWISE"}, {"END", "RPAR"}, "`otherwise`"),
    ({"FROM"}, {"NUMBER"}, "`from`"),
    ({"KIND"}, {"NUMBER"}, "a kind"),
    ({"NAME"}, {"NUMBER"}, "a name"),
    ({"STRING", "END"}, {"NUMBER"}, "the end, or a sign such as `+`,"),
    ({"STRING"}, {"NUMBER"}, "a text in quotes"),
    ({"NUMBER"}, {"LPAR"}, "a number"),
    ({"NUMBER"}, {"END", "RPAR", "PLUS"}, "a value"),
    ({"RPAR"}, set(), "`)`"),
    ({"END"}, {"NUMBER"}, "the end of the sentence"),
)
_FORMS = {
    "LANGUAGE": "language 1",
    "STYLE": 'style "Concert top"',
    "USE": "use bodice, sleeve from folder/module",
    "NEEDS": "needs draft.shoulder",
    "SOLVE": "solve width between 10 cm and 20 cm that … equals … tolerance 0.5 mm",
    "CHECK": "check sides_agree that … at_least …",
    "TELL": 'tell front_narrowed when … at_least … "what that means"',
    "RECIPE": 'recipe kimono "what it is for" {',
    "EACH": "each k from 1 to n up_to 20 {",
    "ADD": "add length extra = 2 cm",
    "CHANGE": "change length extra = 2 cm",
    "WITHOUT": "without drape, drape_seam",
}


def explain(refused: Refused) -> Diagnostic:
    """The error for a refused sentence. Its tokens end with the END mark."""
    if refused.head.type in ("ADD", "CHANGE") and refused.at > 1:
        return explain(replace(refused, tokens=refused.tokens[1:], at=refused.at - 1))
    found = next(filter(None, (attempt(refused) for attempt in _ATTEMPTS)), None) or _generic(refused)
    return (tried(refused) or found) if tries(found, refused) else found


def _beginning(r: Refused) -> Diagnostic | None:
    head, second = r.head, r.tokens[1]
    if head.type == "NAME":
        equals = next((i for i, t in enumerate(r.tokens) if t.type == "EQ"), 0)
        if equals == 1:
            return say.kind_missing(head.text, head.span)
        misspelt = not r.takes(head.text) and nearest(head.text, HEADS, 1, parts=False)
        if equals or misspelt:
            return say.wrong_beginning(head.text, BEGINNINGS, head.span)
        return None
    if r.at == 0 and head.text == "then":
        return say.nothing_to_go_on_with(head.span)
    if r.at == 0:
        return say.wrong_beginning(head.text, BEGINNINGS, head.span)
    kindless = r.at == 1 or (r.at == 2 and second.type == "NAME" and second.text != "all")
    if head.type in ("GIVES", "TAKES") and kindless and second.type != "END":
        return say.kind_wanted(head.text, second.text, KINDS, second.span)
    return None


def _naming(r: Refused) -> Diagnostic | None:
    """Something is wrong with the name that is being defined."""
    if r.head.type == "USE" and r.tokens[1].type == "FROM" and r.tokens[3:4] and r.tokens[3].type == "END":
        return say.name_missing(r.head.text, r.head.span.to(r.tokens[1].span))
    place = 2 if r.head.type in ("GIVES", "TAKES") and r.tokens[1].type == "KIND" else 1
    if r.tokens[place - 1].type not in _NAMED:
        return None
    name = r.tokens[place]
    if r.at == place:
        return _bad_name(r, place)
    equals = next((i for i, t in enumerate(r.tokens) if t.type == "EQ"), 0)
    if equals > place + 1 and r.bad.type in ("EQ", "UNIT") and r.head.type in _DEFINERS:
        words = r.tokens[place:equals]
        if all(word.text.replace("_", "").isalnum() and word.type != "STRING" for word in words):
            return say.second_word_in_name(" ".join(t.text for t in words), name.span.to(words[-1].span))
    return None


def _bad_name(r: Refused, place: int) -> Diagnostic:
    name, kind = r.tokens[place], r.tokens[place - 1]
    if r.head.type == "CHECK" and r.tokens[place + 1 : place + 2] and r.tokens[place + 1].type != "THAT":
        return say.check_unnamed(name.span)
    if name.text == "from" and r.tokens[place + 1].type in ("NAME", "DOTTED"):  # `curve from a to b`
        return say.name_missing(kind.text, kind.span.to(name.span))
    if name.text in RESERVED:
        offer = f"{kind.text}_{name.text}" if kind.text != name.text else f"{name.text}_a"
        return say.reserved_name(name.text, offer, name.span)
    if name.type == "DOTTED":
        return say.second_word_in_name(name.text.replace(".", " "), name.span)
    return say.name_missing(kind.text, kind.span if name.type == "END" else name.span)


def _texts(r: Refused) -> Diagnostic | None:
    early = [t for t in r.tokens[: r.at + 1] if t.type == "STRING"]
    if early and r.head.type in ("KIND", "TAKES", "GIVES", "CHECK", "NEEDS", "RECIPE") and r.bad.type != "END":
        return say.text_not_last(early[-1].span)
    return None


def _choice(r: Refused) -> Diagnostic | None:
    if "OTHERWISE" in r.expected and r.bad.type in ("END", "STRING", "RPAR", "BETWEEN"):
        when = next((t for t in reversed(r.tokens[: r.at]) if t.type == "WHEN"), None)
        return say.otherwise_missing(when.span) if when else None
    return None


def _check(r: Refused) -> Diagnostic | None:
    if r.head.type == "CHECK" and r.at == 2 and r.bad.type != "END":
        return say.check_unnamed(r.bad.span)
    return None


def _each(r: Refused) -> Diagnostic | None:
    if r.head.type == "EACH" and r.at > 1 and r.tokens[1].type == "NAME":
        return say.each_unclear(r.head.span.to(r.tokens[-2].span))
    return None


def _reserved(r: Refused) -> Diagnostic | None:
    """A word of the language where a value could have stood."""
    if "NUMBER" in r.expected and r.bad.text in RESERVED and r.bad.type not in ("END", "STRING"):
        return say.word_as_value(r.bad.text, r.bad.span)
    return None


_ATTEMPTS: tuple[Callable[[Refused], Diagnostic | None], ...] = (
    _beginning,
    _naming,
    _each,
    explain_turns.meant,
    explain_turns.numbers,
    explain_turns.measured,
    explain_turns.operation,
    explain_turns.first_word,
    explain_turns.place,
    explain_turns.verb,
    explain_turns.sign,
    _check,
    explain_turns.comparison,
    _choice,
    _texts,
    explain_turns.turns,
    _reserved,
)


def _generic(r: Refused) -> Diagnostic:
    fitting = (words for needed, without, words in _WANTED if needed <= r.expected and not without & r.expected)
    wanted = next(fitting, "")
    form = _FORMS.get(r.head.type, "")
    if r.bad.type == "END" and r.before.text in ("shape", "piece") and r.at == 4 and r.tokens[2].type == "EQ":
        return turn_words.outline_behind_equals(r.before.text, r.head.text, r.tokens[1].text, r.before.span)
    if r.bad.type == "END":
        return say.unfinished(r.before.text, wanted, form, r.before.span)
    return say.does_not_fit(r.bad.text, wanted, form, r.bad.span)
