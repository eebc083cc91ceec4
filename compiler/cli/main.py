"""`godet`: the command line. Heavy rooms are imported by the command that needs them, so that help is instant."""

from __future__ import annotations

import argparse
import gc
import os
import sys
import warnings
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, NoReturn

if TYPE_CHECKING:
    from ..diagnostics.diagnostic import Diagnostic

EPILOG = """exit codes: 0 all hold, 1 a check fails, 2 there are errors

Body measurements stay on this machine: nothing is sent anywhere.
Check the test square of every print before cutting."""

COLUMNS = "what its columns mean where they are not called by our words: CSV, lines of `theirs,ours,unit`"


def main(arguments: Sequence[str] | None = None) -> int:
    """Run one command; the exit code is 0 when all holds, 1 when a check fails, 2 on errors."""
    given = _parser().parse_args(arguments)
    gc.set_threshold(100_000)  # values are many and hold no rings: looking for rings as often as usual finds none
    command: Callable[[argparse.Namespace], int] = _command(given.command)
    try:
        with warnings.catch_warnings(record=True) as raised:
            warnings.simplefilter("default", RuntimeWarning)
            code = command(given)
        code = _warned(raised, code)
        sys.stdout.flush()
        return code
    except BrokenPipeError:  # the reader, such as `head`, has seen enough: silent, and no success, for not all may be done
        nothing = os.open(os.devnull, os.O_WRONLY)
        for stream in (sys.stdout, sys.stderr):  # what still waits in them goes nowhere
            os.dup2(nothing, stream.fileno())
        return 141
    except KeyboardInterrupt:
        return 130
    except Exception as error:
        if os.environ.get("GODET_DEBUG"):
            raise
        from ..diagnostics.running_words import internal

        _print([internal(f"{type(error).__name__}: {error}")])
        return 2


def _warned(raised: Sequence[warnings.WarningMessage], code: int) -> int:
    """What a library warned of while numbers were reckoned, told in our words: a number there may be none."""
    if raised:
        from ..diagnostics.running_words import unsure_numbers

        told = dict.fromkeys(f"{one.message}, at {Path(one.filename).name}:{one.lineno}" for one in raised)
        _print([unsure_numbers(list(told))])
    return code


def _print(found: Sequence[Diagnostic]) -> None:
    from ..diagnostics.colours import are_wanted
    from ..diagnostics.printing import print_all

    print(print_all(found, {}, are_wanted(sys.stderr)), file=sys.stderr)


def _command(name: str) -> Callable[[argparse.Namespace], int]:
    from . import commands

    found: Callable[[argparse.Namespace], int] = getattr(commands, "words_" if name == "words" else name)
    return found


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(
        prog="godet",
        description="Write a style once, as text, and get true-scale pattern pieces for any body.",
        epilog=EPILOG,
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    commands = parser.add_subparsers(dest="command", required=True, metavar="COMMAND")
    new = commands.add_parser("new", help="write a first style of your own, which draws, with comments that teach")
    new.add_argument("name", metavar="NAME", help="what it is called: NAME.style is written")
    new.add_argument("--of", required=True, choices=["dirndl", "shirt", "skirt", "top", "trousers"], help="what kind of garment")
    build = commands.add_parser("build", help="write the pattern of each body as SVG and as pages to print (PDF)")
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
    check = commands.add_parser("check", help="prove a style, and its pattern on bodies, without writing anything")
    _style(check)
    _sizes(check)
    check.add_argument("--all", action="store_true", help="every check that holds, also those of its blocks and recipes")
    report = commands.add_parser("report", help="pieces, seams, checks and estimates of each body")
    _style(report)
    _sizes(report)
    report.add_argument("--format", default="text", choices=["text", "json"], help="text to read, or JSON")
    report.add_argument("--schema", action=_Schema, nargs=0, help="print the JSON schema of the report, and nothing else")
    grade = commands.add_parser("grade", help="how a style grows over the sizes of a chart, and which sentences make it uneven")
    _style(grade)
    _sizes(grade)
    moves = "how far each point moves per 1 of each measurement and choice, on bodies or sizes; of sizes their growth by cause"
    grade.add_argument("--rates", action="store_true", help=moves)
    grade.add_argument("--format", default="text", choices=["text", "csv", "json"], help="text to read, CSV, or JSON")
    grade.add_argument("--picture", metavar="FILE", help="write the growth of each corner as arrows too (SVG)")
    grade.add_argument("--schema", action=_Schema, nargs=0, help="print the JSON schema, after --rates that of the rates")
    prove = commands.add_parser("prove", help="on how many bodies of a population a style draws, sews, goes together and fits")
    prove.add_argument("style", metavar="STYLE", help="a style file")
    prove.add_argument("--population", metavar="FILE", help="a table of bodies: CSV (also .csv.gz) or Parquet (.parquet)")
    prove.add_argument("--columns", metavar="FILE", default="", help=COLUMNS)
    prove.add_argument("--pictures", metavar="DIR", help="write the distributions and what tells a failure as SVG into a folder")
    prove.add_argument("--format", default="text", choices=["text", "json"], help="text to read, or JSON")
    prove.add_argument("--schema", action=_Schema, nargs=0, help="print the JSON schema of the proof, and nothing else")
    shared = "processes that share the bodies from 500 on (default: as many as there are cores); the result is the same"
    prove.add_argument("--jobs", type=_count, metavar="N", help=shared)
    _engine(prove)
    _settings(prove)
    said = "where a number, an edge or a piece comes from: sentences, inputs, this body's arithmetic"
    explain = commands.add_parser("explain", help=said)
    explain.add_argument("style", metavar="STYLE")
    explain.add_argument("name", metavar="NAME", help="a definition, as base.d.nape or front, or part of a piece, as front.hem")
    explain.add_argument("--all", action="store_true", help="every line, also sentences that leave an edge as it is")
    _choices(explain)
    formatter = commands.add_parser("fmt", help="put style files into the one layout")
    formatter.add_argument("files", nargs="+", metavar="STYLE")
    formatter.add_argument("--check", action="store_true", help="write nothing; exit 1 if a file would change")
    measures = commands.add_parser("measures", help="the measurements, or what a style needs and why")
    measures.add_argument("style", nargs="?", metavar="STYLE")
    measures.add_argument(
        "--for", dest="wearer", choices=["woman", "man", "child"], help="only what is measured of such a wearer"
    )
    _choices(measures)
    found = "the words of the language, the entry of one, or those that a term of the trade means"
    words = commands.add_parser("words", help=found)
    called = "a word of the language, or what a cutter calls it: several narrow it"
    words.add_argument("word", nargs="*", metavar="WORD", help=called)
    words.add_argument("--figures", metavar="DIR", help="write the figure of the word, or of all words, as SVG into a folder")
    words.add_argument("--all", action="store_true", help="the whole reference, as Markdown")
    return parser


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
        from ..output import schema

        growth = schema.rates_schema if getattr(namespace, "rates", False) else schema.growth_schema
        made = {"grade": growth, "prove": schema.proof_schema}.get(parser.prog.split()[-1], schema.report_schema)
        print(schema.schema_text(made()), end="")
        parser.exit()


if __name__ == "__main__":
    sys.exit(main())
