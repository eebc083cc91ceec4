"""What is wrong with a garment, as plain values: the words are made of them elsewhere."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from ..pattern.piece import Worn
from ..pattern.which_ends import Name

Kind = Literal[
    "ends_in_nothing",
    "sewn_twice",
    "seam_and_hem",
    "left_to_right",
    "no_other",
    "cut_once",
    "too_few",
    "on_fold",
    "two_things",
    "not_fastened",
    "sewn_shut",
    "facing_shut",
    "facing_whole",
    "wrong_hand",
    "wrong_name",
    "twist",
    "unmet",
    "which_side",
    "not_reached",
    "too_soon",
    "between",
    "in_two",
    "no_sheet",
    "hem_not_sewn",
    "way_idle",
    "no_trim",
    "not_closed_by",
    "exchanged",
    "spare",
    "half_counted",
    "opening_shut",
    "strip_open",
    "closed_bag",
]


BESIDE: frozenset[Kind] = frozenset(("not_fastened", "hem_not_sewn", "way_idle", "no_trim", "not_closed_by", "strip_open"))
"""With these a garment hangs together all the same, and what else is wrong with it is told as well."""


@dataclass(frozen=True)
class Fault:
    """One cause: the sentences it is about, the first of them to blame; the edges; numbers that tell how many; pieces; the
    half of the wearer, where it is only one; `of` are all edges of a seam that cannot be sewn. Of an
    edge that ends in nothing: the seam of the same edge on the other half, or the edge it lies on as a facing, and the seam of
    that."""

    kind: Kind
    sentences: tuple[str, ...]
    edges: tuple[Name, ...] = ()
    counts: tuple[int, ...] = ()
    pieces: tuple[str, ...] = ()
    half: Worn | None = None
    of: tuple[Name, ...] = ()
    twin_in: str = ""
    across: Name | None = None
    across_in: str = ""
