"""The words: measurements of the body, and the kinds, verbs and recipes of the language."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from ..bodies.vocabulary import canonical, vocabulary
from ..diagnostics.printing import place
from ..diagnostics.suggest import did_you_mean
from ..folders import shipped
from ..meaning.style import CheckedStyle
from ..syntax import tree as t
from ..syntax.parser import parse
from ..verbs.measuring import OF
from ..verbs.registry import Verb, Word, verbs

KINDS = {
    "point": "a place on the paper",
    "length": "a distance, with a unit: mm, cm, m, in",
    "angle": "a turn, in deg",
    "number": "a bare number: a ratio, a share, a count",
    "flag": "yes or no",
    "line": "a straight line of the draft, or the edge it becomes",
    "curve": "a curve of the draft, or the edge it becomes",
    "lines": "slash lines on a piece",
    "piece": "a piece of pattern: a closed ring of named edges",
    "dart": "a dart on a piece",
    "block": "a draft made with a block: what it gives is reached by name",
    "seam": "two edges that are sewn together",
    "choice": "a value that may be set from outside, within bounds",
    "finished": "a measurement of the finished garment, with its tolerance",
    "cloth": "a cloth that pieces are cut in",
    "trim": "what is bought beside the cloth",
    "closure": "where the garment opens, and how far",
    "sewing": "a way of sewing, which seams name",
    "care": "how the garment is washed, dried and ironed",
}


@dataclass(frozen=True)
class Asked:
    """A measurement a style needs, and where it asks for it."""

    name: str
    definition: str
    how: str
    places: tuple[str, ...]


def asked(style: CheckedStyle) -> tuple[Asked, ...]:
    """What a style needs to be measured, and why."""
    known = vocabulary()
    rows = []
    for name, spans in style.measures.items():
        places = [f"{span.file}:{place(style.texts[span.file], span.start)[0]}" for span in spans]
        rows.append(Asked(name, known[name].what, known[name].how, tuple(dict.fromkeys(places))))
    return tuple(rows)


def entry(word: str) -> tuple[str | None, str]:
    """The reference entry of a word, or None and a suggestion."""
    if word in verbs():
        return verb_entry(verbs()[word]), ""
    if word in KINDS:
        return f"{word} (kind)\n  {KINDS[word]}\n", ""
    if word in OF:
        one = OF[word]
        return (
            f"{word} of … (measuring)\n  {one.doc}\n  takes a {' or a '.join(one.wants)}; gives a {one.gives.word}\n",
            "",
        )
    name = canonical(word)
    if name is not None and name in vocabulary():
        return measure_entry(name), ""
    found = [recipe for recipe, _ in recipes() if recipe.name.text == word]
    if found:
        module = next(module for recipe, module in recipes() if recipe.name.text == word)
        return recipe_entry(found[0], module), ""
    clauses = [verb for verb in verbs().values() if verb.word(word)]
    if clauses:
        uses = [f"{word} (word)"] + [f"  of {one.name}: {_meaning(one.word(word))}" for one in clauses]
        return "\n".join(uses) + "\n", ""
    return None, did_you_mean(word, all_words())


def all_words() -> list[str]:
    return [*verbs(), *KINDS, *OF, *vocabulary(), *(recipe.name.text for recipe, _ in recipes())]


def _meaning(word: Word | None) -> str:
    return word.meaning if word is not None else ""


def recipes() -> Sequence[tuple[t.Recipe, str]]:
    """The recipes of the standard library with their modules."""
    root = shipped("stdlib")
    found: list[tuple[t.Recipe, str]] = []
    for path in sorted(root.rglob("*.style")):
        module = path.relative_to(root).with_suffix("").as_posix()
        tree, _ = parse(path.read_text("utf-8"), module)
        found += [(one, module) for one in tree.sentences if isinstance(one, t.Recipe)]
    return found


def verb_entry(verb: Verb) -> str:
    """The reference entry of a verb."""
    role = "sentence of a piece's block" if verb.statement else "verb"
    rows = [f"{verb.name} ({role}, {verb.family})", f"  {verb.doc}"]
    if verb.subject is not None:
        rows.append(f"  works on: {verb.subject.meaning} ({verb.subject.want})")
    if verb.edges is not None:
        rows.append(f"  NAME OF AN EDGE: {verb.edges.meaning} ({verb.edges.want})")
    rows += [_word_row(word) for word in verb.words]
    rows += [f"  exactly one of {', '.join(group)} is written" for group in verb.either]
    return "\n".join([*rows, _example(verb.example)]) + "\n"


def _example(sentence: str) -> str:
    return "  example: " + "\n    ".join(sentence.split("\n"))


def _word_row(word: Word) -> str:
    rest = f", {word.default} if left out" if word.default is not None else "" if word.required else ", may be left out"
    return f"  {word.name}: {word.meaning} ({word.want}{rest})"


def recipe_entry(recipe: t.Recipe, module: str) -> str:
    """The reference entry of a recipe of the library."""
    rows = [f"{recipe.name.text} ({recipe.kind.text})", f"  {recipe.text.value if recipe.text else ''}"]
    rows.append(f"  use {recipe.name.text} from {module}")
    for sentence in recipe.block:
        if isinstance(sentence, t.Takes):
            text = sentence.text.value if sentence.text else ""
            rows.append(
                f"  {sentence.name.text}: {text} ({sentence.kind.text}{'' if sentence.default is None else ', may be left out'})"
            )
        elif isinstance(sentence, t.Gives):
            rows.append(f"  gives {sentence.definition.kind.text} {sentence.definition.name.text}")
    return "\n".join(rows) + "\n"


def measure_entry(name: str) -> str:
    """The reference entry of a measurement."""
    one = vocabulary()[name]
    short = f"\n  short form: {', '.join(one.short_forms)}" if one.short_forms else ""
    return f"{name} (measurement)\n  {one.what}\n  how to take it: {one.how}{short}\n"


def reference() -> str:
    """The whole reference as Markdown, from the registry."""
    rows = [
        "# Reference of the style language",
        "",
        "Made from the registry by `godet words --all`; edit the registry, not this file.",
        "",
    ]
    rows += ["## Kinds", ""] + [f"- `{word}`: {text}" for word, text in KINDS.items()]
    rows += ["", "## Words before `of`", ""] + [f"- `{word} of`: {one.doc}" for word, one in OF.items()]
    families: dict[str, list[Verb]] = {}
    for verb in verbs().values():
        families.setdefault(verb.family, []).append(verb)
    for family in sorted(families):
        rows += ["", f"## Verbs: {family}", ""]
        rows += _blocks(verb_entry(verb) for verb in sorted(families[family], key=lambda verb: verb.name))
    rows += ["", "## Recipes of the standard library", ""]
    rows += _blocks(recipe_entry(recipe, module) for recipe, module in recipes())
    return "\n".join(rows).rstrip() + "\n"


def _blocks(entries: Iterable[str]) -> list[str]:
    return [line for one in entries for line in ("```", *one.rstrip().split("\n"), "```", "")]
