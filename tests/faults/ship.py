"""Faults in what the rest of the ship does while a space is out of use."""

from __future__ import annotations

from dataclasses import replace

from scheduler.domain.folder import VoyageFolder
from scheduler.domain.operations import Content
from scheduler.domain.plan import Plan, PlannedEntry, Shut
from scheduler.domain.policy import Policy
from tests.faults.breaking import (
    HOUR,
    MINUTE,
    Broken,
    a_run,
    asked,
    fault,
    moved,
    of_entry,
    opened,
    planned,
    the,
    with_asked,
    with_entry,
    with_operation,
    with_operation_moved,
    with_phase,
)


@of_entry("cargo work", lambda folder, entry: folder.ship.is_tanker and _area(folder, entry) == "cargo")
def loading_while_a_space_of_the_cargo_area_is_open(
    folder: VoyageFolder, plan: Plan, entry: PlannedEntry
) -> Broken | None:
    tank, start = _cargo_tank(folder, entry), opened(entry)[1] + HOUR
    # A return line frees nothing here, and all must be closed two hours before the lines are set.
    run = a_run("load", start, start + HOUR, vapour="return line", spaces=(tank,))
    extra, broken = with_operation(folder, plan, run, start, start + HOUR)
    return Broken(folder=extra, plan=broken, entry=entry.entry, other="EXTRA", by_min=60, start=start - 2 * HOUR)


@of_entry("cargo work", lambda folder, entry: folder.ship.is_tanker and _area(folder, entry) == "cargo")
def inerting_while_a_space_of_the_cargo_area_is_open(
    folder: VoyageFolder, plan: Plan, entry: PlannedEntry
) -> Broken | None:
    tank, start = _cargo_tank(folder, entry), opened(entry)[1] - 7 * MINUTE
    extra, broken = with_operation(
        folder, plan, a_run("inert", start, start + HOUR, spaces=(tank,)), start, start + HOUR
    )
    return Broken(folder=extra, plan=broken, entry=entry.entry, other="EXTRA", by_min=7, start=start)


@of_entry("lines", lambda folder, entry: bool(entry.isolation))
def a_device_missing_from_the_isolation(folder: VoyageFolder, plan: Plan, entry: PlannedEntry) -> Broken | None:
    broken = with_entry(plan, entry, isolation=entry.isolation[1:])
    return Broken(folder=folder, plan=broken, entry=entry.entry, says=f"still reaches {entry.space}")


@of_entry("lines")
def a_device_that_the_ship_has_not(folder: VoyageFolder, plan: Plan, entry: PlannedEntry) -> Broken | None:
    ghost = Shut(device="NO-SUCH", action="close", because="", tell="")
    broken = with_entry(plan, entry, isolation=(*entry.isolation, ghost))
    return Broken(folder=folder, plan=broken, entry=entry.entry, other="NO-SUCH", says="no lockable device")


@of_entry("lines", lambda folder, entry: bool(entry.isolation))
def a_device_that_cannot_be_locked(folder: VoyageFolder, plan: Plan, entry: PlannedEntry) -> Broken | None:
    name = entry.isolation[0].device
    lines = tuple(replace(p, lockable=False) if p.device_id == name else p for p in folder.lines)
    return Broken(folder=replace(folder, lines=lines), plan=plan, entry=entry.entry, other=name, says="lockable")


@of_entry("lines", lambda folder, entry: bool(entry.isolation))
def an_operation_that_needs_a_shut_valve(folder: VoyageFolder, plan: Plan, entry: PlannedEntry) -> Broken | None:
    name, start = entry.isolation[0].device, the(entry, "isolate").start
    run = a_run("stores", start - HOUR, start + MINUTE, lines=(name,))
    extra, broken = with_operation(folder, plan, run, start - HOUR, start + MINUTE)
    return Broken(folder=extra, plan=broken, entry=entry.entry, other="EXTRA", by_min=1, start=start, says=name)


@of_entry("lines")
def an_operation_on_the_space_itself(folder: VoyageFolder, plan: Plan, entry: PlannedEntry) -> Broken | None:
    end = the(entry, "restore").end
    run = a_run("gauging", end - 3 * MINUTE, end + HOUR, spaces=(entry.space,))
    extra, broken = with_operation(folder, plan, run, end - 3 * MINUTE, end + HOUR)
    return Broken(folder=extra, plan=broken, entry=entry.entry, other="EXTRA", by_min=3, says=f"works on {entry.space}")


@of_entry("contents")
def a_space_that_is_not_gas_free(folder: VoyageFolder, plan: Plan, entry: PlannedEntry) -> Broken | None:
    contents = (*(c for c in folder.contents if c.space != entry.space), Content(space=entry.space, state="inerted"))
    # Only what happens to the space in the week could help, so nothing may name it.
    operations = tuple(o for o in folder.operations if entry.space not in o.spaces)
    return Broken(
        folder=replace(folder, contents=contents, operations=operations), plan=plan, entry=entry.entry,
        start=the(entry, "isolate").start, says="'inerted' as the week begins",
    )  # fmt: skip


@of_entry("contents")
def a_space_of_which_nothing_is_said(folder: VoyageFolder, plan: Plan, entry: PlannedEntry) -> Broken | None:
    contents = tuple(c for c in folder.contents if c.space != entry.space)
    operations = tuple(o for o in folder.operations if entry.space not in o.spaces)
    return Broken(
        folder=replace(folder, contents=contents, operations=operations), plan=plan, entry=entry.entry, says="'unknown'"
    )


@fault("contents")
def a_tank_entered_before_it_is_pumped_out(folder: VoyageFolder, plan: Plan) -> Broken | None:
    for entry in planned(plan):
        outs = [o for o in folder.operations if o.kind == "ballast out" and o.movable and entry.space in o.spaces]
        if outs:
            late = the(entry, "isolate").start + 4 * HOUR
            broken = with_operation_moved(plan, outs[0].operation, late)
            return Broken(folder=folder, plan=broken, entry=entry.entry, other=entry.space, says="'ballast'")
    return None


@fault("condition")
def a_set_that_the_condition_does_not_list(folder: VoyageFolder, plan: Plan) -> Broken | None:
    for entry in planned(plan):
        outs = [o for o in folder.operations if o.kind == "ballast out" and entry.space in o.spaces]
        if outs:
            struck = tuple(replace(row, may_be_empty=()) for row in folder.conditions)
            return Broken(
                folder=replace(folder, conditions=struck), plan=plan, entry=entry.entry,
                start=the(entry, "isolate").start, says="does not list",
            )  # fmt: skip
    return None


@fault("condition")
def two_pairs_empty_in_one_night(folder: VoyageFolder, plan: Plan) -> Broken | None:
    out = next((o for o in folder.operations if o.kind == "ballast out" and o.movable), None)
    other = next(
        (s.space for s in folder.spaces if s.kind == "ballast tank" and out and s.space not in out.spaces), None
    )
    if out is None or other is None:
        return None
    placed = next(p for p in plan.operations if p.operation == out.operation)
    rows = tuple(
        replace(row, full=(*row.full, other), may_be_empty=(*row.may_be_empty, frozenset({other})))
        for row in folder.conditions
    )
    run = a_run("ballast out", placed.start, placed.end, spaces=(other,))
    extra, broken = with_operation(replace(folder, conditions=rows), plan, run, placed.start, placed.end)
    return Broken(folder=extra, plan=broken, other="EXTRA", start=placed.start, says="together have")


@fault("condition")
def a_tank_empty_in_a_sea_above_the_limit(folder: VoyageFolder, plan: Plan) -> Broken | None:
    out = next((o for o in folder.operations if o.kind == "ballast out" and o.movable), None)
    if out is None:
        return None
    rows = tuple(replace(row, sea_limit_m=0.1) for row in folder.conditions)
    placed = next(p for p in plan.operations if p.operation == out.operation)
    return Broken(
        folder=replace(folder, conditions=rows), plan=plan, other=out.operation, start=placed.start, says="0.1 m"
    )


@of_entry("profile")
def an_entrance_of_another_space(folder: VoyageFolder, plan: Plan, entry: PlannedEntry) -> Broken | None:
    other = next(o.opening for o in folder.openings if o.space != entry.space)
    session = the(entry, "enter")
    broken = with_phase(plan, entry, session, entrance=other)
    return Broken(folder=folder, plan=broken, entry=entry.entry, start=session.start, says=f"by '{other}'")


@of_entry("profile")
def a_space_without_a_way_in(folder: VoyageFolder, plan: Plan, entry: PlannedEntry) -> Broken | None:
    openings = tuple(o for o in folder.openings if o.space != entry.space)
    return Broken(folder=replace(folder, openings=openings), plan=plan, entry=entry.entry, says="no way into")


@of_entry("next space", lambda folder, entry: bool(_neighbour(folder, entry)))
def ballast_next_door_while_people_are_inside(folder: VoyageFolder, plan: Plan, entry: PlannedEntry) -> Broken | None:
    session, near = the(entry, "enter"), _neighbour(folder, entry)
    run = a_run("ballast in", session.end - 4 * MINUTE, session.end + HOUR, spaces=(near,))
    extra, broken = with_operation(folder, plan, run, session.end - 4 * MINUTE, session.end + HOUR)
    return Broken(folder=extra, plan=broken, entry=entry.entry, other="EXTRA", by_min=4, says=near)


@of_entry("next space", lambda folder, entry: bool(_neighbour(folder, entry)))
def a_space_in_no_row_of_neighbours_is_next_to_all(
    folder: VoyageFolder, plan: Plan, entry: PlannedEntry
) -> Broken | None:
    session = the(entry, "enter")
    far = next(s.space for s in folder.spaces if s.space not in (entry.space, _neighbour(folder, entry)))
    contacts = tuple(c for c in folder.neighbours if far not in (c.space, c.neighbour))
    run = a_run("ballast out", session.start, session.start + 2 * MINUTE, spaces=(far,))
    extra, broken = with_operation(
        replace(folder, neighbours=contacts), plan, run, session.start, session.start + 2 * MINUTE
    )
    return Broken(folder=extra, plan=broken, entry=entry.entry, other="EXTRA", by_min=2)


@of_entry("ship handling")
def stations_an_hour_after_closing_up(folder: VoyageFolder, plan: Plan, entry: PlannedEntry) -> Broken | None:
    start = opened(entry)[1] + HOUR
    extra, broken = with_operation(folder, plan, a_run("stations", start, start + HOUR), start, start + HOUR)
    # Two hours before stations all is closed; one was left.
    return Broken(folder=extra, plan=broken, entry=entry.entry, other="EXTRA", by_min=60, start=start - 2 * HOUR)


@of_entry("ship handling")
def a_drill_while_a_space_is_open(folder: VoyageFolder, plan: Plan, entry: PlannedEntry) -> Broken | None:
    start = opened(entry)[0] + 30 * MINUTE
    end = start + 20 * MINUTE
    extra, broken = with_operation(folder, plan, a_run("drill", start, end), start, end)
    return Broken(folder=extra, plan=broken, entry=entry.entry, other="EXTRA", by_min=20, start=start)


@of_entry("ship handling")
def a_standing_order_against_entries(folder: VoyageFolder, plan: Plan, entry: PlannedEntry) -> Broken | None:
    start = opened(entry)[1] - 5 * MINUTE
    run = a_run("other", start, start + HOUR, bars="entries")
    extra, broken = with_operation(folder, plan, run, start, start + HOUR)
    return Broken(folder=extra, plan=broken, entry=entry.entry, other="EXTRA", by_min=5, says="standing order")


@of_entry("ship handling")
def restricted_waters(folder: VoyageFolder, plan: Plan, entry: PlannedEntry) -> Broken | None:
    start, _ = opened(entry)
    leg = next(leg for leg in folder.legs if leg.start <= start < leg.end)
    legs = tuple(replace(one, restricted=True) if one is leg else one for one in folder.legs)
    return Broken(folder=replace(folder, legs=legs), plan=plan, entry=entry.entry, other=leg.leg, start=start)


@of_entry("ship handling", lambda folder, entry: asked(folder, entry).work != "hot work")
def bunkers_beside_a_space(folder: VoyageFolder, plan: Plan, entry: PlannedEntry) -> Broken | None:
    end = opened(entry)[1]
    run = a_run("bunkering", end - 6 * MINUTE, end + HOUR, spaces=(entry.space,))
    extra, broken = with_operation(folder, plan, run, end - 6 * MINUTE, end + HOUR)
    return Broken(folder=extra, plan=broken, entry=entry.entry, other="EXTRA", by_min=6, says="bunkering")


@fault("at once")
def two_manned_spaces(folder: VoyageFolder, plan: Plan) -> Broken | None:
    stays = list(planned(plan))
    if len(stays) < 2:
        return None
    one, two = stays[0], stays[1]
    gone = moved(plan, two, the(one, "test").start - the(two, "test").start)
    return Broken(
        folder=folder, plan=gone, entry=one.entry, other=two.entry, start=the(one, "test").start, says="are manned"
    )


@fault("at once")
def more_open_spaces_than_allowed(folder: VoyageFolder, plan: Plan) -> Broken | None:
    entry = next(planned(plan), None)
    if entry is None:
        return None
    tight = Policy(overrides={**folder.policy.overrides, "at_once.open": 0})
    return Broken(folder=replace(folder, policy=tight), plan=plan, says="0 is the most")


@fault("lines")
def two_entries_in_one_space_at_one_time(folder: VoyageFolder, plan: Plan) -> Broken | None:
    stays = list(planned(plan))
    if len(stays) < 2:
        return None
    one, two = stays[0], stays[1]
    gone = moved(plan, two, opened(one)[0] - opened(two)[0])
    both = with_asked(folder, two, space=one.space)
    return Broken(folder=both, plan=gone, entry=one.entry, other=two.entry, says="out of use at one time")


@of_entry("visitors", lambda folder, entry: bool(asked(folder, entry).needs))
def a_surveyor_who_has_left(folder: VoyageFolder, plan: Plan, entry: PlannedEntry) -> Broken | None:
    session = the(entry, "enter", -1)
    visitors = tuple(replace(v, until=session.end - 8 * MINUTE) for v in folder.visitors)
    name = asked(folder, entry).needs[0]
    return Broken(folder=replace(folder, visitors=visitors), plan=plan, entry=entry.entry, person=name, by_min=8)


@of_entry("visitors", lambda folder, entry: bool(asked(folder, entry).needs))
def a_surveyor_straight_from_the_launch(folder: VoyageFolder, plan: Plan, entry: PlannedEntry) -> Broken | None:
    session, name = the(entry, "enter"), asked(folder, entry).needs[0]
    visitors = tuple(replace(v, from_=session.start - 59 * MINUTE) for v in folder.visitors)
    return Broken(
        folder=replace(folder, visitors=visitors), plan=plan, entry=entry.entry, person=name, by_min=1,
        start=session.start,
    )  # fmt: skip


@of_entry("visitors", lambda folder, entry: bool(asked(folder, entry).needs))
def a_visitor_whom_the_plan_forgets(folder: VoyageFolder, plan: Plan, entry: PlannedEntry) -> Broken | None:
    name = asked(folder, entry).needs[0]
    return Broken(folder=folder, plan=replace(plan, visitors=()), entry=entry.entry, person=name, says="does not say")


def _cargo_tank(folder: VoyageFolder, entry: PlannedEntry) -> str:
    return next(s.space for s in folder.spaces if s.kind == "cargo tank" and s.space != entry.space)


def _area(folder: VoyageFolder, entry: PlannedEntry) -> str:
    return next(space.area for space in folder.spaces if space.space == entry.space)


def _neighbour(folder: VoyageFolder, entry: PlannedEntry) -> str:
    pairs = ((c.space, c.neighbour) for c in folder.neighbours)
    return next((two if one == entry.space else one for one, two in pairs if entry.space in (one, two)), "")
