"""A style, and the style on bodies."""

from __future__ import annotations

import os
from collections.abc import Callable, Collection, Iterable, Iterator, Mapping, Sequence
from typing import TYPE_CHECKING, Literal, TextIO

from ..bodies.body import Body
from ..diagnostics.diagnostic import Diagnostic
from ..jobs.bounds import advice
from ..jobs.files import Disk, Files, Overlaid
from ..jobs.outcome import results_of
from ..jobs.prepare import Given, Prepared, prepare_style, with_bodies
from ..jobs.results import BodyResult
from ..output.records import Report
from .errors import StyleError
from .result import Result

if TYPE_CHECKING:
    from ..drawing.pages import Paper
    from ..jobs.build import Built

Settings = Mapping[str, str] | Sequence[str]
"""Choices of a style as they are written in the language: `{"overarm": "12 cm"}`, or `["overarm=12 cm"]`."""

Path = str | os.PathLike[str]
Bodies = Path | Mapping[str, object] | Iterable[Path | Mapping[str, object]]
"""Body files, folders of them, and bodies as mappings (rows of a table): one, or many."""


def open_style(path: Path, *, text: str | None = None, settings: Settings = (), files: Files | None = None) -> Style:
    """Read and check a style. Nothing is raised for what is wrong with it: see `Style.diagnostics` and `Style.check`.

    With `text`, that is the style, and `path` only names it in messages and says in which folder the styles and modules lie that
    it uses. `files` stands in for the disk.

    >>> style = open_style("small.style", text='language 1\\nstyle "Small"\\nlength idle = 3 cm\\n')
    >>> style.title, [one.message for one in style.diagnostics]
    ('Small', ['`idle` is never used'])
    """
    disk: Files = files or Disk()
    if text is not None:
        disk = Overlaid(disk, {os.fspath(path): text})
    chosen = [f"{name}={value}" for name, value in settings.items()] if isinstance(settings, Mapping) else list(settings)
    return Style(disk, os.fspath(path), chosen, prepare_style(disk, os.fspath(path), chosen))


class Style:
    """A style that was read and checked, with or without errors. `open_style` makes it."""

    def __init__(self, files: Files, path: str, settings: Sequence[str], prepared: Prepared) -> None:
        self.files = files
        self.path = path
        self.settings = tuple(settings)
        self._prepared = prepared

    def __repr__(self) -> str:
        return f"<style {self.title or self.path}{', with errors' if self._prepared.broken else ''}>"

    @property
    def title(self) -> str:
        """Its title; empty where the style has errors."""
        return self._prepared.style.title if self._prepared.style else ""

    @property
    def pieces(self) -> tuple[str, ...]:
        """The names of its pieces; none where the style has errors."""
        return tuple(self._prepared.style.pieces) if self._prepared.style else ()

    @property
    def measures(self) -> tuple[str, ...]:
        """The measurements it asks for; none where the style has errors."""
        return tuple(self._prepared.style.measures) if self._prepared.style else ()

    @property
    def fingerprint(self) -> str:
        """Eight digits that change when what the style comes to does; empty where the style has errors."""
        return self._prepared.fingerprint

    @property
    def diagnostics(self) -> tuple[Diagnostic, ...]:
        """Errors and warnings of the style and its settings."""
        return self._prepared.diagnostics

    @property
    def has_errors(self) -> bool:
        """Whether it cannot be used."""
        return self._prepared.broken

    def check(self) -> Style:
        """The style itself; `StyleError` where it has errors."""
        _check(self._prepared)
        return self

    def on(self, bodies: Bodies) -> OnBodies:
        """The style on bodies: paths of body files or of folders with them, and mappings such as
        `{"name": "alto 3", "unit": "cm", "sex": "F", "bust_girth": 92, …}`, whose None and NaN are what was not measured.

        The bodies are read and reviewed now; nothing is drawn before it is asked for.
        """
        return OnBodies(self, with_bodies(self.files, self._prepared, _listed(bodies)))


class OnBodies:
    """A style on bodies, which are drawn as they are come to: `for result in style.on(bodies)`.

    No more is kept than of a chunk of bodies. Whoever goes through it twice has everything drawn twice.
    """

    def __init__(self, style: Style, prepared: Prepared) -> None:
        self.style = style
        self._prepared = prepared

    def __repr__(self) -> str:
        return f"<{self.style!r} on {len(self)} {'body' if len(self) == 1 else 'bodies'}>"

    def __len__(self) -> int:
        return len(self._prepared.bodies)

    def __iter__(self) -> Iterator[Result]:
        """A result for each body, in the order given; `StyleError` first where the style or any of the bodies has errors."""
        self.check()
        for body, found in zip(self._prepared.bodies, results_of(self._prepared), strict=True):
            yield Result(self._prepared, body, found)

    @property
    def bodies(self) -> tuple[Body, ...]:
        """The bodies that could be read."""
        return self._prepared.bodies

    @property
    def diagnostics(self) -> tuple[Diagnostic, ...]:
        """Errors and warnings of the style, its settings, and the bodies as they are measured."""
        return self._prepared.diagnostics

    @property
    def texts(self) -> Mapping[str, str]:
        """The texts that diagnostics point into, by file."""
        return self._prepared.texts

    def check(self) -> OnBodies:
        """The same; `StyleError` where the style or a body has errors."""
        _check(self._prepared)
        return self

    def build(
        self,
        folder: Path,
        *,
        paper: Paper = "a4",
        levels: bool = True,
        toile: bool = False,
        each: Callable[[Result], None] | None = None,
    ) -> Built:
        """Write an SVG and a PDF of each body into a folder, all or none; `each` hears of every body as it is come to.

        Bodies that cannot be drawn are left out. `StyleError` where the style or a body has errors, or nothing can be written.
        """
        from ..jobs.build import Wanted, build

        self.check()
        bodies = iter(self._prepared.bodies)

        def tell(found: BodyResult) -> None:
            body = next(bodies)
            if each is not None:
                each(Result(self._prepared, body, found))

        built = build(self.style.files, self._prepared, os.fspath(folder), Wanted(paper, levels, toile), tell)
        if built.problem is not None:
            raise StyleError([built.problem], self._prepared.texts)
        return built

    def report(self) -> Report:
        """The whole report as a value; of many bodies `write_report` keeps less."""
        from ..jobs.report import Reporting

        self.check()
        return Reporting(self._prepared).whole()

    def write_report(
        self, to: TextIO, *, form: Literal["text", "json"] = "text", each: Callable[[Result], None] | None = None
    ) -> None:
        """Write the report to an open file, body by body, as text to read or as JSON (its keys: `report_schema`); `each` hears of
        every body as it is come to. `StyleError` where the style or a body has errors."""
        from ..jobs.report import Reporting

        self.check()

        def see(body: Body, found: BodyResult) -> None:
            if each is not None:
                each(Result(self._prepared, body, found))

        reporting = Reporting(self._prepared, see)
        for part in reporting.json_parts() if form == "json" else reporting.text_parts():
            to.write(part)

    def advice(self, failing: Collection[str]) -> tuple[Diagnostic, ...]:
        """For bodies that fail, by their names: the settings without which they would not."""
        return advice(self.style.files, self._prepared, failing, self.style.path, self.style.settings)


def _check(prepared: Prepared) -> None:
    if prepared.broken:
        raise StyleError(prepared.diagnostics, prepared.texts)


def _listed(bodies: Bodies) -> list[Given]:
    many = [bodies] if isinstance(bodies, (str, os.PathLike, Mapping)) else bodies
    return [one if isinstance(one, Mapping) else os.fspath(one) for one in many]
