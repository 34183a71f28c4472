"""How instants, lengths and lists are said in a sentence."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime

from scheduler.domain.folder import VoyageFolder
from scheduler.times import ShipClock

DAYS = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")
MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")


def at_ships_time(folder: VoyageFolder, at: datetime) -> str:
    """An instant as the ship's clocks show it: 'Thu 6 May 16:00'."""
    shown = ShipClock.of(folder.clocks).local(at)
    return f"{DAYS[shown.weekday()]} {shown.day} {MONTHS[shown.month - 1]} {shown:%H:%M}"


def length_of(minutes: float) -> str:
    """A length in words: '45 min', '8 h', '3 h 30 min'; a part of a minute counts as one."""
    whole = -int(-minutes // 1)
    hours, rest = divmod(whole, 60)
    if not hours:
        return f"{rest} min"
    return f"{hours} h {rest} min" if rest else f"{hours} h"


def listed(words: Iterable[str]) -> str:
    """A list in words: 'A', 'A and B', 'A, B and C'."""
    found = list(words)
    return found[0] if len(found) == 1 else f"{', '.join(found[:-1])} and {found[-1]}" if found else "none"


def up_to_grid(folder: VoyageFolder, minutes: float) -> int:
    """Minutes rounded up to whole steps of the planning grid."""
    step = folder.policy.whole("grid_min")
    return -int(-minutes // step) * step
