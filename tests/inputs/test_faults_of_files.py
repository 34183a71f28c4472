"""A file that cannot be read as it lies there is refused in words, with the row where it shows."""

from __future__ import annotations

from pathlib import Path

import pytest

from scheduler.errors import InputFaults
from scheduler.inputs import begin_folder, read_folder
from scheduler.inputs.conserve import lost_rows
from scheduler.inputs.csv_file import LARGEST_BYTES
from scheduler.inputs.folder import gather, read_tables
from scheduler.inputs.records import records_of
from tests.inputs.small_voyage import faults_in, small_voyage, write_folder


@pytest.fixture
def path(tmp_path: Path) -> Path:
    return write_folder(small_voyage(), tmp_path / "voyage")


def rewrite(file: Path, old: str, new: str) -> None:
    text = file.read_text(encoding="utf-8")
    assert old in text
    file.write_text(text.replace(old, new, 1), encoding="utf-8", newline="")


# (file, what is replaced, by what, the message)
TEXTS = [
    ("week/places.csv", "notice_h", "notice_hours", "places.csv, row 1: 'notice_hours' is not a column of this table"),
    ("week/places.csv", "notice_h,", "", "places.csv, row 1, column notice_h: this column is missing; expected the"),
    ("week/places.csv", "venting", "coating", "places.csv, row 1, column coating: this column stands here twice"),
    ("week/places.csv", "notice_h", "", "places.csv, row 1: column number 7 has no name; expected a name over each"),
    (
        "week/places.csv",
        "ask,allowed,allowed,,",
        "ask,allowed,allowed,,,",
        "places.csv, row 2: 9 cells stand in this row",
    ),
    (
        "week/places.csv",
        "allowed,allowed,,",
        "allowed,allowed,",
        "places.csv, row 2: 7 cells stand in this row; expected",
    ),
    ("week/places.csv", "48,", '48,"quoted', "places.csv, row 3: its quotes or cells cannot be told apart from here"),
    ("week/places.csv", "48,", '48,"a" b', "places.csv, row 3: its quotes or cells cannot be told apart from here"),
    ("week/places.csv", "place,", "\nplace,", "places.csv: its first line is blank; expected a line with the names"),
    (
        "week/places.csv",
        "48,",
        "48,\0",
        "places.csv: it has NUL bytes in it, as UTF-16 and damaged files have; expected",
    ),
    ("week/places.csv", "48,", "4\r8,", "places.csv, row 3: it has a carriage return alone in it; expected lines that"),
    (
        "week/places.csv",
        "Teasel Roads",
        "Fallow Deep",
        "places.csv, row 3, column place: 'Fallow Deep' stands already in",
    ),
    (
        "crew/duties.csv",
        "P3,2027-03-09T08:00",
        "P2,2027-03-08T03:00Z",
        "duties.csv, row 3, column person: 'P2 | 2027-03-08",
    ),
    ("ship/ship.toml", "length_m = 141.5", "length_m 141.5", "ship.toml, row 3: it is not TOML ("),
    ("ship/ship.toml", "length_m = 141.5\n", "", "ship.toml, column length_m: this key is missing; expected the key"),
    ("ship/ship.toml", "beam_m = 23", "beam_m = [23, 24]", "ship.toml, row 4, column beam_m: '23; 24' is not a number"),
    ("ship/ship.toml", "fuel.2.t_per_day", "fuel.2.tonnes", "ship.toml, column fuel.2.t_per_day: this key is missing"),
    (
        "ship/policy.toml",
        "entrants_min = 2",
        "entrants_min = true",
        "policy.toml, row 1, column entrants_min: 'yes' is not",
    ),
    (
        "ship/policy.toml",
        "entrants_min = 2",
        "entrants_min = nan",
        "policy.toml, row 1, column entrants_min: 'nan' is not",
    ),
    (
        "week/week.toml",
        "days = 7",
        "dayz = 7",
        "week.toml, row 2, column dayz: 'dayz' is no key of week; expected only",
    ),
]


@pytest.mark.parametrize(("file", "old", "new", "message"), TEXTS)
def test_a_broken_text_is_named_where_it_breaks(path: Path, file: str, old: str, new: str, message: str) -> None:
    rewrite(path / file, old, new)
    assert any(str(fault).startswith(message) for fault in faults_in(path)), faults_in(path)


@pytest.mark.parametrize(
    ("file", "message"),
    [
        ("week/entires.csv", "week/entires.csv: no table of a voyage folder has this name in this place"),
        ("extra.CSV", "extra.CSV: no table of a voyage folder has this name in this place"),
        ("week/spaces.csv", "week/spaces.csv: no table of a voyage folder has this name in this place"),
        ("weak/entries.csv", "weak/entries.csv: no table of a voyage folder has this name in this place"),
        ("week/route.csv", "week/route.csv: a route file is not read yet; expected legs in voyage.csv"),
        ("week/passage.rtz", "week/passage.rtz: a route file is not read yet; expected legs in voyage.csv"),
        ("week/forecast.grb2", "week/forecast.grb2: a forecast file is not read yet; expected legs in voyage.csv"),
    ],
)
def test_a_file_that_would_be_passed_over_is_a_fault(path: Path, file: str, message: str) -> None:
    (path / file).parent.mkdir(exist_ok=True)
    (path / file).write_text("a,b\n")
    (fault,) = faults_in(path)
    assert str(fault).startswith(message)


@pytest.mark.parametrize(
    ("data", "message"),
    [
        ("place\n".encode("utf-16"), "places.csv: it is written in UTF-16; expected UTF-8. Save it as 'CSV UTF-8'"),
        (b"place\n\nM\xe5l\xf8y\n", "places.csv, row 3: it has bytes that are not UTF-8; expected UTF-8."),
        (b"", "places.csv: its first line is blank; expected a line with the names of its columns."),
        (b" " * (LARGEST_BYTES + 1), f"places.csv: {LARGEST_BYTES + 1} bytes were found; expected at most"),
        (b"a" * 200_000, "places.csv, row 1: its quotes or cells cannot be told apart from here on (field larger"),
    ],
)
def test_a_file_that_is_no_table_is_one_fault(path: Path, data: bytes, message: str) -> None:
    (path / "week" / "places.csv").write_bytes(data)
    (fault,) = faults_in(path)
    assert str(fault).startswith(message)


def test_a_missing_table_is_a_fault(path: Path) -> None:
    (path / "week" / "operations.csv").unlink()
    (path / "week" / "week.toml").unlink()
    faults = [str(fault) for fault in faults_in(path)]
    assert "operations.csv: this table is missing; expected the file week/operations.csv." in faults[0]
    assert any(fault.startswith("week.toml: this table is missing") for fault in faults)


def test_a_folder_with_the_name_of_a_table_is_no_table(path: Path) -> None:
    (path / "week" / "places.csv").unlink()
    (path / "week" / "places.csv").mkdir()
    assert [str(fault)[:33] for fault in faults_in(path)] == ["places.csv: this table is missing"]


def test_nothing_at_the_path_is_a_fault(tmp_path: Path) -> None:
    (fault,) = faults_in(tmp_path / "nowhere")
    assert fault.found == "there is nothing here"


def test_a_new_folder_overwrites_nothing(path: Path) -> None:
    before = (path / "week" / "entries.csv").read_bytes()
    with pytest.raises(InputFaults, match="this file is there already"):
        begin_folder(path)
    assert (path / "week" / "entries.csv").read_bytes() == before


def test_a_row_that_was_lost_on_the_way_stops_everything(path: Path) -> None:
    found = gather(path)
    voyage, faults = read_tables(found)
    assert faults == []
    rows = dict(voyage.rows)
    rows["operations"] = rows["operations"][1:]  # as a reader with a slip in it would
    assert len(records_of(rows, voyage.clock).operations) == 2
    lost = lost_rows(_counts(rows, found, voyage), found.tables)
    assert [str(fault) for fault in lost] == [
        "operations.csv: 3 rows were counted, 2 taken and 0 blank; expected every row taken or blank. "
        "Nothing was read. Save the table again, one line a row, and tell the makers of Lull."
    ]


def _counts(rows, found, voyage):  # type: ignore[no-untyped-def]
    from scheduler.inputs.conserve import row_counts

    return row_counts(records_of(rows, voyage.clock), rows, found.tables)


def test_a_folder_is_read_from_anywhere(path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(path)
    assert read_folder(Path()).digest == read_folder(path).digest
