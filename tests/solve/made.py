"""Small problems for the solver's tests: sound defaults, keyword overrides."""

from __future__ import annotations

from typing import Any

from scheduler.domain.restrictions import DutyKind, Phase
from scheduler.solve.problem import Need, Problem, Stretch, Task, Way

DAY = 96  # steps of a quarter of an hour
CREW = tuple(f"P{i:02d}" for i in range(1, 15))


def nights(days: int) -> tuple[tuple[int, int], ...]:
    """Everything outside 08–12 and 13–18, in steps, where the week begins at midnight."""
    out = []
    for d in range(days):
        out += [(d * DAY, d * DAY + 32), (d * DAY + 48, d * DAY + 52), (d * DAY + 72, (d + 1) * DAY)]
    return tuple(out)


def needs(crew: tuple[str, ...] = CREW) -> tuple[Need, ...]:
    """What every entry asks: officers are the first three, gas testers the next two and the officers."""
    officers, testers = crew[:3], crew[:5]
    return (
        Need(phase=Phase.ISOLATE, duty=DutyKind.IN_CHARGE, count=1, people=officers),
        Need(phase=Phase.ISOLATE, duty=DutyKind.RIGGING, count=1, people=crew[3:]),
        Need(phase=Phase.VENTILATE, duty=DutyKind.RIGGING, count=2, people=crew[3:], steps=2),
        Need(phase=Phase.TEST, duty=DutyKind.IN_CHARGE, count=1, people=officers),
        Need(phase=Phase.TEST, duty=DutyKind.GAS_TESTER, count=1, people=testers, may_double=True),
        Need(phase=Phase.ENTER, duty=DutyKind.ENTRANT, count=2, people=crew[3:]),
        Need(phase=Phase.ENTER, duty=DutyKind.ATTENDANT, count=1, people=crew[3:]),
        Need(phase=Phase.ENTER, duty=DutyKind.IN_CHARGE, count=1, people=officers),
        Need(phase=Phase.ENTER, duty=DutyKind.ON_CALL, count=4, people=crew, work=False),
        Need(phase=Phase.RESTORE, duty=DutyKind.IN_CHARGE, count=1, people=officers),
        Need(phase=Phase.RESTORE, duty=DutyKind.RIGGING, count=2, people=crew[3:]),
    )


def a_task(entry: str = "E1", *, days: int = 3, **over: Any) -> Task:
    """An unsplittable entry of two hours with a ventilation of four, working hours kept."""
    clear = nights(days)
    given: dict[str, Any] = {
        "entry": entry,
        "space": entry,
        "priority": 2,
        "brief": 1,
        "isolate": 3,
        "test": 2,
        "restore": 4,
        "inside": 8,
        "least": 8,
        "greatest": 16,
        "most": 1,
        "proving": 0,
        "tail_ventilate": 0,
        "tail_test": 0,
        "valid": 2,
        "open_longest": 288,
        "permit": 32,
        "earliest": 0,
        "due": days * DAY,
        "at": None,
        "ways": (Way(fans=(("fan", 1),), steps=16),),
        "blocked": dict.fromkeys((Stretch.BRIEF, Stretch.ISOLATE, Stretch.TEST, Stretch.ENTER), clear),
        "needs": needs(),
        "gear": ((Stretch.SESSION, "manned", 1), (Stretch.OPEN, "open", 1)),
    }
    given.update(over)
    return Task(**given)


def a_problem(*tasks: Task, days: int = 3, **over: Any) -> Problem:
    """A quiet week at anchor with fourteen people who all do day work 08–17."""
    steps = days * DAY
    day_work = tuple((d * 1440 + 480, d * 1440 + 1020) for d in range(days))
    past = tuple((d * 1440 + 480, d * 1440 + 1020) for d in range(-7, 0))
    given: dict[str, Any] = {
        "steps": steps,
        "step_min": 15,
        "hour_spans": tuple((h * 4, h * 4 + 4) for h in range(days * 24)),
        "days": tuple((d * DAY, (d + 1) * DAY) for d in range(days)),
        "tasks": tasks,
        "jobs": (),
        "aparts": (),
        "orders": (),
        "stocks": {"manned": (((0, steps), 1),), "open": (((0, steps), 3),), "fan": (((0, steps), 4),)},
        "passages": (),
        "easing_max": 6,
        "people": CREW,
        "away": {},
        "away_on_call": {},
        "away_enter": {},
        "away_operation": {},
        "work_min": dict.fromkeys(CREW, past + day_work),
        "day_work_min": dict.fromkeys(CREW, day_work),
        "known_from_min": dict.fromkeys(CREW, -7 * 1440),
        "sessions_a_day": 2,
        "rest_limits": (600, 360, 77 * 60, 840, 60),
    }
    given.update(over)
    return Problem(**given)
