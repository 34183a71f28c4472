"""Rest that is not known, and rest that fixed duties break by themselves."""

from __future__ import annotations

from datetime import timedelta
from typing import Any

import pytest

from scheduler.domain.crew import Duty, PastHours, Person
from scheduler.domain.restrictions import Caution, CrewAway
from scheduler.rules.rest import fixed_figures, rest
from tests.builders import START, a_folder, a_person, at


def past(person: str) -> tuple[PastHours, ...]:
    """Eight to noon on each of the seven days before."""
    return tuple(PastHours(person=person, start=at(day, "08:00"), end=at(day, "12:00")) for day in range(-6, 1))


def found(person: Person, *duties: Duty, past_hours: tuple[PastHours, ...] = ()) -> list[Any]:
    return list(rest(a_folder(people=(person,), duties=duties, past_hours=past_hours)))


def away(rows: list[Any]) -> list[tuple[Any, Any]]:
    return [(each.start, each.end) for each in rows if isinstance(each, CrewAway)]


def duty(start: str, end: str, day: int = 2, end_day: int = 2) -> Duty:
    return Duty(person="N", start=at(day, start), end=at(end_day, end), kind="other")


def test_without_past_hours_no_duty_in_the_first_ten_hours_and_the_rest_is_unknown() -> None:
    rows = found(a_person("N"))
    assert away(rows) == [(START, START + timedelta(hours=10))]
    assert any("'unknown'" in each.text for each in rows if isinstance(each, Caution))


def test_with_past_hours_nothing_is_said() -> None:
    assert found(a_person("N"), past_hours=past("N")) == []


def test_who_joins_has_no_duty_in_the_first_ten_hours_from_then() -> None:
    assert away(found(a_person("N", joins=at(3, "09:00")))) == [(at(3, "09:00"), at(3, "19:00"))]


@pytest.mark.parametrize(("end", "broken"), [("20:00", False), ("20:01", True)])
def test_fixed_duties_of_more_than_14_hours_keep_their_person_free_in_that_window(end: str, *, broken: bool) -> None:
    # Tuesday from 06:00: 14 h leave exactly 10 h of rest in the day.
    rows = found(a_person("N"), duty("06:00", end), past_hours=past("N"))
    assert bool(away(rows)) is broken
    assert [each.weight for each in rows if isinstance(each, Caution)] == ([2] if broken else [])


def test_a_broken_window_is_named_with_its_figures() -> None:
    rows = found(a_person("N"), duty("06:00", "21:00"), past_hours=past("N"))
    (said,) = [each.text for each in rows if isinstance(each, Caution)]
    assert "9 h" in said or "15 h" in said


def test_past_hours_count_into_the_week() -> None:
    # Sunday 14:00 to 24:00 and Monday 00:00 to 04:01 are one block of 14 h and a minute.
    night = (*past("N")[:-1], PastHours(person="N", start=at(0, "14:00"), end=START))
    rows = found(a_person("N"), duty("00:00", "04:01", 1, 1), past_hours=night)
    assert away(rows)


def test_work_of_somebody_who_leaves_is_counted_until_then() -> None:
    person = a_person("N", leaves=at(2, "10:00"))
    figures = fixed_figures(a_folder(people=(person,), duties=(duty("06:00", "23:00"),)), person)
    assert figures.longest_work_min == 240
