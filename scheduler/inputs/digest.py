"""What a folder says, as one number: sha256 over canonical JSON of its tables.

The text that is hashed: one JSON object, a key for each table that has rows; its value a list of rows; each row an
object of column and cell, blanks left out; rows sorted by their own text. Keys sorted, no spaces, UTF-8. Cells are
text: words and ids as the tables declare them, numbers in shortest decimal form, instants as 2027-03-08T06:00Z, lists
sorted and joined by `; `. So the order of rows and columns, the offset in which a time is written and the kind of
file make no difference, and everything else does.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterable, Mapping

from scheduler.inputs.read_cell import written
from scheduler.inputs.reference import TABLES
from scheduler.inputs.rows import Row


def digest_of(rows: Mapping[str, Iterable[Row]], which: str) -> str:
    """The digest of all tables that it covers (`which`: folder, forecast or seen), as 64 hex digits."""
    return hashlib.sha256(canonical_text(rows, which).encode()).hexdigest()


def canonical_text(rows: Mapping[str, Iterable[Row]], which: str) -> str:
    """The text that is hashed."""
    names = sorted(table.name for table in TABLES if table.digest == which)
    tables = (f"{_json(name)}:[{','.join(found)}]" for name in names if (found := _row_texts(rows.get(name, ()))))
    return "{" + ",".join(tables) + "}"


def _row_texts(rows: Iterable[Row]) -> list[str]:
    return sorted(text for text in (_json(_cells(row)) for row in rows) if text != "{}")


def _cells(row: Row) -> dict[str, str]:
    return {name: written(value) for name, value in row.values.items() if value is not None}


def _json(value: object) -> str:
    return json.dumps(value, ensure_ascii=False, sort_keys=True, separators=(",", ":"))
