"""From a raw key-value table (a TOML file or its sheet) to one row of keys, and the rows of a table inside it."""

from __future__ import annotations

import re
from collections.abc import Collection, Iterator

from scheduler.errors import Fault
from scheduler.inputs.cells import Known
from scheduler.inputs.columns import Table, text
from scheduler.inputs.names import nearest, normal, quoted
from scheduler.inputs.raw import RawTable
from scheduler.inputs.read_table import read_table, read_values
from scheduler.inputs.rows import Row


def read_keys(
    raw: RawTable, table: Table, inside: Table | None, known: Known
) -> tuple[Row, tuple[Row, ...], list[Fault]]:
    """All keys as one row, the rows of the table inside it, and every fault."""
    lines, faults = _lines(raw, table)
    own: dict[str, Row] = {}
    grouped: dict[int, dict[str, Row]] = {}
    for key, line in lines.items():
        place = _place_inside(key, inside)
        if place:
            grouped.setdefault(place[0], {})[place[1]] = line
        elif key in table.names:
            own[key] = line
        else:
            faults.append(_unknown(line, key, table))
    row, found = _one_row(raw, table, own, known)
    faults += found
    rows = []
    for number in sorted(grouped):
        if inside is not None:
            one, found = _one_row(raw, inside, grouped[number], known, f"{inside.name}.{number}.")
            rows.append(one)
            faults += found
    return row, tuple(rows), faults


def _lines(raw: RawTable, table: Table) -> tuple[dict[str, Row], list[Fault]]:
    """Each key with the line that it stands in; keys of the table as the table spells them."""
    as_rows = Table(
        name=table.name, folder="", meaning="", columns=(text("key", "a key"), text("value", "its value", "not given")),
    )  # fmt: skip
    names = {_loose(name): name for name in table.names}
    lines: dict[str, Row] = {}
    rows, faults = read_table(raw, as_rows, Known.nothing())
    for line in sorted(rows, key=lambda row: row.row):
        key = names.get(_loose(line.texts.get("key", "")), normal(line.texts.get("key", "")))
        if key in lines:
            faults.append(_key_fault(line, key, f"this key stands already in row {lines[key].row}", "each key once"))
        elif line.reads("key"):
            lines[key] = line
    return lines, faults


def _loose(key: str) -> str:
    return normal(key).replace(" ", "_")


def _place_inside(key: str, inside: Table | None) -> tuple[int, str] | None:
    found = re.fullmatch(rf"{inside.name}\.([0-9]{{1,4}})\.(.+)", key) if inside else None
    return (int(found[1]), found[2]) if found and inside and found[2] in inside.names else None


def _unknown(line: Row, key: str, table: Table) -> Fault:
    near = nearest(key, table.names)
    found = f"{quoted(line.texts['key'])} is no key of {table.name}"
    return _key_fault(line, key, found, "only keys that are known", near)


def _key_fault(line: Row, key: str, found: str, wanted: str, near: str = "") -> Fault:
    row, cell = line.spots.get("key", (line.row, ""))
    return Fault(
        file=line.place, row=row, column=key, value=line.texts.get("value", ""), found=found, expected=wanted,
        nearest=near, cell=cell,
    )  # fmt: skip


def _one_row(
    raw: RawTable, table: Table, lines: dict[str, Row], known: Known, before: str = ""
) -> tuple[Row, list[Fault]]:
    texts = {column.name: "" for column in table.columns if column.may_be_blank}
    texts |= {name: line.texts.get("value", "") for name, line in lines.items()}
    for name in [name for name, line in lines.items() if "value" in line.bad]:
        del texts[name]  # the fault of its cell is known already
    spots = {name: line.spots.get("value", (line.row, "")) for name, line in lines.items()}
    first = min((line.row for line in lines.values()), default=0) if before else 0
    row = Row(table=table.name, place=raw.place, row=first, values={}, texts=texts, spots=spots)
    read, faults = read_values(row, table, known)
    return read, [*faults, *_missing(raw, table, {*texts, *lines}, before)]


def _missing(raw: RawTable, table: Table, given: Collection[str], before: str) -> Iterator[Fault]:
    for name in table.names:
        if name not in given:
            yield Fault(
                file=raw.place, column=before + name, found="this key is missing",
                expected=f"the key {before}{name}, {table.column(name).meaning}",
                mend="Add it and read the folder again.",
            )  # fmt: skip
