"""Values of the specification: what a technical designer attaches to the pieces. Arrays have a leading axis of bodies."""

from __future__ import annotations

from dataclasses import dataclass, fields, replace
from typing import Self

import numpy as np
from numpy.typing import NDArray

from ..geometry.lanes import take
from ..pattern.piece import Reals

Mask = NDArray[np.bool_]


@dataclass(frozen=True)
class Attached:
    """A value of the specification; its arrays are of size L or 1."""

    def take(self, lanes: NDArray[np.intp]) -> Self:
        """The same value for some of the bodies."""
        held = {one.name: getattr(self, one.name) for one in fields(self)}
        return replace(self, **{name: take(each, lanes) for name, each in held.items() if isinstance(each, np.ndarray)})


@dataclass(frozen=True)
class Finished(Attached):
    """A measurement of the finished garment, mm, and how far it may be over and under."""

    value: Reals
    over: Reals
    under: Reals


@dataclass(frozen=True)
class Cloth(Attached):
    """A cloth: usable width in mm, weight in grams per square metre, shrinkage and stretch as shares, whether it has a nap."""

    width: Reals
    weight: Reals | None
    shrinks_along: Reals | None
    shrinks_across: Reals | None
    stretch: Reals | None
    nap: bool


@dataclass(frozen=True)
class Shown(Attached):
    """A number for the report: mm, radians or bare."""

    value: Reals


@dataclass(frozen=True)
class Trim(Attached):
    """A trim: so much of it in mm, or so many; `drawn` mm is what it draws in to its own length, where it does: each edge that is
    named as often as `counted` says. `many` of it are cut: two where one is on each side of the body. `width` is how wide it
    is, where that is said."""

    amount: Reals | None
    count: Reals | None
    drawn: Reals | None = None
    counted: tuple[int, ...] = ()
    many: int = 1
    width: Reals | None = None


@dataclass(frozen=True)
class Closure(Attached):
    """A closure, mm: its length, the length of the seam or edge it is set into, the girth when closed, and what must pass; the
    wearer's side it is on: `both`, `left` or `right`; how far its edges lie over each other when it is closed."""

    long: Reals
    place: Reals
    girth: Reals | None
    passes: Reals | None
    on: str
    lapping: Reals | None = None

    @property
    def needed(self) -> Reals | None:
        """The least length (L,) that lets pass what must: an opening of length l adds 2 l to the girth, and the lap."""
        if self.girth is None or self.passes is None:
            return None
        return np.asarray(np.maximum(0.0, (self.passes - self.girth - (0.0 if self.lapping is None else self.lapping)) / 2))


@dataclass(frozen=True)
class Sewing(Attached):
    """A way of sewing: stitch types and seam type by their numbers, stitch length in mm."""

    stitch: str
    seam_type: str | None
    neatened: str | None
    stitch_length: Reals | None


@dataclass(frozen=True)
class Care(Attached):
    """Care by its words in the lists of `standards.toml`."""

    washing: str
    action: str
    bleaching: str
    tumbling: str
    drying: str | None
    ironing: str
    cleaning: str


@dataclass(frozen=True)
class Fit(Attached):
    """A promise, mm: what the body measures (None: it was not measured), the ease asked, how far over (None: any) and under.

    `drafted` is what the block's own pieces come to, None for a girth a style promises; `cut` what the finished pieces come to
    that come from these, None where there are none at that level, or they do not carry what a length is measured along.
    """

    body: Reals | None
    ease: Reals
    over: Reals | None
    under: Reals
    drafted: Reals | None
    cut: Reals | None

    @property
    def garment(self) -> Reals | None:
        """What the finished garment measures (L,) mm, or the draft where no finished piece is there; None without either."""
        return self.drafted if self.cut is None else self.cut
