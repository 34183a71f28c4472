"""Which rows of the forecast count for an hour, and the sea that they tell of.

Nothing is interpolated: each of the rows that bracket the hour is worked with, and the worst holds.
"""

from __future__ import annotations

import math
from bisect import bisect_left, bisect_right
from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from itertools import pairwise

from scheduler.domain.folder import VoyageFolder
from scheduler.domain.weather import ForecastRow
from scheduler.hazards.position import Fix, great_circle
from scheduler.rules.track import position_in
from scheduler.times import HOUR
from scheduler.units import nm_from_m

LEAST_NM_PER_DEG_LAT = 59.6  # of the meridian, at the equator 59.7: no place within reach lies farther in latitude

Place = tuple[float, float] | None
Series = tuple[list[datetime], list[ForecastRow]]


@dataclass(frozen=True, slots=True)
class Basis:
    """The rows that count for an hour, of every member; none, and why, where there is no weather basis."""

    rows: tuple[ForecastRow, ...]
    why_none: str = ""


def basis_of(folder: VoyageFolder, hour: datetime) -> Basis:
    """The rows of the newest forecast that bracket a UTC hour at the place nearest to the ship."""
    known = folder.cache.setdefault("weather basis", {})
    assert isinstance(known, dict)
    if hour not in known:
        known[hour] = _basis(folder, hour)
    found = known[hour]
    assert isinstance(found, Basis)
    return found


def sea_m(row: ForecastRow) -> float | None:
    """Significant height of wind sea and swell together, by root of squares [m]; None when one of them is missing."""
    if row.wave_height_m is None or row.swell_height_m is None:
        return None
    return math.hypot(row.wave_height_m, row.swell_height_m)


def worst_sea_m(folder: VoyageFolder, hour: datetime) -> tuple[float | None, str]:
    """The highest sea that the forecast has for an hour [m]; None, and why, without a basis."""
    basis = basis_of(folder, hour)
    if basis.why_none:
        return None, basis.why_none
    heights = [sea_m(row) for row in basis.rows]
    known = [height for height in heights if height is not None]
    if len(known) < len(heights):
        return None, "the forecast gives no height of wind sea or swell"
    return max(known), ""


def _basis(folder: VoyageFolder, hour: datetime) -> Basis:
    number = folder.policy.number
    place, why_none = _nearest(folder, position_in(folder, hour), number("weather.reach_nm"))
    if why_none:
        return Basis((), why_none)
    rows: list[ForecastRow] = []
    for series in _series(folder)[place]:
        found, why_none = _bracket(series, hour, number("weather.gap_h"))
        if why_none:
            return Basis((), why_none)
        rows += found
    return Basis(tuple(rows))


def _bracket(series: Series, hour: datetime, gap_h: float) -> tuple[Sequence[ForecastRow], str]:
    """From the last row at or before the hour's start to the first at or after its end."""
    times, rows = series
    before, after = bisect_right(times, hour) - 1, bisect_left(times, hour + HOUR)
    if before < 0:
        return (), "the forecast begins later"
    if after == len(times):
        return (), "the forecast does not reach so far"
    first = bisect_left(times, times[before])
    last = bisect_right(times, times[after])
    found = rows[first:last]
    if any(b.time - a.time > gap_h * HOUR for a, b in pairwise(found)):
        return (), f"the forecast's rows are more than {gap_h:g} h apart"
    return found, ""


def _nearest(folder: VoyageFolder, at: Fix | None, reach_nm: float) -> tuple[Place, str]:
    places = _series(folder)
    if not places:
        return None, "there is no forecast"
    if None in places:
        return None, ""
    if at is None:
        return None, "the ship's position is not known"
    found: list[tuple[float, float, float]] = []
    for place in places:
        if place is not None and abs(place[0] - at.lat_deg) * LEAST_NM_PER_DEG_LAT <= reach_nm:
            distance_nm = nm_from_m(great_circle(at.lat_deg, at.lon_deg, *place).distance_m)
            found.append((distance_nm, *place))
    if not found or min(found)[0] > reach_nm:
        return None, f"no place of the forecast lies within {reach_nm:g} nm of the ship"
    return min(found)[1:], ""


def _series(folder: VoyageFolder) -> Mapping[Place, tuple[Series, ...]]:
    """The newest forecast by place (None: along the track), a series in time for each member."""
    found = folder.cache.get("forecast series")
    if not isinstance(found, dict):
        found = folder.cache["forecast series"] = _by_place(folder)
    return found


def _by_place(folder: VoyageFolder) -> dict[Place, tuple[Series, ...]]:
    newest = max((row.issued for row in folder.weather), default=None)
    grouped: dict[Place, dict[str, list[ForecastRow]]] = defaultdict(lambda: defaultdict(list))
    for row in folder.weather:
        if row.issued == newest:
            place = None if row.lat is None or row.lon is None else (row.lat, row.lon)
            grouped[place][row.member or ""].append(row)
    return {place: tuple(_in_time(rows) for _, rows in sorted(members.items())) for place, members in grouped.items()}


def _in_time(rows: Sequence[ForecastRow]) -> Series:
    found = sorted(rows, key=lambda each: (each.time, each.origin.row))
    return [row.time for row in found], found
