"""Seams: which edges are sewn together, equal, eased or gathered."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

import numpy as np

from ..geometry.tolerances import NOTCHED
from ..pattern.piece import Reals
from .attached import Sewing
from .kinds import SeamKind
from .registry import verb, word
from .values import Edge, Mask, Run, Seam

HOWS = ("joins", "eases", "gathers")


def _how(static: Mapping[str, Any]) -> SeamKind:
    return SeamKind("seam", next(how for how in HOWS if how in static))


@verb(
    "seam",
    family="sewing",
    doc="Two edges sewn together: `joins` equal ones, `eases` or `gathers` the longer one to the other. A name that both pieces "
    "have on the left and on the right, or one of them where the other is cut as a pair, is sewn twice, left with left: the seam "
    "is then `NAME.left` and `NAME.right`. It notches both its sides, at places that meet, with as many strokes: from 6 cm on at "
    "its half; at the quarters too, if eased from 40 cm on or gathered from 20 cm; opposite a dart, and where on one side edges "
    "are joined or turn a corner and the other shows nothing. None stands within 15 mm of an end, a corner or another. Notches "
    "stated on both sides, or on the eased one, stand in place of those at half and quarters; one stated on one side is put on "
    "the other. With `notched not_at_all` it puts none of its own, but for the answers to stated ones.",
    gives=_how,
    words=(
        *(
            word(how, "sewable", f"the edge that {told}", optional=True)
            for how, told in (("joins", "is sewn as it is"), ("eases", "is eased in"), ("gathers", "is gathered"))
        ),
        word("to", "sewable", "the edge it is sewn to"),
        word(
            "tolerance",
            "length",
            "by how much the lengths may differ when joined, or fall short when eased",
            default="1 mm",
        ),
        word(
            "notched",
            "one of not_at_all single double triple",
            "the strokes of its notches; two where a back is sewn to no front, one else, as at a centre (common practice)",
            optional=True,
        ),
        word("sewn", "sewing", "how it is sewn", optional=True),
        word("after", "several seam", "the seams that must be sewn before it", optional=True),
        word("caught_in", "several seam", "the seam in which its edges are caught, laid on what is sewn there", optional=True),
        word(
            "on",
            "one of left right both",
            "the wearer's side it is on, where its edges do not tell; `both`: written for one, it is sewn on each",
            optional=True,
        ),
    ),
    either=(HOWS,),
    example="seam side joins front.side to back.side",
)
def seam(
    to: Edge | Run,
    tolerance: Reals,
    notched: str | None = None,
    sewn: Sewing | None = None,
    joins: Edge | Run | None = None,
    eases: Edge | Run | None = None,
    gathers: Edge | Run | None = None,
    on: str | None = None,
    **others: Seam,
) -> Seam:
    """All but the edges and the tolerance changes no length; drawing, report and assembly read it from the sentence."""
    how = zip(HOWS, (joins, eases, gathers), strict=True)
    name, left = next((name, edge) for name, edge in how if edge is not None)
    return Seam(left, to, left.length(), to.length(), name, tolerance)


def holds(value: Seam) -> Mask:
    """Whether the lengths (L,) go together: equal within the tolerance when joined; otherwise not shorter."""
    return _go_together(value, value.left_mm - value.right_mm, value.within)


def stretch_holds(value: Seam, left: Reals, right: Reals) -> Mask:
    """Whether the lengths (L,) mm of a stretch between two notches do, which may lie off each other by what cloth gives."""
    return _go_together(value, left - right, np.maximum(value.within, NOTCHED))


def _go_together(value: Seam, over: Reals, within: Reals) -> Mask:
    return np.asarray(np.abs(over) <= within if value.how == "joins" else over >= -within)
