"""The words of errors in the specification, found before any body is loaded. Codes E250 to E259, W250."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from .diagnostic import Diagnostic, Label, Lack, Severity, Span
from .suggest import did_you_mean, either


def no_equals(span: Span, kind: str, example: str) -> Diagnostic:
    return Diagnostic("E250", f"`{kind}` is written in words, without `=`", span, fix=f"write for example `{example}`")


def not_listed(
    span: Span, written: str, title: str, standard: str, words: Mapping[str, str], near: Sequence[str], how: str
) -> Diagnostic:
    said = f"`{written}`" if written else "this"
    fix = how or _all(written, words)
    return Diagnostic("E251", f"{said} is no {title} in {standard}", span, note=_meant(near, words), fix=fix)


def questioned(span: Span, written: str, title: str, standard: str, words: Mapping[str, str], near: Sequence[str]) -> Diagnostic:
    return Diagnostic(
        "W250",
        f"`{written}` may be a {title} in {standard}, but is not in the list kept here",
        span,
        note=_meant(near, words),
        fix="look the number up before an order depends on it",
        severity=Severity.WARNING,
    )


def _meant(near: Sequence[str], words: Mapping[str, str]) -> str:
    return "; ".join(f"`{one}` is {words[one]}" for one in near)


def _all(written: str, words: Mapping[str, str]) -> str:
    return did_you_mean(written, words) or f"write {either(words)}"


def no_cloth(span: Span, name: str, cloths: Sequence[str], labels: tuple[Label, ...] = ()) -> Diagnostic:
    fix = did_you_mean(name, cloths) or f"the style has {either(cloths, 'and')}; or declare `cloth {name} width 140 cm`"
    return Diagnostic("E252", f"no cloth is called `{name}`", span, fix=fix, labels=labels, lack=Lack.NAME)


def cut_in_nothing(span: Span, cloths: Sequence[str]) -> Diagnostic:
    return Diagnostic(
        "E253",
        "this piece is cut in `shell`, since its `cut` says nothing else, and no cloth is called so",
        span,
        fix=f"add `in` and the cloth: {either(cloths)}",
        lack=Lack.NAME,
    )


def beside_pieces(span: Span, kind: str) -> Diagnostic:
    return Diagnostic(
        "E254", f"`{kind}` has no place in braces", span, fix="write it beside the pieces, where it holds for the whole style"
    )
