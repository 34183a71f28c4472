"""The week ahead as the rules see it: the ship's clock and the hours, kept beside the folder."""

from __future__ import annotations

from datetime import datetime

from scheduler.domain.entries import Entry
from scheduler.domain.folder import VoyageFolder
from scheduler.domain.voyage import Leg
from scheduler.times import ShipClock

Span = tuple[datetime, datetime]


def clock_of(folder: VoyageFolder) -> ShipClock:
    """The ship's clock."""
    found = folder.cache.get("clock")
    if not isinstance(found, ShipClock):
        found = folder.cache["clock"] = ShipClock.of(folder.clocks)
    return found


def entries_of(folder: VoyageFolder) -> tuple[Entry, ...]:
    """The entries, by id."""
    return tuple(sorted(folder.entries, key=lambda each: each.entry))


def legs_of(folder: VoyageFolder) -> tuple[Leg, ...]:
    """The legs, by start."""
    return tuple(sorted(folder.legs, key=lambda each: (each.start, each.leg)))
