"""Did you mean."""

from godet.diagnostics.suggest import did_you_mean, either, nearest

WORDS = ("bust_girth", "hip_girth", "hinge", "piece", "waist_girth", "hinged_side")


def test_a_misspelling_finds_its_word() -> None:
    assert nearest("hing", WORDS)[0] == "hinge"
    assert nearest("pice", WORDS) == ("piece",)


def test_a_part_of_a_name_finds_the_name() -> None:
    assert nearest("bust", WORDS) == ("bust_girth",)
    assert set(nearest("girth", WORDS)) == {"bust_girth", "hip_girth", "waist_girth"}


def test_nothing_near_is_nothing() -> None:
    assert nearest("zzz", WORDS) == ()
    assert did_you_mean("zzz", WORDS) == ""
    assert nearest("a" * 100_000, WORDS) == ()


def test_the_word_itself_is_no_suggestion() -> None:
    assert "piece" not in nearest("piece", WORDS)


def test_words_are_listed_as_one_says_them() -> None:
    assert either(["a"]) == "`a`"
    assert either(["a", "b", "c"]) == "`a`, `b` or `c`"
    assert did_you_mean("hinged", ("hinge",)) == "did you mean `hinge`?"
