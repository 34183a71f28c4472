"""The week ahead as the rules see it: the ship's clock and the hours, kept beside the folder."""

from __future__ import annotations

from datetime import datetime

from scheduler.domain.entries import Entry
from scheduler.domain.folder import VoyageFolder
from scheduler.domain.voyage import Leg
from scheduler.hazards.wind import on_the_compass_deg
from scheduler.rules.deck_air import course_of, waves_from_deg
from scheduler.rules.forecast import basis_of
from scheduler.rules.track import legs_of
from scheduler.times import HOUR, ShipClock

__all__ = ["Span", "clock_of", "entries_of", "heading", "legs_of", "open_span"]

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


def open_span(folder: VoyageFolder, entry: Entry) -> Span:
    """The longest time in which an entry's space can be open: after earliest, and no longer than a stay after due."""
    week, longest_h = folder.week, folder.policy.number("permit.open_longest_h")
    end = week.end if entry.due is None else min(week.end, entry.due + longest_h * HOUR)
    return max(entry.earliest or week.start, week.start), end


def heading(folder: VoyageFolder, leg: Leg, at: datetime, *, hove_to: bool) -> float:
    """Where the bow points on a passage at an instant [deg true, 0 … < 360], as the plan writes it.

    Under way the course on the planned track; hove to into the higher wave system of the first row that counts. Where
    the voyage table or the forecast leave it open: 0 under way, the course hove to.
    """
    course = course_of(folder, leg, at)
    if hove_to:
        hour = at.replace(minute=0, second=0, microsecond=0)
        for row in basis_of(folder, hour).rows:
            for into in waves_from_deg(row):
                return on_the_compass_deg(into)
    return 0.0 if course is None else course
