"""The same week, turned, shifted, with a wall more or a person more."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace
from random import Random
from typing import TypeVar

from scheduler.solve.outcome import Placed, PlacedSession, Timed
from scheduler.solve.problem import Apart, Job, Passage, Problem, Span, Stretch, Task

NEW = "P-new"
Thing = TypeVar("Thing")


def turned(problem: Problem, random: Random) -> Problem:
    """Entries, people, operations and all that binds them in another order."""

    def mixed(things: tuple[Thing, ...]) -> tuple[Thing, ...]:
        return tuple(random.sample(things, len(things)))

    def needs_mixed(task: Task) -> Task:
        return replace(task, needs=mixed(tuple(replace(need, people=mixed(need.people)) for need in task.needs)))

    return replace(
        problem,
        tasks=tuple(needs_mixed(task) for task in mixed(problem.tasks)),
        jobs=mixed(problem.jobs),
        aparts=mixed(problem.aparts),
        orders=mixed(problem.orders),
        people=mixed(problem.people),
    )


def one_more(problem: Problem) -> Problem:
    """One more person, rested, who can do everything and has nothing else to do."""
    tasks = tuple(
        replace(task, needs=tuple(replace(need, people=(*need.people, NEW)) for need in task.needs))
        for task in problem.tasks
    )
    known = {**problem.known_from_min, NEW: -7 * 1440}
    return replace(problem, tasks=tasks, people=(*problem.people, NEW), known_from_min=known)


def without_a_wall(problem: Problem, random: Random) -> Problem | None:
    """One span of one entry no longer blocked; None where nothing is."""
    walls = [
        (i, stretch, span)
        for i, t in enumerate(problem.tasks)
        for stretch, spans in t.blocked.items()
        for span in spans
    ]
    if not walls:
        return None
    index, stretch, gone = random.choice(walls)
    task = problem.tasks[index]
    left = tuple(span for span in task.blocked[stretch] if span != gone)
    return _with_task(problem, index, replace(task, blocked={**task.blocked, stretch: left}))


def with_a_wall(problem: Problem, random: Random) -> Problem:
    """One span more of one entry blocked."""
    index = random.randrange(len(problem.tasks))
    task = problem.tasks[index]
    free = [s for s in Stretch if s not in task.blocked and s not in (Stretch.RUN, Stretch.EMPTIED)]
    start = random.randrange(problem.steps - 4)
    wall = (start, start + random.randrange(1, 5))
    return _with_task(problem, index, replace(task, blocked={**task.blocked, random.choice(free): (wall,)}))


def _with_task(problem: Problem, index: int, task: Task) -> Problem:
    return replace(problem, tasks=(*problem.tasks[:index], task, *problem.tasks[index + 1 :]))


def shifted(problem: Problem, days: int) -> Problem:
    """All of the week later by whole days, with empty days before it."""
    minutes = days * 1440
    steps = minutes // problem.step_min
    hours = days * 24
    per_hour = problem.hour_spans[0][1] - problem.hour_spans[0][0]
    return replace(
        problem,
        steps=problem.steps + steps,
        hour_spans=(*((h * per_hour, (h + 1) * per_hour) for h in range(hours)), *_later(problem.hour_spans, steps)),
        days=(*((d * steps // days, (d + 1) * steps // days) for d in range(days)), *_later(problem.days, steps)),
        tasks=tuple(_task_later(task, steps, hours) for task in problem.tasks),
        jobs=tuple(_job_later(job, steps) for job in problem.jobs),
        aparts=tuple(_apart_later(apart, steps) for apart in problem.aparts),
        stocks={
            name: tuple(((a + steps, b + steps), count) for (a, b), count in rows)
            for name, rows in problem.stocks.items()
        },
        passages=tuple(_passage_later(passage, hours) for passage in problem.passages),
        away=_all_later(problem.away, steps),
        away_on_call=_all_later(problem.away_on_call, steps),
        away_enter=_all_later(problem.away_enter, steps),
        away_operation=_all_later(problem.away_operation, steps),
        work_min=_all_later(problem.work_min, minutes),
        day_work_min=_all_later(problem.day_work_min, minutes),
        known_from_min={p: None if at is None else at + minutes for p, at in problem.known_from_min.items()},
    )


def times_shifted(timed: Timed, steps: int, hours: int) -> Timed:
    """The same times in a shifted week."""
    return Timed(
        entries={name: _placed_later(placed, steps) for name, placed in timed.entries.items()},
        operations={name: start + steps for name, start in timed.operations.items()},
        eased={leg: {hour + hours: limit for hour, limit in eased.items()} for leg, eased in timed.eased.items()},
        late_min=timed.late_min,
    )


def _later(spans: Iterable[Span], by: int) -> tuple[Span, ...]:
    return tuple((a + by, b + by) for a, b in spans)


def _all_later(spans: Mapping[str, tuple[Span, ...]], by: int) -> dict[str, tuple[Span, ...]]:
    return {name: _later(mine, by) for name, mine in spans.items()}


def _task_later(task: Task, steps: int, hours: int) -> Task:
    return replace(
        task,
        earliest=task.earliest + steps,
        due=task.due + steps,
        at=None if task.at is None else task.at + steps,
        blocked={stretch: _later(spans, steps) for stretch, spans in task.blocked.items()},
        caps=tuple(replace(cap, hour=cap.hour + hours) for cap in task.caps),
    )


def _job_later(job: Job, steps: int) -> Job:
    blocked = {stretch: _later(spans, steps) for stretch, spans in job.blocked.items()}
    return replace(job, earliest=job.earliest + steps, latest=job.latest + steps, blocked=blocked)


def _apart_later(apart: Apart, steps: int) -> Apart:
    return replace(apart, span=None if apart.span is None else (apart.span[0] + steps, apart.span[1] + steps))


def _passage_later(passage: Passage, hours: int) -> Passage:
    minutes = hours * 60
    return replace(
        passage,
        hours=tuple(
            replace(h, hour=h.hour + hours, span_min=(h.span_min[0] + minutes, h.span_min[1] + minutes))
            for h in passage.hours
        ),
        start_min=passage.start_min + minutes,
        planned_min=passage.planned_min + minutes,
        arrive_by_min=passage.arrive_by_min + minutes,
        latest_min=passage.latest_min + minutes,
    )


def _placed_later(placed: Placed, steps: int) -> Placed:
    return replace(
        placed,
        start=placed.start + steps,
        opened=placed.opened + steps,
        sessions=tuple(
            PlacedSession(test=s.test + steps, enter=s.enter + steps, out=s.out + steps) for s in placed.sessions
        ),
        closing=placed.closing + steps,
        end=placed.end + steps,
    )
