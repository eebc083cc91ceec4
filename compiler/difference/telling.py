"""What differs on the cloth as lines of text, of one body; and of several bodies together, a row for each thing that is told."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from ..diagnostics import difference_words as words
from ..geometry.tolerances import FLAT, SEW
from .cloth import ClothDifference, EdgeOnBody, PieceDifference, PieceOnBody
from .figures import Figures
from .moves import LENGTHS, Move, moves_of, runs_on, told_point
from .notches import NotchChange

HALVES = ("left", "right")


@dataclass(frozen=True)
class Row:
    """What is told of pieces, and how much it is on each body, mm, by its name: none where it does not occur there. `mm` None: no
    number, on these `bodies`. `otherwise`: what is told in other words, body by body."""

    pieces: tuple[str, ...]
    told: str
    mm: Mapping[str, float] | None
    bodies: tuple[str, ...]
    otherwise: tuple[str, ...] = ()

    @property
    def worst(self) -> tuple[str, float]:
        """The body on which it is the most."""
        numbers = self.mm or {}
        body = max(numbers, key=lambda name: abs(numbers[name]), default="")
        return body, numbers.get(body, 0.0)


def lines_of(piece: PieceOnBody, figures: Figures, least: float = SEW) -> list[str]:
    """All that is told of a piece on one body, numbers in the words."""
    found = _stated_lines(piece, figures)
    found += [line for line, _ in _merged([(move.told(figures), abs(move.mm)) for move in moves_of(piece, least)])]
    found += [words.allowed(*_allowance(edge, figures), figures.moved(edge.cut_mm)) for edge in _allowed(piece)]
    found += [told_point(point, piece, figures) for point in piece.points if point.vector is None or point.most >= least]
    if (ends := _run_on(piece)) >= least:
        found.append(words.ends_with_edges(figures.moved(ends)))
    if (levels := _levels(piece)) >= least:
        found.append(words.levels_moved(figures.moved(levels)))
    if _is_cut_elsewhere(piece, least):
        found.append(words.cut_line(figures.moved(piece.cut_mm)))
    found += [line for change in _notch_groups(piece) for line in _notch_lines(change, figures)]
    return found + small_lines(piece, figures, least)


def _stated_lines(piece: PieceOnBody, figures: Figures) -> list[str]:
    """What changes without a line moving."""
    found = []
    if piece.laying.mirrored:
        found.append(words.mirrored())
    for one in piece.stated:
        cloth = one.what.removeprefix("cut in ")
        found.append(words.cut(cloth, one.new, one.old) if cloth != one.what else words.stated(one.what, one.new, one.old))
    if piece.grain_deg is not None:
        found.append(words.grain_turned(piece.grain_deg))
    for edge in piece.edges:
        if edge.status in ("renamed", "parted"):
            found.append(words.named_anew(edge.old_names, edge.name.split(" and ")))
        if edge.is_allowed_otherwise:
            found += _hem_lines(edge, figures)
    return found + ([words.laid_at(piece.laying.by)] if piece.laying.by else [])


def _hem_lines(edge: EdgeOnBody, figures: Figures) -> Iterator[str]:
    told = words.spoken(edge.name)
    if abs(edge.under[0] - edge.under[1]) > FLAT:
        yield words.turned_under(told, figures.width(edge.under[1]), figures.width(edge.under[0]))
    if edge.corner[0] != edge.corner[1]:
        yield words.cornered(told, edge.corner[1], edge.corner[0])


def _allowed(piece: PieceOnBody) -> list[EdgeOnBody]:
    return [edge for edge in piece.edges if edge.is_allowed_otherwise and abs(edge.width[0] - edge.width[1]) > FLAT]


def _allowance(edge: EdgeOnBody, figures: Figures) -> tuple[str, str, str]:
    return words.spoken(edge.name), figures.width(edge.width[1]), figures.width(edge.width[0])


def _levels(piece: PieceOnBody) -> float:
    """How far a level of the body, drawn on the piece, lies elsewhere on its cloth."""
    return max((edge.across for edge in piece.edges if edge.kind == "level"), default=0.0)


def _run_on(piece: PieceOnBody) -> float:
    """How far lines inside only end elsewhere."""
    return max((edge.most for edge in piece.edges if runs_on(edge)), default=0.0)


def _merged(told: Sequence[tuple[str, float]]) -> list[tuple[str, float]]:
    """Lines with their numbers, mm; those that tell the same of things that are counted, as pleats, once."""
    found: list[tuple[list[str], float]] = []
    for line, mm in told:
        alike = next((row for row, far in found if round(far, 1) == round(mm, 1) and words.numbered([*row, line])), None)
        if alike is None:
            found.append(([line], mm))
        else:
            alike.append(line)
    return [(words.numbered(row) if len(row) > 1 else row[0], mm) for row, mm in found]


def _is_cut_elsewhere(piece: PieceOnBody, least: float) -> bool:
    """Whether the cut line moved though no sewing line did and no allowance is another: a corner that is made otherwise."""
    return piece.cut_mm >= least and not _allowed(piece) and not moves_of(piece, least)


def _notch_groups(piece: PieceOnBody) -> list[tuple[str, list[NotchChange]]]:
    """Changes of notches by edge, as it is said; those of both halves that moved alike together."""
    found: dict[str, list[NotchChange]] = {}
    for change in piece.notches:
        found.setdefault(change.edge, []).append(change)
    told: dict[str, list[NotchChange]] = {}
    for edge, changes in found.items():
        half = edge.split("_")[0]
        twin = found.get(f"{'right' if half == 'left' else 'left'}_{words.both(edge)}", []) if half in HALVES else []
        alike = [round(max((one.most for one in row), default=-1.0), 1) for row in (changes, twin)]
        still = not any(change.is_recounted or change.old_strokes != change.new_strokes for change in (*changes, *twin))
        together = bool(twin) and alike[0] == alike[1] and still
        told.setdefault(words.subject(edge, together), []).extend(changes)
    return sorted(told.items(), key=lambda one: -max(change.most for change in one[1]))


def _notch_lines(group: tuple[str, list[NotchChange]], figures: Figures) -> Iterator[str]:
    edge, changes = group
    most = max(change.most for change in changes)
    if most >= SEW:
        yield words.notches_moved(edge, figures.moved(most))
    told: dict[str, None] = {}
    for change in changes:
        if change.is_recounted:
            places = [[f"{figures.place(mm)}" for mm in row] for row in (change.new_mm, change.old_mm)]
            told[words.notches_recounted(edge, *places)] = None
        elif change.old_strokes != change.new_strokes:
            told[words.notch_strokes(edge, change.new_strokes, change.old_strokes)] = None
    yield from told


def small_lines(piece: PieceOnBody, figures: Figures, least: float) -> list[str]:
    """What moved by less than is told, but by more than nothing."""
    little = _little(piece, least)
    return [words.small([*little], figures.moved(max(little.values())))] if little else []


def _little(piece: PieceOnBody, least: float) -> dict[str, float]:
    """Edges and points that moved by less than is told, but by more than nothing; else levels and the cut line that did."""
    lines = {edge.name: edge.most for edge in piece.edges if edge.kind != "level" and edge.status not in ("new", "gone")}
    lines |= {point.name: point.most for point in piece.points}
    found = {name: mm for name, mm in lines.items() if FLAT < mm < least}
    if not found and not moves_of(piece, least):
        found = {name: mm for name, mm in (("levels", _levels(piece)), ("cut line", piece.cut_mm)) if FLAT < mm < least}
    return found


def rows_of(difference: ClothDifference, least: float = SEW) -> tuple[Row, ...]:
    """All that is told of the pieces on all bodies: pieces by their most, in a piece its edges by their most, notches last; rows
    that are the same of several pieces once."""
    units = {body.name: Figures(body.unit) for body in difference.bodies}
    found = [row for piece in difference.pieces for row in _rows(piece, units, least)]
    return tuple(_together(found))


def _rows(piece: PieceDifference, units: Mapping[str, Figures], least: float) -> Iterator[Row]:
    all_of = tuple(one.body for one in piece.bodies)
    if piece.present != "both":
        yield Row((piece.name,), words.piece_new() if piece.present == "new" else words.piece_gone(), None, ())
        return
    if piece.name != piece.old_name:
        yield Row((piece.name,), words.piece_renamed(piece.old_name), None, all_of)
    yield from _unnumbered(piece, units)
    numbered = [*_move_rows(piece, units, least), *_allowance_rows(piece, units), *_point_rows(piece, units, least)]
    yield from sorted(numbered, key=lambda row: -abs(row.worst[1]))
    yield from _cut_rows(piece, least)
    yield from _notch_rows(piece, units)
    yield from _small_rows(piece, units, least)


def _unnumbered(piece: PieceDifference, units: Mapping[str, Figures]) -> Iterator[Row]:
    told: dict[str, list[str]] = {}
    for one in piece.bodies:
        for line in _stated_lines(one, units[one.body]):
            told.setdefault(line, []).append(one.body)
    for line, bodies in told.items():
        yield Row((piece.name,), line, None, tuple(bodies))


def _move_rows(piece: PieceDifference, units: Mapping[str, Figures], least: float) -> Iterator[Row]:
    """Of an edge one row, in the words of the body on which it moves most; on whom it moves otherwise is told with it."""
    found: dict[tuple[str, bool, bool], dict[str, Move]] = {}
    for one in piece.bodies:
        for move in moves_of(one, least):
            found.setdefault((move.name, move.case in LENGTHS, move.halves), {})[one.body] = move
    for (edge, is_length, halves), moves in found.items():
        worst = max(moves, key=lambda body: abs(moves[body].mm))
        told = moves[worst].told(units[worst], by=False)
        unlike = [(body, move) for body, move in moves.items() if not move.is_like(moves[worst])]
        other = [words.otherwise(body, move.told(units[body])) for body, move in unlike]
        numbers = {body: abs(move.mm) for body, move in moves.items()}
        if not is_length and not halves:
            numbers |= _below(piece, edge, numbers)
        yield Row((piece.name,), told, numbers, (), tuple(other))


def _below(piece: PieceDifference, edge: str, told: Mapping[str, float]) -> dict[str, float]:
    """How far an edge moved on bodies on which it is not told."""
    return {
        one.body: own.most
        for one in piece.bodies
        for own in one.edges
        if own.name == edge and one.body not in told and own.most > FLAT
    }


def _allowance_rows(piece: PieceDifference, units: Mapping[str, Figures]) -> Iterator[Row]:
    found: dict[str, dict[str, float]] = {}
    for one in piece.bodies:
        for edge in _allowed(one):
            told = words.allowed(*_allowance(edge, units[one.body]), "")
            found.setdefault(f"{told}: cut edge moves", {})[one.body] = edge.cut_mm
    for told, numbers in found.items():
        yield Row((piece.name,), told, numbers, ())


def _point_rows(piece: PieceDifference, units: Mapping[str, Figures], least: float) -> Iterator[Row]:
    found: dict[str, dict[str, tuple[float, str]]] = {}
    lone: dict[str, list[str]] = {}
    for one in piece.bodies:
        for point in one.points:
            told = told_point(point, one, units[one.body])
            if point.vector is None:
                lone.setdefault(told, []).append(one.body)
            elif point.most >= least:
                found.setdefault(point.name, {})[one.body] = point.most, told
    for name, numbers in found.items():
        worst = max(numbers, key=lambda body: numbers[body][0])
        here = next(one for one in piece.bodies if one.body == worst)
        point = next(point for point in here.points if point.name == name)
        ways = told_point(point, here, _Wordless())
        yield Row((piece.name,), ways, {body: mm for body, (mm, _) in numbers.items()}, ())
    for told, bodies in lone.items():
        yield Row((piece.name,), told, None, tuple(bodies))


class _Wordless(Figures):
    """No number in the words, since it stands in the table."""

    def moved(self, mm: float) -> str:
        return ""


def _cut_rows(piece: PieceDifference, least: float) -> Iterator[Row]:
    ends = {one.body: far for one in piece.bodies if (far := _run_on(one)) >= least}
    if ends:
        yield Row((piece.name,), words.ends_with_edges(""), ends, ())
    levels = {one.body: far for one in piece.bodies if (far := _levels(one)) >= least}
    if levels:
        yield Row((piece.name,), words.levels_moved(""), levels, ())
    numbers = {one.body: one.cut_mm for one in piece.bodies if _is_cut_elsewhere(one, least)}
    if numbers:
        yield Row((piece.name,), words.cut_line(""), numbers, ())


def _notch_rows(piece: PieceDifference, units: Mapping[str, Figures]) -> Iterator[Row]:
    moved: dict[str, dict[str, float]] = {}
    lines: dict[str, list[str]] = {}
    for one in piece.bodies:
        for edge, changes in _notch_groups(one):
            most = max(change.most for change in changes)
            if most >= SEW:
                moved.setdefault(edge, {})[one.body] = most
            still = [change for change in changes if change.is_recounted or change.old_strokes != change.new_strokes]
            for line in _notch_lines((edge, still), units[one.body]) if still else ():
                lines.setdefault(line, []).append(one.body)
    for edge, numbers in sorted(moved.items(), key=lambda one: -max(one[1].values())):
        yield Row((piece.name,), words.notches_moved(edge, ""), numbers, ())
    for line, bodies in lines.items():
        yield Row((piece.name,), line, None, tuple(bodies))


def _small_rows(piece: PieceDifference, units: Mapping[str, Figures], least: float) -> Iterator[Row]:
    """One row for all that moved by less than a pencil line, where no row tells of its edge."""
    told = {words.both(move.edge) for one in piece.bodies for move in moves_of(one, least)}
    names: dict[str, None] = {}
    numbers: dict[str, float] = {}
    for one in piece.bodies:
        for name, mm in _little(one, least).items():
            if words.both(name) not in told:
                names[name] = None
                numbers[one.body] = max(numbers.get(one.body, 0.0), mm)
    if names:
        worst = max(numbers, key=lambda body: numbers[body])
        yield Row((piece.name,), words.small([*names], units[worst].moved(numbers[worst])), numbers, ())


def _together(rows: Sequence[Row]) -> list[Row]:
    """Rows of several pieces that are the same, to a tenth of a mm, once."""
    found: dict[tuple[object, ...], Row] = {}
    for row in rows:
        numbers = None if row.mm is None else tuple((body, round(mm, 1)) for body, mm in sorted(row.mm.items()))
        key = (row.told, numbers, row.bodies, row.otherwise)
        more = (*found[key].pieces, *row.pieces) if key in found else row.pieces
        found[key] = replace(row, pieces=tuple(dict.fromkeys(more)))
    return _once(found.values())


def _once(rows: Iterable[Row]) -> list[Row]:
    """Rows that tell the same of things that are counted once."""
    found: list[tuple[Row, list[str]]] = []
    for row in rows:
        alike = next((told for one, told in found if _is_alike(one, row) and words.numbered([*told, row.told])), None)
        if alike is None:
            found.append((row, [row.told]))
        else:
            alike.append(row.told)
    return [replace(row, told=words.numbered(told)) if len(told) > 1 else row for row, told in found]


def _is_alike(one: Row, other: Row) -> bool:
    """Whether two rows tell the same numbers of the same pieces."""
    if (one.pieces, one.bodies, one.otherwise) != (other.pieces, other.bodies, other.otherwise):
        return False
    mine, theirs = ({body: round(mm, 1) for body, mm in (row.mm or {}).items()} for row in (one, other))
    return (one.mm is None) == (other.mm is None) and mine == theirs
