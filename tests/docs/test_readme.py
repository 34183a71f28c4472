"""README.md and DEVELOPERS.md leave nothing out."""

from __future__ import annotations

import json
import re
from hashlib import sha256
from pathlib import Path

import pytest
import typer

from scheduler.check.findings import RULE_NAMES
from scheduler.cli import app
from scheduler.domain.plan import StopNow
from scheduler.domain.planfile import plan_json
from tests.a_folder import at
from tests.a_plan import a_plan
from tests.docs.reference import MARKS, README, block, found

TEXT = README.read_text(encoding="utf-8")
DEVELOPERS = (README.parent / "DEVELOPERS.md").read_text(encoding="utf-8")
SCHEDULER = README.parent / "scheduler"
COMMANDS = typer.main.get_command(app).commands  # type: ignore[attr-defined] # a group, as every app with commands


def _section(text: str, title: str) -> str:
    level = "#" * title.index(" ")
    return text.split(f"\n{title}\n", 1)[1].split(f"\n{level} ", 1)[0]


def _keys(tree: object) -> set[str]:
    match tree:
        case dict():
            return set(tree) | {key for inner in tree.values() for key in _keys(inner)}
        case list():
            return {key for inner in tree for key in _keys(inner)}
        case _:
            return set()


@pytest.mark.parametrize("mark", MARKS)
def test_the_reference_is_what_the_declarations_say(mark: str) -> None:
    assert found(mark, TEXT) == block(mark), "run: python -m tests.docs.reference"


@pytest.mark.parametrize("command", sorted(COMMANDS))
def test_every_command_has_its_heading_and_every_option_its_place(command: str) -> None:
    section = re.search(rf"\n### `lull {command}\b[^\n]*\n(.*?)(?=\n##)", TEXT, re.DOTALL)
    assert section
    options = {word for parameter in COMMANDS[command].params for word in parameter.opts if word.startswith("--")}
    assert {word for word in options - {"--help"} if f"`{word}" not in section[1]} == set()


def test_no_command_has_a_heading_that_is_not_there() -> None:
    assert set(re.findall(r"\n### `lull (\w+)", TEXT)) == set(COMMANDS)


@pytest.mark.parametrize("rule", RULE_NAMES)
def test_every_rule_stands_in_both_books(rule: str) -> None:
    assert f"\n| `{rule}` |" in _section(TEXT, "## Rules")
    assert f"`{rule}`" in _section(DEVELOPERS, "## Rules").replace("\n", " ")


@pytest.mark.parametrize("code", [0, 1, 2, 3, 4, 130])
def test_every_exit_code_is_told(code: int) -> None:
    assert f"\n| {code} | " in _section(TEXT, "### Exit codes")


def test_every_key_of_the_plan_file_is_told() -> None:
    stop = StopNow(entry="E1", because="", people_out_by=at(9, "00:00"), closed_by=at(9, "00:00"), tags_off=(), tell=())
    tree = json.loads(plan_json(a_plan()).replace('"stop_now": []', '"stop_now": ' + _stop_json(stop)))
    tree["policy"], tree["counts"]["rows"] = {}, {"entries": tree["counts"]["rows"]["entries"]}
    told = set(re.findall(r"\w+", _section(TEXT, "## The plan file")))
    assert _keys(tree) - told == set()


def _stop_json(stop: StopNow) -> str:
    return json.dumps(dict.fromkeys(stop.__dataclass_fields__, ""))


@pytest.mark.parametrize("room", sorted(path for path in SCHEDULER.iterdir() if (path / "__init__.py").exists()))
def test_every_room_has_its_line(room: Path) -> None:
    assert f"`scheduler/{room.name}`" in _section(DEVELOPERS, "## Rooms")


def test_the_service_has_its_line() -> None:
    assert "\n| `api` |" in _section(DEVELOPERS, "## Rooms")


@pytest.mark.parametrize("file", sorted(path.name for path in SCHEDULER.glob("*.py") if path.name != "__init__.py"))
def test_every_file_beside_the_rooms_has_its_line(file: str) -> None:
    assert f"`scheduler/{file}`" in _section(DEVELOPERS, "## Rooms")


def test_the_readme_begins_with_the_job_then_the_cautions_then_the_two_commands() -> None:
    titles = re.findall(r"^##? (.*)$", TEXT, re.MULTILINE)
    assert titles[:3] == ["Lull", "Cautions", "Two commands"]
    first = TEXT.split("\n\n")[1]
    assert not first.startswith(("#", "-", "|")) and len(first) > 200


def test_the_readme_never_calls_a_plan_safe() -> None:
    outside = TEXT.replace(_section(TEXT, "## What Lull never shows"), "").replace("safety", "")
    assert "safe" not in outside.lower()


def test_the_digest_that_the_readme_works_by_hand_is_the_one_that_comes_out() -> None:
    part = found("digest", TEXT)
    text, digest = re.findall(r"```(?:json|text)\n(.*?)\n```", part, re.DOTALL)
    assert sha256(text.replace("\n", "").encode()).hexdigest() == digest
