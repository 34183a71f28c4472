"""Entries whose own times leave too little room.

3P has one branch of two devices: isolation takes 45 min (30 + 2 × 5 is less); one to four fans air it, the least time
is what the rule `air` says; the test takes 30 min (10 + 3 × 5, up to the grid); then two hours inside.
"""

from __future__ import annotations

from datetime import datetime, timedelta
from typing import Any

import pytest

from scheduler.domain.restrictions import AirChoice, Refusal
from scheduler.rules.air import air
from scheduler.rules.window import window
from tests.builders import END, START, a_folder, a_space, an_entry, at

MINUTE = timedelta(minutes=1)
AIR_MIN = min(each.minutes for each in air(a_folder()) if isinstance(each, AirChoice))
BEFORE = (45 + AIR_MIN + 30) * MINUTE
WHOLE = BEFORE + 120 * MINUTE


def of(**entry: Any) -> list[Refusal]:
    return [each for each in window(a_folder(entries=(an_entry(**entry),))) if isinstance(each, Refusal)]


def test_a_week_is_room_enough() -> None:
    assert of() == []


@pytest.mark.parametrize(("spare_min", "refused"), [(-1, True), (0, False), (1, False)])
def test_from_earliest_to_due_all_phases_have_to_fit(spare_min: int, *, refused: bool) -> None:
    found = of(earliest=at(2, "08:00"), due=at(2, "08:00") + WHOLE + spare_min * MINUTE)
    assert bool(found) is refused


@pytest.mark.parametrize(("spare_min", "refused"), [(-1, True), (0, False)])
def test_the_briefing_lies_in_the_week_too(spare_min: int, *, refused: bool) -> None:
    # 15 min of briefing come before isolation, so the first minute of the week is no start for it
    assert bool(of(due=START + 15 * MINUTE + WHOLE + spare_min * MINUTE)) is refused


@pytest.mark.parametrize(("spare_min", "refused"), [(-1, True), (0, False)])
def test_closing_up_lies_in_the_week_too(spare_min: int, *, refused: bool) -> None:
    assert bool(of(earliest=END - 60 * MINUTE - WHOLE - spare_min * MINUTE)) is refused


def test_a_proving_session_takes_its_half_hour() -> None:
    spaces = (a_space("3P", reach="proving session"),)
    entry = an_entry(earliest=at(2, "08:00"), due=at(2, "08:00") + WHOLE + 15 * MINUTE)
    assert list(window(a_folder(entries=(entry,), spaces=spaces)))


def pinned(moment: datetime, **entry: Any) -> list[Refusal]:
    return of(at=moment, **entry)


@pytest.mark.parametrize(("spare_min", "refused"), [(-15, True), (0, False), (15, False)])
def test_a_pinned_session_leaves_time_for_what_comes_before(spare_min: int, *, refused: bool) -> None:
    assert bool(pinned(at(2, "20:00"), earliest=at(2, "20:00") - BEFORE - spare_min * MINUTE)) is refused


@pytest.mark.parametrize(("due", "refused"), [("21:59", True), ("22:00", False)])
def test_a_pinned_session_is_over_when_it_is_due(due: str, *, refused: bool) -> None:
    assert bool(pinned(at(2, "20:00"), due=at(2, due))) is refused


@pytest.mark.parametrize(("clock", "refused"), [("20:00", False), ("20:15", False), ("20:10", True)])
def test_a_pinned_session_lies_on_the_grid(clock: str, *, refused: bool) -> None:
    assert bool(pinned(at(2, clock))) is refused


def test_what_cannot_be_aired_is_refused_by_air_and_not_here() -> None:
    entry = an_entry(earliest=at(2, "08:00"), due=at(2, "08:30"))
    assert not list(window(a_folder(entries=(entry,), gear=())))
