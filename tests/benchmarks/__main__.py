"""`python -m tests.benchmarks`: figures of this machine, measured in this run and written nowhere unless asked.

python -m tests.benchmarks                    the demo week, ten entries, five seeds
python -m tests.benchmarks 25 60 --seeds 3    these sizes, three seeds each
python -m tests.benchmarks 10 --seconds 12    another effort (the solver's deterministic seconds)
python -m tests.benchmarks 25 --hours         with working hours besides, which is harder
python -m tests.benchmarks demo --to FILE     the demo week alone, and the text in a file as well
"""

from __future__ import annotations

import argparse
import time
from collections.abc import Iterator
from pathlib import Path

from scheduler.errors import LullError
from scheduler.inputs import read_folder
from scheduler.rules import restrictions
from scheduler.solve.pose import Posing
from scheduler.week import EFFORT_S, plan_week
from tests.benchmarks.by_hand import WORTH
from tests.benchmarks.machine import machine
from tests.benchmarks.measure import HEAD, measured, row, summary
from tests.benchmarks.weeks import CREW, described, random_week

DEMO = Path(__file__).parents[2] / "demo_voyage"


def main() -> None:
    """Measure what was asked for, line by line."""
    asked = _asked()
    lines: list[str] = []
    for line in _report(asked):
        print(line, flush=True)
        lines.append(line)
    if asked.to:
        asked.to.write_text("\n".join(lines) + "\n", encoding="utf-8")


def _asked() -> argparse.Namespace:
    parser = argparse.ArgumentParser(prog="python -m tests.benchmarks", description="Figures of this machine.")
    parser.add_argument("weeks", nargs="*", default=["demo", "10"], help="demo, 10, 25, 60 or 120; default: demo 10")
    parser.add_argument("--seeds", type=int, default=5, help="how many random weeks of each size")
    parser.add_argument("--seconds", type=float, default=EFFORT_S, help="effort a week, deterministic seconds")
    parser.add_argument("--hours", action="store_true", help="working hours too: harder than the usual random weeks")
    parser.add_argument("--to", type=Path, help="write the text here as well")
    asked = parser.parse_args()
    wrong = [week for week in asked.weeks if week != "demo" and week not in {str(size) for size in CREW}]
    if wrong:
        parser.error(f"weeks: {wrong[0]} was asked for; expected demo, 10, 25, 60 or 120.")
    return asked


def _report(asked: argparse.Namespace) -> Iterator[str]:
    yield f"Machine: {machine()}"
    yield f"Effort {asked.seconds:g} deterministic seconds a week; an entry is worth {WORTH} by its priority."
    for week in asked.weeks:
        yield ""
        if week == "demo":
            yield from _demo(asked.seconds)
        else:
            yield from _random(int(week), asked)


def _random(entries: int, asked: argparse.Namespace) -> Iterator[str]:
    yield f"## {entries} entries, {asked.seeds} random weeks{' with working hours' if asked.hours else ''}"
    yield HEAD
    found = []
    for seed in range(1, asked.seeds + 1):
        problem = random_week(entries, seed, hours=asked.hours)
        found.append(measured(f"seed {seed}", problem, asked.seconds))
        yield row(found[-1])
    for seed in range(1, asked.seeds + 1):
        yield f"- seed {seed}: {described(random_week(entries, seed, hours=asked.hours))}"
    yield from summary(found)


def _demo(seconds: float) -> Iterator[str]:
    """The demo week: its problem beside a plan by hand, and then the whole way from folder to checked plan."""
    yield "## The demo week"
    try:
        at = time.monotonic()
        folder = read_folder(DEMO)
        reading_s = time.monotonic() - at
        rules = restrictions(folder)
        ruled_s = time.monotonic() - at
        problem = Posing(folder, rules).problem()
        before_s = time.monotonic() - at
        yield HEAD
        one = measured("demo", problem, seconds)
        yield row(one)
        yield from summary([one])
        yield f"- reading {reading_s:.2f} s, rules {ruled_s - reading_s:.2f} s, posing {before_s - ruled_s:.2f} s"
        at = time.monotonic()
        plan = plan_week(folder, seconds=seconds)
        planned_s = time.monotonic() - at + reading_s
        yield f"- from folder to checked plan {planned_s:.1f} s; all before the solver {before_s / planned_s:.1%} of it"
        yield f"- {len(plan.entries)} entries in the plan"
    except LullError as error:
        yield f"- not measured further: {type(error).__name__}: {str(error).splitlines()[0]}"


if __name__ == "__main__":
    main()
