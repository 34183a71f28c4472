"""Daylight, working hours and people from outside."""

from __future__ import annotations

from datetime import date, datetime, time, timedelta
from typing import Any

import pytest

from scheduler.domain.restrictions import INSIDE, STAFFED, KeepClear, Refusal
from scheduler.domain.voyage import ClockStep, Week
from scheduler.rules.daylight import daylight
from scheduler.rules.hours import hours
from scheduler.rules.visitors import visitors
from tests.builders import DAYS, END, START, a_berth, a_folder, a_visitor, an_entry, at, policy

MINUTE = timedelta(minutes=1)


def spans(found: Any) -> list[tuple[datetime, datetime]]:
    return [(each.start, each.end) for each in found]


def barred(found: list[Any], moment: datetime) -> bool:
    return any(each.start <= moment < each.end for each in found)


# -- daylight ---------------------------------------------------------------------------------------------------


def light(**over: Any) -> list[Any]:
    """At the equator on the meridian of Greenwich, alongside; the sun of 9 March 2027 rises about 06:07, sets 18:14."""
    berth = a_berth(from_lat=0.0, from_lon=0.0, to_lat=0.0, to_lon=0.0)
    given: dict[str, Any] = {"entries": (an_entry(daylight=True),), "legs": (berth,)}
    return list(daylight(a_folder(**(given | over))))


def test_sessions_that_want_daylight_lie_between_sunrise_and_sunset_less_a_margin() -> None:
    # at the equator the day lasts 12 h 7 min, refraction and the sun's radius included; noon comes 12:10.6 on 9 March
    # (equation of time −10.6 min): sunrise 06:07, sunset 18:14, and 15 min are kept off both
    night = next(each for each in light() if each.start < at(2, "03:00") < each.end)
    morning = next(each for each in light() if each.start < at(2, "22:00") < each.end)
    assert night.phases == INSIDE
    assert abs(night.end - at(2, "06:22")) <= 2 * MINUTE
    assert abs(morning.start - at(2, "17:59")) <= 2 * MINUTE


def test_the_margin_is_the_companys() -> None:
    night = next(
        each for each in light(policy=policy(daylight__margin_min=45)) if each.start < at(2, "03:00") < each.end
    )
    assert abs(night.end - at(2, "06:52")) <= 2 * MINUTE


def test_the_light_is_that_at_the_ships_position() -> None:
    # at 90°W everything comes six hours later
    legs = (a_berth(from_lat=0.0, from_lon=-90.0),)
    night = next(each for each in light(legs=legs) if each.start < at(2, "09:00") < each.end)
    assert abs(night.end - at(2, "12:22")) <= 2 * MINUTE


def test_without_a_position_nobody_promises_light() -> None:
    assert spans(light(legs=(a_berth(from_lat=None, from_lon=None),))) == [(START, END)]


def test_in_polar_day_it_is_never_dark_and_in_polar_night_always() -> None:
    summer = datetime(2027, 6, 14, tzinfo=START.tzinfo)
    leg = a_berth(from_lat=80.0, from_lon=0.0, start=summer, end=summer + timedelta(days=DAYS))
    assert light(legs=(leg,), week=Week(start=summer, days=DAYS)) == []
    south = a_berth(from_lat=-80.0, from_lon=0.0, start=summer, end=summer + timedelta(days=DAYS))
    assert spans(light(legs=(south,), week=Week(start=summer, days=DAYS))) == [(summer, summer + timedelta(days=DAYS))]


def test_who_does_not_ask_for_daylight_gets_no_word() -> None:
    assert light(entries=(an_entry(),)) == []


# -- hours ------------------------------------------------------------------------------------------------------


def at_work(entry: Any = None, **over: Any) -> list[Any]:
    return list(hours(a_folder(**({"entries": (entry or an_entry(),)} | over))))


@pytest.mark.parametrize(
    ("clock", "out"),
    [
        ("07:59", True), ("08:00", False), ("11:59", False), ("12:00", True), ("12:59", True), ("13:00", False),
        ("17:59", False), ("18:00", True),
    ],
)  # fmt: skip
def test_work_lies_in_working_hours_and_out_of_meals(clock: str, *, out: bool) -> None:
    assert barred(at_work(), at(2, clock)) is out
    assert {each.phases for each in at_work()} == {STAFFED}


def test_sunday_is_a_day_of_rest_but_for_what_must_be_done() -> None:
    assert barred(at_work(), at(7, "10:00"))
    assert not barred(at_work(an_entry(priority=1)), at(7, "10:00"))


@pytest.mark.parametrize(
    ("priority", "night", "free"), [(1, True, True), (1, False, False), (2, True, False), (3, True, False)]
)
def test_only_a_must_that_may_go_on_by_night_is_planned_outside_hours(
    priority: int, *, night: bool, free: bool
) -> None:
    found = at_work(an_entry(priority=priority, night=night))
    assert barred(found, at(2, "12:30")) is not free
    assert barred(found, at(2, "03:00")) is not free


def test_hours_are_read_on_the_ships_clocks() -> None:
    clocks = (ClockStep(at=START - timedelta(days=1), offset=timedelta(hours=-2)),)
    found = at_work(clocks=clocks)
    assert barred(found, at(2, "09:59"))
    assert not barred(found, at(2, "10:00"))


def test_a_clock_step_moves_the_hours_with_it() -> None:
    # an hour back in the night to Wednesday: ship's time goes from UTC to UTC−1, so 08:00 is 09:00 UTC
    clocks = (
        ClockStep(at=START - timedelta(days=1), offset=timedelta()),
        ClockStep(at=at(3, "02:00"), offset=timedelta(hours=-1)),
    )
    found = at_work(clocks=clocks)
    assert not barred(found, at(2, "08:00"))
    assert barred(found, at(3, "08:59"))
    assert not barred(found, at(3, "09:00"))


def test_the_week_may_set_its_own_hours_meals_and_days_of_rest() -> None:
    week = Week(
        start=START,
        days=DAYS,
        work_hours=((time(6), time(14)),),
        meals=((time(10), time(10, 30)),),
        rest_days=(1, date(2027, 3, 11)),
    )
    found = at_work(week=week)
    assert not barred(found, at(1, "06:00"))
    assert barred(found, at(1, "10:00"))
    assert not barred(found, at(1, "12:30"))
    # weekday 1 is Tuesday; 11 March is the Thursday; Sunday is none here
    assert [barred(found, at(day, "08:00")) for day in range(1, 8)] == [False, True, False, True, False, False, False]


def test_a_week_without_meals_has_none() -> None:
    assert not barred(at_work(week=Week(start=START, days=DAYS, meals=())), at(2, "12:30"))


# -- visitors ---------------------------------------------------------------------------------------------------


def needing(*names: str, **over: Any) -> list[Any]:
    given: dict[str, Any] = {"entries": (an_entry(needs=names),), "visitors": (a_visitor(),)}
    return list(visitors(a_folder(**(given | over))))


@pytest.mark.parametrize(
    ("clock", "out"), [("09:59", True), ("10:00", False), ("15:59", False), ("16:00", True), ("08:00", True)]
)
def test_a_needed_visitor_is_there_from_an_hour_after_boarding(clock: str, *, out: bool) -> None:
    # aboard on Wednesday from 09:00 to 16:00
    found = needing("SURVEYOR")
    assert barred(found, at(3, clock)) is out
    assert {each.phases for each in found} == {INSIDE}


def test_everybody_needed_has_to_be_there() -> None:
    both = (a_visitor(), a_visitor("CHEMIST", role="chemist", from_=at(3, "12:00"), until=at(3, "20:00")))
    found = needing("SURVEYOR", "CHEMIST", visitors=both)
    assert [barred(found, at(3, clock)) for clock in ("11:00", "13:00", "15:30", "17:00")] == [True, False, False, True]


def test_somebody_who_is_not_in_the_table_does_not_come() -> None:
    (found,) = needing("INSPECTOR")
    assert isinstance(found, Refusal)
    assert "INSPECTOR" in found.because


def test_a_visitor_already_aboard_keeps_nobody_waiting() -> None:
    found = needing("SURVEYOR", visitors=(a_visitor(from_=at(0, "09:00"), until=END),))
    assert [each for each in found if isinstance(each, KeepClear)] == []
