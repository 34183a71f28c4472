"""The apparent wind and the geometry of the deck."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

import pytest

from scheduler.check.deck import Air, Blowing, Spot, Wind, downwind
from scheduler.check.scene import Scene
from scheduler.check.sky import Sky
from scheduler.check.span import Span
from scheduler.check.track import Track
from scheduler.domain.voyage import Leg
from scheduler.domain.weather import ForecastRow
from tests.check.made import LEGS, a_folder, at, the_good_week

THE_PLAN = the_good_week()[1]

HOUR = Span(at(9, "10:00"), at(9, "11:00"))


def wind(wind_kn: float | None, from_deg: float | None, leg: Leg, **over: object) -> Air:
    """The air of an hour under one forecast row, lying or steering as the leg says."""
    row = ForecastRow(
        issued=at(7, "00:00"), time=at(9, "10:00"), wind_kn=wind_kn, wind_from_deg=from_deg, wave_height_m=1.0,
        wave_from_deg=from_deg, swell_height_m=0.5, swell_from_deg=90.0,
    )  # fmt: skip
    rows = (replace(row, **over), replace(row, time=at(9, "11:00"), **over))  # type: ignore[arg-type]
    legs = (replace(leg, start=at(8, "00:00"), end=at(16, "00:00")),)
    folder = a_folder(weather=rows, legs=legs)
    scene = Scene(folder, replace(THE_PLAN, speeds=()))
    track = Track(scene)
    return Wind(scene, track, Sky(scene, track)).air(HOUR, legs[0])


BERTH, ANCHORAGE = LEGS[2], LEGS[1]


@pytest.mark.parametrize("from_deg", range(0, 360, 15))
def test_alongside_the_wind_goes_where_it_blows_to_from_the_bow(from_deg: int) -> None:
    heading = 285.0
    air = wind(20.0, float(from_deg), replace(BERTH, heading_deg=heading))
    (way,) = air.ways
    turned = (way.to_deg - (from_deg + 180.0 - heading) + 180.0) % 360.0 - 180.0
    assert (turned, way.half_deg, air.calm) == (pytest.approx(0.0, abs=1e-9), 60.0, "")


@pytest.mark.parametrize(
    ("wind_kn", "from_deg", "speed_kn", "course", "apparent_from", "apparent_kn"),
    [
        # Worked wind triangles: wind, ship, apparent direction (true) and speed.
        (10.0, 0.0, 12.0, 0.0, 0.0, 22.0),
        (12.0, 90.0, 12.0, 0.0, 45.0, 16.97),
        (20.0, 135.0, 14.0, 0.0, 90.6, 14.14),
        (15.0, 315.0, 10.0, 270.0, 297.2, 23.18),
    ],
)
def test_the_wind_triangle(
    wind_kn: float, from_deg: float, speed_kn: float, course: float, apparent_from: float, apparent_kn: float
) -> None:
    scene = Scene(a_folder(), THE_PLAN)
    track = Track(scene)
    calm_below = Wind(scene, track, Sky(scene, track))
    way = calm_below._apparent(wind_kn, from_deg, course, speed_kn, LEGS[0])
    if isinstance(way, str):
        # Under 9 m/s with the wind abaft the beam counts as calm; the words still say how strong it is.
        assert f"{apparent_kn * 0.51444:.1f} m/s" in way
        return
    assert (way.to_deg + course + 180.0) % 360.0 == pytest.approx(apparent_from, abs=0.05)


@pytest.mark.parametrize(
    ("air", "says"),
    [
        (wind(None, 0.0, BERTH), "no wind is given"),
        (wind(5.8, 0.0, BERTH), "apparent wind 3.0 m/s"),
        (wind(17.4, 180.0, BERTH), "from abaft the beam"),
        (wind(10.0, 0.0, BERTH, gust_kn=20.0), "gusts"),
        (wind(20.0, 0.0, replace(BERTH, heading_deg=None)), "heading"),
        (wind(20.0, 0.0, replace(ANCHORAGE, lies_to="tide")), "heading"),
        (wind(20.0, 0.0, replace(ANCHORAGE, lies_to="unknown")), "heading"),
        (wind(20.0, 0.0, replace(ANCHORAGE, kind="drifting")), "heading"),
    ],
)
def test_air_that_counts_as_calm(air: Air, says: str) -> None:
    assert says in air.calm


def test_a_light_air_just_over_the_limit_is_no_calm() -> None:
    # 5.9 kn are 3.04 m/s.
    assert wind(5.9, 0.0, BERTH).calm == ""


def test_lying_to_the_wind_the_sector_is_a_half_circle_astern() -> None:
    (way,) = wind(20.0, 123.0, ANCHORAGE).ways
    assert (abs(way.to_deg), way.half_deg) == (pytest.approx(180.0), 90.0)


def test_under_way_every_speed_counts_and_a_following_light_air_is_calm_at_one() -> None:
    # Course 180, wind 10 kn from right astern: at ten knots there is none over the deck.
    assert "apparent wind" in wind(10.0, 0.0, LEGS[0]).calm


@pytest.mark.parametrize(
    ("x_m", "y_m", "reached"),
    [
        # Wind on the bow blows aft; 60 degrees each side of right astern are reached.
        (-10.0, 0.0, True), (-10.0, 17.3, True), (-10.0, 17.4, False), (-10.0, -17.3, True), (10.0, 0.0, False),
    ],
)  # fmt: skip
def test_the_sector_reaches_sixty_degrees_each_side(x_m: float, y_m: float, reached: bool) -> None:
    air = Air(calm="", ways=frozenset({Blowing(to_deg=180.0, half_deg=60.0)}))
    assert downwind(Spot(50.0, 3.0), Spot(50.0 + x_m, 3.0 + y_m), air) is reached


def test_port_and_starboard_are_not_mixed_up() -> None:
    # Wind from the port beam blows to starboard, where y is negative.
    air = Air(calm="", ways=frozenset({Blowing(to_deg=90.0, half_deg=60.0)}))
    assert (downwind(Spot(0.0, 0.0), Spot(0.0, -30.0), air), downwind(Spot(0.0, 0.0), Spot(0.0, 30.0), air)) == (
        True,
        False,
    )


def test_rows_further_apart_than_six_hours_are_no_basis() -> None:
    folder = a_folder(weather=tuple(r for r in a_folder().weather if r.time.hour in (0, 12)))
    scene = Scene(folder, THE_PLAN)
    track = Track(scene)
    assert Wind(scene, track, Sky(scene, track)).air(HOUR, LEGS[0]).calm == "no wind is forecast for it"


def test_an_older_forecast_does_not_count() -> None:
    rows = a_folder().weather
    old = tuple(replace(r, issued=r.issued - timedelta(hours=12), wind_kn=90.0, wave_height_m=9.0) for r in rows)
    scene = Scene(a_folder(weather=(*old, *rows)), THE_PLAN)
    sky = Sky(scene, Track(scene))
    # 0.6 m of sea and 0.8 m of swell make 1.0 m.
    assert sky.sea_m(HOUR) == pytest.approx(1.0)


def test_of_two_members_the_worse_counts() -> None:
    rows = a_folder().weather
    both = (
        *(replace(r, member="1") for r in rows),
        *(replace(r, member="2", wave_height_m=3.0, swell_height_m=4.0) for r in rows),
    )
    scene = Scene(a_folder(weather=both), THE_PLAN)
    assert Sky(scene, Track(scene)).sea_m(HOUR) == pytest.approx(5.0)


def test_a_forecast_for_somewhere_else_is_no_basis() -> None:
    far = tuple(replace(r, lat=60.0, lon=-20.0) for r in a_folder().weather)
    scene = Scene(a_folder(weather=far), THE_PLAN)
    assert Sky(scene, Track(scene)).sea_m(HOUR) is None
