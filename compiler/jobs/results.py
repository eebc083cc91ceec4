"""What a style comes to on one body, as plain values."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from ..assembly.whole import Whole
from ..bodies.units import Unit
from ..diagnostics.diagnostic import Diagnostic
from ..finish.finished import FinishedPiece
from ..geometry.tolerances import COINCIDE, NOTCHED
from ..output.records import CheckResult, EdgeLength, Tidings
from ..output.summary import answers, failing
from ..pattern.piece import Piece, Worn
from .fit import FitResult
from .numbers import in_unit
from .specification import Specification
from .stretches import StretchResult


@dataclass(frozen=True)
class PieceResult:
    """A finished piece on one body, which is the lane `lane` of `cloth`."""

    name: str
    cloth: FinishedPiece
    lane: int
    edges: tuple[EdgeLength, ...]

    @property
    def piece(self) -> Piece:
        """The piece with its notches, of all bodies it was finished with."""
        return self.cloth.piece

    def alone(self) -> FinishedPiece:
        """The finished piece of this body alone."""
        return self.cloth.take(np.array([self.lane]))


@dataclass(frozen=True)
class NotchPair:
    """Notches that meet: places from the starts of the two sides, mm, by how much they fail to, however eased, their strokes on
    both sides, none where a notch meets a corner, and whether they agree."""

    left_mm: float
    right_mm: float
    gap_mm: float
    left_strokes: int
    right_strokes: int
    agrees: bool

    @property
    def meets(self) -> bool:
        """Whether they are near enough to each other to be sewn together; what agrees is nearer still."""
        return self.gap_mm <= NOTCHED

    def told(self, unit: Unit) -> str:
        """In words, where they do not meet."""
        left, right, gap = (in_unit(unit)(mm) for mm in (self.left_mm, self.right_mm, self.gap_mm))
        places = f"{left} along the first edge and {right} along the second"
        return f"the notches at {places} do not meet: they lie {gap} off each other"


@dataclass(frozen=True)
class SeamResult:
    """A seam on one body: what to what, both lengths, whether they go together, as do its stretches between notches with a name
    and all its notches, which come as the sides are walked; the way of sewing, the seams sewn before it, the text at its end and
    the strokes of its notches (0: none of its own), where stated."""

    name: str
    how: str
    left: tuple[str, ...]
    right: tuple[str, ...]
    left_mm: float
    right_mm: float
    holds: bool
    sewn: str = ""
    after: tuple[str, ...] = ()
    note: str = ""
    strokes: int | None = None
    stretches: tuple[StretchResult, ...] = ()
    notches: tuple[NotchPair, ...] = ()

    @property
    def notches_agree(self) -> bool:
        return all(one.agrees for one in self.notches)

    @property
    def ratio(self) -> float | None:
        """Left to right; None where there is nothing to sew to."""
        return self.left_mm / self.right_mm if self.right_mm > COINCIDE else None


@dataclass(frozen=True)
class Unmeasured:
    """A measurement the garment rests on that the body's file does not give, what stands in for it, the `rule` of a recipe where
    that does ("": it is estimated), and the pieces that rest on it: none where it acts on a seam, a check or the specification
    alone."""

    name: str
    how: str
    rule: str
    pieces: tuple[str, ...] = ()


@dataclass(frozen=True)
class OpeningResult:
    """An opening of a garment on one body: what it is called, its edges as `piece.edge`, the half it is on (None: both), how far
    it is round, mm, closed and with all closures open that end at it, how its edges end, and these closures."""

    name: str
    edges: tuple[str, ...]
    half: Worn | None
    girth_mm: float
    opened_mm: float
    finished: tuple[str, ...]
    closures: tuple[str, ...]


@dataclass(frozen=True)
class AssemblyResult:
    """Whether all seams together make a garment on one body, its openings, what of it does not hold beyond what is told of the
    style, and the garment laid out. Where it was not judged, since the style does not say how it is sewn or it cannot be drawn,
    nothing is known of any of these (`holds` and `whole` are None)."""

    holds: bool | None = None
    openings: tuple[OpeningResult, ...] = ()
    wrong: tuple[Diagnostic, ...] = ()
    whole: Whole | None = None


NOTHING = Specification()
UNJUDGED = AssemblyResult()


@dataclass(frozen=True)
class BodyResult:
    """All of one body. With errors it has no pieces, and only those checks that fail all the same."""

    name: str
    pieces: tuple[PieceResult, ...]
    seams: tuple[SeamResult, ...]
    checks: tuple[CheckResult, ...]
    estimated: tuple[Unmeasured, ...]
    errors: tuple[Diagnostic, ...]
    specification: Specification = NOTHING
    fits: tuple[FitResult, ...] = ()
    tidings: tuple[Tidings, ...] = ()
    warnings: tuple[Diagnostic, ...] = ()
    unit: Unit = "cm"
    assembly: AssemblyResult = UNJUDGED

    @property
    def holds(self) -> bool:
        held = all(check.holds for check in self.checks) and all(seam.holds for seam in self.seams)
        return held and self.specification.holds and all(fit.holds for fit in self.fits) and self.assembly.holds is not False

    @property
    def failing(self) -> str:
        """How much of what must hold does not, in words; empty where all does."""
        held = answers(self.checks, self.seams, self.specification.closures, self.fits)
        wrong = [] if all(all(one) for one in held.values()) else [failing(held)]
        wrong += ["the seams do not make a garment"] if self.assembly.holds is False else []
        return " and ".join(wrong)
