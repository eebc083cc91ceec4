"""The assembly of a style: what it says of its garment, read from the checked style, and what is wrong with it."""

from __future__ import annotations

import itertools
import re
from collections.abc import Iterable, Iterator, Sequence
from typing import Literal

from ..assembly.said import ClosureSaid, GarmentSaid, PieceSaid, SeamSaid, SewingSaid
from ..meaning.payloads import Constant, EdgeOf, Uncut
from ..meaning.style import CheckedStyle, Node
from ..pattern.piece import CutOrder, Piece, Side
from ..pattern.which_ends import Name, edge_named
from ..verbs.kinds import PieceKind, SeamKind
from ..verbs.values import listed
from .specification import closed_by, named_places

BUTTONS: tuple[Literal["buttons", "buttonholes"], ...] = ("buttons", "buttonholes")

FOLDED = ("shaped_to_fold", "stepped")
"""Corners of an allowance that is turned up, as a hem is."""


def said(style: CheckedStyle) -> GarmentSaid:
    """What a style says of its garment."""
    pieces = {name: _piece(style, name, node) for name, node in style.pieces.items()}
    seams = [_seam(style, name, node) for name, node in style.seams.items()]
    known = tuple(one for one in seams if all(owner in pieces for owner, _ in one.edges))
    ways, closures = [], []
    for name, index in style.attached.items():
        node = style.nodes[index]
        if node.verb == "sewing" and "on" in node.args:
            ways.append(SewingSaid(name, _of_pieces(style, pieces, node.args["on"]), _turns_up(node)))
        elif node.verb == "closure":
            closures.append(_closure(style, pieces, name, node))
    return GarmentSaid(pieces, known, tuple(ways), tuple(closures), tuple(_idle(style)), _fasteners(style))


def _idle(style: CheckedStyle) -> Iterator[str]:
    """The ways of sewing that no seam names and that are on no edge."""
    used = {style.nodes[index].args.get("sewn") for index in style.seams.values()}
    for name, index in style.attached.items():
        node = style.nodes[index]
        if node.verb == "sewing" and "on" not in node.args and index not in used:
            yield name


def _fasteners(style: CheckedStyle) -> bool:
    return bool(_closing_trims(style))


def _closing_trims(style: CheckedStyle) -> list[Node]:
    """The trims that could close something: those that draw no edge in."""
    attached = (style.nodes[index] for index in style.attached.values())
    return [node for node in attached if node.verb == "trim" and "draws" not in node.args]


def is_draft(style: CheckedStyle) -> bool:
    """Whether a style says nothing of how it is sewn, so that how its edges end is not asked."""
    return not any(style.nodes[index].verb == "sewing" for index in style.attached.values())


def _of_pieces(style: CheckedStyle, pieces: dict[str, PieceSaid], index: int) -> tuple[Name, ...]:
    return tuple(one for one in map(edge_named, named_places(style, index)) if one[0] in pieces)


def _seam(style: CheckedStyle, name: str, index: int) -> SeamSaid:
    node = style.nodes[index]
    assert isinstance(node.kind, SeamKind)
    ways, others = ({node: name for name, node in those.items()} for those in (style.attached, style.seams))
    left, right = (tuple(map(edge_named, named_places(style, node.args[word]))) for word in (node.kind.how, "to"))
    after, caught = (
        tuple(others[arg] for arg in listed(node.args, word) if arg in others) for word in ("after", "caught_in")
    )
    way = node.args.get("sewn", -1)
    is_turned = way in ways and _is_turned(style.nodes[way])
    gathers = node.kind.how == "gathers"
    return SeamSaid(name, left, right, node.words.get("on"), after, caught, ways.get(way, ""), is_turned, gathers)


def _turns_up(way: Node) -> bool:
    """Whether a way of sewing turns an edge up or binds it: an edge finished by itself, class 6 of ISO 4916, but not left flat,
    6.01, or bound, class 3."""
    kind = str(way.words.get("seam", ""))
    return kind.startswith(("6.", "3.")) and not kind.startswith("6.01")


def _is_turned(way: Node) -> bool:
    """Whether by a way of sewing both plies lie right sides together, so that it is sewn from inside: a superimposed seam,
    class 1 of ISO 4916, and no stitch by hand, class 200 of ISO 4915."""
    stitches = re.findall(r"\d{3}", str(way.words["stitch"]))
    return str(way.words.get("seam", "")).startswith("1.") and not any(one.startswith("2") for one in stitches)


def _closure(style: CheckedStyle, pieces: dict[str, PieceSaid], name: str, node: Node) -> ClosureSaid:
    index = node.args["in"]
    seam = next((one for one, at in style.seams.items() if at == index), "")
    edges, is_bought = () if seam else _of_pieces(style, pieces, index), bool(closed_by(style, node.args))
    is_set_in = bool(seam and not is_bought) or _is_set_in(style, node)
    return ClosureSaid(name, seam, edges, node.words.get("on"), is_bought, is_set_in)


SHORTEST_ZIP = 80.0
"""No zip is bought shorter (mm); what is, as a loop, is sewn on at one place. Trade practice, no source."""


def _is_set_in(style: CheckedStyle, node: Node) -> bool:
    """Whether a closure is sewn in all along, as what is bought by its length: buttons, ties and loops are not. Where it does not
    say by what it is closed, whether anything so is bought."""
    trims = [style.nodes[style.attached[name]] for name in closed_by(style, node.args)] or _closing_trims(style)
    lengths = (style.nodes[trim.args["as_long_as"]].payload for trim in trims if "as_long_as" in trim.args)
    return any(not isinstance(one, Constant) or one.value >= SHORTEST_ZIP for one in lengths)


def _piece(style: CheckedStyle, name: str, index: int) -> PieceSaid:
    kind = style.nodes[index].kind
    assert isinstance(kind, PieceKind)
    stated = list(_stated(style, index))
    there = kind.sketch.edge_names()

    def edges(nodes: Iterable[Node], *verbs: str) -> frozenset[str]:
        return frozenset(edge for node in nodes if node.verb in verbs for edge in _on(node) if edge in there)

    hems = [node for node in stated if node.verb == "turn_under" or node.words.get("with_corners") in FOLDED]
    return PieceSaid(
        name=name,
        piece=kind.sketch,
        cuts=tuple(_cuts(stated)),
        hemmed=edges(hems, "allow", "turn_under"),
        raw=_raw(style, kind.sketch, stated),
        fastened=edges((node for node in _led_to(style, index) if "until" in node.words), *BUTTONS),
        buttoned=edges(_led_to(style, index), *BUTTONS),
        fastenings=tuple(one for one in BUTTONS if any(node.verb == one for node in _led_to(style, index))),
        unsewn=frozenset(node.words["subject"] for node in stated if node.verb == "unsewn"),
        openings=_openings(style, index) & frozenset(there),
        folds=any(node.verb == "mark" and node.words.get("as") == "fold" for node in _led_to(style, index)),
        apart=any(node.verb == "lies" and node.words["subject"] == "apart" for node in stated),
    )


def _openings(style: CheckedStyle, index: int) -> frozenset[str]:
    """The edges that are marked as an opening."""
    marks = (one for one in _led_to(style, index) if one.verb == "mark" and one.words.get("as") == "opening")
    marked = (style.nodes[one.args["subject"]].payload for one in marks)
    return frozenset(one.name for one in marked if isinstance(one, EdgeOf))


def _stated(style: CheckedStyle, index: int) -> Iterator[Node]:
    """What is said of cutting a piece, in its own block and in those of the shapes it is, the last first."""
    return itertools.takewhile(lambda node: not isinstance(node.payload, Uncut), _led_to(style, index))


def _led_to(style: CheckedStyle, index: int) -> Iterator[Node]:
    """The sentences that led to a piece, the last first."""
    following: int | None = index
    while following is not None:
        node = style.nodes[following]
        yield node
        following = node.before


def _on(node: Node) -> tuple[str, ...]:
    on = node.words.get("on", ())
    return (on,) if isinstance(on, str) else tuple(on)


def _cuts(stated: Sequence[Node]) -> Iterator[CutOrder]:
    """How a piece is cut, in the order of the sentences."""
    for node in reversed(stated):
        if node.verb == "cut":
            pair = node.words["as"] == "pair"
            yield from (CutOrder(node.words["subject"], cloth, pair) for cloth in node.words.get("in", ("shell",)))


def _raw(style: CheckedStyle, sketch: Piece, stated: Sequence[Node]) -> frozenset[str]:
    """The edges that are cut on the sewing line: nothing is allowed there, in so many words."""
    allowed = [node for node in stated if node.verb == "allow"]
    return frozenset(side.names[-1] for side in sketch.ring if _allows_nothing(style, side, allowed))


def _allows_nothing(style: CheckedStyle, side: Side, allowed: Sequence[Node]) -> bool:
    """Whether what is stated for a side by its most special name, else for all that are not named, is nothing."""
    by_name = (node for name in reversed(side.names) for node in allowed if name in _on(node))
    node = next(by_name, next((node for node in allowed if not _on(node)), None))
    return node is not None and style.nodes[node.args["subject"]].payload == Constant(0.0)
