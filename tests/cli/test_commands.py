"""The commands as an officer types them: exit codes, words, and never a traceback."""

from __future__ import annotations

import json
import os
import subprocess
import sys
import time
from pathlib import Path

import pytest

from scheduler.cli import FAULTS, NO_PLAN, NOT_A_PLAN, _broken, _Progress, plan_directory, run
from scheduler.domain.planfile import plan_json
from tests.a_plan import a_plan
from tests.conftest import DEMO

Told = pytest.CaptureFixture[str]


def _lull(*arguments: str, **environment: str) -> subprocess.CompletedProcess[bytes]:
    command = [sys.executable, "-m", "scheduler.cli", *arguments]
    return subprocess.run(
        command, capture_output=True, check=False, env={**os.environ, **environment}, cwd=DEMO.parent, timeout=120
    )


def test_help_answers_within_half_a_second() -> None:
    _lull("--help")  # the first run may have to compile
    began = time.perf_counter()
    done = _lull("--help")
    assert (done.returncode, time.perf_counter() - began < 0.5) == (0, True)


def test_only_commands_that_work_are_listed() -> None:
    listed = _lull("--help").stdout.decode().split("Commands:")[1].split("Exit codes")[0]
    names = [line.split()[0] for line in listed.splitlines() if line.startswith("  ") and line.strip()]
    assert names == ["begin", "read", "plan", "check"]


def test_the_version_is_said(capsys: Told) -> None:
    assert run(["--version"]) == 0
    assert capsys.readouterr().out.startswith("lull ")


def test_reading_the_demonstration_voyage_says_what_was_understood(capsys: Told) -> None:
    assert run(["read", str(DEMO)]) == 0
    out, err = capsys.readouterr()
    assert out.startswith("Larkspur Down, tanker") and err == ""


def test_reading_for_a_program_gives_counts_and_digests(capsys: Told) -> None:
    assert run(["read", str(DEMO), "--json"]) == 0
    told = json.loads(capsys.readouterr().out)
    assert told["tables"]["entries"]["read"] == told["tables"]["entries"]["taken"] == 24
    assert len(told["inputs"]["digest"]) == 64


def test_a_folder_that_is_not_there_is_an_input_fault(capsys: Told) -> None:
    assert run(["read", "no such folder"]) == FAULTS
    out, err = capsys.readouterr()
    assert out == "" and "no such folder" in err and err.endswith("1 fault. Nothing was written.\n")


def test_faults_are_told_to_a_program_part_by_part(capsys: Told) -> None:
    assert run(["read", "no such folder", "--json"]) == FAULTS
    told = json.loads(capsys.readouterr().out)
    assert told["error"] == "InputFaults"
    assert set(told["faults"][0]) >= {"file", "row", "column", "value", "found", "expected", "mend", "nearest"}


def test_planning_a_folder_that_is_not_there_writes_nothing(tmp_path: Path, capsys: Told) -> None:
    assert run(["plan", str(tmp_path / "none"), "--to", str(tmp_path / "out")]) == FAULTS
    assert list(tmp_path.iterdir()) == []
    assert "Traceback" not in capsys.readouterr().err


@pytest.mark.parametrize("text", ["", "{}", "[1, 2]", '{"format": "lull plan", "version": 9}', "\ufeff\x00"])
def test_a_file_that_is_no_plan_has_an_exit_code_of_its_own(text: str, tmp_path: Path, capsys: Told) -> None:
    path = tmp_path / "plan.json"
    path.write_text(text, encoding="utf-8")
    assert run(["check", str(DEMO), str(path)]) == NOT_A_PLAN
    assert str(path) in capsys.readouterr().err


@pytest.mark.parametrize("make", ["missing", "folder", "latin"])
def test_a_plan_file_that_cannot_be_read_is_no_plan_file(make: str, tmp_path: Path, capsys: Told) -> None:
    path = tmp_path / "plan.json"
    if make == "folder":
        path.mkdir()
    if make == "latin":
        path.write_bytes(plan_json(a_plan()).replace("Tern", "T\u00e9rn").encode("latin-1"))
    assert run(["check", str(DEMO), str(path)]) == NOT_A_PLAN
    assert capsys.readouterr().err.startswith(str(path))


@pytest.mark.parametrize(
    "arguments",
    [
        ["paln"], ["read"], ["check", "demo_voyage"], ["plan", "x", "--seed", "-1"], ["plan", "x", "--seed", "ten"],
        ["plan", "x", "--seconds", "0"], ["plan", "x", "--seconds", "nan"], ["plan", "x", "--seconds", "1e99"],
        ["read", "x", "--loud"],
    ],
)  # fmt: skip
def test_a_command_line_that_cannot_be_understood_is_told_and_refused(arguments: list[str], capsys: Told) -> None:
    assert run(arguments) == FAULTS
    out, err = capsys.readouterr()
    assert out == "" and "Error" in err


def test_a_place_that_takes_no_files_is_refused_before_any_work(tmp_path: Path, capsys: Told) -> None:
    file = tmp_path / "notes.txt"
    file.write_text("kept", encoding="utf-8")
    assert run(["plan", str(DEMO), "--to", str(file / "plan")]) == FAULTS
    assert "takes no files" in " ".join(capsys.readouterr().err.split())
    assert file.read_text(encoding="utf-8") == "kept"


def test_the_plan_of_a_folder_lies_in_it_and_that_of_a_workbook_beside_it(tmp_path: Path) -> None:
    (tmp_path / "week.xlsx").write_bytes(b"")
    assert plan_directory(tmp_path) == tmp_path / "plan"
    assert plan_directory(tmp_path / "week.xlsx") == tmp_path / "week-plan"


def test_an_error_that_nobody_foresaw_is_one_sentence(capsys: Told) -> None:
    assert _broken(KeyError("B2P")) == NO_PLAN
    err = capsys.readouterr().err
    assert err.startswith("Internal error, which is our fault: KeyError: 'B2P'. Do not use this run;")
    assert len(err.splitlines()) == 1


def test_a_new_folder_begins_as_one_that_can_be_read(tmp_path: Path, capsys: Told) -> None:
    assert run(["begin", str(tmp_path / "new")]) == 0
    assert run(["read", str(tmp_path / "new")]) == 0
    assert capsys.readouterr().err == ""


def test_a_folder_is_never_begun_over_another(tmp_path: Path) -> None:
    assert run(["begin", str(tmp_path / "new")]) == 0
    week = tmp_path / "new" / "week" / "week.toml"
    week.write_text("days = 3\n", encoding="utf-8")
    assert run(["begin", str(tmp_path / "new")]) == FAULTS
    assert week.read_text(encoding="utf-8") == "days = 3\n"


def test_a_folder_cannot_begin_inside_a_file(tmp_path: Path, capsys: Told) -> None:
    (tmp_path / "notes.txt").write_text("kept", encoding="utf-8")
    assert run(["begin", str(tmp_path / "notes.txt" / "new")]) == FAULTS
    assert "Internal error" not in capsys.readouterr().err


def test_text_is_utf_8_whatever_the_console_wants() -> None:
    done = _lull("read", "demo_voyage", PYTHONIOENCODING="cp1252", PYTHONUTF8="0")
    assert (done.returncode, "UTC−01:00" in done.stdout.decode()) == (0, True)


def test_a_reader_that_goes_away_changes_no_outcome() -> None:
    command = f"{sys.executable} -m scheduler.cli read demo_voyage; echo $? >&2"
    done = subprocess.run(
        f"({command}) | true", shell=True, capture_output=True, check=False, cwd=DEMO.parent, timeout=60
    )
    assert done.stderr.split() == [b"0"]


def test_progress_is_one_line_a_stage_and_a_second_and_never_loses_the_last_word(capsys: Told) -> None:
    say = _Progress()
    for number in range(1000):
        say(f"minutes late: {number}, bound 0")
    say("hours of easing: 3, bound 2")
    say.end()
    lines = [line.strip() for line in capsys.readouterr().err.splitlines()]
    assert lines[0] == "minutes late: 0, bound 0"
    assert lines[-2:] == ["minutes late: 999, bound 0", "hours of easing: 3, bound 2"]
    assert len(lines) < 50
