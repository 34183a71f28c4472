"""The ship's speed hour by hour: eased where the plan asks, then just fast enough to make the time good."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import datetime
from math import ceil

from scheduler.domain.folder import VoyageFolder
from scheduler.domain.plan import Arrival, Band, PlannedSpeed
from scheduler.domain.voyage import Leg
from scheduler.hazards.fuel import fuel_t_per_day
from scheduler.solve.problem import Passage
from scheduler.times import MINUTE

Heading = Callable[[Leg, datetime, bool], float]
"""Heading of a leg at an instant, hove to or under way."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Run:
    """A stretch of constant speed of a passage, minutes from the week's start."""

    span_min: tuple[int, int]
    speed_kn: float
    eased_to: float | None
    """The limit kept; 0 hove to; None where nothing is asked."""
    makes_good: bool

    @property
    def good_kn(self) -> float:
        """Speed that counts towards the arrival: none while hove to."""
        return 0.0 if self.eased_to == 0 else self.speed_kn


def runs_of(passage: Passage, eased: Mapping[int, float], late_min: int, hove_to_kn: float) -> tuple[list[Run], int]:
    """The whole passage and the minute of arrival, at the least speed that arrives in time (or as early as can be)."""
    target = passage.arrive_by_min + late_min
    found = _sail(passage, eased, passage.greatest_kn, hove_to_kn)
    if not eased and not passage.behind_nm:
        return found
    tenth = round(passage.planned_kn * 10)
    while tenth < passage.greatest_kn * 10:
        tried = _sail(passage, eased, tenth / 10, hove_to_kn)
        if not _barred(passage, tenth / 10) and tried[1] <= max(target, found[1]):
            return tried
        tenth += 1
    return found


def _barred(passage: Passage, speed_kn: float) -> bool:
    return any(low < speed_kn < high for low, high in passage.barred)


def _sail(passage: Passage, eased: Mapping[int, float], fastest_kn: float, hove_to_kn: float) -> tuple[list[Run], int]:
    """Sail the hours; behind the plan at up to `fastest_kn`, never ahead of it."""
    behind, runs = passage.behind_nm, []
    for hour in passage.hours:
        hours = (hour.span_min[1] - hour.span_min[0]) / 60
        limit = eased.get(hour.hour)
        if limit is not None:
            speed = hove_to_kn if limit == 0 else passage.eased_kn(limit) or hove_to_kn
            good = 0.0 if limit == 0 else speed
            behind += (passage.planned_kn - good) * hours
            runs.append(Run(span_min=hour.span_min, speed_kn=speed, eased_to=limit, makes_good=False))
            continue
        speed = passage.planned_kn
        if behind > 1e-9:
            speed = _made_good(passage, behind / hours, fastest_kn)
            behind = max(0.0, behind - (speed - passage.planned_kn) * hours)
        runs.append(Run(span_min=hour.span_min, speed_kn=speed, eased_to=None, makes_good=speed > passage.planned_kn))
    arrival = passage.planned_min
    if behind > 1e-9:
        fastest = max(fastest_kn, passage.planned_kn)
        more = ceil(round(behind / fastest * 60, 6))
        arrival += more
        runs.append(Run(span_min=(passage.planned_min, arrival), speed_kn=fastest, eased_to=None, makes_good=True))
    return runs, arrival


def _made_good(passage: Passage, wanted_kn: float, fastest_kn: float) -> float:
    """Planned speed and what is wanted on top, to a tenth upward, at most the fastest, never in a barred range."""
    speed = min(fastest_kn, ceil(round((passage.planned_kn + wanted_kn) * 10, 6)) / 10)
    for low, high in sorted(passage.barred, reverse=True):
        if low < speed < high:
            speed = max(low, passage.planned_kn)
    return max(speed, passage.planned_kn)


def planned_speeds(
    folder: VoyageFolder,
    passage: Passage,
    runs: list[Run],
    heading: Heading,
    because: Mapping[int, str],
) -> list[PlannedSpeed]:
    """The passage's speeds as the plan shows them, like hours joined."""
    leg = next(leg for leg in folder.legs if leg.leg == passage.leg)
    found: list[PlannedSpeed] = []
    for run in runs:
        start, end = (folder.week.start + MINUTE * m for m in run.span_min)
        hove_to = run.eased_to == 0
        why = "planned speed"
        if run.eased_to is not None:
            why = because.get(run.span_min[0] // 60, "eased for an entry")
        elif run.makes_good:
            why = "makes good the time lost"
        one = PlannedSpeed(
            start=start,
            end=end,
            speed_kn=round(run.speed_kn, 2),
            heading_deg=round(heading(leg, start, hove_to), 1) % 360,
            heaving_to=hove_to,
            because=why,
        )
        last = found[-1] if found else None
        if last and last.end == start and _alike(last, one):
            found[-1] = PlannedSpeed(
                start=last.start, end=end, speed_kn=last.speed_kn, heading_deg=last.heading_deg,
                heaving_to=last.heaving_to, because=last.because,
            )  # fmt: skip
        else:
            found.append(one)
    return found


def _alike(a: PlannedSpeed, b: PlannedSpeed) -> bool:
    return (a.speed_kn, a.heading_deg, a.heaving_to, a.because) == (b.speed_kn, b.heading_deg, b.heaving_to, b.because)


def arrival_of(folder: VoyageFolder, passage: Passage, runs: list[Run], arrival_min: int) -> Arrival:
    """When the passage ends and what it burns, with and without easing."""
    leg = next(leg for leg in folder.legs if leg.leg == passage.leg)
    start = folder.week.start
    plain = [
        Run(span_min=h.span_min, speed_kn=passage.planned_kn, eased_to=None, makes_good=False) for h in passage.hours
    ]
    return Arrival(
        leg=leg.leg,
        place=leg.place,
        planned=start + MINUTE * passage.planned_min,
        arrive_by=leg.arrive_by,
        expected=start + MINUTE * arrival_min,
        fuel_t=_fuel(folder, runs),
        fuel_t_without_easing=_fuel(folder, plain),
    )


def _fuel(folder: VoyageFolder, runs: list[Run]) -> Band | None:
    table = [(row.speed_kn, row.t_per_day) for row in folder.ship.fuel]
    hove_to = folder.policy.number("fuel.hove_to_t_per_day")
    low = high = 0.0
    for run in runs:
        rate = fuel_t_per_day(table, run.speed_kn)
        if run.eased_to == 0 and hove_to > 0:
            rate = (hove_to, hove_to)
        if rate is None:
            return None
        days = (run.span_min[1] - run.span_min[0]) / 1440
        low, high = low + rate[0] * days, high + rate[1] * days
    return Band(low=round(low, 1), high=round(high, 1))
