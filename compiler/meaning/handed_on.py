"""Recipes that hand on: `takes all of gores` is every word of that recipe, `gives all of g` every piece that block gives."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace

from ..diagnostics import recipe_words as words
from ..diagnostics.diagnostic import Diagnostic, Span
from ..syntax import tree as t
from ..verbs import kinds as k
from .checker import Checker, Scope
from .style import BlockKind, Typed

SUBJECTS = ("shape", "edge", "dart", "block")

Find = Callable[[str], t.Recipe | None]


def hand_on(checker: Checker, scope: Scope) -> None:
    """The recipes of a file with all that they take of others written out."""

    def find(name: str) -> t.Recipe | None:
        known = scope.recipes.get(name)
        return None if known is None else known[0]

    own = [name for name, (_, home) in scope.recipes.items() if home is scope]
    for name in own:
        scope.recipes[name] = _without_broken(scope, scope.recipes[name][0]), scope
    made = {name: written_out(scope.recipes[name][0], find) for name in own}
    for name, (recipe, problems) in made.items():
        lost = tuple(t.Broken("takes", "", (), None, one.span) for one in problems if one.span is not None)
        scope.recipes[name] = replace(recipe, block=(*recipe.block, *lost)), scope
        for problem in problems:
            checker.report(scope, problem)


def _without_broken(scope: Scope, recipe: t.Recipe) -> t.Recipe:
    """The recipe with `takes all of` one that cannot be read as a sentence that cannot be read itself: any word may be its."""
    return replace(
        recipe,
        block=tuple(
            t.Broken("takes", "", (), None, one.span) if isinstance(one, t.TakesAll) and scope.is_broken(one.recipe.text) else one
            for one in recipe.block
        ),
    )


def subject_of(recipe: t.Recipe) -> t.Takes | None:
    """What a recipe works on: the first thing it takes that is no word."""
    takes = (sentence for sentence in recipe.block if isinstance(sentence, t.Takes))
    return next((take for take in takes if take.kind.text in SUBJECTS), None)


def written_out(recipe: t.Recipe, find: Find, row: tuple[str, ...] = ()) -> tuple[t.Recipe, list[Diagnostic]]:
    """A recipe with each `takes all of` in it replaced by the words of that recipe, as far as it takes none of the name itself.
    `row` are the names of the recipes that led to it."""
    if not any(isinstance(one, t.TakesAll) for one in recipe.block):
        return recipe, []
    row = (*row, recipe.name.text)
    own = {one.name.text for one in recipe.block if isinstance(one, t.Takes)}
    works_on = subject_of(recipe)
    sources: dict[str, str] = {}
    block: list[t.Sentence] = []
    problems: list[Diagnostic] = []
    for one in recipe.block:
        if not isinstance(one, t.TakesAll):
            block.append(one)
            continue
        taken, told = _taken(one.recipe, find, row)
        problems += told
        subject = next((take for take in taken if take.kind.text in SUBJECTS), None)
        for take in taken:
            name = take.name.text
            if name in sources:
                problems.append(words.taken_of_two(one.span, name, sources[name], one.recipe.text))
            elif name not in own and not (works_on and take is subject):
                block.append(take)
                sources[name] = one.recipe.text
    return replace(recipe, block=tuple(block)), problems


def _taken(name: t.Word, find: Find, row: tuple[str, ...]) -> tuple[list[t.Takes], list[Diagnostic]]:
    """What a recipe takes, with all it takes of others in turn."""
    other = find(name.text)
    if other is None:
        return [], [words.no_recipe(name.span, name.text)]
    if name.text in row:
        return [], [words.takes_of_itself(name.span, [*row[row.index(name.text) :], name.text])]
    whole, problems = written_out(other, find, row)
    return [one for one in whole.block if isinstance(one, t.Takes)], problems


def given_all(clauses: Sequence[t.Clause], scope: Scope, known: Sequence[str]) -> tuple[list[t.Clause], Diagnostic | None]:
    """The clauses of a use of a recipe with `using all` written out: each word the recipe around it takes that this one knows
    and that is not said here."""
    said = [clause for clause in clauses if not _is_all(clause)]
    asked = next((clause for clause in clauses if _is_all(clause)), None)
    if asked is None or "all" in known:
        return list(clauses), None
    taken, spoken = scope.all_taken(), {clause.word.text for clause in said}
    names = [t.Word(name, asked.word.span) for name in known if name in taken and name not in spoken]
    problem = None if names else words.nothing_to_give(asked.word.span)
    return [*said, *(t.Clause(name, t.Name((name,), name.span)) for name in names)], problem


def _is_all(clause: t.Clause) -> bool:
    return clause.word.text == "all" and clause.word.span == clause.value.span


def gives_all(
    checker: Checker, inner: Scope, body: Sequence[t.Sentence], places: dict[str, Span]
) -> tuple[dict[str, tuple[k.Kind, int]], bool]:
    """What the blocks give that are handed on whole, by role, which is a name of the recipe's use too; and whether that is only a
    part of it: where there is no such block, or a role of it is another thing here, which is told. Where their names are written
    is added to the `places`."""
    found: dict[str, tuple[k.Kind, int]] = {}
    partial = False
    for one in body:
        if not isinstance(one, t.GivesAll):
            continue
        block = checker.value(inner, one.source)
        if not isinstance(block.kind, BlockKind):
            partial = True
            if block.kind is not k.BROKEN:
                checker.report(inner, words.no_block(one.source.span, one.source.text, block.kind.word))
            continue
        partial = partial or block.kind.partial
        for role, member in block.kind.members.items():
            own = inner.holders.get(role)
            if isinstance(own, t.Gives):
                continue
            if role in found or role in inner.known:
                partial = True
                checker.report(inner, words.role_taken(one.span, one.source.text, role))
                continue
            found[role] = member
            places |= {role: block.kind.places[role]} if role in block.kind.places else {}
            inner.handed[role] = Typed(*member)
            if member[0] is not k.BROKEN:
                checker.names.setdefault(f"{inner.prefix}{role}", member[1])
    return found, partial
