"""Two sides of a style sentence by sentence: what says and comes to the same is not told, and every other value is, before and
now."""

from __future__ import annotations

import re
from functools import lru_cache
from random import Random

import pytest
from godet.difference.left_behind import left_behind
from godet.difference.pairs import Pair, pairs_of
from godet.difference.roots import Roots, piece_proof, roots
from godet.difference.sentences import SideOfStyle, sentences_of
from godet.syntax import tree as t
from godet.syntax.parser import parse
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from support.edited import analysed, laid_out_anew, renamed, replaced, shuffled, text_of
from support.style_runs import PATTERNS

NAMES = sorted(path.stem for path in PATTERNS.glob("*.style"))
few = settings(max_examples=4, deadline=None, suppress_health_check=[HealthCheck.too_slow])
randoms = st.integers(0, 2**32).map(Random)

INNER = {"concert_top": "back_depth", "gored_skirt": "hip_to_hem", "yoke_shirt": "yoke_depth"}
"""A name nobody sees on the cloth, of some styles."""


@lru_cache(maxsize=64)
def side(text: str) -> tuple[SideOfStyle, Roots | None]:
    made = analysed(text)
    known = None if made.style is None else roots(made.style)
    return sentences_of(made.tree.file, made.texts, made.style), known


def told(old: str, new: str) -> list[Pair]:
    return [one for one in pairs_of(side(old)[0], side(new)[0]) if one.told]


def words(old: str, new: str) -> list[tuple[str, str, str | None, str | None]]:
    return [(one.either.name or one.either.head, each.word, each.old, each.new) for one in told(old, new) for each in one.words]


def in_other_units(text: str, random: Random) -> str:
    """Some lengths in mm that were in cm."""

    def written(found: re.Match[str]) -> str:
        return f"{round(float(found[1]) * 10, 6):g} mm" if random.random() < 0.5 else found[0]

    plain = re.compile(r"(?<![\d./])(\d+(?:\.\d+)?) cm\b")
    return "".join(line if '"' in line or "#" in line else plain.sub(written, line) for line in text.splitlines(keepends=True))


def braces_shuffled(text: str, random: Random) -> str:
    """What stands in the braces of a piece in another order; of what is told or named in its order each kind keeps this."""
    tree, _ = parse(text, "")
    for sentence in reversed(tree.sentences):
        block = [one for one in getattr(t.held(sentence), "block", None) or () if isinstance(one, t.Statement)]
        said = [text[one.span.start : one.span.end] for one in block]
        other = sorted(said, key=lambda _: random.random())
        for kind in ("cut", "mark", "notch", "remark", "buttons", "landmark"):
            kept = iter([one for one in said if one.split()[0] == kind])
            other = [next(kept) if one.split()[0] == kind else one for one in other]
        for one, put in reversed(list(zip(block, other, strict=True))):
            text = text[: one.span.start] + put + text[one.span.end :]
    return text


@pytest.mark.parametrize("name", NAMES)
def test_what_is_written_otherwise_and_says_the_same_is_not_told(name: str) -> None:
    text, random = text_of(name), Random(name)
    other = in_other_units(laid_out_anew(shuffled(braces_shuffled(text, random), random), random), random)
    assert other != text
    assert told(text, other) == []
    assert told(text, text) == []
    one, two = side(text)[1], side(other)[1]
    assert one is not None
    assert two is not None
    assert one == two


@pytest.mark.parametrize(("name", "inner"), INNER.items())
def test_another_name_that_no_cloth_bears_changes_no_root(name: str, inner: str) -> None:
    text = text_of(name)
    other = renamed(text, inner, "called_otherwise")
    found = [one for one in told(text, other) if one.either.module == ""]
    assert {(one.status, one.old and one.old.name, one.new and one.new.name) for one in found if one.is_renamed} >= {
        ("renamed", inner, "called_otherwise")
    }
    assert {one.status for one in found} == {"renamed"}
    one, two = side(text)[1], side(other)[1]
    assert one is not None
    assert two is not None
    assert (one.cloth, one.promised) == (two.cloth, two.promised)


VALUE = re.compile(r"(?<![\w./\"])(\d+(?:\.\d+)?) cm\b")


def values_of(text: str) -> list[tuple[int, re.Match[str]]]:
    """Lengths in cm that are written in a text, each with its line."""
    lines = enumerate(text.splitlines())
    return [(i, one) for i, line in lines if "#" not in line and '"' not in line for one in VALUE.finditer(line)]




@few
@given(st.sampled_from([name for name in NAMES if values_of(text_of(name))]), randoms)
def test_every_value_that_is_another_is_told_before_and_now(name: str, random: Random) -> None:
    text = text_of(name)
    lines = text.splitlines(keepends=True)
    at, one = random.choice(values_of(text))
    far = f"{float(one[1]) + 0.1:.2f}".rstrip("0").rstrip(".")
    new = "".join([*lines[:at], f"{lines[at][: one.start(1)]}{far}{lines[at][one.end(1) :]}", *lines[at + 1 :]])
    assert any(f"{one[1]} cm" in (old or "") and f"{far} cm" in (now or "") for _, _, old, now in words(text, new))


@few
@given(st.sampled_from(("concert_top", "gored_skirt")), randoms)
def test_backwards_tells_the_same_with_old_and_new_exchanged(name: str, random: Random) -> None:
    text = text_of(name)
    new = shuffled(text, random)
    for old, now in random.sample([("3 cm", "3.1 cm"), ("1.5 cm", "1.4 cm"), ("5 cm", "5.5 cm"), ("2 cm", "1 cm")], 2):
        new = new.replace(f" {old} ", f" {now} ")
    mirrored = {"added": "removed", "removed": "added"}

    def told_of(pairs: list[Pair], back: bool) -> set[tuple[object, ...]]:
        rows: set[tuple[object, ...]] = set()
        for one in pairs:
            status = mirrored.get(one.status, one.status) if back else one.status
            said = frozenset((each.word, *((each.new, each.old) if back else (each.old, each.new))) for each in one.words)
            rows.add((status, one.either.place, one.either.head, one.either.name, said))
        return rows

    assert told(text, new)
    assert told_of(told(text, new), False) == told_of(told(new, text), True)


SKIRT = """language 1
style "A skirt"
choice deep = 60 cm between 40 cm and 90 cm "from waist to hem"
choice wide = 12 cm between 5 cm and 40 cm
point low = starting_point down deep
point far = low outward by wide
point high = starting_point outward 12 cm
shape half {
    line top from starting_point to high
    line side from high to far
    line hem from far to low
    line centre from low to starting_point
}
piece front = half then lengthen side at hem by 1 cm {
    grain up
    cut 2 as pair
    allow 1 cm
    allow 3 cm on hem
    remark "hem turned up 3 cm"
}
piece back = half {
    grain up
    cut 2 as pair
    allow 1 cm
    allow 3 cm on hem
}
seam sides joins front.side to back.side tolerance 2 cm
sewing hemmed stitch 103 seam "6.06.01" on front.hem + back.hem "all round, 3 cm turned once"
trim tape as_long_as 90 cm "into the waist"
check long_enough that deep at_least 45 cm "it would be a belt"
"""


def proofs(old: str, new: str) -> dict[str, str]:
    before, after = side(old)[1], side(new)[1]
    assert before is not None
    assert after is not None
    return {name: piece_proof(before.pieces.get(name), root) for name, root in after.pieces.items()}


def test_a_changed_allowance_is_told_of_its_piece_and_edge() -> None:
    other = SKIRT.replace("    allow 3 cm on hem\n    remark", "    allow 2 cm on hem\n    remark")
    (pair,) = told(SKIRT, other)
    assert (pair.either.place, pair.either.head, pair.status) == (("front",), "allow", "changed")
    assert words(SKIRT, other) == [("allow", "allow", "3 cm", "2 cm")]
    assert proofs(SKIRT, other) == {"front": "open", "back": "outline"}


def test_of_a_choice_default_bounds_and_text_are_told_apart() -> None:
    assert [one.role for one in told(SKIRT, replaced(SKIRT, "= 60 cm", "= 62 cm"))[0].words] == ["default"]
    bounds, text = replaced(SKIRT, "and 90 cm", "and 95 cm"), replaced(SKIRT, "from waist to hem", "to the hem")
    assert [one.status for one in told(SKIRT, bounds)] == ["bounds"]
    assert [one.status for one in told(SKIRT, text)] == ["texts"]
    one, *others = (side(each)[1] for each in (SKIRT, bounds, text))
    assert one is not None
    assert [other.cloth == one.cloth and other.promised == one.promised for other in others if other] == [True, True]


def test_a_default_moves_what_rests_on_it_although_no_node_is_another() -> None:
    assert proofs(SKIRT, replaced(SKIRT, "wide = 12 cm", "wide = 13 cm")) == {"front": "open", "back": "open"}
    alone = SKIRT + 'choice unused = 1 cm between 0 cm and 2 cm\ncheck asked that unused at_least 0 cm "never"\n'
    assert proofs(alone, replaced(alone, "unused = 1 cm", "unused = 2 cm")) == {"front": "same", "back": "same"}


def test_a_seam_that_is_sewn_otherwise_leaves_outlines_proved() -> None:
    other = replaced(SKIRT, "back.side tolerance 2 cm", "back.side tolerance 1 cm")
    assert words(SKIRT, other) == [("sides", "tolerance", "2 cm", "1 cm")]
    assert proofs(SKIRT, other) == {"front": "outline", "back": "outline"}


def test_a_check_is_no_cloth() -> None:
    before, after = side(SKIRT)[1], side(replaced(SKIRT, "at_least 45 cm", "at_least 46 cm"))[1]
    assert before is not None
    assert after is not None
    assert (before.cloth, before.pieces) == (after.cloth, after.pieces)
    assert before.promised != after.promised


def test_rows_of_the_specification_are_told_by_name() -> None:
    assert words(SKIRT, replaced(SKIRT, "as_long_as 90 cm", "as_long_as 80 cm")) == [("tape", "as_long_as", "90 cm", "80 cm")]


def test_a_sentence_more_and_one_less() -> None:
    other = replaced(SKIRT, 'trim tape as_long_as 90 cm "into the waist"\n', 'trim hook count 1 "at the waist"\n')
    assert {(one.status, one.either.name) for one in told(SKIRT, other)} == {("added", "hook"), ("removed", "tape")}
    link = replaced(SKIRT, "half then lengthen side at hem by 1 cm {", "half {")
    assert {word for _, word, old, new in words(SKIRT, link) if new is None and old is not None} >= {"lengthen by"}


def test_what_stands_in_the_braces_of_a_new_piece_is_told_with_it() -> None:
    other = SKIRT + "piece lining = half {\n    grain up\n    cut 1\n    allow 1 cm\n}\n"
    assert [(one.status, one.either.name) for one in told(SKIRT, other)] == [("added", "lining")]


def test_a_renamed_piece_is_one_piece() -> None:
    other = renamed(SKIRT, "back", "rear")
    found = told(SKIRT, other)
    assert ("renamed", "back", "rear") in {(one.status, one.old and one.old.name, one.new and one.new.name) for one in found}
    assert {"added", "removed"}.isdisjoint(one.status for one in found)


def test_a_text_that_still_says_the_old_number_is_asked_about() -> None:
    other = SKIRT.replace("allow 3 cm on hem", "allow 2 cm on hem")
    found = left_behind(pairs_of(side(SKIRT)[0], side(other)[0]))
    assert sorted((one.sentence.head, one.number) for one in found) == [("remark", "3 cm"), ("sewing", "3 cm")]
    mended = other.replace("3 cm turned once", "2 cm turned once").replace("turned up 3 cm", "turned up 2 cm")
    assert left_behind(pairs_of(side(SKIRT)[0], side(mended)[0])) == ()


def test_sentences_that_cannot_be_read_are_paired_by_their_names() -> None:
    broken = replaced(SKIRT, "point far = low outward by wide", "point far = low outward by (wide")
    assert side(broken)[1] is None
    assert [(one.status, one.either.name) for one in told(SKIRT, broken)] == [("changed", "far")]
