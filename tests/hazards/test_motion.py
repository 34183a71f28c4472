"""Ship motion: limits that any such estimate must keep."""

from __future__ import annotations

import math

import numpy as np
import pytest

from scheduler.hazards.motion import Hull, acceleration_factor, motions, vertical_acceleration

SHIP = Hull(
    length_m=180.0,
    beam_m=32.2,
    draught_m=11.0,
    block_coefficient=0.8,
    waterplane_coefficient=0.86,
    roll_period_s=15.0,
    kg_m=11.0,
)
ROUND = np.radians(np.arange(0.0, 360.0, 15.0))


def test_port_and_starboard_seas_move_her_alike() -> None:
    one = motions(SHIP, np.array(0.5), ROUND, np.array(6.0))
    other = motions(SHIP, np.array(0.5), -ROUND, np.array(6.0))
    for size, mirrored in ((one.heave, other.heave), (one.pitch, other.pitch), (one.roll, other.roll)):
        assert np.abs(size) == pytest.approx(np.abs(mirrored), abs=1e-12)


def test_head_and_following_seas_do_not_roll_her_and_beam_seas_do_not_pitch_her() -> None:
    found = motions(SHIP, np.array(0.5), np.array([0.0, math.pi / 2, math.pi]), np.array(0.0))
    assert found.roll[[0, 2]] == pytest.approx(0.0, abs=1e-12)
    assert abs(found.pitch[1]) == pytest.approx(0.0, abs=1e-12)


def test_every_response_is_a_number_also_where_she_rides_with_the_waves() -> None:
    # At 8 m/s waves of 9.80665/8 = 1.226 rad/s run as fast as she does.
    frequency = np.array([0.05, 0.3, 9.80665 / 8.0, 2.5, 6.0])
    found = motions(SHIP, frequency[:, None], ROUND[None, :], np.array(8.0))
    for size in (found.heave, found.pitch, found.roll):
        assert np.isfinite(size).all()
    assert float(found.met_rad_s[2, 0]) == pytest.approx(0.0, abs=1e-12)


def test_the_bow_rises_with_the_crest_of_a_long_wave_from_ahead() -> None:
    # In waves far longer than the ship each point of her follows the water: at x it is exp(−ik·x·cos β).
    found = motions(SHIP, np.array(0.1), ROUND, np.array(0.0))
    for x_m in (-70.0, 70.0):
        water = np.exp(-1j * found.wave_number_rad_m * x_m * np.cos(ROUND))
        assert np.abs(found.heave + x_m * found.pitch - water).max() < 0.02


def test_acceleration_is_least_near_midships_on_the_centre_line() -> None:
    found = motions(SHIP, np.array(0.5), np.radians(np.array(150.0)), np.array(7.0))
    middle = float(vertical_acceleration(found, x_m=0.0, y_m=0.0))
    for x_m, y_m in ((70.0, 0.0), (-70.0, 0.0), (0.0, 15.0)):
        assert float(vertical_acceleration(found, x_m=x_m, y_m=y_m)) > middle


@pytest.mark.parametrize(("period_s", "head", "following"), [(10.9, 2.5, 2.5), (11.0, 1.8, 1.5)])
def test_the_model_factor_depends_on_period_and_heading(period_s: float, head: float, following: float) -> None:
    factors = acceleration_factor(np.radians(np.array([180.0, 135.0, 90.0, -90.0, 45.0, 0.0])), peak_period_s=period_s)
    assert factors == pytest.approx([head, head, 1.2, 1.2, following, following])


def test_a_fine_hull_keeps_her_own_length_and_a_full_one_the_waterplanes() -> None:
    fine = Hull(
        length_m=180.0,
        beam_m=28.0,
        draught_m=9.0,
        block_coefficient=0.62,
        waterplane_coefficient=0.75,
        roll_period_s=18.0,
        kg_m=10.0,
    )
    assert fine.effective_length_m == 180.0
    assert SHIP.effective_length_m == pytest.approx(154.8)


def test_a_narrow_deep_ship_has_no_roll_estimate() -> None:
    deep = Hull(
        length_m=180.0,
        beam_m=27.0,
        draught_m=11.0,
        block_coefficient=0.8,
        waterplane_coefficient=0.86,
        roll_period_s=15.0,
        kg_m=9.0,
    )
    assert SHIP.roll_is_estimated and not deep.roll_is_estimated


def test_a_ship_that_cannot_be_is_refused() -> None:
    with pytest.raises(ValueError, match="draught_m: 0"):
        Hull(
            length_m=180.0,
            beam_m=27.0,
            draught_m=0.0,
            block_coefficient=0.8,
            waterplane_coefficient=0.86,
            roll_period_s=15.0,
            kg_m=9.0,
        )
    with pytest.raises(ValueError, match="speed_m_s"):
        motions(SHIP, np.array(0.5), np.array(0.0), np.array(-1.0))
