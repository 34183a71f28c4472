"""How a rule says that phases keep clear of an operation."""

from __future__ import annotations

from datetime import timedelta
from typing import Any

import pytest

from scheduler.domain.folder import VoyageFolder
from scheduler.domain.operations import Operation
from scheduler.domain.restrictions import OPEN, KeepApart, KeepClear
from scheduler.domain.source import Source, SourceKind
from scheduler.rules.during import during, hours_of
from tests.builders import DAYS, START, a_folder, an_operation, at

END = START + timedelta(days=DAYS)


def said(operation: Operation, folder: VoyageFolder | None = None, **over: Any) -> list[KeepClear | KeepApart]:
    source = Source(kind=SourceKind.OUR_CHOICE, text="")
    return list(
        during("E1", OPEN, operation, folder or a_folder(), rule="vapour", because="Why.", source=source, **over)
    )


def test_a_fixed_operation_is_kept_clear_of_with_its_gaps() -> None:
    (found,) = said(an_operation(start=at(2, "10:00"), end=at(2, "12:00")), before_min=120, after_min=30)
    assert isinstance(found, KeepClear)
    assert (found.start, found.end) == (at(2, "08:00"), at(2, "12:30"))


def test_a_fixed_operation_without_an_end_goes_on_to_the_horizon() -> None:
    (found,) = said(an_operation(start=at(2, "10:00"), end=None))
    assert (found.start, found.end) == (at(2, "10:00"), END)


@pytest.mark.parametrize(("ended", "count"), [("23:29", 0), ("23:30", 0), ("23:31", 1)])
def test_what_ended_before_the_week_counts_only_as_far_as_its_gap_reaches_in(ended: str, count: int) -> None:
    # a gap of 30 min after 23:31 ends one minute into the week
    assert len(said(an_operation(start=at(0, "20:00"), end=at(0, ended)), after_min=30)) == count


def test_a_movable_operation_is_kept_apart_from() -> None:
    (found,) = said(an_operation(hours=3.0), before_min=120, after_min=30)
    assert isinstance(found, KeepApart)
    assert (found.other, found.start, found.end) == ("OP1", None, None)
    assert (found.gap_before_min, found.gap_after_min) == (120, 30)


def test_only_the_part_inside_a_span_counts() -> None:
    within = (at(2, "11:00"), at(2, "20:00"))
    (fixed,) = said(an_operation(start=at(2, "10:00"), end=at(2, "12:00")), within=within)
    (moved,) = said(an_operation(hours=3.0), within=within)
    assert (fixed.start, fixed.end) == (at(2, "11:00"), at(2, "12:00"))
    assert (moved.start, moved.end) == within


def test_a_gap_begins_at_the_end_of_the_part_inside_the_span() -> None:
    (found,) = said(
        an_operation(start=at(2, "10:00"), end=at(2, "12:00")), after_min=30, within=(START, at(2, "11:00"))
    )
    assert (found.start, found.end) == (at(2, "10:00"), at(2, "11:30"))


@pytest.mark.parametrize(
    "operation",
    [
        an_operation(start=at(2, "10:00"), end=at(2, "12:00")),
        an_operation(earliest=at(2, "06:00"), latest=at(2, "12:00")),
    ],
)
def test_an_operation_that_cannot_run_inside_the_span_says_nothing(operation: Operation) -> None:
    assert said(operation, within=(at(2, "12:00"), at(2, "20:00"))) == []


def test_a_week_that_begins_at_a_quarter_past_touches_one_hour_more() -> None:
    week = a_folder().week.__class__(start=START + timedelta(minutes=15), days=1)
    hours = hours_of(a_folder(week=week))
    # 00:15 to 00:15 of the next day touches 25 whole hours, the first from 00:00
    assert len(hours) == 25
    assert hours[0][0] == START
