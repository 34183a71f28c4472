"""What the newest forecast says of an hour, and where the sun stands; nothing is interpolated, the worst counts."""

from __future__ import annotations

import math
from datetime import datetime, timedelta
from functools import cached_property, lru_cache
from typing import Final

from astral import Observer
from astral.sun import elevation

from scheduler.check.scene import Scene
from scheduler.check.span import Span, hours_of, union
from scheduler.check.track import Place, Track, distance_nm
from scheduler.domain.weather import ForecastRow

SUNRISE_DEG: Final = -0.833  # the upper limb on the horizon: 50 minutes of arc; the usual almanac definition
STEP: Final = timedelta(minutes=5)
SUN_TOLERANCE: Final = timedelta(minutes=2)  # our choice


class Sky:
    """The weather along the way."""

    def __init__(self, scene: Scene, track: Track) -> None:
        self._scene, self._track = scene, track
        self.rows = lru_cache(maxsize=None)(self._rows)

    @cached_property
    def _places(self) -> dict[tuple[float, float] | None, list[ForecastRow]]:
        """The rows of the newest issue by place; None: along the track."""
        weather = self._scene.folder.weather
        newest = max((row.issued for row in weather), default=None)
        places: dict[tuple[float, float] | None, list[ForecastRow]] = {}
        for row in sorted((row for row in weather if row.issued == newest), key=lambda row: row.time):
            spot = None if row.lat is None or row.lon is None else (row.lat, row.lon)
            places.setdefault(spot, []).append(row)
        return places

    def _rows(self, hour: Span) -> tuple[ForecastRow, ...]:
        """The rows that bracket an hour, of every member; none: no basis."""
        near = self._nearest(self._track.middle(hour))
        members = sorted({row.member or "" for row in near})
        found: list[ForecastRow] = []
        for member in members:
            bracket = self._bracket([row for row in near if (row.member or "") == member], hour)
            if not bracket:
                return ()
            found += bracket
        return tuple(found)

    def _bracket(self, rows: list[ForecastRow], hour: Span) -> list[ForecastRow]:
        before = [row for row in rows if row.time <= hour.start]
        after = [row for row in rows if row.time >= hour.end]
        if not before or not after:
            return []
        if after[0].time - before[-1].time > self._scene.length("weather.gap_h"):
            return []
        return [row for row in rows if before[-1].time <= row.time <= after[0].time]

    def _nearest(self, place: Place | None) -> list[ForecastRow]:
        if None in self._places:
            return self._places[None]
        if place is None:
            return []
        reach = self._scene.policy.number("weather.reach_nm")
        spots = sorted((distance_nm(place, *spot), spot) for spot in self._places if spot is not None)
        return self._places[spots[0][1]] if spots and spots[0][0] <= reach else []

    def sea_m(self, hour: Span) -> float | None:
        """Sea and swell together, the highest that may be; None: no basis."""
        heights = [_height(row) for row in self.rows(hour)]
        known = [height for height in heights if height is not None]
        return max(known) if known and len(known) == len(heights) else None

    def dark(self, span: Span, margin: timedelta) -> list[Span]:
        """The parts of a stretch that lie outside sunrise to sunset less a margin, give or take two minutes."""
        return union(piece for hour in hours_of(span) for piece in self._dark_in(span, hour, margin))

    def _dark_in(self, span: Span, hour: Span, margin: timedelta) -> list[Span]:
        piece = Span(max(span.start, hour.start), min(span.end, hour.end))
        place = self._track.middle(hour)
        if place is None:
            return [piece]
        found, instant = [], piece.start
        while instant < piece.end:
            after = min(instant + STEP, piece.end)
            if not (_light(place, instant, margin) and _light(place, after, margin)):
                found.append(Span(instant, after))
            instant = after
        return found


def _light(place: Place, instant: datetime, margin: timedelta) -> bool:
    """True when the sun has been up for the margin and will be for it; with none, when it is, was or will be soon."""
    slack = margin - SUN_TOLERANCE
    sides = (_up(place, instant - slack), _up(place, instant + slack))
    return all(sides) if slack > timedelta(0) else any(sides)


def _up(place: Place, instant: datetime) -> bool:
    height = elevation(Observer(place.lat, place.lon), instant, with_refraction=False)
    return bool(height > SUNRISE_DEG)


def _height(row: ForecastRow) -> float | None:
    if row.wave_height_m is None or row.swell_height_m is None:
        return None
    return math.hypot(row.wave_height_m, row.swell_height_m)
