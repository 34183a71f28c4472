"""People from outside whom an entry needs."""

from __future__ import annotations

from collections.abc import Iterator

from scheduler.domain.crew import Visitor
from scheduler.domain.entries import Entry
from scheduler.domain.folder import VoyageFolder
from scheduler.domain.restrictions import INSIDE, KeepClear, Refusal, Restriction
from scheduler.domain.source import Source, SourceKind
from scheduler.rules.during import clear
from scheduler.rules.outlook import entries_of
from scheduler.rules.spoken import at_ships_time
from scheduler.times import MINUTE

RULE = "visitors"
AFTER_BOARDING_MIN = 60  # gear on, briefing, way to the space; common practice, no source
PRACTICE = Source(kind=SourceKind.PRACTICE, text="")


def visitors(folder: VoyageFolder) -> Iterator[Restriction]:
    """Sessions lie inside the stay of everybody from outside whom the entry needs, 60 min after boarding."""
    aboard = {visitor.visitor: visitor for visitor in folder.visitors}
    for entry in entries_of(folder):
        for name in sorted(set(entry.needs)):
            if name in aboard:
                yield from _stay(folder, entry, aboard[name])
            else:
                yield _unknown(entry, name)


def _stay(folder: VoyageFolder, entry: Entry, visitor: Visitor) -> Iterator[KeepClear]:
    ready = visitor.from_ + AFTER_BOARDING_MIN * MINUTE
    who = f"{visitor.name} ({visitor.role})"
    before = (
        f"{who}, needed inside, boards {at_ships_time(folder, visitor.from_)}; {AFTER_BOARDING_MIN} min are kept after."
    )
    after = f"{who}, needed inside, leaves {at_ships_time(folder, visitor.until)}."
    week = folder.week
    for span, because in (((week.start, ready), before), ((visitor.until, week.end), after)):
        yield from clear(folder, entry.entry, INSIDE, span, rule=RULE, because=because, source=PRACTICE)


def _unknown(entry: Entry, name: str) -> Refusal:
    return Refusal(
        entry=entry.entry,
        rule=RULE,
        because=f"{entry.entry} needs {name}, who is not in visitors.csv.",
        would_change=f"a row for {name} in visitors.csv, with from and until",
        source=PRACTICE,
    )
