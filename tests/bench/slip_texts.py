"""The texts that slips are made in, and the styles by which each sentence of the library is read. Used by `slips.py`."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from godet.bodies.body import Body
from godet.bodies.body_file import read_body
from godet.diagnostics.diagnostic import Diagnostic
from godet.jobs.examples import ground
from godet.jobs.files import Disk
from godet.jobs.outcome import outcomes
from godet.jobs.prepare import Prepared
from godet.jobs.vocabulary import recipes
from godet.jobs.workspace import Modules, Workspace
from godet.meaning.analysis import Analysis, analyse
from godet.meaning.identity import fingerprint
from godet.syntax.source import Source
from slip_kinds import Sentence, sentences

ROOT = Path(__file__).resolve().parents[2]
LIBRARY = ROOT / "stdlib"
# Beside the styles and the examples of the reference: these use of the library what those leave aside.
MAKES_NOTHING = frozenset(("use", "takes", "needs", "check", "tell", "fit", "recipe", "block", "gives", "each", "covers", "mark"))
"""Sentences of a recipe that lay down nothing by themselves, or not at their place."""
HOSTS = ("patterns/*.style", "tests/stdlib/*.style", "tests/verbs/*.style", "tests/real/*.style", "tests/real/lower/*.style")


class _Texts(Modules):
    """The modules as they are stored, each read once, but for one of the library that has a slip."""

    def __init__(self, workspace: Workspace, style: str, module: Source | None = None) -> None:
        super().__init__(workspace, style)
        self.module = module

    def library(self, module: str) -> Source | None:
        slipped = self.module is not None and self.module.id == f"stdlib/{module}.style"
        return self.module if slipped else _stored(module)


@cache
def _stored(module: str) -> Source | None:
    return Modules(Workspace(Disk()), "").library(module)


@dataclass(frozen=True)
class Host:
    """A style whose sentences are read with its modules."""

    id: str
    text: str

    def analysed(self, module: Source | None = None, text: str | None = None) -> Analysis:
        """What is known of the style, with another text of a module, or of its own."""
        sources = _Texts(Workspace(Disk()), self.id, module)
        return analyse(Source(self.id, self.text if text is None else text), sources, {})


@cache
def _body() -> Body:
    found, _ = read_body((ROOT / "patterns" / "bodies" / "alto_3.toml").read_text("utf-8"), "alto_3.toml")
    assert found is not None
    return found


@dataclass(frozen=True)
class Ground:
    """A text, some of its sentences, and the style by which they are read: itself where it is a style."""

    file: str
    text: str
    sentences: Sequence[Sentence]
    host: Host

    def told(self, text: str) -> tuple[Diagnostic, ...]:
        """What is said where the text is this one."""
        return self._analysed(text).diagnostics

    def draws_the_same(self, text: str) -> bool:
        """Whether a sound text comes to what the text without a slip does."""
        one, other = self._analysed(text).style, self._analysed(self.text).style
        return one is not None and other is not None and fingerprint(one) == fingerprint(other)

    def told_when_drawn(self, text: str) -> Counter[str]:
        """How often each code is told, and each seam, check or promise fails, where a sound text is drawn on a body."""
        prepared = Prepared(self._analysed(text), (_body(),), (), {})
        if prepared.assembly is None:
            return Counter(("unsound",))
        ((result,), _) = outcomes(prepared)
        told = (*result.errors, *result.warnings, *result.assembly.wrong, *prepared.assembly.diagnostics)
        fails = [one.name for one in result.seams if not one.holds]
        fails += [one.name for one in result.checks if not one.holds] + [one.name for one in result.fits if not one.holds]
        return Counter((*(one.code for one in told), *fails))

    def _analysed(self, text: str) -> Analysis:
        return self.host.analysed(text=text) if self.file == self.host.id else self.host.analysed(module=Source(self.file, text))


def styles() -> list[Ground]:
    """The bundled styles, each read by itself."""
    found = []
    for path in sorted((ROOT / "patterns").glob("*.style")):
        text = path.read_text("utf-8")
        found.append(Ground(str(path), text, sentences(text), Host(str(path), text)))
    return found


def library() -> list[Ground]:
    """The sentences of the library, each by the smallest style that comes to it."""
    hosts = sorted(((*_reached(host), host) for host in _hosts()), key=lambda one: one[0])
    found: list[Ground] = []
    for path in sorted(LIBRARY.glob("*/*.style")):
        text, file = path.read_text("utf-8"), path.relative_to(ROOT).as_posix()
        by_host: dict[Host, list[Sentence]] = {}
        for sentence in sentences(text):
            for start, end in _extents(text, sentence):
                host = next((host for _, at, host in hosts if any(start <= one < end for one in at.get(file, ()))), None)
                if host is not None:
                    by_host.setdefault(host, []).append(sentence)
                    break
        found += [Ground(file, text, tuple(some), host) for host, some in by_host.items()]
    return found


def _extents(text: str, sentence: Sentence) -> Iterator[tuple[int, int]]:
    """Where something is made if the sentence is read: itself; its recipe, where it makes nothing; the file, where it stands
    in none."""
    if sentence.tokens[0].text not in MAKES_NOTHING:
        yield sentence.start, sentence.end
    yield from ((one.start, one.reach) for one in sentences(text) if one.start <= sentence.start <= one.reach)
    yield 0, len(text)


def _hosts() -> Iterator[Host]:
    """The examples of the library's recipes on the common ground of the reference, and styles that use more of it."""
    for recipe in recipes():
        if recipe.example:
            text = "\n".join([*ground()[:2], recipe.use, *ground()[2:], recipe.example]) + "\n"
            yield Host("examples.style", text)
    for pattern in HOSTS:
        for path in sorted(ROOT.glob(pattern)):
            yield Host(str(path), path.read_text("utf-8"))


def _reached(host: Host) -> tuple[int, dict[str, set[int]]]:
    """How much there is to a style, and by file where something was made; nothing of a style with errors."""
    style = host.analysed().style
    places: dict[str, set[int]] = {}
    for origin in style.origins if style is not None else ():
        for span in (origin.span, origin.sentence):
            places.setdefault(span.file, set()).add(span.start)
    return len(style.nodes) if style is not None else 0, places
