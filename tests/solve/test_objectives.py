"""No rule has a price: what is sought is how much stands, how late, how slow, and comfort; all else is a wall."""

from __future__ import annotations

import ast
import time
from collections.abc import Iterator
from pathlib import Path

import pytest

import scheduler.solve
from scheduler.inputs import read_folder
from scheduler.rules import restrictions
from scheduler.solve import assign, comfort
from scheduler.solve.child import planned
from scheduler.solve.counts import PeopleCounts
from scheduler.solve.pose import Posing
from scheduler.solve.problem import Problem
from scheduler.solve.search import LEVELS, Budget, level_expression
from tests.benchmarks.validity import faults
from tests.solve.made import CREW, a_problem, a_task, needs

BULK = Path(__file__).parents[1] / "bulk_voyage"
ROOM = Path(scheduler.solve.__file__).parent


@pytest.fixture(scope="module")
def a_real_week() -> Problem:
    folder = read_folder(BULK)
    return Posing(folder, restrictions(folder)).problem()


@pytest.fixture(scope="module")
def week(a_real_week: Problem) -> PeopleCounts:
    found = PeopleCounts(a_real_week)
    found.add_all()
    return found


def sought(week: PeopleCounts, name: str) -> dict[str, int]:
    """The variables that the solver weighs on a level, by name, and how much each counts."""
    week.model.clear_objective()
    expression, _ = level_expression(week, name)
    week.model.minimize(expression)
    proto = week.model.proto
    return {proto.variables[i].name: c for i, c in zip(proto.objective.vars, proto.objective.coeffs, strict=True)}


@pytest.mark.parametrize("priority", [1, 2, 3])
def test_a_level_of_entries_weighs_their_standing_and_nothing_else(week: PeopleCounts, priority: int) -> None:
    standing = {e.present.name: 1 for e in week.entries.values() if e.task.priority == priority}
    assert standing
    assert sought(week, f"entries of priority {priority}") == standing


def test_the_level_of_lateness_weighs_minutes_late_and_nothing_else(week: PeopleCounts) -> None:
    late = {v.late_min.name: 1 for v in week.passages if v.late_min is not None}
    assert late
    assert sought(week, "minutes late") == late


def test_the_level_of_easing_weighs_hours_eased_and_nothing_else(week: PeopleCounts) -> None:
    eased = {literal.name: 1 for v in week.passages for literal in v.any_eased.values()}
    assert sought(week, "hours of easing") == eased


def test_there_are_five_levels_in_the_order_of_the_standing() -> None:
    # a should costs no minute, a could no hour of easing
    assert LEVELS == (
        "entries of priority 1", "minutes late", "entries of priority 2", "hours of easing", "entries of priority 3",
    )  # fmt: skip


def _objectives() -> Iterator[tuple[str, str]]:
    """Where the room sets an objective: file and function."""
    for path in sorted(ROOM.glob("*.py")):
        for function in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(function, ast.FunctionDef):
                for node in ast.walk(function):
                    if isinstance(node, ast.Attribute) and node.attr in ("minimize", "maximize"):
                        yield path.stem, function.name


def test_nothing_else_is_ever_sought() -> None:
    # the levels; an early finish; as many entries as there are people for, at these times or afresh; the operations
    # alone, with as few people lacking as can be; comfort. A new one is thought about here.
    assert set(_objectives()) == {
        ("search", "_one_level"), ("search", "_early"), ("assign", "_as_many"), ("assign", "_afresh"),
        ("assign", "_operations_alone"), ("assign", "_comfortable"),
    }  # fmt: skip


def thin() -> Problem:
    """Eight people for four entries: not all can stand, so that everything that can be traded is."""
    crew = CREW[:8]
    tasks = [a_task(f"E{i}", inside=4, least=4, priority=1 + i % 3, needs=needs(crew)) for i in range(4)]
    return a_problem(*tasks, people=crew)


@pytest.mark.parametrize("times", [0, 1, 1_000_000])
def test_whatever_the_weights_no_rule_is_broken(
    times: int, a_real_week: Problem, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(assign, "_WEIGHT", {priority: times * w for priority, w in assign._WEIGHT.items()})
    monkeypatch.setattr(assign, "_SHORT", times * assign._SHORT)
    for name in ("OUT_OF_HOURS", "ANOTHER_PERSON", "FULLEST"):
        monkeypatch.setattr(comfort, name, times * getattr(comfort, name))
    for problem in (thin(), a_real_week):
        budget = Budget(seconds=3, guard_until=time.monotonic() + 60, seed=1)
        outcome = planned(problem, budget, lambda _: None, lambda: False).outcome
        assert outcome is not None
        assert faults(problem, outcome.timed, outcome.people, outcome.short) == []
