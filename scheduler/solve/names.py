"""Names and times together, for the few entries whose times must move before anybody can be found for them."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from ortools.sat.python import cp_model

from scheduler.domain.restrictions import DutyKind, Phase
from scheduler.solve.constraints import WeekTimes
from scheduler.solve.fixed_names import NO_SESSION, TAIL, span_of
from scheduler.solve.model import EntryVars, Expr, Literal
from scheduler.solve.outcome import Timed
from scheduler.solve.problem import Need, Problem, Span, Stretch, Task
from scheduler.solve.staffing import OfficersFree


@dataclass(frozen=True, kw_only=True, eq=False, slots=True)
class Duty:
    """One person's part in one phase, if the plan gives it to him."""

    of: str
    phase: Phase
    session: int
    duty: DutyKind
    person: str
    given: Literal
    interval: cp_model.IntervalVar
    start: Expr
    end: Expr
    work: bool
    fixed: Span | None = None
    """Its steps, where the entry is frozen."""


class NamedWeek(WeekTimes):
    """The week with names. Entries in `frozen` stand as they do there, or not at all; the others are free.

    Names of a frozen entry whose time meets a person's absence are left out before the solver sees them.
    """

    def __init__(self, problem: Problem, frozen: Timed, free: frozenset[str] = frozenset()) -> None:
        super().__init__(problem)
        self.frozen = frozen
        self.free = free
        self.duties: list[Duty] = []
        self._officers = OfficersFree(problem)
        self.short: dict[str, list[cp_model.IntVar]] = {}

    def add_all(self) -> None:
        """The times, then the people."""
        super().add_all()
        self.add_frozen()
        self.add_entry_duties()
        self.add_operation_duties()
        self.add_briefings()
        self.add_one_place_at_a_time()
        self.add_sessions_a_day()

    def add_frozen(self) -> None:
        """Entries and operations stay where they stand; what stands nowhere stays out unless it is free."""
        m = self.model
        for name, entry in self.entries.items():
            placed = self.frozen.entries.get(name)
            if name in self.free:
                continue
            if placed is None:
                m.add(entry.present == 0)
                continue
            m.add(entry.start == placed.start)
            for index, chosen in enumerate(entry.ways):
                if index != placed.way:
                    m.add(chosen == 0)
            m.add(entry.closing == placed.closing).only_enforce_if(entry.present)
            for k, session in enumerate(entry.sessions):
                if k >= len(placed.sessions):
                    m.add(session.present == 0)
                    continue
                m.add(session.test == placed.sessions[k].test)
                m.add(session.enter == placed.sessions[k].enter)
                m.add(session.out == placed.sessions[k].out)
                if k:
                    m.add(session.present == entry.present)
        for name, job in self.jobs.items():
            if not self.free and job.job.movable:
                m.add(job.start == self.frozen.operations[name])

    # -- duties ---------------------------------------------------------------------------------------------

    def add_entry_duties(self) -> None:
        """Each need is met by its count of named people when the entry stands."""
        for name in sorted(self.entries):
            entry = self.entries[name]
            if name not in self.free and name not in self.frozen.entries:
                continue
            for need in entry.task.needs:
                if need.phase is Phase.TEST and entry.task.tail_test:
                    self._entry_need(entry, need, TAIL)
                if need.phase is Phase.TEST and need.duty is DutyKind.IN_CHARGE:
                    continue  # his session, which begins with the test, is given below
                for session in self._sessions_of(entry, need):
                    self._entry_need(entry, need, session)
            self._doubles(entry)

    def _sessions_of(self, entry: EntryVars, need: Need) -> range:
        if need.phase not in (Phase.TEST, Phase.ENTER):
            return range(NO_SESSION, NO_SESSION + 1)
        placed = self.frozen.entries.get(entry.task.entry)
        count = len(entry.sessions) if entry.task.entry in self.free or placed is None else len(placed.sessions)
        return range(1, 2 if need.session == 1 else count + 1)

    def _entry_need(self, entry: EntryVars, need: Need, session: int) -> None:
        start, end = self._when(entry, need, session)
        present = entry.sessions[session - 1].present if session > 0 else entry.present
        span = self._frozen_span(entry.task.entry, need, session)
        given = []
        for person in need.people:
            if span and self._is_away(person, need, span):
                continue
            given.append(self._duty(entry.task.entry, need, session, person, start, end, span).given)
        if not need.may_double:
            self.model.add(sum(given) == need.count * present)

    def _duty(
        self, of: str, need: Need, session: int, person: str, start: Expr, end: Expr, fixed: Span | None = None
    ) -> Duty:
        given = self.model.new_bool_var(f"{of} {need.phase} {session} {need.duty} {person}")
        interval = self.interval(start, end, given, f"{given.name} at")
        duty = Duty(
            of=of, phase=need.phase, session=session, duty=need.duty, person=person, given=given, interval=interval,
            start=start, end=end, work=need.work,
            fixed=fixed,
        )  # fmt: skip
        self.duties.append(duty)
        return duty

    def _when(self, entry: EntryVars, need: Need, session: int) -> tuple[Expr, Expr]:
        match need.phase:
            case Phase.ISOLATE:
                return entry.start, entry.opened
            case Phase.VENTILATE:
                until = entry.opened + need.steps if need.steps else entry.sessions[0].test - entry.task.brief
                return entry.opened, until
            case Phase.TEST if session == TAIL:
                return entry.closing - entry.task.tail_test, entry.closing
            case Phase.TEST:
                test = entry.sessions[session - 1].test
                return test, test + entry.task.test
            case Phase.ENTER:
                stay = entry.sessions[session - 1]
                return (stay.test if need.duty is DutyKind.IN_CHARGE else stay.enter), stay.out
            case _:
                return entry.closing, entry.end

    def _frozen_span(self, name: str, need: Need, session: int) -> Span | None:
        placed = self.frozen.entries.get(name)
        if name in self.free or placed is None:
            return None
        return span_of(self.entries[name].task, placed, need, session)

    def _is_away(self, person: str, need: Need, span: Span) -> bool:
        return any(a < span[1] and b > span[0] for a, b in self._absences(person, need.phase, need.work))

    def _absences(self, person: str, phase: Phase, work: bool) -> tuple[Span, ...]:
        p = self.problem
        if phase is Phase.RUN:
            return p.away_operation.get(person, ())
        if not work:
            return p.away_on_call.get(person, ())
        return (p.away_enter if phase is Phase.ENTER else p.away).get(person, ())

    def _doubles(self, entry: EntryVars) -> None:
        """A gas tester: one of the testers, or the officer in charge of the session when he is able."""
        doubled = [n for n in entry.task.needs if n.may_double and n.phase is Phase.TEST]
        for need in doubled:
            for session in (*self._sessions_of(entry, need), *((TAIL,) if entry.task.tail_test else ())):
                mine = [d for d in self.duties if d.of == entry.task.entry and d.session == session]
                testers = [d.given for d in mine if d.phase is Phase.TEST and d.duty is need.duty]
                officers = [d.given for d in mine if d.duty is DutyKind.IN_CHARGE and d.person in need.people]
                present = entry.present if session == TAIL else entry.sessions[session - 1].present
                self.model.add(sum(testers) <= need.count)
                self.model.add(sum(testers) + sum(officers) >= need.count).only_enforce_if(present)
                for given in testers:
                    self.model.add_implication(given, present)

    def add_operation_duties(self) -> None:
        """People of an operation; a fixed one may fall short (said aloud), a movable one may not."""
        for name in sorted(self.jobs):
            job = self.jobs[name]
            start = self.frozen.operations.get(name, job.job.earliest)
            fixed = not job.job.movable or not self.free
            span = (max(0, start), min(self.problem.steps, start + job.job.steps))
            if fixed and span[0] >= span[1]:
                continue  # over before the week, or begins after it
            for need in job.job.needs:
                given = [
                    self._duty(name, need, NO_SESSION, person, job.start, job.end).given
                    for person in need.people
                    if not (fixed and self._is_away(person, need, span))
                ]
                lacking = self.model.new_int_var(0, 0 if job.job.movable else need.count, f"{name} lacks {need.duty}")
                self.model.add(sum(given) + lacking == need.count)
                self.short.setdefault(name, []).append(lacking)

    def elsewhere(self, duty: Duty, start: int) -> Literal:
        """A literal that puts a part of a free entry at another time than this one."""
        moved = self.model.new_bool_var(f"{duty.of} {duty.phase} not at {start}")
        self.model.add(duty.start != start).only_enforce_if(moved)
        return moved

    def not_at(self, entry: str, start: int) -> Literal:
        """A literal that isolates a free entry at another time than this one."""
        moved = self.model.new_bool_var(f"{entry} not at {start}")
        self.model.add(self.entries[entry].start != start).only_enforce_if(moved)
        return moved

    def staffed(self, task: Task, stretch: Stretch, domain: list[list[int]]) -> list[list[int]]:
        """A phase of a free entry begins where the few people that it must draw on can be had."""
        if task.entry not in self.free or (stretch is Stretch.SESSION and task.most > 1):
            return domain
        return self._officers.starts(task, stretch, domain)

    def add_briefings(self) -> None:
        """Who has a part in what follows a briefing is at it, and that is work."""
        grouped: dict[tuple[str, int, str], list[Duty]] = defaultdict(list)
        for duty in self.duties:
            if duty.of in self.entries:
                for session in self._briefed_in(duty):
                    grouped[duty.of, session, duty.person].append(duty)
        for (name, session, person), duties in sorted(grouped.items()):
            entry = self.entries[name]
            end: Expr = entry.sessions[session - 1].test if session else entry.start
            need = Need(phase=Phase.BRIEF, duty=DutyKind.RIGGING, count=1, people=())
            fixed = self._frozen_brief(name, session)
            brief = self._duty(name, need, session, person, end - entry.task.brief, end, fixed)
            self.model.add_bool_or([*(d.given for d in duties), brief.given.negated()])
            for duty in duties:
                if session and duty.session != session:
                    # the restore's people hear the last briefing, whichever session that is
                    last_here = [entry.sessions[session - 1].present]
                    later = [s.present.negated() for s in entry.sessions[session : session + 1]]
                    last: list[cp_model.BoolVarT] = [*last_here, *later]
                    self.model.add(brief.given == 1).only_enforce_if(duty.given, *last)
                else:
                    self.model.add_implication(duty.given, brief.given)

    def _frozen_brief(self, name: str, session: int) -> Span | None:
        placed = self.frozen.entries.get(name)
        if name in self.free or placed is None:
            return None
        end = placed.sessions[session - 1].test if session else placed.start
        return end - self.entries[name].task.brief, end

    def _briefed_in(self, duty: Duty) -> Iterable[int]:
        if duty.session > 0:
            return (duty.session,)
        if duty.phase not in (Phase.RESTORE, Phase.TEST):
            return (NO_SESSION,)
        placed = self.frozen.entries.get(duty.of)
        if duty.of not in self.free and placed is not None:
            return (len(placed.sessions),)
        return range(1, len(self.entries[duty.of].sessions) + 1)

    def add_one_place_at_a_time(self) -> None:
        """No person in two places; on call goes with the rigging of other entries, and with nothing else."""
        for person in self.problem.people:
            mine = [d for d in self.duties if d.person == person]
            if not mine:
                continue
            self._no_overlap([d.interval for d in mine if d.work])
            self._no_overlap([d.interval for d in mine if not self._prepares(d)])
            for phase, work in ((Phase.ISOLATE, True), (Phase.ENTER, True), (Phase.ENTER, False), (Phase.RUN, True)):
                kind = [d for d in mine if _filed(d) == (phase, work)]
                self._clear_of_absence([d for d in kind if d.of in self.free or self._open(d)], person, phase, work)

    def _prepares(self, duty: Duty) -> bool:
        """Rigging of an entry, which goes with being on call for another; a briefing does not."""
        return duty.work and duty.duty is DutyKind.RIGGING and duty.of in self.entries and duty.phase is not Phase.BRIEF

    def _open(self, duty: Duty) -> bool:
        """Briefings, whose span was not looked at, and movable operations while anything is free."""
        return duty.phase is Phase.BRIEF or (duty.phase is Phase.RUN and bool(self.free))

    def _no_overlap(self, intervals: Sequence[cp_model.IntervalVar]) -> None:
        if len(intervals) > 1:
            self.model.add_no_overlap(intervals)

    def _clear_of_absence(self, duties: Sequence[Duty], person: str, phase: Phase, work: bool) -> None:
        if duties:
            absent = self._absences(person, phase, work)
            fixed = [self.model.new_fixed_size_interval_var(a, b - a, "away") for a, b in absent]
            for duty in duties:
                self._no_overlap([duty.interval, *fixed])

    def add_sessions_a_day(self) -> None:
        """Sessions of one person in a ship's date; on call is not counted."""
        inside: dict[tuple[str, str, int], list[Duty]] = defaultdict(list)
        for duty in self.duties:
            if duty.phase is Phase.ENTER and duty.work:
                inside[duty.person, duty.of, duty.session].append(duty)
        by_day: dict[tuple[str, int], list[Literal]] = defaultdict(list)
        for (person, name, session), duties in sorted(inside.items()):
            for day in range(len(self.problem.days)):
                for literal in self._on_day(name, session, day, duties):
                    by_day[person, day].append(literal)
        for _, literals in sorted(by_day.items()):
            if len(literals) > self.problem.sessions_a_day:
                self.model.add(sum(literals) <= self.problem.sessions_a_day)

    def _on_day(self, name: str, session: int, day: int, duties: Sequence[Duty]) -> list[Literal]:
        """The literals that count against a day: those given, where the session lies in it."""
        dawn, dusk = self.problem.days[day]
        placed = self.frozen.entries.get(name)
        if name not in self.free and placed is not None:
            return [d.given for d in duties] if dawn <= placed.sessions[session - 1].enter < dusk else []
        m = self.model
        here = m.new_bool_var(f"{name} {session} on day {day}")
        enter = self.entries[name].sessions[session - 1].enter
        before, after = m.new_bool_var("before"), m.new_bool_var("after")
        m.add(enter < dawn).only_enforce_if(before)
        m.add(enter >= dusk).only_enforce_if(after)
        m.add_exactly_one(before, here, after)
        counted = []
        for duty in duties:
            both = m.new_bool_var("counts")
            m.add_bool_or([duty.given.negated(), here.negated(), both])
            counted.append(both)
        return counted


def _filed(duty: Duty) -> tuple[Phase, bool]:
    """Which absences count: those of going in, of being on call, of operations, or of all else."""
    if duty.phase is Phase.RUN or (duty.phase is Phase.ENTER and duty.duty is not DutyKind.IN_CHARGE):
        return duty.phase, duty.work
    return (Phase.ENTER if duty.phase is Phase.ENTER else Phase.ISOLATE), True
