"""At which starts an operation can be manned at all: enough able people aboard, free, and rested by themselves."""

from __future__ import annotations

from scheduler.hazards.rest import RestLimits, rest_figures
from scheduler.solve.problem import Job, Need, Problem, Span
from scheduler.solve.resting import limits_of

AROUND_MIN = 50 * 60  # far enough around a stretch of work for every 24 hours that it can touch


def manned_starts(problem: Problem, job: Job) -> list[list[int]]:
    """Start domains of a movable operation with its people: each start is looked at, nothing is assumed of the rest."""
    if not job.needs:
        return [[job.earliest, job.latest]]
    limits = limits_of(problem)
    found: list[list[int]] = []
    for start in range(job.earliest, job.latest + 1):
        if all(_manned(problem, need, (start, start + job.steps), limits) for need in job.needs):
            if found and found[-1][1] == start - 1:
                found[-1][1] = start
            else:
                found.append([start, start])
    return found


def _manned(problem: Problem, need: Need, span: Span, limits: RestLimits) -> bool:
    able = 0
    for person in need.people:
        absent = problem.away_operation.get(person, ())
        if any(a < span[1] and b > span[0] for a, b in absent):
            continue
        able += _rested(problem, person, span, limits)
        if able >= need.count:
            return True
    return False


def _rested(problem: Problem, person: str, span: Span, limits: RestLimits) -> bool:
    """True unless this work alone breaks a window of 24 hours beside the person's fixed work."""
    a, b = span[0] * problem.step_min, span[1] * problem.step_min
    known_from = problem.known_from_min.get(person)
    low = max(a - AROUND_MIN, 0 if known_from is None else known_from)
    high = min(b + AROUND_MIN, problem.steps * problem.step_min)
    work = [(max(x, low), min(y, high)) for x, y in problem.work_min.get(person, ()) if x < high and y > low]
    figures = rest_figures([*work, (a, b)], known=(low, high), week=(low, high), limits=limits)
    return not any(breach.window[0] < b and breach.window[1] > a for breach in figures.breaches)
