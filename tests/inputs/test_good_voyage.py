"""A small good voyage is read whole, from a folder and from a workbook alike."""

from __future__ import annotations

import random
from dataclasses import fields, replace
from datetime import UTC, datetime, time
from pathlib import Path

import pytest

from scheduler.domain.folder import VoyageFolder
from scheduler.inputs import begin_folder, read_folder
from scheduler.inputs.reference import FILES
from tests.inputs.small_voyage import put, small_voyage, write_folder, write_workbook


@pytest.fixture
def folder(tmp_path: Path) -> VoyageFolder:
    return read_folder(write_folder(small_voyage(), tmp_path))


def everything(folder: VoyageFolder) -> dict[str, object]:
    return {field.name: getattr(folder, field.name) for field in fields(folder) if field.name != "cache"}


def test_every_row_is_counted_and_taken(folder: VoyageFolder) -> None:
    counts = {name: (count.read, count.taken, count.blank) for name, count in folder.rows}
    tables = small_voyage()
    assert counts == {
        table.name: (len(tables[table.name]) - 1,) * 2 + (0,) for table in FILES if not table.key_value
    }  # fmt: skip


def test_cells_arrive_in_the_words_of_the_ship(folder: VoyageFolder) -> None:
    entry = folder.entries[0]
    assert (entry.entry, entry.space, entry.hours, entry.needs) == ("E1", "2P", 3.0, ("CLASS",))
    # ship's time is UTC+1 until the clocks go back on the 11th
    assert entry.earliest == datetime(2027, 3, 9, 7, tzinfo=UTC)
    assert entry.due == datetime(2027, 3, 12, 18, tzinfo=UTC)
    assert folder.conditions[0].may_be_empty == (frozenset({"2P"}), frozenset({"2P", "2S"}))
    assert folder.coatings[0].solvents == (("1330-20-7", 60.0), ("71-36-3", 40.0))
    assert folder.operations[0].people == (("rigging", 1),)


def test_a_good_voyage_has_no_cautions(folder: VoyageFolder) -> None:
    assert folder.missing == ()


def test_a_blank_takes_the_cautious_value(folder: VoyageFolder) -> None:
    refill = next(operation for operation in folder.operations if operation.operation == "IN")
    assert (refill.lines, refill.firm, refill.bars) == (None, True, "none")


def test_hours_of_the_week_beat_those_of_policy(tmp_path: Path) -> None:
    tables = small_voyage()
    tables["policy"].append(["hours.work", "06:00-14:00"])
    tables["policy"].append(["hours.meals", "11:00-11:30"])
    folder = read_folder(write_folder(tables, tmp_path))
    assert folder.policy.pairs("hours.work") == (("08:00", "18:00"),)
    assert folder.week.work_hours == ((time(8), time(18)),)
    assert folder.policy.pairs("hours.meals") == (("11:00", "11:30"),)


def test_no_meals_is_not_the_same_as_meals_left_out(tmp_path: Path) -> None:
    tables = small_voyage()
    tables["week"].append(["meals", "none"])
    assert read_folder(write_folder(tables, tmp_path)).policy.pairs("hours.meals") == ()


def test_toml_may_be_written_in_any_of_its_forms(tmp_path: Path) -> None:
    path = write_folder(small_voyage(), tmp_path)
    before = read_folder(path)
    (path / "ship" / "policy.toml").write_text(
        'entrants_min = 2\n[air.floor_h]\n"void" = 5.0\n[sea]\nheavy = {free_m = 1.20}\n'
    )
    (path / "week" / "week.toml").write_text(
        "start = 2027-03-08T00:00:00Z\ndays = 7\nwork_hours = [['08:00', '18:00']]\nrest_days = ['Sunday']\n"
    )
    after = read_folder(path)
    assert after.digest == before.digest
    assert (after.policy, after.week.work_hours) == (before.policy, before.week.work_hours)


def test_floors_of_ventilation_may_be_written_by_the_kind_of_space(tmp_path: Path) -> None:
    path = write_folder(small_voyage(), tmp_path)
    (path / "ship" / "policy.toml").write_text('[air.floor_h]\n"ballast tank" = 9\n')
    assert read_folder(path).policy.number("air.floor_h.ballast_tank") == 9


def test_a_workbook_gives_the_same_as_its_folder(tmp_path: Path) -> None:
    from_folder = read_folder(write_folder(small_voyage(), tmp_path / "folder"))
    from_workbook = read_folder(write_workbook(small_voyage(), tmp_path / "voyage.xlsx"))
    # a key's row differs: the workbook has a header over its keys, the TOML file has none
    same_week = replace(from_workbook.week, origin=from_folder.week.origin)
    assert everything(replace(from_workbook, week=same_week)) == everything(from_folder)


def test_the_order_of_rows_and_columns_makes_no_difference(tmp_path: Path) -> None:
    first = read_folder(write_folder(small_voyage(), tmp_path / "as written"))
    tables = small_voyage()
    mixed = random.Random(4)
    for name, (header, *rows) in tables.items():
        order = list(range(len(header)))
        if len(header) > 2:
            mixed.shuffle(order)
        mixed.shuffle(rows)
        tables[name] = [[row[i] for i in order] for row in (header, *rows)]
    second = read_folder(write_folder(tables, tmp_path / "mixed"))
    assert (second.digest, second.forecast_digest, second.seen_digest) == (
        first.digest, first.forecast_digest, first.seen_digest,
    )  # fmt: skip
    assert [entry.entry for entry in second.entries] == [entry.entry for entry in first.entries]


@pytest.mark.parametrize(
    ("table", "row", "column", "value", "digest"),
    [
        ("entries", 2, "hours", "3.25", "digest"),
        ("operations", 3, "latest", "2027-03-13T18:15", "digest"),
        ("policy", 0, "entrants_min", "3", "digest"),
        ("ship", 0, "fuel.1.t_per_day", "6.4", "digest"),
        ("people", 3, "last_drill", "2027-02-21", "digest"),
        ("weather", 2, "wind_kn", "13", "forecast_digest"),
        ("readings", 2, "lfl_percent", "1", "seen_digest"),
        ("progress", 2, "event", "opened", "seen_digest"),
    ],
)
def test_a_changed_cell_changes_its_digest_and_no_other(
    tmp_path: Path, table: str, row: int, column: str, value: str, digest: str
) -> None:
    before = read_folder(write_folder(small_voyage(), tmp_path / "before"))
    changed = put(small_voyage(), table, row, column, value)
    if table == "policy":
        changed = put(put(changed, "entries", 2, "entrants", "3"), "entries", 3, "entrants", "3")
    after = read_folder(write_folder(changed, tmp_path / "after"))
    digests = ("digest", "forecast_digest", "seen_digest")
    assert [name for name in digests if getattr(before, name) != getattr(after, name)] == [digest]


def test_one_instant_written_in_two_offsets_is_the_same_input(tmp_path: Path) -> None:
    before = read_folder(write_folder(small_voyage(), tmp_path / "before"))
    # 08:00 of ship's time, one hour ahead of UTC
    same = put(small_voyage(), "entries", 2, "earliest", "2027-03-09 09:00+02:00")
    assert read_folder(write_folder(same, tmp_path / "after")).digest == before.digest


def test_port_orders_are_named_and_not_applied(tmp_path: Path) -> None:
    path = write_folder(small_voyage(), tmp_path)
    before = read_folder(path)
    (path / "orders").mkdir()
    (path / "orders" / "berth.csv").write_text("table,id,column,was,becomes,from,received,firm\n")
    after = read_folder(path)
    assert (after.orders, after.digest, after.not_read) == (("berth.csv",), before.digest, ())


def test_other_files_are_named_as_not_read(tmp_path: Path) -> None:
    path = write_folder(small_voyage(), tmp_path)
    (path / "plan").mkdir()
    (path / "plan" / "plan.json").write_text("{}")
    (path / "notes.txt").write_text("ask the agent")
    assert read_folder(path).not_read == ("notes.txt", "plan/plan.json")


def test_a_byte_order_mark_and_other_line_ends_are_read(tmp_path: Path) -> None:
    path = write_folder(small_voyage(), tmp_path)
    before = read_folder(path).digest
    file = path / "week" / "entries.csv"
    file.write_bytes(b"\xef\xbb\xbf" + file.read_bytes().replace(b"\n", b"\r\n"))
    assert read_folder(path).digest == before


def test_blank_rows_are_counted_as_blank(tmp_path: Path) -> None:
    tables = small_voyage()
    tables["places"][2:2] = [[""] * 8, [" "] * 8]
    counts = dict(read_folder(write_folder(tables, tmp_path)).rows)["places"]
    assert (counts.read, counts.taken, counts.blank) == (4, 2, 2)


def test_optional_tables_may_be_missing(tmp_path: Path) -> None:
    tables = small_voyage()
    tables = put(tables, "entries", 2, "needs", "")
    for name in ("permissions", "visitors", "readings", "progress"):
        del tables[name]
    assert read_folder(write_folder(tables, tmp_path)).permissions == ()


def test_a_new_folder_can_be_read_as_it_is(tmp_path: Path) -> None:
    begin_folder(tmp_path / "new")
    folder = read_folder(tmp_path / "new")
    assert all(count.taken >= 1 for _, count in folder.rows)
    assert len(folder.rows) == sum(not table.key_value for table in FILES)
