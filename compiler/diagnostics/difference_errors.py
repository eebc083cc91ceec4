"""The words of what is wrong with the sides of a difference. Codes E57x."""

from __future__ import annotations

from collections.abc import Sequence

from .diagnostic import Diagnostic
from .suggest import nearest


def no_side(given: str) -> Diagnostic:
    fix = "name a style, a folder, or a revision of a git repository that you stand in"
    return Diagnostic("E570", f"there is no file or folder `{given}`, and no git repository here", fix=fix)


def no_head() -> Diagnostic:
    fix = "name both sides, OLD NEW, or commit what is to be compared with"
    return Diagnostic("E579", "OLD is not given, and there is no git repository here in which something was committed", fix=fix)


def no_git(given: str) -> Diagnostic:
    fix = "install git, or name a file or a folder on each side"
    told = f"`{given}` is no file or folder here; to read it as a revision git is needed, which is not found"
    return Diagnostic("E571", told, fix=fix)


def no_revision(given: str) -> Diagnostic:
    fix = "`git log` lists the revisions; two of them are written apart, OLD NEW"
    return Diagnostic("E572", f"`{given}` is no file or folder here, and no revision that git knows", fix=fix)


def not_there(path: str, side: str, known: Sequence[str]) -> Diagnostic:
    near = " or ".join(f"`{one}`" for one in nearest(path, known))
    fix = f"did you mean {near}?" if near else "check the name and the folder, which begins where the repository does"
    return Diagnostic("E573", f"there is no `{path}` in {side}", fix=fix)


def git_failed(what: str, reason: str) -> Diagnostic:
    return Diagnostic("E574", f"git cannot read {what}: {reason}", fix="`git fsck` tells whether the repository is whole")


def no_styles(side: str) -> Diagnostic:
    return Diagnostic("E575", f"there is no style in {side}", fix="name a style, or a folder that holds some")


def two_kinds(one: str, other: str) -> Diagnostic:
    fix = "name a style on both sides, or a folder or a revision on both"
    return Diagnostic("E576", f"`{one}` is a style, and `{other}` a folder of them", fix=fix)


def picture_of_no_body() -> Diagnostic:
    fix = "add `--body FILE` or `--sizes CHART`"
    return Diagnostic("E577", "`--svg` draws what changes on bodies, and there is none", fix=fix)


def sizes_and_bodies() -> Diagnostic:
    return Diagnostic("E578", "`--body` and `--sizes` are both given", fix="compare on bodies or on the sizes of a chart")
