"""The one exception of the interface."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace

from ..diagnostics.diagnostic import Diagnostic
from ..diagnostics.grouping import grouped
from ..diagnostics.printing import print_all


class StyleError(Exception):
    """A style, a body, a setting or a file is not as it must be.

    `diagnostics` are all that was found, errors and warnings, as values: code, message, place, fix. As text it is what the
    commands print, with the line of the style or the body file and the part underlined.
    """

    def __init__(self, diagnostics: Iterable[Diagnostic], texts: Mapping[str, str]) -> None:
        self.diagnostics = tuple(diagnostics)
        self.texts = dict(texts)
        super().__init__(self.diagnostics, self.texts)

    def __reduce__(self) -> tuple[type[StyleError], tuple[tuple[Diagnostic, ...], dict[str, str]]]:
        """It may be raised in another process: there what the words were made from is a dict, since a view cannot travel."""
        return StyleError, (tuple(replace(one, data=dict(one.data)) for one in self.diagnostics), self.texts)

    def __str__(self) -> str:
        return print_all(grouped(self.diagnostics), self.texts)
