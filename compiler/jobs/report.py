"""Report: everything a style comes to on each body, as records (`compiler/output/records.py` tells what their keys mean)."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import fields, replace
from typing import Any, TypeVar

import numpy as np

from ..bodies.body import Body
from ..bodies.cautions import cautioned
from ..bodies.units import Unit as BodyUnit
from ..bodies.vocabulary import level_of
from ..diagnostics.grouping import Groups
from ..diagnostics.printing import print_diagnostic
from ..drawing.wording import Unit, cut_words, remark_words
from ..geometry.path import ring_area
from ..output import report as written
from ..output.records import (
    SCHEMA,
    BodyRecord,
    CutList,
    CutListPiece,
    CutRecord,
    FitRecord,
    NotchRecord,
    PieceRecord,
    Report,
    ReportHead,
    SeamRecord,
    StretchRecord,
    ToldRecord,
)
from ..pattern.piece import OperationNote, Piece
from .coordinates import outline
from .fit import FitResult
from .garment_records import assembly_record, garment_record, moved, needs, place_of, times
from .numbers import area, bare
from .outcome import results_of
from .prepare import Prepared
from .results import AssemblyResult, BodyResult, PieceResult, SeamResult

Row = TypeVar("Row")


class Reporting:
    """The report of a sound style on its bodies, made body by body and gone through once: `head`, then `bodies()`, then
    `warnings()`. `see` hears of each body when it is come to."""

    def __init__(self, prepared: Prepared, see: Callable[[Body, BodyResult], None] | None = None) -> None:
        self._prepared = prepared
        self._see = see
        self._groups = Groups()
        for one in (*prepared.diagnostics, *(prepared.assembly.diagnostics if prepared.assembly else ())):
            self._groups.add(one)

    @property
    def head(self) -> ReportHead:
        """What holds of the style, on whatever body."""
        style = self._prepared.style
        assert style is not None
        assert self._prepared.assembly is not None
        garment = garment_record(self._prepared.assembly, self._prepared.texts)
        return ReportHead(SCHEMA, style.title, tuple(style.built_from), self._prepared.fingerprint, garment)

    def bodies(self) -> Iterator[BodyRecord]:
        """A record for each body, in the order given."""
        for body, result in zip(self._prepared.bodies, results_of(self._prepared), strict=True):
            yield self._record(body, result)

    def warnings(self) -> tuple[str, ...]:
        """What was warned of, of the style and of the bodies come to until now, each trouble once."""
        return tuple(print_diagnostic(one, self._prepared.texts) for one in self._groups.told())

    def whole(self) -> Report:
        head, bodies = self.head, tuple(self.bodies())
        return Report(**_keys(head), bodies=bodies, warnings=self.warnings())

    def json_parts(self) -> Iterator[str]:
        """The report as JSON, part by part."""
        return written.json_parts(self.head, self.bodies(), self.warnings)

    def text_parts(self) -> Iterator[str]:
        """The report for reading, part by part."""
        return written.text_parts(self.head, self.bodies(), self.warnings, bare, area)

    def _record(self, body: Body, result: BodyResult) -> BodyRecord:
        if self._see is not None:
            self._see(body, result)
        for one in (*result.assembly.wrong, *result.warnings):
            self._groups.add(one)
        return body_record(self._prepared, result, body)



def rounded(rows: Sequence[Row]) -> tuple[Row, ...]:
    """Rows with their numbers to a thousandth."""
    return tuple(
        replace(row, **{key: _rounded(one) for key, one in _keys(row).items() if isinstance(one, float)})  # type: ignore[type-var]
        for row in rows
    )


def _keys(row: object) -> dict[str, Any]:
    return {one.name: getattr(row, one.name) for one in fields(row)}  # type: ignore[arg-type]


def cut_list(pieces: Sequence[PieceResult]) -> tuple[CutList, ...]:
    """What is cut in each cloth, cloths in the order in which they first come."""
    cuts = [(one, cut) for one in pieces for cut in one.piece.finish.cuts]
    return tuple(
        CutList(
            cloth,
            tuple(
                CutListPiece(one.name, cut.count, cut.mirrored, one.piece.fold is not None)
                for one, cut in cuts
                if cut.cloth == cloth
            ),
        )
        for cloth in dict.fromkeys(cut.cloth for _, cut in cuts)
    )


def body_record(prepared: Prepared, result: BodyResult, body: Body) -> BodyRecord:
    """All of one body, numbers to a thousandth."""
    rows, doubts = result.specification, (*prepared.doubted.get(result.name, ()), *result.warnings)
    return BodyRecord(
        name=result.name,
        unit=body.unit,
        cautions=tuple(cautioned(body)),
        cloths=rounded(rows.cloths),
        sewing=rounded(rows.sewing),
        care=rounded(rows.care),
        pieces=tuple(_piece(one, result, "in" if body.unit == "in" else "cm") for one in result.pieces),
        seams=tuple(_seam(seam, prepared, result.assembly, body.unit) for seam in result.seams),
        assembly=assembly_record(result, prepared.texts),
        checks=result.checks,
        tidings=result.tidings,
        fit=tuple(_fit(one, body) for one in result.fits),
        finished=rounded(rows.finished),
        shown=rounded(rows.shown),
        trims=rounded(rows.trims),
        closures=rounded(rows.closures),
        cut_list=cut_list(result.pieces),
        estimated=tuple(one.name for one in result.estimated),
        estimated_how={one.name: one.how for one in result.estimated},
        warnings=tuple(print_diagnostic(one, prepared.texts) for one in doubts),
        errors=tuple(print_diagnostic(one, prepared.texts) for one in result.errors),
    )


def _seam(seam: SeamResult, prepared: Prepared, garment: AssemblyResult, unit: BodyUnit) -> SeamRecord:
    assert prepared.assembly is not None
    place = place_of(garment, seam.name)
    moved_before, moved_why = moved(place)
    return SeamRecord(
        name=seam.name,
        how=seam.how,
        left=seam.left,
        right=seam.right,
        left_mm=_rounded(seam.left_mm),
        right_mm=_rounded(seam.right_mm),
        ratio=None if seam.ratio is None else _rounded(seam.ratio),
        holds=seam.holds,
        sewn=seam.sewn,
        after=seam.after,
        needs=needs(place),
        moved_before=moved_before,
        moved_why=moved_why,
        times=times((garment.whole or prepared.assembly.whole).structure, seam.name),
        note=seam.note,
        notches=rounded([NotchRecord(**_keys(one)) for one in seam.notches]),
        notches_agree=seam.notches_agree,
        stretches=rounded(
            [StretchRecord(one.first, one.last, one.left_mm, one.right_mm, one.holds, one.told(unit)) for one in seam.stretches]
        ),
    )


def _fit(one: FitResult, body: Body) -> FitRecord:
    """A promise, and what it is called: a level at the end of its name as it is called of this wearer."""
    *before, last = one.name.split(".")
    called = ".".join((*before, level_of(body.wearer, last) if last == one.level else last))
    return rounded([FitRecord(**_keys(one), called=called, holds=one.holds)])[0]


def _piece(one: PieceResult, of: BodyResult, unit: Unit) -> PieceRecord:
    alone = one.piece.take(np.array([one.lane]))
    holes = sum(float(ring_area([side.drawn for side in hole.sides])[0]) for hole in alone.holes)
    return PieceRecord(
        name=one.name,
        cut="; ".join(cut_words(alone)),
        cuts=tuple(CutRecord(cut.cloth, cut.count, cut.mirrored, cut.face_up) for cut in alone.finish.cuts),
        area_mm2=_rounded(float(ring_area([side.drawn for side in alone.ring])[0]) + holes),
        edges=rounded(one.edges),
        remarks=tuple(remark_words(remark, unit) for remark in alone.finish.remarks),
        estimated=tuple(missing.name for missing in of.estimated if one.name in missing.pieces),
        told=tuple(
            ToldRecord(
                told.what,
                told.edge,
                {name: _rounded(float(value[0])) for name, value in told.lengths.items()},
                {name: _rounded(float(value[0])) for name, value in told.ratios.items()},
            )
            for told in alone.told
            if _is_of(alone, told)
        ),
        outline_mm=tuple((_rounded(x), _rounded(y)) for x, y in outline(alone).tolist()),
    )


def _is_of(piece: Piece, told: OperationNote) -> bool:
    """Whether what is told is of an edge, dart or place that the finished piece has: the rest was of shapes before it."""
    _, quoted, rest = told.what.partition("`")
    name = told.edge or rest.partition("`")[0]
    places = (*piece.points, *(notch.name for notch in piece.notches), *(dart.name for dart in piece.darts))
    return not (told.edge or quoted) or bool(piece.sides(name)) or name in places


def _rounded(value: float) -> float:
    """To a thousandth, without a negative zero."""
    return round(value, 3) + 0.0
