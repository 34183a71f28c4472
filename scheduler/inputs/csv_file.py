"""One CSV file as a raw table: UTF-8, commas, one line a row."""

from __future__ import annotations

import csv
import io
from pathlib import Path
from typing import Final, TypedDict

from scheduler.errors import Fault
from scheduler.inputs.raw import RawRow, RawTable

LARGEST_BYTES: Final = 16_000_000  # our choice: far above any week's table, far below what could hurt
_AS_CSV: Final = "Save it as 'CSV UTF-8' and read the folder again."


class NoTable(Exception):
    """A file that is no table; carries the fault."""

    def __init__(self, fault: Fault) -> None:
        super().__init__(str(fault))
        self.fault = fault


def text_of(path: Path) -> str:
    """The text of a UTF-8 file, with or without a byte order mark; raises NoTable."""
    try:
        size = path.stat().st_size
        if size > LARGEST_BYTES:
            raise NoTable(_fault(path, f"{size} bytes were found", f"at most {LARGEST_BYTES}"))
        data = path.read_bytes()
    except OSError as error:
        raise NoTable(_fault(path, f"it cannot be opened ({error.strerror})", "a file that can be read")) from None
    if data.startswith((b"\xff\xfe", b"\xfe\xff")):
        raise NoTable(_fault(path, "it is written in UTF-16", "UTF-8", mend=_AS_CSV))
    if b"\0" in data:
        raise NoTable(_fault(path, "it has NUL bytes in it, as UTF-16 and damaged files have", "UTF-8", mend=_AS_CSV))
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        row = data[: error.start].count(b"\n") + 1
        raise NoTable(_fault(path, "it has bytes that are not UTF-8", "UTF-8", row=row, mend=_AS_CSV)) from None


def read_csv(path: Path, name: str) -> RawTable:
    """A CSV file as it stands; raises NoTable."""
    text = text_of(path).replace("\r\n", "\n")
    if "\r" in text:
        row = text[: text.index("\r")].count("\n") + 1
        wanted = "lines that end with LF or CR LF"
        raise NoTable(_fault(path, "it has a carriage return alone in it", wanted, row=row, mend=_AS_CSV))
    header, rows = _split(path, text)
    return RawTable(name=name, place=path.name, header=header, rows=rows, **count_lines(text))


class Counts(TypedDict):
    """What the independent counter says."""

    counted: int
    counted_blank: int


def count_lines(text: str) -> Counts:
    """Lines after the first, and how many of them hold nothing but commas, quotes and spaces."""
    lines = text.removesuffix("\n").split("\n")[1:]
    blank = sum(not line.replace(",", "").replace('"', "").strip() for line in lines)
    return Counts(counted=len(lines), counted_blank=blank)


def _split(path: Path, text: str) -> tuple[tuple[str, ...], tuple[RawRow, ...]]:
    reader = csv.reader(io.StringIO(text, newline=""), strict=True)
    rows: list[RawRow] = []
    begun = 1
    try:
        for cells in reader:
            rows.append(RawRow(begun, tuple(cells)))
            begun = reader.line_num + 1
    except csv.Error as error:
        found = f"its quotes or cells cannot be told apart from here on ({error})"
        wanted = "each quote closed in its own line, a quote inside a cell doubled"
        raise NoTable(_fault(path, found, wanted, row=begun)) from None
    if not rows or rows[0].blank:
        raise NoTable(_fault(path, "its first line is blank", "a line with the names of its columns"))
    return tuple(cell.strip() for cell in rows[0].cells), tuple(rows[1:])


def _fault(path: Path, found: str, wanted: str, *, row: int = 0, mend: str = "") -> Fault:
    mended = mend or "Correct it and read the folder again."
    return Fault(file=path.name, row=row, found=found, expected=wanted, mend=mended)
