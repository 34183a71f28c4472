"""Who may do what, when: officers in charge, entrants, attendants, rescue, and the people of operations."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import partial

from scheduler.domain.entries import Entry
from scheduler.domain.folder import VoyageFolder
from scheduler.domain.operations import Operation
from scheduler.domain.restrictions import (
    Caution,
    CrewNeed,
    DutyKind,
    Notice,
    Phase,
    Refusal,
    Restriction,
)
from scheduler.domain.source import Source, SourceKind
from scheduler.rules.away import away_spans, crew_away, must_drill
from scheduler.rules.fresh_test import proving_min
from scheduler.rules.kinds import kind_of, spaces_of
from scheduler.rules.nearby import sorted_operations
from scheduler.rules.outlook import entries_of
from scheduler.rules.spoken import listed
from scheduler.times import gaps

RULE = "people"
ENTRY = Source(
    kind=SourceKind.PUBLISHED,
    text="IMO MSC.581(110), by published summaries: never one alone inside, an attendant, an officer in charge, rescue",
)
PRACTICE = Source(kind=SourceKind.PRACTICE, text="")
OFFICERS = 1
RIGGERS = 2  # hands to open up, to rig fans and to close up; common practice, no source
TOLD = ("bridge", "cargo control", "engine room")


def people(folder: VoyageFolder) -> Iterator[Restriction]:
    """People that each phase and each operation needs, and when nobody may be asked."""
    yield from crew_away(folder)
    for operation in sorted_operations(folder):
        yield from _operation(folder, operation)
    for entry in entries_of(folder):
        needs = tuple(_needs(folder, entry))
        yield from needs
        yield from _too_few(folder, entry, needs)
        yield from _said(folder, entry)


def able(folder: VoyageFolder, *abilities: str, department: str = "", only: Sequence[str] = ()) -> tuple[str, ...]:
    """Who has all the abilities, is of the department and is free at all in the week; ids, sorted."""
    free = folder.cache.get("free in the week")
    if not isinstance(free, frozenset):
        week = (folder.week.start, folder.week.end)
        spans = away_spans(folder).items()
        free = folder.cache["free in the week"] = frozenset(p for p, away in spans if gaps(away, *week))
    return tuple(
        sorted(
            person.person
            for person in folder.people
            if set(abilities) <= set(person.able)
            and (not department or person.department == department)
            and (not only or person.person in only)
            and person.person in free
        )
    )


def _needs(folder: VoyageFolder, entry: Entry) -> Iterator[CrewNeed]:
    """Everybody whom an entry needs, phase by phase."""
    space, policy = spaces_of(folder)[entry.space], folder.policy
    need = partial(_need, entry.entry)
    officers = able(folder, "officer in charge", department=space.in_charge)
    riggers, rescuers = able(folder, "rigging"), able(folder, "rescue")
    testers = able(folder, "gas tester")
    yield need(Phase.ISOLATE, DutyKind.IN_CHARGE, OFFICERS, officers)
    yield need(Phase.ISOLATE, DutyKind.RIGGING, 1, riggers)
    yield need(Phase.VENTILATE, DutyKind.RIGGING, RIGGERS, riggers, minutes=policy.whole("phase.open_up_min"))
    yield need(Phase.TEST, DutyKind.IN_CHARGE, OFFICERS, officers)
    yield need(Phase.TEST, DutyKind.GAS_TESTER, 1, testers, may_double=True)
    yield from _entrants(folder, entry)
    yield need(Phase.ENTER, DutyKind.ATTENDANT, kind_of(space).entrances, able(folder, "attendant"))
    yield need(Phase.ENTER, DutyKind.IN_CHARGE, OFFICERS, officers)
    at_entrance = min(policy.whole("rescue.at_entrance"), policy.whole("rescue.people"))
    on_call = policy.whole("rescue.people") - at_entrance
    if on_call:
        yield need(Phase.ENTER, DutyKind.ON_CALL, on_call, rescuers, work=False)
    if at_entrance:
        yield need(Phase.ENTER, DutyKind.AT_ENTRANCE, at_entrance, rescuers)
    if proving_min(space):
        yield need(Phase.ENTER, DutyKind.GAS_TESTER, 1, testers, session=1)
    yield need(Phase.RESTORE, DutyKind.IN_CHARGE, OFFICERS, officers)
    yield need(Phase.RESTORE, DutyKind.RIGGING, RIGGERS, riggers)


def _entrants(folder: VoyageFolder, entry: Entry) -> Iterator[CrewNeed]:
    """Who goes in; for hot work one of them is able to do it."""
    count, welders = inside_count(folder, entry), 0
    if entry.work == "hot work":
        welders = 1
        who = able(folder, "entrant", "hot work", only=entry.only)
        yield _need(entry.entry, Phase.ENTER, DutyKind.ENTRANT, welders, who)
    who = able(folder, "entrant", only=entry.only)
    yield _need(entry.entry, Phase.ENTER, DutyKind.ENTRANT, count - welders, who)


def inside_count(folder: VoyageFolder, entry: Entry) -> int:
    """How many entrants go in: as asked, and never fewer than policy says."""
    return max(entry.entrants, folder.policy.whole("entrants_min"))


def _need(
    entry: str,
    phase: Phase,
    duty: DutyKind,
    count: int,
    who: tuple[str, ...],
    *,
    minutes: int = 0,
    session: int = 0,
    work: bool = True,
    may_double: bool = False,
) -> CrewNeed:
    stretch = f"the first {minutes} min of {phase}" if minutes else f"{phase}"
    return CrewNeed(
        entry=entry,
        phase=phase,
        duty=duty,
        count=count,
        people=who,
        minutes=minutes,
        session=session,
        work=work,
        may_double=may_double,
        rule=RULE,
        because=f"{count} {duty} in {stretch}; {len(who)} on board are able and free at some time of the week.",
        source=PRACTICE if duty is DutyKind.RIGGING else ENTRY,
    )


def _too_few(folder: VoyageFolder, entry: Entry, needs: Sequence[CrewNeed]) -> Iterator[Refusal]:
    """The entry is refused when at no time of the week there are people enough for one of its phases."""
    for phase in (Phase.ISOLATE, Phase.VENTILATE, Phase.TEST, Phase.ENTER, Phase.RESTORE):
        wanted = tuple((need.count, need.people) for need in needs if need.phase is phase and not need.may_double)
        short = [need for need in needs if need.phase is phase and len(need.people) < need.count]
        if short:
            lack = f"{short[0].count} {short[0].duty}, {len(short[0].people)} able on board"
            yield _refused(entry, phase, lack, short)
            return
        if not _ever_enough(folder, wanted):
            count = sum(each for each, _ in wanted)
            duties = [need for need in needs if need.phase is phase]
            yield _refused(entry, phase, f"{count} different people at once, and at no time are they all free", duties)
            return


def _refused(entry: Entry, phase: Phase, lack: str, needs: Sequence[CrewNeed]) -> Refusal:
    duties = listed(sorted({str(need.duty) for need in needs}))
    return Refusal(
        entry=entry.entry,
        rule=RULE,
        because=f"{entry.entry} in {entry.space}: {phase} needs {lack}.",
        would_change=f"more people able as {duties}, drilled on this ship and free of watches (people.csv, duties.csv)",
        source=ENTRY,
    )


_Wanted = tuple[tuple[int, tuple[str, ...]], ...]


def _ever_enough(folder: VoyageFolder, wanted: _Wanted) -> bool:
    """True when at some time of the week different people can be found for all that is wanted."""
    known = folder.cache.setdefault("people enough", {})
    assert isinstance(known, dict)
    if wanted not in known:
        known[wanted] = any(_enough(wanted, free) for free in _free_sets(folder))
    return bool(known[wanted])


def _free_sets(folder: VoyageFolder) -> tuple[frozenset[str], ...]:
    """All sets of people who are free together at some time of the week, the largest first."""
    found = folder.cache.get("free together")
    if isinstance(found, tuple):
        return found
    away = away_spans(folder)
    edges = {folder.week.start} | {edge for spans in away.values() for span in spans for edge in span}
    sets = {
        frozenset(person for person, spans in away.items() if not any(a <= at < b for a, b in spans))
        for at in edges
        if at < folder.week.end
    }
    largest_first = tuple(sorted(sets, key=lambda each: (-len(each), sorted(each))))
    folder.cache["free together"] = largest_first
    return largest_first


def _enough(wanted: _Wanted, free: frozenset[str]) -> bool:
    """True when each place can be given to a different free person (augmenting paths)."""
    places = [who for count, who in wanted for _ in range(count)]
    holder: dict[str, int] = {}

    def placed(place: int, tried: set[str]) -> bool:
        for person in places[place]:
            if person in free and person not in tried:
                tried.add(person)
                if person not in holder or placed(holder[person], tried):
                    holder[person] = place
                    return True
        return False

    return all(placed(place, set()) for place in range(len(places)))


def _operation(folder: VoyageFolder, operation: Operation) -> Iterator[CrewNeed | Caution]:
    """The people of an operation; those whose drill lapses are named for an entry drill first."""
    must = must_drill(folder, operation) if operation.kind == "entry drill" else ()
    for index, (ability, count) in enumerate(operation.people):
        who = tuple(sorted(person.person for person in folder.people if ability in person.able))
        first = must[index] if must else ()
        if first:
            renewed = f"{operation.operation} renews the entry drill of {listed(first)}, so they are in it."
            yield _held(operation, ability, len(first), first, renewed)
        rest = tuple(person for person in who if person not in first)
        if count > len(first):
            asked = f"{operation.operation} ({operation.kind}) asks for {count} of the ability {ability}."
            yield _held(operation, ability, count - len(first), rest, asked)
        if len(who) < count:
            yield Caution(
                text=f"{operation.operation} asks for {count} of the ability {ability}, and {len(who)} are on board.",
                weight=3,
                table=operation.origin.file,
                row=operation.origin.row,
                rule=RULE,
            )


def _held(operation: Operation, ability: str, count: int, who: tuple[str, ...], because: str) -> CrewNeed:
    return CrewNeed(
        entry=operation.operation,
        phase=Phase.RUN,
        duty=DutyKind(ability),
        count=count,
        people=who,
        rule=RULE,
        because=because,
        source=Source(kind=SourceKind.GIVEN, text="operations.csv, people"),
    )


def _said(folder: VoyageFolder, entry: Entry) -> Iterator[Notice | Caution]:
    """Who is told of people inside, and an entry that asks for fewer than ever go in."""
    for who in TOLD:
        for when, what in (
            ("before enter", f"people go into {entry.space}"),
            ("after restore", f"{entry.space} is closed, all are out"),
        ):
            yield Notice(entry=entry.entry, who=who, when=when, what=what, rule=RULE, source=ENTRY)
    if entry.entrants < folder.policy.whole("entrants_min"):
        yield Caution(
            text=f"{entry.entry} asks for {entry.entrants} inside; it is planned with {inside_count(folder, entry)}.",
            weight=4,
            entry=entry.entry,
            table=entry.origin.file,
            row=entry.origin.row,
            rule=RULE,
        )
