"""The grid takes, never gives: what keeps clear grows to whole steps, what is allowed shrinks to them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import datetime, timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from scheduler.domain.crew import Duty
from scheduler.domain.entries import Entry
from scheduler.domain.folder import VoyageFolder
from scheduler.domain.operations import Operation
from scheduler.domain.restrictions import Restriction, Stock
from scheduler.domain.source import Source, SourceKind
from scheduler.rules import restrictions
from scheduler.solve.pose import Posing
from scheduler.solve.problem import Job, Problem, Span, Stretch, Task
from tests.builders import START, a_folder, an_entry, an_operation, at, policy

MINUTE = timedelta(minutes=1)
TUESDAY = 96  # steps of a quarter of an hour before it
CHOSEN = Source(kind=SourceKind.OUR_CHOICE, text="")


def posed(folder: VoyageFolder, more: Sequence[Restriction] = ()) -> Problem:
    return Posing(folder, [*restrictions(folder), *more]).problem()


def with_drill(start: datetime, end: datetime) -> tuple[Span, ...]:
    """What a drill on Tuesday keeps clear of open spaces, in steps."""
    folder = a_folder(operations=(an_operation("DR", "drill", start=start, end=end),))
    (task,) = posed(folder).tasks
    return task.blocked[Stretch.OPEN]


# 10:00 is the 40th quarter of the day, 12:00 the 48th
@pytest.mark.parametrize(("minute", "first"), [(-1, 39), (0, 40), (1, 40), (14, 40), (15, 41)])
def test_what_keeps_clear_begins_with_the_step_that_it_touches(minute: int, first: int) -> None:
    assert (TUESDAY + first, TUESDAY + 48) in with_drill(at(2, "10:00") + minute * MINUTE, at(2, "12:00"))


@pytest.mark.parametrize(("minute", "last"), [(-15, 47), (-14, 48), (-1, 48), (0, 48), (1, 49)])
def test_what_keeps_clear_ends_with_the_step_that_it_touches(minute: int, last: int) -> None:
    assert (TUESDAY + 40, TUESDAY + last) in with_drill(at(2, "10:00"), at(2, "12:00") + minute * MINUTE)


def task_of(entry: Entry, **over: object) -> Task:
    (task,) = posed(a_folder(entries=(entry,), **over)).tasks
    return task


@pytest.mark.parametrize(("minute", "step"), [(-1, 40), (0, 40), (1, 41)])
def test_nothing_begins_before_the_earliest_minute(minute: int, step: int) -> None:
    assert task_of(an_entry(earliest=at(2, "10:00") + minute * MINUTE)).earliest == TUESDAY + step


@pytest.mark.parametrize(("minute", "step"), [(-1, 39), (0, 40), (1, 40)])
def test_nobody_is_inside_after_the_due_minute(minute: int, step: int) -> None:
    assert task_of(an_entry(due=at(2, "10:00") + minute * MINUTE)).due == TUESDAY + step


@pytest.mark.parametrize(("minutes", "steps"), [(59, 4), (60, 4), (61, 5)])
def test_work_and_phases_are_never_cut_short(minutes: int, steps: int) -> None:
    assert task_of(an_entry(hours=minutes / 60)).inside == steps
    assert task_of(an_entry(), policy=policy(phase__restore_min=minutes)).restore == steps


@pytest.mark.parametrize(("minutes", "steps"), [(29, 1), (30, 2), (31, 2)])
def test_a_test_and_a_permit_never_hold_longer_than_they_do(minutes: int, steps: int) -> None:
    assert task_of(an_entry(), policy=policy(test__valid_min=minutes)).valid == steps
    # half hours of a permit: minutes past four hours
    assert task_of(an_entry(), policy=policy(permit__longest_h=4 + minutes / 60)).permit == 16 + steps


def job_of(operation: Operation) -> Job:
    return next(job for job in posed(a_folder(operations=(operation,))).jobs)


@pytest.mark.parametrize(("minute", "run"), [(-1, (39, 48)), (0, (40, 48)), (1, (40, 49))])
def test_a_fixed_operation_holds_every_step_that_it_touches(minute: int, run: Span) -> None:
    job = job_of(an_operation(start=at(2, "10:00") + minute * MINUTE, end=at(2, "12:00") + minute * MINUTE))
    assert (job.earliest - TUESDAY, job.earliest + job.steps - TUESDAY) == run


@pytest.mark.parametrize(("minute", "window"), [(-1, (40, 47)), (0, (40, 48)), (1, (41, 48))])
def test_a_movable_operation_stays_within_the_minutes_of_its_window(minute: int, window: Span) -> None:
    job = job_of(
        an_operation(earliest=at(2, "10:00") + minute * MINUTE, latest=at(2, "12:00") + minute * MINUTE, hours=1.0)
    )
    assert (job.earliest - TUESDAY, job.latest + job.steps - TUESDAY) == window


@pytest.mark.parametrize(("minute", "there"), [(-1, (40, 47)), (0, (40, 48)), (1, (41, 48))])
def test_a_piece_of_gear_is_there_only_for_the_steps_that_it_fills(minute: int, there: Span) -> None:
    start, end = at(2, "10:00") + minute * MINUTE, at(2, "12:00") + minute * MINUTE
    stock = Stock(resource="crane", start=start, end=end, count=1, rule="gear", because="one crane", source=CHOSEN)
    ((span, _),) = posed(a_folder(), [stock]).stocks["crane"]
    assert (span[0] - TUESDAY, span[1] - TUESDAY) == there


@pytest.mark.parametrize(("minute", "away"), [(-1, (39, 48)), (0, (40, 48)), (1, (40, 49))])
def test_a_person_is_away_for_every_step_of_a_watch_that_is_touched(minute: int, away: Span) -> None:
    watch = Duty(
        person="P04", start=at(2, "10:00") + minute * MINUTE, end=at(2, "12:00") + minute * MINUTE, kind="watch"
    )
    folder = a_folder()
    others = tuple(duty for duty in folder.duties if duty.person != "P04")
    spans = posed(replace(folder, duties=(*others, watch))).away["P04"]
    assert (TUESDAY + away[0], TUESDAY + away[1]) in spans


@settings(max_examples=14, deadline=None, derandomize=True)
@given(start=st.integers(0, 6 * 1440), length=st.integers(1, 600), step=st.sampled_from([5, 6, 10, 12, 15, 20, 30]))
def test_on_any_grid_no_step_beside_what_keeps_clear_meets_it(start: int, length: int, step: int) -> None:
    # read minute by minute: the steps that are left do not hold a minute of the drill
    begin = START + start * MINUTE
    drill = an_operation("DR", "drill", start=begin, end=begin + length * MINUTE)
    (task,) = posed(a_folder(operations=(drill,), policy=policy(grid_min=step))).tasks
    kept = {m for a, b in task.blocked[Stretch.OPEN] for m in range(a * step, b * step)}
    week = 7 * 1440
    assert set(range(start, min(start + length, week))) <= kept
