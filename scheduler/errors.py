"""Everything that Lull raises on purpose, in one tree.

LullError
├── InputFaults      the voyage folder (or an order) cannot be read as it stands; exit code 2
├── NoPlan           no plan that passes the check exists or was found; exit code 3
├── NotAPlan         a file that should be a plan is none; exit code 4
├── Disagreement     planner and checker contradict each other; exit code 3, and loud
└── Stopped          Ctrl-C before anything was found; exit code 130
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass


@dataclass(frozen=True, kw_only=True, order=True, slots=True)
class Fault:
    """One thing wrong with an input, said so that a tired officer can mend it.

    `file` is the file or sheet, `row` the 1-based row as a spreadsheet counts it (0: the whole file),
    `column` the column or key ('' when none), `value` what stood there, `found` what is wrong,
    `expected` what is allowed, `mend` what to do, `nearest` the nearest known id where one is near.
    """

    file: str
    row: int = 0
    column: str = ""
    value: str = ""
    found: str
    expected: str
    mend: str = "Correct it and read the folder again."
    nearest: str = ""
    cell: str = ""
    """Its address in a workbook, such as D7."""

    def __str__(self) -> str:
        place = self.file
        if self.row:
            place += f", row {self.row}"
        if self.column:
            place += f", column {self.column}"
        if self.cell:
            place += f", cell {self.cell}"
        hint = f" Nearest known: {self.nearest}." if self.nearest else ""
        return f"{place}: {self.found}; expected {self.expected}.{hint} {self.mend}"


class LullError(Exception):
    """The root of all errors that Lull raises on purpose."""


class InputFaults(LullError):
    """The input has faults; all of them are in `faults`, sorted by file and row."""

    def __init__(self, faults: Iterable[Fault]) -> None:
        self.faults: tuple[Fault, ...] = tuple(sorted(set(faults)))
        super().__init__("\n".join(str(fault) for fault in self.faults))


class NoPlan(LullError):
    """No plan can be offered; the message says what blocks."""


class NotAPlan(LullError):
    """The file is not a plan file of a version that is known here."""


class Disagreement(LullError):
    """The checker refuses what the planner made; both are kept, nothing is offered."""

    def __init__(self, message: str, breaches: Iterable[str]) -> None:
        self.breaches: tuple[str, ...] = tuple(breaches)
        super().__init__("\n".join((message, *self.breaches)))


class Stopped(LullError):
    """The run was stopped before any plan was found."""
