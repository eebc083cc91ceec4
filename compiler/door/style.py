"""A style, and the style on bodies."""

from __future__ import annotations

import os
from collections.abc import Callable, Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from functools import cached_property
from typing import TYPE_CHECKING, Any, Literal, Protocol, TextIO

from ..bodies.body import Body
from ..bodies.chart import Chart
from ..bodies.frames import is_table
from ..diagnostics import grading_words
from ..diagnostics.diagnostic import Diagnostic, Span
from ..diagnostics.printing import offset, place
from ..jobs.assembled import Assembly
from ..jobs.bounds import advice
from ..jobs.charts import with_sizes
from ..jobs.files import Disk, Files
from ..jobs.keeping import KEEP_NOTHING, MOST_BODIES, Keeping, Work
from ..jobs.measures import asked
from ..jobs.outcome import results_of
from ..jobs.prepare import Given, Prepared, prepare_style, with_bodies
from ..jobs.results import BodyResult
from ..jobs.sized_choices import Sized
from ..jobs.workspace import Workspace
from ..meaning.symbols import Symbol
from ..output.html import html_table
from ..output.records import Report
from .errors import StyleError
from .result import Result

if TYPE_CHECKING:
    from ..bodies.clients import LabelledBy
    from ..drawing.pages import Paper
    from ..jobs.build import Built
    from ..jobs.nest import Run
    from ..output.growth_records import GrowthReport
    from ..output.rates_records import RatesReport
    from .clients import OnClients
    from .proof import Proof

Settings = Mapping[str, str] | Sequence[str]
"""Choices of a style as they are written in the language: `{"overarm": "12 cm"}`, or `["overarm=12 cm"]`."""

Path = str | os.PathLike[str]


class Table(Protocol):
    """A table with names of columns, which gives a column by its name: of pandas, polars, pyarrow, or a numpy array with named
    fields."""

    def __getitem__(self, name: str, /) -> Any: ...


Bodies = Path | Mapping[str, object] | Iterable[Path | Mapping[str, object]] | Table
"""Body files, folders of them, and bodies as mappings (rows of a table): one, or many; or a table with columns."""


def open_style(path: Path, *, text: str | None = None, settings: Settings = (), files: Files | None = None) -> Style:
    """Read and check a style. Nothing is raised for what is wrong with it: see `Style.diagnostics` and `Style.check`.

    With `text`, that is the style, and `path` only names it in messages and says in which folder the styles and modules lie that
    it uses. `files` stands in for the disk. What a file of the disk comes to is kept in the user's cache folder, and found again
    as long as nothing it is made of has changed.

    >>> style = open_style("small.style", text='language 1\\nstyle "Small"\\nlength idle = 3 cm\\n')
    >>> style.title, [one.message for one in style.diagnostics]
    ('Small', ['`idle` is never used'])
    """
    stored = files is None and text is None
    workspace = Workspace(files or Disk(), None if text is None else {os.fspath(path): text}, keeps=stored)
    return Style(workspace, os.fspath(path), _chosen(settings))


def _chosen(settings: Settings) -> tuple[str, ...]:
    if isinstance(settings, Mapping):
        return tuple(f"{name}={value}" for name, value in settings.items())
    return tuple(settings)


class Style:
    """A style that was read and checked, with or without errors. `open_style` makes it."""

    def __init__(self, workspace: Workspace, path: str, settings: tuple[str, ...], keeping: Keeping | None = None) -> None:
        self.workspace = workspace
        self.path = path
        self.settings = settings
        self._prepared = prepare_style(workspace, path, settings)
        self._analysis = self._prepared.analysis
        self._keeping = keeping or Keeping()

    def __repr__(self) -> str:
        return f"<style {self.title or self.path}{', with errors' if self._prepared.broken else ''}>"

    @property
    def title(self) -> str:
        """Its title; its path where none can be read."""
        return self._analysis.title if self._analysis else self.path

    @property
    def pieces(self) -> tuple[str, ...]:
        """The names of its pieces, with errors and without; none where the file cannot be read."""
        return self._analysis.pieces if self._analysis else ()

    @property
    def kinds(self) -> Mapping[str, str]:
        """Each name of the style, and each that a block of it gives, as `base.front`, with the kind of its value: `length`,
        `piece` …; empty where an error leaves that open."""
        return self._prepared.kinds

    @property
    def measures(self) -> tuple[str, ...]:
        """The measurements that act on it; with errors all that it names, as far as it could be read."""
        if self._prepared.style is None:
            return tuple(self._analysis.measures) if self._analysis else ()
        return tuple(one.name for one in asked(self._prepared.style))

    @property
    def fingerprint(self) -> str:
        """Eight digits that change when what the style comes to does; empty where the style has errors."""
        return self._prepared.fingerprint

    @property
    def diagnostics(self) -> tuple[Diagnostic, ...]:
        """Errors and warnings of the style and its settings."""
        return self._prepared.diagnostics

    @property
    def assembly(self) -> Assembly | None:
        """The garment its seams make, as far as it is known without a body; None where the style has errors."""
        return self._prepared.assembly

    @property
    def texts(self) -> Mapping[str, str]:
        """The texts that diagnostics point into, by file."""
        return self._prepared.texts

    def symbol_at(self, file: str, line: int, column: int) -> Symbol | None:
        """What the word at a place of the style, of a module beside it or of the library stands for: the file as messages print
        it, line and column from 1; None where no word of a known meaning is.

        >>> style = open_style("small.style", text='language 1\\nlength ease = 3 cm\\nlength wide = bust_girth + ease\\n')
        >>> found = style.symbol_at("small.style", 3, 28)
        >>> found.what, found.name, found.kind, style.place(found.defined)
        ('definition', 'ease', 'length', ('small.style', 2, 8))
        >>> [style.place(one) for one in style.uses(found)]
        [('small.style', 3, 28)]
        """
        text = self._prepared.texts.get(file)
        if self._analysis is None or text is None:
            return None
        return self._analysis.symbols.at(file, offset(text, line, column))

    def uses(self, symbol: Symbol) -> tuple[Span, ...]:
        """Every place that names what a symbol stands for, in all texts, but that where it is defined."""
        return self._analysis.symbols.uses(symbol) if self._analysis else ()

    def place(self, span: Span) -> tuple[str, int, int]:
        """File, line and column of a part of the style or of what it is made of."""
        return span.file, *place(self._prepared.texts[span.file], span.start)

    @property
    def has_errors(self) -> bool:
        """Whether it cannot be used."""
        return self._prepared.broken

    def check(self) -> Style:
        """The style itself; `StyleError` where it has errors."""
        _check(self._prepared)
        return self

    def edited(self, text: str | None = None, *, settings: Settings | None = None) -> Style:
        """The style with another text, or with other choices, or both. On the bodies this one was last put on it finds again what
        the edit leaves as it was: values, finished pieces, drawings. It comes to what it would come to afresh, to the byte.

        >>> text = 'language 1\\nstyle "Small"\\nchoice deep = 3 cm between 1 cm and 9 cm "of the hem"\\n'
        >>> style = open_style("small.style", text=text)
        >>> later = style.edited(text + "# not used yet\\n", settings={"deep": "4 cm"})
        >>> later.settings, later.fingerprint == style.fingerprint
        (('deep=4 cm',), False)
        """
        workspace = Workspace(self.workspace.files, None if text is None else {self.path: text})
        chosen = self.settings if settings is None else _chosen(settings)
        return Style(workspace, self.path, chosen, self._keeping.later())

    @property
    def work(self) -> Work:
        """What was worked out so far for this version of the style, and not found again from before the edit (or from the last
        time it was put on the same bodies). Nothing is kept, or counted, where more than 50 bodies are put on at once."""
        return self._keeping.work

    def on(self, bodies: Bodies, *, columns: Path | None = None) -> OnBodies:
        """The style on bodies: paths of body files or of folders with them, and mappings such as
        `{"name": "alto 3", "unit": "cm", "sex": "F", "bust_girth": 92, …}`, whose None and NaN are what was not measured.

        Of a table each row is a body, with columns as for `clients`; `columns` is a CSV of `theirs,ours,unit` where they are not
        called by our words. What is wrong with a row is told with its line and column.

        The bodies are read and reviewed now; nothing is drawn before it is asked for. A style, what is made of it and what it
        keeps are for one thread at a time; a thread of its own wants a style of its own (`open_style`).
        """
        files = self.workspace.files
        if is_table(bodies):
            from ..jobs.tables import with_table

            prepared = with_table(files, self._prepared, bodies, "" if columns is None else os.fspath(columns))
        elif columns is not None:
            raise TypeError("`columns` goes with a table that has columns")
        else:
            prepared = with_bodies(files, self._prepared, _listed(bodies))
        keeping = self._keeping if len(prepared.bodies) <= MOST_BODIES else KEEP_NOTHING
        return OnBodies(self, replace(prepared, keeping=keeping))

    def sizes(self, chart: Path, *, only: str = "") -> OnSizes:
        """The style on the sizes of a chart, a CSV file or a spreadsheet, small to large; `only` some of them, as `"84,96"`,
        `"84..104"` or the name of a range of the chart. A size is a body: all that can be done on bodies can be done on sizes.

        A row `choice NAME` of the chart sets a choice of the style in each size. The chart is read and reviewed now:
        `diagnostics` of what comes tells what is wrong with it.
        """

        def again(sized: Sized) -> Prepared:
            return prepare_style(self.workspace, self.path, self.settings, sized)

        prepared, read = with_sizes(self.workspace.files, self._prepared, os.fspath(chart), only, self.settings, again)
        keeping = self._keeping if len(prepared.bodies) <= MOST_BODIES else KEEP_NOTHING
        return OnSizes(self, replace(prepared, keeping=keeping), read)

    def clients(self, table: Path, *, columns: Path | None = None, label: LabelledBy = "name") -> OnClients:
        """The style on the clients of a table (CSV or a spreadsheet, a row for each) or of a folder of body files; `build` of
        what comes gives each a set of files.

        `columns` is a CSV of `theirs,ours,unit` for a table that does not use our words. With `label="id"` the identity of a
        client stands on paper and in the names of files, not the name. The table is read now: `diagnostics` of what comes tells
        what is wrong with it.
        """
        from ..jobs.client_table import read_clients
        from .clients import OnClients

        files, path = self.workspace.files, os.fspath(table)
        found = read_clients(files, path, "" if columns is None else os.fspath(columns), label)
        return OnClients(self, self._prepared, found)

    def prove(
        self,
        population: Path,
        *,
        columns: Path | None = None,
        jobs: int | None = None,
        engine: str = "",
        each: Callable[[int], None] | None = None,
    ) -> Proof:
        """The style drawn on every body of a table (CSV, `.csv.gz`, Parquet), and counted: on how many it draws, sews, goes
        together and fits, what fails and which measurements tell it, and how much ease is delivered of what is asked.

        `columns` is a CSV of `theirs,ours,unit` for a table that does not use our words. From 500 bodies on `jobs` processes
        share them, each with 250 or more (none given: one for each core), so that a program stands under
        `if __name__ == "__main__"`; or the workers of an `engine`, `dask://ADDRESS`, to which the texts of the style, its
        settings and the rows are sent. Memory is bounded by what they hold, not by the table. `each` hears how many rows are
        done. `StyleError` where the style has errors or the table cannot be read; rows that are no body are told in
        `Proof.diagnostics`.
        """
        from ..jobs.proof import proof_record
        from ..jobs.proving import Population, prove
        from ..jobs.sharing import Sharing
        from .proof import Proof

        self.check()
        source = Population(os.fspath(population), "" if columns is None else os.fspath(columns))
        shared, see = Sharing(jobs, engine), each or (lambda _: None)
        found = prove(self.workspace.files, self._prepared, source, shared, self.settings, see)
        if found.counted is None or not found.counted.rows:
            raise StyleError(found.told, found.texts)
        record = proof_record(self._prepared, source.path, found.counted)
        return Proof(self._prepared, found.counted.tally, record, found.told, found.texts)


class OnBodies:
    """A style on bodies, which are drawn as they are come to: `for result in style.on(bodies)`.

    No more is kept than of a chunk of bodies. Whoever goes through it twice has everything drawn twice, but for up to 50 bodies,
    of which what was made is kept (see `Style.edited`).
    """

    def __init__(self, style: Style, prepared: Prepared) -> None:
        self.style = style
        self._prepared = prepared

    def __repr__(self) -> str:
        return f"<{self.style!r} on {len(self)} {'body' if len(self) == 1 else 'bodies'}>"

    def _repr_html_(self) -> str | None:
        """What holds on each body, as a notebook shows it; none of very many bodies, or where something has errors."""
        if self._prepared.broken or len(self) > MOST_BODIES:
            return None
        rows = [(one.name, str(len(one.pieces)), one.failing or "all holds") for one in self]
        return html_table(("body", "pieces", "holds"), rows)

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
        wanted = Wanted(paper, levels, toile)
        built = build(self.style.workspace.files, self._prepared, os.fspath(folder), wanted, self._teller(each))
        if built.problem is not None:
            raise StyleError([built.problem], self._prepared.texts)
        return built

    def _teller(self, each: Callable[[Result], None] | None) -> Callable[[BodyResult], None]:
        """Hands on results of bodies, which come in their order, as results of this interface."""
        bodies = iter(self._prepared.bodies)

        def tell(found: BodyResult) -> None:
            body = next(bodies)
            if each is not None:
                each(Result(self._prepared, body, found))

        return tell

    def report(self) -> Report:
        """The whole report as a value; of many bodies `write_report` keeps less."""
        from ..jobs.report import Reporting

        self.check()
        return Reporting(self._prepared).whole()

    def write_report(
        self, to: TextIO, *, form: Literal["text", "json"] = "text", each: Callable[[Result], None] | None = None
    ) -> None:
        """Write the report to an open file, body by body, as text to read or as JSON (its keys:
        `godet.schema("report")`); `each` hears of every body as it is come to. `StyleError` where the style or a body
        has errors."""
        from ..jobs.report import Reporting

        self.check()

        def see(body: Body, found: BodyResult) -> None:
            if each is not None:
                each(Result(self._prepared, body, found))

        reporting = Reporting(self._prepared, see)
        for part in reporting.json_parts() if form == "json" else reporting.text_parts():
            to.write(part)

    def rates(self) -> RatesReport:
        """How far every point moves with each measurement and each choice, on each body; `StyleError` where the style or a body
        has errors, or a body cannot be drawn."""
        from ..jobs.rated import rated

        self.check()
        found = [one for one in results_of(self._prepared) if one.errors]
        if found:
            wrong = [problem for one in found for problem in one.errors]
            raise StyleError([*wrong, grading_words.undrawn_bodies([one.name for one in found])], self._prepared.texts)
        return rated(self._prepared)

    def advice(self, failing: Collection[str]) -> tuple[Diagnostic, ...]:
        """For bodies that fail, by their names: the settings without which they would not."""
        return advice(self.style.workspace.files, self._prepared, failing, self.style.path, self.style.settings)


class OnSizes(OnBodies):
    """A style on the sizes of a chart; `build` draws them as one nest, or each for itself."""

    def __init__(self, style: Style, prepared: Prepared, chart: Chart | None) -> None:
        super().__init__(style, prepared)
        self.chart = chart

    def __iter__(self) -> Iterator[Result]:
        self.check()
        for body, found in zip(self._prepared.bodies, self._found, strict=True):
            yield Result(self._prepared, body, found)

    def _repr_html_(self) -> None:
        """Nothing: sizes are shown as the picture of their nest."""

    def _repr_svg_(self) -> str | None:
        """All sizes of each piece laid on one another, as a notebook shows them, not to scale; none where they make no nest."""
        from ..drawing.nest import MOST_SIZES
        from ..jobs.build import Wanted, as_picture
        from ..jobs.nest import nest_plate, run_of

        if self._prepared.broken or self.chart is None or len(self) > MOST_SIZES:
            return None
        run, _ = run_of(self._prepared, self.chart, self._found)
        return None if run is None else as_picture(nest_plate(self._prepared, run, Wanted()))

    def crossed(self) -> tuple[Diagnostic, ...]:
        """Warnings of pieces whose lines cross in some steps and not in the others; none where the sizes make no nest."""
        from ..jobs.nest import doubted, run_of

        self.check()
        assert self.chart is not None
        run, _ = run_of(self._prepared, self.chart, self._found)
        return () if run is None else doubted(self._prepared, run)

    def build(
        self,
        folder: Path,
        *,
        paper: Paper = "a4",
        levels: bool = True,
        toile: bool = False,
        apart: bool = False,
        split: bool = False,
        each: Callable[[Result], None] | None = None,
    ) -> Built:
        """Write one SVG and one PDF with all sizes of each piece laid on one another; `apart` a set for each size instead,
        `split` one for each range of sizes whose pieces are made of the same edges.

        `StyleError` where the style or the chart has errors, a size cannot be drawn or is made of other edges than the sample,
        and where a `toile` is asked for without `apart`: it is sewn in one size.
        """
        from ..jobs.build import Wanted
        from ..jobs.nest import build_nest

        if toile and not apart:
            raise StyleError([grading_words.toile_of_sizes()], self._prepared.texts)
        if apart:
            return super().build(folder, paper=paper, levels=levels, toile=toile, each=each)
        self.check()
        assert self.chart is not None
        wanted = Wanted(paper, levels)
        files, to = self.style.workspace.files, os.fspath(folder)
        built = build_nest(files, self._prepared, self.chart, to, wanted, split, self._teller(each))
        if built.problem is not None:
            raise StyleError([built.problem, *built.doubts], self._prepared.texts)
        return built

    def growth(self) -> GrowthReport:
        """How every point, edge and finished measurement grows from size to size, and which sentences make steps uneven.

        `StyleError` as for `build`.
        """
        from ..jobs.growth import graded

        return graded(self._prepared, self._run)

    def rates(self) -> RatesReport:
        """How far every point moves with each measurement and each choice, in each size, and growth by cause; `StyleError` as for
        `build`."""
        from ..jobs.rated import rated_run

        return rated_run(self._prepared, self._run)

    def growth_picture(self) -> str:
        """The pieces of the sample as an SVG, an arrow at each point that shows its growth, longer than it is."""
        from ..jobs.growth import growth_picture

        return growth_picture(self._prepared, self._run)

    @cached_property
    def _run(self) -> Run:
        from ..jobs.nest import run_of

        self.check()
        assert self.chart is not None
        run, problems = run_of(self._prepared, self.chart, self._found)
        if run is None:
            raise StyleError(problems, self._prepared.texts)
        return run

    @cached_property
    def _found(self) -> tuple[BodyResult, ...]:
        """Kept, since sizes are few, and are also looked at together."""
        return tuple(results_of(self._prepared))


def _check(prepared: Prepared) -> None:
    if prepared.broken:
        raise StyleError(prepared.diagnostics, prepared.texts)


def _listed(bodies: Bodies) -> list[Given]:
    many = [bodies] if isinstance(bodies, (str, os.PathLike, Mapping)) else bodies
    if not isinstance(many, Iterable):
        raise TypeError(f"a {type(bodies).__name__} is neither a body, nor several, nor a table with columns")
    return [one if isinstance(one, Mapping) else os.fspath(one) for one in many]
