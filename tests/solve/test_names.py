"""Names for every duty: small crews, what must never happen to a person."""

from __future__ import annotations

import time
from collections import defaultdict
from itertools import pairwise

from scheduler.domain.restrictions import DutyKind, Phase
from scheduler.solve.assign import Assigning, Staffed
from scheduler.solve.child import planned
from scheduler.solve.outcome import Outcome, Timed
from scheduler.solve.problem import Need, Problem
from scheduler.solve.resting import figures
from scheduler.solve.search import Budget, best_times
from tests.solve.made import CREW, DAY, a_problem, a_task, needs


def outcome_of(problem: Problem) -> Outcome:
    budget = Budget(seconds=10, guard_until=time.monotonic() + 60, seed=1)
    answer = planned(problem, budget, lambda _: None, lambda: False)
    assert answer.outcome is not None
    return answer.outcome


def spans(problem: Problem, outcome: Outcome) -> dict[str, list[tuple[int, int, str, DutyKind, Phase]]]:
    """What each person does when, in steps, read from the times and not from the solver's intervals."""
    found: dict[str, list[tuple[int, int, str, DutyKind, Phase]]] = defaultdict(list)
    tasks = {t.entry: t for t in problem.tasks}
    for (name, phase, session), people in outcome.people.items():
        placed, task = outcome.timed.entries[name], tasks[name]
        stay = placed.sessions[max(session, 1) - 1]
        a, b = {
            Phase.BRIEF: ((stay.test if session else placed.start) - task.brief,) * 2,
            Phase.ISOLATE: (placed.start, placed.opened),
            Phase.VENTILATE: (placed.opened, placed.opened + 2),
            Phase.TEST: (stay.test, stay.test + task.test),
            Phase.ENTER: (stay.enter, stay.out),
            Phase.RESTORE: (placed.closing, placed.end),
        }[phase]
        if phase is Phase.BRIEF:
            b = a + task.brief
        for person, duty in people:
            found[person].append((a, b, name, duty, phase))
    return found


def test_nobody_is_in_two_places_at_once() -> None:
    problem = a_problem(*[a_task(f"E{i}") for i in range(4)])
    outcome = outcome_of(problem)
    for person, parts in spans(problem, outcome).items():
        work = sorted(p for p in parts if p[3] is not DutyKind.ON_CALL)
        for early, late in pairwise(work):
            same_test = early[4] is late[4] is Phase.TEST and early[2] == late[2]
            assert early[1] <= late[0] or same_test, (person, early, late)


def test_one_on_call_is_neither_inside_nor_attendant_nor_in_charge_anywhere() -> None:
    problem = a_problem(*[a_task(f"E{i}") for i in range(4)])
    for parts in spans(problem, outcome_of(problem)).values():
        on_call = [p for p in parts if p[3] is DutyKind.ON_CALL and p[4] is Phase.ENTER]
        barred = [p for p in parts if p[3] not in (DutyKind.ON_CALL, DutyKind.RIGGING) and p[4] is not Phase.BRIEF]
        assert not [(a, b) for a in on_call for b in barred if a[0] < b[1] and b[0] < a[1]]


def test_each_session_has_its_full_number_of_people() -> None:
    outcome = outcome_of(a_problem(a_task("A")))
    inside = outcome.people["A", Phase.ENTER, 1]
    assert sorted(duty for _, duty in inside) == sorted(
        [DutyKind.ENTRANT] * 2 + [DutyKind.ATTENDANT, DutyKind.IN_CHARGE] + [DutyKind.ON_CALL] * 4
    )
    assert len({person for person, _ in inside}) == 8


def test_who_has_a_part_hears_the_briefing() -> None:
    outcome = outcome_of(a_problem(a_task("A")))
    first, session = ({person for person, _ in outcome.people["A", Phase.BRIEF, k]} for k in (0, 1))
    for (_, phase, _), people in outcome.people.items():
        briefed = first if phase in (Phase.ISOLATE, Phase.VENTILATE) else session
        assert phase is Phase.BRIEF or {person for person, _ in people} <= briefed


def test_a_session_ends_a_quarter_of_an_hour_before_the_watch_of_anyone_in_it() -> None:
    # The only officer goes on watch at 11:30 of the second day: away from step 45 of it, and inside not after 11:15.
    officer = ("P01",)
    crew = tuple(
        Need(phase=n.phase, duty=n.duty, count=n.count, people=officer, steps=n.steps, work=n.work)
        if n.duty is DutyKind.IN_CHARGE
        else n
        for n in needs()
    )
    away, early = {"P01": ((DAY + 46, DAY + 60),)}, {"P01": ((DAY + 45, DAY + 60),)}
    problem = a_problem(
        a_task("A", days=2, inside=4, earliest=64, due=DAY + 48, needs=crew), days=2, away=away, away_enter=early
    )
    assert outcome_of(problem).timed.entries["A"].sessions[0].out <= DAY + 45


def test_nobody_has_more_sessions_in_a_day_than_two() -> None:
    problem = a_problem(*[a_task(f"E{i}", inside=2, least=2) for i in range(6)])
    outcome = outcome_of(problem)
    count: dict[tuple[str, int], int] = defaultdict(int)
    for (name, phase, session), people in outcome.people.items():
        if phase is Phase.ENTER:
            for person, duty in people:
                day = outcome.timed.entries[name].sessions[session - 1].enter // DAY
                count[person, day] += duty is not DutyKind.ON_CALL
    assert max(count.values()) <= 2


def test_rest_that_watches_leave_thin_keeps_a_person_out() -> None:
    # P04 and P05 stand 00–06 and 18–24 and rest 06–18 (12 h in one piece): two hours of entry work leave them 10 h,
    # but no single rest beside it may shrink below six with the two longest at ten: briefing to closing breaks that.
    watches = tuple((d * 1440 + a, d * 1440 + b) for d in range(-7, 3) for a, b in ((0, 360), (1080, 1440)))
    base = a_problem(a_task("A"))
    work = {**base.work_min, "P04": watches, "P05": watches}
    problem = a_problem(a_task("A"), work_min=work, day_work_min={**base.day_work_min, "P04": (), "P05": ()})
    outcome = outcome_of(problem)
    for person, parts in spans(problem, outcome).items():
        held = [(a * 15, b * 15) for a, b, _, _, _ in parts]
        assert not figures(problem, person, held).breaches, person


def test_where_people_lack_the_lesser_entry_is_left_out_and_the_bound_says_so() -> None:
    # Eight people in all: enough for one session (2 + 1 + 1 + 4), never for anything beside it.
    crew = CREW[:8]
    tasks = [a_task(e, days=2, inside=4, earliest=64, due=DAY + 48, needs=needs(crew), priority=p)
             for e, p in (("A", 3), ("B", 2))]  # fmt: skip
    outcome = outcome_of(a_problem(*tasks, days=2, people=crew))
    assert "B" in outcome.timed.entries
    for level in outcome.levels:
        assert (
            level.name == "comfort" or level.value <= level.bound or level.name in ("minutes late", "hours of easing")
        )


class Unlucky(Assigning):
    """Finds no names for the whole week in its first two looks, as when the effort does not reach."""

    def _everybody(self, times: Timed) -> Staffed | None:
        return None

    _as_many = _everybody


def test_a_week_is_not_given_up_because_the_first_looks_found_no_names() -> None:
    # two entries that a morning each holds easily: they are named one after the other, beside the operations alone
    problem = a_problem(a_task("A"), a_task("B"))
    budget = Budget(seconds=10, guard_until=time.monotonic() + 60, seed=1)
    times, _ = best_times(problem, budget, lambda _: None, lambda: False)
    staffed = Unlucky(problem, budget, lambda _: None, lambda: False).staffed(times)
    assert staffed is not None and set(staffed.timed.entries) == {"A", "B"}
