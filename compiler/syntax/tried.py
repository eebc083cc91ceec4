"""One slip of the pen in a sentence that the grammar does not take, found by trying: a word twice, left out, misspelt, or two
that stand the other way round. What is offered has been read, so that it helps."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from ..diagnostics import turn_words
from ..diagnostics.diagnostic import Diagnostic
from ..diagnostics.suggest import nearest
from .refused import OPENERS, Refused
from .tokens import Token
from .turns import SentenceError
from .words import KINDS, RESERVED, WORD_TYPES

LONGEST = 200
"""Of a sentence with more words nothing is tried: there are too many ways."""

_FAR = 3  # words before the refused one
_OF_CHOICES = frozenset(("WHEN", "OTHERWISE", "AND", "OR", "NOT"))
_COMPARING = ("at_least", "at_most", "more_than", "less_than", "equals")
_STEPS = ("up", "down", "outward", "inward")
# A word of the language that joins values, and which other stands in a sentence that lacks it.
_JOINED = (("between", "AND"), ("from", "AT"), ("otherwise", "WHEN"), ("and", "BETWEEN"), ("and", "WHEN"), ("when", "OTHERWISE"))
_NAMES = frozenset(("NAME", "DOTTED"))
_SIZES = _NAMES | {"NUMBER", "QUANTITY"}
_MEASURING = ("length", "angle", "area")


def tried(r: Refused) -> Diagnostic | None:
    """What one change mends, the surest first; None where none does."""
    if len(r.tokens) > LONGEST or r.at == 0:
        return None
    return _twice(r) or _misspelt(r) or _missing_from(r) or _missing(r) or _exchanged(r) or _missing_joint(r)


def _twice(r: Refused) -> Diagnostic | None:
    """A word that stands twice, one behind the other, at the refused word or before it."""
    for i in range(r.at, 0, -1):
        one, two = r.tokens[i - 1 : i + 1]
        if one.text == two.text and _is_word(one) and _reads([*r.tokens[:i], *r.tokens[i + 1 :]]):
            return turn_words.twice(two.text, one.span.to(two.span), _between(r, i))
    return None


def _between(r: Refused, at: int) -> Sequence[str]:
    """Words that may be missing between a value and the same again."""
    known, said = _words(r), {token.text for token in r.tokens}
    if at < 2 or r.tokens[at].type not in _NAMES or r.tokens[at].text in known:
        return ()
    fitting = [word for word in ("to", *known) if word not in said and _fits(r, at, word)]
    return fitting[:1] if "to" in fitting else fitting


def _misspelt(r: Refused) -> Diagnostic | None:
    """A word that is no word of the verb or of the language, and near to one."""
    known, heads = {*_words(r), *RESERVED}, {*RESERVED, *KINDS}
    for i in range(r.at, -1, -1):
        token = r.tokens[i]
        if token.type != "NAME" or token.text in known:
            continue
        for word in nearest(token.text, known if i else heads, parts=False):
            if _reads([*r.tokens[:i], _word(word, token), *r.tokens[i + 1 :]]):
                return turn_words.another_word(token.text, word, token.span)
    return None


def _missing_from(r: Refused) -> Diagnostic | None:
    """`at 1/2 hem`: the end from which that is measured stands there, and `from` does not."""
    if r.at < 2 or r.tokens[r.at - 2].type != "AT" or r.before.type not in ("NUMBER", "QUANTITY") or not _fits(r, r.at, "from"):
        return None
    return turn_words.word_missing(("from",), r.bad.text, r.bad.span)


def _missing(r: Refused) -> Diagnostic | None:
    """A word left out before the refused word, or before one shortly before it."""
    known, own = _words(r), {token.text for token in r.tokens[r.start : r.at]}
    words = [word for word in known if word not in own]
    behind = range(r.at, max(r.start, r.at - _FAR), -1)
    open_ = [i for i in behind if r.tokens[i].type != "END" and r.tokens[i].text not in known]
    for i in sorted(open_, key=lambda i: r.tokens[i].type not in ("NAME", "DOTTED")):  # a name is what lacks its word
        fitting = [word for word in words if _reads([*r.tokens[:i], _word(word, r.tokens[i]), *r.tokens[i:]])]
        if fitting:
            return turn_words.word_missing(fitting, r.tokens[i].text, r.tokens[i].span)
    return None


def _missing_joint(r: Refused) -> Diagnostic | None:
    """A word of the language left out before the refused word, or shortly before it: between two values, or before `of`."""
    for i in range(r.at, max(r.at - _FAR, 0), -1):
        token = r.tokens[i]
        for row in _rows(r, i) if token.type != "END" else ():
            fitting = [word for word in row if _fits(r, i, word)]
            if fitting:
                return turn_words.word_missing(fitting, token.text, token.span)
    return None


def _rows(r: Refused, at: int) -> Iterator[Sequence[str]]:
    """What may be left out before a word: those of one row fit in the same places."""
    token, before = r.tokens[at], r.tokens[at - 1]
    types = {one.type for one in r.tokens}
    if token.type == "OF":
        yield _MEASURING
    elif at > 1 and r.tokens[at - 2].type in OPENERS and _is_point(r) and before.type in _NAMES and token.type in _SIZES:
        on_edge = before.type == "DOTTED" and token.type in _NAMES
        yield ("at",) if on_edge else _STEPS
    if r.bad.text == "," and token.type in _NAMES and "using" not in [one.text for one in r.tokens]:
        yield ("using",)
    if types & {"EQUALS"} and "tolerance" not in [one.text for one in r.tokens] and token.type in _SIZES:
        yield ("tolerance",)
    if types & {"THAT", "WHEN"} and not types & {"COMPARE", "EQUALS"}:
        yield _COMPARING
    for word, other in _JOINED:
        if other in types and word.upper() not in types:
            yield (word,)
    if before.type == "DOTTED" and token.type == "NAME":
        yield ("at",)


def _is_point(r: Refused) -> bool:
    return any(one.text == "point" for one in r.tokens[:2])


def _fits(r: Refused, at: int, word: str) -> bool:
    return _reads([*r.tokens[:at], _word(word, r.tokens[at]), *r.tokens[at:]])


def _exchanged(r: Refused) -> Diagnostic | None:
    """Two words that stand the other way round; where the sentence ends too early something is left out instead."""
    if r.bad.type == "END":
        return None
    for i in range(min(r.at + 1, len(r.tokens) - 2), max(r.at - 3, 0), -1):
        one, two = r.tokens[i - 1 : i + 1]
        if _may_move(one) and _may_move(two) and _reads([*r.tokens[: i - 1], two, one, *r.tokens[i + 1 :]]):
            if i - 1 == r.start > 0 and two.type == "NAME" and not r.takes(two.text):  # it would be the verb, and is none
                return None
            return turn_words.exchanged(one.text, two.text, one.span.to(two.span))
    return None


def _words(r: Refused) -> Sequence[str]:
    """The words of the verb that the refused word stands behind."""
    return r.takes(r.tokens[r.start].text) or r.takes(r.head.text) or (("from",) if r.head.type == "USE" else ())


def _is_word(token: Token) -> bool:
    return token.text.replace(".", "_").isidentifier()


def _may_move(token: Token) -> bool:
    return _is_word(token) and token.type not in _OF_CHOICES


def _word(text: str, at: Token) -> Token:
    return Token(WORD_TYPES.get(text, "NAME"), text, at.start, at.end, at.file)


def _reads(tokens: Sequence[Token]) -> bool:
    from lark.exceptions import UnexpectedToken

    from .grammar import parser

    try:
        parser().parse(tokens)
    except (UnexpectedToken, SentenceError):
        return False
    return True


def tries(found: Diagnostic, r: Refused) -> bool:
    """Whether a message says only that words and values do not go together where the sentence is refused, so that it is worth
    trying what would."""
    here = r.bad.span, r.before.span, r.before.span.to(r.bad.span), r.tokens[r.start].span
    return found.code in _ELSEWHERE or (found.code in _VAGUE and found.span in here)


_VAGUE = frozenset(("E152", "E157", "E160", "E162", "E163", "E170", "E171", "E175", "E178", "E179", "E180", "E189", "E142"))
_ELSEWHERE = frozenset(("E151",))
