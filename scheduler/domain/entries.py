"""The entry plan: what is asked for, and what was read and seen at the spaces."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from scheduler.domain.source import Origin


@dataclass(frozen=True, kw_only=True, slots=True)
class Entry:
    """One job that needs people inside a space; `hours` is time inside, summed over sessions."""

    entry: str
    space: str
    purpose: str
    work: str
    hours: float
    splittable: bool = False
    least_session_hours: float | None = None
    entrants: int
    effort: str
    priority: int
    earliest: datetime | None = None
    due: datetime | None = None
    after: tuple[str, ...] = ()
    daylight: bool = False
    night: bool = False
    needs: tuple[str, ...] = ()
    at: datetime | None = None
    only: tuple[str, ...] = ()
    reference: str = ""
    note: str = ""
    origin: Origin = Origin()


@dataclass(frozen=True, kw_only=True, slots=True)
class Coating:
    """The coating of one entry; shares in percent as named, `solvents` are (CAS, mass percent of the solvent)."""

    entry: str
    product: str
    litres: float
    litres_per_hour: float
    thinner_percent: float | None = None
    thinner_cas: str = ""
    own_solvent_percent: float | None = None
    density_kg_l: float | None = None
    solvents: tuple[tuple[str, float], ...] = ()
    flash_c: float | None = None
    flash_c_thinned: float | None = None
    lfl_percent: float | None = None
    least_air_m3_h: float | None = None
    supplied_air: bool = False
    drying_h: float | None = None
    source: str = ""
    origin: Origin = Origin()


@dataclass(frozen=True, kw_only=True, slots=True)
class Reading:
    """One gas reading at a space."""

    entry: str
    time: datetime
    level: str
    place: str = ""
    oxygen_percent: float | None = None
    lfl_percent: float | None = None
    hydrocarbon_percent: float | None = None
    co2_percent: float | None = None
    h2s_ppm: float | None = None
    co_ppm: float | None = None
    other: str = ""
    fans_off_since: datetime | None = None
    instrument: str = ""
    by: str = ""
    origin: Origin = Origin()


@dataclass(frozen=True, kw_only=True, slots=True)
class Progress:
    """What was seen to happen: `what` is an entry or an operation."""

    time: datetime
    what: str
    event: str
    inside: int | None = None
    by: str = ""
    origin: Origin = Origin()
