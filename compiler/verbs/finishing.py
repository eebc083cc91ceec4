"""What is stated for cutting, in the block of a piece: allowances, corners, grain, cut counts, notches, remarks."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from types import MappingProxyType
from typing import Any

import numpy as np

from ..geometry.curve import parallel_curve
from ..geometry.lanes import dot, norm, unit
from ..geometry.length import length
from ..geometry.tolerances import COINCIDE
from ..pattern.edges import edge_from, edge_path
from ..pattern.piece import Allowance, Corner, CutOrder, Lies, OperationNote, Piece, Pressed, Reals, Trouble
from ..pattern.remarks import Number, Remark
from ..pattern.ring import edge_run, place_on, point_of
from .kinds import PieceKind, piece
from .places import along as along_edge
from .registry import PlacedEdge, verb, word
from .values import Heading


def spot(word: str) -> PlacedEdge:
    """A place on the edge of a word, told apart from that of another word."""
    return PlacedEdge(f"{word}_at", f"{word}_share", f"{word}_end", f"{word}_near")


def _same(static: Mapping[str, Any]) -> PieceKind:
    return piece(static["piece"].sketch)


def _allowed(static: Mapping[str, Any]) -> PieceKind:
    sketch: Piece = static["piece"].sketch
    inside = [name for name in static.get("on", ()) if not sketch.run(name)]
    if inside:
        raise Trouble(f"`{inside[0]}` lies inside the piece: nothing is cut there", "allow on an edge of the outline")
    return _same(static)


CORNERS = "one of mitred squared shaped_to_fold stepped matched bagged"
CORNERS_TOLD = (
    "how it ends at its corners. `mitred`: its cut line and that of the edge beside it run on until they meet. "
    "`squared`: square to its own edge. `shaped_to_fold`: so that a hem, turned up, lies on the cut lines of its sides. "
    "`stepped`: so that it lies on their sewing lines, and their allowances end at its fold. "
    "`matched`: as the edge beside it lies once the seam is sewn, and pressed toward the edge that the seam names last. "
    "`bagged`: cut across, to be turned out"
)
REST = "seams"
"""What the allowance of all edges that none is stated for is kept under; no edge is called so."""


@verb(
    "allow",
    family="finish",
    doc="Seam and hem allowances: of the edges named, or of every edge that no other such sentence names. An edge that is "
    "named wins over the others, wherever it is named. Of several for one edge holds, in this order: what the piece says of it "
    "by name; what `each piece` says of it by name; what the piece says of its other edges; what `each piece` does. In the "
    "same braces an edge has one.",
    gives=_allowed,
    statement=True,
    subject=word("width", "length", "how wide it is"),
    words=(
        word("on", "several own edge", "the edges it is of; without it, those that no other such sentence names", optional=True),
        word("with_corners", CORNERS, CORNERS_TOLD, default="mitred"),
    ),
    example="allow 1 cm\nallow 3 cm on hem with_corners shaped_to_fold",
)
def allow(piece: Piece, subject: Reals, with_corners: Corner, on: Sequence[str] = (REST,)) -> Piece:
    negative = subject < 0
    if negative.any():
        named = " and ".join(f"`{name}`" for name in on if name != REST) or "the edges"
        wrong = f"the allowance of {named} is less than nothing"
        raise Trouble(wrong, "allow 0 cm or more", negative, {"width": subject})
    stated = {**piece.finish.allowances, **dict.fromkeys(on, Allowance(subject, with_corners))}
    made = _finished(piece, allowances=MappingProxyType(stated))
    hems = [name for name in on if with_corners in ("shaped_to_fold", "stepped") and name != REST]
    return made.with_note(*(told for name in hems for told in _turned_up(piece, name, subject)))


def _finished(piece: Piece, **changes: Any) -> Piece:
    return replace(piece, finish=replace(piece.finish, **changes))


def _stated(piece: Piece, name: str) -> Allowance:
    """The allowance an edge has so far: its own, else that of the seams, else none."""
    stated = piece.finish.allowances
    return stated.get(name) or stated.get(REST) or Allowance(np.zeros(1))


def _turned_up(piece: Piece, edge: str, width: Reals) -> list[OperationNote]:
    """Of a curved hem, the raw edge of its allowance and the line that comes to lie on: what is eased or stretched."""
    paths = edge_path(piece, edge)
    if all(all(path.straight) for path in paths):
        return []
    raw, lies = (sum((length(parallel_curve(path, side * width)) for path in paths), np.zeros(1)) for side in (-1.0, 1.0))
    return [OperationNote("hem turned up", edge, MappingProxyType({"raw edge": raw, "lies on": lies}))]


def _of_outline(static: Mapping[str, Any]) -> PieceKind:
    edge_run(static["piece"].sketch, static["subject"])
    return _same(static)


def _cornered(static: Mapping[str, Any]) -> PieceKind:
    edge_from(static["piece"].sketch, static["subject"], static["by"])
    return _same(static)


@verb(
    "cut_corner",
    family="finish",
    doc="How the allowance of an edge ends at one of its corners, where that differs from the other.",
    gives=_cornered,
    statement=True,
    subject=word("edge", "own edge", "the edge, at the edge it meets at that corner", place=PlacedEdge(end="by")),
    words=(word("as", CORNERS, "as `with_corners` of `allow` says"),),
    example="cut_corner hem at side as stepped",
)
def cut_corner(piece: Piece, subject: str, by: str, as_: Corner) -> Piece:
    return _finished(piece, corners=MappingProxyType({**piece.finish.corners, (subject, by): as_}))


@verb(
    "turn_under",
    family="finish",
    doc="A hem folded twice: how much of its allowance is turned under again; its corners are then shaped to fold at both lines.",
    gives=_allowed,
    statement=True,
    subject=word("depth", "length", "how much is turned under"),
    words=(word("on", "several own edge", "the hems"),),
    example="turn_under 0.8 cm on hem",
)
def turn_under(piece: Piece, subject: Reals, on: Sequence[str]) -> Piece:
    made = dict(piece.finish.allowances)
    for name in on:
        stated = _stated(piece, name)
        off = (subject < 0) | (2.0 * subject > stated.width)
        if off.any():
            figures = {"turned under": subject, "allowance": stated.width}
            fix = "allow more, or turn under half of the allowance at most"
            raise Trouble(f"`{name}` has no allowance to turn so much under", fix, off, figures)
        corner: Corner = "shaped_to_fold" if stated.corner == "mitred" else stated.corner
        made[name] = Allowance(stated.width, corner, subject)
    return _finished(piece, allowances=MappingProxyType(made))


def _grained(static: Mapping[str, Any]) -> PieceKind:
    if sum(name in static for name in ("subject", "along", "from")) != 1:
        fix = "write `grain up`, or `grain along` and an edge, or `grain from … to …`"
        raise Trouble("the grain runs in one direction, along one edge or from one spot to another, and only so", fix)
    if ("from" in static) != ("to" in static):
        raise Trouble("the grain runs from one spot to another", "write `from` and `to`, each with an edge and a place on it")
    return _same(static)


LIES: Mapping[Lies, float] = {"straight": 0.0, "cross": 90.0, "bias": 45.0}
UPWARD = np.array([[0.0, 1.0]])


@verb(
    "grain",
    family="finish",
    doc="The grain of the cloth: a direction of the draft, on the panel that carries it (`taken_from`; the rest may have been "
    "turned), or along the straight between the ends of an edge, or from a spot on one edge to one on another, as down the "
    "middle; as cross it is turned by a right angle, as bias by 45 degrees to the left.",
    gives=_grained,
    statement=True,
    subject=word("direction", "direction", "the direction on the draft; `up` is along the centre line", optional=True),
    words=(
        word("along", "own edge", "the edge or line of the piece along which the grain runs", optional=True),
        word("from", "own edge", "an edge, at the place where the grain begins", optional=True, place=spot("from")),
        word("to", "own edge", "an edge, at the place where it ends", optional=True, place=spot("to")),
        word("as", "one of straight cross bias", "how that lies in the cloth", default="straight"),
        word("taken_from", "own edge", "an edge or line of the panel that carries the grain", optional=True),
    ),
    example="grain from waistline at 1/2 from centre to neckline at shoulder",
)
def grain(
    piece: Piece,
    as_: Lies,
    subject: Heading | None = None,
    along: str | None = None,
    from_: str | None = None,
    to: str | None = None,
    taken_from: str | None = None,
    **places: Any,
) -> Piece:
    """Of the two senses of an edge, or of the way between two spots, the one that goes up on the paper."""
    if subject is not None:
        way = subject.at(np.zeros((1, 2)), UPWARD)
    elif along is not None:
        paths = edge_path(piece, along)
        way = _rising(paths[-1].end - paths[0].start)
    else:
        assert from_ is not None
        assert to is not None
        way = _rising(spot_on(piece, to, "to", places) - spot_on(piece, from_, "from", places))
    turn = np.ones(1, dtype=complex) if taken_from is None else piece.sides(taken_from)[0].turn
    return _finished(piece, grain=(way[:, 0] + 1j * way[:, 1]) * turn * np.exp(1j * np.radians(LIES[as_])), lies=as_)


def _rising(between: Reals) -> Reals:
    """The direction (L, 2) of a way, up rather than down. Trouble where it leads nowhere."""
    nowhere = norm(between) <= COINCIDE
    if nowhere.any():
        raise Trouble("the grain would run from a spot to itself", "name two spots apart from each other", nowhere)
    way = unit(between)
    return np.where(dot(way, UPWARD)[:, None] < 0.0, -way, way)


def spot_on(piece: Piece, edge: str, word: str, places: Mapping[str, Any]) -> Reals:
    """The point (L, 2) of a place on an edge of the piece."""
    at, share, end, near = (places.get(f"{word}_{part}") for part in ("at", "share", "end", "near"))
    found = point_of(piece, place_on(piece, edge, *along_edge(piece, edge, end, at, share, near)))
    assert found is not None
    return found


def _cut_names(static: Mapping[str, Any]) -> PieceKind:
    sketch, count = static["piece"].sketch, static["subject"]
    if count < 1 or (static["as"] == "pair" and count % 2):
        raise Trouble("this number cannot be cut", "cut 1 or more; pairs are cut in twos")
    _on_fold_said(sketch, static["as"] == "pair", "on" in static)
    return piece(replace(sketch, fold=None) if static["as"] == "pair" else sketch)


def _on_fold_said(sketch: Piece, is_pair: bool, said: bool) -> None:
    """Trouble where a fold is there and it is not said that the piece is cut on it, or is said and there is none."""
    if said and is_pair:
        raise Trouble("a pair is cut apart, not on the fold", "take `on fold` away, or `as pair`")
    if said and sketch.fold is None:
        raise Trouble("no edge of it lies on a fold", "say which does, as `fold centre`; or take `on fold` away")
    if sketch.fold is not None and not said and not is_pair:
        edge = sketch.fold
        fix = f"write `on fold`; or `cut 2 as pair`, with a seam at `{edge}`; or first `off_fold {edge}`, which leaves a half"
        raise Trouble(f"`{edge}` lies on the fold: whether it is cut on it is not said", fix)


@verb(
    "cut",
    family="finish",
    doc="How many to cut, in which cloth or cloths; a sentence for each where they differ. A piece with a fold says `on fold` in "
    "each; as a pair, one is mirrored and no fold is left. Such pieces make the pattern.",
    gives=_cut_names,
    statement=True,
    subject=word("count", "count", "how many"),
    words=(
        word("as", "one of single pair", "whether they are one left and one right", default="single"),
        word("on", "one of fold", "that the cloth is folded, and its fold lies along that of the piece", optional=True),
        word("face", "one of any up", "whether the piece must lie face up on the cloth", default="any"),
        word("in", "several cloth", "the cloth, or several, as shell, lining; `shell` where nothing is said", optional=True),
    ),
    example="cut 1 on fold in shell, fusing\ncut 2 on fold in lining",
)
def cut(piece: Piece, subject: int, as_: str, face: str, on: str | None = None, in_: tuple[str, ...] = ("shell",)) -> Piece:
    others = tuple(cut for cut in piece.finish.cuts if cut.cloth not in in_)
    if as_ == "pair" and piece.fold is not None and others:
        fix = f"make a piece of its own of it for `{in_[0]}`, cut as a pair"
        raise Trouble(f"it is cut on the fold at `{piece.fold}` already, and a pair has no fold", fix)
    if as_ == "pair":  # two pieces, one for each side: what was the fold is a seam between them
        piece = replace(piece, fold=None, was_fold=piece.fold or piece.was_fold)
    return _finished(piece, cuts=(*others, *(CutOrder(subject, cloth, as_ == "pair", face == "up") for cloth in in_)))


@verb(
    "press",
    family="finish",
    doc="Toward which of its legs a dart is folded when it is pressed, the inner one where nothing is said; its cap is cut to "
    "lie under that fold. The inner leg is the one toward the end its place was counted from (more: `dart`).",
    gives=_same,
    statement=True,
    subject=word("dart", "own dart", "the dart"),
    words=(word("toward", "one of inner outer", "the inner leg, or the outer one"),),
    example="press bust_dart toward inner",
)
def press(piece: Piece, subject: str, toward: Pressed) -> Piece:
    return _finished(piece, pressed=MappingProxyType({**piece.finish.pressed, subject: toward}))


@verb(
    "lies",
    family="finish",
    doc="That a piece is worn inside, behind another, as a facing or a lining of the same cloth: it goes round the body no "
    "second time, so that no girth of the garment counts it, and the toile goes without it. What `facing` makes lies so anyhow. "
    "Or that it is a thing apart, as a belt, and sewn to nothing of the rest.",
    gives=lambda static: piece(replace(static["piece"].sketch, inside=static["piece"].sketch.inside or _lies_inside(**static))),
    statement=True,
    subject=word("place", "one of inside apart", "behind another piece, or apart from all"),
    example="lies inside",
)
def lies(piece: Piece, subject: str) -> Piece:
    return replace(piece, inside=piece.inside or _lies_inside(subject))


def _lies_inside(subject: str, **_: Any) -> bool:
    return subject == "inside"


@verb(
    "unsewn",
    family="finish",
    doc="That an edge is left unsewn in this style, on purpose, as the waist of a bodice on which the skirt of another style "
    "goes. An edge that is in no seam and no way of sewing, is no hem and not bare (`allow 0 cm`), and of which this is not said "
    "either ends in nothing: that is told.",
    gives=_of_outline,
    statement=True,
    subject=word("edge", "own edge", "the edge"),
    example="unsewn hem",
)
def unsewn(piece: Piece, subject: str) -> Piece:
    return piece


@verb(
    "opens",
    family="finish",
    doc="That an edge is meant to cut levels of the body open, as a deep V the bust: what is missing there counts as worn, and "
    "the fit tells how wide the opening is.",
    gives=_same,
    statement=True,
    subject=word("edge", "own edge", "the edge, such as a neckline"),
    example="opens neckline",
)
def opens(piece: Piece, subject: str) -> Piece:
    return _finished(piece, opens=tuple(dict.fromkeys((*piece.finish.opens, subject))))


@verb(
    "remark",
    family="finish",
    doc="A line of text on the piece. A name in braces, or a word before `of` and a name, stands for its number on each body, a "
    "length in the unit the body was measured in.",
    gives=_same,
    statement=True,
    subject=word("text", "text", "what the label says"),
    example='remark "ease into {length of back.shoulder}"',
)
def remark(piece: Piece, subject: str | Sequence[str], kinds: Sequence[str] = (), **numbers: Reals) -> Piece:
    """`subject` are the texts before, between and behind the numbers."""
    texts = [subject] if isinstance(subject, str) else [*subject]
    parts: list[str | Number] = [texts[0]]
    for kind, number, text in zip(kinds, numbers.values(), texts[1:], strict=True):
        parts += [Number(kind, number), text]
    return _finished(piece, remarks=(*piece.finish.remarks, Remark(tuple(parts))))
