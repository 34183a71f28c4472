"""Hours of rest of a named week: which duties, given together, break which window."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from scheduler.hazards.rest import RestFigures, RestLimits, rest_figures
from scheduler.solve.problem import Problem, Span

MINUTES_7D = 7 * 24 * 60


def limits_of(problem: Problem) -> RestLimits:
    """The limits in force."""
    day, longest, week, span, short = problem.rest_limits
    return RestLimits(
        rest_24h_min=day,
        rest_7d_min=week,
        two_rests_min=day,
        long_rest_min=longest,
        longest_work_min=span,
        least_rest_min=short,
    )


def figures(problem: Problem, person: str, more_work: Iterable[Span]) -> RestFigures:
    """Figures of one person: fixed work and `more_work`, in minutes from the week's start.

    Without past hours only what begins in the week is known, and windows that reach before it are not judged.
    """
    end = problem.steps * problem.step_min
    begin = problem.known_from_min.get(person)
    known = (0 if begin is None else begin, end)
    work = [(max(a, known[0]), min(b, known[1])) for a, b in (*problem.work_min.get(person, ()), *more_work)]
    return rest_figures([w for w in work if w[0] < w[1]], known=known, week=(0, end), limits=limits_of(problem))


def broken_windows(problem: Problem, person: str, given: Sequence[Span]) -> list[list[int]]:
    """For each breach the indices of `given` (minutes) that lie in its window; those of fixed work alone are left out.

    A window that fixed duties break by themselves still yields what was given in it: no entry duty goes there.
    """
    found: list[list[int]] = []
    for breach in figures(problem, person, given).breaches:
        a, b = breach.window
        inside = [i for i, (start, end) in enumerate(given) if start < b and end > a]
        if inside and inside not in found:
            found.append(inside)
    return found
