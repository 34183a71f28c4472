"""Positions along a track."""

from __future__ import annotations

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from scheduler.hazards.position import (
    along_great_circle,
    along_rhumb_line,
    east_of_greenwich_deg,
    great_circle,
    rhumb_line,
)

LATITUDES = st.floats(-70.0, 70.0)
LONGITUDES = st.floats(-180.0, 180.0)
EQUATOR_M_PER_DEG = 6378137.0 * 3.141592653589793 / 180.0


def test_a_degree_of_the_equator_is_its_arc_of_the_radius() -> None:
    assert rhumb_line(0.0, 10.0, 0.0, 11.0).distance_m == pytest.approx(EQUATOR_M_PER_DEG, rel=1e-12)


def test_a_quarter_meridian_is_10001966_metres() -> None:
    # WGS84's quarter meridian, 10,001,965.729 m: twice the run from 45 S to 45 N is not it, so run to 89 and check
    # against the geodesic, which along a meridian is the same line.
    assert rhumb_line(-89.0, 30.0, 89.0, 30.0).distance_m == pytest.approx(
        great_circle(-89.0, 30.0, 89.0, 30.0).distance_m, abs=1e-5
    )
    assert great_circle(0.0, 30.0, 90.0, 30.0).distance_m == pytest.approx(10_001_965.729, abs=1e-3)


@pytest.mark.parametrize("track", [rhumb_line, great_circle])
def test_a_track_over_the_date_line_takes_the_short_way(track: object) -> None:
    assert callable(track)
    east = track(20.0, 179.0, 20.0, -179.0)
    assert east.distance_m == pytest.approx(track(20.0, 0.0, 20.0, 2.0).distance_m, rel=1e-9)
    assert east.course_deg == pytest.approx(90.0, abs=0.5)


@given(LATITUDES, LONGITUDES, LATITUDES, LONGITUDES, st.sampled_from([-360.0, 360.0]))
def test_a_longitude_written_a_turn_further_is_the_same_place(
    lat: float, lon: float, to_lat: float, to_lon: float, turn_deg: float
) -> None:
    assume(abs(abs(lon - to_lon) - 180.0) > 1e-6)
    one, other = rhumb_line(lat, lon, to_lat, to_lon), rhumb_line(lat, lon + turn_deg, to_lat, to_lon)
    assert other.distance_m == pytest.approx(one.distance_m, rel=1e-9, abs=1e-3)


@given(LATITUDES, LONGITUDES, LATITUDES, LONGITUDES)
def test_a_rhumb_line_is_never_shorter_than_the_great_circle(
    lat: float, lon: float, to_lat: float, to_lon: float
) -> None:
    great_m = great_circle(lat, lon, to_lat, to_lon).distance_m
    assert rhumb_line(lat, lon, to_lat, to_lon).distance_m >= great_m * (1 - 1e-9) - 1e-3


@given(LATITUDES, LONGITUDES, LATITUDES, LONGITUDES, st.floats(0.0, 1.0))
def test_the_two_parts_of_a_rhumb_line_add_up_and_keep_its_course(
    lat: float, lon: float, to_lat: float, to_lon: float, share: float
) -> None:
    assume(abs(abs(lon - to_lon) - 180.0) > 1e-3)
    whole = rhumb_line(lat, lon, to_lat, to_lon)
    fix = along_rhumb_line(lat, lon, to_lat, to_lon, whole.distance_m * share)
    parts_m = (
        rhumb_line(lat, lon, fix.lat_deg, fix.lon_deg).distance_m
        + rhumb_line(fix.lat_deg, fix.lon_deg, to_lat, to_lon).distance_m
    )
    assert parts_m == pytest.approx(whole.distance_m, rel=1e-7, abs=0.01)
    assert fix.course_deg == whole.course_deg


@given(LATITUDES, LONGITUDES, LATITUDES, LONGITUDES, st.floats(0.0, 1.0))
def test_the_two_parts_of_a_great_circle_add_up(
    lat: float, lon: float, to_lat: float, to_lon: float, share: float
) -> None:
    whole_m = great_circle(lat, lon, to_lat, to_lon).distance_m
    fix = along_great_circle(lat, lon, to_lat, to_lon, whole_m * share)
    rest_m = great_circle(fix.lat_deg, fix.lon_deg, to_lat, to_lon).distance_m
    assert rest_m == pytest.approx(whole_m * (1 - share), abs=0.01)


def test_very_small_changes_of_latitude_do_not_spoil_the_distance() -> None:
    # One metre north on 2 degrees of longitude changes the length by under a millimetre.
    level_m = rhumb_line(50.0, 0.0, 50.0, 2.0).distance_m
    nearly_m = rhumb_line(50.0, 0.0, 50.0 + 1 / 111_229.0, 2.0).distance_m
    assert nearly_m == pytest.approx(level_m, abs=2.0)
    just_over_m = rhumb_line(50.0, 0.0, 50.0 + 0.00058, 2.0).distance_m
    just_under_m = rhumb_line(50.0, 0.0, 50.0 + 0.00057, 2.0).distance_m
    assert abs(just_over_m - just_under_m) < 2.0


@pytest.mark.parametrize("along", [along_rhumb_line, along_great_circle])
def test_a_distance_past_the_end_is_refused_and_a_metre_of_rounding_is_not(along: object) -> None:
    assert callable(along)
    length_m = great_circle(0.0, 0.0, 10.0, 0.0).distance_m
    assert along(0.0, 0.0, 10.0, 0.0, length_m + 0.5).lat_deg == pytest.approx(10.0)
    with pytest.raises(ValueError, match="at most the track's length"):
        along(0.0, 0.0, 10.0, 0.0, length_m + 2.0)


def test_no_distance_at_all_is_where_one_is() -> None:
    assert along_rhumb_line(10.0, 20.0, 10.0, 20.0, 0.0)[:2] == (10.0, 20.0)
    assert rhumb_line(10.0, 20.0, 10.0, 20.0).distance_m == 0.0


@pytest.mark.parametrize(("lon_deg", "same_deg"), [(-180.0, -180.0), (540.0, -180.0), (-190.0, 170.0), (0.0, 0.0)])
def test_longitudes_come_out_from_minus_180_to_below_180(lon_deg: float, same_deg: float) -> None:
    assert east_of_greenwich_deg(lon_deg) == same_deg


@pytest.mark.parametrize("lat_deg", [90.0, -89.5, 91.0])
def test_a_rhumb_line_near_a_pole_is_refused(lat_deg: float) -> None:
    with pytest.raises(ValueError, match="lat_deg"):
        rhumb_line(lat_deg, 0.0, 0.0, 0.0)
