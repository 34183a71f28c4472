"""Sunrise and sunset against the JPL ephemeris DE421 as the library skyfield reads it: an independent computation."""

from __future__ import annotations

import warnings
from datetime import UTC, date, datetime, timedelta
from itertools import product
from typing import Any

import pytest

from scheduler.hazards.daylight import SunState, sun_day

PLACES = [(0.0, 0.0), (51.5, 3.5), (-33.0, 151.0), (35.0, -179.5), (-55.0, -68.0), (60.0, 170.0)]
DATES = [date(2026, 1, 5), date(2026, 3, 20), date(2026, 6, 21), date(2026, 10, 30)]
MEASURED_S = 36.0  # greatest difference up to 60° of latitude in an earlier comparison on 144 days of sites
TOLERANCE_S = 60.0  # half of what the plan's checker allows for sunrise, and well over the measured difference


@pytest.fixture(scope="module")
def horizon() -> Any:
    """Crossings of the horizon by DE421 between two instants."""
    from skyfield import almanac
    from skyfield.api import Loader, wgs84

    with warnings.catch_warnings():  # its table of the earth's rotation ages, by fractions of a second
        warnings.simplefilter("ignore", RuntimeWarning)
        from skyfield_data import get_skyfield_data_path

        load = Loader(get_skyfield_data_path(), expire=False)
    clock, sky = load.timescale(builtin=True), load("de421.bsp")

    def crossings(place: tuple[float, float], after: datetime, before: datetime) -> list[tuple[datetime, bool]]:
        rises = almanac.sunrise_sunset(sky, wgs84.latlon(*place))
        times, up = almanac.find_discrete(clock.from_datetime(after), clock.from_datetime(before), rises)
        return [(time.utc_datetime(), bool(now_up)) for time, now_up in zip(times, up, strict=True)]

    yield crossings
    sky.close()


@pytest.mark.parametrize(("place", "on"), list(product(PLACES, DATES)))
def test_the_sun_rises_and_sets_when_the_ephemeris_says(horizon: Any, place: tuple[float, float], on: date) -> None:
    day = sun_day(*place, on)
    assert day.sunrise is not None and day.sunset is not None
    (rise, up), (fall, still_up) = horizon(place, day.begins, day.ends)
    assert up and not still_up
    assert abs((day.sunrise - rise).total_seconds()) < TOLERANCE_S
    assert abs((day.sunset - fall).total_seconds()) < TOLERANCE_S


@pytest.mark.parametrize(
    ("place", "on", "state"),
    [
        ((75.0, 20.0), date(2026, 6, 21), SunState.UP_ALL_DAY),
        ((75.0, 20.0), date(2026, 12, 21), SunState.DOWN_ALL_DAY),
        ((-75.0, -60.0), date(2026, 12, 21), SunState.UP_ALL_DAY),
        ((-75.0, -60.0), date(2026, 6, 21), SunState.DOWN_ALL_DAY),
    ],
)
def test_polar_day_and_night_have_no_crossing_in_the_ephemeris_either(
    horizon: Any, place: tuple[float, float], on: date, state: SunState
) -> None:
    day = sun_day(*place, on)
    assert day.state is state
    assert horizon(place, day.begins, day.ends) == []


def test_no_light_is_promised_that_the_ephemeris_does_not_see_while_polar_day_comes_on(horizon: Any) -> None:
    # Forty days across the beginning of polar day at 70 N: within each promised stretch the sun never sets.
    place, slack = (70.0, 25.0), timedelta(minutes=5)
    for on in (date(2026, 5, 1) + timedelta(days=number) for number in range(0, 40, 2)):
        light = sun_day(*place, on).light
        if light is not None:
            begins, ends = light[0] + slack, light[1] - slack
            assert [up for _, up in horizon(place, begins, ends)] == [], on


def test_midnight_utc_does_not_cut_a_day_of_the_far_east_in_two() -> None:
    # At 170 E the sun rises in the evening of the day before by UTC.
    day = sun_day(10.0, 170.0, date(2026, 6, 1))
    assert day.sunrise is not None and day.sunset is not None
    assert day.sunrise.date() == date(2026, 5, 31)
    assert day.sunrise < datetime(2026, 6, 1, tzinfo=UTC) < day.sunset
