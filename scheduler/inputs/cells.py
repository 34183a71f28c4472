"""What every reader of a cell shares: what is known, what is expected, and how to refuse."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from decimal import Decimal
from typing import Final

from scheduler.inputs.columns import MOST, Column, Kind
from scheduler.inputs.names import normal, quoted
from scheduler.inputs.ship_tables import POINTS
from scheduler.times import ShipClock


class Unreadable(Exception):
    """A cell that cannot be read: what was found, what is expected, the nearest known name."""

    def __init__(self, found: str, expected: str, near: str = "") -> None:
        super().__init__(found)
        self.found, self.expected, self.near = found, expected, near


@dataclass(frozen=True, slots=True)
class Known:
    """What cells may refer to: the clock, and the ids of each table by their normal form.

    A table that could not be read is not in `ids`; what refers to it is not judged.
    """

    clock: ShipClock
    ids: Mapping[str, Mapping[str, str]] = field(default_factory=dict)

    @classmethod
    def nothing(cls) -> Known:
        """Nothing is known yet: ship's time is read as UTC, and references are not judged."""
        return cls(ShipClock.of(()))

    def all_of(self, tables: tuple[str, ...]) -> dict[str, str] | None:
        """Ids of several tables together; None when one of them could not be read."""
        if any(table not in self.ids for table in tables):
            return None
        return {key: name for table in reversed(tables) for key, name in self.ids[table].items()}


_EXPECTED: Final[Mapping[Kind, str]] = {
    Kind.TIME: "2027-03-08T06:00 in ship's time, or with Z or an offset such as +03:00",
    Kind.UTC_TIME: "an instant in UTC such as 2027-03-08T06:00Z",
    Kind.DAY: "a date such as 2027-03-08",
    Kind.YES_NO: "yes or no",
    Kind.OFFSET: "an offset such as +03:00, from -12:00 to +14:00",
    Kind.CAS: "a CAS number such as 108-88-3",
    Kind.SOLVENTS: "CAS:percent pairs such as 108-88-3:60; 1330-20-7:40, together at most 100",
    Kind.LIES_TO: "wind, tide, unknown or a heading from 0 to 360",
    Kind.HOURS: "pairs such as 08:00-12:00; 13:00-18:00, or none",
    Kind.BANDS: "pairs such as 45:52; 60:63, or none",
    Kind.REST_DAYS: "weekdays or dates such as Sunday; 2027-03-19, or none",
    Kind.POINT: "a space, or a name that begins " + ", ".join(POINTS),
    Kind.TEXT: "text of one line",
    Kind.ID: "an id without ; : + | in it",
}


def expected(column: Column) -> str:
    """What a column takes, in words."""
    match column.kind:
        case Kind.NUMBER | Kind.WHOLE:
            return _bounds(column)
        case Kind.WORD:
            return " or ".join(filter(None, (", ".join(column.words[:-1]), column.words[-1])))
        case Kind.WORDS:
            return "a list with ; of " + ", ".join(column.words)
        case Kind.PEOPLE:
            return "pairs such as rigging:2; entrant:1 of " + ", ".join(column.words)
        case Kind.REFERENCE:
            return "an id of " + " or ".join(column.of)
        case Kind.REFERENCES:
            return "a list with ; of ids of " + " or ".join(column.of)
        case Kind.SETS:
            return f"sets of ids of {column.of[0]} such as 4P+4S; 5P+5S"
        case _:
            return _EXPECTED.get(column.kind, str(column.kind))


def _bounds(column: Column) -> str:
    bounds = []
    if column.above is not None:
        bounds.append(f"above {decimal_text(column.above)}")
    if column.least is not None:
        bounds.append(f"of at least {decimal_text(column.least)}")
    if column.most < MOST:
        bounds.append(f"at most {decimal_text(column.most)}")
    kind = "a whole number" if column.kind == Kind.WHOLE else "a number with a decimal point"
    return f"{kind} {', '.join(bounds)}".strip()


def decimal_text(value: float) -> str:
    """A number in plain decimal digits, shortest form: 10.50 is `10.5`, 5.0 is `5`."""
    plain = format(Decimal(repr(value)).normalize(), "f")
    return "0" if plain == "-0" else plain


def bad(text: str, column: Column, why: str, near: str = "") -> Unreadable:
    """A refusal that quotes the cell and says what its column takes."""
    return Unreadable(f"{quoted(text)} {why}", expected(column), near)


def parts_of(text: str, column: Column) -> tuple[str, ...]:
    """The parts between semicolons; raises Unreadable for an empty part or one that comes twice."""
    parts = tuple(part.strip() for part in text.split(";"))
    if "" in parts:
        raise bad(text, column, "has an empty place between semicolons")
    if len({normal(part) for part in parts}) < len(parts):
        raise bad(text, column, "names one thing twice")
    return parts


def pair_of(part: str, mark: str, text: str, column: Column) -> tuple[str, str]:
    """The two sides of `a:b`; raises Unreadable."""
    first, found, second = part.partition(mark)
    if not found or mark in second:
        raise bad(text, column, f"has {quoted(part)}, which is no pair with '{mark}'")
    return first.strip(), second.strip()
