"""The wording of what is said about a style in several sizes: E54x errors, W33x warnings."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from .diagnostic import Diagnostic, Severity, Span
from .suggest import either


def undrawn_sizes(sizes: Sequence[str]) -> Diagnostic:
    many = "sizes" if len(sizes) > 1 else "size"
    return Diagnostic(
        "E541",
        f"there is no nest: {many} {either(sizes, 'and')} cannot be drawn",
        fix="why is told above; or leave them out with `--only`",
    )


def unlike_sizes(
    span: Span, piece: str, one: tuple[str, Sequence[str]], other: tuple[str, Sequence[str]], together: Sequence[str]
) -> Diagnostic:
    """Sizes of a piece that are made of other edges: both lists, each from its first edge by name on; `together` are the
    ranges of sizes that are made alike, all pieces of them."""
    rows = [f"in {size}: {', '.join(edges)}" for size, edges in (one, other)]
    missing = [f"`{edge}` in {one[0]} alone" for edge in dict.fromkeys(one[1]) if edge not in other[1]]
    missing += [f"`{edge}` in {other[0]} alone" for edge in dict.fromkeys(other[1]) if edge not in one[1]]
    return Diagnostic(
        "E542",
        f"`{piece}` has other edges in size {other[0]} than in {one[0]}" + (f": {', '.join(missing)}" if missing else ""),
        span,
        note="; ".join(rows),
        fix=f"add `--split` for a nest of each of {', '.join(together)}; or ask for one of them with `--only`",
        data={"of": piece},
    )


def held_count(
    span: Span,
    count: str,
    value: float,
    sample: str,
    others: Mapping[float, Sequence[str]],
    decided: Sequence[tuple[str, str, str, str]],
) -> Diagnostic:
    """A count that all sizes have from the sample, and which of them would have another alone; the lengths it `decided`, each
    with the size where it changes most, and how long it is there and would be alone."""
    rows = [f"{', '.join(sizes)} alone would have {other:g}" for other, sizes in others.items()]
    rows += [f"`{name}` is {long} in {size}, alone {short}" for name, size, long, short in decided]
    alone = "; ".join(rows)
    return Diagnostic(
        "W350",
        f"`{count}` is {value:g} in all sizes, as in {sample}: {alone}",
        span,
        note="one nest has one number of darts: in sizes far from the sample these are wide or narrow",
        fix="make a toile of the outermost size; or end the run there with `--only` and begin another",
        data={"of": count},
        severity=Severity.WARNING,
    )


def too_many_sizes(count: int, most: int, ranges: Sequence[str]) -> Diagnostic:
    named = f", as {either(ranges)}" if ranges else ", as `--only 84..104`"
    return Diagnostic(
        "E543",
        f"{count} sizes are too many for one nest: {most} can be told apart",
        fix=f"ask for some of them with `--only`{named}; or `--apart` for a set of each",
    )


def sizes_and_bodies() -> Diagnostic:
    return Diagnostic("E544", "`--sizes` and `--body` stand together", fix="take one of them: a size is a body")


def only_without_sizes(option: str) -> Diagnostic:
    return Diagnostic("E545", f"`{option}` asks for sizes, and no chart is given", fix="add `--sizes CHART`")


def chart_wanted() -> Diagnostic:
    fix = "add `--sizes CHART`; or `--rates`, with which it tells of bodies how far points move"
    return Diagnostic("E547", "growth is from size to size, and no chart is given", fix=fix)


def no_picture_of_rates() -> Diagnostic:
    return Diagnostic("E548", "`--picture` draws growth, and with `--rates` none is told", fix="leave out one of them")


def undrawn_bodies(bodies: Sequence[str]) -> Diagnostic:
    many = "bodies" if len(bodies) > 1 else "body"
    return Diagnostic("E549", f"nothing moves on {many} {either(bodies, 'and')}, which cannot be drawn", fix="why is told above")


def toile_of_sizes() -> Diagnostic:
    return Diagnostic(
        "E546",
        "a toile is sewn in one size, and a nest has several",
        fix="add `--apart` for a set of each size, and `--only` with the size to sew",
    )


def sizes_cross(
    span: Span, piece: str, edges: Mapping[str, Sequence[tuple[str, str]]], others: Mapping[str, str], most: float
) -> Diagnostic:
    """Edges of a piece along which the lines of some neighbouring sizes cross, each with these steps and by how much, and by how
    much they cross at most in the `others`."""
    rows = [
        f"along `{edge}` {', '.join(f'{step} by {by}' for step, by in steps)}, in the other steps by {others[edge]} at most"
        for edge, steps in edges.items()
    ]
    return Diagnostic(
        "W336",
        f"sizes of `{piece}` cross: {'; '.join(rows)}",
        span,
        note="the larger size lies within the smaller one there, unlike in other steps: one is hollowed, bulges or turns",
        fix="`godet grade` with the same chart names the sentences that choose otherwise from there on: mend those, or what they "
        "are given, as less ease; or leave these sizes out with `--only`",
        data={"of": (piece, *edges), "figures": {"mm": most}},
        severity=Severity.WARNING,
    )
