"""Folder and plan side by side: entries in time, operations in time, and what lies next to what.

Nothing here trusts the plan: fixed operations stand at the folder's times, whatever the plan says of them.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime, timedelta
from functools import cached_property
from itertools import pairwise
from typing import Final

from scheduler.check.ship_time import ShipTime
from scheduler.check.span import MINUTE, Span, union
from scheduler.domain.crew import Person
from scheduler.domain.entries import Entry
from scheduler.domain.folder import VoyageFolder
from scheduler.domain.operations import Operation
from scheduler.domain.plan import Named, Plan, PlannedEntry, PlannedPhase
from scheduler.domain.ship import Gear, Opening, Space
from scheduler.domain.voyage import Leg

PHASE_NAMES: Final = ("brief", "isolate", "clean", "ventilate", "test", "enter", "restore")
OPEN_NAMES: Final = ("ventilate", "test", "enter", "restore")
WAYS_IN: Final = ("manhole", "hatch", "door")
PROVING: Final = timedelta(minutes=30)  # first stay where a hose cannot reach; our choice


@dataclass(frozen=True, kw_only=True)
class Stay:
    """One entry that the plan puts in time, with the folder's own words about it."""

    entry: Entry
    space: Space
    planned: PlannedEntry
    phases: tuple[PlannedPhase, ...]

    @property
    def name(self) -> str:
        """The entry's id."""
        return self.entry.entry

    def of(self, *names: str) -> tuple[PlannedPhase, ...]:
        """The phases of these names, in time."""
        return tuple(phase for phase in self.phases if phase.phase in names)

    @property
    def inside(self) -> tuple[PlannedPhase, ...]:
        """The sessions."""
        return self.of("enter")

    @property
    def manned(self) -> tuple[Span, ...]:
        """Tests and sessions."""
        return tuple(when(phase) for phase in self.of("test", "enter"))

    @cached_property
    def opened(self) -> Span | None:
        """From the start of ventilation to the end of closing up, gaps and nights included."""
        return _around(self.of(*OPEN_NAMES))

    @cached_property
    def out_of_use(self) -> Span | None:
        """From the start of isolation to the end of closing up: its lines are out of use."""
        return _around(self.of("isolate", "clean", *OPEN_NAMES))

    @cached_property
    def last_out(self) -> datetime | None:
        """When the last people come out."""
        return max((phase.end for phase in self.inside), default=None)

    @cached_property
    def tail(self) -> tuple[PlannedPhase, ...]:
        """Ventilation and test after the last session."""
        last = self.last_out
        return tuple(p for p in self.of("ventilate", "test") if last is not None and p.start >= last)

    @cached_property
    def fans_on(self) -> Span | None:
        """From the start of ventilation to the end of the last session, or of the test after it."""
        return _around(self.of("ventilate", "test", "enter"))

    @property
    def hot(self) -> bool:
        """True for hot work."""
        return self.entry.work == "hot work"


@dataclass(frozen=True, kw_only=True)
class Run:
    """An operation in time: where the folder fixes it, or where the plan put it."""

    operation: Operation
    span: Span
    people: tuple[Named, ...] = ()

    @property
    def name(self) -> str:
        """The operation's id."""
        return self.operation.operation

    @property
    def kind(self) -> str:
        """What sort of operation it is."""
        return self.operation.kind


class Scene:
    """The folder, the plan, and the indexes that every look needs."""

    def __init__(self, folder: VoyageFolder, plan: Plan) -> None:
        self.folder = folder
        self.plan = plan
        self.policy = folder.policy
        self.week = Span(folder.week.start, folder.week.end)
        self.clock = ShipTime(folder.clocks)
        self.spaces: dict[str, Space] = {space.space: space for space in folder.spaces}
        self.entries: dict[str, Entry] = {entry.entry: entry for entry in folder.entries}
        self.people: dict[str, Person] = {person.person: person for person in folder.people}
        self.gear: dict[str, Gear] = {gear.gear: gear for gear in folder.gear}
        self.operations: dict[str, Operation] = {o.operation: o for o in folder.operations}
        self.legs: tuple[Leg, ...] = tuple(sorted(folder.legs, key=lambda leg: leg.start))

    def length(self, key: str) -> timedelta:
        """A policy value that ends in minutes or hours, as a length of time."""
        number = self.policy.number(key)
        return timedelta(minutes=number) if key.endswith("_min") else timedelta(hours=number)

    @cached_property
    def stays(self) -> tuple[Stay, ...]:
        """Every entry that the plan puts in time and the folder knows, earliest first."""
        found = [stay for planned in self.plan.entries if (stay := self._stay(planned))]
        return tuple(sorted(found, key=lambda stay: (stay.phases[0].start, stay.name)))

    def _stay(self, planned: PlannedEntry) -> Stay | None:
        entry = self.entries.get(planned.entry)
        space = self.spaces.get(entry.space) if entry else None
        if entry is None or space is None or not planned.phases:
            return None
        phases = tuple(sorted(planned.phases, key=lambda phase: (phase.start, phase.end, phase.phase)))
        return Stay(entry=entry, space=space, planned=planned, phases=phases)

    @cached_property
    def runs(self) -> tuple[Run, ...]:
        """Every operation in time, earliest first; a fixed one without an end runs to the horizon."""
        runs = [run for operation in self.folder.operations if (run := self._run(operation))]
        return tuple(sorted(runs, key=lambda run: (run.span, run.name)))

    def _run(self, operation: Operation) -> Run | None:
        placed = [p for p in self.plan.operations if p.operation == operation.operation]
        people = placed[0].people if placed else ()
        if operation.start is not None:
            end = operation.end if operation.end is not None else self.week.end
            return Run(operation=operation, span=Span(operation.start, end), people=people)
        if not placed:
            return None  # said by `counts`
        return Run(operation=operation, span=Span(placed[0].start, placed[0].end), people=people)

    @cached_property
    def next_to(self) -> dict[str, frozenset[str]]:
        """What touches what, both ways; a space in no row is next to all."""
        touching: dict[str, set[str]] = {space: set() for space in self.spaces}
        for contact in self.folder.neighbours:
            touching.setdefault(contact.space, set()).add(contact.neighbour)
            touching.setdefault(contact.neighbour, set()).add(contact.space)
        alone = {space for space, others in touching.items() if not others}
        for space in touching:
            touching[space] |= alone if space not in alone else set(touching)
            touching[space].discard(space)
        return {space: frozenset(others) for space, others in touching.items()}

    @cached_property
    def openings(self) -> dict[str, tuple[Opening, ...]]:
        """The openings of each space."""
        return {
            name: tuple(opening for opening in self.folder.openings if opening.space == name) for name in self.spaces
        }

    def ways_in(self, space: str) -> tuple[Opening, ...]:
        """The openings that a person can pass."""
        return tuple(opening for opening in self.openings.get(space, ()) if opening.kind in WAYS_IN)

    def leg_at(self, instant: datetime) -> Leg | None:
        """The leg in force; of two that overlap the later one."""
        holding = [leg for leg in self.legs if leg.start <= instant < leg.end]
        return holding[-1] if holding else None

    def leg_spans(self, span: Span) -> list[tuple[Span, Leg | None]]:
        """A stretch cut where the leg changes; None where no leg stands."""
        edges = {span.start, span.end}
        edges |= {at for leg in self.legs for at in (leg.start, leg.end) if span.start < at < span.end}
        ordered = sorted(edges)
        return [(Span(a, b), self.leg_at(a)) for a, b in pairwise(ordered)]

    def under_way(self, span: Span) -> list[Span]:
        """The parts of a stretch in which she is neither at anchor nor alongside; unknown counts as under way."""
        pieces = self.leg_spans(span)
        return union(piece for piece, leg in pieces if leg is None or leg.kind in ("passage", "drifting"))


def when(phase: PlannedPhase) -> Span:
    """The time of a phase."""
    return Span(phase.start, phase.end)


def people_with(phase: PlannedPhase, *duties: str) -> tuple[str, ...]:
    """Who holds one of these duties in a phase."""
    return tuple(named.person for named in phase.people if named.duty in duties)


def minutes(number: float) -> timedelta:
    """So many minutes as a length of time."""
    return MINUTE * number


def _around(phases: tuple[PlannedPhase, ...]) -> Span | None:
    if not phases:
        return None
    return Span(min(phase.start for phase in phases), max(phase.end for phase in phases))
