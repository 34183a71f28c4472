"""The week as a person plans it with a pencil: entry by entry, the first time that fits, the first people who can.

Entries by priority, then by due date. An entry that finds no time or no people stays out, and nothing that stands is
moved for it.
"""

from __future__ import annotations

import time
from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from random import Random

from scheduler.domain.restrictions import DutyKind, Phase
from scheduler.solve.outcome import Named, Placed, PlacedSession, Timed
from scheduler.solve.problem import Apart, Job, Need, Problem, Span, Stretch, Task
from scheduler.solve.resting import figures
from tests.benchmarks.validity import People, arrival_min, meet, operation_spans, out_of_order, spans_of

WORTH = {1: 40, 2: 20, 3: 10}
"""What an entry counts by its priority when two plans are set side by side: constructed."""
LOOK_BACK = 64
"""Steps by which a space may be opened earlier than its fans need: sixteen hours."""
ANOTHER_TRY = 2
"""Steps to go on by when nobody was found for a time."""


@dataclass(frozen=True, kw_only=True, slots=True)
class ByHand:
    """What the pencil leaves on the paper."""

    timed: Timed
    people: People


def worth(problem: Problem, entries: Iterable[str]) -> int:
    """The value of the entries that stand."""
    priority = {task.entry: task.priority for task in problem.tasks}
    return sum(WORTH[priority[name]] for name in entries)


def by_hand(problem: Problem, *, shuffle: Random | None = None) -> ByHand:
    """One plan; with `shuffle` due dates and the order of people are disturbed, for another attempt."""
    sheet = _Sheet(problem, shuffle)
    for job in _in_turn(problem):
        sheet.place_operation(job)
    jitter = {t.entry: shuffle.uniform(-96, 96) if shuffle else 0.0 for t in problem.tasks}
    for task in sorted(problem.tasks, key=lambda t: (t.priority, t.due + jitter[t.entry], t.entry)):
        sheet.place_entry(task)
    return ByHand(
        timed=Timed(
            entries=sheet.placed,
            operations=sheet.operations,
            eased=sheet.eased_by_leg(),
        ),
        people={key: tuple(named) for key, named in sorted(sheet.people.items())},
    )


def by_hand_until(problem: Problem, until: float, seed: int) -> tuple[ByHand, int]:
    """The most valuable of as many plans as fit before `until` (monotonic seconds), and how many were made."""
    best, count, random = by_hand(problem), 1, Random(seed)
    while time.monotonic() < until:
        again = by_hand(problem, shuffle=random)
        count += 1
        if worth(problem, again.timed.entries) > worth(problem, best.timed.entries):
            best = again
    return best, count


@dataclass(kw_only=True)
class _Held:
    """What one person does, in steps, by whether it goes with other things."""

    work: list[Span] = field(default_factory=list)
    firm: list[Span] = field(default_factory=list)
    """Work that goes with nothing else: all but the rigging of entries."""
    on_call: list[Span] = field(default_factory=list)
    sessions: list[int] = field(default_factory=list)

    def and_(self, other: _Held) -> _Held:
        """Both together."""
        return _Held(
            work=self.work + other.work,
            firm=self.firm + other.firm,
            on_call=self.on_call + other.on_call,
            sessions=self.sessions + other.sessions,
        )


class _Sheet:
    """The paper: what stands already, what is used, who is held."""

    def __init__(self, problem: Problem, shuffle: Random | None) -> None:
        self.problem = problem
        self.placed: dict[str, Placed] = {}
        self.operations: dict[str, int] = {}
        self.eased: dict[int, float] = {}
        self.people: dict[tuple[str, Phase, int], list[Named]] = {}
        self.held: dict[str, _Held] = defaultdict(_Held)
        self.tasks = {task.entry: task for task in problem.tasks}
        self.jobs = {job.operation: job for job in problem.jobs}
        self.left = {
            name: [_there(rows, step) for step in range(problem.steps)] for name, rows in problem.stocks.items()
        }
        ranks = list(problem.people)
        if shuffle:
            shuffle.shuffle(ranks)
        self.rank = {person: i for i, person in enumerate(ranks)}
        self.aparts: dict[str, list[Apart]] = defaultdict(list)
        for apart in problem.aparts:
            self.aparts[apart.a].append(apart)
            self.aparts[apart.b].append(apart)

    def eased_by_leg(self) -> dict[str, Mapping[int, float]]:
        """The eased hours of each passage."""
        return {
            p.leg: {h.hour: self.eased[h.hour] for h in p.hours if h.hour in self.eased} for p in self.problem.passages
        }

    # -- operations -------------------------------------------------------------------------------------------

    def place_operation(self, job: Job) -> None:
        """At its time, or at the first in its window that fits with its people."""
        pair = [job.operation, *(j.operation for j in self.problem.jobs if j.emptied_until == job.operation)]
        for start in range(job.earliest, job.latest + 1):
            self.operations[job.operation] = start
            span = (start, start + job.steps)
            clear = not any(meet(span, wall) for wall in job.blocked.get(Stretch.RUN, ()))
            apart = all(self._is_apart(each, None) for name in pair for each in self.aparts[name])
            if job.movable and start < job.latest and not (clear and apart and self._in_order(job.operation, None)):
                continue
            draft = self._for_operation(job, (max(0, start), min(self.problem.steps, span[1])))
            if draft is not None or start == job.latest:
                self._keep(draft or _Draft())
                return

    def _for_operation(self, job: Job, span: Span) -> _Draft | None:
        draft = _Draft()
        for need in job.needs if span[0] < span[1] else ():
            part = _Held(work=[span], firm=[span])
            if not self._choose(draft, need, {(job.operation, Phase.RUN, 0): part}, need.duty):
                return None
        return draft

    def _in_order(self, name: str, candidate: Placed | None) -> bool:
        """True when what it waits for is over before it begins, and it is over before what waits for it."""
        bound = [o for o in self.problem.orders if name in (o.first, o.then)]
        if not bound:
            return True
        entries = {**self.placed, **({candidate.entry: candidate} if candidate else {})}
        known = {*entries, *self.operations}
        some = replace(self.problem, orders=tuple(o for o in bound if {o.first, o.then} <= known))
        return not list(out_of_order(some, Timed(entries=entries, operations=self.operations, eased={})))

    # -- times of an entry ------------------------------------------------------------------------------------

    def place_entry(self, task: Task) -> None:
        """At the first time that fits with people, or not at all."""
        if any(o.presence and o.then == task.entry and o.first not in self.placed for o in self.problem.orders):
            return
        again = 0
        for placed in self._times(task, max(task.earliest, task.brief)):
            if placed.sessions[0].test < again:
                continue
            draft = self._named(task, placed)
            if draft is not None:
                self._stand(task, placed, draft)
                return
            again = placed.sessions[0].test + ANOTHER_TRY

    def _times(self, task: Task, earliest: int) -> Iterator[Placed]:
        """Layouts in the order of their first test; one for each, opened as late as it can be."""
        quickest = min(way.steps for way in task.ways)
        for test in range(earliest + task.isolate + quickest + task.brief, min(task.due, self.problem.steps)):
            sessions = self._sessions(task, test)
            if not sessions:
                continue
            closing = self._closing(task, sessions[-1].out)
            found = self._opened(task, earliest, sessions, closing)
            if found is not None:
                yield found

    def _sessions(self, task: Task, test: int) -> tuple[PlacedSession, ...]:
        """Sessions from the first test on, each as long as it can be; () when they do not fit."""
        found: list[PlacedSession] = []
        left, at = task.inside, test
        for k in range(task.most):
            stay = next(
                (s for t in range(at, at + 1 if k == 0 else task.due) if (s := self._session(task, t, left, k))), None
            )
            if stay is None:
                return ()
            found.append(stay)
            left -= stay.out - stay.enter
            at = stay.out + task.brief
            if left == 0:
                return tuple(found) if self._permitted(task, found) else ()
        return ()

    def _session(self, task: Task, test: int, left: int, k: int) -> PlacedSession | None:
        tested = test + task.test
        if not self._clear(task, Stretch.BRIEF, (test - task.brief, test)):
            return None
        if not self._clear(task, Stretch.TEST, (test, tested)):
            return None
        longest = left if task.most == 1 else min(left, task.greatest)
        least = left if task.most == 1 else min(left, task.least)
        for enter in range(tested, tested + task.valid + 1):
            if k == 0 and task.at is not None and enter != task.at:
                continue
            for out in range(min(enter + longest, task.due), enter + least - 1, -1):
                fits = self._clear(task, Stretch.ENTER, (enter, out)) and self._clear(
                    task, Stretch.SESSION, (test, out)
                )
                if fits and out - test <= task.permit and self._enough(task, Stretch.SESSION, (test, out)):
                    return PlacedSession(test=test, enter=enter, out=out)
        return None

    def _permitted(self, task: Task, sessions: Sequence[PlacedSession]) -> bool:
        """One permit a day covers the day's sessions."""
        for dawn, dusk in self.problem.days:
            today = [s for s in sessions if dawn <= s.test < dusk]
            if today and today[-1].out - today[0].test > task.permit:
                return False
        return True

    def _closing(self, task: Task, out: int) -> int:
        if not task.tail_test:
            return out
        test = out + task.tail_ventilate
        while test < self.problem.steps and not self._clear(task, Stretch.TEST, (test, test + task.tail_test)):
            test += 1
        return test + task.tail_test

    def _opened(
        self, task: Task, earliest: int, sessions: tuple[PlacedSession, ...], closing: int
    ) -> Placed | None:  # fmt: skip
        end = closing + task.restore
        if end > self.problem.steps or not self._clear(task, Stretch.RESTORE, (closing, end)):
            return None
        for index, way in enumerate(task.ways):
            for back in range(LOOK_BACK):
                opened = sessions[0].test - task.brief - way.steps - back
                start = opened - task.isolate
                if start < earliest or end - opened > task.open_longest:
                    break
                placed = Placed(
                    entry=task.entry, start=start, opened=opened, sessions=sessions, closing=closing, end=end,
                    fans=way.fans, way=index,
                )  # fmt: skip
                if not self._may_be_open(task, placed):
                    break  # nor may it for any longer
                if self._may_begin(task, placed):
                    return placed
        return None

    def _may_be_open(self, task: Task, placed: Placed) -> bool:
        hull = (Stretch.VENTILATE, Stretch.OPEN, Stretch.OUT_OF_USE)
        spans = [(stretch, span) for stretch in hull for span in spans_of(task, placed, stretch)]
        return (
            all(self._clear(task, stretch, span) for stretch, span in spans)
            and all(self._enough(task, stretch, span) for stretch, span in spans)
            and all(self._pieces(fan, (placed.opened, placed.closing)) >= count for fan, count in placed.fans)
        )

    def _may_begin(self, task: Task, placed: Placed) -> bool:
        return (
            all(
                self._clear(task, stretch, span)
                for stretch in (Stretch.BRIEF, Stretch.ISOLATE)
                for span in spans_of(task, placed, stretch)
            )
            and all(self._is_apart(apart, placed) for apart in self.aparts[task.entry])
            and self._in_order(task.entry, placed)
            and self._speed_for(task, placed) is not None
        )

    def _clear(self, task: Task, stretch: Stretch, span: Span) -> bool:
        return not any(meet(span, wall) for wall in task.blocked.get(stretch, ()))

    def _enough(self, task: Task, stretch: Stretch, span: Span) -> bool:
        return all(self._pieces(name, span) >= count for held, name, count in task.gear if held is stretch)

    def _pieces(self, resource: str, span: Span) -> int:
        return min(self.left[resource][max(0, span[0]) : span[1]], default=10**6)

    def _is_apart(self, apart: Apart, candidate: Placed | None) -> bool:
        for a in self._when(apart.a, apart.a_stretch, candidate):
            for b in self._when(apart.b, apart.b_stretch, candidate):
                part = b if apart.span is None else (max(b[0], apart.span[0]), min(b[1], apart.span[1]))
                if part[0] < part[1] and meet(a, (part[0] - apart.before, part[1] + apart.after)):
                    return False
        return True

    def _when(self, name: str, stretch: Stretch, candidate: Placed | None) -> list[Span]:
        if name in self.jobs:
            again = self.jobs[name].emptied_until
            if name not in self.operations or (again is not None and again not in self.operations):
                return []
            return operation_spans(self.problem, Timed(entries={}, operations=self.operations, eased={}), name, stretch)
        placed = candidate if candidate and name == candidate.entry else self.placed.get(name)
        return spans_of(self.tasks[name], placed, stretch) if placed else []

    def _speed_for(self, task: Task, placed: Placed) -> dict[int, float] | None:
        """Hours eased with this entry; None when the ship may not, or would come too late for it."""
        eased = dict(self.eased)
        for cap in task.caps:
            touched = any(meet(s, self.problem.hour_spans[cap.hour]) for s in spans_of(task, placed, cap.stretch))
            if touched and any(h.hour == cap.hour for p in self.problem.passages for h in p.hours):
                eased[cap.hour] = min(eased.get(cap.hour, 99.0), 0.0 if cap.hove_to_only else cap.limit_kn)
        if eased == self.eased:
            return eased
        if any(sum(hour <= h < hour + 168 for h in eased) > self.problem.easing_max for hour in eased):
            return None
        for passage in self.problem.passages:
            hours = {h.hour for h in passage.hours}
            arrival = arrival_min(self.problem, {h: v for h, v in eased.items() if h in hours}, passage.leg)
            now = arrival_min(self.problem, {h: v for h, v in self.eased.items() if h in hours}, passage.leg) or 0
            if arrival is None or arrival > passage.latest_min:
                return None
            if task.priority > 1 and arrival > max(now, passage.arrive_by_min):
                return None
        return eased

    # -- people of an entry -----------------------------------------------------------------------------------

    def _named(self, task: Task, placed: Placed) -> _Draft | None:
        """The first able people who are free and rested, need by need; officers of a session before all others."""
        draft = _Draft()
        needs = sorted(task.needs, key=lambda n: (n.duty is not DutyKind.IN_CHARGE, not n.work, n.may_double))
        for need in needs:
            leads = need.phase is Phase.TEST and need.duty is DutyKind.IN_CHARGE  # with the session that follows
            for session in (s for s in _sessions_of(task, placed, need) if not (leads and s > 0)):
                if not self._for_session(draft, task, placed, need, session):
                    return None
        return draft

    def _for_session(self, draft: _Draft, task: Task, placed: Placed, need: Need, session: int) -> bool:
        name = task.entry
        if need.may_double:
            leads = [p for p, d in draft.people.get((name, Phase.TEST, session), []) if d is DutyKind.IN_CHARGE]
            if any(p in need.people for p in leads):
                return True
        k = session if session > 0 else len(placed.sessions) if need.phase in (Phase.RESTORE, Phase.TEST) else 0
        end = placed.sessions[k - 1].test if k else placed.start
        brief = _Held(work=[(end - task.brief, end)], firm=[(end - task.brief, end)])
        span = _span_of(task, placed, need, session)
        part = _Held(work=[span] if need.work else [], on_call=[] if need.work else [span])
        if need.work and need.duty is not DutyKind.RIGGING:
            part.firm = [span]
        if need.phase is Phase.ENTER and need.work:
            part.sessions = [placed.sessions[session - 1].enter]
        parts = {(name, need.phase, session): part}
        if need.phase is Phase.ENTER and need.duty is DutyKind.IN_CHARGE:
            parts[name, Phase.TEST, session] = _Held()
        return self._choose(draft, need, parts, need.duty, brief=((name, Phase.BRIEF, k), brief))

    def _choose(
        self,
        draft: _Draft,
        need: Need,
        parts: Mapping[tuple[str, Phase, int], _Held],
        duty: DutyKind,
        *,
        brief: tuple[tuple[str, Phase, int], _Held] | None = None,
    ) -> bool:
        chosen = 0
        for person in sorted(need.people, key=lambda p: self.rank[p]):
            if chosen == need.count:
                return True
            more = _Held()
            for part in parts.values():
                more = more.and_(part)
            heard = brief is None or any(p == person for p, _ in draft.people.get(brief[0], []))
            if brief and not heard:
                more = more.and_(brief[1])
            already = draft.held.get(person, _Held())
            if not self._can(person, need, already, more, brief[1] if brief and not heard else _Held()):
                continue
            chosen += 1
            draft.held[person] = already.and_(more)
            for key in parts:
                draft.people.setdefault(key, []).append((person, duty))
            if brief and not heard:
                draft.people.setdefault(brief[0], []).append((person, duty))
        return chosen == need.count

    def _can(self, person: str, need: Need, already: _Held, more: _Held, brief: _Held) -> bool:
        now = self.held[person].and_(already)
        if any(meet(a, b) for a in more.work for b in now.work):
            return False
        if any(meet(a, b) for a in more.firm + more.on_call for b in now.on_call):
            return False
        if any(meet(a, b) for a in more.on_call for b in now.firm):
            return False
        p = self.problem
        if any(meet(s, away) for s in brief.work for away in p.away.get(person, ())):
            return False
        absent = _absences(p, person, need)
        main = [s for s in more.work + more.on_call if s not in brief.work]
        if any(meet(s, away) for s in main for away in absent):
            return False
        for dawn, dusk in p.days if more.sessions else ():
            if sum(dawn <= s < dusk for s in now.sessions + more.sessions) > p.sessions_a_day:
                return False
        return self._rested(person, now.and_(more))

    def _rested(self, person: str, held: _Held) -> bool:
        step = self.problem.step_min
        for spans in (held.work, held.work + held.on_call) if held.on_call else (held.work,):
            given = [(a * step, b * step) for a, b in spans]
            windows = [breach.window for breach in figures(self.problem, person, given).breaches]
            if any(meet(window, span) for window in windows for span in given):
                return False
        return True

    # -- on paper ---------------------------------------------------------------------------------------------

    def _keep(self, draft: _Draft) -> None:
        for person, more in draft.held.items():
            self.held[person] = self.held[person].and_(more)
        self.people.update(draft.people)

    def _stand(self, task: Task, placed: Placed, draft: _Draft) -> None:
        self.eased = self._speed_for(task, placed) or {}
        self.placed[task.entry] = placed
        self._keep(draft)
        for stretch, resource, count in task.gear:
            for span in spans_of(task, placed, stretch):
                self._take(resource, span, count)
        for fan, count in placed.fans:
            self._take(fan, (placed.opened, placed.closing), count)

    def _take(self, resource: str, span: Span, count: int) -> None:
        for step in range(max(0, span[0]), min(span[1], self.problem.steps)):
            self.left[resource][step] -= count


@dataclass(kw_only=True)
class _Draft:
    """Names that are pencilled in until the entry stands."""

    people: dict[tuple[str, Phase, int], list[Named]] = field(default_factory=dict)
    held: dict[str, _Held] = field(default_factory=dict)


def _in_turn(problem: Problem) -> list[Job]:
    """Fixed operations, then movable ones by their windows, none before what it waits for."""
    left, found = sorted(problem.jobs, key=lambda j: (j.movable, j.earliest, j.operation)), list[Job]()
    while left:
        names = {job.operation for job in left}
        waits = {o.then for o in problem.orders if o.first in names and not o.either}
        job = next((j for j in left if j.operation not in waits), left[0])
        found.append(job)
        left.remove(job)
    return found


def _there(rows: Sequence[tuple[Span, int]], step: int) -> int:
    return sum(count for (a, b), count in rows if a <= step < b)


def _absences(problem: Problem, person: str, need: Need) -> tuple[Span, ...]:
    if need.phase is Phase.RUN:
        return problem.away_operation.get(person, ())
    if not need.work:
        return problem.away_on_call.get(person, ())
    return (problem.away_enter if need.phase is Phase.ENTER else problem.away).get(person, ())


def _sessions_of(task: Task, placed: Placed, need: Need) -> list[int]:
    if need.phase is Phase.TEST:
        return [*range(1, len(placed.sessions) + 1), *([-1] if task.tail_test else [])]
    if need.phase is Phase.ENTER:
        return [1] if need.session == 1 else list(range(1, len(placed.sessions) + 1))
    return [0]


def _span_of(task: Task, placed: Placed, need: Need, session: int) -> Span:
    if need.phase is Phase.VENTILATE and need.steps:
        return placed.opened, placed.opened + need.steps
    if need.phase is Phase.TEST and session == -1:
        return placed.closing - task.tail_test, placed.closing
    whole = need.phase is Phase.ENTER and need.duty is DutyKind.IN_CHARGE
    stretch = Stretch.SESSION if whole else Stretch(need.phase.value)
    return spans_of(task, placed, stretch)[max(0, session - 1)]
