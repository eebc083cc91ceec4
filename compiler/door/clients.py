"""A style on the clients of a table."""

from __future__ import annotations

import os
from collections.abc import Callable, Mapping
from typing import TYPE_CHECKING

from ..diagnostics.diagnostic import Diagnostic
from ..jobs.client_table import ClientTable
from ..jobs.prepare import Prepared
from .errors import StyleError

if TYPE_CHECKING:
    from ..drawing.pages import Paper
    from ..jobs.clients import ClientsBuilt
    from .style import Style


class OnClients:
    """A style on the clients of a table, each with a set of files of its own. `Style.clients` makes it."""

    def __init__(self, style: Style, prepared: Prepared, table: ClientTable) -> None:
        self.style = style
        self._prepared = prepared
        self._table = table

    def __repr__(self) -> str:
        return f"<{self.style!r} for {len(self)} {'client' if len(self) == 1 else 'clients'}>"

    def __len__(self) -> int:
        return len(self._table.clients)

    @property
    def diagnostics(self) -> tuple[Diagnostic, ...]:
        """Errors and warnings of the style, its settings, and the table as a whole; those of its rows come with `build`."""
        return (*self._prepared.diagnostics, *self._table.told)

    @property
    def texts(self) -> Mapping[str, str]:
        """The texts that diagnostics point into, by file."""
        return {**self._prepared.texts, **self._table.texts}

    def check(self) -> OnClients:
        """The same; `StyleError` where the style has errors or the table cannot be read."""
        if any(one.is_error for one in self.diagnostics):
            raise StyleError(self.diagnostics, self.texts)
        return self

    def build(
        self,
        folder: str | os.PathLike[str],
        *,
        paper: Paper = "a4",
        levels: bool = True,
        toile: bool = False,
        jobs: int | None = None,
        engine: str = "",
        each: Callable[[int, int], None] | None = None,
    ) -> ClientsBuilt:
        """Write the files of each client into a folder, all of a client's or none; those whose files are there, made of what they
        would be made of now, are left as they are. A client that cannot be made does not stop the others: it stands in `rows`
        and, as it was given, in the file `not_made.csv`.

        From 12 clients on `jobs` processes share them (none given: one for each core), so that a program stands under
        `if __name__ == "__main__"`; or the workers of an `engine`, `dask://ADDRESS`, from which the files come back to be
        written here; the files are the same. Where it fails on the way, what came back is written, and the rest is not made.
        `each` hears how many of how many are made. `StyleError` where the style or the table has errors, two clients have one
        identity, or their files one name, or an engine can do none: then nothing is written.
        """
        from ..jobs.build import Wanted
        from ..jobs.client_work import Styles
        from ..jobs.clients import build_clients
        from ..jobs.sharing import Sharing

        self.check()
        styles = Styles(self.style.workspace, self.style.path, self.style.settings, self._prepared)
        wanted, files, shared = Wanted(paper, levels, toile), self.style.workspace.files, Sharing(jobs, engine)
        built = build_clients(files, styles, self._table, os.fspath(folder), wanted, shared, each or (lambda *_: None))
        if built.problems:
            raise StyleError(built.problems, self.texts)
        return built
