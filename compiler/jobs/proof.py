"""The proof of a style on a population as records, made of what was counted."""

from __future__ import annotations

from ..diagnostics.diagnostic import Span
from ..diagnostics.printing import place
from ..meaning.payloads import Comparison
from ..meaning.style import CheckedStyle
from ..output.proof_records import (
    SCHEMA,
    BarRecord,
    DeliveredRecord,
    EstimatedRecord,
    ExampleRecord,
    GateRecord,
    GroupRecord,
    MarginRecord,
    PopulationRecord,
    ProofRecord,
    TellingRecord,
)
from ..population.bins import bars, quantile
from ..population.sample import Seen
from ..population.tally import GATES, Asked, Key, Tally
from ..population.telling import Told, examples, told
from .behind import THOUSANDTHS, Behind
from .fit import SLACK
from .margins import BARE, SCALES
from .prepare import Prepared
from .proving import Counted

UNITS = {"length": "mm", "angle": "deg", "area": "cm2"}


def proof_record(prepared: Prepared, source: str, counted: Counted) -> ProofRecord:
    """The records of a population on which a sound style was drawn."""
    style, tally = prepared.style, counted.tally
    assert style is not None
    rows = [EstimatedRecord(name, count, rule) for (name, rule), count in tally.estimated.items()]
    rows.sort(key=lambda one: (-one.count, one.name, one.rule))
    before = (tally.count, *tally.in_order)
    gates = zip(GATES, tally.in_order, before, tally.alone, strict=False)
    return ProofRecord(
        SCHEMA,
        style.title,
        prepared.fingerprint,
        PopulationRecord(source, counted.rows, tally.count, tuple(rows)),
        tuple(GateRecord(*row) for row in gates),  # type: ignore[arg-type]  # the names are those of the gates
        _Groups(prepared, style, tally).all(),
        tuple(row for name in style.fits if (row := _delivered(style, tally, name))),
        (),
        (),
    )


class _Groups:
    """What fails, in groups."""

    def __init__(self, prepared: Prepared, style: CheckedStyle, tally: Tally) -> None:
        self.prepared, self.style, self.tally = prepared, style, tally
        self.measures = Behind(style).names
        self.checks = {check.name: check for check in style.checks}

    def all(self) -> tuple[GroupRecord, ...]:
        return tuple(self.group(key) for key in failing_keys(self.tally))

    def group(self, key: Key) -> GroupRecord:
        asked = self.tally.asked[key]
        what, name, span = self._what(key)
        telling, unit, scale = told(self.tally, key), *self._unit(key)
        return GroupRecord(
            GATES[asked.gate],  # type: ignore[arg-type]
            what,  # type: ignore[arg-type]
            name,
            str(key[1]) if key[0] == "told" else "",
            "" if span is None else " ".join(self._text(span).split()),
            "" if span is None else placed(self.prepared, span),
            self._said(key, asked),
            asked.failed,
            round(asked.failed / self.tally.count, 6),
            tuple(_example(how, one, scale) for how, one in examples(asked, telling)),
            _margin(asked, unit, scale),
            self._telling(telling, asked),
            round(telling.share, 4) if telling.by else None,
            telling.by or None,
        )

    def _what(self, key: Key) -> tuple[str, str, Span | None]:
        """What fails, its name, and its sentence."""
        what, name = str(key[0]), str(key[1]) if len(key) > 1 else ""
        match what:
            case "told":
                span = Span(*key[2]) if key[2] else None  # type: ignore[misc]
                return ("error" if self.tally.asked[key].gate == 0 else "assembly"), "", span
            case "assembly":
                return what, "", None
        nodes = {
            "seam": self.style.seams,
            "notches": self.style.seams,
            "closure": self.style.attached,
            "fit": self.style.fits,
        }
        node = self.checks[name].node if what == "check" else nodes[what][name]
        return what, name, self.style.origins[node].sentence

    def _text(self, span: Span) -> str:
        return self.prepared.texts[span.file][span.start : span.end]

    def _said(self, key: Key, asked: Asked) -> str:
        if key[0] == "check":
            return self.checks[str(key[1])].text
        if key[0] == "assembly":
            return "the seams do not make a garment"
        return asked.told[1] or self.style.notes.get(str(key[1]), "")

    def _unit(self, key: Key) -> tuple[str, float]:
        """The unit of the number by which it holds, and how many of what is counted make one."""
        if key[0] != "check":
            return "mm", THOUSANDTHS
        node = self.style.nodes[self.checks[str(key[1])].node]
        kind = self.style.nodes[node.args["left"]].kind.word if isinstance(node.payload, Comparison) else ""
        return UNITS.get(kind, ""), THOUSANDTHS if kind in SCALES else BARE

    def _telling(self, telling: Told, asked: Asked) -> tuple[TellingRecord, ...]:
        if not telling.tells:
            return ()
        ranges = {one.measure: one for one in telling.ranges}
        return tuple(
            TellingRecord(
                self.measures[at],
                ranges[at].low / THOUSANDTHS if at in ranges else None,
                ranges[at].high / THOUSANDTHS if at in ranges else None,
                ranges[at].others if at in ranges else None,
            )
            for at in telling.measures
        )


def failing_keys(tally: Tally) -> list[Key]:
    """What fails: by gate, then the most first."""
    found = [(one.gate, -one.failed, repr(key), key) for key, one in tally.asked.items() if one.failed]
    return [key for *_, key in sorted(found, key=lambda one: one[:3])]


def placed(prepared: Prepared, span: Span) -> str:
    """`file:line` of a sentence."""
    return f"{span.file}:{place(prepared.texts[span.file], span.start)[0]}"


def _example(how: str, one: Seen, scale: float) -> ExampleRecord:
    return ExampleRecord(one.name, how, None if one.room is None else _rounded(one.room / scale))


def _margin(asked: Asked, unit: str, scale: float) -> MarginRecord | None:
    room = asked.room
    if room.least is None or asked.farthest is None:
        return None
    return MarginRecord(unit, _rounded(room.mean / scale), _rounded(room.sd / scale), _rounded(room.least / scale))


def _delivered(style: CheckedStyle, tally: Tally, name: str) -> DeliveredRecord | None:
    """A promise on all bodies that were measured there; None where none was."""
    asked = tally.asked.get(("fit", name))
    if asked is None or not asked.delivered.count:
        return None
    value, bounds = asked.delivered, asked.bounds
    under = bounds[0].greatest or 0  # where bodies have several tolerances, the narrowest
    over = bounds[1].least
    p1, p99 = quantile(asked.bins, 0.01), quantile(asked.bins, 0.99)
    found = bars(asked.bins, min(p1, under), max(p99, over or 0))
    span = style.origins[style.fits[name]].sentence
    mm = THOUSANDTHS
    return DeliveredRecord(
        name,
        style.nodes[style.fits[name]].words.get("at_level", ""),
        f"{span.file}:{place(style.texts[span.file], span.start)[0]}",
        value.count,
        asked.failed,
        (_rounded((asked.asked.least or 0) / mm), _rounded((asked.asked.greatest or 0) / mm)),
        _rounded(-under / mm - SLACK),
        None if over is None else _rounded(over / mm - SLACK),
        _rounded(value.mean / mm),
        _rounded(value.sd / mm),
        p1 / mm,
        p99 / mm,
        tuple(BarRecord((found.low + at * found.width) / mm, count) for at, count in enumerate(found.counts)),
        found.below,
        found.above,
    )


def _rounded(value: float) -> float:
    """To a thousandth, without a negative zero."""
    return round(value, 3) + 0.0
