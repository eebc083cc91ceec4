"""How many faults of sewing are told: `python tests/bench/assembly_faults.py`. Nothing here is a test.

Each kind of fault is put into every style of the project, one at a time: what is told of it by names, else on cloth of one body.
What is missed is listed.
"""

from __future__ import annotations

import re
import sys
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from typing import NamedTuple

TESTS = Path(__file__).resolve().parents[1]
sys.path[:0] = [str(TESTS), str(TESTS / "assembly")]


class Seeded(NamedTuple):
    kind: str
    what: str
    by_names: bool
    on_cloth: bool


def seeded(style: str) -> Iterator[Seeded]:
    """Every fault of every kind in one style, and by what it is told."""
    import test_laws as laws
    from godet.assembly.panels import Lying
    from godet.assembly.proof import prove
    from godet.assembly.said import GarmentSaid
    from godet.assembly.whole import whole
    from godet.jobs.garments import unlike
    from support.sewn_styles import told
    from support.style_runs import PATTERNS, prepared

    said, cloth = laws.said_of(style), laws.on_cloth(style)
    checked = prepared(PATTERNS / f"{style}.style").style
    assert checked is not None

    def judged(kind: str, what: str, wrong: GarmentSaid) -> Seeded:
        by_names = bool(laws.faults(wrong))
        if by_names:
            return Seeded(kind, what, True, True)
        made = whole(prove(wrong.on({name: cloth.pieces[name].piece for name in wrong.pieces})))
        return Seeded(kind, what, False, bool(made.faults) or any(True for _ in unlike(checked, made)))

    for name in dict.fromkeys(seam.sentence for seam in said.seams):
        yield judged("seam left out", name, laws.without(said, name))
    for seam in said.seams:
        for wrong in laws.exchanged(seam) if seam.worn != "both" else ():
            yield judged("left for right", seam.name, replace(said, seams=tuple(wrong if s is seam else s for s in said.seams)))
        for name, wrong in laws.fitting(said, cloth, seam):
            yield judged("another edge as long", name, replace(said, seams=tuple(wrong if s is seam else s for s in said.seams)))
    for name, piece in prove(said).pieces.items():
        kinds = {"pair cut once": replace(piece.cut, count=1, mirrored=False)} if piece.lying is Lying.PAIR else {}
        kinds |= {"pair cut alike": replace(piece.cut, mirrored=False)} if piece.lying is Lying.PAIR else {}
        kinds |= {"one of two alike": replace(piece.cut, count=1)} if piece.count == 2 and piece.lying is not Lying.PAIR else {}
        for kind, cut in kinds.items():
            yield judged(kind, name, replace(said, pieces={**said.pieces, name: replace(piece.said, cuts=(cut,))}))
    for way in said.sewing:
        for rest in ((), *(tuple(one for one in way.on if one != edge) for edge in way.on if len(way.on) > 1)):
            gone = " + ".join(".".join(edge) for edge in way.on if edge not in rest)
            ways = tuple(replace(one, on=rest) if one is way else one for one in said.sewing)
            idle = () if rest or way.name in {seam.sewn for seam in said.seams} else (way.name,)
            yield judged("`on` left out", gone, replace(said, sewing=ways, idle=idle))
    text = (PATTERNS / f"{style}.style").read_text("utf-8")
    for name in (one.name for one in said.closures):
        sentence = re.search(rf"^closure {name} .*\n(?:[ ]+\S.*\n)*", text, re.MULTILINE)
        if sentence is not None:
            less = text.replace(sentence.group(), "")
            codes = told(style, less), told(style, less, body=True)
            yield Seeded("closure left out", name, bool(codes[0]), bool(codes[1]))


def main() -> None:
    from support.style_runs import PATTERNS

    rows: dict[str, list[tuple[str, Seeded]]] = {}
    for path in sorted(PATTERNS.glob("*.style")):
        for one in seeded(path.stem):
            rows.setdefault(one.kind, []).append((path.stem, one))
    print(f"{'every':22} {'told':>5} {'by names':>9} {'of':>5}")
    for kind, found in rows.items():
        told, named = (sum(one) for one in zip(*((row.on_cloth, row.by_names) for _, row in found), strict=True))
        print(f"{kind:22} {told:5} {named:9} {len(found):5}")
    for kind, found in rows.items():
        for style, one in found:
            if not one.on_cloth:
                print(f"missed  {kind}: {style} {one.what}")


if __name__ == "__main__":
    main()
