"""The commands of the parser, and files for them that hold, that fail and that are wrong."""

from __future__ import annotations

import argparse
from pathlib import Path

from godet.cli.arguments import parser

from .style_runs import PATTERNS

SKIRT = str(PATTERNS / "gored_skirt.style")
ALTO = str(PATTERNS / "bodies" / "alto_3.toml")
CHART = str(PATTERNS / "charts" / "women_1988.csv")
TEXTS = {
    "BAD": "language 1\nlength wide = 3 cm +\n",
    "UGLY": "language 1\nlength   wide = 3 cm\n",
    "FAILS": """language 1
style "Patch"
point a = starting_point
point b = a outward 5 cm
point c = a up 5 cm
piece patch {
    line low from a to b
    line side from b to c
    line centre from c to a
    cut 1
    grain up
    allow 1 cm
}
check small that length of patch.low at_most 4 cm
""",
}


def commands() -> dict[str, argparse.ArgumentParser]:
    """Every command by its name, with its own parser."""
    (found,) = (one for one in parser()._actions if isinstance(one, argparse._SubParsersAction))
    return dict(found.choices)


def styles(folder: Path) -> dict[str, list[str]]:
    """Arguments by what they are for, with their files written into a folder."""
    for name, text in TEXTS.items():
        (folder / f"{name.lower()}.style").write_text(text, "utf-8")
    (folder / "two.csv").write_text("name,unit,bust_girth\nanna,cm,92\nberta,cm,98\n", "utf-8")
    files = {name: str(folder / f"{name.lower()}.style") for name in TEXTS}
    return {
        "SKIRT": [SKIRT],
        "ALTO_SKIRT": [SKIRT, "--body", ALTO],
        "SIZES": [SKIRT, "--sizes", CHART, "--only", "88,92"],
        "BAD": [files["BAD"]],
        "UGLY": [files["UGLY"]],
        "FAILS": [files["FAILS"], "--body", ALTO],
        "FAILS_OF_TWO": [files["FAILS"], "--population", str(folder / "two.csv")],
    }
