"""From the folder and its restrictions to the problem in grid steps."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from datetime import datetime, timedelta

from scheduler.domain.entries import Entry
from scheduler.domain.folder import VoyageFolder
from scheduler.domain.operations import Operation, pressed_up_by
from scheduler.domain.restrictions import (
    AirChoice,
    CrewAway,
    CrewNeed,
    GearNeed,
    KeepApart,
    KeepClear,
    KeepOrder,
    Length,
    Phase,
    Refusal,
    Restriction,
    Sessions,
    SpeedLimit,
    Stock,
)
from scheduler.solve.passage import passages
from scheduler.solve.problem import Apart, Cap, Job, Need, Order, Problem, Span, Stretch, Task, Way, stretches
from scheduler.times import HOUR, Grid, ShipClock, minutes_between

BEFORE_WATCH = timedelta(minutes=15)  # a session ends so long before any of its people's watch: our choice


def grid_of(folder: VoyageFolder) -> Grid:
    """The planning grid of a week."""
    step = folder.policy.whole("grid_min")
    return Grid(folder.week.start, step, folder.week.days * 24 * 60 // step)


def merged(spans: Iterable[Span], steps: int) -> tuple[Span, ...]:
    """The union of spans inside the week as disjoint ones, ascending."""
    found: list[Span] = []
    for a, b in sorted((max(a, 0), min(b, steps)) for a, b in spans):
        if a >= b:
            continue
        if found and a <= found[-1][1]:
            found[-1] = (found[-1][0], max(b, found[-1][1]))
        else:
            found.append((a, b))
    return tuple(found)


class Posing:
    """Sorts the restrictions of a week by what they bind and turns instants into steps, outward."""

    def __init__(self, folder: VoyageFolder, restrictions: Sequence[Restriction]) -> None:
        self.folder = folder
        self.grid = grid_of(folder)
        self.clock = ShipClock.of(folder.clocks)
        self.of: dict[type, dict[str, list[Restriction]]] = defaultdict(lambda: defaultdict(list))
        for restriction in restrictions:
            self.of[type(restriction)][_whose(restriction)].append(restriction)
        first = folder.week.start.replace(minute=0)
        hours = -int((first - folder.week.end) // HOUR)
        self.hours = [(first + HOUR * i, first + HOUR * (i + 1)) for i in range(hours)]

    def span(self, start: datetime, end: datetime) -> Span:
        """Steps that an interval touches."""
        return self.grid.floor(start), self.grid.ceil(end)

    def problem(self) -> Problem:
        """The whole week."""
        folder, steps = self.folder, self.grid.steps
        refused = set(self.of[Refusal])
        policy = folder.policy
        tasks = tuple(self.task(e) for e in sorted(folder.entries, key=lambda e: e.entry) if e.entry not in refused)
        kept = {task.entry for task in tasks} | {o.operation for o in folder.operations}
        return Problem(
            steps=steps,
            step_min=self.grid.step_min,
            hour_spans=tuple(self.span(a, b) for a, b in self.hours),
            days=tuple(self.span(a, b) for _, a, b in self.clock.days(folder.week.start, folder.week.end)),
            tasks=tuple(self._without_lost(task, refused) for task in tasks),
            jobs=tuple(self.job(o) for o in sorted(folder.operations, key=lambda o: o.operation)),
            aparts=tuple(a for a in self.aparts() if a.a in kept and a.b in kept),
            orders=tuple(o for o in self.orders() if o.first in kept and o.then in kept),
            stocks=self.stocks(),
            passages=passages(folder, self.hours),
            easing_max=int(policy.number("easing.hours_max")),
            people=tuple(sorted(p.person for p in folder.people)),
            away=self.away(on_call_only=False, early=False),
            away_on_call=self.away(on_call_only=True, early=False),
            away_enter=self.away(on_call_only=False, early=True),
            away_operation=self.away_operation(),
            work_min=self.work_min(),
            day_work_min=self.day_work_min(),
            known_from_min=self.known_from_min(),
            sessions_a_day=policy.whole("session.per_person_per_day"),
            rest_limits=(
                round(policy.number("rest.day_h") * 60),
                round(policy.number("rest.longest_h") * 60),
                round(policy.number("rest.week_h") * 60),
                round(policy.number("rest.work_span_h") * 60),
                policy.whole("rest.short_break_min"),
            ),
        )

    def _without_lost(self, task: Task, refused: set[str]) -> Task:
        """A task whose forerunner is refused cannot stand: it gets no way to ventilate."""
        lost = any(o.first in refused for o in self.of[KeepOrder][task.entry] if isinstance(o, KeepOrder))
        return replace(task, ways=()) if lost else task

    def task(self, entry: Entry) -> Task:
        """One entry."""
        g, name = self.grid, entry.entry
        length = {r.phase: g.length(r.minutes) for r in self.of[Length][name] if isinstance(r, Length)}
        cut = next(r for r in self.of[Sessions][name] if isinstance(r, Sessions))
        blocked, caps = self.clear_and_caps(entry)
        return Task(
            entry=name,
            space=entry.space,
            priority=entry.priority,
            brief=length[Phase.BRIEF],
            isolate=length[Phase.ISOLATE],
            test=length[Phase.TEST],
            restore=length[Phase.RESTORE],
            inside=g.length(cut.inside_min) + g.length(cut.proving_min),
            least=g.length(cut.least_min),
            greatest=cut.greatest_min // g.step_min,
            most=cut.most,
            proving=g.length(cut.proving_min),
            tail_ventilate=g.length(cut.tail_ventilate_min),
            tail_test=g.length(cut.tail_test_min),
            valid=cut.valid_min // g.step_min,
            open_longest=cut.open_longest_min // g.step_min,
            permit=cut.permit_min // g.step_min,
            earliest=max(0, g.ceil(entry.earliest or self.folder.week.start)),
            due=min(g.steps, g.floor(entry.due or self.folder.week.end)),
            at=None if entry.at is None else self._pinned(entry.at),
            ways=tuple(
                Way(fans=r.fans, steps=g.length(r.minutes))
                for r in self.of[AirChoice][name]
                if isinstance(r, AirChoice)
            ),
            blocked=blocked,
            caps=caps,
            needs=self.needs(name),
            gear=tuple(
                (stretch, r.resource, r.count)
                for r in self.of[GearNeed][name]
                if isinstance(r, GearNeed)
                for stretch in _held(r.phases)
            ),
        )

    def _pinned(self, at: datetime) -> int:
        """The step of a pinned time; −1, which no start can take, when it is off the grid."""
        return self.grid.floor(at) if self.grid.floor(at) == self.grid.ceil(at) else -1

    def clear_and_caps(self, entry: Entry) -> tuple[Mapping[Stretch, tuple[Span, ...]], tuple[Cap, ...]]:
        """What keeps clear by stretch, and the speeds that hours ask for; what cannot be asked keeps clear."""
        blocked: dict[Stretch, list[Span]] = defaultdict(list)
        for r in self.of[KeepClear][entry.entry]:
            if isinstance(r, KeepClear):
                for stretch in stretches(r.phases):
                    blocked[stretch].append(self.span(r.start, r.end))
        caps: list[Cap] = []
        for limit in self.of[SpeedLimit][entry.entry]:
            if isinstance(limit, SpeedLimit):
                self._limit(entry, limit, blocked, caps)
        return {s: merged(spans, self.grid.steps) for s, spans in sorted(blocked.items())}, tuple(caps)

    def _limit(self, entry: Entry, limit: SpeedLimit, blocked: dict[Stretch, list[Span]], caps: list[Cap]) -> None:
        for hour, (start, end) in enumerate(self.hours):
            if start >= limit.end or end <= limit.start:
                continue
            for stretch in stretches(limit.phases):
                if entry.priority > 2 or (limit.hove_to_only and entry.priority > 1):
                    blocked[stretch].append(self.span(max(start, limit.start), min(end, limit.end)))
                else:
                    caps.append(
                        Cap(stretch=stretch, hour=hour, limit_kn=limit.limit_kn, hove_to_only=limit.hove_to_only)
                    )

    def needs(self, name: str) -> tuple[Need, ...]:
        """The people that an entry or operation wants."""
        return tuple(
            Need(
                phase=r.phase,
                duty=r.duty,
                count=r.count,
                people=tuple(sorted(r.people)),
                steps=self.grid.length(r.minutes),
                session=r.session,
                work=r.work,
                may_double=r.may_double,
            )
            for r in self.of[CrewNeed][name]
            if isinstance(r, CrewNeed) and r.count > 0 and r.phase is not Phase.BRIEF
        )

    def job(self, operation: Operation) -> Job:
        """One operation; a movable one starts on the grid."""
        g = self.grid
        if operation.movable:
            assert operation.earliest and operation.latest and operation.hours  # the reader sees to it
            steps = g.length(operation.hours * 60)
            earliest, latest = g.ceil(operation.earliest), g.floor(operation.latest) - steps
        else:
            assert operation.start
            earliest = latest = g.floor(operation.start)
            steps = g.ceil(operation.end or self.folder.week.end) - earliest
        blocked: dict[Stretch, list[Span]] = defaultdict(list)
        for r in self.of[KeepClear][operation.operation]:
            if isinstance(r, KeepClear):
                for stretch in stretches(r.phases):
                    blocked[stretch].append(self.span(r.start, r.end))
        return Job(
            operation=operation.operation,
            movable=operation.movable,
            earliest=earliest,
            latest=latest,
            steps=steps,
            blocked={s: merged(spans, g.steps) for s, spans in sorted(blocked.items())},
            emptied_until=_refilling(self.folder, operation),
            needs=self.needs(operation.operation),
        )

    def aparts(self) -> Iterable[Apart]:
        """All pairs that may not overlap."""
        for group in self.of[KeepApart].values():
            for r in group:
                if not isinstance(r, KeepApart):
                    continue
                span = None
                if r.start is not None or r.end is not None:
                    span = self.span(r.start or self.folder.week.start, r.end or self.folder.week.end)
                for a in stretches(r.phases):
                    for b in stretches(r.other_phases):
                        yield Apart(
                            a=r.entry, a_stretch=a, b=r.other, b_stretch=b, span=span,
                            before=self.grid.length(r.gap_before_min), after=self.grid.length(r.gap_after_min),
                        )  # fmt: skip

    def orders(self) -> Iterable[Order]:
        """What must be over before what."""
        entries = {e.entry for e in self.folder.entries}
        seen = set()
        for group in self.of[KeepOrder].values():
            for r in group:
                if isinstance(r, KeepOrder):
                    seen.add((r.first, r.then))
                    yield Order(
                        first=r.first, then=r.then, gap=self.grid.length(r.gap_min), either=r.either, branch=r.branch,
                        presence=r.first in entries and r.then in entries,
                    )  # fmt: skip
        for operation in self.folder.operations:
            for first in operation.after:
                if operation.movable and (first, operation.operation) not in seen and first not in entries:
                    yield Order(first=first, then=operation.operation, gap=0, either="", branch=0, presence=False)

    def stocks(self) -> dict[str, tuple[tuple[Span, int], ...]]:
        """How many pieces of each resource there are, and when."""
        found: dict[str, list[tuple[Span, int]]] = defaultdict(list)
        for group in self.of[Stock].values():
            for r in group:
                if isinstance(r, Stock):
                    found[r.resource].append(((self.grid.ceil(r.start), self.grid.floor(r.end)), r.count))
        for gear in self.folder.gear:
            if gear.kind == "fan" and gear.gear not in found:
                found[gear.gear].append(((0, self.grid.steps), gear.count))
        return {name: tuple(sorted(rows)) for name, rows in sorted(found.items())}

    def away(self, *, on_call_only: bool, early: bool) -> dict[str, tuple[Span, ...]]:
        """When each person may hold no entry duty."""
        found: dict[str, list[Span]] = defaultdict(list)
        for person, group in self.of[CrewAway].items():
            for r in group:
                if isinstance(r, CrewAway) and (r.on_call or not on_call_only):
                    found[person].append(self.span(r.start, r.end))
        if early:
            for duty in self.folder.duties:
                if duty.kind in ("watch", "sole watch"):
                    found[duty.person].append(self.span(duty.start - BEFORE_WATCH, duty.start))
        return {person: merged(spans, self.grid.steps) for person, spans in sorted(found.items())}

    def away_operation(self) -> dict[str, tuple[Span, ...]]:
        """When each person may not be named for an operation: sole watch, another duty, or not aboard."""
        found: dict[str, list[Span]] = defaultdict(list)
        for duty in self.folder.duties:
            if duty.kind in ("sole watch", "other"):
                found[duty.person].append(self.span(duty.start, duty.end))
        for p in self.folder.people:
            if p.joins:
                found[p.person].append(self.span(self.folder.week.start, max(p.joins, self.folder.week.start)))
            if p.leaves:
                found[p.person].append(self.span(min(p.leaves, self.folder.week.end), self.folder.week.end))
        return {person: merged(spans, self.grid.steps) for person, spans in sorted(found.items())}

    def _minutes(self, start: datetime, end: datetime) -> tuple[int, int]:
        return minutes_between(self.folder.week.start, start), minutes_between(self.folder.week.start, end)

    def work_min(self) -> dict[str, tuple[tuple[int, int], ...]]:
        """Fixed work of each person: past hours and all duties."""
        found: dict[str, list[tuple[int, int]]] = defaultdict(list)
        for past in self.folder.past_hours:
            found[past.person].append(self._minutes(past.start, past.end))
        for duty in self.folder.duties:
            found[duty.person].append(self._minutes(duty.start, duty.end))
        return {person: tuple(sorted(spans)) for person, spans in sorted(found.items())}

    def day_work_min(self) -> dict[str, tuple[tuple[int, int], ...]]:
        """Day work of each person."""
        found: dict[str, list[tuple[int, int]]] = defaultdict(list)
        for duty in self.folder.duties:
            if duty.kind == "day work":
                found[duty.person].append(self._minutes(duty.start, duty.end))
        return {person: tuple(sorted(spans)) for person, spans in sorted(found.items())}

    def known_from_min(self) -> dict[str, int | None]:
        """From when work is known: seven days back where past hours are given, from joining, else None."""
        past = {row.person for row in self.folder.past_hours}
        found: dict[str, int | None] = {}
        for person in self.folder.people:
            found[person.person] = -7 * 24 * 60 if person.person in past else None
            if person.joins and person.joins > self.folder.week.start and person.person not in past:
                found[person.person] = minutes_between(self.folder.week.start, person.joins)
        return found


def _refilling(folder: VoyageFolder, out: Operation) -> str | None:
    """The operation that presses up again what a 'ballast out' empties; None for others, and for the horizon."""
    filling = pressed_up_by(out, folder.operations) if out.kind == "ballast out" else None
    return filling.operation if filling else None


def _held(phases: tuple[Phase, ...]) -> tuple[Stretch, ...]:
    """The stretch over which a resource is held: test and enter together are one session."""
    if set(phases) == {Phase.TEST, Phase.ENTER}:
        return (Stretch.SESSION,)
    return stretches(phases)


def _whose(restriction: Restriction) -> str:
    """What a restriction is filed under: its entry, person, resource or follower."""
    match restriction:
        case KeepOrder():
            return restriction.then
        case CrewAway():
            return restriction.person
        case Stock():
            return restriction.resource
        case _:
            return restriction.entry
