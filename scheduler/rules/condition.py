"""What may be empty at one time: only sets that an officer has worked on the loading instrument."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from itertools import combinations
from typing import TypeAlias

from scheduler.domain.entries import Entry
from scheduler.domain.folder import VoyageFolder
from scheduler.domain.restrictions import OUT_OF_USE, Caution, KeepApart, KeepClear, Refusal, Restriction
from scheduler.domain.source import Source, SourceKind
from scheduler.rules.during import Span
from scheduler.rules.emptied import Emptied, InForce, emptied, in_force
from scheduler.rules.forecast import worst_sea_m
from scheduler.rules.kinds import spaces_of
from scheduler.rules.outlook import entries_of
from scheduler.rules.spoken import at_ships_time
from scheduler.rules.track import pieces_of
from scheduler.times import joined, overlap

RULE = "condition"
STABILITY = Source(kind=SourceKind.PUBLISHED, text="MEPC.288(71): stability and strength while ballast is exchanged")
BALLAST_KINDS = ("ballast tank", "peak tank")
SEA_WATER_T_M3 = 1.025  # common practice, no source


def condition(folder: VoyageFolder) -> Iterator[Restriction]:
    """Sets that no condition lists are kept apart, or from their time; entries that need one are refused."""
    rows, found = in_force(folder), emptied(folder)
    for each in found:
        yield from _alone(folder, each, rows)
        yield from _in_a_sea(folder, each, rows)
        yield from _looked_at(folder, each, rows)
    yield from _together(folder, rows, found)
    yield from _without(folder, [row for row in rows if not row.condition])


# -- no condition ---------------------------------------------------------------------------------------------


def _without(folder: VoyageFolder, bare: Sequence[InForce]) -> Iterator[KeepClear | Refusal]:
    """A ballast space counts as one that should be full in a time for which no loading condition is given."""
    spaces = spaces_of(folder)
    for entry in entries_of(folder):
        if spaces[entry.space].kind not in BALLAST_KINDS:
            continue
        because = f"{entry.space} is a {spaces[entry.space].kind}, and conditions.csv has no row"
        if any(row.span == (folder.week.start, folder.week.end) for row in bare):
            would = "the loading conditions of the week in conditions.csv"
            yield Refusal(entry=entry.entry, rule=RULE, because=f"{because}.", would_change=would, source=STABILITY)
            continue
        for row in bare:
            yield _clear(entry.entry, None, row.span, f"{because} for {_when(folder, row)}.")


# -- one set by itself ----------------------------------------------------------------------------------------


def _alone(folder: VoyageFolder, each: Emptied, rows: Sequence[InForce]) -> Iterator[Restriction]:
    mine = [row for row in rows if overlap(row.span, each.span)]
    barred = [row for row in mine if not row.allows(each.spaces)]
    if not barred:
        return
    if len(barred) == len(mine):
        yield from _never(folder, each, barred[0])
        return
    for row in barred:
        start, end = max(row.start, each.start), min(row.end, each.end)
        yield from _keep_clear(folder, each, (start, end), _not_listed(folder, each.spaces, each.named, row))


def _never(folder: VoyageFolder, each: Emptied, row: InForce) -> Iterator[Restriction]:
    """No condition of the week lists the set: the entries in it are refused, and the officer is told aloud."""
    because = _not_listed(folder, each.spaces, each.named, row)
    operation = each.operation
    yield Caution(
        text=f"{because} Not to be run until the loading instrument says that it may be.",
        weight=0,
        table=operation.origin.file if operation else "contents.csv",
        row=operation.origin.row if operation else 0,
        rule=RULE,
    )
    for entry in _entries_in(folder, row.counted(each.spaces)):
        listed = f"{_sum(row.counted(each.spaces))} in conditions.csv, may_be_empty, worked on the instrument"
        if _has_another(folder, entry, each):
            yield from _entry_clear_of(entry, each, because)
        else:
            yield Refusal(
                entry=entry.entry,
                rule=RULE,
                because=because,
                would_change=listed,
                source=STABILITY,
            )


def _keep_clear(folder: VoyageFolder, each: Emptied, span: Span, because: str) -> Iterator[KeepClear | Caution]:
    """The emptying moves out of the time; one that cannot move keeps its entries out, and says so."""
    if each.movable and each.operation is not None:
        yield _clear(each.operation.operation, each, span, because)
        return
    yield Caution(text=f"{because} Not to be run then.", weight=0, rule=RULE)
    for entry in _entries_in(folder, each.spaces):
        yield _clear(entry.entry, None, span, because)


def _clear(name: str, each: Emptied | None, span: Span, because: str) -> KeepClear:
    return KeepClear(
        entry=name,
        phases=OUT_OF_USE if each is None else each.phases,
        start=span[0],
        end=span[1],
        rule=RULE,
        because=because,
        source=STABILITY,
    )


def _entry_clear_of(entry: Entry, each: Emptied, because: str) -> Iterator[KeepClear | KeepApart]:
    """The entry keeps out of the time in which its space stands empty without a condition."""
    if each.operation is None or not each.operation.movable:
        yield _clear(entry.entry, None, each.span, because)
        return
    yield KeepApart(
        entry=entry.entry,
        phases=OUT_OF_USE,
        other=each.operation.operation,
        other_phases=each.phases,
        rule=RULE,
        because=because,
        source=STABILITY,
    )


def _entries_in(folder: VoyageFolder, spaces: frozenset[str]) -> list[Entry]:
    return [entry for entry in entries_of(folder) if entry.space in spaces]


def _has_another(folder: VoyageFolder, entry: Entry, each: Emptied) -> bool:
    """True when the entry's space is also emptied by something that a condition lists."""
    rows = in_force(folder)
    return any(
        other != each
        and entry.space in other.spaces
        and any(row.allows(other.spaces) for row in rows if overlap(row.span, other.span))
        for other in emptied(folder)
    )


def _not_listed(folder: VoyageFolder, spaces: frozenset[str], named: str, row: InForce) -> str:
    counted = _sum(row.counted(spaces))
    if not row.condition:
        return f"{named} has {counted} empty, and no loading condition is given for {_when(folder, row)}."
    may = "; ".join(sorted(_sum(each) for each in row.listed)) or "nothing"
    return (
        f"{named} has {counted} empty together, and {row.condition} ({_when(folder, row)}) lists {may} as what may be "
        "empty."
    )


def _sum(spaces: frozenset[str]) -> str:
    return "+".join(sorted(spaces))


def _when(folder: VoyageFolder, row: InForce) -> str:
    return f"{at_ships_time(folder, row.start)} to {at_ships_time(folder, row.end)}"


# -- the sea ----------------------------------------------------------------------------------------------------


def _in_a_sea(folder: VoyageFolder, each: Emptied, rows: Sequence[InForce]) -> Iterator[KeepClear | Caution]:
    """Hours with a sea above the condition's limit, or with none that is known."""
    for row in rows:
        rough: dict[str, list[Span]] = {}
        if row.condition and row.counted(each.spaces):
            start, end = max(row.start, each.start), min(row.end, each.end)
            for why, span in _too_rough(folder, row):
                if overlap(span, (start, end)):
                    rough.setdefault(why, []).append((max(span[0], start), min(span[1], end)))
        for why, spans in sorted(rough.items()):
            for span in joined(spans):
                because = f"{each.named}: {_sum(row.counted(each.spaces))} empty under {row.condition}, and {why}."
                yield from _keep_clear(folder, each, span, because)


def _too_rough(folder: VoyageFolder, row: InForce) -> Iterator[tuple[str, Span]]:
    """Pieces of hours at sea in which the sea is above the limit, and why; a blank limit allows no sea at all."""
    for piece in pieces_of(folder):
        if not piece.at_sea or not overlap((piece.start, piece.end), row.span):
            continue
        height_m, why_none = worst_sea_m(folder, piece.hour)
        if row.sea_limit_m is None:
            yield "conditions.csv, column sea_limit_m, is blank: no sea is allowed", (piece.start, piece.end)
        elif height_m is None:
            yield f"the sea is not known: {why_none}", (piece.start, piece.end)
        elif height_m > row.sea_limit_m:
            yield f"the sea is above its limit of {row.sea_limit_m:g} m", (piece.start, piece.end)


# -- several sets at one time ---------------------------------------------------------------------------------


_Pair: TypeAlias = tuple[int, int]


def _together(folder: VoyageFolder, rows: Sequence[InForce], found: Sequence[Emptied]) -> Iterator[Restriction]:
    """Any two whose union is not listed are kept apart; so are the last two of more, until no such union is left."""
    apart: dict[_Pair, list[InForce]] = {}
    for row in rows:
        here = [index for index, each in enumerate(found) if overlap(each.span, row.span) and _stays(each, row, rows)]
        for pair in sorted(_not_together(row, found, here)):
            apart.setdefault(pair, []).append(row)
    for (first, second), barred in sorted(apart.items()):
        one, other = found[first], found[second]
        both = (max(one.start, other.start), min(one.end, other.end))
        if all(row in barred for row in rows if overlap(row.span, both)):
            yield from _kept_apart(folder, barred[0], one, other, None)
        else:
            for row in barred:
                yield from _kept_apart(folder, row, one, other, row.span)


def _stays(each: Emptied, row: InForce, rows: Sequence[InForce]) -> bool:
    """False for a movable emptying that keeps clear of the condition's time anyway."""
    listed = any(other.allows(each.spaces) for other in rows if overlap(other.span, each.span))
    return not each.movable or row.allows(each.spaces) or not listed


def _not_together(row: InForce, found: Sequence[Emptied], here: Sequence[int]) -> set[_Pair]:
    """Pairs to keep apart, so that every set that can come about under the condition is listed."""
    apart: set[_Pair] = set()
    groups: list[tuple[int, ...]] = [(index,) for index in here]
    while groups:
        larger: list[tuple[int, ...]] = []
        for group in groups:
            for index in here:
                members = (*group, index)
                if index > group[-1] and apart.isdisjoint(combinations(members, 2)) and _meet(found, members):
                    if row.allows(frozenset().union(*(found[each].spaces for each in members))):
                        larger.append(members)
                    elif len({row.counted(found[each].spaces) for each in members}) > 1:
                        apart.add((group[-1], index))
        groups = larger
    return apart


def _meet(found: Sequence[Emptied], members: Sequence[int]) -> bool:
    return max(found[each].start for each in members) < min(found[each].end for each in members)


def _kept_apart(
    folder: VoyageFolder, row: InForce, one: Emptied, other: Emptied, within: Span | None
) -> Iterator[Restriction]:
    because = _not_listed(folder, one.spaces | other.spaces, f"{one.named} with {other.named}", row)
    movable, still = (one, other) if one.movable else (other, one)
    if movable.movable and movable.operation and still.operation:
        yield KeepApart(
            entry=movable.operation.operation,
            phases=movable.phases,
            other=still.operation.operation,
            other_phases=still.phases,
            start=within[0] if within else None,
            end=within[1] if within else None,
            rule=RULE,
            because=because,
            source=STABILITY,
        )
        return
    start, end = within or (folder.week.start, folder.week.end)
    if movable.movable:
        yield from _keep_clear(folder, movable, (max(start, still.start), min(end, still.end)), because)
        return
    span = (max(start, one.start, other.start), min(end, one.end, other.end))
    yield from _keep_clear(folder, still, span, because)
    yield from _keep_clear(folder, movable, span, because)


# -- our own look ---------------------------------------------------------------------------------------------


def _looked_at(folder: VoyageFolder, each: Emptied, rows: Sequence[InForce]) -> Iterator[Caution]:
    """Heel from one-sided water, more than one pair at once: a caution, never a clearance."""
    for row in rows:
        if not row.condition or not overlap(row.span, each.span) or not row.counted(each.spaces):
            continue
        heel = _heel_deg(folder, row.counted(each.spaces), row.condition)
        most = folder.policy.number("condition.heel_caution_deg")
        if heel is not None and heel > most:
            counted = _sum(row.counted(each.spaces))
            text = f"{each.named}: {counted} empty under {row.condition} heels her about {heel:.1f}°."
            yield Caution(text=text, weight=3, table="conditions.csv", rule=RULE)
        if len(row.counted(each.spaces)) > 2:
            text = f"{each.named}: more than one pair is empty at once, {_sum(row.counted(each.spaces))}."
            yield Caution(text=text, weight=3, table="conditions.csv", rule=RULE)
            return


def _heel_deg(folder: VoyageFolder, spaces: frozenset[str], name: str) -> float | None:
    """Heel from the water that is missing on one side; None where a figure is not given."""
    row = next(each for each in folder.conditions if each.condition == name)
    if not row.displacement_t or not row.gm_m or row.gm_m <= 0:
        return None
    moment = 0.0
    for space in (spaces_of(folder)[each] for each in sorted(spaces)):
        if space.volume_m3 is None or space.y_m is None:
            return None
        moment += space.volume_m3 * SEA_WATER_T_M3 * space.y_m
    return math.degrees(math.atan(abs(moment) / (row.displacement_t * row.gm_m)))
