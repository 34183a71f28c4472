"""Sunrise and sunset at a position, polar day and polar night being answers and not errors.

A day here is the sun's: from one passage of the sun below the pole at that longitude to the next, named by
the date of local mean time. Instants are UTC.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import UTC, date, datetime, timedelta
from enum import StrEnum

from astral import Observer, SunDirection
from astral.sun import SUN_APPARENT_RADIUS, elevation, noon, time_of_transit

from scheduler.hazards.bounds import between
from scheduler.hazards.position import east_of_greenwich_deg

HIGHEST_LAT_DEG = 89.8  # the library of the sun's positions takes no higher one
HALF_DAY = timedelta(hours=12)
MIN_PER_DEG = 4.0  # the sun takes 4 minutes for a degree of longitude, by definition of the mean sun
HORIZON_DEG = -0.833  # sun's centre when its upper edge is seen on the horizon; sunrise of the almanacs
UPPER_EDGE_ZENITH_DEG = 90.0 + SUN_APPARENT_RADIUS


class SunState(StrEnum):
    """What the sun does on one day at one position."""

    RISES_AND_SETS = "rises and sets"
    UP_ALL_DAY = "up all day"
    DOWN_ALL_DAY = "down all day"


@dataclass(frozen=True, kw_only=True, slots=True)
class SunDay:
    """One day of the sun at a position: its state, its bounds and, where it rises and sets, when (UTC)."""

    state: SunState
    begins: datetime
    ends: datetime
    sunrise: datetime | None
    sunset: datetime | None

    @property
    def light(self) -> tuple[datetime, datetime] | None:
        """From when to when the sun is up within this day; None when it is not."""
        if self.state is SunState.UP_ALL_DAY:
            return self.begins, self.ends
        if self.sunrise is None or self.sunset is None:
            return None
        return self.sunrise, self.sunset


def sun_day(lat_deg: float, lon_deg: float, on: date) -> SunDay:
    """Sunrise and sunset of the day that local mean time at the position calls `on`.

    Assumes: height of eye 0, standard refraction. Days on which the sun crosses the horizon only once, as polar
        day or night begins or ends, count as down all day: nobody is promised light.
    Parameters:
        lat_deg: latitude, north positive [deg], −90 … 90 (beyond ±89.8 as there).
        lon_deg: longitude, east positive [deg], finite.
        on: date of local mean time at the position.
    Returns: SunDay with aware UTC instants.
    Raises: ValueError for a number outside its bound.
    Source: NOAA solar calculator (Meeus), as in the library astral.
    Example:
        >>> day = sun_day(0.0, 0.0, date(2026, 3, 20))
        >>> day.sunrise.strftime("%H:%M"), day.sunset.strftime("%H:%M")
        ('06:04', '18:10')
        >>> sun_day(80.0, 0.0, date(2026, 12, 21)).state.value
        'down all day'
    """
    observer = _observer(lat_deg, lon_deg)
    middle = noon(observer, on)
    sunrise = _crossing(observer, middle - HALF_DAY, SunDirection.RISING)
    sunset = _crossing(observer, middle, SunDirection.SETTING)
    begins, ends = middle - HALF_DAY, middle + HALF_DAY
    if sunrise is not None and sunset is not None:
        state = SunState.RISES_AND_SETS
    elif sunrise is None and sunset is None and _up(observer, middle) and _up(observer, begins) and _up(observer, ends):
        state = SunState.UP_ALL_DAY
    else:
        state, sunrise, sunset = SunState.DOWN_ALL_DAY, None, None
    return SunDay(state=state, begins=begins, ends=ends, sunrise=sunrise, sunset=sunset)


def sun_day_at(lat_deg: float, lon_deg: float, at: datetime) -> SunDay:
    """The sun's day at a position that an instant lies in, by local mean time there.

    Assumes: what `sun_day` assumes.
    Parameters:
        lat_deg: latitude, north positive [deg], −90 … 90.
        lon_deg: longitude, east positive [deg], finite.
        at: an aware instant.
    Returns: SunDay.
    Raises: ValueError for a number outside its bound or a naive time.
    Source: as `sun_day`.
    Example:
        At 170° east the day called 1 June is already on at 20:00 UTC of 31 May.

        >>> day = sun_day_at(10.0, 170.0, datetime(2026, 5, 31, 20, 0, tzinfo=UTC))
        >>> day.sunrise.strftime("%d %H:%M"), day.sunset.strftime("%d %H:%M")
        ('31 18:17', '01 06:57')
    """
    if at.tzinfo is None:
        raise ValueError(f"at: {at} has no offset; expected an aware instant. Give it in UTC.")
    observer = _observer(lat_deg, lon_deg)
    return sun_day(lat_deg, lon_deg, (at.astimezone(UTC) + timedelta(minutes=MIN_PER_DEG * observer.longitude)).date())


def _observer(lat_deg: float, lon_deg: float) -> Observer:
    between(-90.0, 90.0, lat_deg=lat_deg)
    lat_deg = max(-HIGHEST_LAT_DEG, min(HIGHEST_LAT_DEG, lat_deg))
    return Observer(latitude=lat_deg, longitude=east_of_greenwich_deg(lon_deg), elevation=0.0)


def _up(observer: Observer, at: datetime) -> bool:
    return elevation(observer, at, with_refraction=False) > HORIZON_DEG


def _crossing(observer: Observer, after: datetime, direction: SunDirection) -> datetime | None:
    """The sun's crossing of the horizon in the twelve hours after an instant; None when there is none.

    The library answers for a date of UTC, which may hold the crossing of the day before or after.
    """
    for days in (-1, 0, 1):
        on = after.date() + timedelta(days=days)
        try:
            crossing = time_of_transit(observer, on, UPPER_EDGE_ZENITH_DEG, direction)
        except ValueError:  # the library's word for a sun that does not reach the horizon on that date
            continue
        if after <= crossing <= after + HALF_DAY:
            return crossing
    return None
