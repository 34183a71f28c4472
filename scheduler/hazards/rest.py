"""Hours of rest of one person, in whole minutes of elapsed time.

Work with under an hour between is one block; a rest is a gap of an hour or more. Minutes are counted from any
one instant of UTC, so that a change of the ship's clocks cannot lengthen or shorten anything.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from enum import StrEnum
from itertools import accumulate
from typing import NamedTuple

DAY_MIN = 24 * 60
SEVEN_DAYS_MIN = 7 * DAY_MIN


@dataclass(frozen=True, kw_only=True, slots=True)
class RestLimits:
    """The limits in minutes; the defaults are the international ones, stricter ones may be given."""

    rest_24h_min: int = 10 * 60  # STCW A-VIII/1.2.1, MLC 2006 A2.3.5(b)(i)
    rest_7d_min: int = 77 * 60  # STCW A-VIII/1.2.2, MLC 2006 A2.3.5(b)(ii)
    two_rests_min: int = 10 * 60  # STCW A-VIII/1.3: the 10 h in no more than two periods
    long_rest_min: int = 6 * 60  # STCW A-VIII/1.3: one of them at least 6 h
    longest_work_min: int = 14 * 60  # STCW A-VIII/1.3: at most 14 h between consecutive periods of rest
    least_rest_min: int = 60  # our choice, after STCW A-VIII/1.9: a shorter break is no period of rest


class RestClause(StrEnum):
    """What the limits ask, one by one."""

    REST_24H = "rest in 24 hours"
    TWO_RESTS = "the two longest rests in 24 hours together"
    LONG_REST = "one long rest in 24 hours"
    LONGEST_WORK = "work without a rest"
    REST_7D = "rest in 7 days"


class RestVerdict(StrEnum):
    """How a person stands."""

    KEPT = "kept"
    BROKEN = "broken"
    UNKNOWN = "unknown"


class Span(NamedTuple):
    """A half-open stretch of minutes."""

    start_min: int
    end_min: int

    @property
    def length_min(self) -> int:
        """Its length."""
        return self.end_min - self.start_min


@dataclass(frozen=True, kw_only=True, slots=True)
class RestBreach:
    """One clause that a window does not meet: what was found there and what the limit asks, in minutes."""

    clause: RestClause
    window: Span
    found_min: int
    limit_min: int

    @property
    def by_min(self) -> int:
        """By how many minutes."""
        return abs(self.limit_min - self.found_min)


@dataclass(frozen=True, kw_only=True, slots=True)
class RestFigures:
    """One person's figures over the windows that end inside the week.

    `least_24h_min`, `least_7d_min` are None when no such window lies within known time; `unknown_until_min` is
    the minute at which seven days are known, None when they are known from the week's start.
    """

    least_24h_min: int | None
    least_7d_min: int | None
    longest_work_min: int
    breaches: tuple[RestBreach, ...]
    unknown_until_min: int | None

    @property
    def verdict(self) -> RestVerdict:
        """Broken when any clause is, else unknown while seven days are not known, else kept."""
        if self.breaches:
            return RestVerdict.BROKEN
        return RestVerdict.KEPT if self.unknown_until_min is None else RestVerdict.UNKNOWN


def rest_figures(
    work: Iterable[tuple[int, int]],
    *,
    known: tuple[int, int],
    week: tuple[int, int],
    limits: RestLimits | None = None,
) -> RestFigures:
    """Figures and breaches of one person's hours of rest.

    Assumes: `work` is all of the person's work within known time, overlaps being a union; outside known time
        nothing is judged. A gap of under an hour at an edge of known time is no rest. A window ends inside the
        week when it ends at its start, its end or between.
    Parameters:
        work: half-open stretches of work [min], within `known`, in any order.
        known: from when to when all work is known [min], half-open.
        week: the week that is judged [min], half-open; its end at or after its start.
        limits: the limits [min]; None: the international ones.
    Returns: RestFigures, breaches in the order of their windows.
    Raises: ValueError for work of no length or outside known time, and for a span that ends before it starts.
    Source: STCW A-VIII/1, MLC 2006 A2.3. Windows begin at a block's start, end at a block's end or lie at an edge of
        the week or of known time, where a sliding sum has its least values; the two-rest clauses look at the 24 hours
        from each block's start, rests clipped.
    Example:
        Six on, six off for a week that follows one alike: 12 h in each day, no rest under 6 h.

        >>> hours = [(day * 1440 + start * 60, day * 1440 + start * 60 + 360)
        ...          for day in range(-7, 7) for start in (0, 12)]
        >>> figures = rest_figures(hours, known=(-7 * 1440, 7 * 1440), week=(0, 7 * 1440))
        >>> figures.least_24h_min, figures.least_7d_min, figures.longest_work_min, figures.verdict.value
        (720, 5040, 360, 'kept')
        >>> for breach in rest_figures([(0, 900)], known=(-10080, 10080), week=(0, 10080)).breaches:
        ...     print(breach.clause.value, tuple(breach.window), breach.by_min)
        rest in 24 hours (-540, 900) 60
        work without a rest (0, 900) 60
        rest in 24 hours (0, 1440) 60
        the two longest rests in 24 hours together (0, 1440) 60
    """
    limits = limits or RestLimits()
    known_span, week_span = _span("known", known), _span("week", week)
    blocks = _blocks(work, known_span, limits.least_rest_min)
    record = _Record(blocks, known_span, limits.least_rest_min)
    days = [(window, record.rest_in(window)) for window in record.windows(DAY_MIN, week_span)]
    weeks = [(window, record.rest_in(window)) for window in record.windows(SEVEN_DAYS_MIN, week_span)]
    worked = [block for block in blocks if _ends_in(block, week_span)]
    breaches = [
        *_short(RestClause.REST_24H, days, limits.rest_24h_min),
        *_short(RestClause.REST_7D, weeks, limits.rest_7d_min),
        *_of_two_rests(record, week_span, limits),
        *_too_long(worked, limits.longest_work_min),
    ]
    seven_days_known_min = known_span.start_min + SEVEN_DAYS_MIN
    return RestFigures(
        least_24h_min=_least(days),
        least_7d_min=_least(weeks),
        longest_work_min=max((block.length_min for block in worked), default=0),
        breaches=tuple(sorted(breaches, key=lambda each: (each.window, each.clause))),
        unknown_until_min=seven_days_known_min if seven_days_known_min > week_span.start_min else None,
    )


def rest_blocks(work: Iterable[tuple[int, int]], least_rest_min: int = 60) -> tuple[Span, ...]:
    """Work joined into blocks: what overlaps, touches or has under `least_rest_min` between.

    Assumes: minutes of elapsed time.
    Parameters:
        work: half-open stretches of work [min], in any order.
        least_rest_min: the shortest gap that counts as rest [min], ≥ 1.
    Returns: the blocks in order, each separated by at least `least_rest_min`.
    Raises: ValueError for work of no length.
    Source: as `rest_figures`.
    Example:
        >>> rest_blocks([(0, 60), (119, 180), (240, 300)])
        (Span(start_min=0, end_min=180), Span(start_min=240, end_min=300))
    """
    blocks: list[Span] = []
    for stretch in sorted(_span("work", each) for each in work):
        if stretch.length_min == 0:
            raise ValueError(f"work: {tuple(stretch)} has no length; expected an end after its start. Leave it out.")
        if blocks and stretch.start_min - blocks[-1].end_min < least_rest_min:
            blocks[-1] = Span(blocks[-1].start_min, max(blocks[-1].end_min, stretch.end_min))
        else:
            blocks.append(stretch)
    return tuple(blocks)


class _Record:
    """A person's rests within known time, ready to be summed over any window."""

    def __init__(self, blocks: Sequence[Span], known: Span, least_rest_min: int) -> None:
        self._blocks, self._known = blocks, known
        edges = [known.start_min, *(edge for block in blocks for edge in block), known.end_min]
        gaps = (Span(start, end) for start, end in zip(edges[::2], edges[1::2], strict=True))
        self._rests = [gap for gap in gaps if gap.length_min >= least_rest_min]
        self._starts = [rest.start_min for rest in self._rests]
        self._rested_before = [0, *accumulate(rest.length_min for rest in self._rests)]

    def rest_in(self, window: Span) -> int:
        """Minutes of rest inside a window, rests clipped to it."""
        return self._rested_until(window.end_min) - self._rested_until(window.start_min)

    def rests_in(self, window: Span) -> Iterator[int]:
        """Lengths of the rests in a window that begins with work, the last one clipped to it."""
        for rest in self._rests[bisect_right(self._starts, window.start_min) :]:
            if rest.start_min >= window.end_min:
                return
            yield min(rest.end_min, window.end_min) - rest.start_min

    def windows(self, length_min: int, week: Span) -> Iterator[Span]:
        """Windows within known time that end in the week: from a block's start, to a block's end, and at the edges.

        A sliding sum is least at one of these: where work begins or ends, or where no window lies further on.
        """
        ends = {week.start_min, week.end_min, self._known.start_min + length_min}
        ends |= {block.start_min + length_min for block in self._blocks} | {block.end_min for block in self._blocks}
        for end_min in sorted(ends):
            window = Span(end_min - length_min, end_min)
            if self._is_known(window) and _judged(window, week):
                yield window

    def windows_from_work(self, length_min: int, week: Span) -> Iterator[Span]:
        """Windows within known time that start at a block's start and end in the week."""
        for block in self._blocks:
            window = Span(block.start_min, block.start_min + length_min)
            if self._is_known(window) and _judged(window, week):
                yield window

    def _rested_until(self, minute: int) -> int:
        begun = bisect_right(self._starts, minute)
        if begun == 0:
            return 0
        over_min = max(0, self._rests[begun - 1].end_min - minute)
        return self._rested_before[begun] - over_min

    def _is_known(self, window: Span) -> bool:
        return self._known.start_min <= window.start_min and window.end_min <= self._known.end_min


def _short(clause: RestClause, found: Iterable[tuple[Span, int]], limit_min: int) -> Iterator[RestBreach]:
    for window, rest_min in found:
        if rest_min < limit_min:
            yield RestBreach(clause=clause, window=window, found_min=rest_min, limit_min=limit_min)


def _of_two_rests(record: _Record, week: Span, limits: RestLimits) -> Iterator[RestBreach]:
    for window in record.windows_from_work(DAY_MIN, week):
        longest = sorted(record.rests_in(window), reverse=True)
        yield from _short(RestClause.TWO_RESTS, [(window, sum(longest[:2]))], limits.two_rests_min)
        yield from _short(RestClause.LONG_REST, [(window, max(longest, default=0))], limits.long_rest_min)


def _too_long(blocks: Iterable[Span], limit_min: int) -> Iterator[RestBreach]:
    for block in blocks:
        if block.length_min > limit_min:
            yield RestBreach(
                clause=RestClause.LONGEST_WORK, window=block, found_min=block.length_min, limit_min=limit_min
            )


def _least(found: Sequence[tuple[Span, int]]) -> int | None:
    """The least rest of all windows; None when none is known."""
    return min((rest_min for _, rest_min in found), default=None)


def _blocks(work: Iterable[tuple[int, int]], known: Span, least_rest_min: int) -> tuple[Span, ...]:
    blocks = rest_blocks(work, least_rest_min)
    if blocks and (blocks[0].start_min < known.start_min or blocks[-1].end_min > known.end_min):
        raise ValueError(
            f"work: {blocks[0].start_min} to {blocks[-1].end_min} was given, known time is {tuple(known)}; "
            "expected all work within known time. Widen known time or leave out what is not known whole."
        )
    return blocks


def _judged(window: Span, week: Span) -> bool:
    return week.start_min <= window.end_min <= week.end_min


def _ends_in(span: Span, week: Span) -> bool:
    return week.start_min < span.end_min <= week.end_min


def _span(name: str, stretch: tuple[int, int]) -> Span:
    if stretch[1] < stretch[0]:
        raise ValueError(f"{name}: {stretch} ends before it starts; expected start, end. Swap or correct them.")
    return Span(*stretch)
