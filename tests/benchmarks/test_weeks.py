"""What the random weeks promise, and that a week planned by hand is allowed. Nothing here is timed."""

from __future__ import annotations

from dataclasses import replace
from random import Random

import pytest

from scheduler.domain.restrictions import DutyKind, Phase
from scheduler.solve.problem import Problem, Stretch
from scheduler.solve.resting import figures
from tests.benchmarks.by_hand import by_hand, worth
from tests.benchmarks.validity import faults, meet, rest_broken
from tests.benchmarks.weeks import BLOCKED_LEAST, BLOCKED_MOST, CREW, DAYS, blocked_share, random_week

SIZES = (10, 25, 60, 120)
SEEDS = range(1, 6)


@pytest.fixture(scope="module")
def week() -> Problem:
    return random_week(10, 1)


@pytest.mark.parametrize("entries", SIZES)
def test_each_entry_is_kept_out_for_46_to_53_percent_of_the_week(entries: int) -> None:
    for seed in SEEDS:
        problem = random_week(entries, seed)
        shares = [blocked_share(task, problem.steps) for task in problem.tasks]
        assert min(shares) >= BLOCKED_LEAST
        assert max(shares) <= BLOCKED_MOST


@pytest.mark.parametrize("entries", SIZES)
def test_a_week_has_the_size_that_was_asked_for(entries: int) -> None:
    problem = random_week(entries, 1)
    assert len(problem.tasks) == entries
    assert len(problem.people) == CREW[entries]
    assert problem.steps == DAYS[entries] * 96
    assert len(problem.jobs) == 40
    assert any(job.movable for job in problem.jobs)
    assert problem.stocks["manned"][0][1] == 2


def test_a_seed_gives_the_same_week_and_another_seed_another() -> None:
    assert random_week(25, 3) == random_week(25, 3)
    assert random_week(25, 3) != random_week(25, 4)


def test_working_hours_only_block_more() -> None:
    free, kept = random_week(10, 1), random_week(10, 1, hours=True)
    for task, hard in zip(free.tasks, kept.tasks, strict=True):
        assert blocked_share(hard, kept.steps) >= blocked_share(task, free.steps)


def test_nobody_is_tired_by_watches_and_day_work_alone() -> None:
    # An hour of day work is looked at as if it were given: no window with it in may be broken.
    problem = random_week(10, 1)
    for person in problem.people:
        assert rest_broken(problem, person, [s for s in problem.work_min[person] if s[0] >= 0]) == ""


@pytest.mark.parametrize("seed", [1, 2])
def test_a_week_planned_by_hand_is_allowed(seed: int) -> None:
    problem = random_week(10, seed)
    plan = by_hand(problem)
    assert faults(problem, plan.timed, plan.people) == []
    assert worth(problem, plan.timed.entries) > 0


def test_a_person_in_two_places_is_seen(week: Problem) -> None:
    plan = by_hand(week)
    name = next(iter(plan.timed.entries))
    inside = plan.people[name, Phase.ENTER, 1]
    entrant = next(p for p, duty in inside if duty is DutyKind.ENTRANT)
    people = {**plan.people, (name, Phase.ENTER, 1): (*inside, (entrant, DutyKind.ATTENDANT))}
    assert any("at once" in text for text in faults(week, plan.timed, people))


def test_a_person_who_is_missing_is_seen(week: Problem) -> None:
    plan = by_hand(week)
    name = next(iter(plan.timed.entries))
    fewer = plan.people[name, Phase.ENTER, 1][:-1]
    assert any("lacks" in text for text in faults(week, plan.timed, {**plan.people, (name, Phase.ENTER, 1): fewer}))


def test_a_third_space_manned_at_once_is_seen(week: Problem) -> None:
    plan = by_hand(week)
    fewer = replace(week, stocks={**week.stocks, "manned": (((0, week.steps), 0),)})
    assert any(text.startswith("manned: ") for text in faults(fewer, plan.timed, plan.people))


def test_a_session_in_a_blocked_span_is_seen(week: Problem) -> None:
    plan = by_hand(week)
    name, placed = next(iter(plan.timed.entries.items()))
    stay = placed.sessions[0]
    tasks = tuple(
        replace(t, blocked={Stretch.ENTER: ((stay.out - 1, stay.out),)}) if t.entry == name else t for t in week.tasks
    )
    assert any("kept clear" in text for text in faults(replace(week, tasks=tasks), plan.timed, plan.people))


def test_rest_is_broken_by_a_quarter_of_an_hour_too_much(week: Problem) -> None:
    # A rating works 08–12 and 13–17. Work on to 23:00 leaves 23–08 and the hour at noon, ten hours in two rests.
    rating = week.people[-1]
    assert rest_broken(week, rating, [(1440 + 1020, 1440 + 1380)]) == ""
    assert rest_broken(week, rating, [(1440 + 1020, 1440 + 1395)]) != ""


def test_the_plain_reading_of_rest_and_the_planner_agree(week: Problem) -> None:
    random, broken = Random(1), 0
    for _ in range(80):
        person = random.choice(week.people)
        starts = sorted(random.sample(range(0, week.steps * 15 - 480, 15), 6))
        given = [(start, start + random.randrange(30, 480, 15)) for start in starts]
        windows = [breach.window for breach in figures(week, person, given).breaches]
        said = any(meet(window, span) for window in windows for span in given)
        assert (rest_broken(week, person, given) != "") == said, (person, given)
        broken += said
    assert 10 < broken < 70
