"""Reading a voyage folder: everything in it, or every fault in it."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

from scheduler.domain.folder import RowCount, VoyageFolder
from scheduler.errors import Fault, InputFaults
from scheduler.inputs import ship_records as ship
from scheduler.inputs import week_records as week
from scheduler.inputs.cells import Known
from scheduler.inputs.digest import digest_of
from scheduler.inputs.gather import gather_folder
from scheduler.inputs.known_ids import known_ids
from scheduler.inputs.raw import Gathered
from scheduler.inputs.read_keys import read_keys
from scheduler.inputs.read_table import read_table
from scheduler.inputs.reference import FILES, TABLE_BY_NAME, TABLES
from scheduler.inputs.rows import Row
from scheduler.times import ShipClock


def read_folder(path: Path) -> VoyageFolder:
    """The voyage folder (or workbook) at a path; raises InputFaults with every fault in it."""
    found = gather(path)
    tables, faults = read_tables(found)
    faults += found.faults
    if faults:
        raise InputFaults(faults)
    return folder_of(tables, found)


def gather(path: Path) -> Gathered:
    """The raw tables at a path."""
    if path.is_dir():
        return gather_folder(path)
    raise InputFaults([Fault(file=path.name, found="there is no such folder", expected="a voyage folder")])


def read_tables(found: Gathered) -> tuple[dict[str, tuple[Row, ...]], list[Fault]]:
    """Every table as rows, the clock first since times hang on it, and every fault of single tables."""
    ids = known_ids(found.tables, found.broken)
    rows, faults = _read(found, "clocks", Known(ShipClock.of(()), ids))
    known = Known(clock_of(rows["clocks"]), ids)
    for table in FILES:
        if table.name != "clocks":
            more, found_faults = _read(found, table.name, known)
            rows |= more
            faults += found_faults
    return rows, faults


def clock_of(rows: tuple[Row, ...]) -> ShipClock:
    """The ship's clock out of the rows that can be read."""
    return ShipClock.of(week.clock_step_of(row) for row in rows if row.reads("at", "offset"))


def _read(found: Gathered, name: str, known: Known) -> tuple[dict[str, tuple[Row, ...]], list[Fault]]:
    table = TABLE_BY_NAME[name]
    if name not in found.tables:
        return {name: ()}, []
    if not table.key_value:
        rows, faults = read_table(found.tables[name], table, known)
        return {name: rows}, faults
    inside = next((one for one in TABLES if one.inside == name), None)
    row, more, faults = read_keys(found.tables[name], table, inside, known)
    return {name: (row,)} | ({inside.name: more} if inside else {}), faults


def folder_of(rows: Mapping[str, tuple[Row, ...]], found: Gathered) -> VoyageFolder:
    """The record of everything; the rows have no faults."""
    this_week = week.week_of(rows["week"][0])
    clock = clock_of(rows["clocks"])
    return VoyageFolder(
        ship=ship.ship_of(rows["ship"][0], rows["fuel"]),
        spaces=tuple(map(ship.space_of, rows["spaces"])),
        neighbours=ship.contacts_of(rows["neighbours"]),
        openings=tuple(map(ship.opening_of, rows["openings"])),
        outlets=tuple(map(ship.outlet_of, rows["outlets"])),
        outlet_tanks=tuple(map(ship.outlet_tank_of, rows["outlet_tanks"])),
        lines=tuple(map(ship.pipe_of, rows["lines"])),
        gear=tuple(map(ship.gear_of, rows["gear"])),
        policy=ship.policy_of(rows["policy"][0], rows["week"][0]),
        people=tuple(map(ship.person_of, rows["people"])),
        duties=tuple(duty for row in rows["duties"] for duty in ship.duties_of(row, clock, this_week)),
        past_hours=tuple(map(ship.past_hours_of, rows["past_hours"])),
        week=this_week,
        clocks=tuple(map(week.clock_step_of, rows["clocks"])),
        legs=tuple(sorted(map(week.leg_of, rows["voyage"]), key=lambda leg: leg.start)),
        places=tuple(map(week.place_of, rows["places"])),
        permissions=tuple(map(week.permission_of, rows["permissions"])),
        conditions=tuple(map(week.condition_of, rows["conditions"])),
        contents=tuple(map(week.content_of, rows["contents"])),
        cargoes=tuple(map(week.cargo_of, rows["cargoes"])),
        operations=tuple(map(week.operation_of, rows["operations"])),
        entries=tuple(map(week.entry_of, rows["entries"])),
        coatings=tuple(map(week.coating_of, rows["coatings"])),
        visitors=tuple(map(week.visitor_of, rows["visitors"])),
        weather=tuple(map(week.forecast_of, rows["weather"])),
        readings=tuple(map(week.reading_of, rows["readings"])),
        progress=tuple(map(week.progress_of, rows["progress"])),
        rows=counts_of(rows, found),
        not_read=tuple(sorted(found.not_read)),
        digest=digest_of(rows, "folder"),
        forecast_digest=digest_of(rows, "forecast"),
        seen_digest=digest_of(rows, "seen"),
    )


def counts_of(rows: Mapping[str, tuple[Row, ...]], found: Gathered) -> tuple[tuple[str, RowCount], ...]:
    """How many rows each table has, by the dumb counter, and how many were taken and blank."""
    return tuple(
        (table.name, RowCount(read=raw.counted, taken=len(rows[table.name]), blank=raw.blank))
        for table in FILES
        if not table.key_value and (raw := found.tables.get(table.name))
    )
