"""What the screen says of each body, as it is come to, and at the end of all of them."""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterable, Mapping, Sequence

from ..bodies.units import Unit
from ..diagnostics.colours import are_wanted, painted
from ..diagnostics.diagnostic import Diagnostic
from ..diagnostics.grouping import Groups, named
from ..diagnostics.printing import print_all
from ..door.result import Result
from ..door.style import OnBodies, OnSizes, Style
from ..jobs.fit import FitResult
from ..jobs.numbers import in_unit, quantity
from ..jobs.results import SeamResult
from ..output.records import CheckResult, ClosureRow
from ..output.summary import answers, folded, summary

HOLDS, FAILS, ERRORS = 0, 1, 2


def say(diagnostics: Iterable[Diagnostic], texts: Mapping[str, str]) -> None:
    printed = print_all(diagnostics, texts, are_wanted(sys.stderr))
    if printed:
        print(printed, end="\n\n", file=sys.stderr)


def _fails() -> str:
    return painted("FAILS", "error" if are_wanted(sys.stdout) else "")


def without_body(style: Style) -> int:
    """Tell what is known of a style without a body, whether it makes a garment; the exit code."""
    assembly = style.assembly
    assert assembly is not None
    say(assembly.diagnostics, style.texts)
    if not assembly.holds:
        print(f"{style.path}: no errors, but it makes no garment as it is sewn")
        return FAILS
    if not assembly.judged:
        print(assembly.told)
    print(f"{style.path}: no errors; add --body to prove it on a body")
    return HOLDS


class Telling:
    """Tells of bodies one after the other, and keeps of them what is told of all together: a trouble that many bodies meet is
    told once. `code` is the exit code they come to, `failing` are the names of those that fail, each with
    whether it cannot be drawn. With `whole` also what holds of
    the library is told check by check; of sizes, which are many and alike, without it nothing of what holds."""

    def __init__(self, on: OnBodies, whole: bool = False) -> None:
        self.on = on
        self.whole = whole
        self.called = "sizes" if isinstance(on, OnSizes) else "bodies"
        self.brief = isinstance(on, OnSizes) and not whole
        self.code = HOLDS
        self.failing: dict[str, bool] = {}
        self.held = 0
        self._groups = Groups()
        self._unmeasured: dict[str, str] = {}

    def note(self, result: Result) -> None:
        """Note whether a body fails."""
        if result.holds:
            self.held += 1
            return
        self.failing.setdefault(result.name, bool(result.errors))
        self.code = max(self.code, ERRORS if result.errors else FAILS)

    def see(self, result: Result) -> None:
        """Print the checks, seams and estimates of a body; failed ones with their numbers."""
        self.note(result)
        for found in (*result.errors, *result.assembly.wrong, *result.warnings):
            self._groups.add(found)
        if result.errors:
            print(f"{result.name}: cannot be drawn")
            _tell_failed(result.checks)
            return
        print(_summary(result))
        _tell_failed(result.checks)
        for seam in result.seams:
            _tell_loose(seam, result.body.unit)
        closures = result.specification.closures
        for closure in closures:
            if not closure.holds:
                print(f"  {_fails()}  {_closure(closure, result.body.unit)}")
        for fit in result.fits:
            if not fit.holds:
                print(f"  {_fails()}  {fit.name}: {fit.wrong}; {fit.fix}  ({_measured(fit, in_unit(result.body.unit))})")
        if result.assembly.holds is False:
            print(f"  {_fails()}  assembly: the seams do not make a garment; why is told below")
        for one in () if self.brief else result.checks:
            if one.holds and (one.own or self.whole):
                print(f"  holds  {one.name}: {one.text}" + (f"  ({one.figures})" if one.figures else ""))
        for closure in () if self.brief else closures:
            if closure.holds:
                print(f"  holds  {_closure(closure, result.body.unit)}")
        if not self.whole and not self.brief and (rest := folded(result.checks)):
            print(f"  holds  {rest}")
        _tell_more(result, self._unmeasured if self.brief else None)

    def finish(self) -> None:
        """Print how many of several bodies hold, what is wrong with them, or doubtful, and how their files were read."""
        assembly = self.on.style.assembly
        if assembly is not None and not assembly.judged:
            print(assembly.told)
        if self._unmeasured:
            print(f"not in the chart: {', '.join(f'{name} {how}' for name, how in self._unmeasured.items())}")
        if self.held + len(self.failing) > 1:
            print(self._of_all())
        for body in self.on.bodies:
            for name, short in body.short_forms.items():
                print(f"{body.name}: `{short}` was read as `{name}`")
        say([*(assembly.diagnostics if assembly else ()), *self._groups.told()], self.on.texts)

    def _of_all(self) -> str:
        """`6 bodies: 4 hold, 1 fails (bass 2), 1 cannot be drawn (alto 5)`."""
        if not self.failing:
            return f"{self.held} {self.called}: all hold"
        parts = [f"{self.held} {'holds' if self.held == 1 else 'hold'}"] if self.held else []
        for undrawn in (False, True):
            names = [name for name, one in self.failing.items() if one is undrawn]
            verb = "cannot be drawn" if undrawn else "fails" if len(names) == 1 else "fail"
            parts += [f"{len(names)} {verb} ({named(names)})"] if names else []
        return f"{self.held + len(self.failing)} {self.called}: {', '.join(parts)}"


def _summary(result: Result) -> str:
    """How much of what must hold of a body does."""
    held = answers(result.checks, result.seams, result.specification.closures, result.fits)
    return f"{result.name}: {summary(len(result.pieces), held)}"


def _tell_failed(checks: Sequence[CheckResult]) -> None:
    for one in checks:
        if not one.holds:
            print(f"  {_fails()}  {one.name}: {one.text}  ({one.figures}){'; ' + one.advice if one.advice else ''}")


def _tell_loose(seam: SeamResult, unit: Unit) -> None:
    """A seam that does not hold: its lengths, and the stretches and notches that do not go together."""
    if seam.holds:
        return
    left, right = " and ".join(seam.left), " and ".join(seam.right)
    one, other = (in_unit(unit)(mm) for mm in (seam.left_mm, seam.right_mm))
    print(f"  {_fails()}  {seam.name}: {left} {one} {seam.how} {right} {other}")
    for off in dict.fromkeys(one.told(unit) for one in seam.stretches if not one.holds):
        print(f"         {off}")
    for pair in seam.notches:
        if not pair.meets:
            print(f"         {pair.told(unit)}")


def _tell_more(result: Result, together: dict[str, str] | None) -> None:
    """What is not wrong, and should be known; what was not measured of several together, where that is told at their end."""
    for fit in result.fits:
        for more in fit.told if fit.level else ():
            print(f"  told  {fit.name}: {more}")
    if not result.fits:
        print("  told  nothing is promised of the body here: whether it fits is not proved")
    for told in result.tidings:
        print(f"  told  {told.name}: {told.text or told.condition}" + (f"  ({told.figures})" if told.figures else ""))
    if together is not None:
        for missing in result.estimated:
            together[missing.name] = f"({missing.rule or 'estimated'})"
        return
    for missing in result.estimated:
        print(f"  not measured  {missing.name}: {missing.how}")


def _measured(fit: FitResult, in_words: Callable[[float], str]) -> str:
    """What a garment and the body measure."""
    told = "length" if not fit.level else f"{fit.level.replace('_', ' ')}, as sewn"
    what, long = ("draft", fit.drafted_mm) if fit.of_draft else ("garment", fit.garment_mm)
    body, has = ("none" if one is None else in_words(one) for one in (fit.body_mm, long))
    told = told.replace(", as sewn", ", as drafted") if fit.of_draft else told
    return f"{told}: body {body}, {what} {has}, ease asked {in_words(fit.asked_mm)}"


def _closure(closure: ClosureRow, unit: Unit) -> str:
    def said(mm: float) -> str:
        return quantity(mm, "length", unit, not closure.holds)

    needed = "" if closure.needed_mm is None else f"; {said(closure.needed_mm)} is needed"
    return f"{closure.name}: {said(closure.long_mm)} long in {' and '.join(closure.place)} ({said(closure.place_mm)}){needed}"
