"""The ship's passages hour by hour: what the planned speed covers, and what lateness a leg bears."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime
from math import ceil

from scheduler.domain.folder import VoyageFolder
from scheduler.domain.voyage import Leg
from scheduler.hazards.position import great_circle, rhumb_line
from scheduler.solve.problem import Hour, Passage
from scheduler.times import HOUR, MINUTE, minutes_between
from scheduler.units import nm_from_m


def passages(folder: VoyageFolder, hours: Sequence[tuple[datetime, datetime]]) -> tuple[Passage, ...]:
    """The passages of the week, in order; a leg without positions or speed has no distance to lose."""
    found = []
    for leg, following in zip(folder.legs, (*folder.legs[1:], None), strict=True):
        if leg.kind == "passage":
            found.append(_passage(folder, leg, following, hours))
    return tuple(found)


def leg_speed_kn(folder: VoyageFolder, leg: Leg) -> float:
    """The planned speed: the leg's own, else the ship's service speed."""
    return leg.speed_kn if leg.speed_kn is not None else folder.ship.service_speed_kn


def leg_distance_nm(folder: VoyageFolder, leg: Leg) -> float:
    """Distance along the leg's track; without positions what the planned speed covers in its time."""
    if leg.from_lat is None or leg.from_lon is None or leg.to_lat is None or leg.to_lon is None:
        return leg_speed_kn(folder, leg) * ((leg.end - leg.start) / HOUR)
    measure = great_circle if leg.track == "great circle" else rhumb_line
    return nm_from_m(measure(leg.from_lat, leg.from_lon, leg.to_lat, leg.to_lon).distance_m)


def _passage(
    folder: VoyageFolder, leg: Leg, following: Leg | None, hours: Sequence[tuple[datetime, datetime]]
) -> Passage:
    """Hours run to the planned arrival, at most to the leg's end; what is left then is behind from the start."""
    week = folder.week.start
    speed, distance = leg_speed_kn(folder, leg), leg_distance_nm(folder, leg)
    hours_planned = min((leg.end - leg.start) / HOUR, distance / speed)
    planned = leg.start + MINUTE * ceil(round(hours_planned * 60, 6))
    bound = following.start if following else max(leg.end, planned)
    latest = min(bound, leg.arrive_by + HOUR * leg.late_allowed_h) if leg.arrive_by else bound
    parts = []
    for index, (a, b) in enumerate(hours):
        begin, finish = max(a, leg.start), min(b, planned)
        if minutes_between(begin, finish) > 0:
            span = (minutes_between(week, begin), minutes_between(week, finish))
            parts.append(Hour(leg=leg.leg, hour=index, span_min=span))
    return Passage(
        leg=leg.leg,
        hours=tuple(parts),
        start_min=minutes_between(week, leg.start),
        planned_min=minutes_between(week, planned),
        behind_nm=max(0.0, distance - speed * ((planned - leg.start) / HOUR)),
        distance_nm=distance,
        planned_kn=speed,
        greatest_kn=max(speed, folder.ship.greatest_speed_kn),
        least_kn=folder.ship.least_speed_kn,
        arrive_by_min=minutes_between(week, leg.arrive_by or latest),
        latest_min=minutes_between(week, latest),
        may_heave_to=leg.may_heave_to,
        barred=folder.ship.barred_speeds_kn,
    )
