"""Styles kept as files beside the tests, compiled and drawn without the rest of the disk."""

from collections.abc import Sequence
from dataclasses import fields
from pathlib import Path

import numpy as np
from godet.diagnostics.printing import print_all
from godet.jobs.files import Disk
from godet.jobs.fit import FitResult
from godet.jobs.outcome import outcomes
from godet.jobs.prepare import Prepared, prepare
from godet.pattern.piece import Piece
from godet.verbs.attached import Attached

LANGUAGE = Path(__file__).parents[1] / "language"


class Folder(Disk):
    """The files of one folder by their bare names; modules and bodies that are not there come from the folder above."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder

    def read(self, path: str) -> bytes:
        own = self.folder / path
        return own.read_bytes() if own.is_file() else (self.folder.parent / path).read_bytes()

    def is_folder(self, path: str) -> bool:
        return (self.folder / path).is_dir()


class Written(Disk):
    """One style held in memory, beside the shapes of the tests."""

    def __init__(self, content: str | bytes) -> None:
        self.content = content.encode() if isinstance(content, str) else content

    def read(self, path: str) -> bytes:
        return self.content if path == "a.style" else (LANGUAGE / path).read_bytes()

    def is_folder(self, path: str) -> bool:
        return False


def written(text: str | bytes, settings: Sequence[str] = (), body: str = "body.toml") -> Prepared:
    """The style `a.style` with this text, on the body of the tests or another beside it."""
    return prepare(Written(text), "a.style", [body], settings)


def stored(file: Path, settings: Sequence[str] = ()) -> Prepared:
    """A style of tests/language, on the body of the tests."""
    return prepare(Folder(file.parent), file.name, ["body.toml"], settings)


def said(prepared: Prepared) -> str:
    """All that is said about the style and its body, as printed."""
    found = [one for one in prepared.diagnostics if one.span is None or one.span.file != "body.toml"]
    if prepared.style is not None and not prepared.broken:
        results, _ = outcomes(prepared)
        found += [error for result in results for error in result.errors]
    return print_all(found, prepared.texts)


def values(prepared: Prepared) -> str:
    """One line for each name of the style, on the body of the tests: its value, or the names of a piece; then seams and
    checks. What a recipe keeps to itself is left out."""
    style = prepared.style
    if style is None:
        return said(prepared)
    shown = {name: node for name, node in style.names.items() if "." not in name and node >= 0}  # a block has no node
    results, evaluated = outcomes(prepared, shown.values())
    lines = [f"{name}: {_value(evaluated.parts[0].values[node])}" for name, node in sorted(shown.items())]
    lines += [
        f"seam {one.name}: {one.how} {one.left_mm:.2f} mm to {one.right_mm:.2f} mm, {'holds' if one.holds else 'fails'}"
        for one in results[0].seams
    ]
    lines += [f"check {one.name}: {'holds' if one.holds else 'fails'}" for one in results[0].checks]
    lines += [f"fit {_fit(one)}" for one in results[0].fits]
    return "\n".join(lines)


def _fit(one: FitResult) -> str:
    body, drafted = ("-" if number is None else f"{number:.2f}" for number in (one.body_mm, one.drafted_mm))
    garment = f"garment {one.garment_mm:.2f} (drafted {drafted})"
    return f"{one.name}: body {body}, {garment}, asked {one.asked_mm:.2f}, {one.wrong or 'holds'}"


def _value(value: object) -> str:
    if isinstance(value, Piece):
        return " ".join((*value.edge_names(), *value.dart_names(), *value.points))
    if isinstance(value, np.ndarray):
        return " ".join(f"{one:.3f}" for one in (np.round(value[0] + 0.0, 3) + 0.0).reshape(-1))
    if isinstance(value, Attached):
        held = ((one.name, getattr(value, one.name)) for one in fields(value))
        return ", ".join(f"{name} {_value(one) if isinstance(one, np.ndarray) else one}" for name, one in held)
    return type(value).__name__.lower()
