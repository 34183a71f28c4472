"""What holds of every folder: no row vanishes, no id is guessed, and less said is never less caution."""

from __future__ import annotations

import csv
import unicodedata
from datetime import datetime
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from scheduler.domain.folder import VoyageFolder
from scheduler.errors import InputFaults
from scheduler.inputs import read_folder
from tests.inputs.small_voyage import Tables, put, small_voyage, write_folder

QUICK = settings(
    max_examples=30, deadline=None, derandomize=True, suppress_health_check=[HealthCheck.function_scoped_fixture]
)
GOOD = small_voyage()
ROW_TABLES = sorted(name for name in GOOD if name not in ("ship", "policy", "week"))
RECORDS = {"voyage": "legs"}


def read(tables: Tables, path: Path) -> VoyageFolder | None:
    try:
        return read_folder(write_folder(tables, path))
    except InputFaults:
        return None


@pytest.fixture(scope="module")
def good(tmp_path_factory: pytest.TempPathFactory) -> VoyageFolder:
    return read_folder(write_folder(GOOD, tmp_path_factory.mktemp("good")))


LOOKS = {"P": "\u0420\u03a1p\uff30", "2": "\uff12\u00b2Z\u0662"}
SLIPS = ["cut", ",", '"', '""', ";", "\n", "\n\n", ",,", " ", "0", "line out", "line twice"]
ANY_TEXT_IN = [("entries", 2, "note"), ("people", 2, "name"), ("spaces", 3, "space"), ("voyage", 2, "start")]


@st.composite
def written_otherwise(draw: st.DrawFn, name: str) -> str:
    """An id with letters swapped for others of their look, width or case, blanks and marks put in."""
    letters = [draw(st.sampled_from(letter + LOOKS.get(letter, ""))) for letter in name]
    at = draw(st.integers(0, len(letters)))
    letters.insert(at, draw(st.sampled_from(["", "", " ", "\t", "\u00a0", "-", ".", "\u200b", "\u0301"])))
    return "".join(letters)


def same_name(one: str, other: str) -> bool:
    """Trimmed, NFKC, case-folded: the one rule, written a second time."""
    return unicodedata.normalize("NFKC", one).strip().casefold() == other.casefold()


@QUICK
@given(st.data())
def test_an_id_written_otherwise_is_the_same_space_or_refused(
    tmp_path: Path, good: VoyageFolder, data: st.DataObject
) -> None:
    table, row, column = data.draw(
        st.sampled_from([("entries", 2, "space"), ("operations", 2, "spaces"), ("contents", 2, "space")])
    )
    text = data.draw(written_otherwise("2P"))
    folder = read(put(GOOD, table, row, column, text), tmp_path)
    assert (folder is not None) == same_name(text, "2P")
    if folder:
        assert folder.digest == good.digest
        assert (folder.entries, folder.operations) == (good.entries, good.operations)


@st.composite
def damaged(draw: st.DrawFn, text: str) -> str:
    """A table's text with a few slips of hand or program in it."""
    for _ in range(draw(st.integers(1, 3))):
        at = draw(st.integers(0, len(text)))
        slip = draw(st.sampled_from(SLIPS))
        lines = text.split("\n")
        number = text[:at].count("\n")
        if slip == "cut":
            text = text[:at] + text[at + 1 :]
        elif slip == "line out":
            text = "\n".join(lines[:number] + lines[number + 1 :])
        elif slip == "line twice":
            text = "\n".join([*lines[:number], *lines[number : number + 1] * 2, *lines[number + 1 :]])
        else:
            text = text[:at] + slip + text[at:]
    return text


@settings(QUICK, max_examples=120)
@given(st.data())
def test_a_damaged_table_is_refused_or_every_line_of_it_is_taken(tmp_path: Path, data: st.DataObject) -> None:
    name = data.draw(st.sampled_from(ROW_TABLES))
    path = write_folder(GOOD, tmp_path)
    file = next(path.glob(f"*/{name}.csv"))
    text = data.draw(damaged(file.read_text(encoding="utf-8")))
    file.write_text(text, encoding="utf-8", newline="")
    try:
        folder = read_folder(path)
    except InputFaults:
        return
    filled = [line for line in text.split("\n")[1:] if line.strip(', "')]
    rows = {record.origin.row for record in getattr(folder, RECORDS.get(name, name))}
    assert len(rows) == len(filled)
    count = dict(folder.rows)[name]
    assert count.read == count.taken + count.blank == len(text.removesuffix("\n").split("\n")) - 1


@QUICK
@given(st.data())
def test_the_order_of_rows_changes_nothing(tmp_path: Path, good: VoyageFolder, data: st.DataObject) -> None:
    tables = {name: [rows[0], *data.draw(st.permutations(rows[1:]))] for name, rows in GOOD.items()}
    folder = read(tables, tmp_path)
    assert folder
    assert (folder.digest, folder.forecast_digest, folder.seen_digest) == (
        good.digest, good.forecast_digest, good.seen_digest,
    )  # fmt: skip
    assert [leg.leg for leg in folder.legs] == [leg.leg for leg in good.legs]
    assert [pipe.device_id for pipe in folder.lines] == [pipe.device_id for pipe in good.lines]


@QUICK
@given(hour=st.integers(0, 23), day=st.integers(8, 14), length=st.integers(1, 30))
def test_an_operation_without_its_end_ends_no_earlier(tmp_path: Path, hour: int, day: int, length: int) -> None:
    start = datetime(2027, 3, day, hour)  # noqa: DTZ001 - only written, with Z behind it
    written = f"{start:%Y-%m-%dT%H:%M}Z"
    tables = put(GOOD, "operations", 4, "start", written)
    ended = read(put(tables, "operations", 4, "end", f"2027-03-{day + length // 24 + 1:02d}T{hour:02d}:00Z"), tmp_path)
    open_ended = read(put(tables, "operations", 4, "end", ""), tmp_path)
    assert ended
    assert open_ended
    drill, endless = (next(o for o in f.operations if o.operation == "DR") for f in (ended, open_ended))
    assert endless.start == drill.start
    assert (endless.end or open_ended.week.end) >= min(drill.end or ended.week.end, ended.week.end)
    assert any("DR has no end" in caution for caution in open_ended.missing)


@QUICK
@given(text=st.text(max_size=12), where=st.sampled_from(ANY_TEXT_IN))
def test_no_text_in_a_cell_makes_the_reader_fall_over(tmp_path: Path, text: str, where: tuple[str, int, str]) -> None:
    path = write_folder(GOOD, tmp_path)
    table, row, column = where
    rows = put(GOOD, table, row, column, text)[table]
    file = next(path.glob(f"*/{table}.csv"))
    with file.open("w", encoding="utf-8", errors="surrogatepass", newline="") as out:
        csv.writer(out, lineterminator="\n").writerows(rows)
    try:
        folder = read_folder(path)
    except InputFaults as faults:
        assert all(str(fault).isprintable() or "\u3000" in str(fault) for fault in faults.faults)
        return
    assert dict(folder.rows)[table].read == len(rows) - 1
