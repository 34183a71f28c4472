"""Faults in who does what, and where else they are."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

from scheduler.domain.crew import Duty
from scheduler.domain.folder import VoyageFolder
from scheduler.domain.plan import Named, Plan, PlannedEntry
from tests.faults.breaking import (
    HOUR,
    MINUTE,
    Broken,
    a_run,
    fault,
    first,
    holding,
    instead,
    moved,
    of_entry,
    planned,
    the,
    with_asked,
    with_operation,
    with_person,
    with_phase,
)


@of_entry("people")
def somebody_who_is_not_aboard(folder: VoyageFolder, plan: Plan, entry: PlannedEntry) -> Broken | None:
    session = the(entry, "enter")
    people = instead(session.people, holding(session, "entrant"), "NOBODY")
    broken = with_phase(plan, entry, session, people=people)
    return Broken(folder=folder, plan=broken, entry=entry.entry, person="NOBODY", says="not in the crew list")


@of_entry("people")
def an_entrant_who_is_not_able(folder: VoyageFolder, plan: Plan, entry: PlannedEntry) -> Broken | None:
    person = holding(the(entry, "enter"), "entrant")
    return Broken(
        folder=with_person(folder, person, able=("rigging",)),
        plan=plan,
        entry=entry.entry,
        person=person,
        says="not able to be entrant",
    )


@of_entry("people")
def an_old_drill(folder: VoyageFolder, plan: Plan, entry: PlannedEntry) -> Broken | None:
    person = holding(the(entry, "enter"), "rescue on call")
    # A drill on the last day of a month three months back is over by any day of this one.
    day = folder.week.start.date().replace(day=1) - timedelta(days=62)
    return Broken(
        folder=with_person(folder, person, last_drill=day),
        plan=plan,
        entry=entry.entry,
        person=person,
        says="without a drill",
    )


@of_entry("people")
def no_drill_at_all(folder: VoyageFolder, plan: Plan, entry: PlannedEntry) -> Broken | None:
    person = holding(the(entry, "isolate"), "rigging")
    return Broken(
        folder=with_person(folder, person, last_drill=None), plan=plan, entry=entry.entry, person=person, says="no date"
    )


@of_entry("people")
def somebody_who_joined_the_same_morning(folder: VoyageFolder, plan: Plan, entry: PlannedEntry) -> Broken | None:
    test = the(entry, "test")
    person, joins = holding(test, "officer in charge"), test.start - 23 * HOUR
    return Broken(
        folder=with_person(folder, person, joins=joins), plan=plan, entry=entry.entry, person=person, start=test.start,
        by_min=60, says="too soon",
    )  # fmt: skip


@of_entry("people")
def somebody_who_has_left(folder: VoyageFolder, plan: Plan, entry: PlannedEntry) -> Broken | None:
    session = the(entry, "enter", -1)
    person = holding(session, "entrant")
    return Broken(
        folder=with_person(folder, person, leaves=session.end - 3 * MINUTE),
        plan=plan,
        entry=entry.entry,
        person=person,
        by_min=3,
    )


@of_entry("people")
def an_attendant_on_watch(folder: VoyageFolder, plan: Plan, entry: PlannedEntry) -> Broken | None:
    session = the(entry, "enter")
    person = holding(session, "attendant")
    watch = Duty(person=person, start=session.start, end=session.start + 9 * MINUTE, kind="watch")
    return Broken(
        folder=replace(folder, duties=(*folder.duties, watch)), plan=plan, entry=entry.entry, person=person, by_min=9,
        start=session.start, says="while on watch",
    )  # fmt: skip


@of_entry("people")
def rescue_on_call_on_watch(folder: VoyageFolder, plan: Plan, entry: PlannedEntry) -> Broken | None:
    session = the(entry, "enter")
    person = holding(session, "rescue on call")
    watch = Duty(person=person, start=session.end - MINUTE, end=session.end, kind="sole watch")
    return Broken(
        folder=replace(folder, duties=(*folder.duties, watch)), plan=plan, entry=entry.entry, person=person, by_min=1
    )


@of_entry("people")
def one_person_alone_inside(folder: VoyageFolder, plan: Plan, entry: PlannedEntry) -> Broken | None:
    session = the(entry, "enter")
    alone = holding(session, "entrant")
    people = tuple(named for named in session.people if named.duty != "entrant" or named.person == alone)
    broken = with_phase(plan, entry, session, people=people)
    return Broken(folder=folder, plan=broken, entry=entry.entry, start=session.start, says="has 1 entrant")


@fault("people")
def no_attendant(folder: VoyageFolder, plan: Plan) -> Broken | None:
    return _without(folder, plan, "enter", "attendant", "has 0 attendant")


@of_entry("people")
def a_rescue_team_of_three(folder: VoyageFolder, plan: Plan, entry: PlannedEntry) -> Broken | None:
    session = the(entry, "enter")
    out = holding(session, "rescue on call")
    broken = with_phase(plan, entry, session, people=tuple(n for n in session.people if n.person != out))
    return Broken(folder=folder, plan=broken, entry=entry.entry, start=session.start, says="has 3 people")


@fault("people")
def nobody_to_open_up(folder: VoyageFolder, plan: Plan) -> Broken | None:
    return _without(folder, plan, "ventilate", "rigging", "has 0 rigging")


@fault("people")
def no_gas_tester(folder: VoyageFolder, plan: Plan) -> Broken | None:
    return _without(folder, plan, "test", "gas tester", "has 0 gas tester")


@of_entry("people")
def two_officers_in_charge(folder: VoyageFolder, plan: Plan, entry: PlannedEntry) -> Broken | None:
    session = the(entry, "enter")
    two = replace(session, people=(*session.people, Named(person="OTHER", duty="officer in charge")))
    broken = with_phase(plan, entry, session, people=two.people)
    return Broken(folder=folder, plan=broken, entry=entry.entry, says="2 officers in charge")


@of_entry("people")
def another_officer_for_the_session_than_for_its_test(
    folder: VoyageFolder, plan: Plan, entry: PlannedEntry
) -> Broken | None:
    session = the(entry, "enter")
    people = instead(session.people, holding(session, "officer in charge"), "OTHER")
    broken = with_phase(plan, entry, session, people=people)
    return Broken(folder=folder, plan=broken, entry=entry.entry, start=session.start, says="one officer is needed")


@of_entry("people")
def an_officer_of_the_wrong_department(folder: VoyageFolder, plan: Plan, entry: PlannedEntry) -> Broken | None:
    person = holding(the(entry, "enter"), "officer in charge")
    return Broken(
        folder=with_person(folder, person, department="catering"),
        plan=plan,
        entry=entry.entry,
        person=person,
        says="catering department",
    )


@of_entry("people")
def an_officer_in_charge_who_goes_inside(folder: VoyageFolder, plan: Plan, entry: PlannedEntry) -> Broken | None:
    session = the(entry, "enter")
    person = holding(session, "officer in charge")
    people = (*session.people, Named(person=person, duty="entrant"))
    broken = with_phase(plan, entry, session, people=people)
    return Broken(folder=folder, plan=broken, entry=entry.entry, person=person, says="at one time in enter")


@of_entry("people")
def somebody_who_missed_the_briefing(folder: VoyageFolder, plan: Plan, entry: PlannedEntry) -> Broken | None:
    out, test = holding(the(entry, "enter"), "rescue on call"), the(entry, "test")
    brief = [found for found in entry.phases if found.phase == "brief" and found.end <= test.start][-1]
    broken = with_phase(plan, entry, brief, people=tuple(n for n in brief.people if n.person != out))
    return Broken(folder=folder, plan=broken, entry=entry.entry, person=out, start=brief.start, says="misses")


@of_entry("people")
def an_entrant_whom_the_entry_does_not_name(folder: VoyageFolder, plan: Plan, entry: PlannedEntry) -> Broken | None:
    person, other = holding(the(entry, "enter"), "entrant"), holding(the(entry, "enter"), "attendant")
    return Broken(
        folder=with_asked(folder, entry, only=(other,)), plan=plan, entry=entry.entry, person=person, says="others only"
    )


@fault("people")
def one_person_in_two_entries(folder: VoyageFolder, plan: Plan) -> Broken | None:
    stays = list(planned(plan))
    if len(stays) < 2:
        return None
    one, two = stays[0], stays[1]
    gone = moved(plan, two, the(one, "enter").start - the(two, "enter").start)
    shared = {n.person for n in the(one, "enter").people} & {n.person for n in the(two, "enter").people}
    working = [n.person for n in the(one, "enter").people if n.person in shared and n.duty != "rescue on call"]
    if not working:
        return None
    by = min(the(one, "enter").end - the(one, "enter").start, the(two, "enter").end - the(two, "enter").start)
    return Broken(folder=folder, plan=gone, person=working[0], by_min=by // MINUTE, says="at one time")


@fault("people")
def one_rescue_team_for_two_manned_entries(folder: VoyageFolder, plan: Plan) -> Broken | None:
    stays = list(planned(plan))
    if len(stays) < 2:
        return None
    one, two = stays[0], stays[1]
    called = {n.person for n in the(one, "enter").people if n.duty == "rescue on call"}
    both = sorted(called & {n.person for n in the(two, "enter").people if n.duty == "rescue on call"})
    if not both:
        return None
    gone = moved(plan, two, the(one, "enter").start - the(two, "enter").start)
    return Broken(folder=folder, plan=gone, person=both[0], says="rescue on call in enter")


@of_entry("people")
def a_rescuer_held_by_an_operation(folder: VoyageFolder, plan: Plan, entry: PlannedEntry) -> Broken | None:
    session = the(entry, "enter")
    person = holding(session, "rescue on call")
    run = a_run("other", session.start, session.start + 12 * MINUTE, people=(("rescue", 1),))
    extra, broken = with_operation(
        folder, plan, run, session.start, session.start + 12 * MINUTE, (Named(person=person, duty="rescue"),)
    )
    return Broken(folder=extra, plan=broken, person=person, by_min=12, says="run of EXTRA")


@fault("people")
def a_movable_operation_without_its_people(folder: VoyageFolder, plan: Plan) -> Broken | None:
    moving = next((o for o in folder.operations if o.movable), None)
    if moving is None:
        return None
    operations = tuple(replace(o, people=(("cargo watch", 30),)) if o is moving else o for o in folder.operations)
    return Broken(folder=replace(folder, operations=operations), plan=plan, other=moving.operation, says="30 needed")


def _without(folder: VoyageFolder, plan: Plan, phase: str, duty: str, says: str) -> Broken | None:
    entry = first(plan)
    if entry is None:
        return None
    found = the(entry, phase)
    broken = with_phase(plan, entry, found, people=tuple(named for named in found.people if named.duty != duty))
    return Broken(folder=folder, plan=broken, entry=entry.entry, start=found.start, says=says)
