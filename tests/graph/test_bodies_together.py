"""Bodies together: each comes out as it does alone, fails for itself only, and is parted from others only by structure."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from godet.bodies.body import Body
from godet.graph import operations
from godet.graph.evaluate import Evaluated, evaluate
from godet.graph.operations import Args, Group
from godet.jobs.results import BodyResult
from godet.meaning.payloads import Arithmetic, Call, Measure, Moves, Payload
from godet.pattern.piece import Piece
from support.real_bodies import real_women
from support.style_runs import PATTERNS, ROOT, prepared, results

DEMO = PATTERNS / "concert_top.style"
BODICES = ROOT / "tests" / "real" / "bodices.style"
WAISTED = """language 1
style "S"
use bodice from blocks/bodice
block base = bodice with bust_ease 8 cm waist_ease 4 cm
length front_side = length of base.front.side
piece front = base.front {
    cut 1 on fold
    allow 1 cm
}
"""


def saved(folder: Path, text: str) -> Path:
    style = folder / "s.style"
    style.write_text(text, "utf-8")
    return style


def figures(one: BodyResult) -> dict[str, float]:
    """Every number a report gives of a body."""
    edges = {f"{piece.name}.{edge.name}": edge.length_mm for piece in one.pieces for edge in piece.edges}
    left = {f"{seam.name} left": seam.left_mm for seam in one.seams}
    right = {f"{seam.name} right": seam.right_mm for seam in one.seams}
    return edges | left | right


def woman(name: str, **measures: float) -> Body:
    """A real woman, the same each time, with some measurements changed (mm)."""
    (body,) = real_women(1, 3)
    return replace(body, name=name, measures={**body.measures, **measures})


def run(style: Path, women: Sequence[Body], *names: str) -> tuple[Evaluated, list[int]]:
    """The style on the women, and the nodes of names."""
    made = prepared(style, women)
    assert made.style is not None
    nodes = [made.style.names[name] for name in names]
    return evaluate(made.style, made.population, nodes), nodes


def numbers(style: Path, women: Sequence[Body], name: str) -> list[float | None]:
    """A number of each woman, None where she fails."""
    evaluated, (node,) = run(style, women, name)
    found: list[float | None] = []
    for lane in range(len(women)):
        place = evaluated.of(lane)
        if place is None:
            found.append(None)
            continue
        values = np.broadcast_to(np.asarray(place[0].values[node], dtype=np.float64), place[0].lanes.shape)
        found.append(float(values[place[1]]))
    return found


def test_all_reported_numbers_are_those_of_one_body_at_a_time() -> None:
    """Of bodices of several structures; of every style in tests/real/test_one_by_one.py."""
    women = real_women(6, 23)
    for together, one in zip(results(BODICES, women), women, strict=True):
        (alone,) = results(BODICES, [one])
        assert [check.holds for check in together.checks] == [check.holds for check in alone.checks]
        assert [error.message for error in together.errors] == [error.message for error in alone.errors]
        first, second = figures(together), figures(alone)
        assert list(first) == list(second)
        assert max((abs(first[name] - second[name]) for name in first), default=0.0) < 1e-9


def test_what_is_solved_for_does_not_depend_on_the_others() -> None:
    women = real_women(5, 5)
    together = numbers(DEMO, women, "sleeved.pair.shift")
    assert len(set(together)) == 5
    alone = [numbers(DEMO, [one], "sleeved.pair.shift")[0] for one in women]
    assert together == pytest.approx(alone, abs=1e-9)


def test_the_order_of_the_bodies_does_not_matter() -> None:
    women = real_women(8, 9)
    forward, backward = results(BODICES, women), results(BODICES, women[::-1])
    for one, other in zip(forward, backward[::-1], strict=True):
        assert one.name == other.name
        assert figures(one) == pytest.approx(figures(other), abs=1e-9)


def test_a_body_that_fails_is_named_and_the_others_finish(tmp_path: Path) -> None:
    women = real_women(4, 31)
    wrong = women[2].measures["bust_girth"]
    style = saved(tmp_path, WAISTED + f"check c that 1 m / (bust_girth - {wrong} mm) less_than 1 m / 1 mm\n")
    made = results(style, women)
    assert [bool(one.errors) for one in made] == [False, False, True, False]
    (error,) = made[2].errors
    assert error.body == women[2].name
    assert error.message == "this divides by zero"
    assert made[2].pieces == ()
    for one, alone in ((made[k], results(style, [women[k]])[0]) for k in (0, 1, 3)):
        assert figures(one) == pytest.approx(figures(alone), abs=1e-9)


def test_when_all_fail_all_are_named(tmp_path: Path) -> None:
    women = real_women(3, 2)
    made = results(saved(tmp_path, WAISTED + "length gone = 1 cm / 0\ncheck c that gone less_than 1 cm\n"), women)
    assert [[error.body for error in one.errors] for one in made] == [[one.name] for one in women]


HALVES = """language 1
style "S"
length far = 1 m / (bust_girth - 900 mm) * 1 mm
length found = 5 cm when bust_girth equals 900 mm tolerance 0.1 mm otherwise far
check c that found less_than 10 m
"""


def test_only_the_arm_a_body_takes_may_fail(tmp_path: Path) -> None:
    """The second arm divides by zero for the very body that takes the first."""
    style = saved(tmp_path, HALVES)
    women = [woman("a", bust_girth=1000.0), woman("b", bust_girth=900.0), woman("c", bust_girth=1100.0)]
    assert numbers(style, women, "found") == pytest.approx([10.0, 50.0, 5.0])


def test_the_arm_a_body_takes_does_fail(tmp_path: Path) -> None:
    text = HALVES.replace("tolerance 0.1 mm", "tolerance 20 cm").replace("= 5 cm when", "= far when")
    turned = saved(tmp_path, text.replace("otherwise far", "otherwise 5 cm"))
    women = [woman("a", bust_girth=1000.0), woman("b", bust_girth=900.0), woman("c", bust_girth=1200.0)]
    assert numbers(turned, women, "found") == [pytest.approx(10.0), None, pytest.approx(50.0)]


def test_arms_inside_arms(tmp_path: Path) -> None:
    text = HALVES.replace("otherwise far\n", "otherwise inner\n")
    text += "length inner = far when bust_girth more_than 1 m otherwise 7 cm\n"
    women = [woman("a", bust_girth=800.0), woman("b", bust_girth=900.0), woman("c", bust_girth=1100.0)]
    assert numbers(saved(tmp_path, text), women, "found") == pytest.approx([70.0, 50.0, 5.0])


def test_a_fallback_stands_in_only_where_nothing_was_measured(tmp_path: Path) -> None:
    """The rule behind the fallback fails for one who was measured: it is not asked of her."""
    text = 'language 1\nstyle "S"\nlength depth = scye_depth otherwise 1 cm / (bust_girth - 900 mm) * 20 cm\n'
    style = saved(tmp_path, text + "check c that depth more_than 0 cm\n")
    measured = woman("a", bust_girth=900.0, scye_depth=201.0)
    bare = woman("b", bust_girth=1000.0)
    bare = replace(bare, measures={name: value for name, value in bare.measures.items() if name != "scye_depth"})
    assert numbers(style, [measured, bare], "depth") == pytest.approx([201.0, 20.0])
    failing = replace(bare, name="c", measures={**bare.measures, "bust_girth": 900.0})
    assert numbers(style, [failing, measured, bare], "depth") == [None, pytest.approx(201.0), pytest.approx(20.0)]


def test_bodies_that_differ_in_structure_are_parted_and_come_out_right(tmp_path: Path) -> None:
    """A waist as wide as the bust leaves nothing to take in: that body has no waist dart, the others keep theirs."""
    straight = woman("straight", bust_girth=950.0, natural_waist_girth=1010.0)
    women = [*real_women(3, 12), straight, *real_women(2, 13)]
    style = saved(tmp_path, WAISTED)
    evaluated, (front, side) = run(style, women, "front", "front_side")
    assert not evaluated.failures
    assert sorted(int(lane) for part in evaluated.parts for lane in part.lanes) == list(range(6))
    for lane in range(6):
        place = evaluated.of(lane)
        assert place is not None
        piece = place[0].values[front]
        assert isinstance(piece, Piece)
        assert ("waist_dart" in piece.dart_names()) == (lane != 3)
        (alone,) = numbers(style, [women[lane]], "front_side")
        assert np.asarray(place[0].values[side])[place[1]] == pytest.approx(alone, abs=1e-9)


def test_bodies_that_do_not_differ_in_structure_stay_together() -> None:
    """Those whose pieces have the same darts and lines are in one part: no two parts are alike."""
    evaluated, nodes = run(BODICES, real_women(60, 4), "back", "front", "long_back", "long_front")
    made = [[part.values[node] for node in nodes] for part in evaluated.parts]
    rows = [tuple((p.dart_names(), *(line.names for line in p.lines)) for p in row if isinstance(p, Piece)) for row in made]
    assert len(set(rows)) == len(rows) < 30


def spoiled(value: object) -> object:
    """The value with no number for the second body."""
    if isinstance(value, np.ndarray) and value.dtype.kind == "f" and value.shape[0] > 1:
        bad = np.arange(value.shape[0]) == 1
        return np.where(bad.reshape(-1, *[1] * (value.ndim - 1)), np.nan, value)
    if isinstance(value, Piece):
        points = {name: np.asarray(spoiled(place)) for name, place in value.points.items()}
        return replace(value, points=points)
    return value


def test_a_bad_number_fails_its_body_wherever_it_arises(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """An operation that gives no number for the second body, in a length, in a point, in an inner point of a piece."""
    style, women = saved(tmp_path, WAISTED), [woman(name) for name in ("a", "b", "c")]
    true = dict(operations.OPERATIONS)
    numbers = [(one, np.ndarray) for one in (Measure, Moves, Arithmetic)]
    spoilt: list[tuple[type[Payload], type]] = [*numbers, (Call, Piece)]

    for op, kind in spoilt:

        def once(told: Payload, args: Args, group: Group, op: type[Payload] = op, kind: type = kind) -> object:
            value = true[op](told, args, group)
            return spoiled(value) if isinstance(value, kind) and group.lanes.size == 3 else value

        monkeypatch.setattr("godet.graph.evaluate.OPERATIONS", {**true, op: once})
        made = results(style, women)
        assert [[error.message for error in one.errors] for one in made] == [[], ["this gives no number"], []], op
        assert [error.body for error in made[1].errors] == [women[1].name]


SOLVED = """language 1
style "S"
solve x between 0 cm and 40 cm that x * 3 equals bust_girth tolerance 0.1 mm
check c that x more_than 0 cm
"""


def test_a_solve_is_within_its_tolerance_and_names_who_has_no_answer(tmp_path: Path) -> None:
    """x * 3 = bust girth has its answer within 40 cm up to a bust of 120 cm."""
    women = [woman("a", bust_girth=900.0), woman("wide", bust_girth=1300.0), woman("c", bust_girth=1100.0)]
    style = saved(tmp_path, SOLVED)
    assert numbers(style, women, "x") == [pytest.approx(300.0, abs=0.1), None, pytest.approx(1100 / 3, abs=0.1)]
    (error,) = results(style, women)[1].errors
    assert error.body == "wide"
    assert error.message == "no `x` within its bounds makes this hold"
    tried = [(at, 1300 - 3 * at) for at in range(0, 401, 80)]  # the bounds, and four places between
    rows = "; ".join(f"{at:.1f} mm: {short:.1f} mm too little" for at, short in tried)
    assert error.note == f"the first side with x {rows}"
