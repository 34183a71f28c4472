"""Reading a voyage folder: everything in it, or every fault in it."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

from scheduler.domain.folder import VoyageFolder
from scheduler.errors import Fault, InputFaults
from scheduler.inputs.cautions import cautions
from scheduler.inputs.cells import Known
from scheduler.inputs.conserve import lost_rows, row_counts
from scheduler.inputs.crosscheck import crosscheck
from scheduler.inputs.digest import digest_of
from scheduler.inputs.gather import gather_folder
from scheduler.inputs.known_ids import known_ids
from scheduler.inputs.raw import Gathered
from scheduler.inputs.read_keys import read_keys
from scheduler.inputs.read_table import read_table
from scheduler.inputs.records import records_of
from scheduler.inputs.reference import FILES, TABLE_BY_NAME, TABLES
from scheduler.inputs.rows import Row
from scheduler.inputs.voyage_rows import VoyageRows
from scheduler.inputs.week_records import clock_step_of
from scheduler.inputs.workbook import gather_workbook
from scheduler.times import ShipClock


def read_folder(path: Path) -> VoyageFolder:
    """The voyage folder or workbook at a path; raises InputFaults with every fault in it, and then nothing is read."""
    found = gather(path)
    voyage, faults = read_tables(found)
    faults += [*found.faults, *crosscheck(voyage)]
    if faults:
        raise InputFaults(faults)
    folder = _folder_of(voyage, found)
    if lost := lost_rows(folder.rows, found.tables):
        raise InputFaults(lost)
    return folder


def gather(path: Path) -> Gathered:
    """The raw tables at a path; raises InputFaults when nothing can be there."""
    if path.is_dir():
        return gather_folder(path)
    if path.exists():
        return gather_workbook(path)
    raise InputFaults([Fault(file=str(path), found="there is nothing here", expected="a voyage folder or workbook")])


def read_tables(found: Gathered) -> tuple[VoyageRows, list[Fault]]:
    """Every table as rows, the clock first since times hang on it, and every fault of single tables."""
    ids = known_ids(found.tables, found.broken)
    rows, faults = _read(found, "clocks", Known(ShipClock.of(()), ids))
    clock = ShipClock.of(()) if faults else _clock_of(rows["clocks"])  # half a clock would find faults that are none
    for table in FILES:
        if table.name != "clocks":
            more, more_faults = _read(found, table.name, Known(clock, ids))
            rows |= more
            faults += more_faults
    faulty = {fault.file for fault in faults}
    whole = frozenset(name for name, raw in found.tables.items() if raw.place not in faulty)
    return VoyageRows(rows=rows, clock=clock, whole=whole), faults


def _clock_of(rows: tuple[Row, ...]) -> ShipClock:
    return ShipClock.of(clock_step_of(row) for row in rows)


def _read(found: Gathered, name: str, known: Known) -> tuple[dict[str, tuple[Row, ...]], list[Fault]]:
    table = TABLE_BY_NAME[name]
    inside = next((one for one in TABLES if one.inside == name), None)
    if name not in found.tables:
        return {absent.name: () for absent in (table, inside) if absent is not None}, []
    if not table.key_value:
        rows, faults = read_table(found.tables[name], table, known)
        return {name: rows}, faults
    row, more, faults = read_keys(found.tables[name], table, inside, known)
    return {name: (row,)} | ({inside.name: more} if inside else {}), faults


def _folder_of(voyage: VoyageRows, found: Gathered) -> VoyageFolder:
    folder = records_of(voyage.rows, voyage.clock)
    return replace(
        folder,
        rows=row_counts(folder, voyage.rows, found.tables),
        not_read=tuple(sorted(found.not_read)),
        orders=tuple(sorted(found.orders)),
        missing=cautions(voyage),
        digest=digest_of(voyage.rows, "folder"),
        forecast_digest=digest_of(voyage.rows, "forecast"),
        seen_digest=digest_of(voyage.rows, "seen"),
    )
