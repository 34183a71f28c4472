"""Hours of rest: people whose past is not known, and windows that fixed duties break by themselves.

The limits themselves bind the plan through the planner's own tables and the checker; no restriction says them.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime

from scheduler.domain.crew import Duty, PastHours, Person
from scheduler.domain.folder import VoyageFolder
from scheduler.domain.policy import Policy
from scheduler.domain.restrictions import Caution, CrewAway, Restriction
from scheduler.domain.source import Source, SourceKind
from scheduler.hazards.rest import RestBreach, RestFigures, RestLimits, rest_figures
from scheduler.rules.spoken import at_ships_time, length_of
from scheduler.times import DAY, HOUR, MINUTE, minutes_between

RULE = "rest"
REST = Source(kind=SourceKind.PUBLISHED, text="STCW A-VIII/1, MLC 2006 A2.3")
UNKNOWN_PAST = Source(kind=SourceKind.OUR_CHOICE, text="")
KNOWN_BEFORE_DAYS = 7


def rest(folder: VoyageFolder) -> Iterator[Restriction]:
    """No entry duty for a person while his past hours are unknown, or while fixed duties alone break his rest."""
    for person in sorted(folder.people, key=lambda each: each.person):
        yield from _unknown(folder, person)
        yield from _broken(folder, person)


def limits(policy: Policy) -> RestLimits:
    """The limits in force, in minutes."""
    day = round(policy.number("rest.day_h") * 60)
    return RestLimits(
        rest_24h_min=day,
        rest_7d_min=round(policy.number("rest.week_h") * 60),
        two_rests_min=day,
        long_rest_min=round(policy.number("rest.longest_h") * 60),
        longest_work_min=round(policy.number("rest.work_span_h") * 60),
        least_rest_min=policy.whole("rest.short_break_min"),
    )


def known_from(folder: VoyageFolder, person: Person) -> datetime:
    """From when all work of a person is known: seven days back where past hours are given, else from coming aboard."""
    if _has_past(folder, person):
        return folder.week.start - KNOWN_BEFORE_DAYS * DAY
    return max(folder.week.start, person.joins or folder.week.start)


def fixed_figures(folder: VoyageFolder, person: Person) -> RestFigures:
    """A person's figures with nothing but fixed duties and past hours."""
    week = folder.week
    start, end = known_from(folder, person), min(week.end, person.leaves or week.end)
    rows: list[Duty | PastHours] = [*folder.duties, *folder.past_hours]
    spans = [(max(row.start, start), min(row.end, end)) for row in rows if row.person == person.person]
    work = [(minutes_between(week.start, a), minutes_between(week.start, b)) for a, b in spans if a < b]
    known = (minutes_between(week.start, min(start, end)), minutes_between(week.start, end))
    return rest_figures(work, known=known, week=(0, max(0, known[1])), limits=limits(folder.policy))


def _has_past(folder: VoyageFolder, person: Person) -> bool:
    return any(row.person == person.person for row in folder.past_hours)


def _unknown(folder: VoyageFolder, person: Person) -> Iterator[CrewAway | Caution]:
    past, joining = _has_past(folder, person), person.joins is not None and person.joins > folder.week.start
    start = max(folder.week.start, person.joins or folder.week.start)
    if (past and not joining) or start >= folder.week.end:
        return
    hours = folder.policy.number("rest.day_h")
    since = "joins" if joining else "has no past hours in the folder"
    yield CrewAway(
        person=person.person,
        start=start,
        end=min(start + hours * HOUR, folder.week.end),
        on_call=True,
        rule=RULE,
        because=f"{person.name} {since}: no entry duty in the {hours:g} h from {at_ships_time(folder, start)}.",
        source=UNKNOWN_PAST,
    )
    if past:
        return
    yield Caution(
        text=f"{person.name} ({person.person}): rest is 'unknown' until seven days of hours stand in past_hours.csv.",
        weight=5,
        table="past_hours.csv",
        rule=RULE,
    )


def _broken(folder: VoyageFolder, person: Person) -> Iterator[CrewAway | Caution]:
    breaches = fixed_figures(folder, person).breaches
    for breach in breaches:
        start, end = (folder.week.start + MINUTE * minute for minute in breach.window)
        yield CrewAway(
            person=person.person,
            start=max(start, folder.week.start),
            end=min(end, folder.week.end),
            on_call=True,
            rule=RULE,
            because=_said(folder, person, breach),
            source=REST,
        )
    if breaches:
        worst = max(breaches, key=lambda each: (each.by_min, each.window))
        text = f"{_said(folder, person, worst)} Fixed duties and past hours do this by themselves."
        yield Caution(text=text, weight=2, table="duties.csv", rule=RULE)


def _said(folder: VoyageFolder, person: Person, breach: RestBreach) -> str:
    until = at_ships_time(folder, folder.week.start + MINUTE * breach.window.end_min)
    return (
        f"{person.name} ({person.person}): {breach.clause.value} until {until}: {length_of(breach.found_min)}, and "
        f"{length_of(breach.limit_min)} is the limit."
    )
