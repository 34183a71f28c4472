"""At which starts an operation can be manned at all: enough able people aboard, free, and rested by themselves."""

from __future__ import annotations

from scheduler.domain.restrictions import DutyKind, Phase
from scheduler.solve.problem import Job, Need, Problem, Span, Stretch, Task
from scheduler.solve.resting import Resting

FEW = 4  # people of one kind: with more than so many the counts say enough


def manned_starts(problem: Problem, job: Job) -> list[list[int]]:
    """Start domains of a movable operation with its people: each start is looked at, nothing is assumed of the rest."""
    if not job.needs:
        return [[job.earliest, job.latest]]
    resting = Resting(problem)
    found: list[list[int]] = []
    for start in range(job.earliest, job.latest + 1):
        if all(_manned(problem, need, (start, start + job.steps), resting) for need in job.needs):
            if found and found[-1][1] == start - 1:
                found[-1][1] = start
            else:
                found.append([start, start])
    return found


def _manned(problem: Problem, need: Need, span: Span, resting: Resting) -> bool:
    able = 0
    for person in need.people:
        absent = problem.away_operation.get(person, ())
        if any(a < span[1] and b > span[0] for a, b in absent):
            continue
        able += resting.rested(person, [_minutes(problem, span)])
        if able >= need.count:
            return True
    return False


class OfficersFree:
    """Where a phase of an entry can have the few people that it must draw on: aboard, free, rested by themselves.

    Looks at needs with at most `FEW` people, for these decide; a start that nobody of them can take is no start.
    """

    def __init__(self, problem: Problem) -> None:
        self.problem, self._resting = problem, Resting(problem)

    def starts(self, task: Task, stretch: Stretch, domain: list[list[int]]) -> list[list[int]]:
        """What of a domain of starts is left for `ISOLATE`, `SESSION` (of one length) or `RESTORE`."""
        length = {
            Stretch.ISOLATE: task.isolate,
            Stretch.SESSION: task.test + task.inside,
            Stretch.RESTORE: task.restore,
        }[stretch]
        wanted = Phase.ENTER if stretch is Stretch.SESSION else Phase(stretch.value)
        needs = [n for n in task.needs if n.phase is wanted and n.work and len(n.people) <= FEW and not n.may_double]
        if stretch is Stretch.SESSION:
            needs = [n for n in needs if n.duty is DutyKind.IN_CHARGE]
        if not needs:
            return domain
        found: list[list[int]] = []
        for low, high in domain:
            for start in range(low, high + 1):
                if all(self._can(need, (start, start + length)) for need in needs):
                    if found and found[-1][1] == start - 1:
                        found[-1][1] = start
                    else:
                        found.append([start, start])
        return found

    def _can(self, need: Need, span: Span) -> bool:
        if span[1] > self.problem.steps:
            return False
        away = self.problem.away_enter if need.phase is Phase.ENTER else self.problem.away
        able = 0
        for person in need.people:
            if not any(a < span[1] and b > span[0] for a, b in away.get(person, ())):
                able += self._resting.rested(person, [_minutes(self.problem, span)])
            if able >= need.count:
                return True
        return False


def _minutes(problem: Problem, span: Span) -> Span:
    return span[0] * problem.step_min, span[1] * problem.step_min
