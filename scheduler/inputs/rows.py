"""One row with its cells read: values by column, and where each stands."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import datetime
from typing import TypeVar, cast

from scheduler.domain.source import Origin
from scheduler.errors import Fault
from scheduler.inputs.names import quoted

T = TypeVar("T")


@dataclass(frozen=True, kw_only=True, slots=True, eq=False)
class Row:
    """A row of a table, or all keys of a key-value table.

    A blank is None. `bad` are columns that could not be read: what needs them is not judged.
    """

    table: str
    place: str
    row: int
    values: Mapping[str, object]
    texts: Mapping[str, str]
    bad: frozenset[str] = frozenset()
    spots: Mapping[str, tuple[int, str]] = field(default_factory=dict)
    """Row and cell address of each column (or key)."""

    @property
    def origin(self) -> Origin:
        """Where it was read, named alike for folders and workbooks."""
        return Origin(file=self.table, row=self.row)

    def reads(self, *names: str) -> bool:
        """True when every named column is filled and could be read."""
        return all(name not in self.bad and self.values.get(name) is not None for name in names)

    def may(self, name: str, kind: type[T]) -> T | None:
        """The value of a column, None when blank."""
        value = self.values.get(name)
        if value is None or isinstance(value, kind):
            return value
        raise TypeError(f"{self.table}.{name} holds {type(value).__name__}, not {kind.__name__}")

    def must(self, name: str, kind: type[T]) -> T:
        """The value of a column that is not blank."""
        value = self.may(name, kind)
        if value is None:
            raise TypeError(f"{self.table}.{name} is blank")
        return value

    def text(self, name: str, blank: str = "") -> str:
        """A text or word; `blank` where nothing stands."""
        return self.may(name, str) or blank

    def yes(self, name: str, *, blank: bool) -> bool:
        """A yes or no; `blank` where nothing stands."""
        value = self.may(name, bool)
        return blank if value is None else value

    def time(self, name: str) -> datetime:
        """An instant that is not blank."""
        return self.must(name, datetime)

    def names(self, name: str) -> tuple[str, ...]:
        """A list of words or ids; empty where nothing stands."""
        return cast("tuple[str, ...]", self.may(name, tuple) or ())

    def counts(self, name: str) -> tuple[tuple[str, int], ...]:
        """A list of ability and count."""
        return cast("tuple[tuple[str, int], ...]", self.may(name, tuple) or ())

    def shares(self, name: str) -> tuple[tuple[str, float], ...]:
        """A list of substance and percent."""
        return cast("tuple[tuple[str, float], ...]", self.may(name, tuple) or ())

    def sets(self, name: str) -> tuple[frozenset[str], ...]:
        """Sets of ids."""
        return cast("tuple[frozenset[str], ...]", self.may(name, tuple) or ())

    def hours(self, name: str) -> tuple[tuple[str, str], ...] | None:
        """Pairs of hh:mm; None where nothing stands."""
        return cast("tuple[tuple[str, str], ...] | None", self.may(name, tuple))

    def bands(self, name: str) -> tuple[tuple[float, float], ...]:
        """Pairs of numbers."""
        return cast("tuple[tuple[float, float], ...]", self.may(name, tuple) or ())

    def fault(self, column: str, found: str, expected: str, *, near: str = "", mend: str = "") -> Fault:
        """A fault of one of its cells; `{}` in `found` becomes the quoted cell."""
        told = found.replace("{}", quoted(self.texts.get(column, "")))
        return self.fault_as_told(column, told, expected, near=near, mend=mend)

    def fault_as_told(self, column: str, found: str, expected: str, *, near: str = "", mend: str = "") -> Fault:
        """The same with a sentence that is complete."""
        row, cell = self.spots.get(column, (self.row, ""))
        text = self.texts.get(column, "")
        return Fault(
            file=self.place, row=row, column=column, value=text, found=found,
            expected=expected, nearest=near, cell=cell, mend=mend or "Correct it and read the folder again.",
        )  # fmt: skip
