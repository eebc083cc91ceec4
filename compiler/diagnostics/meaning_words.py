"""The words of errors found before any body is loaded, beside those of values (`value_words`). One function an error; codes E2xx
and E6xx, warnings W2xx."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from .diagnostic import Diagnostic, Label, Lack, Severity, Span
from .suggest import did_you_mean, either, meant

_MOST_LISTED = 12


def _perhaps(name: str, candidates: Iterable[str], otherwise: str = "") -> str:
    return did_you_mean(name, candidates) or otherwise


def _listed(candidates: Sequence[str]) -> str:
    """The first names there are, or `none`."""
    return ", ".join(f"`{one}`" for one in candidates[:_MOST_LISTED]) or "none"


def called_nearly_so(name: str) -> str:
    return f"`{name}` is named here and nowhere else"


def asked_by_nothing(name: str) -> str:
    return f"`{name}` is named here, and nothing asks for it"


def used_by_nothing(name: str) -> str:
    return f"`{name}` is defined here, and nothing uses it"


def also_called(name: str) -> str:
    return f"`{name}` is defined here, by a name that something else has"


def not_given(name: str) -> str:
    return f"`{name}` is taken here, and this use says none"


def unknown_name(span: Span, name: str, candidates: Iterable[str], measurements: Sequence[str] = ()) -> Diagnostic:
    """`measurements` are those the word may stand for; they are offered before names that merely look alike."""
    meant = f"did you mean {either(measurements)}?" if measurements else ""
    fix = meant or _perhaps(
        name, candidates, "define it, take it with `use`, or write a measurement (`godet measures` lists them)"
    )
    return Diagnostic("E201", f"nothing is called `{name}`", span, fix=fix, lack=Lack.NAME)


def verb_left_out(span: Span, name: str, kind: str, able: Sequence[str]) -> Diagnostic:
    """`able` are verbs, or directions, that could stand there."""
    where = "behind it" if kind == "point" else "before it"
    fix = f"write {either(able)} {where}" if able else "write what is done with it: `unfold half across centre`"
    return Diagnostic("E647", f"`{name}` is a {kind}, and what is done with it is not said", span, fix=fix)


def unknown_verb(span: Span, name: str, candidates: Iterable[str]) -> Diagnostic:
    fix = _perhaps(name, candidates, "`godet words` lists the verbs; a recipe of the library is brought in with `use`")
    return Diagnostic("E202", f"`{name}` is neither a verb nor a recipe in use", span, fix=fix, lack=Lack.NAME)


def unknown_word(
    span: Span, verb: str, name: str, candidates: Sequence[str], labels: tuple[Label, ...] = (), wanted: str = ""
) -> Diagnostic:
    """`wanted` is what was to be written, where that is known."""
    words = ", ".join(f"`{word}`" for word in candidates) or "no words"
    offered = meant(name, candidates)
    fix = f"did you mean {either(offered)}?" if offered else _perhaps(name, candidates, f"it takes {words}")
    fix = f"write {wanted}" if wanted else fix
    return Diagnostic("E203", f"`{verb}` has no word `{name}`", span, fix=fix, labels=labels)


def word_twice(span: Span, verb: str, name: str) -> Diagnostic:
    return Diagnostic("E204", f"`{name}` is given twice to `{verb}`", span, fix="keep one of them")


def missing_word(span: Span, verb: str, name: str, meaning: str) -> Diagnostic:
    return Diagnostic("E205", f"`{verb}` needs `{name}`", span, fix=f"add `{name}` and its value: {meaning}")


def exactly_one(span: Span, verb: str, group: Sequence[str]) -> Diagnostic:
    return Diagnostic("E241", f"`{verb}` takes one of {either(group, 'and')}", span, fix="write one of them, once, and its value")


def missing_subject(span: Span, verb: str, meaning: str) -> Diagnostic:
    return Diagnostic("E206", f"`{verb}` needs something to work on", span, fix=f"write it after the verb: {meaning}")


def needless_subject(span: Span, verb: str, written: str = "") -> Diagnostic:
    """`written` stands behind a verb that opens with `from`, and `from` before it is all that is missing."""
    fix = f"write `{verb} from {written} …`" if written else f"write `{verb} with` and then words and their values"
    return Diagnostic("E207", f"`{verb}` works on nothing by itself", span, fix=fix)


def seams_in_ring(span: Span, names: Sequence[str], spans: Sequence[Span], caught: Sequence[bool]) -> Diagnostic:
    """Seams of which each is sewn after the next, or `caught` in it."""
    if len(names) == 2:
        message, fix = f"`{names[0]}` would be sewn after itself", "name the seam that is sewn before it"
        if caught[0]:
            message, fix = f"`{names[0]}` would be caught in itself", "name the seam that is sewn over it"
        return Diagnostic("E649", message, span, fix=fix)
    said = [f"is {'caught in' if one else 'sewn after'} `{name}`" for one, name in zip(caught, names[1:], strict=True)]
    way = f"`{names[0]}`, which {', which '.join(said)}"
    labels = tuple(
        Label(place, f"`{one}` {how}") for one, how, place in zip(names, said, spans, strict=False) if place != span
    )
    fix = "take one of the `after` away: what is sewn first comes after nothing"
    if any(caught):
        k = caught.index(True)
        fix = f"`caught_in` says by itself that `{names[k]}` is sewn before `{names[k + 1]}`: "
        fix += "take another of these away" if all(caught) else "take the `after` away"
    return Diagnostic("E649", f"no seam is the first of these: {way}", span, labels=labels, fix=fix)


def ring(span: Span, names: Sequence[str], spans: Sequence[Span]) -> Diagnostic:
    if len(names) == 2:
        message = f"`{names[0]}` is defined with itself"
        return Diagnostic("E211", message, span, fix="take another name here, or a measurement")
    way = ", which needs ".join(f"`{name}`" for name in names)
    asked = list(zip(names[1:], spans, strict=False))
    labels = tuple(Label(place, f"`{name}` is asked for here") for name, place in asked if place != span)
    return Diagnostic(
        "E211", f"a ring of definitions: {way}", span, labels=labels, fix="start one of them from a measurement"
    )


def defined_twice(span: Span, name: str, first: Span) -> Diagnostic:
    return Diagnostic(
        "E212",
        f"`{name}` is defined twice",
        span,
        fix="give one of them another name; a name is defined once",
        labels=(Label(first, "first defined here"),),
    )


def no_edge(span: Span, name: str, candidates: Sequence[str], reason: str | None) -> Diagnostic:
    if reason:
        fix = _fix_gone(name, candidates, reason)
        return Diagnostic("E213", f"there is no `{name}` here any more", span, note=reason, fix=fix, lack=Lack.PART)
    fix = _perhaps(name, candidates, f"it has {_listed(candidates)}")
    return Diagnostic("E213", f"the piece has no `{name}`", span, fix=fix, lack=Lack.PART)


def no_landmark(span: Span, name: str) -> Diagnostic:
    return Diagnostic(
        "E655",
        f"`{name}` is a point, but none of the piece",
        span,
        fix=f"make it one in its braces, `landmark {name} called …`, and write that name here",
        lack=Lack.PART,
    )


def _fix_gone(name: str, candidates: Sequence[str], reason: str) -> str:
    """The names that stand in its place where the reason tells them, or those the piece still has."""
    instead = [one for one in candidates if f"`{one}`" in reason and one != name]
    if instead:
        return f"write {either(instead)}"
    return f"the piece still has {_listed(candidates)}"


def no_member(
    span: Span, owner: str, name: str, candidates: Sequence[str], labels: tuple[Label, ...] = ()
) -> Diagnostic:
    listed = _listed(candidates) + (" …" if len(candidates) > _MOST_LISTED else "") if candidates else ""
    fix = _perhaps(name, candidates, f"it gives {listed}" if listed else "it gives nothing by name")
    return Diagnostic("E214", f"`{owner}` gives no `{name}`", span, fix=fix, labels=labels)


def recipe_not_draft(span: Span, recipe: str, draft: str | None, rest: str) -> Diagnostic:
    fix = f"write `{draft}.{rest}`" if draft else f"make one first: `block base = {recipe} with …`, then `base.{rest}`"
    return Diagnostic("E215", f"`{recipe}` is the recipe, not a draft made with it", span, fix=fix, lack=Lack.NAME)


def no_module(span: Span, name: str, candidates: Iterable[str]) -> Diagnostic:
    fix = _perhaps(name, candidates, "modules come from the standard library or stand beside the style")
    return Diagnostic("E216", f"there is no module `{name}`", span, fix=fix)


def not_in_module(
    span: Span, name: str, module: str, candidates: Sequence[str], home: str = "", labels: tuple[Label, ...] = ()
) -> Diagnostic:
    """`home` is the module of the library that has it, where one does."""
    fix = f"it is in `{home}`: `use {name} from {home}`" if home else _perhaps(name, candidates, f"it has {_listed(candidates)}")
    return Diagnostic("E217", f"`{module}` has no recipe `{name}`", span, fix=fix, labels=labels, lack=Lack.NAME)


def module_twice(span: Span, name: str) -> Diagnostic:
    return Diagnostic(
        "E218",
        f"`{name}` is in the standard library and also beside the style",
        span,
        fix="rename the file beside the style",
    )


def no_choice(name: str, candidates: Sequence[str]) -> Diagnostic:
    fix = _perhaps(name, candidates, f"it has {_listed(candidates)}")
    return Diagnostic("E225", f"the style has no choice `{name}`", fix=fix)


def open_outline(span: Span, message: str, fix: str) -> Diagnostic:
    return Diagnostic("E227", message, span, fix=fix)


def needs_missing(span: Span, name: str, recipe: str, candidates: Sequence[str], needed: Span) -> Diagnostic:
    return Diagnostic(
        "E228",
        f"`{recipe}` needs a piece with `{name}`",
        span,
        fix=f"this piece has {_listed([one for one in candidates if '.' not in one])}; "
        f"if one of these is meant, call it so: `rename … as {name}`",
        labels=(Label(needed, "asked for here"),),
    )


def names_forbid(span: Span, message: str, fix: str) -> Diagnostic:
    return Diagnostic("E229", message, span, fix=fix, lack=Lack.PART)


def misplaced(span: Span, word: str, where: str) -> Diagnostic:
    return Diagnostic("E230", f"`{word}` has no place here", span, fix=where)


def needs_end(span: Span, name: str, candidates: Sequence[str]) -> Diagnostic:
    listed = " or ".join(f"`{one}`" for one in candidates)
    fix = f"say from which end: {listed}"
    return Diagnostic("E232", f"`{name}` does not touch an end of this edge", span, fix=fix, lack=Lack.PART)


def too_deep(span: Span, limit: int) -> Diagnostic:
    message = f"more than {limit} definitions rest on each other in one row, or fewer with much in brackets"
    return Diagnostic("E239", message, span, fix="start some of them from a measurement")


def unknown_language(span: Span, version: str) -> Diagnostic:
    return Diagnostic(
        "E234", f"this compiler reads language 1, and the file says {version}", span, fix="write `language 1`"
    )


def too_many(span: Span, limit: int) -> Diagnostic:
    return Diagnostic(
        "E235", f"the repeat runs more than {limit} times", span, fix="raise `up_to`, or repeat fewer times"
    )


def measurement_redefined(span: Span, name: str) -> Diagnostic:
    return Diagnostic(
        "E236",
        f"`{name}` is the name of a measurement",
        span,
        fix=f"call it something else, for example `{name}_wanted`",
    )


def verb_redefined(span: Span, name: str) -> Diagnostic:
    fix = f"call the recipe something else, for example `{name}_draft`"
    return Diagnostic("E642", f"`{name}` is a verb of the language", span, fix=fix)


def pieces_differ(span: Span, names: Sequence[str], darts: Sequence[str]) -> Diagnostic:
    """`names` are the edges that one has alone, `darts` the darts: no name makes a dart of none."""
    listed = ", ".join(f"`{name}`" for name in names[:6])
    choose = "or choose with a choice, which is known before any body"
    if darts:
        dart = darts[0]
        fix = f"leave `{dart}` in the piece that has it, `leave … .{dart} as ease`, {choose}"
        return Diagnostic("E648", f"only one of these two pieces has the dart {either(darts, 'and')}", span, fix=fix)
    fix = f"give both pieces the same edges, with `rename`, {choose}"
    return Diagnostic("E240", f"only one of these two pieces has {listed}", span, fix=fix)


def differs_by_body(span: Span) -> Diagnostic:
    return Diagnostic(
        "E242",
        "whether this is there must be the same for every body",
        span,
        fix="write a choice here, such as `choice with_pocket = yes`; a value may differ by body, with `when … otherwise …`",
    )


def rests_on_absent(span: Span, name: str, missing: str, when: Span) -> Diagnostic:
    return Diagnostic(
        "E243",
        f"`{name}` rests on `{missing}`, which is not there",
        span,
        fix=f"let `{name}` do without it: `… when … otherwise …`; or give it the same `when`",
        labels=(Label(when, f"`{missing}` is there only then"),),
    )


def solve_needs_equals(span: Span) -> Diagnostic:
    return Diagnostic("E238", "`solve` looks for an equality", span, fix="write `that … equals … tolerance 0.5 mm`")


def promise_unread(span: Span, example: str) -> Diagnostic:
    return Diagnostic("E245", "a promise of fit is written in words, for every body", span, fix=f"write for example `{example}`")


def no_level(span: Span, level: str, levels: Sequence[str]) -> Diagnostic:
    fix = did_you_mean(level, levels) or (f"the pieces have {either(levels, 'and')}" if levels else "")
    mark = f"mark it on a piece: `mark_level {level} along LINE meeting …, …`"
    return Diagnostic("E246", f"no piece here has a level `{level}`", span, fix=fix or mark, lack=Lack.PART)


def no_promise(span: Span, name: str, promises: Sequence[str]) -> Diagnostic:
    known = f"what is promised is {either(promises, 'and')}" if promises else "write a sentence `fit …`"
    fix = did_you_mean(name, promises) or known
    return Diagnostic("E247", f"no fit is promised as `{name}`", span, fix=fix, lack=Lack.NAME)


def allowed_twice(span: Span, edge: str, first: Span) -> Diagnostic:
    what = f"`{edge}` is" if edge else "the edges that are not named are"
    fix = "keep one of the two sentences"
    return Diagnostic("E248", f"{what} given two allowances", span, fix=fix, labels=(Label(first, "here first"),))


def stated_twice(span: Span, verb: str, first: Span) -> Diagnostic:
    whats = {"grain": "the grain of the piece", "press": "where this dart is pressed", "cut_corner": "how this corner is cut"}
    what = whats[verb]
    fix = "keep one of the two sentences"
    return Diagnostic("E643", f"{what} is said twice", span, fix=fix, labels=(Label(first, "here first"),))


def allowed_on_fold(span: Span, name: str, edge: str, laid: Span | None, unfolded: bool) -> Diagnostic:
    """`laid` is where the edge is laid on the fold, or where the piece is unfolded across it."""
    lies = "the piece is unfolded across it" if unfolded else "lies on the fold"
    why = f"`{edge}` of `{name}` has an allowance and {lies}, where nothing is cut"
    apart = f"; or write `off_fold {edge}` in the block of `{name}`, or `cut 2 as pair`"
    here = f"here it is unfolded across `{edge}`" if unfolded else f"here `{edge}` is laid on the fold"
    return Diagnostic(
        "E249",
        why,
        span,
        fix=f"take `{edge}` out of the sentence{'' if unfolded else apart}",
        labels=() if laid is None else (Label(laid, here),),
    )


def unused(span: Span, name: str) -> Diagnostic:
    return Diagnostic("W201", f"`{name}` is never used", span, fix="take the sentence out, or use it", severity=Severity.WARNING)


def seam_on_shape(span: Span, seam: str, written: str, cut: Sequence[str]) -> Diagnostic:
    return Diagnostic(
        "W203",
        f"`{seam}` is sewn on `{written}`, an edge of a shape that is not cut: what is cut gets no notch of it",
        span,
        fix=f"write {either(cut)}",
        data={"of": (seam, written)},
        severity=Severity.WARNING,
    )


def opens_nothing(span: Span, edge: str, piece: str, verb: str) -> Diagnostic:
    return Diagnostic(
        "W204",
        f"`opens {edge}` has no effect: what `{verb}` cuts off is no more of `{piece}`, so that no level runs on over `{edge}`",
        span,
        fix=f"draw `{edge}` with `replace` in place of `{verb}`, and the levels run on over it; or take this away",
        data={"of": (piece, edge)},
        severity=Severity.WARNING,
    )


def needs_of_no_piece(span: Span, name: str, labels: tuple[Label, ...] = ()) -> Diagnostic:
    fix = "write `needs`, a piece that the recipe takes, and what it must have: `needs draft.shoulder`"
    return Diagnostic("E641", f"`{name}` names no edge, dart or point of a piece that is taken", span, fix=fix, labels=labels)
