"""From a raw table to rows: header, row lengths, characters, blanks, cells, ids that come twice."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace

from scheduler.errors import Fault
from scheduler.inputs.cells import Known, Unreadable, expected
from scheduler.inputs.columns import Column, Kind, Table
from scheduler.inputs.names import hidden_characters, look, nearest, normal, quoted
from scheduler.inputs.raw import RawRow, RawTable
from scheduler.inputs.read_cell import read_cell, written
from scheduler.inputs.rows import Row


def read_table(raw: RawTable, table: Table, known: Known) -> tuple[tuple[Row, ...], list[Fault]]:
    """The rows of a table in the order of their keys, and every fault in them."""
    at, faults = columns_of(raw, table)
    rows = []
    for raw_row in raw.rows:
        if not raw_row.blank:
            row, found = _read_row(raw, raw_row, table, at, known)
            rows.append(row)
            faults += found
    faults += _twice(rows, table)
    return tuple(sorted(rows, key=lambda row: _order(row, table))), faults


def columns_of(raw: RawTable, table: Table) -> tuple[dict[str, int], list[Fault]]:
    """Where each column stands, and the faults of the header."""
    at: dict[str, int] = {}
    faults = []
    names = {normal(name): name for name in table.names}
    for index, title in enumerate(raw.header):
        name = names.get(normal(title))
        if name is None:
            faults.append(_header_fault(raw, table, index, title))
        elif name in at:
            faults.append(_fault(raw, 1, name, "this column stands here twice", "each column once", index))
        else:
            at[name] = index
    wanted = f"the columns {', '.join(table.names)}"
    faults += [_fault(raw, 1, name, "this column is missing", wanted) for name in table.names if name not in at]
    return at, faults


def _header_fault(raw: RawTable, table: Table, index: int, title: str) -> Fault:
    if not title:
        return _fault(raw, 1, "", f"column number {index + 1} has no name", "a name over each column", index)
    near = nearest(title, table.names)
    wanted = f"only the columns {', '.join(table.names)}"
    return _fault(raw, 1, "", f"{quoted(title)} is not a column of this table", wanted, index, value=title, near=near)


def _fault(
    raw: RawTable, row: int, column: str, found: str, wanted: str, index: int = -1, *, value: str = "", near: str = ""
) -> Fault:
    cell = raw.address(row, index) if index >= 0 else ""
    return Fault(
        file=raw.place, row=row, column=column, value=value, found=found, expected=wanted, nearest=near, cell=cell
    )  # fmt: skip


def _read_row(
    raw: RawTable, raw_row: RawRow, table: Table, at: Mapping[str, int], known: Known
) -> tuple[Row, list[Fault]]:
    texts = {name: raw_row.cells[index].strip() for name, index in at.items() if index < len(raw_row.cells)}
    spots = {name: (raw_row.row, raw.address(raw_row.row, index)) for name, index in at.items()}
    blank_row = Row(table=table.name, place=raw.place, row=raw_row.row, values={}, texts=texts, spots=spots)
    if length := _wrong_length(raw, raw_row):
        return _all_bad(blank_row, table), [length]
    refused = _refused(blank_row, raw, raw_row, table, at)
    bare = replace(blank_row, texts={name: text for name, text in texts.items() if name not in refused})
    row, faults = read_values(bare, table, known)
    return replace(row, texts=texts), [*faults, *refused.values()]


_MAY_BE_DATES = (Kind.TIME, Kind.UTC_TIME, Kind.DAY, Kind.TEXT, Kind.HOURS, Kind.REST_DAYS)


def _refused(row: Row, raw: RawTable, raw_row: RawRow, table: Table, at: Mapping[str, int]) -> dict[str, Fault]:
    """Faults of cells that a workbook holds as something that cannot be read."""
    faults = {}
    for name, index in at.items():
        spot, column = (raw_row.row, index), table.column(name)
        if refused := raw.refused.get(spot):
            faults[name] = row.fault(name, refused.found, refused.expected)
        elif spot in raw.dates and column.kind not in _MAY_BE_DATES:
            faults[name] = row.fault(name, "{} is held as a date", f"{expected(column)}, in a cell of format text")
    return faults


def _wrong_length(raw: RawTable, raw_row: RawRow) -> Fault | None:
    found, wanted = len(raw_row.cells), len(raw.header)
    if found == wanted:
        return None
    mend = "Put text that has a comma in it into quotes, or fill in what is missing."
    return Fault(
        file=raw.place, row=raw_row.row, found=f"{found} cells stand in this row",
        expected=f"{wanted}, one under each column of the header", mend=mend,
    )  # fmt: skip


def _all_bad(row: Row, table: Table) -> Row:
    return replace(row, bad=frozenset(table.names))


def read_values(row: Row, table: Table, known: Known) -> tuple[Row, list[Fault]]:
    """The row with its texts read, and a fault for each that cannot be."""
    values: dict[str, object] = {}
    faults: list[Fault] = []
    for column in table.columns:
        if column.name in row.texts:
            try:
                values[column.name] = _value(row.texts[column.name], column, known)
            except Unreadable as bad:
                faults.append(row.fault_as_told(column.name, bad.found, bad.expected, near=bad.near))
    return replace(row, values=values, bad=frozenset(table.names) - values.keys()), faults


def _value(text: str, column: Column, known: Known) -> object:
    if hidden := hidden_characters(text):
        found = f"{quoted(text)} has characters in it that do not show ({', '.join(hidden)})"
        raise Unreadable(found, expected(column))
    if text:
        return read_cell(text, column, known)
    if not column.may_be_blank:
        raise Unreadable("nothing stands here, and it may not be blank", expected(column))
    return None


def _twice(rows: Iterable[Row], table: Table) -> Iterator[Fault]:
    """Keys that come twice, over all rows, those with other faults too; ids of one look but different letters."""
    seen: dict[tuple[str, ...], int] = {}
    looks: dict[str, tuple[str, int]] = {}
    lone = len(table.key) == 1 and table.column(table.key[0]).kind in (Kind.ID, Kind.REFERENCE)
    for row in rows:
        key = _key(row, table)
        if not any(key):
            continue
        before = seen.setdefault(key, row.row)
        name = table.key[0]
        if before != row.row:
            other = " and ".join(table.key)
            yield row.fault(name, f"{_shown(row, table)} stands already in row {before}", f"each {other} once")
        elif lone and (alike := looks.setdefault(look(key[0]), (key[0], row.row)))[0] != key[0]:
            found = f"{{}} looks like the one in row {alike[1]}, in other letters"
            yield row.fault(name, found, "ids that cannot be mistaken")


def _key(row: Row, table: Table) -> tuple[str, ...]:
    return tuple(
        normal(written(row.values[name]) if name in row.values else row.texts.get(name, "")) for name in table.key
    )  # fmt: skip


def _shown(row: Row, table: Table) -> str:
    return quoted(" | ".join(row.texts.get(name, "") for name in table.key))


def _order(row: Row, table: Table) -> tuple[object, ...]:
    key = tuple(_natural(part) for part in _key(row, table))
    return key, tuple((name, written(row.values[name])) for name in sorted(row.values))


def _natural(text: str) -> tuple[tuple[int, int, str], ...]:
    """`E2` before `E10`."""
    parts = (part for part in re.split(r"([0-9]{1,15})", text) if part)
    return tuple((0, int(part), "") if part[0] in "0123456789" else (1, 0, part) for part in parts)
