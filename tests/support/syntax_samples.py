"""Styles to try the reading of text on, and trees without their places."""

from dataclasses import fields, is_dataclass
from pathlib import Path

from godet.diagnostics.diagnostic import Span
from godet.syntax.parser import parse
from godet.syntax.tree import Sentence, StyleFile

HERE = Path(__file__).parents[1] / "syntax"
CONCERT_TOP = (HERE / "concert_top.style").read_text(encoding="utf-8")
BODICE = (HERE / "bodice.style").read_text(encoding="utf-8")

# Every shape of sentence once, laid out carelessly, with comments in every place a comment can stand.
UNTIDY = """
# about this style


language   1   # the first
style "Untidy"
use a,b from blocks / bodice   # two names
choice overarm=15cm between 8 cm and 25 cm  "shoulder point to hem"

shape half = kimono base.front   # the subject
    # and its words
    reach overarm
    shoulder_drop 1  1/2 inch
piece long = kimono base.front reach overarm shoulder_drop 4 cm half_width 22 cm over (a+b)/4 share 1 / 2 rise 3cm {# b

  # inner

  cut 1 face up
  allow 1 cm
  allow -3 mm on hem   # all around


}  # end of it
each k from 1 to n up_to 20 { notch hem at k * 2 cm from side }
recipe drawn "with text" {
    takes length ease = 8 cm between 0 cm and 30 cm "whole"
    takes shape draft
    needs draft.shoulder "the shoulder"
    gives curve side from a to b leaving outward arriving square_to c "last"
    gives shape whole = unfold draft across centre { fold centre }
    }
length chosen = a when b at_least c and not (d or measured e) otherwise f otherwise 3 cm
point p = nape down scye_depth+1.5 cm outward (2 * 3 cm)
check sides that length of a.side equals length of b.side tolerance 2 mm "sewn together"
seam s joins a
   count 6
   in x
tell t when a at_least b "one"
# the end
"""


def good(text: str) -> StyleFile:
    """The tree of a text that has no errors."""
    tree, found = parse(text, "a.style")
    assert found == (), [(d.code, d.message) for d in found]
    return tree


def only(text: str) -> Sentence:
    """The only sentence of a text without errors."""
    (sentence,) = good(text).sentences
    return sentence


def codes(text: str) -> list[str]:
    return [d.code for d in parse(text, "a.style")[1]]


def placeless(node: object) -> object:
    """A tree as nested tuples without its spans: what it says, not where."""
    if isinstance(node, tuple):
        return tuple(placeless(part) for part in node)
    if isinstance(node, StyleFile):
        return placeless(node.sentences)
    if is_dataclass(node) and not isinstance(node, type):
        inner = (getattr(node, field.name) for field in fields(node))
        return (type(node).__name__, *(placeless(part) for part in inner if not isinstance(part, Span)))
    return node


def brief(node: object) -> str:
    """An expression, condition or clause written with brackets around everything, for comparison in tests."""
    if isinstance(node, tuple):
        return " ".join(brief(part) for part in node)
    if not is_dataclass(node) or isinstance(node, Span):
        return "" if node is None or isinstance(node, Span | float) else str(node)
    if type(node).__name__ in ("Name", "Word"):
        return str(getattr(node, "text"))  # noqa: B009
    parts = (brief(getattr(node, field.name)) for field in fields(node) if field.name != "span")
    return f"({' '.join((type(node).__name__, *(part for part in parts if part)))})"
