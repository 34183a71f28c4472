"""Daily duties laid out one by one, through clock changes and over the date line."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import UTC, datetime, timedelta
from typing import Final

from scheduler.inputs.rows import Row
from scheduler.times import DAY, ShipClock

DATE_LINE: Final = timedelta(hours=12)
"""A step of the clock from here on is a change of date: a duty is done once for each time the clock shows it."""
_EVER: Final = (datetime(1970, 1, 1, tzinfo=UTC), datetime(2200, 1, 1, tzinfo=UTC))


def daily(
    clock: ShipClock, first: tuple[datetime, datetime], begin: datetime, end: datetime
) -> Iterator[tuple[datetime, datetime]]:
    """Every repetition of a duty that begins before `end` and ends after `begin`, none before its first start.

    Each repetition lies at the same ship's time; in a repeated hour it takes the reading that makes it longer, in a
    skipped one the step's instant. A change of date cuts it: what the new date shows again is done again.
    """
    shown = clock.local(first[0]), clock.local(first[1])
    for stretch, since, until in stretches(clock):
        for start, finish in _of_stretch(stretch, shown, max(begin, since), min(end, until)):
            low, high = max(start, since, first[0]), min(finish, until)
            if low < high and low < end and high > begin:
                yield low, high


def stretches(clock: ShipClock) -> Iterator[tuple[ShipClock, datetime, datetime]]:
    """The clock cut at its changes of date, each stretch with the instants between which it holds."""
    steps = list(clock.steps)
    cuts = [i for i in range(1, len(steps)) if abs(steps[i][1] - steps[i - 1][1]) >= DATE_LINE]
    for low, high in zip([0, *cuts], [*cuts, len(steps)], strict=True):
        since = steps[low][0] if low else _EVER[0]
        until = steps[high][0] if high < len(steps) else _EVER[1]
        yield ShipClock(tuple(steps[low:high])), since, until


def _of_stretch(
    clock: ShipClock, shown: tuple[datetime, datetime], begin: datetime, end: datetime
) -> Iterator[tuple[datetime, datetime]]:
    if begin >= end:
        return
    nights = (shown[1].date() - shown[0].date()).days
    day, last = clock.local(begin).date() - DAY, clock.local(end).date() + DAY
    while day <= last:
        start = clock.recurring(day, shown[0].time(), longer_is_late=False)
        yield start, clock.recurring(day + nights * DAY, shown[1].time(), longer_is_late=True)
        day += DAY


def spans_of(row: Row, clock: ShipClock, week: tuple[datetime, datetime]) -> tuple[tuple[datetime, datetime], ...]:
    """The stretches that a row of duties gives: itself when done once, else its repetitions that touch the week."""
    first = (row.time("start"), row.time("end"))
    if row.text("repeat", blank="once") == "once":
        return (first,)
    until = min(row.may("until", datetime) or week[1], week[1])
    return tuple(daily(clock, first, week[0], until))
