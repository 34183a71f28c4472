"""Which ballast spaces are emptied when, which loading condition is in force, and which sets it lists."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Final

from scheduler.domain.folder import VoyageFolder
from scheduler.domain.operations import Operation, pressed_up_by
from scheduler.domain.restrictions import EMPTIED, RUN, Phase
from scheduler.rules.during import Span, run_of
from scheduler.rules.nearby import operations_of, sorted_operations
from scheduler.rules.state import begins, stretches
from scheduler.times import gaps, overlap

EMPTYING: Final = ("ballast out", "ballast exchange")
STILL_FULL: Final = ("ballast", "fresh water", "fuel", "cargo", "unknown")


@dataclass(frozen=True, kw_only=True, slots=True)
class Emptied:
    """Spaces that stand empty together, at the most from `start` to `end`; no operation: as the week begins.

    `phases` of the operation are the time in which they stand empty: an exchange has them slack while it runs.
    """

    spaces: frozenset[str]
    start: datetime
    end: datetime
    operation: Operation | None = None
    phases: tuple[Phase, ...] = EMPTIED

    @property
    def named(self) -> str:
        """What to call it in a sentence."""
        if self.operation is None:
            return "what is empty as the week begins"
        return f"{self.operation.operation} ({self.operation.kind})"

    @property
    def movable(self) -> bool:
        """True when the plan chooses when it begins."""
        return self.operation is not None and self.operation.movable

    @property
    def span(self) -> Span:
        """From when to when at the most."""
        return self.start, self.end


@dataclass(frozen=True, kw_only=True, slots=True)
class InForce:
    """A loading condition in its time; `full` None where none is given: then nothing may be emptied."""

    condition: str
    start: datetime
    end: datetime
    full: frozenset[str] | None
    listed: frozenset[frozenset[str]]
    sea_limit_m: float | None

    def counted(self, spaces: frozenset[str]) -> frozenset[str]:
        """Those of the spaces that the condition has full."""
        return spaces if self.full is None else spaces & self.full

    def allows(self, spaces: frozenset[str]) -> bool:
        """True when exactly this set may be empty."""
        counted = self.counted(spaces)
        return not counted or counted in self.listed

    @property
    def span(self) -> Span:
        """Its time."""
        return self.start, self.end


def in_force(folder: VoyageFolder) -> tuple[InForce, ...]:
    """The conditions of the week by start, and the times for which none is given."""
    week = (folder.week.start, folder.week.end)
    rows = [
        InForce(
            condition=row.condition,
            start=max(row.start, week[0]),
            end=min(row.end, week[1]),
            full=frozenset(row.full),
            listed=frozenset(row.may_be_empty),
            sea_limit_m=row.sea_limit_m,
        )
        for row in folder.conditions
        if overlap((row.start, row.end), week)
    ]
    bare = [
        InForce(condition="", start=a, end=b, full=None, listed=frozenset(), sea_limit_m=None)
        for a, b in gaps((row.span for row in rows), *week)
    ]
    return tuple(sorted([*rows, *bare], key=lambda each: (each.start, each.condition)))


def emptied(folder: VoyageFolder) -> tuple[Emptied, ...]:
    """All that stands empty at some time of the week: first what is so at its start, then by operation."""
    by_operation = tuple(_by_operations(folder))
    return (*_at_first(folder, by_operation), *by_operation)


def _by_operations(folder: VoyageFolder) -> Iterator[Emptied]:
    for operation in sorted_operations(folder):
        if operation.kind not in EMPTYING or not operation.spaces:
            continue
        start, end = run_of(operation, folder)
        phases = RUN
        if operation.kind == "ballast out":
            filling = pressed_up_by(operation, folder.operations)
            end = folder.week.end if filling is None else run_of(filling, folder)[1]
            phases = EMPTIED
        start, end = max(start, folder.week.start), min(end, folder.week.end)
        if start < end:
            spaces = frozenset(operation.spaces)
            yield Emptied(spaces=spaces, start=start, end=end, operation=operation, phases=phases)


def _at_first(folder: VoyageFolder, known: Sequence[Emptied]) -> Iterator[Emptied]:
    """Spaces that a condition has full and that are empty as the week begins, those filled together together."""
    full = {space for row in in_force(folder) for space in row.full or ()}
    begun = {space for each in known if each.start <= folder.week.start and not each.movable for space in each.spaces}
    until: dict[datetime, set[str]] = {}
    for space in sorted(full - begun):
        if stretches(folder, space)[0].state.state not in STILL_FULL:
            until.setdefault(_filled(folder, space), set()).add(space)
    for end, spaces in sorted(until.items()):
        if end > folder.week.start:
            yield Emptied(spaces=frozenset(spaces), start=folder.week.start, end=end)


def _filled(folder: VoyageFolder, space: str) -> datetime:
    """When the first filling of a space is over at the latest; the horizon when there is none."""
    fillings = [each for each in operations_of(folder, space) if each.kind in ("ballast in", "ballast exchange")]
    first = min(fillings, key=lambda each: (begins(each), each.operation), default=None)
    return folder.week.end if first is None else min(run_of(first, folder)[1], folder.week.end)
