"""A table as it stands in its file or sheet: text in cells, nothing read yet.

CSV files, TOML files and workbook sheets all become this, so that everything after it is the same for all.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from scheduler.errors import Fault


@dataclass(frozen=True, slots=True)
class RawRow:
    """One row: its number as a spreadsheet counts, and the text of its cells."""

    row: int
    cells: tuple[str, ...]

    @property
    def blank(self) -> bool:
        """True when nothing stands in it."""
        return not any(cell.strip() for cell in self.cells)


@dataclass(frozen=True, slots=True)
class Refused:
    """What a cell is instead of text, and what is expected."""

    found: str
    expected: str


@dataclass(frozen=True, kw_only=True, slots=True)
class RawTable:
    """One table. `place` is how messages name it: `entries.csv` or `sheet entries`.

    `counted` rows come after the header, `counted_blank` of them hold nothing, by a reader that knows nothing of
    cells. `addressed` is true where cells have an address of their own (workbooks).
    """

    name: str
    place: str
    header: tuple[str, ...]
    rows: tuple[RawRow, ...]
    counted: int
    counted_blank: int
    addressed: bool = False
    refused: Mapping[tuple[int, int], Refused] = field(default_factory=dict)
    """Cells that are no text to be read, by row and index."""
    dates: frozenset[tuple[int, int]] = frozenset()
    """Cells that a workbook holds as dates; their text is ship's time."""

    def address(self, row: int, index: int) -> str:
        """The cell's address in a workbook, such as D7; '' elsewhere."""
        if not self.addressed or not row:
            return ""
        letters, number = "", index + 1
        while number:
            number, rest = divmod(number - 1, 26)
            letters = chr(ord("A") + rest) + letters
        return f"{letters}{row}"


@dataclass(frozen=True, kw_only=True, slots=True)
class Gathered:
    """All that was found at the path: tables by name, what could not be opened, what was not read."""

    tables: dict[str, RawTable] = field(default_factory=dict)
    broken: set[str] = field(default_factory=set)
    """Tables that are there but could not be opened."""
    faults: list[Fault] = field(default_factory=list)
    not_read: list[str] = field(default_factory=list)
    orders: list[str] = field(default_factory=list)
