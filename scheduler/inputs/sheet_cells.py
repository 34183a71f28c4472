"""One cell of a workbook as the text that a CSV file would hold in its place."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime, time, timedelta
from decimal import Decimal

from openpyxl.cell.cell import Cell, MergedCell

from scheduler.inputs.names import quoted
from scheduler.inputs.raw import Refused

_SHOWN_DIGITS = 15  # significant digits that spreadsheet programs keep and show


@dataclass(frozen=True, kw_only=True, slots=True)
class SheetText:
    """The text of a cell, whether the workbook holds it as a date, and what it is when it is no text."""

    text: str
    is_date: bool = False
    refused: Refused | None = None


def cell_text(cell: Cell | MergedCell, *, uncalculated: bool) -> SheetText:
    """A cell as text: numbers in plain decimals, dates as ship's time."""
    if uncalculated:
        wanted = "the result, after the workbook was calculated and saved, or a plain value"
        return SheetText(text="=", refused=Refused("a formula stands here that was never calculated", wanted))
    value = cell.value
    if cell.data_type == "e":
        return SheetText(text=str(value), refused=Refused(f"{quoted(str(value))} is an error value", "a value"))
    if isinstance(value, int | float) and not isinstance(value, bool) and "%" in cell.number_format:
        wanted = "a plain number, in a cell whose format is no percentage"
        return SheetText(text=number_text(value), refused=Refused("{} is shown as a percentage", wanted))
    return SheetText(text=value_text(value, cell.number_format), is_date=isinstance(value, date))


def value_text(value: object, number_format: str) -> str:
    """A cell's value as text; a date without time where its format shows none."""
    match value:
        case None:
            return ""
        case bool():
            return "TRUE" if value else "FALSE"
        case int() | float():
            return number_text(value)
        case datetime():
            plain = value.time() == time() and "h" not in number_format.casefold()
            return value.date().isoformat() if plain else _minute(value)
        case date() | time() | timedelta():
            return f"{value}"
        case _:
            return str(value)


def _minute(value: datetime) -> str:
    """Whole minutes as `2027-03-08T06:00`; anything finer is kept, so that it is refused."""
    return value.isoformat(timespec="auto" if value.second or value.microsecond else "minutes")


def number_text(value: float) -> str:
    """A number in plain decimals, to the digits that spreadsheet programs show."""
    return format(Decimal(f"{value:.{_SHOWN_DIGITS}g}"), "f") if abs(value) < float("inf") else str(value)
