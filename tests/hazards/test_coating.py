"""Coating: what the verdict must never overlook."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from scheduler.hazards.coating import (
    air_needed_m3_s,
    below_after_s,
    can_ignite,
    lfl_of_mixture,
    plating_k,
    solvent_flow_m3_s,
)

SHARES = st.floats(0.0, 1.0)


@given(SHARES, SHARES, SHARES)
def test_more_thinner_never_means_less_solvent(one: float, other: float, own_share: float) -> None:
    flows = [
        solvent_flow_m3_s(mixed_m3_s=1e-5, thinner_share=share, own_share=own_share) for share in sorted((one, other))
    ]
    assert flows[0] <= flows[1] * (1 + 1e-12)


def test_pure_thinner_is_all_solvent() -> None:
    assert solvent_flow_m3_s(mixed_m3_s=1e-5, thinner_share=1.0, own_share=0.0) == 1e-5


def test_worse_mixing_needs_that_many_times_the_air() -> None:
    one, five = (
        air_needed_m3_s(vapour_m3_s=1e-3, lfl_share=0.01, limit_of_lfl=0.1, mixing_factor=factor) for factor in (1, 5)
    )
    # 1 litre of vapour a second kept at 0.1 %: 0.999 m³/s.
    assert (one, five) == pytest.approx((0.999, 4.995))


@pytest.mark.parametrize(("temperature_k", "ignites"), [(293.1, False), (293.15, True), (298.15, True), (310.0, True)])
def test_a_film_within_the_margin_below_the_flash_point_can_ignite(temperature_k: float, ignites: bool) -> None:
    # Flash point 25 °C, margin 5 K: from 20 °C on.
    assert can_ignite(temperature_k=temperature_k, flash_k=298.15, margin_k=5.0) is ignites


def test_sunlit_plating_takes_the_measured_temperature_where_there_is_one() -> None:
    assert plating_k(air_k=303.15, above_air_k=45.0, measured_k=330.0) == 330.0
    assert plating_k(air_k=303.15, above_air_k=45.0) == pytest.approx(348.15)


def test_more_exchange_never_gathers_more_below() -> None:
    gathered = [
        below_after_s(vapour_m3_s=1e-3, exchange_m3_s=exchange, lower_m3=150.0, after_s=3600.0)
        for exchange in (0.01, 0.05, 0.5)
    ]
    assert gathered == sorted(gathered, reverse=True)


def test_saturation_caps_what_gathers_below() -> None:
    assert below_after_s(vapour_m3_s=1.0, exchange_m3_s=0.01, lower_m3=10.0, after_s=1e5, saturation_share=0.02) == 0.02


def test_no_air_holds_more_vapour_than_itself() -> None:
    assert below_after_s(vapour_m3_s=1.0, exchange_m3_s=0.01, lower_m3=10.0, after_s=1e6) == 1.0


def test_a_mixture_lies_between_its_parts() -> None:
    assert 0.01 < lfl_of_mixture([0.01, 0.02], [1.0, 1.0]) < 0.02


@pytest.mark.parametrize(
    ("call", "says"),
    [
        (lambda: solvent_flow_m3_s(mixed_m3_s=1.0, thinner_share=1.2, own_share=0.4), "thinner_share: 1.2"),
        (
            lambda: air_needed_m3_s(vapour_m3_s=1.0, lfl_share=0.0, limit_of_lfl=0.1, mixing_factor=1.0),
            "lfl_share: 0.0",
        ),
        (
            lambda: air_needed_m3_s(vapour_m3_s=1.0, lfl_share=0.01, limit_of_lfl=0.1, mixing_factor=0.5),
            "mixing_factor: 0.5",
        ),
        (lambda: lfl_of_mixture([0.01], [1.0, 1.0]), "1 limits were given for 2 vapours"),
        (lambda: lfl_of_mixture([0.01], [0.0]), "sum_of_vapour_shares: 0"),
    ],
)
def test_a_figure_that_cannot_be_is_refused_by_name(call: object, says: str) -> None:
    assert callable(call)
    with pytest.raises(ValueError, match=says):
        call()
