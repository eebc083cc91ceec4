"""How many are cut of a piece, in which cloths."""

from __future__ import annotations

from godet.drawing.wording import cut_words
from godet.graph.evaluate import evaluate
from godet.pattern.piece import CutOrder, Piece
from support.reports import report
from support.styles import said, written

STYLE = """language 1
style "S"

point a = starting_point
point b = starting_point outward 20 cm
point c = starting_point outward 20 cm up 30 cm
point d = starting_point up 30 cm

piece shell {
    line hem from a to b
    line side from b to c
    line top from c to d
    line centre from d to a
    fold centre
    worn left
    remark "of the shell"
    cut 1 on fold
    cut 2 on fold in interlining
}

piece lining = lengthen shell.side at hem by -1 cm {
    cut 2 as pair in lining
    allow 1 cm
}
"""


def pieces(text: str) -> dict[str, Piece]:
    made = written(text)
    assert made.style is not None, said(made)
    (part,) = evaluate(made.style, made.population).parts
    found = {name: part.values[node] for name, node in made.style.pieces.items()}
    return {name: piece for name, piece in found.items() if isinstance(piece, Piece)}


def test_sentences_for_several_cloths_add_up() -> None:
    shell = pieces(STYLE)["shell"]
    assert shell.finish.cuts == (CutOrder(1, "shell"), CutOrder(2, "interlining"))
    assert cut_words(shell) == ("cut 1 on the fold, in shell", "cut 2 on the fold, in interlining")


def test_what_is_made_of_a_piece_is_cut_as_it_says_itself() -> None:
    lining = pieces(STYLE)["lining"]
    assert lining.finish.cuts == (CutOrder(2, "lining", mirrored=True),)
    assert lining.finish.remarks == ()
    assert lining.fold is None


def test_the_last_sentence_for_a_cloth_counts() -> None:
    assert pieces(STYLE.replace("cut 2 on fold in interlining", "cut 3 on fold"))["shell"].finish.cuts == (CutOrder(3, "shell"),)


def test_the_report_tells_all_of_them() -> None:
    rows = report(written(STYLE))
    first = rows.bodies[0].pieces[0]
    assert first.cut == "cut 1 on the fold, in shell; cut 2 on the fold, in interlining"
    assert [(one.cloth, one.count) for one in first.cuts] == [("shell", 1), ("interlining", 2)]
    lists = {one.cloth: [(row.name, row.count) for row in one.pieces] for one in rows.bodies[0].cut_list}
    assert lists == {"shell": [("shell", 1)], "interlining": [("shell", 2)], "lining": [("lining", 2)]}


def test_a_style_with_cloths_wants_one_of_them_in_every_sentence() -> None:
    text = STYLE + '\ncloth satin width 140 cm "lining"\ncloth interlining width 90 cm "fusible"\n'
    assert "cut 1" in said(written(text))


def test_a_piece_on_the_fold_in_one_cloth_is_no_pair_in_another() -> None:
    """Its drawing would lose the fold, and half a piece be cut for a whole one."""
    made = written(STYLE.replace("cut 2 on fold in interlining", "cut 2 as pair in interlining"))
    assert made.style is not None
    (failure,) = evaluate(made.style, made.population).failures
    assert failure.message == "it is cut on the fold at `centre` already, and a pair has no fold"
    assert failure.fix == "make a piece of its own of it for `interlining`, cut as a pair"


def test_a_pair_may_be_said_after_another_number_for_the_same_cloth() -> None:
    made = pieces(STYLE.replace("cut 2 on fold in interlining", "cut 2 as pair"))
    assert made["shell"].finish.cuts == (CutOrder(2, "shell", True),)
