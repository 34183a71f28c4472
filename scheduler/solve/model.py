"""The week's times as a CP-SAT model: variables of entries, operations and the ship's speed."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from typing import TypeAlias

from ortools.sat.python import cp_model

from scheduler.solve.problem import Job, Passage, Problem, Span, Stretch, Task

Expr: TypeAlias = cp_model.LinearExpr
Literal: TypeAlias = cp_model.IntVar


@dataclass(kw_only=True)
class SessionVars:
    """One session: its test, its stay, and whether it takes place."""

    present: Literal
    test: Expr
    enter: Expr
    length: Expr
    out: Expr


@dataclass(kw_only=True)
class EntryVars:
    """The times of one entry."""

    task: Task
    present: Literal
    start: cp_model.IntVar
    opened: Expr
    sessions: list[SessionVars]
    last_out: cp_model.IntVar
    closing: Expr
    end: Expr
    ways: list[Literal] = field(default_factory=list)
    intervals: dict[Stretch, list[cp_model.IntervalVar]] = field(default_factory=dict)


@dataclass(kw_only=True)
class JobVars:
    """The times of one operation."""

    job: Job
    start: Expr
    end: Expr
    intervals: dict[Stretch, list[cp_model.IntervalVar]] = field(default_factory=dict)


@dataclass(kw_only=True)
class PassageVars:
    """The eased hours of one passage: `eased[hour][limit]` implies that hour at or below the limit."""

    passage: Passage
    eased: dict[int, dict[float, Literal]] = field(default_factory=dict)
    hove_to: dict[int, Literal] = field(default_factory=dict)
    any_eased: dict[int, Literal] = field(default_factory=dict)
    late_min: cp_model.IntVar | None = None


def starts_clear(steps: int, length: int, blocked: Iterable[Span], offset: int = 0) -> list[list[int]]:
    """Start domains of something `length` steps long, `offset` steps after the start, that meets no blocked span."""
    free = [[max(0, -offset), steps - length - offset]]
    for a, b in blocked:
        low, high = a - length - offset + 1, b - offset - 1
        free = [piece for f in free for piece in _cut(f, low, high)]
    return [[a, b] for a, b in free if a <= b]


def _cut(free: list[int], low: int, high: int) -> list[list[int]]:
    if high < free[0] or low > free[1]:
        return [free]
    return [piece for piece in ([free[0], low - 1], [high + 1, free[1]]) if piece[0] <= piece[1]]


def intersect(*domains: Sequence[Sequence[int]]) -> list[list[int]]:
    """What all domains have in common."""
    found = cp_model.Domain.from_intervals([list(p) for p in domains[0]])
    for domain in domains[1:]:
        found = found.intersection_with(cp_model.Domain.from_intervals([list(p) for p in domain]))
    flat = found.flattened_intervals()
    return [[flat[i], flat[i + 1]] for i in range(0, len(flat), 2)]


class Times:
    """Variables and constraints of the week without names. `add_all` is the table of contents.

    `people` True leaves room for the named model to add its own; False adds counts of like people.
    """

    def __init__(self, problem: Problem) -> None:
        self.problem = problem
        self.model = cp_model.CpModel()
        self.entries: dict[str, EntryVars] = {}
        self.jobs: dict[str, JobVars] = {}
        self.passages: list[PassageVars] = []

    # -- variables ------------------------------------------------------------------------------------------

    def add_entry(self, task: Task) -> None:
        """Presence, start, sessions, ways to ventilate and all intervals of one entry."""
        m, p = self.model, self.problem
        present = m.new_bool_var(f"{task.entry} stands")
        domain = self.staffed(task, Stretch.ISOLATE, self._start_domain(task))
        if not domain or not task.ways or task.at == -1:
            m.add(present == 0)
            domain = domain or [[0, 0]]
        start = m.new_int_var_from_domain(cp_model.Domain.from_intervals(domain), f"{task.entry} isolate")
        opened = start + task.isolate
        sessions = self._sessions(task, present, opened)
        outs = self._last_outs(task)
        if not outs:
            m.add(present == 0)
        last_out = m.new_int_var_from_domain(
            cp_model.Domain.from_intervals(outs or [[0, p.steps]]), f"{task.entry} last out"
        )
        for session, following in zip(sessions, (*sessions[1:], None), strict=True):
            ends = [session.present, following.present.negated()] if following else [session.present]
            m.add(last_out == session.out).only_enforce_if(*ends)
        closing: Expr = last_out + 0
        if task.tail_test:
            closing = self._tail(task, present, last_out)
        entry = EntryVars(
            task=task,
            present=present,
            start=start,
            opened=opened,
            sessions=sessions,
            last_out=last_out,
            closing=closing,
            end=closing + task.restore,
        )
        self.entries[task.entry] = entry
        self._ways(entry)
        self._bounds(entry)
        self._intervals(entry)

    def staffed(self, task: Task, stretch: Stretch, domain: list[list[int]]) -> list[list[int]]:
        """What people leave of a domain of starts; here, without people, all of it."""
        return domain

    def _last_outs(self, task: Task) -> list[list[int]]:
        """When the last may come out: where `restore`, which follows at once, can begin."""
        steps = self.problem.steps
        if task.tail_test:
            return [[0, min(task.due, steps)]]
        free = starts_clear(steps, task.restore, task.blocked.get(Stretch.RESTORE, ()))
        return self.staffed(task, Stretch.RESTORE, intersect(free, [[0, min(task.due, steps)]]))

    def _tail(self, task: Task, present: Literal, last_out: cp_model.IntVar) -> cp_model.IntVar:
        """After coating: fans run on for at least so long, then a test; what follows begins when it ends."""
        m, steps = self.model, self.problem.steps
        tests = starts_clear(steps, task.tail_test, task.blocked.get(Stretch.TEST, ()))
        ends = [[a + task.tail_test, b + task.tail_test] for a, b in tests]
        closing = m.new_int_var_from_domain(cp_model.Domain.from_intervals(ends or [[0, 0]]), f"{task.entry} gas-free")
        m.add(closing >= last_out + task.tail_ventilate + task.tail_test).only_enforce_if(present)
        if not ends:
            m.add(present == 0)
        return closing

    def _start_domain(self, task: Task) -> list[list[int]]:
        steps, blocked = self.problem.steps, task.blocked
        way = min((w.steps for w in task.ways), default=0)
        least_inside = min(task.inside, task.greatest)
        hull = way + task.brief + task.test + least_inside + task.tail_ventilate + task.tail_test + task.restore
        return intersect(
            [[max(task.earliest, task.brief), max(task.earliest, task.brief, steps)]],
            starts_clear(steps, task.brief, blocked.get(Stretch.BRIEF, ()), -task.brief),
            starts_clear(steps, task.isolate, blocked.get(Stretch.ISOLATE, ())),
            starts_clear(steps, hull, blocked.get(Stretch.OPEN, ()), task.isolate),
            starts_clear(steps, task.isolate + hull, blocked.get(Stretch.OUT_OF_USE, ())),
        )

    def _sessions(self, task: Task, present: Literal, opened: Expr) -> list[SessionVars]:
        m, steps = self.model, self.problem.steps
        tests = starts_clear(steps, task.test, task.blocked.get(Stretch.TEST, ()))
        found: list[SessionVars] = []
        for k in range(task.most):
            here = present if k == 0 else m.new_bool_var(f"{task.entry} session {k + 1}")
            briefed = intersect(
                tests, starts_clear(steps, task.brief, task.blocked.get(Stretch.BRIEF, ()), -task.brief)
            )
            least = 1 if task.most > 1 else min(task.inside, task.greatest)
            enters = starts_clear(steps, least, task.blocked.get(Stretch.ENTER, ()))
            if k == 0 and task.at is not None:
                enters = intersect(enters, [[task.at, task.at]])
            briefed = self.staffed(task, Stretch.SESSION, briefed)
            if not briefed or not enters:
                m.add(here == 0)
            test = m.new_int_var_from_domain(cp_model.Domain.from_intervals(briefed or [[0, 0]]), f"{task.entry} test")
            enter = m.new_int_var_from_domain(cp_model.Domain.from_intervals(enters or [[0, 0]]), f"{task.entry} enter")
            length: Expr = m.new_constant(task.inside)
            if task.most > 1:
                length = m.new_int_var(0, task.greatest, f"{task.entry} length")
                m.add(length == 0).only_enforce_if(here.negated())
                m.add(length >= 1 + (task.proving if k == 0 else 0)).only_enforce_if(here)
            out: Expr = enter + task.inside
            if task.most > 1:
                out = m.new_int_var(0, steps, f"{task.entry} out")
                m.add(out == enter + length)
            session = SessionVars(present=here, test=test, enter=enter, length=length, out=out)
            m.add(enter >= test + task.test).only_enforce_if(here)
            m.add(enter <= test + task.test + task.valid).only_enforce_if(here)
            if k == 0:
                m.add(test - task.brief >= opened).only_enforce_if(here)
            else:
                before = found[-1]
                m.add_implication(here, before.present)
                m.add(test - task.brief >= before.out).only_enforce_if(here)
                m.add(before.length >= task.least + (task.proving if k == 1 else 0)).only_enforce_if(here)
            found.append(session)
        if task.most > 1:
            m.add(sum(s.length for s in found) == task.inside).only_enforce_if(present)
        return found

    def _ways(self, entry: EntryVars) -> None:
        m, task, first = self.model, entry.task, entry.sessions[0]
        entry.ways = [m.new_bool_var(f"{task.entry} {way.fans}") for way in task.ways]
        m.add(sum(entry.ways) == entry.present)
        for way, chosen in zip(task.ways, entry.ways, strict=True):
            m.add(first.test - task.brief - entry.opened >= way.steps).only_enforce_if(chosen)

    def _bounds(self, entry: EntryVars) -> None:
        m, task, here = self.model, entry.task, entry.present
        m.add(entry.last_out <= task.due).only_enforce_if(here)
        m.add(entry.end <= self.problem.steps).only_enforce_if(here)
        m.add(entry.end - entry.opened <= task.open_longest).only_enforce_if(here)
        if task.inside > 0 and task.most > 1:
            self._permits(entry)
        elif task.test + task.inside > task.permit:
            m.add(here == 0)

    def _permits(self, entry: EntryVars) -> None:
        """The first test to the last coming out of one day: at most the permit's length."""
        m, days = self.model, self.problem.days
        for session in entry.sessions:
            m.add(session.out - session.test <= entry.task.permit).only_enforce_if(session.present)
        for i, early in enumerate(entry.sessions):
            for late in entry.sessions[i + 1 :]:
                other_day = [m.new_bool_var("another day") for _ in days[1:]]
                for (dawn, _), apart in zip(days[1:], other_day, strict=True):
                    m.add(late.test >= dawn).only_enforce_if(apart)
                    m.add(early.test < dawn).only_enforce_if(apart)
                same = m.new_bool_var("same day")
                m.add(late.out - early.test <= entry.task.permit).only_enforce_if(same)
                m.add_bool_or([*other_day, same, late.present.negated()])

    def interval(
        self, start: Expr, end: Expr, present: cp_model.LiteralT, name: str, length: int | None = None
    ) -> cp_model.IntervalVar:
        """An interval from start to end, of a known length or of any."""
        m = self.model
        if length is not None:
            return m.new_optional_fixed_size_interval_var(start, length, present, name)
        size = m.new_int_var(0, 2 * self.problem.steps, f"{name} lasts")
        return m.new_optional_interval_var(start, size, end, present, name)

    def _intervals(self, entry: EntryVars) -> None:
        _m, task, here, name = self.model, entry.task, entry.present, entry.task.entry
        found: dict[Stretch, list[cp_model.IntervalVar]] = {}

        def add(stretch: Stretch, start: Expr, end: Expr, present: Literal, length: int | None = None) -> None:
            found.setdefault(stretch, []).append(self.interval(start, end, present, f"{name} {stretch}", length))

        add(Stretch.BRIEF, entry.start - task.brief, entry.start, here, task.brief)
        add(Stretch.ISOLATE, entry.start, entry.opened, here, task.isolate)
        add(Stretch.VENTILATE, entry.opened, entry.sessions[0].test - task.brief, here)
        add(Stretch.RESTORE, entry.closing, entry.end, here, task.restore)
        add(Stretch.OPEN, entry.opened, entry.end, here)
        add(Stretch.OUT_OF_USE, entry.start, entry.end, here)
        if task.tail_test:
            for stretch in (Stretch.TEST, Stretch.SESSION):
                add(stretch, entry.closing - task.tail_test, entry.closing, here, task.tail_test)
        for session in entry.sessions:
            add(Stretch.BRIEF, session.test - task.brief, session.test, session.present, task.brief)
            add(Stretch.TEST, session.test, session.test + task.test, session.present, task.test)
            inside = task.inside if task.most == 1 else None
            add(Stretch.ENTER, session.enter, session.out, session.present, inside)
            add(Stretch.SESSION, session.test, session.out, session.present)
        entry.intervals = found

    def add_job(self, job: Job) -> None:
        """An operation: fixed, or somewhere in its window."""
        m = self.model
        start: Expr = m.new_constant(job.earliest)
        if job.movable:
            domain = self.job_starts(job)
            if not domain:
                m.add_bool_or([])  # it must be placed and cannot: the caller has named what blocks it
                domain = [[max(0, job.earliest), max(0, job.earliest)]]
            start = m.new_int_var_from_domain(cp_model.Domain.from_intervals(domain), job.operation)
        run = m.new_interval_var(start, job.steps, start + job.steps, job.operation)
        self.jobs[job.operation] = JobVars(job=job, start=start, end=start + job.steps, intervals={Stretch.RUN: [run]})

    def job_starts(self, job: Job) -> list[list[int]]:
        """Where in its window a movable operation may begin."""
        free = starts_clear(self.problem.steps, job.steps, job.blocked.get(Stretch.RUN, ()))
        return intersect([[job.earliest, job.latest]], free) if job.earliest <= job.latest else []

    def add_emptied(self, job: Job) -> None:
        """From the first minute out until pressed up again."""
        vars_ = self.jobs[job.operation]
        until: Expr = self.model.new_constant(self.problem.steps)
        if job.emptied_until and job.emptied_until in self.jobs:
            filling = self.jobs[job.emptied_until]
            until = filling.end
            if job.movable or filling.job.movable:  # what presses up again cannot have run before
                self.model.add(filling.start >= vars_.end)
        size = self.model.new_int_var(0, self.problem.steps, f"{job.operation} emptied for")
        interval = self.model.new_interval_var(vars_.start, size, until, f"{job.operation} emptied")
        vars_.intervals[Stretch.EMPTIED] = [interval]
        if job.blocked.get(Stretch.EMPTIED) and job.movable:
            self._clear_of([interval], job.blocked[Stretch.EMPTIED])

    def _clear_of(self, intervals: Iterable[cp_model.IntervalVar], spans: Iterable[Span]) -> None:
        fixed = [self.model.new_fixed_size_interval_var(a, b - a, "kept clear") for a, b in spans]
        for interval in intervals:
            self.model.add_no_overlap([interval, *fixed])
