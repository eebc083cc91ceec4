"""What holds for every style: order does not matter, names are known before a body is, verbs' examples are sound."""

import random

import pytest
from godet.graph.evaluate import evaluate
from godet.pattern.piece import Piece
from godet.verbs.kinds import PieceKind
from godet.verbs.registry import Verb, verbs
from hypothesis import given, settings
from hypothesis import strategies as st
from support.styles import said, values, written

HEAD = "language 1\nuse shape from shapes\n"
TOP = [
    "choice overarm = 3 cm between 1 cm and 8 cm",
    "block base = shape with bust_ease 8 cm",
    "piece ready = even base.front.side_dart",
    "piece opened = open ready.waist_dart to hem",
    "piece longer = lengthen opened edge side at hem by overarm",
    "piece whole = unfold longer across centre",
    "piece calm = leave whole.left_waist_dart as flare",
    "piece still = leave calm.left_side_dart as ease",
    "piece plain = leave still.right_side_dart as ease",
    "lines cuts = slash_lines plain.right_waist_dart.inner_leg to plain.left_side count 3 clear 4 cm",
    "piece front = slash plain along cuts spread overarm / 3 hinge left_side still neckline {\n"
    "    cut 1\n    allow seams 1 cm neckline 0.6 cm\n}",
    "piece bare = leave base.front.waist_dart as ease",
    "piece even_side = even bare.side_dart",
    "piece turned_in = pivot even_side.side_dart into hem at 9 cm from centre called hem_dart",
    "piece other = mirror turned_in",
    "piece renamed = calling other name side as long_side",
    "piece low_neck = redraw turned_in from centre to shoulder over neckline {\n    line low_line from low to high\n}",
    "point high = on_edge turned_in.shoulder at 3 cm from neckline",
    "point low = on_edge turned_in.centre at 4 cm from neckline",
    "seam drape gathers front.right_waist_dart.inner_leg to front.right_waist_dart.outer_leg",
    "check fullness_is_right that fullness of drape between 1 and 4",
]


def style(sentences: list[str]) -> str:
    return HEAD + "\n".join(sentences) + "\n"


def sorted_lines(text: str) -> list[str]:
    return sorted(text.splitlines())


def test_the_style_of_these_tests_is_sound() -> None:
    assert "error" not in said(written(style(TOP)))


@settings(max_examples=15, deadline=None)
@given(seed=st.integers(0, 10_000))
def test_the_order_of_sentences_does_not_matter(seed: int) -> None:
    mixed = TOP[:]
    random.Random(seed).shuffle(mixed)
    assert sorted_lines(values(written(style(mixed)))) == sorted_lines(values(written(style(TOP))))


@settings(max_examples=15, deadline=None)
@given(seed=st.integers(0, 10_000))
def test_errors_do_not_depend_on_the_order(seed: int) -> None:
    broken = [*TOP, "length wrong = base.front.sid", "length wronger = bust / 4"]
    mixed = broken[:]
    random.Random(seed).shuffle(mixed)
    told = [sorted((one.code, one.message) for one in written(style(order)).diagnostics) for order in (broken, mixed)]
    assert told[0] == told[1]


def test_names_known_before_a_body_are_those_of_the_piece() -> None:
    prepared = written(style(TOP))
    checked = prepared.style
    assert checked is not None
    pieces = {name: node for name, node in checked.names.items() if isinstance(checked.nodes[node].kind, PieceKind)}
    evaluated = evaluate(checked, prepared.population, pieces.values())
    assert not evaluated.failures
    assert len(pieces) > 12
    for name, node in pieces.items():
        drawn, kind = evaluated.parts[0].values[node], checked.nodes[node].kind
        assert isinstance(drawn, Piece)
        assert isinstance(kind, PieceKind)
        assert set(kind.sketch.edge_names()) == set(drawn.edge_names()), name
        assert set(kind.sketch.dart_names()) == set(drawn.dart_names()), name
        assert set(kind.sketch.points) == set(drawn.points), name


# ---- the example of each verb -------------------------------------------------------------------

# One style that has everything the examples speak of; each example is added where its verb belongs.
CONTEXT = """language 1
use long_bodice from blocks/bodice
use shape from shapes
block base = long_bodice with bust_ease 8 cm
{pieces}
point nape = origin up 40 cm
point waist = origin
point underarm = origin outward 24 cm up 20 cm
point shoulder_point = origin outward 18 cm up 36 cm
point neck_point = origin outward 7 cm up 42 cm
point front_neck = origin up 34 cm
point bust_point = origin outward 9 cm up 15 cm
point chest_point = origin outward 17 cm up 24 cm
point lower_end = origin outward 18 cm up 21 cm
point apex = origin outward 10 cm up 8 cm
point tip = origin outward 5 cm up 30 cm
point low = origin outward 20 cm up 5 cm
line waist_line from waist to low
"""
PLAIN = """block half = shape with bust_ease 8 cm
piece draft = calling half.front name hem as waistline
"""
DART = """piece opened = open half.front.waist_dart to hem
piece calm = leave half.front.side_dart as ease
piece plain = open calm.waist_dart to hem
"""
DRAWN = {
    "neckline": "curve neckline from nape to neck_point leaving outward arriving up",
    "shoulder": "line shoulder from neck_point to shoulder_point",
    "side": "line side from underarm to low",
    "upper_side": "line upper_side from shoulder_point to underarm",
    "lower_side": "line lower_side from underarm to low",
}
SEWN = """piece front = unfold half.front across centre
piece back = unfold half.front across centre
piece band = calling half.front name hem as upper
"""


def in_context(verb: Verb) -> str:
    """The example of a verb in a style that has what it speaks of."""
    example = verb.example
    text = CONTEXT.replace("{pieces}", PLAIN + DART + SEWN)
    if verb.statement:
        edge = "waistline" if "waistline" in example else "hem"
        if name_of_a_dart(example):  # the dart it speaks of stands on the piece
            edge, example = "waistline", f"{verbs()['dart'].example}\n    {example}"
        return text + STATED.replace("EDGE", edge).replace("EXAMPLE", example)
    defined = example.split()[1]
    text = "\n".join(line for line in text.splitlines() if line.split()[1:2] != [defined]) + "\n"
    drawn = [line for name, line in DRAWN.items() if name in example.replace(".", " .").split() and name != defined]
    if "slash plain along cuts" in example:
        drawn.append(verbs()["slash_lines"].example)
    return text + "\n".join([*drawn, example]) + "\n"


def name_of_a_dart(example: str) -> bool:
    return "waist_dart" in example and not example.startswith("dart ")


STATED = """piece stated {
    line neckline from front_neck to neck_point
    line shoulder from neck_point to shoulder_point
    line armhole from shoulder_point to underarm
    line side from underarm to low
    line EDGE from low to waist
    line centre from waist to front_neck
    EXAMPLE
}
"""


@pytest.mark.parametrize("name", sorted(verbs()))
def test_the_example_of_a_verb_compiles(name: str) -> None:
    found = [one for one in written(in_context(verbs()[name])).diagnostics if one.is_error]
    assert not found, [(one.code, one.message, one.fix) for one in found] + [verbs()[name].example]
