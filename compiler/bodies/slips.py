"""The slips of a tape and a pencil: what else a written number may have been meant to be."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from .units import MM_PER, Unit, plain

_UNIT_NAMES: dict[Unit, str] = {"cm": "centimetres", "mm": "millimetres", "in": "inches"}

# Pairs that stand beside each other on a measuring form and are exchanged in copying.
EXCHANGES: tuple[tuple[str, str], ...] = (
    ("natural_waist_girth", "hip_girth"),
    ("natural_waist_girth", "bust_girth"),
    ("bust_girth", "hip_girth"),
    ("waist_girth", "hip_girth"),
    ("waist_girth", "bust_girth"),
    ("bust_girth", "under_bust_girth"),
    ("under_bust_girth", "natural_waist_girth"),
    ("top_hip_girth", "natural_waist_girth"),
    ("neck_girth", "neck_base_girth"),
    ("back_neck_point_to_waist", "front_neck_point_to_waist"),
    ("back_neck_point_to_waist", "scye_depth"),
    ("side_neck_point_to_bust_point", "bust_point_to_bust_point"),
    ("natural_waist_height", "inside_leg_height"),
    ("natural_waist_height", "hip_height"),
    ("bust_height", "armpit_height"),
    ("upper_arm_girth", "wrist_girth"),
    ("thigh_girth", "knee_girth"),
    ("knee_girth", "calf_girth"),
    ("calf_girth", "ankle_girth"),
    ("outer_arm_length", "upper_arm_length"),
)


@dataclass(frozen=True, slots=True)
class LikelyValue:
    """A value (mm) that may have been meant, and what then went wrong."""

    value: float
    words: str


def slips(value: float, unit: Unit, is_girth: bool) -> Iterator[LikelyValue]:
    """What a length of `value` mm in a file of that unit may have been meant to be, the commonest slip first."""
    number = value / MM_PER[unit]
    for other, name in _UNIT_NAMES.items():
        if other != unit:
            yield LikelyValue(number * MM_PER[other], f"written in {name} in a file in {'inches' if unit == 'in' else unit}?")
    yield LikelyValue(value * 10, "decimal point one place too far to the left, or a digit missing?")
    yield LikelyValue(value / 10, "decimal point missing?")
    if unit != "in":
        yield LikelyValue(value / 2.54, "turned from inches twice?")
    if is_girth:
        yield LikelyValue(value * 2, "half of the girth given for the whole?")
        yield LikelyValue(value / 2, "twice the girth given?")
    if unit != "in":
        yield from _digits(number, unit)
    tens = 10 * MM_PER[unit] if unit != "mm" else 100.0
    yield LikelyValue(value + tens, "one ten too few?")
    yield LikelyValue(value - tens, "one ten too many?")
    yield LikelyValue(value + 10 * tens, "a hundred missing?" if unit == "cm" else "the first digit missing?")


def _digits(number: float, unit: Unit) -> Iterator[LikelyValue]:
    """The same number with two neighbouring digits exchanged."""
    text = plain(number, 1)
    for at in range(len(text) - 1):
        one, two = text[at], text[at + 1]
        if "." in (one, two) or one == two or (at == 0 and two == "0"):
            continue
        yield LikelyValue(float(text[:at] + two + one + text[at + 2 :]) * MM_PER[unit], "two digits exchanged?")
