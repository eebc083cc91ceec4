"""What a style comes to on one body."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cached_property
from types import MappingProxyType
from typing import TYPE_CHECKING

from ..bodies.body import Body
from ..diagnostics.diagnostic import Diagnostic
from ..jobs.fit import FitResult
from ..jobs.prepare import Prepared
from ..jobs.results import AssemblyResult, BodyResult, SeamResult, Unmeasured
from ..jobs.specification import Specification
from ..output.records import BodyRecord, CheckResult, Tidings
from ..output.summary import counted
from .errors import StyleError
from .piece import Piece

if TYPE_CHECKING:
    from ..drawing.pages import Paper
    from ..jobs.build import Plate


class Svg(str):
    """The text of an SVG, which a notebook shows as a picture."""

    __slots__ = ()

    def _repr_svg_(self) -> str:
        return str(self)


class Result:
    """A style on one body. Lengths are in mm. With errors it has no pieces, and only those checks that fail all the same.

    It keeps what its group of bodies was drawn from: keep numbers, not results, of many bodies.
    """

    def __init__(self, prepared: Prepared, body: Body, found: BodyResult) -> None:
        self._prepared = prepared
        self._found = found
        self.body = body

    def __repr__(self) -> str:
        holds = "holds" if self.holds else "FAILS"
        state = "cannot be drawn" if self.errors else f"{counted(len(self.pieces), 'piece')}, {holds}"
        return f"<{self.name}: {state}>"

    @property
    def name(self) -> str:
        """The name of the body."""
        return self._found.name

    @property
    def holds(self) -> bool:
        """Whether it can be drawn, every check, seam, closure and promise of fit holds, and the seams make a garment."""
        return self._found.holds and not self._found.errors

    @cached_property
    def pieces(self) -> Mapping[str, Piece]:
        """The finished pieces by name, in the order of the style."""
        return MappingProxyType({one.name: Piece(one, self._picture, self._found.seams) for one in self._found.pieces})

    @property
    def seams(self) -> tuple[SeamResult, ...]:
        """What is sewn to what, with both lengths and the notches that meet, in the order of sewing."""
        return self._found.seams

    @property
    def checks(self) -> tuple[CheckResult, ...]:
        """The checks of the style, with their numbers."""
        return self._found.checks

    @property
    def assembly(self) -> AssemblyResult:
        """Whether its seams make one garment on this body, and what of its lengths does not."""
        return self._found.assembly

    @property
    def fits(self) -> tuple[FitResult, ...]:
        """What is promised of the body, and what the garment gives."""
        return self._found.fits

    @property
    def tidings(self) -> tuple[Tidings, ...]:
        """What the style has to tell of this body."""
        return self._found.tidings

    @property
    def specification(self) -> Specification:
        """Finished measurements, cloths, trims, closures, ways of sewing, care."""
        return self._found.specification

    @property
    def estimated(self) -> tuple[Unmeasured, ...]:
        """Measurements the pieces rest on that the body does not give, and what stands in for each."""
        return self._found.estimated

    @property
    def errors(self) -> tuple[Diagnostic, ...]:
        """Why it cannot be drawn."""
        return self._found.errors

    @property
    def warnings(self) -> tuple[Diagnostic, ...]:
        """What a cutter would not cut so."""
        return self._found.warnings

    @property
    def failing(self) -> str:
        """How much of what must hold does not, in words; empty where all does."""
        return "cannot be drawn" if self.errors else self._found.failing

    def check(self) -> None:
        """Raise `StyleError` where the style cannot be drawn on this body. A check that fails is no error: see `holds`."""
        if self.errors:
            raise StyleError(self.errors, self._prepared.texts)

    def svg(self, *, levels: bool = True, toile: bool = False) -> str:
        """All pieces on one sheet at true scale (one user unit is one mm); `StyleError` where it cannot be drawn."""
        from ..jobs.build import as_svg

        return as_svg(self._plate("a4", levels, toile), self._prepared.keeping)

    def pdf(self, *, paper: Paper = "a4", levels: bool = True, toile: bool = False) -> bytes:
        """All pieces on pages to print at true scale, behind the seam map; `StyleError` where it cannot be drawn."""
        from ..jobs.build import as_pdf

        return as_pdf(self._plate(paper, levels, toile), paper)

    def seam_map(self, *, paper: Paper = "a4") -> Svg | None:
        """The seam map as an SVG, as large as a page of a paper; None of a draft; `StyleError` where it cannot be drawn."""
        from ..jobs.build import map_svg

        self.check()
        drawn = map_svg(self._prepared, self._found, paper)
        return None if drawn is None else Svg(drawn)

    def report(self) -> BodyRecord:
        """The row of this body in the report, numbers to a thousandth."""
        from ..jobs.report import body_record

        return body_record(self._prepared, self._found, self.body)

    def _repr_svg_(self) -> str | None:
        """All pieces as a notebook shows them, not to scale; none where it cannot be drawn."""
        return None if self.errors else self._picture()

    def _picture(self, piece: str = "") -> str:
        from ..jobs.build import as_picture

        return as_picture(self._drawn, piece)

    @cached_property
    def _drawn(self) -> Plate:
        return self._plate()

    def _plate(self, paper: Paper = "a4", levels: bool = True, toile: bool = False) -> Plate:
        from ..jobs.build import Wanted, plate

        self.check()
        return plate(self._prepared, self._found, self.body, Wanted(paper, levels, toile))
