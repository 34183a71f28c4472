"""The voyage folder as one record: everything that was read, and how much of it."""

from __future__ import annotations

from dataclasses import dataclass, field

from scheduler.domain.crew import Duty, PastHours, Person, Visitor
from scheduler.domain.entries import Coating, Entry, Progress, Reading
from scheduler.domain.operations import Cargo, Condition, Content, Operation
from scheduler.domain.policy import Policy
from scheduler.domain.ship import Contact, Gear, Opening, Outlet, OutletTank, Pipe, Ship, Space
from scheduler.domain.voyage import ClockStep, Leg, Permission, PlaceRules, Week
from scheduler.domain.weather import ForecastRow


@dataclass(frozen=True, kw_only=True, slots=True)
class RowCount:
    """Rows of one table: counted by an independent reader, taken, blank. read = taken + blank."""

    read: int
    taken: int
    blank: int


@dataclass(frozen=True, kw_only=True, eq=False)
class VoyageFolder:
    """All that the inputs say. Compared by identity, so that derived tables can be kept beside it.

    `digest` covers every table of ship/, crew/, week/ but readings, progress and weather; those have their
    own. `missing` are cautions of reading: a blank that takes the cautious value, a space without contents.
    """

    ship: Ship
    spaces: tuple[Space, ...]
    neighbours: tuple[Contact, ...]
    openings: tuple[Opening, ...]
    outlets: tuple[Outlet, ...]
    outlet_tanks: tuple[OutletTank, ...]
    lines: tuple[Pipe, ...]
    gear: tuple[Gear, ...]
    policy: Policy
    people: tuple[Person, ...]
    duties: tuple[Duty, ...]
    past_hours: tuple[PastHours, ...]
    week: Week
    clocks: tuple[ClockStep, ...]
    legs: tuple[Leg, ...]
    places: tuple[PlaceRules, ...]
    permissions: tuple[Permission, ...] = ()
    conditions: tuple[Condition, ...] = ()
    contents: tuple[Content, ...] = ()
    cargoes: tuple[Cargo, ...] = ()
    operations: tuple[Operation, ...] = ()
    entries: tuple[Entry, ...] = ()
    coatings: tuple[Coating, ...] = ()
    visitors: tuple[Visitor, ...] = ()
    weather: tuple[ForecastRow, ...] = ()
    readings: tuple[Reading, ...] = ()
    progress: tuple[Progress, ...] = ()
    rows: tuple[tuple[str, RowCount], ...] = ()
    not_read: tuple[str, ...] = ()
    missing: tuple[str, ...] = ()
    digest: str = ""
    forecast_digest: str = ""
    seen_digest: str = ""
    """Digest of readings and progress."""
    orders: tuple[str, ...] = ()
    """Port orders that lie in orders/, by file name; none of them is applied."""
    cache: dict[str, object] = field(default_factory=dict, repr=False)
    """Derived tables that rules keep, by name; never part of the input."""
