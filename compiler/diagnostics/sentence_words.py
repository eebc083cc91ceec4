"""The wording of errors in sentences: one function per error, E140 to E186.

They speak of sentences, kinds, names, words and texts, as the language's laws do; never of the parser's own parts.
"""

from __future__ import annotations

from collections.abc import Iterable

from .diagnostic import Diagnostic, Span
from .suggest import did_you_mean, nearest
from .syntax_words import error, shown

# ---- how a sentence begins ---------------------------------------------------------------------


def wrong_beginning(word: str, beginnings: Iterable[str], span: Span) -> Diagnostic:
    found = did_you_mean(word, beginnings)
    fix = "begin with a kind (`point`, `length`, `line`, `piece` …) and a name, or with `check`, `use`, `takes` …"
    return error("E140", f"no sentence begins with {shown(word)}", span, note=found, fix=fix, word=word)


def nothing_to_go_on_with(span: Span) -> Diagnostic:
    return error(
        "E148",
        "`then` goes on with a value, and nothing to go on with stands before it: behind braces a sentence has ended",
        span,
        fix="give what is in the braces a name, and go on with that in a sentence of its own: `shape next = half then …`",
        word="then",
    )


def kind_missing(name: str, span: Span) -> Diagnostic:
    return error(
        "E141",
        f"`{name}` is defined without a kind",
        span,
        fix=f"put its kind before it: `point {name} = …`, `length {name} = …`",
        word=name,
    )


def name_missing(after: str, span: Span) -> Diagnostic:
    form = "`each piece {`, or `each k from 1 to n up_to 20 {`" if after == "each" else f"`{after} front …`"
    return error("E142", f"a name must follow `{after}`", span, fix=f"write a name: {form}")


def reserved_name(word: str, offer: str, span: Span) -> Diagnostic:
    return error(
        "E143",
        f"`{word}` is a word of the language and cannot be a name",
        span,
        fix=f"take another name, such as `{offer}`",
        word=word,
    )


def second_word_in_name(words: str, span: Span) -> Diagnostic:
    return error(
        "E144",
        f"a name is one word, and {shown(words)} is more",
        span,
        fix=f"join the words with underscores: {shown(words.replace(' ', '_'))}",
    )


def statement_outside(word: str, beginnings: Iterable[str], span: Span) -> Diagnostic:
    known = tuple(beginnings)
    if nearest(word, known):
        return wrong_beginning(word, known, span)
    return error(
        "E145",
        f"`{word}` does not begin a sentence outside of braces",
        span,
        note="only the sentences of a piece or a recipe begin with a verb",
        fix="move it between the braces of its piece, or begin with a kind and a name",
        word=word,
    )


def braces_not_wanted(head: str, span: Span) -> Diagnostic:
    return error(
        "E146", f"a sentence with `{head}` takes no braces", span, fix="leave the braces away; end the line here"
    )


def braces_wanted(head: str, span: Span) -> Diagnostic:
    return error(
        "E147", f"a sentence with `{head}` needs its braces", span, fix="end the line with `{` and close with `}` below"
    )


# ---- inside a sentence -------------------------------------------------------------------------


def value_missing(after: str, span: Span) -> Diagnostic:
    return error("E150", f"nothing follows `{after}`", span, note="a value is missing", fix="write the value here")


def text_not_last(span: Span) -> Diagnostic:
    return error("E151", "a text is always last", span, fix="move this text to the end of the sentence")


def equals_sign_in_check(span: Span) -> Diagnostic:
    return error(
        "E153",
        "`=` defines, it does not compare",
        span,
        fix="write `equals … tolerance …`: `length of front.side equals length of back.side tolerance 2 mm`",
    )


def otherwise_missing(span: Span) -> Diagnostic:
    return error(
        "E155",
        "a value with `when` needs its `otherwise`",
        span,
        note="what holds when the condition does not?",
        fix="add `otherwise` and the other value",
    )


def condition_as_value(span: Span) -> Diagnostic:
    return error(
        "E156",
        "a condition stands where a value is wanted",
        span,
        fix="choose a value by it: `a when condition otherwise b`",
    )


def word_as_value(word: str, span: Span) -> Diagnostic:
    fix = "write the value: a measure, a name, or an operation in brackets"
    return error("E157", f"`{word}` is a word of the language; a value is wanted here", span, fix=fix, word=word)


def each_of_what(kind: str, span: Span) -> Diagnostic:
    return error(
        "E177",
        f"nothing is said of each {kind}",
        span,
        fix="write `each piece {` for what all pieces start from, or `each k from 1 to n up_to 20 {` for a repeat",
    )


def says_nothing(kind: str, name: str, worded: bool, span: Span) -> Diagnostic:
    fix = f"write `{kind} {name} = …`, or words with their values"
    if worded:
        fix = f"write words with their values: `godet words {kind}` lists them"
    return error("E165", f"this sentence says nothing about `{name}`", span, fix=fix)


def check_unnamed(span: Span) -> Diagnostic:
    return error(
        "E166",
        "a check has a name and then `that`",
        span,
        fix="write `check sides_agree that …`",
    )


def each_unclear(span: Span) -> Diagnostic:
    return error(
        "E167",
        "this `each` does not say from where to where",
        span,
        fix="write `each k from 1 to n up_to 20 {`",
    )


def solve_not_kept(span: Span, name: str, word: str) -> Diagnostic:
    return error(
        "E172",
        f"{shown(word)} stands between `{name}` and its bounds",
        span,
        fix=f"write `solve {name} between …`, or `solve {name} kept between …` where the nearer bound may stand in for an answer",
        word=word,
    )


def kind_wanted(head: str, word: str, kinds: Iterable[str], span: Span) -> Diagnostic:
    found = did_you_mean(word, kinds)
    return error(
        "E169",
        f"{shown(word)} stands where the kind is wanted",
        span,
        note=found,
        fix=f"write the kind and then the name, as in `{head} length bust_ease …`: `point`, `length`, `angle`, `number`, `line`, "
        "`curve`, `edge`, `shape`, `block` or another",
        word=word,
    )


def unfinished(last: str, wanted: str, form: str, span: Span) -> Diagnostic:
    return error(
        "E170",
        "this sentence is not finished",
        span,
        note=f"{wanted or 'something'} must follow {shown(last)}",
        fix=f"the form is `{form}`" if form else "write the rest; a line that goes on below is indented deeper",
    )


def does_not_fit(word: str, wanted: str, form: str, span: Span) -> Diagnostic:
    if wanted == "a value":
        fix = f"write the value before {shown(word)}: a measure, a name, or an operation in brackets"
    elif wanted.startswith("the end"):
        fix = f"take {shown(word)} away, or write what joins it to the value before"
    else:
        fix = "behind a verb a word and a value take turns; a nested operation stands in brackets"
    return error(
        "E171",
        f"{shown(word)} does not fit here",
        span,
        note=f"{wanted} is wanted" if wanted else "",
        fix=f"the form is `{form}`" if form else fix,
        word=word,
    )
