"""A sentence that the grammar does not take -> the one error that a cutter can act on."""

from __future__ import annotations

from collections.abc import Callable, Sequence, Set
from dataclasses import dataclass, replace

from ..diagnostics import sentence_words as say
from ..diagnostics import syntax_words as spell
from ..diagnostics.diagnostic import Diagnostic
from .tokens import Token
from .words import HEADINGS, HEADS, KINDS, RESERVED

Takes = Callable[[str], Sequence[str]]
"""The words that a verb takes, by its name; none where it is not known."""

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


@dataclass(frozen=True, slots=True)
class Refused:
    """A sentence, the index of the token that could not follow, what could have, and which words a verb takes."""

    tokens: list[Token]
    at: int
    expected: Set[str]
    takes: Takes

    @property
    def bad(self) -> Token:
        return self.tokens[self.at]

    @property
    def before(self) -> Token:
        return self.tokens[self.at - 1] if self.at else self.bad

    @property
    def head(self) -> Token:
        return self.tokens[0]


def explain(refused: Refused) -> Diagnostic:
    """The error for a refused sentence. Its tokens end with the END mark."""
    if refused.head.type in ("ADD", "CHANGE") and refused.at > 1:
        return explain(replace(refused, tokens=refused.tokens[1:], at=refused.at - 1))
    for attempt in _ATTEMPTS:
        found = attempt(refused)
        if found:
            return found
    return _generic(refused)


def _beginning(r: Refused) -> Diagnostic | None:
    head, second = r.head, r.tokens[1]
    if head.type == "NAME":
        equals = next((i for i, t in enumerate(r.tokens) if t.type == "EQ"), 0)
        if equals == 1:
            return say.kind_missing(head.text, head.span)
        if equals:
            return say.wrong_beginning(head.text, BEGINNINGS, head.span)
        return None
    if r.at == 0:
        return say.wrong_beginning(head.text, BEGINNINGS, head.span)
    kindless = r.at == 1 or (r.at == 2 and second.type == "NAME" and second.text != "all")
    if head.type in ("GIVES", "TAKES") and kindless and second.type != "END":
        return say.kind_wanted(head.text, second.text, KINDS, second.span)
    return None


def _naming(r: Refused) -> Diagnostic | None:
    """Something is wrong with the name that is being defined."""
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
    if name.text in RESERVED:
        offer = f"{kind.text}_{name.text}" if kind.text != name.text else f"{name.text}_a"
        return say.reserved_name(name.text, offer, name.span)
    if name.type == "DOTTED":
        return say.second_word_in_name(name.text.replace(".", " "), name.span)
    return say.name_missing(kind.text, kind.span if name.type == "END" else name.span)


def _sign(r: Refused) -> Diagnostic | None:
    """Slips that show in the refused word itself."""
    bad, before = r.bad, r.before
    if bad.type == "UNIT":
        return spell.unit_without_number(bad.text, bad.span)
    if bad.type == "COMMA":
        return say.stray_comma(bad.span)
    if bad.type == "EQ" and r.head.type == "CHECK" and r.at > 2:
        return say.equals_sign_in_check(bad.span)
    if bad.type == "OF" and before.type in ("NAME", "DOTTED"):
        inner = [i for i in range(r.at) if r.tokens[i].type == "OF"]
        return say.of_takes_one(r.tokens[inner[-1] - 1].text, before.span.to(bad.span)) if inner else None
    if before.type == "EQ" and bad.type in ("END", "STRING", "BETWEEN"):
        return say.value_missing(before.text, before.span)
    return None


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


# ---- words and values in turns ------------------------------------------------------------------

# A value or an operation begins behind one of these.
_OPENERS = frozenset(("EQ", "THEN", "LPAR", "THAT", "WHEN", "OTHERWISE", "AND", "OR", "NOT", "COMPARE", "EQUALS"))
_WRITTEN = frozenset(("NUMBER", "QUANTITY"))
_MEASURED = frozenset(("length", "angle", "number"))
# Words of other tongues, or of none, with what is written here.
_MEANT = {"else": "otherwise", "if": "when", "where": "that", "until": "to", "least": "at_least", "most": "at_most"}
_VALUES = frozenset(("DOTTED", "NUMBER", "QUANTITY", "LPAR", "YESNO", "SIGN"))


def _start(r: Refused) -> int:
    """Where the operation or the sentence begins that the refused word stands in."""
    depth = 0
    for i in range(r.at - 1, -1, -1):
        kind = r.tokens[i].type
        depth += (kind == "RPAR") - (kind == "LPAR")
        if depth < 0 or (depth == 0 and kind in _OPENERS):
            return i + 1
    return 0


def _meant(r: Refused) -> Diagnostic | None:
    """A word that the language has under another name, at the refused word or just before it."""
    for token in reversed(r.tokens[max(0, r.at - 2) : r.at + 1]):
        if token.type == "NAME" and token.text in _MEANT:
            return say.another_word(token.text, _MEANT[token.text], token.span)
    return None


def _numbers(r: Refused) -> Diagnostic | None:
    if r.bad.type in _WRITTEN and r.before.type in _WRITTEN:
        return say.two_numbers(r.before.text, r.bad.text, r.before.span.to(r.bad.span))
    if r.bad.text == "in" and r.before.type in _WRITTEN:
        return spell.unknown_unit(r.before.text, "in", "inch", ("inch",), r.bad.span)
    return None


def _place(r: Refused) -> Diagnostic | None:
    """A place or a step that is not finished, or has something behind it that belongs to no value."""
    if r.before.type == "AT":
        return say.place_unfinished(r.before.span)
    if r.bad.type in _WRITTEN and r.tokens[r.at + 1].type == "FROM" and r.before.type in ("NAME", "DOTTED"):
        return say.at_missing(r.bad.text, r.bad.span)
    start = _start(r)
    own = r.tokens[start : r.at]
    if own and own[0].type == "DIR" and r.tokens[start - 1].type == "EQ" and r.bad.type in _VALUES | {"NAME"}:
        return say.start_missing(own[0].text, own[0].span)
    if r.before.type == "DIR" and len(own) > 1 and r.tokens[start - 1].type == "EQ":
        return say.step_unfinished(r.before.text, r.before.span)
    if r.bad.type == "FROM" and "NAME" in r.expected and r.before.type not in _OPENERS:
        return say.from_in_the_middle(r.bad.span)
    if r.bad.type == "BETWEEN" and len(own) > 1 and r.before.type != "STRING":
        return say.bounded_in_brackets(own[0].span.to(r.before.span))
    if r.tokens[start - 1].type != "EQ" or "END" not in r.expected or r.bad.type == "END":
        return None
    if any(token.type == "DIR" for token in own):
        return say.after_steps(r.bad.text, r.bad.span)
    if any(token.type == "AT" for token in own):
        return say.after_place(r.bad.text, r.bad.span)
    return None


def _verb(r: Refused) -> Diagnostic | None:
    """Where a verb should stand, another thing does; or behind it stands nothing."""
    if r.before.type == "THEN":
        return say.link_without_verb(r.before.span.to(r.bad.span))
    if r.bad.type == "THEN" and r.tokens[_start(r) - 1].type == "OTHERWISE":
        return say.chain_behind_choice(r.bad.span)
    if r.before.type == "WITH" and r.at > 1 and r.tokens[r.at - 2].type == "NAME" and r.bad.type in ("END", "RPAR"):
        return say.verb_without_values(r.tokens[r.at - 2].text, r.tokens[r.at - 2].span.to(r.before.span))
    if r.before.type == "EQ" and r.bad.type in ("JOINER", "FROM", "TO", "AT"):
        return say.needless_equals(r.bad.text, r.bad.span)
    if r.before.type == "KIND" and r.expected == {"OF"} and r.bad.type in ("NAME", "DOTTED"):
        if r.before.text in _MEASURED:
            return say.forgotten_of(r.before.text, r.bad.text, r.before.span.to(r.bad.span))
        return say.reserved_name(r.before.text, f"{r.before.text}_a", r.before.span)
    start = _start(r)
    first = r.tokens[start]
    if start and first.type in (*_VALUES, "STRING") and start < r.at and r.bad.type in ("NAME", "JOINER", *_VALUES):
        return say.verb_missing("this" if first.type == "LPAR" else first.text, first.span)
    return None


def _comparison(r: Refused) -> Diagnostic | None:
    start = _start(r)
    compared = start and r.tokens[start - 1].type in ("EQUALS", "COMPARE") and r.tokens[start].type == "NAME"
    ends = r.bad.type in ("END", "STRING", "RPAR", "AND", "OR")
    if compared and r.at > start + 1 and not ends:
        return say.operation_in_brackets(r.tokens[start].text, r.tokens[start].span.to(r.bad.span))
    equals = [i for i in range(r.at) if r.tokens[i].type == "EQUALS"]
    if equals and ends and "NAME" in r.expected:
        left = next((i + 1 for i in range(equals[-1] - 1, -1, -1) if r.tokens[i].type in _OPENERS), 0)
        return say.tolerance_missing(r.tokens[left].span.to(r.before.span))
    return None


def _turns(r: Refused) -> Diagnostic | None:
    """Words and values that do not take turns, told with what the verb takes where that is known."""
    start = _start(r)
    verb = r.tokens[start]
    known = r.takes(verb.text)
    if skipped := _skipped_value(r, start + 1, known):
        return say.lacks_value(skipped.text, skipped.span)
    if not {"NAME", "JOINER"} & r.expected:
        return None
    if "NUMBER" in r.expected:  # a value is wanted
        worded = r.before.type in ("NAME", "JOINER", "TO", "ALONG", "TOWARD") and r.at > start + 1
        return say.lacks_value(r.before.text, r.before.span) if worded and r.bad.text not in RESERVED - KINDS else None
    if r.bad.type in _VALUES or r.bad.type == "STRING":
        bare = start and r.at == start + 2 and not known and verb.type == "NAME"
        offer = f"{verb.text} with {r.before.text} …" if bare else ""
        return say.word_wanted("this" if r.bad.type == "LPAR" else r.bad.text, verb.text, known, r.bad.span, offer)
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


_ATTEMPTS: tuple[Callable[[Refused], Diagnostic | None], ...] = (
    _beginning,
    _naming,
    _each,
    _meant,
    _numbers,
    _place,
    _verb,
    _sign,
    _check,
    _comparison,
    _choice,
    _texts,
    _turns,
    _reserved,
)


def _generic(r: Refused) -> Diagnostic:
    fitting = (words for needed, without, words in _WANTED if needed <= r.expected and not without & r.expected)
    wanted = next(fitting, "")
    form = _FORMS.get(r.head.type, "")
    if r.bad.type == "END":
        return say.unfinished(r.before.text, wanted, form, r.before.span)
    return say.does_not_fit(r.bad.text, wanted, form, r.bad.span)
