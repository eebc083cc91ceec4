"""The examples of the reference: each compiles on the common ground, and comes to something on its invented body."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest
from godet.diagnostics.printing import print_diagnostic
from godet.jobs.examples import Example, example, ground, values, without
from godet.jobs.files import Disk
from godet.jobs.formatting import formatted
from godet.verbs.registry import Verb, verbs

VERBS = sorted(verbs().values(), key=lambda verb: verb.name)
GROUND = Path(__file__).parents[2] / "grammar" / "examples.style"
RULE = "an example uses names of grammar/examples.style, measurements, and what it defines itself"


def said(made: Example) -> str:
    return RULE + "\n" + "\n".join(print_diagnostic(one, {}) for one in made.problems if one.is_error)


@pytest.mark.parametrize("verb", VERBS, ids=lambda verb: verb.name)
def test_the_example_of_a_verb_compiles_and_runs(verb: Verb) -> None:
    made = example(verb.example, verb.statement)
    assert made.style is not None, said(made)
    names = made.style.names
    roles = [node for name, node in names.items() if name.startswith(f"{made.made}.")]
    nodes = [names[made.made]] if made.made in names else roles
    assert nodes
    assert all(value is not None for value in values(made.style, nodes))


def test_a_name_of_its_own_takes_the_place_of_the_one_on_the_ground() -> None:
    made = example("point nape = waist up 12 cm\npoint higher = nape up 1 cm")
    assert made.made == "higher"
    assert made.style is not None
    assert values(made.style, [made.style.names["higher"]])[0] == pytest.approx(np.array([[0.0, 130.0]]))


def test_a_sentence_of_a_block_stands_in_the_first_block_that_takes_it() -> None:
    assert example("notch hem at 1/2 from side", in_block=True).made == "sewn"
    assert example("notch waistline at 1/2 from side", in_block=True).made == "bare"
    lost = example("notch nowhere at 1/2 from side", in_block=True)
    assert (lost.style, lost.made) == (None, "sewn")
    assert [one.code for one in lost.problems if one.is_error] == ["E213"]


def test_the_ground_is_a_style_in_the_one_layout() -> None:
    assert without().title == "Examples"
    assert "".join(f"{one}\n" for one in ground()) == GROUND.read_text("utf-8")
    assert not formatted(Disk(), str(GROUND)).changed
