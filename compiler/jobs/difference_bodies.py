"""A style of two sides on bodies: what changes on the cloth, as a record, and its overlays."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import Protocol

from ..bodies.body import Body
from ..diagnostics.diagnostic import Diagnostic
from ..difference.beside import FinishedRow, finished_rows, said_rows
from ..difference.cloth import BodyCloth, ClothDifference, compare
from ..difference.figures import Figures
from ..difference.table import table
from ..difference.telling import Row, rows_of
from ..output import difference_records as r
from ..output.svg import svg_text
from .charts import with_sizes
from .difference_cloth import body_cloth
from .difference_overlay import overlay_of
from .files import Disk
from .keeping import KEEP_NOTHING, MOST_BODIES, Keeping
from .outcome import results_of
from .prepare import Prepared, prepare_style, with_bodies
from .sized_choices import Sized
from .workspace import Workspace

Both = tuple[Prepared, Prepared]


class Asked(Protocol):
    """On whom, and how, a style is drawn."""

    @property
    def bodies(self) -> tuple[str, ...]: ...
    @property
    def sizes(self) -> str: ...
    @property
    def only(self) -> str: ...
    @property
    def settings(self) -> tuple[str, ...]: ...
    @property
    def least(self) -> float: ...
    @property
    def overlays(self) -> bool: ...


class Style(Protocol):
    @property
    def title(self) -> str: ...
    @property
    def file(self) -> str: ...
    @property
    def old_file(self) -> str | None: ...
    def renamed(self, kind: str) -> Mapping[str, str]: ...


@dataclass(frozen=True)
class Drawn:
    """What came of it, on both sides and together, and what was kept; no record where no body was asked for, or one is wrong."""

    record: r.ClothRecord | None
    overlays: Mapping[str, bytes] = field(default_factory=dict)
    wrong: tuple[Diagnostic, ...] = ()
    texts: Mapping[str, str] = field(default_factory=dict)
    cloths: tuple[Sequence[BodyCloth], Sequence[BodyCloth]] | None = None
    keeping: Keeping = KEEP_NOTHING


def on_bodies(both: Both, places: tuple[Workspace, Workspace], asked: Asked, style: Style) -> Drawn:
    """Both sides on the bodies that are asked for, which lie on the disk and are those of now."""
    if not asked.bodies and not asked.sizes:
        return Drawn(None)
    files = style.old_file or style.file, style.file
    prepared = [on_asked(one, place, file, asked) for one, place, file in zip(both, places, files, strict=True)]
    old_wrong, wrong = ([one for one in side.diagnostics if one.is_error] for side in prepared)
    wrong += [one for one in old_wrong if one not in wrong]
    if wrong:
        return Drawn(None, wrong=tuple(wrong), texts={**prepared[0].texts, **prepared[1].texts})
    keeping = Keeping() if len(prepared[1].bodies) <= MOST_BODIES else KEEP_NOTHING
    old, new = cloths_of(prepared[0], keeping), cloths_of(prepared[1], keeping := keeping.later())
    difference = compare(old, new, style.renamed("piece"), style.renamed("seam"))
    overlays = dict(_overlays(style, difference, old, new, asked))
    return Drawn(cloth_record(difference, asked.least), overlays, cloths=(old, new), keeping=keeping)


def cloths_of(prepared: Prepared, keeping: Keeping) -> Sequence[BodyCloth]:
    """What a style comes to on its bodies; of what is kept only what is new is worked out."""
    return tuple(map(body_cloth, results_of(replace(prepared, keeping=keeping))))


def on_asked(prepared: Prepared, place: Workspace, style: str, asked: Asked) -> Prepared:
    """A style with the bodies, or in the sizes, that are asked for."""
    if not asked.sizes:
        return with_bodies(Disk(), prepared, asked.bodies)

    def again(sized: Sized) -> Prepared:
        return prepare_style(place, style, asked.settings, sized)

    return with_sizes(Disk(), prepared, asked.sizes, asked.only, asked.settings, again)[0]


def _overlays(
    style: Style, difference: ClothDifference, old: Sequence[BodyCloth], new: Sequence[BodyCloth], asked: Asked
) -> Iterator[tuple[str, bytes]]:
    if not asked.overlays:
        return
    stem = style.file.removesuffix(".style").replace("/", "_")  # styles of several folders may have one name
    for before, after in zip(old, new, strict=True):
        if before.errors or after.errors:
            continue
        sheet = overlay_of(f"{style.title}, {after.name}", difference, before, after, least=asked.least)
        if sheet is not None:
            body = Body(after.name, after.unit, None, {})
            yield f"{stem}_{body.file_name}_difference.svg", svg_text(sheet).encode("utf-8")


def cloth_record(difference: ClothDifference, least: float) -> r.ClothRecord:
    """What is told of it."""
    rows = rows_of(difference, least)
    drawn = [one for one in difference.bodies if one.drawn == "both"]
    figures = {one.name: Figures(one.unit) for one in drawn}
    told = table(rows, figures, least)
    return r.ClothRecord(
        same=difference.is_same,
        bodies=tuple(one.name for one in difference.bodies),
        rows=tuple(_row(one) for one in rows),
        heads=told.heads,
        table=told.rows,
        finished=tuple(_finished(one) for one in finished_rows(difference)),
        said=tuple(r.SaidRow(one.kind, one.name, one.told, one.bodies) for one in said_rows(difference)),
        undrawn=tuple(r.UndrawnRow(one.name, one.errors) for one in difference.bodies if one.drawn == "neither"),
    )


def _row(row: Row) -> r.ClothRow:
    return r.ClothRow(row.pieces, row.told, {body: _mm(mm) for body, mm in (row.mm or {}).items()}, row.bodies, row.otherwise)


def _mm(mm: float) -> float:
    return round(mm, 6)


def _finished(one: FinishedRow) -> r.FinishedRow:
    more = {body: None if mm is None else _mm(mm) for body, mm in one.more.items()}
    return r.FinishedRow(one.name, one.tolerance, more, one.beyond)
