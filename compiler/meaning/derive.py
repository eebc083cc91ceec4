"""A style built from another: its sentences laid over those of the base, before any name is looked up.

What `change` does not say stays: the braces of a piece, the bounds and the text of a choice. Braces of `change`, `add` and
`without` change the braces of the base in turn; braces of plain sentences stand in their place.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field, replace

from ..diagnostics import derive_words as words
from ..diagnostics import meaning_words, sentence_words
from ..diagnostics.diagnostic import Diagnostic, Span
from ..syntax import tree as t
from ..syntax.rendered import rendered
from ..verbs.registry import verbs
from .named_parts import names_a_part
from .told_apart import EDGES, head_of, kind_of, kinds_apart, name_of

Tell = Callable[[Diagnostic], object]
See = Callable[[t.Word, t.Word], object]
PLAIN = (t.Language, t.Title, t.Use)
OF_RECIPES = (t.Takes, t.TakesAll, t.Needs, t.Gives, t.GivesAll)


@dataclass
class Derived:
    """The sentences of the derived style, what it changed (name -> earlier sentences) and took away (name -> where)."""

    sentences: tuple[t.Sentence, ...]
    changed: dict[str, Span] = field(default_factory=dict)
    removed: dict[str, Span] = field(default_factory=dict)


def derive(
    base: Sequence[t.Sentence],
    own: Sequence[t.Sentence],
    name: str,
    tell: Tell,
    see: See,
) -> Derived:
    """`own` laid over the sentences of the base called `name`. A sentence that cannot be read, of either, stands for all it may
    have changed: what it names stays silent. `see` is told each name of a sentence of the base that is edited, and that of the
    sentence."""
    rows = [one for one in base if not isinstance(one, (t.Language, t.Title))]
    problems: list[Diagnostic] = []
    overlay = _Overlay(rows, name, problems.append, see)
    edits = [one for one in own if not isinstance(one, PLAIN)]
    made = overlay.run([overlay.headed(one) for one in edits])
    for problem in sorted(problems, key=lambda one: one.span.start if one.span else 0):
        tell(problem)
    plain = [one for one in own if isinstance(one, PLAIN)]
    return Derived((*plain, *made), overlay.changed, overlay.removed)


class _Overlay:
    """The sentences of one level, a file or the braces of a piece, on their way from the base to the style."""

    def __init__(self, rows: Sequence[t.Sentence], base: str, tell: Tell, see: See) -> None:
        self.rows: list[t.Sentence | None] = list(rows)
        self.base = base
        self.tell = tell
        self.see = see
        self.touched: dict[int, Span] = {}
        self.changed: dict[str, Span] = {}
        self.removed: dict[str, Span] = {}

    def headed(self, sentence: t.Sentence) -> t.Sentence:
        """The sentence as an edit; a plain one is told, and read as what it must have been meant for."""
        if isinstance(sentence, t.Edit | t.Broken):
            return sentence
        if isinstance(sentence, (*OF_RECIPES, t.Statement)) or not isinstance(sentence, t.Made):
            fix = "a style has definitions, seams and checks; this belongs into a recipe or the braces of a piece"
            self.tell(meaning_words.misplaced(sentence.span, head_of(sentence), fix))
            return t.Without((), None, sentence.span)
        name = name_of(sentence)
        known = name is not None and self._find(name) is not None
        told = sentence.name.text if isinstance(sentence, t.Each) else name.text if name else ""
        self.tell(words.head_missing(sentence.span, kind_of(sentence), told, known))
        edit = t.Change if known else t.Add
        return edit(sentence, sentence.span)

    def run(self, edits: Sequence[t.Sentence]) -> tuple[t.Sentence, ...]:
        """All edits done; those that take away come first and those that add last, whatever the order written."""
        for edit in edits:
            if isinstance(edit, t.Broken):
                self._lose(edit)
            elif isinstance(edit, t.Without):
                self._without(edit)
        for edit in edits:
            if isinstance(edit, t.Change):
                self._change(edit)
            elif isinstance(edit, t.ChangeValues):
                self._alike(edit)
        for edit in edits:
            if isinstance(edit, t.Add):
                self._add(edit)
        return tuple(row for row in self.rows if row is not None)

    # ---- finding -------------------------------------------------------------------------------

    def _find(self, name: t.Word) -> int | None:
        for number, row in enumerate(self.rows):
            if row is not None and (its := name_of(row)) and its.text == name.text:
                self.see(name, its)
                return number
        return None

    def _statements(self, verb: str, about: str | None) -> list[int]:
        """Statements of a verb, and where it is given, about one thing: an edge, or the very place on it."""
        return [
            i
            for i, row in enumerate(self.rows)
            if isinstance(row, t.Statement)
            and row.verb.text == verb
            and (about is None or about in (self._about(row), "" if row.subject is None else rendered(row.subject)))
        ]

    def _about(self, statement: t.Statement) -> str:
        """What a statement is about: the edges it is `on`, where its verb has that word; else what it works on."""
        if not _stands_on(statement.verb.text):
            return "" if statement.subject is None else self._subject(statement.subject)
        on = next((clause.value for clause in statement.clauses if clause.word.text == "on"), None)
        return "" if on is None else rendered(on)

    def _subject(self, subject: t.Expr) -> str:
        """What a statement works on, as written: of a place on an edge the edge."""
        return rendered(subject.edge if isinstance(subject, t.Spot) else subject)

    def _missing(self, name: t.Word, wish: str) -> None:
        if not any(isinstance(row, t.Broken) and not row.names for row in self.rows):
            verbs_here = [row.verb.text for row in self.rows if isinstance(row, t.Statement)]
            known = [its.text for row in self.rows if row is not None and (its := name_of(row))]
            self.tell(words.not_in_base(name.span, name.text, self.base, [*known, *verbs_here], wish))

    def _free(self, at: int, span: Span, name: str) -> bool:
        """Whether no other sentence has changed this one; from now on one has."""
        if at in self.touched:
            self.tell(words.told_twice(span, name, self.touched[at]))
            return False
        self.touched[at] = span
        return True

    # ---- the edits -----------------------------------------------------------------------------

    def _lose(self, edit: t.Broken) -> None:
        """A sentence that cannot be read stands in place of those it names."""
        self.rows = [None if row is not None and _is_named(row, edit) else row for row in self.rows]
        self.rows.append(edit)

    def _without(self, edit: t.Without) -> None:
        for name in edit.names:
            at = self._find(name) if edit.subject is None else None
            about = None if edit.subject is None else rendered(edit.subject)
            found = [at] if at is not None else self._statements(name.text, about)
            if not found:
                self._missing(name, "take away")
            elif at is not None:
                self.removed[name.text] = name.span
            for one in found:
                self.rows[one] = None

    def _add(self, edit: t.Add) -> None:
        name = name_of(edit.sentence)
        at = self._find(name) if name is not None else None
        if name is None or at is None:
            self.rows.append(edit.sentence)
            self.removed.pop(name.text if name else "", None)
            return
        first = self.rows[at]
        assert first is not None
        if isinstance(first, t.Broken):
            self.rows.append(edit.sentence)
            return
        self.tell(words.added_again(name.span, kind_of(edit.sentence), name.text, self.base, first.span))

    def _change(self, edit: t.Change) -> None:
        new = edit.sentence
        if isinstance(new, t.Statement):
            self._change_statement(new)
            return
        if isinstance(new, t.EachPiece):
            self.rows = [new if isinstance(row, t.EachPiece) else row for row in self.rows]
            return
        name = name_of(new)
        if name is None:
            self.tell(meaning_words.misplaced(edit.span, "change", "take it away, or change what it stands for by name"))
            return
        at = self._find(name)
        if at is None:
            self._missing(name, "change")
            self.rows.append(t.Broken("change", kind_of(new), (name,), None, new.span))
            return
        old = self.rows[at]
        assert old is not None
        if isinstance(old, t.Broken):
            self.rows[at] = new
            return
        now, before = kinds_apart(old, new)
        if now != before:
            self.tell(words.another_kind(new.span, name.text, now, before, old.span))
        elif self._free(at, new.span, name.text):
            self.changed[name.text] = old.span
            both = isinstance(old, t.Definition) and isinstance(new, t.Definition)
            self.rows[at] = self._replaced(old, new) if both else new  # type: ignore[arg-type]

    def _change_statement(self, new: t.Statement) -> None:
        found = self._statements(new.verb.text, None)
        if _stands_on(new.verb.text) or (len(found) > 1 and new.subject is not None):
            same = self._statements(new.verb.text, rendered(new.subject)) if isinstance(new.subject, t.Spot) else []
            found = same or self._statements(new.verb.text, self._about(new))
        if not found and any(isinstance(row, t.Broken) for row in self.rows):
            return
        if not found:
            self.tell(words.no_statement(new.verb.span, new.verb.text))
        elif len(found) > 1:
            self.tell(words.which_statement(new.verb.span, new.verb.text, len(found)))
        elif self._free(found[0], new.span, new.verb.text):
            self.rows[found[0]] = new

    def _alike(self, edit: t.ChangeValues) -> None:
        for name in edit.names:
            at = self._find(name) if edit.subject is None else None
            about = None if edit.subject is None else rendered(edit.subject)
            found = [at] if at is not None else self._statements(name.text, about)
            if len(found) > 1:
                self.tell(words.which_statement(name.span, name.text, len(found)))
            elif not found:
                self._missing(name, "change")
            elif isinstance(self.rows[found[0]], t.Broken):
                continue
            elif self._free(found[0], name.span, name.text):
                if edit.block is None:
                    self._with_words(found[0], name, edit)
                else:
                    self._inside(found[0], name, edit)

    def _inside(self, at: int, name: t.Word, edit: t.ChangeValues) -> None:
        """Braces of the sentence at `at` changed as those of the edit say."""
        old = self.rows[at]
        assert old is not None
        if not isinstance(old, t.Definition):
            self.tell(words.no_braces(name.span, name.text, old.span))
            return
        kind = edit.kind or t.Word(old.kind.text, name.span)
        if kind.text != old.kind.text:
            self.tell(words.another_kind(kind.span, name.text, kind.text, old.kind.text, old.span))
            return
        self.changed[name.text] = old.span
        self.rows[at] = self._replaced(old, t.Definition(kind, name, None, (), None, None, edit.block, edit.span))

    def _with_words(self, at: int, name: t.Word, edit: t.ChangeValues) -> None:
        """Clauses of the sentence at `at` given other values; words it lacks are added."""
        old = self.rows[at]
        assert old is not None
        if edit.kind is not None and edit.kind.text != kind_of(old):
            self.tell(words.another_kind(edit.kind.span, name.text, edit.kind.text, kind_of(old), old.span))
            return
        if edit.text is not None and not isinstance(old, t.Definition):
            self.tell(sentence_words.text_not_last(edit.text.span))
            return
        self.changed[name.text] = old.span
        if isinstance(old, t.Statement) or (isinstance(old, t.Definition) and old.clauses):
            self.rows[at] = _texted(replace(old, clauses=_over(old.clauses, edit.clauses), span=edit.span), edit)
        elif isinstance(old, t.Definition) and isinstance(old.value, t.Operation):
            value = replace(old.value, clauses=_over(old.value.clauses, edit.clauses))
            self.rows[at] = _texted(replace(old, value=value, span=edit.span), edit)
        elif isinstance(old, t.Definition) and isinstance(old.value, t.Chain):
            self._with_link(at, old, old.value, name, edit)
        else:
            self.tell(words.no_words(name.span, name.text, kind_of(old), old.span))

    def _with_link(self, at: int, old: t.Definition, chain: t.Chain, name: t.Word, edit: t.ChangeValues) -> None:
        """The words of the one link of a chain that has them all."""
        wanted = {clause.word.text for clause in edit.clauses}
        steps = [one for one in (chain.start, *chain.links) if isinstance(one, t.Operation)]
        able = [one for one in steps if wanted <= {clause.word.text for clause in one.clauses}]
        able = able or [one for one in steps if _knows(one.verb.text, wanted)]
        if len(able) != 1:
            self.tell(words.which_link(name.span, name.text, sorted(wanted), len(able), old.span))
            return

        def changed(one: t.Operation) -> t.Operation:
            return replace(one, clauses=_over(one.clauses, edit.clauses)) if one is able[0] else one

        start = changed(chain.start) if isinstance(chain.start, t.Operation) else chain.start
        value = replace(chain, start=start, links=tuple(changed(one) for one in chain.links))
        self.rows[at] = _texted(replace(old, value=value, span=edit.span), edit)

    # ---- braces --------------------------------------------------------------------------------

    def _replaced(self, old: t.Definition, new: t.Definition) -> t.Definition:
        """The new definition with what it does not say taken from the old one."""
        says = new.value is not None or bool(new.clauses)
        lost = [one for one in new.block or () if isinstance(one, t.Broken)]
        edits = [one for one in new.block or () if isinstance(one, t.Edit)]
        if new.block is not None and edits:
            for one in new.block:
                if not isinstance(one, t.Edit | t.Broken):
                    self.tell(words.mixed_block(one.span))
                    break
            inner = _Overlay(_kept(old, new, says), old.name.text, self.tell, self.see)
            block: tuple[t.Sentence, ...] | None = inner.run([*lost, *edits])
        else:
            block = new.block if new.block is not None else _kept(old, new, says) or None
        if not says and new.text is None:
            drawn = old.value is None and not edits
            return replace(old, block=block, when=new.when or old.when, span=new.span if drawn else old.span)
        new = replace(new, block=block, when=new.when or old.when)
        if new.kind.text != "choice":
            return new
        return replace(new, bounds=new.bounds or old.bounds, text=new.text or old.text)


def _kept(old: t.Definition, new: t.Definition, says: bool) -> tuple[t.Sentence, ...]:
    """The braces of the base under another value: drawn edges go with the outline they were drawn for."""
    block = old.block or ()
    parts = [one for one in block if names_a_part(one)]
    drawn = any(isinstance(one, t.Definition) and one.kind.text in EDGES and one not in parts for one in block)
    redrawn = isinstance(new.value, t.Operation) and new.value.verb.text == "replace"
    if not says or not drawn or redrawn:
        return block
    finish = {name for name, verb in verbs().items() if verb.statement and verb.family == "finish"}
    return tuple(one for one in block if one in parts or (isinstance(one, t.Statement) and one.verb.text in finish))


def _is_named(row: t.Sentence, lost: t.Broken) -> bool:
    name = name_of(row)
    return name is not None and name.text in {one.text for one in lost.names}


def _knows(verb: str, wanted: set[str]) -> bool:
    """Whether a verb has all these words; what a recipe has is not known here."""
    known = verbs().get(verb)
    return known is not None and set(wanted) <= {word.name for word in known.words}


def _stands_on(verb: str) -> bool:
    """Whether sentences of a verb are told apart by the edges they are `on`."""
    known = verbs().get(verb)
    on = None if known is None else known.word("on")
    return on is not None and on.want.endswith("own edge")


def _texted(sentence: t.Definition | t.Statement, edit: t.ChangeValues) -> t.Definition | t.Statement:
    """With the text of the change, where it has one."""
    return replace(sentence, text=edit.text) if edit.text is not None and isinstance(sentence, t.Definition) else sentence


def _over(before: tuple[t.Clause, ...], now: tuple[t.Clause, ...]) -> tuple[t.Clause, ...]:
    given = {clause.word.text: clause for clause in now}
    stayed = tuple(given.pop(clause.word.text, clause) for clause in before)
    doubled = tuple(clause for clause in now if clause not in stayed)  # new words, and a word written twice, to be told
    return (*stayed, *doubled)
