"""A workbook is read cell by cell, and refused in words where a cell, a sheet or the file is not what it seems."""

from __future__ import annotations

import random
import re
import zipfile
from collections.abc import Callable
from datetime import date, datetime
from pathlib import Path

import pytest
from openpyxl import Workbook, load_workbook

from scheduler.domain.folder import VoyageFolder
from scheduler.errors import InputFaults
from scheduler.inputs import read_folder
from scheduler.inputs.workbook_guard import LARGEST_FILE_BYTES
from tests.conftest import DEMO
from tests.inputs.small_voyage import faults_in, small_voyage, tables_of, write_workbook


@pytest.fixture
def path(tmp_path: Path) -> Path:
    return write_workbook(small_voyage(), tmp_path / "voyage.xlsx")


def change(path: Path, how: Callable[[Workbook], object]) -> None:
    book = load_workbook(path)
    how(book)
    book.save(path)


def change_part(path: Path, part: str, how: Callable[[str], str]) -> None:
    """One part of the file rewritten as text."""
    with zipfile.ZipFile(path) as archive:
        parts = {name: archive.read(name) for name in archive.namelist()}
    before = parts[part].decode()
    parts[part] = how(before).encode()
    assert parts[part].decode() != before
    with zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, data in parts.items():
            archive.writestr(name, data)


def part_of(path: Path, sheet: str) -> str:
    return f"xl/worksheets/sheet{load_workbook(path).sheetnames.index(sheet) + 1}.xml"


def column_of(table: str, name: str) -> int:
    return small_voyage()[table][0].index(name) + 1


def set_cell(table: str, row: int, column: str, value: object, number_format: str = "") -> Callable[[Workbook], None]:
    def how(book: Workbook) -> None:
        cell = book[table].cell(row, column_of(table, column), value)
        if number_format:
            cell.number_format = number_format

    return how


def test_a_date_cell_is_ships_time(path: Path) -> None:
    expected = read_folder(path).digest
    change(path, set_cell("entries", 2, "earliest", datetime(2027, 3, 9, 8), "yyyy-mm-dd hh:mm"))  # noqa: DTZ001
    change(path, set_cell("gear", 3, "due", date(2027, 6, 30), "dd/mm/yyyy"))
    assert read_folder(path).digest == expected


def test_the_other_date_system_is_read_as_what_it_shows(path: Path) -> None:
    expected = read_folder(path).digest

    def how(book: Workbook) -> None:
        book.epoch = datetime(1904, 1, 1)  # noqa: DTZ001
        set_cell("gear", 3, "due", date(2027, 6, 30), "dd/mm/yyyy")(book)

    change(path, how)
    assert read_folder(path).digest == expected


def test_figures_of_a_calculation_are_read_as_they_show(path: Path) -> None:
    expected = read_folder(path).digest
    change(path, set_cell("ship", 5, "value", 23 * (0.1 + 0.2) / 0.3))  # 23.000000000000004
    assert read_folder(path).digest == expected


CELLS = [
    (set_cell("entries", 2, "hours", "=1+2"), "hours, cell E2: a formula stands here that was never calculated"),
    (set_cell("entries", 2, "note", "=A1"), "note, cell T2: a formula stands here that was never calculated"),
    (set_cell("entries", 2, "earliest", 46455.25), "earliest, cell K2: '46455.25' is a plain number, not a time"),
    (
        set_cell("entries", 2, "earliest", date(2027, 3, 9), "dd/mm/yyyy"),
        "earliest, cell K2: '2027-03-09' cannot be read",
    ),
    (set_cell("entries", 2, "entry", date(2027, 2, 1), "d-mmm"), "entry, cell A2: '2027-02-01' is held as a date"),
    (set_cell("entries", 2, "splittable", True), "splittable, cell F2: 'TRUE' is neither yes nor no; expected yes"),
    (set_cell("entries", 2, "hours", 1e300), "hours, cell E2: '1000000000000"),
]


@pytest.mark.parametrize(("how", "message"), CELLS)
def test_a_cell_that_is_not_what_it_seems_is_named(path: Path, how: Callable[[Workbook], None], message: str) -> None:
    change(path, how)
    assert any(f"sheet entries, row 2, column {message}" in str(fault) for fault in faults_in(path)), faults_in(path)


def test_a_percentage_is_not_read_as_its_hundredth(path: Path) -> None:
    change(path, set_cell("coatings", 2, "thinner_percent", 0.1, "0%"))
    (fault,) = faults_in(path)
    assert fault.found == "'0.1' is shown as a percentage"


def test_an_error_value_is_named(path: Path) -> None:
    change(path, set_cell("entries", 2, "hours", "#N/A"))
    (fault,) = faults_in(path)
    assert (fault.found, fault.cell) == ("'#N/A' is an error value", "E2")


def test_a_formula_that_was_calculated_counts_with_its_result(path: Path) -> None:
    expected = read_folder(path).digest
    change(path, set_cell("entries", 2, "hours", "=1+2"))
    filled = re.compile(r"<f>1\+2</f><v ?/?>(</v>)?")
    change_part(path, part_of(path, "entries"), lambda xml: filled.sub("<f>1+2</f><v>3</v>", xml))
    assert read_folder(path).digest == expected


def hide_row(book: Workbook) -> None:
    book["operations"].row_dimensions[3].hidden = True


def hide_column(book: Workbook) -> None:
    book["operations"].column_dimensions["E"].hidden = True


def hide_sheet(book: Workbook) -> None:
    book["operations"].sheet_state = "hidden"


def merge(book: Workbook) -> None:
    book["operations"].merge_cells("C2:D2")


def filter_rows(book: Workbook) -> None:
    book["operations"].auto_filter.ref = "A1:R4"


def write_far_away(book: Workbook) -> None:
    book["operations"]["XFD1048576"] = "x"


def blank_first_row(book: Workbook) -> None:
    book["operations"].insert_rows(1)


def second_sheet(book: Workbook) -> None:
    book.create_sheet("Operations ")["A1"] = "operation"


def misspelt_sheet(book: Workbook) -> None:
    book.create_sheet("operation")["A1"] = "operation"


def route(book: Workbook) -> None:
    book.create_sheet("route")["A1"] = "leg"


def remove_sheet(book: Workbook) -> None:
    del book["operations"]


SHEETS = [
    (hide_row, "sheet operations, row 3: the row is hidden; expected no hidden rows."),
    (hide_column, "sheet operations: columns are hidden (E); expected no hidden columns."),
    (hide_sheet, "sheet operations: the sheet is hidden; expected a sheet that everybody sees."),
    (merge, "sheet operations: cells are merged (C2:D2); expected no merged cells."),
    (filter_rows, "sheet operations: a filter is set (A1:R4); expected no filter."),
    (write_far_away, "sheet operations: it reaches to row 1048576 and column 16384; expected at most"),
    (blank_first_row, "sheet operations, row 1: the first row is blank; expected a row with the names"),
    (second_sheet, "sheet Operations : two sheets have this name; expected each table once."),
    (misspelt_sheet, "sheet operation: no table of a voyage folder has this name; expected only tables"),
    (route, "sheet route: a route is not read yet; expected legs in the sheet voyage"),
    (remove_sheet, "sheet operations: this sheet is missing; expected a sheet named operations."),
]


@pytest.mark.parametrize(("how", "message"), SHEETS)
def test_a_sheet_in_which_rows_could_be_passed_over_is_refused(
    path: Path, how: Callable[[Workbook], None], message: str
) -> None:
    change(path, how)
    assert str(faults_in(path)[-1]).startswith(message), faults_in(path)


def test_a_cell_that_stands_twice_in_the_file_is_refused(path: Path) -> None:
    twice = '<c r="C2" t="inlineStr"><is><t>stores</t></is></c>'
    change_part(path, part_of(path, "operations"), lambda xml: xml.replace('<c r="E2"', f'{twice}{twice}<c r="E2"', 1))
    assert "cells stand twice in the file (C2)" in str(faults_in(path)[0])


def test_an_empty_sheet_of_another_name_is_only_not_read(path: Path) -> None:
    change(path, lambda book: book.create_sheet("Sheet1"))
    assert read_folder(path).not_read == ("sheet Sheet1",)


def test_blank_rows_of_a_sheet_are_counted(path: Path) -> None:
    change(path, lambda book: book["places"].insert_rows(3))
    counts = dict(read_folder(path).rows)["places"]
    assert (counts.read, counts.taken, counts.blank) == (3, 2, 1)


FILES = [
    (lambda path: path.write_bytes(bytes.fromhex("d0cf11e0a1b11ae1")), "it is locked with a password, or an old"),
    (lambda path: path.write_bytes(b"PK\x03\x04 and no more"), "it is damaged, or no workbook at all"),
    (lambda path: path.write_text("entry,space\n"), "it is damaged, or no workbook at all"),
    (lambda path: path.write_bytes(b""), "it is damaged, or no workbook at all"),
    (lambda path: path.write_bytes(b"P" * (LARGEST_FILE_BYTES + 1)), f"{LARGEST_FILE_BYTES + 1} bytes were found"),
    (lambda path: add_part(path, "xl/vbaProject.bin", b"x"), "it has macros in it"),
    (lambda path: add_part(path, "xl/media/image1.png", b"\0" * 30_000_000), "it unpacks to 30"),
    (lambda path: add_part(path, "xl/notes.xml", b"<!DOCTYPE x><x/>"), "it has a part that no"),
    (lambda path: only_part(path, "notes.txt"), "it is a zip file, but no workbook"),
]  # fmt: skip


def add_part(path: Path, name: str, data: bytes) -> None:
    with zipfile.ZipFile(path, "a", zipfile.ZIP_DEFLATED) as archive:
        archive.writestr(name, data)


def only_part(path: Path, name: str) -> None:
    with zipfile.ZipFile(path, "w") as archive:
        archive.writestr(name, "x")


@pytest.mark.parametrize(("how", "message"), FILES)
def test_a_file_that_is_no_plain_workbook_is_refused(path: Path, how: Callable[[Path], object], message: str) -> None:
    how(path)
    (fault,) = faults_in(path)
    assert str(fault).startswith(f"voyage.xlsx: {message}")


@pytest.mark.parametrize("ending", [".xls", ".xlsm", ".ods", ".zip", ""])
def test_a_file_of_another_ending_is_refused(path: Path, ending: str) -> None:
    other = path.rename(path.with_suffix(ending))
    (fault,) = faults_in(other)
    assert "is no workbook that can be read" in fault.found


def test_damaged_workbooks_are_refused_or_read_whole_and_never_crash(path: Path) -> None:
    good = path.read_bytes()
    whole = read_folder(path)
    chance = random.Random(7)
    refused = 0
    for _ in range(25):
        data = bytearray(good)
        for _ in range(chance.randint(1, 6)):
            data[chance.randrange(len(data))] = chance.randrange(256)
        path.write_bytes(bytes(data[: chance.choice([len(data), len(data), chance.randrange(len(data))])]))
        try:
            assert read_folder(path).rows == whole.rows
        except InputFaults:
            refused += 1
    assert refused > 10


def test_damaged_sheets_are_refused_or_read_whole_and_never_crash(path: Path) -> None:
    part = part_of(path, "operations")
    with zipfile.ZipFile(path) as archive:
        xml = archive.read(part).decode()
    good = path.read_bytes()
    whole = read_folder(path)
    chance = random.Random(11)
    marks = [found.start() for found in re.finditer(r'[<>="/0-9]', xml)]
    refused = 0
    for _ in range(25):
        at = chance.choice(marks)
        path.write_bytes(good)
        change_part(path, part, lambda text, at=at: text[:at] + chance.choice('<>="/19 &') + "x" + text[at + 1 :])
        try:
            counts = dict(read_folder(path).rows)["operations"]
            assert counts.read == counts.taken + counts.blank == len(whole.operations)
        except InputFaults:
            refused += 1
    assert refused > 10


def test_the_demonstration_voyage_is_the_same_as_a_workbook(tmp_path: Path, demo_folder: VoyageFolder) -> None:
    book = read_folder(write_workbook(tables_of(DEMO), tmp_path / "demo.xlsx"))
    assert (book.digest, book.forecast_digest, book.seen_digest) == (
        demo_folder.digest, demo_folder.forecast_digest, demo_folder.seen_digest,
    )  # fmt: skip
    assert (book.entries, book.operations, book.duties) == (
        demo_folder.entries, demo_folder.operations, demo_folder.duties,
    )  # fmt: skip
    assert (book.rows, book.missing) == (demo_folder.rows, demo_folder.missing)


def test_a_small_file_that_unpacks_to_a_million_cells_is_refused_before_it_is_opened(path: Path) -> None:
    rows = "<row>" + "<c><v>1</v></c>" * 400_000 + "</row>"
    change_part(path, part_of(path, "spaces"), lambda xml: xml.replace("</sheetData>", f"{rows}</sheetData>"))
    (fault,) = faults_in(path)
    assert "it has more than 300000 cells" in fault.found


def test_columns_hidden_beyond_the_table_do_no_harm(path: Path) -> None:
    def how(book: Workbook) -> None:
        book["places"].column_dimensions["Z"].hidden = True

    change(path, how)
    assert faults_in(path) == ()
