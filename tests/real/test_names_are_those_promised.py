"""The law of names: what the checker promises of a piece without any body is what the piece has on every body, but for darts that
a body does not need.

Every piece node of every bundled style, those inside recipes too, is compared with its kind: edges in their order, darts,
points, inner lines and signs, on the invented bodies and on real women
and men (US Army survey of 1988, tests/data/README.md).
"""

from __future__ import annotations

import re
from itertools import groupby
from pathlib import Path

import pytest
from godet.graph.evaluate import evaluate
from godet.pattern.named import parts_in
from godet.pattern.piece import Piece
from godet.verbs.kinds import PieceKind
from support.real_bodies import real_men, real_women
from support.style_runs import INVENTED, PATTERNS, invented, prepared

UNSETTLED = re.compile(r"(?<=\.)(?:(?:lower_)?(?:inner|outer)(?=_leg)|(?:strip|gap)_k\d+)")
VERBS = Path(__file__).parents[1] / "verbs"
STYLES = [*sorted(PATTERNS.glob("*.style")), *sorted(VERBS.glob("*.style"))]


def around(piece: Piece, unsure: frozenset[str]) -> tuple[tuple[str, ...], ...]:
    """The edges in their order round the piece, from the first by name and either way: a draft without a body does not
    settle which way is round, nor therefore which leg of a dart comes first, nor the strips of cuts that do not say from
    which end they are counted. Sides of one name that follow each other count once."""
    sure = [tuple(UNSETTLED.sub("", n) for n in side.names if n not in unsure) for side in piece.ring]
    ring = [names for names, _ in groupby(names for names in sure if names)]
    ring = ring[:-1] if len(ring) > 1 and ring[0] == ring[-1] else ring
    ways = [turned[k:] + turned[:k] for turned in (ring, ring[::-1]) for k in range(len(ring))]
    return tuple(min(ways))


def names(piece: Piece, unsure: frozenset[str]) -> dict[str, object]:
    """The names of a piece but those that are known on cloth only; a part of a divided piece has some of them."""
    return {
        "edges": set(piece.edge_names()) - unsure,
        "ring": around(piece, unsure | frozenset(parts_in(piece))),  # on what of an edge its parts lie, cloth alone shows
        "darts": set(piece.dart_names()) - unsure,
        "points": set(piece.points) - unsure,
        "lines": {name for side in piece.lines for name in side.names} - unsure,
        "signs": {name: (sign.kind, sign.toward) for name, sign in piece.signs.items() if name not in unsure},
        "fold": piece.fold,
        "worn": piece.worn,
    }


@pytest.mark.parametrize("style", STYLES, ids=lambda path: path.stem)
def test_pieces_have_the_names_they_were_checked_with(style: Path) -> None:
    made = prepared(style, [*map(invented, INVENTED), *real_women(8, 7), *real_men(8, 7)])
    assert made.style is not None
    nodes = {index: node.kind for index, node in enumerate(made.style.nodes) if isinstance(node.kind, PieceKind)}
    found = evaluate(made.style, made.population, nodes)
    drawn = 0
    for part in found.parts:
        for index, kind in nodes.items():
            piece = part.values.get(index)
            if isinstance(piece, Piece):
                drawn += 1
                spared = {name for name, why in piece.removed.items() if why.startswith("this body needs no such dart")}
                unsure = kind.sketch.uncertain | spared
                assert names(piece, unsure) == names(kind.sketch, unsure), made.style.origins[index].name
                assert not piece.uncertain
                known = {*kind.sketch.edge_names(), *kind.sketch.dart_names(), *kind.sketch.points}
                assert {*piece.edge_names(), *piece.dart_names(), *piece.points} <= known
    assert drawn >= len(nodes)
