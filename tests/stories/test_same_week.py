"""The same week written otherwise is the same plan; a week later it is the same a week later; one more is no loss."""

from __future__ import annotations

import json
import re
import shutil
from collections.abc import Callable
from datetime import datetime, timedelta
from pathlib import Path
from typing import Any

import pytest

from scheduler.check import check
from scheduler.domain.plan import Plan
from scheduler.domain.planfile import plan_json
from scheduler.inputs import read_folder
from scheduler.week import plan_week
from tests.stories.edited import BULK, Row, few_entries, rewrite

EFFORT = 4.0
DATE = re.compile(r"\b20\d\d-\d\d-\d\d\b")


def planned(folder: Path) -> Plan:
    return plan_week(read_folder(folder), seconds=EFFORT)


@pytest.fixture(scope="module")
def week(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Two entries, one of them in two sessions if need be, and an operation that makes way."""
    return few_entries(tmp_path_factory.mktemp("voyage") / "week", "A2", "A3", base=BULK)


@pytest.fixture(scope="module")
def plan(week: Path) -> Plan:
    return planned(week)


def everywhere(folder: Path, to: Path, change: Callable[[str], str]) -> Path:
    """A copy of a folder with the text of every file changed."""
    shutil.copytree(folder, to)
    for path in sorted(to.rglob("*.*")):
        path.write_text(change(path.read_text(encoding="utf-8")), encoding="utf-8")
    return to


def without_row_numbers(plan: Plan) -> str:
    """The plan file without the rows that its cautions point to."""
    return re.sub(r'"row": \d+|\brow \d+', "row", plan_json(plan))


def test_the_plan_is_one_in_which_something_is_decided(plan: Plan) -> None:
    # or the comparisons below would be of nothing
    assert {entry.outcome for entry in plan.entries} == {"planned"}
    assert any(operation.moved for operation in plan.operations)


# -- the order of rows --------------------------------------------------------------------------------------------


def test_the_rows_of_all_tables_the_other_way_round_give_the_same_plan(week: Path, plan: Plan, tmp_path: Path) -> None:
    turned = tmp_path / "turned"
    shutil.copytree(week, turned)
    tables = sorted(path.stem for path in turned.rglob("*.csv"))
    for table in tables:
        rewrite(turned, table, lambda rows: rows[::-1])
    assert len(tables) > 20
    assert without_row_numbers(planned(turned)) == without_row_numbers(plan)


# -- a week later -------------------------------------------------------------------------------------------------


def a_week_later(text: str) -> str:
    return DATE.sub(lambda date: f"{datetime.fromisoformat(date[0]) + timedelta(days=7):%Y-%m-%d}", text)


TOLD = ("because", "text", "tell", "records", "reasons", "cautions", "digest", "forecast_digest")
"""What is said in sentences, where dates are written out, and what is hashed."""


def facts(tree: Any) -> Any:
    """All of a plan that is no sentence."""
    match tree:
        case dict():
            return {key: facts(value) for key, value in tree.items() if key not in TOLD}
        case list():
            return [facts(value) for value in tree]
        case _:
            return tree


def test_the_same_week_seven_days_later_is_the_same_plan_seven_days_later(
    week: Path, plan: Plan, tmp_path: Path
) -> None:
    later = planned(everywhere(week, tmp_path / "later", a_week_later))
    assert facts(json.loads(plan_json(later))) == facts(json.loads(a_week_later(plan_json(plan))))


# -- one more -----------------------------------------------------------------------------------------------------


def proven(plan: Plan) -> dict[str, float]:
    return {level.name: level.value for level in plan.proof.levels if level.met and level.name != "comfort"}


def test_one_more_who_can_do_everything_never_lowers_a_proven_level(tmp_path: Path) -> None:
    # one is left who may go inside, and two must: nothing stands until somebody joins him
    few = few_entries(tmp_path / "few", "A1", "A3", base=BULK)
    rewrite(few, "people", lambda rows: [row if row["person"] == "Q12" else _never_inside(row) for row in rows])
    more = tmp_path / "more"
    shutil.copytree(few, more)
    _one_more(more)
    before, after = proven(planned(few)), proven(planned(more))
    assert before["entries of priority 1"] == 0 and after["entries of priority 1"] == 1
    for name in (name for name in before if name.startswith("entries")):
        assert after.get(name, before[name]) >= before[name], name


def _never_inside(row: Row) -> Row:
    return row | {"able": ";".join(able for able in row["able"].split(";") if able != "entrant")}


def _one_more(folder: Path) -> None:
    """An able hand with the past hours and the day work of another."""
    every = "officer in charge;gas tester;entrant;attendant;rescue;rigging;mooring;cargo watch"

    def hand(rows: list[Row]) -> list[Row]:
        like = next(row for row in rows if row["person"] == "Q12")
        return [*rows, like | {"person": "Q99", "name": "Amias Threlkeld", "able": every, "calendar_address": ""}]

    def alike(rows: list[Row]) -> list[Row]:
        return [*rows, *(row | {"person": "Q99"} for row in rows if row["person"] == "Q12")]

    rewrite(folder, "people", hand)
    rewrite(folder, "duties", alike)
    rewrite(folder, "past_hours", alike)


# -- a folder that is no longer the plan's ------------------------------------------------------------------------

CELLS = [
    ("spaces", "name", "another name"), ("openings", "clear_mm", "650"), ("lines", "worked_from", "engine room"),
    ("neighbours", "contact", "opening"), ("gear", "count", "5"), ("people", "rank", "another rank"),
    ("past_hours", "end", "2027-08-30T11:59"), ("cargoes", "source", "another sheet"), ("contents", "temp_c", "21"),
    ("conditions", "gm_m", "4"), ("places", "note", "a word"), ("operations", "note", "a word"),
    ("entries", "note", "a word"), ("voyage", "heading_deg", "21"),
]  # fmt: skip


@pytest.mark.parametrize(("table", "column", "value"), CELLS)
def test_a_plan_is_refused_for_a_folder_in_which_one_cell_has_changed(
    table: str, column: str, value: str, week: Path, plan: Plan, tmp_path: Path
) -> None:
    changed = tmp_path / "changed"
    shutil.copytree(week, changed)
    rewrite(changed, table, lambda rows: [rows[0] | {column: value}, *rows[1:]])
    assert "the plan was made from inputs" in refusals(changed, plan)


@pytest.mark.parametrize("file", ["ship/policy.toml", "ship/ship.toml", "week/week.toml"])
def test_a_plan_is_refused_when_a_key_has_changed(file: str, week: Path, plan: Plan, tmp_path: Path) -> None:
    changed = tmp_path / "changed"
    shutil.copytree(week, changed)
    text = (changed / file).read_text(encoding="utf-8")
    new = text.replace("deck_z_m = 18.0", "deck_z_m = 18.1").replace('prepared_by = "Q02"', 'prepared_by = "Q03"')
    (changed / file).write_text(new if new != text else "joined_h = 25\n" + text, encoding="utf-8")
    assert "the plan was made from inputs" in refusals(changed, plan)


def refusals(folder: Path, plan: Plan) -> str:
    return "\n".join(breach.text for breach in check(read_folder(folder), plan).breaches if breach.rule == "inputs")


def test_the_plan_is_not_refused_for_its_own_folder(week: Path, plan: Plan) -> None:
    assert refusals(week, plan) == ""
