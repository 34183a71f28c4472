"""Faults in rest, gear and fans."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

from scheduler.domain.crew import Duty
from scheduler.domain.folder import VoyageFolder
from scheduler.domain.plan import Held, Plan, PlannedEntry
from tests.faults.breaking import (
    HOUR,
    MINUTE,
    Broken,
    fault,
    first,
    holding,
    of_entry,
    the,
    with_entry,
    with_phase,
)


@of_entry("rest")
def work_through_the_night(folder: VoyageFolder, plan: Plan, entry: PlannedEntry) -> Broken | None:
    session = the(entry, "enter")
    person, start = holding(session, "attendant"), session.end - 15 * HOUR
    duty = Duty(person=person, start=start, end=session.start, kind="day work")
    return Broken(
        folder=replace(folder, duties=(*folder.duties, duty)), plan=plan, entry=entry.entry, person=person,
        says="without a rest",
    )  # fmt: skip


@of_entry("rest")
def a_call_that_would_break_a_rest(folder: VoyageFolder, plan: Plan, entry: PlannedEntry) -> Broken | None:
    session = the(entry, "enter")
    person = holding(session, "rescue on call")
    # Fourteen hours of work end where the session begins, so only rest may follow.
    duties = (
        *(duty for duty in folder.duties if duty.person != person),
        Duty(person=person, start=session.start - 14 * HOUR, end=session.start, kind="day work"),
    )
    return Broken(
        folder=replace(folder, duties=duties), plan=plan, entry=entry.entry, person=person, says="were the call to come"
    )


@fault("rest")
def a_figure_of_rest_that_is_not_so(folder: VoyageFolder, plan: Plan) -> Broken | None:
    row = next((row for row in plan.rest if row.least_24h is not None), None)
    if row is None or row.least_24h is None:
        return None
    rows = tuple(replace(r, least_24h=round(row.least_24h + 0.25, 2)) if r is row else r for r in plan.rest)
    return Broken(folder=folder, plan=replace(plan, rest=rows), person=row.person, says="least rest in 24 h")


@fault("rest")
def a_verdict_that_is_not_so(folder: VoyageFolder, plan: Plan) -> Broken | None:
    rows = (replace(plan.rest[0], verdict="broken" if plan.rest[0].verdict != "broken" else "kept"), *plan.rest[1:])
    return Broken(folder=folder, plan=replace(plan, rest=rows), person=plan.rest[0].person, says="it is")


@fault("rest")
def somebody_without_a_row_of_rest(folder: VoyageFolder, plan: Plan) -> Broken | None:
    return Broken(folder=folder, plan=replace(plan, rest=plan.rest[1:]), person=plan.rest[0].person, says="0 rows")


@of_entry("rest")
def an_early_duty_without_past_hours(folder: VoyageFolder, plan: Plan, entry: PlannedEntry) -> Broken | None:
    isolate = the(entry, "isolate")
    person = holding(isolate, "officer in charge")
    early = with_phase(plan, entry, isolate, start=folder.week.start + 9 * HOUR)
    past = tuple(hours for hours in folder.past_hours if hours.person != person)
    return Broken(
        folder=replace(folder, past_hours=past), plan=early, entry=entry.entry, person=person, by_min=60,
        says="without past hours",
    )  # fmt: skip


@of_entry("gear", lambda folder, entry: any(h.gear for h in the(entry, "ventilate").gear))
def more_fans_than_there_are(folder: VoyageFolder, plan: Plan, entry: PlannedEntry) -> Broken | None:
    name = the(entry, "ventilate").gear[0].gear
    gear = tuple(replace(g, count=0) if g.gear == name else g for g in folder.gear)
    return Broken(folder=replace(folder, gear=gear), plan=plan, entry=entry.entry, other=name, says="there are 0")


@of_entry("gear")
def an_instrument_out_of_date(folder: VoyageFolder, plan: Plan, entry: PlannedEntry) -> Broken | None:
    test = the(entry, "test")
    names = {g.gear for g in folder.gear if g.kind == "gas instrument"}
    used = next(held.gear for held in test.gear if held.gear in names)
    due = test.start.date() - timedelta(days=2)
    gear = tuple(replace(g, due=due) if g.gear == used else g for g in folder.gear)
    return Broken(
        folder=replace(folder, gear=gear),
        plan=plan,
        entry=entry.entry,
        other=used,
        start=test.start,
        says="out of date",
    )


@of_entry("gear")
def an_instrument_that_does_not_measure_carbon_dioxide(
    folder: VoyageFolder, plan: Plan, entry: PlannedEntry
) -> Broken | None:
    gear = tuple(
        replace(g, measures=tuple(gas for gas in g.measures if gas != "co2")) if g.kind == "gas instrument" else g
        for g in folder.gear
    )
    return Broken(folder=replace(folder, gear=gear), plan=plan, entry=entry.entry, other="co2", says="measures co2")


@of_entry("gear", lambda folder, entry: bool(the(entry, "ventilate").gear))
def fans_taken_away_before_the_session(folder: VoyageFolder, plan: Plan, entry: PlannedEntry) -> Broken | None:
    session, fans = the(entry, "enter"), {g.gear for g in folder.gear if g.kind == "fan"}
    kept = tuple(held for held in session.gear if held.gear not in fans)
    broken = with_phase(plan, entry, session, gear=kept)
    return Broken(folder=folder, plan=broken, entry=entry.entry, start=session.start, says="from the start")


@of_entry("gear")
def gear_that_is_not_aboard(folder: VoyageFolder, plan: Plan, entry: PlannedEntry) -> Broken | None:
    session = the(entry, "enter")
    broken = with_phase(plan, entry, session, gear=(*session.gear, Held(gear="LADDER", count=1)))
    return Broken(folder=folder, plan=broken, entry=entry.entry, other="LADDER", says="not on the list")


@of_entry("gear")
def no_breathing_set_at_the_entrance(folder: VoyageFolder, plan: Plan, entry: PlannedEntry) -> Broken | None:
    session, sets = the(entry, "enter"), {g.gear for g in folder.gear if g.kind == "breathing set"}
    broken = with_phase(plan, entry, session, gear=tuple(held for held in session.gear if held.gear not in sets))
    return Broken(folder=folder, plan=broken, entry=entry.entry, start=session.start, says="has 0 breathing set")


@of_entry("air")
def fans_for_too_short_a_time(folder: VoyageFolder, plan: Plan, entry: PlannedEntry) -> Broken | None:
    fans = the(entry, "ventilate")
    broken = with_phase(plan, entry, fans, start=fans.end - 10 * MINUTE)
    return Broken(folder=folder, plan=broken, entry=entry.entry, start=fans.end - 10 * MINUTE, says="are needed")


@fault("air")
def other_fans_than_the_air_says(folder: VoyageFolder, plan: Plan) -> Broken | None:
    entry = first(plan, lambda entry: entry.air is not None and bool(entry.air.fans))
    if entry is None or entry.air is None:
        return None
    air = replace(entry.air, fans=(replace(entry.air.fans[0], count=entry.air.fans[0].count + 1),))
    return Broken(folder=folder, plan=with_entry(plan, entry, air=air), entry=entry.entry, says="as held")


@of_entry("air", lambda folder, entry: entry.air is not None and bool(entry.air.fans))
def a_space_whose_volume_nobody_knows(folder: VoyageFolder, plan: Plan, entry: PlannedEntry) -> Broken | None:
    spaces = tuple(replace(s, volume_m3=None) if s.space == entry.space else s for s in folder.spaces)
    return Broken(folder=replace(folder, spaces=spaces), plan=plan, entry=entry.entry, says="volume_m3")
