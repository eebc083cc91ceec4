"""Lines of tokens -> sentences with their blocks: ends of lines, indentation, brackets and braces.

A sentence ends at the end of its line, unless a bracket is open or the next line is indented deeper and does not begin
like a sentence. Braces open on the line of their sentence and hold sentences of their own.
"""

from __future__ import annotations

from dataclasses import dataclass, field

from ..diagnostics import syntax_words as say
from ..diagnostics.diagnostic import Diagnostic, Span
from .tokens import Line, Token
from .words import HEADS

DEEPEST = 100  # brackets within each other, so that nothing that walks a tree runs out of stack
DEEPEST_BRACES = 12  # within each other; a style needs three
MOST_ERRORS = 200  # of one file; beyond, nobody reads on
_LONGEST = 2000  # words and signs of one sentence
_MOST_BLAMED = 3
_MOST_SIGNS = 100  # each may deepen the tree by one
_SIGNS = frozenset(("PLUS", "MINUS", "STAR", "SLASH", "THEN", "WHEN", "OTHERWISE", "AND", "OR", "NOT", "OF"))
_HEAD_TYPES = frozenset(word.upper() for word in HEADS)


@dataclass(slots=True)
class Group:
    """One sentence: its tokens without the block, and the sentences of the block if it has one. `broken` and `uncertain` as of
    the lines it stands on."""

    indent: int
    tokens: list[Token] = field(default_factory=list)
    broken: bool = False
    uncertain: bool = False
    opened: Token | None = None
    closed: Token | None = None
    block: list[Group] | None = None

    @property
    def span(self) -> Span:
        return self.tokens[0].span.to(self.tokens[-1].span)


@dataclass(slots=True)
class _Block:
    """A block that is being filled; the outermost one is the file, without a brace."""

    groups: list[Group]
    owner: Group | None = None
    last: Group | None = None
    suspected: bool = False


def begins_sentence(line: Line) -> bool:
    """Whether a line can only be the beginning of a sentence: a kind and a name, or a word that heads sentences."""
    tokens = line.tokens
    first, second = tokens[0].type, tokens[1].type if len(tokens) > 1 else ""
    if first in _HEAD_TYPES:
        return True
    if first == "KIND":
        return second in ("NAME", "EQ") or (len(tokens) > 2 and tokens[2].type == "EQ")
    return first == "NAME" and (second == "EQ" or (len(tokens) > 2 and tokens[2].type == "EQ"))


class Layout:
    """The lines of one file on their way to sentences."""

    def __init__(self) -> None:
        self.diagnostics: list[Diagnostic] = []
        self.blocks = [_Block([])]
        self.current: Group | None = None
        self.brackets: list[Token] = []
        self.suspects: list[Token] = []
        self.skipping = 0

    def run(self, lines: list[Line]) -> list[Group]:
        for line in lines:
            if len(self.diagnostics) > MOST_ERRORS:
                break
            self._line(line)
        self._finish()
        self._unclosed_braces()
        return self.blocks[0].groups

    def _line(self, line: Line) -> None:
        if self.current and not self._continues(self.current, line):
            self._finish()
        if self.current and line.broken:
            self.current.broken, self.current.uncertain = True, self.current.uncertain or line.uncertain
        fresh = True
        for token in line.tokens:
            if len(self.diagnostics) > MOST_ERRORS:
                break
            kind = token.type
            if self.skipping:
                self.skipping += (kind == "LBRACE") - (kind == "RBRACE")
            elif kind == "LBRACE":
                self._open(token, fresh)
            elif kind == "RBRACE":
                self._close(token)
            else:
                if self.current is None:
                    self._start(line, token, fresh)
                self._take(token)
            fresh = False

    def _continues(self, current: Group, line: Line) -> bool:
        if not current.tokens:  # nothing but stray brackets so far
            return False
        if line.tokens[0].type in ("THEN", "THAT"):  # these begin no sentence
            return True
        head, compared = line.tokens[0].type, "CHECK" in [token.type for token in current.tokens[:2]]
        begins = begins_sentence(line) and not (compared and head == "NAME")
        if self.brackets:
            return not begins or (line.indent > current.indent and head == "KIND" and "EQ" not in _types(line))
        return line.indent > current.indent and not begins and head not in ("LBRACE", "RBRACE")

    # ---- sentences -----------------------------------------------------------------------------

    def _start(self, line: Line, token: Token, fresh: bool) -> None:
        block = self.blocks[-1]
        group = self.current = Group(line.indent, broken=line.broken, uncertain=line.uncertain)
        block.groups.append(group)
        above = block.last
        if fresh and above and line.indent > above.indent and above.tokens:
            self.diagnostics.append(say.indented_by_accident(token.span, above.tokens[0].span))
        owner = block.owner
        if fresh and owner and owner.opened and line.indent <= owner.indent and not block.suspected:
            block.suspected = True
            self.suspects.append(owner.opened)
        block.last = group

    def _take(self, token: Token) -> None:
        group = self.current
        assert group is not None
        if token.type == "LPAR":
            self._deeper(group, token)
        elif token.type == "RPAR":
            if not self.brackets:
                self._report(group, say.stray_bracket(token.span))
                return
            self.brackets.pop()
        if len(group.tokens) < _LONGEST:
            group.tokens.append(token)
        elif not group.broken:
            self._report(group, say.sentence_too_long("words", _LONGEST, group.tokens[0].span))

    def _deeper(self, group: Group, token: Token) -> None:
        self.brackets.append(token)
        if len(self.brackets) > DEEPEST and not group.broken:
            self._report(group, say.nested_too_deep("brackets", DEEPEST, token.span))

    def _finish(self) -> None:
        """The sentence at hand is over."""
        group, self.current = self.current, None
        if group is None:
            return
        if self.brackets:
            if not (group.broken and len(self.brackets) > DEEPEST):
                self._report(group, say.bracket_not_closed(self.brackets[-1].span))
            group.broken = True
            self.brackets = []
        tokens = group.tokens
        if not tokens:
            block = self.blocks[-1]
            block.groups.pop()
            block.last = block.groups[-1] if block.groups else None
            return
        if len(tokens) > _MOST_SIGNS and sum(t.type in _SIGNS for t in tokens) > _MOST_SIGNS and not group.broken:
            self._report(group, say.sentence_too_long("signs and joining words", _MOST_SIGNS, tokens[0].span))

    def _report(self, group: Group, diagnostic: Diagnostic) -> None:
        group.broken = group.uncertain = True
        self.diagnostics.append(diagnostic)

    # ---- braces --------------------------------------------------------------------------------

    def _open(self, brace: Token, fresh: bool) -> None:
        block = self.blocks[-1]
        group = self.current
        self._finish()
        if group is None or not group.tokens:
            group = block.last
            if not fresh or group is None or group.block is not None:
                second = group is not None and group.block is not None
                self.diagnostics.append(say.stray_brace("{", brace.span, second))
                group = Group(0, [brace], broken=True)
            else:
                self.diagnostics.append(say.brace_on_own_line(brace.span, group.span))
        if len(self.blocks) > DEEPEST_BRACES:
            self.diagnostics.append(say.nested_too_deep("braces", DEEPEST_BRACES, brace.span))
            self.skipping = 1
            return
        group.opened, group.block = brace, []
        self.blocks.append(_Block(group.block, group))

    def _close(self, brace: Token) -> None:
        self._finish()
        if len(self.blocks) == 1:
            self.diagnostics.append(say.stray_brace("}", brace.span))
            return
        owner = self.blocks.pop().owner
        assert owner is not None
        owner.closed = brace

    def _unclosed_braces(self) -> None:
        """Blame the blocks whose sentences stood as far left as their own head, else the innermost open ones."""
        open_braces = [b.owner.opened for b in reversed(self.blocks[1:]) if b.owner and b.owner.opened]
        blamed = (self.suspects + [b for b in open_braces if b not in self.suspects])[: len(open_braces)]
        self.diagnostics.extend(say.brace_not_closed(brace.span) for brace in blamed[:_MOST_BLAMED])


def _types(line: Line) -> list[str]:
    return [token.type for token in line.tokens]
