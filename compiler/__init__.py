"""Godet: a style written once as text, and true-scale pattern pieces for any body.

    import godet

    style = godet.open_style("patterns/concert_top.style")
    for result in style.on("patterns/bodies"):
        print(result.name, result.holds, result.pieces["front"].polygon.area)

Everything here is loaded when it is first asked for: importing the package alone loads neither numpy nor shapely nor lark.
"""

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from .bodies.body import Body
    from .bodies.chart import Chart
    from .diagnostics.diagnostic import Diagnostic
    from .door.clients import OnClients
    from .door.errors import StyleError
    from .door.piece import Piece
    from .door.proof import Proof
    from .door.result import Result
    from .door.style import OnBodies, OnSizes, Style, open_style
    from .jobs.clients import ClientsBuilt
    from .jobs.keeping import Work
    from .meaning.symbols import Symbol
    from .output.growth_records import GrowthReport
    from .output.proof_records import ProofRecord
    from .output.records import BodyRecord, Report
    from .output.schema import difference_schema, growth_schema, proof_schema, rates_schema, report_schema
else:
    _HOMES = {
        "Body": "bodies.body",
        "Chart": "bodies.chart",
        "ClientsBuilt": "jobs.clients",
        "Diagnostic": "diagnostics.diagnostic",
        "StyleError": "door.errors",
        "Piece": "door.piece",
        "Proof": "door.proof",
        "Result": "door.result",
        "OnBodies": "door.style",
        "OnClients": "door.clients",
        "OnSizes": "door.style",
        "Style": "door.style",
        "open_style": "door.style",
        "Work": "jobs.keeping",
        "BodyRecord": "output.records",
        "GrowthReport": "output.growth_records",
        "Report": "output.records",
        "Symbol": "meaning.symbols",
        "difference_schema": "output.schema",
        "growth_schema": "output.schema",
        "ProofRecord": "output.proof_records",
        "proof_schema": "output.schema",
        "rates_schema": "output.schema",
        "report_schema": "output.schema",
    }

    def __getattr__(name):
        """What is asked for, from the module it lives in."""
        from importlib import import_module

        if name not in _HOMES:
            raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
        return getattr(import_module(f".{_HOMES[name]}", __name__), name)

    def __dir__():
        return sorted({*globals(), *_HOMES})


__all__ = [
    "Body",
    "BodyRecord",
    "Chart",
    "ClientsBuilt",
    "Diagnostic",
    "GrowthReport",
    "OnBodies",
    "OnClients",
    "OnSizes",
    "Piece",
    "Proof",
    "ProofRecord",
    "Report",
    "Result",
    "Style",
    "StyleError",
    "Symbol",
    "Work",
    "difference_schema",
    "growth_schema",
    "open_style",
    "proof_schema",
    "rates_schema",
    "report_schema",
]
