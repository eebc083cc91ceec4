"""The wording of errors where words and values do not take turns: what is missing, doubled, or out of its place."""

from __future__ import annotations

from collections.abc import Sequence

from .diagnostic import Diagnostic, Span
from .suggest import either
from .syntax_words import error, shown


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
        fix="write it first, as in `measured_off from tip by 3 cm`; or in a place, as in `side at 7 cm from hem`",
    )


def operation_in_brackets(verb: str, span: Span) -> Diagnostic:
    return error("E181", f"`{verb}` and what follows it stand in brackets here", span, fix=f"write `({verb} …)`", word=verb)


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


def two_numbers(first: str, second: str, span: Span) -> Diagnostic:
    return error(
        "E152",
        f"two numbers follow each other: {shown(first)} and {shown(second)}",
        span,
        note="a word is missing between them, or a sign",
        fix="write the word that says what the second number is for, or `+`, `-`, `*`, `/` between spaces",
    )


def verb_missing(first: str, span: Span) -> Diagnostic:
    return error(
        "E160",
        f"{shown(first)} is a value, and more words follow it",
        span,
        note="an operation begins with its verb",
        fix="put the verb first: `unfold half across centre`; or leave away what follows",
    )


def needless_equals(word: str, span: Span) -> Diagnostic:
    return error(
        "E158",
        f"`{word}` cannot follow `=`",
        span,
        note="a definition made of words has no `=`",
        fix=f"leave `=` away: `curve name {word} …`",
    )


def outline_behind_equals(word: str, kind: str, name: str, span: Span) -> Diagnostic:
    return error(
        "E138",
        f"`{word}` cannot follow `=`",
        span,
        note="an outline is drawn in braces right behind the name; behind `=` stands what is there already",
        fix=f"write `{kind} {name} {{`; or the shape that it is made of: `{kind} {name} = drawn {{`",
        word=word,
    )


def forgotten_of(word: str, target: str, span: Span) -> Diagnostic:
    return error(
        "E159", f"`{word}` lacks its `of`", span, fix=f"write {shown(f'{word} of {target}')}", word=word
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
        fix="leave it away, or write what is missing beside it; a comma lists things only behind a word that takes several",
    )


def of_takes_one(word: str, span: Span) -> Diagnostic:
    return error(
        "E164",
        "`of` takes one name or one bracket",
        span,
        fix=f"put what follows in brackets: `{word} of (…)`",
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


def tolerance_missing(span: Span) -> Diagnostic:
    return error(
        "E154",
        "this comparison has no tolerance",
        span,
        note="how near is near enough?",
        fix="end it with `tolerance` and a length: `tolerance 2 mm`",
    )


def given_without_names(span: Span) -> Diagnostic:
    return error(
        "E176",
        "`using` hands on values by their names alone",
        span,
        note="each name is a word of the recipe and something of that name here",
        fix="write the names, with commas between them; any other value goes behind its word",
    )


def first_word_missing(word: str, before: str, sentence: str, span: Span) -> Diagnostic:
    return error("E187", f"`{word}` is missing before {shown(before)}", span, fix=f"write `{sentence}`", word=before)


def word_missing(words: Sequence[str], before: str, span: Span) -> Diagnostic:
    """Some of a verb's words; which one is meant only the writer knows."""
    said = either(words[:8])
    fix = f"write {said} before {shown(before)}"
    what = said if len(words) < 4 else "a word"
    return error("E136", f"{what} is missing before {shown(before)}", span, fix=fix, word=before)


def exchanged(one: str, two: str, span: Span) -> Diagnostic:
    return error("E135", f"`{one}` and `{two}` stand the other way round", span, fix=f"write `{two} {one}`", word=one)


def twice(written: str, span: Span, between: Sequence[str] = ()) -> Diagnostic:
    """`between` are words that may be missing there instead."""
    fix = "take one of them away" + (f", or write {either(between[:8])} between them" if between else "")
    return error("E188", f"{shown(written)} stands twice, one behind the other", span, fix=fix, word=written)


def value_before_sign(sign: str, span: Span) -> Diagnostic:
    return error("E189", f"no value stands before `{sign}`", span, fix=f"write the value, or take `{sign}` away")


def measured_list(word: str, items: str, span: Span) -> Diagnostic:
    fix = f"put them in brackets, with commas: `{word} of ({items})`"
    return error("E198", f"what `{word} of` compares stands in brackets", span, fix=fix, word=word)


def of_of(first: str, rest: str, span: Span) -> Diagnostic:
    return error("E132", f"behind `{first} of` this stands in brackets", span, fix=f"write `{first} of ({rest})`", word=first)


def value_in_brackets(word: str, value: str, span: Span) -> Diagnostic:
    fix = f"write `{word} ({value})`"
    return error("E137", f"behind `{word}` an operation stands in brackets", span, fix=fix, word=word)


def with_behind_verb(verb: str, span: Span) -> Diagnostic:
    return error(
        "E199",
        "`with` cannot follow here",
        span,
        note="it stands right behind a verb that works on nothing",
        fix=f"write `{verb} with` and then words and values; or take `with` away",
    )


def comma_for_and(values: str, span: Span) -> Diagnostic:
    fix = f"write `between {values}`"
    return error("E133", "no comma belongs here", span, note="behind `between` stand two values, `and` between them", fix=fix)
