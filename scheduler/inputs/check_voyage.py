"""What must agree about the voyage: week, clock, legs, conditions, forecast."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import timedelta
from itertools import pairwise

from scheduler.errors import Fault
from scheduler.inputs.rows import Row
from scheduler.inputs.voyage_rows import VoyageRows
from scheduler.times import DAY, zulu

_QUARTER_MIN = 15  # the planning grid is laid from the week's start; plans of other grids meet on whole quarters
_LONGEST_FORECAST = timedelta(days=20)  # no forecast reaches further; a later step is a slip of the year, our choice
_POSITIONS = (("from_lat", "from_lon"), ("to_lat", "to_lon"))


def check_week(voyage: VoyageRows) -> Iterator[Fault]:
    """The week begins on a whole quarter in UTC, and the clock is known by then."""
    if voyage.week is None or voyage.span is None:
        return
    start, end = voyage.span
    if start.minute % _QUARTER_MIN:
        yield voyage.week.fault("start", f"{{}} is {zulu(start)}", "a whole quarter of an hour in UTC")
    if voyage.week.reads("frozen_until") and voyage.week.time("frozen_until") > end:
        yield voyage.week.fault("frozen_until", "{} is after the week's end", f"at most {zulu(end)}")
    clocks = [row.time("at") for row in voyage.of("clocks")]
    if not clocks or min(clocks) > start:
        yield voyage.week.fault(
            "start", "{} is before the first row of clocks", f"a row of clocks at or before {zulu(start)}",
            mend="Add the offset in force at the week's start to clocks.",
        )  # fmt: skip


def check_legs(voyage: VoyageRows) -> Iterator[Fault]:
    """Legs follow one another; a passage has its ends and its speed."""
    yield from _one_at_a_time(voyage, "voyage", "leg")
    for row in voyage.of("voyage"):
        yield from _leg(row, voyage)


def _one_at_a_time(voyage: VoyageRows, table: str, key: str) -> Iterator[Fault]:
    """A fault for each row that begins before the one before it has ended."""
    rows = sorted(voyage.readable(table, "start", "end"), key=lambda row: (row.time("start"), row.text(key)))
    for before, after in pairwise(rows):
        if voyage.clock_holds and after.time("start") < before.time("end"):
            found = f"{{}} is before {before.text(key)} (row {before.row}) ends"
            yield after.fault("start", found, f"at or after {zulu(before.time('end'))}")


def _leg(row: Row, voyage: VoyageRows) -> Iterator[Fault]:
    for lat, lon in _POSITIONS:
        yield from half_a_position(row, lat, lon)
    if row.reads("kind") and row.text("kind") == "passage":
        for column, twin in (("from_lat", "from_lon"), ("to_lat", "to_lon"), ("speed_kn", "speed_kn")):
            if not row.bad & {column, twin} and not row.reads(column) and not row.reads(twin):
                yield row.fault(column, "a passage has a blank here", "a value: a passage has two ends and a speed")
    if row.reads("arrive_by", "start") and row.time("arrive_by") < row.time("start") and voyage.clock_holds:
        yield row.fault("arrive_by", "{} is before the leg begins", "a time in the leg or after it")
    ship = voyage.of("ship")
    if row.reads("speed_kn") and ship and ship[0].reads("greatest_speed_kn"):
        greatest = ship[0].must("greatest_speed_kn", float)
        if row.must("speed_kn", float) > greatest:
            yield row.fault("speed_kn", "{} is above the ship's greatest speed", f"at most {greatest:g}")


def half_a_position(row: Row, lat: str, lon: str) -> Iterator[Fault]:
    """A fault for a latitude without longitude, or the other way round."""
    for here, there in ((lat, lon), (lon, lat)):
        if row.reads(here) and there not in row.bad and not row.reads(there):
            yield row.fault(there, f"{here} is given and {there} is not", "both or neither")


def check_conditions(voyage: VoyageRows) -> Iterator[Fault]:
    """One condition at a time; what may be empty is among what is full."""
    yield from _one_at_a_time(voyage, "conditions", "condition")
    for row in voyage.readable("conditions", "may_be_empty"):
        named = frozenset().union(*row.sets("may_be_empty"))
        if "full" not in row.bad and (strange := sorted(named - set(row.names("full")))):
            found = f"{', '.join(strange)} is not full in this condition"
            yield row.fault("may_be_empty", found, "spaces of the column full")


def check_weather(voyage: VoyageRows) -> Iterator[Fault]:
    """Places are whole, and no step lies where no forecast reaches."""
    for row in voyage.of("weather"):
        yield from half_a_position(row, "lat", "lon")
        if row.reads("issued", "time") and voyage.clock_holds:
            lead = row.time("time") - row.time("issued")
            if not -DAY <= lead <= _LONGEST_FORECAST:
                wanted = "a time from a day before its issue to 20 days after"
                yield row.fault("time", f"{{}} is {lead / DAY:.1f} days after its issue", wanted)
