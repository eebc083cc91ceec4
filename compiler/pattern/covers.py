"""The parts of the body that a piece may cover, and what each of them is."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import Literal

Covers = Literal[
    "bodice_front", "bodice_back", "sleeve", "skirt_front", "skirt_back", "trouser_front", "trouser_back"
]

Half = Literal["front", "back"]

HALVES: Mapping[Covers, Half] = MappingProxyType(
    {
        "bodice_front": "front",
        "bodice_back": "back",
        "skirt_front": "front",
        "skirt_back": "back",
        "trouser_front": "front",
        "trouser_back": "back",
    }
)
"""Of the parts of the body those that are a front or a back."""

OF_LEGS: frozenset[Covers] = frozenset(("trouser_front", "trouser_back"))
"""Those of which there is one on each leg."""
