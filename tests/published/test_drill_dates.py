"""How long an entry drill counts.

Source: SOLAS III/19.3.3, at least once every two months (found in copies of the amendment). That two months from
the 31st end with a shorter month's last day is calendar arithmetic as python-dateutil does it; the text does not say.
"""

from __future__ import annotations

from datetime import date

import pytest

from scheduler.hazards.drills import drill_counts_until


@pytest.mark.parametrize(
    ("drill", "last_day"),
    [
        (date(2026, 1, 31), date(2026, 3, 31)),
        (date(2025, 12, 31), date(2026, 2, 28)),  # no 31 February
        (date(2027, 12, 31), date(2028, 2, 29)),  # a leap year
        (date(2026, 2, 28), date(2026, 4, 28)),  # the last of one month is not the last of the other
        (date(2026, 7, 31), date(2026, 9, 30)),
        (date(2026, 11, 15), date(2027, 1, 15)),  # over the turn of the year
    ],
)
def test_a_drill_counts_to_the_same_day_two_months_on_or_the_months_end(drill: date, last_day: date) -> None:
    assert drill_counts_until(drill, 2) == last_day


def test_a_drill_of_31_january_holds_on_31_march_and_not_on_1_april() -> None:
    last_day = drill_counts_until(date(2026, 1, 31), 2)
    assert date(2026, 3, 31) <= last_day < date(2026, 4, 1)


def test_no_month_at_all_is_refused() -> None:
    with pytest.raises(ValueError, match="months: 0 was given"):
        drill_counts_until(date(2026, 1, 31), 0)
