"""What a style needs to be measured, of whom: no bust points of a man, and what a body file gives already."""

from __future__ import annotations

from pathlib import Path

import pytest
from godet.bodies.vocabulary import vocabulary
from godet.cli.main import main
from godet.graph.evaluate import rested_on
from godet.graph.resting import drawn_from
from godet.jobs.files import Disk
from godet.jobs.measures import asked
from godet.jobs.outcome import outcomes
from godet.jobs.prepare import prepare
from godet.meaning.payloads import Fallback, Measure
from support.style_runs import PATTERNS

STYLE = """language 1
style "S"
length span = bust_point_to_bust_point otherwise bust_girth / 5
point wide = starting_point outward bust_girth / 4
point low = starting_point down span + scye_depth
piece p {
    line top from starting_point to wide
    line slant from wide to low
    line side from low to starting_point
    grain up
    cut 1
    allow 1 cm
}
"""


@pytest.fixture
def style(tmp_path: Path) -> str:
    path = tmp_path / "s.style"
    path.write_text(STYLE, "utf-8")
    return str(path)


def rows(text: str) -> dict[str, str]:
    """Each measurement of a printed list and the lines below it."""
    found: dict[str, str] = {}
    for line in text.splitlines():
        if not line.startswith(" ") and ": " in line:
            found[line.partition(":")[0]] = ""
        elif found:
            found[[*found][-1]] += line + "\n"
    return found


def test_a_man_is_asked_for_his_chest_and_not_for_bust_points(style: str, capsys: pytest.CaptureFixture[str]) -> None:
    for way in (["--for", "man"], ["--body", str(PATTERNS / "bodies" / "bass_2.toml")]):
        assert main(["measures", style, *way]) == 0
        listed = rows(capsys.readouterr().out)
        assert set(listed) == {"chest_girth", "scye_depth"}
        assert "stands for `bust_girth`" in listed["chest_girth"]
        assert "how to take it" in listed["scye_depth"]


def test_what_nothing_stands_in_for_is_told_where_it_is_not_asked(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = tmp_path / "s.style"
    path.write_text(STYLE.replace(" otherwise bust_girth / 5", ""), "utf-8")
    assert main(["measures", str(path), "--for", "man"]) == 0
    listed = rows(capsys.readouterr().out)
    assert [*listed][-1] == "bust_point_to_bust_point"
    assert "not asked of a man" in listed["bust_point_to_bust_point"]
    assert "how to take it" not in listed["bust_point_to_bust_point"]


ARMS = STYLE.replace(
    "bust_point_to_bust_point otherwise bust_girth / 5",
    "knee_girth when with_knee and not measured ankle_girth otherwise bust_girth / 5",
).replace("length span", "choice with_knee = no\nlength unused = elbow_girth\nlength span")


@pytest.mark.parametrize(
    ("settings", "acting"),
    [([], {"bust_girth", "scye_depth"}), (["--set", "with_knee=yes"], {"ankle_girth", "bust_girth", "knee_girth", "scye_depth"})],
)
def test_what_does_not_act_is_not_asked(
    settings: list[str], acting: set[str], tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Not what is measured for nothing, nor what an arm of a choice asks that is not taken."""
    path = tmp_path / "s.style"
    path.write_text(ARMS, "utf-8")
    assert main(["measures", str(path), *settings]) == 0
    assert set(rows(capsys.readouterr().out)) == acting


@pytest.mark.parametrize("style", sorted(PATTERNS.glob("*.style")), ids=lambda path: path.stem)
def test_what_the_drawing_rests_on_is_asked_for(style: Path) -> None:
    bodies = [str(path) for path in sorted((PATTERNS / "bodies").glob("*.toml"))]
    prepared = prepare(Disk(), str(style), bodies)
    assert prepared.style is not None
    checked, (_, evaluated) = prepared.style, outcomes(prepared)
    wanted = {one.name for one in asked(checked)}
    for part in evaluated.parts:
        rested = rested_on(checked, part, prepared.population, drawn_from(checked))
        nodes = [checked.nodes[index] for index, on in rested.items() if on.any()]
        assert {node.payload.name for node in nodes if isinstance(node.payload, Measure | Fallback)} <= wanted
    for wearer in ("man", "child"):
        assert not any("bust_p" in one.name or one.name.startswith("under_bust") for one in asked(checked, wearer))


def test_a_woman_is_asked_for_all_the_style_names(style: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["measures", style]) == 0
    everyone = rows(capsys.readouterr().out)
    assert main(["measures", style, "--for", "woman"]) == 0
    assert rows(capsys.readouterr().out) == everyone
    assert set(everyone) == {"bust_girth", "bust_point_to_bust_point", "scye_depth"}


def test_what_a_body_gives_and_what_stands_in_for_the_rest(
    style: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["measures", style, "--body", str(PATTERNS / "bodies" / "bass_2.toml")]) == 0
    listed = rows(capsys.readouterr().out)
    assert "measured: 102 cm" in listed["chest_girth"]
    assert "measured: 21.7 cm" in listed["scye_depth"]
    assert "bust_point_to_bust_point" not in listed
    woman = tmp_path / "w.toml"
    woman.write_text('name = "w"\nunit = "cm"\nsex = "F"\n[measures]\nbust_girth = 92\nscye_depth = 20.5\n', "utf-8")
    assert main(["measures", style, "--body", str(woman)]) == 0
    assert "not given: by the rule at " in rows(capsys.readouterr().out)["bust_point_to_bust_point"]


def test_the_list_of_all_words_by_wearer(capsys: pytest.CaptureFixture[str]) -> None:
    listed = {}
    for wearer in ("woman", "man", "child"):
        assert main(["measures", "--for", wearer]) == 0
        out = capsys.readouterr().out
        listed[wearer] = {line.partition(" ")[0] for line in out.splitlines() if line.endswith("(measurement)")}
    assert {"bust_girth", "bust_point_to_bust_point"} <= listed["woman"]
    assert listed["man"] == {name for name, one in vocabulary().items() if one.who == "A" or "M" in one.who}
    assert not any("bust" in name for name in listed["man"] | listed["child"])
    assert "age" in listed["child"] - listed["man"]


def test_no_word_points_to_a_file_that_is_not_there(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["measures"]) == 0
    assert ".md" not in capsys.readouterr().out


def test_a_body_without_a_style_is_refused_and_not_passed_over(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["measures", "--body", str(PATTERNS / "bodies" / "bass_2.toml")]) == 2
    said = capsys.readouterr()
    assert said.out == ""
    assert "depends on the style" in said.err
    assert "godet measures STYLE --body FILE" in said.err


def test_whose_a_body_is_its_file_says(style: str, capsys: pytest.CaptureFixture[str]) -> None:
    bass = str(PATTERNS / "bodies" / "bass_2.toml")
    assert main(["measures", style, "--for", "woman", "--body", bass]) == 2
    assert "`--for woman` is asked, and by its file this body is a man's" in capsys.readouterr().err
    assert main(["measures", style, "--for", "man", "--body", bass]) == 0
