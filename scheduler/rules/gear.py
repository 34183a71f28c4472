"""Gear: what each entry holds, and until when the instruments count."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Final

from scheduler.domain.entries import Entry
from scheduler.domain.folder import VoyageFolder
from scheduler.domain.restrictions import INSIDE, MANNED, Caution, GearNeed, Phase, Refusal, Restriction, Stock
from scheduler.domain.ship import Gear
from scheduler.domain.source import Source, SourceKind
from scheduler.rules.contents import states_at_entry
from scheduler.rules.fresh_test import proving_min
from scheduler.rules.kinds import kind_of, spaces_of
from scheduler.rules.outlook import clock_of, entries_of
from scheduler.rules.people import inside_count

RULE = "gear"
INSTRUMENTS = Source(
    kind=SourceKind.PUBLISHED, text="SOLAS XI-1/7; carbon dioxide: IMO MSC.581(110), by published summaries"
)
PRACTICE = Source(kind=SourceKind.PRACTICE, text="")
GASES: Final = frozenset(("oxygen", "lfl", "co2", "h2s", "co"))
"""What an instrument or a personal meter measures before it counts."""
DATED: Final = ("gas instrument", "personal meter")
TOXIC: Final = "gas instrument: other"
"""The resource of instruments (or tubes) that measure a toxic cargo's own vapour."""
BREATHING_SETS = 2  # a pair of rescuers; common practice, no source


@dataclass(frozen=True, kw_only=True, slots=True)
class _Want:
    """Pieces of a resource that some phases hold, and why."""

    phases: tuple[Phase, ...]
    resource: str
    count: int
    why: str
    source: Source = PRACTICE


def gear(folder: VoyageFolder) -> Iterator[Restriction]:
    """How many pieces there are and when; what each entry holds; a Refusal where a kind is not on board."""
    for row in _rows(folder):
        yield from _stocks(folder, row)
    there = _greatest(folder)
    for entry in entries_of(folder):
        for want in _wants(folder, entry):
            yield _need(entry, want)
            if there.get(want.resource, 0) < want.count:
                yield _refused(entry, want, there.get(want.resource, 0))


def _rows(folder: VoyageFolder) -> list[Gear]:
    return sorted(folder.gear, key=lambda each: (each.kind, each.gear))


def _resources(row: Gear) -> Iterator[str]:
    """What a row of gear counts as: a fan as itself, an instrument by what it measures."""
    if row.kind == "fan":
        yield row.gear
    elif row.kind not in DATED:
        yield row.kind
    elif row.due is not None:
        if set(row.measures) >= GASES:
            yield row.kind
        if row.kind == "gas instrument" and "other" in row.measures:
            yield TOXIC


def _stocks(folder: VoyageFolder, row: Gear) -> Iterator[Stock | Caution]:
    end = _usable_until(folder, row)
    for resource in _resources(row):
        if row.count > 0 and end > folder.week.start:
            yield Stock(
                resource=resource,
                count=row.count,
                start=folder.week.start,
                end=end,
                gear=row.gear,
                rule=RULE,
                because=f"{row.count} × {row.gear}" + (f", to be used up to {row.due:%d %b %Y}." if row.due else "."),
                source=Source(kind=SourceKind.GIVEN, text="gear.csv"),
            )
    yield from _not_counted(row)


def _usable_until(folder: VoyageFolder, row: Gear) -> datetime:
    """The end of the last date, ship's time, on which a piece may be used, or the week's end."""
    if row.due is None:
        return folder.week.end
    return min(folder.week.end, clock_of(folder).midnight(row.due + timedelta(days=1)))


def _not_counted(row: Gear) -> Iterator[Caution]:
    """An instrument that counts for nothing says why."""
    if row.kind not in DATED:
        return
    lacking = sorted(GASES - set(row.measures))
    if row.due is None:
        text = f"{row.gear} ({row.kind}): gear.csv, column due, is blank; it is not counted."
    elif lacking:
        text = f"{row.gear} ({row.kind}) does not measure {', '.join(lacking)}; it is not counted for entry."
    else:
        return
    yield Caution(text=text, weight=4, table=row.origin.file, row=row.origin.row, rule=RULE)


def _greatest(folder: VoyageFolder) -> Mapping[str, int]:
    """The most pieces of each resource at any time: those at the week's start, for dates only run out."""
    found: dict[str, int] = {}
    for row in _rows(folder):
        if _usable_until(folder, row) > folder.week.start:
            for resource in _resources(row):
                found[resource] = found.get(resource, 0) + row.count
    return found


def _wants(folder: VoyageFolder, entry: Entry) -> Iterator[_Want]:
    space = spaces_of(folder)[entry.space]
    tester = 1 if proving_min(space) else 0
    inside = inside_count(folder, entry) + tester + len(entry.needs)
    attendants = kind_of(space).entrances
    yield _Want(phases=MANNED, resource="gas instrument", count=1, why="tests before and inside", source=INSTRUMENTS)
    if _toxic(folder, entry):
        yield _Want(
            phases=MANNED, resource=TOXIC, count=1, why="the last cargo is, or may be, toxic", source=INSTRUMENTS
        )
    yield _Want(phases=INSIDE, resource="personal meter", count=inside, why="one for each inside", source=INSTRUMENTS)
    yield _Want(phases=INSIDE, resource="lamp", count=inside, why="one for each inside")
    yield _Want(phases=INSIDE, resource="radio", count=attendants + 2, why="inside, each entrance, officer in charge")
    yield _Want(
        phases=INSIDE, resource="breathing set", count=BREATHING_SETS, why="a pair of rescuers, at the entrance"
    )
    yield _Want(phases=INSIDE, resource="resuscitator", count=1, why="at the entrance")
    yield _Want(phases=INSIDE, resource="lifting gear", count=1, why="to bring somebody up")


def _toxic(folder: VoyageFolder, entry: Entry) -> bool:
    """True when the space's last cargo is toxic, or nobody says that it is not."""
    cargoes = {row.cargo: row for row in folder.cargoes}
    holds_cargo = spaces_of(folder)[entry.space].kind in ("cargo tank", "slop tank")
    for _, cargo in states_at_entry(folder, entry):
        if cargo is None and not holds_cargo:
            continue
        if cargo not in cargoes or cargoes[cargo].toxic is not False:
            return True
    return False


def _need(entry: Entry, want: _Want) -> GearNeed:
    return GearNeed(
        entry=entry.entry,
        phases=want.phases,
        resource=want.resource,
        count=want.count,
        rule=RULE,
        because=f"{entry.entry} holds {want.count} × {want.resource}: {want.why}.",
        source=want.source,
    )


def _refused(entry: Entry, want: _Want, there: int) -> Refusal:
    dated = " in date and measuring all that entry asks" if want.resource in DATED else ""
    return Refusal(
        entry=entry.entry,
        rule=RULE,
        because=f"{entry.entry} needs {want.count} × {want.resource}{dated} ({want.why}), and gear.csv has {there}.",
        would_change=f"{want.count - there} more of {want.resource} in gear.csv",
        source=want.source,
    )
