"""What a style keeps of its work on the bodies it was last put on, so that the style edited does only what is new.

Values are kept by what their nodes are and what the bodies give (`graph/kept.py`); finished pieces, drawings and sheets by a
digest of all they are made from, as long as this version of the style or the one before asked for them. The version printed on a
sheet is no part of it: a sign stands for it in what is kept (`VERSION` in `drawing/lettering.py`).
"""

from __future__ import annotations

import hashlib
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field, fields, is_dataclass, replace
from typing import TYPE_CHECKING

import numpy as np

from ..bodies.body import Body
from ..finish.shelf import Shelf
from ..graph.kept import Kept

if TYPE_CHECKING:
    from ..drawing.marks import Drawing
    from ..drawing.piece import Plain
    from ..finish.finished import FinishedPiece
    from ..finish.together import Garment

MOST_BODIES = 50
"""Of more bodies put on at once nothing is kept: a run of sizes is kept, a population is not."""


@dataclass(frozen=True)
class Work:
    """What was worked out, and not found again: nodes evaluated (however many trials a solve took, and on all bodies at once);
    pieces finished (on bodies of one structure at once); garments whose notches were matched; pieces drawn, and worded; sheets
    written as SVG."""

    evaluated: int = 0
    finished: int = 0
    notched: int = 0
    drawn: int = 0
    worded: int = 0
    written: int = 0


@dataclass(eq=False)
class Keeping:
    """What is kept, and what this version of a style had to work out. Where nothing is kept, all is made when it is asked for."""

    keeps: bool = True
    evaluated: int = 0
    values: Kept = field(default_factory=Kept)
    finished: Shelf[FinishedPiece] = field(default_factory=Shelf)
    notched: Shelf[Garment] = field(default_factory=Shelf)
    drawn: Shelf[Plain] = field(default_factory=Shelf)
    worded: Shelf[Drawing] = field(default_factory=Shelf)
    written: Shelf[str] = field(default_factory=Shelf)
    _company: tuple[Body, ...] = ()

    @property
    def shelves(self) -> tuple[Shelf[FinishedPiece], Shelf[Garment], Shelf[Plain], Shelf[Drawing], Shelf[str]]:
        return self.finished, self.notched, self.drawn, self.worded, self.written

    @property
    def work(self) -> Work:
        """What was worked out so far for this version."""
        return Work(self.evaluated, *(one.count for one in self.shelves))

    def later(self) -> Keeping:
        """The same for the style edited, whose work is counted from nothing."""
        return replace(
            self,
            evaluated=0,
            finished=self.finished.turned(),
            notched=self.notched.turned(),
            drawn=self.drawn.turned(),
            worded=self.worded.turned(),
            written=self.written.turned(),
        )

    def on(self, bodies: tuple[Body, ...]) -> Kept:
        """The values kept for bodies: of several none where they stood in other company, in which their last digits differ.

        Other bodies turn the shelves as an edit does, so that a style put on one body after the other keeps no more."""
        if len(bodies) != len(self._company) or (len(bodies) > 1 and bodies != self._company):
            self.values = Kept()
        if bodies != self._company:
            for one in self.shelves:
                one.turn()
        self._company = bodies
        return self.values

    def digest(self, *read: object) -> bytes:
        """All that these say, to the bit; empty where nothing is kept."""
        if not self.keeps:
            return b""
        hashing = hashlib.blake2b(digest_size=16)
        _feed(hashing.update, read)
        return hashing.digest()


KEEP_NOTHING = Keeping(keeps=False)


def _feed(update: Callable[[bytes], None], value: object) -> None:
    if value is None or isinstance(value, (str, int, float, complex)):
        written = repr(value).encode()
        update(b"%d:%s" % (len(written), written))
    elif isinstance(value, bytes):
        update(b"b%d:%s" % (len(value), value))
    elif isinstance(value, np.ndarray):
        update(f"{value.dtype.str}{value.shape}".encode())
        update(value.tobytes())
    elif isinstance(value, Mapping):
        _row(update, b"{", (one for pair in value.items() for one in pair), len(value))
    elif isinstance(value, (tuple, list)):
        _row(update, b"(", value, len(value))
    elif isinstance(value, (set, frozenset)):
        _row(update, b"<", sorted(value), len(value))
    elif is_dataclass(value):
        held = [getattr(value, one.name) for one in fields(value) if one.init]  # not what is only remembered with it
        _row(update, type(value).__name__.encode(), held, len(held))
    else:
        raise TypeError(f"{type(value).__name__} has no digest")


def _row(update: Callable[[bytes], None], head: bytes, values: Iterable[object], count: int) -> None:
    update(b"%s%d" % (head, count))
    for one in values:
        _feed(update, one)
