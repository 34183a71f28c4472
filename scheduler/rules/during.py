"""One way to say that phases of an entry keep clear of an operation, its time given or still to be chosen."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import datetime

from scheduler.domain.folder import VoyageFolder
from scheduler.domain.operations import Operation
from scheduler.domain.restrictions import KeepApart, KeepClear, Phase
from scheduler.domain.source import Source
from scheduler.rules.spoken import listed
from scheduler.times import HOUR, MINUTE

Span = tuple[datetime, datetime]


def during(
    entry: str,
    phases: Sequence[Phase],
    operation: Operation,
    folder: VoyageFolder,
    *,
    before_min: int = 0,
    after_min: int = 0,
    rule: str,
    because: str,
    source: Source,
    within: Span | None = None,
) -> Iterator[KeepClear | KeepApart]:
    """Keep the phases out of [start − before, end + after) of an operation; of its part inside `within`, where given.

    A fixed operation gives a KeepClear inside the week, a movable one a KeepApart. Yields nothing when the operation
    cannot run inside `within`, or when the whole stretch lies outside the week.
    """
    part = part_of(operation, folder, within)
    if part is None:
        return
    start, end = part[0] - MINUTE * before_min, part[1] + MINUTE * after_min
    if not operation.movable:
        yield from clear(folder, entry, phases, (start, end), rule=rule, because=because, source=source)
        return
    if end <= folder.week.start or start >= folder.week.end:
        return
    yield KeepApart(
        entry=entry,
        phases=tuple(phases),
        other=operation.operation,
        start=None if within is None else within[0],
        end=None if within is None else within[1],
        gap_before_min=before_min,
        gap_after_min=after_min,
        rule=rule,
        because=because,
        source=source,
    )


def clear(
    folder: VoyageFolder,
    entry: str,
    phases: Sequence[Phase],
    span: Span,
    *,
    rule: str,
    because: str,
    source: Source,
) -> Iterator[KeepClear]:
    """Keep the phases out of a span, cut to the week; nothing when it lies outside."""
    start, end = max(span[0], folder.week.start), min(span[1], folder.week.end)
    if start < end:
        yield KeepClear(
            entry=entry, phases=tuple(phases), start=start, end=end, rule=rule, because=because, source=source
        )


def named(operation: Operation) -> str:
    """An operation as it is spoken of: 'W2 (tank wash of C2P and C2S)'."""
    of = f" of {listed(operation.spaces)}" if operation.spaces else ""
    return f"{operation.operation} ({operation.kind}{of})"


def run_of(operation: Operation, folder: VoyageFolder) -> Span:
    """From when to when an operation runs, or can at the earliest and latest; without an end until the horizon."""
    start = operation.start or operation.earliest or folder.week.start
    end = operation.latest if operation.movable else operation.end
    return start, folder.week.end if end is None else end


def part_of(operation: Operation, folder: VoyageFolder, within: Span | None) -> Span | None:
    """The part of its run, or of the window that it may run in, inside a span; None when there is none."""
    start, end = run_of(operation, folder)
    if within is not None:
        start, end = max(start, within[0]), min(end, within[1])
    return (start, end) if start < end else None


def hours_of(folder: VoyageFolder) -> tuple[Span, ...]:
    """The UTC hours that the week touches, whole ones, ascending."""
    first = folder.week.start.replace(minute=0, second=0, microsecond=0)
    count = -int((first - folder.week.end) // HOUR)
    return tuple((first + HOUR * each, first + HOUR * (each + 1)) for each in range(count))
