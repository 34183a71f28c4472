"""Entries whose own times leave too little room for their phases."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime

from scheduler.domain.entries import Entry
from scheduler.domain.folder import VoyageFolder
from scheduler.domain.restrictions import Refusal, Restriction
from scheduler.domain.source import Source, SourceKind
from scheduler.rules.air import choices
from scheduler.rules.fresh_test import isolate_min, length_of_test_min, proving_min
from scheduler.rules.kinds import spaces_of
from scheduler.rules.outlook import entries_of
from scheduler.rules.spoken import at_ships_time, length_of, up_to_grid
from scheduler.times import MINUTE, minutes_between

RULE = "window"
GIVEN = Source(kind=SourceKind.GIVEN, text="entries.csv: earliest, due, at")


def window(folder: VoyageFolder) -> Iterator[Restriction]:
    """Refuses what cannot lie between earliest and due, or begin at the time that is pinned, whatever else stands."""
    for entry in entries_of(folder):
        if choices(folder, entry):  # without a way to ventilate the rule `air` has said why
            yield from _pinned(folder, entry) if entry.at else _free(folder, entry)


def before_inside_min(folder: VoyageFolder, entry: Entry) -> int:
    """The least minutes from the start of `isolate` to the first `enter`: isolation, the shortest airing, the test."""
    air_min = up_to_grid(folder, min(choice.minutes for choice in choices(folder, entry)))
    test_min = length_of_test_min(folder, spaces_of(folder)[entry.space])
    return isolate_min(folder, entry.space) + air_min + test_min


def inside_min(folder: VoyageFolder, entry: Entry) -> int:
    """Minutes inside in all, the proving session with it."""
    return up_to_grid(folder, entry.hours * 60) + up_to_grid(folder, proving_min(spaces_of(folder)[entry.space]))


def _bounds(folder: VoyageFolder, entry: Entry) -> tuple[datetime, datetime]:
    """When `isolate` may begin, when the last session must be over: blank is the week's start and end.

    A briefing stands before the one, closing up after the other, and both lie in the week.
    """
    brief_min = up_to_grid(folder, folder.policy.number("phase.brief_min"))
    restore_min = up_to_grid(folder, folder.policy.number("phase.restore_min"))
    first, last = folder.week.start + MINUTE * brief_min, folder.week.end - MINUTE * restore_min
    return max(entry.earliest or first, first), min(entry.due or last, last)


def _free(folder: VoyageFolder, entry: Entry) -> Iterator[Refusal]:
    start, end = _bounds(folder, entry)
    wanted_min = before_inside_min(folder, entry) + inside_min(folder, entry)
    if start + MINUTE * wanted_min > end:
        room = length_of(max(0, minutes_between(start, end)))
        because = (
            f"Between {at_ships_time(folder, start)} and {at_ships_time(folder, end)} there are {room}; isolation, "
            f"ventilation, test and {length_of(inside_min(folder, entry))} inside take {length_of(wanted_min)}."
        )
        yield _refused(entry, because, "an earlier `earliest` or a later `due`")


def _pinned(folder: VoyageFolder, entry: Entry) -> Iterator[Refusal]:
    assert entry.at is not None
    start, end = _bounds(folder, entry)
    shown, before_min = at_ships_time(folder, entry.at), before_inside_min(folder, entry)
    inside = inside_min(folder, entry)
    if (entry.at - folder.week.start) % (MINUTE * folder.policy.whole("grid_min")):
        grid = folder.policy.whole("grid_min")
        yield _refused(
            entry, f"{shown} is not on the planning grid of {grid} min.", "another `at`, or a finer grid_min"
        )
    elif start + MINUTE * before_min > entry.at:
        because = (
            f"The first session is pinned to {shown}; isolation, ventilation and test take {length_of(before_min)} and "
            f"cannot begin before {at_ships_time(folder, start)}."
        )
        yield _refused(entry, because, "a later `at` or an earlier `earliest`")
    elif entry.at + MINUTE * inside > end:
        because = (
            f"The first session is pinned to {shown}; {length_of(inside)} inside end after "
            f"{at_ships_time(folder, end)}."
        )
        yield _refused(entry, because, "an earlier `at` or a later `due`")


def _refused(entry: Entry, because: str, would_change: str) -> Refusal:
    return Refusal(entry=entry.entry, rule=RULE, because=because, would_change=would_change, source=GIVEN)
