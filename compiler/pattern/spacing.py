"""Cuts and marks about so far apart: how many of them an edge takes on a body."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass

from ..geometry.lanes import nearest_whole
from ..geometry.tolerances import COINCIDE
from .piece import Reals, Trouble


@dataclass(frozen=True)
class About:
    """So many that they lie about `apart` (L,) mm from each other, and no more than `limit`."""

    apart: Reals
    limit: int

    def spaces(self, long: Reals, edge: str, more: int) -> int:
        """Into how many spaces (one at least) a length (L,) mm of an edge is parted, where there are `more` of the things than
        spaces between them: marks, at both ends, 1; cuts, at neither, -1. Raises Disagreement."""
        none = self.apart <= COINCIDE
        if none.any():
            raise Trouble("they lie some way apart", "write a length above nothing", none)
        over = long / self.apart + more >= self.limit + 0.5
        if over.any():
            fix = "raise `up_to`, or put them further apart"
            raise Trouble(f"more than {self.limit} find room on `{edge}`", fix, over, {"room": long, "apart": self.apart})
        return max(nearest_whole(long / self.apart), 1)


def must_go_together(said: Collection[str]) -> None:
    """Trouble when one of `apart` and `up_to` is said without the other."""
    if ("apart" in said) != ("up_to" in said):
        fix = "write `up_to` too, the most there may be" if "apart" in said else "write `apart`, or `count` in its place"
        raise Trouble("`apart` and `up_to` go together: names are known before any body", fix)
