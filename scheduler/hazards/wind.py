"""The wind that the deck feels while the ship moves.

Directions are 'coming from', degrees clockwise from true north; in ship's axes clockwise from the bow.
"""

from __future__ import annotations

import math
from typing import NamedTuple

from scheduler.hazards.bounds import finite, not_negative

LEAST_WITH_DIRECTION_M_S = 1e-6  # below it a direction is rounding noise; our choice, far under any wind gauge
FULL_CIRCLE_DEG = 360.0


class Wind(NamedTuple):
    """Speed [m/s] and the direction that it comes from [deg, 0 … < 360]; None when it has none."""

    speed_m_s: float
    from_deg: float | None


def apparent_wind(true_speed_m_s: float, true_from_deg: float, ship_speed_m_s: float, course_deg: float) -> Wind:
    """Wind over the deck: true wind less the ship's motion.

    Assumes: the ship moves along her course; the wind is that at the deck's height.
    Parameters:
        true_speed_m_s: true wind [m/s], ≥ 0.
        true_from_deg: direction that it comes from [deg true], finite.
        ship_speed_m_s: ship's speed [m/s], ≥ 0.
        course_deg: ship's course [deg true], finite.
    Returns: Wind with its direction in degrees true, None where wind and ship cancel out.
    Raises: ValueError for a number outside its bound.
    Source: sum of vectors.
    Example:
        10 m/s from right ahead at 12 m/s, then 12 m/s from the beam at 12 m/s.

        >>> apparent_wind(10.0, 0.0, 12.0, 0.0)
        Wind(speed_m_s=22.0, from_deg=0.0)
        >>> wind = apparent_wind(12.0, 90.0, 12.0, 0.0)
        >>> round(wind.speed_m_s, 2), round(wind.from_deg or 0.0, 6)
        (16.97, 45.0)
        >>> apparent_wind(12.0, 180.0, 12.0, 0.0).from_deg is None
        True
    """
    not_negative(true_speed_m_s=true_speed_m_s, ship_speed_m_s=ship_speed_m_s)
    finite(true_from_deg=true_from_deg, course_deg=course_deg)
    wind_from, course = math.radians(true_from_deg), math.radians(course_deg)
    east = true_speed_m_s * math.sin(wind_from) + ship_speed_m_s * math.sin(course)
    north = true_speed_m_s * math.cos(wind_from) + ship_speed_m_s * math.cos(course)
    speed_m_s = math.hypot(east, north)
    if speed_m_s < LEAST_WITH_DIRECTION_M_S:
        return Wind(0.0, None)
    return Wind(speed_m_s, on_the_compass_deg(math.degrees(math.atan2(east, north))))


def from_bow_deg(direction_deg: float, heading_deg: float) -> float:
    """A true direction in ship's axes: clockwise from the bow.

    Assumes: both are degrees true.
    Parameters:
        direction_deg: a direction [deg true], finite.
        heading_deg: where the bow points [deg true], finite.
    Returns: degrees clockwise from the bow [deg, 0 … < 360].
    Raises: ValueError for a number outside its bound.
    Source: definition.
    Example:
        >>> from_bow_deg(20.0, 350.0)
        30.0
    """
    finite(direction_deg=direction_deg, heading_deg=heading_deg)
    return on_the_compass_deg(direction_deg - heading_deg)


def angle_between_deg(one_deg: float, other_deg: float) -> float:
    """The smaller angle between two directions.

    Assumes: both are counted from the same zero.
    Parameters: one_deg, other_deg [deg], finite.
    Returns: angle [deg, 0 … 180].
    Raises: ValueError for a number outside its bound.
    Source: definition.
    Example:
        >>> angle_between_deg(350.0, 20.0)
        30.0
    """
    finite(one_deg=one_deg, other_deg=other_deg)
    return abs(math.remainder(one_deg - other_deg, FULL_CIRCLE_DEG))


def on_the_compass_deg(direction_deg: float) -> float:
    """The same direction between 0 and 360 degrees.

    Assumes: nothing.
    Parameters: direction_deg [deg], finite.
    Returns: direction [deg, 0 … < 360].
    Raises: ValueError for a number outside its bound.
    Source: definition.
    Example:
        The second would be 360.0 by the remainder alone.

        >>> on_the_compass_deg(-90.0), on_the_compass_deg(-1e-15)
        (270.0, 0.0)
    """
    finite(direction_deg=direction_deg)
    turned_deg = direction_deg % FULL_CIRCLE_DEG
    return 0.0 if turned_deg == FULL_CIRCLE_DEG else turned_deg
