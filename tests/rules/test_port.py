"""What places say, and by when they want to be asked."""

from __future__ import annotations

from datetime import timedelta
from typing import Any

import pytest

from scheduler.domain.restrictions import OPEN, RUN, Ask, Caution, KeepClear
from scheduler.rules.port import port
from tests.builders import (
    END,
    START,
    a_berth,
    a_folder,
    a_leg,
    a_permission,
    a_place,
    an_entry,
    an_operation,
    at,
)

STAY = (at(3, "00:00"), at(6, "00:00"))


def of(*, entry: Any = None, **over: Any) -> list[Any]:
    """What the rule says of a ship that lies at Wender Quay from Wednesday to Friday."""
    given: dict[str, Any] = {
        "entries": (entry or an_entry(),),
        "legs": (a_leg(end=STAY[0]), a_berth(start=STAY[0], end=STAY[1]), a_leg("L2", start=STAY[1])),
        "places": (a_place(),),
    }
    return list(port(a_folder(**(given | over))))


def times(found: list[Any], kind: type[Any]) -> list[Any]:
    return [(each.start, each.end) for each in found if isinstance(each, kind)]


def test_where_a_place_allows_entries_nothing_is_said() -> None:
    assert of() == []


def test_where_it_forbids_them_the_whole_stay_is_kept_clear() -> None:
    (found,) = of(places=(a_place(entries="forbidden"),))
    assert (found.phases, found.start, found.end) == (OPEN, *STAY)


@pytest.mark.parametrize(
    ("column", "work", "kept"),
    [
        ("hot_work", "hot work", True), ("hot_work", "inspect", False), ("coating", "coat", True),
        ("coating", "inspect", False), ("venting", "inspect", False),
    ],
)  # fmt: skip
def test_each_kind_of_work_has_its_own_word(column: str, work: str, *, kept: bool) -> None:
    assert bool(of(entry=an_entry(work=work), places=(a_place(**{column: "forbidden"}),))) is kept


def test_legs_of_one_place_are_one_stay() -> None:
    legs = (
        a_berth("B1", end=at(2, "00:00")),
        a_berth("B2", start=at(2, "00:00"), end=at(4, "00:00")),
        a_leg("L2", start=at(4, "00:00")),
    )
    assert times(of(legs=legs, places=(a_place(entries="forbidden"),)), KeepClear) == [(START, at(4, "00:00"))]


def test_two_places_in_a_row_are_two_stays() -> None:
    legs = (a_berth("B1", end=at(2, "00:00")), a_berth("B2", place="Other Quay", start=at(2, "00:00")))
    places = (a_place(entries="forbidden"), a_place("Other Quay"))
    assert times(of(legs=legs, places=places), KeepClear) == [(START, at(2, "00:00"))]


def test_a_berth_without_a_row_wants_to_be_asked() -> None:
    (found,) = of(places=())
    assert isinstance(found, Ask)
    # 24 h is the policy's notice; asked as the week begins, that is given before Wednesday
    assert (found.notice_h, found.start, found.end, found.answer) == (24.0, *STAY, "")


def test_the_open_sea_without_a_row_wants_nothing() -> None:
    assert of(legs=(a_leg(),), places=()) == []


@pytest.mark.parametrize(("notice_h", "kept_h"), [(47.0, 0), (48.0, 0), (49.0, 1)])
def test_nothing_stands_before_notice_can_have_been_given(notice_h: float, kept_h: int) -> None:
    # not asked yet: at the earliest as the week begins, 48 h before the stay
    found = of(places=(a_place(entries="ask", notice_h=notice_h),))
    kept = times(found, KeepClear)
    assert kept == ([(STAY[0], STAY[0] + timedelta(hours=kept_h))] if kept_h else [])
    assert times(found, Ask) == [(STAY[0] + timedelta(hours=kept_h), STAY[1])]


def test_a_question_that_is_open_is_tentative_from_its_own_time() -> None:
    asked = a_permission(asked_at=at(2, "12:00"))
    found = of(places=(a_place(entries="ask", notice_h=24.0),), permissions=(asked,))
    assert times(found, KeepClear) == [(STAY[0], at(3, "12:00"))]
    (ask,) = [each for each in found if isinstance(each, Ask)]
    assert (ask.start, ask.answer) == (at(3, "12:00"), "asked")
    assert "Subject to permission" in ask.because


@pytest.mark.parametrize("word", ["ask", "allowed"])
def test_a_no_holds_against_whatever_the_table_says(word: str) -> None:
    found = of(places=(a_place(entries=word),), permissions=(a_permission(answer="no"),))
    assert times(found, KeepClear) == [STAY]


def test_a_yes_holds_from_and_until_and_no_longer() -> None:
    yes = a_permission(answer="yes", from_=at(4, "08:00"), until=at(4, "20:00"))
    found = of(places=(a_place(entries="ask"),), permissions=(yes,))
    assert times(found, KeepClear) == [(STAY[0], at(4, "08:00")), (at(4, "20:00"), STAY[1])]
    assert [each.answer for each in found if isinstance(each, Ask)] == ["yes"]


def test_a_yes_for_another_time_allows_nothing() -> None:
    yes = a_permission(answer="yes", from_=at(1, "08:00"), until=at(1, "20:00"))
    found = of(places=(a_place(entries="ask"),), permissions=(yes,))
    assert times(found, KeepClear) == [STAY]


def test_a_yes_lifts_no_ban() -> None:
    found = of(places=(a_place(entries="forbidden"),), permissions=(a_permission(answer="yes"),))
    assert times(found, KeepClear) == [STAY]


@pytest.mark.parametrize(("kind", "column"), [("gas-free", "venting"), ("ballast out", "ballast_out")])
def test_a_movable_operation_keeps_clear_of_a_place_that_forbids_it(kind: str, column: str) -> None:
    moved = an_operation(kind=kind, spaces=("C3",), hours=3.0)
    (found,) = of(operations=(moved,), places=(a_place(**{column: "forbidden"}),))
    assert (found.entry, found.phases, found.start, found.end) == ("OP1", RUN, *STAY)


def test_a_fixed_operation_stands_and_is_said_aloud() -> None:
    fixed = an_operation(kind="gas-free", spaces=("C3",), start=at(4, "10:00"), end=at(4, "12:00"))
    (found,) = of(operations=(fixed,), places=(a_place(venting="forbidden"),))
    assert isinstance(found, Caution)
    assert "Wender Quay forbids venting" in found.text


def test_the_week_bounds_what_is_asked_for() -> None:
    leg = a_berth(start=START - timedelta(days=3), end=END + timedelta(days=3))
    (ask,) = [e for e in of(legs=(leg,), places=(a_place(entries="ask", notice_h=0.0),)) if isinstance(e, Ask)]
    assert (ask.start, ask.end) == (START, END)
