"""Figures of the reference: one for each example that draws something, small, current, and legible."""

from __future__ import annotations

import re
from itertools import combinations
from pathlib import Path
from xml.etree import ElementTree

import numpy as np
import pytest
import shapely
import shapely.affinity
from godet.drawing.figure import FigureContent, figure
from godet.drawing.marks import Curve, Label
from godet.geometry.path import line
from godet.jobs.examples import example
from godet.jobs.figures import figures
from godet.jobs.vocabulary import has_figure, recipes
from godet.verbs.registry import verbs

GRAMMAR = Path(__file__).parents[2] / "grammar"
RENEW = "renew it with `godet words --figures grammar/figures`"
NAMES = sorted(
    [verb.name for verb in verbs().values() if has_figure(verb.example, verb.statement)]
    + [recipe.name for recipe in recipes() if has_figure(recipe.example)]
)


NUMBER = re.compile(r"-?\d+(?:\.\d+)?")
PEN = 0.02  # mm


def numbers(text: str) -> list[float]:
    return [float(one) for one in NUMBER.findall(text)]


@pytest.fixture(scope="module")
def made() -> dict[str, str]:
    return figures()


@pytest.mark.parametrize("name", NAMES)
def test_a_figure_is_current_and_small(name: str, made: dict[str, str]) -> None:
    path = GRAMMAR / "figures" / f"{name}.svg"
    assert path.is_file(), RENEW
    kept, drawn = path.read_text("utf-8"), made[name]
    assert NUMBER.sub("0", kept) == NUMBER.sub("0", drawn), RENEW
    assert numbers(kept) == pytest.approx(numbers(drawn), abs=PEN), RENEW  # the last digit may differ between machines
    assert len(made[name]) < 15_000


def test_each_figure_belongs_to_a_word_of_the_reference() -> None:
    shown = re.findall(r"\]\(figures/(\w+)\.svg\)", (GRAMMAR / "reference.md").read_text("utf-8"))
    assert sorted(shown) == NAMES == sorted(set(NAMES))
    assert sorted(path.stem for path in (GRAMMAR / "figures").glob("*.svg")) == NAMES


def test_each_recipe_of_the_library_has_an_example_that_compiles() -> None:
    for recipe in recipes():
        where = f"stdlib/{recipe.module}.style"
        assert recipe.name in recipe.example, f"write `# example: …` above {recipe.name} in {where}: one use of it"
        compiles = recipe.is_drawn or example(recipe.example, use=recipe.use).style is not None  # a figure is of one that does
        assert compiles, recipe.example


@pytest.mark.parametrize("name", NAMES)
def test_texts_of_a_figure_lie_on_it_and_apart(name: str, made: dict[str, str]) -> None:
    root = ElementTree.fromstring(made[name])
    width, height = (float(one) for one in root.attrib["viewBox"].split()[2:])
    boxes = []
    for text in root.iter("{http://www.w3.org/2000/svg}text"):
        x, y = (float(text.attrib[axis].split(",")[0]) for axis in ("x", "y"))
        turned = float((text.attrib.get("transform") or "rotate(0 ").split("(")[1].split()[0])
        high = 0.718 * float(text.attrib["font-size"])  # Helvetica's metrics: the height of a capital
        box = shapely.box(x, y - high, x + float(text.attrib["textLength"]), y)
        boxes.append(shapely.affinity.rotate(box, turned, (x, y)))
        assert shapely.box(0, 0, width, height).contains(boxes[-1]), text.text
    assert all(not one.intersects(other) for one, other in combinations(boxes, 2))


def test_what_is_drawn_is_true_to_the_scale_that_is_told() -> None:
    ends = np.array([[0.0, 0.0]]), np.array([[900.0, 0.0]])
    (drawing,) = figure(FigureContent("a line of 90 cm", made_lines={"one": line(*ends)}), "one").drawings
    assert "1 : 10" in [mark.text for mark in drawing.marks if isinstance(mark, Label)]
    (drawn,) = [mark for mark in drawing.marks if isinstance(mark, Curve)]
    assert np.ptp(drawn.spans[..., 0]) == pytest.approx(90.0)
