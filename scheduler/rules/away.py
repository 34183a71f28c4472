"""When each person may hold no entry duty: watches, joining, leaving, drills too old.

Rest has its own file; the fifteen minutes before a watch are the planner's.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from datetime import datetime, timedelta

from scheduler.domain.crew import Person
from scheduler.domain.folder import VoyageFolder
from scheduler.domain.operations import Operation
from scheduler.domain.restrictions import CrewAway
from scheduler.domain.source import Source, SourceKind
from scheduler.hazards.drills import drill_counts_until
from scheduler.rules.outlook import clock_of
from scheduler.rules.spoken import at_ships_time
from scheduler.times import HOUR, joined, overlap

BARRING = ("watch", "sole watch", "other")  # day work bars nothing: common practice, no source
DRILLS = Source(kind=SourceKind.PUBLISHED, text="SOLAS III/19.3.3")
WATCHES = Source(kind=SourceKind.PUBLISHED, text="STCW A-VIII/2")
JOINING = Source(kind=SourceKind.OUR_CHOICE, text="")

Span = tuple[datetime, datetime]


def crew_away(folder: VoyageFolder) -> tuple[CrewAway, ...]:
    """Every time in which somebody may hold no entry duty, by person; worked out once a folder."""
    found = folder.cache.get("crew away")
    if not isinstance(found, tuple):
        rows = [row for person in sorted(folder.people, key=lambda p: p.person) for row in _of(folder, person)]
        found = folder.cache["crew away"] = tuple(rows)
    return found


def away_spans(folder: VoyageFolder) -> Mapping[str, tuple[Span, ...]]:
    """For each person the times of `crew_away` as disjoint spans, ascending."""
    spans: dict[str, list[Span]] = {person.person: [] for person in folder.people}
    for row in crew_away(folder):
        spans[row.person].append((row.start, row.end))
    return {person: joined(found) for person, found in sorted(spans.items())}


def _of(folder: VoyageFolder, person: Person) -> Iterator[CrewAway]:
    yield from _duties(folder, person)
    yield from _joining(folder, person)
    yield from _leaving(folder, person)
    yield from _drill(folder, person)


def _away(folder: VoyageFolder, person: Person, span: Span, because: str, source: Source) -> Iterator[CrewAway]:
    start, end = max(span[0], folder.week.start), min(span[1], folder.week.end)
    if start < end:
        yield CrewAway(
            person=person.person, start=start, end=end, on_call=True, rule="people", because=because, source=source
        )


def _duties(folder: VoyageFolder, person: Person) -> Iterator[CrewAway]:
    duties = (duty for duty in folder.duties if duty.person == person.person and duty.kind in BARRING)
    for duty in sorted(duties, key=lambda each: (each.start, each.end, each.kind)):
        what = "another fixed duty" if duty.kind == "other" else f"a {duty.kind}"
        because = f"{person.name} has {what} until {at_ships_time(folder, duty.end)}."
        yield from _away(folder, person, (duty.start, duty.end), because, WATCHES)


def _joining(folder: VoyageFolder, person: Person) -> Iterator[CrewAway]:
    if person.joins is None:
        return
    hours = folder.policy.number("joined_h")
    until = person.joins + hours * HOUR
    because = (
        f"{person.name} joins {at_ships_time(folder, person.joins)} and holds no entry duty in the first {hours:g} h "
        "on board."
    )
    yield from _away(folder, person, (min(folder.week.start, until), until), because, folder.policy.source("joined_h"))


def _leaving(folder: VoyageFolder, person: Person) -> Iterator[CrewAway]:
    if person.leaves is not None:
        because = f"{person.name} leaves the ship {at_ships_time(folder, person.leaves)}."
        yield from _away(folder, person, (person.leaves, folder.week.end), because, JOINING)


def _drill(folder: VoyageFolder, person: Person) -> Iterator[CrewAway]:
    lapses = drill_lapses(folder, person)
    yield from _not_yet_drilled(folder, person)
    if lapses >= folder.week.end:
        return
    until, renewed_by = renewals(folder).get(person.person, (folder.week.end, ""))
    last = f"{person.last_drill:%d %b %Y}" if person.last_drill else "none is on record"
    because = (
        f"{person.name}'s last entry drill on this ship ({last}) does not count any more: it may be "
        f"{folder.policy.whole('drill_months')} calendar months old"
        + (f"; {renewed_by} renews it {at_ships_time(folder, until)}." if renewed_by else ".")
    )
    yield from _away(folder, person, (lapses, until), because, folder.policy.source("drill_months"))


def _not_yet_drilled(folder: VoyageFolder, person: Person) -> Iterator[CrewAway]:
    """A drill of a date to come counts from that date on."""
    if person.last_drill is not None:
        from_ = clock_of(folder).midnight(person.last_drill)
        because = f"{person.name}'s entry drill of {person.last_drill:%d %b %Y} is still to come."
        yield from _away(folder, person, (folder.week.start, from_), because, folder.policy.source("drill_months"))


def drill_lapses(folder: VoyageFolder, person: Person) -> datetime:
    """The instant from which a person's drill counts no more: the week's start when there is none."""
    if person.last_drill is None:
        return folder.week.start
    last = drill_counts_until(person.last_drill, folder.policy.whole("drill_months"))
    return clock_of(folder).midnight(last + timedelta(days=1))


def renewals(folder: VoyageFolder) -> Mapping[str, tuple[datetime, str]]:
    """Whom an entry drill of the week renews: from when on, and which drill."""
    found: dict[str, tuple[datetime, str]] = {}
    for drill in entry_drills(folder):
        for people in must_drill(folder, drill):
            for person in people:
                until = _over(folder, drill)
                if person not in found or until < found[person][0]:
                    found[person] = (until, drill.operation)
    return found


def entry_drills(folder: VoyageFolder) -> tuple[Operation, ...]:
    """The entry drills of the week, by id."""
    drills = (each for each in folder.operations if each.kind == "entry drill")
    return tuple(sorted(drills, key=lambda each: each.operation))


def must_drill(folder: VoyageFolder, drill: Operation) -> tuple[tuple[str, ...], ...]:
    """For each ability that a drill asks for, who must be named in it: those whose drill lapses in the week.

    Never more than the drill's count, and only who is on board, on no sole watch and on no other fixed duty all through
    its time (its whole window when it may move), so that naming them is possible.
    """
    taken: set[str] = set()
    found = []
    for ability, count in drill.people:
        wanting = [
            person.person
            for person in sorted(folder.people, key=lambda each: (drill_lapses(folder, each), each.person))
            if ability in person.able
            and person.person not in taken
            and drill_lapses(folder, person) < folder.week.end
            and _can_drill(folder, person, drill)
        ][:count]
        taken.update(wanting)
        found.append(tuple(sorted(wanting)))
    return tuple(found)


def _can_drill(folder: VoyageFolder, person: Person, drill: Operation) -> bool:
    start, end = drill.start or drill.earliest or folder.week.start, _over(folder, drill)
    if (person.joins and person.joins > start) or (person.leaves and person.leaves < end):
        return False
    mine = (duty for duty in folder.duties if duty.person == person.person and duty.kind in ("sole watch", "other"))
    return not any(overlap((duty.start, duty.end), (start, end)) for duty in mine)


def _over(folder: VoyageFolder, drill: Operation) -> datetime:
    """When a drill is over at the latest."""
    return (drill.latest if drill.movable else drill.end) or folder.week.end
