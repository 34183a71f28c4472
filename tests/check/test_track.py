"""Positions, distances and courses of the checker's own reckoning, against published values."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

import pytest

from scheduler.check.scene import Scene
from scheduler.check.track import Line, Track
from scheduler.domain.voyage import Leg
from tests.check.made import LEGS, a_folder, at, the_good_week

THE_PLAN = the_good_week()[1]


def a_leg(from_: tuple[float, float], to: tuple[float, float], track: str = "rhumb line") -> Leg:
    return replace(LEGS[0], from_lat=from_[0], from_lon=from_[1], to_lat=to[0], to_lon=to[1], track=track)


JFK, SINGAPORE = (
    (40 + 38 / 60 + 23 / 3600, -(73 + 46 / 60 + 44 / 3600)),
    (1 + 21 / 60 + 33 / 3600, 103 + 59 / 60 + 22 / 3600),
)


def test_a_rhumb_line_against_the_worked_example_of_rhumbsolve() -> None:
    # RhumbSolve (GeographicLib), its manual: 18523563 m on a course of 103 deg 34 min 58.2 s.
    line = Line(a_leg(JFK, SINGAPORE))
    assert line.length_nm * 1852 == pytest.approx(18523563.0, abs=1.0)
    assert line.at(0.0).course_deg == pytest.approx(103 + 34 / 60 + 58.2 / 3600, abs=1e-4)


def test_a_great_circle_against_the_worked_example_of_geodsolve() -> None:
    # GeodSolve (GeographicLib), its manual: JFK to Singapore 15347628 m, setting out on 003 deg 18 min 29.9 s.
    line = Line(a_leg(JFK, SINGAPORE, "great circle"))
    assert line.length_nm * 1852 == pytest.approx(15347628.0, abs=1.0)
    assert line.at(0.0).course_deg == pytest.approx(3 + 18 / 60 + 29.9 / 3600, abs=1e-4)


@pytest.mark.parametrize("track", ["rhumb line", "great circle"])
def test_a_track_ends_where_it_should(track: str) -> None:
    line = Line(a_leg((34.0, 170.0), (-12.0, -165.0), track))
    end = line.at(line.length_nm)
    assert (end.lat, end.lon) == (pytest.approx(-12.0, abs=1e-6), pytest.approx(-165.0, abs=1e-6))


def test_a_track_along_a_parallel_keeps_its_latitude() -> None:
    line = Line(a_leg((45.0, 179.0), (45.0, -179.0)))
    middle = line.at(line.length_nm / 2)
    assert (middle.lat, abs(middle.lon), middle.course_deg) == (
        pytest.approx(45.0), pytest.approx(180.0, abs=1e-6), pytest.approx(90.0)
    )  # fmt: skip


def test_a_track_of_another_turn_of_longitude_is_the_same() -> None:
    one, other = Line(a_leg((10.0, -20.0), (5.0, -30.0))), Line(a_leg((10.0, 340.0), (5.0, 330.0)))
    assert one.length_nm == pytest.approx(other.length_nm)


def test_hove_to_she_makes_nothing_good_and_eased_less() -> None:
    folder, plan = a_folder(), THE_PLAN
    first, start = plan.speeds[0], at(8, "00:00")
    hour = timedelta(hours=1)
    speeds = (
        replace(first, end=start + 2 * hour),
        replace(first, start=start + 2 * hour, end=start + 3 * hour, speed_kn=2.0, heaving_to=True),
        replace(first, start=start + 3 * hour, end=start + 5 * hour, speed_kn=8.0),
        replace(first, start=start + 5 * hour),
    )
    track = Track(Scene(folder, replace(plan, speeds=speeds)))
    # 2 h at 12 kn, one hove to, 2 h at 8 kn and 1 h at 12 kn.
    assert track.made_good(LEGS[0], start + 6 * hour) == pytest.approx(24 + 0 + 16 + 12)
