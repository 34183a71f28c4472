"""The ids that cells may refer to, gathered from every row before any cell is read."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping

from scheduler.inputs.columns import Kind, Table
from scheduler.inputs.names import hidden_characters, normal, spelled
from scheduler.inputs.raw import RawTable
from scheduler.inputs.read_table import columns_of
from scheduler.inputs.reference import TABLES

POINT_COLUMNS = ("point", "to_point")


def known_ids(tables: Mapping[str, RawTable], broken: Collection[str]) -> dict[str, dict[str, str]]:
    """Ids of each table by their normal form; a table that could not be read is left out.

    `points` are the points of the piping, `place names` the places of places and of voyage.
    """
    ids: dict[str, dict[str, str]] = {}
    for table in TABLES:
        column = next((column.name for column in table.columns if column.kind == Kind.ID), None)
        if column and (found := _column(tables, table.name, column, broken)) is not None:
            ids[table.name] = by_normal(found)
    points = [_column(tables, "lines", column, broken) or [] for column in POINT_COLUMNS]
    ids["points"] = by_normal(text for column_texts in points for text in column_texts)
    legs = _column(tables, "voyage", "place", broken)
    if "places" in ids and legs is not None:
        ids["place names"] = by_normal(legs) | ids["places"]
    return ids


def by_normal(texts: Iterable[str]) -> dict[str, str]:
    """Names by their normal form; of several spellings the first in the order of letters, whatever the rows' order."""
    names: dict[str, str] = {}
    for text in sorted(spelled(text) for text in texts if not hidden_characters(text.strip())):
        names.setdefault(normal(text), text)
    names.pop("", None)
    return names


def _column(tables: Mapping[str, RawTable], name: str, column: str, broken: Collection[str]) -> list[str] | None:
    if name in broken or name not in tables:
        return [] if _optional(name) and name not in broken else None
    raw = tables[name]
    at, _ = columns_of(raw, _table(name))
    if column not in at:
        return None
    return [row.cells[at[column]] for row in raw.rows if at[column] < len(row.cells)]


def _table(name: str) -> Table:
    return next(table for table in TABLES if table.name == name)


def _optional(name: str) -> bool:
    return _table(name).optional
