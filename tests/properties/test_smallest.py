"""The smallest weeks in which the planner falls short of the best plan; each fails as soon as it does so no longer."""

from __future__ import annotations

from typing import Any

import pytest

from scheduler.domain.restrictions import DutyKind, Phase
from scheduler.solve.problem import Need, Problem, Task, Way
from tests.properties.exhaustive import Exhaustive
from tests.properties.solving import as_levels, plan_of, times_of
from tests.solve.made import a_problem, a_task

OFFICER = ("O1",)


def a_morning(*needs: Need, entry: str = "A", **over: Any) -> Task:
    """Two hours inside, an hour of fans before, out by noon; no working hours."""
    ways = (Way(fans=(("fan", 1),), steps=4),)
    given = {"earliest": 24, "due": 48, "open_longest": 24, "ways": ways, "blocked": {}, "needs": needs}
    return a_task(entry, days=1, **{**given, **over})


def alone(*tasks: Task, **over: Any) -> Problem:
    """A day with these entries and the people that they ask for, who have no other work."""
    people = tuple(sorted({p for task in tasks for need in task.needs for p in need.people}))
    quiet = {"people": people, "work_min": {}, "day_work_min": {}, "known_from_min": {}}
    return a_problem(*tasks, days=1, **{**quiet, **over})


def stands(problem: Problem) -> int:
    found = times_of(problem)
    assert found is not None
    return len(found[0].entries)


@pytest.mark.xfail(strict=True, reason="the times suppose an officer in charge for every step of every entry")
def test_an_entry_that_asks_for_nobody_stands() -> None:
    assert stands(alone(a_morning())) == 1


@pytest.mark.xfail(strict=True, reason="the times suppose an officer in charge for every step of every entry")
def test_an_officer_who_leads_the_session_alone_may_be_elsewhere_when_it_is_shut() -> None:
    # He is away from noon; the session is over by then, and `restore` asks for nobody.
    lead = tuple(
        Need(phase=phase, duty=DutyKind.IN_CHARGE, count=1, people=OFFICER) for phase in (Phase.TEST, Phase.ENTER)
    )
    noon = {"O1": ((48, 96),)}
    problem = alone(a_morning(*lead, earliest=30), away=noon, away_enter=noon, away_on_call=noon)
    assert stands(problem) == 1


@pytest.mark.xfail(strict=True, reason="times are not sought again when people cannot be had for them")
def test_what_a_must_without_people_kept_out_comes_in() -> None:
    # A is a must, but its only entrant works 00–08 and 20–24: two hours inside leave him no ten hours in two rests.
    # B wants the same two hours of the one space that may be manned at once, and needs nobody who is tired.
    entrant = [Need(phase=Phase.ENTER, duty=DutyKind.ENTRANT, count=1, people=(name,)) for name in ("T", "F")]
    lead = tuple(
        Need(phase=phase, duty=DutyKind.IN_CHARGE, count=1, people=("O1", "O2"))
        for phase in (Phase.ISOLATE, Phase.TEST, Phase.ENTER, Phase.RESTORE)
    )
    window = {"earliest": 48, "due": 68}
    must = a_morning(*lead, entrant[0], entry="A", priority=1, **window)
    should = a_morning(*lead, entrant[1], entry="B", priority=2, **window)
    works = {"T": ((0, 480), (1200, 1440))}
    problem = alone(must, should, work_min=works, known_from_min={"T": -1440})
    assert Exhaustive(problem=problem, named=True).search() == (0, 0, 1, 0, 0)
    outcome = plan_of(problem).outcome
    assert outcome is not None
    assert as_levels(outcome.levels) == (0, 0, 1, 0, 0)
