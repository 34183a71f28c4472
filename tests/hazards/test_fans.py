"""Fans and ducting."""

from __future__ import annotations

import pytest

from scheduler.hazards.fans import duct_derating, flow_of_fans_m3_s

POLICY = {"derate_10m": 0.75, "derate_30m": 0.6, "derate_unknown": 0.5}


@pytest.mark.parametrize(
    ("duct_m", "share"),
    [(0.0, 0.75), (10.0, 0.75), (10.1, 0.6), (30.0, 0.6), (30.1, 0.5), (None, 0.5)],
)
def test_longer_ducting_never_leaves_more_air(duct_m: float | None, share: float) -> None:
    assert duct_derating(duct_m, **POLICY) == share


def test_ducting_that_is_unknown_or_too_long_takes_the_least_even_of_an_odd_policy() -> None:
    assert duct_derating(None, derate_10m=0.4, derate_30m=0.6, derate_unknown=0.7) == 0.4
    assert duct_derating(20.0, derate_10m=0.4, derate_30m=0.6, derate_unknown=0.7) == 0.4


def test_two_fans_give_the_sum_of_what_their_ducts_leave() -> None:
    # 2,500 m³/h each, one on 10 m and one on 30 m: 1,875 + 1,500.
    flow = flow_of_fans_m3_s([2500 / 3600, 2500 / 3600], [0.75, 0.6])
    assert flow * 3600 == pytest.approx(3375)


def test_no_fan_gives_no_air() -> None:
    assert flow_of_fans_m3_s([], []) == 0.0


@pytest.mark.parametrize("derating", [0.0, 1.1])
def test_a_derating_outside_its_bounds_is_refused(derating: float) -> None:
    with pytest.raises(ValueError, match="derating"):
        flow_of_fans_m3_s([1.0], [derating])


def test_a_fan_without_its_derating_is_refused() -> None:
    with pytest.raises(ValueError, match="1 were given for 2 fans"):
        flow_of_fans_m3_s([1.0, 1.0], [0.5])
