"""Sixty ways in which people write times: the instant that each means, or that none is read."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

import pytest

from scheduler.inputs.cell_times import read_time
from scheduler.inputs.cells import Known, Unreadable
from scheduler.inputs.columns import time
from scheduler.times import ShipClock

# ship's time is UTC+3; on 11 March 2027 at 23:00Z it goes back to UTC+2, on 13 March at 22:00Z on to UTC+3
CLOCK = ShipClock(
    (
        (datetime(2027, 3, 1, tzinfo=UTC), timedelta(hours=3)),
        (datetime(2027, 3, 11, 23, tzinfo=UTC), timedelta(hours=2)),
        (datetime(2027, 3, 13, 22, tzinfo=UTC), timedelta(hours=3)),
    )
)
READ = {
    # as written: day of March 2027, hour and minute in UTC
    "2027-03-08T06:00": (8, 3, 0),
    "2027-03-08 06:00": (8, 3, 0),
    "2027-03-08T06:00:00": (8, 3, 0),
    " 2027-03-08T06:00 ": (8, 3, 0),
    "2027-03-08T00:00": (7, 21, 0),
    "2027-03-08T23:59": (8, 20, 59),
    "2027-03-08T06:00Z": (8, 6, 0),
    "2027-03-08T06:00:00Z": (8, 6, 0),
    "2027-03-08T06:00+03:00": (8, 3, 0),
    "2027-03-08T06:00+0300": (8, 3, 0),
    "2027-03-08T06:00-03:00": (8, 9, 0),
    "2027-03-08T06:00\u221203:00": (8, 9, 0),
    "2027-03-08T06:00+14:00": (7, 16, 0),
    "2027-03-08T06:00-12:00": (8, 18, 0),
    "2027-03-08T06:00+05:30": (8, 0, 30),
    "2027-03-08T06:00+12:45": (7, 17, 15),
    "2027-03-08T06:00+00:00": (8, 6, 0),
    "2027-03-08T06:00-00:00": (8, 6, 0),
    # the clocks have gone back, and on again
    "2027-03-12T06:00": (12, 4, 0),
    "2027-03-12T00:59": (11, 21, 59),
    "2027-03-12T02:00": (12, 0, 0),
    "2027-03-12T01:30+03:00": (11, 22, 30),
    "2027-03-12T01:30+02:00": (11, 23, 30),
    "2027-03-13T23:59": (13, 21, 59),
    "2027-03-14T01:00": (13, 22, 0),
}
REFUSED = [
    "",
    "8",
    "0800",
    "08:00",
    "46089.25",
    "1772949600",
    "2027-03-08",
    "2027-03-08T",
    "2027-03-08T06",
    "2027-03-08T6:00",
    "2027-3-8T06:00",
    "27-03-08T06:00",
    "08/03/2027 06:00",
    "31/02 06:00",
    "03/08/2027 06:00",
    "8 Mar 2027 06:00",
    "8 March 2027 08:00 UTC+3",
    "2027-03-08T06:00 UTC+3",
    "2027-03-08T06:00UTC",
    "2027-03-08T06:00 EST",
    "2027-03-08T06:00 LT",
    "2027-03-08T06:00z",
    "2027-03-08T06:00+3",
    "2027-03-08T06:00+03",
    "2027-03-08T06:00+14:15",
    "2027-03-08T06:00-12:30",
    "2027-03-08T06:00+03:60",
    "2027-03-08T24:00",
    "2027-03-08T06:60",
    "2027-03-08T06:00:30",
    "2027-03-08T23:59:60",
    "2027-03-08T06:00:00.5",
    "2027-02-29T06:00",
    "2027-02-31T06:00",
    "2027-13-01T06:00",
    "2027-00-10T06:00",
    "1970-01-01T00:00Z",
    "9999-12-31T23:59-12:00",
    "0000-01-01T00:00Z",
    "2027-03-08T06:00 to 08:00",
    "on completion",
    "NaT",
    "tomorrow 08:00",
    "\uff12\uff10\uff12\uff17-03-08T06:00",
    "2027\u201103\u201108T06:00",
    "2027-W10-1T06:00",
    "2027067T0600",
    "20270308T0600Z",
    # shown twice, and never
    "2027-03-12T01:00",
    "2027-03-12T01:30",
    "2027-03-12T01:59",
    "2027-03-14T00:00",
    "2027-03-14T00:30",
]
COLUMN = time("start", "begins")


@pytest.mark.parametrize(("text", "answer"), READ.items())
def test_a_time_in_its_one_form_is_the_instant_that_it_says(text: str, answer: tuple[int, int, int]) -> None:
    day, hour, minute = answer
    assert read_time(text.strip(), COLUMN, Known(CLOCK)) == datetime(2027, 3, day, hour, minute, tzinfo=UTC)


@pytest.mark.parametrize("text", REFUSED)
def test_a_time_in_any_other_form_is_refused(text: str) -> None:
    with pytest.raises(Unreadable):
        read_time(text, COLUMN, Known(CLOCK))


def test_a_leap_day_is_read_in_a_leap_year_only() -> None:
    assert read_time("2028-02-29T06:00Z", COLUMN, Known(CLOCK)) == datetime(2028, 2, 29, 6, tzinfo=UTC)
