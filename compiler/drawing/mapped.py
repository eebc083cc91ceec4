"""What a seam map shows, as plain values: pieces with their edges, seams with their letters."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Literal

import numpy as np

from ..geometry.tolerances import SEW
from .marks import Layer, Reals

Finish = Literal["faced", "hemmed", "held", "closed", "left", "folded", "nothing"]
"""How an edge ends that is in no seam, or is in one besides."""

SAID: dict[Finish, str] = {
    "faced": "faced, or ends with its facing",
    "hemmed": "hemmed, bound or turned in",
    "held": "stitched down, or caught in a seam",
    "closed": "opens and closes",
    "left": "left as it is cut",
    "folded": "on the fold",
    "nothing": "ENDS IN NOTHING",
}

SEAMS: tuple[Layer, ...] = ("seam_1", "seam_2", "seam_3", "seam_4", "seam_5", "seam_6", "seam_7", "seam_8")
"""The lines of seams, in turn."""


def long_of(line: Reals) -> float:
    """The length of a line (n, 2)."""
    return float(np.linalg.norm(np.diff(line, axis=0), axis=1).sum())


@dataclass(frozen=True, eq=False)
class MapEdge:
    """An edge of a piece: the letters of the seams it goes into, in the order of sewing, and how else it ends; its parts (n, 2)
    in mm from dart to dart, the cloth on their left; for each letter whose seam begins at an end of it, which: 0 its start, 1
    its end. `opens`: from where to where (mm) along its only part it is closed by something; None: all along. `unsewn`: the
    letters of seams that are not sewn there. `inner`: a line inside the piece."""

    name: str
    letters: tuple[str, ...]
    finishes: tuple[Finish, ...]
    lines: tuple[Reals, ...]
    dots: tuple[tuple[str, int], ...] = ()
    opens: tuple[float, float] | None = None
    unsewn: tuple[str, ...] = ()
    inner: bool = False

    @property
    def sewn(self) -> tuple[str, ...]:
        """The letters of the seams that are sewn on any of it."""
        wholly = self.opens is None or self.opens[1] - self.opens[0] > sum(map(long_of, self.lines)) - SEW
        return tuple(one for one in self.letters if not (wholly and one in self.unsewn))

    def line_of(self, sign: str) -> int:
        """The number of the line of a letter, the outermost 0; of a seam that is not sewn on it the outermost."""
        return self.sewn.index(sign) if sign in self.sewn else 0

    def reduced(self, scale: int) -> MapEdge:
        """The same at one of so much."""
        opens = None if self.opens is None else (self.opens[0] / scale, self.opens[1] / scale)
        return replace(self, lines=tuple(line / scale for line in self.lines), opens=opens)


@dataclass(frozen=True, eq=False)
class MapPiece:
    """A piece: its name and how often it is cut, its edges, and the legs (n, 2) of its darts."""

    name: str
    words: tuple[str, ...]
    edges: tuple[MapEdge, ...]
    darts: tuple[Reals, ...] = ()


@dataclass(frozen=True)
class MapSeam:
    """A row of the key: a seam, how often it is sewn, and the closures in it."""

    letter: str
    name: str
    times: int
    closures: tuple[str, ...] = ()

    @property
    def said(self) -> str:
        often = {0: "cannot be sewn", 1: "once", 2: "twice"}.get(self.times, f"{self.times} times")
        return ", ".join([self.name, often, *(f"with {one}" for one in self.closures)])


@dataclass(frozen=True, eq=False)
class SeamMap:
    """What a map shows of a style on a body: its pieces, and its seams in the order of sewing."""

    style: str
    body: str
    version: str
    pieces: tuple[MapPiece, ...]
    seams: tuple[MapSeam, ...]

    @property
    def title(self) -> str:
        return f"{self.style}, {self.body}: seam map"

    @property
    def layers(self) -> dict[str, Layer]:
        """The line of each letter: never that of the letters before and behind it, nor of another on the same piece, as long as
        there are lines enough."""
        found: dict[str, Layer] = {}
        together = [{sign for edge in piece.edges for sign in edge.letters} for piece in self.pieces]
        for k, one in enumerate(self.seams):
            turn = [*SEAMS[k % len(SEAMS) :], *SEAMS[: k % len(SEAMS)]]
            last = [*found.values()][-1:]
            free = [layer for layer in turn if layer not in last]
            beside = {sign for signs in together if one.letter in signs for sign in signs}
            used = {layer for sign, layer in found.items() if sign in beside}
            found[one.letter] = next((layer for layer in free if layer not in used), free[0])
        return found

    @property
    def finishes(self) -> tuple[Finish, ...]:
        """How edges of it end beside seams, as the key tells of them."""
        found = {one for piece in self.pieces for edge in piece.edges for one in edge.finishes}
        return tuple(one for one in SAID if one in found)
