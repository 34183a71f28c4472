"""The rows of the whole folder, as the checks across tables see them."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import datetime, timedelta

from scheduler.inputs.columns import Table
from scheduler.inputs.reference import TABLE_BY_NAME
from scheduler.inputs.rows import Row
from scheduler.times import ShipClock

_OFFSET = re.compile(r"(Z|[+\-\u2212][0-9]{2}:?[0-9]{2})$")


@dataclass(frozen=True, kw_only=True, slots=True)
class VoyageRows:
    """Rows by table, some of them with cells that could not be read; `whole` are tables without any fault."""

    rows: Mapping[str, tuple[Row, ...]]
    clock: ShipClock
    whole: frozenset[str]

    def of(self, table: str) -> tuple[Row, ...]:
        """The rows of a table."""
        return self.rows[table]

    @property
    def clock_holds(self) -> bool:
        """True when the clock table could be read, so that ship's times may be compared."""
        return "clocks" in self.whole

    @property
    def week(self) -> Row | None:
        """The week's keys, where the file is there."""
        return self.rows["week"][0] if self.rows["week"] else None

    @property
    def span(self) -> tuple[datetime, datetime] | None:
        """The week's start and end; None when they could not be read."""
        if self.week is None or not self.week.reads("start", "days") or not self.clock_holds:
            return None
        start = self.week.time("start")
        return start, start + timedelta(days=self.week.must("days", int))

    def readable(self, table: str, *columns: str) -> Iterator[Row]:
        """Rows of a table in which all the columns are filled and could be read."""
        yield from (row for row in self.rows[table] if row.reads(*columns))


def in_ships_time(row: Row, column: str) -> bool:
    """True when a time was written without an offset."""
    return not _OFFSET.search(row.texts.get(column, ""))


def table_of(row: Row) -> Table:
    """The declaration of a row's table."""
    return TABLE_BY_NAME[row.table]
