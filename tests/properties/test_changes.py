"""What a change of the week may and may not do to the best plan."""

from __future__ import annotations

from random import Random

from scheduler.solve.problem import Problem
from tests.benchmarks.validity import faults_of_times
from tests.properties.changing import one_more, shifted, times_shifted, turned, with_a_wall, without_a_wall
from tests.properties.exhaustive import Levels, better
from tests.properties.solving import as_levels, plan_of, proven, times_of
from tests.properties.tiny import STEPS, tiny_crew, tiny_times

WEEKS = range(100, 118)
CREWS = range(100, 109)


def levels(problem: Problem) -> Levels | None:
    found = times_of(problem)
    return found and found[1]


def worse(a: Levels | None, b: Levels | None) -> bool:
    """True when the first is a worse week than the second; a week in which nothing is allowed is the worst."""
    return a != b and (a is None or (b is not None and better(b, a)))


def test_the_order_of_what_is_read_changes_no_level() -> None:
    for seed in WEEKS:
        problem = tiny_times(seed)
        assert levels(turned(problem, Random(seed))) == levels(problem), seed


def test_the_order_of_people_changes_no_level() -> None:
    for seed in CREWS:
        problem = tiny_crew(seed)
        assert levels(turned(problem, Random(seed))) == levels(problem), seed


def test_one_more_person_makes_no_bound_worse() -> None:
    for seed in CREWS:
        problem = tiny_crew(seed)
        assert not worse(levels(one_more(problem)), levels(problem)), seed


def test_one_more_person_makes_no_proven_plan_worse() -> None:
    compared = 0
    for seed in CREWS:
        problem = tiny_crew(seed)
        before, after = plan_of(problem).outcome, plan_of(one_more(problem)).outcome
        assert before is not None
        assert after is not None
        if proven(before.levels) and proven(after.levels):
            compared += 1
            assert not worse(as_levels(after.levels), as_levels(before.levels)), seed
    assert compared >= len(CREWS) - 3  # measured: all


def test_what_is_no_longer_blocked_makes_no_week_worse() -> None:
    tried = 0
    for seed in WEEKS:
        problem = tiny_times(seed)
        freer = without_a_wall(problem, Random(seed))
        if freer is not None:
            tried += 1
            assert not worse(levels(freer), levels(problem)), seed
    assert tried >= 15


def test_what_is_blocked_besides_makes_no_week_better() -> None:
    for seed in WEEKS:
        problem = tiny_times(seed)
        assert not worse(levels(problem), levels(with_a_wall(problem, Random(seed)))), seed


def test_a_week_shifted_by_whole_days_keeps_its_levels_and_its_plan() -> None:
    for seed in WEEKS:
        problem = tiny_times(seed)
        later, before = shifted(problem, 2), times_of(problem)
        assert levels(later) == (before and before[1]), seed
        if before:
            assert not faults_of_times(later, times_shifted(before[0], 2 * STEPS, 48)), seed


def test_a_crew_shifted_by_whole_days_with_its_past_keeps_its_levels() -> None:
    for seed in CREWS:
        problem = tiny_crew(seed)
        assert levels(shifted(problem, 1)) == levels(problem), seed
