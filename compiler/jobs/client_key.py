"""What the files of a client are made of, as a digest: while it is the same, and they are there, they are not made again."""

from __future__ import annotations

import hashlib
from functools import lru_cache
from importlib import metadata
from pathlib import Path

from ..bodies.cautions import cautioned
from ..folders import shipped
from ..graph.acting import acting
from ..meaning.identity import canonical, whole
from ..meaning.payloads import Fallback
from ..meaning.style import CheckedStyle
from .build import Wanted
from .estimated import rule_of
from .getting_in import asked
from .prepare import Prepared

_RECKONED_BY = ("numpy", "shapely", "svgwrite", "reportlab")


class Keys:
    """The keys of clients in one style with one setting of its choices."""

    def __init__(self, prepared: Prepared, wanted: Wanted) -> None:
        assert prepared.style is not None
        assert prepared.assembly is not None
        self._style, self._acting = prepared.style, sorted(acting(prepared.style))
        self._passing = asked(prepared.assembly.whole) if prepared.assembly.judged else ()
        drawn = wanted.paper, wanted.levels, wanted.toile
        self._alike = (made_by(), whole(prepared.style).hex(), prepared.fingerprint, drawn)

    def of(self, prepared: Prepared) -> str:
        """The key of the one body of `prepared`: of the measurements that act, their values, and whether they were measured or
        how they are estimated; of all others nothing, but what the sheets say of them."""
        (body,) = prepared.bodies
        said = (*cautioned(body, in_full=False), *(one.message for one in prepared.doubted.get(body.name, ())))
        who = body.name, body.unit, body.sex, body.wearer, body.survey_sex, said
        passing = tuple(body.measures.get(word) for word in self._passing)
        measures = tuple(_measure(self._style, prepared, name) for name in self._acting)
        return hashlib.sha256(canonical((self._alike, who, passing, measures))).hexdigest()


def _measure(style: CheckedStyle, prepared: Prepared, name: str) -> tuple[object, ...]:
    people = prepared.population
    value, measured, estimated = (column[0].item() for column in people.value(name))
    if measured:
        return name, value, True
    rules = [rule_of(style, at) for at, node in enumerate(style.nodes) if _is_rule(node.payload, name)]
    return name, value, False, estimated, people.in_short(name, 0) if estimated else "", rules


def _is_rule(payload: object, name: str) -> bool:
    return isinstance(payload, Fallback) and payload.name == name


@lru_cache(maxsize=1)
def made_by() -> str:
    """This compiler by what it says, not by when it was written, and the libraries it reckons and writes with."""
    found = hashlib.sha256()
    compiler = Path(__file__).resolve().parents[1]
    for folder in (compiler, shipped("grammar")):
        for file in sorted(one for one in folder.rglob("*") if one.suffix in (".py", ".toml", ".csv", ".lark")):
            found.update(canonical((file.relative_to(folder).as_posix(), hashlib.sha256(file.read_bytes()).hexdigest())))
    found.update(canonical([metadata.version(name) for name in _RECKONED_BY]))
    return found.hexdigest()
