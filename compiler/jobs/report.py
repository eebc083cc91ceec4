"""Report: everything a style comes to on each body, as one value with documented keys.

Keys, lengths in mm, areas in mm2:

    style                 title of the style
    built_from[]          titles of the styles it is built from, nearest first
    fingerprint           changes when what the style comes to does: by its sentences, its modules or a choice
    cloths[]              name; width_mm; weight_gsm; nap; shrinks_along, shrinks_across, stretch (shares); text;
                          null: not stated
    sewing[]              name; stitch, seam_type, neatened (numbers of the standards), each with …_means; stitch_length_mm;
                          place (edges that are no seam); text
    care[]                name; words (in the order of the symbols); text
    warnings[]            printed warnings of all bodies, each trouble told once, with the bodies that meet it
    bodies[]              one entry for each body, in the order given
      name
      unit                in which it is measured: cm, mm or in
      cautions[]          for a child: what is regulated where the garment is sold
      pieces[]            name; cut (words); cuts[]: cloth, count, mirrored, face_up; area_mm2;
                          edges[]: name, length_mm, allowance_mm, under_mm (of the allowance, turned under again);
                          remarks (lines of text on the piece);
                          told[]: what operations report: what (words), edge, lengths_mm and ratios by what they are;
                          outline_mm: the sewing line as [x, y] corners, flattened to 0.05 mm, counter-clockwise, y up
      seams[]             name; how (joins, eases, gathers); left, right (lists of piece.edge); left_mm, right_mm;
                          ratio (null where the right side has no length); holds; notches[], as the sides are walked:
                          left_mm, right_mm from the starts of the sides, gap_mm, however eased, left_strokes, right_strokes
                          (0: a corner), agrees (to 0.5 mm, and in its strokes); notches_agree: all of them do;
                          stretches[], between notches of one name on both sides: first, last (names; "": an end), left_mm,
                          right_mm, holds, told (in words);
                          sewn (a way of sewing); after (seams); note; in the order of sewing
      fit[]               name; called (a level as it is called of this wearer); level ("" for a length); round (body, arm,
                          leg); body_mm (null: not measured); asked_mm, over_mm (null: any), under_mm; drafted_mm (of the
                          block's own pieces; null: a girth the style promises); garment_mm; given_mm; wrong (why it does not
                          hold); fix (what to do); told[] (what else is to be known); stretch (share by which its cloth
                          stretches); estimated (the body's own is an estimate); text; holds
      finished[]          name; measures_mm; over_mm, under_mm; text (how it is taken); holds_for[]: conditions and tables by
                          which it differs from size to size, as written
      shown[]             name; kind (length, angle, number); value (mm, degrees, bare); text
      trims[]             name; amount_mm or count; place[] it draws in and place_mm, else null; text; holds_for[]
      closures[]          name; place (a seam, or edges); long_mm; place_mm; girth_mm; passes_mm; needed_mm; on (the wearer's
                          left, right, or both); holds; text; holds_for[]
      cut_list[]          cloth; pieces[]: name, count, mirrored (half of them), on_fold
      checks[]            name; text (as written); holds; figures; advice
      tidings[]           what `tell` sentences say of this body: name; text; condition (as written); figures
      estimated[]         measurements the pieces rest on that this body's file does not give
      estimated_how       by name: what stands in for each
      warnings[]          printed warnings of this body
      errors[]            printed errors; a body with errors has no pieces
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import asdict
from typing import Any

import numpy as np

from ..bodies.body import Body
from ..bodies.cautions import cautioned
from ..bodies.units import MM_PER, inches_text
from ..bodies.vocabulary import level_of
from ..diagnostics.grouping import grouped
from ..diagnostics.printing import print_diagnostic
from ..drawing.wording import Unit, cut_words, remark_words
from ..geometry.path import flatten_within, ring_area
from ..output import report as written
from ..output.report import as_json
from ..pattern.piece import Piece
from .fit import FitResult
from .outcome import results_of
from .prepare import Prepared
from .results import NOTHING, BodyResult, PieceResult, SeamResult
from .specification import Specification

OUTLINE_MM = 0.05  # how far the flattened outline may lie from the curve


def report(prepared: Prepared) -> dict[str, Any]:
    """The report of a sound style on its bodies."""
    results = tuple(results_of(prepared))
    assert prepared.style is not None
    sound = next((result.specification for result in results if not result.errors), NOTHING)
    return {
        "style": prepared.style.title,
        "built_from": list(prepared.style.built_from),
        "fingerprint": prepared.fingerprint,
        **rows(sound, ("cloths", "sewing", "care")),
        "warnings": [print_diagnostic(one, prepared.texts) for one in grouped(told for one in results for told in one.doubts)],
        "bodies": [_body(prepared, result, body) for result, body in zip(results, prepared.bodies, strict=True)],
    }


def as_text(report: dict[str, Any]) -> str:
    """A report for reading."""
    return written.as_text(report, lambda mm, unit: inches_text(mm / MM_PER["in"]) if unit == "in" else f"{mm:.1f}")


def rows(specification: Specification, tables: Sequence[str]) -> dict[str, Any]:
    """Tables of a specification as plain values, numbers to a thousandth."""
    return {table: [_plain(asdict(row)) for row in getattr(specification, table)] for table in tables}


def _plain(row: dict[str, Any]) -> dict[str, Any]:
    return {
        key: _rounded(value) if isinstance(value, float) else list(value) if isinstance(value, tuple) else value
        for key, value in row.items()
    }


def cut_list(pieces: Sequence[PieceResult]) -> list[dict[str, Any]]:
    """What is cut in each cloth, cloths in the order in which they first come."""
    cloths = dict.fromkeys(cut.cloth for one in pieces for cut in one.piece.finish.cuts)
    return [
        {
            "cloth": cloth,
            "pieces": [
                {
                    "name": one.name,
                    "count": cut.count,
                    "mirrored": cut.mirrored,
                    "on_fold": one.piece.fold is not None,
                }
                for one in pieces
                for cut in one.piece.finish.cuts
                if cut.cloth == cloth
            ],
        }
        for cloth in cloths
    ]


def _body(prepared: Prepared, result: BodyResult, body: Body) -> dict[str, Any]:
    return {
        "name": result.name,
        "unit": body.unit,
        "cautions": list(cautioned(body)),
        "pieces": [_piece(one, "in" if body.unit == "in" else "cm") for one in result.pieces],
        "seams": [_seam(seam) for seam in result.seams],
        "checks": [
            {"name": one.name, "text": one.text, "holds": one.holds, "figures": one.figures, "advice": one.advice}
            for one in result.checks
        ],
        "tidings": [asdict(one) for one in result.tidings],
        "fit": [_fit(one, body) for one in result.fits],
        **rows(result.specification, ("finished", "shown", "trims", "closures")),
        "cut_list": cut_list(result.pieces),
        "estimated": [one.name for one in result.estimated],
        "estimated_how": {one.name: one.how for one in result.estimated},
        "warnings": [print_diagnostic(one, prepared.texts) for one in result.doubts],
        "errors": [print_diagnostic(error, prepared.texts) for error in result.errors],
    }


def _seam(seam: SeamResult) -> dict[str, Any]:
    return {
        "name": seam.name,
        "how": seam.how,
        "left": list(seam.left),
        "right": list(seam.right),
        "left_mm": _rounded(seam.left_mm),
        "right_mm": _rounded(seam.right_mm),
        "ratio": None if seam.ratio is None else _rounded(seam.ratio),
        "holds": seam.holds,
        "sewn": seam.sewn,
        "after": ", ".join(seam.after),
        "note": seam.note,
        "notches": [
            {
                "left_mm": _rounded(one.left_mm),
                "right_mm": _rounded(one.right_mm),
                "gap_mm": _rounded(one.gap_mm),
                "left_strokes": one.left_strokes,
                "right_strokes": one.right_strokes,
                "agrees": one.agrees,
            }
            for one in seam.notches
        ],
        "notches_agree": seam.notches_agree,
        "stretches": [
            {
                "first": one.first,
                "last": one.last,
                "left_mm": _rounded(one.left_mm),
                "right_mm": _rounded(one.right_mm),
                "holds": one.holds,
                "told": one.told,
            }
            for one in seam.stretches
        ],
    }


def _fit(one: FitResult, body: Body) -> dict[str, Any]:
    """A promise, and what it is called: a level at the end of its name as it is called of this wearer."""
    *before, last = one.name.split(".")
    called = ".".join((*before, level_of(body.wearer, last) if last == one.level else last))
    return _plain({**asdict(one), "called": called, "holds": one.holds})


def _piece(one: PieceResult, unit: Unit) -> dict[str, Any]:
    alone = one.piece.take(np.array([one.lane]))
    holes = sum(float(ring_area([side.drawn for side in hole.sides])[0]) for hole in alone.holes)
    return {
        "name": one.name,
        "cut": "; ".join(cut_words(alone)),
        "cuts": [
            {"cloth": cut.cloth, "count": cut.count, "mirrored": cut.mirrored, "face_up": cut.face_up}
            for cut in alone.finish.cuts
        ],
        "area_mm2": _rounded(float(ring_area([side.drawn for side in alone.ring])[0]) + holes),
        "edges": [
            {
                "name": edge.name,
                "length_mm": _rounded(edge.length_mm),
                "allowance_mm": _rounded(edge.allowance_mm),
                "under_mm": _rounded(edge.under_mm),
            }
            for edge in one.edges
        ],
        "remarks": [remark_words(one, unit) for one in alone.finish.remarks],
        "told": [
            {
                "what": told.what,
                "edge": told.edge,
                "lengths_mm": {name: _rounded(float(value[0])) for name, value in told.lengths.items()},
                "ratios": {name: _rounded(float(value[0])) for name, value in told.ratios.items()},
            }
            for told in alone.told
        ],
        "outline_mm": outline(alone),
    }


def outline(piece: Piece) -> list[list[float]]:
    """The sewing line of a piece of one body, corners (x, y) in mm, closed without repeating the first."""
    corners: list[list[float]] = []
    for side in piece.ring:
        points = flatten_within(side.drawn, OUTLINE_MM)
        corners += [[_rounded(float(x)), _rounded(float(y))] for x, y in points[:-1]]
    return corners


def _rounded(value: float) -> float:
    """To a thousandth, without a negative zero."""
    return round(value, 3) + 0.0


__all__ = ["as_json", "as_text", "report"]
