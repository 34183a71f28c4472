"""What is missing counts as the worst, and what a plan makes up is a breach and no error."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import pytest

from scheduler.check import check
from scheduler.domain.crew import PastHours
from scheduler.domain.folder import VoyageFolder
from scheduler.domain.operations import Operation
from scheduler.domain.plan import Named, Plan
from scheduler.domain.ship import OutletTank
from tests.check.made import MONDAY, a_space, at, named, the_good_week
from tests.faults.breaking import (
    HOUR,
    MINUTE,
    a_run,
    first,
    holding,
    opened,
    the,
    with_entry,
    with_operation,
    with_phase,
)

Week = tuple[VoyageFolder, Plan]
FOLDER, PLAN = the_good_week()
STAY = first(PLAN)
assert STAY is not None
E1 = STAY


def said(week: Week, rule: str) -> str:
    return "\n".join(breach.text for breach in check(*week).breaches if breach.rule == rule)


def no_lines_at_all() -> Week:
    return replace(FOLDER, lines=tuple(p for p in FOLDER.lines if "3P" not in (p.point, p.to_point))), PLAN


def no_condition_in_force() -> Week:
    return replace(FOLDER, conditions=()), PLAN


def no_limit_of_the_sea() -> Week:
    return replace(FOLDER, conditions=tuple(replace(row, sea_limit_m=None) for row in FOLDER.conditions)), PLAN


def no_forecast_for_an_empty_tank() -> Week:
    return replace(FOLDER, weather=()), PLAN


def a_passage_without_its_end() -> Week:
    return replace(FOLDER, legs=tuple(replace(leg, to_lat=None) for leg in FOLDER.legs)), PLAN


def a_passage_without_its_arrival() -> Week:
    return FOLDER, replace(PLAN, arrivals=())


def two_speeds_at_one_time() -> Week:
    return FOLDER, replace(PLAN, speeds=(*PLAN.speeds, replace(PLAN.speeds[0], end=at(8, "01:00"), speed_kn=11.0)))


def a_speed_that_changes_within_the_hour() -> Week:
    speed, half = PLAN.speeds[0], at(8, "00:30")
    return FOLDER, replace(PLAN, speeds=(replace(speed, end=half, speed_kn=11.5), replace(speed, start=half)))


def a_speed_at_anchor() -> Week:
    anchored = replace(PLAN.speeds[0], start=at(12, "01:00"), end=at(12, "02:00"))
    return FOLDER, replace(PLAN, speeds=(*PLAN.speeds, anchored))


def a_wrong_hove_to_speed() -> Week:
    speed, hour = PLAN.speeds[0], at(8, "01:00")
    hove_to = replace(speed, end=hour, heaving_to=True, speed_kn=3.0)
    return FOLDER, replace(PLAN, speeds=(hove_to, replace(speed, start=hour)))


def an_unknown_outlet() -> Week:
    start = opened(E1)[0] + HOUR
    rows = (OutletTank(outlet="NOWHERE", space="C3"),)
    run = a_run("purge", start, start + HOUR, vapour="to outlets", spaces=("C3",), cargo="naphtha")
    return with_operation(replace(FOLDER, outlet_tanks=rows), PLAN, run, start, start + HOUR)


def ballast_into_a_tank_that_is_not_clean() -> Week:
    start = opened(E1)[0] + HOUR
    run = a_run("ballast in", start, start + HOUR, vapour=None, spaces=("C3",), cargo="naphtha")
    openings = tuple(replace(o, x_m=61.0, y_m=-3.0) if o.space == "3P" else o for o in FOLDER.openings)
    return with_operation(replace(FOLDER, openings=openings), PLAN, run, start, start + HOUR)


def an_operation_with_a_stranger() -> Week:
    start = at(8, "01:00")
    run = Operation(operation="X", kind="stores", start=start, end=start + HOUR, lines=())
    return with_operation(FOLDER, PLAN, run, start, start + HOUR, (Named(person="GHOST", duty="rigging"),))


def an_operation_with_somebody_unable() -> Week:
    start = at(8, "01:00")
    run = Operation(operation="X", kind="stores", start=start, end=start + HOUR, lines=())
    return with_operation(FOLDER, PLAN, run, start, start + HOUR, named([("2E", "mooring")]))


def an_operation_with_somebody_not_aboard() -> Week:
    start = at(8, "01:00")
    run = Operation(operation="X", kind="stores", start=start, end=start + HOUR, lines=())
    return with_operation(FOLDER, PLAN, run, start, start + HOUR, named([("NEW", "rigging")]))


def a_sole_watch_broken_for_an_operation() -> Week:
    person, start = "2O", at(8, "01:00")
    run = Operation(operation="X", kind="stores", start=start, end=start + HOUR, lines=())
    duties = tuple(replace(d, kind="sole watch") if d.person == person else d for d in FOLDER.duties)
    return with_operation(
        replace(FOLDER, duties=duties), PLAN, run, start, start + HOUR, named([(person, "officer in charge")])
    )


def an_unknown_duty() -> Week:
    session = the(E1, "enter")
    people = (*session.people, Named(person="AB3", duty="photographer"))
    return FOLDER, with_phase(PLAN, E1, session, people=people)


def a_policy_that_is_no_number() -> Week:
    return FOLDER, replace(PLAN, policy={**PLAN.policy, "test.valid_min": "half an hour"})


def a_plan_that_outlives_its_forecast() -> Week:
    return FOLDER, replace(PLAN, valid_until=at(9, "18:00"))


def a_forecast_of_another_time() -> Week:
    return FOLDER, replace(PLAN, inputs=replace(PLAN.inputs, forecast_issued=at(8, "00:00")))


def an_outcome_that_nobody_knows() -> Week:
    return FOLDER, with_entry(PLAN, E1, outcome="perhaps")


def no_volume_for_the_fans() -> Week:
    gear = tuple(replace(g, flow_m3_h=None) if g.kind == "fan" else g for g in FOLDER.gear)
    return replace(FOLDER, gear=gear), PLAN


def a_short_duct_in_a_big_tank() -> Week:
    # Ten metres of ducting do not reach the bottom of thirty; the lower part clears far more slowly.
    spaces = tuple(
        replace(s, depth_m=30.0, volume_m3=20000.0, air_reaches_bottom=None) if s.space == "3P" else s
        for s in FOLDER.spaces
    )
    return replace(FOLDER, spaces=spaces), PLAN


def ducting_of_a_length_that_nobody_knows() -> Week:
    # Half of two fans' 6,000 m³/h is left; were it to reach the bottom of 8,000 m³, 21 hours would do.
    gear = tuple(replace(g, duct_m=None) if g.kind == "fan" else g for g in FOLDER.gear)
    spaces = tuple(
        replace(s, volume_m3=8000.0, air_reaches_bottom=None) if s.space == "3P" else s for s in FOLDER.spaces
    )
    return replace(FOLDER, gear=gear, spaces=spaces), PLAN


def only_one_way_for_the_air() -> Week:
    spaces = tuple(replace(s, kind="void", volume_m3=9000.0) if s.space == "3P" else s for s in FOLDER.spaces)
    openings = tuple(o for o in FOLDER.openings if o.opening != "3P-A")
    return replace(FOLDER, spaces=spaces, openings=openings), PLAN


def cargo_next_door_to_a_coating() -> Week:
    entries = tuple(replace(e, work="coat") if e.entry == "E1" else e for e in FOLDER.entries)
    contents = tuple(replace(c, state="cargo") if c.space == "C3" else c for c in FOLDER.contents)
    return replace(FOLDER, entries=entries, contents=contents), PLAN


MISSING: list[tuple[Callable[[], Week], str, str]] = [
    (no_lines_at_all, "lines", "no line of 3P is on the list"),
    (no_condition_in_force, "condition", "no condition does not list"),
    (no_limit_of_the_sea, "condition", "gives no limit of the sea"),
    (no_forecast_for_an_empty_tank, "condition", "the sea is not forecast"),
    (a_passage_without_its_end, "speeds", "without a position"),
    (a_passage_without_its_arrival, "speeds", "0 arrivals"),
    (two_speeds_at_one_time, "speeds", "are both said"),
    (a_speed_that_changes_within_the_hour, "speeds", "changes within the hour"),
    (a_speed_at_anchor, "speeds", "in no one passage"),
    (a_wrong_hove_to_speed, "speeds", "2 kn is hers"),
    (an_unknown_outlet, "vapour", "is not known"),
    (ballast_into_a_tank_that_is_not_clean, "vapour", "ballast in EXTRA sends vapour"),
    (an_operation_with_a_stranger, "people", "GHOST, named as rigging in run of X, is not in the crew list"),
    (an_operation_with_somebody_unable, "people", "2E is not able to be mooring"),
    (an_operation_with_somebody_not_aboard, "people", "not aboard for all of it"),
    (a_sole_watch_broken_for_an_operation, "people", "while on sole watch"),
    (an_unknown_duty, "people", "photographer is no duty of enter"),
    (a_policy_that_is_no_number, "policy", "half an hour"),
    (a_plan_that_outlives_its_forecast, "inputs", "it holds until 2027-03-08 18:00Z"),
    (a_forecast_of_another_time, "inputs", "it is of 2027-03-07 18:00Z"),
    (an_outcome_that_nobody_knows, "counts", "the outcome 'perhaps'"),
    (no_volume_for_the_fans, "air", "give no air"),
    (a_short_duct_in_a_big_tank, "air", "are needed"),
    (ducting_of_a_length_that_nobody_knows, "air", "are needed"),
    (only_one_way_for_the_air, "air", "are needed"),
    (cargo_next_door_to_a_coating, "next space", "coat in 3P for E1 with cargo next to it in C3"),
]


@pytest.mark.parametrize(("week", "rule", "says"), MISSING, ids=lambda value: getattr(value, "__name__", ""))
def test_what_is_missing_or_made_up_is_named(week: Callable[[], Week], rule: str, says: str) -> None:
    assert says in said(week(), rule)


def test_an_entry_broken_off_needs_its_closing_up_and_no_more() -> None:
    begun = tuple(phase for phase in E1.phases if phase.phase in ("brief", "isolate", "ventilate"))
    closing = replace(the(E1, "restore"), start=begun[-1].end, end=begun[-1].end + HOUR)
    off = with_entry(PLAN, E1, outcome="broken off", phases=(*begun, closing))
    bare = with_entry(PLAN, E1, outcome="broken off", phases=begun)
    rules = ("fresh test", "permit")
    assert [said((FOLDER, off), rule) for rule in rules] == ["", ""]
    assert "0 phases restore" in said((FOLDER, bare), "fresh test")


def test_somebody_whose_fixed_duties_break_his_rest_gets_nothing_in_that_time() -> None:
    person = holding(the(E1, "enter"), "entrant")
    # Fifteen hours without a rest on the day before the session.
    over = tuple(
        replace(duty, start=at(10, "05:00"), end=at(10, "20:00"))
        if duty.person == person and duty.start.day == 10
        else duty
        for duty in FOLDER.duties
    )
    assert f"{person} has" in said((replace(FOLDER, duties=over), PLAN), "rest")


def test_a_rest_broken_by_fixed_duties_alone_is_no_breach_of_the_plan() -> None:
    # The second engineer has no part in the plan; his past week and his duties are his own.
    long = (PastHours(person="2E", start=MONDAY - 20 * HOUR, end=MONDAY),)
    week = (replace(FOLDER, past_hours=(*FOLDER.past_hours, *long)), PLAN)
    found = [b for b in check(*week).breaches if b.rule == "rest" and b.person == "2E"]
    assert found and all("the plan" in breach.text for breach in found)


def test_a_space_whose_neighbours_nobody_lists_touches_all() -> None:
    alone = replace(FOLDER, spaces=(*FOLDER.spaces, a_space("LONE", "void")))
    session = the(E1, "enter")
    run = a_run("ballast in", session.start, session.start + MINUTE, spaces=("LONE",))
    assert "LONE" in said(with_operation(alone, PLAN, run, session.start, session.start + MINUTE), "next space")
