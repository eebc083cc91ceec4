"""The wording of everything said about body files and measurements: E4xx errors, W4xx warnings."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from types import MappingProxyType

from .diagnostic import Diagnostic, Label, Severity, Span
from .suggest import either

UNITS = "cm, mm or in"


def _data(**items: object) -> Mapping[str, object]:
    return MappingProxyType(items)


def unreadable(span: Span, reason: str, fix: str) -> Diagnostic:
    return Diagnostic(
        "E401",
        "this body file cannot be read",
        span,
        note=reason,
        fix=fix or "write one `name = value` on each line, measures below `[measures]`",
        data=_data(reason=reason),
    )


def entry_missing(span: Span, entry: str, example: str) -> Diagnostic:
    return Diagnostic(
        "E402", f"the body file has no `{entry}`", span, fix=f"add a line such as `{example}`", data=_data(entry=entry)
    )


def unprintable_name(span: Span) -> Diagnostic:
    return Diagnostic(
        "E416", "the name of the body holds a sign that cannot be printed", span, fix="write it in letters, digits and spaces"
    )


def unknown_unit(span: Span, unit: str) -> Diagnostic:
    return Diagnostic(
        "E403",
        f"`{unit}` is not a unit of length for a body file",
        span,
        fix=f"the unit is {UNITS}, in quotes",
        data=_data(unit=unit),
    )


def unknown_measure(span: Span, word: str, near: Sequence[str]) -> Diagnostic:
    fix = f"did you mean {either(near)}?" if near else "use a word of the measurement list"
    return Diagnostic(
        "E404", f"`{word}` is not a body measurement", span, fix=fix, data=_data(word=word, suggestions=tuple(near))
    )


def unclear_measure(span: Span, word: str, meanings: Sequence[str]) -> Diagnostic:
    """A word of the trade that leaves out the level or the way of measuring."""
    return Diagnostic(
        "E405",
        f"`{word}` does not say which measurement it is",
        span,
        fix=f"write {either(meanings)}",
        data=_data(word=word, suggestions=tuple(meanings)),
    )


def not_a_number(span: Span, word: str, written: str) -> Diagnostic:
    return Diagnostic(
        "E406",
        f"`{word}` needs a number, not {written}",
        span,
        fix=f"write the number alone, such as `{word} = 38.5`",
        data=_data(word=word, written=written),
    )


def not_inches(span: Span, word: str, text: str, meant: str | None) -> Diagnostic:
    fix = f'write "{meant}"' if meant else 'write "36", "36 1/2" or "5/8", with halves to thirty-seconds'
    return Diagnostic(
        "E407", f'"{text}" is not read as inches', span, fix=fix, data=_data(word=word, text=text, meant=meant)
    )


def text_for_number(span: Span, word: str, text: str, unit: str) -> Diagnostic:
    return Diagnostic(
        "E408",
        f'`{word}` is the text "{text}"; only inches may stand in quotes',
        span,
        fix=f"write a number in {unit} without quotes",
        data=_data(word=word, text=text, unit=unit),
    )


def not_positive(span: Span, word: str, written: str) -> Diagnostic:
    return Diagnostic(
        "E409",
        f"`{word}` is {written}, and a measurement is more than nothing",
        span,
        fix="measure it, or leave the line out: then it is estimated where that can be done",
        data=_data(word=word, written=written),
    )


def impossible(span: Span, word: str, value: str, would_fit: str) -> Diagnostic:
    return Diagnostic(
        "E410",
        f"`{word}` is {value}, which no body has",
        span,
        fix=would_fit or "look at the unit of the file and at the decimal point",
        data=_data(word=word, value=value),
    )


def given_twice(span: Span, word: str, first: Span | None, other: str) -> Diagnostic:
    labels = (Label(first, "the same measurement"),) if first else ()
    return Diagnostic(
        "E411",
        f"`{word}` and `{other}` are the same measurement, given twice",
        span,
        fix="keep one of the two",
        labels=labels,
        data=_data(word=word, other=other),
    )


def unknown_sex(span: Span, written: str) -> Diagnostic:
    return Diagnostic(
        "E412",
        f"`sex` is {written}",
        span,
        fix='write sex = "F" or sex = "M", or leave it out; it only chooses the survey behind limits and estimates',
        data=_data(written=written),
    )


def no_measures(span: Span) -> Diagnostic:
    return Diagnostic(
        "E413",
        "the body file has no measures",
        span,
        fix="add a line `[measures]` and below it lines such as `bust_girth = 88.5`",
    )


def unknown_entry(span: Span, word: str, is_measure: bool) -> Diagnostic:
    if is_measure:
        message, fix = f"`{word}` stands outside the measures", "move it below the line `[measures]`"
    else:
        message = f"`{word}` is not an entry of a body file"
        fix = "the entries are `name`, `unit`, `sex` and `[measures]`"
    return Diagnostic("E414", message, span, fix=fix, data=_data(word=word))


def impossible_unit(span: Span, unit: str, count: int, fits: str) -> Diagnostic:
    """So many lengths no body has that the unit of the file is wrong rather than each of them."""
    fix = f'the numbers fit {fits}: write `unit = "{fits}"`' if fits else f"the unit is {UNITS}"
    return Diagnostic(
        "E415",
        f"in {unit}, {count} of these measurements are lengths that no body has",
        span,
        fix=fix,
        data=_data(unit=unit, count=count, fits=fits),
    )


def _warning(
    code: str,
    body: str,
    message: str,
    span: Span | None,
    note: str,
    fix: str,
    labels: tuple[Label, ...],
    data: Mapping[str, object],
) -> Diagnostic:
    return Diagnostic(code, message, span, note, fix, Severity.WARNING, labels, (), body, data)


def _measure_again(would_fit: str) -> str:
    return would_fit or "measure it again; if it is right, leave it: this is a warning only"


def out_of_range(
    body: str, span: Span | None, word: str, value: str, facts: Sequence[str], would_fit: str
) -> Diagnostic:
    return _warning(
        "W431",
        body,
        f"`{word}` of {value} is far from every body measured",
        span,
        "; ".join(facts),
        _measure_again(would_fit),
        (),
        _data(word=word, value=value, facts=tuple(facts), would_fit=would_fit),
    )


def out_of_proportion(
    body: str, span: Span | None, word: str, value: str, facts: Sequence[str], would_fit: str, labels: tuple[Label, ...]
) -> Diagnostic:
    return _warning(
        "W432",
        body,
        f"`{word}` of {value} does not go with the other measurements",
        span,
        "; ".join(facts),
        _measure_again(would_fit),
        labels,
        _data(word=word, value=value, facts=tuple(facts), would_fit=would_fit),
    )


def far_from_estimate(
    body: str, span: Span | None, word: str, value: str, facts: Sequence[str], would_fit: str
) -> Diagnostic:
    return _warning(
        "W433",
        body,
        f"`{word}` of {value} is unusual for such a body",
        span,
        "; ".join(facts),
        _measure_again(would_fit),
        (),
        _data(word=word, value=value, facts=tuple(facts), would_fit=would_fit),
    )


def exchanged(
    body: str,
    span: Span | None,
    first: str,
    second: str,
    values: tuple[str, str],
    facts: Sequence[str],
    label: Label | None,
) -> Diagnostic:
    return _warning(
        "W434",
        body,
        f"`{first}` of {values[0]} and `{second}` of {values[1]} look exchanged",
        span,
        "; ".join(facts),
        "if they were written in each other's place, exchange them",
        (label,) if label else (),
        _data(first=first, second=second, values=values, facts=tuple(facts)),
    )


def contradiction(
    body: str,
    span: Span | None,
    names: Sequence[str],
    values: Sequence[str],
    facts: Sequence[str],
    would_fit: str,
    labels: tuple[Label, ...],
) -> Diagnostic:
    """Two ways over the same stretch do not agree, and nothing tells which is wrong; or one slip would explain it."""
    return _warning(
        "W436",
        body,
        f"`{names[0]}` of {values[0]} and {either(names[1:], 'and')} contradict each other",
        span,
        "; ".join(facts),
        would_fit or f"measure {either(names, 'and')} again",
        labels,
        _data(word=names[0], names=tuple(names), values=tuple(values), facts=tuple(facts), would_fit=would_fit),
    )


def child_without_age(body: str, span: Span | None, stature: str) -> Diagnostic:
    return _warning(
        "W437",
        body,
        f"`stature` of {stature} is a child's, and no age is given",
        span,
        "figures of adults are not used for it, and those of children need the age; without it no caution for children is given",
        "write the age in years among the measures, such as `age = 7.5`",
        (),
        _data(word="stature", value=stature),
    )


def no_figures_of_children(body: str, span: Span | None, names: Sequence[str]) -> Diagnostic:
    return _warning(
        "W438",
        body,
        "most of this child's measurements were held against no other child's",
        span,
        f"the survey of children has stature, weight, waist and foot, and no figures for {either(names, 'and')}",
        "measure these twice",
        (),
        _data(names=tuple(names)),
    )


def unit_of_all(body: str, span: Span | None, unit: str, fits: str, count: int) -> Diagnostic:
    return _warning(
        "W435",
        body,
        f"the measurements do not fit the unit {unit}",
        span,
        f"{count} of them are far from every body measured",
        f'they fit {fits}: if they were taken in {fits}, write `unit = "{fits}"`',
        (),
        _data(unit=unit, fits=fits, count=count),
    )


_WHERE_SOLD = "check the rules where it is sold"
RULES_DECIDE = "The rules where the garment is sold decide; nothing of them is checked here."


def cords_on_children(body: str, span: Span | None, under_seven: bool) -> Diagnostic:
    neck = (
        "up to 7 years no cord or drawstring in the hood or neck area and no ties behind the neck"
        if under_seven
        else "from 7 to 14 years no drawstring with free ends in the head and neck area"
    )
    return _warning(
        "W441",
        body,
        "this is a child: cords and drawstrings are regulated (EN 14682)",
        span,
        f"{neck}; their lengths are limited at waist, hem and sleeves",
        _WHERE_SOLD,
        (),
        _data(rule="EN 14682"),
    )


def nightwear_for_children(body: str, span: Span | None) -> Diagnostic:
    return _warning(
        "W442",
        body,
        "this is a child: nightwear must not burn easily (16 CFR 1615 and 1616 in the United States)",
        span,
        "sleepwear up to size 14 must pass a flame test, with exceptions for tight-fitting and infant garments",
        _WHERE_SOLD,
        (),
        _data(rule="16 CFR 1615 and 1616"),
    )


def small_parts_for_children(body: str, span: Span | None) -> Diagnostic:
    return _warning(
        "W443",
        body,
        "this child is under 3: small parts are regulated (16 CFR 1501 in the United States)",
        span,
        "buttons, beads and bows must hold, and no part may fit whole into the small-parts cylinder",
        _WHERE_SOLD,
        (),
        _data(rule="16 CFR 1501"),
    )
