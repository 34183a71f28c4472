"""The planner against every plan there is, on weeks so small that all can be written down."""

from __future__ import annotations

from tests.benchmarks.validity import faults, faults_of_times
from tests.properties.exhaustive import Exhaustive, better
from tests.properties.solving import as_levels, plan_of, proven, times_of
from tests.properties.tiny import tiny_crew, tiny_times

TIMES = 88
MANY = 8_000  # plans, more or less; a week with more is passed over to keep this quick
NAMED = 18


def test_the_best_times_are_the_best_of_all_plans() -> None:
    looked_at, wrong = 0, {}
    for seed in range(TIMES):
        problem = tiny_times(seed)
        every = Exhaustive(problem=problem)
        if every.plans() > MANY:
            continue
        looked_at += 1
        best, found = every.search(), times_of(problem)
        if (found and found[1]) != best:
            wrong[seed] = (found and found[1], best)
        assert found is None or not faults_of_times(problem, found[0])
    assert not wrong
    assert looked_at >= 60


def test_no_named_plan_is_better_than_the_best_and_what_is_called_proven_is_the_best() -> None:
    reached, wrong = 0, {}
    for seed in range(NAMED):
        problem = tiny_crew(seed)
        best = Exhaustive(problem=problem, named=True).search()
        outcome = plan_of(problem).outcome
        assert best is not None  # the empty plan is allowed in all of these
        assert outcome is not None
        levels = as_levels(outcome.levels)
        assert not faults(problem, outcome.timed, outcome.people, outcome.short)
        if better(levels, best) or (proven(outcome.levels) and levels != best):
            wrong[seed] = (levels, best)
        reached += levels == best
    assert not wrong
    assert reached >= NAMED - 2  # measured: all of them; names are sought for given times, so a few may fall short


def test_the_best_of_all_named_plans_is_within_each_bound_that_follows_met_ones() -> None:
    for seed in range(NAMED, NAMED + 6):
        problem = tiny_crew(seed)
        best = Exhaustive(problem=problem, named=True).search()
        outcome = plan_of(problem).outcome
        assert best is not None
        assert outcome is not None
        for level, truth in zip(outcome.levels, best, strict=False):
            more = level.name.startswith("entries")
            assert truth <= level.bound if more else truth >= level.bound, (seed, level)
            if truth != level.value or not level.met:
                break  # what follows is bound to another beginning
