"""What may be said of the levels once names have cost an entry."""

from __future__ import annotations

from scheduler.solve.assign import Staffed
from scheduler.solve.child import _levels
from scheduler.solve.outcome import LevelFound, Timed
from tests.solve.made import a_problem, a_task


def test_below_a_level_that_is_not_met_only_the_trivial_bound_is_said() -> None:
    # Two musts and one should are asked; the times held both musts, the names neither: of shoulds nothing is known.
    problem = a_problem(a_task("A", priority=1), a_task("B", priority=1), a_task("C", priority=2))
    times = (
        LevelFound(name="entries of priority 1", value=2, bound=2.0),
        LevelFound(name="minutes late", value=0, bound=0.0),
        LevelFound(name="entries of priority 2", value=0, bound=0.0),
    )
    nobody = Staffed(timed=Timed(entries={}, operations={}, eased={}), people={}, short={})
    said = {level.name: (level.bound, level.met) for level in _levels(problem, times, nobody)}
    assert said["entries of priority 1"] == (2.0, False)
    assert said["entries of priority 2"] == (1.0, False)
