"""The garment in the report: what is the same on all bodies, and what it comes to on one."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from ..assembly.order import Place
from ..assembly.proof import Structure
from ..assembly.sewn import SewnOnce, Stretch
from ..diagnostics.assembly_words import WHY
from ..diagnostics.printing import print_diagnostic
from ..output.garment_records import (
    AssemblyRecord,
    EndsRecord,
    GarmentRecord,
    NeedRecord,
    OpeningRecord,
    PanelRecord,
    SewnLength,
    SewnRecord,
    StepRecord,
)
from .assembled import Assembly
from .results import AssemblyResult, BodyResult, OpeningResult


def garment_record(assembly: Assembly, texts: Mapping[str, str]) -> GarmentRecord:
    """The garment of a style."""
    made = assembly.whole.structure
    return GarmentRecord(
        assembly.judged,
        "" if assembly.judged else assembly.told,
        tuple(_panels(made)),
        tuple(_sewn(made, one) for one in made.sewn),
        tuple(_ends(made)),
        tuple(tuple(sorted(panel_id(made, *panel) for panel in part)) for part in made.parts),
        tuple(print_diagnostic(one, texts) for one in assembly.diagnostics),
    )


def panel_id(made: Structure, piece: str, panel: int) -> str:
    """What a panel is called: its piece, with a number where there are several."""
    return piece if made.pieces[piece].count == 1 else f"{piece} {panel + 1}"


def _panels(made: Structure) -> Iterator[PanelRecord]:
    for name, piece in made.pieces.items():
        for n in range(piece.count):
            ident = panel_id(made, name, n)
            inside = name in made.inside
            yield PanelRecord(ident, name, piece.cut.cloth, piece.half_of(n), piece.is_mirrored(n), inside)


def _sewn(made: Structure, one: SewnOnce) -> SewnRecord:
    left, right = (tuple(edge for stretch in run for edge in _layers(made, stretch)) for run in (one.left, one.right))
    return SewnRecord(one.name, one.half, left, right)


def _layers(made: Structure, stretch: Stretch) -> Iterator[str]:
    owner, edge = stretch.edge
    yield from dict.fromkeys(f"{panel_id(made, owner, layer.panel)}.{edge}" for layer in stretch.layers)


def _ends(made: Structure) -> Iterator[EndsRecord]:
    for atom, ends in made.endings.items():
        said = tuple(dict.fromkeys(one.sentence or one.how for one in ends))
        yield EndsRecord(panel_id(made, atom.piece, atom.panel), made.pieces[atom.piece].side(atom).edge, said)


# ---- on one body -----------------------------------------------------------------------------------


def assembly_record(result: BodyResult, texts: Mapping[str, str]) -> AssemblyRecord:
    """What the garment comes to on a body."""
    found = result.assembly
    surface = found.whole.laid.surface if found.whole else None
    return AssemblyRecord(
        found.holds,
        tuple(_opening(one) for one in found.openings),
        surface.sheets if surface else 0,
        surface.characteristic if surface else 0,
        surface.handles if surface else None,
        tuple(StepRecord(one.name, one.kind, needs(one), one.in_round) for one in (found.whole.order if found.whole else ())),
        tuple(SewnLength(name, round(mm, 3)) for name, mm in lengths(result).items()),
        tuple(print_diagnostic(one, texts) for one in found.wrong),
    )


def _opening(one: OpeningResult) -> OpeningRecord:
    girth, opened = round(one.girth_mm, 3), round(one.opened_mm, 3)
    return OpeningRecord(one.name, one.edges, one.half, girth, opened, one.finished, one.closures)


def lengths(result: BodyResult) -> dict[str, float]:
    """How much (mm) is sewn in each way on a body: its seams as often as they are sewn, and the edges it is of."""
    found: dict[str, float] = {}
    if result.assembly.whole is None:
        return found
    made = result.assembly.whole.structure
    for seam in result.seams:
        once = min(seam.left_mm, seam.right_mm)
        found[seam.sewn] = found.get(seam.sewn, 0.0) + once * times(made, seam.name)
    edges = {f"{piece.name}.{edge.name}": edge.length_mm for piece in result.pieces for edge in piece.edges}
    for way in made.said.sewing:
        for owner, edge in way.on:
            piece = made.pieces[owner]
            twice = 2 if piece.folds_open else 1
            found[way.name] = found.get(way.name, 0.0) + edges.get(f"{owner}.{edge}", 0.0) * piece.count * twice
    return found


def times(made: Structure, seam: str) -> int:
    """How often a seam is sewn; through all layers at once."""
    own = (one for one in made.sewn if one.name == seam)
    return len({(one.half, frozenset(layer.panel for layer in one.left[0].layers)) for one in own})


def place_of(found: AssemblyResult, seam: str) -> Place | None:
    return next((one for one in found.whole.order if one.name == seam), None) if found.whole else None


def needs(place: Place | None) -> tuple[NeedRecord, ...]:
    return tuple(NeedRecord(name, WHY[why]) for name, why in place.needs.items()) if place else ()


def moved(place: Place | None) -> tuple[str, str]:
    """Before which seam one comes that is written behind it, for another reason than that a sentence says so, and why."""
    if place is None or not place.moved_before or place.why == "said":
        return "", ""
    return place.moved_before, WHY[place.why]
