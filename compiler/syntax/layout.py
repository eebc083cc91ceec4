"""Lines of tokens -> sentences with their blocks: ends of lines, indentation, brackets and braces.

A sentence ends at the end of its line, unless a bracket is open or the next line is indented deeper and does not begin
like a sentence. Braces open on the line of their sentence and hold sentences of their own. Where braces stay open the indent
tells which: a block is over where a sentence stands no deeper than the one that opened it.
"""

from __future__ import annotations

from dataclasses import dataclass, field, replace

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
_FIRST = _HEAD_TYPES | {"KIND", "NAME"}
"""What a sentence may begin with."""
_BRACED = frozenset(("piece", "shape", "block", "table", "recipe", "each", "change"))
"""First or second words of sentences that take braces."""


@dataclass(slots=True)
class Group:
    """One sentence: its tokens without the block, and the sentences of the block if it has one. `broken` and `uncertain` as of
    the lines it stands on; `astray` a bracket that makes a line go on with it that is indented as a sentence of its own."""

    indent: int
    tokens: list[Token] = field(default_factory=list)
    broken: bool = False
    uncertain: bool = False
    astray: Token | None = None
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


def begins_sentence(line: Line) -> bool:
    """Whether a line can only be the beginning of a sentence: a kind and a name, or a word that heads sentences."""
    return _begins(line.tokens)


def _begins(tokens: list[Token]) -> bool:
    first, second = tokens[0].type, tokens[1].type if len(tokens) > 1 else ""
    if first in _HEAD_TYPES:
        return True
    if first == "KIND":
        return second in ("NAME", "EQ") or (len(tokens) > 2 and tokens[2].type == "EQ")
    return first == "NAME" and (second == "EQ" or (len(tokens) > 2 and tokens[2].type == "EQ"))


class Layout:
    """The lines of one file on their way to sentences. `unclosed` blocks have no `}` and end by the indent; `stray` is how many
    `}` have no `{`, told by the indent too."""

    def __init__(self, unclosed: int = 0, stray: int = 0) -> None:
        self.unclosed = unclosed
        self.stray = stray
        self.strays = 0
        self.deeper: Group | None = None
        self.blamed = 0
        self.diagnostics: list[Diagnostic] = []
        self.blocks = [_Block([])]
        self.current: Group | None = None
        self.brackets: list[Token] = []
        self.skipping = 0
        self.open = 0
        self.inside: list[Token] = []  # braces that open where a bracket is open

    def run(self, lines: list[Line]) -> list[Group]:
        for line, after in zip(lines, [*(one.indent for one in lines[1:]), 0], strict=False):
            if len(self.diagnostics) > MOST_ERRORS:
                break
            self._line(line, after)
        self._finish()
        self.open = len(self.blocks) - 1
        while len(self.blocks) > 1:
            self._give_up()
        return self.blocks[0].groups

    def _line(self, line: Line, after: int) -> None:
        if self.current and not self._continues(self.current, line):
            self._finish()
        self.deeper = self.current or self.deeper
        if self.current and self.brackets and line.indent <= self.current.indent:
            self.current.astray = self.current.astray or self.brackets[-1]
        if self.current and line.broken:
            self.current.broken, self.current.uncertain = True, self.current.uncertain or line.uncertain
        while self.current is None and self.unclosed and self._is_over(line):
            self.unclosed -= 1
            self._give_up()
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
                self._close(token, line.indent if fresh else None, after)
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
        if self.brackets:
            self.inside.append(brace)
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

    def _close(self, brace: Token, indent: int | None, after: int) -> None:
        """A `}`, at this indent where its line begins with it, and how deep the next line stands."""
        owner = self.blocks[-1].owner
        elsewhere = owner is not None and self.stray > 0 and (after > owner.indent if indent is None else indent > owner.indent)
        if self.current and indent is None and (owner is None or elsewhere):
            self.current.broken = True  # and may go on behind it
        else:
            self._finish()
        if owner is None or elsewhere:
            self.stray -= 1
            self.strays += 1
            opener = None if indent is None else self._never_opened(indent)
            self.diagnostics.append(say.stray_brace("}", brace.span, sentence=opener.span if opener else None))
            return
        self.blocks.pop()
        owner.closed = brace

    def _never_opened(self, indent: int) -> Group | None:
        """The sentence whose block ends at this indent though no `{` began it: what stands deeper below it is its block."""
        groups = self.blocks[-1].groups
        at = next((i for i in range(len(groups) - 1, -1, -1) if groups[i].indent <= indent), None)
        if at is None or groups[at].block is not None or (groups[at] is not self.deeper and at == len(groups) - 1):
            return None
        owner, inner = groups[at], groups[at + 1 :]
        starts = {one.tokens[0].start for one in inner}
        self.diagnostics = [d for d in self.diagnostics if not (d.code == "E126" and d.span and d.span.start in starts)]
        owner.broken = owner.uncertain = True
        owner.block = inner
        del groups[at + 1 :]
        self.blocks[-1].last = owner
        return owner

    def _is_over(self, line: Line) -> bool:
        """Whether the innermost block must have ended before this line."""
        owner = self.blocks[-1].owner
        if owner is None:
            return False
        if line.tokens[0].type == "RBRACE":  # that of a block further out
            return line.indent < owner.indent and any(b.owner and b.owner.indent == line.indent for b in self.blocks[:-1])
        return line.indent <= owner.indent and line.tokens[0].type in _FIRST

    def _give_up(self) -> None:
        """The innermost block is over without a `}`."""
        owner = self.blocks.pop().owner
        assert owner is not None
        assert owner.opened is not None
        if owner.tokens[0] is owner.opened:  # a stray brace, which is told
            return
        if self.blamed < _MOST_BLAMED:
            self.diagnostics.append(say.brace_not_closed(owner.opened.span))
        self.blamed += 1
        _without_stray(owner)


def _without_stray(owner: Group) -> None:
    """Where an open brace holds nothing, or no more than the rest of its own sentence, it is left away."""
    inner = owner.block or []
    wanted = any(token.text in _BRACED for token in owner.tokens[:2])
    owner.broken = owner.broken or not (wanted and inner)
    statements = wanted and all(one.tokens[0].type == "NAME" for one in inner)  # or none, or the rest
    if any(_begins(one.tokens) for one in inner) or any(one.block is not None for one in inner[:-1]):
        return
    if statements and len(inner) > 1:
        return
    owner.broken, owner.uncertain, owner.block, owner.opened = True, owner.uncertain or statements, None, None
    for rest in inner:
        owner.tokens += rest.tokens
        owner.uncertain = owner.uncertain or rest.uncertain
        owner.block, owner.opened, owner.closed = rest.block, rest.opened, rest.closed
    owner.uncertain = owner.uncertain or len(owner.tokens) > _MOST_SIGNS  # each part was within its bounds, not the whole


def laid_out(lines: list[Line]) -> tuple[list[Group], list[Diagnostic]]:
    """The sentences of a file, and what is wrong with its lines, brackets and braces."""
    made = Layout()
    groups = made.run(lines)
    for brace in made.inside[:1]:  # where all is well without it, it is stray
        rest = [replace(line, tokens=[one for one in line.tokens if one is not brace]) for line in lines]
        without = Layout()
        mended = without.run([line for line in rest if line.tokens])
        if not without.diagnostics and not without.open:
            return mended, [say.stray_brace("{", brace.span)]
    if made.open or made.strays:
        by_indent = Layout(made.open, made.strays)
        mended = by_indent.run(lines)
        if len(by_indent.diagnostics) <= len(made.diagnostics):
            return mended, by_indent.diagnostics
    return groups, made.diagnostics


def _types(line: Line) -> list[str]:
    return [token.type for token in line.tokens]
