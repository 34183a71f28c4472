"""`lull plan` and `lull check` on a small bulk carrier's week, as the officer runs them."""

from __future__ import annotations

import json
import os
import signal
import subprocess
import sys
from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime, timedelta
from pathlib import Path

import pytest

from scheduler.cli import BREACHES, NO_PLAN, STOPPED, run
from scheduler.domain.plan import Plan
from scheduler.domain.planfile import plan_json, read_plan
from scheduler.inputs import read_folder
from scheduler.publish.page import WIDTH_COLUMNS
from scheduler.publish.week_text import week_text
from tests.conftest import DEMO

VOYAGE = DEMO.parent / "tests" / "bulk_voyage"
Tree = dict[str, object]


@dataclass(frozen=True)
class Planned:
    """One run: where it wrote, what it said."""

    folder: Path
    code: int
    out: bytes
    err: str

    @property
    def file(self) -> Path:
        return self.folder / "plan.json"

    @property
    def plan(self) -> Plan:
        return read_plan(self.file.read_text(encoding="utf-8"))


def _plan(folder: Path, *options: str, **environment: str) -> Planned:
    command = [sys.executable, "-m", "scheduler.cli", "plan", str(VOYAGE), "--to", str(folder), *options]
    done = subprocess.run(
        command, capture_output=True, check=False, env={**os.environ, **environment}, cwd=DEMO.parent, timeout=300
    )
    return Planned(folder, done.returncode, done.stdout, done.stderr.decode())


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> Planned:
    return _plan(tmp_path_factory.mktemp("plan"))


def test_a_plan_is_written_with_its_record_and_nothing_else(made: Planned) -> None:
    assert made.code == 0, made.err
    assert sorted(path.name for path in made.folder.iterdir()) == ["plan.json", "run.json"]


def test_what_is_printed_is_the_week_of_the_plan_that_is_written(made: Planned) -> None:
    assert made.out.decode() == week_text(read_folder(VOYAGE), made.plan)


def test_the_printed_week_fits_the_page_and_names_every_entry(made: Planned) -> None:
    text = made.out.decode()
    assert max(map(len, text.splitlines())) <= WIDTH_COLUMNS
    assert all(f"{entry.entry} (" in text for entry in made.plan.entries)


def test_the_record_of_the_run_holds_what_may_differ(made: Planned) -> None:
    record = json.loads((made.folder / "run.json").read_text(encoding="utf-8"))
    assert record["wall_s"] > 0 and record["versions"]["ortools"] and record["machine"]["processors"] > 0


def test_progress_tells_what_is_found_and_the_bound(made: Planned) -> None:
    assert "entries of priority 1" in made.err and "bound" in made.err


def test_another_run_in_another_time_zone_writes_and_prints_the_same_bytes(made: Planned, tmp_path: Path) -> None:
    again = _plan(tmp_path, "--json", TZ="Pacific/Auckland", PYTHONHASHSEED="77")
    assert again.file.read_bytes() == made.file.read_bytes()
    assert again.out == made.file.read_bytes()  # for a program the plan file itself is printed


def test_no_effort_finds_no_plan_and_the_former_one_is_named_and_kept(made: Planned, tmp_path: Path) -> None:
    former = tmp_path / "plan.json"
    former.write_bytes(made.file.read_bytes())
    done = _plan(tmp_path, "--seconds", "0.000001")
    assert done.code == NO_PLAN
    assert f"{former} is a former plan" in done.err and "Traceback" not in done.err
    assert done.out == b"" and [path.name for path in tmp_path.iterdir()] == ["plan.json"]
    assert former.read_bytes() == made.file.read_bytes()


def test_the_plan_passes_the_check_and_the_checks_are_counted(
    made: Planned, capsys: pytest.CaptureFixture[str]
) -> None:
    assert run(["check", str(VOYAGE), str(made.file)]) == 0
    assert capsys.readouterr().out.startswith("No breach in ")


def _phases(tree: Tree) -> list[Tree]:
    entries = tree["entries"]
    assert isinstance(entries, list)
    return next(entry["phases"] for entry in entries if entry["outcome"] == "planned")


def _sooner(tree: Tree) -> None:
    enter = next(phase for phase in _phases(tree) if phase["phase"] == "enter")
    enter["start"] = _earlier(str(enter["start"]))


def _earlier(at: str) -> str:
    return (datetime.fromisoformat(at) - timedelta(minutes=15)).strftime("%Y-%m-%dT%H:%M:%SZ")


def plan_json_of(tree: Tree) -> str:
    """The tree as a file again."""
    return json.dumps(tree)


def _stranger(tree: Tree) -> None:
    people = next(phase for phase in _phases(tree) if phase["phase"] == "enter")["people"]
    assert isinstance(people, list)
    people[0]["person"] = "nobody aboard"


def _faster(tree: Tree) -> None:
    speeds = tree["speeds"]
    assert isinstance(speeds, list)
    speeds[0]["speed_kn"] = 99.0


def _left_away(tree: Tree) -> None:
    operations = tree["operations"]
    assert isinstance(operations, list)
    operations.pop()


@pytest.mark.parametrize("harm", [_sooner, _stranger, _faster, _left_away])
def test_a_plan_that_is_harmed_by_hand_is_refused_by_name(
    harm: Callable[[Tree], None], made: Planned, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    tree = json.loads(made.file.read_text(encoding="utf-8"))
    harm(tree)
    path = tmp_path / "plan.json"
    path.write_text(plan_json_of(tree), encoding="utf-8")
    assert run(["check", str(VOYAGE), str(path)]) == BREACHES
    assert "Do not use this plan." in capsys.readouterr().out


def test_breaches_are_told_to_a_program(made: Planned, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    tree = json.loads(made.file.read_text(encoding="utf-8"))
    _left_away(tree)
    path = tmp_path / "plan.json"
    path.write_text(plan_json_of(tree), encoding="utf-8")
    assert run(["check", str(VOYAGE), str(path), "--json"]) == BREACHES
    told = json.loads(capsys.readouterr().out)
    assert {"rule", "text", "start", "end", "by_min"} <= set(told["breaches"][0]) and told["checks"]


def test_writing_the_plan_again_gives_the_same_bytes(made: Planned) -> None:
    assert plan_json(made.plan).encode() == made.file.read_bytes()


@pytest.mark.skipif(sys.platform == "win32", reason="Windows sends no SIGINT to one process")
def test_a_run_that_is_stopped_keeps_a_checked_plan_and_says_so(tmp_path: Path) -> None:
    command = [sys.executable, "-m", "scheduler.cli", "plan", str(VOYAGE), "--to", str(tmp_path)]
    with subprocess.Popen(command, stdout=subprocess.PIPE, stderr=subprocess.PIPE, cwd=DEMO.parent) as run_of_it:
        assert run_of_it.stderr is not None
        while b"entries of priority 3" not in (line := run_of_it.stderr.readline()) and line:
            pass  # until the musts and shoulds stand
        run_of_it.send_signal(signal.SIGINT)
        _, err = run_of_it.communicate(timeout=120)
    assert run_of_it.returncode == STOPPED
    assert b"the best plan found until then" in err and b"Traceback" not in err
    assert run(["check", str(VOYAGE), str(tmp_path / "plan.json")]) == 0
