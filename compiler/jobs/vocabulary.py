"""The words: measurements of the body, and the kinds, verbs and recipes of the language."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache

from ..bodies.vocabulary import canonical, vocabulary
from ..folders import shipped
from ..meaning.handed_on import written_out
from ..pattern.piece import Piece
from ..syntax import tree as t
from ..syntax.parser import parse
from ..verbs.kinds import PieceKind
from ..verbs.measuring import EXTREMES, OF
from ..verbs.registry import Verb, Word, verbs
from ..verbs.standards import standards
from .examples import example
from .forms import FORMS, form_entry
from .trade import page
from .writing import WRITTEN, written_entry

KINDS = {
    "point": "a place on the paper",
    "length": "a distance, with a unit: mm, cm, m, inch",
    "angle": "a turn, in deg",
    "number": "a bare number: a ratio, a share, a count",
    "flag": "yes or no",
    "edges": "edges one after the other, with `+` between them, as what a band is sewn to",
    "line": "a straight line of the draft, or the edge it becomes",
    "curve": "a curve of the draft, or the edge it becomes",
    "lines": "slash lines on a piece",
    "shape": "a closed ring of named edges, which is worked on",
    "piece": "a shape that is cut in cloth: it says `cut`",
    "dart": "a dart on a piece",
    "block": "a draft made with a block: what it gives is reached by name",
    "seam": "two edges that are sewn together",
    "choice": "a value that may be set from outside, within bounds",
    "table": "a value by rows of a measurement or a choice",
    "finished": "a measurement of the finished garment, with its tolerance",
    "shown": "a length, angle or number that the report shows",
    "cloth": "a cloth that pieces are cut in",
    "trim": "what is bought beside the cloth",
    "closure": "where the garment opens, and how far",
    "sewing": "a way of sewing, which seams name",
    "care": "how the garment is washed, dried and ironed",
    "fit": "what the garment promises of the body at a level",
}


@dataclass(frozen=True)
class LibraryRecipe:
    """A recipe of the standard library with all that it takes of others, the module it stands in, and its example, empty where
    it has none. `gives` are kind and name of each thing it gives, `promises` what fits the body at which level and with how much
    ease, `texts` those of all modules."""

    recipe: t.Recipe
    module: str
    example: str
    gives: tuple[tuple[str, str], ...]
    promises: tuple[str, ...]
    texts: Mapping[str, str]

    @property
    def name(self) -> str:
        return self.recipe.name.text

    @property
    def use(self) -> str:
        """The sentence that brings it into a style."""
        return f"use {self.name} from {self.module}"

    @property
    def is_drawn(self) -> bool:
        """Whether its example can be drawn: a block that gives lengths and angles alone has nothing to show."""
        return has_figure(self.example) and any(kind in DRAWN for kind, _ in self.gives)


def entry(word: str) -> str | None:
    """The reference entry of a word, None where there is none."""
    ways = [written_entry(one) for one in WRITTEN if one.title == word]
    if word in verbs():
        return "\n".join([verb_entry(verbs()[word]), *ways])
    if word in KINDS:
        return "\n".join([f"{word} (kind)\n  {KINDS[word]}\n", *ways])
    if ways:
        return "\n".join(ways)
    if word in FORMS:
        return form_entry(word)
    if word in EXTREMES:
        return f"{word} of (before a list)\n  {EXTREMES[word][1]}: `length taken = {word} of (reach, 3 cm)`\n"
    if word in OF:
        one = OF[word]
        return f"{word} of … (measuring)\n  {one.doc}\n  takes a {' or a '.join(one.wants)}; gives a {one.gives.word}\n"
    name = canonical(word)
    if name is not None and name in vocabulary():
        return measure_entry(name)
    found = next((one for one in recipes() if one.name == word), None)
    if found is not None:
        return recipe_entry(found)
    clauses = [verb for verb in verbs().values() if verb.word(word)]
    if clauses:
        uses = [f"{word} (word)"] + [f"  of {one.name}: {_meaning(one.word(word))}" for one in clauses]
        listed = [standard_entry(word)] if word in standards() else []
        return "\n".join([*uses, *listed]) + "\n"
    return None


def all_words() -> list[str]:
    return [*verbs(), *KINDS, *FORMS, *OF, *EXTREMES, *vocabulary(), *(one.name for one in recipes())]


def _meaning(word: Word | None) -> str:
    return word.meaning if word is not None else ""


@lru_cache(maxsize=1)
def recipes() -> Sequence[LibraryRecipe]:
    """The recipes of the standard library."""
    root = shipped("stdlib")
    found: list[tuple[t.Recipe, str, str]] = []
    texts: dict[str, str] = {}
    for path in sorted(root.rglob("*.style")):
        module = path.relative_to(root).with_suffix("").as_posix()
        tree, _ = parse(path.read_text("utf-8"), module)
        own = [one for one in tree.sentences if isinstance(one, t.Recipe)]
        texts[module] = tree.text
        found += [(one, module, _example_above(tree.text[: one.span.start])) for one in own]
    named = {one.name.text: one for one, _, _ in found}
    return [
        LibraryRecipe(
            written_out(one, named.get)[0],
            module,
            example_of,
            tuple(_given(one, named)),
            tuple(_promised(one, named, texts)),
            texts,
        )
        for one, module, example_of in found
    ]


def _given(recipe: t.Recipe, named: Mapping[str, t.Recipe]) -> Iterator[tuple[str, str]]:
    """Kind and name of each thing a recipe gives, those of a block it hands on whole among them."""
    own = {one.definition.name.text for one in recipe.block if isinstance(one, t.Gives)}
    for one in recipe.block:
        if isinstance(one, t.Gives):
            yield one.definition.kind.text, one.definition.name.text
    for source in _handed_on(recipe, named):
        yield from (row for row in _given(source, named) if row[1] not in own)


def _promised(recipe: t.Recipe, named: Mapping[str, t.Recipe], texts: Mapping[str, str]) -> Iterator[str]:
    """What a recipe promises of the body, as it is written, with what a block that it hands on whole promises."""
    for one in recipe.block:
        if isinstance(one, t.Definition) and one.kind.text == "fit":
            written = texts[one.span.file][one.name.span.end : one.span.end]
            yield f"{one.name.text}: {' '.join(written.split())}"
    for source in _handed_on(recipe, named):
        yield from _promised(source, named, texts)


def _handed_on(recipe: t.Recipe, named: Mapping[str, t.Recipe]) -> Iterator[t.Recipe]:
    """The blocks all of which a recipe gives."""
    made = {one.name.text: one.value for one in recipe.block if isinstance(one, t.Definition)}
    for one in recipe.block:
        value = made.get(one.source.text) if isinstance(one, t.GivesAll) else None
        source = named.get(value.verb.text) if isinstance(value, t.Operation) else None
        if source is not None:
            yield source


def _example_above(text: str) -> str:
    """What the comments right above a recipe say from `# example: …` on: one sentence or a few, each on its line."""
    rows: list[str] = []
    for line in reversed(text.rstrip("\n").split("\n")):
        if not line.startswith("#"):
            break
        rows.insert(0, line.removeprefix("#").removeprefix(" "))
    first = next((k for k, row in enumerate(rows) if row.startswith("example: ")), len(rows))
    return "\n".join(row.removeprefix("example: ") for row in rows[first:])


def verb_entry(verb: Verb) -> str:
    """The reference entry of a verb."""
    role = "sentence of a piece's block" if verb.statement else "verb"
    rows = [f"{verb.name} ({role}, {verb.family})", f"  {verb.doc}"]
    if verb.subject is not None:
        rows.append(f"  works on: {verb.subject.meaning} ({_wanted(verb.subject)})")
    rows += [_word_row(word) for word in verb.words]
    rows += [f"  exactly one of {', '.join(group)} is written" for group in verb.either]
    return "\n".join([*rows, _example(verb.example)]) + "\n"


def _example(sentence: str) -> str:
    return "  example: " + "\n    ".join(sentence.split("\n"))


def _wanted(word: Word) -> str:
    """The kind of value a word takes, and whether it stands with a place on it."""
    if word.place is None:
        return word.want
    where = "one of its ends" if not word.place.at else "a place"
    return f"{word.want} at {where}" if word.place.required else f"{word.want}, at a place where it is an edge"


def _word_row(word: Word) -> str:
    rest = f", {word.default} if left out" if word.default is not None else "" if word.required else ", may be left out"
    return f"  {word.name}: {word.meaning} ({_wanted(word)}{rest})"


def standard_entry(name: str) -> str:
    """The reference entry of a list of words or numbers from an open standard."""
    one = standards()[name]
    return "\n".join([f"{name} ({one.title} in {one.standard})", *(f"  {word}: {told}" for word, told in one.words.items())])


def recipe_entry(shelved: LibraryRecipe) -> str:
    """The reference entry of a recipe of the library."""
    recipe = shelved.recipe
    rows = [f"{shelved.name} ({recipe.kind.text})", f"  {recipe.text.value if recipe.text else ''}", f"  {shelved.use}"]
    for sentence in recipe.block:
        if isinstance(sentence, t.Takes):
            text = sentence.text.value if sentence.text else ""
            rows.append(f"  {sentence.name.text}: {text} ({sentence.kind.text}{_left_out(shelved, sentence)})")
    parts = _parts_given(shelved)
    rows += [f"  gives {kind} {name}{parts.get(name, '')}" for kind, name in shelved.gives]
    rows += [f"  promises {one}" for one in shelved.promises]
    return "\n".join([*rows, *([_example(shelved.example)] if shelved.example else [])]) + "\n"


def _parts_given(shelved: LibraryRecipe) -> dict[str, str]:
    """What each piece a recipe gives consists of, by its name; a piece that is made from another as in the example."""
    shown = example(shelved.example, use=shelved.use) if shelved.example else None
    if shown is None or shown.style is None:
        return {}
    style, made = shown.style, shown.made
    takes_piece = any(isinstance(one, t.Takes) and one.kind.text == "shape" for one in shelved.recipe.block)
    found = {}
    for kind, name in shelved.gives:
        node = style.names[f"{made}.{name}" if shelved.recipe.kind.text == "block" else made] if kind == "shape" else -1
        its = style.nodes[node].kind if node >= 0 else None
        if isinstance(its, PieceKind):
            found[name] = f"{', in the example' if takes_piece else ''}: {parts_of(its.sketch)}"
    return found


def parts_of(sketch: Piece) -> str:
    """The edges of a piece in the order of its outline, then its darts, inner lines and points."""
    shut = sketch.dart_sides()
    parts = {
        "": [side.edge for i, side in enumerate(sketch.ring) if i not in shut],
        "dart ": list(sketch.dart_names()),
        "line ": [side.edge for side in sketch.lines],
        "point ": list(sketch.points),
    }
    return ", ".join(f"{kind}{name}" for kind, names in parts.items() for name in dict.fromkeys(names))


def _left_out(shelved: LibraryRecipe, take: t.Takes) -> str:
    """What stands where a word of a recipe is left out, and its bounds, as they are written."""
    if take.default is None:
        return ""
    bounds, stop, text = take.bounds, take.default.span.end, shelved.texts[take.span.file]
    limits = "" if bounds is None else f"; {' '.join(text[bounds.span.start : bounds.span.end].split())}"
    while text.count("(", take.name.span.end, stop) > text.count(")", take.name.span.end, stop):
        stop = text.index(")", stop) + 1  # brackets are no part of what stands in them
    default = " ".join(text[take.name.span.end : stop].split()).removeprefix("= ")
    return f", {default} if left out{limits}"


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
    rows += [*page(), "## Kinds", ""] + [f"- `{word}`: {text}" for word, text in KINDS.items()]
    rows += ["", "## How it is written", ""]
    for way in WRITTEN:
        rows += _block(written_entry(way), "")
    rows += ["## Sentences", ""]
    for word in FORMS:
        rows += _block(form_entry(word), "")
    rows += ["## Words before `of`", ""] + [f"- `{word} of`: {one.doc}" for word, one in OF.items()]
    rows += [f"- `{word} of (a, b)`: {doc}" for word, (_, doc) in EXTREMES.items()]
    families: dict[str, list[Verb]] = {}
    for verb in verbs().values():
        families.setdefault(verb.family, []).append(verb)
    for family in sorted(families):
        rows += ["", f"## Verbs: {family}", ""]
        for verb in sorted(families[family], key=lambda verb: verb.name):
            rows += _block(verb_entry(verb), verb.name if has_figure(verb.example, verb.statement) else "")
    rows += ["", "## Words and numbers of open standards", "", "From memory; read the standard before an order rests on it.", ""]
    for name in standards():
        rows += _block(standard_entry(name), "")
    rows += ["", "## Recipes of the standard library", ""]
    for one in recipes():
        rows += _block(recipe_entry(one), one.name if one.is_drawn else "")
    return "\n".join(rows).rstrip() + "\n"


def _block(entry: str, figure: str) -> list[str]:
    picture = [f"![what {figure} does](figures/{figure}.svg)", ""] if figure else []
    return ["```", *entry.rstrip().split("\n"), "```", "", *picture]


DRAWN = ("shape", "piece", "point", "line", "curve", "lines", "block", "seam")


def has_figure(example: str, in_block: bool = False) -> bool:
    """Whether an example is drawn: its last sentence gives a piece, a point, a line or a seam, or stands in a piece's block."""
    last = next((line for line in reversed(example.split("\n")) if line[:1].isalpha()), "")
    return in_block or last.partition(" ")[0] in DRAWN
