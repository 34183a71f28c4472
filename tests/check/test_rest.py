"""Hours of rest against an array of minutes and against patterns whose verdict is known beforehand."""

from __future__ import annotations

import random
from datetime import UTC, datetime, timedelta

import pytest

from scheduler.check.rest import Hours, Rules
from scheduler.check.span import DAY, HOUR, Span
from scheduler.domain.policy import Policy

MINUTE = timedelta(minutes=1)
WEEK = Span(datetime(2027, 3, 8, tzinfo=UTC), datetime(2027, 3, 15, tzinfo=UTC))
KNOWN = Span(WEEK.start - 7 * DAY, WEEK.end)
RULES = Rules.of(Policy())
D, W = 24 * 60, 7 * 24 * 60


def from_minutes(begin: int, end: int) -> Span:
    """A stretch by minutes since known time began."""
    return Span(KNOWN.start + begin * MINUTE, KNOWN.start + end * MINUTE)


def filled(work: list[tuple[int, int]], length: int) -> list[bool]:
    """Every minute of work, and of a break of less than an hour between."""
    busy = [False] * length
    for begin, end in work:
        busy[max(0, begin) : min(end, length)] = [True] * max(0, min(end, length) - max(0, begin))
    gap = 0
    for minute, works in enumerate(busy):
        if works:
            if 0 < gap < 60 and gap < minute:
                busy[minute - gap : minute] = [True] * gap
            gap = 0
        else:
            gap += 1
    return busy


def without_edges(busy: list[bool]) -> list[bool]:
    """The same with a gap under an hour at either edge as no rest."""
    found = list(busy)
    for minutes in (range(len(busy)), range(len(busy) - 1, -1, -1)):
        gap = []
        for minute in minutes:
            if busy[minute]:
                break
            gap.append(minute)
        if len(gap) < 60:
            for minute in gap:
                found[minute] = True
    return found


def least(busy: list[bool], length: int, week: int) -> int:
    """The least idle minutes of every window of so many minutes that ends at the week's start or later."""
    before = [0]
    for works in busy:
        before.append(before[-1] + (not works))
    return min(before[end] - before[end - length] for end in range(max(length, week), len(busy) + 1))


def starts(busy: list[bool]) -> list[int]:
    return [m for m, works in enumerate(busy) if works and (m == 0 or not busy[m - 1])]


def idle_runs(busy: list[bool]) -> list[int]:
    runs, run = [], 0
    for works in [*busy, True]:
        if works:
            runs.append(run)
            run = 0
        else:
            run += 1
    return sorted(runs, reverse=True)


def longest_block(busy: list[bool], week: int) -> int:
    best = run = 0
    for minute, works in enumerate([*busy, False]):
        if works:
            run += 1
        else:
            best, run = (max(best, run) if minute > week else best), 0
    return best


def is_kept(busy: list[bool], week: int) -> bool:
    """The four rules, minute by minute."""
    clear = without_edges(busy)
    if least(clear, D, week) < 600 or least(clear, W, week) < 77 * 60 or longest_block(busy, week) > 14 * 60:
        return False
    for start in starts(busy):
        if week <= start + D <= len(busy):
            rests = idle_runs(clear[start : start + D])
            if rests[0] < 360 or sum(rests[:2]) < 600:
                return False
    return True


def a_roster(seed: int) -> list[tuple[int, int]]:
    """Two weeks of work, some of it harsh, in stretches of odd minutes."""
    chance = random.Random(seed)
    found, minute = [], chance.randint(0, 600)
    while minute < 2 * W:
        length = chance.choice((60, 240, 300, 480, 600, 720)) + chance.randint(-7, 7)
        found.append((minute, minute + length))
        minute += length + chance.choice((20, 59, 60, 61, 360, 480, 600, 660)) + chance.randint(0, 40)
    return found


@pytest.mark.parametrize("seed", range(150))
def test_figures_and_verdict_are_those_of_every_minute_counted(seed: int) -> None:
    work = a_roster(seed)
    busy, week = filled(work, 2 * W), W
    hours = Hours([from_minutes(begin, end) for begin, end in work], KNOWN, WEEK, RULES)
    assert (hours.least_day, hours.least_week, hours.longest_work) == (
        least(without_edges(busy), D, week) * MINUTE,
        least(without_edges(busy), W, week) * MINUTE,
        longest_block(busy, week) * MINUTE,
    )
    assert (not hours.lacks) == is_kept(busy, week)


@pytest.mark.parametrize("seed", range(40))
def test_without_a_history_nothing_before_the_week_is_judged(seed: int) -> None:
    work = a_roster(seed)
    known = Span(WEEK.start, WEEK.end)
    busy = filled([(begin - W, end - W) for begin, end in work if end > W], W)
    hours = Hours([from_minutes(begin, end) for begin, end in work], known, WEEK, RULES)
    assert hours.least_day == least(without_edges(busy), D, 0) * MINUTE
    assert (not hours.lacks) == is_kept(busy, 0)


def every_day(*pairs: tuple[float, float]) -> list[Span]:
    return [
        Span(KNOWN.start + day * DAY + begin * HOUR, KNOWN.start + day * DAY + end * HOUR)
        for day in range(14)
        for begin, end in pairs
    ]


def on_days(*days: tuple[tuple[float, float], ...]) -> list[Span]:
    """Work on the first days of the week, after a week of rest."""
    return [
        Span(WEEK.start + day * DAY + begin * HOUR, WEEK.start + day * DAY + end * HOUR)
        for day, pairs in enumerate(days)
        for begin, end in pairs
    ]


# Constructed patterns (not published): least rest in 24 h and seven days, longest work, and whether all is kept.
SIX_LONG_DAYS = (*(((5.0, 11.0), (12.0, 19.5)),) * 6, ((8.0, 12.0), (13.0, 19.0)))
PATTERNS = [
    ("day work with a meal", every_day((8, 12), (13, 17)), 16, 112, 4, True),
    ("four on, eight off", every_day((0, 4), (12, 16)), 16, 112, 4, True),
    ("a watch and day work", every_day((0, 4), (9, 17)), 12, 84, 8, True),
    ("six on, six off", every_day((0, 6), (12, 18)), 12, 84, 6, True),
    ("six on, six off with a quarter of an hour more", every_day((0, 6.25), (12, 18.25)), 11.5, 80.5, 6.25, False),
    ("fourteen hours every day", every_day((6, 20)), 10, 70, 14, False),
    ("thirteen hours every day", every_day((6, 19)), 11, 77, 13, True),
    ("one late evening", on_days(((8, 17),), ((6, 20.5),), ((8, 17),)), 9.5, None, 14.5, False),
    ("three rests, none of six hours", every_day((0, 5), (9, 14), (17, 20)), 11, 77, 5, False),
    ("two rests of five and a half", every_day((0, 7), (12.5, 19)), 10.5, 73.5, 7, False),
    ("an evening and the night after it", on_days(((8, 12), (16, 24)), ((0, 4), (10, 14))), 8, None, 12, False),
    ("late to bed, early up", on_days(((8, 18), (20, 23)), ((5, 15),)), 8, None, 10, False),
    ("short breaks are no rest", every_day((6, 10), (10.5, 14), (14.5, 18.5), (19, 20.5)), 9.5, 66.5, 14.5, False),
    ("two days in three parts", on_days(*(((6, 13), (15, 20), (22, 24)),) * 2), 10, None, 7, False),
    ("a third part too short", on_days(*(((6, 13), (16.5, 21), (21.5, 24)),) * 2), 9.5, None, 7.5, False),
    ("77 hours to the minute", on_days(*SIX_LONG_DAYS), 10.5, 77, 7.5, True),
]


@pytest.mark.parametrize(
    ("work", "day", "week", "span", "kept"), [p[1:] for p in PATTERNS], ids=[p[0] for p in PATTERNS]
)
def test_a_pattern_whose_verdict_is_known(
    work: list[Span], day: float, week: float | None, span: float, kept: bool
) -> None:
    hours = Hours(work, KNOWN, WEEK, RULES)
    assert hours.least_day == day * HOUR
    if week is not None:
        assert hours.least_week == week * HOUR
    assert hours.longest_work == span * HOUR
    assert (not hours.lacks) is kept


def test_real_hours_count_when_the_clock_goes_back() -> None:
    # Ship's time 22:00 to 06:00 over a night in which the clock goes back an hour is nine hours, not eight.
    night = Span(datetime(2027, 3, 9, 22, tzinfo=UTC), datetime(2027, 3, 10, 6, tzinfo=UTC) + HOUR)
    assert Hours([night], KNOWN, WEEK, RULES).longest_work == 9 * HOUR
