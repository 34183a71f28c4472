"""Which pieces of gear a session holds: the resource that it counts on, row by row of the gear table."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping, Sequence

from scheduler.domain.restrictions import Phase, Stock
from scheduler.solve.fixed_names import TAIL
from scheduler.solve.outcome import Placed, Timed
from scheduler.solve.pose import Posing
from scheduler.solve.problem import Problem, Span, Stretch, Task

Key = tuple[str, int, Phase]
"""Entry, session number, phase."""

_PHASES = {
    Stretch.TEST: (Phase.TEST,),
    Stretch.ENTER: (Phase.ENTER,),
    Stretch.SESSION: (Phase.TEST, Phase.ENTER),
}


def pieces(posing: Posing, problem: Problem, timed: Timed) -> Mapping[Key, tuple[tuple[str, int], ...]]:
    """Rows and counts for each test and session.

    Taken in order of time, from the row that runs out first and still lasts: what the solver counted is there.
    """
    rows = _rows(posing)
    held: dict[str, list[tuple[Span, int]]] = defaultdict(list)
    found: dict[Key, list[tuple[str, int]]] = defaultdict(list)
    for span, resource, count, keys in sorted(_wanted(problem, timed, set(rows))):
        left = count
        for gear, stock, until in rows[resource]:
            shared = min((n for key in keys for g, n in found[key] if g == gear), default=0)
            if shared:  # one instrument that serves two purposes of the same session
                left -= shared
                continue
            taken = min(left, stock - _in_use(held[gear], span)) if span[1] <= until else 0
            if taken > 0:
                held[gear].append((span, taken))
                for key in keys:
                    found[key].append((gear, taken))
                left -= taken
    return {key: tuple(sorted(given)) for key, given in found.items()}


def _rows(posing: Posing) -> dict[str, list[tuple[str, int, int]]]:
    """For each resource that is made of pieces its rows: gear, count, and the step until which it lasts."""
    found: dict[str, list[tuple[str, int, int]]] = {}
    for resource, group in sorted(posing.of[Stock].items()):
        rows = [(r.gear, r.count, posing.grid.floor(r.end)) for r in group if isinstance(r, Stock) and r.gear]
        if rows:
            found[resource] = sorted(rows, key=lambda row: (row[2], row[0]))
    return found


def _wanted(problem: Problem, timed: Timed, resources: set[str]) -> list[tuple[Span, str, int, tuple[Key, ...]]]:
    found: list[tuple[Span, str, int, tuple[Key, ...]]] = []
    for task in problem.tasks:
        placed = timed.entries.get(task.entry)
        for stretch, resource, count in task.gear if placed else ():
            if placed and resource in resources and stretch in _PHASES:
                found += _per_session(task, placed, stretch, resource, count)
    return found


def _per_session(
    task: Task, placed: Placed, stretch: Stretch, resource: str, count: int
) -> Sequence[tuple[Span, str, int, tuple[Key, ...]]]:
    found = []
    for number, stay in enumerate(placed.sessions, 1):
        start = stay.enter if stretch is Stretch.ENTER else stay.test
        end = stay.test + task.test if stretch is Stretch.TEST else stay.out
        keys = tuple((task.entry, number, phase) for phase in _PHASES[stretch])
        found.append(((start, end), resource, count, keys))
    if task.tail_test and stretch is not Stretch.ENTER:
        span = (placed.closing - task.tail_test, placed.closing)
        found.append((span, resource, count, ((task.entry, TAIL, Phase.TEST),)))
    return found


def _in_use(held: Sequence[tuple[Span, int]], span: Span) -> int:
    """The most pieces in use at any one time inside a span."""
    starts = [span[0], *(a for (a, _), _ in held if span[0] < a < span[1])]
    return max(sum(count for (a, b), count in held if a <= at < b) for at in starts)
