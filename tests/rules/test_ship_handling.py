"""When the ship herself wants everything shut."""

from __future__ import annotations

from typing import Any

import pytest

from scheduler.domain.restrictions import OPEN
from scheduler.rules.ship_handling import ship_handling
from tests.builders import a_berth, a_folder, a_leg, a_space, an_entry, an_operation, at, policy, touching


def of(kind: str, *, entry: Any = None, **over: Any) -> list[Any]:
    """What the rule says of an entry in 3P during an operation on Tuesday from 10 to 12."""
    given: dict[str, Any] = {
        "entries": (entry or an_entry(),),
        "operations": (an_operation(kind=kind),),
        "legs": (a_berth(),),
    }
    return list(ship_handling(a_folder(**(given | over))))


@pytest.mark.parametrize("kind", ["stations", "pilotage", "canal", "restricted waters"])
def test_everything_is_shut_two_hours_before_the_ship_is_handled(kind: str) -> None:
    (found,) = of(kind)
    assert (found.phases, found.start, found.end) == (OPEN, at(2, "08:00"), at(2, "12:00"))


def test_the_company_may_ask_for_more_than_two_hours() -> None:
    (found,) = of("stations", policy=policy(closed_before_h=3.0))
    assert found.start == at(2, "07:00")


@pytest.mark.parametrize("kind", ["drill", "entry drill", "power test", "helicopter"])
def test_nothing_is_open_in_drills_tests_and_helicopter_work(kind: str) -> None:
    (found,) = of(kind)
    assert (found.phases, found.start, found.end) == (OPEN, at(2, "10:00"), at(2, "12:00"))


@pytest.mark.parametrize("kind", ["stores", "visit", "gauging", "ballast in", "other"])
def test_other_work_shuts_nothing(kind: str) -> None:
    assert of(kind) == []


def test_a_leg_in_restricted_waters_counts_as_such() -> None:
    legs = (a_berth(end=at(3, "10:00")), a_leg(start=at(3, "10:00"), end=at(3, "14:00"), restricted=True))
    (found,) = of("stores", legs=legs)
    assert (found.start, found.end) == (at(3, "08:00"), at(3, "14:00"))


@pytest.mark.parametrize(
    ("bars", "work", "barred"),
    [
        ("entries", "inspect", True), ("all", "inspect", True), ("hot work", "inspect", False),
        ("hot work", "hot work", True), ("entries", "hot work", True), ("none", "hot work", False),
    ],
)  # fmt: skip
def test_a_standing_order_bars_what_it_names(bars: str, work: str, *, barred: bool) -> None:
    found = of("", entry=an_entry(work=work), operations=(an_operation(bars=bars),))
    assert bool(found) is barred


def bunkering(tank: str, *, work: str = "inspect", filled: tuple[str, ...] = ("FO",)) -> list[Any]:
    """Fuel tank FO, which touches a void V; fuel tank F2 and ballast tank 3P touch something else."""
    return of(
        "",
        entry=an_entry(tank=tank, work=work),
        spaces=(a_space("FO", kind="fuel tank"), a_space("F2", kind="fuel tank"), a_space("V", kind="void"), a_space()),
        neighbours=touching("FO V", "F2 3P"),
        operations=(an_operation(kind="bunkering", spaces=filled),),
    )


@pytest.mark.parametrize(("tank", "work", "barred"), [
    ("FO", "inspect", True), ("F2", "inspect", True), ("V", "inspect", True), ("3P", "inspect", False),
    ("3P", "coat", True), ("3P", "hot work", True),
])  # fmt: skip
def test_bunkers_bar_fuel_spaces_what_touches_the_filled_one_coating_and_hot_work(
    tank: str, work: str, *, barred: bool
) -> None:
    assert bool(bunkering(tank, work=work)) is barred


def test_bunkers_into_no_named_space_may_go_into_any_fuel_tank() -> None:
    assert bunkering("3P", filled=())
