"""One week measured: planned by hand, by the planner, and by hand again for as long as the planner took."""

from __future__ import annotations

import time
from collections.abc import Sequence
from dataclasses import dataclass
from statistics import median

from scheduler.solve.child import solve
from scheduler.solve.counts import PeopleCounts
from scheduler.solve.outcome import LevelFound, Outcome
from scheduler.solve.problem import Problem
from scheduler.solve.search import LEVELS
from tests.benchmarks.by_hand import WORTH, ByHand, by_hand, by_hand_until, worth
from tests.benchmarks.machine import peaks_mib
from tests.benchmarks.validity import faults

SEED = 1
BEFORE_NAMES = (*LEVELS, "early finish")


@dataclass(frozen=True, kw_only=True, slots=True)
class Measured:
    """What one week gave. Times in seconds of the wall clock; values as `WORTH` has them."""

    name: str
    once: int
    once_s: float
    again: int
    attempts: int
    value: int
    bound: int
    all_of_it: int
    first_s: float
    whole_s: float
    building_s: float
    met: bool
    confirmed: bool
    faults: tuple[str, ...]
    trouble: str
    memory_mib: float

    @property
    def ratio(self) -> float:
        """The planner's value against that by hand in the same time."""
        return self.value / self.again if self.again else float("inf") if self.value else 1.0


class _Hearing:
    """Notes when the planner first speaks of something that it does only once a complete plan stands."""

    def __init__(self) -> None:
        self.begun = time.monotonic()
        self.first_s: float | None = None

    def __call__(self, text: str) -> None:
        stage = text.partition(":")[0]
        if self.first_s is None and stage not in BEFORE_NAMES and not stage.startswith("names"):
            self.first_s = time.monotonic() - self.begun


def measured(name: str, problem: Problem, seconds: float) -> Measured:
    """Measure one week with `seconds` of effort; every plan is looked over, and its faults are told."""
    at = time.monotonic()
    once = by_hand(problem)
    once_s = time.monotonic() - at
    building_s = _building(problem)
    hearing = _Hearing()
    answer = solve(problem, seconds=seconds, seed=SEED, say=hearing)
    whole_s = time.monotonic() - hearing.begun
    again, attempts = by_hand_until(problem, time.monotonic() + whole_s, SEED)
    found = answer.outcome
    mine, child = peaks_mib()
    return Measured(
        name=name,
        once=worth(problem, once.timed.entries),
        once_s=once_s,
        again=worth(problem, again.timed.entries),
        attempts=attempts,
        value=worth(problem, found.timed.entries) if found else 0,
        bound=_bound(problem, found.levels) if found else worth(problem, [t.entry for t in problem.tasks]),
        all_of_it=worth(problem, [t.entry for t in problem.tasks]),
        first_s=min(hearing.first_s or whole_s, whole_s),
        whole_s=whole_s,
        building_s=building_s,
        met=found is not None and all(level.met for level in found.levels if level.name in LEVELS),
        confirmed=found is not None and found.confirmed,
        faults=_faults(problem, once, again, found),
        trouble=answer.trouble or ("nothing stands" if answer.proven_empty else ""),
        memory_mib=mine + 2 * child,  # the planner runs two children at once
    )


def _building(problem: Problem) -> float:
    at = time.monotonic()
    PeopleCounts(problem).add_all()
    return time.monotonic() - at


def _bound(problem: Problem, levels: Sequence[LevelFound]) -> int:
    """The most that entries can be worth by the bounds of the levels and by how many there are.

    A level's bound holds only under levels before it that are met; after the first that is not, all entries count.
    """
    total, holds = 0, True
    for name in LEVELS:
        level = next((one for one in levels if one.name == name), None)
        if name.startswith("entries"):
            priority = int(name[-1])
            there = sum(task.priority == priority for task in problem.tasks)
            total += WORTH[priority] * (min(there, int(level.bound)) if level and holds else there)
        holds = holds and level is not None and level.met
    return total


def _faults(problem: Problem, once: ByHand, again: ByHand, found: Outcome | None) -> tuple[str, ...]:
    said = [
        *(f"by hand: {text}" for text in faults(problem, once.timed, once.people)),
        *(f"by hand again: {text}" for text in faults(problem, again.timed, again.people)),
    ]
    if found:
        said += [f"planner: {text}" for text in faults(problem, found.timed, found.people, found.short)]
    return tuple(said)


HEAD = (
    "| week | by hand once | by hand, same time | planner | of bound | ratio | proven | first plan | whole |\n"
    + "|---" * 9
)
HEAD += "|"


def row(m: Measured) -> str:
    """One week as a line of a table."""
    proven = "yes, confirmed" if m.met and m.confirmed else "yes" if m.met else "no"
    return (
        f"| {m.name} | {m.once} in {m.once_s:.1f} s | {m.again} ({m.attempts} attempts) | {m.value} of {m.all_of_it}"
        f"{f' ({m.trouble})' if m.trouble else ''} | {m.bound} ({m.value / m.bound if m.bound else 1:.0%}) "
        f"| {m.ratio:.2f} | {proven} | {m.first_s:.1f} s | {m.whole_s:.1f} s |"
    )


def summary(found: Sequence[Measured]) -> list[str]:
    """Medians over the weeks of one size."""
    told = [f"- fault: {m.name}: {text}" for m in found for text in m.faults]
    return [
        f"- planner against by hand in the same time: median {median(m.ratio for m in found):.2f}, "
        f"from {min(m.ratio for m in found):.2f} to {max(m.ratio for m in found):.2f}",
        f"- first complete plan: median {median(m.first_s for m in found):.1f} s at the latest; "
        f"whole run: median {median(m.whole_s for m in found):.1f} s",
        f"- of the bound: median {median(m.value / m.bound if m.bound else 1.0 for m in found):.0%}",
        f"- proven: {sum(m.met for m in found)}/{len(found)}, and confirmed by the second run: "
        f"{sum(m.met and m.confirmed for m in found)}/{len(found)}",
        f"- before the solver (building its model once): "
        f"{median(m.building_s / m.whole_s for m in found):.1%} of the whole run",
        f"- memory at most {max(m.memory_mib for m in found):.0f} MiB, this process and two children as large as the "
        "largest so far",
        f"- faults found in the plans: {len(told)}",
        *told,
    ]
