"""What a name that is not there may have been meant for: something that is named where it is defined, and nowhere else. A slip in
the name of a definition shows where that is used; the definition is told beside it."""

from __future__ import annotations

import re
from collections.abc import Callable, Container, Iterator, Mapping, Sequence
from dataclasses import replace

from ..bodies.vocabulary import vocabulary
from ..diagnostics import meaning_words as words
from ..diagnostics.diagnostic import Diagnostic, Label, Span
from ..diagnostics.suggest import is_one_letter_off, nearest
from ..syntax import tree as t
from ..syntax.words import RESERVED
from ..verbs.registry import verbs
from .checker import BROKEN, Checker, Scope
from .handed_on import subject_of
from .mentioned import DRAFTED, reckoned, written_names

_COMMENT = re.compile(r"#[^\n]*")


def settled(checker: Checker) -> None:
    """Tell beside names that are not there what may have been meant: what is used and what is not is known when all was read."""
    for index, one in enumerate(checker.diagnostics):
        meant = checker.astray.get((one.code, one.span))
        if meant is not None and not one.labels:
            checker.diagnostics[index] = replace(one, labels=meant())
    checker.diagnostics = list(_once(checker.diagnostics))


def _once(found: Sequence[Diagnostic]) -> Iterator[Diagnostic]:
    """All errors, but of those that come of one name which is written wrong where it is defined only the first."""
    blamed = set[Span]()
    for one in found:
        near = [label.span for label in one.labels if label.blamed]
        if not (near and near[0] in blamed):
            yield one
        blamed.update(near[:1])


def later(checker: Checker, scope: Scope, told: Diagnostic, name: t.Name) -> Diagnostic:
    """The same error, whose second places are looked for in the end."""
    checker.look_later(told, lambda: of_scope(checker, scope, name))
    return told


def of_scope(checker: Checker, scope: Scope, name: t.Name) -> tuple[Label, ...]:
    """The definitions that a name may have been meant for: one that is called nearly so; or, where it is not one that is there
    with a letter wrong, the few of the likeliest kind that are made to be used, and that nothing uses."""
    idle = {one: (span, kind) for one, span, kind in _idle(checker, scope, name.span)}
    first = name.parts[0].text
    pieces = _asked_for_no_part(checker, scope, name.span)
    near = among(first, {one: span for one, (span, _) in idle.items()} | pieces)
    if near or any(is_one_letter_off(first, one) for one in nearest(first, [*scope.visible(), *vocabulary()], parts=False)):
        return near
    drawn = [one for one, (_, kind) in idle.items() if kind in _DRAWN]
    plain = [one for one, (_, kind) in idle.items() if kind in DRAFTED - _DRAWN - _SEWN]
    sewn = [one for one, (_, kind) in idle.items() if kind in _SEWN]
    order = (drawn, plain) if len(name.parts) > 1 else (plain, drawn, sewn)
    likely = next((some for some in order if some), [])
    if 0 < len(likely) <= _FEW:
        return tuple(Label(idle[one][0], words.used_by_nothing(one)) for one in likely)
    if len(name.parts) > 1 and len(pieces) == 1:
        return _few(pieces, words.asked_by_nothing)
    return _few(_borrowed(checker, scope, name), words.also_called)


def _asked_for_no_part(checker: Checker, scope: Scope, place: Span) -> dict[str, Span]:
    """The pieces of the style of whose edges, darts and points no sentence asks for one, unlike of others: those of a garment are
    sewn. None in a recipe, and in a style that is built from another."""
    home = scope
    while home.parent is not None:
        home = home.parent
    if place.file not in checker.trees or checker.bases or home.file != place.file:
        return {}
    dotted = (name for one in checker.trees[place.file].sentences for name in written_names(one) if len(name.parts) > 1)
    asked = {name.parts[0].text for name in dotted}
    pieces = {name: one.name.span for name, one in home.sentences.items() if _kind(one) == "piece"}
    return {name: span for name, span in pieces.items() if name not in asked} if asked & pieces.keys() else {}


def _few(places: Mapping[str, Span], told: Callable[[str], str]) -> tuple[Label, ...]:
    """All of these names, where they are few."""
    return tuple(Label(span, told(one)) for one, span in places.items()) if len(places) <= _FEW else ()


def _borrowed(checker: Checker, scope: Scope, missed: t.Name) -> Mapping[str, Span]:
    """The definitions that can be seen from a scope which are called as something else is, as an edge, a recipe or a word of the
    language: that is what is written elsewhere by their name, as far as is known, and not they."""
    others, place = _called_otherwise(checker), missed.span
    never = _TOLD if len(missed.parts) > 1 else _TOLD | {"piece"}
    found: dict[str, Span] = {}
    home: Scope | None = scope
    while home is not None:
        for name in (home.sentences.keys() | home.taken) & others:
            span = home.place_of(name)
            if span is not None and span.file == place.file and not _holds(span, place):
                kind = _kind(home.sentences[name]) if name in home.sentences else ""
                if kind not in never and (name not in home.used or name not in checker.mentions(span.file)):
                    found[name] = span
        home = home.parent
    return dict(sorted(found.items(), key=lambda one: one[1].start))


def _called_otherwise(checker: Checker) -> frozenset[str]:
    """All that is called by a name without being a definition of a style or a recipe."""
    parts = {part for given in checker.part_names.values() for part in given}
    noted = {one.name.rpartition(".")[2] for one in checker.notes if one.what in ("edge", "dart", "point", "member", "recipe")}
    return _WORDS | parts | noted


def of_recipes(checker: Checker, recipes: Mapping[str, Span]) -> tuple[Label, ...]:
    """The recipe of a module that another may have been meant for: the only one that is brought in or used nowhere."""
    used = {one.name for one in checker.notes if one.what == "recipe" and one.place != one.span}
    idle = {one: span for one, span in recipes.items() if one not in used}
    if len(idle) == 1:
        return _few(idle, words.used_by_nothing)
    others = {file: checker.mentions(file) for file in {span.file for span in idle.values()} & checker.trees.keys()}
    return _few({one: span for one, span in idle.items() if one in others.get(span.file, ())}, words.also_called)


def of_takes(recipe: t.Recipe, name: str, given: Container[str] = ()) -> tuple[Label, ...]:
    """The word of a recipe that another may have been meant for: one that is called nearly so, the only one that its sentences
    make nothing of, or the few that a use of it has not `given`."""
    used = reckoned(recipe.block)
    idle = {one.name.text: one.name.span for one in recipe.block if isinstance(one, t.Takes) and one.name.text not in used}
    alone = tuple(Label(span, words.used_by_nothing(one)) for one, span in idle.items()) if len(idle) == 1 else ()
    takes = [one for one in recipe.block if isinstance(one, t.Takes) and one is not subject_of(recipe)]
    unsaid = {one.name.text: one.name.span for one in takes if one.name.text not in given}
    is_near = bool(nearest(name, (one.name.text for one in takes), 1))  # which is told as its fix
    return among(name, idle) or alone or (_few(unsaid, words.not_given) if given and not is_near else ())


def of_parts(checker: Checker, told: Diagnostic, name: str) -> Diagnostic:
    """The same error of an edge, dart or point that a piece should have: in the end the one is looked for that is called nearly
    so, and that nothing asks for."""
    if "." not in name:
        checker.look_later(
            told, lambda: among(name, _idle_parts(checker), words.asked_by_nothing) or _strange_parts(checker, told)
        )
    return told


def _strange_parts(checker: Checker, told: Diagnostic) -> tuple[Label, ...]:
    """The parts that nothing asks for in the file where one is missed, where they are few and called by words of the language or
    as definitions are."""
    names = {one.name.rpartition(".")[2] for one in checker.notes if one.what in ("definition", "word")}
    file = told.span.file if told.span is not None else ""
    idle = {part: span for part, span in _idle_parts(checker).items() if span.file == file and part in names | _WORDS}
    return _few(idle, words.asked_by_nothing)


def _idle_parts(checker: Checker) -> Mapping[str, Span]:
    asked = {one.name for one in checker.notes if one.what in ("edge", "dart", "point")}
    parts = {part: span for given in checker.part_names.values() for part, span in given.items()}
    return {part: span for part, span in parts.items() if part not in asked}


def among(name: str, places: Mapping[str, Span], told: Callable[[str], str] = words.called_nearly_so) -> tuple[Label, ...]:
    """The one of these names that is nearest, where it is written."""
    near = nearest(name, places, 1, parts=False)
    return tuple(Label(places[one], told(one), blamed=True) for one in near)


def is_idle(checker: Checker, name: str, span: Span) -> bool:
    """Whether a name is written only where it is defined, in its file and in those the style is built from; or elsewhere, but as
    no value: as a word of a verb."""
    if span.file in checker.trees and not checker.bases:
        return name not in checker.mentions(span.file)
    texts = (_COMMENT.sub("", checker.texts.get(file, "")) for file in {span.file, *checker.bases})
    return sum(len(re.findall(rf"\b{re.escape(name)}\b", text)) for text in texts) == 1


def _holds(sentence: Span, name: Span) -> bool:
    return sentence.file == name.file and sentence.start <= name.start < sentence.end


def _idle(checker: Checker, scope: Scope, place: Span) -> Iterator[tuple[str, Span, str]]:
    """The names that can be seen from a scope, other than that of the sentence at the place, and that no sentence asks for, where
    each is defined, and its kind. A sentence that is broken may not have come to all it asks for: whatever it writes is used."""
    ours = place.file in checker.bases or place.file == _home(scope).file
    family = {place.file, *checker.bases} if ours else {place.file}
    home: Scope | None = scope
    while home is not None:
        broken = [one for name, one in home.sentences.items() if home.known.get(name, BROKEN).kind is BROKEN.kind]
        asked = home.used | reckoned([*broken, *(check for where, check in checker.checks if where is home)])
        for name in home.taken - asked:
            yield name, home.places[name], "length"  # of what a recipe takes the kind is no matter
        for name, one in home.sentences.items():
            if name not in asked and one.name.span.file in family and not _holds(one.span, place):
                yield name, one.name.span, "" if isinstance(home.holders.get(name), t.Gives) else _kind(one)
        home = home.parent


def _kind(sentence: t.Definition | t.Solve) -> str:
    return "length" if isinstance(sentence, t.Solve) else sentence.kind.text


def _home(scope: Scope) -> Scope:
    while scope.parent is not None:
        scope = scope.parent
    return scope


_DRAWN = frozenset(("shape", "piece", "block"))
_SEWN = frozenset(("seam", "sewing"))
_TOLD = frozenset(("finished", "shown", "closure", "care", "tell", "check", "fit"))
"""Kinds that no other sentence asks for."""
_FEW = 3
_WORDS = frozenset(word.name for verb in verbs().values() for word in verb.words) | frozenset(verbs()) | RESERVED
