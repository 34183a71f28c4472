"""Solves run in child processes: one finds the plan, the other confirms its levels by a differing run.

A solver that crashes takes its process down, not the command; Ctrl-C asks both to stop and keeps the best found.
"""

from __future__ import annotations

import contextlib
import multiprocessing
import signal
import time
from collections.abc import Callable
from dataclasses import dataclass, replace
from multiprocessing.connection import Connection, wait
from multiprocessing.synchronize import Event
from typing import TypeAlias

from scheduler.solve.assign import Assigning, Staffed
from scheduler.solve.blocking import without_one
from scheduler.solve.outcome import LevelFound, Outcome
from scheduler.solve.problem import Problem
from scheduler.solve.search import Budget, NothingStands, best_times

GUARD = 3.0  # wall seconds for each deterministic second, after which a stuck run is stopped: our choice

Message: TypeAlias = tuple[str, object]


@dataclass(frozen=True, kw_only=True, slots=True)
class Answer:
    """What came back: the outcome, or why there is none."""

    outcome: Outcome | None
    proven_empty: bool = False
    without: tuple[str, ...] = ()
    """When not even the empty week stands: operations and legs without any one of which times are found."""
    trouble: str = ""
    stopped: bool = False


def solve(problem: Problem, *, seconds: float, seed: int, say: Callable[[str], None]) -> Answer:
    """The best named week, confirmed where the second run agrees. `seconds` is deterministic effort."""
    context = multiprocessing.get_context("spawn")
    stop = context.Event()
    runs = {name: _started(context, name, problem, seconds, seed, stop) for name in ("plan", "second")}
    answer, second, stopped = _gathered(runs, stop, say, time.monotonic() + GUARD * seconds + 30)
    for process, pipe in runs.values():
        process.join(5)
        if process.is_alive():
            process.kill()
            process.join()
        pipe.close()
    if answer is None:
        return Answer(outcome=None, trouble="the solver's process ended without an answer", stopped=stopped)
    if answer.outcome is None:
        return replace(answer, stopped=stopped)
    return replace(answer, outcome=confirmed(answer.outcome, second), stopped=stopped)


def _started(
    context: multiprocessing.context.SpawnContext, name: str, problem: Problem, seconds: float, seed: int, stop: Event
) -> tuple[multiprocessing.process.BaseProcess, Connection]:
    mine, theirs = context.Pipe(duplex=False)
    process = context.Process(
        target=_work, args=(name, problem, seconds, seed, stop, theirs), name=f"lull {name}", daemon=True
    )
    process.start()
    theirs.close()
    return process, mine


def _gathered(
    runs: dict[str, tuple[multiprocessing.process.BaseProcess, Connection]],
    stop: Event,
    say: Callable[[str], None],
    until: float,
) -> tuple[Answer | None, tuple[LevelFound, ...], bool]:
    answer: Answer | None = None
    second: tuple[LevelFound, ...] = ()
    stopped = False
    pipes = {pipe: name for name, (_, pipe) in runs.items()}
    while pipes and time.monotonic() < until:
        try:
            for pipe in wait(list(pipes), timeout=0.2):
                assert isinstance(pipe, Connection)
                try:
                    kind, payload = pipe.recv()
                except EOFError:
                    del pipes[pipe]
                    continue
                if kind == "say" and pipes[pipe] == "plan":
                    say(str(payload))
                elif isinstance(payload, Answer):
                    answer = payload
                elif kind == "levels" and isinstance(payload, tuple):
                    second = payload
        except KeyboardInterrupt:
            stop.set()
            stopped = True
            until = min(until, time.monotonic() + 20)
    return answer, second, stopped


def confirmed(outcome: Outcome, second: tuple[LevelFound, ...]) -> Outcome:
    """Confirmed when every level's bound is met here and the second run proves the same values."""
    mine = {level.name: level for level in outcome.levels if level.name != "comfort"}
    theirs = {level.name: level for level in second}
    agree = all(
        level.met and name in theirs and theirs[name].met and theirs[name].value == level.value
        for name, level in mine.items()
    )
    return replace(outcome, confirmed=bool(mine) and agree)


def _work(name: str, problem: Problem, seconds: float, seed: int, stop: Event, pipe: Connection) -> None:
    """What a child does: the plan, or the levels once more."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    budget = Budget(
        seconds=seconds, guard_until=time.monotonic() + GUARD * seconds, seed=seed, differently=name == "second"
    )

    def say(text: str) -> None:
        with contextlib.suppress(OSError):
            pipe.send(("say", text))

    if name == "second":
        with contextlib.suppress(NothingStands):
            pipe.send(("levels", best_times(problem, budget, say, stop.is_set, early=False)[1]))
    else:
        pipe.send(("answer", planned(problem, budget, say, stop.is_set)))
    pipe.close()


def planned(problem: Problem, budget: Budget, say: Callable[[str], None], stopped: Callable[[], bool]) -> Answer:
    """Times, names, and what can be said of them; runs in this process."""
    try:
        times, levels = best_times(problem, budget, say, stopped)
    except NothingStands as nothing:
        without = without_one(problem, budget, say, stopped) if nothing.proven else ()
        return Answer(outcome=None, proven_empty=nothing.proven, without=without)
    budget.seconds += budget.seconds * 0.5  # names have their own share, so that a long proof does not eat it
    staffed = Assigning(problem, budget, say, stopped).staffed(times)
    if staffed is None:
        return Answer(outcome=None, trouble="no names were found for the times")
    return Answer(
        outcome=Outcome(
            timed=staffed.timed,
            people=staffed.people,
            short=staffed.short,
            levels=_levels(problem, levels, staffed),
            effort=round(budget.spent, 2),
            cut=budget.cut,
        )
    )


def _levels(problem: Problem, levels: tuple[LevelFound, ...], staffed: Staffed) -> tuple[LevelFound, ...]:
    """The levels with the values that the named week really has; bounds stay those of the times.

    A bound holds only below levels that are met: once one is not, the bounds after it are the trivial ones.
    """
    stands = [task.priority for task in problem.tasks if task.entry in staffed.timed.entries]
    asked = [task.priority for task in problem.tasks]
    found: list[LevelFound] = []
    for level in levels:
        value, bound = level.value, 0.0
        if level.name.startswith("entries"):
            value = sum(priority == int(level.name[-1]) for priority in stands)
            bound = float(sum(priority == int(level.name[-1]) for priority in asked))
        elif level.name == "hours of easing":
            value = sum(len(hours) for hours in staffed.timed.eased.values())
        if all(above.met for above in found):
            bound = level.bound
        found.append(replace(level, value=value, bound=bound))
    return (*found, staffed.comfort) if staffed.comfort else tuple(found)
