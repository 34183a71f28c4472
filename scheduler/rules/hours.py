"""Working hours of ship's time, meals and days of rest."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date, datetime, time

from scheduler.domain.entries import Entry
from scheduler.domain.folder import VoyageFolder
from scheduler.domain.restrictions import STAFFED, KeepClear, Restriction
from scheduler.domain.source import Source, SourceKind
from scheduler.rules.during import Span, clear
from scheduler.rules.outlook import clock_of, entries_of
from scheduler.rules.spoken import MONTHS, at_ships_time, listed
from scheduler.times import clock_time, gaps

RULE = "hours"
WEEKDAYS = ("Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday")
REST_DAY = Source(kind=SourceKind.PUBLISHED, text="MLC 2006 A2.3.3: a day of rest a week")

Pairs = Sequence[tuple[time, time]]


def hours(folder: VoyageFolder) -> Iterator[Restriction]:
    """Briefing to session lie in working hours, out of meals and rest days; priority 1 may ask for more."""
    for entry in entries_of(folder):
        must = entry.priority == 1
        if not (must and entry.night):
            yield from _outside_hours(folder, entry)
            yield from _meals(folder, entry)
        if not must:
            yield from _rest_days(folder, entry)


def work_hours(folder: VoyageFolder) -> Pairs:
    """Working hours in force, ship's time."""
    return folder.week.work_hours if folder.week.work_hours is not None else _policy_pairs(folder, "hours.work")


def meals(folder: VoyageFolder) -> Pairs:
    """Meals in force, ship's time."""
    return folder.week.meals if folder.week.meals is not None else _policy_pairs(folder, "hours.meals")


def is_rest_day(folder: VoyageFolder, day: date) -> bool:
    """True for a ship's date that is a day of rest."""
    given = folder.week.rest_days
    if given is None:
        return WEEKDAYS[day.weekday()] in folder.policy.words("hours.rest_days")
    return day.weekday() in given or day in given


def _policy_pairs(folder: VoyageFolder, key: str) -> Pairs:
    return [(clock_time(start), clock_time(end)) for start, end in folder.policy.pairs(key)]


def _week(folder: VoyageFolder) -> Span:
    return folder.week.start, folder.week.end


def _keep(folder: VoyageFolder, entry: Entry, span: Span, because: str, source: Source) -> Iterator[KeepClear]:
    yield from clear(folder, entry.entry, STAFFED, span, rule=RULE, because=because, source=source)


def _outside_hours(folder: VoyageFolder, entry: Entry) -> Iterator[KeepClear]:
    pairs = work_hours(folder)
    said = listed(f"{start:%H:%M}–{end:%H:%M}" for start, end in pairs)
    for start, end in gaps(clock_of(folder).windows(pairs, *_week(folder)), *_week(folder)):
        because = (
            f"Outside working hours ({said} ship's time), {_from_to(folder, start, end)}; only a priority 1 that may "
            "go on by night is planned then."
        )
        yield from _keep(folder, entry, (start, end), because, folder.policy.source("hours.work"))


def _meals(folder: VoyageFolder, entry: Entry) -> Iterator[KeepClear]:
    for start, end in clock_of(folder).windows(meals(folder), *_week(folder)):
        because = f"A meal, {_from_to(folder, start, end)}."
        yield from _keep(folder, entry, (start, end), because, folder.policy.source("hours.meals"))


def _rest_days(folder: VoyageFolder, entry: Entry) -> Iterator[KeepClear]:
    for day, start, end in clock_of(folder).days(*_week(folder)):
        if is_rest_day(folder, day):
            shown = f"{WEEKDAYS[day.weekday()]} {day.day} {MONTHS[day.month - 1]}"
            because = f"{shown} is a day of rest; only priority 1 is planned on it."
            yield from _keep(folder, entry, (start, end), because, REST_DAY)


def _from_to(folder: VoyageFolder, start: datetime, end: datetime) -> str:
    return f"{at_ships_time(folder, start)} to {at_ships_time(folder, end)}"
