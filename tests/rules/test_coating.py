"""Coating needs the maker's least air, ducted to the bottom, and venting afterwards."""

from __future__ import annotations

from typing import Any

import pytest

from scheduler.domain.entries import Coating
from scheduler.domain.folder import VoyageFolder
from scheduler.domain.restrictions import Caution, Refusal
from scheduler.domain.ship import Gear
from scheduler.rules.air import choices
from scheduler.rules.coating import coating, tail_min
from tests.builders import a_folder, a_space, an_entry


def paint(**over: Any) -> Coating:
    """Ten litres of an invented primer under supplied air."""
    given: dict[str, Any] = {
        "entry": "E1", "product": "grey primer", "litres": 10.0, "litres_per_hour": 10.0, "least_air_m3_h": 9000.0,
        "supplied_air": True,
    }  # fmt: skip
    return Coating(**(given | over))


def coated(*rows: Coating, fans: tuple[Gear, ...] = (), **over: Any) -> VoyageFolder:
    """A coating entry in 3P, 10 m deep; fans of 6,000 m³/h behind 10 m of ducting: 4,500 m³/h each."""
    fan = Gear(gear="fan", kind="fan", count=3, flow_m3_h=6000.0, duct_m=10.0, drive="water")
    given: dict[str, Any] = {"coatings": rows, "gear": fans or (fan,), "entries": (an_entry(work="coat"),)}
    return a_folder(**(given | over))


def refusals(folder: VoyageFolder) -> list[Refusal]:
    return [each for each in coating(folder) if isinstance(each, Refusal)]


@pytest.mark.parametrize(
    ("least_m3_h", "fans"),
    [(8999.0, {2, 3}), (9000.0, {2, 3}), (9001.0, {3}), (13500.0, {3}), (13501.0, set())],
)
def test_only_numbers_of_fans_that_give_the_makers_air_are_choices(least_m3_h: float, fans: set[int]) -> None:
    # 900 m³ behind moderate framing with two fans: 6 · 900/9,000 · 5.34 = 3.2 h; the floor of 8 h hides the rest,
    # so that of the numbers that give the air only the least is offered.
    folder = coated(paint(least_air_m3_h=least_m3_h))
    assert {each.fans[0][1] for each in choices(folder, folder.entries[0])} == ({min(fans)} if fans else set())
    assert bool(refusals(folder)) is not bool(fans)


def test_kinds_of_fans_count_together_where_none_gives_the_air_alone() -> None:
    fans = tuple(
        Gear(gear=name, kind="fan", count=count, flow_m3_h=flow, duct_m=10.0, drive="air")
        for name, count, flow in (("big", 1, 8000.0), ("small", 4, 2000.0))
    )
    # 6,000 from the big one, 1,500 from each small one: 9,000 with two of them.
    folder = coated(paint(), fans=fans)
    assert [each.fans for each in choices(folder, folder.entries[0])] == [(("big", 1), ("small", 2))]


@pytest.mark.parametrize("over", [{"duct_m": None}, {"duct_m": 9.9}, {"drive": "electric"}, {"drive": None}])
def test_a_fan_without_ducting_to_the_bottom_or_with_a_cable_does_not_count(over: dict[str, Any]) -> None:
    given: dict[str, Any] = {"count": 9, "flow_m3_h": 6000.0, "duct_m": 10.0, "drive": "water"}
    assert refusals(coated(paint(), fans=(Gear(gear="fan", kind="fan", **(given | over)),)))


def test_a_blank_least_air_is_refused_by_the_column() -> None:
    (refused,) = refusals(coated(paint(least_air_m3_h=None)))
    assert "least_air_m3_h" in refused.because


def test_coating_work_without_a_row_is_refused_by_the_table() -> None:
    (refused,) = refusals(coated())
    assert "coatings.csv" in refused.because


def test_air_that_is_not_known_to_reach_the_bottom_is_refused() -> None:
    (refused,) = refusals(coated(paint(), spaces=(a_space(air_reaches_bottom=None),)))
    assert "bottom" in refused.because


def test_venting_lasts_for_the_drying_time_or_else_as_long_as_before() -> None:
    drying = coated(paint(drying_h=10.0))
    assert tail_min(drying, drying.entries[0]) == 600
    quick = coated(paint(drying_h=2.0))
    assert tail_min(quick, quick.entries[0]) == 480  # never under the floor of a ballast tank
    unknown = coated(paint())
    assert tail_min(unknown, unknown.entries[0]) == 480  # the floor of a ballast tank, which governed
    assert tail_min(a_folder(), an_entry()) == 0


def test_coating_without_supplied_air_is_a_caution_near_the_top() -> None:
    assert [each.weight for each in coating(coated(paint(supplied_air=None))) if isinstance(each, Caution)] == [1]
