"""How many faults of sewing are told: `python tests/bench/assembly_faults.py`. Nothing here is a test.

Each kind of fault is put into every style of the project, one at a time: what is told of it by names, else on cloth of one body.
What is missed is listed, each with the reason.
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


WHY = {
    ("another edge as long", "binding"): "both long edges of a binding are alike, turned over: the garment is the same",
    ("another edge as long", "fly_guard"): "its top and bottom are alike, turned over: the garment is the same",
    ("another edge as long", "yoke.left_neckline"): "the mirror image of the right neckline, as long: either is the neck",
    ("another edge as long", "button_band"): "what is folded under lies on what is outside: the garment is the same",
    ("another edge as long", "collar.outer"): "of two layers, as long there; its shape is free",
    ("another edge as long", "under_strip"): "a straight strip turned over is the same",
    ("another edge as long", "over_placket"): "what is folded under lies on what is outside: the garment is the same",
    ("pair cut alike", "button_band"): "it is the same turned over",
    ("`on` left out", "fly_facing.below_zip"): "it ends with the edge it lies on, which is sewn",
    ("closure left out", "back_slit"): "the slit is faced and stays open, so that the head passes",
    ("one of two alike", "sleeve_band"): "half a skirt on its fold, sewn side to side, is written the same way",
    ("one of two alike", "yoke"): "a yoke of one layer is a garment",
    ("one of two alike", "collar_band"): "cut once on its fold its ends are sewn left to right, as those of a hood",
    ("one of two alike", "collar"): "a hood is cut once on its fold and its edge sewn left to right: written the same way",
}
"""Why what is missed is not told, by the kind of fault and how what it is in begins, or holds."""


def why(kind: str, what: str) -> str:
    """Why a fault is not told; the longest of the words that fit."""
    found = sorted((word for known, word in WHY if known == kind and word in what), key=len)
    return WHY[kind, found[-1]] if found else "NOT KNOWN"


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

    text = (PATTERNS / f"{style}.style").read_text("utf-8")
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
            one = judged(kind, name, replace(said, pieces={**said.pieces, name: replace(piece.said, cuts=(cut,))}))
            less = cut_once(text, name) if kind == "one of two alike" and not one.on_cloth else ""
            yield one._replace(on_cloth=bool(told(style, less, body=True))) if less else one
    for way in said.sewing:
        for rest in ((), *(tuple(one for one in way.on if one != edge) for edge in way.on if len(way.on) > 1)):
            gone = " + ".join(".".join(edge) for edge in way.on if edge not in rest)
            ways = tuple(replace(one, on=rest) if one is way else one for one in said.sewing)
            idle = () if rest or way.name in {seam.sewn for seam in said.seams} else (way.name,)
            yield judged("`on` left out", gone, replace(said, sewing=ways, idle=idle))
    for name in (one.name for one in said.closures):
        sentence = re.search(rf"^closure {name} .*\n(?:[ ]+\S.*\n)*", text, re.MULTILINE)
        if sentence is not None:
            less = text.replace(sentence.group(), "")
            codes = told(style, less), told(style, less, body=True)
            yield Seeded("closure left out", name, bool(codes[0]), bool(codes[1]))


def cut_once(text: str, piece: str) -> str:
    """A style with one of a piece cut in place of two; empty where it does not say so in the braces of the piece."""
    made, count = re.subn(rf"(?s)(^piece {piece} [^}}]*?    cut )2", r"\g<1>1", text, count=1, flags=re.MULTILINE)
    return made if count else ""


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
                print(f"missed  {kind}: {style} {one.what}: {why(kind, one.what)}")


if __name__ == "__main__":
    main()
