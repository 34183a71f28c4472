"""Ship's time, walked from the clock steps: what the clock on the bulkhead shows at an instant."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from datetime import UTC, date, datetime, time, timedelta
from typing import Final

from scheduler.check.span import MINUTE, Span, minutes_of, union
from scheduler.domain.voyage import ClockStep

DAY_MIN: Final = 24 * 60


class ShipTime:
    """The ship's clock, from the list of its steps."""

    def __init__(self, steps: Iterable[ClockStep]) -> None:
        self._steps = sorted((step.at, step.offset) for step in steps) or [
            (datetime.min.replace(tzinfo=UTC), timedelta(0))
        ]

    def shown(self, instant: datetime) -> datetime:
        """What the clock shows: a naive date and time. Before the first step its offset holds."""
        offset = self._steps[0][1]
        for at, later in self._steps:
            if at <= instant:
                offset = later
        return instant.astimezone(UTC).replace(tzinfo=None) + offset

    def day(self, instant: datetime) -> date:
        """The ship's date."""
        return self.shown(instant).date()

    def last_day(self, span: Span) -> date:
        """The ship's date of the last minute of a stretch."""
        return self.day(max(span.start, span.end - MINUTE))

    def stretches(self, span: Span, when: Callable[[datetime], bool]) -> list[Span]:
        """The minutes of a stretch whose ship's time fits, joined."""
        fitting = (minute for minute in minutes_of(span) if when(self.shown(minute)))
        joined = union(Span(minute, minute + MINUTE) for minute in fitting)
        return [Span(max(piece.start, span.start), min(piece.end, span.end)) for piece in joined]


def minute_of_day(shown: datetime) -> int:
    """Minutes since midnight by the ship's clock."""
    return shown.hour * 60 + shown.minute


def as_minutes(pairs: Iterable[tuple[time | str, time | str]]) -> tuple[tuple[int, int], ...]:
    """Pairs of times of day as minutes since midnight; an end of 00:00 is the midnight that ends the day."""
    return tuple((_minute(start), _minute(end) or DAY_MIN) for start, end in pairs)


def within(pairs: Iterable[tuple[int, int]], shown: datetime) -> bool:
    """True when the clock shows a time inside one of the pairs; a pair may reach over midnight."""
    minute = minute_of_day(shown)
    return any(start <= minute < end if start < end else minute >= start or minute < end for start, end in pairs)


def _minute(written: time | str) -> int:
    if isinstance(written, time):
        return written.hour * 60 + written.minute
    hours, minutes = written.strip().split(":")[:2]
    return int(hours) * 60 + int(minutes)


def months_later(day: date, months: int) -> date:
    """The same day of a later month, or that month's last day where it is shorter."""
    year, month = divmod(day.month - 1 + months, 12)
    year, month = day.year + year, month + 1
    first_of_next = date(year + month // 12, month % 12 + 1, 1)
    last = (first_of_next - timedelta(days=1)).day
    return date(year, month, min(day.day, last))
