"""Which styles of two sides are compared with which, and the modules of the library that none of them uses."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path

from ..difference.pairs import Pair, pairs_of
from ..difference.roots import Roots, roots
from ..difference.sentences import SideOfStyle, sentences_of
from ..meaning.reading import parsed
from ..syntax import tree as t
from .prepare import Prepared, prepare_style
from .sides import SUFFIX, Side
from .workspace import LIBRARY

Texts = Mapping[str, str]


@dataclass(frozen=True)
class Compared:
    """A style of both sides, or of one; `listed`: asked for, else built from one that was; `same`: all its texts are, and it was
    not read further."""

    file: str
    title: str
    old: Prepared | None
    new: Prepared | None
    old_file: str | None
    listed: bool = True
    same: bool = False

    @property
    def texts(self) -> tuple[Texts, Texts]:
        """The texts of both sides, by file."""
        old, new = ({} if one is None else one.texts for one in (self.old, self.new))
        return old, new

    @cached_property
    def sentences(self) -> tuple[SideOfStyle, SideOfStyle]:
        return _sentences(self.old), _sentences(self.new)

    @cached_property
    def pairs(self) -> tuple[Pair, ...]:
        """Of modules that both sides are made of: one that only one side uses is told by its `use`."""
        if self.old is None or self.new is None:
            return ()
        old, new = self.sentences
        shared = {one.module for one in old.sentences} & {one.module for one in new.sentences}
        return tuple(one for one in pairs_of(old, new) if one.either.module in shared)

    @cached_property
    def roots(self) -> tuple[Roots | None, Roots | None]:
        old, new = (None if one is None or one.style is None else roots(one.style) for one in (self.old, self.new))
        return old, new

    def renamed(self, kind: str) -> dict[str, str]:
        """What pieces, or seams, are called now that were called otherwise."""
        return {
            one.old.name: one.new.name
            for one in self.pairs
            if one.old and one.new and one.new.head == kind and not one.new.place and one.old.name != one.new.name
        }


def _sentences(prepared: Prepared | None) -> SideOfStyle:
    if prepared is None or prepared.analysis is None:
        return SideOfStyle((), frozenset())
    return sentences_of(prepared.analysis.tree.file, prepared.analysis.texts, prepared.style)


@dataclass(frozen=True)
class Unused:
    """A module of the library that is not as it was, and that no style here is made of."""

    texts: tuple[Texts, Texts]
    title: str = ""

    @cached_property
    def pairs(self) -> tuple[Pair, ...]:
        old, new = (sentences_of("", texts, None) for texts in self.texts)
        return pairs_of(old, new)


class Finding:
    """Finds what is compared with what."""

    def __init__(self, old: Side, new: Side, settings: tuple[str, ...]) -> None:
        self.old, self.new, self.settings = old, new, settings

    @cached_property
    def library_differs(self) -> tuple[str, ...]:
        before, after = ({name: one.library.text(name) for name in one.library.modules()} for one in (self.old, self.new))
        return tuple(sorted(name for name in {*before, *after} if before.get(name) != after.get(name)))

    def styles(self) -> Iterator[Compared]:
        """Those that are asked for, and those that are built from them."""
        if self.old.style and self.new.style:
            before, after = (one.style if one.workspace.source(one.style)[0] else None for one in (self.old, self.new))
            yield self._compared(before, after, True)
            for path in self._built_from(self.new.style):
                yield self._compared(path, path, False)
            return
        for name in sorted({*self.old.styles, *self.new.styles}):
            before, after = self.old.styles.get(name), self.new.styles.get(name)
            yield self._compared(before, after, True, before is not None and after is not None and self._untouched(before, after))

    def _untouched(self, before: str, after: str) -> bool:
        """Whether nothing a style may be made of is another text."""
        return self.old.texts_of(before) == self.new.texts_of(after)

    def _built_from(self, style: str) -> Sequence[str]:
        """The styles of the folder that are built from one, or from one of these in turn; on both sides."""
        folder, files = str(Path(style).parent), self.new.workspace
        bases: dict[str, str] = {}
        for path in files.files.listed("" if folder == "." else folder, ".style"):
            source, _ = files.source(path)
            titles = parsed(source)[0].sentences if source is not None else ()
            base = next((one.base for one in titles if isinstance(one, t.Title)), None)
            if base is not None:
                bases[path] = base.text
        found = [style]
        for path in found:  # grows as it is walked
            found += [other for other, base in sorted(bases.items()) if base == Path(path).stem and other not in found]
        return [path for path in found[1:] if self._is_on_both(path)]

    def unused(self, styles: Sequence[Compared]) -> Iterator[Unused]:
        """The modules that differ, on both sides, and stand behind none of the styles."""
        read = {file for one in styles for texts in one.texts for file in texts}
        for module in self.library_differs:
            file = f"{LIBRARY}/{module}{SUFFIX}"
            old, new = (side.library.text(module) for side in (self.old, self.new))
            if file not in read and old is not None and new is not None:
                yield Unused(({file: old}, {file: new}))

    def _is_on_both(self, path: str) -> bool:
        return all(side.workspace.source(path)[0] is not None for side in (self.old, self.new))

    def _compared(self, before: str | None, after: str | None, listed: bool, untouched: bool = False) -> Compared:
        side, path = (self.old, before or "") if after is None else (self.new, after)
        source = side.workspace.source(path)[0]
        tree = parsed(source)[0].sentences if source is not None else ()
        title = next((one.text.value for one in tree if isinstance(one, t.Title)), path)
        if untouched:
            return Compared(path, title, None, None, before, listed, True)
        old, new = (self._prepared(*one) for one in ((self.old, before), (self.new, after)))
        return Compared(path, title, old, new, before, listed)

    def _prepared(self, side: Side, path: str | None) -> Prepared | None:
        return None if path is None else prepare_style(side.workspace, path, self.settings)

