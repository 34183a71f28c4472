"""One wrong cell is one fault, which names file, row, column, what stood there and what is allowed."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from tests.inputs.small_voyage import faults_in, put, small_voyage, write_folder, write_workbook

# (table, row, column, what is written there, how the message begins after the place)
CELLS = [
    ("entries", 2, "space", "2X", "'2X' is no id of spaces; expected an id of spaces. Nearest known: 2P."),
    ("entries", 2, "space", "2\u0420", "'2\u0420' is no id of spaces (it has CYRILLIC CAPITAL LETTER ER in it)"),
    ("entries", 2, "space", "", "nothing stands here, and it may not be blank; expected an id of spaces."),
    ("entries", 2, "work", "inspekt", "'inspekt' is not known here; expected inspect, measure,"),
    ("entries", 2, "hours", "3,5", "'3,5' has a decimal comma; expected a number with a decimal point above 0"),
    ("entries", 2, "hours", "1e1", "'1e1' is not a number that can be read; expected a number"),
    ("entries", 2, "hours", "NaN", "'NaN' is not a number that can be read; expected a number"),
    ("entries", 2, "hours", "0", "'0' is out of range; expected a number with a decimal point above 0, at most 300."),
    (
        "entries",
        2,
        "entrants",
        "2.5",
        "'2.5' is not a whole number; expected a whole number of at least 1, at most 20.",
    ),
    ("entries", 2, "entrants", "1", "'1' is fewer than policy's entrants_min; expected at least 2."),
    ("entries", 2, "priority", "4", "'4' is out of range; expected a whole number of at least 1, at most 3."),
    ("entries", 2, "splittable", "maybe", "'maybe' is neither yes nor no; expected yes or no."),
    ("entries", 2, "earliest", "31/02/2027 06:00", "'31/02/2027 06:00' is not a time; expected 2027-03-08T06:00 in"),
    (
        "entries",
        2,
        "earliest",
        "2027-02-29T06:00",
        "'2027-02-29T06:00' cannot be read: '2027-02-29T06:00' is not a time",
    ),
    ("entries", 2, "earliest", "46089.25", "'46089.25' is a plain number, not a time; expected 2027-03-08T06:00 in"),
    ("entries", 2, "due", "2027-03-09T07:59", "'2027-03-09T07:59' is not after earliest (2027-03-09T08:00); expected"),
    ("entries", 2, "at", "2027-03-13T08:00", "'2027-03-13T08:00' is not before due; expected a time between"),
    ("entries", 3, "least_session_hours", "6", "'6' is more than the hours of the entry; expected at most its hours."),
    ("entries", 3, "after", "E2", "E2 waits for E2; expected an order without a circle."),
    ("entries", 3, "after", "E1; E1", "'E1; E1' names one thing twice; expected a list with ; of ids of entries."),
    ("entries", 3, "after", "E1;", "'E1;' has an empty place between semicolons; expected a list"),
    ("entries", 2, "needs", "KLASS", "'KLASS' is no id of visitors; expected a list with ; of ids of visitors."),
    ("entries", 3, "only", "P9", "'P9' is no id of people; expected a list with ; of ids of people."),
    (
        "entries",
        2,
        "purpose",
        "look\u202eat",
        "'look\\u202eat' has characters in it that do not show (U+202E); expected",
    ),
    ("entries", 2, "note", "a\x07b", "'a\\x07b' has characters in it that do not show (U+0007); expected text of one"),
    ("entries", 2, "note", "two\nlines", "'two\\nlines' has characters in it that do not show (U+000A); expected text"),
    ("operations", 2, "latest", "2027-03-08T09:59", "4 hours do not fit between earliest and '2027-03-08T09:59'"),
    ("operations", 4, "hours", "1", "start and hours are both given; expected start (and end), or else earliest,"),
    ("operations", 2, "latest", "", "it is neither fixed nor movable; expected start (and end), or else earliest,"),
    ("operations", 2, "spaces", "", "a ballast out names no space; expected the spaces that it works on."),
    ("operations", 2, "lines", "B2I", "'B2I' is no id of lines or spaces; expected a list with ; of ids of lines or"),
    ("operations", 2, "after", "IN", "IN waits for OUT waits for IN; expected an order without a circle."),
    (
        "operations",
        4,
        "people",
        "rigging",
        "'rigging' has 'rigging', which is no pair with ':'; expected pairs such as",
    ),
    (
        "operations",
        4,
        "people",
        "rigger:2",
        "'rigger' is not known here; expected pairs such as rigging:2; entrant:1 of",
    ),
    ("operations", 4, "end", "2027-03-10T15:00", "'2027-03-10T15:00' is not after start (2027-03-10T15:00); expected"),
    ("spaces", 2, "volume_m3", "-410", "'-410' is out of range; expected a number with a decimal point above 0"),
    ("spaces", 2, "volume_m3", "1,410", "'1,410' has thousands separators or a decimal comma; expected a number"),
    (
        "openings",
        3,
        "opening",
        "\uff12p-\uff2d",
        "'\uff12p-\uff2d' stands already in row 2; expected each opening once",
    ),
    ("openings", 2, "opening", "2P;M", "'2P;M' has a mark in it that separates lists; expected an id without"),
    ("neighbours", 4, "neighbour", "2P", "'2P' is the space itself; expected another space."),
    ("lines", 2, "to_point", "bilge 2P", "'bilge 2P' is neither a space nor a named point; expected a space, or"),
    ("lines", 4, "device_id", "", "a spectacle blank has no id; expected the id on its tag."),
    ("lines", 4, "device_id", "b21", "'b21' stands already in row 2; expected each device_id once."),
    ("gear", 3, "due", "", "a gas instrument has no date; expected the last date on which it may be used."),
    ("gear", 3, "due", "30.6.2027", "'30.6.2027' is not a date; expected a date such as 2027-03-08."),
    ("gear", 3, "count", "4", "'4' stand in one row of kind gas instrument; expected one row for each, count 1."),
    ("duties", 2, "end", "2027-03-09T04:01", "'2027-03-09T04:01' is over a day after the start of a daily duty"),
    (
        "duties",
        3,
        "until",
        "2027-03-12T00:00",
        "'2027-03-12T00:00' stands beside a duty that does not repeat; expected",
    ),
    ("duties", 2, "person", "p 2", "'p 2' is no id of people; expected an id of people. Nearest known: P2."),
    (
        "past_hours",
        2,
        "start",
        "2027-02-20T08:00",
        "'2027-02-20T08:00' in ship's time is before the first row of clocks",
    ),
    ("past_hours", 2, "end", "2027-03-08T02:00", "'2027-03-08T02:00' is after the week's start; expected at most"),
    (
        "people",
        2,
        "able",
        "gas tester; cook",
        "'cook' is not known here; expected a list with ; of entrant, attendant,",
    ),
    ("clocks", 2, "at", "2027-03-01T00:00", "'2027-03-01T00:00' has no Z at its end; expected an instant in UTC"),
    ("clocks", 3, "offset", "+15:00", "'+15:00' cannot be read: '+15:00' is outside"),
    ("voyage", 2, "speed_kn", "", "a passage has a blank here; expected a value: a passage has two ends and a speed."),
    ("voyage", 2, "speed_kn", "15", "'15' is above the ship's greatest speed; expected at most 14.5."),
    ("voyage", 2, "from_lat", "", "from_lon is given and from_lat is not; expected both or neither."),
    (
        "voyage",
        3,
        "from_lat",
        "131.5",
        "'131.5' is out of range; expected a number with a decimal point of at least -90",
    ),
    ("voyage", 3, "start", "2027-03-11T22:00Z", "'2027-03-11T22:00Z' is before V1 (row 2) ends; expected at or after"),
    (
        "voyage",
        3,
        "lies_to",
        "north",
        "'north' is neither a word that is known here nor a heading; expected wind, tide,",
    ),
    ("permissions", 2, "place", "Teasel Road", "'Teasel Road' is no id of place names; expected an id of place names."),
    (
        "permissions",
        2,
        "what",
        "painting",
        "'painting' is not known here; expected entries, hot_work, coating, venting or",
    ),
    (
        "conditions",
        2,
        "may_be_empty",
        "2P+2P",
        "'2P+2P' names one space twice in '2P+2P'; expected sets of ids of spaces",
    ),
    ("conditions", 2, "may_be_empty", "2P+C2", "C2 is not full in this condition; expected spaces of the column full."),
    (
        "cargoes",
        2,
        "cas",
        "62-53-4",
        "'62-53-4' is no CAS number: its form or its check digit is wrong; expected a CAS",
    ),
    (
        "coatings",
        2,
        "solvents",
        "1330-20-7:60; 71-36-3:60",
        "'1330-20-7:60; 71-36-3:60' adds up to more than 100 percent",
    ),
    (
        "weather",
        3,
        "time",
        "2027-04-15T00:00Z",
        "'2027-04-15T00:00Z' is 38.5 days after its issue; expected a time from",
    ),
    ("weather", 2, "lat", "30", "lat is given and lon is not; expected both or neither."),
    (
        "readings",
        2,
        "oxygen_percent",
        "209",
        "'209' is out of range; expected a number with a decimal point of at least 0",
    ),
    ("progress", 2, "what", "E7", "'E7' is no id of entries or operations; expected an id of entries or operations."),
]
CELLS += [
    ("coatings", 2, "solvents", "1330-20-7:much", "'1330-20-7:much' has 'much', which is no share in percent"),
    ("coatings", 2, "solvents", "71-36-3:9; 71-36-3:8", "'71-36-3:9; 71-36-3:8' names 71-36-3 twice; expected"),
    ("conditions", 2, "may_be_empty", "2P+", "'2P+' has an empty place beside a +; expected sets of ids of spaces"),
    ("conditions", 2, "may_be_empty", "2P+2S; 2S+2P", "'2P+2S; 2S+2P' names one set twice; expected sets of ids"),
    ("operations", 4, "people", "rigging:0", "'rigging:0' asks for '0' people, which is no count from 1 to 99"),
    ("operations", 4, "people", "rigging:1; Rigging:2", "'rigging:1; Rigging:2' names rigging twice; expected pairs"),
    ("operations", 4, "start", "", "an end is given and no start; expected start (and end), or else earliest,"),
    ("operations", 4, "kind", "", "nothing stands here, and it may not be blank; expected load, discharge,"),
    ("duties", 2, "until", "2027-03-08T04:00", "'2027-03-08T04:00' is not after the first start; expected a later"),
    ("entries", 2, "at", "2027-03-09T07:00", "'2027-03-09T07:00' is before earliest; expected a time between"),
    ("lines", 4, "to_point", "2S", "'2S' is the point itself; expected the point at the other side of the device."),
    ("voyage", 2, "arrive_by", "2027-03-07T00:00Z", "'2027-03-07T00:00Z' is before the leg begins; expected a time"),
    ("clocks", 3, "offset", "1", "'1' cannot be read: '1' is no offset; write"),
    ("gear", 3, "measures", "oxygen;", "'oxygen;' has an empty place between semicolons; expected a list with ;"),
]
TOLD_AT = {
    # a circle is told from its first name in the order of letters, half a position where it is blank
    ("operations", 2, "after", "IN"): (3, "after"),
    ("weather", 2, "lat", "30"): (2, "lon"),
}
KEYS = [
    ("policy", "entrants_min", "{}", "'{}' is not a number that can be read; expected a whole number of at least 2"),
    (
        "ship",
        "beam_m",
        "23 m",
        "'23 m' is not a number that can be read; expected a number with a decimal point above 4",
    ),
    ("ship", "type", "tug", "'tug' is not known here; expected tanker, bulk carrier, gas carrier or other."),
    ("ship", "least_speed_kn", "13.5", "'13' is less than least_speed_kn; expected at least 13.5."),
    ("ship", "fuel.2.t_per_day", "-1", "'-1' is out of range; expected a number with a decimal point of at least 0"),
    ("policy", "entrants_min", "1", "'1' is out of range; expected a whole number of at least 2, at most 6."),
    ("policy", "sea.heavy.free_m", "2.6", "sea.heavy.free_m is 2.6 and sea.heavy.eased_m is 2.5; expected"),
    ("week", "days", "0", "'0' is out of range; expected a whole number of at least 1, at most 28."),
    ("week", "start", "2027-03-08T00:05Z", "'2027-03-08T00:05Z' is 2027-03-08T00:05:00Z; expected a whole quarter"),
    ("week", "work_hours", "8-18", "'8-18' has '8-18', which is no pair of hh:mm; expected pairs such as"),
    ("week", "rest_days", "Funday", "'Funday' is not a date; expected weekdays or dates such as Sunday;"),
]


@pytest.mark.parametrize(("table", "row", "column", "value", "message"), CELLS)
def test_a_wrong_cell_is_named_by_file_row_and_column(
    tmp_path: Path, table: str, row: int, column: str, value: str, message: str
) -> None:
    broken = put(small_voyage(), table, row, column, value)
    (fault,) = faults_in(write_folder(broken, tmp_path))
    told_row, told_column = TOLD_AT.get((table, row, column, value), (row, column))
    assert str(fault).startswith(f"{table}.csv, row {told_row}, column {told_column}: {message}")


@pytest.mark.parametrize(("table", "row", "column", "value", "message"), CELLS[1::7])
def test_a_workbook_says_the_same_and_the_address_of_the_cell(
    tmp_path: Path, table: str, row: int, column: str, value: str, message: str
) -> None:
    broken = put(small_voyage(), table, row, column, value)
    (of_folder,) = faults_in(write_folder(broken, tmp_path / "folder"))
    (of_workbook,) = faults_in(write_workbook(broken, tmp_path / "voyage.xlsx"))
    assert message in str(of_workbook)
    letter = chr(ord("A") + small_voyage()[table][0].index(of_folder.column))
    assert replace(of_workbook, file=of_folder.file, cell="") == of_folder
    assert (of_workbook.file, of_workbook.cell) == (f"sheet {table}", f"{letter}{of_folder.row}")


@pytest.mark.parametrize(("table", "key", "value", "message"), KEYS)
def test_a_wrong_key_is_named_by_file_row_and_key(
    tmp_path: Path, table: str, key: str, value: str, message: str
) -> None:
    broken = put(small_voyage(), table, 0, key, value)
    (fault,) = faults_in(write_folder(broken, tmp_path))
    assert fault.file == f"{table}.toml"
    assert fault.row > 0
    assert f": {message}" in str(fault)


def test_a_folder_with_five_faults_lists_five(tmp_path: Path) -> None:
    broken = small_voyage()
    for table, row, column, value in (
        ("entries", 2, "space", "2X"), ("entries", 3, "hours", "-1"), ("operations", 2, "hours", "x"),
        ("people", 4, "department", "sails"), ("ship", 0, "beam_m", ""),
    ):  # fmt: skip
        broken = put(broken, table, row, column, value)
    assert [(fault.file, fault.column) for fault in faults_in(write_folder(broken, tmp_path))] == [
        ("entries.csv", "space"), ("entries.csv", "hours"), ("operations.csv", "hours"),
        ("people.csv", "department"), ("ship.toml", "beam_m"),
    ]  # fmt: skip


def test_a_time_that_the_clocks_show_twice_is_shown_with_both_readings(tmp_path: Path) -> None:
    # on the 11th at 01:00Z the clocks go from 02:00 back to 01:00
    broken = put(small_voyage(), "entries", 2, "due", "2027-03-11T01:30")
    (fault,) = faults_in(write_folder(broken, tmp_path))
    assert "twice, at 2027-03-11T00:30:00Z and 2027-03-11T01:30:00Z" in fault.found


def test_a_time_that_the_clocks_skip_is_shown_with_both_readings(tmp_path: Path) -> None:
    # on the 13th at 02:00Z the clocks go from 02:00 on to 03:00
    broken = put(small_voyage(), "entries", 2, "at", "2027-03-13T02:30")
    broken = put(broken, "entries", 2, "due", "2027-03-14T18:00")
    (fault,) = faults_in(write_folder(broken, tmp_path))
    assert "by the old offset it would be 2027-03-13T02:30:00Z, by the new one 2027-03-13T01:30:00Z" in fault.found


def test_a_table_that_cannot_be_read_breeds_no_faults_elsewhere(tmp_path: Path) -> None:
    path = write_folder(small_voyage(), tmp_path)
    (path / "ship" / "spaces.csv").unlink()
    assert [str(fault) for fault in faults_in(path)] == [
        "spaces.csv: this table is missing; expected the file ship/spaces.csv. "
        "Add it; a table may hold no row but its header."
    ]


def test_an_unknown_key_of_policy_is_named_with_the_nearest(tmp_path: Path) -> None:
    broken = small_voyage()
    broken["policy"].append(["test.valid_minutes", "20"])
    (fault,) = faults_in(write_folder(broken, tmp_path))
    assert (fault.file, fault.row, fault.column, fault.nearest) == (
        "policy.toml", 4, "test.valid_minutes", "test.valid_min",
    )  # fmt: skip


@pytest.mark.parametrize(
    ("table", "key", "value", "message"),
    [
        ("policy", "grid_min", "25", "'25' minutes do not divide an hour; expected 5, 6, 10, 12, 15, 20 or 30."),
        ("week", "frozen_until", "2027-03-16T00:00Z", "'2027-03-16T00:00Z' is after the week's end; expected at most"),
        ("week", "meals", "25:00-26:00", "'25:00-26:00' cannot be read: '25:00' is no time of day"),
        ("ship", "barred_speeds_kn", "9:7", "'9:7' has '9:7', which is no pair of numbers, lower first; expected"),
        ("ship", "barred_speeds_kn", "9", "'9' has '9', which is no pair with ':'; expected pairs such as"),
    ],
)
def test_a_key_that_is_given_wrongly_is_named(tmp_path: Path, table: str, key: str, value: str, message: str) -> None:
    broken = small_voyage()
    broken[table].append([key, value])
    (fault,) = faults_in(write_folder(broken, tmp_path))
    assert f".toml, row {len(broken[table]) - 1}, column {key}: {message}" in str(fault)


def test_a_key_that_stands_twice_is_a_fault(tmp_path: Path) -> None:
    broken = small_voyage()
    broken["week"].append(["Days", "8"])
    for path in (write_folder(broken, tmp_path / "folder"), write_workbook(broken, tmp_path / "voyage.xlsx")):
        (fault,) = faults_in(path)
        first = 2 if path.is_dir() else 3  # a sheet of keys has a header
        assert (fault.column, fault.found) == ("days", f"this key stands already in row {first}")


def test_a_cell_of_a_key_sheet_that_was_never_calculated_is_one_fault(tmp_path: Path) -> None:
    broken = put(small_voyage(), "week", 0, "days", "=3+4")
    (fault,) = faults_in(write_workbook(broken, tmp_path / "voyage.xlsx"))
    assert str(fault).startswith("sheet week, row 3, column value, cell B3: a formula stands here that was never")


def test_two_ids_that_only_look_alike_are_a_fault(tmp_path: Path) -> None:
    broken = small_voyage()
    broken["spaces"].append(["2\u0420", *broken["spaces"][1][1:]])
    (fault,) = faults_in(write_folder(broken, tmp_path))
    assert "looks like the one in row 2, in other letters" in fault.found


def test_neighbours_that_disagree_from_both_sides_are_a_fault(tmp_path: Path) -> None:
    broken = small_voyage()
    broken["neighbours"].append(["2P", "C2", "corner"])
    (fault,) = faults_in(write_folder(broken, tmp_path))
    assert fault.found == "'bulkhead' stands here, and corner from 2P to C2"


def test_an_id_of_an_entry_and_of_an_operation_is_a_fault(tmp_path: Path) -> None:
    broken = put(small_voyage(), "operations", 4, "operation", "e1")
    (fault,) = faults_in(write_folder(broken, tmp_path))
    assert str(fault).startswith("entries.csv, row 2, column entry: 'E1' is also an operation (operations.csv, row 4)")


def test_a_coating_entry_without_its_coating_is_a_fault(tmp_path: Path) -> None:
    broken = small_voyage()
    del broken["coatings"][1]
    (fault,) = faults_in(write_folder(broken, tmp_path))
    assert str(fault).startswith("entries.csv, row 3, column work: E2 coats and has no row in coatings")


def test_a_coating_of_an_entry_that_does_not_coat_is_a_fault(tmp_path: Path) -> None:
    broken = small_voyage()
    broken["coatings"].append(["E1", *broken["coatings"][1][1:]])
    (fault,) = faults_in(write_folder(broken, tmp_path))
    assert fault.found == "'E1' is an entry whose work is inspect (entries.csv, row 2)"


def test_a_week_that_begins_before_its_clock_is_a_fault(tmp_path: Path) -> None:
    broken = small_voyage()
    del broken["clocks"][1]
    path = write_folder(broken, tmp_path)
    assert any("is before the first row of clocks" in fault.found for fault in faults_in(path))


def test_conditions_that_overlap_are_a_fault(tmp_path: Path) -> None:
    broken = small_voyage()
    second = list(broken["conditions"][1])
    second[:3] = ["Other", "2027-03-14T00:00Z", "2027-03-16T00:00Z"]
    broken["conditions"].append(second)
    (fault,) = faults_in(write_folder(broken, tmp_path))
    assert fault.found == "'2027-03-14T00:00Z' is before Ballast (row 2) ends"
