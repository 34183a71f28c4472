"""Is it a workbook that may be opened? Asked before any part of it is read."""

from __future__ import annotations

import re
import zipfile
import zlib
from pathlib import Path
from typing import Final

from scheduler.errors import Fault
from scheduler.inputs.csv_file import NoTable

LARGEST_FILE_BYTES: Final = 8_000_000  # our choice: a week's workbook has a few hundred kilobytes
LARGEST_UNPACKED_BYTES: Final = 24_000_000  # our choice: about ten times as much is needed in memory
MOST_PARTS: Final = 1000  # our choice
MOST_CELLS: Final = 300_000  # our choice: a forecast of fifty members has 180,000; each takes half a kilobyte
MOST_TAGS: Final = 1_500_000  # our choice: a cell has about four
_CELL: Final = re.compile(rb"<(?:\w+:)?c[\s/>]")
_OLD_OR_LOCKED: Final = bytes.fromhex("d0cf11e0a1b11ae1")  # compound file: .xls, or a workbook with a password
_SAVE: Final = "Save it as an Excel workbook (.xlsx) without password and macros, and read it again."


def refuse(path: Path, found: str, wanted: str = "an .xlsx workbook", mend: str = _SAVE) -> NoTable:
    """A refusal of the whole workbook."""
    return NoTable(Fault(file=path.name, found=found, expected=wanted, mend=mend))


def guard(path: Path) -> None:
    """Raises NoTable unless the file is a plain .xlsx workbook of bearable size."""
    if path.suffix.casefold() != ".xlsx":
        raise refuse(path, f"a file that ends {path.suffix or 'in no way'} is no workbook that can be read")
    try:
        size = path.stat().st_size
        with path.open("rb") as file:
            begin = file.read(len(_OLD_OR_LOCKED))
    except OSError as error:
        raise refuse(path, f"it cannot be opened ({error.strerror})", "a file that can be read") from None
    if size > LARGEST_FILE_BYTES:
        raise refuse(path, f"{size} bytes were found", f"at most {LARGEST_FILE_BYTES}")
    if begin == _OLD_OR_LOCKED:
        raise refuse(path, "it is locked with a password, or an old .xls workbook under a new name")
    try:
        with zipfile.ZipFile(path) as archive:
            _guard_parts(path, archive)
    except (zipfile.BadZipFile, zlib.error, OSError, EOFError, RuntimeError, ValueError):
        raise refuse(path, "it is damaged, or no workbook at all") from None


def _guard_parts(path: Path, archive: zipfile.ZipFile) -> None:
    parts = archive.infolist()
    names = [part.filename for part in parts]
    if any(part.flag_bits & 1 for part in parts):
        raise refuse(path, "it is locked with a password")
    if len(names) > MOST_PARTS or len(set(names)) < len(names):
        raise refuse(path, f"it has {len(names)} parts, or one of them twice", f"at most {MOST_PARTS} parts, each once")
    unpacked = sum(part.file_size for part in parts)
    if unpacked > LARGEST_UNPACKED_BYTES:
        raise refuse(path, f"it unpacks to {unpacked} bytes", f"at most {LARGEST_UNPACKED_BYTES}")
    if any(name.casefold().endswith("vbaproject.bin") for name in names):
        raise refuse(path, "it has macros in it")
    if "xl/workbook.xml" not in names:
        raise refuse(path, "it is a zip file, but no workbook")
    texts = (archive.read(part) for part in parts if part.filename.endswith((".xml", ".rels")))
    cells = tags = 0
    for text in texts:
        if b"\0" in text or b"<!DOCTYPE" in text or b"<!ENTITY" in text:
            raise refuse(path, "it has a part that no workbook program writes (document type or entities)")
        cells, tags = cells + len(_CELL.findall(text)), tags + text.count(b"<")
        if cells > MOST_CELLS or tags > MOST_TAGS:
            mend = "Delete the rows and columns beyond the tables, also blank ones with a format."
            raise refuse(path, f"it has more than {MOST_CELLS} cells, or as much of something else", mend=mend)
