"""How long a space is ventilated, with each number of fans that helps."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from scheduler.domain.restrictions import AirChoice, Caution, Refusal
from scheduler.domain.ship import Gear
from scheduler.rules.air import air, choices
from tests.builders import a_cargo, a_folder, a_space, an_entry, an_operation, at, content, gear, policy, two_manholes


def fan(name: str = "fan", **over: Any) -> Gear:
    """Four fans of 8,000 m³/h whose 10 m of ducting leave 0.75: 6,000 m³/h each."""
    given: dict[str, Any] = {"count": 4, "flow_m3_h": 8000.0, "duct_m": 10.0, "drive": "water"}
    return Gear(gear=name, kind="fan", **(given | over))


def minutes(*fans: Gear, work: str = "inspect", state: str = "clean and empty", cargo: str | None = None, **space: Any):
    """Minutes by (fan, count) for a space T of 900 m³, open inside, two manholes; floor 4 h as a void's."""
    given = {"kind": "void", "framing": "open", "volume_m3": 900.0} | space
    folder = a_folder(
        spaces=(a_space("T", **given),),
        openings=two_manholes("T"),
        contents=(content("T", state, cargo),),
        cargoes=(a_cargo("OIL"), a_cargo("MUD", kind="solid")),
        gear=fans or (fan(),),
        entries=(an_entry(tank="T", work=work),),
    )
    return {each.fans[0]: each.minutes for each in choices(folder, folder.entries[0])}


def test_a_small_open_space_is_ventilated_for_the_floor_of_its_kind_with_one_fan() -> None:
    # 3 · 900/6,000 · ln(20.9/0.1) = 0.45 · 5.342 = 2.40 h, under the floor of 4 h; more fans shorten nothing.
    assert minutes() == {("fan", 1): 240}


def test_each_further_fan_is_offered_while_it_shortens_the_time() -> None:
    # 10 · 900/6,000 · 5.342 = 8.01 h: 481 min, on the grid 495; two fans 241, on the grid 255; three 161 and the
    # floor of 240; the fourth helps no more.
    assert minutes(framing="heavy") == {("fan", 1): 495, ("fan", 2): 255, ("fan", 3): 240}


@pytest.mark.parametrize(("framing", "changes"), [("open", 3), ("moderate", 6), ("heavy", 10), (None, 10)])
def test_framing_sets_the_mixing_factor_and_unknown_framing_counts_as_heavy(framing: str | None, changes: int) -> None:
    # 6,000 m³ with 6,000 m³/h: an hour each change; ln 209 = 5.342 of them, times the factor.
    expected = -int(-changes * 5.342334 * 60 // 15) * 15
    assert minutes(fan(count=1), framing=framing, volume_m3=6000.0) == {("fan", 1): expected}


def test_a_single_opening_mixes_as_badly_as_can_be() -> None:
    folder = a_folder(openings=two_manholes("3P")[:1], spaces=(a_space("3P", framing="open"),))
    assert {each.mixing_factor for each in choices(folder, folder.entries[0])} == {10.0}


@pytest.mark.parametrize(("duct_m", "left"), [(10.0, 0.75), (10.1, 0.6), (30.0, 0.6), (30.1, 0.5), (None, 0.5)])
def test_ducting_takes_its_share_of_the_flow(duct_m: float | None, left: float) -> None:
    # 8,000 m³ at 8,000 m³/h free: 1/left hours a change.
    expected = -int(-3 * 5.342334 / left * 60 // 15) * 15
    assert minutes(fan(count=1, duct_m=duct_m), volume_m3=8000.0) == {("fan", 1): expected}


def test_air_that_does_not_reach_the_bottom_is_worked_in_two_zones_and_takes_much_longer() -> None:
    # Over a mixing factor of 3 the fan gives 2,000 m³/h above, and 5 % of it, 100 m³/h, reach the lower 540 m³:
    # a time constant of 540 · 2,100/(2,000 · 100) = 5.67 h. 5.342 of them are 30.3 h, and the upper part comes first.
    (time,) = minutes(fan(count=1), air_reaches_bottom=False).values()
    assert 30.3 * 60 < time < 31 * 60
    (unknown,) = minutes(fan(count=1), air_reaches_bottom=None).values()
    assert unknown == time


def test_residue_of_a_liquid_is_driven_out_to_one_percent_of_its_flammable_limit() -> None:
    # From pure vapour to 1 % of 1 % vol: ln(100/0.01) = 9.21 against oxygen's 5.34; 3 · 900/6,000 · 9.21 = 4.14 h.
    slop = {"work": "clean by hand", "state": "residue", "kind": "slop tank"}
    assert minutes(fan(count=1), cargo="OIL", **slop) == {("fan", 1): 255}


def test_a_stricter_flammable_limit_takes_longer() -> None:
    # Half of the usual limit: ln(100/0.005) = 9.90; 0.45 · 9.90 = 4.46 h.
    folder = a_folder(
        spaces=(a_space("T", kind="slop tank", framing="open", volume_m3=900.0),),
        openings=two_manholes("T"),
        contents=(content("T", "residue", "OIL"),),
        cargoes=(a_cargo("OIL"),),
        gear=(fan(count=1),),
        policy=policy(limits__lfl_percent_max=0.5),
        entries=(an_entry(tank="T", work="clean by hand"),),
    )
    assert [each.minutes for each in choices(folder, folder.entries[0])] == [270]


def test_residue_of_an_unknown_cargo_takes_the_cautious_limits() -> None:
    # Down to a quarter of a ppm: ln(10^6/0.25) = 15.2; 0.45 · 15.2 = 6.84 h.
    slop = {"work": "clean by hand", "state": "residue", "kind": "slop tank"}
    assert minutes(fan(count=1), cargo="WHO KNOWS", **slop) == {("fan", 1): 420}


def test_solid_residue_gives_off_no_vapour() -> None:
    assert minutes(fan(count=1), work="clean by hand", state="residue", kind="hold", cargo="MUD") == {("fan", 1): 240}


@pytest.mark.parametrize(
    ("kind", "floor_min"),
    [
        ("ballast tank", 480), ("peak tank", 480), ("void", 240), ("cofferdam", 240), ("chain locker", 240),
        ("cargo tank", 240), ("slop tank", 240), ("pump room", 15), ("hold", 240), ("other", 240),
    ],
)  # fmt: skip
def test_the_floor_is_that_of_the_kind(kind: str, floor_min: int) -> None:
    # 1 m³ is aired in no time, so that only the floor is left.
    assert minutes(fan(count=1), kind=kind, volume_m3=1.0) == {("fan", 1): floor_min}


def test_a_cargo_tank_gas_freed_in_the_week_has_the_short_floor() -> None:
    steps = tuple(
        an_operation(name, kind, spaces=("T",), start=at(2, f"{hour}:00"), end=at(2, f"{hour + 1}:00"))
        for name, kind, hour in (("W", "tank wash", 10), ("G", "gas-free", 12))
    )
    folder = a_folder(
        spaces=(a_space("T", kind="cargo tank", volume_m3=1.0),),
        openings=two_manholes("T"),
        contents=(content("T", "empty with vapour", "OIL"),),
        operations=steps,
        entries=(an_entry(tank="T"),),
    )
    assert {each.minutes for each in choices(folder, folder.entries[0])} == {60}


def test_each_kind_of_fan_gives_its_own_choices() -> None:
    found = minutes(fan("big"), fan("small", flow_m3_h=2000.0, count=1))
    assert set(found) == {("big", 1), ("small", 1)}


def refusals(**over: Any) -> list[Refusal]:
    return [each for each in air(a_folder(**over)) if isinstance(each, Refusal)]


def test_a_space_without_a_volume_is_refused_by_the_column() -> None:
    (refused,) = refusals(spaces=(a_space(volume_m3=None),))
    assert "volume_m3" in refused.because


def test_a_ship_without_fans_is_refused_by_the_table() -> None:
    (refused,) = refusals(gear=tuple(each for each in gear() if each.kind != "fan"))
    assert "gear.csv" in refused.because


def test_a_fan_without_a_flow_is_not_counted_and_is_a_caution() -> None:
    bare = tuple(replace(each, flow_m3_h=None) if each.kind == "fan" else each for each in gear())
    found = list(air(a_folder(gear=bare)))
    assert [type(each) for each in found] == [Caution, Refusal]


@pytest.mark.parametrize(("cargo", "said"), [("OIL", True), ("MUD", False)])
def test_residue_that_gives_off_vapour_is_a_caution_near_the_top(cargo: str, *, said: bool) -> None:
    folder = a_folder(
        spaces=(a_space("T", kind="slop tank"),),
        openings=two_manholes("T"),
        contents=(content("T", "residue", cargo),),
        cargoes=(a_cargo("OIL"), a_cargo("MUD", kind="solid")),
        entries=(an_entry(tank="T", work="clean by hand"),),
    )
    assert [each.weight for each in air(folder) if isinstance(each, Caution)] == ([1] if said else [])


def test_the_reason_names_factor_volume_flow_and_what_governs() -> None:
    folder = a_folder(policy=policy(air__floor_h__ballast_tank=0.25))
    (first, *_) = [each for each in air(folder) if isinstance(each, AirChoice)]
    for part in ("mixing factor 6", "900 m³", "4,500 m³/h", "oxygen from 0 to 20.8 %", "governs"):
        assert part in first.because
