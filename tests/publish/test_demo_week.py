"""The demonstration week as it is printed: nothing of the plan is missing from the text."""

from __future__ import annotations

import pytest

from scheduler.domain.folder import VoyageFolder
from scheduler.domain.plan import Plan
from scheduler.domain.planfile import plan_json, read_plan
from scheduler.publish.page import WIDTH_COLUMNS
from scheduler.publish.speech import Speech
from scheduler.publish.week_text import week_text


@pytest.fixture(scope="module")
def text(demo_folder: VoyageFolder, demo_plan: Plan) -> str:
    return week_text(demo_folder, demo_plan)


@pytest.fixture(scope="module")
def flat(text: str) -> str:
    return " ".join(text.split())


def test_the_plan_comes_back_from_its_file(demo_plan: Plan) -> None:
    assert read_plan(plan_json(demo_plan)) == demo_plan


def test_the_counts_add_up_and_stand_first(text: str, demo_folder: VoyageFolder) -> None:
    assert text.splitlines()[1].startswith(f"{len(demo_folder.entries)} entries asked: ")
    assert "DO NOT ADD UP" not in text


def test_the_week_fits_the_page(text: str) -> None:
    assert max(map(len, text.splitlines())) <= WIDTH_COLUMNS


def test_every_phase_of_every_entry_is_printed_with_its_times(
    flat: str, demo_folder: VoyageFolder, demo_plan: Plan
) -> None:
    say = Speech.of(demo_folder)
    phases = [phase for entry in demo_plan.entries for phase in entry.phases]
    missing = [phase for phase in phases if f"{say.until(phase.start, phase.end)}: {phase.phase}" not in flat]
    assert phases and missing == []


def test_every_entry_that_is_left_out_is_named_with_a_reason(flat: str, demo_plan: Plan) -> None:
    left_out = [entry for entry in demo_plan.entries if entry.outcome == "left out"]
    part = flat.split("LEFT OUT AND BROKEN OFF")[1].split("THE WEEK BY DAY")[0]
    assert left_out and all(entry.reasons and f"{entry.entry} (" in part for entry in left_out)


def test_every_operation_whose_time_was_chosen_is_printed(flat: str, demo_plan: Plan) -> None:
    chosen = [row.operation for row in demo_plan.operations if row.moved]
    part = flat.split("Operations whose time the plan chose:")[1].split("LEFT OUT")[0]
    assert chosen and all(f" {operation} " in part or f" {operation}." in part for operation in chosen)


def test_every_session_that_hangs_on_easing_says_so(text: str, demo_plan: Plan) -> None:
    # One line for each test and each session that an easing of its entry touches.
    hanging = sum(
        easing.start < phase.end and phase.start < easing.end
        for entry in demo_plan.entries
        for phase in entry.phases
        if phase.phase in ("test", "enter")
        for easing in entry.easing
    )
    assert hanging and text.count("ONLY WHILE she") == hanging


def test_all_clock_changes_of_the_week_are_told(text: str) -> None:
    # The demonstration voyage puts its clocks back one hour on three nights.
    assert text.count("Clocks go back 1 h at 02:00, to 01:00") == 3


def test_everyone_aboard_has_a_line_of_rest(text: str, demo_folder: VoyageFolder) -> None:
    part = text.split("LEAST REST OF EACH PERSON")[1].split("\nCAUTIONS")[0]
    assert all(f"{person.rank} {person.name}" in part for person in demo_folder.people)


def test_no_more_than_five_cautions_stand_before_the_rest(text: str, demo_plan: Plan) -> None:
    part = text.split("\nCAUTIONS")[1]
    assert len(demo_plan.cautions) > 5 and "\n6. " not in part.split("FURTHER CAUTION")[0]
    assert f"\n{len(demo_plan.cautions)}. " in part


def test_the_week_never_says_safe_nor_proven(text: str) -> None:
    assert not {"safe", "safely", "proven", "guaranteed"} & set(
        text.lower().replace(".", " ").replace(",", " ").split()
    )
