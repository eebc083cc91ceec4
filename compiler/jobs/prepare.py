"""A style and its bodies, read and checked: what every job begins with."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property

from ..bodies.body import Body
from ..bodies.body_file import read_body
from ..bodies.cautions import cautions
from ..bodies.lanes import Population
from ..bodies.plausibility import review
from ..diagnostics import running_words
from ..diagnostics.diagnostic import Diagnostic
from ..meaning.compile import compile_style
from ..meaning.expressions import UNITS
from ..meaning.identity import fingerprint
from ..meaning.style import CheckedStyle
from ..syntax import tree as t
from ..syntax.parser import parse
from ..syntax.source import decode
from ..verbs.kinds import FLAG, NUMBER, Kind
from .files import Files, Modules, read


@dataclass(frozen=True)
class Prepared:
    """The checked style (None when it has errors), the bodies that could be read, all diagnostics, the texts by file.

    `fingerprint` is eight digits that change when what the style comes to changes, by its sentences, its modules or a choice.
    """

    style: CheckedStyle | None
    bodies: tuple[Body, ...]
    diagnostics: tuple[Diagnostic, ...]
    texts: Mapping[str, str]
    fingerprint: str = ""

    @cached_property
    def population(self) -> Population:
        return Population.of(self.bodies)

    @property
    def broken(self) -> bool:
        return any(one.is_error for one in self.diagnostics)


def prepare(files: Files, style: str, bodies: Sequence[str] = (), settings: Sequence[str] = ()) -> Prepared:
    """Read and check a style, its choices as `name=value`, and body files or folders of them."""
    texts: dict[str, str] = {}
    found: list[Diagnostic] = []
    chosen = _settings(settings, found)
    checked = _style(files, style, chosen, texts, found)
    people = read_bodies(files, bodies, texts, found)
    return Prepared(checked, people, tuple(found), texts, "" if checked is None else fingerprint(checked))


def _style(
    files: Files, path: str, settings: Mapping[str, tuple[Kind, float]], texts: dict[str, str], found: list[Diagnostic]
) -> CheckedStyle | None:
    content, problem = read(files, path)
    if content is None:
        found.extend([problem] if problem else [])
        return None
    text, problems = decode(content, path)
    found.extend(problems)
    if text is None:
        return None
    texts[path] = text
    checked, problems = compile_style(text, path, Modules(files, path), settings)
    found.extend(problems)
    modules = Modules(files, path)
    for file in {span.file for problem in problems for span in problem.spans()} - {*texts, "--set"}:
        module = file.removeprefix("stdlib/").removesuffix(".style")  # a module that a message points into
        texts[file] = modules.library(module) or modules.beside(module)[0] or ""
    if checked is not None:
        texts.update(checked.texts)
    return checked


def _settings(settings: Sequence[str], found: list[Diagnostic]) -> dict[str, tuple[Kind, float]]:
    """`overarm=12 cm` as its kind and a number in mm, radians or none; written as in the language."""
    chosen: dict[str, tuple[Kind, float]] = {}
    for written in settings:
        name, equals, value = written.partition("=")
        tree, problems = parse(f"choice {name.strip()} = {value.strip()}\n", "--set")
        sentence = tree.sentences[0] if len(tree.sentences) == 1 else None
        given = sentence.value if isinstance(sentence, t.Definition) else None
        sign = 1.0
        if isinstance(given, t.Negative) and not isinstance(given.value, t.Flag):
            given, sign = given.value, -1.0
        if not equals or problems or not isinstance(given, (t.Number, t.Quantity, t.Flag)):
            found.append(running_words.bad_set(written, problems[0].fix if equals and problems else ""))
        elif isinstance(given, t.Quantity):
            kind, factor = UNITS[given.unit]
            chosen[name.strip()] = kind, sign * given.value * factor
        else:
            kind = FLAG if isinstance(given, t.Flag) else NUMBER
            chosen[name.strip()] = kind, sign * float(given.value)
    return chosen


def read_bodies(
    files: Files, paths: Sequence[str], texts: dict[str, str], found: list[Diagnostic]
) -> tuple[Body, ...]:
    """The bodies of files and folders, each reviewed for slips; those with errors are left out and told."""
    people: list[Body] = []
    for path in _expanded(files, paths, found):
        content, problem = read(files, path)
        text, problems = (None, (problem,) if problem else ()) if content is None else decode(content, path)
        found.extend(problems)
        if text is None:
            continue
        texts[path] = text
        body, problems = read_body(text, path)
        found.extend(problems)
        if body is not None:
            found.extend([*review(body), *cautions(body)])
            people.append(body)
    known: dict[str, Body] = {}
    for body in people:
        other = known.setdefault(body.file_name, body)
        if other is not body:
            found.append(running_words.same_body((other.name, body.name), (other.file, body.file)))
    return tuple(people)


def _expanded(files: Files, paths: Sequence[str], found: list[Diagnostic]) -> list[str]:
    listed: list[str] = []
    for path in paths:
        if not files.is_folder(path):
            listed.append(path)
            continue
        inside = files.listed(path, ".toml")
        if not inside:
            found.append(running_words.no_bodies(path))
        listed.extend(inside)
    return listed
