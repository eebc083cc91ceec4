"""What a style says of its garment: pieces and how they are cut, seams, ways of sewing, closures."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Literal

from ..pattern.piece import CutOrder, Piece, Worn
from ..pattern.which_ends import Name

WornOn = Literal["left", "right", "both"]


@dataclass(frozen=True, kw_only=True)
class PieceSaid:
    """A piece, as a sketch or as cloth; how it is cut, in the order of the sentences, and what is said of its edges by name.

    `hemmed`: folded up or turned under. `raw`: cut on the sewing line. `fastened`: with a row of buttons or buttonholes all
    along; `buttoned`: with any. `unsewn`: left to another garment. `openings`: marked as such. `folds`: whether it is folded
    along a line inside it. `fastenings`: buttons or buttonholes, on an edge or a line inside. `apart`: it is worn by itself.
    `laid_open`: its fold lies on the wearer's centre, though it does not say which half is drawn; turned over it is the same.
    """

    name: str
    piece: Piece
    cuts: Sequence[CutOrder] = ()
    hemmed: frozenset[str] = frozenset()
    raw: frozenset[str] = frozenset()
    fastened: frozenset[str] = frozenset()
    buttoned: frozenset[str] = frozenset()
    unsewn: frozenset[str] = frozenset()
    openings: frozenset[str] = frozenset()
    folds: bool = False
    fastenings: tuple[Literal["buttons", "buttonholes"], ...] = ()
    apart: bool = False
    laid_open: bool = False


@dataclass(frozen=True)
class SeamSaid:
    """A seam: the edges of its two sides; for which half it is written, where that is said; the seams it comes after, and the
    one it is caught in; its way of sewing, and whether that is one that lays right sides together, by machine; whether its left
    side is gathered."""

    name: str
    left: tuple[Name, ...]
    right: tuple[Name, ...]
    worn: WornOn | None = None
    after: tuple[str, ...] = ()
    caught_in: tuple[str, ...] = ()
    sewn: str = ""
    is_turned: bool = False
    gathers: bool = False

    @property
    def edges(self) -> tuple[Name, ...]:
        return (*self.left, *self.right)

    @property
    def sentence(self) -> str:
        """The name of its sentence, of which it may be one side."""
        return self.name.partition(".")[0]


@dataclass(frozen=True)
class SewingSaid:
    """A way of sewing of edges that are in no seam, as a hem; whether by its type it `turns` the edge up or binds it."""

    name: str
    on: tuple[Name, ...]
    turns: bool = False


@dataclass(frozen=True)
class ClosureSaid:
    """A closure in a seam, by its name, or in edges; on which of the wearer's sides, None where that is not said; whether it
    says by which trims it is closed; whether it is set in all along, as a zip, or only closed, as by buttons or a tie."""

    name: str
    seam: str
    edges: tuple[Name, ...]
    on: WornOn | None
    is_bought: bool = True
    set_in: bool = True


@dataclass(frozen=True)
class GarmentSaid:
    """All of it, sentences in the order of the style. `idle`: ways of sewing by which nothing is sewn. `fasteners`: whether any
    trim is bought that could close something, as far as a trim tells: one that draws no edge in."""

    pieces: Mapping[str, PieceSaid]
    seams: tuple[SeamSaid, ...]
    sewing: tuple[SewingSaid, ...]
    closures: tuple[ClosureSaid, ...]
    idle: tuple[str, ...] = ()
    fasteners: bool = True

    def seam(self, name: str) -> SeamSaid | None:
        return next((one for one in self.seams if one.name == name), None)

    def on(self, cloth: Mapping[str, Piece]) -> GarmentSaid:
        """The same, said of cloth."""
        return replace(self, pieces={name: replace(one, piece=cloth[name]) for name, one in self.pieces.items()})


def other(half: Worn) -> Worn:
    return "right" if half == "left" else "left"
