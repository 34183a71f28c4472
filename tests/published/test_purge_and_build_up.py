"""Build-up of vapour from a steady source, and purging after it.

Source: ACGIH, Industrial Ventilation, A Manual of Recommended Practice, chapter on dilution ventilation, the
worked example of build-up and purge. The example is from memory; its arithmetic reproduces. Minutes and cubic
feet stand where the functions say seconds and cubic metres: any one pair of units gives the same answers.
"""

from __future__ import annotations

import pytest

from scheduler.hazards.air import build_up_time_s, concentration_after, dilution_time_s, zones_left

ROOM_FT3 = 100_000.0
FRESH_CFM = 6_000.0
MIXING_FACTOR = 3.0
SOURCE_CFM = 1.2
PPM = 1e6


def test_the_textbook_room_reaches_200_ppm_after_20_3_minutes() -> None:
    minutes = build_up_time_s(
        volume_m3=ROOM_FT3, flow_m3_s=FRESH_CFM, source_m3_s=SOURCE_CFM, target=200 / PPM, mixing_factor=MIXING_FACTOR
    )
    assert minutes == pytest.approx(20.3, abs=0.05)


def test_the_textbook_room_holds_419_ppm_after_an_hour() -> None:
    share = concentration_after(
        volume_m3=ROOM_FT3, flow_m3_s=FRESH_CFM, source_m3_s=SOURCE_CFM, after_s=60.0, mixing_factor=MIXING_FACTOR
    )
    assert share * PPM == pytest.approx(419, abs=0.5)


def test_the_textbook_room_falls_from_419_to_100_ppm_in_71_7_minutes() -> None:
    minutes = dilution_time_s(
        volume_m3=ROOM_FT3, flow_m3_s=FRESH_CFM, start=419.0, target=100.0, mixing_factor=MIXING_FACTOR
    )
    # The printed 419 is rounded; half a ppm of it is worth K·V/Q·0.5/419 = 0.06 minutes on top of the last digit.
    assert minutes == pytest.approx(71.7, abs=0.05 + 0.06)


def test_the_textbook_room_holds_126_ppm_an_hour_after_the_source_stops() -> None:
    share = concentration_after(
        volume_m3=ROOM_FT3, flow_m3_s=FRESH_CFM, start=419 / PPM, after_s=60.0, mixing_factor=MIXING_FACTOR
    )
    assert share * PPM == pytest.approx(126, abs=0.5)


def test_the_two_zones_agree_with_a_step_by_step_integration() -> None:
    # Constructed, no published case: 1,000 m³, lower 60 %, 10,000 m³/h, exchange 5 %; after two hours an
    # integration of the two balances by small steps gave 0.01038 above and 0.21135 below.
    flow, exchange, upper_m3, lower_m3, steps = 10_000 / 3600, 500 / 3600, 400.0, 600.0, 200_000
    upper = lower = 1.0
    for _ in range(steps):
        gone_up, gone_low = -(flow + exchange) * upper + exchange * lower, exchange * (upper - lower)
        upper += gone_up / upper_m3 * 7200 / steps
        lower += gone_low / lower_m3 * 7200 / steps
    left = zones_left(volume_m3=1000.0, flow_m3_s=flow, lower_share=0.6, exchange_share=0.05, after_s=7200.0)
    assert (left.upper, left.lower) == pytest.approx((upper, lower), rel=1e-3)
    assert (left.upper, left.lower) == pytest.approx((0.01038, 0.21135), abs=1e-5)
