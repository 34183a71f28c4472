"""The week as a problem in whole grid steps: what the restrictions leave, sorted for the solver.

Everything here is plain integers, ids and tuples, so that it crosses to a child process and back unchanged.
A step is `grid_min` minutes; an interval is half-open in steps. What keeps clear is rounded outward.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import StrEnum

from scheduler.domain.restrictions import DutyKind, Phase

Span = tuple[int, int]


class Stretch(StrEnum):
    """What of an entry or operation a restriction binds: one phase, a session, or a hull of phases."""

    BRIEF = "brief"
    ISOLATE = "isolate"
    VENTILATE = "ventilate"
    TEST = "test"
    ENTER = "enter"
    RESTORE = "restore"
    SESSION = "session"
    OPEN = "open"
    OUT_OF_USE = "out of use"
    RUN = "run"
    EMPTIED = "emptied"


def stretches(phases: tuple[Phase, ...]) -> tuple[Stretch, ...]:
    """The stretches that a tuple of phases stands for: a hull where all its phases are named, else each phase."""
    named = set(phases)
    hull: set[Phase] = {Phase.VENTILATE, Phase.TEST, Phase.ENTER, Phase.RESTORE}
    if hull | {Phase.ISOLATE} <= named:
        rest = named - hull - {Phase.ISOLATE}
        return (Stretch.OUT_OF_USE, *(Stretch(p.value) for p in sorted(rest) if p is not Phase.CLEAN))
    if hull <= named:
        return (Stretch.OPEN, *(Stretch(p.value) for p in sorted(named - hull) if p is not Phase.CLEAN))
    return tuple(Stretch(p.value) for p in sorted(named) if p is not Phase.CLEAN)


@dataclass(frozen=True, kw_only=True, slots=True)
class Way:
    """One way to ventilate: fans as (gear, count) and the steps it takes at least."""

    fans: tuple[tuple[str, int], ...]
    steps: int


@dataclass(frozen=True, kw_only=True, slots=True)
class Cap:
    """In the steps of `hour` (a UTC hour's index from the week's first) the stretch needs a speed at or below."""

    stretch: Stretch
    hour: int
    limit_kn: float
    hove_to_only: bool


@dataclass(frozen=True, kw_only=True, slots=True)
class Need:
    """People for one duty: `count` of `people`; `steps` 0 for the whole phase; `session` 0 for each."""

    phase: Phase
    duty: DutyKind
    count: int
    people: tuple[str, ...]
    steps: int = 0
    session: int = 0
    work: bool = True
    may_double: bool = False


@dataclass(frozen=True, kw_only=True, slots=True)
class Task:
    """An entry to be placed. Lengths in steps; `blocked` by stretch, disjoint and ascending."""

    entry: str
    space: str
    priority: int
    brief: int
    isolate: int
    test: int
    restore: int
    inside: int
    least: int
    greatest: int
    most: int
    proving: int
    tail_ventilate: int
    tail_test: int
    valid: int
    open_longest: int
    permit: int
    earliest: int
    due: int
    at: int | None
    ways: tuple[Way, ...]
    blocked: Mapping[Stretch, tuple[Span, ...]] = field(default_factory=dict)
    caps: tuple[Cap, ...] = ()
    needs: tuple[Need, ...] = ()
    gear: tuple[tuple[Stretch, str, int], ...] = ()


@dataclass(frozen=True, kw_only=True, slots=True)
class Job:
    """An operation. A fixed one has one start; `emptied_until` names the operation that presses up again."""

    operation: str
    movable: bool
    earliest: int
    latest: int
    steps: int
    blocked: Mapping[Stretch, tuple[Span, ...]] = field(default_factory=dict)
    emptied_until: str | None = None
    needs: tuple[Need, ...] = ()


@dataclass(frozen=True, kw_only=True, slots=True)
class Apart:
    """Two stretches that may not overlap; with `span` only the part of the other inside it counts."""

    a: str
    a_stretch: Stretch
    b: str
    b_stretch: Stretch
    span: Span | None
    before: int
    after: int


@dataclass(frozen=True, kw_only=True, slots=True)
class Order:
    """`first` ends, by `gap` steps, before `then` begins; alternatives share `either`."""

    first: str
    then: str
    gap: int
    either: str
    branch: int
    presence: bool
    """True when `then` falls with `first` (an entry after an entry)."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Hour:
    """The part of one UTC hour in which a passage is under way, in minutes from the week's start."""

    leg: str
    hour: int
    span_min: Span


@dataclass(frozen=True, kw_only=True, slots=True)
class Passage:
    """A passage with its hours up to the planned arrival (`planned_min`), and what lateness it bears.

    `behind_nm` is what the planned speed leaves uncovered by then, to be made good at up to `greatest_kn`.
    Arrival is `latest_min` at the latest; minutes after `arrive_by_min` are late.
    """

    leg: str
    hours: tuple[Hour, ...]
    start_min: int
    planned_min: int
    behind_nm: float
    distance_nm: float
    planned_kn: float
    greatest_kn: float
    least_kn: float
    arrive_by_min: int
    latest_min: int
    may_heave_to: bool
    barred: tuple[tuple[float, float], ...]

    def eased_kn(self, limit_kn: float) -> float | None:
        """The greatest speed at or below a limit that the ship may keep; None: none but hove to."""
        speed = min(limit_kn, self.planned_kn)
        for low, high in sorted(self.barred, reverse=True):
            if low < speed < high:
                speed = low
        return speed if speed >= self.least_kn else None


@dataclass(frozen=True, kw_only=True, slots=True)
class Problem:
    """The whole week for the solver."""

    steps: int
    step_min: int
    hour_spans: tuple[Span, ...]
    """Steps of each UTC hour that touches the week, rounded outward."""
    days: tuple[Span, ...]
    """Steps of each ship's date."""
    tasks: tuple[Task, ...]
    jobs: tuple[Job, ...]
    aparts: tuple[Apart, ...]
    orders: tuple[Order, ...]
    stocks: Mapping[str, tuple[tuple[Span, int], ...]]
    """Pieces of a resource by span, covering the week."""
    passages: tuple[Passage, ...]
    easing_max: int
    people: tuple[str, ...]
    away: Mapping[str, tuple[Span, ...]]
    """No entry duty in these steps."""
    away_on_call: Mapping[str, tuple[Span, ...]]
    """Not even on call."""
    away_enter: Mapping[str, tuple[Span, ...]]
    """No duty in an `enter` (15 min before a watch included)."""
    away_operation: Mapping[str, tuple[Span, ...]]
    """Not for an operation: sole watch, not aboard."""
    work_min: Mapping[str, tuple[tuple[int, int], ...]]
    """Fixed work in minutes from the week's start: past hours, watches, day work."""
    day_work_min: Mapping[str, tuple[tuple[int, int], ...]]
    """Of these the day work, which entry work may replace."""
    known_from_min: Mapping[str, int | None]
    """From when work is known; None: nothing known."""
    sessions_a_day: int
    rest_limits: tuple[int, int, int, int, int]
    """rest.day, rest.longest, rest.week, rest.work_span in minutes, shortest rest in minutes."""
