"""Where the ship is in each hour of the week: her leg, her position on the planned track, her course."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime

from scheduler.domain.folder import VoyageFolder
from scheduler.domain.voyage import Leg
from scheduler.hazards.position import Fix, along_great_circle, along_rhumb_line, great_circle, rhumb_line
from scheduler.rules.during import hours_of
from scheduler.times import HOUR, MINUTE
from scheduler.units import m_from_nm

LONGEST_AFTER_MIN = 480  # the most that policy vapour.after_min may be: flows before the week may still count in it


@dataclass(frozen=True, slots=True)
class Piece:
    """One leg's part of one UTC hour; `leg` None where the voyage table has none."""

    hour: datetime
    start: datetime
    end: datetime
    leg: Leg | None

    @property
    def at_sea(self) -> bool:
        """True unless the ship is alongside: under way, at anchor, or nobody knows."""
        return self.leg is None or self.leg.kind != "berth"

    @property
    def under_way(self) -> bool:
        """True on passage and drifting, and where nobody knows (COLREG rule 3(i): neither at anchor nor made fast)."""
        return self.leg is None or self.leg.kind in ("passage", "drifting")


def legs_of(folder: VoyageFolder) -> tuple[Leg, ...]:
    """The legs, by start."""
    return tuple(sorted(folder.legs, key=lambda each: (each.start, each.leg)))


def pieces_of(folder: VoyageFolder) -> tuple[Piece, ...]:
    """The hours of the week, cut where a leg begins or ends; where legs overlap, a piece for each."""
    found = folder.cache.get("pieces")
    if not isinstance(found, tuple):
        week = (folder.week.start, folder.week.end)
        found = folder.cache["pieces"] = tuple(
            piece for hour in hours_of(folder) for piece in _pieces(folder, hour[0], *week)
        )
    return found


def pieces_before(folder: VoyageFolder) -> tuple[Piece, ...]:
    """The same for the hours before the week from which vapour may still lie on deck."""
    start = folder.week.start - LONGEST_AFTER_MIN * MINUTE
    first = start.replace(minute=0, second=0, microsecond=0)
    count = -int((first - folder.week.start) // HOUR)
    return tuple(p for each in range(count) for p in _pieces(folder, first + HOUR * each, start, folder.week.start))


def _pieces(folder: VoyageFolder, hour: datetime, first: datetime, last: datetime) -> Iterator[Piece]:
    begin, finish = max(hour, first), min(hour + HOUR, last)
    covered = begin
    for leg in legs_of(folder):
        start, end = max(begin, leg.start), min(finish, leg.end)
        if start < end:
            if start > covered:
                yield Piece(hour, covered, start, None)
            yield Piece(hour, start, end, leg)
            covered = max(covered, end)
    if covered < finish:
        yield Piece(hour, covered, finish, None)


def planned_speed_kn(folder: VoyageFolder, leg: Leg) -> float:
    """The planned speed of a leg: its own, on a passage without one the ship's service speed, else 0."""
    if leg.kind != "passage":
        return 0.0
    return folder.ship.service_speed_kn if leg.speed_kn is None else leg.speed_kn


def fix_on(folder: VoyageFolder, leg: Leg, at: datetime) -> Fix | None:
    """Position and course on a leg's planned track, its ends holding beyond them; None without positions."""
    if leg.from_lat is None or leg.from_lon is None:
        return None
    if leg.kind != "passage" or leg.to_lat is None or leg.to_lon is None:
        return Fix(leg.from_lat, leg.from_lon, leg.heading_deg or 0.0)
    ends = (leg.from_lat, leg.from_lon, leg.to_lat, leg.to_lon)
    hours = max(0.0, (min(at, leg.end) - leg.start) / HOUR)
    run_m = m_from_nm(planned_speed_kn(folder, leg) * hours)
    if leg.track == "great circle":
        return along_great_circle(*ends, min(run_m, great_circle(*ends).distance_m))
    return along_rhumb_line(*ends, min(run_m, rhumb_line(*ends).distance_m))


def position_in(folder: VoyageFolder, hour: datetime) -> Fix | None:
    """Position at the middle of an hour; between legs that of the end of the one before; None when unknown."""
    known = folder.cache.setdefault("positions", {})
    assert isinstance(known, dict)
    if hour not in known:
        leg = leg_at(folder, hour + HOUR / 2)
        known[hour] = None if leg is None else fix_on(folder, leg, hour + HOUR / 2)
    found = known[hour]
    assert found is None or isinstance(found, Fix)
    return found


def leg_at(folder: VoyageFolder, at: datetime) -> Leg | None:
    """The leg that an instant lies in, else the last one begun before; None before the first."""
    begun = [leg for leg in legs_of(folder) if leg.start <= at]
    return next((leg for leg in reversed(begun) if leg.end > at), begun[-1] if begun else None)
