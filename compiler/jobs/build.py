"""Build: the pattern of each body as an SVG plate and as tiled pages."""

from __future__ import annotations

from collections.abc import Callable, Hashable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property, partial
from pathlib import PurePath
from typing import Literal

from ..bodies.body import Body
from ..bodies.cautions import cautioned
from ..bodies.vocabulary import LEVELS
from ..diagnostics.diagnostic import Diagnostic
from ..diagnostics.grouping import grouped, trouble_of
from ..drawing.arrange import Title, arrange, by_itself
from ..drawing.lettering import VERSION
from ..drawing.marks import Drawing, Layer, Reals, Sheet
from ..drawing.nest import Nested, nested_piece
from ..drawing.nest_signs import NestSign
from ..drawing.pages import PAPERS, Paper, joints, paginate
from ..drawing.piece import Plain, plain_piece
from ..drawing.seam_map import beneath, map_sheets
from ..drawing.wording import Levels, PieceInfo, Unit
from ..finish.finished import FinishedPiece
from ..finish.halves import centres_of, half_of
from ..finish.stated import HEMS, allowance_of
from ..geometry.tolerances import COINCIDE
from ..output.command_records import LeftOut
from ..output.pdf import pdf_bytes
from ..output.summary import answers, failing
from ..output.svg import svg_text
from ..pattern.piece import Piece
from ..pattern.which_ends import Sewn, edge_named
from .files import Files, write
from .fullness import eases_on, gathers_on
from .keeping import KEEP_NOTHING, Keeping
from .openings import endings
from .outcome import results_of
from .prepare import Prepared
from .results import BodyResult
from .seam_map import seam_map
from .toile import Toile, toile

CAUTIONS = (
    "Check the test square before cutting.",
    "Print at 100 %, without fitting to the page.",
)
FITTER = "A body with medical needs, or a garment that supports or protects it, belongs in the hands of a fitter."


PICTURE = 160.0
"""How wide and how high (mm) a picture is at most that is to be looked at and not to be cut by."""


@dataclass(frozen=True)
class Wanted:
    """How a pattern is drawn: the paper of its pages, the levels of the body on it or not, and whether it is that of a toile."""

    paper: Paper = "a4"
    levels: bool = True
    toile: bool = False


@dataclass(frozen=True)
class Built:
    """What building came to: the paths written; the pieces left out of a toile, each once, and what is told of its cut lines."""

    written: tuple[str, ...]
    problem: Diagnostic | None = None
    left_out: tuple[LeftOut, ...] = ()
    doubts: tuple[Diagnostic, ...] = ()


@dataclass(frozen=True)
class Plate:
    """The pieces of one body as drawings, with a sign for the version, what stands over them, and the version; the pieces left
    out of a toile, and what is told of its own; by what its sheet is kept; how its seam map is drawn, where that is asked for."""

    drawings: list[Drawing]
    title: Title
    version: str
    left_out: tuple[LeftOut, ...] = ()
    doubts: tuple[Diagnostic, ...] = ()
    key: bytes = b""
    draw_map: Callable[[], tuple[Sheet, ...]] = tuple

    @cached_property
    def maps(self) -> tuple[Sheet, ...]:
        """The pages of its seam map: none of a draft, nor of a toile, which has not all its pieces."""
        return self.draw_map()


def build(files: Files, prepared: Prepared, folder: str, wanted: Wanted, tell: Callable[[BodyResult], None]) -> Built:
    """Draw every sound body and write all files, or none; `tell` hears of each body when it is come to, so that no more than a
    chunk of bodies is kept."""
    assert prepared.style is not None
    style, results = PurePath(prepared.style.file).stem, results_of(prepared)
    written: list[str] = []
    left_out: dict[LeftOut, None] = {}
    doubts: list[Diagnostic] = []

    def contents() -> Iterator[tuple[str, bytes]]:
        """Each body is drawn when its files are written, so that only one is held at a time."""
        for result, body in zip(results, prepared.bodies, strict=True):
            tell(result)
            if not result.errors:
                stem = PurePath(folder) / f"{style}_{body.file_name}{'_toile' if wanted.toile else ''}"
                made = plate(prepared, result, body, wanted)
                yield f"{stem}.svg", as_svg(made, prepared.keeping).encode("utf-8")
                yield f"{stem}.pdf", as_pdf(made, wanted.paper)
                written.extend((f"{stem}.svg", f"{stem}.pdf"))
                if made.maps:
                    yield f"{stem}_seams.svg", svg_text(beneath(made.maps)).encode("utf-8")
                    written.append(f"{stem}_seams.svg")
                left_out.update(dict.fromkeys(made.left_out))
                doubts.extend(made.doubts)

    problem = write(files, contents())
    for result in results:  # those not come to where writing failed
        tell(result)
    return Built(() if problem else tuple(written), problem, tuple(left_out), grouped(doubts))


def as_svg(made: Plate, keeping: Keeping = KEEP_NOTHING) -> str:
    """All pieces of one body on one sheet at true scale."""
    text = keeping.written.made(made.key, lambda: svg_text(arrange(made.drawings, made.title)))
    return text.replace(VERSION, made.version)


def as_picture(made: Plate, piece: str = "") -> str:
    """All pieces of one body, or one of them, as small as a screen shows them."""
    if not piece:
        return svg_text(arrange(made.drawings, made.title), PICTURE).replace(VERSION, made.version)
    drawing = next(one for one in made.drawings if one.name == piece.replace("_", " "))
    return svg_text(by_itself(drawing), PICTURE).replace(VERSION, made.version)


def as_pdf(made: Plate, paper: Paper) -> bytes:
    """All pieces of one body on pages to print, the seam map behind the pages in front."""
    notes = (*CAUTIONS, *made.title.cautions, FITTER)
    pages = paginate([one.of_version(made.version) for one in made.drawings], made.title, paper, notes)
    return pdf_bytes(replace(pages, front=(*pages.front, *(page.marks for page in made.maps))))


def map_svg(prepared: Prepared, result: BodyResult, paper: Paper) -> str | None:
    """The seam map of one body, as large as a page of a paper; None of a draft."""
    pages = _map(prepared, result, paper)
    return svg_text(beneath(pages)) if pages else None


def _map(prepared: Prepared, result: BodyResult, paper: Paper) -> tuple[Sheet, ...]:
    found = seam_map(prepared, result)
    return () if found is None else map_sheets(found, *PAPERS[paper])


@dataclass(frozen=True)
class Nesting:
    """What a plate needs to show sizes in one: what stands for the body, the legend of lines, each piece in its sizes, where
    they are laid in words, and what is told of all of them."""

    whom: str
    legend: tuple[tuple[Layer | NestSign, str], ...]
    pieces: Mapping[str, Nested]
    laid: Mapping[str, str]
    told: tuple[str, ...] = ()


def plate(prepared: Prepared, result: BodyResult, body: Body, wanted: Wanted, nesting: Nesting | None = None) -> Plate:
    """The pieces of one body, their words clear of where pages are joined; with `nesting`, of which it is the sample, in all its
    sizes."""
    style = prepared.style
    assert style is not None
    unit: Unit = "in" if body.unit == "in" else "cm"
    cloths: Mapping[str, FinishedPiece] = {one.name: one.alone() for one in result.pieces}
    made = toile(style, result, {name: cloth.piece for name, cloth in cloths.items()}) if wanted.toile else Toile(cloths, (), ())
    cloths = made.pieces
    pieces = {name: cloth.piece for name, cloth in cloths.items()}
    sewn = Sewn(pieces, result.seams)
    ends, gathers, eases = endings(result, sewn), gathers_on(result, sewn, unit), eases_on(result, sewn, unit)
    infos = {
        name: replace(
            _info(prepared, result, name, piece, body, wanted),
            number=number,
            many=len(pieces),
            gathers=gathers.get(name, ()),
            eases=eases.get(name, ()),
            endings=ends.get(name, ()),
            laid=nesting.laid[name] if nesting else "",
            sample=result.name if nesting else "",
            body=nesting.whom if nesting else result.name,
        )
        for number, (name, piece) in enumerate(pieces.items(), 1)
    }
    keep = prepared.keeping
    lined = [_lined(keep, cloth, infos[name], nesting.pieces[name] if nesting else None) for name, cloth in cloths.items()]
    known = nesting.told if nesting else tuple(one.line for one in known_of(prepared, result))
    cautions, whom = (*cautioned(body, in_full=False), *known), nesting.whom if nesting else result.name
    title = Title(_title(style.title, wanted), whom, unit, cautions, nesting.legend if nesting else ())
    worded = _worded(keep, lined, wanted.paper)
    key = keep.digest(title, *(one.key for one in worded))
    drawings = [one.drawing for one in worded]
    mapped = tuple if wanted.toile else partial(_map, prepared, result, wanted.paper)
    return Plate(drawings, title, prepared.fingerprint, made.left_out, made.doubts, key, mapped)


@dataclass(frozen=True)
class Known:
    """Something that must be known before a body is cut. `what` it is alike on bodies whose figures differ; `kind`: that it is
    not to be cut, what was not measured, or what is to be said of this body; `figure`: its number, where it has one."""

    kind: Literal["fails", "guessed", "body"]
    what: Hashable
    text: str
    figure: str = ""

    @property
    def line(self) -> str:
        """As it stands on the plate of the body."""
        told = f"{self.text} ({self.figure})" if self.figure else self.text
        return f"Of this body: {told}" if self.kind == "body" else told


def known_of(prepared: Prepared, result: BodyResult) -> tuple[Known, ...]:
    """What must be known before it is cut: what fails, what was not measured and is marked on no piece, what is doubtful, what is
    told."""
    held = answers(result.checks, result.seams, result.specification.closures, result.fits)
    wrong = [] if all(all(answers) for answers in held.values()) else [failing(held)]
    wrong += [] if result.assembly.holds is not False else ["the seams do not make a garment"]
    fails = f"Not to be cut so: {', and '.join(wrong)}; `report` tells which."
    guessed = {one.name: f"{one.name.replace('_', ' ')}, {one.how}" for one in result.estimated if not one.pieces}
    doubts = {one.message: one for one in (*prepared.doubted.get(result.name, ()), *result.warnings)}
    return (
        *(Known("fails", "", fails) for _ in wrong[:1]),
        *(Known("guessed", name, f"Not measured: {text}.") for name, text in guessed.items()),
        *(Known("body", trouble_of(one), message) for message, one in doubts.items()),
        *(Known("body", one.name, one.text or one.condition, one.figures.partition(",")[0]) for one in result.tidings),
    )


@dataclass(frozen=True, eq=False)
class _Lined:
    """A piece drawn without words, and a digest of what it is drawn from."""

    plain: Plain
    key: bytes

    def worded(self, keep: Keeping, joints: Sequence[Reals]) -> _Worded:
        key = keep.digest(self.key, joints)
        return _Worded(keep.worded.made(key, lambda: self.plain.worded(joints)), key)


@dataclass(frozen=True, eq=False)
class _Worded:
    """A drawing with its words, and a digest as above."""

    drawing: Drawing
    key: bytes


def _lined(keep: Keeping, cloth: FinishedPiece, info: PieceInfo, nested: Nested | None) -> _Lined:
    key = keep.digest(cloth, info, nested)
    return _Lined(keep.drawn.made(key, lambda: nested_piece(nested, info) if nested else plain_piece(cloth, info)), key)


def _worded(keep: Keeping, lined: Sequence[_Lined], paper: Paper) -> list[_Worded]:
    """The drawings with their words clear of joints. Words beside a piece may move others on the paper: those once more."""
    first = joints([one.plain.drawing for one in lined], paper)
    worded = [one.worded(keep, across) for one, across in zip(lined, first, strict=True)]
    rows = zip(lined, worded, first, joints([one.drawing for one in worded], paper), strict=True)
    return [made if _alike(before, across) else one.worded(keep, across) for one, made, before, across in rows]


def _alike(one: Sequence[Reals], other: Sequence[Reals]) -> bool:
    return len(one) == len(other) and all(float(abs(a - b).max()) < COINCIDE for a, b in zip(one, other, strict=True))


def _title(style: str, wanted: Wanted) -> str:
    return f"{style}, toile" if wanted.toile else style


def _levels(wanted: Wanted) -> Levels:
    if not wanted.levels:
        return "none"
    return "strong" if wanted.toile else "light"


def _info(prepared: Prepared, result: BodyResult, name: str, piece: Piece, body: Body, wanted: Wanted) -> PieceInfo:
    assert prepared.style is not None
    seams: dict[str, str] = {}
    for seam in result.seams:
        called = seam.name.partition(".")[0].replace("_", " ")  # which side it is on the piece tells
        for names in (seam.left, seam.right):
            for one in names:
                owner, edge = edge_named(one)
                if owner == name:
                    seams[edge] = _together(seams.get(edge), called)
    half = half_of(piece)
    centre, middle = f"centre {half}" if half else "", centres_of(name, piece, result.seams)
    for edge in middle:
        if edge in seams and centre not in seams[edge]:
            seams[edge] = f"{centre}, {seams[edge]}"
    napped = {cloth.name for cloth in result.specification.cloths if cloth.nap}
    return PieceInfo(
        name.replace("_", " "),
        style=_title(prepared.style.title, wanted),
        body=result.name,
        fingerprint=VERSION,
        seam_names=seams,
        called={**_neatened(result, name, piece, seams), **dict.fromkeys(middle, centre)},
        fold=centre if piece.fold else "",
        estimated=tuple(one.name.replace("_", " ") for one in result.estimated if name in one.pieces),
        unit="in" if body.unit == "in" else "cm",
        levels=_levels(wanted),
        levels_called=LEVELS.get(body.wearer, {}),
        nap=bool(napped & {cut.cloth for cut in piece.finish.cuts}),
    )


def _neatened(result: BodyResult, name: str, piece: Piece, seams: Mapping[str, str]) -> dict[str, str]:
    """How edges are finished that are sewn to nothing and are no hem by their name: a bound edge looks like any seam, and a
    facing cut in one with its piece like any hem."""
    found: dict[str, str] = {}
    for way in result.specification.sewing:
        for one in way.place:
            owner, edge = edge_named(one)
            sides = piece.sides(edge) if owner == name and edge not in seams else ()
            words = edge.split("_")
            if sides and (allowance_of(piece, sides[0]).corner not in HEMS or "hem" not in words):
                found[edge] = f"{' '.join(words)}, {' '.join(word for word in way.name.split('_') if word not in words)}"
    return found


def _together(one: str | None, other: str) -> str:
    """The name of an edge that takes part in two seams, as a back that is cut twice does: the words they share."""
    if one is None:
        return other
    shared = [a for a, b in zip(one.split(), other.split(), strict=False) if a == b]
    return " ".join(shared) or f"{one}, {other}"
