"""What a style needs to be measured: of a woman, a man or a child, and what of it a body file gives already."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from ..bodies.body import Body
from ..bodies.estimates import Estimate, estimate, history, in_short
from ..bodies.vocabulary import Wearer, vocabulary
from ..diagnostics.printing import place
from ..graph.acting import acting
from ..meaning.payloads import Fallback
from ..meaning.style import CheckedStyle
from ..output.command_records import MeasureNeeded
from .estimated import rule_of

# What is taken in its stead of those who have no bust to be measured.
_INSTEAD: Mapping[str, str] = MappingProxyType({"bust_girth": "chest_girth"})


def asked(style: CheckedStyle, wearer: Wearer | None = None, body: Body | None = None) -> tuple[MeasureNeeded, ...]:
    """What a style needs to be measured, and why. What does not act, as in an arm of a choice that is never taken, is not asked;
    nor what is not asked of such a wearer, but where nothing stands in for it: that comes last and says so."""
    wearer = body.wearer if wearer is None and body is not None else wearer
    acts = acting(style, _never(wearer))
    rows = [_row(style, name, wearer, body) for name in style.measures if name in acts]
    return tuple(sorted(rows, key=lambda row: not row.how))


def _never(wearer: Wearer | None) -> frozenset[str]:
    """What is measured of no such wearer, neither itself nor another in its stead."""
    asked_for = vocabulary() if wearer is None else {*entries(wearer), *_INSTEAD}
    return frozenset(vocabulary().keys() - asked_for)


def _row(style: CheckedStyle, word: str, wearer: Wearer | None, body: Body | None) -> MeasureNeeded:
    known, spans = vocabulary(), style.measures[word]
    places = tuple(dict.fromkeys(f"{span.file}:{place(style.texts[span.file], span.start)[0]}" for span in spans))
    state = "" if body is None else _state(style, word, body)
    if wearer is None or known[word].is_asked_of(wearer):
        return MeasureNeeded(word, known[word].what, known[word].how, places, state=state)
    instead = _INSTEAD.get(word)
    if instead is not None:
        one = known[instead]
        return MeasureNeeded(instead, one.what, one.how, places, f"stands for `{word}`, which the style asks for", state)
    return MeasureNeeded(word, known[word].what, "", places, f"not asked of a {wearer}: leave it out", state)


def _state(style: CheckedStyle, word: str, body: Body) -> str:
    """What a body's file gives for a word, or what will stand in for it."""
    given = next((name for name in (word, _INSTEAD.get(word, word)) if name in body.measures), None)
    estimates = estimate(body)
    if given is not None or (word in estimates and estimates[word].exact):
        return history(body, given or word, estimates)
    rules = [at for at, node in enumerate(style.nodes) if isinstance(node.payload, Fallback) and node.payload.name == word]
    return f"not given: {rule_of(style, rules[0]) if rules else _in_short(body, word, estimates)}"


def _in_short(body: Body, word: str, estimates: Mapping[str, Estimate]) -> str:
    """An estimate in a few words, its formula left to `explain`; what nothing tells, with the reason."""
    return in_short(body, word, estimates) if word in estimates else history(body, word, estimates)


def entries(wearer: Wearer | None) -> tuple[str, ...]:
    """The body words that are measured of such a wearer, all of them where none is named."""
    return tuple(name for name, one in vocabulary().items() if wearer is None or one.is_asked_of(wearer))


def all_measures(wearer: Wearer | None) -> tuple[MeasureNeeded, ...]:
    """Every measurement that is taken of such a wearer, whatever the style."""
    return tuple(MeasureNeeded(name, vocabulary()[name].what, vocabulary()[name].how, ()) for name in entries(wearer))


def lines(one: MeasureNeeded) -> list[str]:
    """One row as it is printed."""
    rows = [f"{one.name}: {one.definition}"]
    rows += [f"  {one.note}"] if one.note else []
    rows += [f"  how to take it: {one.how}"] if one.how else []
    rows += [f"  {one.state}"] if one.state else []
    return [*rows, f"  asked for at {', '.join(one.places)}"]
