"""What differs by kind of space and of work: one entry alone in its week, first sound, then not."""

from __future__ import annotations

from dataclasses import replace

import pytest

from scheduler.check import check
from scheduler.domain.entries import Coating, Entry
from scheduler.domain.folder import VoyageFolder
from scheduler.domain.operations import Cargo, Content, Operation
from scheduler.domain.plan import Plan, PlannedEntry
from scheduler.domain.ship import Contact
from tests.check.made import (
    CONTENTS,
    IN_CHARGE,
    MINUTE,
    NEIGHBOURS,
    OPENINGS,
    PEOPLE,
    SHIP,
    SPACES,
    TEST_GEAR,
    a_phase,
    a_pipe,
    a_space,
    a_stay,
    a_week_of,
    an_opening,
    at,
    named,
    with_rest,
)


def an_entry(space: str, **over: object) -> Entry:
    """Two hours of looking in a space, wanted."""
    sound = Entry(
        entry="E1", space=space, purpose="", work="inspect", hours=2.0, entrants=2, effort="light", priority=2
    )
    return replace(sound, **over)  # type: ignore[arg-type]


def a_day_in(space: str, entrance: str, devices: tuple[str, ...] = ()) -> PlannedEntry:
    """Isolated on Monday morning, entered on Tuesday."""
    return a_stay(
        "E1",
        space,
        brief=at(8, "08:00"),
        tests=(at(9, "08:00"),),
        inside_min=(120,),
        entrance=entrance,
        devices=devices,
    )


def texts(week: tuple[VoyageFolder, Plan], rule: str = "") -> list[str]:
    """What is found, of one rule or of all."""
    return [breach.text for breach in check(*week).breaches if rule in ("", breach.rule)]


def with_contents(*states: tuple[str, str]) -> tuple[Content, ...]:
    """The contents with some spaces in other states."""
    changed = dict(states)
    kept = tuple(content for content in CONTENTS if content.space not in changed)
    return (*kept, *(Content(space=space, state=state) for space, state in states))


# --- chain locker ---------------------------------------------------------------------------------------------

LOCKER = {
    "spaces": (*SPACES, a_space("CL", "chain locker", "forward", x_m=112.0)),
    "openings": (*OPENINGS, an_opening("CL-M", "CL", 112.0, 2.0), an_opening("CL-V", "CL", 113.0, 2.0)),
    "neighbours": (*NEIGHBOURS, Contact(space="CL", neighbour="FV", contact="corner")),
    "contents": with_contents(("CL", "clean and empty")),
    "lines": (a_pipe("CL", "pump: eductor", "spectacle blank", "CLB"),),
}


def a_locker_at(day: int) -> tuple[VoyageFolder, Plan]:
    stay = a_stay(
        "E1", "CL", brief=at(day, "08:00"), tests=(at(day + 1, "08:00"),), inside_min=(120,), entrance="CL-M",
        devices=("CLB",),
    )  # fmt: skip
    return a_week_of(stay, an_entry("CL"), **LOCKER)


def test_a_chain_locker_is_entered_at_sea() -> None:
    assert texts(a_locker_at(8)) == []


def test_a_chain_locker_is_not_entered_at_anchor() -> None:
    # The ship anchors at midnight before the 12th; the locker is isolated from 08:15 on that day to 11:30 on the next.
    found = [breach for breach in check(*a_locker_at(12)).breaches if breach.rule == "profile"]
    assert [(breach.start, breach.end) for breach in found] == [(at(12, "08:15"), at(13, "11:30"))]


# --- fresh water ----------------------------------------------------------------------------------------------


def test_a_fresh_water_tank_is_entered_while_the_other_is_in_use() -> None:
    week = a_week_of(
        a_day_in("FW", "FW-H", ("FWB",)), an_entry("FW"), contents=with_contents(("FW", "clean and empty"))
    )
    assert texts(week) == []


def test_both_fresh_water_tanks_are_never_out_of_use_at_once() -> None:
    folder, plan = a_week_of(
        a_day_in("FW", "FW-H", ("FWB",)), an_entry("FW"), contents=with_contents(("FW", "clean and empty"))
    )
    spaces = (*folder.spaces, a_space("FX", "fresh-water tank", "machinery"))
    both = replace(folder, spaces=spaces, entries=(*folder.entries, an_entry("FX", entry="E2")))
    second = replace(plan.entries[0], entry="E2", space="FX")
    found = texts((both, replace(plan, entries=(*plan.entries, second))), "profile")
    assert any("never both" in text for text in found)


# --- duct keel ------------------------------------------------------------------------------------------------

KEEL = {
    "spaces": (*SPACES, a_space("DK", "duct keel", x_m=55.0)),
    "openings": (*OPENINGS, an_opening("DK-A", "DK", 30.0, 0.0), an_opening("DK-F", "DK", 80.0, 0.0)),
    "neighbours": (*NEIGHBOURS, Contact(space="DK", neighbour="C4", contact="bulkhead")),
    "contents": with_contents(("DK", "clean and empty")),
    "lines": (a_pipe("DK", "pump: bilge", "spectacle blank", "DKB"),),
}


def a_keel(second_attendant: str) -> PlannedEntry:
    stay = a_day_in("DK", "DK-A", ("DKB",))
    phases = tuple(
        replace(phase, people=tuple(
            replace(named, duty="attendant") if named.person == second_attendant else named for named in phase.people
        )) if phase.phase in ("brief", "enter") else phase
        for phase in stay.phases
    )  # fmt: skip
    return replace(stay, phases=phases)


def test_a_duct_keel_wants_two_attendants() -> None:
    week = a_week_of(a_keel("nobody"), an_entry("DK"), **KEEL)
    assert any("has 1 attendant; 2 needed" in text for text in texts(week, "people"))


def test_ballast_does_not_run_through_a_duct_keel_that_is_open() -> None:
    run = Operation(
        operation="X", kind="ballast in", start=at(9, "09:00"), end=at(9, "09:20"), spaces=("4P",), lines=("BA4P",)
    )
    found = [b for b in check(*a_week_of(a_keel(""), an_entry("DK"), (run,), **KEEL)).breaches if b.rule == "profile"]
    assert [(breach.other, breach.by_min) for breach in found] == [("X", 20)]


def test_a_duct_keel_of_one_entrance_is_not_entered() -> None:
    one = {**KEEL, "openings": (*OPENINGS, an_opening("DK-A", "DK", 30.0, 0.0))}
    assert any("2 are needed" in text for text in texts(a_week_of(a_keel(""), an_entry("DK"), **one), "profile"))


# --- fuel and engine side -------------------------------------------------------------------------------------


def in_charge_of_engine_side(stay: PlannedEntry) -> PlannedEntry:
    return replace(
        stay,
        phases=tuple(
            replace(p, people=tuple(replace(n, person="2E") if n.person == "CO" else n for n in p.people))
            for p in stay.phases
        ),
    )


def test_the_second_engineer_is_in_charge_of_a_fuel_tank() -> None:
    stay = in_charge_of_engine_side(a_day_in("FO", "FO-H", ("FOB",)))
    assert texts(a_week_of(stay, an_entry("FO"), contents=with_contents(("FO", "gas-free")))) == []


def test_the_chief_officer_is_not_in_charge_of_a_fuel_tank() -> None:
    week = a_week_of(a_day_in("FO", "FO-H", ("FOB",)), an_entry("FO"), contents=with_contents(("FO", "gas-free")))
    assert any("CO of the deck department" in text for text in texts(week, "people"))


def test_a_tank_full_of_fuel_is_not_entered() -> None:
    stay = in_charge_of_engine_side(a_day_in("FO", "FO-H", ("FOB",)))
    assert any("FO is 'fuel'" in text for text in texts(a_week_of(stay, an_entry("FO")), "contents"))


# --- pump room ------------------------------------------------------------------------------------------------

PUMPS = {
    "spaces": (*SPACES, a_space("PR", "pump room", x_m=35.0)),
    "openings": (*OPENINGS, an_opening("PR-D", "PR", 33.0, 5.0, kind="door", on_weather_deck=False)),
    "neighbours": (*NEIGHBOURS, Contact(space="PR", neighbour="C4", contact="bulkhead")),
    "contents": with_contents(("PR", "clean and empty")),
    "lines": (
        a_pipe("PR", "pump: bilge", "spectacle blank", "PRB"), a_pipe("PR", "fixed fan pump room", "pipe", "PRF"),
    ),
}  # fmt: skip


def a_pump_room(fans_min: int) -> PlannedEntry:
    """Its own exhaust runs; no fan is carried there."""
    stay = a_day_in("PR", "PR-D", ("PRB",))
    test = stay.phases[3].start
    phases = [replace(p, gear=tuple(h for h in p.gear if h.gear != "FAN")) for p in stay.phases]
    shift = phases[2].end - phases[2].start - fans_min * MINUTE
    early = [replace(p, start=p.start + shift, end=p.end + shift) for p in phases[:2]]
    phases[:3] = [*early, replace(phases[2], start=test - fans_min * MINUTE)]
    return replace(stay, phases=tuple(phases), air=replace(stay.air, fans=()) if stay.air else None)


def test_a_pump_room_wants_a_quarter_of_an_hour_of_its_own_exhaust() -> None:
    assert texts(a_week_of(a_pump_room(15), an_entry("PR"), **PUMPS), "air") == []


def test_a_pump_room_wants_no_minute_less() -> None:
    found = [b for b in check(*a_week_of(a_pump_room(14), an_entry("PR"), **PUMPS)).breaches if b.rule == "air"]
    assert [breach.by_min for breach in found] == [1]


def test_a_pump_room_without_a_fixed_fan_has_no_air() -> None:
    lines = (a_pipe("PR", "pump: bilge", "spectacle blank", "PRB"),)
    week = a_week_of(a_pump_room(15), an_entry("PR"), **{**PUMPS, "lines": lines})
    assert any("no fans" in text for text in texts(week, "air"))


# --- coating --------------------------------------------------------------------------------------------------


def a_coating(**over: object) -> Coating:
    sound = Coating(entry="E1", product="", litres=10.0, litres_per_hour=5.0, least_air_m3_h=9000.0, drying_h=5.0)
    return replace(sound, **over)  # type: ignore[arg-type]


def a_coated_void(tail_h: float) -> PlannedEntry:
    stay = a_day_in("FW", "FW-H", ("FWB",))
    session, restore = stay.phases[-2], stay.phases[-1]
    fans = a_phase("ventilate", session.end, round(tail_h * 60), (), gear=stay.phases[2].gear)
    test = a_phase("test", fans.end, 30, (IN_CHARGE, ("CO", "gas tester")), gear=TEST_GEAR)
    closing = replace(restore, start=test.end, end=test.end + 60 * MINUTE)
    return replace(stay, phases=(*stay.phases[:-1], fans, test, closing))


def coated(tail_h: float = 5.0, **over: object) -> tuple[VoyageFolder, Plan]:
    return a_week_of(
        a_coated_void(tail_h), an_entry("FW", work="coat"), coatings=(a_coating(**over),),
        contents=with_contents(("FW", "clean and empty")),
    )  # fmt: skip


def test_a_coating_with_the_makers_air_and_its_drying_time_stands() -> None:
    # Two fans of 6,000 m³/h behind ten metres of ducting keep three quarters of it: 9,000 m³/h, just what is asked for.
    assert texts(coated()) == []


@pytest.mark.parametrize(
    ("week", "says"),
    [
        (coated(least_air_m3_h=9001.0), "give 9000 m³/h in enter of E1; 9001 are asked for"),
        (coated(least_air_m3_h=None), "least air for the coating of E1 is not given"),
        (coated(4.75), "is ventilated 4.75 h; 5 h are needed"),
        (coated(3.5, drying_h=None), "is ventilated 3.5 h; 4 h are needed"),
    ],
)
def test_a_coating_is_refused(week: tuple[VoyageFolder, Plan], says: str) -> None:
    assert any(says in text for text in texts(week, "coating"))


def test_a_coating_without_fans_afterwards_is_refused() -> None:
    week = a_week_of(
        a_day_in("FW", "FW-H", ("FWB",)), an_entry("FW", work="coat"), coatings=(a_coating(),),
        contents=with_contents(("FW", "clean and empty")),
    )  # fmt: skip
    assert any("has nothing" in text for text in texts(week, "fresh test"))


# --- hot work -------------------------------------------------------------------------------------------------

FAR_SLOPS = (*SPACES, a_space("SL", "slop tank", x_m=20.0))


def hot_work(*states: tuple[str, str], restore_min: int = 120, **over: object) -> tuple[VoyageFolder, Plan]:
    """Hot work in the forward void at sea; the bosun, who is able, goes inside and a seafarer is attendant."""
    stay = a_stay(
        "E1", "FV", brief=at(8, "08:00"), tests=(at(9, "08:00"),), inside_min=(150,), entrance="FV-H", prover="PMP",
        devices=("FVB",),
    )  # fmt: skip
    swapped = []
    for phase in stay.phases:
        duty_of = {"BSN": "entrant", "AB1": "attendant"} if phase.phase in ("brief", "enter") else {}
        people = tuple(replace(named, duty=duty_of.get(named.person, named.duty)) for named in phase.people)
        swapped.append(replace(phase, people=people))
    last = swapped[-1]
    swapped[-1] = replace(last, end=last.start + restore_min * MINUTE)
    contacts = (*NEIGHBOURS, Contact(space="SL", neighbour="HUT", contact="bulkhead"))
    given = {"neighbours": contacts, "spaces": FAR_SLOPS, "contents": with_contents(("SL", "residue"), *states), **over}
    return a_week_of(replace(stay, phases=tuple(swapped)), an_entry("FV", work="hot work"), **given)


def test_hot_work_stands_beside_fresh_water_with_the_slops_far_off() -> None:
    assert texts(hot_work()) == []


@pytest.mark.parametrize(
    ("week", "rule", "says"),
    [
        (hot_work(("FW", "cargo")), "next space", "with FW next to it 'cargo'"),
        (hot_work(("FW", "inerted")), "next space", "with FW next to it 'inerted'"),
        (hot_work(("FW", "unknown")), "next space", "with FW next to it 'unknown'"),
        (
            hot_work(spaces=(*SPACES, a_space("SL", "slop tank", x_m=80.1))),
            "next space",
            "with 'residue' in SL, 30 m off; 30 m",
        ),
        (hot_work(spaces=(*SPACES, a_space("SL", "slop tank", x_m=None))), "next space", "at an unknown distance"),
        (hot_work(restore_min=119), "fresh test", "restore of E1 at 2027-03-09 11:00Z lasts 119 min; 120 min"),
        (
            hot_work(people=tuple(replace(p, able=tuple(a for a in p.able if a != "hot work")) for p in PEOPLE)),
            "people",
            "able to do hot work",
        ),
    ],
)
def test_hot_work_is_refused(week: tuple[VoyageFolder, Plan], rule: str, says: str) -> None:
    assert any(says in text for text in texts(week, rule))


@pytest.mark.parametrize("kind", ["load", "ballast out", "tank wash", "gas-free", "inert", "bunkering", "pilotage"])
def test_hot_work_stops_for_whatever_sends_vapour_or_water_about(kind: str) -> None:
    folder, plan = hot_work()
    run = Operation(operation="X", kind=kind, start=at(9, "12:50"), end=at(9, "14:00"), vapour="none", lines=())
    # Closing up, with its fire watch, ends at 13:00; the neighbours' conditions hold to its end.
    found = [b for b in check(replace(folder, operations=(run,)), plan).breaches if b.rule == "next space"]
    assert [(breach.other, breach.by_min) for breach in found] == [("X", 10)]


# --- dry cargo ------------------------------------------------------------------------------------------------

BULK = {
    "ship": replace(SHIP, kind="bulk carrier"),
    "spaces": tuple(replace(s, kind="hold") if s.space == "C3" else s for s in SPACES),
    "outlets": (), "outlet_tanks": (),
}  # fmt: skip


def test_a_ballast_tank_beside_a_hold_is_not_manned_while_the_hold_is_worked() -> None:
    run = Operation(
        operation="X",
        kind="discharge",
        start=at(9, "10:00"),
        end=at(9, "18:00"),
        spaces=("C3",),
        lines=(),
        vapour="none",
    )
    states = with_contents(("3P", "clean and empty"))
    week = a_week_of(
        a_day_in("3P", "3P-F", ("BA3P", "BB3P")), an_entry("3P"), (run,), contents=states, conditions=(), **BULK
    )
    # The session runs from 08:30 to 10:30.
    found = [breach for breach in check(*week).breaches if breach.rule == "cargo work"]
    assert [(breach.other, breach.by_min) for breach in found] == [("X", 30)]


def test_a_ballast_tank_of_a_bulk_carrier_may_stay_open_while_another_hold_is_worked() -> None:
    run = Operation(
        operation="X",
        kind="discharge",
        start=at(9, "10:00"),
        end=at(9, "18:00"),
        spaces=("C4",),
        lines=(),
        vapour="none",
    )
    states = with_contents(("3P", "clean and empty"))
    week = a_week_of(
        a_day_in("3P", "3P-F", ("BA3P", "BB3P")), an_entry("3P"), (run,), contents=states, conditions=(), **BULK
    )
    assert texts(week, "cargo work") == []


@pytest.mark.parametrize(("kind", "breathes"), [("liquid", True), ("solid", False)])
def test_a_loaded_hold_without_an_outlet_breathes_everywhere_unless_the_cargo_is_solid(
    kind: str, *, breathes: bool
) -> None:
    states = (*with_contents(("3P", "clean and empty"), ("C3", ""))[:-1], Content(space="C3", state="cargo", cargo="X"))
    week = a_week_of(
        a_day_in("3P", "3P-F", ("BA3P", "BB3P")), an_entry("3P"), contents=states, conditions=(),
        cargoes=(Cargo(cargo="X", kind=kind, toxic=False),), **BULK,
    )  # fmt: skip
    assert any("C3 breathes" in text for text in texts(week, "vapour")) is breathes


# --- people from outside and inside the crew -------------------------------------------------------------------


def an_undrilled_entrant(*drills: Operation) -> tuple[VoyageFolder, Plan]:
    """AB2, who has never had the drill aboard, is briefed on Monday at eight and goes inside on Tuesday."""
    people = tuple(replace(person, last_drill=None) if person.person == "AB2" else person for person in PEOPLE)
    folder, plan = a_week_of(
        a_day_in("FW", "FW-H", ("FWB",)),
        an_entry("FW"),
        drills,
        people=people,
        contents=with_contents(("FW", "clean and empty")),
    )
    placed = tuple(replace(run, people=named([("AB2", "rescue")])) for run in plan.operations)
    return folder, with_rest(folder, replace(plan, operations=placed))


def without_drill(week: tuple[VoyageFolder, Plan]) -> list[object]:
    """When AB2 holds a duty without a drill that counts."""
    found = [breach for breach in check(*week).breaches if "without a drill" in breach.text]
    assert {breach.person for breach in found} <= {"AB2"}
    return [breach.start for breach in found]


def test_without_a_drill_nobody_is_even_briefed() -> None:
    assert without_drill(an_undrilled_entrant()) == [at(8, "08:00"), at(9, "08:30")]


def test_the_weeks_own_drill_counts_from_its_end() -> None:
    drill = Operation(operation="D", kind="entry drill", start=at(8, "12:30"), end=at(8, "14:00"))
    assert without_drill(an_undrilled_entrant(drill)) == [at(8, "08:00")]


def test_another_drill_does_not_count() -> None:
    drill = Operation(operation="D", kind="drill", start=at(8, "12:30"), end=at(8, "14:00"))
    assert without_drill(an_undrilled_entrant(drill)) == [at(8, "08:00"), at(9, "08:30")]


# --- standing orders ------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("bars", "cold", "hot"),
    [("none", False, False), ("hot work", False, True), ("entries", True, True), ("all", True, True)],
)
def test_a_standing_order_bars_what_it_names(bars: str, cold: bool, hot: bool) -> None:
    run = Operation(operation="X", kind="other", start=at(9, "10:00"), end=at(9, "10:30"), bars=bars, lines=())
    states = with_contents(("FW", "clean and empty"))
    looking = a_week_of(a_day_in("FW", "FW-H", ("FWB",)), an_entry("FW"), (run,), contents=states)
    folder, plan = hot_work()
    welding = (replace(folder, operations=(run,)), plan)
    barred = [bool([t for t in texts(week, "ship handling") if "standing order" in t]) for week in (looking, welding)]
    assert barred == [cold, hot]
