"""Plain text within a hundred columns: headings, paragraphs and columns, without any colour code."""

from __future__ import annotations

import re
from collections.abc import Collection, Iterable, Sequence
from textwrap import wrap
from typing import Final

WIDTH_COLUMNS: Final = 100
_GAP: Final = "  "
_BOUND: Final = "\N{NO-BREAK SPACE}"
_UNIT: Final = re.compile(r"(?<=\d) (?=(?:h|min|kn|m|t|%)(?!\w))")
_LEAST_BESIDE: Final = 25  # columns that a sentence needs beside its row, or else it goes below


def plain(text: str) -> str:
    """The text on one line, printable: what could steer a terminal or turn the reading round is shown as `?`."""
    return "".join(letter if letter.isprintable() else " " if letter.isspace() else "?" for letter in text)


def heading(text: str) -> list[str]:
    """A heading in capitals after an empty line."""
    return ["", plain(text).upper()]


def paragraph(text: str, *, indent: int = 0, hang: int = 0) -> list[str]:
    """The text wrapped; later lines stand `hang` columns further in."""
    return _wrapped(plain(text), " " * indent, " " * (indent + hang))


def columns(rows: Iterable[Sequence[str]], *, indent: int = 0, right: Collection[int] = ()) -> list[str]:
    """Rows of equal length below each other; the last column wraps; columns in `right` end at one edge."""
    cells = [[plain(cell) for cell in row] for row in rows]
    if not cells:
        return []
    widths = [max(len(row[i]) for row in cells) for i in range(len(cells[0]) - 1)]
    lines: list[str] = []
    for row in cells:
        fixed = [c.rjust(w) if i in right else c.ljust(w) for i, (c, w) in enumerate(zip(row, widths, strict=False))]
        start = " " * indent + _GAP.join(fixed) + _GAP
        lines += _beside(start, row[-1])
    return lines


def _beside(start: str, text: str) -> list[str]:
    if len(start) > WIDTH_COLUMNS - _LEAST_BESIDE:
        return [*paragraph(start.strip(), indent=len(start) - len(start.lstrip()), hang=2), *paragraph(text, indent=6)]
    return _wrapped(text, start, " " * len(start)) or [start.rstrip()]


def _wrapped(text: str, first: str, later: str) -> list[str]:
    """Lines of a text; a figure stays with its unit."""
    bound = _UNIT.sub(_BOUND, text)
    lines = wrap(bound, WIDTH_COLUMNS, initial_indent=first, subsequent_indent=later, break_on_hyphens=False)
    return [line.replace(_BOUND, " ") for line in lines]
