"""What is shut around a space, and what may not run meanwhile."""

from __future__ import annotations

from scheduler.domain.restrictions import Device, KeepApart, KeepClear, Notice, Phase, Refusal
from scheduler.domain.ship import Pipe
from scheduler.rules.lines import lines
from tests.builders import a_folder, a_space, an_entry, an_operation, at, two_manholes, two_valves


def pipe(point: str, to_point: str, device_id: str, device: str = "valve", *, lockable: bool = True) -> Pipe:
    where = "cargo control"
    return Pipe(
        point=point, to_point=to_point, device=device, device_id=device_id, lockable=lockable, worked_from=where
    )


def test_two_valves_on_the_branch_are_shut_and_their_place_is_told() -> None:
    found = list(lines(a_folder()))
    assert [each.device for each in found if isinstance(each, Device)] == ["V1-3P", "V2-3P"]
    assert {(each.who, each.when) for each in found if isinstance(each, Notice)} == {
        ("deck", "before isolate"),
        ("deck", "after restore"),
    }


def test_one_valve_alone_is_no_isolation_and_the_way_is_named() -> None:
    folder = a_folder(lines=(pipe("3P", "main: ballast", "V1"),))
    (refused,) = [each for each in lines(folder) if isinstance(each, Refusal)]
    assert "main: ballast" in refused.because
    assert "V1 holds 1 of 2" in refused.because


def test_a_blank_alone_is_isolation() -> None:
    folder = a_folder(lines=(pipe("3P", "main: ballast", "B1", "spectacle blank"),))
    assert not [each for each in lines(folder) if isinstance(each, Refusal)]


def test_a_blank_that_cannot_be_locked_counts_as_open() -> None:
    folder = a_folder(lines=(pipe("3P", "main: ballast", "B1", "spectacle blank", lockable=False),))
    assert [each for each in lines(folder) if isinstance(each, Refusal)]


def test_a_tank_that_the_piping_table_does_not_know_is_refused() -> None:
    (refused,) = [each for each in lines(a_folder(lines=two_valves("3S"))) if isinstance(each, Refusal)]
    assert "lines.csv" in refused.because


def test_a_fixed_operation_on_the_space_itself_keeps_it_in_use_for_its_length() -> None:
    folder = a_folder(operations=(an_operation("B1", "ballast out", spaces=("3P",)),))
    (clear,) = [each for each in lines(folder) if isinstance(each, KeepClear)]
    assert (clear.start, clear.end) == (at(2, "10:00"), at(2, "12:00"))
    assert Phase.ISOLATE in clear.phases
    assert Phase.BRIEF not in clear.phases


def test_a_movable_operation_on_the_space_itself_is_kept_apart() -> None:
    folder = a_folder(operations=(an_operation("B1", "ballast out", spaces=("3P",), hours=3.0),))
    (apart,) = [each for each in lines(folder) if isinstance(each, KeepApart)]
    assert (apart.entry, apart.other) == ("E1", "B1")


def test_an_operation_on_another_tank_does_not_matter() -> None:
    folder = a_folder(operations=(an_operation("B1", "ballast out", spaces=("3S",)),))
    assert not [each for each in lines(folder) if isinstance(each, KeepClear)]


def test_an_operation_whose_blank_lines_reach_a_shut_valve_cannot_run() -> None:
    # 3P and 3S hang on one branch: two valves shut 3P, and the second of them stands on the only way of 3S.
    branch = (pipe("3P", "joint 3", "V1"), pipe("joint 3", "main: ballast", "V2"), pipe("3S", "joint 3", "V3"))
    folder = a_folder(lines=branch, operations=(an_operation("B1", "ballast out", spaces=("3S",)),))
    (clear,) = [each for each in lines(folder) if isinstance(each, KeepClear)]
    assert "V1, V2 and V3" in clear.because


def test_the_lines_column_is_the_full_list_of_what_an_operation_uses() -> None:
    branch = (pipe("3P", "joint 3", "V1"), pipe("joint 3", "main: ballast", "V2"), pipe("3S", "joint 3", "V3"))
    other_way = an_operation("B1", "ballast out", spaces=("3S",), lines=("V9",))
    assert not [each for each in lines(a_folder(lines=branch, operations=(other_way,))) if isinstance(each, KeepClear)]
    this_way = an_operation("B1", "ballast out", spaces=("3S",), lines=("V3",))
    assert [each for each in lines(a_folder(lines=branch, operations=(this_way,))) if isinstance(each, KeepClear)]


def test_the_fixed_fan_of_a_duct_keel_stays_open_for_air_and_is_named() -> None:
    keel = a_space("DK", kind="duct keel")
    fan = (*two_valves("DK"), pipe("DK", "fixed fan keel", "FB", "spectacle blank"))
    folder = a_folder(spaces=(keel,), openings=two_manholes("DK"), lines=fan, entries=(an_entry(tank="DK"),))
    found = list(lines(folder))
    assert "FB" not in [each.device for each in found if isinstance(each, Device)]
    assert any("FB stays open" in each.what for each in found if isinstance(each, Notice))


def test_a_fixed_fan_of_any_other_space_is_shut_like_every_line() -> None:
    fan = (*two_valves("3P"), pipe("3P", "fixed fan tanks", "FB", "spectacle blank"))
    devices = [each.device for each in lines(a_folder(lines=fan)) if isinstance(each, Device)]
    assert "FB" in devices
