"""What the solver found, in our words and in steps; plain records that cross from the child process."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from scheduler.domain.restrictions import DutyKind, Phase
from scheduler.solve.problem import Span, Stretch, Task

Named = tuple[str, DutyKind]


@dataclass(frozen=True, kw_only=True, slots=True)
class PlacedSession:
    """One session in steps: the test's start, going in, coming out."""

    test: int
    enter: int
    out: int


@dataclass(frozen=True, kw_only=True, slots=True)
class Placed:
    """The times of one entry in steps, and the fans it uses."""

    entry: str
    start: int
    opened: int
    sessions: tuple[PlacedSession, ...]
    closing: int
    end: int
    fans: tuple[tuple[str, int], ...]
    way: int


@dataclass(frozen=True, kw_only=True, slots=True)
class LevelFound:
    """One level: its value, the bound on it, and whether they meet."""

    name: str
    value: float
    bound: float

    @property
    def met(self) -> bool:
        """True when no better value exists under this model, by the solver's word."""
        return abs(self.value - self.bound) < 1e-6


@dataclass(frozen=True, kw_only=True, slots=True)
class Timed:
    """The week's times: entries that stand, operations, eased hours."""

    entries: Mapping[str, Placed]
    operations: Mapping[str, int]
    eased: Mapping[str, Mapping[int, float]]
    """By leg and hour: the limit kept; 0 where she heaves to."""
    late_min: Mapping[str, int] = field(default_factory=dict)


@dataclass(frozen=True, kw_only=True, slots=True)
class Outcome:
    """A named week. `people` by (entry or operation, phase, session); session 0 where there is none."""

    timed: Timed
    people: Mapping[tuple[str, Phase, int], tuple[Named, ...]]
    short: Mapping[str, int]
    """Fixed operations that lack people, and how many."""
    levels: tuple[LevelFound, ...]
    effort: float
    cut: bool
    """True when the wall guard or Ctrl-C ended the run: another run may differ."""
    confirmed: bool = False


def touched(placed: Placed, task: Task, stretch: Stretch) -> list[Span]:
    """The spans of a stretch of a placed entry, in steps."""
    match stretch:
        case Stretch.TEST:
            tail = [(placed.closing - task.tail_test, placed.closing)] if task.tail_test else []
            return [(s.test, s.test + task.test) for s in placed.sessions] + tail
        case Stretch.ENTER:
            return [(s.enter, s.out) for s in placed.sessions]
        case Stretch.SESSION:
            return [(s.test, s.out) for s in placed.sessions]
        case Stretch.BRIEF:
            return [(at - task.brief, at) for at in (placed.start, *(s.test for s in placed.sessions))]
        case Stretch.ISOLATE:
            return [(placed.start, placed.opened)]
        case Stretch.VENTILATE:
            return [(placed.opened, placed.sessions[0].test - task.brief)]
        case Stretch.RESTORE:
            return [(placed.closing, placed.end)]
        case Stretch.OPEN:
            return [(placed.opened, placed.end)]
        case Stretch.OUT_OF_USE:
            return [(placed.start, placed.end)]
        case Stretch.RUN | Stretch.EMPTIED:
            return []
