"""What must agree within crew/: duties that repeat, hours that lie behind."""

from __future__ import annotations

from collections.abc import Iterator

from scheduler.errors import Fault
from scheduler.inputs.voyage_rows import VoyageRows, in_ships_time
from scheduler.times import DAY, zulu


def check_duties(voyage: VoyageRows) -> Iterator[Fault]:
    """Only daily duties have `until`; one repetition is over before the next."""
    for row in voyage.of("duties"):
        if row.reads("until") and "repeat" not in row.bad and row.text("repeat", blank="once") == "once":
            yield row.fault("until", "{} stands beside a duty that does not repeat", "a blank, or repeat daily")
        if row.reads("start", "end", "repeat") and row.text("repeat") == "daily":
            if row.time("end") - row.time("start") > DAY:
                yield row.fault("end", "{} is over a day after the start of a daily duty", "at most 24 hours after it")
            if row.reads("until") and row.time("until") <= row.time("start"):
                yield row.fault("until", "{} is not after the first start", "a later time, or a blank")


def check_past_hours(voyage: VoyageRows) -> Iterator[Fault]:
    """Past hours are over as the week begins, and lie where the ship's clock is known."""
    clocks = [row.time("at") for row in voyage.readable("clocks", "at")]
    for row in voyage.of("past_hours"):
        if voyage.span and row.reads("end") and row.time("end") > voyage.span[0]:
            yield row.fault("end", "{} is after the week's start", f"at most {zulu(voyage.span[0])}")
        for column in ("start", "end"):
            if (
                clocks
                and voyage.clock_holds
                and row.reads(column)
                and in_ships_time(row, column)
                and row.time(column) < min(clocks)
            ):
                found = f"{{}} in ship's time is before the first row of clocks ({zulu(min(clocks))})"
                yield row.fault(column, found, "a time with an offset, or an earlier row in clocks")
