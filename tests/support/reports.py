"""Whole reports, as a value and as the command writes them."""

from __future__ import annotations

from godet.jobs.numbers import area, bare
from godet.jobs.prepare import Prepared
from godet.jobs.report import Reporting
from godet.output.records import Report
from godet.output.report import json_parts, text_parts


def report(prepared: Prepared) -> Report:
    return Reporting(prepared).whole()


def as_text(report: Report) -> str:
    return "".join(text_parts(report, report.bodies, lambda: report.warnings, bare, area))


def as_json(report: Report) -> str:
    return "".join(json_parts(report, report.bodies, lambda: report.warnings))
