"""A report as text and as JSON. It takes plain rows; what they mean is settled before."""

from __future__ import annotations

import itertools
import json
from collections.abc import Mapping, Sequence
from typing import Any

from .columns import table
from .specification import Say, body_lines, sizes_lines, style_lines


def as_json(report: Mapping[str, Any]) -> str:
    """The report as JSON, keys in the order given, numbers as they are; a newline at the end."""
    return json.dumps(report, ensure_ascii=False, indent=1) + "\n"


def as_text(report: Mapping[str, Any], say: Say) -> str:
    """The report for reading: a section for each body, a table for pieces and one for seams."""
    origin = "".join(f", built from {title}" for title in report["built_from"])
    heading = f"{report['style']}, version {report['fingerprint']}{origin}  (lengths in mm, on the sewing line, darts closed)"
    lines = [heading, *style_lines(report), *sizes_lines(report["bodies"], say)]
    for body in report["bodies"]:
        lines += ["", body["name"], "=" * len(body["name"])]
        lines += body["cautions"]
        if body["estimated"]:
            lines.append("not measured:")
            lines += [f"  {name}: {how}" for name, how in body["estimated_how"].items()]
        lines += [f"told: {_tidings(one)}" for one in body["tidings"]]
        for error in body["errors"]:
            lines += ["", error]
        lines += body_lines(body, say)
        for piece in body["pieces"]:
            lines += ["", f"{piece['name']}: {piece['cut']}, area {piece['area_mm2'] / 100:.1f} cm2"]
            lines += table([_edge(edge) for edge in _whole(piece["edges"])], (0, 3))
            lines += [f"  {_told(told)}" for told in piece["told"]]
            lines += [f"  {remark}" for remark in piece["remarks"]]
        if body["seams"]:
            lines += ["", "seams"]
            lines += table([_seam(seam) for seam in body["seams"]], (0, 3, 4, 5))
            lines += [f"  {seam['name']}, {one['told']}" for seam in body["seams"] for one in seam["stretches"]]
        if body["checks"]:
            lines += ["", "checks"]
            lines += [
                f"  {'holds' if check['holds'] else 'FAILS'}  {check['name']}: {check['text']}{_paren(check['figures'])}"
                for check in body["checks"]
            ]
    for warning in report["warnings"]:
        lines += ["", warning]
    return "\n".join(lines) + "\n"


def _tidings(one: Mapping[str, Any]) -> str:
    return f"{one['name']}: {one['text'] or one['condition']}{_paren(one['figures'])}"


def _whole(edges: Sequence[Mapping[str, Any]]) -> list[Mapping[str, Any]]:
    """Edges, without the strips, gaps and underlays they consist of where they were slashed, joined or pleated."""
    names = {edge["name"] for edge in edges}
    apart = [edge["name"].rpartition(".") for edge in edges]
    shown = [over not in names and not part.endswith("underlay") for over, _, part in apart]
    return list(itertools.compress(edges, shown))


def _edge(edge: Mapping[str, Any]) -> tuple[str, str, str, str]:
    allowed = f"allowance {edge['allowance_mm']:.1f}" if edge["allowance_mm"] else ""
    under = f"{edge['under_mm']:.1f} of it turned under" if edge["under_mm"] else ""
    return edge["name"], f"{edge['length_mm']:.1f}", allowed, under


def _told(told: Mapping[str, Any]) -> str:
    """What an operation reports, in one line: `hem: slashed and spread, before 412.0, after 492.0, ratio 1.19`."""
    where = f"{told['edge']}: " if told["edge"] else ""
    lengths = [f"{name} {value:.1f}" for name, value in told["lengths_mm"].items()]
    ratios = [f"{name} {value:.2f}" for name, value in told["ratios"].items()]
    return where + ", ".join([told["what"], *lengths, *ratios])


def _seam(seam: Mapping[str, Any]) -> tuple[str, ...]:
    difference = round(seam["left_mm"] - seam["right_mm"], 1) + 0.0  # without a negative zero
    told = {
        "joins": f"difference {difference:+.1f}",
        "eases": f"ease {difference:.1f}",
        "gathers": "gathered to nothing" if seam["ratio"] is None else f"gathered {seam['ratio']:.2f} to 1",
    }[seam["how"]]
    holds = "holds" if seam["holds"] else "FAILS"
    return (seam["name"], f"{seam['left_mm']:.1f}", f"{seam['right_mm']:.1f}", told, holds, _notches(seam))


def _ease_between(seam: Mapping[str, Any]) -> str:
    """How the ease of a seam lies between its notches."""
    rows = [*seam["notches"], seam]
    ahead = [0.0, *(row["left_mm"] - row["right_mm"] for row in rows)]
    return "ease " + ", ".join(f"{round(after - before, 1) + 0.0:.1f}" for before, after in itertools.pairwise(ahead))


def _notches(seam: Mapping[str, Any]) -> str:
    """Where notches meet, from the start of the second side; where two do not, by how much, from the start of each, and in how
    many strokes they differ."""
    if not seam["notches"]:
        return ""
    if seam["notches_agree"]:
        told = "notches at " + ", ".join(f"{one['right_mm']:.0f}" for one in seam["notches"])
        return told + (f"; {_ease_between(seam)}" if seam["how"] == "eases" else "")
    worst = max((one for one in seam["notches"] if not one["agrees"]), key=lambda one: one["gap_mm"])
    told = f"NOTCH at {worst['left_mm']:.1f} meets {worst['right_mm']:.1f}: off by {worst['gap_mm']:.1f}"
    unlike = 0 < worst["left_strokes"] != worst["right_strokes"] > 0
    return told + (f", {worst['left_strokes']} and {worst['right_strokes']} strokes" if unlike else "")


def _paren(text: str) -> str:
    return f"  ({text})" if text else ""
