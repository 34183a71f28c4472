"""The plan of the deck: how far an opening is from an outlet, and whether the wind carries from one to the other."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache
from typing import Final, NamedTuple

from scheduler.check.scene import Scene
from scheduler.check.sky import Sky
from scheduler.check.span import Span
from scheduler.check.track import Track
from scheduler.domain.ship import Opening
from scheduler.domain.voyage import Leg
from scheduler.domain.weather import ForecastRow

KNOT_M_S: Final = 1852.0 / 3600.0  # one nautical mile an hour, exact


class Spot(NamedTuple):
    """A place on deck in ship's coordinates, x forward, y to port; None: not given."""

    x_m: float | None
    y_m: float | None

    @property
    def known(self) -> bool:
        """True when both are given."""
        return self.x_m is not None and self.y_m is not None


@dataclass(frozen=True, kw_only=True, slots=True)
class Blowing:
    """Where the apparent wind of an hour blows to: degrees clockwise from the bow, give or take a half-angle."""

    to_deg: float
    half_deg: float


@dataclass(frozen=True, kw_only=True, slots=True)
class Air:
    """Every way that the wind may blow in an hour; `calm` says why the whole cargo deck is in it."""

    calm: str
    ways: frozenset[Blowing] = frozenset()


def distance_m(one: Spot, other: Spot) -> float | None:
    """Horizontal distance; None where a place is not given."""
    if one.x_m is None or one.y_m is None or other.x_m is None or other.y_m is None:
        return None
    return math.hypot(one.x_m - other.x_m, one.y_m - other.y_m)


def downwind(source: Spot, opening: Spot, air: Air) -> bool:
    """True when some wind of the hour may carry from the source to the opening."""
    if source.x_m is None or source.y_m is None or opening.x_m is None or opening.y_m is None:
        return True
    bearing = math.degrees(math.atan2(source.y_m - opening.y_m, opening.x_m - source.x_m))
    return any(_apart(bearing, way.to_deg) <= way.half_deg + 1e-9 for way in air.ways)


def _apart(one_deg: float, other_deg: float) -> float:
    return abs((one_deg - other_deg + 180.0) % 360.0 - 180.0)


class Wind:
    """The apparent wind over the week, at every speed and heading that may be."""

    def __init__(self, scene: Scene, track: Track, sky: Sky) -> None:
        self._scene, self._track, self._sky = scene, track, sky
        self.air = lru_cache(maxsize=None)(self._air)

    def _air(self, hour: Span, leg: Leg | None) -> Air:
        rows = self._sky.rows(hour)
        if leg is None or not rows:
            return Air(calm="no wind is forecast for it")
        ways: set[Blowing] = set()
        for row in rows:
            air = self._of_row(row, leg, hour)
            if air.calm:
                return air
            ways |= air.ways
        return Air(calm="", ways=frozenset(ways))

    def _of_row(self, row: ForecastRow, leg: Leg, hour: Span) -> Air:
        if row.wind_kn is None or row.wind_from_deg is None:
            return Air(calm="no wind is given")
        ratio = self._scene.policy.number("vapour.gust_ratio")
        if row.gust_kn is not None and row.gust_kn >= ratio * row.wind_kn:
            return Air(calm=f"gusts of {row.gust_kn:g} kn in {row.wind_kn:g} kn of wind")
        if leg.kind == "drifting" or (leg.kind == "anchorage" and leg.lies_to in ("tide", "unknown", "")):
            return Air(calm="her heading is not known")
        headings = self._headings(row, leg, hour)
        if not headings:
            return Air(calm="her heading is not known")
        ways: set[Blowing] = set()
        for heading_deg, speed_kn in headings:
            way = self._apparent(row.wind_kn, row.wind_from_deg, heading_deg, speed_kn, leg)
            if isinstance(way, str):
                return Air(calm=way)
            ways.add(way)
        return Air(calm="", ways=frozenset(ways))

    def _headings(self, row: ForecastRow, leg: Leg, hour: Span) -> list[tuple[float, float]]:
        """Headings and speeds through the water that may be; none: not known."""
        if leg.kind == "berth":
            return [] if leg.heading_deg is None else [(leg.heading_deg, 0.0)]
        if leg.kind == "anchorage":
            lies = row.wind_from_deg if leg.lies_to == "wind" else _degrees(leg.lies_to)
            return [] if lies is None else [(lies, 0.0)]
        place, hove_to = self._track.middle(hour), _into_the_sea(row)
        if place is None or place.course_deg is None or hove_to is None:
            return []
        course, greatest = place.course_deg, self._scene.folder.ship.greatest_speed_kn
        speeds = {float(knots) for knots in range(math.floor(greatest) + 1)} | {self._track.planned_speed(leg)}
        return [(course, speed) for speed in sorted(speeds)] + [(hove_to, 0.0)]

    def _apparent(
        self, wind_kn: float, from_deg: float, heading_deg: float, speed_kn: float, leg: Leg
    ) -> Blowing | str:
        """The wind triangle, in ship's axes; a text where it counts as calm."""
        blows = math.radians(from_deg + 180.0 - heading_deg)
        ahead = (wind_kn * math.cos(blows) - speed_kn) * KNOT_M_S
        to_starboard = wind_kn * math.sin(blows) * KNOT_M_S
        strength, aft = math.hypot(ahead, to_starboard), _apart(from_deg, heading_deg) > 90.0
        policy = self._scene.policy
        if strength < policy.number("vapour.calm_m_s"):
            return f"apparent wind {strength:.1f} m/s at {speed_kn:g} kn"
        if aft and strength < policy.number("vapour.calm_aft_m_s"):
            return f"apparent wind {strength:.1f} m/s from abaft the beam at {speed_kn:g} kn"
        wide = (leg.kind != "berth" and aft) or (leg.kind == "anchorage" and leg.lies_to == "wind")
        half = policy.number("vapour.sector_wide_deg" if wide else "vapour.sector_deg")
        return Blowing(to_deg=math.degrees(math.atan2(to_starboard, ahead)), half_deg=half)


def _into_the_sea(row: ForecastRow) -> float | None:
    """Hove to she lies with her bow into the higher wave system."""
    wave, swell = row.wave_height_m, row.swell_height_m
    if wave is None or swell is None:
        return None
    return row.wave_from_deg if wave >= swell else row.swell_from_deg


def _degrees(text: str) -> float | None:
    try:
        return float(text)
    except ValueError:
        return None


def on_cargo_deck(scene: Scene, opening: Opening) -> bool:
    """On the weather deck in the cargo area, or anywhere forward of the accommodation; unknown counts as there."""
    if not opening.on_weather_deck:
        return False
    space = scene.spaces.get(opening.space)
    if space is None or space.area in ("cargo", "forward"):
        return True
    fronts = [s.x_m for s in scene.spaces.values() if s.area == "accommodation" and s.x_m is not None]
    if not fronts:
        return space.area == "other"
    return opening.x_m is None or opening.x_m > max(fronts)
