"""Text to checked style: read the modules, enter the names, elaborate every sentence, collect what is to be cut."""

from __future__ import annotations

from collections.abc import Collection, Container, Iterable, Mapping
from dataclasses import dataclass, replace

from ..diagnostics import chain_words, derive_words
from ..diagnostics import meaning_words as words
from ..diagnostics.diagnostic import Diagnostic, Span
from ..syntax import tree as t
from ..syntax.rendered import rendered
from ..syntax.source import Source
from ..verbs import kinds as k
from . import misnamed, sewn_shapes
from .allowances import allowed_on_fold
from .checker import BROKEN, Checker, Scope
from .each_piece import declare_each_piece, met_by_none
from .expressions import condition, value
from .fits import is_cut, kept
from .identity import identities
from .mentioned import left_over, written_names
from .named_parts import parts_that_are_sewn
from .opened import opens_nothing
from .reading import MergedFile, Reader, Sources, parsed
from .recipes import promise
from .sentences import define, is_there, settle
from .specification import cloths_declared, misplaced, stands_alone
from .style import BlockKind, CheckedStyle, NamedCheck, Typed
from .symbols import Symbols
from .told_apart import name_of


@dataclass(frozen=True)
class Analysis:
    """All that is known of a style without any body, with errors or without.

    `tree` is its text as it was read, `texts` those of all files it is made of; `pieces` are the names of what is to be cut, in
    order; `kinds` maps each name of the style, and each that a block of it gives, to the kind of its value, broken where that is
    not known; `style` is what can be evaluated, None where there is an error.
    """

    title: str
    tree: t.StyleFile
    texts: Mapping[str, str]
    pieces: tuple[str, ...]
    kinds: Mapping[str, k.Kind]
    measures: Mapping[str, tuple[Span, ...]]
    symbols: Symbols
    diagnostics: tuple[Diagnostic, ...]
    style: CheckedStyle | None


def analyse(source: Source, sources: Sources, settings: Mapping[str, tuple[k.Kind, float]]) -> Analysis:
    """Read and check a style. `sources` are the modules it may use, `settings` kinds and values of choices (mm, radians or bare
    numbers). Nothing is raised and nothing is kept beyond the value: analyses may run side by side."""
    tree, found = parsed(source)
    checker = Checker(settings, value, define)
    checker.diagnostics.extend(found)
    reader = Reader(checker, sources)
    scope = reader.scope(tree)
    whole = reader.wholes[tree.file]
    style = _checked(checker, whole, scope)
    _settings(checker, scope, settings)
    has_errors = any(one.is_error for one in checker.diagnostics)
    names = _names(whole, scope)
    return Analysis(
        style.title,
        tree,
        reader.texts,
        tuple(name for name in names if _is_piece(scope, name)),
        _kinds(scope, names),
        style.measures,
        Symbols(tuple(checker.notes), style.nodes, style.origins, checker.part_names, reader.texts),
        tuple(checker.diagnostics),
        None if has_errors else replace(style, identities=identities(style.nodes)),
    )


def _names(whole: MergedFile, scope: Scope) -> list[str]:
    """What the style defines, in order, with the names of sentences that cannot be read."""
    written = [one.names if isinstance(one, t.Broken) else (name_of(one),) for one in whole.tree.sentences]
    known = {*scope.sentences, *scope.broken}
    names = [name.text for words in written for name in words if name is not None]
    return [name for name in dict.fromkeys([*names, *scope.sentences]) if name in known]


def _is_piece(scope: Scope, name: str) -> bool:
    if name in scope.sentences:
        return is_cut(scope.sentences[name])
    lost = scope.broken[name]
    return lost.kind == "piece" and len({one.text for one in lost.names}) == 1  # of several words any may be its name


def _kinds(scope: Scope, names: Iterable[str]) -> dict[str, k.Kind]:
    found: dict[str, k.Kind] = {}
    for name in names:
        found[name] = kind = scope.known.get(name, BROKEN).kind
        if isinstance(kind, BlockKind):
            found |= {f"{name}.{member}": given for member, (given, _) in kind.members.items()}
    return found


def _checked(checker: Checker, whole: MergedFile, scope: Scope) -> CheckedStyle:
    """Every sentence elaborated, and what came of it; whole only where no error was found."""
    tree = whole.tree
    checker.style = scope
    parts_that_are_sewn(checker, scope)
    promise(checker, scope, tree.sentences)
    declare_each_piece(checker, scope, tree.sentences)
    for name in list(scope.sentences):
        checker.made_alone(scope, name)
    settle(checker)
    met_by_none(checker, scope)
    fits = kept(checker)
    checker.checks = [(scope, one) for one in tree.sentences if isinstance(one, t.Check)] + checker.checks
    misplaced(checker, scope, tree.sentences)
    cloths_declared(checker, scope)
    checks = _checks(checker, {tree.file, *checker.bases})
    settle(checker)
    _still_used(checker, scope)
    if checker.absent and not any(one.is_error for one in checker.diagnostics):
        _lost(checker, scope)
    style = _collected(checker, whole, scope, checks, fits)
    allowed_on_fold(checker, scope, style)
    if not any(one.is_error for one in checker.diagnostics):  # a broken sentence may have been the one that uses it
        over = _left_over(checker, scope, whole, style)
        alone = [name for name in style.attached if stands_alone(scope.sentences[name])]
        _unused(checker, scope, {*style.pieces, *style.seams, *alone, *over})
        _left_lying(checker, scope, style)
        sewn_shapes.told(checker, scope, style)
        opens_nothing(checker, scope, style)
    misnamed.settled(checker)
    return style


def _checks(checker: Checker, own: Collection[str]) -> tuple[NamedCheck, ...]:
    """The checks, those of a style and of what it is built from, files `own`, and those of the modules it uses."""
    made: list[NamedCheck] = []
    names: dict[str, Span] = {}
    for scope, check in checker.checks:
        name = f"{scope.prefix}{check.name.text}"
        if name in names:
            checker.report(scope, words.defined_twice(check.name.span, name, names[name]))
        names[name] = check.name.span
        checker.note(check.name.span, "definition", name, k.FLAG, check.name.span)
        checker.sentence.append((check.span, name))
        node = condition(checker, scope, check.condition)
        if check.when is not None and not is_there(checker, scope, check.when):
            node = BROKEN
        checker.sentence.pop()
        written = " when ".join(rendered(one) for one in (check.condition, check.when) if one is not None)
        if node.kind is not k.BROKEN:
            text = check.text.value if check.text else ""
            made.append(NamedCheck(name, node.node, written, text, check.tells, check.span.file in own))
    return tuple(made)


def _collected(
    checker: Checker,
    whole: MergedFile,
    scope: Scope,
    checks: tuple[NamedCheck, ...],
    fits: Mapping[str, int],
) -> CheckedStyle:
    tree = whole.tree
    title = next((one.text.value for one in tree.sentences if isinstance(one, t.Title)), tree.file)
    known: dict[str, Typed] = {name: scope.known.get(name, BROKEN) for name in scope.sentences}
    cut = [name for name, sentence in scope.sentences.items() if is_cut(sentence)]
    pieces = {name: known[name].node for name in cut if isinstance(known[name].kind, k.PieceKind)}
    seams = _seams(known)
    attached = {name: one.node for name, one in known.items() if isinstance(one.kind, k.AttachedKind)}
    notes = {name: _text_of(scope.sentences[name.partition(".")[0]]) for name in (*seams, *attached)}
    notes |= {name: _text_of(checker.promises[name][1]) for name in fits}
    measures = {name: tuple(spans) for name, spans in sorted(checker.measures.items())}
    return CheckedStyle(
        title=title,
        file=tree.file,
        nodes=tuple(checker.nodes),
        origins=tuple(checker.origins),
        pieces=pieces,
        seams=seams,
        checks=tuple(one for one in checks if not one.tells),
        choices=tuple(checker.choices),
        names=checker.names,
        measures=measures,
        texts=checker.texts,
        attached=attached,
        notes={name: note for name, note in notes.items() if note},
        built_from=tuple(whole.titles),
        changed=whole.changed,
        definitions=checker.definitions,
        fits=fits,
        tidings=tuple(one for one in checks if one.tells),
        links=checker.links,
        chosen=checker.chosen,
    )


def _seams(known: Mapping[str, Typed]) -> dict[str, int]:
    """The seams by name: one that is sewn on both sides as `NAME.left` and `NAME.right`."""
    found: dict[str, int] = {}
    for name, one in known.items():
        if isinstance(one.kind, k.SeamKind):
            found[name] = one.node
        elif isinstance(one.kind, BlockKind):
            sides = one.kind.members.items()
            found |= {f"{name}.{side}": node for side, (kind, node) in sides if isinstance(kind, k.SeamKind)}
    return found


def _text_of(sentence: t.Definition | t.Solve) -> str:
    return sentence.text.value if isinstance(sentence, t.Definition) and sentence.text else ""


def _still_used(checker: Checker, scope: Scope) -> None:
    """What was taken away and is still asked for, with every sentence that does: those that broke on it are searched whole."""
    cut_short = {user for uses in checker.missed.values() for user in uses.values()}
    for sentence in (one for name, one in scope.sentences.items() if name in cut_short):
        for name in written_names(sentence):
            if name.parts[0].text in scope.removed:
                checker.missed.setdefault(name.parts[0].text, {}).setdefault(name.parts[0].span, sentence.name.text)
    for gone, uses in sorted(checker.missed.items(), key=lambda one: scope.removed[one[0]].start):
        places = sorted(
            ((place, user) for place, user in uses.items() if not _is_half_read(scope, user)), key=lambda one: one[0].start
        )
        if places:
            checker.report(scope, derive_words.still_used(scope.removed[gone], gone, places))


def _is_half_read(scope: Scope, name: str) -> bool:
    """Whether something in the braces of a definition cannot be read: it may be what changes the rest."""
    return any(isinstance(one, t.Broken) for one in getattr(scope.sentences.get(name), "block", None) or ())


def _lost(checker: Checker, scope: Scope) -> None:
    """A piece to be cut is not lost in silence with one it rests on; seams and checks on an absent piece are."""
    for name, sentence in scope.sentences.items():
        if name in checker.absent or scope.known[name].kind is not k.BROKEN or not is_cut(sentence):
            continue
        seen, todo = {name}, [name]
        while todo and not checker.absent.keys() & seen:
            more = {one.parts[0].text for inner in todo for one in written_names(scope.sentences[inner])}
            todo = [one for one in more - seen if one in scope.sentences and scope.known[one].kind is k.BROKEN]
            seen.update(todo)
        missing = min(checker.absent.keys() & seen or checker.absent)
        checker.report(scope, words.rests_on_absent(sentence.name.span, name, missing, checker.absent[missing]))


def _left_over(checker: Checker, scope: Scope, whole: MergedFile, style: CheckedStyle) -> list[str]:
    """Definitions of the base that led to a result there and lead to none any more: all told at once."""
    title = next((one for one in whole.own.sentences if isinstance(one, t.Title)), None)
    if title is None or title.base is None:
        return []
    seams = {name.partition(".")[0] for name in style.seams}
    drafts = {
        name: sentence
        for name, sentence in scope.sentences.items()
        if sentence.span.file != whole.own.file and name not in style.pieces and name not in seams
    }
    names = left_over(drafts, checker.users, whole.mentioned)
    if names:
        checker.report(scope, derive_words.left_over(title.base.span, names, title.base.text))
    return names


def _unused(checker: Checker, scope: Scope, results: Container[str]) -> None:
    """A definition nothing uses is worth a word where it is not a result."""
    for name, sentence in scope.sentences.items():
        if name in scope.used or name in results or scope.known.get(name, BROKEN).kind is k.BROKEN:
            continue
        if isinstance(sentence, t.Solve) or sentence.kind.text in ("shape", "piece", "seam"):
            continue
        checker.report(scope, words.unused(sentence.name.span, name))


def _left_lying(checker: Checker, scope: Scope, style: CheckedStyle) -> None:
    """A part of a divided piece that goes into nothing, where the other does: its cloth would be lost in silence."""
    used = {arg for node in checker.nodes for arg in node.args.values()} | set(style.pieces.values())
    for home, span, members in checker.several:
        roles = {node: role for role, (_, node) in reversed(list(members.items()))}
        idle = [role for node, role in roles.items() if node not in used]
        if home is scope and span.file == scope.file and 0 < len(idle) < len(roles):
            others = [role for node, role in roles.items() if node in used]
            checker.report(scope, chain_words.left_lying(span, idle[0], others[0]))


def _settings(checker: Checker, scope: Scope, settings: Iterable[str]) -> None:
    known = [choice.name for choice in checker.choices]
    for name in settings:
        if name not in known and not (scope.lossy or scope.is_broken(name)):
            checker.diagnostics.append(words.no_choice(name, known))
