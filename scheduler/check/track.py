"""Where the ship is at an instant, from her legs and from the speeds that the plan says."""

from __future__ import annotations

import math
from datetime import datetime, timedelta
from functools import cached_property, lru_cache
from typing import Final, NamedTuple

from geographiclib.geodesic import Geodesic

from scheduler.check.scene import Scene
from scheduler.check.span import HOUR, NOTHING, Span
from scheduler.domain.plan import PlannedSpeed
from scheduler.domain.voyage import Leg

EARTH: Final = Geodesic.WGS84
NM_M: Final = 1852.0  # metres in a nautical mile, exact
E2: Final = float(EARTH.f) * (2 - float(EARTH.f))  # square of the eccentricity
TOLERANCE_KN: Final = 0.05  # speeds; our choice
TOLERANCE_NM: Final = 0.1  # positions; our choice


class Place(NamedTuple):
    """A position in degrees, and the course there in degrees true (None: she does not go)."""

    lat: float
    lon: float
    course_deg: float | None = None


class Line:
    """The track of a passage: great circle or rhumb line on the WGS84 ellipsoid."""

    def __init__(self, leg: Leg) -> None:
        if leg.from_lat is None or leg.from_lon is None or leg.to_lat is None or leg.to_lon is None:
            raise ValueError(f"leg {leg.leg}: an end has no position; expected both. Give the positions.")
        self._from, self._to = (leg.from_lat, leg.from_lon), (leg.to_lat, leg.to_lon)
        self._great = leg.track == "great circle"
        self._east = (leg.to_lon - leg.from_lon + 540.0) % 360.0 - 180.0
        self.length_nm = self._great_length() if self._great else self._rhumb_length()

    def at(self, nm: float) -> Place:
        """The place so many miles along the track, never past its end."""
        gone_m = min(max(nm, 0.0), self.length_nm) * NM_M
        return self._on_great(gone_m) if self._great else self._on_rhumb(gone_m)

    def _great_length(self) -> float:
        return float(EARTH.Inverse(*self._from, *self._to)["s12"]) / NM_M

    def _on_great(self, gone_m: float) -> Place:
        line = EARTH.InverseLine(*self._from, *self._to)
        spot = line.Position(gone_m)
        return Place(spot["lat2"], spot["lon2"], spot["azi2"] % 360.0)

    @cached_property
    def _course(self) -> float:
        north = _isometric(self._to[0]) - _isometric(self._from[0])
        return math.degrees(math.atan2(math.radians(self._east), north)) % 360.0

    def _rhumb_length(self) -> float:
        north_m = _meridian_m(self._to[0]) - _meridian_m(self._from[0])
        cosine = math.cos(math.radians(self._course))
        if abs(cosine) > 1e-9:
            return north_m / cosine / NM_M
        return abs(math.radians(self._east)) * _parallel_m(self._from[0]) / NM_M

    def _on_rhumb(self, gone_m: float) -> Place:
        north_m = _meridian_m(self._from[0]) + gone_m * math.cos(math.radians(self._course))
        lat = float(EARTH.Direct(0.0, 0.0, 0.0, north_m)["lat2"])
        climbed = _isometric(lat) - _isometric(self._from[0])
        if abs(climbed) > 1e-9:
            east = math.degrees(climbed * math.tan(math.radians(self._course)))
        else:
            east = math.degrees(gone_m * math.sin(math.radians(self._course)) / _parallel_m(lat))
        return Place(lat, (self._from[1] + east + 540.0) % 360.0 - 180.0, self._course)


def _isometric(lat: float) -> float:
    """The isometric latitude on the ellipsoid, in radians."""
    sine = math.sin(math.radians(lat))
    return math.asinh(math.tan(math.radians(lat))) - math.sqrt(E2) * math.atanh(math.sqrt(E2) * sine)


def _meridian_m(lat: float) -> float:
    """Metres along a meridian from the equator, south negative."""
    return math.copysign(float(EARTH.Inverse(0.0, 0.0, lat, 0.0)["s12"]), lat)


def _parallel_m(lat: float) -> float:
    """The radius of a parallel in metres."""
    sine = math.sin(math.radians(lat))
    return float(EARTH.a) * math.cos(math.radians(lat)) / math.sqrt(1 - E2 * sine * sine)


def distance_nm(one: Place, lat: float, lon: float) -> float:
    """Shortest distance between two places."""
    return float(EARTH.Inverse(one.lat, one.lon, lat, lon)["s12"]) / NM_M


class Track:
    """The ship's positions over the week, at the speeds of the plan."""

    def __init__(self, scene: Scene) -> None:
        self._scene = scene
        self._speeds = tuple(sorted(scene.plan.speeds, key=lambda speed: (speed.start, speed.end)))
        self.place = lru_cache(maxsize=None)(self._place)

    def line(self, leg: Leg) -> Line | None:
        """The track of a passage; None where an end has no position."""
        return self._lines.get(leg.leg)

    @cached_property
    def _lines(self) -> dict[str, Line]:
        given = (
            leg for leg in self._scene.legs
            if leg.kind == "passage" and None not in (leg.from_lat, leg.from_lon, leg.to_lat, leg.to_lon)
        )  # fmt: skip
        return {leg.leg: Line(leg) for leg in given}

    def planned_speed(self, leg: Leg) -> float:
        """The leg's planned speed; where none is given, what brings her there by the leg's end."""
        line = self.line(leg)
        if leg.speed_kn is not None or line is None:
            return leg.speed_kn or 0.0
        return float(line.length_nm / ((leg.end - leg.start) / HOUR))

    def speeds_in(self, span: Span) -> list[PlannedSpeed]:
        """The plan's speeds that touch a stretch."""
        return [speed for speed in self._speeds if speed.start < span.end and span.start < speed.end]

    def made_good(self, leg: Leg, until: datetime) -> float:
        """Miles along the leg; before the week she goes as planned, hove to she makes nothing good."""
        before = max(NOTHING, min(until, self._scene.week.start) - leg.start)
        nm = self.planned_speed(leg) * (before / HOUR)
        for speed in self.speeds_in(Span(max(leg.start, self._scene.week.start), until)):
            shared = min(speed.end, until) - max(speed.start, leg.start, self._scene.week.start)
            if shared > NOTHING and not speed.heaving_to:
                nm += speed.speed_kn * (shared / HOUR)
        return nm

    def _place(self, instant: datetime) -> Place | None:
        leg = self._scene.leg_at(instant)
        if leg is None:
            return None
        if leg.kind != "passage":
            return self._lying(leg)
        line = self.line(leg)
        return line.at(self.made_good(leg, instant)) if line is not None else None

    def _lying(self, leg: Leg) -> Place | None:
        if leg.from_lat is not None and leg.from_lon is not None:
            return Place(leg.from_lat, leg.from_lon)
        came_from = [other for other in self._scene.legs if other.end <= leg.start]
        last = came_from[-1] if came_from else None
        if last is None or last.to_lat is None or last.to_lon is None:
            return None
        return Place(last.to_lat, last.to_lon)

    def middle(self, hour: Span) -> Place | None:
        """The place at the middle of an hour."""
        return self.place(hour.start + timedelta(minutes=30))
