"""May an outlet blow on an opening: distance and wind sector on the deck, geometry only.

Ship's axes: x metres forward, y metres to port; bearings clockwise from the bow. No concentration is
computed: how vapour spreads over a deck is exactly what nobody on board knows.
"""

from __future__ import annotations

import math
from enum import StrEnum
from typing import NamedTuple

from scheduler.hazards.bounds import between, finite, not_negative
from scheduler.hazards.wind import Wind, angle_between_deg, on_the_compass_deg

ROUNDING_M = 1e-9  # a distance this close to the reach counts as within it
ROUNDING_DEG = 1e-9  # a bearing this close to the sector's edge counts as inside


class DeckPoint(NamedTuple):
    """A place on deck: metres forward of the aft perpendicular, metres to port of the centre line."""

    x_m: float
    y_m: float


class Blow(StrEnum):
    """Whether an outlet may blow on an opening, and why."""

    WITHIN_REACH = "within reach"
    DOWNWIND = "downwind"
    CALM = "calm"
    UNKNOWN = "unknown"
    CLEAR = "clear"

    @property
    def blocks(self) -> bool:
        """True for everything but clear."""
        return self is not Blow.CLEAR


def distance_m(one: DeckPoint, other: DeckPoint) -> float:
    """Horizontal distance between two places on deck; height gives no credit.

    Assumes: both in ship's axes.
    Parameters: one, other [m], finite.
    Returns: distance [m], ≥ 0.
    Raises: ValueError for a number outside its bound.
    Source: definition.
    Example:
        >>> distance_m(DeckPoint(100.0, 3.0), DeckPoint(94.0, -5.0))
        10.0
    """
    finite(x_m=one.x_m, y_m=one.y_m)
    finite(x_m=other.x_m, y_m=other.y_m)
    return math.hypot(other.x_m - one.x_m, other.y_m - one.y_m)


def bearing_from_bow_deg(outlet: DeckPoint, opening: DeckPoint) -> float | None:
    """Where an opening bears as seen from an outlet, clockwise from the bow; None when they are at one place.

    Assumes: both in ship's axes, y to port.
    Parameters: outlet, opening [m], finite.
    Returns: bearing [deg, 0 … < 360] or None.
    Raises: ValueError for a number outside its bound.
    Source: definition.
    Example:
        Ten metres to port of the outlet bears 270°.

        >>> bearing_from_bow_deg(DeckPoint(0.0, 0.0), DeckPoint(0.0, 10.0))
        270.0
    """
    if distance_m(outlet, opening) == 0.0:
        return None
    to_starboard_m, forward_m = outlet.y_m - opening.y_m, opening.x_m - outlet.x_m
    return on_the_compass_deg(math.degrees(math.atan2(to_starboard_m, forward_m)))


def in_sector(bearing_deg: float, blows_to_deg: float, half_angle_deg: float) -> bool:
    """True when a bearing lies inside the sector to both sides of where the wind blows to, its edges included.

    Assumes: both directions are counted from the same zero.
    Parameters:
        bearing_deg: bearing of the opening [deg], finite.
        blows_to_deg: direction that the wind blows to [deg], finite.
        half_angle_deg: half the sector's opening [deg], 0 … 180.
    Returns: True inside.
    Raises: ValueError for a number outside its bound.
    Source: geometry; the half-angle is policy.
    Example:
        >>> in_sector(230.0, 180.0, 60.0), in_sector(241.0, 180.0, 60.0)
        (True, False)
    """
    between(0.0, 180.0, half_angle_deg=half_angle_deg)
    return angle_between_deg(bearing_deg, blows_to_deg) <= half_angle_deg + ROUNDING_DEG


def blow(
    *,
    outlet: DeckPoint | None,
    opening: DeckPoint | None,
    wind_over_deck: Wind | None,
    half_angle_deg: float,
    reach_m: float,
    calm_m_s: float,
) -> Blow:
    """Whether an outlet may blow on an opening of the same deck, and why.

    Assumes: the opening lies on the deck over which the vapour may drift, so that downwind there is no limit of
        distance; the flow is vapour heavier than air or of unknown weight.
    Parameters:
        outlet: its place [m], or None when unknown: it blows everywhere.
        opening: its place [m], or None when unknown: everything blows on it.
        wind_over_deck: apparent wind, its direction clockwise from the bow [m/s, deg], or None when unknown.
        half_angle_deg: half the downwind sector's opening [deg], 0 … 180; 180 is the whole deck.
        reach_m: distance within which it blows in any direction [m], ≥ 0, the distance itself included.
        calm_m_s: apparent wind below which it blows on the whole deck [m/s], ≥ 0.
    Returns: Blow; the first that holds of within reach, unknown, calm, downwind, clear.
    Raises: ValueError for a number outside its bound.
    Source: reach 10 m SOLAS II-2/4.5.3.4, 15 m IBC 15.12, 5 m SOLAS II-2/11.6, as distances of design, no proof
        of clean air; sector and calm are our choice.
    Example:
        Wind from ahead blows aft: 30 m aft of the outlet is downwind, 30 m forward is clear.

        >>> [blow(outlet=DeckPoint(60.0, 0.0), opening=DeckPoint(x, 0.0), wind_over_deck=Wind(6.0, 0.0),
        ...       half_angle_deg=60.0, reach_m=10.0, calm_m_s=3.0).value for x in (30.0, 55.0, 90.0)]
        ['downwind', 'within reach', 'clear']
    """
    not_negative(reach_m=reach_m, calm_m_s=calm_m_s)
    between(0.0, 180.0, half_angle_deg=half_angle_deg)
    if outlet is None or opening is None:
        return Blow.UNKNOWN
    if within_reach(outlet, opening, reach_m):
        return Blow.WITHIN_REACH
    return _by_wind(outlet, opening, wind_over_deck, half_angle_deg, calm_m_s)


def within_reach(outlet: DeckPoint | None, opening: DeckPoint | None, reach_m: float) -> bool:
    """True when an opening lies within a distance of an outlet in any direction, the distance itself included.

    Assumes: the rule asks for distance only, as for breathing of loaded tanks. An unknown place is within reach.
    Parameters:
        outlet: its place [m], or None when unknown.
        opening: its place [m], or None when unknown.
        reach_m: the distance [m], ≥ 0.
    Returns: True within reach.
    Raises: ValueError for a number outside its bound.
    Source: as `blow`.
    Example:
        >>> within_reach(DeckPoint(0.0, 0.0), DeckPoint(5.0, 0.0), 5.0), within_reach(None, DeckPoint(5.0, 0.0), 5.0)
        (True, True)
    """
    not_negative(reach_m=reach_m)
    if outlet is None or opening is None:
        return True
    return distance_m(outlet, opening) <= reach_m + ROUNDING_M


def _by_wind(outlet: DeckPoint, opening: DeckPoint, wind: Wind | None, half_angle_deg: float, calm_m_s: float) -> Blow:
    if wind is None:
        return Blow.UNKNOWN
    not_negative(wind_m_s=wind.speed_m_s)
    bearing_deg = bearing_from_bow_deg(outlet, opening)
    if wind.speed_m_s < calm_m_s or wind.from_deg is None or bearing_deg is None:
        return Blow.CALM
    if in_sector(bearing_deg, wind.from_deg + 180.0, half_angle_deg):
        return Blow.DOWNWIND
    return Blow.CLEAR
