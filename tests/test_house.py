"""The house keeps its own rules: directions between rooms, no rings, paths that exist, one layout, an instant help."""

from __future__ import annotations

import ast
import re
import subprocess
import sys
from collections.abc import Iterator, Mapping
from graphlib import TopologicalSorter
from pathlib import Path

import pytest
from godet.jobs.files import Disk
from godet.jobs.formatting import formatted
from godet.jobs.prepare import prepare

ROOT = Path(__file__).resolve().parent.parent
COMPILER = ROOT / "compiler"
MODULES = sorted(COMPILER.rglob("*.py"))
STYLES = sorted(path for folder in ("stdlib", "patterns", "compiler") for path in (ROOT / folder).rglob("*.style"))
LONGEST = 600

ALLOWED: Mapping[str, frozenset[str]] = {
    room: frozenset(others.split())
    for room, others in {
        "folders": "",
        "diagnostics": "",
        "geometry": "",
        "syntax": "diagnostics folders",
        "bodies": "diagnostics",
        "pattern": "geometry",
        "finish": "pattern geometry",
        "assembly": "pattern geometry",
        "verbs": "finish pattern geometry",
        "meaning": "syntax diagnostics verbs pattern bodies",
        "graph": "meaning verbs finish pattern geometry",
        "grading": "finish pattern geometry",
        "difference": "meaning syntax bodies verbs finish pattern geometry diagnostics",
        "drawing": "grading finish pattern geometry",
        "output": "drawing",
        "population": "",
        "jobs": "assembly bodies diagnostics difference drawing finish folders geometry grading graph meaning output pattern "
        "population syntax verbs",
        "door": "jobs meaning bodies diagnostics drawing finish geometry output population",
        "cli": "door jobs diagnostics bodies output",
    }.items()
}
Module = tuple[str, ...]


def _name(path: Path) -> Module:
    """The module of a file as parts below the package; a package is named by its folder."""
    parts = path.relative_to(COMPILER).with_suffix("").parts
    return parts[:-1] if parts[-1] == "__init__" else parts


NAMES = frozenset(_name(path) for path in MODULES)


def _nodes(tree: ast.AST, everywhere: bool) -> Iterator[ast.AST]:
    """Import statements: everywhere, or only those that run when the module is loaded."""
    for node in ast.iter_child_nodes(tree):
        if isinstance(node, (ast.Import, ast.ImportFrom)):
            yield node
        elif everywhere:
            yield from _nodes(node, True)
        elif isinstance(node, ast.If) and ast.unparse(node.test) == "TYPE_CHECKING":
            continue
        elif not isinstance(node, (ast.FunctionDef, ast.AsyncFunctionDef, ast.Lambda)):
            yield from _nodes(node, False)


def _imported(path: Path, everywhere: bool = True) -> set[Module]:
    """The modules of ours that a file imports; `from package import module` counts as the module."""
    package = path.relative_to(COMPILER).parent.parts
    found: set[Module] = set()
    for node in _nodes(ast.parse(path.read_text("utf-8")), everywhere):
        if isinstance(node, ast.ImportFrom) and node.level:
            base = (*package[: len(package) - node.level + 1], *(node.module.split(".") if node.module else ()))
            for alias in node.names:
                found.add((*base, alias.name) if (*base, alias.name) in NAMES else base)
        else:
            assert "godet" not in ast.unparse(node), f"{path}: imports inside the package are relative"
    return found


def test_every_room_has_its_row() -> None:
    assert {name[0] for name in NAMES if name} == set(ALLOWED)


@pytest.mark.parametrize("room", sorted(ALLOWED))
def test_a_room_imports_only_what_lies_below_it(room: str) -> None:
    for path in MODULES:
        if _name(path)[:1] == (room,):
            others = {module[0] for module in _imported(path) if module} - {room}
            assert others <= ALLOWED[room], f"{path.relative_to(ROOT)} imports {sorted(others - ALLOWED[room])}"


def test_rooms_form_no_ring() -> None:
    assert list(TopologicalSorter(ALLOWED).static_order())  # raises CycleError, which prints the ring


def test_modules_form_no_ring_when_loaded() -> None:
    loaded = {_name(path): _imported(path, everywhere=False) - {_name(path)} for path in MODULES}
    assert list(TopologicalSorter(loaded).static_order())


def test_rings_are_found() -> None:
    with pytest.raises(ValueError, match="cycle"):
        list(TopologicalSorter({"a": {"b"}, "b": {"a"}}).static_order())


def test_the_table_of_the_manual_is_the_table_of_this_test() -> None:
    rows = re.findall(r"^\| `compiler/(\w+)/` \|[^|]*\|([^|]*)\|$", (ROOT / "DEVELOPERS.md").read_text("utf-8"), re.M)
    told = {room: set(re.findall(r"\w+", others)) - {"nothing"} for room, others in rows}
    told["jobs"] = set(ALLOWED) - {"cli", "door", "jobs", "folders"}  # "all but door and cli"
    assert told == {room: set(others) - {"folders"} for room, others in ALLOWED.items() if room != "folders"}


@pytest.mark.parametrize("manual", ["DEVELOPERS.md", "README.md"])
def test_every_path_named_in_a_manual_exists(manual: str) -> None:
    text = (ROOT / manual).read_text("utf-8")
    beginnings = r"(?:compiler|grammar|stdlib|patterns|tests|\.ci|\.package)/"
    named = set(re.findall(rf"(?<![\w./]){beginnings}[\w./-]*\w", text)) | set(re.findall(r"\]\(([\w./-]+)\)", text))
    assert len(named) >= 3
    assert [path for path in sorted(named) if not (ROOT / path).exists()] == []


def test_no_file_is_too_long() -> None:
    files = [*MODULES, *(ROOT / "tests").rglob("*.py"), *STYLES]
    assert [str(path) for path in files if len(path.read_text("utf-8").splitlines()) > LONGEST] == []


def _run(code: str) -> str:
    """What a fresh interpreter prints: nothing that other tests have imported counts."""
    ran = subprocess.run([sys.executable, "-c", code], cwd=ROOT / ".package", capture_output=True, check=True)
    return ran.stdout.decode("utf-8")


def test_help_loads_nothing_heavy() -> None:
    code = (
        "import sys\nfrom godet.cli.main import main\n"
        "try:\n    main(['--help'])\nexcept SystemExit as done:\n    assert done.code == 0\n"
        "print('loaded:', *sorted({'numpy', 'shapely', 'lark'} & set(sys.modules)))"
    )
    assert _run(code).splitlines()[-1].strip() == "loaded:"


@pytest.mark.parametrize("path", STYLES, ids=lambda path: path.stem)
def test_styles_have_the_one_layout(path: Path) -> None:
    result = formatted(Disk(), str(path))
    assert not result.diagnostics
    assert not result.changed


def test_the_reference_is_current() -> None:
    printed = _run("from godet.cli.main import main\nmain(['words', '--all'])")
    assert (ROOT / "grammar" / "reference.md").read_text("utf-8") == printed


def test_the_style_in_the_readme_compiles_and_has_the_one_layout(tmp_path: Path) -> None:
    found = re.search(r"```style\n(.*?)```", (ROOT / "README.md").read_text("utf-8"), re.S)
    assert found
    style = tmp_path / "shell.style"
    style.write_text(found.group(1), "utf-8")
    assert not prepare(Disk(), str(style)).diagnostics
    assert not formatted(Disk(), str(style)).changed


def test_the_readme_has_its_two_commands() -> None:
    text = (ROOT / "README.md").read_text("utf-8")
    build, test = re.findall(r"^python3 -m venv .*$", text, re.M)
    assert "-e . && .venv/bin/godet build patterns/concert_top.style" in build
    assert test.endswith("-e '.[dev]' && .venv/bin/pytest")
