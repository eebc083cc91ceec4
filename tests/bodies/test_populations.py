"""Tables of bodies: however one is written, the same bodies are read; what cannot be read is told with its place and a fix."""

from __future__ import annotations

import csv
import gzip
import io
import sys
from collections.abc import Mapping, Sequence
from pathlib import Path
from types import MappingProxyType

import pyarrow as pa
import pyarrow.csv as pa_csv
import pyarrow.parquet as pq
import pytest
from godet.bodies.body import Body
from godet.bodies.columns import Column, mapping
from godet.bodies.populations import NoTable, open_table, read_rows
from support.real_bodies import POPULATIONS, all_women, real_women

SOME = real_women(5, 1)
WORDS = ("stature", "bust_girth", "natural_waist_girth", "hip_girth")


def rows(people: Sequence[Body] = SOME, per: float = 1.0) -> list[dict[str, object]]:
    unit = {1.0: "mm", 10.0: "cm"}[per]
    return [{"name": b.name, "sex": b.sex, "unit": unit, **{word: b.measures[word] / per for word in WORDS}} for b in people]


def as_csv(table: list[dict[str, object]], separator: str = ",") -> bytes:
    out = io.StringIO()
    writer = csv.DictWriter(out, list(table[0]), delimiter=separator)
    writer.writeheader()
    writer.writerows(table)
    text = out.getvalue()
    return (text if separator == "," else text.replace(".", ",")).encode()


Plain = list[tuple[str, str | None, dict[str, float]]]


def bodies(content: bytes, path: str = "women.csv", mapped: Sequence[Column] = ()) -> Plain:
    table = open_table(path, io.BytesIO(content), mapped)
    read = read_rows(path, table.columns, list(table.rows))
    assert [problems for _, _, problems, _ in read] == [()] * len(read)
    return [(b.name, b.sex, {k: round(v, 6) for k, v in b.measures.items()}) for _, b, _, _ in read if b is not None]


EXPECTED = [(b.name, b.sex, {word: b.measures[word] for word in WORDS}) for b in SOME]


def parquet(table: list[dict[str, object]], types: Mapping[str, pa.DataType] = MappingProxyType({}), **options: object) -> bytes:
    """A table as another library writes it, some of its columns of other types."""
    plain, out = pa.Table.from_pylist(table), io.BytesIO()
    schema = pa.schema([(one.name, types.get(one.name, one.type)) for one in plain.schema])
    pq.write_table(plain.cast(schema), out, **options)
    return out.getvalue()


def csv_of_arrow(table: list[dict[str, object]], **options: object) -> bytes:
    out = io.BytesIO()
    pa_csv.write_csv(pa.Table.from_pylist(table), out, pa_csv.WriteOptions(**options))
    return out.getvalue()


CATEGORIES = {name: pa.dictionary(pa.int8(), pa.string()) for name in ("sex", "unit")}
OTHER_NUMBERS = {"stature": pa.float32(), "bust_girth": pa.int16(), "hip_girth": pa.decimal128(8, 2), "name": pa.large_string()}


@pytest.mark.parametrize(
    ("content", "path"),
    [
        (as_csv(rows()), "women.csv"),
        (b"\xef\xbb\xbf" + as_csv(rows()).replace(b"\r\n", b"\n"), "women.csv"),
        (as_csv(rows(per=10.0)), "women.csv"),
        (as_csv(rows(per=10.0), ";"), "women.csv"),
        (as_csv(rows(per=10.0), "\t"), "women.txt"),
        (gzip.compress(as_csv(rows())), "women.csv.gz"),
        (parquet(rows()), "women.parquet"),
        (parquet(rows(per=10.0)), "women.parquet"),
        (parquet(rows(), CATEGORIES, compression="zstd", row_group_size=2), "women.parquet"),
        (parquet(rows(), OTHER_NUMBERS, compression="gzip", version="1.0"), "women.parquet"),
        (csv_of_arrow(rows()), "women.csv"),
        (csv_of_arrow(rows(), quoting_style="all_valid", delimiter=";"), "women.csv"),
    ],
)
def test_however_it_is_written_the_same_bodies_are_read(content: bytes, path: str) -> None:
    assert bodies(content, path) == EXPECTED


def test_the_survey_that_ships_is_read_as_it_is() -> None:
    path = POPULATIONS / "women_1988.csv.gz"
    table = open_table(path.name, io.BytesIO(path.read_bytes()))
    first = list(table.rows)
    assert len(first) == len(all_women())
    for (_, body, problems, _), woman in zip(read_rows(path.name, table.columns, first[:20]), all_women(), strict=False):
        assert not problems
        assert body is not None
        assert body.measures == woman.measures


def test_columns_of_another_table_are_read_by_a_mapping() -> None:
    lines, wrong = mapping("map.csv", "theirs,ours,unit\nid,name,\nGender,sex,\nHeight,stature,in\nchest,bust_girth,cm\nrank,,\n")
    assert not wrong
    content = b"id,Gender,Height,chest,rank\n7,F,64,92,captain\n"
    table = open_table("other.csv", io.BytesIO(content), lines)
    assert not table.told  # what is left out on purpose is not told
    assert bodies(content, "other.csv", lines) == [("7", "F", {"stature": 1625.6, "bust_girth": 920.0})]


def told(content: bytes, path: str = "women.csv", mapped: Sequence[Column] = ()) -> tuple[str, str]:
    with pytest.raises(NoTable) as raised:
        list(open_table(path, io.BytesIO(content), mapped).rows)
    return raised.value.problems[0].message, raised.value.problems[0].fix


@pytest.mark.parametrize(
    ("content", "path", "message", "fix"),
    [
        (b"", "a.csv", "`a.csv` holds no bodies", "a line of column names"),
        (b"id,rank\n1,2\n", "a.csv", "no column of `a.csv` is a measurement: it has `id`, `rank`", "--columns"),
        (b"name,stature\na,1640\n", "a.csv", "nothing says in which unit `stature` of `a.csv` is", "`unit`"),
        (b"unit,height,stature\nmm,1,2\n", "a.csv", "`height`, `stature` of `a.csv` are all read as `stature`", "keep one"),
        (b"not gzip", "a.csv.gz", "`a.csv.gz` cannot be read as a table", "CSV"),
        (b"\xff\xfe\x00", "a.csv", "`a.csv` cannot be read as a table", "CSV"),
        (b"no parquet", "a.parquet", "`a.parquet` cannot be read as a table", "Parquet"),
        (gzip.compress(as_csv(rows()))[:-30], "a.csv.gz", "`a.csv.gz` cannot be read as a table", "CSV"),
    ],
)
def test_a_file_that_is_no_table_of_bodies_is_told(content: bytes, path: str, message: str, fix: str) -> None:
    said = told(content, path)
    assert message in said[0]
    assert fix in said[1]


def test_a_column_that_is_not_read_is_told_with_what_it_may_be() -> None:
    table = open_table("a.csv", io.BytesIO(b"name,unit,stature,bust_grith\na,mm,1640,920\n"))
    assert "`bust_grith`" in table.told[0].message
    assert "is `bust_grith` our `bust_girth`?" in table.told[0].fix


@pytest.mark.parametrize(
    ("text", "message"),
    [
        ("ours,theirs\n", "it reads `ours,theirs`"),
        ("theirs,ours,unit\nHeight,statur,cm\n", "`statur` is no word of ours"),
        ("theirs,ours,unit\nHeight,stature,feet\n", "`feet` is no unit of a length"),
        ("theirs,ours,unit\nMass,body_mass,kg\n", "`body_mass` takes no unit"),
    ],
)
def test_a_mapping_with_a_slip_is_told_with_its_line(text: str, message: str) -> None:
    problem = mapping("map.csv", text)[1][0]
    assert message in problem.message
    assert problem.fix


def test_a_mapping_of_a_column_that_is_not_there_is_told() -> None:
    lines, _ = mapping("map.csv", "theirs,ours,unit\nHigh,stature,mm\n")
    assert told(b"Height,bust_girth\n1,2\n", mapped=lines) == ("`women.csv` has no column `High`", "write `Height`")


def test_a_row_that_is_no_body_is_told_by_the_reader_of_body_files() -> None:
    table = open_table("a.csv", io.BytesIO(b"name,sex,unit,stature\na,F,mm,tall\nb,X,mm,1640\nc,F,mm,1640\n"))
    read = read_rows("a.csv", table.columns, list(table.rows))
    said = [problems[0].message if problems else "" for _, _, problems, _ in read]
    assert ["stature" in said[0], "X" in said[1], said[2]] == [True, True, ""]
    assert [problems[0].span.file for _, _, problems, _ in read[:2] if problems[0].span] == ["a.csv:2", "a.csv:3"]
    assert [body.name for _, body, _, _ in read if body is not None] == ["c"]


def test_without_pyarrow_parquet_is_told_and_csv_is_read(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.setitem(sys.modules, "pyarrow", None)
    message, fix = told(parquet(rows()), "a.parquet")
    assert "not installed" in message
    assert 'pip install "godet[parquet]"' in fix
    assert bodies(as_csv(rows())) == EXPECTED


def read_csv(content: bytes) -> list[tuple[str, str]]:
    """Of each row the name of its body, or why it is none."""
    table = open_table("a.csv", io.BytesIO(content))
    read = read_rows("a.csv", table.columns, list(table.rows))
    return [(body.name, "") if body else ("", problems[0].message) for _, body, problems, _ in read]


def test_a_row_with_a_cell_too_many_or_too_few_is_told_by_its_line() -> None:
    """A decimal comma without quotes would make the bust 92 and the waist 5."""
    head = b"name,sex,unit,bust_girth,natural_waist_girth\n"
    assert read_csv(head + b"a,F,cm,92,70\nb,F,cm,92,5,70\nc,F,cm,92\nd,F,cm,92,\n") == [
        ("a", ""),
        ("", "line 3 of `a.csv` has 6 cells, and 5 columns are named"),
        ("", "line 4 of `a.csv` has 4 cells, and 5 columns are named"),
        ("d", ""),
    ]


def test_a_row_without_its_unit_is_not_read_as_millimetres() -> None:
    said = read_csv(b"name,unit,bust_girth\na,cm,92\nb,,92\n")
    assert said == [("a", ""), ("", "line 3 of `a.csv` has nothing in its column `unit`")]


@pytest.mark.parametrize("separator", [",", ";"])
def test_names_that_look_like_numbers_stay_as_they_are_written(separator: str) -> None:
    names = ["1234567", "1234568", "0012", "12", "1e5", "1_0"]
    lines = [separator.join(("name", "unit", "bust_girth")), *(separator.join((name, "cm", "92")) for name in names)]
    assert read_csv("\n".join(lines).encode()) == [(name, "") for name in names]


@pytest.mark.parametrize("names", [[1234567, 12345678901234567], [1234567, None], [1234567.0, 2.5]])
def test_numbers_as_names_of_parquet_are_told_in_all_their_digits(names: list[float | None]) -> None:
    table = parquet([{"name": name, "unit": "cm", "bust_girth": 92} for name in names])
    expected = {None: "row 2", 2.5: "2.5", 1234567.0: "1234567"}
    assert [name for name, _, _ in bodies(table, "a.parquet")] == [expected.get(name, str(name)) for name in names]


def test_a_file_that_breaks_off_without_a_word_is_told() -> None:
    class Broken(io.BytesIO):
        def read(self, _: int | None = -1) -> bytes:
            raise EOFError

        read1 = read

    with pytest.raises(NoTable) as raised:
        open_table("a.csv", Broken())
    assert raised.value.problems[0].message == "`a.csv` cannot be read as a table: it is damaged"
