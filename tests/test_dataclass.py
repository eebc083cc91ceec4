"""Our `dataclass` does what that of the standard library does, only later."""

from __future__ import annotations

import dataclasses
import inspect
import pickle
import re
from collections.abc import Callable
from dataclasses import FrozenInstanceError, field, fields, replace
from pathlib import Path
from typing import Any

import pytest
from godet.dataclass import dataclass

ROOT = Path(__file__).resolve().parent.parent


@dataclass(frozen=True, slots=True)
class Slotted:
    """For pickling: a class that can be found by its name."""

    first: int
    second: tuple[str, ...] = ()


def _classes(made: Callable[..., Any]) -> list[type[Any]]:
    """The same classes, made by one decorator or the other."""

    @made(frozen=True)
    class Plain:
        first: int
        second: str = "two"
        third: list[int] = field(default_factory=list)

    @made(frozen=True)
    class Longer(Plain):
        fourth: int = field(default=4, compare=False)

    @made
    class Open:
        first: int
        second: str = field(default="two", repr=False)
        memo: dict[str, int] = field(default_factory=dict, init=False, repr=False, compare=False)

        def __post_init__(self) -> None:
            self.memo["seen"] = self.first

    @made(frozen=True, order=True)
    class Ordered:
        first: int
        second: str = "two"

    @made(frozen=True, slots=True)
    class Narrow:
        first: int
        second: str = "two"

    @made(frozen=True, kw_only=True)
    class Named:
        second: str = "two"
        first: int

    @made(frozen=True, eq=False)
    class Itself:
        first: int

    return [Plain, Longer, Open, Ordered, Narrow, Named, Itself]


OURS, LIBRARY = _classes(dataclass), _classes(dataclasses.dataclass)
PAIRS = pytest.mark.parametrize(("ours", "library"), [*zip(OURS, LIBRARY, strict=True)], ids=lambda one: one.__name__)


@PAIRS
def test_values_are_made_shown_compared_and_replaced_as_ever(ours: type[Any], library: type[Any]) -> None:
    one, other = ours(first=1), library(first=1)
    assert repr(one) == repr(other)
    assert [(each.name, getattr(one, each.name)) for each in fields(one)] == [
        (each.name, getattr(other, each.name)) for each in fields(other)
    ]
    assert (one == ours(first=1)) == (other == library(first=1))
    assert (one == ours(first=2)) == (other == library(first=2))
    assert one != other
    assert repr(replace(one, first=3)) == repr(replace(other, first=3))
    assert ours.__match_args__ == library.__match_args__


@PAIRS
def test_what_is_hashed_is_hashed_alike(ours: type[Any], library: type[Any]) -> None:
    whole = {"third": ()} if "third" in ours.__match_args__ else {}
    assert (ours.__hash__ is None) == (library.__hash__ is None)
    if ours.__hash__ is not None and ours.__name__ != "Itself":
        assert hash(ours(first=1, **whole)) == hash(library(first=1, **whole))


@PAIRS
def test_what_cannot_be_set_stays(ours: type[Any], library: type[Any]) -> None:
    for one in (ours(first=1), library(first=1)):
        if ours.__name__ == "Open":
            one.first = 2
            assert one.first == 2
            continue
        with pytest.raises(FrozenInstanceError):
            one.first = 2
        with pytest.raises(FrozenInstanceError):
            del one.first


@PAIRS
def test_what_is_missing_or_too_much_is_refused(ours: type[Any], library: type[Any]) -> None:
    for given in ({}, {"first": 1, "tenth": 2}):
        said = []
        for one in (ours, library):
            with pytest.raises(TypeError) as refused:
                one(**given)
            said.append(str(refused.value))
        assert said[0] == said[1]


@PAIRS
def test_what_it_takes_can_be_asked(ours: type[Any], library: type[Any]) -> None:
    mine, theirs = (list(inspect.signature(one).parameters.values()) for one in (ours, library))
    assert [(one.name, one.kind, one.annotation) for one in mine] == [(one.name, one.kind, one.annotation) for one in theirs]
    assert [one.default is one.empty for one in mine] == [one.default is one.empty for one in theirs]


def test_defaults_made_anew_are_not_shared() -> None:
    plain = OURS[0]
    assert plain(1).third == []
    assert plain(1).third is not plain(1).third


def test_order_goes_by_the_fields() -> None:
    ordered = OURS[3]
    assert ordered(1, "b") < ordered(2, "a") < ordered(2, "b")


def test_slots_are_pickled() -> None:
    one = Slotted(1, ("a",))
    assert pickle.loads(pickle.dumps(one)) == one


def test_every_room_uses_it() -> None:
    late = re.compile(r"^from dataclasses import .*\bdataclass\b", re.M)
    files = [path for path in (ROOT / "compiler").rglob("*.py") if late.search(path.read_text("utf-8"))]
    assert files == []
