"""The people aboard, their fixed duties and the hours behind them."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime

from scheduler.domain.source import Origin


@dataclass(frozen=True, kw_only=True, slots=True)
class Person:
    """One of the crew. `joins` None: aboard before the week; `leaves` None: stays to its end."""

    person: str
    name: str
    rank: str
    department: str
    able: tuple[str, ...] = ()
    last_drill: date | None = None
    joins: datetime | None = None
    leaves: datetime | None = None
    calendar_address: str = ""
    origin: Origin = Origin()


@dataclass(frozen=True, kw_only=True, slots=True)
class Duty:
    """One stretch of a fixed duty in UTC; daily duties are already unrolled, one record for each date.

    `kind` is watch, sole watch, day work or other.
    """

    person: str
    start: datetime
    end: datetime
    kind: str
    origin: Origin = Origin()


@dataclass(frozen=True, kw_only=True, slots=True)
class PastHours:
    """Work done in the seven days before the week."""

    person: str
    start: datetime
    end: datetime
    origin: Origin = Origin()


@dataclass(frozen=True, kw_only=True, slots=True)
class Visitor:
    """Somebody from outside, aboard from–until; never counted as crew."""

    visitor: str
    name: str
    role: str
    from_: datetime
    until: datetime
    origin: Origin = Origin()
