"""Renamed words of verbs: the old text is read with a warning, and the formatter writes the new word."""

import pytest
from godet.syntax.formatter import format_style
from godet.syntax.parser import parse


@pytest.mark.parametrize(
    ("old", "new", "times"),
    [
        ("seam s joins a.b to c.d allowing 2 mm", "seam s joins a.b to c.d within 2 mm", 1),
        ("shape p = smooth a.allowing allowing 1 cm", "shape p = smooth a.allowing within 1 cm", 1),
        ("shape p = unfold (smooth a.b allowing 1 cm) across c", "shape p = unfold (smooth a.b within 1 cm) across c", 1),
        ("seam s joins a.b to c.d allowing allowing", "seam s joins a.b to c.d within allowing", 1),
        ("shape p = other a allowing 1 cm", "shape p = other a allowing 1 cm", 0),
    ],
)
def test_the_old_word_is_read_and_rewritten(old: str, new: str, times: int) -> None:
    tree, found = parse(old + "\n", "style")
    assert [one.code for one in found if not one.is_error] == ["W101"] * times
    assert format_style(old + "\n", "style")[0] == new + "\n"
    assert len(tree.sentences) == 1
    assert parse(new + "\n", "style")[1] == ()
