"""What a name that is not there may have been meant for: something that is named where it is defined, and nowhere else. A slip in
the name of a definition shows where that is used; the definition is told beside it."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping

from ..diagnostics import meaning_words as words
from ..diagnostics.diagnostic import Label, Span
from ..diagnostics.suggest import nearest
from ..syntax import tree as t
from .checker import Checker, Scope
from .mentioned import DRAFTED, mentioned

_COMMENT = re.compile(r"#[^\n]*")


def of_scope(checker: Checker, scope: Scope, word: t.Word) -> tuple[Label, ...]:
    """The definition that a name may have been meant for: one of its file that is called nearly so; or the only one that is
    made to be used and is used by none."""
    idle = {name: span for name, span, _ in _defined(scope) if is_idle(checker, name, span) and span.file == word.span.file}
    near = among(word.text, idle)
    if near:
        return near
    if any(abs(len(one) - len(word.text)) <= 1 for one in nearest(word.text, scope.visible(), parts=False)):
        return ()  # that is the slip, and it lies here
    here = checker.sentence[-1][0] if checker.sentence else None
    made = {name: kind for name, span, kind in _defined(scope) if name in idle and kind in DRAFTED and not _holds(here, span)}
    drafted = [name for name, kind in made.items() if kind not in ("shape", "piece")] or [*made]
    return (Label(idle[drafted[0]], words.used_by_nothing(drafted[0])),) if len(drafted) == 1 else ()


def of_takes(checker: Checker, name: str, takes: Mapping[str, Span]) -> tuple[Label, ...]:
    """The word of a recipe that another may have been meant for: one that is called nearly so, or the only one that its sentences
    make nothing of."""
    idle = {one: span for one, span in takes.items() if is_idle(checker, one, span)}
    alone = tuple(Label(span, words.used_by_nothing(one)) for one, span in idle.items()) if len(idle) == 1 else ()
    return among(name, idle) or alone


def of_parts(checker: Checker, name: str) -> tuple[Label, ...]:
    """The same of an edge, dart or point that a piece should have."""
    if "." in name:
        return ()
    parts = {part: span for given in checker.part_names.values() for part, span in given.items()}
    return among(name, {part: span for part, span in parts.items() if is_idle(checker, part, span)})


def among(name: str, places: Mapping[str, Span]) -> tuple[Label, ...]:
    """The one of these names that is nearest, where it is written."""
    near = nearest(name, places, 1, parts=False)
    return tuple(Label(places[one], words.called_nearly_so(one)) for one in near)


def is_idle(checker: Checker, name: str, span: Span) -> bool:
    """Whether a name is written only where it is defined, in its file and in those the style is built from; or elsewhere, but as
    no value: as a word of a verb."""
    if span.file in checker.trees and not checker.bases:
        sentences = checker.trees[span.file].sentences
        return name not in mentioned(sentences)
    texts = (_COMMENT.sub("", checker.texts.get(file, "")) for file in {span.file, *checker.bases})
    return sum(len(re.findall(rf"\b{re.escape(name)}\b", text)) for text in texts) == 1


def _holds(sentence: Span | None, name: Span) -> bool:
    return sentence is not None and sentence.file == name.file and sentence.start <= name.start < sentence.end


def _defined(scope: Scope | None) -> Iterator[tuple[str, Span, str]]:
    """The names that can be seen from a scope, where each is defined, and its kind; what a recipe gives is used elsewhere, and of
    what it takes the kind is no matter."""
    while scope is not None:
        for name in scope.taken:
            place = scope.place_of(name)
            if place is not None:
                yield name, place, "length"
        for name, one in scope.sentences.items():
            given = isinstance(scope.holders.get(name), t.Gives)
            yield name, one.name.span, "" if given or isinstance(one, t.Solve) else one.kind.text
        scope = scope.parent
