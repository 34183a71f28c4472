"""At the very minute of a limit nothing is broken; a minute further it is."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import pytest

from scheduler.check import check
from scheduler.domain.crew import Duty
from scheduler.domain.folder import VoyageFolder
from scheduler.domain.plan import Plan, Shut
from tests.check.made import the_good_week
from tests.faults.breaking import (
    HOUR,
    MINUTE,
    a_run,
    first,
    holding,
    opened,
    planned,
    the,
    with_asked,
    with_entry,
    with_operation,
    with_person,
    with_phase,
)

Week = tuple[VoyageFolder, Plan]
FOLDER, PLAN = the_good_week()
STAY = first(PLAN)
assert STAY is not None
E1 = STAY
TEST, SESSION, RESTORE = the(E1, "test"), the(E1, "enter"), the(E1, "restore")


def age_of_test(minutes: int) -> Week:
    return FOLDER, with_phase(PLAN, E1, SESSION, start=TEST.end + (30 + minutes) * MINUTE)


def length_of_test(minutes: int) -> Week:
    return FOLDER, with_phase(PLAN, E1, TEST, end=TEST.start + (25 - minutes) * MINUTE)


def length_of_restore(minutes: int) -> Week:
    return FOLDER, with_phase(PLAN, E1, RESTORE, end=RESTORE.start + (60 - minutes) * MINUTE)


def due(minutes: int) -> Week:
    return with_asked(FOLDER, E1, due=SESSION.end - minutes * MINUTE), PLAN


def earliest(minutes: int) -> Week:
    return with_asked(FOLDER, E1, earliest=the(E1, "isolate").start + minutes * MINUTE), PLAN


def session_length(minutes: int) -> Week:
    end = SESSION.start + (240 + minutes) * MINUTE
    return with_asked(FOLDER, E1, hours=4 + minutes / 60), with_phase(PLAN, E1, SESSION, end=end)


def open_length(minutes: int) -> Week:
    begins = RESTORE.end - 72 * HOUR - minutes * MINUTE
    return FOLDER, with_phase(PLAN, E1, the(E1, "ventilate"), start=begins)


def watch_after(minutes: int) -> Week:
    start = SESSION.end + (15 - minutes) * MINUTE
    watch = Duty(person=holding(SESSION, "attendant"), start=start, end=start + HOUR, kind="watch")
    return replace(FOLDER, duties=(*FOLDER.duties, watch)), PLAN


def watch_over_the_test(minutes: int) -> Week:
    who = holding(TEST, "gas tester")
    watch = Duty(person=who, start=TEST.start - HOUR, end=TEST.start + minutes * MINUTE, kind="watch")
    return replace(FOLDER, duties=(*FOLDER.duties, watch)), PLAN


def joined(minutes: int) -> Week:
    brief = min((the(entry, "brief") for entry in planned(PLAN)), key=lambda phase: phase.start)
    person = holding(brief, "rescue on call")
    return with_person(FOLDER, person, joins=brief.start - 24 * HOUR + minutes * MINUTE), PLAN


def left(minutes: int) -> Week:
    last = max((the(entry, "restore") for entry in planned(PLAN)), key=lambda phase: phase.end)
    person = holding(last, "rigging")
    return with_person(FOLDER, person, leaves=last.end - minutes * MINUTE), PLAN


def stations(minutes: int) -> Week:
    start = opened(E1)[1] + 2 * HOUR - minutes * MINUTE
    return with_operation(FOLDER, PLAN, a_run("stations", start, start + HOUR), start, start + HOUR)


def drill_before_opening(minutes: int) -> Week:
    end = opened(E1)[0] + minutes * MINUTE
    return with_operation(FOLDER, PLAN, a_run("drill", end - HOUR, end), end - HOUR, end)


def loading(minutes: int) -> Week:
    start = opened(E1)[1] + 2 * HOUR - minutes * MINUTE
    run = a_run("load", start, start + HOUR, spaces=("C3",))
    return with_operation(FOLDER, PLAN, run, start, start + HOUR)


def vapour_after_the_flow(minutes: int) -> Week:
    # The flow counts for half an hour after it has stopped; a tank without an outlet blows everywhere.
    end = opened(E1)[0] - 30 * MINUTE + minutes * MINUTE
    run = a_run("vent down", end - HOUR, end, vapour="to outlets", cargo="naphtha", spaces=("HUT",))
    return with_operation(FOLDER, PLAN, run, end - HOUR, end)


def ballast_next_door(minutes: int) -> Week:
    start = SESSION.end - minutes * MINUTE
    run = a_run("ballast in", start, start + HOUR, spaces=("4P",))
    return with_operation(FOLDER, PLAN, run, start, start + HOUR)


def a_shut_valve(minutes: int) -> Week:
    start = RESTORE.end - minutes * MINUTE
    run = a_run("other", start, start + HOUR, lines=(E1.isolation[0].device,))
    return with_operation(FOLDER, PLAN, run, start, start + HOUR)


def sailing_order(minutes: int) -> Week:
    start = opened(E1)[1] - minutes * MINUTE
    run = a_run("other", start, start + HOUR, bars="all")
    return with_operation(FOLDER, PLAN, run, start, start + HOUR)


BOUNDARIES: list[tuple[str, Callable[[int], Week]]] = [
    ("fresh test", age_of_test), ("fresh test", length_of_test), ("fresh test", length_of_restore), ("window", due),
    ("window", earliest), ("permit", session_length), ("permit", open_length), ("hours", watch_after),
    ("people", watch_over_the_test), ("people", joined), ("people", left), ("ship handling", stations),
    ("ship handling", drill_before_opening), ("cargo work", loading), ("vapour", vapour_after_the_flow),
    ("next space", ballast_next_door), ("lines", a_shut_valve), ("ship handling", sailing_order),
]  # fmt: skip


def by_minutes(week: Week, rule: str) -> set[int | None]:
    """By how much a rule is broken; the joints of steps that a test moves are another matter."""
    found = [breach for breach in check(*week).breaches if breach.rule == rule]
    return {
        breach.by_min for breach in found if "must touch" not in breach.text and "of work inside" not in breach.text
    }


@pytest.mark.parametrize(("rule", "week"), BOUNDARIES, ids=lambda value: getattr(value, "__name__", value))
def test_the_minute_of_the_limit_is_kept_and_the_next_is_not(rule: str, week: Callable[[int], Week]) -> None:
    assert (by_minutes(week(0), rule), by_minutes(week(1), rule)) == (set(), {1})


@pytest.mark.parametrize(("devices", "short"), [(2, set()), (3, set()), (4, {5}), (6, {15})])
def test_each_device_after_the_third_takes_five_minutes_more(devices: int, short: set[int]) -> None:
    # Half an hour and five minutes for each device, three quarters of an hour at least; 45 minutes are planned.
    more = tuple(pipe.device_id for pipe in FOLDER.lines if pipe.device_id not in ("BA3P", "BB3P"))
    names = ("BA3P", "BB3P", *more)[:devices]
    listed = tuple(Shut(device=name, action="close and lock", because="", tell="") for name in names)
    assert by_minutes((FOLDER, with_entry(PLAN, E1, isolation=listed)), "fresh test") == short
