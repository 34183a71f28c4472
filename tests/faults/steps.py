"""Faults in the steps of an entry, its window, its permit and its hours."""

from __future__ import annotations

from dataclasses import replace

from scheduler.domain.crew import Duty
from scheduler.domain.folder import VoyageFolder
from scheduler.domain.plan import Plan, PlannedEntry
from tests.faults.breaking import (
    HOUR,
    MINUTE,
    Broken,
    fault,
    first,
    holding,
    of_entry,
    planned,
    priority,
    the,
    with_asked,
    with_entry,
    with_phase,
    without_night,
    without_phase,
)


@of_entry("fresh test")
def a_test_that_is_too_old(folder: VoyageFolder, plan: Plan, entry: PlannedEntry) -> Broken | None:
    session = the(entry, "enter")
    # Half an hour counts; 31 minutes after the test ended it is a minute too old.
    late = the(entry, "test").end + 31 * MINUTE
    broken = with_phase(plan, entry, session, start=late)
    return Broken(folder=folder, plan=broken, entry=entry.entry, start=late, by_min=1, says="old")


@of_entry("fresh test")
def a_test_a_minute_short(folder: VoyageFolder, plan: Plan, entry: PlannedEntry) -> Broken | None:
    test = the(entry, "test")
    # Ten minutes of settling and three levels of five: 25 minutes.
    broken = with_phase(plan, entry, test, end=test.start + 24 * MINUTE)
    return Broken(folder=folder, plan=broken, entry=entry.entry, start=test.start, by_min=1, says="25 min is needed")


@of_entry("fresh test")
def a_session_without_its_test(folder: VoyageFolder, plan: Plan, entry: PlannedEntry) -> Broken | None:
    broken = without_phase(plan, entry, the(entry, "test"))
    return Broken(folder=folder, plan=broken, entry=entry.entry, says="no test before it")


@of_entry("fresh test")
def a_gap_between_isolating_and_the_fans(folder: VoyageFolder, plan: Plan, entry: PlannedEntry) -> Broken | None:
    fans = the(entry, "ventilate")
    broken = with_phase(plan, entry, fans, start=fans.start + 15 * MINUTE)
    return Broken(folder=folder, plan=broken, entry=entry.entry, by_min=15, says="15 min after isolate ends")


@of_entry("fresh test")
def a_short_closing_up(folder: VoyageFolder, plan: Plan, entry: PlannedEntry) -> Broken | None:
    last = the(entry, "restore")
    broken = with_phase(plan, entry, last, end=last.end - 7 * MINUTE)
    return Broken(folder=folder, plan=broken, entry=entry.entry, by_min=7, start=last.start, says="restore")


@of_entry("fresh test", lambda folder, entry: len(entry.isolation) <= 3)
def a_short_isolation(folder: VoyageFolder, plan: Plan, entry: PlannedEntry) -> Broken | None:
    isolate = the(entry, "isolate")
    broken = with_phase(plan, entry, isolate, start=isolate.end - 44 * MINUTE)
    return Broken(folder=folder, plan=broken, entry=entry.entry, by_min=1, says="isolate")


@of_entry("fresh test")
def phases_on_top_of_one_another(folder: VoyageFolder, plan: Plan, entry: PlannedEntry) -> Broken | None:
    test = the(entry, "test")
    broken = with_phase(plan, entry, test, end=test.end + 20 * MINUTE)
    return Broken(folder=folder, plan=broken, entry=entry.entry, by_min=20, start=the(entry, "enter").start)


@of_entry("fresh test")
def a_phase_of_an_unknown_name(folder: VoyageFolder, plan: Plan, entry: PlannedEntry) -> Broken | None:
    broken = with_phase(plan, entry, the(entry, "test"), called="look inside")
    return Broken(folder=folder, plan=broken, entry=entry.entry, says="look inside")


@of_entry("fresh test")
def a_second_opening_up(folder: VoyageFolder, plan: Plan, entry: PlannedEntry) -> Broken | None:
    broken = with_entry(plan, entry, phases=(*entry.phases, the(entry, "isolate")))
    return Broken(folder=folder, plan=broken, entry=entry.entry, says="2 phases isolate")


@of_entry("fresh test")
def a_session_of_a_wrong_number(folder: VoyageFolder, plan: Plan, entry: PlannedEntry) -> Broken | None:
    broken = with_phase(plan, entry, the(entry, "enter"), session=4)
    return Broken(folder=folder, plan=broken, entry=entry.entry, says="numbered")


@of_entry("week")
def closing_up_after_the_week(folder: VoyageFolder, plan: Plan, entry: PlannedEntry) -> Broken | None:
    last, late = the(entry, "restore"), folder.week.end + MINUTE
    broken = with_phase(plan, entry, last, end=late)
    return Broken(folder=folder, plan=broken, entry=entry.entry, start=last.start, says="leaves the week")


@of_entry("window")
def an_entry_after_it_is_due(folder: VoyageFolder, plan: Plan, entry: PlannedEntry) -> Broken | None:
    due = the(entry, "enter", -1).end - 5 * MINUTE
    return Broken(folder=with_asked(folder, entry, due=due), plan=plan, entry=entry.entry, by_min=5, start=due)


@of_entry("window")
def an_entry_before_its_earliest(folder: VoyageFolder, plan: Plan, entry: PlannedEntry) -> Broken | None:
    start = the(entry, "isolate").start
    return Broken(
        folder=with_asked(folder, entry, earliest=start + MINUTE), plan=plan, entry=entry.entry, by_min=1, start=start
    )


@of_entry("window")
def an_entry_not_at_its_pinned_time(folder: VoyageFolder, plan: Plan, entry: PlannedEntry) -> Broken | None:
    start = the(entry, "enter").start
    return Broken(
        folder=with_asked(folder, entry, at=start - 15 * MINUTE), plan=plan, entry=entry.entry, by_min=15, start=start
    )


@fault("after")
def an_entry_before_the_one_that_it_waits_for(folder: VoyageFolder, plan: Plan) -> Broken | None:
    stays = sorted(planned(plan), key=lambda entry: the(entry, "isolate").start)
    if len(stays) < 2:
        return None
    early, late = stays[0], stays[-1]
    by = (the(late, "restore").end - the(early, "isolate").start) // MINUTE
    return Broken(
        folder=with_asked(folder, early, after=(late.entry,)), plan=plan, entry=early.entry, other=late.entry, by_min=by
    )


@fault("after")
def an_entry_whose_first_was_left_out(folder: VoyageFolder, plan: Plan) -> Broken | None:
    entry, out = first(plan), next((e for e in plan.entries if e.outcome == "left out"), None)
    if entry is None or out is None:
        return None
    return Broken(folder=with_asked(folder, entry, after=(out.entry,)), plan=plan, entry=entry.entry, other=out.entry)


@of_entry("permit")
def less_time_inside_than_asked_for(folder: VoyageFolder, plan: Plan, entry: PlannedEntry) -> Broken | None:
    session = the(entry, "enter", -1)
    broken = with_phase(plan, entry, session, end=session.end - 20 * MINUTE)
    return Broken(folder=folder, plan=broken, entry=entry.entry, by_min=20, says="was asked for")


@of_entry("permit")
def a_session_longer_than_the_limit(folder: VoyageFolder, plan: Plan, entry: PlannedEntry) -> Broken | None:
    session = the(entry, "enter", -1)
    broken = with_phase(plan, entry, session, end=session.start + 4 * HOUR + MINUTE)
    return Broken(folder=folder, plan=broken, entry=entry.entry, by_min=1, start=session.start, says="4 h is the most")


@of_entry("permit")
def a_permit_over_more_than_eight_hours(folder: VoyageFolder, plan: Plan, entry: PlannedEntry) -> Broken | None:
    session, test = the(entry, "enter", -1), the(entry, "test")
    end = test.start + 8 * HOUR + 10 * MINUTE
    broken = with_phase(plan, entry, session, end=end)
    return Broken(folder=folder, plan=broken, entry=entry.entry, says="the permit of")


@of_entry("permit", lambda folder, entry: sum(1 for phase in entry.phases if phase.phase == "enter") > 1)
def an_entry_divided_that_may_not_be(folder: VoyageFolder, plan: Plan, entry: PlannedEntry) -> Broken | None:
    return Broken(
        folder=with_asked(folder, entry, splittable=False), plan=plan, entry=entry.entry, says="may not be divided"
    )


@of_entry("permit", lambda folder, entry: sum(1 for phase in entry.phases if phase.phase == "enter") > 1)
def a_first_session_under_the_least(folder: VoyageFolder, plan: Plan, entry: PlannedEntry) -> Broken | None:
    return Broken(
        folder=with_asked(folder, entry, least_session_hours=3.5),
        plan=plan,
        entry=entry.entry,
        says="3.5 h is the least",
    )


@of_entry("permit")
def a_space_open_for_too_long(folder: VoyageFolder, plan: Plan, entry: PlannedEntry) -> Broken | None:
    begins = the(entry, "restore").end - 72 * HOUR - MINUTE
    broken = with_phase(plan, entry, the(entry, "ventilate"), start=begins)
    return Broken(folder=folder, plan=broken, entry=entry.entry, by_min=1, start=begins, says="is open for")


@of_entry("hours", lambda folder, entry: without_night(folder, entry))
def an_entry_that_begins_before_working_hours(folder: VoyageFolder, plan: Plan, entry: PlannedEntry) -> Broken | None:
    brief = the(entry, "brief")
    start = brief.start.replace(hour=3, minute=0)
    broken = with_phase(plan, entry, brief, start=start, end=start + 15 * MINUTE)
    return Broken(folder=folder, plan=broken, entry=entry.entry, by_min=15, start=start, says="outside working hours")


@of_entry("hours", lambda folder, entry: without_night(folder, entry))
def a_session_over_a_meal(folder: VoyageFolder, plan: Plan, entry: PlannedEntry) -> Broken | None:
    session = the(entry, "enter")
    shown = session.start - MINUTE * (session.start.hour * 60 + session.start.minute)
    noon = shown + 12 * HOUR - folder.clocks[0].offset
    broken = with_phase(plan, entry, session, start=noon - 30 * MINUTE, end=noon + 10 * MINUTE)
    return Broken(folder=folder, plan=broken, entry=entry.entry, says="in a meal")


@of_entry("hours", lambda folder, entry: priority(folder, entry) > 1)
def a_could_on_a_day_of_rest(folder: VoyageFolder, plan: Plan, entry: PlannedEntry) -> Broken | None:
    day = the(entry, "enter").start.date()
    week = replace(folder.week, rest_days=(day,))
    return Broken(folder=replace(folder, week=week), plan=plan, entry=entry.entry, says="on a day of rest")


@of_entry("hours")
def a_watch_just_after_a_session(folder: VoyageFolder, plan: Plan, entry: PlannedEntry) -> Broken | None:
    session = the(entry, "enter")
    person, start = holding(session, "attendant"), session.end + 14 * MINUTE
    watch = Duty(person=person, start=start, end=start + MINUTE, kind="watch")
    return Broken(
        folder=replace(folder, duties=(*folder.duties, watch)), plan=plan, entry=entry.entry, person=person, by_min=1,
        start=session.end, says="14 min before the watch",
    )  # fmt: skip


@of_entry("hours")
def three_sessions_a_day_for_one_person(folder: VoyageFolder, plan: Plan, entry: PlannedEntry) -> Broken | None:
    session = the(entry, "enter")
    extra = tuple(
        replace(session, start=session.start + n * 20 * MINUTE, end=session.start + (n * 20 + 10) * MINUTE)
        for n in range(3)
    )
    broken = with_entry(plan, entry, phases=(*(p for p in entry.phases if p is not session), *extra))
    return Broken(folder=folder, plan=broken, person=holding(session, "attendant"), says="3 sessions")
