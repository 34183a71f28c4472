"""Faults in the passage, the sea, the sun, the ports, and in what the plan says of itself."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime, timedelta

from scheduler.domain.folder import VoyageFolder
from scheduler.domain.plan import Easing, Inputs, Plan, PlannedEntry, PlannedSpeed
from scheduler.domain.policy import Policy
from tests.faults.breaking import (
    HOUR,
    MINUTE,
    Broken,
    asked,
    fault,
    of_entry,
    opened,
    planned,
    priority,
    the,
    with_asked,
    with_entry,
    with_operation_moved,
    with_phase,
)


def _waves(folder: VoyageFolder, height_m: float) -> VoyageFolder:
    rows = tuple(replace(row, wave_height_m=height_m, swell_height_m=0.0) for row in folder.weather)
    return replace(folder, weather=rows)


def _at_sea(folder: VoyageFolder, entry: PlannedEntry) -> bool:
    start = the(entry, "test").start
    return any(leg.kind == "passage" and leg.start <= start < leg.end for leg in folder.legs)


@of_entry("motion", lambda folder, entry: _at_sea(folder, entry))
def a_sea_in_which_nobody_may_be_inside(folder: VoyageFolder, plan: Plan, entry: PlannedEntry) -> Broken | None:
    start = the(entry, "test").start
    return Broken(folder=_waves(folder, 4.1), plan=plan, entry=entry.entry, start=start, says="in a sea of 4.1 m")


@of_entry("motion", lambda folder, entry: _at_sea(folder, entry) and priority(folder, entry) < 3)
def a_sea_for_which_she_must_slow_down(folder: VoyageFolder, plan: Plan, entry: PlannedEntry) -> Broken | None:
    height_m = 2.2 if asked(folder, entry).effort == "light" else 1.7
    return Broken(
        folder=_waves(folder, height_m), plan=plan, entry=entry.entry, start=the(entry, "test").start,
        says="8 kn at most",
    )  # fmt: skip


@of_entry("motion", lambda folder, entry: _at_sea(folder, entry) and priority(folder, entry) == 1)
def a_sea_for_which_she_must_heave_to(folder: VoyageFolder, plan: Plan, entry: PlannedEntry) -> Broken | None:
    height_m = 3.2 if asked(folder, entry).effort == "light" else 2.7
    return Broken(folder=_waves(folder, height_m), plan=plan, entry=entry.entry, says="not hove to")


@of_entry("motion", lambda folder, entry: _at_sea(folder, entry))
def a_sea_that_nobody_forecasts(folder: VoyageFolder, plan: Plan, entry: PlannedEntry) -> Broken | None:
    rows = tuple(replace(row, swell_height_m=None) for row in folder.weather)
    return Broken(folder=replace(folder, weather=rows), plan=plan, entry=entry.entry, says="without a forecast")


@of_entry("motion", lambda folder, entry: _at_sea(folder, entry))
def a_could_that_profits_from_easing(folder: VoyageFolder, plan: Plan, entry: PlannedEntry) -> Broken | None:
    rough = _waves(with_asked(folder, entry, priority=3, effort="light"), 2.2)
    slow = replace(plan, speeds=tuple(replace(speed, speed_kn=7.0) for speed in plan.speeds))
    return Broken(folder=rough, plan=slow, entry=entry.entry, says="which asks for 8 kn")


@of_entry("spray", lambda folder, entry: _at_sea(folder, entry) and _all_on_deck(folder, entry))
def a_sea_over_an_open_manhole(folder: VoyageFolder, plan: Plan, entry: PlannedEntry) -> Broken | None:
    return Broken(folder=_waves(folder, 3.6), plan=plan, entry=entry.entry, start=opened(entry)[0], says="above 3.5 m")


@of_entry("daylight", lambda folder, entry: _at_sea(folder, entry))
def a_session_after_sunset(folder: VoyageFolder, plan: Plan, entry: PlannedEntry) -> Broken | None:
    session = the(entry, "enter")
    middle = session.start + (session.end - session.start) / 2
    legs = tuple(
        replace(leg, from_lon=_midnight(middle), to_lon=_midnight(middle)) if leg.kind == "passage" else leg
        for leg in folder.legs
    )
    dark = with_asked(replace(folder, legs=legs), entry, daylight=True)
    by = (session.end - session.start) // MINUTE
    return Broken(folder=dark, plan=plan, entry=entry.entry, by_min=by, start=session.start)


@of_entry("closures", lambda folder, entry: _at_sea(folder, entry) and _all_on_deck(folder, entry))
def a_manhole_in_use_at_night(folder: VoyageFolder, plan: Plan, entry: PlannedEntry) -> Broken | None:
    session = the(entry, "enter")
    middle = session.start + (session.end - session.start) / 2
    legs = tuple(
        replace(leg, from_lon=_midnight(middle), to_lon=_midnight(middle)) if leg.kind == "passage" else leg
        for leg in folder.legs
    )
    return Broken(folder=replace(folder, legs=legs), plan=plan, entry=entry.entry, says="for fans only")


@of_entry("closures", lambda folder, entry: _at_sea(folder, entry) and _all_on_deck(folder, entry))
def more_open_on_deck_than_allowed(folder: VoyageFolder, plan: Plan, entry: PlannedEntry) -> Broken | None:
    tight = Policy(overrides={**folder.policy.overrides, "at_once.open_weather_deck_under_way": 0})
    return Broken(folder=replace(folder, policy=tight), plan=plan, says="on the weather deck under way")


@of_entry("port", lambda folder, entry: _in_port(folder, entry))
def a_place_that_forbids_entries(folder: VoyageFolder, plan: Plan, entry: PlannedEntry) -> Broken | None:
    places = tuple(replace(place, entries="forbidden") for place in folder.places)
    return Broken(folder=replace(folder, places=places), plan=plan, entry=entry.entry, says="forbids entries")


@of_entry("port", lambda folder, entry: _in_port(folder, entry))
def a_place_that_is_not_asked(folder: VoyageFolder, plan: Plan, entry: PlannedEntry) -> Broken | None:
    unasked = replace(folder, places=(), permissions=())
    silent = replace(plan, permissions=())
    return Broken(folder=unasked, plan=silent, entry=entry.entry, says="does not ask for it")


@fault("speeds")
def an_hour_without_a_speed(folder: VoyageFolder, plan: Plan) -> Broken | None:
    speed = plan.speeds[0]
    broken = _with_speeds(plan, (replace(speed, start=speed.start + HOUR), *plan.speeds[1:]))
    return Broken(folder=folder, plan=broken, start=speed.start, by_min=60, says="no speed is said")


@fault("speeds")
def more_than_her_greatest_speed(folder: VoyageFolder, plan: Plan) -> Broken | None:
    greatest = folder.ship.greatest_speed_kn
    return _at_speed(folder, plan, greatest + 0.1, "greatest speed")


@fault("speeds")
def less_than_her_least_speed(folder: VoyageFolder, plan: Plan) -> Broken | None:
    return _at_speed(folder, plan, folder.ship.least_speed_kn - 0.1, "least speed")


@fault("speeds")
def a_barred_speed(folder: VoyageFolder, plan: Plan) -> Broken | None:
    low, high = folder.ship.barred_speeds_kn[0]
    return _at_speed(folder, plan, (low + high) / 2, "barred range")


@fault("speeds")
def a_distance_that_is_not_made_good(folder: VoyageFolder, plan: Plan) -> Broken | None:
    last = plan.speeds[-1]
    broken = _with_speeds(plan, (*plan.speeds[:-1], replace(last, speed_kn=last.speed_kn - 1.0)))
    return Broken(folder=folder, plan=broken, says="nm good by")


@fault("speeds")
def later_than_is_allowed(folder: VoyageFolder, plan: Plan) -> Broken | None:
    leg = next((leg for leg in folder.legs if leg.kind == "passage" and leg.arrive_by is not None), None)
    if leg is None or leg.arrive_by is None:
        return None
    expected = next(arrival.expected for arrival in plan.arrivals if arrival.leg == leg.leg)
    by = expected - timedelta(hours=leg.late_allowed_h) - 5 * MINUTE
    legs = tuple(replace(one, arrive_by=by) if one is leg else one for one in folder.legs)
    return Broken(folder=replace(folder, legs=legs), plan=plan, other=leg.leg, by_min=5, says="latest allowed")


@fault("speeds")
def not_there_when_the_next_leg_begins(folder: VoyageFolder, plan: Plan) -> Broken | None:
    leg = next(leg for leg in folder.legs if leg.kind == "passage" and leg.arrive_by is not None)
    following = min((one for one in folder.legs if one.start >= leg.end), key=lambda one: one.start)
    arrivals = tuple(replace(a, expected=following.start + MINUTE) if a.leg == leg.leg else a for a in plan.arrivals)
    broken = replace(plan, arrivals=arrivals)
    return Broken(folder=folder, plan=broken, other=leg.leg, by_min=1, says=f"the start of leg {following.leg}")


@fault("speeds")
def faster_than_planned_without_time_lost(folder: VoyageFolder, plan: Plan) -> Broken | None:
    leg = next(leg for leg in folder.legs if leg.kind == "passage" and leg.arrive_by is not None)
    speeds = [speed for speed in plan.speeds if leg.start <= speed.start < leg.end]
    faster = replace(speeds[0], speed_kn=(leg.speed_kn or 0.0) + 1.0)
    broken = _with_speeds(plan, tuple(faster if speed is speeds[0] else speed for speed in plan.speeds))
    return Broken(folder=folder, plan=broken, start=faster.start, says="ahead of the planned")


@fault("speeds")
def easing_for_nobody(folder: VoyageFolder, plan: Plan) -> Broken | None:
    broken = _eased(folder, plan, 7.0, hours=3)
    return Broken(folder=folder, plan=broken, by_min=180, says="no entry that may says")


@fault("speeds")
def easing_for_longer_than_allowed(folder: VoyageFolder, plan: Plan) -> Broken | None:
    broken = _eased(folder, plan, 7.0, hours=8)
    return Broken(folder=folder, plan=broken, says="6 h is the most")


@of_entry("speeds", lambda folder, entry: _at_sea(folder, entry))
def easing_for_a_could(folder: VoyageFolder, plan: Plan, entry: PlannedEntry) -> Broken | None:
    start = the(entry, "enter").start
    easing = Easing(start=start, end=start + HOUR, speed_kn=7.0, heaving_to=False, because="")
    broken = with_entry(plan, entry, easing=(easing,))
    lowly = with_asked(folder, entry, priority=3)
    return Broken(folder=lowly, plan=broken, entry=entry.entry, by_min=60, start=start, says="of priority 3")


@of_entry("speeds", lambda folder, entry: _at_sea(folder, entry))
def easing_that_the_speeds_do_not_show(folder: VoyageFolder, plan: Plan, entry: PlannedEntry) -> Broken | None:
    start = the(entry, "enter").start
    easing = Easing(start=start, end=start + HOUR, speed_kn=7.3, heaving_to=False, because="")
    broken = with_entry(plan, entry, easing=(easing,))
    return Broken(folder=folder, plan=broken, entry=entry.entry, start=start, says="say otherwise")


@fault("speeds")
def heaving_to_where_she_may_not(folder: VoyageFolder, plan: Plan) -> Broken | None:
    speed = plan.speeds[0]
    hove_to = replace(speed, end=speed.start + HOUR, heaving_to=True, speed_kn=folder.ship.hove_to_speed_kn)
    legs = tuple(replace(leg, may_heave_to=False) for leg in folder.legs)
    broken = _with_speeds(plan, (hove_to, replace(speed, start=hove_to.end), *plan.speeds[1:]))
    return Broken(folder=replace(folder, legs=legs), plan=broken, start=speed.start, says="where she may not")


@fault("window")
def a_fixed_operation_moved(folder: VoyageFolder, plan: Plan) -> Broken | None:
    fixed = next(o for o in folder.operations if o.start is not None)
    start = (fixed.start or folder.week.start) + 15 * MINUTE
    broken = with_operation_moved(plan, fixed.operation, start)
    return Broken(folder=folder, plan=broken, other=fixed.operation, by_min=15, start=start, says="is fixed")


@fault("window")
def a_movable_operation_outside_its_window(folder: VoyageFolder, plan: Plan) -> Broken | None:
    moving = next((o for o in folder.operations if o.movable and o.latest is not None), None)
    if moving is None or moving.latest is None:
        return None
    placed = next(p for p in plan.operations if p.operation == moving.operation)
    late = moving.latest - (placed.end - placed.start) + 11 * MINUTE
    broken = with_operation_moved(plan, moving.operation, late)
    return Broken(folder=folder, plan=broken, other=moving.operation, by_min=11, start=late, says="ends at")


@fault("window")
def a_movable_operation_cut_short(folder: VoyageFolder, plan: Plan) -> Broken | None:
    moving = next((o for o in folder.operations if o.movable), None)
    if moving is None:
        return None
    operations = tuple(
        replace(p, end=p.end - 9 * MINUTE) if p.operation == moving.operation else p for p in plan.operations
    )
    broken = replace(plan, operations=operations)
    return Broken(folder=folder, plan=broken, other=moving.operation, by_min=9, says="are asked for")


@fault("after")
def an_operation_before_the_one_that_it_follows(folder: VoyageFolder, plan: Plan) -> Broken | None:
    later = next((o for o in folder.operations if o.movable and o.after), None)
    if later is None:
        return None
    before = next(p for p in plan.operations if p.operation == later.after[0])
    broken = with_operation_moved(plan, later.operation, before.end - 13 * MINUTE)
    return Broken(folder=folder, plan=broken, other=later.operation, by_min=13, says=f"before {before.operation}")


@fault("counts")
def an_entry_that_vanished(folder: VoyageFolder, plan: Plan) -> Broken | None:
    gone = plan.entries[0]
    return Broken(folder=folder, plan=replace(plan, entries=plan.entries[1:]), entry=gone.entry, says="stands 0 times")


@fault("counts")
def an_entry_that_stands_twice(folder: VoyageFolder, plan: Plan) -> Broken | None:
    twice = replace(plan, entries=(*plan.entries, plan.entries[0]))
    return Broken(folder=folder, plan=twice, entry=plan.entries[0].entry, says="stands 2 times")


@fault("counts")
def an_entry_that_nobody_asked_for(folder: VoyageFolder, plan: Plan) -> Broken | None:
    ghost = replace(plan.entries[0], entry="GHOST")
    more = replace(plan, entries=(*plan.entries, ghost))
    return Broken(folder=folder, plan=more, entry="GHOST", says="nobody asked for it")


@fault("counts")
def a_space_other_than_asked(folder: VoyageFolder, plan: Plan) -> Broken | None:
    entry = next(planned(plan))
    other = next(space.space for space in folder.spaces if space.space != entry.space)
    broken = with_entry(plan, entry, space=other)
    return Broken(folder=folder, plan=broken, entry=entry.entry, other=other, says="asked for in")


@fault("counts")
def an_entry_left_out_with_phases(folder: VoyageFolder, plan: Plan) -> Broken | None:
    entry = next(planned(plan))
    broken = with_entry(plan, entry, outcome="left out")
    return Broken(folder=folder, plan=broken, entry=entry.entry, says="is 'left out' and has")


@fault("counts")
def counts_that_do_not_add_up(folder: VoyageFolder, plan: Plan) -> Broken | None:
    entries = replace(plan.counts.entries, planned=plan.counts.entries.planned + 1)
    broken = replace(plan, counts=replace(plan.counts, entries=entries))
    return Broken(folder=folder, plan=broken, says="entries asked, planned")


@fault("counts")
def an_operation_that_vanished(folder: VoyageFolder, plan: Plan) -> Broken | None:
    gone = plan.operations[0]
    broken = replace(plan, operations=plan.operations[1:])
    return Broken(folder=folder, plan=broken, other=gone.operation, says="stands 0 times")


@fault("counts")
def rows_other_than_read(folder: VoyageFolder, plan: Plan) -> Broken | None:
    table, rows = next(iter(plan.counts.rows.items()))
    counted = {**plan.counts.rows, table: replace(rows, taken=rows.taken - 1)}
    broken = replace(plan, counts=replace(plan.counts, rows=counted))
    return Broken(folder=folder, plan=broken, other=table, says="rows read, taken, blank")


@fault("policy")
def another_policy_than_the_folders(folder: VoyageFolder, plan: Plan) -> Broken | None:
    broken = replace(plan, policy={**plan.policy, "test.valid_min": "55"})
    return Broken(folder=folder, plan=broken, other="test.valid_min", says="55")


@fault("policy")
def other_working_hours_than_the_folders(folder: VoyageFolder, plan: Plan) -> Broken | None:
    broken = replace(plan, policy={**plan.policy, "hours.work": "08:00-19:00"})
    return Broken(folder=folder, plan=broken, other="hours.work")


@fault("inputs")
def a_plan_of_other_inputs(folder: VoyageFolder, plan: Plan) -> Broken | None:
    other = Inputs(
        digest="0" * 64, forecast_digest=plan.inputs.forecast_digest, forecast_issued=None,
        rule_set=plan.inputs.rule_set,
    )  # fmt: skip
    return Broken(folder=folder, plan=replace(plan, inputs=other), says="the plan was made from inputs 000000000000")


@fault("week")
def a_plan_of_another_week(folder: VoyageFolder, plan: Plan) -> Broken | None:
    broken = replace(plan, week_start=plan.week_start + timedelta(days=1))
    return Broken(folder=folder, plan=broken, start=broken.week_start, says="the week is")


@of_entry("week")
def a_phase_before_the_week(folder: VoyageFolder, plan: Plan, entry: PlannedEntry) -> Broken | None:
    start = folder.week.start - MINUTE
    broken = with_phase(plan, entry, the(entry, "brief"), start=start)
    return Broken(folder=folder, plan=broken, entry=entry.entry, start=start, says="leaves the week")


def _with_speeds(plan: Plan, speeds: tuple[PlannedSpeed, ...]) -> Plan:
    return replace(plan, speeds=speeds)


def _at_speed(folder: VoyageFolder, plan: Plan, knots: float, says: str) -> Broken:
    speed = plan.speeds[0]
    hour = replace(speed, end=speed.start + HOUR, speed_kn=knots, heaving_to=False)
    broken = _with_speeds(plan, (hour, replace(speed, start=hour.end), *plan.speeds[1:]))
    return Broken(folder=folder, plan=broken, start=speed.start, says=says)


def _eased(folder: VoyageFolder, plan: Plan, knots: float, *, hours: int) -> Plan:
    """The last hours of the last passage slowed down."""
    leg = next(leg for leg in folder.legs if leg.kind == "passage" and leg.arrive_by is not None)
    speed = next(s for s in plan.speeds if leg.start <= s.start < leg.end and s.end - s.start > hours * HOUR)
    start = speed.start + HOUR
    pieces = (
        replace(speed, end=start), replace(speed, start=start, end=start + hours * HOUR, speed_kn=knots),
        replace(speed, start=start + hours * HOUR),
    )  # fmt: skip
    return _with_speeds(plan, tuple(p for s in plan.speeds for p in (pieces if s is speed else (s,))))


def _midnight(instant: datetime) -> float:
    """The longitude at which an instant is midnight by the sun, about."""
    hours = instant.hour + instant.minute / 60
    return (-15.0 * hours + 540.0) % 360.0 - 180.0


def _all_on_deck(folder: VoyageFolder, entry: PlannedEntry) -> bool:
    return all(o.on_weather_deck for o in folder.openings if o.space == entry.space)


def _in_port(folder: VoyageFolder, entry: PlannedEntry) -> bool:
    start = opened(entry)[0]
    return any(leg.kind in ("berth", "anchorage") and leg.start <= start < leg.end for leg in folder.legs)
