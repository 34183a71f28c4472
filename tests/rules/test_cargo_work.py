"""What is shut while cargo is handled."""

from __future__ import annotations

from datetime import timedelta
from typing import Any

import pytest

from scheduler.domain.restrictions import MANNED, OPEN, KeepApart
from scheduler.rules.cargo_work import cargo_work
from tests.builders import a_folder, a_ship, a_space, an_entry, an_operation, at, touching, two_manholes, two_valves


def of(tank: str, kind: str, **over: Any) -> list[Any]:
    """What the rule says of an entry during an operation of a kind on C3, Tuesday 10 to 12."""
    given: dict[str, Any] = {
        "entries": (an_entry(tank=tank),),
        "operations": (an_operation(kind=kind, spaces=("C3",)),),
    }
    return list(cargo_work(a_folder(**(given | over))))


@pytest.mark.parametrize("kind", ["load", "discharge", "transfer", "slops"])
def test_the_cargo_area_is_shut_two_hours_before_cargo_until_it_is_over(kind: str) -> None:
    (found,) = of("3P", kind)
    assert (found.start, found.end) == (at(2, "08:00"), at(2, "12:00"))
    assert found.phases == OPEN


@pytest.mark.parametrize(
    "kind", ["inert", "top up", "purge", "gas-free", "tank wash", "vent down", "line blow", "nitrogen"]
)
def test_work_on_tanks_shuts_it_as_long_as_it_lasts(kind: str) -> None:
    (found,) = of("3P", kind)
    assert (found.start, found.end) == (at(2, "10:00"), at(2, "12:00"))


@pytest.mark.parametrize("kind", ["ballast in", "stores", "gauging", "bunkering"])
def test_what_is_no_cargo_work_shuts_nothing(kind: str) -> None:
    assert of("3P", kind) == []


def test_a_return_line_frees_nothing() -> None:
    assert of("3P", "load", operations=(an_operation(kind="load", spaces=("C3",), vapour="return line"),))


@pytest.mark.parametrize(
    ("kind", "area", "touches", "shut"),
    [
        ("void", "other", True, True), ("void", "other", False, False), ("void", "cargo", False, True),
        ("pump room", "machinery", False, True), ("duct keel", "other", False, True),
        ("slop tank", "other", False, True),
    ],
)  # fmt: skip
def test_the_cargo_area_is_the_tanks_what_touches_them_pump_room_and_duct_keel(
    kind: str, area: str, *, touches: bool, shut: bool
) -> None:
    folder_spaces = (a_space("C3", kind="cargo tank"), a_space("T", kind=kind, area=area), a_space("X", area="other"))
    given = {"spaces": folder_spaces, "neighbours": touching("C3 T" if touches else "X T", "C3 3P")}
    assert bool(of("T", "load", **given)) is shut


def test_a_movable_operation_is_kept_apart_from_with_its_two_hours() -> None:
    (found,) = of("3P", "", operations=(an_operation(kind="load", spaces=("C3",), hours=3.0),))
    assert isinstance(found, KeepApart)
    assert (found.gap_before_min, found.gap_after_min) == (120, 0)


# -- holds ------------------------------------------------------------------------------------------------------


def bulk(tank: str, operation: Any, **over: Any) -> list[Any]:
    """A bulk carrier: hold H between topside tanks TP and TS, another tank T2 that touches neither."""
    names = ("H", "TP", "TS", "T2", "T3")
    given: dict[str, Any] = {
        "ship": a_ship(kind="bulk carrier"),
        "spaces": tuple(a_space(name, kind="hold" if name == "H" else "ballast tank") for name in names),
        "neighbours": touching("H TP", "H TS", "T2 T3"),
        "openings": tuple(row for name in names for row in two_manholes(name)),
        "lines": tuple(pipe for name in names for pipe in two_valves(name)),
        "entries": (an_entry(tank=tank),),
        "operations": (operation,),
        "outlets": (),
        "outlet_tanks": (),
    }
    return list(cargo_work(a_folder(**(given | over))))


@pytest.mark.parametrize(("tank", "kept"), [("TP", True), ("H", True), ("T2", False)])
def test_nobody_is_beside_a_hold_that_is_worked(tank: str, *, kept: bool) -> None:
    found = bulk(tank, an_operation(kind="discharge", spaces=("H",)))
    assert bool(found) is kept
    assert all(each.phases == MANNED for each in found)


def test_a_hold_that_is_not_named_may_be_any() -> None:
    assert bulk("TP", an_operation(kind="discharge"))


def test_nobody_is_in_a_tank_on_the_ballast_line_in_use() -> None:
    (found,) = bulk("T2", an_operation(kind="ballast in", spaces=("TP",)))
    assert "main: ballast" in found.because


def test_a_tank_on_another_line_is_free_of_it() -> None:
    lines = (*two_valves("TP"), *two_valves("T2", "main: fire"))
    assert bulk("T2", an_operation(kind="ballast in", spaces=("TP",)), lines=lines) == []


def test_without_piping_every_ballast_tank_is_on_the_line() -> None:
    assert bulk("T2", an_operation(kind="ballast in", spaces=("TP",)), lines=())


def test_the_line_is_free_when_the_operation_ends() -> None:
    (found,) = bulk("T2", an_operation(kind="ballast out", spaces=("TP",)))
    assert found.end - found.start == timedelta(hours=2)
