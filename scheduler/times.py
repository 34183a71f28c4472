"""Instants, ship's time and the planning grid.

Inside Lull an instant is an aware UTC datetime and an interval is half-open. Ship's time exists only at the edges:
it is read and written through the clock table, never by a zone's name.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import UTC, date, datetime, time, timedelta
from typing import Protocol

MINUTE = timedelta(minutes=1)
HOUR = timedelta(hours=1)
DAY = timedelta(days=1)

_INSTANT = re.compile(r"(\d{4})-(\d{2})-(\d{2})[T ](\d{2}):(\d{2})(?::(\d{2}))?(Z|[+\-\u2212]\d{2}:?\d{2})?")


class ClockRow(Protocol):
    """What a clock table's row has."""

    @property
    def at(self) -> datetime:
        """The UTC instant of the step."""

    @property
    def offset(self) -> timedelta:
        """Ship's time less UTC from then on."""


class UnclearTime(ValueError):
    """A text that is no time, or a ship's time that the clocks make ambiguous or skip."""


@dataclass(frozen=True, slots=True)
class ShipClock:
    """Ship's time: steps as (UTC instant, offset), ascending; the first offset also holds before its instant."""

    steps: tuple[tuple[datetime, timedelta], ...]

    @classmethod
    def of(cls, rows: Iterable[ClockRow]) -> ShipClock:
        """The clock of a table of steps; without any row ship's time is UTC."""
        steps = tuple(sorted((row.at, row.offset) for row in rows))
        return cls(steps or ((datetime(1970, 1, 1, tzinfo=UTC), timedelta()),))

    def offset(self, at: datetime) -> timedelta:
        """The offset in force at an instant."""
        found = self.steps[0][1]
        for start, offset in self.steps:
            if start > at:
                break
            found = offset
        return found

    def local(self, at: datetime) -> datetime:
        """What the ship's clocks show at an instant (naive on purpose: it is a reading, not an instant)."""
        return (at + self.offset(at)).replace(tzinfo=None)

    def readings(self, shown: datetime) -> tuple[datetime, ...]:
        """All instants at which the ship's clocks show `shown`: none, one or two, ascending."""
        found = {shown.replace(tzinfo=UTC) - offset for _, offset in self.steps}
        return tuple(sorted(at for at in found if self.local(at) == shown))

    def instant(self, shown: datetime) -> datetime:
        """The one instant at which the clocks show `shown`; raises UnclearTime when there are none or two."""
        found = self.readings(shown)
        if len(found) == 1:
            return found[0]
        if not found:
            raise UnclearTime(f"the clocks skip {shown:%Y-%m-%d %H:%M}")
        both = " and ".join(zulu(at) for at in found)
        raise UnclearTime(f"the clocks show {shown:%Y-%m-%d %H:%M} twice, at {both}")

    def recurring(self, day: date, at: time, *, longer_is_late: bool) -> datetime:
        """The instant of a daily time: in a repeated hour what makes the duty longer, in a skipped one the step."""
        shown = datetime.combine(day, at)
        found = self.readings(shown)
        if found:
            return found[-1] if longer_is_late else found[0]
        return next(
            start
            for (start, new), (_, old) in zip(self.steps[1:], self.steps, strict=False)
            if (start + old).replace(tzinfo=None) <= shown < (start + new).replace(tzinfo=None)
        )

    def days(self, start: datetime, end: datetime) -> Iterator[tuple[date, datetime, datetime]]:
        """Ship's dates touched by [start, end), each with its first and last instant; a skipped date is left out."""
        day, last = self.local(start).date(), self.local(end - MINUTE).date()
        while day <= last:
            begin, finish = self.midnight(day), self.midnight(day + DAY)
            if begin < finish:
                yield day, begin, finish
            day += DAY

    def midnight(self, day: date) -> datetime:
        """The first instant of a ship's date."""
        return self.recurring(day, time(), longer_is_late=False)

    def windows(
        self, pairs: Sequence[tuple[time, time]], start: datetime, end: datetime
    ) -> Iterator[tuple[datetime, datetime]]:
        """The daily windows of ship's time that touch [start, end), as instants, ascending by date."""
        day, last = self.local(start).date() - DAY, self.local(end).date() + DAY
        while day <= last:
            for begin, finish in pairs:
                next_day = day if finish > begin else day + DAY
                a = self.recurring(day, begin, longer_is_late=False)
                b = self.recurring(next_day, finish, longer_is_late=True)
                if a < end and b > start and a < b:
                    yield a, b
            day += DAY


def clock_time(text: str) -> time:
    """A time of day from `hh:mm`; raises UnclearTime."""
    found = re.fullmatch(r"([01]\d|2[0-3]):([0-5]\d)", text.strip())
    if not found:
        raise UnclearTime(f"{text!r} is no time of day; write hh:mm")
    return time(int(found[1]), int(found[2]))


def offset_of(text: str) -> timedelta:
    """An offset from `±hh:mm` or `±hhmm`, −12:00 to +14:00; both minus signs count; raises UnclearTime."""
    found = re.fullmatch(r"([+\-\u2212])(\d{2}):?(\d{2})", text.strip())
    if not found or int(found[3]) > 59:
        raise UnclearTime(f"{text!r} is no offset; write ±hh:mm")
    size = timedelta(hours=int(found[2]), minutes=int(found[3]))
    offset = size if found[1] == "+" else -size
    if not timedelta(hours=-12) <= offset <= timedelta(hours=14):
        raise UnclearTime(f"{text!r} is outside −12:00 to +14:00")
    return offset


def parse_time(text: str, clock: ShipClock | None) -> datetime:
    """An instant from one strict form: `2027-03-08T06:00`, with `Z` or `±hh:mm`, or in ship's time without.

    Raises UnclearTime for anything else, for a date that does not exist, for seconds that are not zero, and for a
    ship's time that the clocks skip or show twice, or when no clock is known (`clock` None).
    """
    found = _INSTANT.fullmatch(text.strip())
    if not found:
        raise UnclearTime(f"{text!r} is not a time")
    year, month, day, hour, minute = (int(found[i]) for i in range(1, 6))
    if found[6] not in (None, "00"):
        raise UnclearTime(f"{text!r} has seconds; times are whole minutes")
    try:
        shown = datetime(year, month, day, hour, minute)  # noqa: DTZ001 - a clock reading, made an instant below
    except ValueError:
        raise UnclearTime(f"{text!r} is not a time that exists") from None
    if found[7] == "Z":
        return shown.replace(tzinfo=UTC)
    if found[7]:
        return shown.replace(tzinfo=UTC) - offset_of(found[7])
    if clock is None:
        raise UnclearTime(f"{text!r} has no offset; write Z or ±hh:mm")
    return clock.instant(shown)


def zulu(at: datetime) -> str:
    """UTC ISO 8601 with Z, to the minute; raises ValueError for a naive time."""
    if at.tzinfo is None:
        raise ValueError(f"{at} is naive; give it an offset")
    return f"{at.astimezone(UTC):%Y-%m-%dT%H:%M:%SZ}"


def minutes_between(start: datetime, end: datetime) -> int:
    """Whole minutes from start to end, both aware; rounds down."""
    return int((end - start) // MINUTE)


def overlap(a: tuple[datetime, datetime], b: tuple[datetime, datetime]) -> bool:
    """True when two half-open intervals share an instant."""
    return a[0] < b[1] and b[0] < a[1]


@dataclass(frozen=True, slots=True)
class Grid:
    """The planning grid: whole steps of `step_min` minutes from the week's start; `steps` of them in the week."""

    start: datetime
    step_min: int
    steps: int

    def floor(self, at: datetime) -> int:
        """The step at or before an instant, not clipped to the week."""
        return int((at - self.start) // (MINUTE * self.step_min))

    def ceil(self, at: datetime) -> int:
        """The step at or after an instant, not clipped to the week."""
        return -int((self.start - at) // (MINUTE * self.step_min))

    def length(self, minutes: float) -> int:
        """Steps that hold so many minutes, rounded up."""
        return -int(-minutes // self.step_min)

    def at(self, step: int) -> datetime:
        """The instant of a step."""
        return self.start + MINUTE * self.step_min * step


def joined(intervals: Iterable[tuple[datetime, datetime]]) -> tuple[tuple[datetime, datetime], ...]:
    """The union of intervals as disjoint ones, ascending; empty ones are dropped."""
    found: list[tuple[datetime, datetime]] = []
    for start, end in sorted(pair for pair in intervals if pair[0] < pair[1]):
        if found and start <= found[-1][1]:
            found[-1] = (found[-1][0], max(found[-1][1], end))
        else:
            found.append((start, end))
    return tuple(found)


def gaps(
    taken: Iterable[tuple[datetime, datetime]], start: datetime, end: datetime
) -> tuple[tuple[datetime, datetime], ...]:
    """What of [start, end) the intervals leave free."""
    free: list[tuple[datetime, datetime]] = []
    at = start
    for begin, finish in joined(taken):
        if begin > at:
            free.append((at, min(begin, end)))
        at = max(at, finish)
        if at >= end:
            break
    if at < end:
        free.append((at, end))
    return tuple(pair for pair in free if pair[0] < pair[1])
