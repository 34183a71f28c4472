"""The answer as a plan: phases with instants and names, and everything a reader needs to check it."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from math import ceil

from scheduler.domain.folder import VoyageFolder
from scheduler.domain.plan import (
    Air,
    Arrival,
    Easing,
    Held,
    Named,
    PlannedEntry,
    PlannedOperation,
    PlannedPhase,
    PlannedSpeed,
    Reason,
    Shut,
    Tell,
)
from scheduler.domain.restrictions import AirChoice, Caution, Device, DutyKind, Notice, Paper, Phase, Refusal
from scheduler.solve.fixed_names import NO_SESSION, TAIL
from scheduler.solve.outcome import Outcome, Placed, touched
from scheduler.solve.pieces import pieces
from scheduler.solve.pose import Posing
from scheduler.solve.problem import Cap, Problem, Task
from scheduler.solve.speeds import Heading, arrival_of, planned_speeds, runs_of
from scheduler.solve.starts import start_table
from scheduler.times import MINUTE

_LEAD = (
    DutyKind.IN_CHARGE, DutyKind.ENTRANT, DutyKind.ATTENDANT, DutyKind.GAS_TESTER, DutyKind.AT_ENTRANCE,
    DutyKind.ON_CALL, DutyKind.RIGGING,
)  # fmt: skip


@dataclass(kw_only=True)
class Assembling:
    """One answer, the problem that it answers, and the folder that the problem came from."""

    folder: VoyageFolder
    posing: Posing
    problem: Problem
    outcome: Outcome
    heading: Heading

    def __post_init__(self) -> None:
        self.tasks: dict[str, Task] = {task.entry: task for task in self.problem.tasks}
        self._pieces = pieces(self.posing, self.problem, self.outcome.timed)

    def at(self, step: int) -> datetime:
        """The instant of a step."""
        return self.posing.grid.at(step)

    # -- entries --------------------------------------------------------------------------------------------

    def entries(self) -> tuple[PlannedEntry, ...]:
        """Every entry asked for, in the order of the entry plan."""
        return tuple(self.entry(e.entry, e.space) for e in self.folder.entries)

    def entry(self, name: str, space: str) -> PlannedEntry:
        """One entry, standing or left out."""
        placed = self.outcome.timed.entries.get(name)
        return PlannedEntry(
            entry=name,
            space=space,
            outcome="planned" if placed else "left out",
            phases=self.phases(placed) if placed else (),
            easing=self.easing(placed) if placed else (),
            reasons=self.reasons(name, placed),
            isolation=tuple(
                Shut(device=d.device, action=d.action, because=d.because, tell=d.tell)
                for d in self.posing.of[Device][name]
                if isinstance(d, Device)
            ),
            air=self.air(placed) if placed else None,
            tell=tuple(
                Tell(who=n.who, when=n.when, what=n.what) for n in self.posing.of[Notice][name] if isinstance(n, Notice)
            ),
            records=tuple(p.record for p in self.posing.of[Paper][name] if isinstance(p, Paper)),
            cautions=tuple(c.text for c in self._cautions(name)),
        )

    def _cautions(self, name: str) -> list[Caution]:
        found = [c for c in self.posing.of[Caution][name] if isinstance(c, Caution)]
        return sorted(found, key=lambda c: (c.weight, c.text))

    def reasons(self, name: str, placed: Placed | None) -> tuple[Reason, ...]:
        """What keeps the entry from times; a refusal stands first, with what would change it."""
        refusals = [
            Reason(rule=r.rule, share=1.0, because=f"{r.because}; {r.would_change}" if r.would_change else r.because)
            for r in self.posing.of[Refusal][name]
            if isinstance(r, Refusal)
        ]
        if refusals or name not in self.tasks:
            return tuple(sorted(refusals, key=lambda r: r.rule))
        task = self.tasks[name]
        if not task.ways:
            return (Reason(rule="after", share=1.0, because="it waits for an entry that is left out"),)
        table = start_table(self.posing, task)
        if placed or not table.left:
            return table.reasons
        crowded = Reason(
            rule="at once",
            share=round(1 - table.left / max(1, table.asked), 4),
            because=(
                f"{table.left} of {table.asked} starts stand under these rules alone, and each of them meets entries, "
                "operations, people or gear that come first"
            ),
        )
        return (crowded, *table.reasons)

    def phases(self, placed: Placed) -> tuple[PlannedPhase, ...]:
        """All phases of an entry that stands, in time."""
        task, name = self.tasks[placed.entry], placed.entry
        people = self.outcome.people
        found = [self._brief(placed, NO_SESSION, placed.start)]
        found.append(self._phase(Phase.ISOLATE, placed.start, placed.opened, people.get((name, Phase.ISOLATE, 0), ())))
        first = placed.sessions[0].test - task.brief
        fans = tuple(Held(gear=g, count=n) for g, n in placed.fans)
        found.append(
            self._phase(Phase.VENTILATE, placed.opened, first, people.get((name, Phase.VENTILATE, 0), ()), gear=fans)
        )
        for number, stay in enumerate(placed.sessions, 1):
            found.append(self._brief(placed, number, stay.test))
            found.append(
                self._phase(
                    Phase.TEST, stay.test, stay.test + task.test, people.get((name, Phase.TEST, number), ()),
                    session=number, gear=self._gear(placed, number, Phase.TEST),
                )
            )  # fmt: skip
            found.append(
                self._phase(
                    Phase.ENTER, stay.enter, stay.out, people.get((name, Phase.ENTER, number), ()),
                    session=number, gear=self._gear(placed, number, Phase.ENTER),
                    entrance=self.entrance(task.space),
                )
            )  # fmt: skip
        if task.tail_test:
            out = placed.sessions[-1].out
            test = placed.closing - task.tail_test
            found.append(self._phase(Phase.VENTILATE, out, test, (), gear=fans))
            found.append(
                self._phase(
                    Phase.TEST, test, placed.closing, people.get((name, Phase.TEST, TAIL), ()),
                    gear=self._gear(placed, TAIL, Phase.TEST),
                )
            )  # fmt: skip
        found.append(self._phase(Phase.RESTORE, placed.closing, placed.end, people.get((name, Phase.RESTORE, 0), ())))
        return tuple(found)

    def _phase(
        self,
        phase: Phase,
        start: int,
        end: int,
        people: Sequence[tuple[str, DutyKind]],
        *,
        session: int | None = None,
        gear: tuple[Held, ...] = (),
        entrance: str | None = None,
    ) -> PlannedPhase:
        ordered = sorted(people, key=lambda p: (_LEAD.index(p[1]), p[0]))
        if phase is Phase.TEST and not any(duty is DutyKind.GAS_TESTER for _, duty in ordered):
            # the officer in charge tests the gas himself
            ordered += [(person, DutyKind.GAS_TESTER) for person, duty in ordered if duty is DutyKind.IN_CHARGE]
        return PlannedPhase(
            phase=phase.value,
            start=self.at(start),
            end=self.at(end),
            session=session,
            entrance=entrance,
            people=tuple(Named(person=person, duty=duty.value) for person, duty in ordered),
            gear=gear,
        )

    def _brief(self, placed: Placed, session: int, end: int) -> PlannedPhase:
        """Everybody with a part in what follows, by the duty that they will have there."""
        name, people = placed.entry, self.outcome.people
        there = {person for person, _ in people.get((name, Phase.BRIEF, session), ())}
        later: list[tuple[str, DutyKind]] = []
        keys = [(name, Phase.ENTER, session), (name, Phase.TEST, session)]
        keys += [] if session else [(name, Phase.ISOLATE, 0), (name, Phase.VENTILATE, 0)]
        for key in (*keys, (name, Phase.TEST, TAIL), (name, Phase.RESTORE, 0)):
            later += people.get(key, ())
        duty: dict[str, DutyKind] = {}
        for person, kind in sorted(later, key=lambda p: (_LEAD.index(p[1]), p[0])):
            duty.setdefault(person, kind)
        named = [(person, duty.get(person, DutyKind.RIGGING)) for person in sorted(there)]
        return self._phase(Phase.BRIEF, end - self.tasks[name].brief, end, named, session=session or None)

    def _gear(self, placed: Placed, session: int, phase: Phase) -> tuple[Held, ...]:
        """The fans, which are held throughout, and the pieces that the session holds."""
        fans = tuple(Held(gear=g, count=n) for g, n in placed.fans)
        return fans + tuple(Held(gear=g, count=n) for g, n in self._pieces.get((placed.entry, session, phase), ()))

    def entrance(self, space: str) -> str | None:
        """The ways in that are used: two into a duct keel, else one; manholes, hatches and doors only."""
        kind = next(s.kind for s in self.folder.spaces if s.space == space)
        ways = sorted(
            o.opening for o in self.folder.openings if o.space == space and o.kind in ("manhole", "hatch", "door")
        )
        return "; ".join(ways[: 2 if kind == "duct keel" else 1]) or None

    def air(self, placed: Placed) -> Air | None:
        """How it is ventilated."""
        for choice in self.posing.of[AirChoice][placed.entry]:
            if isinstance(choice, AirChoice) and choice.fans == placed.fans:
                return Air(
                    method=choice.method,
                    hours=round(choice.minutes / 60, 2),
                    fans=tuple(Held(gear=g, count=n) for g, n in choice.fans),
                    mixing_factor=choice.mixing_factor,
                    because=choice.because,
                    source=str(choice.source),
                )
        return None

    # -- the ship -------------------------------------------------------------------------------------------

    def needed_hours(self, placed: Placed) -> dict[int, Cap]:
        """The hours in which an entry that stands asks for a speed that the plan keeps."""
        task, found = self.tasks[placed.entry], {}
        asked = {h for hours in self.outcome.timed.eased.values() for h in hours}
        for cap in sorted(task.caps, key=lambda c: (c.hour, -c.limit_kn)):
            a, b = self.problem.hour_spans[cap.hour]
            if cap.hour in asked and any(s < b and e > a for s, e in touched(placed, task, cap.stretch)):
                found[cap.hour] = cap
        return found

    def easing(self, placed: Placed) -> tuple[Easing, ...]:
        """The stretches in which the ship eases or heaves to for this entry."""
        found: list[Easing] = []
        hours = self.needed_hours(placed)
        for speed in self.speeds():
            for hour in sorted(hours):
                start, end = self.posing.hours[hour]
                start, end = max(start, speed.start), min(end, speed.end)
                if start >= end:
                    continue
                last = found[-1] if found else None
                because = f"{placed.entry} stands there"
                if (
                    last
                    and last.end == start
                    and (last.speed_kn, last.heaving_to) == (speed.speed_kn, speed.heaving_to)
                ):
                    found[-1] = Easing(
                        start=last.start, end=end, speed_kn=last.speed_kn, heaving_to=last.heaving_to, because=because
                    )
                else:
                    found.append(
                        Easing(
                            start=start, end=end, speed_kn=speed.speed_kn, heaving_to=speed.heaving_to, because=because
                        )
                    )
        return tuple(found)

    def _why_eased(self) -> Mapping[int, str]:
        found: dict[int, list[str]] = defaultdict(list)
        for placed in sorted(self.outcome.timed.entries.values(), key=lambda p: p.entry):
            for hour in self.needed_hours(placed):
                start = self.posing.hours[hour][0]
                found[max(0, int((start - self.folder.week.start) / (MINUTE * 60)))].append(placed.entry)
        return {hour: f"for {' and '.join(entries)}" for hour, entries in found.items()}

    def speeds(self) -> tuple[PlannedSpeed, ...]:
        """The ship's speed through the whole of each passage."""
        if not hasattr(self, "_speeds"):
            self._sail()
        return self._speeds

    def arrivals(self) -> tuple[Arrival, ...]:
        """When each passage ends."""
        if not hasattr(self, "_arrivals"):
            self._sail()
        return self._arrivals

    def _sail(self) -> None:
        because = self._why_eased()
        speeds: list[PlannedSpeed] = []
        arrivals: list[Arrival] = []
        for passage in self.problem.passages:
            eased = self.outcome.timed.eased.get(passage.leg, {})
            late = self.outcome.timed.late_min.get(passage.leg, 0)
            runs, arrival = runs_of(passage, eased, late, self.folder.ship.hove_to_speed_kn)
            speeds += planned_speeds(self.folder, passage, runs, self.heading, because)
            arrivals.append(arrival_of(self.folder, passage, runs, arrival))
        self._speeds: tuple[PlannedSpeed, ...] = tuple(speeds)
        self._arrivals: tuple[Arrival, ...] = tuple(arrivals)

    def operations(self) -> tuple[PlannedOperation, ...]:
        """Every operation, fixed or placed."""
        found = []
        for operation in self.folder.operations:
            job = next(j for j in self.problem.jobs if j.operation == operation.operation)
            start = operation.start or self.at(self.outcome.timed.operations[job.operation])
            if operation.movable:
                assert operation.hours  # the reader sees to it
                end = start + MINUTE * ceil(round(operation.hours * 60, 6))  # never shorter than asked for
            else:
                end = operation.end or self.folder.week.end
            named = self.outcome.people.get((job.operation, Phase.RUN, 0), ())
            found.append(
                PlannedOperation(
                    operation=operation.operation, start=start, end=end, moved=operation.movable,
                    people=tuple(Named(person=p, duty=d.value) for p, d in named),
                )
            )  # fmt: skip
        return tuple(found)
