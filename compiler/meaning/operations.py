"""Operations: a verb of the registry or a recipe of the language, applied to what follows it."""

from __future__ import annotations

from collections.abc import Sequence

from ..diagnostics import meaning_words as words
from ..diagnostics import place_words, value_words
from ..diagnostics.diagnostic import Span
from ..diagnostics.suggest import nearest
from ..pattern.piece import Trouble
from ..syntax import tree as t
from ..syntax.words import HEADED
from ..verbs import kinds as k
from ..verbs.registry import Verb, Word, verbs
from ..verbs.values import numbered
from . import misnamed
from . import payloads as p
from .checker import BROKEN, Checker, Scope
from .named_parts import part_of
from .names import START, why_gone
from .places import Arguments, end_at, owner_in, part_on, place_on, sketch_of
from .recipes import call, is_next
from .remarks import worded
from .specification import listed
from .style import BlockKind, Node, Typed
from .sums import one_wanted

WANTED = {
    "number": k.NUMBER,
    "length": k.LENGTH,
    "area": k.AREA,
    "angle": k.ANGLE,
    "flag": k.FLAG,
    "text": k.TEXT,
    "point": k.POINT,
    "direction": k.DIRECTION,
    "path": k.PATH,
    "cuts": k.CUTS,
    "piece": k.PIECE,
    "dart": k.Kind("dart"),
    "edge": k.Kind("edge"),
    "seam": k.Kind("seam"),
    "sewing": k.AttachedKind("way of sewing"),
    "trim": k.AttachedKind("trim"),
    "weight": k.WEIGHT,
}
SEWN = {
    "sewable": ("edge", "run of edges"),
    "seam or edge": ("seam", "edge", "run of edges"),
    "pieces": ("piece", "pieces"),
}


def operation(checker: Checker, scope: Scope, expr: t.Operation, piece: Typed | None = None) -> Typed:
    """The node of an operation. `piece` is what it works on, where that is in hand and not written."""
    recipe = scope.recipe(expr.verb.text)
    if recipe is not None:
        checker.note(expr.verb.span, "recipe", expr.verb.text, place=recipe[0].name.span)
        return call(checker, scope, recipe, expr, piece)
    verb = verb_known(checker, scope, expr)
    if verb is None:
        return BROKEN
    checker.note(expr.verb.span, "verb", verb.name)
    return apply(checker, scope, verb, expr.subject, expr.clauses, expr.span, subject_in_hand=piece)


def verb_known(checker: Checker, scope: Scope, expr: t.Operation) -> Verb | None:
    """The verb of an operation; None where it is a recipe, or is told to be neither."""
    verb = verbs().get(expr.verb.text)
    if scope.recipe(expr.verb.text) is not None:
        return None
    if verb is None or verb.statement or verb.name in HEADED:
        if scope.is_broken(expr.verb.text):
            return None
        if scope.holder(expr.verb.text) is not None or expr.verb.text == START:
            _without_verb(checker, scope, expr)
            return None
        known = [name for name, one in verbs().items() if not one.statement and name not in HEADED]
        known += ["measured", *scope.all_recipes()]
        checker.report(scope, words.unknown_verb(expr.verb.span, expr.verb.text, known))
        return None
    return verb


def _without_verb(checker: Checker, scope: Scope, expr: t.Operation) -> None:
    """Told, that a name stands where the verb should: with those that take the words that follow it."""
    found = checker.value(scope, t.Name((expr.verb,), expr.verb.span))
    if found.kind is k.BROKEN:
        return
    said = {clause.word.text for clause in expr.clauses}
    wants = ("piece", "named piece") if isinstance(found.kind, k.PieceKind) else (found.kind.word,)
    fitting = [one for one in verbs().values() if said and one.subject is not None and one.subject.want in wants]
    making = [one for one in fitting if not one.statement and one.gives not in k.QUANTITIES]
    able = [one.name for one in making if all(one.word(word) is not None for word in said)]
    if found.kind is k.POINT and expr.subject is not None:
        able = ["up", "down", "outward", "inward"]
    checker.report(scope, words.verb_left_out(expr.verb.span, expr.verb.text, found.kind.word, able[:6]))


def apply(
    checker: Checker,
    scope: Scope,
    verb: Verb,
    subject: t.Expr | None,
    clauses: Sequence[t.Clause],
    span: Span,
    piece: Typed | None = None,
    name: str = "",
    subject_in_hand: Typed | None = None,
) -> Typed:
    """A verb applied. `piece` is the piece whose block holds the sentence, for a statement; `name` what it defines;
    `subject_in_hand` stands for a subject that is not written."""
    given = Arguments()
    if name:
        given.fixed["name"] = given.static["name"] = name
    if piece is not None:
        given.add("piece", piece)
    if subject is not None and verb.subject is None:
        opened = checker.written(subject.span) if verb.word("from") is not None else ""
        return checker.report(scope, words.needless_subject(subject.span, verb.name, opened))
    if subject_in_hand is not None:
        given.add("subject", subject_in_hand)
        if verb.subject is not None and verb.subject.want == "named piece":
            given.fixed["subject called"] = given.static["subject called"] = scope.in_hand or ""
    elif subject is None and verb.subject is not None and verb.subject.required:
        return checker.report(scope, words.missing_subject(span, verb.name, verb.subject.meaning))
    if subject is not None and verb.subject is not None:
        _argument(checker, scope, given, "subject", verb.subject, subject, verb)
    if given.broken:
        for clause in clauses:  # its values may hold errors of their own
            if not isinstance(clause.value, t.Name | t.Listed | t.Spot | t.Between):  # these may be names of the piece
                checker.value(scope, clause.value)
        return BROKEN
    _words(checker, scope, given, verb, clauses, span)
    return _made(checker, scope, verb, given, span)


def _words(checker: Checker, scope: Scope, given: Arguments, verb: Verb, clauses: Sequence[t.Clause], span: Span) -> None:
    said: set[str] = set()
    strange = False
    if _out_of_step(checker, scope, verb, clauses):
        given.broken = True
        return
    astray = any(verb.word(clause.word.text) is None for clause in clauses)
    ends = {word.name for word in verb.words if word.want == "own end"}
    for clause in sorted(clauses, key=lambda one: one.word.text in ends):  # an end is one of an edge that must be known
        name = clause.word.text
        entry = verb.word(name)
        if entry is None:
            known = [word.name for word in verb.words]
            if not strange or nearest(name, known):  # words and values out of step make every word a strange one
                checker.report(scope, words.unknown_word(clause.word.span, verb.name, name, known))
            strange = given.broken = True
        elif name in said:
            checker.report(scope, words.word_twice(clause.word.span, verb.name, name))
            given.broken = True
        else:
            checker.note(clause.word.span, "word", f"{verb.name} {name}")
            if clause is clauses[-1] and _goes_on(verb, entry, clause.value):
                _told_to_bracket(checker, scope, given, clause, span)
            else:
                _argument(checker, scope, given, name, entry, clause.value, verb)
            strange = strange or (isinstance(clause.value, t.Name) and verb.word(clause.value.text) is not None and given.broken)
        said.add(name)
    for entry in verb.words:
        if entry.name in said:
            continue
        if entry.required and not astray:  # else that is what it stands for
            checker.report(scope, words.missing_word(span, verb.name, entry.name, entry.meaning))
            given.broken = True
        elif entry.default is not None:
            _default(checker, scope, given, entry, span)
    for group in verb.either:
        if sum(name in said for name in group) != 1 and not astray:
            checker.report(scope, words.exactly_one(span, verb.name, group))
            given.broken = True


def _out_of_step(checker: Checker, scope: Scope, verb: Verb, clauses: Sequence[t.Clause]) -> bool:
    """Whether a word is none because `then` is missing before it, or because it stands before its value."""
    known = [word.name for word in verb.words]
    for index, clause in enumerate(clauses):
        name = clause.word.text
        if name in known:
            continue
        turned = _last_name(clauses[index - 1].value) if index else ""
        meant = f"`then` before `{name}`" if is_next(scope, name, known) else ""
        meant = f"`{turned} {name}`" if turned in known and scope.holder(turned) is None else meant
        if meant:
            checker.report(scope, words.unknown_word(clause.word.span, verb.name, name, known, wanted=meant))
            return True
    return False


def _last_name(expr: t.Expr) -> str:
    last = expr.items[-1] if isinstance(expr, t.Listed) else expr
    return last.text if isinstance(last, t.Name) else ""


def _goes_on(verb: Verb, entry: Word, value: t.Expr) -> bool:
    """Whether what is measured is reckoned with, and its brackets are missing: `distance from p to q + 2 cm`."""
    drawn = WANTED.get(entry.want) in (k.POINT, k.PATH, k.Kind("piece"))
    return drawn and verb.gives in k.QUANTITIES and isinstance(value, t.Arithmetic)


def _told_to_bracket(checker: Checker, scope: Scope, given: Arguments, clause: t.Clause, span: Span) -> None:
    first = clause.value
    while isinstance(first, t.Arithmetic):
        first = first.left
    whole, rest = span, Span(span.file, first.span.end, clause.value.span.end)
    measured = checker.written(Span(whole.file, whole.start, first.span.end))
    checker.report(scope, value_words.measure_in_brackets(whole, f"({measured}) {checker.written(rest)}"))
    given.broken = True


def _default(checker: Checker, scope: Scope, given: Arguments, entry: Word, span: Span) -> None:
    """The default of a word: an option, or a quantity written in the language."""
    assert entry.default is not None
    if entry.want.startswith("one of"):
        given.fixed[entry.name] = given.static[entry.name] = entry.default
        return
    if entry.want == "count":
        given.fixed[entry.name] = given.static[entry.name] = int(entry.default)
        return
    number, _, unit = entry.default.partition(" ")
    expr: t.Expr = t.Quantity(float(number), number, unit, span) if unit else t.Number(float(number), number, span)
    given.add(entry.name, checker.value(scope, expr))


def _argument(
    checker: Checker, scope: Scope, given: Arguments, name: str, entry: Word, expr: t.Expr, verb: Verb | None = None
) -> None:
    """One value of a verb, and the place on it where the word takes one."""
    if entry.place is None:
        _value(checker, scope, given, name, entry, expr, verb)
        return
    if isinstance(expr, t.Between) and entry.place.last is not None:
        _value(checker, scope, given, name, entry, expr.value, verb)
        if not given.broken:
            part_on(checker, scope, given, name, entry.place, expr)
        return
    _value(checker, scope, given, name, entry, expr.edge if isinstance(expr, t.Spot) else expr, verb)
    if isinstance(expr, t.Spot):
        if not given.broken:
            place_on(checker, scope, given, name, entry.place, expr.place)
    elif entry.place.required:
        checker.report(scope, place_words.place_missing(expr.span, _written(expr), not entry.place.at))
        given.broken = True


def _value(
    checker: Checker, scope: Scope, given: Arguments, name: str, entry: Word, expr: t.Expr, verb: Verb | None = None
) -> None:
    """One value of a verb, by what the word wants."""
    want = entry.want
    own_word = verb is not None and isinstance(expr, t.Name) and len(expr.parts) == 1 and verb.word(expr.text)
    if own_word and want in WANTED and scope.holder(expr.text) is None:  # type: ignore[union-attr]
        assert isinstance(expr, t.Name)
        told = misnamed.later(checker, scope, value_words.verb_as_value(expr.span, expr.text), expr)
        checker.report_unknown(scope, told, expr.text)
        given.broken = True
    elif want in ("mark", "marks"):
        _marks(checker, scope, given, name, expr, 2 if want == "mark" else None)
    elif want.startswith("several "):
        _several(checker, scope, given, name, want.removeprefix("several "), expr)
    elif isinstance(expr, t.Listed):
        one_wanted(checker, scope, expr, verb.name if verb is not None and verb.statement and name == "subject" else "")
        given.broken = True
    elif want == "count":
        _count(checker, scope, given, name, expr)
    elif want.startswith("own "):
        _own(checker, scope, given, name, want.removeprefix("own "), expr)
    elif want.startswith("one of"):
        given.fixed[name] = given.static[name] = _option(checker, scope, given, entry, expr)
    elif want.startswith("listed "):
        given.fixed[name] = given.static[name] = listed(checker, scope, want.removeprefix("listed "), expr)
        given.broken = given.broken or given.fixed[name] == ""
    elif want in ("new name", "cloth", "level"):
        if want == "cloth" and isinstance(expr, t.Name):
            checker.cloths.append((scope, expr))
            checker.note_name(scope, expr.parts[0])
        if not isinstance(expr, t.Name) or len(expr.parts) != 1:
            checker.report(scope, value_words.wrong_kind(expr.span, "new name", "value"))
            given.broken = True
        else:
            given.fixed[name] = given.static[name] = expr.text
            if want == "new name":
                checker.note_new(expr.parts[0])
                given.named.append(expr.parts[0])
    elif want in ("quantity", "alike"):
        found = checker.value(scope, expr, given.static["subject"] if want == "alike" else None)
        if found.kind is not k.BROKEN and found.kind not in k.MEASURED:
            found = checker.report(scope, value_words.wrong_kind(expr.span, "length, angle or number", found.kind.word))
        given.add(name, found)
    elif want in SEWN:
        found = checker.value(scope, expr)
        if isinstance(expr, t.Between) and isinstance(found.kind, k.PathKind):
            found = checker.report(scope, place_words.part_of_no_piece(expr.span))
        if isinstance(found.kind, BlockKind) and isinstance(expr, t.Name):
            found = checker.report(scope, value_words.block_value(expr.span, expr.text, list(found.kind.members)))
        if found.kind is not k.BROKEN and found.kind.word not in SEWN[want]:
            found = checker.report(scope, value_words.wrong_kind(expr.span, SEWN[want][0], found.kind.word))
        given.add(name, found)
    elif want == "text" and isinstance(expr, t.Text):
        worded(checker, scope, given, name, expr)
    elif want == "named piece":
        given.add(name, checker.value(scope, expr, WANTED["piece"]))
        given.fixed[f"{name} called"] = given.static[f"{name} called"] = called(expr)
    elif want == "named edge":
        given.add(name, checker.value(scope, expr, WANTED["edge"]))
        given.fixed[f"{name} called"] = given.static[f"{name} called"] = owner_called(expr)
    elif want == "named edges":
        items = summands(expr)
        for number, item in enumerate(items):
            given.add(numbered(name, number), checker.value(scope, item, WANTED["edge"]))
        given.fixed[f"{name} called"] = given.static[f"{name} called"] = tuple(owner_called(item) for item in items)
    else:
        own = _own_edge(checker, scope, given, expr) if want == "path" else None
        given.add(name, own or checker.value(scope, expr, WANTED[want]))


def _marks(checker: Checker, scope: Scope, given: Arguments, name: str, expr: t.Expr, most: int | None) -> None:
    """An edge, a dart or a point with the piece it is on, or edges with `+`: the piece, and as `marks` what they are called."""
    found = checker.value(scope, expr)
    if found.kind is k.BROKEN:
        given.broken = True
        return
    parts = _summed(checker, checker.nodes[found.node])
    marked = [one.payload for one in parts if isinstance(one.payload, p.EdgeOf | p.DartOn | p.Landmark | p.Apex)]
    owners = {part.args["piece"] for part in parts if isinstance(part.payload, p.EdgeOf | p.DartOn | p.Landmark)}
    if len(owners) != 1 or (most is not None and len(parts) > most):
        fix = "name an edge, a dart or a point of a piece"
        checker.report(scope, value_words.wrong_kind(expr.span, "edge", found.kind.word, fix))
        given.broken = True
        return
    owner = owners.pop()
    given.add(name, Typed(checker.nodes[owner].kind, owner))
    given.fixed["marks"] = given.static["marks"] = tuple(one.name for one in marked)


def _summed(checker: Checker, node: Node) -> list[Node]:
    """What is put end to end in a node, or the node alone."""
    if not isinstance(node.payload, p.EndToEnd):
        return [node]
    return [one for part in node.args.values() for one in _summed(checker, checker.nodes[part])]


def _several(checker: Checker, scope: Scope, given: Arguments, name: str, want: str, expr: t.Expr) -> None:
    """One or more values of a kind, each an argument; bare names, of the piece or of cloths or new ones, as a tuple."""
    items = expr.items if isinstance(expr, t.Listed) else (expr,)
    if want in WANTED:
        for number, item in enumerate(items):
            given.add(numbered(name, number), checker.value(scope, item, WANTED[want]))
        return
    names = []
    for item in items:
        one = Arguments(given.nodes, static=given.static)  # a part cuts the piece that all of them are of
        _value(checker, scope, one, name, Word(name, want, ""), item)
        given.broken = given.broken or one.broken
        given.named += one.named
        names.append(one.fixed.get(name, ""))
    given.fixed[name] = given.static[name] = tuple(names)


def _own_edge(checker: Checker, scope: Scope, given: Arguments, expr: t.Expr) -> Typed | None:
    """The edge of the piece whose block this is, where a bare name is one: darts placed on it have opened what was drawn."""
    owner = given.nodes.get("piece")
    if owner is None or not isinstance(owner.kind, k.PieceKind) or not isinstance(expr, t.Name):
        return None
    sketch = owner.kind.sketch
    if not sketch.run(expr.text):
        gone = sketch.removed.get(expr.text) if scope.holder(expr.text) is None else None
        known = list(sketch.edge_names())
        return checker.report(scope, words.no_edge(expr.span, expr.text, known, gone)) if gone else None
    scope.used.add(expr.text)
    checker.note_part(expr.span, owner, expr.text)
    return checker.node(scope, p.EdgeOf(expr.text), k.edge(sketch, expr.text), expr.span, {"piece": owner})


def called(expr: t.Expr | None) -> str:
    """What a piece is called where it is written: its own name, or that of the piece an operation or a chain works on."""
    while isinstance(expr, t.Operation | t.Chain):
        expr = expr.subject if isinstance(expr, t.Operation) else expr.start
    return expr.parts[-1].text if isinstance(expr, t.Name) else ""


def owner_called(expr: t.Expr) -> str:
    """What the piece of an edge is called where that is written."""
    parts = expr.parts if isinstance(expr, t.Name) else ()
    return parts[-2].text if len(parts) > 1 else ""


def summands(expr: t.Expr) -> list[t.Expr]:
    """What stands between `+`, in order."""
    if isinstance(expr, t.Arithmetic) and expr.operator == "+":
        return [*summands(expr.left), *summands(expr.right)]
    return [expr]


def _count(checker: Checker, scope: Scope, given: Arguments, name: str, expr: t.Expr) -> None:
    found = checker.value(scope, expr, k.NUMBER)
    if found.kind is k.BROKEN:
        given.broken = True
        return
    if found.constant is None or abs(found.constant - round(found.constant)) > 1e-6 or found.constant < 0:
        checker.report(scope, value_words.not_constant(expr.span, name))
        given.broken = True
        return
    given.fixed[name] = given.static[name] = round(found.constant)


def _option(checker: Checker, scope: Scope, given: Arguments, entry: Word, expr: t.Expr) -> str:
    options = entry.want.split()[2:]
    written = expr.text if isinstance(expr, t.Name) else expr.word.text if isinstance(expr, t.Direction) else ""
    if written not in options:
        checker.report(scope, value_words.one_of(expr.span, entry.name, options))
        given.broken = True
    else:
        checker.note(expr.span, "word", f"{entry.name} {written}")
    return written


def _own(checker: Checker, scope: Scope, given: Arguments, name: str, what: str, expr: t.Expr) -> None:
    """A bare name of the subject's piece; a part of one of its edges is cut to be an edge of it first."""
    sketch = sketch_of(given)
    if isinstance(expr, t.Between) and what == "edge" and (owner := _owner(given)):
        piece, called_so = part_of(checker, scope, expr, given.nodes[owner])
        given.add(owner, piece)
        given.fixed[name] = given.static[name] = called_so
        return
    if not isinstance(expr, t.Name):
        checker.report(
            scope,
            value_words.wrong_kind(expr.span, f"name of an {what}" if what[0] in "ae" else f"name of a {what}", "value"),
        )
        given.broken = True
        return
    if what == "end":
        _end(checker, scope, given, name, expr)
        return
    assert sketch is not None
    edges, darts, points = sketch.edge_names(), sketch.dart_names(), tuple(sketch.points)
    known = {"edge": edges, "dart": darts, "point": points, "mark": (*edges, *darts, *points)}[what]
    if expr.text not in known:
        reason = why_gone(sketch, expr.text)
        if reason is None and what in ("point", "mark") and _is_point(scope, expr.text):
            checker.report(scope, words.no_landmark(expr.span, expr.text))
        else:
            checker.report(scope, words.no_edge(expr.span, expr.text, list(known), reason))
        given.broken = True
        return
    given.fixed[name] = given.static[name] = expr.text
    checker.note_part(expr.span, owner_in(given), expr.text)


def _is_point(scope: Scope, name: str) -> bool:
    """Whether a name is that of a point that is drawn, which no piece has yet."""
    holder = scope.holder(name)
    return holder is not None and holder.known.get(name, BROKEN).kind == k.POINT


def _owner(given: Arguments) -> str | None:
    """As what a verb is given the piece whose edges may be named bare; None where it is given an edge or a dart of it."""
    return next((name for name in ("subject", "piece") if isinstance(given.static.get(name), k.PieceKind)), None)


def _end(checker: Checker, scope: Scope, given: Arguments, name: str, expr: t.Name) -> None:
    """From which end of the subject, or of the edge named by `on`."""
    kind = given.static.get("subject")
    if kind is None or isinstance(kind, k.PieceKind):
        kind = given.static.get("on")
    sketch = sketch_of(given)
    if isinstance(kind, str) and sketch is not None:
        kind = k.edge(sketch, kind)
    if not isinstance(kind, k.PathKind | k.EdgeKind):
        if not given.broken:  # otherwise the edge was named and is no edge, which is told
            fix = "name the edge too, or leave this away"
            checker.report(scope, words.names_forbid(expr.span, "there is no edge to measure along", fix))
        given.broken = True
        return
    end_at(checker, scope, given, name, expr, kind)


def _made(checker: Checker, scope: Scope, verb: Verb, given: Arguments, span: Span) -> Typed:
    """The node of a verb, its kind told by the names map."""
    if given.broken:
        return BROKEN
    try:
        kind = verb.kind(given.static)
    except Trouble as trouble:
        return checker.report(scope, words.names_forbid(span, trouble.message, trouble.fix))
    if isinstance(kind, k.SeveralKind):
        return _several_made(checker, scope, verb, given, kind, span)
    made = checker.node(scope, p.Call(verb.name, dict(given.fixed)), kind, span, given.nodes)
    checker.name_parts(made, given.named)
    return made


def _several_made(checker: Checker, scope: Scope, verb: Verb, given: Arguments, kind: k.SeveralKind, span: Span) -> Typed:
    """The nodes of a verb that gives several pieces, one for each, as a block whose members are their roles."""
    members: dict[str, tuple[k.Kind, int]] = {}
    owner = checker.sentence[-1][1] if checker.sentence else ""
    for one in kind.given:
        settled = {**given.fixed, **one.settled}
        made = checker.node(scope, p.Call(verb.name, settled), one.kind, span, given.nodes)
        checker.name_parts(made, given.named)
        members |= dict.fromkeys(one.roles, (made.kind, made.node))
    checker.several.append((scope, span, members))
    for role, (_, node) in members.items():
        checker.names.setdefault(f"{owner}.{role}", node)
    return Typed(BlockKind("block", members, kind.shared), -1)


def _written(item: t.Expr) -> str:
    return item.text if isinstance(item, t.Name) else "this"
