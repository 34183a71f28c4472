"""Wave spectra."""

from __future__ import annotations

import math

import numpy as np
import pytest

from scheduler.hazards.spectra import (
    bretschneider,
    height_at_lead_m,
    jonswap,
    moment,
    spreading_weights,
)

FINE_RAD_S = np.linspace(0.02, 12.0, 40_000)


@pytest.mark.parametrize("peak_period_s", [5.0, 9.0, 16.0])
def test_four_standard_deviations_are_the_significant_height(peak_period_s: float) -> None:
    density = bretschneider(FINE_RAD_S, height_m=3.0, peak_period_s=peak_period_s)
    assert 4 * math.sqrt(moment(FINE_RAD_S, density, 0)) == pytest.approx(3.0, rel=2e-3)


def test_twice_the_height_is_four_times_the_energy() -> None:
    one = jonswap(FINE_RAD_S, height_m=1.0, peak_period_s=8.0)
    assert jonswap(FINE_RAD_S, height_m=2.0, peak_period_s=8.0) == pytest.approx(4 * one)


def test_a_growing_sea_is_higher_at_its_peak_than_a_grown_one_of_the_same_height() -> None:
    grown = bretschneider(FINE_RAD_S, height_m=3.0, peak_period_s=8.0)
    assert jonswap(FINE_RAD_S, height_m=3.0, peak_period_s=8.0).max() > 1.5 * grown.max()


def test_no_energy_runs_against_the_mean_direction() -> None:
    angles = np.radians(np.arange(0.0, 360.0, 5.0))
    weights = spreading_weights(angles)
    assert weights[np.cos(angles) < -1e-9].sum() == 0.0
    assert weights.sum() == pytest.approx(1.0)


@pytest.mark.parametrize(("days", "height_m"), [(0, 2.0), (1, 2.1), (5, 2.5), (6, 2.6), (10, 2.6)])
def test_a_forecast_height_grows_a_twentieth_a_day_and_stops_at_three_tenths(days: int, height_m: float) -> None:
    assert height_at_lead_m(2.0, days * 86_400.0) == pytest.approx(height_m)


def test_seas_that_cannot_be_are_refused() -> None:
    with pytest.raises(ValueError, match="height_m: -1"):
        bretschneider(FINE_RAD_S, height_m=-1.0, peak_period_s=8.0)
    with pytest.raises(ValueError, match="frequency_rad_s"):
        bretschneider(np.array([0.0, 1.0]), height_m=1.0, peak_period_s=8.0)
    with pytest.raises(ValueError, match=r"peak_factor: 0\.5"):
        jonswap(FINE_RAD_S, height_m=1.0, peak_period_s=8.0, peak_factor=0.5)
    with pytest.raises(ValueError, match="density"):
        moment(FINE_RAD_S, FINE_RAD_S[:3], 0)
    with pytest.raises(ValueError, match="no angle"):
        spreading_weights(np.array([math.pi]))
