"""What holds for every style: order does not matter, names are known before a body is."""

import random

from godet.graph.evaluate import evaluate
from godet.pattern.piece import Piece
from godet.verbs.kinds import PieceKind
from hypothesis import given, settings
from hypothesis import strategies as st
from support.styles import said, values, written

HEAD = "language 1\nuse plain_half from shapes\n"
TOP = [
    "choice overarm = 3 cm between 1 cm and 8 cm",
    "block base = plain_half with bust_ease 8 cm",
    "shape ready = equalise_legs base.front.side_dart",
    "shape opened = open ready.waist_dart to hem",
    "shape longer = lengthen opened.side at hem by overarm",
    "shape whole = unfold longer across centre",
    "shape calm = leave whole.left_waist_dart as flare",
    "shape still = leave calm.left_side_dart as ease",
    "shape plain = leave still.right_side_dart as ease",
    "lines cuts = slash_lines plain.right_waist_dart.inner_leg running_to plain.left_side count 3 clear 4 cm",
    "piece front = slash plain along cuts open_each_by overarm / 3 hinged_at left_side keeping neckline {\n"
    "    cut 1\n    allow 1 cm\n    allow 0.6 cm on neckline\n}",
    "shape bare = leave base.front.waist_dart as ease",
    "shape even_side = equalise_legs bare.side_dart",
    "shape turned_in = pivot even_side.side_dart into hem at 9 cm from centre called hem_dart",
    "shape other = mirror turned_in",
    "shape renamed = rename other.side as long_side",
    "shape low_neck = replace turned_in.neckline {\n    line low_line from low to high\n}",
    "point high = turned_in.shoulder at 3 cm from neckline",
    "point low = turned_in.centre at 4 cm from neckline",
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
