"""A voyage folder with a cell changed or rows left out, as an officer would do it in a spreadsheet."""

from __future__ import annotations

import csv
import shutil
from collections.abc import Callable
from pathlib import Path

DEMO = Path(__file__).parents[2] / "demo_voyage"
BULK = Path(__file__).parents[1] / "bulk_voyage"
Row = dict[str, str]


def edited(to: Path, table: str, change: Callable[[list[Row]], list[Row]], *, base: Path = DEMO) -> Path:
    """A copy of a voyage folder in which the rows of one table are changed."""
    shutil.copytree(base, to, ignore=shutil.ignore_patterns("plan"))
    rewrite(to, table, change)
    return to


def few_entries(to: Path, *ids: str, base: Path = DEMO) -> Path:
    """A voyage (the demonstration, unless told) with these entries alone."""
    edited(to, "entries", only(*ids), base=base)
    rewrite(to, "coatings", lambda rows: [row for row in rows if row["entry"] in ids])
    return to


def rewrite(folder: Path, table: str, change: Callable[[list[Row]], list[Row]]) -> None:
    """Change the rows of one table where it lies."""
    path = next(folder.rglob(f"{table}.csv"))
    with path.open(encoding="utf-8", newline="") as file:
        reader = csv.DictReader(file)
        names, rows = list(reader.fieldnames or ()), list(reader)
    with path.open("w", encoding="utf-8", newline="") as file:
        writer = csv.DictWriter(file, names)
        writer.writeheader()
        writer.writerows(change(rows))


def only(*ids: str) -> Callable[[list[Row]], list[Row]]:
    """Keep these entries alone; what they waited for is struck where it is not kept."""

    def change(rows: list[Row]) -> list[Row]:
        kept = [row for row in rows if row["entry"] in ids]
        return [row | {"after": ";".join(a for a in row["after"].split(";") if a in ids)} for row in kept]

    return change


def cell(key: str, of: str, column: str, value: str) -> Callable[[list[Row]], list[Row]]:
    """Change one cell of the row whose key column holds `of`."""

    def change(rows: list[Row]) -> list[Row]:
        return [row | {column: value} if row[key] == of else row for row in rows]

    return change
