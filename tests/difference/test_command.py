"""`godet diff` as it is used: sides on the disk and in git, what is printed, its records, its exit codes."""

from __future__ import annotations

import json
import os
import subprocess
from collections.abc import Callable
from pathlib import Path

import pytest
from godet.cli.main import main
from godet.output.schema import schema
from support.schemas import keeps_to
from support.small_skirt import SKIRT, YOKES
from support.style_runs import PATTERNS

SHORTER = """language 1
style "A short skirt" from skirt
change choice deep = 45 cm between 40 cm and 90 cm "from waist to hem"
"""

Run = Callable[..., tuple[int, str, str]]


@pytest.fixture
def run(capsys: pytest.CaptureFixture[str]) -> Run:
    def ran(*given: object) -> tuple[int, str, str]:
        code = main(["diff", *map(str, given)])
        out, err = capsys.readouterr()
        return code, out, err

    return ran


def git(*given: str) -> str:
    known = {f"GIT_{who}_{what}": "a@example.org" for who in ("AUTHOR", "COMMITTER") for what in ("NAME", "EMAIL")}
    quiet = {"GIT_CONFIG_GLOBAL": os.devnull, "GIT_CONFIG_SYSTEM": os.devnull}
    ran = subprocess.run(["git", *given], capture_output=True, check=True, env={**os.environ, **known, **quiet})
    return ran.stdout.decode("utf-8").strip()


def commit() -> str:
    git("add", "-A")
    git("commit", "-q", "-m", "as it is")
    return git("rev-parse", "HEAD")


@pytest.fixture
def repository(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A repository with two styles, one built from the other, and a module beside them; one stands in it."""
    monkeypatch.chdir(tmp_path)
    git("init", "-q")
    folder = tmp_path / "patterns"
    folder.mkdir()
    for name, text in (("skirt", SKIRT), ("yokes", YOKES), ("short", SHORTER)):
        (folder / f"{name}.style").write_text(text, "utf-8")
    commit()
    return tmp_path


def edit(name: str, old: str, new: str) -> None:
    path = Path("patterns", f"{name}.style")
    text = path.read_text("utf-8")
    assert text.count(old) == 1
    path.write_text(text.replace(old, new), "utf-8")


def test_head_against_what_lies_on_the_disk(repository: Path, run: Run) -> None:
    code, out, _ = run()
    assert (code, out.splitlines()[0]) == (0, "HEAD to the working tree: the same cloth on every body, proved")
    assert "A short skirt, A skirt: same, proved." in out
    edit("skirt", "allow 3 cm", "allow 2 cm")
    code, out, _ = run()
    assert code == 1
    assert "front: allow on hem  allow 2 cm, was 3 cm" in out
    assert 'Left behind? sewing hemmed says "all round, 3 cm turned once"; no longer 3 cm is: front: allow 2 cm on hem' in out
    assert "A short skirt (patterns/short.style)" in out


def test_a_style_by_its_path_is_compared_with_itself_in_head(repository: Path, run: Run) -> None:
    edit("skirt", "= 60 cm", "= 65 cm")
    code, out, _ = run("patterns/skirt.style")
    assert code == 1
    assert "choice deep  65 cm, was 60 cm" in out
    assert "Built from it: A short skirt, the same cloth, proved." in out


def test_of_a_path_alone_old_is_head_where_that_lies(repository: Path, run: Run, monkeypatch: pytest.MonkeyPatch) -> None:
    edit("skirt", "= 60 cm", "= 65 cm")
    monkeypatch.chdir("/")
    for path in (repository / "patterns" / "skirt.style", repository / "patterns"):
        code, out, _ = run(path)
        assert code == 1
        assert "choice deep  65 cm, was 60 cm" in out


def test_revisions_and_paths_in_them(repository: Path, run: Run, monkeypatch: pytest.MonkeyPatch) -> None:
    edit("yokes", "outward by wide\n    point high", "outward by (wide + 1 cm)\n    point high")
    commit()
    code, out, _ = run("HEAD~1", "HEAD")
    assert code == 1
    assert "patterns/yokes: yoke, used by A short skirt (half); A skirt (half)" in out
    assert "point far  low outward by wide + 1 cm, was low outward by wide" in out
    monkeypatch.chdir("patterns")
    for old, new in (
        ("HEAD~1:patterns/skirt.style", "HEAD:patterns/skirt.style"),
        ("HEAD~1:./skirt.style", "skirt.style"),
        ("HEAD~1", "skirt.style"),
    ):
        code, out, _ = run(old, new)
        assert code == 1
        assert "A skirt (patterns/skirt.style)" in out
        assert "point far" in out


def test_nothing_is_checked_out_and_nothing_is_written(repository: Path, run: Run) -> None:
    edit("skirt", "= 60 cm", "= 65 cm")
    before = git("status", "--porcelain")
    run("HEAD")
    assert git("status", "--porcelain") == before


def test_each_side_is_read_by_the_library_its_tree_holds(repository: Path, run: Run) -> None:
    library = repository / "stdlib"
    library.mkdir()
    (repository / "patterns" / "yokes.style").rename(library / "yokes.style")
    commit()
    _, out, _ = run("HEAD~1", "HEAD")
    assert "Library: NEW holds its own, the other side is read with this compiler's; differs in" in out
    (library / "yokes.style").write_text(YOKES.replace("down deep", "down (deep + 1 cm)"), "utf-8")
    code, out, _ = run("HEAD")
    assert code == 1
    assert "Library: that of each side; differs in yokes." in out
    assert "stdlib/yokes: yoke, used by A short skirt (half); A skirt (half)" in out


def test_a_recipe_that_no_style_uses_is_told_too(repository: Path, run: Run) -> None:
    library = repository / "stdlib" / "bands"
    library.mkdir(parents=True)
    (library / "straight.style").write_text(YOKES.replace("yoke", "band"), "utf-8")
    commit()
    other = YOKES.replace("yoke", "band").replace("by wide\n    point high", "5 cm\n    point high")
    (library / "straight.style").write_text(other, "utf-8")
    code, out, _ = run()
    assert code == 0
    assert "stdlib/bands/straight: band, used by no style here" in out
    assert "point far  low outward 5 cm, was low outward by wide" in out


def test_styles_that_come_and_go(repository: Path, run: Run) -> None:
    Path("patterns/short.style").unlink()
    Path("patterns/other.style").write_text(SKIRT.replace("A skirt", "Another"), "utf-8")
    code, out, _ = run()
    assert code == 1
    assert "Another (patterns/other.style)\n==============================\nIt is new: front." in out
    assert "It is gone: front." in out


def test_a_side_that_cannot_be_read(repository: Path, run: Run) -> None:
    edit("skirt", "allow 3 cm", "allow 2 cm")
    edit("skirt", "shape half = yoke", "shape half = yolk")
    code, out, err = run("patterns/skirt.style")
    assert code == 2
    assert "in patterns/skirt.style:\nerror[" in err
    assert err.count("`yolk`") == 1
    assert "Not compared as cloth: in NEW" in out
    assert "front: allow on hem  allow 2 cm, was 3 cm" in out


@pytest.mark.parametrize(
    ("given", "said"),
    [
        (("nowhere",), "`nowhere` is no file or folder here, and no revision that git knows"),
        (("HEAD:patterns/skrit.style",), "there is no `patterns/skrit.style` in HEAD"),
        (("HEAD:patterns", "patterns/skirt.style"), "`patterns/skirt.style` is a style, and `HEAD:patterns` a folder of them"),
        (("HEAD", "--svg", "out"), "`--svg` draws what changes on bodies, and there is none"),
    ],
)
def test_what_is_no_side_is_told_with_a_fix(repository: Path, run: Run, given: tuple[str, ...], said: str) -> None:
    code, out, err = run(*given)
    assert (code, out) == (2, "")
    assert said in err
    assert "fix: " in err


def test_without_a_repository_and_without_git(tmp_path: Path, run: Run, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("GIT_CEILING_DIRECTORIES", str(tmp_path.parent))
    assert "OLD is not given, and there is no git repository here" in run()[2]
    assert "there is no file or folder `HEAD`, and no git repository here" in run("HEAD")[2]
    git("init", "-q")
    assert "in which something was committed" in run()[2]
    monkeypatch.setenv("PATH", "")
    assert "to read it as a revision git is needed, which is not found" in run()[2]


def test_two_files_need_no_git(tmp_path: Path, run: Run, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("PATH", "")
    Path("yokes.style").write_text(YOKES, "utf-8")
    Path("old.style").write_text(SKIRT, "utf-8")
    Path("new.style").write_text("# a comment\n" + SKIRT.replace("12 cm", "120 mm").replace("half", "plain"), "utf-8")
    code, out, _ = run("old.style", "new.style")
    assert code == 0
    assert "shape half, now plain  only its name is another" in out


def test_on_bodies_the_cloth_is_told_and_drawn(repository: Path, run: Run) -> None:
    edit("skirt", "= 60 cm", "= 62 cm")
    body = PATTERNS / "bodies" / "alto_3.toml"
    code, out, _ = run("patterns/skirt.style", "--body", body, "--svg", "told")
    assert code == 1
    assert "hem down, along the whole edge" in out
    assert "20.0" in out
    assert (repository / "told" / "patterns_skirt_alto_3_difference.svg").read_text("utf-8").startswith("<?xml")
    code, out, _ = run("patterns/skirt.style", "--body", body, "--set", "deep=50 cm")
    assert code == 0
    assert "choice deep  62 cm, was 60 cm" in out


def test_what_is_wrong_with_bodies_and_sizes_is_told_once(repository: Path, run: Run) -> None:
    edit("skirt", "= 60 cm", "= 62 cm")
    for given in (("--body", "nobody.toml"), ("--sizes", "no_chart.csv")):
        code, out, err = run("patterns/skirt.style", *given)
        assert code == 2
        assert err.count("there is no file") == 1
        assert "choice deep  62 cm, was 60 cm" in out


def test_on_the_sizes_of_a_chart(repository: Path, run: Run) -> None:
    edit("skirt", "= 60 cm", "= 62 cm")
    code, out, _ = run("patterns/skirt.style", "--sizes", PATTERNS / "charts" / "choir_women.csv")
    assert code == 1
    assert "hem down, along the whole edge" in out


def test_a_chart_that_sets_a_choice_sets_it_in_each_side_of_its_own(repository: Path, run: Run) -> None:
    """The sides are two files, each of which is checked again as a size has it."""
    wider = SKIRT.replace("wide 12 cm", "wide 13 cm")
    Path("patterns", "wider.style").write_text(wider, "utf-8")
    chart, rows = Path("chart.csv"), (PATTERNS / "charts" / "choir_women.csv").read_text("utf-8").splitlines()
    chart.write_text("\n".join([*rows, "choice deep,24,24,24,24,24", ""]), "utf-8")  # in inches
    code, out, err = run("patterns/skirt.style", "patterns/wider.style", "--sizes", chart)
    assert code == 1, (out, err)
    assert "10.0" in out


def test_a_body_that_neither_side_draws_is_no_proof_that_they_are_the_same(repository: Path, run: Run) -> None:
    for name, deep in (("skirt", "60 cm"), ("wider", "62 cm")):
        text = SKIRT.replace("wide 12 cm", "wide (bust_girth - bust_girth)").replace("= 60 cm", f"= {deep}")
        Path("patterns", f"{name}.style").write_text(text, "utf-8")
    code, out, _ = run("patterns/skirt.style", "patterns/wider.style", "--body", PATTERNS / "bodies" / "alto_3.toml")
    assert code == 2
    assert "alto 3 is drawn on neither side" in out


def test_records_keep_to_the_published_schema(repository: Path, run: Run, capsys: pytest.CaptureFixture[str]) -> None:
    edit("skirt", "allow 3 cm", "allow 2 cm")
    for more in ((), ("--body", PATTERNS / "bodies" / "alto_3.toml")):
        code, out, _ = run("--format", "json", *more)
        assert code == 1
        found = json.loads(out)
        keeps_to(found, schema("diff"), schema("diff"))
        assert found["same"] == ("no" if more else "open")
    assert [one["words"] for one in found["sentences"] if one["status"] == "changed"] == [
        [{"word": "allow", "old": "3 cm", "new": "2 cm", "role": "value"}]
    ]
    with pytest.raises(SystemExit):
        main(["diff", "--schema"])
    assert json.loads(capsys.readouterr().out) == schema("diff")


def test_for_a_review_one_line_and_the_rest_as_it_is_printed(repository: Path, run: Run) -> None:
    edit("skirt", "allow 3 cm", "allow 2 cm")
    _, out, _ = run("--format", "markdown")
    assert out.startswith("**HEAD to the working tree: the cloth may change")
    assert out.rstrip().endswith("<!-- godet diff -->")
    _, out, _ = run("--quiet")
    assert len(out.splitlines()) == 1


def test_git_shows_sentences_and_no_layout(repository: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["fmt", "--meaning", "patterns/skirt.style"]) == 0
    one = capsys.readouterr().out
    assert "front: allow 3 cm on hem" in one.splitlines()
    edit("skirt", "\nuse ", "\n\n# why\nuse ")
    edit("skirt", " = half {", "   =  half {")
    assert main(["fmt", "--meaning", "patterns/skirt.style"]) == 0
    assert capsys.readouterr().out == one
    Path("patterns/skirt.style").write_text("language 1\nshape = (\n", "utf-8")
    assert main(["fmt", "--meaning", "patterns/skirt.style"]) == 0
    assert capsys.readouterr().out == "language 1\nshape = (\n"
