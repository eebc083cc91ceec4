"""Text -> tree of a style. Never raises for any text: what cannot be read becomes diagnostics, sentence by sentence."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from ..diagnostics import sentence_words as say
from ..diagnostics import syntax_words as spell
from ..diagnostics import turn_words
from ..diagnostics.diagnostic import Diagnostic, Span
from .broken import broken
from .explain import BEGINNINGS, explain
from .layout import MOST_ERRORS, Group, laid_out
from .lexer import lex
from .refused import Refused, Takes
from .tokens import Lexed, Token
from .tree import (
    Add,
    Broken,
    Change,
    ChangeValues,
    Definition,
    Each,
    EachPiece,
    Gives,
    Language,
    Recipe,
    Sentence,
    Statement,
    StyleFile,
)
from .turns import SentenceError
from .words import WORDED

_FEW = 5  # errors of a text that may still be a style


class _Reader:
    """The sentences of one file on their way to the tree."""

    def __init__(self, takes: Takes) -> None:
        from .grammar import parser  # whose library takes long to load: a style found again needs none

        self.read = parser().parse
        self.takes = takes
        self.diagnostics: list[Diagnostic] = []

    def sentences(self, groups: list[Group], inside: bool) -> tuple[Sentence, ...]:
        found = []
        for group in groups:
            if len(self.diagnostics) > MOST_ERRORS:
                break
            found.append(self._sentence(group, inside))
        return tuple(found)

    def _sentence(self, group: Group, inside: bool) -> Sentence:
        from lark.exceptions import UnexpectedToken

        block = self.sentences(group.block, True) if group.block is not None else None
        head = group.tokens[0]
        if head.type == "NAME" and not inside and not any(t.type == "EQ" for t in group.tokens):
            self._refuse(group, say.statement_outside(head.text, BEGINNINGS, head.span))
            return broken(group.tokens, block, self.takes)
        end = Token("END", "", group.tokens[-1].end, group.tokens[-1].end, head.file)
        tokens = [*group.tokens, end]
        try:
            sentence: Sentence = self.read(tokens)  # type: ignore[assignment]
            sentence = _with_block(sentence, group, block)
            _named(sentence, self.takes)
            if not group.uncertain:
                return sentence
        except SentenceError as slip:
            self._refuse(group, slip.diagnostic)
        except UnexpectedToken as error:
            at = next(i for i, token in enumerate(tokens) if token is error.token)
            self._refuse(group, explain(Refused(tokens, at, error.expected, self.takes)))
        return broken(group.tokens, block, self.takes)

    def _refuse(self, group: Group, diagnostic: Diagnostic) -> None:
        """Report why a sentence cannot be read, unless a slip in it has been reported already: a bracket left open may have made
        of two sentences one."""
        if not group.broken:
            self.diagnostics.append(diagnostic if group.astray is None else spell.bracket_not_closed(group.astray.span))


def _named(sentence: Sentence, takes: Takes) -> None:
    """A slip where the name of a definition and its first word stand the other way round, `seam joins sides …`, or the name
    stands twice."""
    if not isinstance(sentence, Definition) or not sentence.clauses:
        return
    name, first, known = sentence.name, sentence.clauses[0].word, takes(sentence.kind.text)
    if name.text == first.text and first.text not in known:
        raise SentenceError(turn_words.twice(name.text, name.span.to(first.span)))
    if name.text in known and first.text not in known:
        raise SentenceError(turn_words.exchanged(name.text, first.text, name.span.to(first.span)))


def _with_block(sentence: Sentence, group: Group, block: tuple[Sentence, ...] | None) -> Sentence:
    """The sentence with its block in place; a slip when it has one it should not have, or lacks one."""
    if isinstance(sentence, Change) and block is not None and _is_name(sentence.sentence):
        sentence = ChangeValues(None, (sentence.sentence.verb,), None, (), None, sentence.span)  # type: ignore[union-attr]
    if isinstance(sentence, ChangeValues) and not sentence.clauses:
        if block is None:
            raise SentenceError(say.braces_wanted(group.tokens[0].text, group.tokens[-1].span))
        return replace(sentence, block=block)
    if isinstance(sentence, Add | Change):
        return replace(sentence, sentence=_with_block(sentence.sentence, group, block))  # type: ignore[arg-type]
    if isinstance(sentence, Gives):
        return replace(sentence, definition=_definition_with_block(sentence.definition, group, block))
    if isinstance(sentence, Definition):
        if sentence.kind.text == "block" and sentence.value is None and not sentence.clauses:
            sentence = Recipe(sentence.kind, sentence.name, sentence.text, (), sentence.span)
        else:
            return _definition_with_block(sentence, group, block)
    head = group.tokens[0]
    if isinstance(sentence, Recipe | Each | EachPiece):
        if block is None:
            raise SentenceError(say.braces_wanted(head.text, group.tokens[-1].span))
        return replace(sentence, block=block)
    if group.opened is not None:
        raise SentenceError(say.braces_not_wanted(head.text, group.opened.span))
    return sentence


def _is_name(sentence: Sentence) -> bool:
    """Whether a sentence is no more than a name: what it stands for is changed in its braces."""
    return isinstance(sentence, Statement) and not sentence.subject and not sentence.clauses


def _definition_with_block(
    definition: Definition, group: Group, block: tuple[Sentence, ...] | None
) -> Definition:
    if block is not None:
        return replace(definition, block=block)
    kind = definition.kind.text
    if definition.value is None and not definition.clauses:
        raise SentenceError(say.says_nothing(kind, definition.name.text, kind in WORDED, definition.name.span))
    return definition


def layout(lexed: Lexed) -> tuple[list[Group], list[Diagnostic]]:
    """The sentences of a lexed text, and all diagnostics so far."""
    groups, found = laid_out(lexed.lines)
    return groups, lexed.diagnostics + found


def _nothing(verb: str) -> tuple[str, ...]:
    return ()


def read(
    lexed: Lexed, groups: list[Group], earlier: list[Diagnostic], text: str, file: str, takes: Takes = _nothing
) -> tuple[StyleFile, tuple[Diagnostic, ...]]:
    """The tree of sentences laid out before, and every diagnostic in the order of the text."""
    reader = _Reader(takes)
    sentences = reader.sentences(groups, False)
    found = sorted(earlier + reader.diagnostics, key=lambda d: d.span.start if d.span else 0)
    if _is_no_style(sentences, found):
        return StyleFile(file, text, (), ()), (spell.no_style(file, text),)
    if len(found) > MOST_ERRORS:  # the rest of the file was not read: whatever it names is not known
        sentences = (*sentences, Broken("", "", (), None, Span(file, len(text), len(text))))
        found = [*found[:MOST_ERRORS], spell.too_many_errors(MOST_ERRORS, found[MOST_ERRORS].span)]
    return StyleFile(file, text, sentences, tuple(lexed.comments)), tuple(found)


def _is_no_style(sentences: Sequence[Sentence], found: Sequence[Diagnostic]) -> bool:
    """Whether a text is something else: it does not begin with its language, and next to nothing in it can be read."""
    good = sum(not isinstance(one, Broken) for one in sentences)
    begun = any(isinstance(one, Language) for one in sentences[:1])
    return not begun and len(found) >= _FEW and _FEW * good < len(found)


def parse(text: str, file: str, takes: Takes = _nothing) -> tuple[StyleFile, tuple[Diagnostic, ...]]:
    """The tree of the style in `text`, and every error in it; `file` is the name used in places, `takes` tells the words of
    a verb, so that an error can name them.

    A sentence with an error is `Broken` in the tree, unless what was meant is clear.
    """
    lexed = lex(text, file)
    groups, earlier = layout(lexed)
    return read(lexed, groups, earlier, text, file, takes)
