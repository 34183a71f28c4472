"""The ship's clock, her dates and her hours, over steps of the clock."""

from __future__ import annotations

from datetime import UTC, date, datetime, time, timedelta

import pytest

from scheduler.check.ship_time import ShipTime, as_minutes, months_later, within
from scheduler.check.span import Span
from scheduler.domain.voyage import ClockStep


def instant(day: int, hour: int, minute: int = 0) -> datetime:
    return datetime(2027, 3, day, hour, minute, tzinfo=UTC)


BACK = ShipTime([
    ClockStep(at=instant(8, 0), offset=timedelta(hours=2)), ClockStep(at=instant(9, 1), offset=timedelta(hours=1)),
])  # fmt: skip
MORNING = as_minutes(((time(2), time(3)),))


def test_an_hour_that_the_clock_shows_twice_lasts_two() -> None:
    # At 01:00Z the clock goes from 03:00 back to 02:00, so it shows 02:00 to 03:00 from 00:00Z to 02:00Z.
    found = BACK.stretches(Span(instant(8, 22), instant(9, 6)), lambda shown: within(MORNING, shown))
    assert found == [Span(instant(9, 0), instant(9, 2))]


def test_an_hour_that_the_clock_skips_is_not_there() -> None:
    ahead = ShipTime(
        [ClockStep(at=instant(8, 0), offset=timedelta(0)), ClockStep(at=instant(9, 2), offset=timedelta(hours=1))]
    )
    assert ahead.stretches(Span(instant(9, 0), instant(9, 6)), lambda shown: within(MORNING, shown)) == []


def test_a_step_holds_from_its_instant() -> None:
    assert (BACK.shown(instant(9, 0, 59)).hour, BACK.shown(instant(9, 1)).hour) == (2, 2)


def test_the_date_is_the_ships() -> None:
    assert BACK.day(instant(8, 22, 30)) == date(2027, 3, 9)


def test_a_stretch_that_ends_at_midnight_is_of_the_day_before() -> None:
    assert BACK.last_day(Span(instant(8, 12), instant(8, 22))) == date(2027, 3, 8)


@pytest.mark.parametrize(("shown", "inside"), [("07:59", False), ("08:00", True), ("17:59", True), ("18:00", False)])
def test_working_hours_hold_their_first_minute_and_not_their_last(shown: str, inside: bool) -> None:
    hour, minute = map(int, shown.split(":"))
    assert within(as_minutes((("08:00", "18:00"),)), clock(hour, minute)) is inside


def clock(hour: int, minute: int = 0) -> datetime:
    """What the bulkhead clock shows: it has no offset."""
    return datetime(2027, 3, 8, hour, minute)  # noqa: DTZ001


def test_hours_may_reach_over_midnight_and_to_its_end() -> None:
    night, all_day = as_minutes((("22:00", "06:00"),)), as_minutes((("00:00", "00:00"),))
    late = clock(23, 59)
    assert (within(night, late), within(night, clock(6)), within(all_day, late)) == (True, False, True)


@pytest.mark.parametrize(
    ("drill", "last"),
    [
        # A drill counts to the same day two months later, or to that month's last day.
        (date(2026, 1, 31), date(2026, 3, 31)),
        (date(2026, 12, 31), date(2027, 2, 28)),
        (date(2027, 12, 30), date(2028, 2, 29)),
        (date(2027, 10, 15), date(2027, 12, 15)),
        (date(2027, 11, 1), date(2028, 1, 1)),
    ],
)
def test_a_drill_counts_for_two_calendar_months(drill: date, last: date) -> None:
    assert months_later(drill, 2) == last
