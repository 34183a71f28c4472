"""What waits for something else."""

from __future__ import annotations

from collections.abc import Iterator

from scheduler.domain.folder import VoyageFolder
from scheduler.domain.restrictions import KeepOrder, Restriction
from scheduler.domain.source import Source, SourceKind
from scheduler.rules.outlook import entries_of

RULE = "after"


def after(folder: VoyageFolder) -> Iterator[Restriction]:
    """An order for each `after` of an entry or an operation, but between two operations whose times both stand."""
    fixed = {each.operation for each in folder.operations if not each.movable}
    for entry in entries_of(folder):
        for first in sorted(set(entry.after)):
            yield _order(first, entry.entry, "entries.csv, after")
    for operation in sorted(folder.operations, key=lambda each: each.operation):
        for first in sorted(set(operation.after)):
            if not (first in fixed and operation.operation in fixed):
                yield _order(first, operation.operation, "operations.csv, after")


def _order(first: str, then: str, where: str) -> KeepOrder:
    return KeepOrder(
        first=first,
        then=then,
        rule=RULE,
        because=f"{then} waits for {first}.",
        source=Source(kind=SourceKind.GIVEN, text=where),
    )
