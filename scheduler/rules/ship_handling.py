"""What the ship herself does, and when she must be shut for it."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from scheduler.domain.entries import Entry
from scheduler.domain.folder import VoyageFolder
from scheduler.domain.operations import Operation
from scheduler.domain.restrictions import OPEN, KeepApart, KeepClear, Restriction
from scheduler.domain.source import Source, SourceKind
from scheduler.rules.air import is_coating
from scheduler.rules.during import clear, during, named
from scheduler.rules.kinds import spaces_of
from scheduler.rules.nearby import neighbours_of, sorted_operations
from scheduler.rules.outlook import entries_of, legs_of
from scheduler.times import HOUR

RULE = "ship handling"
ALL_CLOSED: Final = ("stations", "pilotage", "canal", "restricted waters")
NOT_NOW: Final = ("drill", "entry drill", "power test", "helicopter")
PRACTICE = Source(kind=SourceKind.PRACTICE, text="")


def ship_handling(folder: VoyageFolder) -> Iterator[Restriction]:
    """Nothing open at stations, under pilotage, in narrow waters, in drills, nor against a standing order."""
    for entry in entries_of(folder):
        for operation in sorted_operations(folder):
            yield from _all_closed(folder, entry, operation)
            yield from _not_now(folder, entry, operation)
            yield from _bunkering(folder, entry, operation)
            yield from _order(folder, entry, operation)
        yield from _restricted(folder, entry)


def _all_closed(folder: VoyageFolder, entry: Entry, operation: Operation) -> Iterator[KeepClear | KeepApart]:
    if operation.kind in ALL_CLOSED:
        before_h = folder.policy.number("closed_before_h")
        because = f"Everything is shut {before_h:g} h before {named(operation)} and stays shut until it is over."
        yield from during(
            entry.entry,
            OPEN,
            operation,
            folder,
            before_min=round(before_h * 60),
            rule=RULE,
            because=because,
            source=folder.policy.source("closed_before_h"),
        )


def _not_now(folder: VoyageFolder, entry: Entry, operation: Operation) -> Iterator[KeepClear | KeepApart]:
    if operation.kind in NOT_NOW:
        because = f"No space is open during {named(operation)}."
        yield from during(entry.entry, OPEN, operation, folder, rule=RULE, because=because, source=PRACTICE)


def _bunkering(folder: VoyageFolder, entry: Entry, operation: Operation) -> Iterator[KeepClear | KeepApart]:
    if operation.kind != "bunkering":
        return
    if what := _by_bunkers(folder, entry, operation):
        because = f"During {named(operation)} {what}."
        yield from during(entry.entry, OPEN, operation, folder, rule=RULE, because=because, source=PRACTICE)


def _by_bunkers(folder: VoyageFolder, entry: Entry, operation: Operation) -> str:
    """Why an entry waits for bunkers; empty when it does not."""
    fuel = {space.space for space in folder.spaces if space.kind == "fuel tank"}
    filled = set(operation.spaces) or fuel
    if entry.work == "hot work":
        return "there is no hot work"
    if is_coating(folder, entry):
        return "there is no coating"
    if spaces_of(folder)[entry.space].kind == "fuel tank" or entry.space in filled:
        return f"no fuel space is open; {entry.space} is one"
    beside = sorted(filled & set(neighbours_of(folder, entry.space)))
    return f"nothing that touches a filled space is open; {entry.space} touches {beside[0]}" if beside else ""


def _order(folder: VoyageFolder, entry: Entry, operation: Operation) -> Iterator[KeepClear | KeepApart]:
    hot = entry.work == "hot work"
    if operation.bars in ("entries", "all") or (operation.bars == "hot work" and hot):
        what = "hot work" if operation.bars == "hot work" else "entry"
        note = f": {operation.note}" if operation.note else ""
        because = f"A standing order bars {what} during {named(operation)}{note}."
        source = Source(kind=SourceKind.GIVEN, text="operations.csv, column bars")
        yield from during(entry.entry, OPEN, operation, folder, rule=RULE, because=because, source=source)


def _restricted(folder: VoyageFolder, entry: Entry) -> Iterator[KeepClear]:
    before_h = folder.policy.number("closed_before_h")
    for leg in legs_of(folder):
        if leg.restricted:
            because = (
                f"Leg {leg.leg} ({leg.place}) is restricted waters: everything is shut {before_h:g} h before it and "
                "stays shut until it is over."
            )
            yield from clear(
                folder,
                entry.entry,
                OPEN,
                (leg.start - before_h * HOUR, leg.end),
                rule=RULE,
                because=because,
                source=folder.policy.source("closed_before_h"),
            )
