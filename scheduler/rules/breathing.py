"""Loaded and inerted tanks breathe as the day warms and cools them."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final

from scheduler.domain.entries import Entry
from scheduler.domain.folder import VoyageFolder
from scheduler.domain.restrictions import OPEN, KeepClear
from scheduler.domain.source import Source, SourceKind
from scheduler.rules.blown import Blown, blown
from scheduler.rules.during import Span, clear
from scheduler.rules.flows import Breathing, Spot, breathing, breathing_spots, is_toxic
from scheduler.rules.outlook import clock_of
from scheduler.rules.track import pieces_of
from scheduler.times import MINUTE, clock_time, joined, overlap

RULE: Final = "vapour"
SMALL = Source(
    kind=SourceKind.PUBLISHED, text="SOLAS II-2/11.6, toxic IBC 15.12, as distances of design; hours: our choice"
)


def breathed_on(folder: VoyageFolder, entry: Entry) -> Iterator[KeepClear]:
    """Times of day, at sea and at anchor, in which a breathing tank may blow on the entry's openings."""
    by_day = _breathing_hours(folder)
    found: dict[tuple[tuple[Spot, ...], bool], list[Breathing]] = {}
    for tank in breathing(folder):
        if tank.space != entry.space:
            key = (breathing_spots(folder, tank.space), is_toxic(folder, tank.cargo))
            found.setdefault(key, []).append(tank)
    for (spots, toxic), tanks in found.items():
        reach_m = folder.policy.number("vapour.toxic_m" if toxic else "vapour.small_m")
        for each in blown(folder, spots, entry.space, reach_m, winds=toxic):
            yield from _clear(folder, entry, each, tanks, by_day, toxic=toxic)


def _clear(
    folder: VoyageFolder, entry: Entry, each: Blown, tanks: Sequence[Breathing], by_day: Sequence[Span], *, toxic: bool
) -> Iterator[KeepClear]:
    """The toxic count as a large flow, and as that also for some time after."""
    after_min = folder.policy.whole("vapour.after_min") if toxic else 0
    spans = [tank.span for tank in tanks]
    if each.span is not None:
        spans = [_common(span, each.span) for span in spans]
    which = sorted({tank.space for tank in tanks})
    breathe = f"{', '.join(which)} {'breathes' if len(which) == 1 else 'breathe'}"
    because = f"By day {breathe} {'toxic ' if toxic else ''}vapour by {each.by}, {each.how}."
    for start, end in joined(_common(day, span) for day in by_day for span in joined(spans)):
        span = (start, end + MINUTE * after_min)
        yield from clear(folder, entry.entry, OPEN, span, rule=RULE, because=because, source=SMALL)


def _common(one: Span, other: Span) -> Span:
    return max(one[0], other[0]), min(one[1], other[1])


def _breathing_hours(folder: VoyageFolder) -> tuple[Span, ...]:
    """The hours of breathing in ship's time, at sea and at anchor."""
    found = folder.cache.get("breathing hours")
    if not isinstance(found, tuple):
        pairs = [(clock_time(start), clock_time(end)) for start, end in folder.policy.pairs("vapour.breathing")]
        days = list(clock_of(folder).windows(pairs, folder.week.start, folder.week.end))
        at_sea = joined((piece.start, piece.end) for piece in pieces_of(folder) if piece.at_sea)
        found = folder.cache["breathing hours"] = joined(
            _common(day, sea) for day in days for sea in at_sea if overlap(day, sea)
        )
    return found
