"""Keep an entry to the times in which another space is in a state that it can bear."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

from scheduler.domain.folder import VoyageFolder
from scheduler.domain.operations import Operation
from scheduler.domain.restrictions import KeepClear, KeepOrder, Phase
from scheduler.domain.source import Source
from scheduler.rules.during import Span, clear, run_of
from scheduler.rules.state import Stretch, stretches


@dataclass(frozen=True, kw_only=True, slots=True)
class Fit:
    """A time in which the state can be borne: after one operation (None: the week's start), before another."""

    after: Operation | None
    before: Operation | None


def only_while(
    folder: VoyageFolder,
    entry: str,
    phases: Sequence[Phase],
    space: str,
    bears: Callable[[Stretch], bool],
    *,
    rule: str,
    because: str,
    source: Source,
) -> Iterator[KeepClear | KeepOrder] | None:
    """Restrictions that hold the entry to the stretches of `space` that `bears` accepts; None when there is none.

    While an operation changes the state it counts as not accepted. Fixed operations give KeepClears of the phases,
    movable ones KeepOrders of the whole entry.
    """
    found = stretches(folder, space)
    fits = tuple(_joined(found, bears))
    if not fits:
        return None
    if fits == (Fit(after=None, before=None),):
        return iter(())
    if not any(stretch.before is not None and stretch.before.movable for stretch in found):
        return _clear_of_rest(folder, entry, phases, fits, rule=rule, because=because, source=source)
    if len(fits) == 1:
        return _one(folder, entry, phases, fits[0], rule=rule, because=because, source=source)
    either = f"{entry} {rule} {space}"
    return (
        order
        for branch, fit in enumerate(fits)
        for order in _orders(entry, fit, either, branch, rule=rule, because=because, source=source)
    )


def _joined(found: Sequence[Stretch], bears: Callable[[Stretch], bool]) -> Iterator[Fit]:
    """Accepted stretches that follow each other are one time."""
    begun: Stretch | None = None
    for index, stretch in enumerate(found):
        if not bears(stretch):
            begun = None
            continue
        begun = begun or stretch
        if index + 1 == len(found) or not bears(found[index + 1]):
            yield Fit(after=begun.after, before=stretch.before)


def _span(folder: VoyageFolder, fit: Fit) -> Span:
    start = folder.week.start if fit.after is None else run_of(fit.after, folder)[1]
    end = folder.week.end if fit.before is None else run_of(fit.before, folder)[0]
    return start, end


def _clear_of_rest(
    folder: VoyageFolder,
    entry: str,
    phases: Sequence[Phase],
    fits: Sequence[Fit],
    *,
    rule: str,
    because: str,
    source: Source,
) -> Iterator[KeepClear]:
    at = folder.week.start
    for start, end in (*(_span(folder, fit) for fit in fits), (folder.week.end, folder.week.end)):
        yield from clear(folder, entry, phases, (at, start), rule=rule, because=because, source=source)
        at = end


def _one(
    folder: VoyageFolder,
    entry: str,
    phases: Sequence[Phase],
    fit: Fit,
    *,
    rule: str,
    because: str,
    source: Source,
) -> Iterator[KeepClear | KeepOrder]:
    fixed = Fit(
        after=None if fit.after is None or fit.after.movable else fit.after,
        before=None if fit.before is None or fit.before.movable else fit.before,
    )
    moved = Fit(
        after=None if fit.after is None or not fit.after.movable else fit.after,
        before=None if fit.before is None or not fit.before.movable else fit.before,
    )
    yield from _clear_of_rest(folder, entry, phases, (fixed,), rule=rule, because=because, source=source)
    yield from _orders(entry, moved, "", 0, rule=rule, because=because, source=source)


def _orders(
    entry: str, fit: Fit, either: str, branch: int, *, rule: str, because: str, source: Source
) -> Iterator[KeepOrder]:
    if fit.after is not None:
        yield KeepOrder(
            first=fit.after.operation,
            then=entry,
            either=either,
            branch=branch,
            rule=rule,
            because=because,
            source=source,
        )
    if fit.before is not None:
        yield KeepOrder(
            first=entry,
            then=fit.before.operation,
            either=either,
            branch=branch,
            rule=rule,
            because=because,
            source=source,
        )
