"""Daylight at the edges: minutes from sunrise and sunset, and where the sun does not set."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime, timedelta

import pytest

from scheduler.check.scene import Scene
from scheduler.check.sky import Sky
from scheduler.check.span import Span
from scheduler.check.track import Track
from tests.check.made import LEGS, a_folder, at, the_good_week

THE_PLAN = the_good_week()[1]

MINUTE = timedelta(minutes=1)
QUARTER = timedelta(minutes=15)


def a_sky(lat: float, lon: float) -> Sky:
    """The ship at anchor at a place for the whole week."""
    leg = replace(LEGS[1], start=at(8, "00:00"), end=at(16, "00:00"), from_lat=lat, from_lon=lon)
    scene = Scene(a_folder(legs=(leg,)), replace(THE_PLAN, speeds=()))
    return Sky(scene, Track(scene))


# Greenwich, 20 March 2027 is outside the week; on 10 March the almanac gives sunrise 06:26 and sunset 17:56 at
# 51.48 N, 0 E (NOAA solar calculator's formulas, from memory to the minute).
SUNRISE, SUNSET = at(10, "06:26"), at(10, "17:56")


@pytest.mark.parametrize(("minutes", "light"), [(-5, False), (11, False), (20, True)])
def test_a_session_begins_a_quarter_of_an_hour_after_sunrise(minutes: int, light: bool) -> None:
    span = Span(SUNRISE + minutes * MINUTE, SUNRISE + timedelta(hours=3))
    assert (not a_sky(51.48, 0.0).dark(span, QUARTER)) is light


@pytest.mark.parametrize(("minutes", "light"), [(-20, True), (-11, False), (5, False)])
def test_a_session_ends_a_quarter_of_an_hour_before_sunset(minutes: int, light: bool) -> None:
    span = Span(SUNSET - timedelta(hours=3), SUNSET + minutes * MINUTE)
    assert (not a_sky(51.48, 0.0).dark(span, QUARTER)) is light


def test_noon_is_at_noon_of_the_place() -> None:
    # Auckland, 174.8 E: local noon is about half past midnight UTC.
    span = Span(datetime(2027, 3, 10, 0, tzinfo=UTC), datetime(2027, 3, 10, 1, tzinfo=UTC))
    assert a_sky(-36.8, 174.8).dark(span, QUARTER) == []


def test_in_polar_night_there_is_no_daylight() -> None:
    span = Span(at(8, "11:00"), at(8, "13:00"))
    assert a_sky(88.0, 0.0).dark(span, QUARTER) == [span]


def test_where_nobody_knows_the_place_it_is_dark() -> None:
    scene = Scene(a_folder(legs=()), THE_PLAN)
    span = Span(at(8, "11:00"), at(8, "13:00"))
    assert Sky(scene, Track(scene)).dark(span, QUARTER) == [span]
