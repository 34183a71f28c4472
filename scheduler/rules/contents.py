"""When each space is fit to be opened, by what is in it, and the order of the steps that make it so."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import datetime
from itertools import pairwise

from scheduler.domain.entries import Entry
from scheduler.domain.folder import VoyageFolder
from scheduler.domain.operations import Operation
from scheduler.domain.restrictions import OUT_OF_USE, Caution, KeepClear, KeepOrder, Refusal, Restriction
from scheduler.domain.source import Source, SourceKind
from scheduler.rules.kinds import spaces_of
from scheduler.rules.outlook import entries_of
from scheduler.rules.spoken import at_ships_time, listed
from scheduler.rules.state import CLEAN, UNKNOWN, State, Stretch, begins, changes, earliest_end, latest_start, stretches
from scheduler.times import HOUR

RULE = "contents"
GAS_FREE = Source(kind=SourceKind.PUBLISHED, text="IBC 8.6, SOLAS II-2/16.3; solid cargoes: IMSBC 3.6")
WANTS_IT_CLEAN = ("hot work", "coat")  # 29 CFR 1915.14(b), 1915.35: not where flammable residue lies
LATELY_H = 24.0  # our choice: 'pumped out within 24 h' of the policy key


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


def states_at_entry(folder: VoyageFolder, entry: Entry) -> tuple[tuple[str, str | None], ...]:
    """In which states, after which cargo, the entry may find its space; sorted."""
    good = _good(folder, entry, stretches(folder, entry.space))
    found = {(stretch.state.state, stretch.state.cargo) for stretch in good}
    return tuple(sorted(found, key=lambda each: (each[0], each[1] or "")))


def emptied_lately(folder: VoyageFolder, entry: Entry) -> bool:
    """True when the space is surely entered within 24 h of being pumped out or gas-freed: what follows says so."""
    good = _good(folder, entry, stretches(folder, entry.space))
    return bool(good) and all(_lately(folder, stretch) for stretch in good)


def surely_gas_freed(folder: VoyageFolder, entry: Entry) -> bool:
    """True when the entry can find its space only as a gas-freeing of the week has left it."""
    good = _good(folder, entry, stretches(folder, entry.space))
    return bool(good) and all(each.after is not None and each.after.kind == "gas-free" for each in good)


def _lately(folder: VoyageFolder, stretch: Stretch) -> bool:
    if stretch.after is None or stretch.after.kind not in ("ballast out", "gas-free"):
        return False
    latest = folder.week.end if stretch.before is None else latest_start(stretch.before)
    return latest - earliest_end(folder, stretch.after) <= LATELY_H * HOUR


# -- what it asks of an entry ---------------------------------------------------------------------------------


def _accepts(folder: VoyageFolder, entry: Entry, state: State) -> bool:
    if state.state == "residue":
        in_a_hold = spaces_of(folder)[entry.space].kind == "hold"
        return entry.work == "clean by hand" or (in_a_hold and entry.work not in WANTS_IT_CLEAN)
    return state.state in CLEAN


def _good(folder: VoyageFolder, entry: Entry, found: Sequence[Stretch]) -> list[Stretch]:
    """The stretches that fit; those out of reach of the entry's own times are left out while another is in reach."""
    good = [stretch for stretch in found if _accepts(folder, entry, stretch.state)]
    earliest, due = entry.earliest or folder.week.start, entry.due or folder.week.end
    within = [
        stretch
        for stretch in good
        if (stretch.after is None or earliest_end(folder, stretch.after) < due)
        and (stretch.before is None or latest_start(stretch.before) > earliest)
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
