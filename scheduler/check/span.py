"""Half-open stretches of real time, and the little arithmetic that an inspection needs."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import UTC, datetime, timedelta
from typing import Final, NamedTuple

MINUTE: Final = timedelta(minutes=1)
HOUR: Final = timedelta(hours=1)
DAY: Final = timedelta(hours=24)
NOTHING: Final = timedelta(0)


class Span(NamedTuple):
    """From `start` up to, but not with, `end`; aware instants."""

    start: datetime
    end: datetime

    @property
    def length(self) -> timedelta:
        """Real time between the two."""
        return self.end - self.start

    def __str__(self) -> str:
        return f"{stamp(self.start)} to {stamp(self.end)}"


def stamp(instant: datetime) -> str:
    """An instant as it stands in a sentence: date, hour and minute, Z."""
    return instant.astimezone(UTC).strftime("%Y-%m-%d %H:%MZ")


def common(one: Span, other: Span) -> Span | None:
    """The time that two stretches share, or None."""
    shared = Span(max(one.start, other.start), min(one.end, other.end))
    return shared if shared.start < shared.end else None


def shared_with(one: Span, others: Iterable[Span]) -> list[Span]:
    """The parts of one stretch that others cover, in order."""
    return union(shared for other in others if (shared := common(one, other)))


def union(spans: Iterable[Span]) -> list[Span]:
    """Stretches that touch or overlap made one, in order; empty ones vanish."""
    merged: list[Span] = []
    for span in sorted(span for span in spans if span.start < span.end):
        if merged and span.start <= merged[-1].end:
            merged[-1] = Span(merged[-1].start, max(merged[-1].end, span.end))
        else:
            merged.append(span)
    return merged


def less(span: Span, holes: Iterable[Span]) -> list[Span]:
    """What is left of a stretch when others are cut out of it."""
    left, at = [], span.start
    for hole in union(holes):
        if at < hole.start:
            left.append(Span(at, min(hole.start, span.end)))
        at = max(at, hole.end)
    left.append(Span(at, span.end))
    return [piece for piece in left if piece.start < piece.end]


def length_within(window: Span, spans: Iterable[Span]) -> timedelta:
    """How much of a window is covered by stretches that do not overlap one another."""
    shared = (common(window, span) for span in spans)
    return sum((piece.length for piece in shared if piece), NOTHING)


def hours_of(span: Span) -> Iterator[Span]:
    """The whole hours of UTC that a stretch touches."""
    start = span.start.astimezone(UTC).replace(minute=0, second=0, microsecond=0)
    while start < span.end:
        yield Span(start, start + HOUR)
        start += HOUR


def minutes_of(span: Span) -> Iterator[datetime]:
    """The minutes that a stretch touches, each by its beginning."""
    instant = span.start.replace(second=0, microsecond=0)
    while instant < span.end:
        yield instant
        instant += MINUTE


def most_at_once(spans: Iterable[Span]) -> tuple[int, Span | None]:
    """The greatest number of stretches that hold at one time, and the first time at which they do."""
    listed = [span for span in spans if span.start < span.end]
    best, where = 0, None
    for instant in sorted({span.start for span in listed}):
        together = [span for span in listed if span.start <= instant < span.end]
        if len(together) > best:
            best, where = len(together), Span(instant, min(span.end for span in together))
    return best, where
