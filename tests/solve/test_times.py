"""The week's times: one small problem for each constraint, its best answer reasoned in words."""

from __future__ import annotations

import time

from scheduler.solve.outcome import LevelFound, Timed
from scheduler.solve.problem import Apart, Cap, Hour, Job, Order, Passage, Problem, Stretch, Way
from scheduler.solve.search import Budget, best_times
from tests.solve.made import DAY, a_problem, a_task


def solved(problem: Problem) -> tuple[Timed, dict[str, LevelFound]]:
    budget = Budget(seconds=10, guard_until=time.monotonic() + 60, seed=1)
    timed, levels = best_times(problem, budget, lambda _: None, lambda: False)
    return timed, {level.name: level for level in levels}


def one_day(entry: str, **over: object):  # type: ignore[no-untyped-def]
    """Ventilated from the evening before, it fits once or twice into the morning of the second day."""
    return a_task(entry, days=2, due=DAY + 48, earliest=DAY - 32, **over)


def test_two_entries_share_a_morning_only_one_after_the_other() -> None:
    # 08:00–12:00 is 16 steps; a session is 2 + 8 = 10, and 20 do not fit: one of two stands.
    timed, levels = solved(a_problem(one_day("A"), one_day("B"), days=2))
    assert levels["entries of priority 2"].value == 1
    assert len(timed.entries) == 1


def test_two_short_entries_share_a_morning() -> None:
    # Sessions of 2 + 4 = 6 steps: 12 of 16 steps, so both stand, and never at one time.
    timed, _ = solved(a_problem(one_day("A", inside=4), one_day("B", inside=4), days=2))
    first, second = sorted(timed.entries.values(), key=lambda e: e.sessions[0].test)
    assert first.sessions[0].out <= second.sessions[0].test


def test_a_must_goes_before_a_should() -> None:
    timed, _ = solved(a_problem(one_day("A", priority=2), one_day("B", priority=1), days=2))
    assert set(timed.entries) == {"B"}


def test_an_open_space_keeps_clear_of_vapour_through_the_night() -> None:
    # Vapour from midnight to 06:00 of the second day: what was open the evening before cannot stay open over night,
    # so opening, four hours of fans and the session must lie on one side of it.
    task = a_task("A", days=2)
    blocked = {**task.blocked, Stretch.OPEN: ((DAY, DAY + 24),)}
    timed, _ = solved(a_problem(a_task("A", days=2, earliest=60, blocked=blocked), days=2))
    assert timed.entries["A"].opened >= DAY + 24


def test_fans_are_shared() -> None:
    # One fan, held from opening to coming out: the two never overlap, so with one day only one stands.
    way = (Way(fans=(("fan", 1),), steps=16),)
    tasks = [one_day(e, inside=4, ways=way) for e in "AB"]
    week = (((0, 192), 1),)
    timed, _ = solved(a_problem(*tasks, days=2, stocks={"manned": week, "open": week, "fan": week}))
    assert len(timed.entries) == 1


def test_a_second_fan_is_used_where_only_it_is_quick_enough() -> None:
    # Isolation from 16:00 at the earliest, out by 12:00 of the next day with fans off to none: 8 steps of room at most.
    ways = (Way(fans=(("fan", 1),), steps=80), Way(fans=(("fan", 2),), steps=40))
    timed, _ = solved(a_problem(one_day("A", ways=ways), days=2))
    assert timed.entries["A"].fans == (("fan", 2),)


def test_a_long_entry_is_cut_into_sessions_that_add_up() -> None:
    # Six hours at most four at a time: two sessions, 24 steps in all, each tested afresh.
    task = a_task("A", inside=24, least=4, most=3)
    timed, _ = solved(a_problem(task))
    sessions = timed.entries["A"].sessions
    assert sum(s.out - s.enter for s in sessions) == 24
    assert all(s.out - s.enter <= 16 and 2 <= s.enter - s.test <= 4 for s in sessions)


def test_a_movable_operation_makes_room() -> None:
    # The operation lasts 4 h in a window of the second day's morning to evening; the entry has the morning alone.
    job = Job(operation="X", movable=True, earliest=DAY + 32, latest=DAY + 56, steps=16)
    apart = Apart(a="A", a_stretch=Stretch.OPEN, b="X", b_stretch=Stretch.RUN, span=None, before=0, after=2)
    timed, _ = solved(a_problem(one_day("A"), days=2, jobs=(job,), aparts=(apart,)))
    assert timed.operations["X"] >= timed.entries["A"].end


def test_tanks_are_not_pressed_up_before_they_are_emptied() -> None:
    # Emptied from 05:00, pressed up by 07:00 at the earliest, and the entry keeps out of that time: with four hours of
    # fans there is no session left before noon. Pressed up from 04:00 to 05:00 they would never have been empty.
    jobs = (
        Job(operation="OUT", movable=True, earliest=DAY + 20, latest=DAY + 20, steps=4, emptied_until="IN"),
        Job(operation="IN", movable=True, earliest=DAY + 16, latest=DAY + 92, steps=4),
    )
    apart = Apart(a="A", a_stretch=Stretch.OPEN, b="OUT", b_stretch=Stretch.EMPTIED, span=None, before=0, after=0)
    timed, _ = solved(a_problem(one_day("A"), days=2, jobs=jobs, aparts=(apart,)))
    assert timed.entries == {} and timed.operations["IN"] >= DAY + 24


def test_only_the_hours_in_which_the_wind_is_foul_keep_apart() -> None:
    # Apart only inside 10:00–11:00 of the second day: the operation is fixed 08:00–12:00 and the entry must be closed
    # by then or opened after; the session ends before 10:00 only if it starts by 07:30, so it opens after 11:00.
    job = Job(operation="X", movable=False, earliest=DAY + 32, latest=DAY + 32, steps=16)
    apart = Apart(
        a="A", a_stretch=Stretch.SESSION, b="X", b_stretch=Stretch.RUN, span=(DAY + 40, DAY + 44), before=0, after=0
    )
    task = a_task("A", days=2, inside=4, earliest=DAY - 32, due=DAY + 48)
    timed, _ = solved(a_problem(task, days=2, jobs=(job,), aparts=(apart,)))
    stay = timed.entries["A"].sessions[0]
    assert stay.out <= DAY + 40 or stay.test >= DAY + 44


def test_an_entry_falls_with_the_one_it_waits_for() -> None:
    order = Order(first="A", then="B", gap=0, either="", branch=0, presence=True)
    problem = a_problem(a_task("A", due=10), a_task("B"), orders=(order,))
    assert solved(problem)[0].entries == {}


def test_of_two_good_stretches_one_is_enough() -> None:
    # Before X or after Y, which leave no third way between; the entry's due date lets it only before X.
    jobs = tuple(
        Job(operation=n, movable=False, earliest=at, latest=at, steps=4) for n, at in (("X", DAY + 60), ("Y", DAY + 80))
    )
    orders = (
        Order(first="A", then="X", gap=0, either="A", branch=0, presence=False),
        Order(first="Y", then="A", gap=0, either="A", branch=1, presence=False),
    )
    timed, _ = solved(a_problem(one_day("A"), days=2, jobs=jobs, orders=orders))
    assert timed.entries["A"].end <= DAY + 60


def a_passage(hours: int, *, arrive_by_h: int, latest_h: int, may_heave_to: bool = True) -> Passage:
    return Passage(
        leg="L", hours=tuple(Hour(leg="L", hour=h, span_min=(h * 60, h * 60 + 60)) for h in range(hours)), start_min=0,
        planned_min=hours * 60, behind_nm=0.0, distance_nm=12.0 * hours, planned_kn=12.0, greatest_kn=14.0,
        least_kn=5.0, arrive_by_min=arrive_by_h * 60, latest_min=latest_h * 60, may_heave_to=may_heave_to, barred=(),
    )  # fmt: skip


def rough(limit_kn: float, *, hove_to: bool = False) -> tuple[Cap, ...]:
    """Every hour asks for the speed while people are inside."""
    return tuple(Cap(stretch=Stretch.ENTER, hour=h, limit_kn=limit_kn, hove_to_only=hove_to) for h in range(48))


def test_the_ship_eases_for_a_should_just_as_long_as_people_are_inside() -> None:
    # Two hours inside touch two whole hours at best; 2 × 4 kn are lost and made good later at 2 kn an hour.
    passage = a_passage(48, arrive_by_h=48, latest_h=48)
    timed, levels = solved(a_problem(one_day("A", caps=rough(8.0)), days=2, passages=(passage,)))
    assert levels["hours of easing"].value == 2
    assert set(timed.eased["L"].values()) == {8.0}


def test_no_entry_makes_the_ship_late_while_the_should_is_below_lateness() -> None:
    # The passage ends when the morning does: nothing can be made good afterwards, and no minute may be late.
    passage = a_passage(36, arrive_by_h=36, latest_h=36)
    timed, _ = solved(a_problem(one_day("A", caps=rough(8.0)), days=2, passages=(passage,)))
    assert timed.entries == {}


def test_a_must_may_make_her_late_within_what_is_allowed() -> None:
    # 2 h at 8 kn lose 8 nm; what is not made good by the 36th hour is run at 14 kn: 8 × 60 / 14 = 34.3 → 35 minutes at
    # most, less what the hours after the session make good.
    passage = a_passage(36, arrive_by_h=36, latest_h=37)
    timed, levels = solved(a_problem(one_day("A", priority=1, caps=rough(8.0)), days=2, passages=(passage,)))
    assert set(timed.entries) == {"A"}
    assert 0 < levels["minutes late"].value <= 35


def test_she_heaves_to_only_where_the_leg_allows_it() -> None:
    caps = rough(0.0, hove_to=True)
    for allowed in (True, False):
        passage = a_passage(48, arrive_by_h=48, latest_h=52, may_heave_to=allowed)
        timed, _ = solved(a_problem(one_day("A", priority=1, caps=caps), days=2, passages=(passage,)))
        assert ("A" in timed.entries) is allowed


def test_easing_stays_within_its_hours() -> None:
    # Two entries of two hours want four hours of easing; three are allowed.
    tasks = [a_task(e, days=3, caps=tuple(Cap(stretch=Stretch.ENTER, hour=h, limit_kn=8.0, hove_to_only=False)
                                          for h in range(72))) for e in "AB"]  # fmt: skip
    passage = a_passage(72, arrive_by_h=80, latest_h=80)
    timed, levels = solved(a_problem(*tasks, passages=(passage,), easing_max=3))
    assert len(timed.entries) == 1
    assert levels["hours of easing"].value == 2


def test_the_same_problem_gives_the_same_times() -> None:
    problem = a_problem(*[a_task(f"E{i}", priority=1 + i % 3) for i in range(6)])
    assert solved(problem) == solved(problem)
