"""A second, plain reader of a workbook's sheets: which cells hold anything, by the raw parts of the file.

It shares nothing with the reader of cells and knows nothing of types; it counts, and finds formulas that were never
calculated and cells that stand twice.
"""

from __future__ import annotations

import posixpath
import re
import zipfile
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import IO, Final
from xml.etree.ElementTree import Element

from defusedxml.ElementTree import iterparse

_MAIN: Final = "{http://schemas.openxmlformats.org/spreadsheetml/2006/main}"
_RELATION: Final = "{http://schemas.openxmlformats.org/officeDocument/2006/relationships}id"


@dataclass(frozen=True, kw_only=True, slots=True)
class SheetScan:
    """What a sheet holds: rows with content, ascending; formulas without a value; cells that stand twice."""

    rows: tuple[int, ...]
    uncalculated: frozenset[str]
    twice: tuple[str, ...]

    @property
    def last(self) -> int:
        """The last row with content; 0 for an empty sheet."""
        return self.rows[-1] if self.rows else 0

    @property
    def blank(self) -> int:
        """Rows after the first and before the last that hold nothing."""
        return max(self.last - 1, 0) - sum(row > 1 for row in self.rows)


def scan(path: Path) -> dict[str, SheetScan]:
    """Every sheet by its title; raises what the parser raises."""
    with zipfile.ZipFile(path) as archive:
        filled = _filled_strings(archive)
        return {title: _scan_sheet(archive.open(part), filled) for title, part in _parts(archive)}


def _elements(file: IO[bytes], tag: str) -> Iterator[Element]:
    for _, element in iterparse(file, events=("end",), forbid_dtd=True):
        if element.tag == tag:
            yield element
            element.clear()


def _parts(archive: zipfile.ZipFile) -> list[tuple[str, str]]:
    relations = archive.open("xl/_rels/workbook.xml.rels")
    targets = {
        element.get("Id", ""): posixpath.normpath(posixpath.join("xl", element.get("Target", "")).lstrip("/"))
        for _, element in iterparse(relations, events=("end",), forbid_dtd=True)
    }
    sheets = [
        (element.get("name", ""), targets.get(element.get(_RELATION, ""), ""))
        for element in _elements(archive.open("xl/workbook.xml"), f"{_MAIN}sheet")
    ]
    return [(title, part) for title, part in sheets if part.startswith("xl/worksheets/")]


def _filled_strings(archive: zipfile.ZipFile) -> list[bool]:
    if "xl/sharedStrings.xml" not in archive.namelist():
        return []
    return [_has_text(element) for element in _elements(archive.open("xl/sharedStrings.xml"), f"{_MAIN}si")]


def _has_text(element: Element) -> bool:
    return any((text.text or "").strip() for text in element.iter(f"{_MAIN}t"))


def _scan_sheet(file: IO[bytes], filled: list[bool]) -> SheetScan:
    rows: set[int] = set()
    seen: set[str] = set()
    uncalculated: set[str] = set()
    twice: list[str] = []
    row = 0
    for element in _elements(file, f"{_MAIN}row"):
        row = int(element.get("r", row + 1))
        for index, cell in enumerate(element.iter(f"{_MAIN}c"), 1):
            address = cell.get("r", f"column {index} of row {row}")
            twice += [address] if address in seen else []
            seen.add(address)
            if cell.find(f"{_MAIN}f") is not None and not (cell.findtext(f"{_MAIN}v") or ""):
                uncalculated.add(address)
            if _holds(cell, filled):
                rows.add(_row_of(address, row))
    return SheetScan(rows=tuple(sorted(rows)), uncalculated=frozenset(uncalculated), twice=tuple(twice))


def _row_of(address: str, row: int) -> int:
    found = re.fullmatch(r"[A-Z]{1,3}([0-9]{1,7})", address)
    return int(found[1]) if found else row


def _holds(cell: Element, filled: list[bool]) -> bool:
    value = (cell.findtext(f"{_MAIN}v") or "").strip()
    if cell.get("t") == "s":
        return bool(value) and filled[int(value)]
    return bool(value) or _has_text(cell) or cell.find(f"{_MAIN}f") is not None
