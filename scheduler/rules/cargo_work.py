"""While cargo is handled, what belongs to it stays shut."""

from __future__ import annotations

from collections.abc import Collection, Iterator
from typing import Final

from scheduler.domain.entries import Entry
from scheduler.domain.folder import VoyageFolder
from scheduler.domain.operations import Operation
from scheduler.domain.restrictions import MANNED, OPEN, KeepApart, KeepClear, Restriction
from scheduler.domain.source import Source, SourceKind
from scheduler.rules.boundary import device_id, devices_used
from scheduler.rules.during import during, named
from scheduler.rules.kinds import spaces_of
from scheduler.rules.nearby import neighbours_of, sorted_operations
from scheduler.rules.outlook import entries_of

RULE = "cargo work"
CARGO_TANKS: Final = ("cargo tank", "slop tank")
MOVING_CARGO: Final = ("load", "discharge", "transfer", "slops")
TANK_WORK: Final = ("inert", "top up", "purge", "gas-free", "tank wash", "vent down", "line blow", "nitrogen")
BALLAST: Final = ("ballast in", "ballast out", "ballast exchange")
BALLAST_TANKS: Final = ("ballast tank", "peak tank")
TANKER = Source(kind=SourceKind.PRACTICE, text="after IMO A.1050(27) and MSC.581(110)")
HOLDS = Source(
    kind=SourceKind.PUBLISHED, text="MSC.1/Circ.1401 4.2.1; spaces beside a hold: common practice, no source"
)


def cargo_work(folder: VoyageFolder) -> Iterator[Restriction]:
    """On a tanker the cargo area is shut; elsewhere nobody is beside a worked hold or on the ballast line in use."""
    area = cargo_area(folder)
    for entry in entries_of(folder):
        for operation in sorted_operations(folder):
            if has_cargo_tanks(folder):
                if entry.space in area:
                    yield from _cargo_area(folder, entry, operation)
            else:
                yield from _beside_hold(folder, entry, operation)
                yield from _ballast_line(folder, entry, operation)


def has_cargo_tanks(folder: VoyageFolder) -> bool:
    """True for tankers, and for whatever other ship carries cargo in tanks."""
    return folder.ship.is_tanker or any(space.kind in CARGO_TANKS for space in folder.spaces)


def cargo_area(folder: VoyageFolder) -> frozenset[str]:
    """Cargo and slop tanks, all that touches one, pump rooms and duct keels, and what spaces.csv calls cargo area."""
    tanks = {space.space for space in folder.spaces if space.kind in CARGO_TANKS}
    touching = {other for tank in tanks for other in neighbours_of(folder, tank)}
    named_so = {s.space for s in folder.spaces if s.area == "cargo" or s.kind in ("pump room", "duct keel")}
    return frozenset(tanks | touching | named_so)


def _cargo_area(folder: VoyageFolder, entry: Entry, operation: Operation) -> Iterator[KeepClear | KeepApart]:
    before_h = folder.policy.number("closed_before_h") if operation.kind in MOVING_CARGO else 0.0
    if operation.kind not in (*MOVING_CARGO, *TANK_WORK):
        return
    early = f", and {before_h:g} h before it," if before_h else ""
    because = (
        f"During {named(operation)}{early} no space of the cargo area is open; {entry.space} belongs to it, whatever "
        "becomes of the vapour."
    )
    yield from during(
        entry.entry,
        OPEN,
        operation,
        folder,
        before_min=round(before_h * 60),
        rule=RULE,
        because=because,
        source=TANKER,
    )


def _beside_hold(folder: VoyageFolder, entry: Entry, operation: Operation) -> Iterator[KeepClear | KeepApart]:
    if operation.kind not in ("load", "discharge"):
        return
    worked = operation.spaces or tuple(sorted(s.space for s in folder.spaces if s.kind == "hold"))
    beside = next((hold for hold in worked if hold == entry.space or entry.space in neighbours_of(folder, hold)), None)
    if beside is not None:
        where = "is" if beside == entry.space else "lies beside"
        because = f"{entry.space} {where} {beside}, which {named(operation)} works: nobody is in it meanwhile."
        yield from during(entry.entry, MANNED, operation, folder, rule=RULE, because=because, source=HOLDS)


def _ballast_line(folder: VoyageFolder, entry: Entry, operation: Operation) -> Iterator[KeepClear | KeepApart]:
    """Nobody is in a tank on the ballast line in use, though its own valves are shut."""
    if operation.kind not in BALLAST or spaces_of(folder)[entry.space].kind not in BALLAST_TANKS:
        return
    if shared := _shared_main(folder, entry, operation):
        because = f"{entry.space} is on {shared}, which {named(operation)} uses: nobody is in it meanwhile."
        yield from during(entry.entry, MANNED, operation, folder, rule=RULE, because=because, source=HOLDS)


def _shared_main(folder: VoyageFolder, entry: Entry, operation: Operation) -> str:
    """A main that both the space and the operation are on; where the piping is not given they share one."""
    own = Operation(operation="", kind="", spaces=(entry.space,))
    mine, used = (_mains(folder, devices_used(folder, each)) for each in (own, operation))
    if not mine or not used:
        return "the ballast line as far as lines.csv tells"
    return next(iter(sorted(mine & used)), "")


def _mains(folder: VoyageFolder, devices: Collection[str]) -> frozenset[str]:
    return frozenset(
        point
        for pipe in folder.lines
        if device_id(pipe) in devices
        for point in (pipe.point, pipe.to_point)
        if point.casefold().startswith(("main", "header"))
    )
