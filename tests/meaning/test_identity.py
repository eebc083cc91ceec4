"""What a style says has one identity, however it is written; what it says otherwise has another, and only what rests on it."""

from __future__ import annotations

import os
import re
import subprocess
import sys
from collections.abc import Mapping
from pathlib import Path
from random import Random

import pytest
from godet.jobs.files import Disk
from godet.jobs.prepare import prepare
from godet.meaning.identity import canonical, fingerprint, identities, references
from godet.meaning.style import CheckedStyle
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from support.edited import compiled, laid_out_anew, renamed, replaced, sentences, shuffled, text_of
from support.style_runs import PATTERNS, ROOT

NAMES = sorted(path.stem for path in PATTERNS.glob("*.style"))
PLAIN = [name for name in NAMES if "from" not in text_of(name).splitlines()[1]]  # not built from another
few = settings(max_examples=12, deadline=None, suppress_health_check=[HealthCheck.too_slow])
randoms = st.integers(0, 2**32).map(Random)

BANDS = """language 1
style "A band"
point low = starting_point down 30 cm
point far = low outward 12 cm
point high = starting_point outward 12 cm
shape half {
    line top from starting_point to high
    line side from high to far
    line hem from far to low
    line centre from low to starting_point
}
solve depth between 1 cm and 20 cm that length of longer.side equals 35 cm tolerance 0.01 mm
shape longer = lengthen half.side at hem by depth
piece band = longer {
    grain up
    cut 1
    allow 1 cm
    allow 3 cm on hem
}
piece plain = half {
    grain up
    cut 1
    allow 1 cm
}
"""


def results(style: CheckedStyle) -> dict[str, str]:
    """The identities of all that a style comes to, by name."""
    known = identities(style.nodes)
    rooms: tuple[Mapping[str, int], ...] = (style.pieces, style.seams, style.attached, style.fits)
    found = {name: known[node] for room in rooms for name, node in room.items()}
    return found | {one.name: known[one.node] for one in (*style.checks, *style.tidings)}


@pytest.fixture(scope="module")
def before() -> dict[str, dict[str, str]]:
    return {name: results(compiled(text_of(name))) for name in PLAIN}


@few
@given(random=randoms, name=st.sampled_from(PLAIN))
def test_sentences_in_another_order_say_the_same(before: dict[str, dict[str, str]], random: Random, name: str) -> None:
    style = compiled(shuffled(text_of(name), random))
    assert results(style) == before[name]
    assert fingerprint(style) == fingerprint(compiled(text_of(name)))


@few
@given(random=randoms, name=st.sampled_from(PLAIN))
def test_comments_and_layout_say_nothing(before: dict[str, dict[str, str]], random: Random, name: str) -> None:
    style = compiled(laid_out_anew(text_of(name), random))
    assert results(style) == before[name]
    assert fingerprint(style) == fingerprint(compiled(text_of(name)))


@few
@given(random=randoms)
def test_widths_and_grain_in_another_order_are_one_piece(random: Random) -> None:
    """In the braces of one piece, as far as their order cannot be seen on the cloth."""
    text = text_of("pleated_skirt")
    lines = [
        "    grain up",
        "    allow 1.5 cm",
        "    allow 1 cm on top",
        "    allow 4 cm on hem with_corners shaped_to_fold",
    ]
    written = "\n".join([lines[0], "    cut 3", *lines[1:]])
    other = [*lines, "    cut 3"]
    random.shuffle(other)
    assert results(compiled(replaced(text, written, "\n".join(other)))) == results(compiled(text))


def test_what_nothing_uses_leaves_all() -> None:
    text = text_of("pleated_skirt") + "length idle = 3 cm + half_waist\nlength half_waist = natural_waist_girth / 2\n"
    text += "point corner = starting_point down idle\nshape other = half_yoke { grain up }\n"
    assert results(compiled(text)) == results(compiled(text_of("pleated_skirt")))


@pytest.mark.parametrize(
    ("old", "new"), [("half_yoke", "drawn"), ("yoke_long", "aa"), ("top_right", "zz"), ("hem_left", "b"), ("folds", "a_fold")]
)
def test_what_a_definition_is_called_says_nothing(old: str, new: str) -> None:
    text = text_of("pleated_skirt")
    before = {re.sub(rf"^{old}\b", new, name): one for name, one in results(compiled(text)).items()}  # checks of its recipe
    assert results(compiled(renamed(text, old, new))) == before


def test_a_solve_is_what_it_solves() -> None:
    base = compiled(BANDS)

    def band(old: str, new: str) -> bool:
        return results(compiled(replaced(BANDS, old, new)))["band"] == results(base)["band"]

    assert results(compiled(renamed(BANDS, "depth", "reach"))) == results(base)
    assert band("0.01 mm", '0.01 mm "no such depth"')
    assert band("35 cm", "350 mm")
    assert not band("35 cm", "34 cm")
    assert not band("0.01 mm", "0.02 mm")
    assert not band("20 cm that", "21 cm that")
    assert not band("solve depth between", "solve depth kept between")


def test_two_solves_that_rest_on_each_other_are_told_apart() -> None:
    """Each is tried within the other; their names and their places in the text do not count."""
    text = """language 1
style "A box"
solve wide between 1 cm and 40 cm that high + wide equals hip_girth / 2 tolerance 0.01 mm
solve high between 1 cm and 40 cm that high * 2 - wide equals 5 cm tolerance 0.01 mm
point far = starting_point outward wide
point top = far up high
shape box {
    line hem from starting_point to far
    line side from far to top
    line slope from top to starting_point
}
piece cut_box = box {
    grain up
    cut 1
    allow 1 cm
}
"""
    base = results(compiled(text))
    swapped = renamed(renamed(renamed(text, "wide", "w"), "high", "wide"), "w", "high")
    assert results(compiled(swapped)) == base
    assert results(compiled(replaced(text, "high * 2 - wide", "high * 2 - wide / 2"))) != base


def rests_on_what_differs(old: CheckedStyle, new: CheckedStyle) -> list[bool]:
    """For each node of two styles that differ in what is fixed alone, whether a node that differs is among its forerunners."""
    assert [type(node.payload) for node in old.nodes] == [type(node.payload) for node in new.nodes]
    rests, grown = [False] * len(old.nodes), True
    while grown:
        was = list(rests)
        for index, (one, other) in enumerate(zip(old.nodes, new.nodes, strict=True)):
            inputs = (*one.args.values(), *(at for _, at in references(one.payload)))
            rests[index] = any(rests[arg] for arg in inputs) or one.payload != other.payload
        grown = was != rests
    return rests


EVERY_GORE = {"front", "side_front", "side_back", "back"} | {"front_band", "front_band_facing", "back_band", "back_band_facing"}


@pytest.mark.parametrize(
    ("name", "old", "new", "pieces"),
    [
        ("pleated_skirt", "allow 4 cm on hem", "allow 5 cm on hem", {"panel"}),
        ("pleated_skirt", "length flat_part = 2 cm", "length flat_part = 3 cm", {"panel"}),
        ("gored_skirt", "hip_ease 6 cm", "hip_ease 7 cm", EVERY_GORE),  # the bands are cut from their tops
        ("gored_skirt", "over_by_at_most 2 cm", "over_by_at_most 1 cm", set()),
    ],
)
def test_all_that_rests_on_a_change_changes_and_nothing_else(name: str, old: str, new: str, pieces: set[str]) -> None:
    before, after = compiled(text_of(name)), compiled(replaced(text_of(name), old, new))
    known, found = identities(before.nodes), identities(after.nodes)
    changed = [one != other for one, other in zip(known, found, strict=True)]
    assert 0 < sum(changed) < len(changed)
    assert changed == rests_on_what_differs(before, after)
    assert {piece for piece, node in before.pieces.items() if changed[node]} == pieces
    assert fingerprint(before) != fingerprint(after)


@pytest.mark.parametrize(
    ("name", "choice", "old", "new"),
    [
        ("concert_top", "overarm", "22 cm", "25 cm"),
        ("plain_trousers", "waist_ease", "2 cm", "3 cm"),
        ("puff_sleeve", "fullness_of_cap", "1.5", "1.7"),
    ],
)
def test_two_settings_of_a_choice_are_one_style(name: str, choice: str, old: str, new: str) -> None:
    """What is chosen is an input, as the body is; the versions printed on the sheets are two all the same."""
    path = str(PATTERNS / f"{name}.style")
    plain, chosen = (prepare(Disk(), path, settings=one) for one in ([], [f"{choice}={new}"]))
    assert plain.style is not None
    assert chosen.style is not None
    assert chosen.style.nodes == plain.style.nodes
    assert chosen.style.identities == plain.style.identities
    assert chosen.fingerprint != plain.fingerprint
    default = prepare(Disk(), path, settings=[f"{choice}={old}"])
    assert default.fingerprint == plain.fingerprint


MANY = """language 1
style "Bands"
choice bands = 2 between 1 and 5
choice lined = yes
choice deep = 20 cm between 10 cm and 30 cm
length longer = 40 cm when deep more_than 25 cm otherwise 35 cm
point far = starting_point outward longer
point low = far down deep
shape half {
    line top from starting_point to far
    line side from far to low
    line hem from low to starting_point
}
piece band = half {
    cut bands
    grain up
    allow 1 cm
}
piece lining = half when lined {
    cut 1 in lining
    grain up
    allow 1 cm
}
"""


@pytest.mark.parametrize(
    ("setting", "same"), [("deep=22 cm", True), ("deep=26 cm", False), ("bands=3", False), ("lined=no", False)]
)
def test_a_choice_that_decides_what_there_is_makes_other_nodes(setting: str, same: bool, tmp_path: Path) -> None:
    """How many are cut, what is there at all, and which arm is drawn stand in the nodes; a depth does not."""
    path = tmp_path / "bands.style"
    path.write_text(MANY)
    plain, chosen = (prepare(Disk(), str(path), settings=one) for one in ([], [setting]))
    assert plain.style is not None
    assert chosen.style is not None
    assert (results(chosen.style) == results(plain.style)) is same
    assert chosen.fingerprint != plain.fingerprint


def test_processes_of_other_seeds_and_other_orders_agree() -> None:
    told = []
    for seed, order in (("0", 1), ("1", -1), ("7", 1)):
        code = f"""
from pathlib import Path
from godet.jobs.files import Disk
from godet.jobs.prepare import prepare
from godet.meaning.identity import identities
for name in {sorted(PLAIN)[-3:][::order]!r}:
    made = prepare(Disk(), str(Path({str(PATTERNS)!r}, name + ".style")))
    print(name, made.fingerprint, *identities(made.style.nodes))
"""
        env = {**os.environ, "PYTHONHASHSEED": seed, "PYTHONPATH": str(ROOT / ".package")}
        run = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, env=env, check=True)
        told.append(sorted(run.stdout.splitlines()))
    assert len(told[0]) == 3
    assert told[0] == told[1] == told[2]


def test_two_files_that_say_the_same_agree(tmp_path: Path) -> None:
    """In another folder; by a recipe of a file beside; built from another style with nothing changed."""
    first, second, third = (tmp_path / name / "band.style" for name in ("one", "two", "three"))
    for path in (first, second, third):
        path.parent.mkdir()
    first.write_text(BANDS)
    told = sentences(BANDS)
    drawn, rest = told[2:6], told[6:]
    assert drawn[-1].startswith("shape half")
    inner = "\n".join(one.replace("shape half", "gives shape half").replace("30 cm", "deep") for one in drawn)
    recipe = f'recipe drawn_half "half a band" {{\ntakes length deep\n{inner}\n}}\n'
    (second.parent / "drawn.style").write_text(f"language 1\n{recipe}")
    by_recipe = [*told[:2], "use drawn_half from drawn", "shape half = drawn_half with deep 30 cm", *rest]
    second.write_text("\n".join(by_recipe) + "\n")
    (third.parent / "first.style").write_text(BANDS)
    third.write_text('language 1\nstyle "A band" from first\n')
    made = [compiled(path.read_text(), path) for path in (first, second, third)]
    assert results(made[0]) == results(made[1]) == results(made[2])
    assert fingerprint(made[0]) == fingerprint(made[1])


def test_a_choice_that_is_set_is_another_version() -> None:
    def made(*said: str) -> str:
        return prepare(Disk(), str(PATTERNS / "pleated_skirt.style"), (), said).fingerprint

    assert made("skirt_long=64 cm") != made()
    assert made("skirt_long=62 cm") == made()
    assert made("pleats=7") != made()


def test_what_is_fixed_is_written_to_the_bit() -> None:
    told = [True, 1, 1.0, "1", None, 1.0 + 2**-52, (1,), ((1,),), ("a", "b"), ("ab",), {"a": "b"}, 0.0, -0.0]
    assert len({canonical(one) for one in told}) == len(told)
    assert canonical({"a": 1, "b": 2}) == canonical({"b": 2, "a": 1})
    with pytest.raises(TypeError):
        canonical({"a", "b"})
