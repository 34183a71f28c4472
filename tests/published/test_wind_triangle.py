"""The wind triangle."""

from __future__ import annotations

import pytest

from scheduler.hazards.wind import apparent_wind, from_bow_deg
from scheduler.units import kn_from_m_s, m_s_from_kn


def test_the_manoeuvring_boards_worked_wind_comes_back_from_the_bow() -> None:
    # Source: Radar Navigation and Maneuvering Board Manual (US, Pub. 1310), true-wind example: relative wind 30 kn
    # from 040° relative, which is 280° true, gives a true wind from 315°, 20 kn (found in a copy of the text);
    # the ship's course then is 240°; her speed of 18 kn is from memory. A plotting-board answer: good to 1° and 0.5 kn.
    wind = apparent_wind(m_s_from_kn(20.0), 315.0, m_s_from_kn(18.0), 240.0)
    assert wind.from_deg is not None
    assert kn_from_m_s(wind.speed_m_s) == pytest.approx(30.0, abs=0.5)
    assert from_bow_deg(wind.from_deg, 240.0) == pytest.approx(40.0, abs=1.0)


@pytest.mark.parametrize(
    ("true", "ship", "apparent"),
    [
        ((10.0, 0.0), (12.0, 0.0), (22.0, 0.0)),  # both from ahead: the speeds add
        ((12.0, 90.0), (12.0, 0.0), (16.97, 45.0)),  # 12·√2, half way between
        ((20.0, 135.0), (14.0, 0.0), (14.14, 90.6)),  # 20·sin 45° abeam, 20·cos 45° just outrun
        ((15.0, 315.0), (10.0, 270.0), (23.18, 297.2)),  # 27.2° on the starboard bow
    ],
)
def test_constructed_triangles_come_out(
    true: tuple[float, float], ship: tuple[float, float], apparent: tuple[float, float]
) -> None:
    # Constructed: worked by components, no published case.
    wind = apparent_wind(*true, *ship)
    assert wind.speed_m_s == pytest.approx(apparent[0], abs=0.005)
    assert wind.from_deg == pytest.approx(apparent[1], abs=0.05)


def test_a_following_wind_of_the_ships_own_speed_has_no_direction() -> None:
    # Constructed: 12 from right astern at 12 leaves nothing.
    assert apparent_wind(12.0, 180.0, 12.0, 0.0) == (0.0, None)
