"""A child's body brings the cautions on cords, nightwear and small parts."""

import pytest
from godet.bodies.body import Body
from godet.bodies.cautions import cautioned, cautions


def child(**measures: float) -> Body:
    return Body("treble 1", "cm", "F", measures)


@pytest.mark.parametrize(
    "age, rules",
    [
        (2.5, ["W441", "W442", "W443"]),
        (3, ["W441", "W442"]),
        (14, ["W441", "W442"]),
        (15, []),
        (40, []),
    ],
)
def test_ages_and_rules(age: float, rules: list[str]) -> None:
    assert [each.code for each in cautions(child(age=age))] == rules


def test_no_age_no_caution() -> None:
    assert cautions(child(stature=1100)) == ()


def test_young_children_wear_no_cord_at_the_neck_and_the_law_decides() -> None:
    for each in cautions(child(age=5)):
        assert not each.is_error
        assert each.fix == "check the rules where it is sold"
        assert each.body == "treble 1"
    assert "no cord or drawstring in the hood or neck area" in cautions(child(age=5))[0].note
    assert "free ends" in cautions(child(age=10))[0].note


def test_lines_for_sheets_and_reports_end_with_the_rules_where_it_is_sold() -> None:
    full, short = cautioned(child(age=5)), cautioned(child(age=5), in_full=False)
    assert len(full) == len(short) == 3
    assert "no cord or drawstring in the hood or neck area" in full[0]
    assert short[1] == "This is a child: nightwear must not burn easily (16 CFR 1615 and 1616 in the United States)."
    assert "where the garment is sold" in full[-1] == short[-1]
    assert cautioned(child(age=30)) == ()
