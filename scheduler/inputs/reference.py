"""All tables of a voyage folder, in the order in which an officer would read them."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

from scheduler.inputs.columns import Table
from scheduler.inputs.crew_tables import CREW_TABLES
from scheduler.inputs.ship_tables import SHIP_TABLES
from scheduler.inputs.voyage_tables import VOYAGE_TABLES
from scheduler.inputs.work_tables import WORK_TABLES

TABLES: Final[tuple[Table, ...]] = (*SHIP_TABLES, *CREW_TABLES, *VOYAGE_TABLES, *WORK_TABLES)
TABLE_BY_NAME: Final[Mapping[str, Table]] = {table.name: table for table in TABLES}
FILES: Final[tuple[Table, ...]] = tuple(table for table in TABLES if not table.inside)
"""Tables with a file (or sheet) of their own."""
FOLDERS: Final = ("ship", "crew", "week")
