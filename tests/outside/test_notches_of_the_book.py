"""Notches as a book of the trade sets them: C. C. Ingalls, Text-Book on Domestic Art, San Francisco 1911 (opened)."""

from __future__ import annotations

from support.style_runs import PATTERNS, invented, results


def test_the_edges_of_a_gore_differ_so_that_only_the_right_pair_matches() -> None:
    """One notch on one edge of a gore, two on the other; three for the third seam of a set: common practice, no source."""
    (result,) = results(PATTERNS / "gored_skirt.style", [invented("alto_3")])
    for one in result.pieces:
        if one.name not in ("side_front", "side_back"):
            continue
        strokes: dict[str, set[int]] = {}
        for notch in one.piece.notches:
            (edge,) = one.piece.ring[notch.side].names
            strokes.setdefault(edge, set()).add(notch.strokes)
        seams = [strokes[name] for name in strokes if name != "band_seam"]
        assert len(seams) == 2
        assert all(len(found) == 1 for found in seams)
        assert seams[0] != seams[1]
