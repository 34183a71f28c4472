"""Names at fixed times: with the times known, who does what is a matter of yes and no alone, and quick."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from ortools.sat.python import cp_model

from scheduler.domain.restrictions import DutyKind, Phase
from scheduler.solve.model import Literal
from scheduler.solve.outcome import Named, Placed, Timed
from scheduler.solve.problem import Need, Problem, Span, Task

NO_SESSION = 0  # the session number of what has no session
TAIL = -1  # that of the test after coating


@dataclass(frozen=True, kw_only=True, eq=False, slots=True)
class Part:
    """One person's part in one phase, in steps, if the plan gives it to him."""

    of: str
    phase: Phase
    session: int
    duty: DutyKind
    person: str
    given: Literal
    span: Span
    work: bool

    @property
    def prepares(self) -> bool:
        """Rigging of an entry: what one on call elsewhere may do."""
        return self.work and self.duty is DutyKind.RIGGING and self.phase not in (Phase.RUN, Phase.BRIEF)


class FixedNames:
    """Everybody's parts in entries and operations whose times are known; an entry may fall for want of people."""

    def __init__(self, problem: Problem, times: Timed) -> None:
        self.problem, self.times = problem, times
        self.model = cp_model.CpModel()
        self.parts: list[Part] = []
        self.short: dict[str, list[cp_model.IntVar]] = {}
        self.tasks: dict[str, Task] = {t.entry: t for t in problem.tasks}
        self.present = {name: self.model.new_bool_var(f"{name} stands") for name in sorted(times.entries)}

    def add_all(self) -> None:
        """The table of contents."""
        for name in self.present:
            self.add_entry(name)
        self.add_operations()
        self.add_briefings()
        self.add_one_place_at_a_time()
        self.add_sessions_a_day()
        self.add_after()

    # -- parts ----------------------------------------------------------------------------------------------

    def add_entry(self, name: str) -> None:
        """Each need is met by its count of named people when the entry stands."""
        task, placed = self.tasks[name], self.times.entries[name]
        for need in task.needs:
            if need.phase is Phase.TEST and task.tail_test:
                self._need(name, need, TAIL)
            if need.phase is Phase.TEST and need.duty is DutyKind.IN_CHARGE:
                continue  # his session, which begins with the test, is given below
            for session in sessions_of(need, placed):
                self._need(name, need, session)
        for need in (n for n in task.needs if n.may_double and n.phase is Phase.TEST):
            for session in (*sessions_of(need, placed), *((TAIL,) if task.tail_test else ())):
                self._double(name, need, session)

    def _need(self, name: str, need: Need, session: int) -> None:
        span = span_of(self.tasks[name], self.times.entries[name], need, session)
        given = [
            self._part(name, need, session, person, span).given
            for person in need.people
            if not self.is_away(person, need.phase, need.work, need.duty, span)
        ]
        if not need.may_double:
            self.model.add(sum(given) == need.count * self.present[name])

    def _part(self, of: str, need: Need, session: int, person: str, span: Span) -> Part:
        given = self.model.new_bool_var(f"{of} {need.phase} {session} {need.duty} {person}")
        part = Part(
            of=of, phase=need.phase, session=session, duty=need.duty, person=person, given=given, span=span,
            work=need.work,
        )  # fmt: skip
        self.parts.append(part)
        return part

    def is_away(self, person: str, phase: Phase, work: bool, duty: DutyKind, span: Span) -> bool:
        """True when the person's absences meet the span."""
        p = self.problem
        if phase is Phase.RUN:
            absent = p.away_operation
        elif not work:
            absent = p.away_on_call
        else:
            absent = p.away_enter if phase is Phase.ENTER else p.away
        return any(a < span[1] and b > span[0] for a, b in absent.get(person, ()))

    def _double(self, name: str, need: Need, session: int) -> None:
        """A gas tester: one of the testers, or the officer in charge of the session when he is able."""
        mine = [p for p in self.parts if p.of == name and p.session == session]
        testers = [p.given for p in mine if p.phase is Phase.TEST and p.duty is need.duty]
        officers = [p.given for p in mine if p.duty is DutyKind.IN_CHARGE and p.person in need.people]
        self.model.add(sum(testers) <= need.count * self.present[name])
        self.model.add(sum(testers) + sum(officers) >= need.count).only_enforce_if(self.present[name])

    def add_operations(self) -> None:
        """People of an operation; a fixed one may fall short (said aloud), a movable one may not."""
        for job in self.problem.jobs:
            start = self.times.operations[job.operation]
            span = (max(0, start), min(self.problem.steps, start + job.steps))
            if span[0] >= span[1]:
                continue
            for need in job.needs:
                given = [
                    self._part(job.operation, need, NO_SESSION, person, span).given
                    for person in need.people
                    if not self.is_away(person, need.phase, need.work, need.duty, span)
                ]
                lacking = self.model.new_int_var(0, 0 if job.movable else need.count, f"{job.operation} lacks")
                self.model.add(sum(given) + lacking == need.count)
                self.short.setdefault(job.operation, []).append(lacking)

    def add_briefings(self) -> None:
        """Who has a part in what follows a briefing is at it, as work.

        The first, before `isolate`, is for those who isolate and open up; each session has its own before its test,
        and who restores hears the last.
        """
        grouped: dict[tuple[str, int, str], list[Literal]] = defaultdict(list)
        for part in self.parts:
            if part.of in self.present:
                session = self._briefed_in(part)
                grouped[part.of, session, part.person].append(part.given)
        need = Need(phase=Phase.BRIEF, duty=DutyKind.RIGGING, count=1, people=())
        for (name, session, person), given in sorted(grouped.items(), key=lambda item: item[0]):
            placed, length = self.times.entries[name], self.tasks[name].brief
            end = placed.sessions[session - 1].test if session else placed.start
            span = (end - length, end)
            if self.is_away(person, Phase.BRIEF, True, DutyKind.RIGGING, span):
                for literal in given:
                    self.model.add(literal == 0)
                continue
            brief = self._part(name, need, session, person, span)
            for literal in given:
                self.model.add_implication(literal, brief.given)
            self.model.add_bool_or([*given, brief.given.negated()])

    def _briefed_in(self, part: Part) -> int:
        if part.session > 0:
            return part.session
        later = part.phase in (Phase.RESTORE, Phase.TEST)
        return len(self.times.entries[part.of].sessions) if later else NO_SESSION

    # -- what binds them ------------------------------------------------------------------------------------

    def add_one_place_at_a_time(self) -> None:
        """No person in two places; on call goes with the preparation of other entries, and with nothing else."""
        mine: dict[str, list[Part]] = defaultdict(list)
        for part in self.parts:
            mine[part.person].append(part)
        for _, parts in sorted(mine.items()):
            self._one_at_a_time([p for p in parts if p.work])
            self._one_at_a_time([p for p in parts if not p.prepares])

    def _one_at_a_time(self, parts: Sequence[Part]) -> None:
        """At each start at most one of what runs then: the cliques of an interval graph."""
        seen: set[frozenset[int]] = set()
        for at in sorted({p.span[0] for p in parts}):
            here = [p for p in parts if p.span[0] <= at < p.span[1]]
            key = frozenset(p.given.index for p in here)
            if len(here) > 1 and not any(key <= other for other in seen):
                seen.add(key)
                self.model.add_at_most_one(p.given for p in here)

    def add_sessions_a_day(self) -> None:
        """Sessions of one person in a ship's date; on call is not counted."""
        inside: dict[tuple[str, int], dict[tuple[str, int], list[Literal]]] = defaultdict(lambda: defaultdict(list))
        for part in self.parts:
            if part.phase is Phase.ENTER and part.work:
                enter = self.times.entries[part.of].sessions[part.session - 1].enter
                day = next(i for i, (dawn, dusk) in enumerate(self.problem.days) if dawn <= enter < dusk)
                inside[part.person, day][part.of, part.session].append(part.given)
        for _, sessions in sorted(inside.items()):
            if len(sessions) > self.problem.sessions_a_day:
                self.model.add(sum(g for given in sessions.values() for g in given) <= self.problem.sessions_a_day)

    def add_after(self) -> None:
        """An entry falls with the one that it waits for."""
        for order in self.problem.orders:
            if order.presence and order.then in self.present and order.first in self.present:
                self.model.add_implication(self.present[order.then], self.present[order.first])

    def named(self, solver: cp_model.CpSolver) -> Mapping[tuple[str, Phase, int], tuple[Named, ...]]:
        """Read the names out of a solved model; the officer in charge of a session also has its test."""
        return names_of(
            (p.of, p.phase, p.session, p.person, p.duty) for p in self.parts if solver.boolean_value(p.given)
        )


def names_of(
    given: Iterable[tuple[str, Phase, int, str, DutyKind]],
) -> Mapping[tuple[str, Phase, int], tuple[Named, ...]]:
    """Parts by (entry or operation, phase, session); the officer in charge of a session also has its test."""
    found: dict[tuple[str, Phase, int], list[Named]] = defaultdict(list)
    for of, phase, session, person, duty in given:
        found[of, phase, session].append((person, duty))
        if phase is Phase.ENTER and duty is DutyKind.IN_CHARGE:
            found[of, Phase.TEST, session].append((person, DutyKind.IN_CHARGE))
    return {key: tuple(sorted(people, key=lambda n: (n[1], n[0]))) for key, people in sorted(found.items())}


def sessions_of(need: Need, placed: Placed) -> range:
    """The session numbers in which a need holds."""
    if need.phase not in (Phase.TEST, Phase.ENTER):
        return range(NO_SESSION, NO_SESSION + 1)
    return range(1, 2 if need.session == 1 else len(placed.sessions) + 1)


def span_of(task: Task, placed: Placed, need: Need, session: int) -> Span:
    """The steps in which a placed entry holds the people of a need."""
    stay = placed.sessions[max(session, 1) - 1]
    match need.phase:
        case Phase.ISOLATE:
            return placed.start, placed.opened
        case Phase.VENTILATE:
            return placed.opened, placed.opened + need.steps if need.steps else placed.sessions[0].test - task.brief
        case Phase.TEST if session == TAIL:
            return placed.closing - task.tail_test, placed.closing
        case Phase.TEST:
            return stay.test, stay.test + task.test
        case Phase.ENTER:
            return (stay.test if need.duty is DutyKind.IN_CHARGE else stay.enter), stay.out
        case _:
            return placed.closing, placed.end
