"""How pleats and tucks are folded: the plan of each kind, and what is said of a set of them."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

from .folding import Flank, Stripe
from .slash import Width

Fashion = Literal["knife", "box", "inverted", "accordion", "tuck"]
Where = int | Flank | Literal["before", "after"]


@dataclass(frozen=True)
class Plan:
    """How a pleat is folded: its stripes from flank A to flank B, and its lines by name.

    A line is the number of a fold line of the gap, the flank beside which it lies on the flat piece, or halfway to the
    pleat before or after. `laid` tells on which line each fold is laid, or over which one that of a tuck points.
    """

    stripes: tuple[Stripe, ...]
    lines: Mapping[str, Where]
    laid: Mapping[str, str]


_TO_A = (Stripe("b", 0), Stripe("b", 0, mirror=1))
_TO_B = (Stripe("a", 0, mirror=0), Stripe("a", 2))
_BOTH = (Stripe("a", 0, mirror=0), Stripe("a", 2), Stripe("b", 2), Stripe("b", 2, mirror=3))
_MET = {"fold": "placement", "far_fold": "placement"}

PLANS: Mapping[tuple[Fashion, Flank], Plan] = {
    ("knife", "a"): Plan(_TO_A, {"fold": 2, "inner_fold": 1, "placement": 0}, {"fold": "placement"}),
    ("knife", "b"): Plan(_TO_B, {"fold": 0, "inner_fold": 1, "placement": 2}, {"fold": "placement"}),
    ("tuck", "a"): Plan(_TO_B, {"fold": 1}, {"fold": "stitching"}),
    ("tuck", "b"): Plan(_TO_A, {"fold": 1}, {"fold": "far_stitching"}),
    ("accordion", "a"): Plan(_TO_A, {"fold": 1, "inner_fold": "before", "far_inner_fold": "after"}, {}),
    ("inverted", "a"): Plan(
        _BOTH, {"fold": 0, "far_fold": 4, "inner_fold": 1, "far_inner_fold": 3, "placement": 2}, _MET
    ),
    ("box", "a"): Plan(
        _BOTH,
        {"fold": 1, "far_fold": 3, "inner_fold": 0, "far_inner_fold": 4, "placement": "a", "far_placement": "b"},
        {"fold": "placement", "far_fold": "far_placement"},
    ),
}
"""By kind, and by the flank the folds point to, where that is asked."""

FOLDS = frozenset(("fold", "far_fold", "inner_fold", "far_inner_fold"))
"""Lines along which cloth is folded."""

STITCHED = frozenset(("stitching", "far_stitching"))
"""Lines along which a pleat is sewn down."""

LAID: frozenset[Fashion] = frozenset(("knife", "tuck"))
"""Pleats laid to one side."""


@dataclass(frozen=True)
class Pleating:
    """What is folded: `depths` (L,) mm of every pleat at the near and at the far end of its cut (None in a sketch), or of
    the first, where those of the `last` differ. `tapered`: in a sketch, whether one end may take nothing.

    `toward`: the edge or line the folds of a knife pleat, or of a tuck, point to. `called`: pleats are `CALLED_k1` and so
    on. `free`: the edge at which they hang free. `stitched`: the flanks are sewn together, for `sewn` (L,) mm from the
    near edge; a tuck's for its whole length where that is None.
    """

    fashion: Fashion
    depths: tuple[Width, Width]
    toward: str | None = None
    called: str = "pleat"
    free: str | None = None
    stitched: bool = False
    sewn: Width = None
    last: tuple[Width, Width] | None = None
    tapered: bool = False

    def depth(self, number: int, count: int) -> tuple[Width, Width]:
        """The depths of a pleat of so many, from the first to the last in equal steps."""
        if self.last is None or count == 1:
            return self.depths
        share = (number - 1) / (count - 1)
        ends = zip(self.depths, self.last, strict=True)
        near, far = (None if one is None or two is None else one + (two - one) * share for one, two in ends)
        return near, far

    def name(self, number: int, line: str) -> str:
        """The name of a line of a pleat."""
        return f"{self.called}_k{number}.{line}"

    def underlay(self, number: int, which: int) -> str:
        """The name of what is folded away at the near (0) or the far (1) end of a pleat."""
        return self.name(number, ("underlay", "far_underlay")[which])

    def lines(self, plan: Plan, number: int, sure: int) -> Mapping[str, Where]:
        """The lines of a pleat. `sure`: how many pleats every body has. The counter-fold of an accordion between two pleats
        belongs to the second: only the last has one of its own behind it."""
        lines = dict(plan.lines)
        if self.fashion == "accordion" and number < sure:
            del lines["far_inner_fold"]
        return {**lines, **({"stitching": 0, "far_stitching": len(plan.stripes)} if self.stitched else {})}
