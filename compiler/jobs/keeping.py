"""What a style keeps of its work on the bodies it was last put on, so that the style edited does only what is new.

Values are kept by what their nodes are and what the bodies give (`graph/kept.py`); finished pieces, drawings and sheets by a
digest of all they are made from. The version printed on a sheet is left out of it, and written in again.
"""

from __future__ import annotations

import hashlib
import re
from collections import OrderedDict
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, fields, is_dataclass, replace
from typing import Any, TypeVar

import numpy as np

from ..bodies.body import Body
from ..drawing.marks import Drawing, Label
from ..graph.kept import Kept

MOST_BODIES = 50
"""Of more bodies put on at once nothing is kept: a run of sizes is kept, a population is not."""

MOST_OF_A_KIND = 12 * MOST_BODIES
"""So many pieces and sheets of a kind are kept, the oldest dropped first."""

Made = TypeVar("Made")


@dataclass
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


class Keeping:
    """What is kept, and what this version of a style had to work out."""

    def __init__(self) -> None:
        self.work = Work()
        self.values = Kept()
        self._company: tuple[Body, ...] = ()
        self._shelves: dict[str, OrderedDict[bytes, Any]] = {}

    def later(self) -> Keeping:
        """The same for the style edited, whose work is counted from nothing."""
        made = Keeping()
        made.values, made._company = self.values, self._company
        made._shelves = {kind: OrderedDict(shelf) for kind, shelf in self._shelves.items()}
        return made

    def on(self, bodies: tuple[Body, ...]) -> Kept:
        """The values kept for bodies: of several none where they stood in other company, in which their last digits differ."""
        if len(bodies) != len(self._company) or (len(bodies) > 1 and bodies != self._company):
            self.values = Kept()
        self._company = bodies
        return self.values

    def digest(self, *read: object) -> bytes:
        """All that these say, to the bit."""
        hashing = hashlib.blake2b(digest_size=16)
        _feed(hashing.update, read)
        return hashing.digest()

    def made(self, kind: str, key: bytes, make: Callable[[], Made]) -> Made:
        """What was made of this kind under the key, or is made now; `kind` is one of the names of `Work`."""
        shelf = self._shelves.setdefault(kind, OrderedDict())
        if key not in shelf:
            shelf[key] = make()
            setattr(self.work, kind, getattr(self.work, kind) + 1)
            if len(shelf) > MOST_OF_A_KIND:
                shelf.popitem(last=False)
        shelf.move_to_end(key)
        found: Made = shelf[key]
        return found


def with_version(drawing: Drawing, old: str, new: str) -> Drawing:
    """A drawing with the version on it written anew; as digits have one width, nothing else moves."""
    if old == new:
        return drawing
    marks = (replace(one, text=renewed(one.text, old, new)) if isinstance(one, Label) else one for one in drawing.marks)
    return replace(drawing, marks=tuple(marks))


def renewed(text: str, old: str, new: str) -> str:
    """A text with one version in place of another."""
    return text if not old or old == new else re.sub(rf"\b{old}\b", new, text)


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
