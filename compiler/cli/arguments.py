"""What each command is given: its options, and what its help says."""

from __future__ import annotations

import argparse
from collections.abc import Callable
from typing import NoReturn

EPILOG = """exit codes: 0 all hold, 1 a check fails, 2 there are errors

Body measurements stay on this machine; only to an `--engine` that you name are they sent.
Check the test square of every print before cutting."""

DIFF_EPILOG = """exit codes: 0 the same cloth (proved, or on all bodies given; words and bounds may differ), 1 it changes, or
may and no body is given, 2 a side cannot be read or drawn

  godet diff                                    HEAD against what lies on the disk, every style
  godet diff patterns/long_top.style            one style, as it was in HEAD and as it is
  godet diff v1.2 main:patterns --body bodies   all styles of a folder, on bodies
  godet diff old.style new.style --svg out --body anna.toml

git is asked for texts only; nothing is checked out. Both sides are read by this compiler, each with the library its tree holds
(a folder `stdlib` where it begins), else with that of the compiler."""

COLUMNS = "what its columns mean where they are not called by our words: CSV, lines of `theirs,ours,unit`"

Commands = Callable[..., argparse.ArgumentParser]
"""Adds a command: its name, and `help`."""


def parser() -> argparse.ArgumentParser:
    """The parser of the command line, commands in the order of the work."""
    found = argparse.ArgumentParser(
        prog="godet",
        description="Write a style once, as text, and get true-scale pattern pieces for any body.",
        epilog=EPILOG,
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    add = found.add_subparsers(dest="command", required=True, metavar="COMMAND").add_parser
    for command in (_new, _build, _check, _report, _grade, _prove, _explain, _diff, _fmt, _measures, _words, _completion):
        command(add)
    return found


def _new(add: Commands) -> None:
    new = add("new", help="write a first style of your own, which draws, with comments that teach")
    new.add_argument("name", metavar="NAME", help="what it is called: NAME.style is written")
    new.add_argument("--of", required=True, choices=["dirndl", "shirt", "skirt", "top", "trousers"], help="what kind of garment")


def _build(add: Commands) -> None:
    build = add("build", help="write the pattern of each body as SVG and as pages to print (PDF)")
    _style(build)
    build.add_argument("--out", default="out", metavar="DIR", help="folder for the files (default: out)")
    build.add_argument(
        "--paper", default="a4", choices=["a4", "a3", "letter", "legal"], help="paper of the PDF (default: a4)"
    )
    build.add_argument(
        "--toile",
        action="store_true",
        help="the pattern of a toile instead: one cloth, wide allowances, strong levels, no facings, linings or interlinings",
    )
    build.add_argument("--no-levels", action="store_true", help="leave out the levels of the body (bust, waist, hip)")
    _sizes(build)
    build.add_argument("--apart", action="store_true", help="a set of files for each size, not all sizes in one nest")
    build.add_argument(
        "--split", action="store_true", help="a nest for each range of sizes whose pieces have the same darts and edges"
    )
    _clients(build)
    _format(build)


def _check(add: Commands) -> None:
    check = add("check", help="prove styles, and their patterns on bodies, without writing anything")
    check.add_argument("styles", nargs="+", metavar="STYLE", help="style files")
    _choices(check)
    _sizes(check)
    check.add_argument("--all", action="store_true", help="every check that holds, also those of its blocks and recipes")
    check.add_argument("--watch", action="store_true", help="check again whenever a file changes, until ctrl-C")
    _format(check)


def _report(add: Commands) -> None:
    report = add("report", help="pieces, seams, checks and estimates of each body")
    _style(report)
    _sizes(report)
    _format(report)


def _grade(add: Commands) -> None:
    grade = add("grade", help="how a style grows over the sizes of a chart, and which sentences make it uneven")
    _style(grade)
    _sizes(grade)
    moves = "how far each point moves per 1 of each measurement and choice, on bodies or sizes; of sizes their growth by cause"
    grade.add_argument("--rates", action="store_true", help=moves)
    _format(grade, "csv")
    grade.add_argument("--picture", metavar="FILE", help="write the growth of each corner as arrows too (SVG)")


def _prove(add: Commands) -> None:
    prove = add("prove", help="on how many bodies of a population a style draws, sews, goes together and fits")
    prove.add_argument("style", metavar="STYLE", help="a style file")
    prove.add_argument("--population", metavar="FILE", help="a table of bodies: CSV (also .csv.gz) or Parquet (.parquet)")
    prove.add_argument("--columns", metavar="FILE", default="", help=COLUMNS)
    prove.add_argument("--pictures", metavar="DIR", help="write the distributions and what tells a failure as SVG into a folder")
    _format(prove)
    shared = "processes that share the bodies from 500 on (default: as many as there are cores); the result is the same"
    prove.add_argument("--jobs", type=_count, metavar="N", help=shared)
    _engine(prove)
    _settings(prove)


def _explain(add: Commands) -> None:
    said = "where a number, an edge or a piece comes from: sentences, inputs, this body's arithmetic"
    explain = add("explain", help=said)
    explain.add_argument("style", metavar="STYLE")
    explain.add_argument("name", metavar="NAME", help="a definition, as base.d.nape or front, or part of a piece, as front.hem")
    explain.add_argument("--all", action="store_true", help="every line, also sentences that leave an edge as it is")
    _choices(explain)
    _format(explain)


def _diff(add: Commands) -> None:
    diff = add(
        "diff",
        help="what changes from one version of a style to another: sentences, what is proved the same, and cloth on bodies",
        epilog=DIFF_EPILOG,
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    what = "a file, a folder, REV or REV:PATH of a git repository (PATH from where that begins)"
    diff.add_argument("old", nargs="?", metavar="OLD", help=f"{what}; default: HEAD")
    diff.add_argument("new", nargs="?", metavar="NEW", help="the same; default: what lies on the disk")
    _choices(diff)
    _sizes(diff)
    more = "also sentences that are only written otherwise, or rest on what changed"
    diff.add_argument("--all", action="store_true", help=more)
    least = "the least move of a line that is told (default: 0.5)"
    diff.add_argument("--least", type=_moved, default=0.5, metavar="MM", help=least)
    diff.add_argument("--svg", metavar="DIR", help="write old and new laid on one another, for each body, as SVG into a folder")
    diff.add_argument("--each", action="store_true", help="tell each change alone where there are more than 12 too")
    diff.add_argument("--quiet", action="store_true", help="the first line only")
    _format(diff, "markdown")


def _fmt(add: Commands) -> None:
    formatter = add("fmt", help="put style files into the one layout")
    formatter.add_argument("files", nargs="+", metavar="STYLE")
    what = formatter.add_mutually_exclusive_group()
    what.add_argument("--check", action="store_true", help="write nothing; exit 1 if a file would change")
    meaning = "write nothing; print the sentences one a line, without comments, sorted: for `textconv` of git"
    what.add_argument("--meaning", action="store_true", help=meaning)
    _format(formatter)


def _measures(add: Commands) -> None:
    measures = add("measures", help="the measurements, or what a style needs and why")
    measures.add_argument("style", nargs="?", metavar="STYLE")
    measures.add_argument(
        "--for", dest="wearer", choices=["woman", "man", "child"], help="only what is measured of such a wearer"
    )
    _choices(measures)
    _format(measures)


def _words(add: Commands) -> None:
    found = "the words of the language, the entry of one, or those that a term of the trade means"
    words = add("words", help=found)
    called = "a word of the language, or what a cutter calls it: several narrow it"
    words.add_argument("word", nargs="*", metavar="WORD", help=called)
    words.add_argument("--figures", metavar="DIR", help="write the figure of the word, or of all words, as SVG into a folder")
    words.add_argument("--all", action="store_true", help="the whole reference, as Markdown")
    _format(words)


def _completion(add: Commands) -> None:
    completion = add("completion", help="what a shell completes behind TAB, as text that it reads")
    completion.add_argument("shell", choices=["bash", "zsh", "fish"])


def _style(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("style", metavar="STYLE", help="a style file")
    _choices(parser)


def _sizes(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("--sizes", metavar="CHART", help="a size chart (CSV or a spreadsheet) instead of bodies")
    parser.add_argument("--only", default="", metavar="SIZES", help="some of its sizes: 84,96 or 84..104 or a range it names")


def _clients(parser: argparse.ArgumentParser) -> None:
    told = "many people, a set of files for each: a table (CSV or a spreadsheet) or a folder of body files"
    parser.add_argument("--clients", metavar="FILE", help=f"{told}; what has not changed is not made again")
    parser.add_argument("--columns", metavar="FILE", default="", help=COLUMNS)
    labelled = "what stands on paper and in file names: a client's name, or its id, which keeps names off paper"
    parser.add_argument("--label", default="name", choices=["name", "id"], help=labelled)
    shared = "processes that share the clients from 12 on (default: as many as there are cores); the files are the same"
    parser.add_argument("--jobs", type=_count, metavar="N", help=shared)
    _engine(parser)


def _format(parser: argparse.ArgumentParser, *more: str) -> None:
    forms = ["text", *more, "json"]
    parser.add_argument("--format", default="text", choices=forms, help="text to read, or for other programs")
    parser.add_argument("--schema", action=_Schema, nargs=0, help="print the schema of the JSON, and nothing else")


def _engine(parser: argparse.ArgumentParser) -> None:
    told = "other machines share the work: dask://ADDRESS, a scheduler of dask.distributed (extra `godet[dask]`)"
    where = "the texts of the style, its settings and the rows are sent to its workers, and all is written here"
    parser.add_argument("--engine", default="", metavar="ADDRESS", help=f"{told}; {where}")


def _bodies(parser: argparse.ArgumentParser) -> None:
    parser.add_argument(
        "--body", action="append", default=[], metavar="FILE", help="a body file, or a folder of them; may be repeated"
    )


def _choices(parser: argparse.ArgumentParser) -> None:
    _bodies(parser)
    _settings(parser)


def _count(text: str) -> int:
    if not text.isdecimal() or not int(text):
        raise argparse.ArgumentTypeError(f"{text} is no number of processes: 1, 2, 3 …")
    return int(text)


def _moved(text: str) -> float:
    try:
        least = float(text)
    except ValueError:
        least = -1.0
    if not 0.01 <= least <= 1000:
        raise argparse.ArgumentTypeError(f"{text} is no length in mm from 0.01 to 1000")
    return least


def _settings(parser: argparse.ArgumentParser) -> None:
    parser.add_argument(
        "--set",
        action="append",
        default=[],
        metavar="CHOICE=VALUE",
        help='a choice of the style, as in --set overarm="12 cm"',
    )


class _Schema(argparse.Action):
    """Prints the schema and ends, whatever else is given."""

    def __call__(self, parser: argparse.ArgumentParser, namespace: argparse.Namespace, *_: object) -> NoReturn:
        from ..output.schema import schema, schema_text

        command = "rates" if getattr(namespace, "rates", False) else parser.prog.split()[-1]
        print(schema_text(schema(command)), end="")
        parser.exit()
