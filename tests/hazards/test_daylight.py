"""Daylight at a position."""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from scheduler.hazards.daylight import SunState, sun_day, sun_day_at


@given(st.floats(-62.0, 62.0), st.floats(-180.0, 179.9), st.dates(date(2026, 1, 1), date(2027, 12, 31)))
def test_up_to_62_degrees_the_sun_rises_before_noon_and_sets_after_it_every_day(
    lat_deg: float, lon_deg: float, on: date
) -> None:
    day = sun_day(lat_deg, lon_deg, on)
    assert day.sunrise is not None and day.sunset is not None
    noon = day.begins + timedelta(hours=12)
    assert day.begins <= day.sunrise < noon < day.sunset <= day.ends


@given(st.floats(-90.0, 90.0), st.floats(-180.0, 180.0), st.dates(date(2026, 1, 1), date(2027, 12, 31)))
def test_every_place_and_date_has_an_answer(lat_deg: float, lon_deg: float, on: date) -> None:
    day = sun_day(lat_deg, lon_deg, on)
    assert (day.light is None) == (day.state is SunState.DOWN_ALL_DAY)
    assert (day.sunrise is None) == (day.state is not SunState.RISES_AND_SETS)


@given(st.floats(-180.0, 179.9), st.integers(0, 700 * 1440))
def test_an_instant_lies_in_the_suns_day_that_is_found_for_it(lon_deg: float, minutes: int) -> None:
    at = datetime(2026, 1, 1, tzinfo=UTC) + timedelta(minutes=minutes)
    # The sun's noon is up to 17 minutes off mean noon, so the ends of its day may miss by that much.
    day, slack = sun_day_at(20.0, lon_deg, at), timedelta(minutes=17)
    assert day.begins - slack <= at <= day.ends + slack


def test_polar_day_is_light_from_end_to_end_and_polar_night_has_none() -> None:
    summer, winter = sun_day(75.0, 20.0, date(2026, 6, 21)), sun_day(75.0, 20.0, date(2026, 12, 21))
    assert summer.light == (summer.begins, summer.ends)
    assert winter.light is None


def test_fifteen_degrees_east_see_the_sun_an_hour_earlier() -> None:
    here, east = sun_day(10.0, 0.0, date(2026, 5, 2)), sun_day(10.0, 15.0, date(2026, 5, 2))
    assert here.sunrise is not None and east.sunrise is not None
    assert (here.sunrise - east.sunrise).total_seconds() == pytest.approx(3600, abs=5)


def test_instants_are_utc() -> None:
    day = sun_day(10.0, 100.0, date(2026, 5, 2))
    assert day.sunrise is not None and day.sunrise.tzinfo is UTC


def test_a_naive_time_is_refused() -> None:
    with pytest.raises(ValueError, match="has no offset"):
        sun_day_at(10.0, 100.0, datetime(2026, 5, 2))  # noqa: DTZ001 - the naive time is the point
