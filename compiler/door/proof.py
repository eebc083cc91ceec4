"""A style on a population."""

from __future__ import annotations

from collections.abc import Mapping

from ..diagnostics.diagnostic import Diagnostic
from ..jobs.prepare import Prepared
from ..output.html import html_table
from ..output.proof_records import ProofRecord
from ..population.tally import Tally


class Proof:
    """What became of a style on every body of a population (`Style.prove`)."""

    def __init__(
        self,
        prepared: Prepared,
        tally: Tally,
        record: ProofRecord,
        diagnostics: tuple[Diagnostic, ...],
        texts: Mapping[str, str],
    ) -> None:
        self._prepared, self._tally = prepared, tally
        self.record = record
        self.diagnostics = diagnostics
        self.texts = texts

    def __repr__(self) -> str:
        said = ", ".join(f"{one.name} {one.passed}" for one in self.record.gates)
        return f"<{self.record.style} on {self.record.population.bodies} bodies: {said}>"

    @property
    def holds(self) -> bool:
        """Whether every row is a body, and all of them pass all gates."""
        return not any(one.is_error for one in self.diagnostics) and not self.record.groups

    def with_pictures(self) -> tuple[Proof, Mapping[str, str]]:
        """The proof with its pictures listed, and these as SVG by file name: how the ease delivered is spread, and for each
        failure that measurements tell, who fails."""
        from ..jobs.proof_pictures import with_pictures

        record, pictures = with_pictures(self._prepared, self._tally, self.record)
        return Proof(self._prepared, self._tally, record, self.diagnostics, self.texts), pictures

    @property
    def text(self) -> str:
        """The proof to read."""
        from ..output.proof import text

        return text(self.record)

    def _repr_html_(self) -> str:
        """The gates, as a notebook shows them."""
        rows = [(one.name, str(one.passed), str(one.alone)) for one in self.record.gates]
        return html_table(("of all bodies", "pass", "pass it alone"), rows)

    @property
    def json(self) -> str:
        """The records as JSON (their keys: `godet.schema("prove")`)."""
        from ..output.json_text import json_text

        return json_text(self.record)
