"""One workbook as raw tables: a sheet a table, key-value sheets for what a folder has in TOML."""

from __future__ import annotations

import warnings
from io import BytesIO
from pathlib import Path
from typing import Final

from openpyxl import load_workbook
from openpyxl.workbook import Workbook
from openpyxl.worksheet.worksheet import Worksheet

from scheduler.errors import Fault
from scheduler.inputs.csv_file import NoTable
from scheduler.inputs.names import nearest, normal, shown
from scheduler.inputs.raw import Gathered, RawRow, RawTable, Refused
from scheduler.inputs.reference import FILES, TABLE_BY_NAME
from scheduler.inputs.sheet_cells import cell_text
from scheduler.inputs.workbook_guard import MOST_CELLS, guard, refuse
from scheduler.inputs.workbook_scan import SheetScan, scan

_NOT_YET: Final = ("route",)


def gather_workbook(path: Path) -> Gathered:
    """Every table of the workbook as it stands, and every fault in its sheets."""
    found = Gathered()
    try:
        guard(path)
        book, scans = _open(path)
    except NoTable as refused:
        found.faults.append(refused.fault)
        found.broken.update(table.name for table in FILES)
        return found
    for title in book.sheetnames:
        sheet = book[title]
        if isinstance(sheet, Worksheet) and title in scans:
            _take(sheet, scans[title], found)
        else:
            found.not_read.append(f"sheet {shown(title)}")
    found.faults.extend(
        Fault(
            file=f"sheet {table.name}", found="this sheet is missing", expected=f"a sheet named {table.name}",
            mend="Add it; a table may hold no row but its header.",
        )
        for table in FILES
        if table.name not in found.tables and table.name not in found.broken and not table.optional
    )  # fmt: skip
    return found


def _open(path: Path) -> tuple[Workbook, dict[str, SheetScan]]:
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")  # about styles and extensions, which are not read
            # from memory, not from the path: a parser that falls over would leave the file open
            return load_workbook(BytesIO(path.read_bytes()), data_only=True, keep_links=False), scan(path)
    except Exception as error:  # a malformed file makes the parsers raise anything; whatever it is, the file is refused
        raise refuse(path, f"it is damaged or malformed ({type(error).__name__})") from None


def _take(sheet: Worksheet, scanned: SheetScan, found: Gathered) -> None:
    name = normal(sheet.title)
    if not scanned.rows and name not in TABLE_BY_NAME:
        found.not_read.append(f"sheet {shown(sheet.title)}")
    elif fault := _unwanted(sheet, name, found):
        found.faults.append(fault)
    elif faults := _layout_faults(sheet, scanned, f"sheet {name}"):
        found.faults.extend(faults)
        found.broken.add(name)
    else:
        found.tables[name] = _table(sheet, scanned, name)


def _unwanted(sheet: Worksheet, name: str, found: Gathered) -> Fault | None:
    names = [table.name for table in FILES]
    place = f"sheet {shown(sheet.title)}"
    if name in _NOT_YET:
        wanted = "legs in the sheet voyage, forecasts in the sheet weather"
        return Fault(file=place, found="a route is not read yet", expected=wanted, mend="Take the sheet out.")
    if name not in names:
        return Fault(
            file=place, found="no table of a voyage folder has this name", expected="only tables that are known",
            nearest=nearest(name, names), mend="Rename the sheet, or take it out.",
        )  # fmt: skip
    if name in found.tables or name in found.broken:
        return Fault(file=place, found="two sheets have this name", expected="each table once")
    return None


def _layout_faults(sheet: Worksheet, scanned: SheetScan, place: str) -> list[Fault]:
    """What a sheet may not have, for rows or cells would be passed over, or be read twice."""
    if sheet.max_row * sheet.max_column > MOST_CELLS:
        found = f"it reaches to row {sheet.max_row} and column {sheet.max_column}"
        mend = "Delete the rows and columns beyond the table, also blank ones with a format."
        return [Fault(file=place, found=found, expected=f"at most {MOST_CELLS} cells", mend=mend)]
    columns, rows = sheet.column_dimensions, sheet.row_dimensions
    hidden_rows = [row for row in sorted(rows) if rows[row].hidden or rows[row].height == 0]
    hidden_columns = [
        letters
        for letters, column in sorted(columns.items())
        if (column.hidden or column.width == 0) and (column.min or 1) <= sheet.max_column
    ]
    found_here = [
        (sheet.sheet_state != "visible", 0, "the sheet is hidden", "a sheet that everybody sees"),
        (bool(sheet.merged_cells.ranges), 0, f"cells are merged ({sheet.merged_cells})", "no merged cells"),
        (bool(hidden_columns), 0, f"columns are hidden ({', '.join(hidden_columns)})", "no hidden columns"),
        (bool(sheet.auto_filter.ref), 0, f"a filter is set ({sheet.auto_filter.ref})", "no filter"),
        (bool(scanned.twice), 0, f"cells stand twice in the file ({', '.join(scanned.twice[:5])})", "each cell once"),
        (not scanned.rows or scanned.rows[0] != 1, 1, "the first row is blank", "a row with the names of its columns"),
        *((True, row, "the row is hidden", "no hidden rows") for row in hidden_rows if row <= scanned.last),
    ]
    return [
        Fault(file=place, row=row, found=found, expected=wanted) for there, row, found, wanted in found_here if there
    ]  # fmt: skip


def _table(sheet: Worksheet, scanned: SheetScan, name: str) -> RawTable:
    refused: dict[tuple[int, int], Refused] = {}
    dates: set[tuple[int, int]] = set()
    lines: list[list[str]] = []
    for row, cells in enumerate(sheet.iter_rows(max_row=scanned.last), 1):
        lines.append([])
        for index, cell in enumerate(cells):
            read = cell_text(cell, uncalculated=f"{cell.coordinate}" in scanned.uncalculated)
            lines[-1].append(read.text)
            if read.refused:
                refused[row, index] = read.refused
            if read.is_date:
                dates.add((row, index))
    width = max((index + 1 for line in lines for index, text in enumerate(line) if text.strip()), default=0)
    rows = [RawRow(row, tuple(line[:width])) for row, line in enumerate(lines, 1)]
    return RawTable(
        name=name, place=f"sheet {name}", header=tuple(text.strip() for text in rows[0].cells), rows=tuple(rows[1:]),
        counted=max(scanned.last - 1, 0), counted_blank=scanned.blank, addressed=True, refused=refused,
        dates=frozenset(dates),
    )  # fmt: skip
