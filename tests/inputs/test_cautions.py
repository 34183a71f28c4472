"""What is missing takes the worst and is said, with the row to add."""

from __future__ import annotations

from pathlib import Path

import pytest

from scheduler.inputs import read_folder
from tests.inputs.small_voyage import Tables, put, small_voyage, write_folder

NOWHERE = "where the ship is then is not known"
# (table, row, column, what is written there, the caution)
CELLS = [
    ("operations", 4, "end", "", "operations, row 4: DR has no end; it runs until the week's end"),
    ("outlets", 2, "x_m", "", "outlets, row 2: OV2 has no place; it blows everywhere"),
    ("spaces", 2, "volume_m3", "", "spaces, row 2: 2P has no volume; its entries are refused"),
    ("cargoes", 2, "toxic", "", "cargoes, row 2: ANILINE has no toxic; the cautious value holds"),
    ("contents", 4, "cargo", "ANILIN",
     "cargoes: no row for ANILIN, which contents names; it counts as toxic (nearest known: ANILINE)"),
    ("operations", 2, "cargo", "XYLENE", "cargoes: no row for XYLENE, which operations names; it counts as toxic"),
    ("contents", 2, "state", "residue", "contents, row 2: 2P is residue of no named cargo; it counts as toxic"),
    ("voyage", 3, "place", "Lea Roads", "places: no row for Lea Roads (voyage, row 3); everything is to be asked for"),
    ("voyage", 2, "end", "2027-03-11T22:00Z",
     f"voyage: no leg from 2027-03-11T22:00:00Z to 2027-03-12T00:00:00Z; {NOWHERE}"),
    ("voyage", 3, "end", "2027-03-14T00:00Z",
     f"voyage: no leg from 2027-03-14T00:00:00Z to 2027-03-15T00:00:00Z; {NOWHERE}"),
    ("conditions", 2, "checked_by", "", "conditions, row 2: Ballast has no checked_by; nobody vouches for it"),
    ("people", 3, "last_drill", "", "people, row 3: P2 has no last_drill; not assignable"),
    ("people", 4, "name", "DRAYCOTT, Anselm", "people, row 4: P3 is named like P2; one person under two ids?"),
    ("people", 4, "name", "Anselm Dr\u0430ycott", "people, row 4: P3 is named like P2; one person under two ids?"),
    ("weather", 3, "time", "2027-03-13T00:00Z",
     "weather: the newest forecast ends at 2027-03-13T00:00:00Z; later hours have no weather basis"),
    ("lines", 3, "point", "pipe 2p bis",
     "lines: only one device joins pipe 2P, pipe 2p bis; where it leads is not known, so it counts as a source"),
]  # fmt: skip
ROWS = [
    ("neighbours", 4, ()),
    ("contents", 3, ("contents: no row for 2S; its state counts as unknown",)),
    ("openings", 3, ("openings: no row for 2S; it counts as next to every outlet",)),
    ("outlet_tanks", 2, ("outlet_tanks: no row for C2; it blows everywhere",)),
    ("past_hours", 3, ("past_hours: no row for P2; their rest before the week is unknown",)),
]


def cautions(tables: Tables, path: Path) -> tuple[str, ...]:
    return read_folder(write_folder(tables, path)).missing


@pytest.mark.parametrize(("table", "row", "column", "value", "caution"), CELLS)
def test_what_a_cell_leaves_open_is_a_caution(
    tmp_path: Path, table: str, row: int, column: str, value: str, caution: str
) -> None:
    assert cautions(put(small_voyage(), table, row, column, value), tmp_path) == (caution,)


@pytest.mark.parametrize(("table", "row", "expected"), ROWS)
def test_what_a_missing_row_leaves_open_is_a_caution(
    tmp_path: Path, table: str, row: int, expected: tuple[str, ...]
) -> None:
    tables = small_voyage()
    del tables[table][row - 1]
    assert cautions(tables, tmp_path) == expected


def test_a_space_in_no_row_of_neighbours_counts_as_next_to_all(tmp_path: Path) -> None:
    tables = small_voyage()
    tables["neighbours"] = [row for row in tables["neighbours"] if "2S" not in row]
    assert cautions(tables, tmp_path) == ("neighbours: no row for 2S; it counts as next to all",)


def test_a_week_without_a_forecast_has_no_weather_basis(tmp_path: Path) -> None:
    tables = small_voyage()
    del tables["weather"][1:]
    assert cautions(tables, tmp_path) == ("weather: no row; the whole week has no weather basis",)


def test_of_two_contacts_of_one_pair_the_closest_holds(tmp_path: Path) -> None:
    tables = small_voyage()
    tables["neighbours"].append(["C2", "2P", "opening"])
    contacts = read_folder(write_folder(tables, tmp_path)).neighbours
    assert [c.contact for c in contacts if {c.space, c.neighbour} == {"C2", "2P"}] == ["opening", "opening"]


def test_a_mirrored_neighbour_that_agrees_is_harmless(tmp_path: Path) -> None:
    tables = small_voyage()
    tables["neighbours"].append(["2P", "C2", "bulkhead"])
    assert len(read_folder(write_folder(tables, tmp_path)).neighbours) == 4
