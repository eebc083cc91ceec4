"""The two sides of a difference: trees of texts, on the disk or in git, which is asked for objects and checks nothing out."""

from __future__ import annotations

import os
import re
import subprocess
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from pathlib import Path
from typing import Protocol

from ..diagnostics import difference_errors as words
from ..diagnostics.diagnostic import Diagnostic
from .files import Disk, Files, ReadOnly
from .workspace import LIBRARY, FolderLibrary, Library, Workspace

SUFFIX = ".style"
HEAD = "HEAD"
_FROM = re.compile(r"\bfrom\s+(\w+(?:\s*/\s*\w+)*)")
_COMMENT = re.compile(r"#[^\n]*")
_TITLE = re.compile(rb"^style\s", re.M)


class Tree(Files, Protocol):
    """Files by their paths from the root of a tree, and which of them are texts of the language."""

    def names(self) -> Sequence[str]: ...


@dataclass(frozen=True)
class Side:
    """A side: what it is called, its tree, and which style is named, "" none: then all in `folder`."""

    what: str
    tree: Tree
    style: str = ""
    folder: str = ""

    @cached_property
    def own_library(self) -> Library | None:
        """The library that the tree holds, by which its styles are read; None where there is none."""
        if isinstance(self.tree, DiskTree):
            folder = Path(self.tree.root) / LIBRARY
            return FolderLibrary(folder) if folder.is_dir() and any(folder.rglob(f"*{SUFFIX}")) else None
        inside = [name for name in self.tree.names() if name.startswith(f"{LIBRARY}/")]
        return TreeLibrary(self.tree, inside) if inside else None

    @cached_property
    def library(self) -> Library:
        return self.own_library or FolderLibrary()

    @property
    def workspace(self) -> Workspace:
        return Workspace(self.tree, library=self.library)

    @cached_property
    def styles(self) -> Mapping[str, str]:
        """The styles of the side, by their paths from its folder."""
        if self.style:
            return {self.style.removeprefix(self.folder).lstrip("/"): self.style}
        inside = [name for name in self.tree.names() if _below(name, self.folder) and not _below(name, LIBRARY)]
        return {name.removeprefix(self.folder).lstrip("/"): name for name in inside if _TITLE.search(self.tree.read(name))}

    def texts_of(self, style: str) -> Mapping[str, bytes | str | None]:
        """All texts that a style of the tree may be made of: its own, and those of whatever stands behind a `from`, wherever it
        does, as a module beside it and as one of the library."""
        folder = os.path.dirname(style)
        found: dict[str, bytes | str | None] = {"": self.tree.read(style)}
        todo = list(_modules_in(found[""]))
        while todo:
            name = todo.pop()
            beside = os.path.join(folder, f"{name}{SUFFIX}")
            for key, text in (
                (f"beside {name}", self.tree.read(beside) if beside in self._names else None),
                (f"library {name}", self.library.text(name)),
            ):
                todo += [] if key in found else _modules_in(text)
                found[key] = text
        return found

    @cached_property
    def _names(self) -> frozenset[str]:
        return frozenset(self.tree.names())


def _modules_in(text: bytes | str | None) -> Sequence[str]:
    """Every word that stands behind a `from`, which may be a module; comments are read too, and left out."""
    if text is None:
        return ()
    written = text.decode("utf-8", "replace") if isinstance(text, bytes) else text
    found = _FROM.findall(written) + _FROM.findall(_COMMENT.sub("", written))
    return sorted({re.sub(r"\s", "", one) for one in found})


def _below(name: str, folder: str) -> bool:
    return not folder or name.startswith(f"{folder}/")


class TreeLibrary:
    """The library that a tree holds."""

    def __init__(self, tree: Tree, names: Sequence[str]) -> None:
        self.tree = tree
        self.names = {name.removeprefix(f"{LIBRARY}/").removesuffix(SUFFIX): name for name in names}

    def text(self, module: str) -> str | None:
        name = self.names.get(module)
        return None if name is None else self.tree.read(name).decode("utf-8", "replace").replace("\r\n", "\n")

    def modules(self) -> Sequence[str]:
        return sorted(self.names)


# ---- the disk ------------------------------------------------------------------------------------


class DiskTree(Disk):
    """The files of a folder of the disk, by their paths from there."""

    def __init__(self, root: str) -> None:
        self.root = root

    def read(self, path: str) -> bytes:
        return super().read(os.path.join(self.root, path))

    def is_folder(self, path: str) -> bool:
        return super().is_folder(os.path.join(self.root, path))

    def listed(self, folder: str, suffix: str) -> Sequence[str]:
        return [os.path.relpath(path, self.root) for path in super().listed(os.path.join(self.root, folder), suffix)]

    def leads_out(self, path: str, folder: str) -> bool:
        return super().leads_out(os.path.join(self.root, path), os.path.join(self.root, folder))

    def names(self) -> Sequence[str]:
        return self._names

    @cached_property
    def _names(self) -> Sequence[str]:
        found: list[str] = []
        for folder, inside, files in os.walk(self.root):
            inside[:] = [one for one in inside if not one.startswith(".")]
            found += [os.path.relpath(os.path.join(folder, one), self.root) for one in files if one.endswith(SUFFIX)]
        return sorted(Path(one).as_posix() for one in found)


# ---- git -----------------------------------------------------------------------------------------


class GitFault(Exception):
    """What git cannot do, as it is told; it is caught where sides are made."""

    def __init__(self, told: Diagnostic) -> None:
        super().__init__(told.message)
        self.told = told


@dataclass(frozen=True)
class GitTree(ReadOnly):
    """The texts of a revision of the repository that begins at `root`, by their paths from there."""

    root: str
    texts: Mapping[str, bytes]

    def read(self, path: str) -> bytes:
        found = self.texts.get(os.path.normpath(path))
        return super().read(path) if found is None else found

    def is_folder(self, path: str) -> bool:
        inside = os.path.normpath(path) if path else "."
        return inside == "." or any(_below(name, inside) for name in self.texts)

    def listed(self, folder: str, suffix: str) -> Sequence[str]:
        inside = os.path.normpath(folder) if folder else "."
        return [name for name in self.names() if name.endswith(suffix) and (os.path.dirname(name) or ".") == inside]

    def names(self) -> Sequence[str]:
        return sorted(self.texts)


def git_tree(root: str, revision: str) -> GitTree:
    """The tree of a revision, its texts of the language only. Links are no texts."""
    listed = _git(root, "ls-tree", "-r", "-z", "--full-tree", f"{revision}^{{tree}}").split(b"\0")
    objects: dict[str, bytes] = {}
    for row in filter(None, listed):
        facts, _, name = row.partition(b"\t")
        mode, _, digest = facts.split()
        path = os.fsdecode(name)
        if path.endswith(SUFFIX) and mode in (b"100644", b"100755"):
            objects[path] = digest
    return GitTree(root, dict(zip(objects, _contents(root, revision, objects), strict=True)))


def _contents(root: str, revision: str, objects: Mapping[str, bytes]) -> Iterator[bytes]:
    """What objects hold, all asked for at once."""
    answer = _git(root, "cat-file", "--batch", given=b"".join(b"%s\n" % digest for digest in objects.values()))
    at = 0
    for name in objects:
        end = answer.index(b"\n", at)
        head = answer[at:end].split()
        if len(head) != 3:
            raise GitFault(words.git_failed(f"`{name}` in {revision}", "the object is missing"))
        at = end + 1 + int(head[2])
        yield answer[end + 1 : at]
        at += 1


def _git(folder: str, *arguments: str, given: bytes = b"") -> bytes:
    ran = subprocess.run(["git", "-C", folder or ".", *arguments], input=given, capture_output=True, check=False)
    if ran.returncode:
        told = ran.stderr.decode("utf-8", "replace").strip() or f"it ended with {ran.returncode}"
        raise GitFault(words.git_failed(f"`{arguments[-1]}`", told.splitlines()[-1]))
    return ran.stdout


def _asked(folder: str, *arguments: str) -> str | None:
    """What git answers in one line; None where it cannot."""
    ran = subprocess.run(["git", "-C", folder, *arguments], capture_output=True, check=False)
    return None if ran.returncode else os.fsdecode(ran.stdout).rstrip("\n")


# ---- what is given -------------------------------------------------------------------------------

Sides = tuple[Side, Side]


def sides(old: str | None, new: str | None) -> tuple[Sides | None, Diagnostic | None]:
    """The sides that are given as a file, a folder, `REV` or `REV:path`, or what is wrong. Without NEW it is what lies on the
    disk; of a file or a folder alone, OLD is `HEAD`."""
    try:
        return _sides(old, new), None
    except GitFault as fault:
        return None, fault.told


def _sides(old: str | None, new: str | None) -> Sides:
    if old is not None and new is None and os.path.exists(old):
        old, new = None, old
    after = None if new is None else _side(new)
    before = _head(after) if old is None else _side(old)
    if after is None:
        top = before.tree.root if isinstance(before.tree, GitTree) else ""
        after = Side("the working tree", DiskTree(top))
    return _named_alike(before, after, old is not None, new is not None)


def _named_alike(old: Side, new: Side, old_said: bool, new_said: bool) -> Sides:
    """Where one side names a style or a folder, and the other all of a tree, that is looked for there."""
    if not (old.style or old.folder) and (new.style or new.folder):
        old = _at(old, new.style, new.folder)
    elif not (new.style or new.folder) and (old.style or old.folder):
        new = _at(new, old.style, old.folder)
    if bool(old.style) != bool(new.style):
        one, other = (old, new) if old.style else (new, old)
        raise GitFault(words.two_kinds(one.what, other.what))
    return old, new


def _at(side: Side, style: str, folder: str) -> Side:
    return replace(side, style=style, folder=folder)


def _side(given: str) -> Side:
    if os.path.isdir(given):
        root = _root(given)
        inside = Path(os.path.relpath(given, root)).as_posix()
        return Side(given, DiskTree(root), folder="" if inside == "." else inside)
    if os.path.exists(given):
        root = _root(os.path.dirname(given) or ".")
        inside = Path(os.path.relpath(given, root)).as_posix()
        return Side(given, DiskTree(root), inside, os.path.dirname(inside))
    revision, _, path = given.partition(":")
    return _revision(revision, path)


def _root(folder: str) -> str:
    """Where the tree begins that a folder is of: its repository, or itself."""
    whole = Path(folder).resolve()
    return str(next((one for one in (whole, *whole.parents) if (one / ".git").exists()), whole))


def _head(after: Side | None) -> Side:
    """What was committed last where NEW lies, or one stands."""
    top = _top(after.tree.root if after is not None and isinstance(after.tree, DiskTree) else ".", HEAD)
    if top is None or _asked(top, "rev-parse", "--verify", "--quiet", HEAD) is None:
        raise GitFault(words.no_head())
    return Side(HEAD, git_tree(top, HEAD))


def _top(folder: str, given: str) -> str | None:
    """Where the repository of a folder begins; None where it is in none."""
    try:
        return _asked(folder, "rev-parse", "--show-toplevel")
    except FileNotFoundError:
        raise GitFault(words.no_git(given)) from None


def _revision(revision: str, path: str) -> Side:
    given = f"{revision}:{path}" if path else revision
    top = _top(".", given)
    if top is None:
        raise GitFault(words.no_side(given))
    known = revision and not revision.startswith("-")
    if not known or _asked(".", "rev-parse", "--verify", "--quiet", f"{revision}^{{tree}}") is None:
        raise GitFault(words.no_revision(revision or given))
    tree = git_tree(top, revision)
    if not path:
        return Side(revision, tree)
    if path.startswith(("./", "../")):
        path = os.path.join(_asked(".", "rev-parse", "--show-prefix") or "", path)
    path = os.path.normpath(path)
    if path in tree.texts:
        return Side(given, tree, path, os.path.dirname(path))
    if not tree.is_folder(path):
        raise GitFault(words.not_there(path, revision, tree.names()))
    return Side(given, tree, folder="" if path == "." else path)
