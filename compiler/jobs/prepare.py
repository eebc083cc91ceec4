"""A style and its bodies, read and checked: what every job begins with."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property

from ..bodies.body import Body
from ..bodies.body_file import read_body
from ..bodies.cautions import CODES as CAUTIONS
from ..bodies.cautions import cautions
from ..bodies.lanes import Population
from ..bodies.plausibility import review
from ..bodies.rows import body_text
from ..diagnostics import running_words
from ..diagnostics.diagnostic import Diagnostic
from ..meaning.analysis import Analysis
from ..meaning.identity import fingerprint
from ..meaning.style import CheckedStyle
from ..meaning.units import measured
from ..syntax import tree as t
from ..syntax.parser import parse
from ..syntax.source import decode
from ..verbs.kinds import BROKEN, FLAG, NUMBER, Kind
from .assembled import Assembly, assembled
from .files import Files, read
from .keeping import KEEP_NOTHING, Keeping
from .workspace import Workspace

Given = str | Mapping[str, object]
"""Bodies as they are given: a body file or a folder of them, or a row: `name`, `unit`, `sex` and measurements by their words."""


@dataclass(frozen=True)
class Prepared:
    """What is known of the style (None when there is no text), the bodies that could be read, all diagnostics, the texts by file.

    `fingerprint` is eight digits that change when what the style comes to changes, by its sentences, its modules or a choice.
    `keeping` keeps what is made, where it may be wanted again. Where bodies are `counted`, only what decides whether they hold is
    worked out, and not what is told of each beside: warnings, tidings, figures of checks, lengths of edges, the order of sewing.
    """

    analysis: Analysis | None
    bodies: tuple[Body, ...]
    diagnostics: tuple[Diagnostic, ...]
    texts: Mapping[str, str]
    fingerprint: str = ""
    keeping: Keeping = KEEP_NOTHING
    counted: bool = False

    @property
    def style(self) -> CheckedStyle | None:
        """The checked style; None when it has errors."""
        return self.analysis.style if self.analysis else None

    @property
    def kinds(self) -> Mapping[str, str]:
        """The kind of each name of the style, empty where it is not known."""
        found = self.analysis.kinds if self.analysis else {}
        return {name: "" if kind is BROKEN else kind.word for name, kind in found.items()}

    @cached_property
    def assembly(self) -> Assembly | None:
        """The garment the style makes; None when it has errors."""
        return None if self.style is None else assembled(self.style)

    @cached_property
    def population(self) -> Population:
        return Population.of(self.bodies)

    @cached_property
    def doubted(self) -> Mapping[str, tuple[Diagnostic, ...]]:
        """By body the warnings of its measurements; what is regulated for a child stands elsewhere (`cautioned`)."""
        found: dict[str, tuple[Diagnostic, ...]] = {}
        for one in self.diagnostics:
            if one.body is not None and not one.is_error and one.code not in CAUTIONS:
                found[one.body] = (*found.get(one.body, ()), one)
        return found

    @property
    def broken(self) -> bool:
        return any(one.is_error for one in self.diagnostics)


def prepare(files: Files, style: str, bodies: Sequence[Given] = (), settings: Sequence[str] = ()) -> Prepared:
    """Read and check a style, its choices as `name=value`, and bodies."""
    return with_bodies(files, prepare_style(Workspace(files), style, settings), bodies)


def prepare_style(
    workspace: Workspace, style: str, settings: Sequence[str] = (), sized: Mapping[str, tuple[Kind, float]] | None = None
) -> Prepared:
    """Read and check a style and its choices, without a body; `sized` are choices as a size has them, mm, radians or bare."""
    found: list[Diagnostic] = []
    chosen = {**_settings(settings, found), **(sized or {})}
    source, problems = workspace.source(style)
    found.extend(problems)
    if source is None:
        return Prepared(None, (), tuple(found), {})
    analysis = workspace.analyse(source, chosen)
    known = "" if analysis.style is None else fingerprint(analysis.style)
    return Prepared(analysis, (), (*found, *analysis.diagnostics), analysis.texts, known)


def with_bodies(files: Files, prepared: Prepared, bodies: Sequence[Given]) -> Prepared:
    """The style with bodies, each reviewed for slips; those with errors are left out and told."""
    texts, found = dict(prepared.texts), list(prepared.diagnostics)
    people = _read_bodies(files, bodies, texts, found)
    return replace(prepared, bodies=people, diagnostics=tuple(found), texts=texts)


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
            kind, number = measured(given)
            chosen[name.strip()] = kind, sign * number
        else:
            kind = FLAG if isinstance(given, t.Flag) else NUMBER
            chosen[name.strip()] = kind, sign * float(given.value)
    return chosen


def _read_bodies(
    files: Files, given: Sequence[Given], texts: dict[str, str], found: list[Diagnostic]
) -> tuple[Body, ...]:
    people: list[Body] = []
    for file, text in _body_texts(files, given, found):
        body, problems = read_body(text, file)
        told = [*problems, *((*review(body), *cautions(body)) if body is not None else ())]
        found.extend(told)
        if told:  # a text is kept to be pointed into; of ten thousand bodies few are
            texts[file] = text
        if body is not None:
            people.append(replace(body, spans={}))
    found += same_bodies(people)
    return tuple(people)


def same_bodies(people: Iterable[Body]) -> Iterator[Diagnostic]:
    """Errors of bodies whose files would have one name."""
    known: dict[str, Body] = {}
    for body in people:
        other = known.setdefault(body.file_name, body)
        if other is not body:
            yield running_words.same_body((other.name, body.name), (other.file, body.file))


def _body_texts(files: Files, given: Sequence[Given], found: list[Diagnostic]) -> Iterator[tuple[str, str]]:
    """Each body file and each row, under the name by which messages call it, with its text."""
    for number, one in enumerate(given, 1):
        if isinstance(one, Mapping):
            yield f"row {number}", body_text(one)
            continue
        for path in _expanded(files, one, found):
            content, problem = read(files, path)
            text, problems = (None, (problem,) if problem else ()) if content is None else decode(content, path)
            found.extend(problems)
            if text is not None:
                yield path, text


def _expanded(files: Files, path: str, found: list[Diagnostic]) -> Sequence[str]:
    """A file as it is, a folder as the body files in it."""
    if not files.is_folder(path):
        return [path]
    inside = files.listed(path, ".toml")
    if not inside:
        found.append(running_words.no_bodies(path))
    return inside
