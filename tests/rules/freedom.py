"""Is more left free than before? What binds the entries of two folders, held against each other step by step."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from scheduler.domain.folder import VoyageFolder
from scheduler.domain.restrictions import Refusal
from scheduler.rules import restrictions
from scheduler.solve.pose import Posing
from scheduler.solve.problem import Cap, Span, Task

Wall = tuple[str, str, int]
"""Stretch, what it keeps from, step."""


class Bound:
    """What binds the entries of a folder."""

    def __init__(self, folder: VoyageFolder) -> None:
        found = restrictions(folder)
        self._posing = Posing(folder, found)
        self.refused = {each.entry for each in found if isinstance(each, Refusal)}
        self.tasks = {e.entry: self._posing.task(e) for e in folder.entries if e.entry not in self.refused}
        self.windows = {o.operation: self._window(folder, o.operation) for o in folder.operations if o.movable}
        self.aparts = list(self._posing.aparts())

    def _window(self, folder: VoyageFolder, name: str) -> Span:
        job = self._posing.job(next(o for o in folder.operations if o.operation == name))
        return job.earliest, job.latest + job.steps

    def walls(self, entry: str) -> set[Wall]:
        """Every step that an entry's stretches keep clear of, alone or while a movable operation runs."""
        steps = self._posing.grid.steps
        found: set[Wall] = set()
        for stretch, spans in self.tasks[entry].blocked.items():
            # what keeps clear at all times keeps clear of any operation as well
            for other in ("", *self.windows):
                found |= {(stretch, other, step) for a, b in spans for step in range(a, b)}
        for apart in self.aparts:
            if apart.a == entry and apart.b in self.windows:
                a, b = apart.span or (0, steps)
                first, last = self.windows[apart.b]
                reach = range(max(0, a, first) - apart.before, min(steps, b, last) + apart.after)
                found |= {(apart.a_stretch, apart.b, step) for step in reach}
        return found


def freer(before: Bound, after: Bound) -> list[str]:
    """Entries to which the second leaves what the first did not, and what."""
    return [
        f"{entry}: {what}"
        for entry in sorted(before.tasks.keys() | before.refused)
        for what in _of(entry, before, after)
    ]


def _of(entry: str, before: Bound, after: Bound) -> Iterator[str]:
    if entry in after.refused:
        return
    if entry in before.refused:
        yield "was refused and is not"
        return
    gone = before.walls(entry) - after.walls(entry)
    for stretch, other in sorted({wall[:2] for wall in gone}):
        steps = sorted(step for a, b, step in gone if (a, b) == (stretch, other))
        yield f"{stretch} from step {steps[0]} to {steps[-1]} {other and 'beside ' + other}"
    was, now = before.tasks[entry], after.tasks[entry]
    if _quickest(now) < _quickest(was):
        yield "less ventilation"
    for name in ("brief", "isolate", "test", "restore", "inside"):
        if getattr(now, name) < getattr(was, name):
            yield f"a shorter {name}"
    if _speeds(was.caps) - _speeds(now.caps) - {c for c in _speeds(was.caps) if _shut(now, c)}:
        yield "a greater speed"


def _quickest(task: Task) -> int:
    return min((way.steps for way in task.ways), default=10_000)


def _speeds(caps: Iterable[Cap]) -> set[tuple[str, int]]:
    return {(cap.stretch, cap.hour) for cap in caps}


def _shut(task: Task, cap: tuple[str, int]) -> bool:
    return any(stretch == cap[0] for stretch in task.blocked)
