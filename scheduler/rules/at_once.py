"""How many spaces may be manned, open and under hot work at once."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime
from typing import Final

from scheduler.domain.entries import Entry
from scheduler.domain.folder import VoyageFolder
from scheduler.domain.restrictions import MANNED, OPEN, OUT_OF_USE, GearNeed, KeepApart, Phase, Restriction, Stock
from scheduler.domain.source import Source, SourceKind
from scheduler.rules.nearby import openings_of
from scheduler.rules.outlook import entries_of
from scheduler.times import Grid, gaps, joined

RULE = "at once"
PRACTICE = Source(kind=SourceKind.PRACTICE, text="")
MANNED_SPACES: Final = "manned"
OPEN_SPACES: Final = "open"
ON_DECK: Final = "open on the weather deck under way"
HOT_WORK: Final = "hot work"
WHAT: Final = {
    MANNED_SPACES: "manned",
    OPEN_SPACES: "open and fanned",
    ON_DECK: "open on the weather deck under way",
    HOT_WORK: "with hot work",
}
NOT_UNDER_WAY: Final = ("berth", "anchorage")  # COLREG rule 3(i): at anchor or made fast; drifting is under way


def at_once(folder: VoyageFolder) -> Iterator[Restriction]:
    """The numbers that policy allows, what each entry takes of them, and one entry at a time into one space."""
    whole = folder.policy.whole
    week = (folder.week.start, folder.week.end)
    yield _stock(folder, MANNED_SPACES, "at_once.manned", whole("at_once.manned"), *week)
    yield _stock(folder, OPEN_SPACES, "at_once.open", whole("at_once.open"), *week)
    yield _stock(folder, HOT_WORK, "at_once.hot_work", whole("at_once.hot_work"), *week)
    yield from _on_deck(folder)
    entries = entries_of(folder)
    for entry in entries:
        yield _need(folder, entry, MANNED, MANNED_SPACES, "at_once.manned")
        yield _need(folder, entry, OPEN, OPEN_SPACES, "at_once.open")
        if _opens_on_deck(folder, entry.space):
            yield _need(folder, entry, OPEN, ON_DECK, "at_once.open_weather_deck_under_way")
        if entry.work == "hot work":
            yield _need(folder, entry, OPEN, HOT_WORK, "at_once.hot_work")
    yield from _one_space_once(entries)


def _opens_on_deck(folder: VoyageFolder, space: str) -> bool:
    """True when any opening of the space lies on the weather deck, or none is given at all."""
    openings = openings_of(folder, space)
    return not openings or any(row.on_weather_deck for row in openings)


def _stock(folder: VoyageFolder, resource: str, key: str, count: int, start: datetime, end: datetime) -> Stock:
    return Stock(
        resource=resource,
        count=count,
        start=start,
        end=end,
        rule=RULE,
        because=f"Spaces {WHAT[resource]}: at most {count} at once.",
        source=folder.policy.source(key),
    )


def _on_deck(folder: VoyageFolder) -> Iterator[Stock]:
    """Under way, and in every step of the grid that touches a time under way, the smaller number."""
    key = "at_once.open_weather_deck_under_way"
    most = folder.policy.whole("at_once.open")
    under_way = min(folder.policy.whole(key), most)
    step = folder.policy.whole("grid_min")
    grid = Grid(folder.week.start, step, folder.week.days * 24 * 60 // step)
    week = (folder.week.start, folder.week.end)
    lying = joined((leg.start, leg.end) for leg in folder.legs if leg.kind in NOT_UNDER_WAY)
    still = joined((grid.at(grid.ceil(start)), grid.at(grid.floor(end))) for start, end in lying)
    still = tuple((max(start, week[0]), min(end, week[1])) for start, end in still if start < week[1] and end > week[0])
    rows = [(span, most) for span in still] + [(span, under_way) for span in gaps(still, *week)]
    for (start, end), count in sorted(rows):
        yield _stock(folder, ON_DECK, key if count == under_way else "at_once.open", count, start, end)


def _need(folder: VoyageFolder, entry: Entry, phases: tuple[Phase, ...], resource: str, key: str) -> GearNeed:
    return GearNeed(
        entry=entry.entry,
        phases=phases,
        resource=resource,
        count=1,
        rule=RULE,
        because=f"{entry.entry} counts among the spaces {WHAT[resource]}.",
        source=folder.policy.source(key),
    )


def _one_space_once(entries: tuple[Entry, ...]) -> Iterator[KeepApart]:
    """A test of one entry would stop the fans over the people of the other."""
    for index, entry in enumerate(entries):
        for other in entries[index + 1 :]:
            if other.space == entry.space:
                yield KeepApart(
                    entry=entry.entry,
                    phases=OUT_OF_USE,
                    other=other.entry,
                    other_phases=OUT_OF_USE,
                    rule=RULE,
                    because=f"{entry.entry} and {other.entry} are both in {entry.space}, one after the other.",
                    source=PRACTICE,
                )
