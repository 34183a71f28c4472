"""What stands open on the weather deck under way, and by night."""

from __future__ import annotations

from collections.abc import Iterator

from scheduler.domain.entries import Entry
from scheduler.domain.folder import VoyageFolder
from scheduler.domain.restrictions import MANNED, KeepClear, Notice, Restriction
from scheduler.domain.source import Source, SourceKind
from scheduler.rules.during import clear
from scheduler.rules.kinds import WAYS_IN
from scheduler.rules.light import Dark, darkness
from scheduler.rules.nearby import openings_of
from scheduler.rules.outlook import entries_of
from scheduler.rules.track import pieces_of
from scheduler.times import joined

RULE = "closures"
ROUND_H = 2  # between rounds of an open space by night; our choice
LOAD_LINES = Source(kind=SourceKind.MEMORY, text="Load Lines reg. 18; hours: our choice")


def closures(folder: VoyageFolder) -> Iterator[Restriction]:
    """Under way by night a weather-deck opening stands open for fans only, guarded, with rounds.

    The sea is the rule `spray`, the hours before stations are `ship handling`, the number at once `at once`.
    """
    for entry in entries_of(folder):
        if only_from_weather_deck(folder, entry.space):
            for dark in darkness(folder, 0):
                yield from _by_night(folder, entry, dark)
            yield _rounds(entry)


def only_from_weather_deck(folder: VoyageFolder, space: str) -> bool:
    """True when every way in stands on the weather deck, and when none is known."""
    return all(row.on_weather_deck for row in openings_of(folder, space) if row.kind in WAYS_IN)


def _by_night(folder: VoyageFolder, entry: Entry, dark: Dark) -> Iterator[KeepClear]:
    under_way = joined((piece.start, piece.end) for piece in pieces_of(folder) if piece.under_way)
    because = (
        f"Under way by night the weather-deck openings of {entry.space} stand open for fans only; nobody goes in or "
        f"tests. {dark.because}"
    )
    for start, end in under_way:
        span = (max(start, dark.span[0]), min(end, dark.span[1]))
        yield from clear(folder, entry.entry, MANNED, span, rule=RULE, because=because, source=LOAD_LINES)


def _rounds(entry: Entry) -> Notice:
    return Notice(
        entry=entry.entry,
        who="bridge",
        when="before ventilate",
        what=f"{entry.space} stands open under fans; by night it is guarded and lit, with a round every {ROUND_H} h",
        rule=RULE,
        source=LOAD_LINES,
    )
