"""Tools to break a good plan in one way: find the thing, change it, say what the check must name."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from datetime import datetime, timedelta

from scheduler.domain.entries import Entry
from scheduler.domain.folder import VoyageFolder
from scheduler.domain.operations import Operation
from scheduler.domain.plan import Named, Plan, PlannedEntry, PlannedOperation, PlannedPhase

MINUTE = timedelta(minutes=1)
HOUR = timedelta(hours=1)


@dataclass(frozen=True, kw_only=True)
class Broken:
    """A folder and a plan of which one promise is broken, and what the check must say of it.

    `by_min` None: not asked; `start` None: not asked. Names are looked for in the breach's own fields.
    """

    folder: VoyageFolder
    plan: Plan
    entry: str = ""
    person: str = ""
    other: str = ""
    by_min: int | None = None
    start: datetime | None = None
    says: str = ""


Breaking = Callable[[VoyageFolder, Plan], Broken | None]
BreakingEntry = Callable[[VoyageFolder, Plan, PlannedEntry], Broken | None]


@dataclass(frozen=True, kw_only=True)
class Fault:
    """One way to break a plan, and the rule that must be named; `make` gives None where it cannot be done."""

    name: str
    rule: str
    make: Breaking


FAULTS: list[Fault] = []


def fault(rule: str) -> Callable[[Breaking], Breaking]:
    """Register a way to break a plan under the rule that it breaks."""

    def register(make: Breaking) -> Breaking:
        FAULTS.append(Fault(name=make.__name__, rule=rule, make=make))
        return make

    return register


def of_entry(
    rule: str, fits: Callable[[VoyageFolder, PlannedEntry], bool] = lambda folder, entry: True
) -> Callable[[BreakingEntry], BreakingEntry]:
    """Register a way to break the first planned entry that fits."""

    def register(make: BreakingEntry) -> BreakingEntry:
        def on_first(folder: VoyageFolder, plan: Plan) -> Broken | None:
            entry = first(plan, lambda entry: fits(folder, entry))
            return None if entry is None else make(folder, plan, entry)

        FAULTS.append(Fault(name=make.__name__, rule=rule, make=on_first))
        return make

    return register


def planned(plan: Plan) -> Iterator[PlannedEntry]:
    """The entries that the plan puts in time."""
    return (entry for entry in plan.entries if entry.outcome == "planned")


def first(plan: Plan, fits: Callable[[PlannedEntry], bool] = lambda entry: True) -> PlannedEntry | None:
    """The first planned entry that fits."""
    return next((entry for entry in planned(plan) if fits(entry)), None)


def the(entry: PlannedEntry, phase: str, number: int = 0) -> PlannedPhase:
    """The phase of a name, the first or the so-manieth; negative counts from the end."""
    return [found for found in entry.phases if found.phase == phase][number]


def asked(folder: VoyageFolder, entry: PlannedEntry) -> Entry:
    """The folder's entry."""
    return next(given for given in folder.entries if given.entry == entry.entry)


def with_asked(folder: VoyageFolder, entry: PlannedEntry, **changes: object) -> VoyageFolder:
    """The folder with its entry changed."""
    entries = (replace(e, **changes) if e.entry == entry.entry else e for e in folder.entries)  # type: ignore[arg-type]
    return replace(folder, entries=tuple(entries))


def with_person(folder: VoyageFolder, person: str, **changes: object) -> VoyageFolder:
    """The folder with one of its people changed."""
    people = (replace(p, **changes) if p.person == person else p for p in folder.people)  # type: ignore[arg-type]
    return replace(folder, people=tuple(people))


def priority(folder: VoyageFolder, entry: PlannedEntry) -> int:
    """How much the entry is wanted."""
    return asked(folder, entry).priority


def without_night(folder: VoyageFolder, entry: PlannedEntry) -> bool:
    """True when working hours bind the entry."""
    return not (asked(folder, entry).night and priority(folder, entry) == 1)


def with_entry(plan: Plan, entry: PlannedEntry, **changes: object) -> Plan:
    """The plan with fields of one entry changed."""
    changed = replace(entry, **changes)  # type: ignore[arg-type]
    return replace(plan, entries=tuple(changed if found is entry else found for found in plan.entries))


def with_phase(plan: Plan, entry: PlannedEntry, phase: PlannedPhase, called: str = "", **changes: object) -> Plan:
    """The plan with fields of one phase changed, its name among them."""
    changed = replace(phase, phase=called or phase.phase, **changes)  # type: ignore[arg-type]
    return with_entry(plan, entry, phases=tuple(changed if found is phase else found for found in entry.phases))


def without_phase(plan: Plan, entry: PlannedEntry, phase: PlannedPhase) -> Plan:
    """The plan without one phase."""
    return with_entry(plan, entry, phases=tuple(found for found in entry.phases if found is not phase))


def moved(plan: Plan, entry: PlannedEntry, by: timedelta) -> Plan:
    """The plan with a whole entry later by so much."""
    phases = tuple(replace(phase, start=phase.start + by, end=phase.end + by) for phase in entry.phases)
    return with_entry(plan, entry, phases=phases)


def instead(people: tuple[Named, ...], out: str, person: str) -> tuple[Named, ...]:
    """The same duties with one person in place of another."""
    return tuple(replace(named, person=person) if named.person == out else named for named in people)


def holding(phase: PlannedPhase, duty: str) -> str:
    """Who holds a duty first."""
    return next(named.person for named in phase.people if named.duty == duty)


def with_operation(
    folder: VoyageFolder,
    plan: Plan,
    operation: Operation,
    start: datetime,
    end: datetime,
    people: tuple[Named, ...] = (),
) -> tuple[VoyageFolder, Plan]:
    """Folder and plan with one operation more."""
    placed = PlannedOperation(
        operation=operation.operation, start=start, end=end, moved=operation.movable, people=people
    )
    counts = plan.counts.operations
    counted = replace(counts, asked=counts.asked + 1, placed=counts.placed + 1)
    return (
        replace(folder, operations=(*folder.operations, operation)),
        replace(plan, operations=(*plan.operations, placed), counts=replace(plan.counts, operations=counted)),
    )


def a_run(kind: str, start: datetime, end: datetime, **over: object) -> Operation:
    """A fixed operation that uses no line and lets nothing out."""
    quiet = Operation(operation="EXTRA", kind=kind, start=start, end=end, vapour="none", lines=())
    return replace(quiet, **over)  # type: ignore[arg-type]


def opened(entry: PlannedEntry) -> tuple[datetime, datetime]:
    """When a space is open."""
    return the(entry, "ventilate").start, the(entry, "restore").end


def with_operation_moved(plan: Plan, name: str, start: datetime) -> Plan:
    """The plan with an operation at another time, as long as before."""
    return replace(
        plan,
        operations=tuple(
            replace(placed, start=start, end=start + (placed.end - placed.start))
            if placed.operation == name
            else placed
            for placed in plan.operations
        ),
    )
