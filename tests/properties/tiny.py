"""Weeks so small that every plan of them can be written down: hours for steps, a day, two to four entries."""

from __future__ import annotations

from dataclasses import replace
from random import Random
from typing import Any

from scheduler.domain.restrictions import DutyKind, Phase
from scheduler.solve.problem import Apart, Cap, Hour, Job, Need, Order, Passage, Problem, Span, Stretch, Task, Way

STEPS = 24
HOUR_MIN = 60
BINDABLE = (
    Stretch.BRIEF,
    Stretch.ISOLATE,
    Stretch.VENTILATE,
    Stretch.TEST,
    Stretch.ENTER,
    Stretch.RESTORE,
    Stretch.SESSION,
    Stretch.OPEN,
    Stretch.OUT_OF_USE,
)


def tiny_times(seed: int) -> Problem:
    """A day in which people are no matter, each entry has its own officer: walls, fans, sessions, operations, speed."""
    r = Random(f"times {seed}")
    tasks = tuple(_task(r, f"E{i}") for i in range(r.randrange(2, 5)))
    under_way = r.random() < 0.5
    tasks = tuple(_with_caps(r, task) for task in tasks) if under_way else tasks
    jobs = _jobs(r)
    return _problem(
        tasks=tasks,
        jobs=jobs,
        people=tuple(sorted({p for task in tasks for need in task.needs for p in need.people})),
        aparts=_aparts(r, tasks, jobs),
        orders=_orders(r, tasks, jobs),
        passages=(_passage(r),) if under_way else (),
        stocks={
            "manned": (((0, STEPS), 1),),
            "open": (((0, 12), r.randrange(1, 3)), ((12, STEPS), 2)),
            "fan": (((0, STEPS), 2),),
        },
    )


def tiny_crew(seed: int) -> Problem:
    """Two or three entries of few possible times, and four to six people who tire."""
    r = Random(f"crew {seed}")
    people = tuple(f"P{i}" for i in range(r.randrange(4, 7)))
    needs = _needs(r, people)
    tasks = tuple(_short(r, f"E{i}", needs) for i in range(r.randrange(2, 4)))
    watches = {p: _watches(r) for p in people[:2] if r.random() < 0.7}
    away = {p: tuple((max(0, a), b) for a, b in spans if b > 0) for p, spans in watches.items()}
    work = {p: tuple((a * HOUR_MIN, b * HOUR_MIN) for a, b in spans) for p, spans in watches.items()}
    for p in people[2:]:
        work[p] = tuple((d * 1440 + a * 60, d * 1440 + b * 60) for d in (-1, 0) for a, b in ((8, 12), (13, 17)))
    return _problem(
        tasks=tasks,
        people=people,
        stocks={"manned": (((0, STEPS), r.randrange(1, 3)),), "fan": (((0, STEPS), 2),)},
        away=away,
        away_on_call=away,
        away_enter=away,
        work_min=work,
        day_work_min={p: tuple(s for s in work[p] if s[0] >= 0) for p in people[2:]},
        known_from_min=dict.fromkeys(people, -1440),
        sessions_a_day=r.randrange(1, 3),
    )


def _problem(**over: Any) -> Problem:
    given: dict[str, Any] = {
        "steps": STEPS,
        "step_min": HOUR_MIN,
        "hour_spans": tuple((h, h + 1) for h in range(STEPS)),
        "days": ((0, STEPS),),
        "jobs": (),
        "aparts": (),
        "orders": (),
        "passages": (),
        "easing_max": 3,
        "people": (),
        "away": {},
        "away_on_call": {},
        "away_enter": {},
        "away_operation": {},
        "work_min": {},
        "day_work_min": {},
        "known_from_min": {},
        "sessions_a_day": 2,
        "rest_limits": (600, 360, 77 * 60, 840, 60),
    }
    given.update(over)
    return Problem(**given)


def _span(r: Random, least: int = 1, most: int = 5) -> Span:
    start = r.randrange(0, STEPS - most)
    return start, start + r.randrange(least, most + 1)


def _task(r: Random, name: str) -> Task:
    most = 2 if r.random() < 0.3 else 1
    tail = r.random() < 0.15
    earliest = r.randrange(0, 8)
    blocked: dict[Stretch, tuple[Span, ...]] = {}
    for _ in range(r.randrange(0, 3)):
        blocked[r.choice(BINDABLE)] = (_span(r),)
    return Task(
        entry=name,
        space=name,
        priority=r.randrange(1, 4),
        brief=1,
        isolate=r.randrange(1, 3),
        test=1,
        restore=r.randrange(0, 3) or 1,
        inside=r.randrange(3, 5) if most == 2 else r.randrange(1, 4),
        least=1,
        greatest=3,
        most=most,
        proving=1 if r.random() < 0.2 else 0,
        tail_ventilate=1 if tail else 0,
        tail_test=1 if tail else 0,
        valid=r.randrange(0, 2),
        open_longest=r.randrange(10, 14),
        permit=r.randrange(5, 10),
        earliest=earliest,
        due=min(STEPS, earliest + r.randrange(10, 15)),
        at=r.randrange(8, 16) if r.random() < 0.1 else None,
        ways=(Way(fans=(("fan", 1),), steps=r.randrange(2, 4)), Way(fans=(("fan", 2),), steps=1))[: r.randrange(1, 3)],
        blocked=blocked,
        needs=_led_by((f"officer of {name}",)),
        gear=((Stretch.SESSION, "manned", 1), (Stretch.OPEN, "open", 1)),
    )


def _led_by(officers: tuple[str, ...]) -> tuple[Need, ...]:
    """One of these for each step of an entry."""
    led = (Phase.ISOLATE, Phase.TEST, Phase.ENTER, Phase.RESTORE)
    return tuple(Need(phase=phase, duty=DutyKind.IN_CHARGE, count=1, people=officers) for phase in led)


def _with_caps(r: Random, task: Task) -> Task:
    """Musts and shoulds may ask for a slower ship; for a must she may heave to."""
    if task.priority > 2 or r.random() < 0.3:
        return task
    a, b = _span(r, 6, 12) if r.random() < 0.5 else (0, STEPS)
    hove = task.priority == 1 and r.random() < 0.3
    limit = 0.0 if hove else r.choice((6.0, 8.0))
    stretch = r.choice((Stretch.ENTER, Stretch.TEST, Stretch.OPEN))
    return replace(
        task, caps=tuple(Cap(stretch=stretch, hour=h, limit_kn=limit, hove_to_only=hove) for h in range(a, b))
    )


def _passage(r: Random) -> Passage:
    """Fourteen hours or the whole day, planned at 12 kn, with little or no time to spare."""
    hours = r.choice((14, STEPS))
    arrive_by = hours * 60 + r.choice((0, 60))
    return Passage(
        leg="L",
        hours=tuple(Hour(leg="L", hour=h, span_min=(h * 60, h * 60 + 60)) for h in range(hours)),
        start_min=0,
        planned_min=hours * 60,
        behind_nm=r.choice((0.0, 0.0, 2.0)),
        distance_nm=12.0 * hours,
        planned_kn=12.0,
        greatest_kn=r.choice((12.0, 13.0, 15.0)),
        least_kn=4.0,
        arrive_by_min=arrive_by,
        latest_min=arrive_by + r.choice((0, 30, 120)) if hours == STEPS else arrive_by,
        may_heave_to=r.random() < 0.5,
        barred=((6.5, 9.0),) if r.random() < 0.3 else (),
    )


def _jobs(r: Random) -> tuple[Job, ...]:
    """None, a fixed one, or a movable one that may leave spaces empty until the fixed one."""
    late = r.randrange(14, 20)
    fixed = Job(operation="Y", movable=False, earliest=late, latest=late, steps=r.randrange(1, 5))
    if r.random() < 0.3:
        return ()
    if r.random() < 0.4:
        return (fixed,)
    early = r.randrange(2, 8)
    blocked = {Stretch.RUN: (_span(r, 1, 3),)} if r.random() < 0.3 else {}
    movable = Job(
        operation="X", movable=True, earliest=early, latest=early + 5, steps=r.randrange(1, 5), blocked=blocked,
        emptied_until=r.choice(("Y", None)),
    )  # fmt: skip
    return (movable, fixed)


def _aparts(r: Random, tasks: tuple[Task, ...], jobs: tuple[Job, ...]) -> tuple[Apart, ...]:
    found = []
    for _ in range(r.randrange(0, 3)):
        a, *others = r.sample([t.entry for t in tasks], 2)
        b = r.choice([*others, *(j.operation for j in jobs)])
        of_job = b in ("X", "Y")
        empties = b == "X" and r.random() < 0.4
        found.append(
            Apart(
                a=a,
                a_stretch=r.choice(BINDABLE),
                b=b,
                b_stretch=(Stretch.EMPTIED if empties else Stretch.RUN) if of_job else r.choice(BINDABLE),
                span=_span(r) if r.random() < 0.3 else None,
                before=r.randrange(0, 2),
                after=r.randrange(0, 2),
            )
        )
    return tuple(found)


def _orders(r: Random, tasks: tuple[Task, ...], jobs: tuple[Job, ...]) -> tuple[Order, ...]:
    found: list[Order] = []
    if r.random() < 0.3:
        first, then = r.sample([t.entry for t in tasks], 2)
        found.append(Order(first=first, then=then, gap=r.randrange(0, 2), either="", branch=0, presence=True))
    if len(jobs) == 2 and r.random() < 0.4:
        name = r.choice(tasks).entry
        found.append(Order(first=name, then="X", gap=0, either="good", branch=0, presence=False))
        found.append(Order(first="X", then=name, gap=0, either="good", branch=1, presence=False))
        found.append(Order(first=name, then="Y", gap=1, either="good", branch=1, presence=False))
    return tuple(found)


# -- with people ------------------------------------------------------------------------------------------------


def _needs(r: Random, people: tuple[str, ...]) -> tuple[Need, ...]:
    officers = people[:2] if r.random() < 0.8 else people[:1]
    hands = people[1:]
    found = [
        *_led_by(officers),
        Need(phase=Phase.ISOLATE, duty=DutyKind.RIGGING, count=1, people=hands),
        Need(phase=Phase.TEST, duty=DutyKind.GAS_TESTER, count=1, people=people[:3], may_double=True),
        Need(phase=Phase.ENTER, duty=DutyKind.ENTRANT, count=1, people=hands),
        Need(phase=Phase.RESTORE, duty=DutyKind.RIGGING, count=1, people=hands),
    ]
    if r.random() < 0.6:
        found.append(Need(phase=Phase.ENTER, duty=DutyKind.ON_CALL, count=1, people=people, work=False))
    return tuple(found)


def _short(r: Random, name: str, needs: tuple[Need, ...]) -> Task:
    """An entry that hardly waits once its space is open, so that it has few possible times."""
    inside, earliest = r.randrange(1, 5), r.randrange(1, 10)
    length = 1 + 1 + 1 + 1 + inside + 1
    blocked = {Stretch.ENTER: (_span(r),)} if r.random() < 0.4 else {}
    return Task(
        entry=name, space=name, priority=r.randrange(1, 4), brief=1, isolate=1, test=1, restore=1, inside=inside,
        least=1, greatest=inside, most=1, proving=0, tail_ventilate=0, tail_test=0, valid=0, open_longest=length,
        permit=12, earliest=earliest, due=min(STEPS - 1, earliest + length + r.randrange(2, 6)), at=None,
        ways=(Way(fans=(("fan", 1),), steps=1),), blocked=blocked, needs=needs,
        gear=((Stretch.SESSION, "manned", 1),),
    )  # fmt: skip


def _watches(r: Random) -> tuple[Span, ...]:
    """Four on, eight off, from the day before."""
    first = r.choice((0, 4, 8))
    return tuple((d * 24 + h, d * 24 + h + 4) for d in (-1, 0) for h in (first, first + 12))
