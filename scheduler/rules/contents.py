"""What is in each space, followed through the operations, and when it is fit to be opened."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from itertools import pairwise
from typing import Final

from scheduler.domain.entries import Entry
from scheduler.domain.folder import VoyageFolder
from scheduler.domain.operations import Operation
from scheduler.domain.restrictions import OUT_OF_USE, Caution, KeepClear, KeepOrder, Refusal, Restriction
from scheduler.domain.ship import Space
from scheduler.domain.source import Source, SourceKind
from scheduler.rules.kinds import spaces_of
from scheduler.rules.outlook import entries_of
from scheduler.rules.spoken import at_ships_time, listed
from scheduler.times import HOUR

RULE = "contents"
GAS_FREE = Source(kind=SourceKind.PUBLISHED, text="IBC 8.6, SOLAS II-2/16.3; solid cargoes: IMSBC 3.6")
CLEAN: Final = ("clean and empty", "gas-free")
UNKNOWN: Final = "unknown"
LATELY_H = 24.0  # 'pumped out within 24 h' of the policy key

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


def contents(folder: VoyageFolder) -> Iterator[Restriction]:
    """When each entry's space is not fit to be out of use; the order of the steps that make it fit."""
    yield from _steps_in_order(folder)
    for entry in entries_of(folder):
        found = stretches(folder, entry.space)
        good = _good(folder, entry, found)
        if not good:
            yield _refused(folder, entry, found)
        elif len(good) < len(found):
            yield from _kept(folder, entry, found, good)
    yield from _looser(folder)


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


def states_at_entry(folder: VoyageFolder, entry: Entry) -> tuple[tuple[str, str | None], ...]:
    """In which states, after which cargo, the entry may find its space; sorted."""
    good = _good(folder, entry, stretches(folder, entry.space))
    found = {(stretch.state.state, stretch.state.cargo) for stretch in good}
    return tuple(sorted(found, key=lambda each: (each[0], each[1] or "")))


def emptied_lately(folder: VoyageFolder, entry: Entry) -> bool:
    """True when the space is surely entered within 24 h of being pumped out: its pump-out and what follows say so."""
    good = _good(folder, entry, stretches(folder, entry.space))
    return bool(good) and all(_lately(folder, stretch) for stretch in good)


def _lately(folder: VoyageFolder, stretch: Stretch) -> bool:
    if stretch.after is None or stretch.after.kind != "ballast out":
        return False
    latest = folder.week.end if stretch.before is None else _latest_start(stretch.before)
    return latest - _earliest_end(folder, stretch.after) <= LATELY_H * HOUR


# -- the sequence of states -----------------------------------------------------------------------------------


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
        for operation in folder.operations
        if space in operation.spaces
        and (operation.kind not in _UNTOUCHED or operation.leaves)
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


def _latest_start(operation: Operation) -> datetime:
    if operation.movable and operation.latest is not None:
        return operation.latest - (operation.hours or 0.0) * HOUR
    return begins(operation)


def _earliest_end(folder: VoyageFolder, operation: Operation) -> datetime:
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
            free = state.washed or gas or state.state in CLEAN
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


# -- what it asks of an entry ---------------------------------------------------------------------------------


def _accepts(folder: VoyageFolder, entry: Entry, state: State) -> bool:
    if state.state == "residue":
        return entry.work == "clean by hand" or spaces_of(folder)[entry.space].kind == "hold"
    return state.state in CLEAN


def _good(folder: VoyageFolder, entry: Entry, found: Sequence[Stretch]) -> list[Stretch]:
    """The stretches that fit; those out of reach of the entry's own times are left out while another is in reach."""
    good = [stretch for stretch in found if _accepts(folder, entry, stretch.state)]
    earliest, due = entry.earliest or folder.week.start, entry.due or folder.week.end
    within = [
        stretch
        for stretch in good
        if (stretch.after is None or _earliest_end(folder, stretch.after) < due)
        and (stretch.before is None or _latest_start(stretch.before) > earliest)
    ]
    return within or good


def _kept(
    folder: VoyageFolder, entry: Entry, found: Sequence[Stretch], good: Sequence[Stretch]
) -> Iterator[KeepClear | KeepOrder]:
    """Bounds from fixed operations are times to keep clear of; from movable ones an order."""
    operations = [stretch.before for stretch in found if stretch.before is not None]
    if not any(operation.movable for operation in operations):
        yield from _clear_of_bad(folder, entry, found, good)
    elif len(good) == 1:
        yield from _one_good(folder, entry, good[0])
    else:
        for branch, stretch in enumerate(good):
            yield from _orders(folder, entry, stretch, either=f"{entry.entry} contents", branch=branch)


def _clear_of_bad(
    folder: VoyageFolder, entry: Entry, found: Sequence[Stretch], good: Sequence[Stretch]
) -> Iterator[KeepClear]:
    for stretch in found:
        if stretch not in good:
            start = folder.week.start if stretch.after is None else stretch.after.end or folder.week.end
            end = folder.week.end if stretch.before is None else begins(stretch.before)
            yield from _clear(folder, entry, start, end, _why(folder, entry, stretch))


def _one_good(folder: VoyageFolder, entry: Entry, good: Stretch) -> Iterator[KeepClear | KeepOrder]:
    because = _between(entry, good)
    if good.after is not None and not good.after.movable:
        yield from _clear(folder, entry, folder.week.start, good.after.end or folder.week.end, because)
    if good.before is not None and not good.before.movable:
        yield from _clear(folder, entry, begins(good.before), folder.week.end, because)
    for order in _orders(folder, entry, good):
        moved = good.after if order.then == entry.entry else good.before
        if moved is not None and moved.movable:
            yield order


def _orders(
    folder: VoyageFolder, entry: Entry, stretch: Stretch, *, either: str = "", branch: int = 0
) -> Iterator[KeepOrder]:
    pairs = []
    if stretch.after is not None:
        pairs.append((stretch.after.operation, entry.entry))
    if stretch.before is not None:
        pairs.append((entry.entry, stretch.before.operation))
    for first, then in pairs:
        yield KeepOrder(
            first=first,
            then=then,
            either=either,
            branch=branch,
            rule=RULE,
            because=_between(entry, stretch),
            source=GAS_FREE,
        )


def _between(entry: Entry, stretch: Stretch) -> str:
    after = f"after {stretch.after.operation} ({stretch.after.kind})" if stretch.after else ""
    before = f"before {stretch.before.operation} ({stretch.before.kind})" if stretch.before else ""
    when = " and ".join(part for part in (after, before) if part)
    return f"{entry.space} is {stretch.state.state} only {when}."


def _clear(folder: VoyageFolder, entry: Entry, start: datetime, end: datetime, because: str) -> Iterator[KeepClear]:
    start, end = max(start, folder.week.start), min(end, folder.week.end)
    if start < end:
        yield KeepClear(
            entry=entry.entry, phases=OUT_OF_USE, start=start, end=end, rule=RULE, because=because, source=GAS_FREE
        )


def _why(folder: VoyageFolder, entry: Entry, stretch: Stretch) -> str:
    until = ""
    if stretch.before is not None:
        at = at_ships_time(folder, begins(stretch.before))
        until = f" until {stretch.before.operation} ({stretch.before.kind}, {at})"
    return f"{entry.space} is {stretch.state.state}{until}; {_missing(stretch.state)}."


def _missing(state: State) -> str:
    """The step that would make the state fit."""
    match state.state:
        case "cargo":
            return "it holds cargo, to be discharged, washed and gas-freed first"
        case "fuel":
            return "it holds fuel, to be emptied, washed and gas-freed first"
        case "ballast" | "fresh water":
            return "it is full, and no pumping out comes before"
        case "inerted" | "nitrogen padded" if state.washed:
            return f"{state.state}, but no gas-freeing before"
        case "inerted" | "nitrogen padded":
            return f"{state.state}, but neither tank wash nor gas-freeing before"
        case "empty with vapour" if state.washed:
            return "washed, but no gas-freeing before"
        case "empty with vapour":
            return "no tank wash and gas-freeing before"
        case "residue":
            return "residue lies in it, which only cleaning by hand may meet"
        case "fumigated":
            return "fumigated, and no certificate or gas-freeing says that it is free"
        case _:
            return "nobody can say what is in it"


def _refused(folder: VoyageFolder, entry: Entry, found: Sequence[Stretch]) -> Refusal:
    last = found[-1]
    told = any(row.space == entry.space for row in folder.contents)
    where = "" if told or last.state.state != UNKNOWN else "; contents.csv has no row for it"
    after = f" after {last.after.operation} ({last.after.kind})" if last.after else ""
    would = "a row in contents.csv" if where else "the missing step in operations.csv, or what contents.csv says of it"
    return Refusal(
        entry=entry.entry,
        rule=RULE,
        because=f"{entry.space} is {last.state.state}{after}: {_missing(last.state)}{where}.",
        would_change=would,
        source=GAS_FREE,
    )


# -- the order of the steps -----------------------------------------------------------------------------------


def _steps_in_order(folder: VoyageFolder) -> Iterator[KeepOrder]:
    """The order in which the steps on a space were taken is kept, where the plan could turn it round."""
    seen: set[tuple[str, str]] = set()
    for space in _followed(folder):
        steps = changes(folder, space)
        for first, then in pairwise(steps):
            pair = (first.operation, then.operation)
            if pair in seen or not (first.movable or then.movable):
                continue
            seen.add(pair)
            yield KeepOrder(
                first=pair[0],
                then=pair[1],
                rule=RULE,
                because=f"{space} is followed through {first.kind} ({pair[0]}), then {then.kind} ({pair[1]}).",
                source=GAS_FREE,
            )


def _followed(folder: VoyageFolder) -> list[str]:
    """Spaces whose contents decide something: those of entries, and those around hot work."""
    wanted = {entry.space for entry in folder.entries}
    hot = {entry.space for entry in folder.entries if entry.work == "hot work"}
    for contact in folder.neighbours:
        if contact.space in hot:
            wanted.add(contact.neighbour)
        if contact.neighbour in hot:
            wanted.add(contact.space)
    return sorted(wanted)


def _looser(folder: VoyageFolder) -> Iterator[Caution]:
    """An operation that claims to leave a space in a better state than its kind does."""
    for operation in sorted(folder.operations, key=lambda each: each.operation):
        if not operation.leaves:
            continue
        spaces = [space for space in sorted(operation.spaces) if _ignored(folder, space, operation)]
        if spaces:
            what = f"{operation.operation} ({operation.kind})"
            text = f"{what} cannot leave {listed(spaces)} {operation.leaves}; that word is not counted."
            yield Caution(text=text, weight=2, table=operation.origin.file, row=operation.origin.row, rule=RULE)


def _ignored(folder: VoyageFolder, space: str, operation: Operation) -> bool:
    found = stretches(folder, space)
    left = next((each.state.state for each in found if each.after == operation), operation.leaves)
    return left != operation.leaves
