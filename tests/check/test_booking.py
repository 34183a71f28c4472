"""Nobody in two places: counted minute by minute, duty by duty."""

from __future__ import annotations

import random
from dataclasses import replace
from datetime import timedelta

import pytest

from scheduler.check import check
from scheduler.domain.folder import VoyageFolder
from scheduler.domain.operations import Operation
from scheduler.domain.plan import Named, Plan, PlannedEntry, PlannedOperation, PlannedPhase
from tests.check.made import a_folder, at, the_good_week

THE_PLAN = the_good_week()[1]

MINUTE = timedelta(minutes=1)
CREW = ("BSN", "AB1", "AB2", "AB3")
DUTIES = ("entrant", "attendant", "officer in charge", "rescue on call", "rigging", "gas tester")
BEGIN = at(9, "00:00")
SPAN_MIN = 600
PREPARING = ("brief", "isolate", "ventilate", "test", "restore")

Held = tuple[str, str, str, int, int]  # what, phase, duty, first and last minute


def a_phase(chance: random.Random, name: str) -> PlannedPhase:
    """A phase of odd length at an odd minute, with one or two people."""
    start = BEGIN + chance.randint(0, SPAN_MIN - 60) * MINUTE
    people = tuple(Named(person=p, duty=chance.choice(DUTIES)) for p in chance.sample(CREW, 2))
    return PlannedPhase(phase=name, start=start, end=start + chance.randint(1, 90) * MINUTE, session=1, people=people)


def a_muddle(seed: int) -> tuple[VoyageFolder, Plan]:
    """Two entries and an operation, with people strewn over them."""
    chance, folder = random.Random(seed), a_folder()
    names = ("isolate", "ventilate", "test", "enter", "restore")
    entries = tuple(
        PlannedEntry(entry=entry, space=space, outcome="planned", phases=tuple(a_phase(chance, name) for name in names))
        for entry, space in (("E1", "3P"), ("E2", "FV"))
    )
    start = BEGIN + chance.randint(0, SPAN_MIN) * MINUTE
    run = Operation(operation="X", kind="other", start=start, end=start + 45 * MINUTE)
    placed = PlannedOperation(
        operation="X", start=start, end=start + 45 * MINUTE, moved=False,
        people=(Named(person=chance.choice(CREW), duty="rescue"),),
    )  # fmt: skip
    return replace(folder, operations=(run,), duties=()), replace(THE_PLAN, entries=entries, operations=(placed,))


def held_by(plan: Plan, person: str) -> list[Held]:
    """What one person holds, in minutes since the beginning."""
    found = []
    for entry in plan.entries:
        for phase in entry.phases:
            first, last = (phase.start - BEGIN) // MINUTE, (phase.end - BEGIN) // MINUTE
            last = min(last, first + 30) if phase.phase == "ventilate" else last
            found += [(entry.entry, phase.phase, n.duty, first, last) for n in phase.people if n.person == person]
    for operation in plan.operations:
        first, last = (operation.start - BEGIN) // MINUTE, (operation.end - BEGIN) // MINUTE
        found += [(operation.operation, "run", n.duty, first, last) for n in operation.people if n.person == person]
    return found


def clash(one: Held, other: Held) -> bool:
    """Two duties that nobody can hold at one time."""
    if one[:2] == other[:2]:
        return False
    called = [h for h in (one, other) if h[1] == "enter" and h[2] == "rescue on call"]
    if len(called) != 1:
        return True
    working = other if called[0] is one else one
    return working[1] not in PREPARING or working[2] == "officer in charge"


def clashing_minutes(plan: Plan, person: str) -> dict[tuple[str, str], int]:
    """For each pair of things, the minutes in which a person holds both."""
    held, found = held_by(plan, person), {}
    for minute in range(SPAN_MIN + 200):
        now = [h for h in held if h[3] <= minute < h[4]]
        pairs = [(a, b) for n, a in enumerate(now) for b in now[n + 1 :] if clash(a, b)]
        for a, b in pairs:
            key = (f"{a[2]} in {a[1]} of {a[0]}", f"{b[2]} in {b[1]} of {b[0]}")
            found[min(key), max(key)] = found.get((min(key), max(key)), 0) + 1
    return found


@pytest.mark.parametrize("seed", range(12))
def test_every_minute_in_two_places_is_found_and_no_other(seed: int) -> None:
    folder, plan = a_muddle(seed)
    found: dict[str, dict[tuple[str, str], int]] = {person: {} for person in CREW}
    for breach in check(folder, plan).breaches:
        if breach.rule == "people" and " at one time, " in breach.text and breach.person in CREW:
            one, other = breach.text.split(" is ", 1)[1].split(" at one time, ")[0].split(" and ", 1)
            assert breach.by_min is not None
            found[breach.person][min(one, other), max(one, other)] = breach.by_min
    assert found == {person: clashing_minutes(plan, person) for person in CREW}
