"""Seas over a coaming."""

from __future__ import annotations

import math

import numpy as np
import pytest

from scheduler.hazards.motion import Hull, motions
from scheduler.hazards.spectra import bretschneider, moment
from scheduler.hazards.spray import Deck, deck_state, relative_motion, wettings_per_h

SHIP = Hull(
    length_m=180.0,
    beam_m=32.2,
    draught_m=11.0,
    block_coefficient=0.8,
    waterplane_coefficient=0.86,
    roll_period_s=15.0,
    kg_m=11.0,
)


def test_the_rate_is_that_of_a_simulated_sea() -> None:
    # A Gaussian record of 40 hours from random phases, counted where it rises over 1.5 and 2.0 m.
    frequency = np.linspace(0.2, 2.0, 2000)
    density = bretschneider(frequency, height_m=4.0, peak_period_s=9.0)
    chance, step_s, hours = np.random.default_rng(3), 0.25, 40
    count = int(hours * 3600 / step_s)
    spectrum = np.zeros(count // 2 + 1, dtype=complex)
    grid = 2 * math.pi * np.fft.rfftfreq(count, step_s)
    size = np.sqrt(2 * np.interp(grid, frequency, density, left=0.0, right=0.0) * (grid[1] - grid[0]))
    spectrum[:] = size * np.exp(2j * math.pi * chance.random(len(size))) * count / 2
    record = np.fft.irfft(spectrum, count)
    m0, m2 = moment(frequency, density, 0), moment(frequency, density, 2)
    for height_m in (1.5, 2.0):
        counted = np.count_nonzero((record[:-1] < height_m) & (record[1:] >= height_m)) / hours
        rate = float(wettings_per_h(variance_m2=np.array(m0), rate_variance_m2_s2=np.array(m2), height_m=height_m))
        # Some 2,500 and 1,100 crossings: 3 standard errors are 6 and 9 %.
        assert counted == pytest.approx(rate, rel=0.09)


def test_a_tenth_more_motion_makes_a_rare_wetting_nearly_five_times_as_frequent() -> None:
    # At h²/2·m0 = 9: exp(9·(1 − 1/1.21)) = 4.77; the zero-crossing rate stays.
    m0 = np.array([1.0, 1.21])
    rates = wettings_per_h(variance_m2=m0, rate_variance_m2_s2=0.3 * m0, height_m=math.sqrt(18.0))
    assert float(rates[1] / rates[0]) == pytest.approx(4.77, abs=0.01)


def test_an_edge_at_the_water_is_always_wet_and_a_still_sea_wets_nothing_above_it() -> None:
    one = np.array([1.0])
    assert wettings_per_h(variance_m2=one, rate_variance_m2_s2=one, height_m=0.0)[0] == math.inf
    assert wettings_per_h(variance_m2=0 * one, rate_variance_m2_s2=0 * one, height_m=0.5)[0] == 0.0


def test_short_waves_run_past_a_ship_that_hardly_moves() -> None:
    # Waves of 25 m leave 180 m of ship still: the water rises against her by the wave itself.
    found = motions(SHIP, np.array(1.57), np.array(math.pi), np.array(0.0))
    assert float(relative_motion(found, np.array(math.pi), x_m=60.0, y_m=0.0)) == pytest.approx(1.0, abs=0.05)


def test_relative_motion_is_largest_towards_the_bow_in_head_seas() -> None:
    frequency = np.linspace(0.3, 1.2, 200)
    found = motions(SHIP, frequency, np.array(math.pi), np.array(6.0))
    sea = bretschneider(frequency, height_m=4.0, peak_period_s=10.0)
    at = [
        moment(frequency, relative_motion(found, np.array(math.pi), x_m=x_m, y_m=0.0) ** 2 * sea, 0)
        for x_m in (80.0, 30.0, 0.0, -20.0)
    ]
    assert at[0] > max(at[1:])


@pytest.mark.parametrize(
    ("plain", "cautious", "state"),
    [(0.05, 0.1, Deck.DRY), (0.05, 0.11, Deck.DOUBTFUL), (0.1, 0.2, Deck.DOUBTFUL), (0.11, 0.2, Deck.WET)],
)
def test_dry_needs_both_runs_and_wet_is_what_even_the_plain_run_says(
    plain: float, cautious: float, state: Deck
) -> None:
    assert deck_state(plain, cautious, 0.1) is state


def test_an_endless_rate_is_wet_and_no_number_is_refused() -> None:
    assert deck_state(math.inf, math.inf, 0.1) is Deck.WET
    with pytest.raises(ValueError, match="rate: nan"):
        deck_state(math.nan, 0.0, 0.1)
