"""When it is dark at the ship's position of each hour."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from scheduler.domain.folder import VoyageFolder
from scheduler.hazards.daylight import SunDay, SunState, sun_day_at
from scheduler.rules.during import Span, hours_of
from scheduler.rules.spoken import at_ships_time
from scheduler.rules.track import position_in
from scheduler.times import HOUR, MINUTE, joined


@dataclass(frozen=True, slots=True)
class Dark:
    """A stretch without light, and the sentence that says so."""

    span: Span
    because: str


def darkness(folder: VoyageFolder, margin_min: int) -> tuple[Dark, ...]:
    """From sunset less the margin to sunrise and the margin, night by night; hours without a position are dark."""
    known = folder.cache.setdefault("darkness", {})
    assert isinstance(known, dict)
    if margin_min not in known:
        known[margin_min] = tuple(_darkness(folder, margin_min))
    return tuple(known[margin_min])


def _darkness(folder: VoyageFolder, margin_min: int) -> Iterator[Dark]:
    lost = [hour for hour in hours_of(folder) if position_in(folder, hour[0]) is None]
    for span in joined(lost):
        yield Dark(span, "The ship's position is not known, so nobody can say whether it is light.")
    less = f", {margin_min} min kept off sunset and sunrise" if margin_min else ""
    for start, end in joined(part for hour in hours_of(folder) for part in _dark_parts(folder, hour, margin_min)):
        when = f"from {at_ships_time(folder, start)} to {at_ships_time(folder, end)}"
        yield Dark((start, end), f"It is dark at the ship's position {when}{less}.")


def _dark_parts(folder: VoyageFolder, hour: Span, margin_min: int) -> Iterator[Span]:
    day = _sun_in(folder, hour)
    if day is None or day.state is SunState.UP_ALL_DAY:
        return
    if day.light is None:
        yield hour
        return
    sunrise, sunset = day.light
    yield hour[0], min(hour[1], sunrise + margin_min * MINUTE)
    yield max(hour[0], sunset - margin_min * MINUTE), hour[1]


def _sun_in(folder: VoyageFolder, hour: Span) -> SunDay | None:
    """The sun's day at the ship's position of an hour; None without a position."""
    known = folder.cache.setdefault("sun", {})
    assert isinstance(known, dict)
    if hour not in known:
        fix = position_in(folder, hour[0])
        known[hour] = None if fix is None else sun_day_at(fix.lat_deg, fix.lon_deg, hour[0] + HOUR / 2)
    found = known[hour]
    assert found is None or isinstance(found, SunDay)
    return found
