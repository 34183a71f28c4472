"""Daily duties through the ship's clock: what is done at the same hour each ship's date, in real time."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from scheduler.inputs import read_folder
from scheduler.inputs.duties import daily
from scheduler.times import ShipClock
from tests.inputs.small_voyage import put, small_voyage, write_folder

HOUR = timedelta(hours=1)


def utc(day: int, hour: int, minute: int = 0) -> datetime:
    return datetime(2027, 3, day, hour, minute, tzinfo=UTC)


def clock(*steps: tuple[datetime, float]) -> ShipClock:
    return ShipClock(tuple((at, offset * HOUR) for at, offset in steps))


def hours_of(ship: ShipClock, first: tuple[datetime, datetime], begin: datetime, end: datetime) -> list[float]:
    return [(finish - start) / HOUR for start, finish in daily(ship, first, begin, end)]


def test_a_watch_comes_again_at_the_same_ships_time() -> None:
    ship = clock((utc(1, 0), 2))
    # 04-08 in ship's time two hours ahead is 02-06Z
    found = list(daily(ship, (utc(8, 2), utc(8, 6)), utc(8, 0), utc(11, 0)))
    assert found == [(utc(day, 2), utc(day, 6)) for day in (8, 9, 10)]


def test_a_watch_through_the_night_belongs_to_the_date_on_which_it_begins() -> None:
    ship = clock((utc(1, 0), 0))
    # the one that began on the 7th was done before the first start and is not done again
    found = list(daily(ship, (utc(8, 22), utc(9, 2)), utc(8, 0), utc(10, 0)))
    assert found == [(utc(8, 22), utc(9, 2)), (utc(9, 22), utc(10, 2))]


def test_a_watch_in_which_the_clocks_go_back_is_an_hour_longer() -> None:
    ship = clock((utc(1, 0), 1), (utc(9, 1), 0))
    # 00-04 of ship's time: 23-03Z the night before; on the 9th the hour from 01 to 02 comes twice, so it ends at 04Z
    assert hours_of(ship, (utc(7, 23), utc(8, 3)), utc(7, 0), utc(10, 12)) == [4, 5, 4]


def test_a_watch_in_which_the_clocks_go_on_is_an_hour_shorter() -> None:
    ship = clock((utc(1, 0), 0), (utc(9, 1), 1))
    assert hours_of(ship, (utc(8, 0), utc(8, 4)), utc(8, 0), utc(10, 12)) == [4, 3, 4]


def test_a_watch_that_begins_in_a_repeated_hour_takes_the_reading_that_makes_it_longer() -> None:
    ship = clock((utc(1, 0), 1), (utc(9, 1), 0))
    # 01:30 of the 9th comes at 00:30Z and at 01:30Z
    found = list(daily(ship, (utc(8, 0, 30), utc(8, 3)), utc(8, 0), utc(9, 12)))
    assert found[1] == (utc(9, 0, 30), utc(9, 4))


def test_a_watch_that_begins_in_a_skipped_hour_begins_with_the_step() -> None:
    ship = clock((utc(1, 0), 0), (utc(9, 1), 1))
    # 01:30 of the 9th does not come: the clocks go from 01:00 to 02:00 at 01:00Z
    found = list(daily(ship, (utc(8, 1, 30), utc(8, 4)), utc(8, 0), utc(9, 12)))
    assert found[1] == (utc(9, 1), utc(9, 3))


def test_over_the_date_line_a_day_that_comes_twice_has_its_watch_twice() -> None:
    # eastbound: at 12:00Z of the 9th, 00:00 of the 10th by the clock, the date goes back a day to 00:00 of the 9th
    ship = clock((utc(1, 0), 12), (utc(9, 12), -12))
    # 08-12 of ship's time is 20-00Z: of the 8th, then of the 9th for the second 9th
    found = list(daily(ship, (utc(7, 20), utc(8, 0)), utc(8, 12), utc(10, 12)))
    assert found == [(utc(8, 20), utc(9, 0)), (utc(9, 20), utc(10, 0))]
    assert [ship.local(start).day for start, _ in found] == [9, 9]


def test_over_the_date_line_a_day_that_does_not_come_has_no_watch() -> None:
    # westbound: at 12:00Z of the 9th, 00:00 of the 9th by the clock, the date goes on to 00:00 of the 10th
    ship = clock((utc(1, 0), -12), (utc(9, 12), 12))
    found = list(daily(ship, (utc(7, 20), utc(8, 0)), utc(8, 12), utc(10, 12)))
    assert [ship.local(start).day for start, _ in found] == [8, 10]
    assert found == [(utc(8, 20), utc(9, 0)), (utc(9, 20), utc(10, 0))]


def test_a_watch_cut_by_the_date_line_goes_on_behind_it() -> None:
    # the date goes back at 10:00 of ship's time, in the middle of the watch from 08 to 12
    ship = clock((utc(1, 0), 12), (utc(8, 22), -12))
    found = list(daily(ship, (utc(7, 20), utc(8, 0)), utc(8, 12), utc(9, 12)))
    assert found == [(utc(8, 20), utc(8, 22)), (utc(8, 22), utc(9, 0))]


def test_until_keeps_a_duty_from_beginning_again(tmp_path: Path) -> None:
    tables = put(small_voyage(), "duties", 2, "until", "2027-03-10T04:00")
    duties = [duty for duty in read_folder(write_folder(tables, tmp_path)).duties if duty.person == "P2"]
    assert [duty.start for duty in duties] == [utc(8, 3), utc(9, 3)]


def test_without_until_a_duty_goes_on_to_the_weeks_end(tmp_path: Path) -> None:
    duties = [duty for duty in read_folder(write_folder(small_voyage(), tmp_path)).duties if duty.person == "P2"]
    # 04:00 of ship's time: 03Z, on the 11th to 13th 04Z after the clocks went back, then 03Z again
    assert [duty.start for duty in duties] == [
        utc(8, 3), utc(9, 3), utc(10, 3), utc(11, 4), utc(12, 4), utc(13, 3), utc(14, 3),
    ]  # fmt: skip


def test_a_duty_that_never_touches_the_week_is_said(tmp_path: Path) -> None:
    tables = put(small_voyage(), "duties", 2, "start", "2027-02-01T04:00")
    tables = put(put(tables, "duties", 2, "end", "2027-02-01T08:00"), "duties", 2, "until", "2027-02-20T00:00")
    folder = read_folder(write_folder(tables, tmp_path))
    assert folder.missing == ("duties, row 2: this duty never touches the week",)
    assert dict(folder.rows)["duties"].taken == 2


@pytest.mark.parametrize("minutes", [30, 45, 60, 120])
def test_duties_of_a_whole_day_leave_no_gap_however_the_clocks_go(minutes: int) -> None:
    step = timedelta(minutes=minutes)
    ship = ShipClock(((utc(1, 0), timedelta()), (utc(9, 2), -step), (utc(10, 2), timedelta()), (utc(11, 2), step)))
    watches = [
        span
        for hour in range(0, 24, 4)
        for span in daily(ship, (utc(7, hour), utc(7, hour) + 4 * HOUR), utc(8, 0), utc(13, 0))
    ]
    at = utc(8, 0)
    for start, end in sorted(watches):
        assert start <= at
        at = max(at, end)
    assert at >= utc(12, 20)
