"""Styles run on bodies, for tests: compiled once, evaluated on a list of bodies."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from functools import lru_cache
from pathlib import Path

from godet.bodies.body import Body
from godet.bodies.body_file import read_body
from godet.jobs.files import Disk
from godet.jobs.outcome import outcomes
from godet.jobs.prepare import Prepared, prepare
from godet.jobs.results import BodyResult

ROOT = Path(__file__).resolve().parents[2]
PATTERNS = ROOT / "patterns"


def prepared(style: Path, bodies: Sequence[Body] = (), settings: Sequence[str] = ()) -> Prepared:
    """A checked style with bodies given as values; one of the project's own is compiled once."""
    compiled = _kept if style.is_relative_to(ROOT) else _compiled
    return replace(compiled(str(style), tuple(settings)), bodies=tuple(bodies))


def _compiled(style: str, settings: tuple[str, ...]) -> Prepared:
    made = prepare(Disk(), style, (), settings)
    assert made.style is not None, [one.message for one in made.diagnostics]
    return made


_kept = lru_cache(maxsize=32)(_compiled)


def invented(name: str) -> Body:
    """One of the bodies that come with the styles, as `alto_3`."""
    body, _ = read_body((PATTERNS / "bodies" / f"{name}.toml").read_text("utf-8"), f"{name}.toml")
    assert body is not None
    return body


INVENTED = sorted(path.stem for path in (PATTERNS / "bodies").glob("*.toml"))
"""The names of all these."""


def sews(one: BodyResult) -> bool:
    """Whether a body is drawn and all its seams and checks hold: what must be true of a part of a garment, which fits nobody."""
    return not one.errors and all(seam.holds for seam in one.seams) and all(check.holds for check in one.checks)


@lru_cache(maxsize=8)
def on_all(style: Path) -> tuple[BodyResult, ...]:
    """A style of the project on all bodies that come with it, in the order of their names."""
    return results(style, [invented(name) for name in INVENTED])


def results(style: Path, bodies: Sequence[Body], settings: Sequence[str] = ()) -> tuple[BodyResult, ...]:
    return outcomes(prepared(style, bodies, settings))[0]
