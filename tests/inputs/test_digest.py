"""The digest, worked by hand."""

from __future__ import annotations

import hashlib

import pytest

from scheduler.inputs.cells import Known
from scheduler.inputs.columns import Table
from scheduler.inputs.digest import canonical_text, digest_of
from scheduler.inputs.raw import RawRow, RawTable
from scheduler.inputs.read_cell import written
from scheduler.inputs.read_table import read_table
from scheduler.inputs.reference import TABLE_BY_NAME, TABLES
from scheduler.inputs.rows import Row


def rows_of(name: str, *lines: str) -> tuple[Row, ...]:
    header, *cells = (tuple(line.split(",")) for line in lines)
    rows = tuple(RawRow(number, row) for number, row in enumerate(cells, 2))
    raw = RawTable(name=name, place=f"{name}.csv", header=header, rows=rows, counted=len(rows), counted_blank=0)
    read, faults = read_table(raw, TABLE_BY_NAME[name], Known.nothing())
    assert faults == []
    return read


CLOCKS = rows_of("clocks", "offset,at", "+03:00,2027-03-11T02:00Z", "+0300,2027-03-07T00:00Z")
OUTLETS = rows_of("outlets", "outlet,kind,x_m,y_m,z_m,small_flow", " OV-1,Free Flow,70.50,0.0,,YES")


def test_the_text_of_the_digest_is_what_the_rule_says() -> None:
    # tables and cells in alphabetical order, rows by their own text, blanks left out, words as declared,
    # numbers in shortest decimal form, instants with Z
    assert canonical_text({"outlets": OUTLETS, "clocks": CLOCKS, "spaces": ()}, "folder") == (
        '{"clocks":[{"at":"2027-03-07T00:00Z","offset":"+03:00"},{"at":"2027-03-11T02:00Z","offset":"+03:00"}],'
        '"outlets":[{"kind":"free flow","outlet":"OV-1","small_flow":"yes","x_m":"70.5","y_m":"0"}]}'
    )


def test_the_digest_is_the_sha256_of_that_text() -> None:
    text = '{"clocks":[{"at":"2027-03-07T00:00Z","offset":"+03:00"},{"at":"2027-03-11T02:00Z","offset":"+03:00"}]}'
    assert digest_of({"clocks": CLOCKS}, "folder") == hashlib.sha256(text.encode()).hexdigest()


def test_a_folder_without_a_row_has_the_digest_of_an_empty_object() -> None:
    # printf '{}' | sha256sum
    assert digest_of({}, "folder") == "44136fa355b3678a1146ad16f7e8649e94fb4fc21fe77e8310c060f61caaff8a"


def test_every_number_has_one_written_form() -> None:
    assert [written(value) for value in (5.0, 0.1, -0.0, 1e-7, 123456789.0, 10.50)] == [
        "5", "0.1", "0", "0.0000001", "123456789", "10.5",
    ]  # fmt: skip


COLUMNS = [(table, column) for table in TABLES for column in table.names]


@pytest.mark.parametrize(("table", "column"), COLUMNS, ids=[f"{table.name}.{column}" for table, column in COLUMNS])
def test_every_column_of_every_table_is_in_one_digest(table: Table, column: str) -> None:
    one, other = (
        {table.name: (Row(table=table.name, place="", row=2, values={column: value}, texts={}),)}
        for value in ("as it was", "as it became")
    )
    changed = [which for which in ("folder", "forecast", "seen") if digest_of(one, which) != digest_of(other, which)]
    assert changed == [table.digest]


def test_only_the_forecast_and_what_was_seen_have_digests_of_their_own() -> None:
    assert {table.name: table.digest for table in TABLES if table.digest != "folder"} == {
        "weather": "forecast", "readings": "seen", "progress": "seen",
    }  # fmt: skip
