"""What a seam map shows, as plain values: pieces with their edges, seams with their letters."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Literal

from .marks import Layer, Reals

Finish = Literal["faced", "hemmed", "closed", "left", "folded", "nothing"]
"""How an edge ends that is in no seam, or is in one besides."""

SAID: dict[Finish, str] = {
    "faced": "faced, or ends with its facing",
    "hemmed": "hemmed, bound or turned in",
    "closed": "opens and closes",
    "left": "left as it is cut",
    "folded": "on the fold",
    "nothing": "ENDS IN NOTHING",
}

SEAMS: tuple[Layer, ...] = ("seam_1", "seam_2", "seam_3", "seam_4", "seam_5", "seam_6", "seam_7", "seam_8")
"""The lines of seams, in turn."""


@dataclass(frozen=True, eq=False)
class MapEdge:
    """An edge of a piece: the letters of the seams it goes into, in the order of sewing, and how else it ends; its parts (n, 2)
    in mm from dart to dart, the cloth on their left; for each letter whose seam begins at an end of it, which: 0 its start, 1
    its end. `opens`: from where to where (mm) along its only part it is closed by something; None: all along. `inner`: a line
    inside the piece."""

    name: str
    letters: tuple[str, ...]
    finishes: tuple[Finish, ...]
    lines: tuple[Reals, ...]
    dots: tuple[tuple[str, int], ...] = ()
    opens: tuple[float, float] | None = None
    inner: bool = False

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
        """The line of each letter: never that of the letters before and behind it."""
        return {one.letter: SEAMS[k % len(SEAMS)] for k, one in enumerate(self.seams)}

    @property
    def finishes(self) -> tuple[Finish, ...]:
        """How edges of it end beside seams, as the key tells of them."""
        found = {one for piece in self.pieces for edge in piece.edges for one in edge.finishes}
        return tuple(one for one in SAID if one in found)
