"""Where not even the empty week stands: which one operation or passage, left away, would leave times for the rest."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from scheduler.solve.counts import PeopleCounts
from scheduler.solve.problem import Problem
from scheduler.solve.search import Budget, Say, Stopped, run

_EACH = 0.02  # share of the effort for each look: our choice; without entries a look is short


def without_one(problem: Problem, budget: Budget, say: Say, stopped: Stopped) -> tuple[str, ...]:
    """The operations and legs without which times are found; each is tried, for a short look."""
    return tuple(
        name
        for name, left in _each_left_away(replace(problem, tasks=()))
        if not stopped() and budget.spent < budget.seconds and _stands(left, budget, say, stopped)
    )


def _each_left_away(problem: Problem) -> Iterator[tuple[str, Problem]]:
    for job in problem.jobs:
        gone = job.operation
        yield (
            gone,
            replace(
                problem,
                jobs=tuple(
                    replace(j, emptied_until=None) if j.emptied_until == gone else j
                    for j in problem.jobs
                    if j is not job
                ),
                aparts=tuple(a for a in problem.aparts if gone not in (a.a, a.b)),
                orders=tuple(o for o in problem.orders if gone not in (o.first, o.then)),
            ),
        )
    for passage in problem.passages:
        yield passage.leg, replace(problem, passages=tuple(p for p in problem.passages if p is not passage))


def _stands(problem: Problem, budget: Budget, say: Say, stopped: Stopped) -> bool:
    jobs = {job.operation for job in problem.jobs}
    week = PeopleCounts(
        replace(
            problem,
            aparts=tuple(a for a in problem.aparts if {a.a, a.b} <= jobs),
            orders=tuple(o for o in problem.orders if {o.first, o.then} <= jobs),
        )
    )
    week.add_all()
    return run(budget.parameters(_EACH), week.model, "what stands in the way", budget, say, stopped)
