"""How the ship says it: her clock's readings, people by rank and name, spaces and operations by name."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Final

from scheduler.domain.entries import Entry
from scheduler.domain.folder import VoyageFolder
from scheduler.domain.operations import Operation
from scheduler.domain.plan import Held, Named
from scheduler.domain.ship import Opening, Space
from scheduler.domain.voyage import Leg
from scheduler.times import ShipClock

WEEKDAYS: Final = ("Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday")
MONTHS: Final = (
    "January", "February", "March", "April", "May", "June", "July", "August", "September", "October", "November",
    "December",
)  # fmt: skip
WEIGHT: Final[Mapping[int, str]] = {1: "must", 2: "should", 3: "could"}


@dataclass(frozen=True, slots=True)
class Speech:
    """The names of one voyage folder and its clock. An id without a row is said as it stands."""

    clock: ShipClock
    people: Mapping[str, str]
    spaces: Mapping[str, Space]
    openings: Mapping[str, Opening]
    entries: Mapping[str, Entry]
    operations: Mapping[str, Operation]
    legs: Mapping[str, Leg]

    @classmethod
    def of(cls, folder: VoyageFolder) -> Speech:
        """The speech of a folder."""
        return cls(
            clock=ShipClock.of(folder.clocks),
            people={row.person: f"{row.rank} {row.name}" for row in folder.people},
            spaces={row.space: row for row in folder.spaces},
            openings={row.opening: row for row in folder.openings},
            entries={row.entry: row for row in folder.entries},
            operations={row.operation: row for row in folder.operations},
            legs={row.leg: row for row in folder.legs},
        )

    def time(self, at: datetime) -> str:
        """`09:00`, with the offset where the clocks show that time twice."""
        shown = self.clock.local(at)
        twice = len(self.clock.readings(shown)) > 1
        return f"{shown:%H:%M}" + (f" ({offset_text(self.clock.offset(at))})" if twice else "")

    def date(self, at: datetime) -> str:
        """`Tue 9 March`."""
        shown = self.clock.local(at)
        return f"{WEEKDAYS[shown.weekday()][:3]} {shown.day} {MONTHS[shown.month - 1]}"

    def moment(self, at: datetime) -> str:
        """`Tue 9 March 09:00`."""
        return f"{self.date(at)} {self.time(at)}"

    def until(self, start: datetime, end: datetime) -> str:
        """`09:00 to 12:00`, with the date of the end where it is another."""
        same = self.clock.local(start).date() == self.clock.local(end).date()
        return f"{self.time(start)} to {self.time(end) if same else self.moment(end)}"

    def span(self, start: datetime, end: datetime) -> str:
        """`Tue 9 March 09:00 to 12:00`."""
        return f"{self.date(start)} {self.until(start, end)}"

    def person(self, person: str) -> str:
        """`bosun Tomas Ebbing`."""
        return self.people.get(person, person)

    def space(self, space: str) -> str:
        """`No. 4 port ballast tank (4P)`."""
        found = self.spaces.get(space)
        return f"{found.name} ({space})" if found and found.name != space else space

    def entrance(self, opening: str) -> str:
        """`manhole MH-4PA`."""
        found = self.openings.get(opening)
        return f"{found.kind} {opening}" if found else opening

    def entry(self, entry: str) -> str:
        """`E1, class inspection of frames`."""
        found = self.entries.get(entry)
        return f"{entry}, {found.purpose}" if found else entry

    def weight(self, entry: str) -> str:
        """`must`, `should` or `could`; empty for an entry that the folder does not hold."""
        found = self.entries.get(entry)
        return WEIGHT.get(found.priority, "") if found else ""

    def operation(self, operation: str) -> str:
        """`ballast out BW-OUT (4P)`, or a leg's `anchorage L2 (Wender roads)`."""
        if found := self.operations.get(operation):
            spaces = f" ({', '.join(found.spaces)})" if found.spaces else ""
            return f"{found.kind} {operation}{spaces}"
        leg = self.legs.get(operation)
        return f"{leg.kind} {operation} ({leg.place})" if leg else operation

    def by_duty(self, people: Iterable[Named]) -> str:
        """`entrant: bosun Tomas Ebbing, …; attendant: …`, duties in the order of the plan."""
        duties: dict[str, list[str]] = {}
        for named in people:
            duties.setdefault(named.duty, []).append(self.person(named.person))
        return "; ".join(f"{duty}: {', '.join(names)}" for duty, names in duties.items())


def pieces(gear: Iterable[Held]) -> str:
    """`2 × water-driven fan`."""
    return ", ".join(f"{held.count} × {held.gear}" for held in gear)


def length(elapsed: timedelta) -> str:
    """`3 h 30 min`, `45 min`, `2 h`."""
    minutes = round(elapsed / timedelta(minutes=1))
    hours, rest = divmod(abs(minutes), 60)
    words = " ".join(word for word, there in ((f"{hours} h", hours), (f"{rest} min", rest)) if there)
    return ("−" if minutes < 0 else "") + (words or "0 min")


def offset_text(offset: timedelta) -> str:
    """`UTC+03:00`, `UTC−01:30`."""
    minutes = round(offset / timedelta(minutes=1))
    return f"UTC{'−' if minutes < 0 else '+'}{abs(minutes) // 60:02d}:{abs(minutes) % 60:02d}"


def sentence(text: str) -> str:
    """The text with a capital at its beginning, unless it begins with an id or a key."""
    first = text.split(maxsplit=1)[:1]
    return text[:1].upper() + text[1:] if first and first[0].rstrip(":,;").isalpha() else text


def full_stop(text: str) -> str:
    """A sentence, with its capital and its full stop."""
    return sentence(text.rstrip()) + ("" if text.rstrip().endswith((".", "!", "?")) else ".")


def counted(number: int, one: str, more: str = "") -> str:
    """`1 entry`, `3 entries`."""
    return f"{number:,} {one if number == 1 else more or one + 's'}"
