"""Styles of the project with some of their sentences broken, as they are while someone types."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from random import Random

from godet.syntax.layout import Group
from godet.syntax.lexer import lex
from godet.syntax.parser import layout, parse
from godet.verbs.registry import words_taken

FILE = "broken.style"
GARBAGE = ("@@", "12,5 xx", "zzz zzz", "= =", "cm", "%", "from from", "((", "))", "1nape", "to", ";")
Edit = tuple[int, int, str]
"""Where the text is replaced, from and until, and by what."""


@dataclass(frozen=True)
class Torn:
    """A text with broken sentences: where these stand in it, and what they were before."""

    text: str
    spans: tuple[tuple[int, int], ...]
    sentences: tuple[Group, ...]

    def is_inside(self, at: int) -> bool:
        return any(first <= at <= last for first, last in self.spans)


def torn(text: str, random: Random, share: float = 1 / 3) -> Torn:
    """About this share of the sentences of a text, in braces too, broken so that each cannot be read."""
    edits: list[Edit] = []
    hit: list[Group] = []
    for group in _all(layout(lex(text, FILE))[0]):
        if random.random() < share and group.tokens[0].type != "LANGUAGE":
            edit = _edit(text, group, random)
            if _cannot_be_read(text, group, edit):
                edits.append(edit)
                hit.append(group)
    return Torn(_edited(text, edits), tuple(_lines_of(text, group, edits) for group in hit), tuple(hit))


def with_a_brace_amiss(text: str, random: Random) -> str:
    """A text with one brace taken away, or one more at the end of a line."""
    lines = [line.tokens for line in lex(text, FILE).lines]
    braces = [one for tokens in lines for one in tokens if one.type in ("LBRACE", "RBRACE")]
    if braces and random.random() < 1 / 2:
        brace = random.choice(braces)
        return _edited(text, [(brace.start, brace.end, "")])
    ends = [tokens[-1].end for tokens in lines if tokens[-1].type not in ("LBRACE", "RBRACE")]
    end = random.choice(ends)
    return _edited(text, [(end, end, random.choice((" {", " }")))])


def _cannot_be_read(text: str, group: Group, edit: Edit) -> bool:
    """Whether a sentence is broken by an edit, and does not say something else."""
    start, end = group.tokens[0].start, group.tokens[-1].end
    alone = _edited(text[:end], [edit])[start:]
    braces = "" if group.block is None else " {\n}"
    return any(one.is_error for one in parse(f"shape x {{\n{alone}{braces}\n}}\n", FILE, words_taken)[1])


def _all(groups: list[Group]) -> Iterator[Group]:
    for group in groups:
        yield group
        yield from _all(group.block or [])


def _edit(text: str, group: Group, random: Random) -> Edit:
    """A word missing or doubled, a bracket lost or too many, garbage between the words, the head or the name spoilt."""
    token, head = random.choice(group.tokens), group.tokens[0]
    brackets = [one for one in group.tokens if one.type in ("LPAR", "RPAR")]
    names = [one for one in group.tokens if one.type == "NAME"]
    match random.choice(("missing", "doubled", "bracket", "garbage", "head", "name")):
        case "doubled":
            return token.end, token.end, f" {text[token.start : token.end]}"
        case "bracket" if not brackets:
            return token.start, token.start, f"{random.choice('()')} "
        case "bracket":
            token = random.choice(brackets)
        case "garbage":
            return token.start, token.start, f"{random.choice(GARBAGE)} "
        case "head":
            return head.start, head.end, random.choice(("pont", "@@"))
        case "name" if names:
            return names[0].start, names[0].end, f"9{names[0].text}"
    return token.start, token.end + (text[token.end : token.end + 1] == " "), ""


def _edited(text: str, edits: list[Edit]) -> str:
    for first, last, new in reversed(edits):
        text = f"{text[:first]}{new}{text[last:]}"
    return text


def _lines_of(text: str, group: Group, edits: list[Edit]) -> tuple[int, int]:
    """Where the lines of a sentence stand once the text is edited."""
    first = text.rfind("\n", 0, group.tokens[0].start) + 1
    last = text.find("\n", group.tokens[-1].end) % (len(text) + 1)
    return first + _grown(edits, first), last + _grown(edits, last + 1)


def _grown(edits: list[Edit], until: int) -> int:
    return sum(len(new) - (last - first) for first, last, new in edits if first < until)
