"""Recipes and blocks of the language: their words, what they need of a piece, and one use of them written out."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from ..bodies.vocabulary import canonical
from ..diagnostics import meaning_words as words
from ..diagnostics import recipe_words, value_words
from ..diagnostics.diagnostic import Label, Span, Step
from ..diagnostics.suggest import nearest
from ..syntax import tree as t
from ..verbs import kinds as k
from ..verbs.registry import verbs
from . import misnamed
from . import payloads as p
from .checker import BROKEN, Checker, Scope
from .handed_on import SUBJECTS, given_all, gives_all, subject_of
from .style import BlockKind, Typed, reversed_bounds

TAKEN = {
    "length": k.LENGTH,
    "angle": k.ANGLE,
    "number": k.NUMBER,
    "flag": k.FLAG,
    "point": k.POINT,
    "shape": k.PIECE,
    "edge": k.Kind("edge"),
    "edges": k.RUN,
    "dart": k.Kind("dart"),
    "curve": k.PATH,
    "line": k.PATH,
    "block": k.Kind("block"),
}


def declare(checker: Checker, scope: Scope, sentences: Sequence[t.Sentence]) -> None:
    """Enter the definitions of a file or a block into its scope; order does not matter, names are unique."""
    for sentence, definition in _definitions(sentences):
        name = definition.name
        earlier = scope.sentences.get(name.text)
        taken = scope.known.get(name.text)
        if canonical(name.text) is not None:
            checker.report(scope, words.measurement_redefined(name.span, name.text))
            scope.lossy = True  # what it should be called may be asked for
        elif earlier is not None:
            checker.report(scope, words.defined_twice(name.span, name.text, earlier.name.span))
            scope.twice.add(name.text)
            scope.lossy = True
        elif taken is not None and name.text not in scope.broken:
            checker.report(scope, words.defined_twice(name.span, name.text, scope.places[name.text]))
            scope.twice.add(name.text)
            scope.lossy = True
        else:
            scope.known.pop(name.text, None)
            scope.sentences[name.text] = definition
            scope.holders[name.text] = sentence
    for lost in broken_in(sentences):
        scope.lose(lost)


def broken_in(sentences: Sequence[t.Sentence]) -> Iterator[t.Broken]:
    """The sentences that cannot be read, and those in the braces of repeats: what these define is known beside them too."""
    for sentence in sentences:
        if isinstance(sentence, t.Broken):
            yield sentence
            if sentence.head == "each":
                names = tuple(one.name for _, one in _definitions(sentence.block or ()))
                yield replace(sentence, names=names) if names else sentence
        if isinstance(sentence, t.Each) or (isinstance(sentence, t.Broken) and sentence.head == "each"):
            yield from broken_in(sentence.block or ())


def is_promise(sentence: t.Sentence) -> bool:
    """Whether a sentence promises a fit: its name is one of promises, as that of a check is one of checks."""
    return isinstance(sentence, t.Definition) and sentence.kind.text == "fit"


def promise(checker: Checker, scope: Scope, sentences: Sequence[t.Sentence]) -> None:
    """Keep what a block or style promises until all pieces are made."""
    for sentence in sentences:
        if is_promise(sentence):
            assert isinstance(sentence, t.Definition)
            name = f"{scope.prefix}{sentence.name.text}"
            if name in checker.promises:
                earlier = checker.promises[name][1].name.span
                checker.report(scope, words.defined_twice(sentence.name.span, sentence.name.text, earlier))
            else:
                checker.promises[name] = scope, sentence


def _definitions(sentences: Sequence[t.Sentence]) -> Iterator[tuple[t.Sentence, t.Definition | t.Solve]]:
    for sentence in sentences:
        if is_promise(sentence):
            continue
        if isinstance(sentence, (t.Definition, t.Solve)):
            yield sentence, sentence
        elif isinstance(sentence, t.Gives):
            yield sentence, sentence.definition
        elif isinstance(sentence, t.Each):
            for _, inner in _definitions(sentence.block):
                yield sentence, inner


def call(checker: Checker, scope: Scope, found: tuple[t.Recipe, Scope], expr: t.Operation, piece: Typed | None = None) -> Typed:
    """One use of a recipe: a scope of its own, its sentences written out with what they were given. `piece` is what it works
    on, where that is in hand."""
    recipe, home = found
    step = Step(expr.span, f"in {recipe.kind.text} `{recipe.name.text}`")
    if len(scope.trace) > 40:
        return checker.report(scope, words.ring(expr.span, [recipe.name.text, recipe.name.text], [expr.span]))
    owner = checker.sentence[-1][1] if checker.sentence else ""
    prefix = "".join(f"{part}." for part in (owner, scope.link) if part)
    inner = Scope(recipe.name.span.file, home, prefix, (*scope.trace, step))
    if not _take(checker, scope, inner, recipe, expr, piece):
        return BROKEN
    inner.lossy = inner.lossy or bool(taken_twice(recipe))  # one of them should be called otherwise
    body = [sentence for sentence in recipe.block if not isinstance(sentence, (t.Takes, t.Needs))]
    declare(checker, inner, body)
    promise(checker, inner, body)
    for sentence in recipe.block:
        if isinstance(sentence, t.Needs):
            if not _needed(checker, scope, inner, recipe, sentence, expr):
                return BROKEN
        elif not isinstance(sentence, (t.Takes, t.Definition, t.Solve, t.Gives, t.GivesAll, t.Check, t.Each, t.Broken)):
            checker.report(inner, words.misplaced(sentence.span, "this", "a recipe takes, needs, defines, gives and checks"))
    return _given(checker, inner, recipe, body, expr)


def _take(checker: Checker, scope: Scope, inner: Scope, recipe: t.Recipe, expr: t.Operation, piece: Typed | None) -> bool:
    """Bind what the recipe takes; False when something is missing or wrong."""
    takes = [sentence for sentence in recipe.block if isinstance(sentence, t.Takes)]
    subject = subject_of(recipe)
    lost = lost_takes(recipe)
    known = [take.name.text for take in takes if take is not subject]
    known += [name.text for one in lost for name in one.names]
    said_anything = any(not one.names or one.kind in ("", *SUBJECTS) for one in lost)
    said, problem = given_all(expr.clauses, scope, known)
    clauses = {clause.word.text: clause for clause in said}
    sound = len(clauses) == len(said) and problem is None
    if problem is not None and not lost:
        checker.report(scope, problem)
    elif problem is not None:
        return False
    elif not sound:
        twice = next(c for i, c in enumerate(said) if c.word.text in {o.word.text for o in said[:i]})
        checker.report(scope, words.word_twice(twice.word.span, recipe.name.text, twice.word.text))
    defined = {take.name.text: take.name.span for take in takes}
    for name, span in defined.items():
        checker.note(span, "word", f"{recipe.name.text} {name}", place=span)
    astray = False
    for name, clause in clauses.items():
        checker.note(clause.word.span, "word", f"{recipe.name.text} {name}", place=defined.get(name))
        if name not in known:
            if said_anything:
                return False
            if is_next(scope, name, known):
                told = words.unknown_word(clause.word.span, recipe.name.text, name, known, wanted=f"`then` before `{name}`")
                checker.report(scope, told)
                return False
            labels = misnamed.of_takes(recipe, name, clauses)
            checker.report(scope, words.unknown_word(clause.word.span, recipe.name.text, name, known, labels))
            astray = True
    if expr.subject is not None and subject is None:
        if lost:
            return False
        checker.report(scope, words.needless_subject(expr.subject.span, recipe.name.text))
        return False
    for take in takes:
        if take is subject and piece is not None:
            _enter(inner, take, piece)
            continue
        if take.span in checker.misfits or (astray and take.name.text not in clauses and take.default is None):
            sound = False  # it is told that it does not fit; or it may be what the strange word was meant for
            _enter(inner, take, BROKEN)
            continue
        given = expr.subject if take is subject else clauses[take.name.text].value if take.name.text in clauses else None
        bound = _bind(checker, scope, inner, recipe, take, given, expr.span, take is subject)
        sound = sound and bound
    return sound and not astray


def is_next(scope: Scope, word: str, known: Sequence[str]) -> bool:
    """Whether what stands where a word should is the operation that comes next, and `then` is missing before it."""
    return (word in verbs() or scope.recipe(word) is not None) and not nearest(word, known, 1, parts=False)


def lost_takes(recipe: t.Recipe) -> list[t.Broken]:
    """What a recipe may take beside what can be read of it: of a name that is taken twice one was called otherwise."""
    broken = [one for one in recipe.block if isinstance(one, t.Broken) and one.head in ("takes", "")]
    return broken + [t.Broken("takes", "", (), None, one.span) for one, _ in taken_twice(recipe)]


def taken_twice(recipe: t.Recipe) -> list[tuple[t.Takes, t.Takes]]:
    """What is taken under a name that stands before, with that."""
    takes = [one for one in recipe.block if isinstance(one, t.Takes)]
    first = {one.name.text: one for one in reversed(takes)}
    return [(one, first[one.name.text]) for one in takes if one is not first[one.name.text]]


def _bind(
    checker: Checker,
    scope: Scope,
    inner: Scope,
    recipe: t.Recipe,
    take: t.Takes,
    given: t.Expr | None,
    span: Span,
    is_subject: bool,
) -> bool:
    name = take.name.text
    want = TAKEN.get(take.kind.text)
    if want is None:
        checker.report(inner, words.misplaced(take.kind.span, take.kind.text, f"a recipe takes {', '.join(TAKEN)}"))
        return False
    if given is not None:
        before = len(checker.diagnostics)
        value, place = checker.value(scope, given, want), given.span
        for index, told in enumerate(checker.diagnostics[before:], before):
            if told.code == value_words.WRONG_KIND and told.span == place:
                taken = Label(take.name.span, recipe_words.taken_as(recipe.name.text, name, take.kind.text))
                checker.diagnostics[index] = replace(told, labels=(*told.labels, taken))
    elif take.default is not None:
        value, place = checker.value(inner, take.default, want), take.default.span
    else:
        meaning = take.text.value if take.text else f"a {take.kind.text}"
        if is_subject:
            checker.report(scope, words.missing_subject(span, recipe.name.text, meaning))
        else:
            checker.report(scope, words.missing_word(span, recipe.name.text, name, meaning))
        return False
    if take.bounds is not None and value.kind is not k.BROKEN:
        value = bounded(checker, inner, name, take.bounds, value, place)
    _enter(inner, take, value)
    return value.kind is not k.BROKEN


def _enter(inner: Scope, take: t.Takes, value: Typed) -> None:
    """What a recipe is given, known inside it by its name."""
    name = take.name.text
    inner.known[name] = value
    inner.places[name] = take.name.span
    inner.taken.add(name)


def bounded(checker: Checker, scope: Scope, name: str, bounds: t.Bounds, value: Typed, place: Span) -> Typed:
    """The value, checked against the bounds: at once where it is known, otherwise for each body."""
    low, high = (checker.value(scope, one, value.kind) for one in (bounds.low, bounds.high))
    return within(checker, scope, name, bounds, (low, high), value, place)


def within(
    checker: Checker, scope: Scope, name: str, bounds: t.Bounds, ends: tuple[Typed, Typed], value: Typed, place: Span
) -> Typed:
    """As `bounded`, where the values of the bounds are known."""
    low, high = ends
    if reversed_bounds(low, high):
        return checker.report(scope, value_words.bounds_reversed(bounds.low.span.to(bounds.high.span)))
    if value.constant is not None and low.constant is not None and high.constant is not None:
        if low.constant - 1e-9 <= value.constant <= high.constant + 1e-9:
            return value
        said = [written(one, value.kind) for one in (value.constant, low.constant, high.constant)]
        return checker.report(scope, value_words.out_of_bounds(place, name, *said))
    args = {"value": value, "low": low, "high": high}
    return checker.node(scope, p.Bounded(name, value.kind.word), value.kind, place, args)


def written(value: float, kind: k.Kind) -> str:
    """A constant as it is written: centimetres, degrees, yes or no, or a bare number."""
    if kind == k.ANGLE:  # a kind that was kept with a checked style is equal, and not the same
        return f"{value * 57.29577951308232:.6g} deg"
    if kind == k.FLAG:
        return "yes" if value else "no"
    return f"{value / 10:.6g} cm" if kind == k.LENGTH else f"{value:.6g}"


def _needed(checker: Checker, scope: Scope, inner: Scope, recipe: t.Recipe, needs: t.Needs, expr: t.Operation) -> bool:
    owner = inner.known.get(needs.name.parts[0].text)
    if owner is not None and owner.kind is k.BROKEN:
        return True
    first = needs.name.parts[0].text
    if owner is None and (inner.lossy or inner.is_broken(first)):
        return False
    wanted = ".".join(part.text for part in needs.name.parts[1:])
    if owner is None or not isinstance(owner.kind, (k.PieceKind, k.EdgeKind, k.DartKind)) or not wanted:
        checker.report(inner, words.needs_of_no_piece(needs.span, needs.name.text, misnamed.of_takes(recipe, first)))
        return False
    sketch = owner.kind.sketch
    known = [*sketch.edge_names(), *sketch.dart_names(), *sketch.points]
    if wanted in known:
        return True
    place = expr.subject.span if expr.subject is not None else expr.span
    checker.report(scope, words.needs_missing(place, wanted, recipe.name.text, known, needs.span))
    return False


def _given(checker: Checker, inner: Scope, recipe: t.Recipe, body: Sequence[t.Sentence], expr: t.Operation) -> Typed:
    """Elaborate the body; the result is what it gives."""
    from_names: dict[str, tuple[k.Kind, int]] = {}
    places: dict[str, Span] = {}
    results: list[Typed] = []
    lost = [one for one in broken_in(body) if one.head in ("gives", "")]
    for sentence in body:
        if isinstance(sentence, t.Check):
            checker.checks.append((inner, sentence))
    for name in inner.sentences:
        value = checker.made_alone(inner, name)
        if isinstance(inner.holders[name], t.Gives):
            results.append(value)
            from_names[name] = (value.kind, value.node)
            places[name] = inner.sentences[name].name.span
    (handed, partial), whole = gives_all(checker, inner, body, places), [one.span for one in body if isinstance(one, t.GivesAll)]
    if whole and recipe.kind.text != "block":
        fix = "a `block` gives several things, a recipe one"
        return checker.report(inner, words.misplaced(whole[0], "gives all of", fix))
    from_names |= {name.text: (k.BROKEN, -1) for one in lost for name in one.names if name.text not in inner.sentences}
    if lost and recipe.kind.text != "block":
        return BROKEN
    partial = partial or inner.lossy or any(isinstance(one, t.Broken) for one in recipe.block)
    if not results and not handed and not partial:
        return checker.report(inner, words.missing_word(recipe.span, recipe.name.text, "gives", "what the recipe is for"))
    if recipe.kind.text == "block" and (from_names or handed):
        return Typed(BlockKind("block", from_names | handed, partial=partial, places=places), -1)
    return BROKEN if BROKEN in results or not results else results[0]
