"""Nobody in two places: duties against duties, watches, operations, and rescue on call."""

from __future__ import annotations

from collections import Counter, defaultdict
from datetime import date
from itertools import combinations
from typing import Final

from scheduler.check.findings import Ledger
from scheduler.check.people import IN_CHARGE
from scheduler.check.scene import Scene, minutes
from scheduler.check.span import NOTHING, Span, common, stamp
from scheduler.check.work import HINDERING, Rota, Task
from scheduler.domain.crew import Duty

RULE: Final = "people"
BEFORE_WATCH_MIN: Final = 15  # out of the space so long before a watch; our choice
HINDERING_OPERATION: Final = ("sole watch", "other")
PREPARING: Final = ("brief", "isolate", "ventilate", "test", "restore")


def look(scene: Scene, ledger: Ledger) -> None:
    """Walk each person's week."""
    rota = Rota(scene)
    duties: dict[str, list[Duty]] = defaultdict(list)
    for duty in scene.folder.duties:
        duties[duty.person].append(duty)
    for person, tasks in sorted(rota.by_person.items()):
        _not_twice(person, tasks, ledger)
        for task in tasks:
            _not_on_watch(task, duties[person], ledger)
        _sessions_a_day(scene, person, tasks, ledger)
    for task in rota.tasks:
        _operation_crew(scene, task, ledger)
    _operations_manned(scene, ledger)


def _not_twice(person: str, tasks: tuple[Task, ...], ledger: Ledger) -> None:
    ledger.count(RULE)
    for one, other in combinations(tasks, 2):
        shared = common(one.span, other.span)
        if shared is None or _may_share(one, other):
            continue
        text = f"{person} is {one} and {other} at one time, {shared}."
        ledger.breach(
            RULE, text, entry=one.what, person=person, other=other.what,
            start=shared.start, end=shared.end, by=shared.length,
        )  # fmt: skip


def _may_share(one: Task, other: Task) -> bool:
    if one.phase is not None and one.phase is other.phase:
        return True  # twice in one phase is judged by the phase itself
    if one.on_call == other.on_call:
        return False
    working = other if one.on_call else one
    return working.stay is not None and working.phase_name in PREPARING and working.duty != IN_CHARGE


def _not_on_watch(task: Task, duties: list[Duty], ledger: Ledger) -> None:
    ledger.count(RULE)
    barring = HINDERING if task.stay is not None else HINDERING_OPERATION
    for duty in duties:
        shared = common(task.span, Span(duty.start, duty.end))
        if duty.kind in barring and shared is not None:
            kind = "another duty" if duty.kind == "other" else duty.kind
            text = f"{task.person} is {task} while on {kind}, {shared}."
            ledger.breach(
                RULE, text, entry=task.what, person=task.person, start=shared.start, end=shared.end, by=shared.length
            )
    if task.phase_name == "enter" and not task.on_call:
        _out_before_watch(task, duties, ledger)


def _out_before_watch(task: Task, duties: list[Duty], ledger: Ledger) -> None:
    ledger.count("hours")
    for duty in duties:
        gap = duty.start - task.span.end
        if duty.kind in ("watch", "sole watch") and NOTHING <= gap < minutes(BEFORE_WATCH_MIN):
            text = (
                f"{task.person} is {task} until {stamp(task.span.end)}, {gap / minutes(1):g} min before "
                f"the {duty.kind} at {stamp(duty.start)}; {BEFORE_WATCH_MIN} min are needed."
            )
            ledger.breach(
                "hours", text, entry=task.what, person=task.person, start=task.span.end, end=duty.start,
                by=minutes(BEFORE_WATCH_MIN) - gap,
            )  # fmt: skip


def _sessions_a_day(scene: Scene, person: str, tasks: tuple[Task, ...], ledger: Ledger) -> None:
    most = scene.policy.whole("session.per_person_per_day")
    held = {(t.span, t.what) for t in tasks if t.phase_name == "enter" and not t.on_call}
    days: Counter[date] = Counter(scene.clock.day(span.start) for span, _ in held)
    for day, found in sorted(days.items()):
        first = min(span for span, _ in held if scene.clock.day(span.start) == day)
        text = f"{person} takes part in {found} sessions on {day}; {most} is the most."
        ledger.expect("hours", found <= most, text, person=person, start=first.start, end=first.end)


def _operation_crew(scene: Scene, task: Task, ledger: Ledger) -> None:
    if task.run is None:
        return
    person = scene.people.get(task.person)
    if person is None:
        text = f"{task.person}, named as {task}, is not in the crew list."
        ledger.expect(RULE, False, text, person=task.person, other=task.what)
        return
    able = task.duty in person.able
    text = f"{task.person} is not able to be {task}."
    ledger.expect(RULE, able, text, person=task.person, other=task.what, start=task.span.start, end=task.span.end)
    aboard = (person.joins is None or person.joins <= task.span.start) and (
        person.leaves is None or task.span.end <= person.leaves
    )
    text = f"{task.person} is {task}, {task.span}, and not aboard for all of it."
    ledger.expect(RULE, aboard, text, person=task.person, other=task.what, start=task.span.start, end=task.span.end)


def _operations_manned(scene: Scene, ledger: Ledger) -> None:
    """A fixed operation stands as given, and people lacking for it are a caution of the plan, no breach."""
    for run in scene.runs:
        if not run.operation.movable:
            continue
        for ability, needed in run.operation.people:
            found = len({named.person for named in run.people if named.duty == ability})
            text = f"{run.name} at {stamp(run.span.start)} has {found} {ability}; {needed} needed."
            ledger.expect(RULE, found >= needed, text, other=run.name, start=run.span.start, end=run.span.end)
