"""Isolation lists of small piping systems, worked by hand."""

from __future__ import annotations

import pytest

from scheduler.hazards.piping import (
    Branch,
    Device,
    Isolation,
    OpenBranch,
    devices_reaching,
    isolate,
    strength_when_closed,
)

SPACES = {"3P", "3S", "slop P", "pipe tunnel"}


def device(row: str, kind: str = "valve", lockable: bool = True) -> Device:
    """'V1: 3P > pipe 1' as a device."""
    device_id, _, ends = row.partition(": ")
    point, _, to_point = ends.partition(" > ")
    return Device(
        point=point,
        to_point=to_point,
        device_id=device_id,
        strength=strength_when_closed(kind),
        lockable=lockable,
        kind=kind,
    )


def isolation(*devices: Device) -> Isolation:
    return isolate(devices, "3P", SPACES)


def test_two_valves_in_line_hold_and_the_third_is_left_alone() -> None:
    found = isolation(device("V1: 3P > pipe 1"), device("V2: pipe 1 > pipe 2"), device("V3: pipe 2 > main: ballast"))
    assert found.branches == (Branch(devices=("V1", "V2"), at=("V1",)),)
    assert found.closes


@pytest.mark.parametrize("kind", ["spectacle blank", "removable piece"])
def test_one_blank_or_a_piece_taken_out_holds_by_itself(kind: str) -> None:
    found = isolation(device("B1: 3P > pipe 1", kind), device("V1: pipe 1 > main: inert gas"))
    assert found.devices == ("B1",)


def test_a_single_valve_to_a_main_cannot_be_closed_and_the_way_is_named() -> None:
    found = isolation(device("V1: 3P > main: vapour"))
    assert found.cannot_close == (OpenBranch(source="main: vapour", holds=1, way=("V1",)),)
    assert not found.closes


def test_a_non_return_valve_and_a_valve_without_a_lock_count_for_nothing() -> None:
    found = isolation(
        device("V1: 3P > pipe 1"),
        device("N1: pipe 1 > pipe 2", "non-return valve"),
        device("V2: pipe 2 > sea chest 1", lockable=False),
    )
    assert found.cannot_close == (OpenBranch(source="sea chest 1", holds=1, way=("V1", "N1", "V2")),)


def test_a_valve_with_a_blank_that_cannot_be_locked_behind_it_does_not_hold() -> None:
    assert not isolation(
        device("V1: 3P > pipe 1"), device("B1: pipe 1 > pump 1", "spectacle blank", lockable=False)
    ).closes


def test_at_a_joint_both_arms_are_closed() -> None:
    found = isolation(
        device("V1: 3P > joint 1"), device("V2: joint 1 > main: cargo"), device("V3: joint 1 > main: stripping")
    )
    assert found.branches == (Branch(devices=("V1", "V2", "V3"), at=("V1",)),)


def test_a_bypass_round_the_first_valve_is_closed_too() -> None:
    found = isolation(device("V1: 3P > joint 1"), device("V1b: 3P > joint 1"), device("V2: joint 1 > main: cargo"))
    assert found.branches == (Branch(devices=("V1", "V1b", "V2"), at=("V1", "V1b")),)


def test_an_open_bypass_round_the_first_valve_leaves_only_the_second() -> None:
    found = isolation(
        device("V1: 3P > joint 1"), device("P1: 3P > joint 1", "pipe"), device("V2: joint 1 > main: cargo")
    )
    assert [(branch.source, branch.holds) for branch in found.cannot_close] == [("main: cargo", 1)]


def test_another_space_is_a_source_however_clean() -> None:
    assert [each.source for each in isolation(device("X1: 3P > 3S")).cannot_close] == ["3S"]


def test_a_space_whose_name_begins_like_a_pipe_is_still_a_space() -> None:
    found = isolation(device("X1: 3P > pipe tunnel"), device("X2: pipe tunnel > blind end 2"))
    assert [each.source for each in found.cannot_close] == ["pipe tunnel"]


def test_a_blind_end_is_no_source_and_needs_nothing() -> None:
    found = isolation(device("V1: 3P > pipe 1"), device("V2: pipe 1 > blind end 1"))
    assert (found.closes, found.devices) == (True, ())


def test_a_blind_end_with_two_devices_on_it_is_not_believed() -> None:
    found = isolation(device("V1: 3P > blind end 1"), device("V2: blind end 1 > main: cargo"))
    assert [each.source for each in found.cannot_close] == ["blind end 1"]


def test_a_stretch_of_pipe_that_leads_nobody_knows_where_is_open() -> None:
    assert [each.source for each in isolation(device("V1: 3P > pipe 9")).cannot_close] == ["pipe 9"]


def test_pipes_that_do_not_meet_outside_the_space_are_branches_of_their_own() -> None:
    found = isolation(
        device("B1: 3P > pipe 1", "spectacle blank"),
        device("V9: pipe 1 > main: inert gas"),
        device("V1: 3P > pipe 2"),
        device("V2: pipe 2 > main: ballast"),
    )
    assert found.branches == (Branch(devices=("B1",), at=("B1",)), Branch(devices=("V1", "V2"), at=("V1",)))


def test_a_space_without_pipes_needs_nothing() -> None:
    assert isolation(device("V1: 3S > main: cargo")) == Isolation(space="3P", branches=(), cannot_close=())


def test_a_cargo_tank_closes_at_its_own_boundary_on_every_system() -> None:
    found = isolation(
        device("C1: 3P > pipe c1"),
        device("C2: pipe c1 > main: cargo"),
        device("S1: 3P > pipe s1"),
        device("S2: pipe s1 > main: stripping", "spectacle blank"),
        device("G1: 3P > main: inert gas", "spectacle blank"),
        device("W1: 3P > pipe w1", "removable piece"),
        device("W2: pipe w1 > main: wash"),
        device("H1: 3P > pipe h1"),
        device("H2: pipe h1 > main: heating"),
        device("C9: main: cargo > manifold 1"),
    )
    # Stripping needs its valve and the blank behind it: one alone holds 1, together 3.
    assert found.devices == ("C1", "C2", "G1", "H1", "H2", "S1", "S2", "W1")
    assert found.closes


def test_an_operation_that_names_no_lines_uses_every_device_of_the_branches_that_reach_its_space() -> None:
    line = (
        device("V1: 3P > pipe 1"),
        device("P1: pipe 1 > joint 1", "pipe"),
        device("V2: joint 1 > main: cargo"),
        device("V3: joint 1 > 3S"),
        device("V4: 3S > main: stripping"),
        device("V5: main: cargo > manifold 1"),
    )
    assert devices_reaching(line, "3P", SPACES) == ("P1", "V1", "V2", "V3")


def test_an_unknown_kind_of_device_is_refused() -> None:
    with pytest.raises(ValueError, match="kind: 'gate' was given"):
        strength_when_closed("gate")


def test_a_strength_below_nothing_is_refused() -> None:
    broken = Device(point="3P", to_point="pipe 1", device_id="V1", strength=-1, lockable=True)
    with pytest.raises(ValueError, match="device V1: strength -1"):
        isolation(broken)


@pytest.mark.parametrize("source", ["sea chest 1", "manifold 2", "fixed fan 1", "pump 1", "header 4"])
def test_every_point_but_pipes_joints_and_blind_ends_is_a_source(source: str) -> None:
    assert [each.source for each in isolation(device(f"V1: 3P > {source}")).cannot_close] == [source]


def test_a_point_is_known_by_its_first_word_however_it_is_written() -> None:
    found = isolation(device("V1: 3P > Joint 1"), device("V2: Joint 1 > Blind End 1"), device("V3: Joint 1 > pump 1"))
    assert found.devices == ("V1", "V3")
