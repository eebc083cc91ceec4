"""While a style is typed some sentence is always broken: all others are known and told as if it were not, and nobody is blamed
for what it leads to."""

from __future__ import annotations

from collections.abc import Iterator, Set
from dataclasses import fields, is_dataclass
from functools import lru_cache
from random import Random

import pytest
from godet.meaning.analysis import Analysis
from godet.meaning.mentioned import written_names
from godet.syntax import tree as t
from godet.syntax.layout import Group
from hypothesis import given, settings
from hypothesis import strategies as st
from support.broken import torn, with_a_brace_amiss
from support.edited import analysed, text_of
from support.style_runs import PATTERNS
from support.styles import said, written

STYLES = sorted(path.stem for path in PATTERNS.glob("*.style"))


@lru_cache(maxsize=16)
def whole(name: str) -> Analysis:
    return analysed(text_of(name), PATTERNS / f"{name}.style")


@settings(max_examples=15, deadline=None)
@given(st.sampled_from(STYLES), st.integers(0, 10**6))
def test_broken_sentences_have_no_echo(name: str, seed: int) -> None:
    made, file = torn(text_of(name), Random(seed)), str(PATTERNS / f"{name}.style")
    found = analysed(made.text, PATTERNS / f"{name}.style")
    for one in found.diagnostics:
        if one.is_error:
            assert one.span is not None
            assert one.span.file == file, one.message
            assert made.is_inside(one.span.start), one.message
    tree = whole(name).tree
    if any(isinstance(one, t.Title) and one.base for one in tree.sentences):
        return  # what a base has is changed by any sentence
    resting = _resting(tree.sentences, made.sentences)
    for known, kind in whole(name).kinds.items():
        if known.partition(".")[0] not in resting:
            assert found.kinds[known].word == kind.word, known
    assert [one for one in found.pieces if one not in resting] == [one for one in whole(name).pieces if one not in resting]


@settings(max_examples=20, deadline=None)
@given(st.sampled_from(STYLES), st.integers(0, 10**6))
def test_one_brace_amiss_is_one_error(name: str, seed: int) -> None:
    text = with_a_brace_amiss(text_of(name), Random(seed))
    found = [one for one in analysed(text, PATTERNS / f"{name}.style").diagnostics if one.is_error]
    assert [one.code for one in found] in (["E122"], ["E123"]), [one.message for one in found]


def _resting(sentences: tuple[t.Sentence, ...], hit: tuple[Group, ...]) -> Set[str]:
    """The names that rest on a broken sentence; a promise does on every piece."""
    starts = [group.tokens[0].start for group in hit]
    broken, rests_on = {"fit"} if hit else set[str](), dict[str, set[str]]()
    for one in sentences:
        held = t.held(one)
        own = held.names if isinstance(held, t.Use) else (getattr(held, "name", None),)
        names = [word.text for word in own if word is not None]
        if any(one.span.start <= start <= _end(one) for start in starts):
            broken.update(names)
        if isinstance(held, (t.Definition, t.Solve)):
            rests_on[held.name.text] = {name.parts[0].text for name in written_names(held)} | set(_verbs(held))
    while more := {name for name, others in rests_on.items() if name not in broken and others & broken}:
        broken |= more
    promises = {name for name, others in rests_on.items() if "ease" in others or "garment_measurement" in others}
    return broken | promises


def _end(sentence: t.Sentence) -> int:
    block = getattr(t.held(sentence), "block", None) or ()
    return max([sentence.span.end, *map(_end, block)])


def _verbs(node: object) -> Iterator[str]:
    """What stands before its value: verbs, recipes, `of` words."""
    if isinstance(node, (t.Operation, t.Of)):
        yield node.verb.text if isinstance(node, t.Operation) else node.word.text
    held = node if isinstance(node, tuple) else ()
    if is_dataclass(node):
        held = tuple(getattr(node, one.name) for one in fields(node))
    for part in held:
        yield from _verbs(part)


HALF = """language 1
use plain_half from shapes
block base = plain_half with bust_ease 8 cm
"""


@pytest.mark.parametrize(
    "sentences",
    [
        "length deep 5 cm cm\nlength deeper = deep + 1 cm\nlength other = deeper * 2\n",
        "length = 5 cm\nlength deeper = deep + 1 cm\n",
        'recipe raised "R" {\n    takes shape draft draft\n    gives shape longer = lengthen draft.side at hem by 1 cm\n}\n'
        "shape higher = raised base.front\nlength long = length of higher.side\n",
        'recipe raised "R" {\n    takes shape draft\n    takes length far far\n'
        "    gives shape longer = lengthen draft.side at hem by far\n}\n"
        "shape higher = raised base.front far 2 cm\n",
        "block both \"Two\" {\n    takes shape draft\n    gives shape one = = draft\n    gives shape two = draft\n}\n"
        "block them = both base.front\nlength long = length of them.one.side\nlength short = length of them.two.side\n",
        "use raised fom shapes\nshape higher = raised base.front\nlength long = length of higher.side\n",
        "block parts = divide base.front along along\nlength long = length of parts.with_hem.side\n",
        "solve wide between 1 cm 2 cm that wide equals 1 cm tolerance 1 mm\nlength wider = wide * 2\n",
        "shape front = base.front {\n    notch side at 7 cm 7 cm called waist\n}\n"
        "length long = length of front.side\n",
        "shape drawn {\n    point a = starting_point\n    point b = a outward outward 5 cm\n"
        "    line side from a to b\n    line other from b to a\n}\n"
        "length long = length of drawn.side\n",
        "each k from from 1 to 3 up_to 5 {\n    length step = k * 1 cm\n}\nlength first = step.k1\n",
        "piece front = base.front {\n    cut cut 1\n}\nseam side joins front.side to front.centre\n",
        "fit bust over body\nfinished around measures garment_measurement of bust tolerance 1 cm\n",
    ],
)
def test_what_rests_on_a_broken_sentence_is_silent(sentences: str) -> None:
    found = written(HALF + sentences)
    text = HALF + sentences
    lines = {text.count("\n", 0, one.span.start) for one in found.diagnostics if one.is_error and one.span}
    assert len(lines) == 1, said(found)


def test_a_half_typed_head_is_told_alone() -> None:
    text = text_of("yoke_shirt")
    made = text.replace(next(line for line in text.splitlines() if line.startswith("block base = ")), "bl")
    found = analysed(made, PATTERNS / "yoke_shirt.style")
    assert [one.code for one in found.diagnostics if one.is_error] == ["E145"]


@pytest.mark.parametrize(
    ("broken", "users"),
    [
        ("chang check slit_is_short that 1 cm at_most 2 cm", ""),
        ("change", ""),
        ("change back {\n    change notch centre at at 3 cm\n}", "`slit_is_short`"),
    ],
)
def test_a_change_that_cannot_be_read_may_have_done_without_what_is_taken_away(broken: str, users: str) -> None:
    text = f'language 1\nstyle "Plainer" from bases/plain\nwithout slit_from\n{broken}\n'
    found = analysed(text, PATTERNS.parent / "tests/language/plainer.style")
    told = [one.message.rpartition(" by ")[2] for one in found.diagnostics if one.code == "E267"]
    assert told == ([users] if users else [])


def test_a_style_with_errors_knows_its_other_pieces() -> None:
    found = written(
        f"{HALF}length deep = 5 cm cm\npiece front = base.front {{\n    cut 1 on fold\n}}\n"
        "piece back = base.bak {\n    cut 1 on fold\n}\npiece side piece = base.front {\n    cut 1 on fold\n}\n"
    )
    assert found.style is None
    assert found.analysis is not None
    assert found.analysis.pieces == ("front", "back", "side")
    assert (found.kinds["front"], found.kinds["back"], found.kinds["base.front"]) == ("piece", "", "piece")
