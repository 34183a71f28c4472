"""What the planner says of a tiny week, in the shape in which plans are compared."""

from __future__ import annotations

import time
from collections.abc import Iterable

from scheduler.solve.child import Answer, planned
from scheduler.solve.outcome import LevelFound, Timed
from scheduler.solve.problem import Problem
from scheduler.solve.search import LEVELS, Budget, NothingStands, best_times
from tests.properties.exhaustive import Levels


def _budget() -> Budget:
    return Budget(seconds=1, guard_until=time.monotonic() + 20, seed=1)


def times_of(problem: Problem) -> tuple[Timed, Levels] | None:
    """The best times and their levels, every bound met; None where it is proven that nothing is allowed."""
    try:
        timed, levels = best_times(problem, _budget(), lambda _: None, lambda: False)
    except NothingStands as nothing:
        assert nothing.proven
        return None
    assert all(level.met for level in levels), levels
    return timed, as_levels(levels)


def plan_of(problem: Problem) -> Answer:
    """The named plan."""
    return planned(problem, _budget(), lambda _: None, lambda: False)


def as_levels(found: Iterable[LevelFound]) -> Levels:
    """Values of the levels, comfort left out."""
    value = {level.name: round(level.value) for level in found}
    one, late, two, eased, three = (value[name] for name in LEVELS)
    return one, late, two, eased, three


def proven(found: Iterable[LevelFound]) -> bool:
    """True when every level is at its bound, comfort aside."""
    return all(level.met for level in found if level.name in LEVELS)
