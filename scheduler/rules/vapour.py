"""No outlet that sends vapour out may blow on the openings of an open space. Geometry only, no concentrations."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from scheduler.domain.entries import Entry
from scheduler.domain.folder import VoyageFolder
from scheduler.domain.operations import Operation
from scheduler.domain.restrictions import OPEN, KeepApart, KeepClear, Restriction
from scheduler.domain.source import Source, SourceKind
from scheduler.rules.blown import blown
from scheduler.rules.breathing import breathed_on
from scheduler.rules.during import Span, during, named, run_of
from scheduler.rules.exhaust import blown_on_by_fans
from scheduler.rules.flows import sends_toxic, sends_vapour, spots_of
from scheduler.rules.nearby import sorted_operations
from scheduler.rules.outlook import entries_of, open_span
from scheduler.times import MINUTE, overlap

RULE: Final = "vapour"
LARGE = Source(
    kind=SourceKind.PUBLISHED,
    text="distances of design: SOLAS II-2/4.5.3.4, toxic IBC 15.12; sector, calm and the time after: our choice",
)


def vapour(folder: VoyageFolder) -> Iterator[Restriction]:
    """Large flows of operations, breathing of tanks, and the fans of other entries."""
    blowing = [each for each in sorted_operations(folder) if sends_vapour(folder, each)]
    for entry in entries_of(folder):
        for operation in blowing:
            yield from _flow(folder, entry, operation)
        yield from breathed_on(folder, entry)
    yield from blown_on_by_fans(folder)


def _flow(folder: VoyageFolder, entry: Entry, operation: Operation) -> Iterator[KeepClear | KeepApart]:
    """What an operation let out counts until some time after; also when the wind turns on an opening only then."""
    after_min = folder.policy.whole("vapour.after_min")
    toxic = sends_toxic(folder, operation)
    reach_m = folder.policy.number("vapour.toxic_m" if toxic else "vapour.reach_m")
    counts = _counts(folder, entry, operation, after_min)
    for each in blown(folder, spots_of(folder, operation.spaces), entry.space, reach_m, winds=True):
        within = each.span and (each.span[0] - MINUTE * after_min, each.span[1])
        if not overlap(counts, within or counts):
            continue
        because = f"{named(operation)} sends {'toxic ' if toxic else ''}vapour out by {each.by}, {each.how}."
        yield from during(
            entry.entry,
            OPEN,
            operation,
            folder,
            after_min=after_min,
            rule=RULE,
            because=because,
            source=LARGE,
            within=within,
        )


def _counts(folder: VoyageFolder, entry: Entry, operation: Operation, after_min: int) -> Span:
    """When the flow can matter to the entry: a movable one only near the entry's own times, a fixed one always."""
    start, end = run_of(operation, folder)
    if operation.movable:
        opened = open_span(folder, entry)
        start, end = max(start, opened[0] - MINUTE * after_min), min(end, opened[1])
    return start, end + MINUTE * after_min
