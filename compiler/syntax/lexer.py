"""Text -> lines of tokens, in one pass over one pattern. It never fails: a slip becomes a diagnostic and is mended."""

from __future__ import annotations

import re
from string import ascii_lowercase

from ..diagnostics import syntax_words as say
from ..diagnostics.diagnostic import Diagnostic, Span
from . import slips
from .tokens import Lexed, Line, Token
from .tree import Comment
from .words import FOREIGN_UNITS, HEADED, RESERVED, UNITS, WORD_TYPES

_UNIT = rf"(?:{'|'.join(UNITS)})(?![\w.])"
_FOREIGN = "|".join(FOREIGN_UNITS)

# Every alternative is possessive and the last ones take anything, so that time stays linear on any text.
_PART = re.compile(
    rf"""[ \t\r]*+(?:
      ([a-z][a-z0-9_]*+(?:\.[a-z][a-z0-9_]*+)*+(?![\w.]))                                    # 1 name
    | (\n)                                                                                  # 2 end of a line
    | ((?:(?:[0-9]++[ \t]++)?+[0-9]++/[0-9]++|[0-9]++(?:\.[0-9]++)?+)[ \t]*+{_UNIT})         # 3 quantity
    | ([0-9]++(?:\.[0-9]++)?+(?![\w.,/"″]|[ \t]++(?:[0-9]|(?i:{_FOREIGN})\b)))               # 4 plain number
    | ([=(){{}},+*/])                                                                       # 5 sign
    | (-)                                                                                   # 6 minus
    | ("[^"\n]*+")                                                                          # 7 text
    | (\#[^\n]*+)                                                                           # 8 comment
    | (\Z)                                                                                  # 9 end of the file
    | ([0-9])                                                                               # 10 a number with a slip
    | ([^\W0-9]\w*+(?:\.\w++)*+\.?)                                                         # 11 a word with a slip
    | ((?s:.))                                                                              # 12 anything else
    )""",
    re.VERBOSE,
)
_NAME, _NEWLINE, _QUANTITY, _NUMBER, _SIGN, _MINUS, _TEXT, _COMMENT, _END, _ODD_NUMBER, _ODD_WORD = range(1, 12)

_SIGNS = {
    "=": "EQ",
    "(": "LPAR",
    ")": "RPAR",
    "{": "LBRACE",
    "}": "RBRACE",
    ",": "COMMA",
    "+": "PLUS",
    "*": "STAR",
    "/": "SLASH",
}
# After these a glued minus cannot be a sign: a value has just ended.
_VALUE_ENDS = frozenset(("NUMBER", "QUANTITY", "RPAR", "YESNO", "STRING"))
# A name behind one of these is a value.
_VALUE_BEGINS = frozenset(
    ("EQ", "LPAR", "PLUS", "MINUS", "STAR", "SLASH", "SIGN", "OF", "THAT", "COMPARE", "EQUALS", "AND", "OR")
)
_NAMING = frozenset(("KIND", "CHECK", "TELL", "USE", "RECIPE", "EACH", "SOLVE", "CHANGE", "WITHOUT"))
_BEFORE_KIND = frozenset(("ADD", "CHANGE", "GIVES", "TAKES", "EACH"))
_LONGEST_NUMBER = 15
_LONGEST_NAME = 80
_SLIPS_PER_LINE = 5
_UNPRINTABLE = re.compile(r"[\x00-\x08\x0b-\x1f\x7f\ufffe\uffff]")  # signs no drawing can hold
_BLANK = " \t\r\n"
_BEGINS_VALUE = re.compile(r"[a-z0-9(]")


class Lexer:
    """One text on its way to tokens."""

    def __init__(self, text: str, file: str) -> None:
        self.text = text
        self.file = file
        self.result = Lexed()
        self.line = Line(0)
        self.line_start = 0
        self.slips = 0

    def run(self) -> Lexed:
        text, file, scan = self.text, self.file, _PART.match
        position, types, dotted = 0, WORD_TYPES, self._dotted
        while True:
            match = scan(text, position)
            assert match is not None  # the last alternative takes any character
            which = match.lastindex
            start, position = match.span(which)  # type: ignore[arg-type]
            if which == _NAME:
                word = match[1]
                if "." in word:
                    dotted(word, start)
                elif len(word) > _LONGEST_NAME:
                    self._long_name(word, start)
                else:
                    type = types.get(word, "NAME")
                    if word in HEADED and all(token.type in _BEFORE_KIND for token in self.line.tokens[-1:]):
                        type = "KIND"
                    self.line.tokens.append(Token(type, word, start, position, file))
            elif which == _NEWLINE:
                self._end_line(position)
            elif which == _END:
                self._end_line(position)
                return self.result
            else:
                position = self._other(which, match[which], start, position)  # type: ignore[arg-type,index]

    def _other(self, which: int, part: str, start: int, end: int) -> int:
        """Everything but names and line ends; gives the place to go on from."""
        if self.slips > _SLIPS_PER_LINE:  # the rest of such a line would say nothing new
            end_of_line = self.text.find("\n", end)
            return end_of_line if end_of_line >= 0 else len(self.text)
        if which == _SIGN:
            self._sign(part, start)
        elif which == _QUANTITY:
            self._quantity(part, start, end)
        elif which == _NUMBER:
            self._number(part, start, end)
        elif which == _TEXT:
            self._text(part, start, end)
        elif which == _COMMENT:
            self.result.comments.append(Comment(part.rstrip(), self._span(start, end), not self.line.tokens))
        elif which == _MINUS:
            return self._minus(start)
        elif which == _ODD_NUMBER:
            return self._mended(slips.number(self.text, start, self.file, self._after_kind()))
        elif which == _ODD_WORD:
            return self._mended(slips.word(part, start, self.file))
        else:
            return self._mended(slips.character(self.text, start, self.file))
        return end

    # ---- lines ---------------------------------------------------------------------------------

    def _end_line(self, end: int) -> None:
        line = self.line
        if line.tokens:
            before = self.text[self.line_start : line.tokens[0].start]  # a sign that is none may stand before the first word
            line.indent = len(before[: len(before) - len(before.lstrip())].expandtabs(4))
            self.result.lines.append(line)
            self.line = Line(0)
            self.slips = 0
        self.line_start = end

    def _add(self, type: str, text: str, start: int, end: int) -> None:
        self.line.tokens.append(Token(type, text, start, end, self.file))

    def _span(self, start: int, end: int) -> Span:
        return Span(self.file, start, end)

    def _report(self, diagnostic: Diagnostic, sure: bool = True) -> None:
        """Keep a slip; on a line that is nothing but slips the first few say enough."""
        self.line.broken = True
        self.line.uncertain = self.line.uncertain or not sure or self.slips >= _SLIPS_PER_LINE
        self.slips += 1
        if self.slips <= _SLIPS_PER_LINE:
            self.result.diagnostics.append(diagnostic)

    def _mended(self, mended: slips.Mended) -> int:
        titled = bool(self.line.tokens) and self.line.tokens[0].type == "STYLE"  # its quotes are missing, no more
        if mended.diagnostic and not titled:
            self._report(mended.diagnostic, mended.sure)
        for token in mended.tokens:
            token.guessed = not mended.sure
            if token.type == "NAME":
                token.type = WORD_TYPES.get(token.text, "NAME")
            elif token.type in ("NUMBER", "QUANTITY"):
                self._check_length(token.text, token.start, token.end)
            self.line.tokens.append(token)
        return mended.end

    # ---- parts ---------------------------------------------------------------------------------

    def _dotted(self, word: str, start: int) -> None:
        at = start
        if len(word) > 4 * _LONGEST_NAME:
            self._long_name(word.replace(".", "_"), start)
            return
        for part in word.split("."):
            if part in RESERVED:
                self._report(say.reserved_part(part, self._span(at, at + len(part))))
            at += len(part) + 1
        self._add("DOTTED", word, start, start + len(word))

    def _long_name(self, word: str, start: int) -> None:
        self._report(say.name_too_long(word, _LONGEST_NAME, self._span(start, start + len(word))))
        self._add("NAME", word[:_LONGEST_NAME], start, start + len(word))

    def _quantity(self, part: str, start: int, end: int) -> None:
        written = part.rstrip(ascii_lowercase).rstrip()
        if "/" in written and not slips.on_the_tape(written):
            self._report(say.odd_fraction(written, self._span(start, end)))
        self._check_length(part, start, end)
        self._add("QUANTITY", " ".join((*written.split(), part[len(written) :].strip())), start, end)

    def _number(self, part: str, start: int, end: int) -> None:
        self._check_length(part, start, end)
        self._add("NUMBER", part, start, end)

    def _text(self, part: str, start: int, end: int) -> None:
        if found := _UNPRINTABLE.search(part):
            at = start + found.start()
            self._report(say.unprintable(f"U+{ord(found[0]):04X}", self._span(at, at + 1)))
        self._add("STRING", part[1:-1], start, end)

    def _check_length(self, part: str, start: int, end: int) -> None:
        if len(part) > _LONGEST_NUMBER and sum(c.isdigit() for c in part) > _LONGEST_NUMBER:
            self._report(say.number_too_long(self._span(start, end)))

    def _sign(self, part: str, start: int) -> None:
        tokens = self.line.tokens
        if part == "(" and tokens and tokens[-1].end == start and tokens[-1].type in ("NAME", "KIND"):
            name = tokens[-1]
            inside = slips.inside_brackets(self.text, start)
            self._report(say.call_with_brackets(name.text, inside, self._span(name.start, start + 1)))
        self._add(_SIGNS[part], part, start, start + 1)

    def _minus(self, start: int) -> int:
        text = self.text
        before = text[start - 1] if start else "\n"
        after = text[start + 1] if start + 1 < len(text) else "\n"
        if before in _BLANK and after in _BLANK:
            self._add("MINUS", "-", start, start + 1)
        elif _BEGINS_VALUE.match(after) and before in " \t\r\n(" and not self._value_before(after.isdigit()):
            self._add("SIGN", "-", start, start + 1)
        else:
            return self._odd_minus(start)
        return start + 1

    def _value_before(self, number: bool) -> bool:
        """Whether a value has just ended, on this line or on the one that this line may continue. Before a name, a name is one
        too where a value is wanted: behind a sign or a word of the language, not behind another name."""
        lines = self.result.lines
        tokens = self.line.tokens or (lines[-1].tokens if lines else [])
        if not tokens:
            return False
        named = tokens[-1].type in ("NAME", "DOTTED") and len(tokens) > 1 and tokens[-2].type in _VALUE_BEGINS
        return (named and not number) or tokens[-1].type in _VALUE_ENDS

    def _odd_minus(self, start: int) -> int:
        tokens = self.line.tokens
        last = tokens[-1] if tokens else None
        if last and last.type == "NAME" and last.end == start and len(tokens) > 1 and tokens[-2].type in _NAMING:
            name = slips.hyphenated(self.text, last.start)
            if last.start + len(name) > start:
                last.text, last.end = name.replace("-", "_"), last.start + len(name)
                self._report(say.hyphen_in_name(name, last.span))
                return last.end
        before = last.text if last and last.type in ("NAME", "DOTTED", "NUMBER", "QUANTITY") else ""
        self._report(say.unclear_minus(before, slips.behind(self.text, start), self._span(start, start + 1)), sure=False)
        self._add("MINUS", "-", start, start + 1)
        return start + 1

    def _after_kind(self) -> bool:
        return bool(self.line.tokens) and self.line.tokens[-1].type in _NAMING


def lex(text: str, file: str) -> Lexed:
    """The lines of tokens of `text`, its comments and the slips in its spelling; any text is accepted."""
    return Lexer(text, file).run()
