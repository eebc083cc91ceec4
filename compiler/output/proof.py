"""The proof of a style on a population, as text to read."""

from __future__ import annotations

from collections.abc import Iterator
from textwrap import wrap

from .columns import table
from .proof_records import DeliveredRecord, ExampleRecord, GateRecord, GroupRecord, ProofRecord, TellingRecord
from .summary import listed

WIDE = 110
SENTENCE = 160
"""Of a sentence so many letters are shown."""


def text(proof: ProofRecord) -> str:
    """What a cutter reads: the gates, what fails and what tells it, what is delivered of what is asked, what was estimated."""
    people = proof.population
    head = f"{proof.style} {proof.fingerprint} on {_many(people.bodies, 'body', 'bodies')} of {people.source}"
    lines = [head, "", *table([_gate(one) for one in proof.gates], words=(0, 3))]
    if proof.groups:
        lines += ["", "What fails"]
        lines += [line for one in proof.groups for line in _group(one)]
    if proof.delivered:
        head_row = ("", "asked", "under", "over", "mean", "SD", "1 %", "99 %", "bodies", "fail")
        lines += ["", "Ease delivered less ease asked, mm", *table([head_row, *map(_delivered, proof.delivered)])]
        lines += ["  (a block is held to `over` as it is drafted: a style may give more)"]
    else:
        lines += ["", "Nothing that is promised of the body could be held against one: whether it fits is not proved"]
    if people.estimated:
        lines += ["", "Not measured"]
        lines += [f"  {one.name}, on {_many(one.count, 'body', 'bodies')}: {one.rule}" for one in people.estimated]
    return "\n".join(lines) + "\n"


def _many(count: int, one: str, more: str) -> str:
    return f"{count:,} {one if count == 1 else more}"


def _gate(gate: GateRecord) -> tuple[str, str, str, str]:
    share = f"{100 * gate.passed / gate.of:.2f} %" if gate.of else ""
    alone = f"of all bodies {gate.alone:,}" if gate.alone != gate.passed else ""
    return gate.name, f"{gate.passed:,} of {gate.of:,}", share, alone


def _group(group: GroupRecord) -> Iterator[str]:
    what = " ".join(one for one in (group.code or group.what, group.name) if one)
    place = f", {group.place}" if group.place else ""
    yield f"  {group.count:,}  ({100 * group.share:.2f} %)  {group.gate}: {what}{place}"
    sentence = group.sentence.replace(f'"{group.said}"', "").strip()
    sentence = sentence if len(sentence) <= SENTENCE else f"{sentence[:SENTENCE]} …"
    margin = group.margin
    unit = f" {margin.unit}" if margin is not None and margin.unit else ""
    told = [sentence and f"`{sentence}`", group.said]
    if margin is not None:
        told.append(f"margin: mean {margin.mean:.1f}, SD {margin.sd:.1f}, least {margin.least:.1f}{unit}")
    for line in (*told, _telling(group)):
        yield from (f"      {part}" for part in wrap(line, WIDE, break_long_words=False, break_on_hyphens=False))
    yield f"      {_examples(group.examples, unit)}"


def _telling(group: GroupRecord) -> str:
    if group.explained is None:
        return "nothing tells it: it fails on fewer than 8, or on all"
    of_margin = group.explained_of == "variance"
    how = f"{group.explained:.2f} of the margin" if of_margin else f"parts {100 * group.explained:.0f} % rightly"
    if not group.told_by:
        return f"no two measurements tell it (the best: {how})"
    told = f"told by {listed([one.measurement for one in group.told_by])} ({how})"
    ranges = [said for one in group.told_by if (said := _range(one))]
    return f"{told}: {'; '.join(ranges)}" if ranges else f"{told}; too few for a range"


def _range(one: TellingRecord) -> str:
    if one.low is None or one.high is None:
        return ""
    return f"{one.measurement} {one.low:g} to {one.high:g}, where {one.passing_inside:,} pass"


def _examples(examples: tuple[ExampleRecord, ...], unit: str) -> str:
    named = [one.name if one.room is None else f"{one.name} ({one.room:.1f}{unit})" for one in examples]
    if len(named) == 1 or not examples[0].how:
        return f"on {listed(named)}"
    return ", ".join(f"{one.how} {name}" for one, name in zip(examples, named, strict=True))


def _delivered(row: DeliveredRecord) -> tuple[str, ...]:
    low, high = row.asked_mm
    asked = f"{low:.1f}" if low == high else f"{low:.1f} to {high:.1f}"
    over = "any" if row.over_mm is None else f"{row.over_mm:.1f}"
    numbers = (row.mean_mm, row.sd_mm, row.p1_mm, row.p99_mm)
    return row.name, asked, f"{row.under_mm:.1f}", over, *(f"{one:.1f}" for one in numbers), f"{row.bodies:,}", f"{row.failing:,}"
