"""Where the ship is, which forecast counts, and where her bow points."""

from __future__ import annotations

from datetime import timedelta
from typing import Any

import pytest

from scheduler.rules.forecast import basis_of, worst_sea_m
from scheduler.rules.outlook import heading
from scheduler.rules.track import pieces_of, position_in
from tests.builders import START, a_berth, a_folder, a_forecast, a_forecast_row, a_leg, at

HOUR = timedelta(hours=1)
MINUTE = timedelta(minutes=1)


def test_hours_are_cut_where_a_leg_begins_and_nobody_guesses_between_legs() -> None:
    legs = (a_berth(end=at(1, "02:30")), a_leg(start=at(1, "03:15"), end=at(1, "05:00")))
    pieces = pieces_of(a_folder(legs=legs))[:6]
    found = [(f"{p.start:%H:%M}", f"{p.end:%H:%M}", p.leg.leg if p.leg else None) for p in pieces]
    assert found == [
        ("00:00", "01:00", "B1"), ("01:00", "02:00", "B1"), ("02:00", "02:30", "B1"), ("02:30", "03:00", None),
        ("03:00", "03:15", None), ("03:15", "04:00", "L1"),
    ]  # fmt: skip


def test_the_position_is_that_at_the_middle_of_the_hour_at_the_planned_speed() -> None:
    # 12 kn for 10.5 h are 126 nm north of 20°S; a minute of latitude there is about 0.996 nm: 2.108°
    fix = position_in(a_folder(), at(1, "10:00"))
    assert fix is not None
    assert fix.lat_deg == pytest.approx(-20.0 + 126.0 / 59.8, abs=0.005)
    assert fix.lon_deg == pytest.approx(-30.0)


def test_the_position_is_on_the_leg_that_holds_the_middle_of_the_hour() -> None:
    legs = (a_berth(end=at(1, "02:20")), a_leg(start=at(1, "02:20"), from_lat=10.0, to_lat=30.0))
    fix = position_in(a_folder(legs=legs), at(1, "02:00"))
    assert fix is not None
    assert fix.lat_deg == pytest.approx(10.0, abs=0.05)


def test_the_position_stops_at_the_end_of_the_track() -> None:
    leg = a_leg(to_lat=-19.0, end=at(3, "00:00"))
    fix = position_in(a_folder(legs=(leg,)), at(2, "23:00"))
    assert fix is not None
    assert fix.lat_deg == -19.0


# -- the forecast -----------------------------------------------------------------------------------------------


def test_the_two_rows_that_bracket_an_hour_count_and_the_worse_holds() -> None:
    rows = (
        a_forecast_row(at(1, "00:00"), wave_height_m=3.0, swell_height_m=4.0),
        a_forecast_row(at(1, "03:00"), wave_height_m=0.3, swell_height_m=0.4),
    )
    folder = a_folder(weather=rows)
    # 3 and 4 m by root of squares are 5 m; nothing is interpolated, so the hour before 03:00 has them too
    assert worst_sea_m(folder, at(1, "02:00")) == (5.0, "")


def test_only_the_newest_issue_counts() -> None:
    old = a_forecast(wave_height_m=6.0, issued=START - timedelta(hours=18))
    assert worst_sea_m(a_folder(weather=(*old, *a_forecast())), START)[0] == pytest.approx(0.5 * 2**0.5)


def test_the_worst_member_holds() -> None:
    weather = (*a_forecast(member="1"), *a_forecast(member="2", wave_height_m=3.0, swell_height_m=4.0))
    assert worst_sea_m(a_folder(weather=weather), START) == (5.0, "")


@pytest.mark.parametrize(("minutes", "basis"), [(359, True), (360, True), (361, False)])
def test_rows_more_than_six_hours_apart_are_no_basis(minutes: int, *, basis: bool) -> None:
    weather = (a_forecast_row(START), a_forecast_row(START + minutes * MINUTE))
    assert bool(basis_of(a_folder(weather=weather), START).rows) is basis


def test_an_hour_past_the_last_row_has_no_basis() -> None:
    folder = a_folder(weather=a_forecast(days=1))
    assert basis_of(folder, at(1, "23:00")).rows
    assert basis_of(folder, at(2, "00:00")).why_none == "the forecast does not reach so far"


def test_a_missing_swell_is_no_calm() -> None:
    height, why = worst_sea_m(a_folder(weather=a_forecast(swell_height_m=None)), START)
    assert height is None
    assert why


def two_places(*, first_lat: float, **over: Any) -> Any:
    near = a_forecast(lat=first_lat, lon=-30.0, wind_kn=10.0)
    far = a_forecast(lat=-10.0, lon=-30.0, wind_kn=40.0)
    return a_folder(legs=(a_berth(),), weather=(*near, *far), **over)


def test_the_nearest_place_counts() -> None:
    assert {row.wind_kn for row in basis_of(two_places(first_lat=-21.0), START).rows} == {10.0}


@pytest.mark.parametrize(("lat", "basis"), [(-18.0, True), (-17.98, False)])
def test_a_place_beyond_reach_is_no_basis(lat: float, *, basis: bool) -> None:
    # 2.00° of latitude at 20°S are 119.5 nm, 2.02° are 120.7 nm: policy says 120
    assert bool(basis_of(two_places(first_lat=lat), START).rows) is basis


# -- the bow ----------------------------------------------------------------------------------------------------


def test_under_way_the_bow_points_along_the_track() -> None:
    assert heading(a_folder(), a_leg(), START, hove_to=False) == pytest.approx(0.0)


@pytest.mark.parametrize(("wave_m", "expected"), [(1.0, 110.0), (3.0, 200.0)])
def test_hove_to_she_lies_with_her_bow_to_the_higher_waves(wave_m: float, expected: float) -> None:
    weather = a_forecast(wave_height_m=wave_m, wave_from_deg=200.0, swell_height_m=2.0, swell_from_deg=110.0)
    assert heading(a_folder(weather=weather), a_leg(), START + 30 * MINUTE, hove_to=True) == expected
