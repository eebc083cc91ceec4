"""The budgets of the house, in one table: `python tests/bench/budgets.py`. Nothing here is a test.

Some of them alone by the names of their functions: `python tests/bench/budgets.py cold_check an_edit`. Each line has what is
measured, what it must not pass, what was measured, and what that is a ratio of, measured in the same run. Exits with 1 where one
is beyond its budget, or could not be measured, which is told with its reason. Times are of the processor, the least of several
runs, on which other work of the machine tells least.
"""

from __future__ import annotations

import io
import sys
import tokenize
from collections.abc import Callable, Iterator
from functools import partial
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

import many_bodies
from edits import EDITS, sheet, texts_of
from measuring import ROOT, SCRATCH, Row, least, of_children, printed, yards

STYLE = str(ROOT / "patterns" / "concert_top.style")
PRINCESS = str(ROOT / "patterns" / "princess_dress_bodice.style")
BODY = str(ROOT / "patterns" / "bodies" / "alto_3.toml")
CHECK = ("-m", "godet.cli.main", "check", STYLE, "--body", BODY)


def parsing() -> Iterator[Row]:
    from godet.syntax.parser import parse

    text = "\n".join(path.read_text("utf-8") for path in sorted((ROOT / "stdlib").rglob("*.style")))
    lines = text.count("\n")
    tokens, tree = least(lambda: [0 for _ in _tokens(text)]), least(lambda: parse(text, "all"))
    what = "lines a second of the parser / of the standard library's tokenize"
    yield Row(what, tokens / tree, 1 / 6, f"tokenize: {lines / tokens:.0f} lines a second", at_least=True)


def _tokens(text: str) -> list[tokenize.TokenInfo]:
    found = []
    try:
        for token in tokenize.generate_tokens(io.StringIO(text).readline):
            found.append(token)
    except (tokenize.TokenError, IndentationError):
        pass
    return found


def help_loads() -> Iterator[Row]:
    code = (
        "import sys\nfrom godet.cli.main import main\ntry: main(['--help'])\nexcept SystemExit: pass\n"
        "print(len({'numpy', 'shapely', 'lark'} & set(sys.modules)))"
    )
    yield Row("of numpy, shapely, lark loaded for `--help`", float(printed("-c", code).split()[-1]), 0, "modules")


def cold_check() -> Iterator[Row]:
    """A process that starts, checks the concert top on a body, and ends: with the style kept of an earlier one, and without."""
    kept = SCRATCH / "kept" / "godet"

    def without(pattern: str) -> Callable[[], object]:
        def run() -> None:
            for file in kept.glob(pattern):
                file.unlink()
            printed(*CHECK)

        return run

    imports = least(lambda: printed("-c", "import numpy, shapely, lark"), 7, of_children)
    base = f"a process that imports numpy, shapely and lark: {imports:.2f} s"
    for what, work, limit in (
        ("cold check, the style kept from an earlier one", lambda: printed(*CHECK), 2.5),
        ("cold check, a style not seen before", without("style-*"), None),
        ("cold check, the first ever: the parser's table is built too", without("*"), None),
    ):
        yield Row(what, least(work, clock=of_children) / imports, limit, base)


def one_body() -> Iterator[Row]:
    from godet.jobs.build import Wanted, as_pdf, as_svg, plate
    from godet.jobs.files import Disk
    from godet.jobs.outcome import outcomes
    from godet.jobs.prepare import prepare

    def files(with_pdf: bool) -> None:
        prepared = prepare(Disk(), STYLE, [BODY])
        made = plate(prepared, outcomes(prepared)[0][0], prepared.bodies[0], Wanted())
        as_svg(made)
        if with_pdf:
            as_pdf(made, "a4")

    yield yards("concert top, warm: compile, evaluate, finish, SVG", least(lambda: files(False)), 34)
    yield yards("the same and its PDF", least(lambda: files(True)), None)


def an_edit() -> Iterator[Row]:
    """From the saved text to the sheet, warm: what is kept is found again, against the same text opened afresh."""
    import godet

    text = Path(STYLE).read_text("utf-8")
    first = sheet(godet.open_style(STYLE), BODY)
    for edit in EDITS:
        fresh, edited = iter(texts_of(edit, text)), iter(texts_of(edit, text))
        whole = least(partial(lambda texts: sheet(godet.open_style(STYLE, text=next(texts)), BODY), fresh))
        again = least(partial(lambda texts: sheet(first.edited(next(texts)), BODY), edited))
        yield yards(f"an edit, from text to sheet: {edit.name}", again, edit.yards)
        yield Row("    the same / the text opened afresh", again / whole, edit.share, f"afresh: {1000 * whole:.0f} ms")


def solving() -> Iterator[Row]:
    """With solves against the same with their unknowns told: where it is more, a solve repeats what it need not."""
    from solves import cost

    for path, many, few in ((STYLE, 1.25, 1.25), (PRINCESS, 1.25, 1.5)):
        for count, limit in ((300, many), (1, few)):
            found = cost(path, count)
            what = f"{Path(path).stem}, {count} at a time: with solves"
            yield Row(what, found.ratio, limit, f"unknowns told; {found.trials:.1f} trials a solve")


PARTS = (parsing, help_loads, cold_check, one_body, an_edit, *many_bodies.PARTS, solving)


def main(wanted: list[str]) -> int:
    """Each part after the other."""
    print(f"{'':72} {'budget':>14} {'measured':>9}{'':7}  measured in")
    well = True
    for part in PARTS:
        if wanted and part.__name__ not in wanted:
            continue
        try:
            for row in part():
                well = well and not row.is_beyond
                print(row, flush=True)
        except Exception as error:  # whatever is wrong with one, the others are measured
            well = False
            reason = (getattr(error, "stderr", "") or f"{type(error).__name__}: {error}").strip().splitlines()
            print(f"{part.__name__} could not be measured: {reason[-1]}", flush=True)
    print("all budgets are met" if well else "not all budgets are met")
    return 0 if well else 1


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
