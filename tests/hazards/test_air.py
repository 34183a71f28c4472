"""Times of ventilation: what they must never do."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from scheduler.hazards.air import (
    air_changes_per_h,
    build_up_time_s,
    concentration_after,
    dilution_time_s,
    lower_zone_time_s,
    minutes_to_remove,
    oxygen_recovery_time_s,
    zones_left,
)

TANK = {"volume_m3": 500.0, "flow_m3_s": 5000.0 / 3600.0}
BIG_TANK = {"volume_m3": 1000.0, "flow_m3_s": 10_000.0 / 3600.0, "lower_share": 0.6}


def test_ten_percent_to_one_at_ten_changes_takes_13_8_minutes_and_three_times_that_at_factor_three() -> None:
    # ln 10 / 10 per hour = 0.2303 h = 13.8 min.
    one = dilution_time_s(**TANK, start=10.0, target=1.0, mixing_factor=1.0) / 60.0
    three = dilution_time_s(**TANK, start=10.0, target=1.0, mixing_factor=3.0) / 60.0
    assert (one, three) == pytest.approx((13.8, 41.4), abs=0.05)


@pytest.mark.parametrize(("start_percent", "changes"), [(0.0, 5.34), (5.0, 5.07), (8.0, 4.86)])
def test_oxygen_comes_back_to_20_8_percent_in_its_number_of_changes(start_percent: float, changes: float) -> None:
    # ln((20.9 − start) / 0.1): the last tenth decides, not the start.
    time_s = oxygen_recovery_time_s(volume_m3=1.0, flow_m3_s=1.0, start_percent=start_percent, mixing_factor=1.0)
    assert time_s == pytest.approx(changes, abs=0.005)


def test_oxygen_of_the_supply_itself_is_never_promised() -> None:
    with pytest.raises(ValueError, match="only approached"):
        oxygen_recovery_time_s(**TANK, start_percent=8.0, target_percent=20.9, mixing_factor=3.0)


def test_what_is_there_already_needs_no_time() -> None:
    assert dilution_time_s(**TANK, start=0.5, target=1.0, mixing_factor=3.0) == 0.0
    assert dilution_time_s(**TANK, start=1.0, target=1.0, mixing_factor=3.0) == 0.0
    assert oxygen_recovery_time_s(**TANK, start_percent=20.85, mixing_factor=3.0) == 0.0


def test_a_target_below_what_the_supply_brings_is_read_from_the_other_side() -> None:
    # Vapour in the supply: 5 % never falls to 0; asked for above it, 10 % is reached from 20 % in ln 3 changes.
    assert dilution_time_s(
        volume_m3=1.0, flow_m3_s=1.0, start=20.0, target=10.0, supply=5.0, mixing_factor=1.0
    ) == pytest.approx(math.log(3.0))


def test_a_bottom_that_the_duct_does_not_reach_takes_twelve_times_as_long() -> None:
    # 10 changes an hour, from 50 % to 1 %: one zone needs ln 50 / 10 h = 0.391 h. The bottom, at an exchange of 5 %,
    # has a slow time constant of 1.26 h: about 1.26·ln 50 = 4.9 h.
    one_s = dilution_time_s(volume_m3=1000.0, flow_m3_s=10_000.0 / 3600.0, start=50.0, target=1.0, mixing_factor=1.0)
    lower_s = lower_zone_time_s(**BIG_TANK, exchange_share=0.05, start=50.0, target=1.0)
    assert one_s / 3600.0 == pytest.approx(0.391, abs=0.0005)
    assert lower_s / 3600.0 == pytest.approx(4.9, abs=0.1)


@pytest.mark.parametrize(
    ("exchange_share", "upper", "lower"),
    [(0.005, 0.0042, 0.850), (0.02, 0.0105, 0.527), (0.05, 0.01038, 0.21135), (0.20, 0.00087, 0.00474)],
)
def test_the_upper_reading_looks_far_better_than_the_bottom(exchange_share: float, upper: float, lower: float) -> None:
    # Constructed: both balances integrated by small steps over two hours.
    left = zones_left(**BIG_TANK, exchange_share=exchange_share, after_s=7200.0)
    assert (left.upper, left.lower) == pytest.approx((upper, lower), rel=0.012)


@given(
    st.floats(0.05, 0.95),
    st.floats(0.001, 1.0),
    st.floats(1.001, 1000.0),
)
def test_the_time_for_the_bottom_leaves_just_the_target_there(
    lower_share: float, exchange_share: float, excess: float
) -> None:
    tank = {"volume_m3": 800.0, "flow_m3_s": 1.5, "lower_share": lower_share, "exchange_share": exchange_share}
    time_s = lower_zone_time_s(**tank, start=excess, target=1.0)
    assert zones_left(**tank, after_s=time_s).lower * excess == pytest.approx(1.0, rel=1e-6)
    assert time_s >= dilution_time_s(volume_m3=800.0, flow_m3_s=1.5, start=excess, target=1.0, mixing_factor=1.0) / 2


@given(st.floats(1.0, 10.0), st.floats(1.0, 10.0))
def test_worse_mixing_never_shortens_a_time(one: float, other: float) -> None:
    better, worse = sorted((one, other))
    times = [dilution_time_s(**TANK, start=50.0, target=1.0, mixing_factor=factor) for factor in (better, worse)]
    assert times[0] <= times[1]


def test_a_steady_source_that_ends_below_the_target_never_reaches_it() -> None:
    assert build_up_time_s(**TANK, source_m3_s=1e-3, target=0.01, mixing_factor=3.0) is None


def test_build_up_runs_to_the_steady_state_and_decay_to_nothing() -> None:
    # K·G/Q = 3·0.001/1.389 = 0.00216.
    late = concentration_after(**TANK, source_m3_s=1e-3, after_s=1e6, mixing_factor=3.0)
    gone = concentration_after(**TANK, start=0.1, after_s=1e6, mixing_factor=3.0)
    assert (late, gone) == pytest.approx((0.00216, 0.0), abs=1e-9)


@pytest.mark.parametrize(
    ("call", "says"),
    [
        (lambda: dilution_time_s(**TANK, start=10.0, target=0.0, mixing_factor=3.0), "target: 0.0 was given"),
        (lambda: dilution_time_s(**TANK, start=10.0, target=1.0, mixing_factor=0.9), "mixing_factor: 0.9"),
        (lambda: dilution_time_s(volume_m3=500.0, flow_m3_s=0.0, start=1, target=0.1, mixing_factor=3), "flow_m3_s"),
        (lambda: dilution_time_s(**TANK, start=math.nan, target=1.0, mixing_factor=3.0), "start: nan"),
        (lambda: minutes_to_remove(air_changes_per_h=6.0, share=1.0), "share: 1.0"),
        (lambda: air_changes_per_h(volume_m3=-1.0, flow_m3_s=1.0), "volume_m3: -1.0"),
        (lambda: zones_left(**BIG_TANK, exchange_share=0.0, after_s=1.0), "exchange_share: 0.0"),
        (
            lambda: zones_left(volume_m3=1, flow_m3_s=1, lower_share=1.0, exchange_share=0.1, after_s=1.0),
            "lower_share: 1.0",
        ),
    ],
)
def test_a_figure_that_cannot_be_is_refused_by_name(call: object, says: str) -> None:
    assert callable(call)
    with pytest.raises(ValueError, match=says):
        call()
