"""A style built from another is the style one would have written out, whatever the order of its sentences."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from itertools import permutations

import pytest
from godet.jobs.explain import explain
from godet.jobs.outcome import outcomes
from godet.jobs.prepare import prepare
from godet.jobs.results import BodyResult
from godet.syntax.formatter import format_style
from support.reports import as_text, report
from support.styles import LANGUAGE, Written, written

BASE = (LANGUAGE / "bases" / "plain.style").read_text("utf-8")
HEAD = 'language 1\nstyle "Derived" from bases/plain\n'


class Several(Written):
    """A style held in memory with others beside it."""

    def __init__(self, content: str, others: Mapping[str, str]) -> None:
        super().__init__(content)
        self.others = others

    def read(self, path: str) -> bytes:
        return self.others[path].encode() if path in self.others else super().read(path)


def result(text: str) -> BodyResult:
    prepared = written(text)
    assert not prepared.broken, [one.message for one in prepared.diagnostics]
    (only,), _ = outcomes(prepared)
    return only


def same(one: BodyResult, other: BodyResult) -> bool:
    def numbers(made: BodyResult) -> list[object]:
        rows: list[object] = [(seam.name, seam.how, seam.left_mm, seam.right_mm) for seam in made.seams]
        rows += [(check.name, check.text, check.advice) for check in made.checks]
        for piece in made.pieces:
            finish = piece.piece.finish
            rows.append((piece.name, piece.edges, finish.cuts, sorted(map(repr, piece.piece.notches))))
            rows += [side.drawn.controls.tolist() for side in piece.piece.ring]
        return rows

    return repr(numbers(one)) == repr(numbers(other))


LONGER = """change recipe let_down "Longer" {
    takes shape draft "a half"
    takes length further = 5 cm
    gives shape longer = lengthen draft.side at hem by further
}"""
FINISH = BASE[BASE.index("    cut 1\n") : BASE.index("}\n\npiece back")]
CHECK = 'slit_from at_most high / 2 "shorten the slit"'


def braces(inner: str) -> str:
    return "change piece front {\n    " + inner + "\n}"


@pytest.mark.parametrize(
    ("edit", "old", "new"),
    [
        ("change choice wide = 12 cm", "wide = 10 cm between", "wide = 12 cm between"),
        ("change longer_front with further 4 cm", "longer_front = let_down half", "longer_front = let_down half further 4 cm"),
        ("change longer_back with further 4 cm", "further 2 cm", "further 4 cm"),
        ("change seam sides eases front.left_side to back.side", "joins front.left_side to back.side tolerance 2 cm",
         "eases front.left_side to back.side"),
        ("change sides with tolerance 3 cm", "tolerance 2 cm", "tolerance 3 cm"),
        (braces("change allow 4 cm on hem"), "allow 2 cm on hem", "allow 4 cm on hem"),
        (braces("change grain outward"), "grain up", "grain outward"),
        (braces("change notch left_side at 6 cm from hem"), "left_side at 5 cm", "left_side at 6 cm"),
        (braces("change notch left_side with as double"), "left_side at 5 cm from hem", "left_side at 5 cm from hem as double"),
        (braces("without notch left_side"), "    notch left_side at 5 cm from hem\n", ""),
        (braces("cut 3"), FINISH, "    cut 3\n"),
        ("change piece back = mirror longer_back", "piece back = longer_back", "piece back = mirror longer_back"),
        ("change shape half {\n    change curve side from out to out_top rounded 1 cm\n}",
         "line side from out to out_top", "curve side from out to out_top rounded 1 cm"),
        ("change check slit_is_short that slit at_least 1 cm", CHECK, "slit at_least 1 cm"),
        (LONGER, "further = 1 cm between 0 cm and 10 cm", "further = 5 cm between 0 cm and 10 cm"),
    ],
    ids=lambda text: text.partition("\n")[0][:40],
)  # fmt: skip
def test_a_change_is_what_one_would_have_written(edit: str, old: str, new: str) -> None:
    assert BASE.count(old) == 1 or old == "tolerance 2 cm"
    assert same(result(HEAD + edit + "\n"), result(BASE.replace(old, new)))


def test_the_order_of_the_sentences_does_not_matter() -> None:
    edits = (
        "change choice wide = 12 cm\n",
        "without slit_is_short\n",
        "add check slit_is_short that further at_least 1 cm\n",
        "add length further = 3 cm\n",
    )
    made = [result(HEAD + "".join(order)) for order in permutations(edits)]
    assert all(same(made[0], one) for one in made[1:])
    assert made[0].checks[-1].text == "further at_least 1 cm"


def test_a_choice_keeps_its_bounds_and_its_text() -> None:
    prepared = written(HEAD + "change choice wide = 12 cm\n")
    assert prepared.style is not None
    (wide,) = [choice for choice in prepared.style.choices if choice.name == "wide"]
    assert (wide.default, wide.low, wide.high, wide.text) == (120.0, 50.0, 200.0, "width of the half")
    outside = written(HEAD + "change choice wide = 30 cm\n")
    assert [one.code for one in outside.diagnostics if one.is_error] == ["E224"]
    assert not written(HEAD + "change choice wide = 30 cm between 20 cm and 40 cm\n").broken


def test_an_outline_given_a_value_loses_its_edges_and_keeps_its_finish() -> None:
    """The hem is straight again: the new value has the edges of the old outline, which stays drawn under another name."""
    outline = BASE[BASE.index("shape half {") : BASE.index("length slit_from")].partition("}")[0]
    cut = BASE.replace("    worn left\n", "    worn left\n    cut 4 on fold\n").replace("shape half", "piece half")
    again = outline.replace("shape half", "add shape drawn") + "}\n"
    made = result(BASE.replace(outline, outline.replace("half", "drawn") + "}\n\npiece half = drawn {\n    cut 4 on fold\n"))
    derived = HEAD.replace("bases/plain", "bases/cut") + again + "change piece half = drawn\n"
    files = {"bases/cut.style": cut}
    prepared = prepare(Several(derived, files), "a.style", ["body.toml"])
    assert not prepared.broken
    (only,), _ = outcomes(prepared)
    assert same(only, made)


def test_report_and_explain_tell_where_it_comes_from() -> None:
    prepared = written('language 1\nstyle "Last" from bases/longer\nchange choice wide = 14 cm\n')
    assert report(prepared).built_from == ("Long plain top", "Plain top")
    heading = f"Last, version {prepared.fingerprint}, built from Long plain top, built from Plain top  ("
    assert as_text(report(prepared)).startswith(heading)
    told, errors = explain(prepared, "wide")
    assert errors == ()
    (line,) = told[0][1]
    assert line.value == "140.0 mm"
    assert "was, at bases/plain.style:5: choice wide = 10 cm" in line.sentence
    assert line.where == "a.style:3"
    told, _ = explain(prepared, "longer_back")
    first = told[0][1][0]  # made by a recipe: told by the sentence that uses it, not by what the recipe calls it
    assert (first.name, first.where) == ("longer_back", "bases/longer.style:5")
    assert first.sentence == (
        "change longer_front, longer_back with further 3 cm   (was, at bases/plain.style:31: shape longer_back = "
        "let_down half further 2 cm)"
    )


UNTIDY = """change choice wide=12 cm
without   slit_is_short ,slit # gone


# own line
change piece back{
  without notch centre  # why
}
change longer_front,longer_back with further 3 cm
add   piece other=mirror half{
cut 1
}
"""


@pytest.mark.parametrize("text", [BASE, HEAD + UNTIDY], ids=["base", "derived"])
def test_the_layout_is_settled_at_once_and_keeps_comments(text: str) -> None:
    once, found = format_style(text, "a.style")
    assert found == ()
    assert format_style(once, "a.style") == (once, ())
    assert [word for word in once.split() if word.startswith("#")] == [word for word in text.split() if word.startswith("#")]


def test_a_long_derived_sentence_is_broken_before_its_words() -> None:
    once, _ = format_style(HEAD + "change longer_front, longer_back with " + "further 3 cm " * 9 + "\n", "a.style")
    assert max(map(len, once.splitlines())) <= 100
    assert once.splitlines()[3].startswith("        further")


SPECIFIED = BASE + """
cloth shell width 140 cm weight 130 gsm "cotton"
trim tape count 1 "for the hem"
finished high_back measures length of back.side tolerance 1 cm
sewing plain stitch 301 seam "1.01.01"
seam hems joins front.left_hem to back.hem tolerance 9 cm sewn plain
"""


@pytest.mark.parametrize(
    ("edit", "old", "new"),
    [
        ("change cloth shell with width 150 cm", "width 140 cm", "width 150 cm"),
        ('change shell with width 150 cm "linen"', 'width 140 cm weight 130 gsm "cotton"', 'width 150 cm weight 130 gsm "linen"'),
        ('change plain with seam "1.06.02"', '"1.01.01"', '"1.06.02"'),
        ("change finished high_back measures length of back.side over_by_at_most 1 cm under_by_at_most 2 mm",
         "tolerance 1 cm\nsew",
         "over_by_at_most 1 cm under_by_at_most 2 mm\nsew"),
        ('add trim button count 3 "11 mm"', "finished", 'trim button count 3 "11 mm"\nfinished'),
        ("without tape", 'trim tape count 1 "for the hem"\n', ""),
    ],
)  # fmt: skip
def test_the_specification_of_the_base_is_changed_like_the_rest(edit: str, old: str, new: str) -> None:
    assert SPECIFIED.count(old) == 1
    text = f"{HEAD}{edit}\n".replace("bases/plain", "bases/s")
    derived = prepare(Several(text, {"bases/s.style": SPECIFIED}), "a.style", ["body.toml"])
    plain = written(SPECIFIED.replace(old, new))
    assert not derived.broken, [one.message for one in derived.diagnostics]
    reports = [replace(report(one), style="", fingerprint="", built_from=()) for one in (derived, plain)]
    trims = [set(one.bodies[0].trims) for one in reports]
    assert trims[0] == trims[1]
    bodies = [replace(one.bodies[0], trims=(), warnings=()) for one in reports]  # warnings point into the file that says it
    assert bodies[0] == bodies[1]
    heads = [replace(one, bodies=(), warnings=(), assembly=replace(one.assembly, messages=())) for one in reports]
    assert heads[0] == heads[1]
