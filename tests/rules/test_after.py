"""What waits for something else."""

from __future__ import annotations

from scheduler.domain.restrictions import KeepOrder
from scheduler.rules.after import after
from tests.builders import a_folder, an_entry, an_operation


def orders(**over: object) -> set[tuple[str, str]]:
    return {(each.first, each.then) for each in after(a_folder(**over)) if isinstance(each, KeepOrder)}


def test_an_entry_waits_for_another() -> None:
    assert orders(entries=(an_entry("E1"), an_entry("E2", "3S", after=("E1",)))) == {("E1", "E2")}


def test_a_movable_operation_waits_for_another() -> None:
    operations = (an_operation("A"), an_operation("B", hours=1.0, after=("A",)))
    assert orders(operations=operations) == {("A", "B")}


def test_two_fixed_operations_stand_as_they_are_given() -> None:
    assert not orders(operations=(an_operation("A"), an_operation("B", after=("A",))))


def test_a_movable_operation_that_a_fixed_one_waits_for_is_over_before() -> None:
    assert orders(operations=(an_operation("A", hours=1.0), an_operation("B", after=("A",)))) == {("A", "B")}
