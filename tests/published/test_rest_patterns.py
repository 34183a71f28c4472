"""Hours of rest: sixteen duty patterns and the clauses that each of them breaks.

The clauses are published: STCW A-VIII/1 (10 h in any 24 h, 77 h in any 7 days, at most two periods of which one
is at least 6 h, at most 14 h between periods) and MLC 2006 A2.3, the same (found in copies of the texts).
The patterns and their figures are constructed from those texts, worked by hand; none of them is published.

How the texts are read here: work with under an hour between is one block; the sums are looked at in windows that
begin at a block's start or end at a block's end, the two-rest clauses in the 24 hours from each block's start.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import UTC, datetime, timedelta, timezone

import pytest

from scheduler.hazards.rest import RestClause, RestVerdict, rest_figures

DAY_MIN = 1440
HISTORY_DAYS = 7
WEEK_DAYS = 7
REST_24H, TWO_RESTS, LONG_REST = RestClause.REST_24H, RestClause.TWO_RESTS, RestClause.LONG_REST
LONGEST_WORK, REST_7D = RestClause.LONGEST_WORK, RestClause.REST_7D


@dataclass(frozen=True, kw_only=True)
class Pattern:
    """A pattern of work and what it comes to, in hours; `days` repeat from 7 days before the week to its end."""

    says: str
    days: tuple[str, ...]
    repeats: bool = True
    least_24h: float
    least_7d: float | None
    longest_work: float
    breaks: frozenset[RestClause] = frozenset()


def work_of(pattern: Pattern) -> list[tuple[int, int]]:
    """Stretches of work in minutes from the week's start; a pattern that does not repeat begins on its second day."""
    dates = range(-HISTORY_DAYS, WEEK_DAYS) if pattern.repeats else range(1, 1 + len(pattern.days))
    work = []
    for number, day in enumerate(dates):
        for stretch in filter(None, pattern.days[number % len(pattern.days)].split(",")):
            start, end = (_minutes(clock) for clock in stretch.split("-"))
            work.append((day * DAY_MIN + start, day * DAY_MIN + end))
    return work


def _minutes(clock: str) -> int:
    hours, _, minutes = clock.partition(":")
    return int(hours) * 60 + int(minutes or 0)


PATTERNS = [
    Pattern(says="1 day work", days=("08-12,13-17",), least_24h=16, least_7d=112, longest_work=4),
    Pattern(says="2 four on, eight off", days=("00-04,12-16",), least_24h=16, least_7d=112, longest_work=4),
    # Rests 5 and 7: a window that slides and cuts rests would wrongly see 8.5 in the best two.
    Pattern(says="3 watch and day work", days=("00-04,09-17",), least_24h=12, least_7d=84, longest_work=8),
    Pattern(says="4 six on, six off", days=("00-06,12-18",), least_24h=12, least_7d=84, longest_work=6),
    Pattern(
        says="5 six on, six off with a quarter of an hour to hand over",
        days=("00-06:15,12-18:15",),
        least_24h=11.5,
        least_7d=80.5,
        longest_work=6.25,
        breaks=frozenset({LONG_REST}),  # the longest rest is 5.75 h
    ),
    Pattern(
        says="6 fourteen hours every day",
        days=("06-20",),
        least_24h=10,
        least_7d=70,
        longest_work=14,
        breaks=frozenset({REST_7D}),
    ),
    Pattern(says="7 thirteen hours every day", days=("06-19",), least_24h=11, least_7d=77, longest_work=13),
    Pattern(
        says="8 one long day between two short ones",
        days=("08-17", "06-20:30", "08-17"),
        repeats=False,
        least_24h=9.5,  # from 20:30 to 20:30, and from 06:00 to 06:00
        least_7d=None,
        longest_work=14.5,
        breaks=frozenset({REST_24H, TWO_RESTS, LONGEST_WORK}),
    ),
    Pattern(
        says="9 three short rests",
        days=("00-05,09-14,17-20",),
        least_24h=11,
        least_7d=77,
        longest_work=5,
        breaks=frozenset({TWO_RESTS, LONG_REST}),  # 4 + 4 = 8, none of 6
    ),
    Pattern(
        says="10 two rests under six hours",
        days=("00-07,12:30-19",),
        least_24h=10.5,
        least_7d=73.5,
        longest_work=7,
        breaks=frozenset({LONG_REST, REST_7D}),
    ),
    Pattern(
        says="11 a night through, dates fair by themselves",
        days=("08-12,16-24", "00-04,10-14"),
        repeats=False,
        least_24h=8,  # 4 + 4 from 08:00, 6 + 2 from 16:00
        least_7d=None,
        longest_work=12,
        breaks=frozenset({REST_24H, TWO_RESTS, LONG_REST}),
    ),
    Pattern(
        says="12 a late evening and an early start",
        days=("08-18,20-23", "05-15"),
        repeats=False,
        least_24h=8,  # 2 + 6 from 08:00
        least_7d=None,
        longest_work=10,
        breaks=frozenset({REST_24H, TWO_RESTS}),
    ),
    # Breaks of half an hour are no rest, so the day is one block of 14.5 h; a plain sum of gaps would see 11 and 77.
    Pattern(
        says="13 half-hour breaks",
        days=("06-10,10:30-14,14:30-18:30,19-20:30",),
        least_24h=9.5,
        least_7d=66.5,
        longest_work=14.5,
        breaks=frozenset({REST_24H, TWO_RESTS, LONGEST_WORK, REST_7D}),
    ),
    # A three-period exception of STCW A-VIII/1.9 would allow it; planned entries never use an exception. The longest
    # work is 06-13, 7 h; a list of these patterns that says 8 counts otherwise than by blocks.
    Pattern(
        says="14 two days of three rests",
        days=("06-13,15-20,22-24", "06-13,15-20,22-24"),
        repeats=False,
        least_24h=10,
        least_7d=None,
        longest_work=7,
        breaks=frozenset({TWO_RESTS}),  # 6 + 2
    ),
    # The half hour at 21:00 is no rest, so 16:30-24 is one block of 7.5 h and the rests are 3.5 and 6. (A list of
    # these patterns says 8 h of work; blocks give 7.5.)
    Pattern(
        says="15 two days with a rest of half an hour",
        days=("06-13,16:30-21,21:30-24", "06-13,16:30-21,21:30-24"),
        repeats=False,
        least_24h=9.5,
        least_7d=None,
        longest_work=7.5,
        breaks=frozenset({REST_24H, TWO_RESTS}),
    ),
    # 6·10.5 + 14 = 77 exactly. The longest block is 12-19:30, 7.5 h.
    Pattern(
        says="16 six long days and a short one",
        days=(*["05-11,12-19:30"] * 6, "08-12,13-19"),
        least_24h=10.5,
        least_7d=77,
        longest_work=7.5,
    ),
]


@pytest.mark.parametrize("pattern", PATTERNS, ids=lambda pattern: pattern.says)
def test_each_constructed_pattern_comes_to_its_figures_and_breaks_just_its_clauses(pattern: Pattern) -> None:
    figures = rest_figures(
        work_of(pattern), known=(-HISTORY_DAYS * DAY_MIN, WEEK_DAYS * DAY_MIN), week=(0, WEEK_DAYS * DAY_MIN)
    )
    assert figures.least_24h_min == pattern.least_24h * 60
    assert figures.longest_work_min == pattern.longest_work * 60
    if pattern.least_7d is not None:
        assert figures.least_7d_min == pattern.least_7d * 60
    assert {breach.clause for breach in figures.breaches} == pattern.breaks
    assert figures.verdict is (RestVerdict.BROKEN if pattern.breaks else RestVerdict.KEPT)


def test_there_are_sixteen_patterns() -> None:
    assert [int(pattern.says.split()[0]) for pattern in PATTERNS] == list(range(1, 17))


def elapsed(*stretches: tuple[datetime, datetime]) -> list[tuple[int, int]]:
    """Stretches of ship's time as minutes of elapsed time from 1 March 2026, 00:00 UTC."""
    zero = datetime(2026, 3, 1, tzinfo=UTC)
    return [((start - zero) // timedelta(minutes=1), (end - zero) // timedelta(minutes=1)) for start, end in stretches]


def ship_time(day: int, hour: int, offset_h: int) -> datetime:
    return datetime(2026, 3, day, hour, tzinfo=timezone(timedelta(hours=offset_h)))


@pytest.mark.parametrize(
    ("before_h", "after_h", "rest_h"),
    [
        (1, 1, 10),  # 20:00 to 06:00 without a step
        (1, 2, 9),  # clocks an hour on in the night: an hour of it never was
        (2, 1, 11),  # clocks an hour back
    ],
)
def test_rest_over_a_change_of_the_clocks_counts_the_hours_that_passed(
    before_h: int, after_h: int, rest_h: int
) -> None:
    # Constructed: 06-20 on the 3rd, 06-14 on the 4th, clocks stepped in the night between.
    work = elapsed(
        (ship_time(3, 6, before_h), ship_time(3, 20, before_h)),
        (ship_time(4, 6, after_h), ship_time(4, 14, after_h)),
    )
    figures = rest_figures(work, known=(-7 * DAY_MIN, 7 * DAY_MIN), week=(0, 7 * DAY_MIN))
    # The worst 24 hours begin with the 14 hours' work on the 3rd: all the rest in them is the night's, cut to 10 h.
    assert figures.least_24h_min == min(rest_h, 10) * 60
    assert figures.verdict is (RestVerdict.BROKEN if rest_h < 10 else RestVerdict.KEPT)


def test_a_date_that_is_lived_twice_over_the_date_line_is_a_day_of_its_own() -> None:
    # Constructed: at +12 the clocks go back 24 h at midnight. 06-19 each time the clock shows it: 11 h between.
    work = elapsed(
        (ship_time(3, 6, 12), ship_time(3, 19, 12)),
        (ship_time(3, 6, -12), ship_time(3, 19, -12)),
    )
    figures = rest_figures(work, known=(-7 * DAY_MIN, 7 * DAY_MIN), week=(0, 7 * DAY_MIN))
    assert figures.least_24h_min == 11 * 60
    assert figures.longest_work_min == 13 * 60
