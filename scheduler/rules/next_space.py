"""What may not go on, or lie, on the other side of a bulkhead."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from itertools import product
from typing import Final

from scheduler.domain.entries import Entry
from scheduler.domain.folder import VoyageFolder
from scheduler.domain.restrictions import (
    INSIDE,
    MANNED,
    OPEN,
    KeepApart,
    KeepClear,
    KeepOrder,
    Notice,
    Phase,
    Refusal,
    Restriction,
)
from scheduler.domain.source import Source, SourceKind
from scheduler.rules.air import is_coating
from scheduler.rules.cargo_work import BALLAST, BALLAST_TANKS, CARGO_TANKS, MOVING_CARGO, TANK_WORK
from scheduler.rules.during import clear, during, named
from scheduler.rules.fit import only_while
from scheduler.rules.kinds import spaces_of
from scheduler.rules.light import darkness
from scheduler.rules.nearby import contacts, neighbours_of, openings_of, sorted_operations
from scheduler.rules.outlook import entries_of
from scheduler.rules.spoken import listed
from scheduler.rules.state import CLEAN, Stretch, stretches

RULE = "next space"
PRESSES: Final = (*MOVING_CARGO, *TANK_WORK, *BALLAST, "bunkering")
"""Fills, empties, washes or puts pressure on a space, so that its bulkheads and whatever joins it may give."""
BESIDE_CARGO: Final = (*BALLAST_TANKS, "void", "cofferdam")
NOT_WITH_HOT_WORK: Final = (*PRESSES, "pilotage")
WATCHED: Final = (*MANNED, Phase.RESTORE)  # the fire watch is part of restore
PRACTICE = Source(kind=SourceKind.PRACTICE, text="")
HOT_WORK = Source(
    kind=SourceKind.PUBLISHED, text="29 CFR 1915.11(b), 1915.14; MSC.1/Circ.1084; which of them binds: our choice"
)


def next_space(folder: VoyageFolder) -> Iterator[Restriction]:
    """Nothing presses on a manned space from next door; what lies there bears coating and hot work."""
    for entry in entries_of(folder):
        yield from _pressed(folder, entry)
        yield from _cargo_beside(folder, entry)
        if entry.work == "hot work":
            yield from _hot_work(folder, entry)


def _pressed(folder: VoyageFolder, entry: Entry) -> Iterator[KeepClear | KeepApart]:
    touching = contacts(folder).get(entry.space, {})
    for operation in sorted_operations(folder):
        beside = sorted(set(operation.spaces) & set(touching))
        if operation.kind in PRESSES and beside:
            contact = "as far as neighbours.csv tells" if touching[beside[0]] == "unknown" else touching[beside[0]]
            because = f"Nobody is in {entry.space} during {named(operation)}: {beside[0]} is next to it ({contact})."
            yield from during(entry.entry, MANNED, operation, folder, rule=RULE, because=because, source=PRACTICE)


# -- cargo next door --------------------------------------------------------------------------------------------


def _holds_cargo(stretch: Stretch) -> bool:
    return stretch.state.state in ("cargo", "unknown")


def _cargo_beside(folder: VoyageFolder, entry: Entry) -> Iterator[Restriction]:
    """Cargo beside a ballast, void or cofferdam space: test before opening; no coating there."""
    if spaces_of(folder)[entry.space].kind not in BESIDE_CARGO:
        return
    for space in neighbours_of(folder, entry.space):
        if not any(_holds_cargo(stretch) for stretch in stretches(folder, space)):
            continue
        what = f"test {entry.space} at its air or sounding pipe before it is opened: {space} next to it may hold cargo"
        yield Notice(
            entry=entry.entry, who="gas tester", when="before ventilate", what=what, rule=RULE, source=PRACTICE
        )
        if is_coating(folder, entry):
            because = f"No coating in {entry.space} while {space} next to it holds cargo, or nobody knows what."
            yield from _bearable(folder, entry, space, _no_cargo, because, PRACTICE)


def _no_cargo(stretch: Stretch) -> bool:
    return not _holds_cargo(stretch)


def _bearable(
    folder: VoyageFolder, entry: Entry, space: str, bears: Callable[[Stretch], bool], because: str, source: Source
) -> Iterator[KeepClear | KeepOrder | Refusal]:
    found = only_while(folder, entry.entry, OPEN, space, bears, rule=RULE, because=because, source=source)
    if found is not None:
        yield from found
        return
    states = listed(sorted({stretch.state.state for stretch in stretches(folder, space)}))
    yield Refusal(
        entry=entry.entry,
        rule=RULE,
        because=f"{because} All week it is {states}.",
        would_change=f"operations that make {space} fit, or what contents.csv says of it",
        source=source,
    )


# -- hot work ---------------------------------------------------------------------------------------------------


def _hot_work(folder: VoyageFolder, entry: Entry) -> Iterator[Restriction]:
    for space in neighbours_of(folder, entry.space):
        because = (
            f"Hot work in {entry.space} wants {space} next to it cleaned and gas-free, or purged and inerted, or full "
            "of water."
        )
        yield from _bearable(folder, entry, space, _bears_hot_work, because, HOT_WORK)
    yield from _slops(folder, entry)
    for operation in sorted_operations(folder):
        if operation.kind in NOT_WITH_HOT_WORK:
            because = f"No hot work and no fire watch during {named(operation)}."
            yield from during(entry.entry, WATCHED, operation, folder, rule=RULE, because=because, source=HOT_WORK)
    for dark in darkness(folder, folder.policy.whole("daylight.margin_min")):
        because = f"Hot work is done by day. {dark.because}"
        yield from clear(folder, entry.entry, INSIDE, dark.span, rule=RULE, because=because, source=HOT_WORK)
    yield from _said(folder, entry)


def _bears_hot_work(stretch: Stretch) -> bool:
    """Gas-free and clean, or full of water, or inerted by a purge of this week (what came before is not known)."""
    purged = stretch.state.state == "inerted" and stretch.after is not None and stretch.after.kind == "purge"
    return purged or stretch.state.state in (*CLEAN, "ballast", "fresh water")


def _slops(folder: VoyageFolder, entry: Entry) -> Iterator[Restriction]:
    """Slops within the distance are ashore, or the tank is clean, inerted by a purge or full of water."""
    keep_m = folder.policy.number("hot_work.slop_m")
    beside = neighbours_of(folder, entry.space)
    for space in sorted(each.space for each in folder.spaces if each.kind == "slop tank"):
        apart_m = _apart_m(folder, entry.space, space)
        if space in beside or space == entry.space or apart_m > keep_m:
            continue
        because = f"Hot work in {entry.space} wants no slops within {keep_m:g} m; {space} is {apart_m:.0f} m off."
        yield from _bearable(folder, entry, space, _bears_hot_work, because, HOT_WORK)


def _apart_m(folder: VoyageFolder, one: str, other: str) -> float:
    """The least horizontal distance of what is known of two spaces; 0 when one of them has no place at all."""
    pairs = product(_places(folder, one), _places(folder, other))
    return min((math.dist(a, b) for a, b in pairs), default=0.0)


def _places(folder: VoyageFolder, space: str) -> list[tuple[float, float]]:
    itself = spaces_of(folder)[space]
    found = [(itself.x_m, itself.y_m), *((row.x_m, row.y_m) for row in openings_of(folder, space))]
    return [(x_m, y_m) for x_m, y_m in found if x_m is not None and y_m is not None]


def _said(folder: VoyageFolder, entry: Entry) -> Iterator[Notice]:
    tanks = [space.space for space in folder.spaces if space.kind in CARGO_TANKS and space.space != entry.space]
    for who, what in (
        (
            "cargo control",
            f"all cargo and slop tanks stay shut during hot work in {entry.space}: {listed(sorted(tanks))}",
        ),
        (
            "officer in charge",
            f"each space next to {entry.space} tested below 1 % LFL, or shut off and inerted, or full",
        ),
    ):
        if tanks or who != "cargo control":
            yield Notice(entry=entry.entry, who=who, when="before enter", what=what, rule=RULE, source=HOT_WORK)
