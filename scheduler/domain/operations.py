"""Everything else that the ship does, and the state that it leaves her spaces in."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime

from scheduler.domain.source import Origin


@dataclass(frozen=True, kw_only=True, slots=True)
class Operation:
    """Fixed (`start`, `end`; end None: until the horizon) or movable (`earliest`, `latest`, `hours`).

    `earliest` binds the start, `latest` the end. `people` are (ability, count) pairs. `lines` None: every
    device of every branch that reaches its spaces.
    """

    operation: str
    kind: str
    start: datetime | None = None
    end: datetime | None = None
    earliest: datetime | None = None
    latest: datetime | None = None
    hours: float | None = None
    spaces: tuple[str, ...] = ()
    rate_m3_h: float | None = None
    vapour: str | None = None
    lines: tuple[str, ...] | None = None
    people: tuple[tuple[str, int], ...] = ()
    cargo: str | None = None
    leaves: str | None = None
    after: tuple[str, ...] = ()
    bars: str = "none"
    firm: bool = True
    note: str = ""
    origin: Origin = Origin()

    @property
    def movable(self) -> bool:
        """True when the plan chooses its time."""
        return self.start is None


def pressed_up_by(out: Operation, operations: Iterable[Operation]) -> Operation | None:
    """The 'ballast in' on the same spaces that ends what a 'ballast out' began; None: nothing in the week does.

    One that waits for it by `after`, else the first that begins at or after it (by start, or earliest).
    """
    same = [each for each in operations if each.kind == "ballast in" and set(each.spaces) == set(out.spaces)]
    waiting = [each for each in same if out.operation in each.after]
    later = [each for each in same if _begins(each) >= _begins(out)]
    return min(waiting or later, key=lambda each: (_begins(each), each.operation), default=None)


def _begins(operation: Operation) -> datetime:
    """A fixed operation's start, a movable one's earliest."""
    found = operation.start or operation.earliest
    if found is None:
        raise ValueError(f"operation {operation.operation}: it has neither start nor earliest; give one of them")
    return found


@dataclass(frozen=True, kw_only=True, slots=True)
class Condition:
    """A loading condition worked on the loading instrument, and the sets that may be empty under it."""

    condition: str
    start: datetime
    end: datetime
    draught_fwd_m: float | None = None
    draught_aft_m: float | None = None
    displacement_t: float | None = None
    gm_m: float | None = None
    kg_m: float | None = None
    roll_period_s: float | None = None
    full: tuple[str, ...] = ()
    may_be_empty: tuple[frozenset[str], ...] = ()
    sea_limit_m: float | None = None
    checked_with: str = ""
    checked_by: str = ""
    checked_at: datetime | None = None
    origin: Origin = Origin()


@dataclass(frozen=True, kw_only=True, slots=True)
class Content:
    """The state of a space as the week begins."""

    space: str
    state: str
    cargo: str | None = None
    temp_c: float | None = None
    closed_since: datetime | None = None
    origin: Origin = Origin()


@dataclass(frozen=True, kw_only=True, slots=True)
class Cargo:
    """A cargo's properties; None takes the cautious value and is a caution."""

    cargo: str
    kind: str
    cas: str = ""
    toxic: bool | None = None
    uses_oxygen: bool | None = None
    lfl_percent: float | None = None
    exposure_limit_ppm: float | None = None
    flash_c: float | None = None
    vapour_density: float | None = None
    source: str = ""
    origin: Origin = Origin()
