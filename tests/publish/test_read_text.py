"""What the officer reads after `lull read`."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

from scheduler.domain.folder import VoyageFolder
from scheduler.domain.policy import Policy
from scheduler.publish.page import WIDTH_COLUMNS
from scheduler.publish.read_text import read_text
from tests.a_folder import START, a_folder


def _said(folder: VoyageFolder | None = None) -> str:
    return read_text(folder or a_folder())


def _flat(text: str) -> str:
    return " ".join(text.split())


def test_every_table_stands_with_what_was_read_taken_and_blank() -> None:
    lines = [line.split() for line in _said().splitlines()]
    assert [
        "entries",
        "4",
        "3",
        "1",
        "1",
        "must,",
        "1",
        "should,",
        "1",
        "could;",
        "7",
        "h",
        "inside",
        "in",
        "all",
    ] in lines
    assert ["spaces", "3", "3", "0", "2", "ballast", "tank,", "1", "void"] in lines


def test_the_tables_are_summed() -> None:
    assert ["all", "7", "6", "1"] in [line.split() for line in _said().splitlines()]


def test_the_week_is_said_in_ships_time_with_its_clock_change() -> None:
    said = _flat(_said())
    assert "Mon 8 March 03:00 (UTC+03:00) to Mon 15 March 02:00 (UTC+02:00), 7 days." in said
    assert "Thu 11 March: Clocks go back 1 h at 01:00, to 00:00 (UTC+02:00)." in said


def test_a_step_outside_the_week_is_not_told() -> None:
    steps = (*a_folder().clocks, replace(a_folder().clocks[0], at=START + timedelta(days=9), offset=timedelta(hours=1)))
    assert _said(replace(a_folder(), clocks=steps)).count("Clocks go") == 1


def test_the_forecast_is_said_with_its_age_and_where_it_ends() -> None:
    # Issued six hours before the week; its last step is at 00:00 UTC on the 13th, two days before the week's end.
    said = _flat(_said())
    assert "Issued Sun 7 March 21:00, 6 h old as the week begins; 2 rows of that issue" in said
    assert "The last 48 h of the week have no weather basis." in said


def test_rows_of_an_older_issue_do_not_count() -> None:
    old = replace(a_folder().weather[0], issued=START - timedelta(days=2))
    assert "2 rows of that issue" in _flat(_said(replace(a_folder(), weather=(old, *a_folder().weather))))


def test_a_folder_without_a_forecast_says_so() -> None:
    assert "None: every hour at sea is without a weather basis." in _said(replace(a_folder(), weather=()))


def test_what_is_missing_and_what_was_not_read_are_named() -> None:
    said = _said()
    assert "volume_m3 of 5S is blank" in said and "notes.txt" in said


def test_a_looser_limit_is_named_as_such() -> None:
    assert "at_once.open is looser than its source: a caution on every output." in _said()


def test_hours_in_the_policy_read_as_hours() -> None:
    folder = replace(a_folder(), policy=Policy(overrides={"hours.work": (("06:00", "11:00"), ("12:00", "18:00"))}))
    assert "hours.work = 06:00 to 11:00, 12:00 to 18:00" in _said(folder)


def test_no_line_is_wider_than_a_hundred_columns() -> None:
    folder = replace(a_folder(), missing=("a blank cell in a table, " * 20,))
    assert max(map(len, _said(folder).splitlines())) <= WIDTH_COLUMNS


def test_a_port_order_is_named_as_not_applied() -> None:
    said = _said(replace(a_folder(), orders=("1-berth-advanced.csv",)))
    assert "PORT ORDERS, NONE OF THEM APPLIED\n  1-berth-advanced.csv\n" in said
