"""Distances, courses and positions along a great circle or a rhumb line on the WGS84 ellipsoid.

Latitudes north and longitudes east are positive. A track takes the shorter way round, over the date line
where that is shorter; exactly half round it goes east. Longitudes come out from −180 to below 180.
"""

from __future__ import annotations

import math
from typing import NamedTuple

from geographiclib.geodesic import Geodesic

from scheduler.hazards.bounds import between, finite, not_negative
from scheduler.hazards.wind import on_the_compass_deg

EQUATOR_RADIUS_M = 6378137.0  # WGS84 semi-major axis a
FLATTENING = 1.0 / 298.257223563  # WGS84 f
ECCENTRICITY = math.sqrt(FLATTENING * (2.0 - FLATTENING))
THIRD_FLATTENING = FLATTENING / (2.0 - FLATTENING)
HIGHEST_RHUMB_LAT_DEG = 89.0  # a rhumb line winds round the pole without end; no ship is there
NEARLY_LEVEL_RAD = 1e-5  # below this change of latitude the difference quotient loses more than it gains
END_SLACK_M = 1.0  # a distance this far past the end is rounding and means the end
NEWTON_STEPS = 8  # far more than needed: each step doubles the digits


class Track(NamedTuple):
    """Length of a track [m] and the course at its beginning [deg true, 0 … < 360]."""

    distance_m: float
    course_deg: float


class Fix(NamedTuple):
    """A position on a track and the course there [deg; deg true, 0 … < 360]."""

    lat_deg: float
    lon_deg: float
    course_deg: float


def great_circle(lat_deg: float, lon_deg: float, to_lat_deg: float, to_lon_deg: float) -> Track:
    """Length and first course of the shortest track between two positions.

    Assumes: WGS84.
    Parameters:
        lat_deg, to_lat_deg: latitudes, north positive [deg], −90 … 90.
        lon_deg, to_lon_deg: longitudes, east positive [deg], finite.
    Returns: Track.
    Raises: ValueError for a number outside its bound.
    Source: Karney, Algorithms for geodesics, J. Geod. 87 (2013), as in the library geographiclib.
    Example:
        >>> round(great_circle(40.6, -73.8, 51.6, -0.5).distance_m, 1)
        5551759.4
    """
    _position(lat_deg, lon_deg)
    _position(to_lat_deg, to_lon_deg)
    line = Geodesic.WGS84.Inverse(lat_deg, lon_deg, to_lat_deg, to_lon_deg)
    return Track(float(line["s12"]), on_the_compass_deg(float(line["azi1"])))


def along_great_circle(lat_deg: float, lon_deg: float, to_lat_deg: float, to_lon_deg: float, distance_m: float) -> Fix:
    """Position and course at a distance along the shortest track.

    Assumes: WGS84.
    Parameters:
        lat_deg, to_lat_deg: latitudes, north positive [deg], −90 … 90.
        lon_deg, to_lon_deg: longitudes, east positive [deg], finite.
        distance_m: distance made good [m], 0 … the track's length.
    Returns: Fix.
    Raises: ValueError for a number outside its bound; a distance over 1 m past the end is one.
    Source: as `great_circle`.
    Example:
        Over the date line along the equator.

        >>> fix = along_great_circle(0.0, 179.0, 0.0, -179.0, 111319.490793 * 1.5)
        >>> round(fix.lat_deg, 9), round(fix.lon_deg, 6), round(fix.course_deg, 6)
        (0.0, -179.5, 90.0)
    """
    length_m = great_circle(lat_deg, lon_deg, to_lat_deg, to_lon_deg).distance_m
    line = Geodesic.WGS84.InverseLine(lat_deg, lon_deg, to_lat_deg, to_lon_deg)
    there = line.Position(_on_the_track(distance_m, length_m))
    return Fix(
        float(there["lat2"]), east_of_greenwich_deg(float(there["lon2"])), on_the_compass_deg(float(there["azi2"]))
    )


def rhumb_line(lat_deg: float, lon_deg: float, to_lat_deg: float, to_lon_deg: float) -> Track:
    """Length and course of the track of constant course between two positions.

    Assumes: WGS84; no position within one degree of a pole.
    Parameters:
        lat_deg, to_lat_deg: latitudes, north positive [deg], −89 … 89.
        lon_deg, to_lon_deg: longitudes, east positive [deg], finite.
    Returns: Track.
    Raises: ValueError for a number outside its bound.
    Source: meridional parts of the ellipsoid, e.g. Bowring, The geodesic line and the rhumb line (1985).
    Example:
        >>> track = rhumb_line(40 + 38 / 60 + 23 / 3600, -(73 + 46 / 60 + 44 / 3600),
        ...                    1 + 21 / 60 + 33 / 3600, 103 + 59 / 60 + 22 / 3600)
        >>> round(track.distance_m), round(track.course_deg, 6)
        (18523563, 103.582833)
    """
    _rhumb_position(lat_deg, lon_deg)
    _rhumb_position(to_lat_deg, to_lon_deg)
    lat, to_lat = math.radians(lat_deg), math.radians(to_lat_deg)
    east = math.radians(_shorter_way_deg(lon_deg, to_lon_deg))
    north = _meridional_parts(to_lat) - _meridional_parts(lat)
    length_m = math.hypot(east, north) * _metres_per_part(lat, to_lat)
    return Track(length_m, on_the_compass_deg(math.degrees(math.atan2(east, north))))


def along_rhumb_line(lat_deg: float, lon_deg: float, to_lat_deg: float, to_lon_deg: float, distance_m: float) -> Fix:
    """Position and course at a distance along the track of constant course.

    Assumes: WGS84; no position within one degree of a pole.
    Parameters:
        lat_deg, to_lat_deg: latitudes, north positive [deg], −89 … 89.
        lon_deg, to_lon_deg: longitudes, east positive [deg], finite.
        distance_m: distance made good [m], 0 … the track's length.
    Returns: Fix.
    Raises: ValueError for a number outside its bound; a distance over 1 m past the end is one.
    Source: as `rhumb_line`.
    Example:
        Half way along a parallel, over the date line.

        >>> length_m = rhumb_line(50.0, 170.0, 50.0, -170.0).distance_m
        >>> fix = along_rhumb_line(50.0, 170.0, 50.0, -170.0, length_m / 2.0)
        >>> round(fix.lat_deg, 9), round(fix.lon_deg, 9), round(fix.course_deg, 9)
        (50.0, -180.0, 90.0)
    """
    track = rhumb_line(lat_deg, lon_deg, to_lat_deg, to_lon_deg)
    made_good_m = _on_the_track(distance_m, track.distance_m)
    if made_good_m == track.distance_m:
        return Fix(to_lat_deg, east_of_greenwich_deg(to_lon_deg), track.course_deg)
    lat, course = math.radians(lat_deg), math.radians(track.course_deg)
    there = _lat_at_meridian_distance(_meridian_distance_m(lat) + made_good_m * math.cos(course))
    east = made_good_m * math.sin(course) / _metres_per_part(lat, there)
    return Fix(math.degrees(there), east_of_greenwich_deg(lon_deg + math.degrees(east)), track.course_deg)


def east_of_greenwich_deg(lon_deg: float) -> float:
    """The same longitude from −180 to below 180.

    Assumes: east positive.
    Parameters: lon_deg [deg], finite.
    Returns: longitude [deg, −180 … < 180].
    Raises: ValueError for a number outside its bound.
    Source: definition.
    Example:
        >>> east_of_greenwich_deg(190.0), east_of_greenwich_deg(180.0)
        (-170.0, -180.0)
    """
    finite(lon_deg=lon_deg)
    return on_the_compass_deg(lon_deg + 180.0) - 180.0


def _shorter_way_deg(lon_deg: float, to_lon_deg: float) -> float:
    way_deg = math.remainder(to_lon_deg - lon_deg, 360.0)
    return 180.0 if way_deg == -180.0 else way_deg


def _meridional_parts(lat: float) -> float:
    """Isometric latitude [rad of longitude at the equator]."""
    return math.asinh(math.tan(lat)) - ECCENTRICITY * math.atanh(ECCENTRICITY * math.sin(lat))


def _meridian_distance_m(lat: float) -> float:
    """Distance from the equator along a meridian; Helmert's series in the third flattening, good to under 1 µm."""
    n = THIRD_FLATTENING
    series = (
        (1.0 + n**2 / 4.0 + n**4 / 64.0) * lat
        - 3.0 / 2.0 * (n - n**3 / 8.0) * math.sin(2.0 * lat)
        + 15.0 / 16.0 * (n**2 - n**4 / 4.0) * math.sin(4.0 * lat)
        - 35.0 / 48.0 * n**3 * math.sin(6.0 * lat)
        + 315.0 / 512.0 * n**4 * math.sin(8.0 * lat)
    )
    return EQUATOR_RADIUS_M / (1.0 + n) * series


def _lat_at_meridian_distance(distance_m: float) -> float:
    lat = distance_m / EQUATOR_RADIUS_M
    for _ in range(NEWTON_STEPS):
        bend = 1.0 - (ECCENTRICITY * math.sin(lat)) ** 2
        metres_per_rad = EQUATOR_RADIUS_M * (1.0 - ECCENTRICITY**2) / bend**1.5
        lat -= (_meridian_distance_m(lat) - distance_m) / metres_per_rad
    return lat


def _metres_per_part(lat: float, to_lat: float) -> float:
    """Metres of meridian for each meridional part between two latitudes; on one parallel its radius."""
    if abs(to_lat - lat) > NEARLY_LEVEL_RAD:
        north_m = _meridian_distance_m(to_lat) - _meridian_distance_m(lat)
        return north_m / (_meridional_parts(to_lat) - _meridional_parts(lat))
    middle = (lat + to_lat) / 2.0
    return EQUATOR_RADIUS_M * math.cos(middle) / math.sqrt(1.0 - (ECCENTRICITY * math.sin(middle)) ** 2)


def _position(lat_deg: float, lon_deg: float) -> None:
    between(-90.0, 90.0, lat_deg=lat_deg)
    finite(lon_deg=lon_deg)


def _rhumb_position(lat_deg: float, lon_deg: float) -> None:
    between(-HIGHEST_RHUMB_LAT_DEG, HIGHEST_RHUMB_LAT_DEG, lat_deg=lat_deg)
    finite(lon_deg=lon_deg)


def _on_the_track(distance_m: float, length_m: float) -> float:
    not_negative(distance_m=distance_m)
    if distance_m > length_m + END_SLACK_M:
        raise ValueError(
            f"distance_m: {distance_m} was given; expected at most the track's length, {length_m}. "
            "Stop at the end of the track."
        )
    return min(distance_m, length_m)
