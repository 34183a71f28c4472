"""The waist of the hourglass: all that a rule can say.

KeepClear, KeepApart, KeepOrder, SpeedLimit and Refusal bind times; the rest are counted or named resources
and lengths. The solver, the explanations and the picture know nothing else of the rules.

Which stretch of an entry a restriction binds is said by its phases (`Phase`). A restriction on `OPEN` binds the
whole stretch from the start of `ventilate` to the end of `restore`, gaps and nights included; one on
`OUT_OF_USE` that from the start of `isolate` to the end of `restore`; one on single phases each of them.
The same restrictions bind movable operations: then `entry` (or `other`) is the operation's id and the phase is
`RUN` (start to end) or `EMPTIED` (from the first minute out until pressed up again).
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from enum import StrEnum
from typing import Final, TypeAlias

from scheduler.domain.source import Source


class Phase(StrEnum):
    """A step of an entry, or what an operation does."""

    BRIEF = "brief"
    ISOLATE = "isolate"
    CLEAN = "clean"
    VENTILATE = "ventilate"
    TEST = "test"
    ENTER = "enter"
    RESTORE = "restore"
    RUN = "run"
    EMPTIED = "emptied"


OPEN: Final = (Phase.VENTILATE, Phase.TEST, Phase.ENTER, Phase.RESTORE)
OUT_OF_USE: Final = (Phase.ISOLATE, Phase.VENTILATE, Phase.TEST, Phase.ENTER, Phase.RESTORE)
MANNED: Final = (Phase.TEST, Phase.ENTER)
INSIDE: Final = (Phase.ENTER,)
STAFFED: Final = (Phase.BRIEF, Phase.ISOLATE, Phase.TEST, Phase.ENTER)
RUN: Final = (Phase.RUN,)
EMPTIED: Final = (Phase.EMPTIED,)


class DutyKind(StrEnum):
    """What a person does in an entry or an operation."""

    ENTRANT = "entrant"
    ATTENDANT = "attendant"
    IN_CHARGE = "officer in charge"
    GAS_TESTER = "gas tester"
    ON_CALL = "rescue on call"
    AT_ENTRANCE = "rescue at the entrance"
    RIGGING = "rigging"
    RESCUE = "rescue"
    """Of an operation only, as the next three: its people are named by the ability that it asks for."""
    HOT_WORK = "hot work"
    MOORING = "mooring"
    CARGO_WATCH = "cargo watch"


@dataclass(frozen=True, kw_only=True, slots=True)
class KeepClear:
    """A time in which the phases may not take place."""

    entry: str
    phases: tuple[Phase, ...]
    start: datetime
    end: datetime
    rule: str
    because: str
    source: Source


@dataclass(frozen=True, kw_only=True, slots=True)
class KeepApart:
    """Phases of an entry and another thing (a movable operation, or another entry) that may not overlap.

    With `start` and `end` only the part of the other inside [start, end) counts, as when the wind of that hour
    decides; None: at any time. `gap_before_min` is kept before the other's start, `gap_after_min` after its end
    (or after the end of its part inside [start, end)).
    """

    entry: str
    phases: tuple[Phase, ...]
    other: str
    other_phases: tuple[Phase, ...] = RUN
    start: datetime | None = None
    end: datetime | None = None
    gap_before_min: int = 0
    gap_after_min: int = 0
    rule: str
    because: str
    source: Source


@dataclass(frozen=True, kw_only=True, slots=True)
class KeepOrder:
    """`first` must be over, by `gap_min`, before `then` begins.

    For an entry 'over' is the end of `restore` and 'begins' the start of `isolate`. Orders that share an `either`
    name are alternatives: for each such name all orders of at least one `branch` must hold.
    """

    first: str
    then: str
    gap_min: int = 0
    either: str = ""
    branch: int = 0
    rule: str
    because: str
    source: Source


@dataclass(frozen=True, kw_only=True, slots=True)
class SpeedLimit:
    """A time in which the phases may take place only at or below a speed through the water, or hove to."""

    entry: str
    phases: tuple[Phase, ...]
    start: datetime
    end: datetime
    limit_kn: float
    hove_to_only: bool = False
    rule: str
    because: str
    source: Source


@dataclass(frozen=True, kw_only=True, slots=True)
class Refusal:
    """The entry cannot be done as described; `would_change` says what would alter that."""

    entry: str
    rule: str
    because: str
    would_change: str
    source: Source


@dataclass(frozen=True, kw_only=True, slots=True)
class Length:
    """How long a phase takes at least, in minutes (isolate, brief, test, restore, a second ventilation)."""

    entry: str
    phase: Phase
    minutes: int
    rule: str
    because: str
    source: Source


@dataclass(frozen=True, kw_only=True, slots=True)
class AirChoice:
    """One way to ventilate the space: `fans` of each kind of gear, and the minutes that it takes."""

    entry: str
    fans: tuple[tuple[str, int], ...]
    minutes: int
    method: str
    mixing_factor: float
    rule: str
    because: str
    source: Source


@dataclass(frozen=True, kw_only=True, slots=True)
class Sessions:
    """How the time inside may be cut: minutes inside in all, least and greatest minutes of one session.

    `most` is the greatest number of sessions. `proving_min` come first, in the first session, and are not part of
    `inside_min`. `tail_ventilate_min` and `tail_test_min` are the second ventilation and test after the last
    session (coating), 0 when there are none.
    """

    entry: str
    inside_min: int
    least_min: int
    greatest_min: int
    most: int
    proving_min: int = 0
    tail_ventilate_min: int = 0
    tail_test_min: int = 0
    valid_min: int
    open_longest_min: int
    permit_min: int
    rule: str
    because: str
    source: Source


@dataclass(frozen=True, kw_only=True, slots=True)
class CrewNeed:
    """People that a phase needs: `count` out of `people`, for one duty.

    `minutes` 0: the whole phase; else only its first minutes (opening up). A need on `ENTER` holds in each session,
    one on `TEST` in each test. `session` 1 binds the first only, 0 every one. `same_as_session` people of the test
    and the session of one number share the officer in charge. `work` False: on call, which is no work.
    `may_double` people may also hold another need of the same phase (an officer in charge who tests the gas).
    For a movable or fixed operation `entry` is its id and the phase is RUN.
    """

    entry: str
    phase: Phase
    duty: DutyKind
    count: int
    people: tuple[str, ...]
    minutes: int = 0
    session: int = 0
    work: bool = True
    may_double: bool = False
    rule: str
    because: str
    source: Source


@dataclass(frozen=True, kw_only=True, slots=True)
class CrewAway:
    """A time in which a person may hold no duty (`on_call` True: not even on call; False: on call is allowed)."""

    person: str
    start: datetime
    end: datetime
    on_call: bool
    rule: str
    because: str
    source: Source


@dataclass(frozen=True, kw_only=True, slots=True)
class GearNeed:
    """Pieces of a resource that the phases hold, without a gap from the first to the last of them."""

    entry: str
    phases: tuple[Phase, ...]
    resource: str
    count: int
    rule: str
    because: str
    source: Source


@dataclass(frozen=True, kw_only=True, slots=True)
class Stock:
    """How many pieces of a resource there are in [start, end); `gear` is the id of the pieces, '' for what is no gear.

    Several rows of one resource add up.
    """

    resource: str
    count: int
    start: datetime
    end: datetime
    gear: str = ""
    rule: str
    because: str
    source: Source


@dataclass(frozen=True, kw_only=True, slots=True)
class Device:
    """A device of the isolation boundary: what is done to it, why, and who is told."""

    entry: str
    device: str
    action: str
    because: str
    tell: str
    rule: str
    source: Source


@dataclass(frozen=True, kw_only=True, slots=True)
class Notice:
    """Who must be told what, and when; `when` is a phrase ('before isolate')."""

    entry: str
    who: str
    when: str
    what: str
    rule: str
    source: Source


@dataclass(frozen=True, kw_only=True, slots=True)
class Paper:
    """A paper that the entry needs on file (permit, certificate, drawing)."""

    entry: str
    record: str
    rule: str


@dataclass(frozen=True, kw_only=True, slots=True)
class Caution:
    """A warning that stays on every output; `weight` 0 kills first, 9 is housekeeping."""

    text: str
    weight: int
    entry: str = ""
    table: str = ""
    row: int = 0
    rule: str


@dataclass(frozen=True, kw_only=True, slots=True)
class Ask:
    """A permission that a place wants; [start, end) is the stay; tentative until answered yes."""

    entry: str
    place: str
    what: str
    start: datetime
    end: datetime
    notice_h: float
    answer: str
    rule: str
    because: str
    source: Source


Restriction: TypeAlias = (
    KeepClear | KeepApart | KeepOrder | SpeedLimit | Refusal | Length | AirChoice | Sessions | CrewNeed | CrewAway
    | GearNeed | Stock | Device | Notice | Paper | Caution | Ask
)  # fmt: skip
