"""Which bound of a choice to change: a body fails with a choice as it was set, and does not with its default."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import replace

from ..diagnostics import running_words as words
from ..diagnostics.diagnostic import Diagnostic
from ..meaning.recipes import written
from .files import Files
from .outcome import results_of
from .prepare import Prepared, prepare_style
from .workspace import Workspace


def advice(
    files: Files, prepared: Prepared, failing: Collection[str], style: str, settings: Sequence[str]
) -> tuple[Diagnostic, ...]:
    """For each choice that was set: a warning for every body that fails with it, of the names `failing`, and not with the
    default."""
    assert prepared.style is not None
    found: list[Diagnostic] = []
    for setting in settings if failing else ():
        name = setting.partition("=")[0].strip()
        without = prepare_style(Workspace(files), style, [one for one in settings if one is not setting])
        choice = next((one for one in prepared.style.choices if one.name == name), None) if prepared.style else None
        if without.style is None or choice is None or choice.low is None or choice.high is None:
            continue
        results = results_of(replace(without, bodies=prepared.bodies))
        sound = {result.name for result in results if result.holds and not result.errors}
        value = setting.partition("=")[2].strip()
        bound = "upper" if prepared.style.chosen[name] > choice.default else "lower"
        default = written(choice.default, choice.kind)
        found += [words.bound_to_change(name, bound, value, default).on(body) for body in sorted(sound.intersection(failing))]
    return tuple(found)
