"""How large the language is, counted from the registry, and the bundled styles, for DEVELOPERS.md.

    python tests/bench/counts.py

Lines and words of a style are those of its sentences, without comments, blanks and texts; numbers are no words."""

from __future__ import annotations

import re
from pathlib import Path

from godet.syntax.words import KINDS, RESERVED
from godet.verbs.measuring import OF
from godet.verbs.registry import verbs

ROOT = Path(__file__).parents[2]
_TEXT = re.compile(r'"[^"\n]*"')
_COMMENT = re.compile(r"#.*")
_WORD = re.compile(r"[A-Za-z_][\w.]*")
_GOES_ON = re.compile(r"\s|\}|then\b|that\b")


def language() -> dict[str, int]:
    """What the registry holds. A word of several verbs is one of the words that differ."""
    entries = verbs().values()
    worded = [one for one in entries if one.name in KINDS]
    stated = [one for one in entries if one.statement]
    done = [one for one in entries if one not in worded and one not in stated]
    return {
        "reserved words": len(RESERVED),
        "kinds": len(KINDS),
        "verbs": len(done),
        "statements of a piece's braces": len(stated),
        "definitions in words, as line, seam, cloth": len(worded),
        "words before `of`": len(OF),
        "words of all these": sum(len(one.words) for one in entries),
        "words that differ": len({word.name for one in entries for word in one.words}),
    }


def style(text: str) -> tuple[int, int, int]:
    """Lines, words and sentences; the statements in braces are sentences too."""
    bare = _COMMENT.sub("", _TEXT.sub('""', text))
    lines = [line.rstrip() for line in bare.split("\n") if line.strip()]
    words = sum(len(_WORD.findall(line)) for line in lines)
    depth, sentences = 0, 0
    for line in lines:
        indent = len(line) - len(line.lstrip())
        starts = indent <= 4 * depth and not _GOES_ON.match(line.lstrip())
        sentences += starts
        depth += line.count("{") - line.count("}")
    return len(lines), words, sentences


def main() -> None:
    for what, count in language().items():
        print(f"{what:42} {count:6}")
    print(f"\n{'style':28} {'lines':>6} {'words':>6} {'sentences':>10}")
    rows = [(file.stem, style(file.read_text("utf-8"))) for file in sorted((ROOT / "patterns").glob("*.style"))]
    for name, counts in rows:
        print(f"{name:28} {counts[0]:6} {counts[1]:6} {counts[2]:10}")
    totals = [sum(counts[k] for _, counts in rows) for k in range(3)]
    print(f"{'all ' + str(len(rows)):28} {totals[0]:6} {totals[1]:6} {totals[2]:10}")


if __name__ == "__main__":
    main()
