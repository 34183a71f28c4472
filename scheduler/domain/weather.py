"""The forecast, row by row; which row counts is the rules' reading."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from scheduler.domain.source import Origin


@dataclass(frozen=True, kw_only=True, slots=True)
class ForecastRow:
    """One step of a forecast; directions are 'coming from', degrees true; lat/lon None: along the track."""

    issued: datetime
    time: datetime
    lat: float | None = None
    lon: float | None = None
    member: str | None = None
    wind_kn: float | None = None
    wind_from_deg: float | None = None
    gust_kn: float | None = None
    wave_height_m: float | None = None
    wave_period_s: float | None = None
    wave_from_deg: float | None = None
    swell_height_m: float | None = None
    swell_period_s: float | None = None
    swell_from_deg: float | None = None
    air_c: float | None = None
    origin: Origin = Origin()
