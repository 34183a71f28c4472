"""What goes on, or lies, on the other side of a bulkhead."""

from __future__ import annotations

from typing import Any

import pytest

from scheduler.domain.restrictions import MANNED, OPEN, KeepClear, KeepOrder, Notice, Phase, Refusal
from scheduler.rules.next_space import next_space
from tests.builders import (
    END,
    START,
    a_folder,
    a_space,
    an_entry,
    an_operation,
    at,
    content,
    touching,
    two_manholes,
)


def of(entry: Any, *operations: Any, c3: str = "gas-free", **over: Any) -> list[Any]:
    """What the rule says of an entry; C3 next to 3P is in a state as the week begins."""
    given: dict[str, Any] = {
        "entries": (entry,),
        "operations": operations,
        "contents": (content("3P"), content("3S", "ballast"), content("C3", c3, "OIL"), content("AV"), content("APK")),
    }
    return list(next_space(a_folder(**(given | over))))


def of_type(found: list[Any], kind: type) -> list[Any]:
    return [each for each in found if isinstance(each, kind)]


@pytest.mark.parametrize(
    "kind", ["load", "discharge", "ballast in", "ballast out", "inert", "nitrogen", "top up", "tank wash", "bunkering"]
)
def test_nobody_is_inside_while_a_neighbour_is_filled_emptied_washed_or_put_under_pressure(kind: str) -> None:
    (found,) = of_type(of(an_entry(), an_operation(kind=kind, spaces=("C3",))), KeepClear)
    assert (found.phases, found.start, found.end) == (MANNED, at(2, "10:00"), at(2, "12:00"))


@pytest.mark.parametrize(("kind", "space"), [("load", "3S"), ("gauging", "C3"), ("stores", "C3")])
def test_what_presses_on_no_bulkhead_of_the_space_keeps_nobody_out(kind: str, space: str) -> None:
    assert not of_type(of(an_entry(), an_operation(kind=kind, spaces=(space,))), KeepClear)


def test_a_space_in_no_row_of_neighbours_is_next_to_whatever_is_filled() -> None:
    found = of(an_entry(tank="AV"), an_operation(kind="load", spaces=("3S",)), neighbours=touching("3P C3", "3S C3"))
    assert "as far as neighbours.csv tells" in of_type(found, KeepClear)[0].because


# -- cargo next door --------------------------------------------------------------------------------------------


@pytest.mark.parametrize(("state", "asked"), [("cargo", True), ("unknown", True), ("gas-free", False)])
def test_beside_cargo_the_space_is_tested_before_it_is_opened(state: str, *, asked: bool) -> None:
    assert bool(of_type(of(an_entry(), c3=state), Notice)) is asked


def test_no_coating_while_the_neighbour_holds_cargo() -> None:
    discharge = an_operation(kind="discharge", spaces=("C3",))
    clear = [
        each for each in of_type(of(an_entry(work="coat"), discharge, c3="cargo"), KeepClear) if each.phases == OPEN
    ]
    assert [(each.start, each.end) for each in clear] == [(START, at(2, "12:00"))]


def test_no_coating_at_all_beside_cargo_that_stays() -> None:
    (found,) = of_type(of(an_entry(work="coat"), c3="cargo"), Refusal)
    assert "cargo" in found.because


# -- hot work ---------------------------------------------------------------------------------------------------

HOT = an_entry(work="hot work", effort="heavy")


@pytest.mark.parametrize(
    ("state", "refused"),
    [
        ("gas-free", False), ("clean and empty", False), ("ballast", False), ("fresh water", False), ("cargo", True),
        ("empty with vapour", True), ("residue", True), ("unknown", True), ("inerted", True),
    ],
)  # fmt: skip
def test_hot_work_wants_its_neighbours_clean_or_full_of_water(state: str, *, refused: bool) -> None:
    # inerted as the week begins: nobody says that it was purged below 2 % hydrocarbon before
    assert bool(of_type(of(HOT, c3=state), Refusal)) is refused


def test_a_neighbour_purged_and_inerted_in_the_week_bears_hot_work() -> None:
    purge = an_operation("PU", "purge", spaces=("C3",))
    found = of(HOT, purge, c3="empty with vapour")
    assert not of_type(found, Refusal)
    clear = [each for each in of_type(found, KeepClear) if each.phases == OPEN]
    assert [(each.start, each.end) for each in clear] == [(START, at(2, "12:00"))]


def test_inerting_without_a_purge_is_not_enough() -> None:
    inert = an_operation("IN", "inert", spaces=("C3",))
    assert of_type(of(HOT, inert, c3="empty with vapour"), Refusal)


def test_a_movable_step_of_the_neighbour_comes_before_the_hot_work() -> None:
    purge = an_operation("PU", "purge", spaces=("C3",), hours=3.0)
    (order,) = of_type(of(HOT, purge, c3="empty with vapour"), KeepOrder)
    assert (order.first, order.then) == ("PU", "E1")


def test_hot_work_between_two_fit_times_may_take_either() -> None:
    # gas-free, then loaded, then discharged, washed and gas-freed: before all of it, or after
    steps = [
        an_operation(f"S{number}", kind, spaces=("C3",), cargo="OIL", hours=2.0, after=after)
        for number, kind, after in (
            (1, "load", ()), (2, "discharge", ("S1",)), (3, "tank wash", ("S2",)), (4, "gas-free", ("S3",)),
        )
    ]  # fmt: skip
    orders = of_type(of(HOT, *steps), KeepOrder)
    assert {(each.first, each.then, each.branch) for each in orders} == {("E1", "S1", 0), ("S4", "E1", 1)}
    assert len({each.either for each in orders}) == 1
    assert orders[0].either


@pytest.mark.parametrize(
    "kind", ["load", "ballast in", "tank wash", "gas-free", "purge", "inert", "bunkering", "pilotage"]
)
def test_no_hot_work_and_no_fire_watch_during(kind: str) -> None:
    found = of(HOT, an_operation(kind=kind, spaces=("AV",)))
    assert any(Phase.RESTORE in each.phases and each.start == at(2, "10:00") for each in of_type(found, KeepClear))


def test_hot_work_is_done_by_day() -> None:
    # at 20°S in March the sun is up from about six to six of local time; the ship is at 30°W on UTC, two hours behind
    night = [each for each in of_type(of(HOT), KeepClear) if each.phases == (Phase.ENTER,)]
    assert any(each.start < at(2, "02:00") < each.end for each in night)
    assert not any(each.start < at(2, "14:00") < each.end for each in night)


def slops(x_m: float | None) -> list[Any]:
    """Slop tank SL, which touches nothing of 3P, so far forward of it; its one opening is in its middle."""
    spaces = (a_space("3P", x_m=60.0, y_m=0.0), a_space("SL", kind="slop tank", x_m=x_m, y_m=0.0), a_space("Z"))
    return of_type(
        of(
            HOT,
            spaces=spaces,
            neighbours=touching("3P Z", "SL X"),
            openings=two_manholes("3P", x_m=60.0),
            outlet_tanks=(),
            contents=(content("3P"), content("Z"), content("SL", "cargo", "OIL")),
        ),
        Refusal,
    )


@pytest.mark.parametrize(("x_m", "refused"), [(89.0, True), (90.0, True), (91.0, False), (None, True)])
def test_slops_lie_more_than_thirty_metres_off(x_m: float | None, *, refused: bool) -> None:
    assert bool(slops(x_m)) is refused


def test_the_horizon_bounds_what_is_kept_clear() -> None:
    load = an_operation(kind="load", spaces=("C3",), cargo="OIL", start=at(6, "10:00"), end=None)
    clear = [each for each in of_type(of(an_entry(work="coat"), load), KeepClear) if each.phases == OPEN]
    assert [(each.start, each.end) for each in clear] == [(at(6, "10:00"), END)]
