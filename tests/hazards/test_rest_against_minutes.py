"""Hours of rest against a count minute by minute, written from the text of the clauses and sharing nothing."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st

from scheduler.hazards.rest import RestClause, rest_figures

DAY = 1440
KNOWN_DAYS_BEFORE = 7
WEEK_DAYS = 8
REST, WORK = 0, 1


GAPS_MIN = st.one_of(st.integers(-30, 75), st.sampled_from([59, 60, 359, 360, 599, 600]), st.integers(200, 900))
LENGTHS_MIN = st.one_of(st.integers(1, 300), st.integers(300, 870))


@st.composite
def rosters(draw: st.DrawFn) -> tuple[list[tuple[int, int]], int]:
    """Work of one person, some of it overlapping, in no order, and from which minute on it is known."""
    known_from = draw(st.sampled_from([-KNOWN_DAYS_BEFORE * DAY, -3 * DAY, -607, 0]))
    stretches = draw(st.lists(st.tuples(GAPS_MIN, LENGTHS_MIN), max_size=draw(st.sampled_from([2, 12, 50]))))
    work, minute = [], known_from
    for gap, length in stretches:
        start = max(known_from, minute + gap)
        minute = start + length
        if minute <= WEEK_DAYS * DAY:
            work.append((start, minute))
    return sorted(work, key=lambda stretch: stretch[0] * 7919 % 101), known_from


def minute_by_minute(work: list[tuple[int, int]], known_from: int) -> np.ndarray:
    """One number for each known minute: rest, or work with the breaks under an hour in it.

    A break under an hour at an edge of known time is no rest either; it makes no block longer, see `joined`.
    """
    minutes = np.zeros(WEEK_DAYS * DAY - known_from, dtype=int)
    for start, end in work:
        minutes[start - known_from : end - known_from] = WORK
    for start, end in runs(minutes, REST):
        if end - start < 60:
            minutes[start:end] = WORK
    return minutes


def runs(minutes: np.ndarray, value: int) -> Iterator[tuple[int, int]]:
    """From where to where the minutes have a value."""
    padded = np.concatenate([[-1], minutes, [-1]])
    edges = np.flatnonzero(np.diff(padded))
    for start, end in pairwise(edges):
        if minutes[start] == value:
            yield int(start), int(end)


def joined(work: list[tuple[int, int]]) -> list[tuple[int, int]]:
    """Blocks minute by minute: a minute belongs to one when work stands under an hour before and after it."""
    if not work:
        return []
    first, last = min(start for start, _ in work), max(end for _, end in work)
    minutes = np.zeros(last - first, dtype=int)
    for start, end in work:
        minutes[start - first : end - first] = WORK
    for start, end in runs(minutes, REST):
        if end - start < 60:
            minutes[start:end] = WORK
    return [(start + first, end + first) for start, end in runs(minutes, WORK)]


def by_minutes(work: list[tuple[int, int]], known_from: int) -> tuple[int | None, int | None, int, set[object]]:
    """Least rest in 24 h and in 7 days, longest work, and all breaches, straight from the text."""
    minutes = minute_by_minute(work, known_from)
    known_to, blocks = WEEK_DAYS * DAY, joined(work)
    rested = np.concatenate([[0], np.cumsum(minutes == REST)])
    breaches: set[object] = set()
    least: dict[int, int] = {}
    for length, limit, clause in ((DAY, 600, RestClause.REST_24H), (7 * DAY, 4620, RestClause.REST_7D)):
        edges = {known_from, -length, known_to - length}
        for start in {start for start, _ in blocks} | {end - length for _, end in blocks} | edges:
            end = start + length
            if start >= known_from and 0 <= end <= known_to:
                rest = int(rested[end - known_from] - rested[start - known_from])
                if rest < limit:
                    breaches.add((clause, start, end, rest))
        first, last = max(length, -known_from), known_to - known_from  # every minute in which a window may end
        if first <= last:
            least[length] = int(np.min(rested[first : last + 1] - rested[first - length : last + 1 - length]))
    for start, _ in blocks:
        if 0 <= start + DAY <= known_to:
            day = minutes[start - known_from : start - known_from + DAY]
            rests = [*sorted((end - begin for begin, end in runs(day, REST)), reverse=True), 0, 0]
            if rests[0] + rests[1] < 600:
                breaches.add((RestClause.TWO_RESTS, start, start + DAY, rests[0] + rests[1]))
            if rests[0] < 360:
                breaches.add((RestClause.LONG_REST, start, start + DAY, rests[0]))
    longest = max((end - start for start, end in blocks if 0 < end <= known_to), default=0)
    for start, end in blocks:
        if end - start > 840 and 0 < end <= known_to:
            breaches.add((RestClause.LONGEST_WORK, start, end, end - start))
    return least.get(DAY), least.get(7 * DAY), longest, breaches


@settings(max_examples=400, deadline=None)
@given(rosters())
def test_figures_and_breaches_are_those_counted_minute_by_minute(roster: tuple[list[tuple[int, int]], int]) -> None:
    work, known_from = roster
    figures = rest_figures(work, known=(known_from, WEEK_DAYS * DAY), week=(0, WEEK_DAYS * DAY))
    found = {(each.clause, *each.window, each.found_min) for each in figures.breaches}
    counted = by_minutes(work, known_from)
    assert (figures.least_24h_min, figures.least_7d_min, figures.longest_work_min, found) == counted


@settings(max_examples=100, deadline=None)
@given(rosters())
def test_no_sliding_window_holds_less_rest_than_the_least_that_is_told(
    roster: tuple[list[tuple[int, int]], int],
) -> None:
    # With a free day before the first work and after the last, every minute's window is tried.
    work, known_from = roster
    inside = [stretch for stretch in work if known_from + DAY <= stretch[0] and stretch[1] <= (WEEK_DAYS - 1) * DAY]
    known = (known_from, WEEK_DAYS * DAY)
    figures = rest_figures(inside, known=known, week=known)
    rested = np.concatenate([[0], np.cumsum(minute_by_minute(inside, known_from) == REST)])
    assert figures.least_24h_min == int(np.min(rested[DAY:] - rested[:-DAY]))


@settings(max_examples=100, deadline=None)
@given(rosters(), st.integers(-20_000, 20_000))
def test_counting_from_another_instant_changes_nothing(
    roster: tuple[list[tuple[int, int]], int], shift_min: int
) -> None:
    work, known_from = roster
    here = rest_figures(work, known=(known_from, WEEK_DAYS * DAY), week=(0, WEEK_DAYS * DAY))
    there = rest_figures(
        [(start + shift_min, end + shift_min) for start, end in work],
        known=(known_from + shift_min, WEEK_DAYS * DAY + shift_min),
        week=(shift_min, WEEK_DAYS * DAY + shift_min),
    )
    assert (here.least_24h_min, here.least_7d_min) == (there.least_24h_min, there.least_7d_min)
    assert [(each.clause, each.found_min) for each in here.breaches] == [
        (each.clause, each.found_min) for each in there.breaches
    ]
