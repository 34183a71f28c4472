"""What is in a space through the week, and when it is fit to be opened."""

from __future__ import annotations

from typing import Any

import pytest

from scheduler.domain.folder import VoyageFolder
from scheduler.domain.operations import Operation
from scheduler.domain.restrictions import Caution, KeepClear, KeepOrder, Refusal
from scheduler.rules.contents import contents, emptied_lately
from scheduler.rules.state import stretches
from tests.builders import START, a_cargo, a_folder, a_space, an_entry, an_operation, at, content, two_manholes


def tank(
    *operations: Operation, state: str = "ballast", kind: str = "ballast tank", cargo: str | None = None, **over: Any
) -> VoyageFolder:
    """A week about one tank T and one entry into it."""
    given = {
        "spaces": (a_space("T", kind=kind),),
        "openings": two_manholes("T"),
        "contents": (content("T", state, cargo),),
        "cargoes": (a_cargo("OIL"), a_cargo("COAL", kind="solid"), a_cargo("GAS", kind="gas")),
        "operations": operations,
        "entries": (an_entry(tank="T"),),
    }
    return a_folder(**(given | over))


def step(name: str, kind: str, **over: object) -> Operation:
    return an_operation(name, kind, spaces=("T",), **over)


def states_after(*kinds: str, state: str, kind: str = "cargo tank", cargo: str = "OIL") -> list[str]:
    """The states of T after each of a row of fixed steps, an hour each."""
    steps = [
        step(f"S{n}", each, start=at(2, f"{n:02d}:00"), end=at(2, f"{n:02d}:30"), cargo=cargo)
        for n, each in enumerate(kinds)
    ]
    return [each.state.state for each in stretches(tank(*steps, state=state, kind=kind, cargo=cargo), "T")][1:]


@pytest.mark.parametrize(
    ("kinds", "last"),
    [
        (("discharge",), "empty with vapour"),
        (("discharge", "tank wash"), "empty with vapour"),
        (("discharge", "gas-free"), "empty with vapour"),  # gas-freed, never washed
        (("discharge", "tank wash", "gas-free"), "gas-free"),
        (("discharge", "tank wash", "purge"), "inerted"),
        (("discharge", "tank wash", "purge", "gas-free"), "gas-free"),
        (("discharge", "tank wash", "gas-free", "load"), "cargo"),
        (("discharge", "tank wash", "gas-free", "load", "discharge", "gas-free"), "empty with vapour"),
        (("transfer",), "unknown"),
        (("slops",), "unknown"),
        (("nitrogen",), "nitrogen padded"),
        (("discharge", "tank wash", "gas-free", "ballast in", "ballast out"), "clean and empty"),
        (("discharge", "ballast in", "ballast out"), "empty with vapour"),
        (("discharge", "tank wash", "gas-free", "line blow"), "unknown"),
        (("discharge", "tank wash", "gas-free", "gauging"), "gas-free"),
        (("discharge", "tank wash", "gas-free", "gas-free"), "gas-free"),
    ],
)
def test_the_state_of_a_cargo_tank_is_followed_through_its_steps(kinds: tuple[str, ...], last: str) -> None:
    assert states_after(*kinds, state="cargo")[-1] == last


def test_a_liquefied_gas_is_gas_freed_after_inerting_without_a_wash() -> None:
    assert states_after("discharge", "inert", "gas-free", state="cargo", cargo="GAS")[-1] == "gas-free"
    assert states_after("discharge", "inert", "gas-free", state="cargo", cargo="OIL")[-1] == "empty with vapour"


def test_solid_cargo_leaves_residue_and_a_hold_with_residue_may_be_entered() -> None:
    assert states_after("discharge", state="cargo", kind="hold", cargo="COAL") == ["residue"]
    folder = tank(step("D", "discharge"), state="cargo", kind="hold", cargo="COAL")
    assert not [each for each in contents(folder) if isinstance(each, Refusal)]


def test_leaves_may_make_a_state_stricter_and_never_looser() -> None:
    worse = tank(step("O", "ballast out", leaves="unknown"))
    assert stretches(worse, "T")[-1].state.state == "unknown"
    better = tank(step("D", "discharge", leaves="gas-free"), state="cargo", kind="cargo tank", cargo="OIL")
    assert stretches(better, "T")[-1].state.state == "empty with vapour"
    assert [each.weight for each in contents(better) if isinstance(each, Caution)] == [2]


def test_a_full_tank_that_nothing_empties_is_refused() -> None:
    (refused,) = contents(tank())
    assert isinstance(refused, Refusal)
    assert "no pumping out" in refused.because


def test_a_tank_purged_but_not_gas_freed_names_the_missing_step() -> None:
    steps = (step("W", "tank wash", start=at(2, "08:00")), step("P", "purge", start=at(2, "13:00"), end=at(2, "15:00")))
    (refused,) = contents(tank(*steps, state="empty with vapour", kind="cargo tank", cargo="OIL"))
    assert isinstance(refused, Refusal)
    assert "no gas-freeing" in refused.because


def test_a_space_without_a_row_is_unknown_and_the_refusal_names_the_table() -> None:
    (refused,) = contents(tank(contents=()))
    assert isinstance(refused, Refusal)
    assert "contents.csv" in refused.because


@pytest.mark.parametrize("state", ["inerted", "nitrogen padded", "fumigated", "cargo", "fuel", "unknown"])
def test_no_entry_into_what_is_not_clean(state: str) -> None:
    assert [each for each in contents(tank(state=state)) if isinstance(each, Refusal)]


@pytest.mark.parametrize(("work", "refused"), [("inspect", False), ("hot work", True), ("coat", True)])
def test_residue_in_a_hold_bears_no_spark_and_no_paint(work: str, *, refused: bool) -> None:
    folder = tank(state="residue", kind="hold", entries=(an_entry(tank="T", work=work),))
    assert any(isinstance(each, Refusal) for each in contents(folder)) is refused


def test_residue_is_for_cleaning_by_hand_only() -> None:
    by_hand = tank(state="residue", entries=(an_entry(tank="T", work="clean by hand"),))
    assert not list(contents(by_hand))
    assert [each for each in contents(tank(state="residue")) if isinstance(each, Refusal)]


def test_fixed_steps_bound_the_entry_by_times() -> None:
    # Ballast until the pump-out ends on Tuesday at 12, full again from Thursday 10 on.
    folder = tank(
        step("O", "ballast out"), step("I", "ballast in", start=at(4, "10:00"), end=at(4, "12:00")), state="ballast"
    )
    found = [each for each in contents(folder) if isinstance(each, KeepClear)]
    assert [(each.start, each.end) for each in found] == [
        (START, at(2, "10:00")),
        (at(4, "12:00"), folder.week.end),
    ]


def test_movable_steps_bound_the_entry_by_order_and_are_ordered_themselves() -> None:
    folder = tank(step("O", "ballast out", hours=2.0), step("X", "ballast in", hours=2.0, after=("O",)))
    found = {(each.first, each.then) for each in contents(folder) if isinstance(each, KeepOrder)}
    assert found == {("O", "X"), ("O", "E1"), ("E1", "X")}


def test_two_times_in_which_a_tank_is_empty_are_alternatives() -> None:
    steps = (
        step("O1", "ballast out", hours=2.0),
        step("O2", "ballast in", hours=2.0, after=("O1",)),
        step("O3", "ballast out", start=at(6, "10:00"), end=at(6, "12:00")),
    )
    found = [each for each in contents(tank(*steps)) if isinstance(each, KeepOrder) and each.either]
    assert {(each.branch, each.first, each.then) for each in found} == {
        (0, "O1", "E1"),
        (0, "E1", "O2"),
        (1, "O3", "E1"),
    }


def test_a_time_out_of_the_entrys_reach_is_no_alternative() -> None:
    steps = (
        step("O1", "ballast out", hours=2.0),
        step("O2", "ballast in", hours=2.0, after=("O1",)),
        step("O3", "ballast out", start=at(6, "10:00"), end=at(6, "12:00")),
    )
    folder = tank(*steps, entries=(an_entry(tank="T", due=at(6, "12:00")),))
    assert not [each for each in contents(folder) if isinstance(each, KeepOrder) and each.either]


@pytest.mark.parametrize(("full_again", "lately"), [("11:59", True), ("12:00", True), ("12:01", False)])
def test_pumped_out_lately_means_that_the_tank_is_full_again_within_24_hours(full_again: str, *, lately: bool) -> None:
    # Pumped out by Tuesday 12:00; on Wednesday 12:00 exactly 24 hours have gone.
    folder = tank(step("O", "ballast out"), step("I", "ballast in", start=at(3, full_again), end=at(3, "15:00")))
    assert emptied_lately(folder, folder.entries[0]) is lately


def test_a_refill_that_may_move_counts_from_its_last_possible_start() -> None:
    # Pumped out by Tuesday 12:00; a refill of 2 h that must be over by Wednesday 14:00 begins by 12:00 at the latest.
    for latest, lately in ((at(3, "14:00"), True), (at(3, "14:15"), False)):
        refill = step("I", "ballast in", earliest=at(2, "13:00"), latest=latest, hours=2.0)
        folder = tank(step("O", "ballast out"), refill)
        assert emptied_lately(folder, folder.entries[0]) is lately


def test_a_fixed_pump_out_and_a_movable_refill_bound_by_time_and_by_order() -> None:
    folder = tank(step("O", "ballast out"), step("I", "ballast in", earliest=at(3, "00:00"), hours=2.0))
    rows = list(contents(folder))
    assert [(each.start, each.end) for each in rows if isinstance(each, KeepClear)] == [(START, at(2, "12:00"))]
    assert {(each.first, each.then) for each in rows if isinstance(each, KeepOrder)} == {("O", "I"), ("E1", "I")}


def test_residue_left_on_purpose_is_for_cleaning_by_hand() -> None:
    steps = (step("W", "tank wash", end=at(2, "11:00")), step("G", "gas-free", start=at(2, "12:00"), leaves="residue"))
    over = {"state": "empty with vapour", "kind": "slop tank", "cargo": "OIL"}
    assert stretches(tank(*steps, **over), "T")[-1].state.state == "residue"
    assert not [each for each in contents(tank(*steps, **over)) if isinstance(each, Caution)]
    never = tank(step("D", "discharge", leaves="residue"), state="cargo", kind="slop tank", cargo="OIL")
    assert stretches(never, "T")[-1].state.state == "empty with vapour"


def test_a_hold_that_was_clean_is_clean_again_after_clean_ballast() -> None:
    steps = (step("I", "ballast in"), step("O", "ballast out", start=at(3, "10:00"), end=at(3, "12:00")))
    assert stretches(tank(*steps, state="clean and empty", kind="hold"), "T")[-1].state.state == "clean and empty"
    assert stretches(tank(*steps, state="residue", kind="hold"), "T")[-1].state.state == "empty with vapour"


def test_a_step_that_was_over_as_the_week_began_is_in_the_contents_already() -> None:
    over = step("O", "ballast out", start=at(0, "20:00"), end=START)
    assert stretches(tank(over), "T")[-1].state.state == "ballast"
    running = step("O", "ballast out", start=at(0, "20:00"), end=at(1, "00:01"))
    assert stretches(tank(running), "T")[-1].state.state == "clean and empty"


def test_a_space_that_is_said_to_be_unknown_is_not_said_to_lack_a_row() -> None:
    (refused,) = contents(tank(state="unknown"))
    assert isinstance(refused, Refusal)
    assert "no row" not in refused.because
