"""What a recipe takes where nothing is given, and its bounds: read where they are written, whether a use comes to them or not."""

from __future__ import annotations

from ..diagnostics import meaning_words as words
from ..syntax import tree as t
from .checker import BROKEN, Checker, Scope
from .mentioned import values_in
from .names import known_somehow
from .recipes import TAKEN, lost_takes, taken_twice


def defaults_read(checker: Checker, home: Scope, recipe: t.Recipe) -> None:
    """Tell of numbers of another kind than is taken, and of names that mean nothing."""
    takes = [one for one in recipe.block if isinstance(one, t.Takes) and one.span.file == home.file]
    for one, first in taken_twice(recipe):
        checker.report(home, words.defined_twice(one.name.span, one.name.text, first.name.span))
    inner = Scope(recipe.name.span.file, home)
    inner.known = dict.fromkeys((one.name.text for one in takes), BROKEN)
    inner.lossy = bool(lost_takes(recipe)) or len(takes) < sum(isinstance(one, t.Takes) for one in recipe.block)
    for take in takes:
        written = [take.default, *((take.bounds.low, take.bounds.high) if take.bounds is not None else ())]
        if not all(_reads(checker, inner, take, expr) for expr in written if expr is not None):
            checker.misfits.add(take.span)


def _reads(checker: Checker, inner: Scope, take: t.Takes, expr: t.Expr) -> bool:
    """Whether a number is of the kind that is taken; told where it is not."""
    if isinstance(expr, t.Number | t.Quantity):
        made = checker.value(inner, expr, TAKEN.get(take.kind.text))
        if made.kind is BROKEN.kind:
            return False
        checker.taken_back()
    for name in values_in(expr):
        known_somehow(checker, inner, name)
    return True
