"""People as counts: a relaxation of the named week whose optimum bounds it."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping
from typing import TypeAlias

from ortools.sat.python import cp_model

from scheduler.domain.restrictions import DutyKind, Phase
from scheduler.solve.constraints import WeekTimes
from scheduler.solve.model import EntryVars, Expr, Literal, intersect
from scheduler.solve.problem import Job, Need, Problem, Span, Stretch, Task
from scheduler.solve.staffing import OfficersFree, manned_starts

_PHASES = {
    Phase.ISOLATE: Stretch.ISOLATE,
    Phase.TEST: Stretch.TEST,
    Phase.ENTER: Stretch.ENTER,
    Phase.RESTORE: Stretch.RESTORE,
}


Use: TypeAlias = tuple[frozenset[str], list[cp_model.IntervalVar], int, str]
"""People, intervals, count, and whether it is work, rigging or on call."""


class PeopleCounts(WeekTimes):
    """At no time more people of one kind at work than are there."""

    def __init__(self, problem: Problem) -> None:
        super().__init__(problem)
        self._officers = OfficersFree(problem)

    def add_all(self) -> None:
        """The times, and the counts of people."""
        super().add_all()
        self.add_people_counts()
        self.add_operation_crowds()
        self.add_officers()

    def staffed(self, task: Task, stretch: Stretch, domain: list[list[int]]) -> list[list[int]]:
        """A phase begins where the few people that it must draw on can be had."""
        if stretch is Stretch.SESSION and task.most > 1:
            return domain
        return self._officers.starts(task, stretch, domain)

    def job_starts(self, job: Job) -> list[list[int]]:
        """A movable operation begins where its people can be had."""
        return intersect(super().job_starts(job), manned_starts(self.problem, job))

    def add_operation_crowds(self) -> None:
        """Movable operations that draw on the same people run one after the other where these are too few."""
        for people in sorted({frozenset(n.people) for j in self.problem.jobs for n in j.needs}, key=sorted):
            intervals: list[cp_model.IntervalVar] = []
            demands: list[int] = []
            for job in self.problem.jobs:
                count = sum(n.count for n in job.needs if people.issuperset(n.people)) if job.movable else 0
                if count:
                    intervals += self.jobs[job.operation].intervals[Stretch.RUN]
                    demands.append(count)
            if len(intervals) < 2:
                continue
            for (a, b), missing in self._missing(people, self.problem.away_operation):
                intervals.append(self.model.new_fixed_size_interval_var(a, b - a, "away"))
                demands.append(missing)
            self.model.add_cumulative(intervals, demands, len(people))

    def add_people_counts(self) -> None:
        """For each set of people that some need may draw on: all needs that can draw on nobody else.

        On call goes with the rigging of another entry and with nothing else, so the two are counted apart, each with
        all other work.
        """
        uses: list[Use] = []
        for _, entry in sorted(self.entries.items()):
            for need in entry.task.needs:
                if not self._doubled(need):
                    kind = "on call" if not need.work else "rigging" if need.duty is DutyKind.RIGGING else "work"
                    uses.append((frozenset(need.people), self._need_intervals(entry, need), need.count, kind))
        for people in sorted({u[0] for u in uses} | {frozenset(self.problem.people)}, key=sorted):
            self._crowd(people, [*uses, *self._briefings(people)])

    def add_officers(self) -> None:
        """Officers in charge by name: they are few, each step of an entry wants one, and he is at its briefing."""
        steps: dict[str, list[cp_model.IntervalVar]] = defaultdict(list)
        sessions: dict[str, list[cp_model.IntervalVar]] = defaultdict(list)
        for _, entry in sorted(self.entries.items()):
            officers = {p for n in entry.task.needs if n.duty is DutyKind.IN_CHARGE for p in n.people}
            brief = entry.task.brief
            self._one_of(officers, entry.start - brief, entry.opened, entry.present, steps)
            self._one_of(officers, entry.closing, entry.end, entry.present, steps)
            for session in entry.sessions:
                self._one_of(officers, session.test - brief, session.out, session.present, sessions)
        for officer in sorted({*steps, *sessions}):
            self.model.add_no_overlap([*steps[officer], *sessions[officer]])
            for mine, away in ((steps[officer], self.problem.away), (sessions[officer], self.problem.away_enter)):
                walls = [self.model.new_fixed_size_interval_var(a, b - a, "away") for a, b in away.get(officer, ())]
                for interval in mine if walls else ():
                    self.model.add_no_overlap([interval, *walls])

    def _one_of(
        self, officers: set[str], start: Expr, end: Expr, present: Literal, held: dict[str, list[cp_model.IntervalVar]]
    ) -> None:
        given = []
        for officer in sorted(officers):
            takes = self.model.new_bool_var(f"{officer} in charge")
            given.append(takes)
            held[officer].append(self.interval(start, end, takes, f"{officer} in charge"))
        self.model.add(sum(given) == present)

    def _doubled(self, need: Need) -> bool:
        """The gas tester of a test may be the officer in charge; the latter's test lies in his session."""
        return need.may_double or (need.phase is Phase.TEST and need.duty is DutyKind.IN_CHARGE)

    def _briefings(self, people: frozenset[str]) -> list[Use]:
        """At a briefing are at least all of its session, who are different people."""
        found: list[Use] = []
        for _, entry in sorted(self.entries.items()):
            count = sum(
                n.count
                for n in entry.task.needs
                if n.phase is Phase.ENTER and not n.session and people.issuperset(n.people)
            )
            if count:
                found.append((people, entry.intervals[Stretch.BRIEF][1:], count, "work"))
        return found

    def _need_intervals(self, entry: EntryVars, need: Need) -> list[cp_model.IntervalVar]:
        if need.phase is Phase.VENTILATE:
            return [
                self.model.new_optional_fixed_size_interval_var(
                    entry.opened, need.steps or 1, entry.present, f"{entry.task.entry} opening up"
                )
            ]
        stretch = _PHASES[need.phase]
        if need.duty is DutyKind.IN_CHARGE and need.phase is Phase.ENTER:
            stretch = Stretch.SESSION
        found = entry.intervals[stretch]
        return found[:1] if need.session == 1 else found

    def _crowd(self, people: frozenset[str], uses: list[Use]) -> None:
        for kinds, away in (
            (("work", "rigging"), self.problem.away),
            (("work", "on call"), self.problem.away_on_call),
        ):
            drawn = [u for u in uses if u[0] <= people and u[3] in kinds]
            intervals = [interval for u in drawn for interval in u[1]]
            demands = [u[2] for u in drawn for _ in u[1]]
            if sum(sorted(demands)[-2:]) <= len(people) and len(drawn) < 2:
                continue
            for (a, b), missing in self._missing(people, away):
                intervals.append(self.model.new_fixed_size_interval_var(a, b - a, "away"))
                demands.append(missing)
            self.model.add_cumulative(intervals, demands, len(people))

    def _missing(self, people: frozenset[str], away: Mapping[str, tuple[Span, ...]]) -> list[tuple[Span, int]]:
        edges: dict[int, int] = defaultdict(int)
        for person in people:
            for a, b in away.get(person, ()):
                edges[a] += 1
                edges[b] -= 1
        found: list[tuple[Span, int]] = []
        count, at = 0, 0
        for edge in sorted(edges):
            if count and edge > at:
                found.append(((at, edge), count))
            count, at = count + edges[edge], edge
        return found
