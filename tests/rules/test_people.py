"""Who may do what, when."""

from __future__ import annotations

from datetime import date, timedelta
from typing import Any

import pytest

from scheduler.domain.crew import Duty, Person
from scheduler.domain.restrictions import Caution, CrewAway, CrewNeed, DutyKind, Phase, Refusal
from scheduler.rules.people import people
from tests.builders import START, a_crew, a_folder, a_person, a_space, an_entry, an_operation, at, policy

WEEK_END = START + timedelta(days=7)
HANDS = tuple(f"P{n:02d}" for n in range(4, 17))


def needs(**over: Any) -> dict[tuple[Phase, DutyKind], CrewNeed]:
    """The needs of E1; entrants of hot work are told apart below."""
    rows = [each for each in people(a_folder(**over)) if isinstance(each, CrewNeed) and each.entry == "E1"]
    return {(each.phase, each.duty): each for each in rows}


def away(person: Person, *more: Person, **over: Any) -> list[tuple[Any, Any]]:
    """When one person added to the crew is away."""
    folder = a_folder(people=(*a_crew(), person, *more), **({"duties": ()} | over))
    rows = [each for each in people(folder) if isinstance(each, CrewAway) and each.person == person.person]
    return [(each.start, each.end) for each in rows]


def refusals(**over: Any) -> list[Refusal]:
    return [each for each in people(a_folder(**over)) if isinstance(each, Refusal)]


def test_every_phase_has_its_people() -> None:
    counts = {key: (each.count, each.minutes, each.work) for key, each in needs().items()}
    assert counts == {
        (Phase.ISOLATE, DutyKind.IN_CHARGE): (1, 0, True),
        (Phase.ISOLATE, DutyKind.RIGGING): (1, 0, True),
        (Phase.VENTILATE, DutyKind.RIGGING): (2, 30, True),
        (Phase.TEST, DutyKind.IN_CHARGE): (1, 0, True),
        (Phase.TEST, DutyKind.GAS_TESTER): (1, 0, True),
        (Phase.ENTER, DutyKind.ENTRANT): (2, 0, True),
        (Phase.ENTER, DutyKind.ATTENDANT): (1, 0, True),
        (Phase.ENTER, DutyKind.IN_CHARGE): (1, 0, True),
        (Phase.ENTER, DutyKind.ON_CALL): (4, 0, False),
        (Phase.RESTORE, DutyKind.IN_CHARGE): (1, 0, True),
        (Phase.RESTORE, DutyKind.RIGGING): (2, 0, True),
    }


def test_a_deck_officer_is_in_charge_of_deck_spaces_and_an_engineer_of_the_engine_side() -> None:
    assert needs()[Phase.ENTER, DutyKind.IN_CHARGE].people == ("P01", "P02")
    assert needs(spaces=(a_space(in_charge="engine"),))[Phase.ENTER, DutyKind.IN_CHARGE].people == ("P03",)


def test_only_the_gas_tester_of_a_test_may_be_the_officer_in_charge() -> None:
    doubles = [key for key, each in needs().items() if each.may_double]
    assert doubles == [(Phase.TEST, DutyKind.GAS_TESTER)]


def test_a_proving_session_has_the_gas_tester_inside_the_first_time() -> None:
    tester = needs(spaces=(a_space(reach="proving session"),))[Phase.ENTER, DutyKind.GAS_TESTER]
    assert (tester.count, tester.session) == (1, 1)


def test_a_duct_keel_has_an_attendant_at_each_of_two_entrances() -> None:
    assert needs(spaces=(a_space(kind="duct keel"),))[Phase.ENTER, DutyKind.ATTENDANT].count == 2


def test_nobody_is_ever_alone_inside() -> None:
    folder = a_folder(entries=(an_entry(entrants=1),))
    assert needs(entries=(an_entry(entrants=1),))[Phase.ENTER, DutyKind.ENTRANT].count == 2
    assert any("asks for 1 inside" in each.text for each in people(folder) if isinstance(each, Caution))
    assert not [each for each in people(a_folder()) if isinstance(each, Caution)]


def test_only_names_limit_the_entrants_and_nobody_else() -> None:
    found = needs(entries=(an_entry(only=("P04", "P05", "P06")),))
    assert found[Phase.ENTER, DutyKind.ENTRANT].people == ("P04", "P05", "P06")
    assert found[Phase.ENTER, DutyKind.ATTENDANT].people == HANDS


def test_one_entrant_of_hot_work_is_able_to_do_it() -> None:
    crew = (*a_crew()[:3], *(a_person(f"Q{n}", "entrant", "attendant", "rigging", "rescue") for n in range(10)))
    welder = a_person("W", "entrant", "hot work")
    rows = [
        each
        for each in people(a_folder(people=(*crew, welder), duties=(), entries=(an_entry(work="hot work"),)))
        if isinstance(each, CrewNeed) and each.duty is DutyKind.ENTRANT
    ]
    assert [(each.count, each.people[-1:]) for each in rows] == [(1, ("W",)), (1, ("W",))]
    assert [len(each.people) for each in rows] == [1, 11]


def test_rescue_at_the_entrance_is_work_and_the_rest_are_on_call() -> None:
    found = needs(policy=policy(rescue__at_entrance=1))
    assert (found[Phase.ENTER, DutyKind.ON_CALL].count, found[Phase.ENTER, DutyKind.ON_CALL].work) == (3, False)
    assert (found[Phase.ENTER, DutyKind.AT_ENTRANCE].count, found[Phase.ENTER, DutyKind.AT_ENTRANCE].work) == (1, True)


# -- away -----------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("kind", "barred"), [("watch", True), ("sole watch", True), ("other", True), ("day work", False)]
)
def test_watches_and_other_duties_bar_and_day_work_does_not(kind: str, *, barred: bool) -> None:
    duty = Duty(person="N", start=at(2, "00:00"), end=at(2, "04:00"), kind=kind)
    assert away(a_person("N"), duties=(duty,)) == ([(at(2, "00:00"), at(2, "04:00"))] if barred else [])


def test_who_joins_holds_no_duty_in_the_first_24_hours_on_board() -> None:
    assert away(a_person("N", joins=at(3, "09:00"))) == [(START, at(4, "09:00"))]


def test_who_joined_a_day_before_the_week_is_free_from_its_start() -> None:
    assert away(a_person("N", joins=START - timedelta(hours=24))) == []
    assert away(a_person("N", joins=START - timedelta(hours=23))) == [(START, START + timedelta(hours=1))]


def test_who_leaves_holds_no_duty_from_then_on() -> None:
    assert away(a_person("N", leaves=at(5, "12:00"))) == [(at(5, "12:00"), WEEK_END)]


def test_a_drill_of_a_date_to_come_counts_from_that_date_on() -> None:
    assert away(a_person("N", last_drill=date(2027, 3, 11))) == [(START, at(4, "00:00"))]


# Two calendar months after 9, 10 and 11 January 2027 are 9, 10 and 11 March: Tuesday to Thursday of the week.
@pytest.mark.parametrize(("day", "until"), [(9, 3), (10, 4), (11, 5)])
def test_a_drill_counts_to_the_end_of_its_last_date(day: int, until: int) -> None:
    assert away(a_person("N", last_drill=date(2027, 1, day))) == [(at(until, "00:00"), WEEK_END)]


def test_without_a_drill_nobody_is_assignable() -> None:
    assert away(a_person("N", last_drill=None)) == [(START, WEEK_END)]


def test_an_entry_drill_renews_those_who_must_be_in_it_from_its_end() -> None:
    drill = an_operation("D", "entry drill", people=(("rescue", 1),))
    assert away(a_person("N", "rescue", last_drill=None), operations=(drill,)) == [(START, at(2, "12:00"))]


def test_an_entry_drill_renews_nobody_beyond_its_count_or_its_ability() -> None:
    drill = an_operation("D", "entry drill", people=(("rescue", 1),))
    late = a_person("N", "rescue", last_drill=None)
    assert away(late, a_person("M", "rescue", last_drill=None), operations=(drill,)) == [(START, WEEK_END)]
    assert away(a_person("N", last_drill=None), operations=(drill,)) == [(START, WEEK_END)]


def test_any_other_drill_renews_nobody() -> None:
    drill = an_operation("D", "drill", people=(("rescue", 1),))
    assert away(a_person("N", "rescue", last_drill=None), operations=(drill,)) == [(START, WEEK_END)]


def test_who_is_on_a_sole_watch_in_the_drill_is_not_renewed_by_it() -> None:
    drill = an_operation("D", "entry drill", people=(("rescue", 1),))
    watch = Duty(person="N", start=at(2, "11:45"), end=at(2, "14:00"), kind="sole watch")
    spans = away(a_person("N", "rescue", last_drill=None), operations=(drill,), duties=(watch,))
    assert (START, WEEK_END) in spans


def test_whom_a_drill_must_renew_is_forced_into_it() -> None:
    drill = an_operation("D", "entry drill", people=(("rescue", 3),))
    crew = (*a_crew(), a_person("N", "rescue", last_drill=None))
    rows = [each for each in people(a_folder(people=crew, operations=(drill,))) if isinstance(each, CrewNeed)]
    assert [(each.count, each.people) for each in rows if each.entry == "D"] == [(1, ("N",)), (2, HANDS)]
    small = an_operation("D", "entry drill", people=(("rescue", 1),))
    rows = [each for each in people(a_folder(people=crew, operations=(small,))) if isinstance(each, CrewNeed)]
    assert [(each.count, each.people) for each in rows if each.entry == "D"] == [(1, ("N",))]


# -- operations, and too few ----------------------------------------------------------------------------------


def test_an_operation_asks_for_its_people_by_ability() -> None:
    operation = an_operation("S", "stations", people=(("mooring", 4),))
    (need,) = [
        each for each in people(a_folder(operations=(operation,))) if isinstance(each, CrewNeed) and each.entry == "S"
    ]
    assert (need.phase, need.duty, need.count) == (Phase.RUN, DutyKind.MOORING, 4)
    assert need.people == tuple(f"P{n:02d}" for n in range(4, 13))


def test_an_operation_with_too_few_able_people_is_a_caution() -> None:
    folder = a_folder(operations=(an_operation("S", "stations", people=(("mooring", 10),)),))
    assert any("9 are on board" in each.text for each in people(folder) if isinstance(each, Caution))


def test_no_able_person_at_all_refuses_the_entry_and_names_the_duty() -> None:
    crew = tuple(each for each in a_crew() if "gas tester" not in each.able)
    (refused,) = refusals(people=crew, duties=())
    assert "officer in charge" in refused.because


# A session of 2 with attendant and 4 on call draws 7 different hands.
@pytest.mark.parametrize(("hands", "refused"), [(6, True), (7, False), (8, False)])
def test_people_enough_means_different_people(hands: int, *, refused: bool) -> None:
    assert bool(refusals(people=a_crew()[: 3 + hands], duties=())) is refused


@pytest.mark.parametrize(("until", "refused"), [("23:59", False), ("24:00", True)])
def test_people_who_are_never_free_together_are_too_few(until: str, *, refused: bool) -> None:
    # Seven hands are needed; one of them has a fixed duty up to the last minute of the week, or to its end.
    end = WEEK_END if until == "24:00" else WEEK_END - timedelta(minutes=1)
    duty = Duty(person="P04", start=START, end=end, kind="other")
    assert bool(refusals(people=a_crew()[:10], duties=(duty,))) is refused


@pytest.mark.parametrize(
    ("over", "renewed"),
    [
        ({"joins": at(2, "10:00")}, True),
        ({"joins": at(2, "10:01")}, False),
        ({"leaves": at(2, "12:00")}, True),
        ({"leaves": at(2, "11:59")}, False),
    ],
)
def test_only_who_is_on_board_all_through_a_drill_is_renewed_by_it(over: dict[str, Any], *, renewed: bool) -> None:
    drill = an_operation("D", "entry drill", people=(("rescue", 1),))
    crew = (*a_crew(), a_person("N", "rescue", last_drill=None, **over))
    rows = [each for each in people(a_folder(people=crew, operations=(drill,))) if isinstance(each, CrewNeed)]
    assert any(each.people == ("N",) for each in rows if each.entry == "D") is renewed


def test_of_two_drills_the_first_renews() -> None:
    drills = (
        an_operation("D1", "entry drill", people=(("rescue", 1),), start=at(4, "10:00"), end=at(4, "12:00")),
        an_operation("D2", "entry drill", people=(("rescue", 1),)),
    )
    assert away(a_person("N", "rescue", last_drill=None), operations=drills) == [(START, at(2, "12:00"))]


def test_another_fixed_duty_and_no_day_work_keeps_from_a_drill() -> None:
    drill = an_operation("D", "entry drill", people=(("rescue", 1),))
    for kind, renewed in (("other", False), ("day work", True), ("watch", True)):
        duty = Duty(person="N", start=at(2, "11:00"), end=at(2, "14:00"), kind=kind)
        crew = (*a_crew(), a_person("N", "rescue", last_drill=None))
        folder = a_folder(people=crew, operations=(drill,), duties=(duty,))
        rows = [each for each in people(folder) if isinstance(each, CrewNeed) and each.entry == "D"]
        assert any(each.people == ("N",) for each in rows) is renewed
