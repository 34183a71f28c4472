"""Wind over the deck."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from scheduler.hazards.wind import angle_between_deg, apparent_wind, from_bow_deg

SPEEDS = st.floats(0.0, 40.0)
DIRECTIONS = st.floats(0.0, 360.0)
ROSE = [number * 22.5 for number in range(16)]


@pytest.mark.parametrize("from_deg", ROSE)
def test_a_ship_at_rest_feels_the_true_wind_from_every_point_of_the_rose(from_deg: float) -> None:
    wind = apparent_wind(8.0, from_deg, 0.0, 123.0)
    assert wind.speed_m_s == pytest.approx(8.0)
    assert wind.from_deg is not None and angle_between_deg(wind.from_deg, from_deg) < 1e-9


@pytest.mark.parametrize("course_deg", ROSE)
def test_a_ship_in_still_air_makes_her_own_wind_from_ahead(course_deg: float) -> None:
    wind = apparent_wind(0.0, 77.0, 6.0, course_deg)
    assert wind.from_deg is not None
    assert angle_between_deg(from_bow_deg(wind.from_deg, course_deg), 0.0) < 1e-9


@given(SPEEDS, DIRECTIONS, SPEEDS, DIRECTIONS, DIRECTIONS)
def test_turning_ship_and_wind_together_turns_the_apparent_wind_with_them(
    wind_m_s: float, from_deg: float, ship_m_s: float, course_deg: float, turn_deg: float
) -> None:
    one = apparent_wind(wind_m_s, from_deg, ship_m_s, course_deg)
    other = apparent_wind(wind_m_s, from_deg + turn_deg, ship_m_s, course_deg + turn_deg)
    assert other.speed_m_s == pytest.approx(one.speed_m_s, abs=1e-5)
    if one.speed_m_s > 0.01 and one.from_deg is not None and other.from_deg is not None:
        assert angle_between_deg(other.from_deg, one.from_deg + turn_deg) < 1e-6


@given(SPEEDS, DIRECTIONS, SPEEDS, DIRECTIONS)
def test_the_ships_motion_taken_off_again_gives_the_true_wind(
    wind_m_s: float, from_deg: float, ship_m_s: float, course_deg: float
) -> None:
    felt = apparent_wind(wind_m_s, from_deg, ship_m_s, course_deg)
    back = apparent_wind(felt.speed_m_s, felt.from_deg or 0.0, ship_m_s, course_deg + 180.0)
    assert back.speed_m_s == pytest.approx(wind_m_s, abs=2e-6)


@given(DIRECTIONS, SPEEDS, DIRECTIONS)
def test_a_direction_is_always_from_0_to_below_360(from_deg: float, ship_m_s: float, course_deg: float) -> None:
    wind = apparent_wind(5.0, from_deg, ship_m_s, course_deg)
    assert wind.from_deg is None or 0.0 <= wind.from_deg < 360.0


def test_easing_down_in_light_airs_from_astern_can_make_the_calm() -> None:
    # 5 m/s from astern: 3 m/s from ahead at 8 m/s, nothing at 5 m/s.
    assert apparent_wind(5.0, 180.0, 8.0, 0.0).speed_m_s == pytest.approx(3.0)
    assert apparent_wind(5.0, 180.0, 5.0, 0.0).speed_m_s == 0.0


@pytest.mark.parametrize("speed_m_s", [-1.0, math.nan, math.inf])
def test_a_wind_that_cannot_be_is_refused(speed_m_s: float) -> None:
    with pytest.raises(ValueError, match="true_speed_m_s"):
        apparent_wind(speed_m_s, 0.0, 0.0, 0.0)
