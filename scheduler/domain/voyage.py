"""The week: where the ship is, by which clock, and what ports allow."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime, time, timedelta

from scheduler.domain.source import Origin


@dataclass(frozen=True, kw_only=True, slots=True)
class ClockStep:
    """From `at` (UTC) on, ship's time is UTC plus `offset`."""

    at: datetime
    offset: timedelta
    origin: Origin = Origin()


@dataclass(frozen=True, kw_only=True, slots=True)
class Week:
    """The week that is planned; hours and meals are pairs in ship's time, None where policy.toml decides."""

    start: datetime
    days: int
    frozen_until: datetime | None = None
    posted_at: datetime | None = None
    work_hours: tuple[tuple[time, time], ...] | None = None
    meals: tuple[tuple[time, time], ...] | None = None
    rest_days: tuple[int | date, ...] | None = None
    """Weekday numbers (Monday 0) or dates, in ship's time."""
    prepared_by: str = ""
    origin: Origin = Origin()

    @property
    def end(self) -> datetime:
        """The horizon."""
        return self.start + timedelta(days=self.days)


@dataclass(frozen=True, kw_only=True, slots=True)
class Leg:
    """A stretch of the voyage: passage, anchorage, berth or drifting."""

    leg: str
    kind: str
    place: str
    start: datetime
    end: datetime
    from_lat: float | None = None
    from_lon: float | None = None
    to_lat: float | None = None
    to_lon: float | None = None
    track: str = "rhumb line"
    speed_kn: float | None = None
    arrive_by: datetime | None = None
    late_allowed_h: float = 0.0
    may_heave_to: bool = False
    heading_deg: float | None = None
    lies_to: str = "unknown"
    """wind, tide, unknown, or a heading in degrees as text."""
    restricted: bool = False
    origin: Origin = Origin()


@dataclass(frozen=True, kw_only=True, slots=True)
class PlaceRules:
    """What a place says to entries, hot_work, coating, venting, ballast_out: allowed, forbidden or ask."""

    place: str
    entries: str
    hot_work: str
    coating: str
    venting: str
    ballast_out: str
    notice_h: float | None = None
    note: str = ""
    origin: Origin = Origin()


@dataclass(frozen=True, kw_only=True, slots=True)
class Permission:
    """A question to a place and its answer (yes, no, or None while open)."""

    place: str
    what: str
    asked_at: datetime | None = None
    answer: str | None = None
    from_: datetime | None = None
    until: datetime | None = None
    reference: str = ""
    origin: Origin = Origin()
