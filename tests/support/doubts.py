"""Small styles of one box or two, and what is told of them on the body of the tests."""

from __future__ import annotations

from godet.diagnostics.diagnostic import Diagnostic
from godet.jobs.outcome import outcomes

from .styles import said, written


def doubts(text: str, *codes: str) -> list[Diagnostic]:
    made = written(text)
    assert made.style is not None, said(made)
    ((result,), _) = outcomes(made)
    assert not result.errors, result.errors[0].message
    return [one for one in result.warnings if one.code in codes]


def box(name: str, wide: str, rows: str, kind: str = "shape", wave: str = "line hem from {name}_a to {name}_b") -> str:
    """A box 20 cm high that ends so far down at its outer side, with rows in its braces."""
    return (
        f"point {name}_a = starting_point\npoint {name}_b = starting_point outward {wide}\npoint {name}_c = {name}_b up 20 cm\n"
        f"point {name}_d = starting_point up 20 cm\n{kind} {name} {{\n    {wave.format(name=name)}\n"
        f"    line side from {name}_b to {name}_c\n    line top from {name}_c to {name}_d\n"
        f"    line centre from {name}_d to {name}_a\n{rows}}}\n"
    )


CUT = "    cut 1\n    grain up\n    allow 1 cm\n"
