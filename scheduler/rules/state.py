"""What is in each space, followed through the operations of the week in one order."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from datetime import datetime
from typing import Final

from scheduler.domain.folder import VoyageFolder
from scheduler.domain.operations import Operation
from scheduler.domain.ship import Space
from scheduler.rules.kinds import spaces_of
from scheduler.rules.nearby import operations_of
from scheduler.times import HOUR

CLEAN: Final = ("clean and empty", "gas-free")
UNKNOWN: Final = "unknown"

_LEAVES: Final[Mapping[str, str]] = {
    "load": "cargo",
    "tank wash": "empty with vapour",
    "ballast in": "ballast",
    "ballast exchange": "ballast",
    "inert": "inerted",
    "purge": "inerted",
    "bunkering": "fuel",
    "transfer": UNKNOWN,
    "slops": UNKNOWN,
    "nitrogen": "nitrogen padded",
    "other": UNKNOWN,
}
_SEALED: Final = ("cargo", "fuel", "empty with vapour", "inerted", "nitrogen padded", "fumigated", UNKNOWN)
"""States that gas blown in, topped up or let out does not make worse; any other state becomes unknown."""
_GAS_MOVED: Final = ("top up", "line blow", "vent down")
_UNTOUCHED: Final = (
    "pilotage", "canal", "gauging", "stores", "stations", "restricted waters", "drill", "entry drill", "power test",
    "helicopter", "visit",
)  # fmt: skip


@dataclass(frozen=True, kw_only=True, slots=True)
class State:
    """What is in a space. `washed`: since the last cargo; `clean_before`: nothing but clean water came in since it
    was clean; `inerted_last`: the step before was inerting or purging."""

    state: str
    cargo: str | None = None
    washed: bool = False
    clean_before: bool = False
    inerted_last: bool = False


@dataclass(frozen=True, kw_only=True, slots=True)
class Stretch:
    """What is in a space between two of its operations; None: the week's start, its end."""

    after: Operation | None
    before: Operation | None
    state: State


def stretches(folder: VoyageFolder, space: str) -> tuple[Stretch, ...]:
    """A space's states from the week's start on, in the order in which its operations are taken."""
    known = folder.cache.setdefault("contents by space", {})
    assert isinstance(known, dict)
    if space not in known:
        known[space] = tuple(_stretches(folder, spaces_of(folder)[space]))
    return tuple(known[space])


def states(folder: VoyageFolder) -> Mapping[str, tuple[Stretch, ...]]:
    """The states of every space through the week."""
    return {space: stretches(folder, space) for space in sorted(spaces_of(folder))}


def _stretches(folder: VoyageFolder, space: Space) -> Iterator[Stretch]:
    row = next((row for row in folder.contents if row.space == space.space), None)
    state = State(state=UNKNOWN if row is None else row.state, cargo=row.cargo if row else None)
    state = replace(state, clean_before=state.state in CLEAN, inerted_last=state.state == "inerted")
    after: Operation | None = None
    for operation in changes(folder, space.space):
        yield Stretch(after=after, before=operation, state=state)
        state, after = _left(folder, space, state, operation), operation
    yield Stretch(after=after, before=None, state=state)


def changes(folder: VoyageFolder, space: str) -> tuple[Operation, ...]:
    """The operations that change a space's contents in the week, in order: `after` first, else by start or earliest."""
    mine = [
        operation
        for operation in operations_of(folder, space)
        if (operation.kind not in _UNTOUCHED or operation.leaves)
        and (operation.end is None or operation.end > folder.week.start)
    ]
    waiting = sorted(mine, key=lambda each: (begins(each), each.operation))
    found: list[Operation] = []
    while waiting:
        names = {each.operation for each in waiting}
        # a ring of `after` cannot be kept by any order; the solver will say so
        following = next((each for each in waiting if not names & set(each.after)), waiting[0])
        waiting.remove(following)
        found.append(following)
    return tuple(found)


def begins(operation: Operation) -> datetime:
    """A fixed operation's start, a movable one's earliest."""
    found = operation.start or operation.earliest
    assert found is not None  # the reader sees to it
    return found


def latest_start(operation: Operation) -> datetime:
    """The last instant at which an operation may begin; a fixed one's start."""
    if operation.movable and operation.latest is not None:
        return operation.latest - (operation.hours or 0.0) * HOUR
    return begins(operation)


def earliest_end(folder: VoyageFolder, operation: Operation) -> datetime:
    """The first instant at which an operation may be over; the horizon for a fixed one without an end."""
    if operation.movable:
        return begins(operation) + (operation.hours or 0.0) * HOUR
    return operation.end or folder.week.end


def _left(folder: VoyageFolder, space: Space, state: State, operation: Operation) -> State:
    """What an operation leaves; `leaves` counts only where it is no looser."""
    found = _by_kind(folder, space, state, operation)
    if operation.leaves and _looseness(operation.leaves) >= _looseness(found.state):
        found = replace(found, state=operation.leaves)
    return found


def _looseness(state: str) -> int:
    """0 for what every entry accepts, 1 for what cleaning by hand accepts, 2 for what none does."""
    return 0 if state in CLEAN else 1 if state == "residue" else 2


def _by_kind(folder: VoyageFolder, space: Space, state: State, operation: Operation) -> State:
    kind, cargo = operation.kind, operation.cargo or state.cargo
    match kind:
        case "discharge":
            left = "residue" if _cargo_kind(folder, cargo) == "solid" else "empty with vapour"
            return State(state=left, cargo=cargo)
        case "tank wash":
            return State(state=_LEAVES[kind], cargo=cargo, washed=True)
        case "ballast in" | "ballast exchange":
            clean = state.clean_before or space.kind in ("ballast tank", "peak tank")
            return State(state="ballast", cargo=state.cargo, washed=state.washed, clean_before=clean)
        case "ballast out":
            clean = space.kind in ("ballast tank", "peak tank") or (state.state == "ballast" and state.clean_before)
            fouled = not clean or state.state in ("cargo", "fuel", "fumigated")
            return replace(state, state="empty with vapour" if fouled else "clean and empty", inerted_last=False)
        case "inert" | "purge":
            return State(state="inerted", cargo=cargo, washed=state.washed, inerted_last=True)
        case "gas-free":
            gas = state.inerted_last and _cargo_kind(folder, cargo) == "gas"
            free = state.washed or gas
            left = "gas-free" if free else "empty with vapour"
            return State(state=left, cargo=cargo, washed=state.washed, clean_before=free)
        case _ if kind in _GAS_MOVED:
            return state if state.state in _SEALED else State(state=UNKNOWN, cargo=cargo)
        case _ if kind in _LEAVES:
            return State(state=_LEAVES[kind], cargo=cargo)
        case _:
            return state


def _cargo_kind(folder: VoyageFolder, cargo: str | None) -> str:
    return next((row.kind for row in folder.cargoes if row.cargo == cargo), "")
