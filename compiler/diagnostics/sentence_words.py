"""The wording of errors in sentences: one function per error, E140 to E186.

They speak of sentences, kinds, names, words and texts, as the language's laws do; never of the parser's own parts.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from .diagnostic import Diagnostic, Span
from .suggest import did_you_mean, nearest
from .syntax_words import error, shown

# ---- how a sentence begins ---------------------------------------------------------------------


def wrong_beginning(word: str, beginnings: Iterable[str], span: Span) -> Diagnostic:
    found = did_you_mean(word, beginnings)
    fix = "begin with a kind (`point`, `length`, `line`, `piece` …) and a name, or with `check`, `use`, `takes` …"
    return error("E140", f"no sentence begins with {shown(word)}", span, note=found, fix=fix, word=word)


def kind_missing(name: str, span: Span) -> Diagnostic:
    return error(
        "E141",
        f"`{name}` is defined without a kind",
        span,
        fix=f"put its kind before it: `point {name} = …`, `length {name} = …`",
        word=name,
    )


def name_missing(after: str, span: Span) -> Diagnostic:
    return error("E142", f"a name must follow `{after}`", span, fix=f"write a name: `{after} front …`")


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


def two_numbers(first: str, second: str, span: Span) -> Diagnostic:
    return error(
        "E152",
        f"two numbers follow each other: {shown(first)} and {shown(second)}",
        span,
        note="a word is missing between them, or a sign",
        fix="write the word that says what the second number is for, or `+`, `-`, `*`, `/` between spaces",
    )


def equals_sign_in_check(span: Span) -> Diagnostic:
    return error(
        "E153",
        "`=` defines, it does not compare",
        span,
        fix="write `equals … tolerance …`: `length of front.side equals length of back.side tolerance 2 mm`",
    )


def tolerance_missing(span: Span) -> Diagnostic:
    return error(
        "E154",
        "this comparison has no tolerance",
        span,
        note="how near is near enough?",
        fix="end it with `tolerance` and a length: `tolerance 2 mm`",
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


def needless_equals(word: str, span: Span) -> Diagnostic:
    return error(
        "E158",
        f"`{word}` cannot follow `=`",
        span,
        note="a definition made of words has no `=`",
        fix=f"leave `=` away: `curve name {word} …`",
    )


def forgotten_of(word: str, target: str, span: Span) -> Diagnostic:
    return error(
        "E159", f"`{word}` lacks its `of`", span, fix=f"write {shown(f'{word} of {target}')}", word=word
    )


def verb_missing(first: str, span: Span) -> Diagnostic:
    return error(
        "E160",
        f"{shown(first)} is a value, and more words follow it",
        span,
        note="an operation begins with its verb",
        fix="put the verb first: `unfold half across centre`; or leave away what follows",
    )


def step_unfinished(direction: str, span: Span) -> Diagnostic:
    return error(
        "E161", f"`{direction}` says no length", span, note="how far?", fix=f"write the length: `{direction} 3 cm`"
    )


def after_steps(word: str, span: Span) -> Diagnostic:
    return error(
        "E162",
        f"{shown(word)} cannot follow the steps from a point",
        span,
        note="a step is a direction and a length",
        fix="end the sentence here, or put the point with its steps in brackets as the value of a verb",
    )


def place_unfinished(span: Span) -> Diagnostic:
    return error(
        "E174",
        "a place must follow `at`",
        span,
        note="so far or such a share from an end, the name of an end, or a point",
        fix="write the place, as in `front.side at 7 cm from hem`",
    )


def after_place(word: str, span: Span) -> Diagnostic:
    return error(
        "E175",
        f"{shown(word)} cannot follow a place on an edge",
        span,
        fix="end the sentence here, or put the edge with its place in brackets as the value of a verb",
    )


def given_without_names(span: Span) -> Diagnostic:
    return error(
        "E176",
        "`given` hands on values by their names alone",
        span,
        note="each name is a word of the recipe and something of that name here",
        fix="write the names, with commas between them; any other value goes behind its word",
    )


def each_of_what(kind: str, span: Span) -> Diagnostic:
    return error(
        "E177",
        f"nothing is said of each {kind}",
        span,
        fix="write `each piece {` for what all pieces start from, or `each k from 1 to n up_to 20 {` for a repeat",
    )


def link_without_verb(span: Span) -> Diagnostic:
    return error(
        "E173",
        "`then` goes on with a verb or a recipe, and none follows",
        span,
        fix="write what is done to the piece, as in `then unfold across centre`",
    )


def stray_comma(span: Span) -> Diagnostic:
    return error(
        "E163",
        "no comma belongs here",
        span,
        note="a comma stands between things that are listed, as the names of a `use`",
        fix="leave it away; a comma lists things only behind a word that takes several",
    )


def of_takes_one(word: str, span: Span) -> Diagnostic:
    return error(
        "E164",
        "`of` takes one name or one bracket",
        span,
        fix=f"put what follows in brackets: `{word} of (…)`",
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
        fix=f"write the kind and then the name: `{head} length bust_ease …`, `{head} piece front …`",
        word=word,
    )


def lacks_value(word: str, span: Span) -> Diagnostic:
    return error("E178", f"`{word}` has no value", span, fix="a word is always followed by its value: write it here", word=word)


def word_wanted(written: str, verb: str, known: Sequence[str], span: Span, worded: str = "") -> Diagnostic:
    takes = f"words and values take turns; `{verb}` knows {', '.join(f'`{word}`' for word in known)}"
    fix = takes if known else "words and values take turns; a value that is made of several words stands in brackets"
    fix = f"where nothing is worked on, write `with` before the first word: `{worded}`" if worded else fix
    return error("E179", f"a word is wanted before {shown(written)}", span, fix=fix, word=written)


def from_in_the_middle(span: Span) -> Diagnostic:
    return error(
        "E180",
        "`from` cannot follow here",
        span,
        note="it opens what a verb is told, or counts a place from an end",
        fix="write it first, as in `lay from tip by 3 cm`; or in a place, as in `side at 7 cm from hem`",
    )


def operation_in_brackets(verb: str, span: Span) -> Diagnostic:
    return error(
        "E181", f"`{verb}` and what follows it stand in brackets behind a comparison", span, fix=f"write `({verb} …)`", word=verb
    )


def bounded_in_brackets(span: Span) -> Diagnostic:
    return error(
        "E182",
        "`between` cannot follow words and their values",
        span,
        note="it belongs to a value alone",
        fix="put this in brackets, and `between` and the bounds behind them",
    )


def chain_behind_choice(span: Span) -> Diagnostic:
    return error(
        "E183",
        "`then` behind `otherwise` could go on with one of the two, or with either",
        span,
        fix="put in brackets what is one of them: `a when c otherwise (b then …)`; or choose first, in a sentence of its own",
    )


def another_word(word: str, meant: str, span: Span) -> Diagnostic:
    return error("E184", f"`{word}` is no word of the language here", span, fix=f"write `{meant}`", word=word)


def at_missing(written: str, span: Span) -> Diagnostic:
    return error(
        "E185", f"`at` is missing before {shown(written)}", span, fix="a place is written as in `side at 7 cm from hem`"
    )


def start_missing(direction: str, span: Span) -> Diagnostic:
    return error("E186", f"where `{direction}` starts from is not said", span, fix="write the point first: `nape down 3 cm`")


def verb_without_values(verb: str, span: Span) -> Diagnostic:
    return error("E168", f"nothing follows `{verb} with`", span, fix=f"write a word and its value, or only `{verb}`")


def unfinished(last: str, wanted: str, form: str, span: Span) -> Diagnostic:
    return error(
        "E170",
        "this sentence is not finished",
        span,
        note=f"{wanted or 'something'} must follow {shown(last)}",
        fix=f"the form is `{form}`" if form else "write the rest; a line that goes on below is indented deeper",
    )


def does_not_fit(word: str, wanted: str, form: str, span: Span) -> Diagnostic:
    turns = "after the verb a word and a value take turns; a nested operation stands in brackets"
    return error(
        "E171",
        f"{shown(word)} does not fit here",
        span,
        note=f"{wanted} is wanted" if wanted else "",
        fix=f"the form is `{form}`" if form else turns,
        word=word,
    )
