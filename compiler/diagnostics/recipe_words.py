"""The words of errors in recipes that hand on what others take and give. Codes E273 to E279."""

from __future__ import annotations

from collections.abc import Sequence

from .diagnostic import Diagnostic, Lack, Span
from .value_words import one


def not_all(span: Span, head: str, said: str) -> Diagnostic:
    fix = f"write `{head} all of …`, which is every one of them, or name what is meant"
    return Diagnostic("E273", f"`{head} {said} of` says nothing", span, fix=fix)


def taken_as(recipe: str, name: str, kind: str) -> str:
    return f"`{recipe}` takes {one(kind)} as `{name}`"


def no_recipe(span: Span, name: str) -> Diagnostic:
    fix = f"bring it in: `use {name} from …`; or name one that stands in this file"
    return Diagnostic("E274", f"there is no recipe `{name}` whose words could be taken", span, fix=fix, lack=Lack.NAME)


def takes_of_itself(span: Span, names: Sequence[str]) -> Diagnostic:
    way = " of ".join(f"`{name}`" for name in names)
    return Diagnostic("E275", f"these recipes take all of each other: {way}", span, fix="let one take its words itself")


def taken_of_two(span: Span, name: str, first: str, second: str) -> Diagnostic:
    fix = f"say which is meant: `takes length {name} = …` in this recipe"
    return Diagnostic("E276", f"`{name}` is a word of `{first}` and of `{second}`", span, fix=fix)


def nothing_to_give(span: Span) -> Diagnostic:
    fix = "it hands on words of the recipe it stands in: name them there with `takes`, or write them here with values"
    return Diagnostic("E277", "`using all` hands on nothing here", span, fix=fix, lack=Lack.NAME)


def no_block(span: Span, name: str, found: str) -> Diagnostic:
    fix = f"write `gives` before the sentence that makes `{name}`"
    return Diagnostic("E278", f"all of a block can be given, and `{name}` is another thing ({found})", span, fix=fix)


def role_taken(span: Span, block: str, role: str) -> Diagnostic:
    fix = f"give the other another name, or write `gives` before it if it takes the place of `{block}.{role}`"
    return Diagnostic("E279", f"`{role}` of `{block}` is given, and another thing is called so here", span, fix=fix)
