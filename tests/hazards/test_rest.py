"""Hours of rest on small records worked by hand."""

from __future__ import annotations

import pytest

from scheduler.hazards.rest import (
    RestClause,
    RestFigures,
    RestLimits,
    RestVerdict,
    Span,
    rest_blocks,
    rest_figures,
)

H = 60
DAY = 24 * H
WEEK = (0, 7 * DAY)
WITH_HISTORY = (-7 * DAY, 7 * DAY)


def figures_of(*work: tuple[int, int], known: tuple[int, int] = WITH_HISTORY) -> RestFigures:
    return rest_figures(work, known=known, week=WEEK)


def test_a_break_of_59_minutes_joins_two_stretches_and_one_of_60_parts_them() -> None:
    assert rest_blocks([(0, 60), (119, 180)]) == (Span(0, 180),)
    assert rest_blocks([(0, 60), (120, 180)]) == (Span(0, 60), Span(120, 180))


def test_work_that_overlaps_or_lies_inside_other_work_counts_once() -> None:
    assert rest_blocks([(0, 240), (60, 120), (200, 300)]) == (Span(0, 300),)


def test_fourteen_hours_without_a_rest_are_allowed_and_a_minute_more_is_not() -> None:
    assert figures_of((0, 14 * H)).breaches == ()
    longest = [each for each in figures_of((0, 14 * H + 1)).breaches if each.clause is RestClause.LONGEST_WORK]
    assert [(each.window, each.by_min) for each in longest] == [(Span(0, 14 * H + 1), 1)]


def test_ten_hours_of_rest_are_enough_and_a_minute_less_is_not() -> None:
    # Two stretches of 7 h in one day leave 3 + 7 h; one minute more of work leaves 9 h 59 min.
    assert figures_of((0, 7 * H), (10 * H, 17 * H)).breaches == ()
    short = figures_of((0, 7 * H), (10 * H, 17 * H + 1))
    assert {(each.clause, each.found_min) for each in short.breaches} == {
        (RestClause.REST_24H, 599),
        (RestClause.TWO_RESTS, 599),
    }


def test_a_longest_rest_of_a_minute_under_six_hours_breaks_the_clause_of_the_long_rest_alone() -> None:
    # From 00:00: rests 5 h 59 min and 5 h 59 min are 11 h 58 min together.
    rest_min = 5 * H + 59
    work_min = (DAY - 2 * rest_min) // 2
    work = [(number * (work_min + rest_min), number * (work_min + rest_min) + work_min) for number in range(-14, 14)]
    assert {each.clause for each in figures_of(*work).breaches} == {RestClause.LONG_REST}


def test_rest_is_counted_from_every_work_start_and_not_by_dates() -> None:
    # 12-23 and 05-10: 11 h and 5 h by dates, but from 12:00 on only 6 + 2 h of rest.
    figures = figures_of((12 * H, 23 * H), (DAY + 5 * H, DAY + 10 * H))
    assert figures.least_24h_min == 8 * H


def test_work_before_the_week_counts_into_windows_that_end_in_it() -> None:
    # 10-24 on the eve and 06-08 on the first day: the 24 hours from 10:00 hold 6 + 2 h of rest.
    assert figures_of((-14 * H, 0), (6 * H, 8 * H)).least_24h_min == 8 * H


def test_a_breach_that_ended_before_the_week_is_not_the_plans() -> None:
    assert figures_of((-6 * DAY, -6 * DAY + 16 * H)).verdict is RestVerdict.KEPT


def test_the_weeks_last_day_is_judged_to_its_last_minute() -> None:
    # 7 + 7 h 1 min from the last midnight: its 24 hours end with the week. 14 h 1 min up to the week's end.
    short = figures_of((6 * DAY, 6 * DAY + 7 * H), (6 * DAY + 10 * H, 6 * DAY + 17 * H + 1))
    assert (RestClause.TWO_RESTS, Span(6 * DAY, 7 * DAY)) in {(each.clause, each.window) for each in short.breaches}
    assert figures_of((7 * DAY - 14 * H - 1, 7 * DAY)).longest_work_min == 14 * H + 1


def test_without_history_windows_that_reach_before_it_are_not_judged_and_the_verdict_is_unknown() -> None:
    # Known from the week's start: the 24 hours that end with this work at 15:00 are not known whole.
    figures = figures_of((1 * H, 15 * H), known=WEEK)
    assert figures.breaches == ()
    assert figures.verdict is RestVerdict.UNKNOWN
    assert figures.unknown_until_min == 7 * DAY


def test_without_history_what_is_broken_inside_known_time_is_broken() -> None:
    assert figures_of((1 * H, 17 * H), known=WEEK).verdict is RestVerdict.BROKEN


def test_with_part_of_a_history_seven_days_are_known_that_much_sooner() -> None:
    assert figures_of(known=(-2 * DAY, 7 * DAY)).unknown_until_min == 5 * DAY


def test_a_person_without_work_rests_through() -> None:
    figures = figures_of()
    assert (figures.least_24h_min, figures.least_7d_min, figures.longest_work_min) == (DAY, 7 * DAY, 0)
    assert figures.verdict is RestVerdict.KEPT


def test_a_person_aboard_for_less_than_a_day_has_no_figures() -> None:
    figures = figures_of((3 * H, 5 * H), known=(0, 20 * H))
    assert (figures.least_24h_min, figures.least_7d_min) == (None, None)


def test_stricter_limits_bite_sooner() -> None:
    strict = RestLimits(longest_work_min=12 * H)
    found = rest_figures([(0, 13 * H)], known=WITH_HISTORY, week=WEEK, limits=strict)
    assert [each.clause for each in found.breaches] == [RestClause.LONGEST_WORK]


@pytest.mark.parametrize(
    ("work", "says"),
    [
        ([(100, 100)], "has no length"),
        ([(200, 100)], "ends before it starts"),
        ([(-8 * DAY, -8 * DAY + 60)], "expected all work within known time"),
    ],
)
def test_work_that_cannot_be_is_refused(work: list[tuple[int, int]], says: str) -> None:
    with pytest.raises(ValueError, match=says):
        rest_figures(work, known=WITH_HISTORY, week=WEEK)
