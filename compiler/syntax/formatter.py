"""The one layout of a style: words one space apart, blocks indented by four, no columns aligned, every comment kept.

It works on the tokens and takes from the tree only where a long sentence may be broken (`breaking.py`).
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from ..diagnostics.diagnostic import Diagnostic
from .bracketing import bracketed
from .breaking import ranked
from .joints import jointed
from .layout import Group
from .lexer import lex
from .parser import layout, read
from .tokens import Lexed, Token
from .tree import Comment, Sentence, held
from .words import FOREIGN_UNITS, UNITS

_WIDTH = 100
_INDENT = 4
_DEEPER = 8  # how far the rest of a broken sentence stands in
_UNIT_WORDS = frozenset(UNITS) | frozenset(FOREIGN_UNITS)
_TIGHT = frozenset(("SLASH", "STAR", "NUMBER"))  # after these `1/2` would be read as something else


def format_style(text: str, file: str) -> tuple[str, tuple[Diagnostic, ...]]:
    """The text in its one layout. A text with errors comes back unchanged, with its diagnostics."""
    lexed = lex(text, file)
    groups, earlier = layout(lexed)
    tree, diagnostics = read(lexed, groups, earlier, text, file)
    if any(diagnostic.is_error for diagnostic in diagnostics):
        return text, diagnostics
    return _Weaver(text, lexed).weave(groups, tree.sentences), diagnostics


class _Weaver:
    """Sentences and comments on their way to lines, in the order of the text."""

    def __init__(self, text: str, lexed: Lexed) -> None:
        self.text = text
        self.comments = lexed.comments
        self.next_comment = 0
        self.lines: list[str] = []
        self.end = 0  # where the last thing that was written ends in the text
        self.fresh = True  # nothing stands before in this block

    def weave(self, groups: list[Group], sentences: tuple[Sentence, ...]) -> str:
        self._block(groups, sentences, 0)
        self._comments(len(self.text), 0)
        return "".join(f"{line}\n" for line in self.lines)

    def _block(self, groups: list[Group], sentences: tuple[Sentence, ...], depth: int) -> None:
        for group, sentence in zip(groups, sentences, strict=True):
            self._comments(group.tokens[0].start, depth)
            self._sentence(group, sentence, depth)
            if group.block is not None and group.closed is not None:
                self.fresh = True
                self._block(group.block, _block_of(sentence), depth + 1)
                self._comments(group.closed.start, depth + 1)
                self.lines.append(f"{' ' * _INDENT * depth}}}")
                self.end, self.fresh = group.closed.end, False

    def _sentence(self, group: Group, sentence: Sentence, depth: int) -> None:
        """The sentence without its block; comments between its lines move above it, or above the link of a chain they are in."""
        self._gap(group.tokens[0].start)
        links = _links(group.tokens)
        above, behind = self._among(group.tokens, links)
        apart = any(above[1:]) or any(behind)
        for number, lines in enumerate(_broken(group, sentence, self.text, depth, apart)):
            for comment in above[number]:
                self._own_line(comment, depth + (number > 0))
            self.lines += lines
            self.lines[-1] += "".join(f"  {comment.text}" for comment in behind[number])
        self.end = group.opened.end if group.opened else group.tokens[-1].end
        self.fresh = False

    def _among(self, tokens: list[Token], links: list[int]) -> tuple[list[list[Comment]], list[list[Comment]]]:
        """The comments in a sentence, for each of its links those that stand before or in it, and the one at its end."""
        above: list[list[Comment]] = [[] for _ in links]
        behind: list[list[Comment]] = [[] for _ in links]
        ends = [tokens[i - 1].end for i in (*links[1:], len(tokens))]
        for comment in self._taken(tokens[-1].start):
            number = sum(tokens[i].start < comment.span.start for i in links) - 1
            if comment.span.start < ends[number]:
                above[number].append(comment)
            elif comment.own_line:
                above[number + 1].append(comment)
            else:
                behind[number].append(comment)
        return above, behind

    # ---- comments and blank lines --------------------------------------------------------------

    def _taken(self, until: int) -> Iterator[Comment]:
        while self.next_comment < len(self.comments) and self.comments[self.next_comment].span.start < until:
            self.next_comment += 1
            yield self.comments[self.next_comment - 1]

    def _comments(self, until: int, depth: int) -> None:
        """Every comment before `until`: on its own line, or behind the line just written."""
        for comment in self._taken(until):
            if comment.own_line or not self.lines:
                self._gap(comment.span.start)
                self._own_line(comment, depth)
            else:
                self.lines[-1] += f"  {comment.text}"
            self.end = comment.span.end

    def _own_line(self, comment: Comment, depth: int) -> None:
        self.lines.append(f"{' ' * _INDENT * depth}{comment.text}")
        self.fresh = False

    def _gap(self, start: int) -> None:
        """One blank line where the text has any, but none at the beginning of a block."""
        if not self.fresh and self.text.count("\n", self.end, start) > 1:
            self.lines.append("")


def _block_of(sentence: Sentence) -> tuple[Sentence, ...]:
    block: tuple[Sentence, ...] | None = getattr(held(sentence), "block", None)
    return block or ()


# ---- one sentence ------------------------------------------------------------------------------


def _links(tokens: list[Token]) -> list[int]:
    """Where a sentence begins, and each link of its chain."""
    return [0, *(i for i in _outside_brackets(tokens) if tokens[i].type == "THEN")]


def _broken(group: Group, sentence: Sentence, text: str, depth: int, apart: bool) -> list[list[str]]:
    """The lines of one sentence: one, or more where it is too long, broken before words. Then, or where they must stand apart,
    the links of a chain are told apart, each on lines of its own."""
    tokens, indent = bracketed(jointed(group.tokens, sentence), sentence), " " * _INDENT * depth
    brace = " {" if group.opened else ""
    whole = joined(tokens, 0, len(tokens), text)
    forced = [i for i in range(1, len(tokens)) if _must_break(tokens[i - 1], tokens[i])]
    if not apart and not forced and len(indent) + len(whole) + len(brace) <= _WIDTH:
        return [[f"{indent}{whole}{brace}"]]
    links = _links(tokens)[1:]
    lines = [[indent]]
    for first, last in _parts(tokens, sentence, sorted({*forced, *links}), _WIDTH - len(indent) - _DEEPER, text):
        part = joined(tokens, first, last, text) + (brace if last == len(tokens) else "")
        begun = bool(lines[-1][-1].strip())
        gap = " " if begun and _spaced(tokens, first) else ""
        if first in links:
            lines.append([indent + " " * _INDENT + part])
        elif begun and (first in forced or len(lines[-1][-1]) + len(gap) + len(part) > _WIDTH):
            lines[-1].append(indent + " " * _DEEPER + part)
        else:
            lines[-1][-1] += gap + part
    return lines


def _parts(tokens: list[Token], sentence: Sentence, forced: list[int], width: int, text: str) -> list[tuple[int, int]]:
    """A sentence in parts that are not broken, from token to token: as large as a line is wide, where they can be."""
    found = _cut([(0, len(tokens))], forced)
    for places in ranked(tokens, sentence):
        wide = [one for one in found if len(joined(tokens, *one, text)) > width]
        found = [part for one in found for part in (_cut([one], places) if one in wide else [one])]
    return found


def _cut(parts: list[tuple[int, int]], places: list[int]) -> list[tuple[int, int]]:
    """Parts, cut before the tokens at the places."""
    return [pair for i, k in parts for pair in pairwise([i, *(place for place in places if i < place < k), k])]


def _must_break(before: Token, token: Token) -> bool:
    """A number and the word after it that would read as its unit, or as its fraction, on one line."""
    return before.type == "NUMBER" and (token.text.lower() in _UNIT_WORDS or token.type == "NUMBER")


def _outside_brackets(tokens: list[Token]) -> Iterator[int]:
    depth = 0
    for i, token in enumerate(tokens):
        depth += (token.type == "LPAR") - (token.type == "RPAR")
        if not depth:
            yield i


def joined(tokens: list[Token], first: int, last: int, text: str) -> str:
    """Some of the tokens of a sentence on one line."""
    parts = []
    for i in range(first, last):
        token = tokens[i]
        if i > first and _spaced(tokens, i):
            parts.append(" ")
        parts.append(text[token.start : token.end] if token.type == "STRING" else token.text)
    return "".join(parts)


def _spaced(tokens: list[Token], i: int) -> bool:
    before, token = tokens[i - 1].type, tokens[i].type
    if before in ("LPAR", "SIGN") or token in ("RPAR", "COMMA"):
        return False
    if token == "SLASH":
        return not _glued(tokens, i)
    return before != "SLASH" or not _glued(tokens, i - 1)


def _glued(tokens: list[Token], slash: int) -> bool:
    """A slash stands without spaces in the name of a module, and in a plain fraction."""
    if tokens[0].type in ("USE", "STYLE"):
        return True
    around = [t.type for t in tokens[max(0, slash - 2) : slash + 3]]
    here = min(slash, 2)
    fraction = around[here - 1 : here + 2] == ["NUMBER", "SLASH", "NUMBER"]
    return fraction and not (here == 2 and around[0] in _TIGHT) and "SLASH" not in around[here + 2 :]
