"""The plan as a record: what `plan.json` holds, key for key.

Instants are aware UTC datetimes here and ISO 8601 with Z in the file. The names of the fields are the keys of
the file; `scheduler.domain.planfile` writes and reads them.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from scheduler.domain.restrictions import KeepApart, KeepClear, KeepOrder, SpeedLimit


@dataclass(frozen=True, kw_only=True, slots=True)
class Named:
    """A person with a duty."""

    person: str
    duty: str


@dataclass(frozen=True, kw_only=True, slots=True)
class Held:
    """Pieces of gear."""

    gear: str
    count: int


@dataclass(frozen=True, kw_only=True, slots=True)
class PlannedPhase:
    """One phase in time; `session` numbers `test` and `enter` (and a briefing before a later session) from 1."""

    phase: str
    start: datetime
    end: datetime
    session: int | None = None
    entrance: str | None = None
    people: tuple[Named, ...] = ()
    gear: tuple[Held, ...] = ()


@dataclass(frozen=True, kw_only=True, slots=True)
class Easing:
    """A stretch in which the ship eases or heaves to for an entry."""

    start: datetime
    end: datetime
    speed_kn: float
    heaving_to: bool
    because: str


@dataclass(frozen=True, kw_only=True, slots=True)
class Reason:
    """A rule that keeps the entry from times; `share` of the grid starts that it alone forbids, 0 to 1."""

    rule: str
    share: float
    because: str


@dataclass(frozen=True, kw_only=True, slots=True)
class WouldFit:
    """A change that lets the entry in, and what it does to the rest; solved, not guessed."""

    change: str
    then: str


@dataclass(frozen=True, kw_only=True, slots=True)
class Shut:
    """A device of the isolation list."""

    device: str
    action: str
    because: str
    tell: str


@dataclass(frozen=True, kw_only=True, slots=True)
class Air:
    """How the space is ventilated, and why so long."""

    method: str
    hours: float
    fans: tuple[Held, ...]
    mixing_factor: float
    because: str
    source: str


@dataclass(frozen=True, kw_only=True, slots=True)
class Tell:
    """Who must be told what, when."""

    who: str
    when: str
    what: str


@dataclass(frozen=True, kw_only=True, slots=True)
class PlannedEntry:
    """An entry of the plan: `outcome` is planned, left out or broken off."""

    entry: str
    space: str
    outcome: str
    phases: tuple[PlannedPhase, ...] = ()
    easing: tuple[Easing, ...] = ()
    reasons: tuple[Reason, ...] = ()
    would_fit_if: tuple[WouldFit, ...] = ()
    isolation: tuple[Shut, ...] = ()
    air: Air | None = None
    tell: tuple[Tell, ...] = ()
    records: tuple[str, ...] = ()
    cautions: tuple[str, ...] = ()


@dataclass(frozen=True, kw_only=True, slots=True)
class PlannedOperation:
    """An operation of the plan; `moved`: the plan chose its time."""

    operation: str
    start: datetime
    end: datetime
    moved: bool
    people: tuple[Named, ...] = ()


@dataclass(frozen=True, kw_only=True, slots=True)
class PlannedSpeed:
    """The ship's speed through the water in a stretch of a passage."""

    start: datetime
    end: datetime
    speed_kn: float
    heading_deg: float
    heaving_to: bool
    because: str


@dataclass(frozen=True, kw_only=True, slots=True)
class Band:
    """A low and a high figure."""

    low: float
    high: float


@dataclass(frozen=True, kw_only=True, slots=True)
class Arrival:
    """When a passage ends, and what it burns; None: not given."""

    leg: str
    place: str
    planned: datetime
    arrive_by: datetime | None
    expected: datetime
    fuel_t: Band | None
    fuel_t_without_easing: Band | None


@dataclass(frozen=True, kw_only=True, slots=True)
class RestRow:
    """Hours of rest of one person over the week, all work counted; hours with two decimals."""

    person: str
    least_24h: float | None
    least_7d: float | None
    longest_work_h: float | None
    verdict: str
    because: str


@dataclass(frozen=True, kw_only=True, slots=True)
class EntryCounts:
    """asked = planned + left_out + broken_off."""

    asked: int
    planned: int
    left_out: int
    broken_off: int


@dataclass(frozen=True, kw_only=True, slots=True)
class OperationCounts:
    """asked = placed."""

    asked: int
    placed: int


@dataclass(frozen=True, kw_only=True, slots=True)
class Rows:
    """Rows of a table: read = taken + blank."""

    read: int
    taken: int
    blank: int


@dataclass(frozen=True, kw_only=True, slots=True)
class Counts:
    """What was asked and what stands."""

    entries: EntryCounts
    operations: OperationCounts
    rows: dict[str, Rows]


@dataclass(frozen=True, kw_only=True, slots=True)
class Level:
    """One objective level: its value, the bound on it, and whether the two meet."""

    name: str
    value: float
    bound: float
    met: bool


@dataclass(frozen=True, kw_only=True, slots=True)
class Proof:
    """What the solver could vouch for. `effort` is deterministic time."""

    levels: tuple[Level, ...]
    confirmed_by: str
    effort: float
    solver: str
    seed: int


@dataclass(frozen=True, kw_only=True, slots=True)
class EmptySet:
    """A stretch in which a listed set of ballast spaces is empty."""

    start: datetime
    end: datetime
    condition: str
    empty: tuple[str, ...]
    set_used: str


@dataclass(frozen=True, kw_only=True, slots=True)
class AskFor:
    """A permission to ask for, and by when."""

    place: str
    what: str
    ask_by: datetime
    answer: str


@dataclass(frozen=True, kw_only=True, slots=True)
class Attends:
    """A visitor's session."""

    visitor: str
    entry: str
    session: int


@dataclass(frozen=True, kw_only=True, slots=True)
class Ready:
    """By when all is closed and the lines are back before what the ship does next."""

    what: str
    all_closed_by: datetime
    lines_back_by: datetime
    margin_min: int


@dataclass(frozen=True, kw_only=True, slots=True)
class StopNow:
    """What must stop at once; replans only."""

    entry: str
    because: str
    people_out_by: datetime
    closed_by: datetime
    tags_off: tuple[str, ...]
    tell: tuple[str, ...]


@dataclass(frozen=True, kw_only=True, slots=True)
class Course:
    """Advice: headings that would do instead of slowing."""

    start: datetime
    end: datetime
    from_deg: float
    to_deg: float
    because: str


@dataclass(frozen=True, kw_only=True, slots=True)
class Warned:
    """A caution of the plan."""

    text: str
    table: str = ""
    row: int = 0
    entry: str = ""


@dataclass(frozen=True, kw_only=True, slots=True)
class Override:
    """A policy value that the folder changes."""

    key: str
    value: str
    published: str
    source: str


@dataclass(frozen=True, kw_only=True, slots=True)
class Order:
    """A port order that the plan takes in."""

    file: str
    digest: str
    received: datetime


@dataclass(frozen=True, kw_only=True, slots=True)
class Inputs:
    """What the plan was made from."""

    digest: str
    forecast_digest: str
    forecast_issued: datetime | None
    rule_set: str


@dataclass(frozen=True, kw_only=True, slots=True)
class Plan:
    """The whole answer."""

    ship: str
    week_start: datetime
    week_end: datetime
    known_at: datetime
    policy: dict[str, str]
    overrides: tuple[Override, ...]
    valid_until: datetime
    supposed: tuple[str, ...] = ()
    replaces: str = ""
    orders: tuple[Order, ...] = ()
    inputs: Inputs
    standing: str
    proof: Proof
    entries: tuple[PlannedEntry, ...]
    operations: tuple[PlannedOperation, ...]
    speeds: tuple[PlannedSpeed, ...] = ()
    arrivals: tuple[Arrival, ...] = ()
    keep_clear: tuple[KeepClear, ...] = ()
    keep_apart: tuple[KeepApart, ...] = ()
    keep_order: tuple[KeepOrder, ...] = ()
    speed_limits: tuple[SpeedLimit, ...] = ()
    rest: tuple[RestRow, ...] = ()
    counts: Counts
    conditions: tuple[EmptySet, ...] = ()
    permissions: tuple[AskFor, ...] = ()
    visitors: tuple[Attends, ...] = ()
    ready: tuple[Ready, ...] = ()
    stop_now: tuple[StopNow, ...] = ()
    courses: tuple[Course, ...] = ()
    cautions: tuple[Warned, ...] = ()
