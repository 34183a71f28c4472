"""No row is lost: what an independent counter counted was taken or is blank, or nothing is read at all."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Final, Protocol

from scheduler.domain.folder import RowCount, VoyageFolder
from scheduler.domain.source import Origin
from scheduler.errors import Fault
from scheduler.inputs.raw import RawTable
from scheduler.inputs.reference import FILES
from scheduler.inputs.rows import Row

_NAMED_OTHERWISE: Final[Mapping[str, str]] = {"voyage": "legs"}


class Record(Protocol):
    """What every record has that comes from a row."""

    @property
    def origin(self) -> Origin:
        """Where it was read."""


def row_counts(
    folder: VoyageFolder, rows: Mapping[str, tuple[Row, ...]], tables: Mapping[str, RawTable]
) -> tuple[tuple[str, RowCount], ...]:
    """How many rows each table has by the counter, how many stand in records, how many are blank.

    A daily duty that never touches the week gives no record; its row counts as taken, and is a caution.
    """
    counts = []
    for table in FILES:
        if not table.key_value and table.name in tables:
            taken = _origins(getattr(folder, _NAMED_OTHERWISE.get(table.name, table.name)))
            if table.name == "duties":
                taken |= {row.row for row in rows["duties"] if row.text("repeat") == "daily"}
            raw = tables[table.name]
            counts.append((table.name, RowCount(read=raw.counted, taken=len(taken), blank=raw.counted_blank)))
    return tuple(counts)


def _origins(records: Iterable[Record]) -> set[int]:
    return {record.origin.row for record in records}


def lost_rows(counts: Iterable[tuple[str, RowCount]], tables: Mapping[str, RawTable]) -> list[Fault]:
    """A fault for each table whose counts do not add up."""
    return [
        Fault(
            file=tables[name].place,
            found=f"{count.read} rows were counted, {count.taken} taken and {count.blank} blank",
            expected="every row taken or blank",
            mend="Nothing was read. Save the table again, one line a row, and tell the makers of Lull.",
        )
        for name, count in counts
        if count.read != count.taken + count.blank
    ]
