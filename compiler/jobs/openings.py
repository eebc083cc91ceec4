"""Where closures end: the place on each side of a seam, or on an edge, up to which it is left open."""

from __future__ import annotations

import numpy as np

from ..drawing.wording import Ending
from ..finish.seam_notches import spot_on
from ..finish.seams import laid_sides
from ..geometry.tolerances import SEW
from ..output.records import ClosureRow
from ..pattern.laid import SeamEdge, SeamSide, climbs
from ..pattern.which_ends import Sewn, edge_named, laid_together
from .results import BodyResult, SeamResult


def endings(result: BodyResult, sewn: Sewn) -> dict[str, tuple[Ending, ...]]:
    """For each piece the ends of the closures in its edges; of one as long as its seam or edge there are none.

    A closure begins at the upper end, that toward the wearer's head, of where it is set in, as a zip at the neck or the waist.
    """
    found: dict[str, dict[Ending, None]] = {}
    for closure in result.specification.closures:
        if not closes_in_part(closure):
            continue
        for side in _sides(result, closure, sewn):
            share = closure.long_mm / closure.place_mm
            spot, _ = spot_on(side, np.array([1.0 - share if _climbs(side) else share]))
            name = closure.name.replace("_", " ")
            said = f"{name} ends{_only(result, closure, f'{spot.owner}.{spot.edge}')}"
            found.setdefault(spot.owner, {})[Ending(spot.edge, float(spot.at[0]), said)] = None
    return {owner: tuple(ends) for owner, ends in found.items()}


def closes_in_part(closure: ClosureRow) -> bool:
    """Whether a closure ends within its seam or edge."""
    return 0.0 < closure.long_mm < closure.place_mm - SEW


def _only(result: BodyResult, closure: ClosureRow, edge: str) -> str:
    """Which of the pieces that are cut alike, or of their seams, the closure is in, where it is not in all."""
    if closure.on != "both":
        return f", wearer's {closure.on} only"
    sewn = {seam.name for seam in result.seams if edge in (*seam.left, *seam.right)}
    (name, *more) = closure.place
    return f", in {name.replace('_', ' ')} only" if name in sewn and not more and len(sewn) > 1 else ""


def _sides(result: BodyResult, closure: ClosureRow, sewn: Sewn) -> list[SeamSide]:
    """The runs of edges a closure lies in: both sides of its seam, or its edge."""
    seam: SeamResult | None = next((one for one in result.seams if (one.name,) == closure.place), None)
    if seam is not None:
        ways = laid_sides(seam, sewn)
        return [*ways[0]] if ways else []
    names = [edge_named(name) for name in closure.place]
    if any(owner not in sewn.pieces or not sewn.pieces[owner].run(edge) for owner, edge in names):
        return []
    stretches = [SeamEdge(sewn.pieces[owner], edge, owner) for owner, edge in names]
    return [side for side, _ in laid_together(stretches, stretches, sewn)[:1]]


def _climbs(side: SeamSide) -> bool:
    pairs = zip(side.stretches, side.forward, strict=True)
    return climbs((one, forward) for stretch, forward in pairs for one in stretch.sides())
