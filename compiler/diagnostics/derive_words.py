"""The words of errors in a style that is built from another. One function an error; codes E260 to E269, warnings W26x."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from .diagnostic import Diagnostic, Label, Lack, Severity, Span
from .suggest import did_you_mean

_MOST_SHOWN = 8

NOT_IN_BASE = "E262"
STILL_USED = "E267"


def no_base(span: Span, name: str, candidates: Iterable[str]) -> Diagnostic:
    fix = did_you_mean(name, candidates) or "the style it is built from stands beside it, or in the standard library"
    return Diagnostic("E260", f"there is no style `{name}` to build from", span, fix=fix)


def ring_of_styles(span: Span, names: Sequence[str]) -> Diagnostic:
    way = ", which is built from ".join(f"`{name}`" for name in names)
    return Diagnostic("E261", f"a ring of styles: {way}", span, fix="let one of them stand on its own, without `from`")


def not_in_base(span: Span, name: str, base: str, known: Iterable[str], wish: str) -> Diagnostic:
    fix = did_you_mean(name, known) or (
        f"what is new is written with `add`; `{base}` shows what it has" if wish == "change" else f"look it up in `{base}`"
    )
    end = "to change" if wish == "change" else "to take away"
    return Diagnostic(NOT_IN_BASE, f"`{base}` has no `{name}` {end}", span, fix=fix, lack=Lack.NAME)


def another_kind(span: Span, name: str, now: str, before: str, first: Span) -> Diagnostic:
    return Diagnostic(
        "E263",
        f"`{name}` is {_one(before)}, and cannot be changed to {_one(now)}",
        span,
        fix=f"keep the kind, or take it away with `without {name}` and add what is new",
        labels=(Label(first, "as it is in the base"),),
    )


def told_twice(span: Span, name: str, first: Span) -> Diagnostic:
    return Diagnostic(
        "E264",
        f"two sentences change `{name}`",
        span,
        fix="say in one sentence what becomes of it",
        labels=(Label(first, "the first"),),
    )


def head_missing(span: Span, kind: str, name: str, in_base: bool) -> Diagnostic:
    word = "change" if in_base else "add"
    message = "a style built from another says what it does with each sentence"
    return Diagnostic("E265", message, span, fix=f"write `{word} {kind} {name} …`")


def added_again(span: Span, kind: str, name: str, base: str, first: Span) -> Diagnostic:
    return Diagnostic(
        "E266",
        f"`{base}` has a `{name}` already",
        span,
        fix=f"write `change {kind} {name} …`, or take another name",
        labels=(Label(first, "in the base"),),
    )


def still_used(span: Span, name: str, uses: Sequence[tuple[Span, str]]) -> Diagnostic:
    """`uses` are the places that ask for what is taken away, each with the name of its sentence."""
    users = list(dict.fromkeys(user for _, user in uses if user))
    listed = ", ".join(f"`{user}`" for user in users[:_MOST_SHOWN]) + (" …" if len(users) > _MOST_SHOWN else "")
    labels = tuple(Label(place, f"`{user}` uses it") for place, user in uses[:_MOST_SHOWN])
    return Diagnostic(
        STILL_USED,
        f"`{name}` is taken away, and still used by {listed}",
        span,
        fix="change these so that they do without it, or take them away too",
        labels=labels,
    )


def no_words(span: Span, name: str, kind: str, first: Span) -> Diagnostic:
    return Diagnostic(
        "E268",
        f"`{name}` is not made of words that could be changed one by one",
        span,
        fix=f"write it whole: `change {kind} {name} = …`",
        labels=(Label(first, "in the base"),),
    )


def which_link(span: Span, name: str, wanted: Sequence[str], able: int, first: Span) -> Diagnostic:
    said = " and ".join(f"`{word}`" for word in wanted)
    which = "no link of `{}` says" if not able else "more than one link of `{}` says"
    fix = f"write the chain whole: `change shape {name} = …`"
    return Diagnostic("E272", f"{which.format(name)} {said}", span, fix=fix, labels=(Label(first, "in the base"),))


def no_braces(span: Span, name: str, first: Span) -> Diagnostic:
    return Diagnostic(
        "E644",
        f"`{name}` has no braces that could be changed",
        span,
        fix=f"leave `{name}` out here, and change it in a sentence of its own",
        labels=(Label(first, "in the base"),),
    )


def mixed_block(span: Span) -> Diagnostic:
    return Diagnostic(
        "E269",
        "these braces hold both changes and plain sentences",
        span,
        fix="begin every sentence in them with `change`, `add` or `without`; or none, and they replace the braces of the base",
    )


def no_statement(span: Span, verb: str) -> Diagnostic:
    fix = "write `add` in place of `change`"
    return Diagnostic("E270", f"the braces of the base hold no such `{verb}`", span, fix=fix, lack=Lack.PART)


def which_statement(span: Span, verb: str, count: int) -> Diagnostic:
    fix = f"write after `{verb}` what it works on in the base; or take them away and add them anew"
    return Diagnostic("E645", f"the braces of the base hold {count} `{verb}`: which of them?", span, fix=fix, lack=Lack.PART)


def no_base_here(span: Span, word: str) -> Diagnostic:
    fix = 'the style must be built from another: `style "…" from …`; here write the sentence without it'
    return Diagnostic("E271", f"there is nothing for `{word}` to work on", span, fix=fix, lack=Lack.NAME)


def left_over(span: Span, names: Sequence[str], base: str) -> Diagnostic:
    listed = ", ".join(names)
    said = f"`{names[0]}`" if len(names) == 1 else f"{len(names)} definitions"
    return Diagnostic(
        "W260",
        f"nothing uses {said} of `{base}` any more",
        span,
        fix=f"take away what is left over: `without {listed}`",
        severity=Severity.WARNING,
    )


def _one(kind: str) -> str:
    return f"{'an' if kind[:1] in 'aeiou' else 'a'} {kind}"
