"""Readings while the fans run: a late bound or a reason, never a hopeful time."""

from __future__ import annotations

import math

import numpy as np
import pytest

from scheduler.hazards.air import lower_zone_time_s, zones_left
from scheduler.hazards.fit import Fit, NoFit, fit_decay

HOUR_S = 3600.0
TIMES_S = [number * 0.25 * HOUR_S for number in range(8)]


def decaying(rate_per_h: float = 1.2, start: float = 50.0) -> list[float]:
    return [start * math.exp(-rate_per_h * time_s / HOUR_S) for time_s in TIMES_S]


def test_scatter_makes_the_bound_later_than_the_likeliest_time() -> None:
    # 10 % up and down by turns: the line hardly moves, its bound must.
    shaken = [excess * (1.1 if number % 2 else 0.9) for number, excess in enumerate(decaying())]
    fit = fit_decay(TIMES_S, shaken, limit_excess=1.0)
    assert isinstance(fit, Fit)
    assert fit.latest_s > fit.likeliest_s * 1.05


def test_the_bound_covers_the_truth_in_99_of_100_noisy_series() -> None:
    # Equal relative noise of 10 %: Fieller's bound is exact, 99 %; 4,000 series scatter by 0.16 %.
    noise = np.random.default_rng(7)
    truth_s = math.log(50.0) / 1.2 * HOUR_S
    late = tried = 0
    for _ in range(4000):
        fit = fit_decay(TIMES_S, list(np.array(decaying()) * np.exp(noise.normal(0.0, 0.1, 8))), limit_excess=1.0)
        if isinstance(fit, Fit):
            tried += 1
            late += fit.latest_s >= truth_s
    assert tried > 3900
    assert late / tried == pytest.approx(0.99, abs=0.006)


def test_readings_of_the_top_would_promise_an_hour_that_the_bottom_does_not_keep() -> None:
    # Why upper readings must not come in: exchange 5 %, 10,000 m³/h into 1,000 m³, limit 1 % of the start, a reading
    # each minute for 18 minutes. Even the late bound lies under an hour; the bottom takes 5.85 h.
    tank = {"volume_m3": 1000.0, "flow_m3_s": 10_000 / 3600, "lower_share": 0.6, "exchange_share": 0.05}
    times_s = [60.0 * number for number in range(1, 19)]
    top = [zones_left(**tank, after_s=time_s).upper * 100 for time_s in times_s]
    fit = fit_decay(times_s, top, limit_excess=1.0)
    assert isinstance(fit, Fit)
    assert fit.latest_s < HOUR_S
    assert lower_zone_time_s(**tank, start=100.0, target=1.0) / HOUR_S == pytest.approx(5.85, abs=0.005)


def test_readings_that_do_not_fall_give_no_time() -> None:
    assert fit_decay(TIMES_S, [10.0, 11.0, 9.5, 10.2, 10.0, 10.4, 9.9, 10.1], limit_excess=1.0) is NoFit.NO_DECAY
    assert fit_decay(TIMES_S, decaying(rate_per_h=-0.5), limit_excess=1.0) is NoFit.NO_DECAY


def test_a_fall_that_scatter_could_explain_gives_no_time() -> None:
    assert fit_decay(TIMES_S, [10.0, 2.0, 9.0, 3.0, 8.0, 2.0, 7.0, 3.0], limit_excess=1.0) is NoFit.NO_DECAY


def test_four_readings_are_too_few_and_five_are_enough() -> None:
    assert fit_decay(TIMES_S[:4], decaying(rate_per_h=3.0)[:4], limit_excess=1.0) is NoFit.TOO_FEW
    assert isinstance(fit_decay(TIMES_S[:5], decaying(rate_per_h=3.0)[:5], limit_excess=1.0), Fit)


def test_readings_over_less_than_one_and_a_half_time_constants_are_too_short() -> None:
    # 1.75 h at 0.8 an hour are 1.4 time constants, at 0.9 they are 1.575.
    assert fit_decay(TIMES_S, decaying(rate_per_h=0.8), limit_excess=1.0) is NoFit.TOO_SHORT
    assert isinstance(fit_decay(TIMES_S, decaying(rate_per_h=0.9), limit_excess=1.0), Fit)


@pytest.mark.parametrize("floor_excess", [0.0, 0.5])
def test_a_reading_at_the_meters_floor_says_nothing_and_gives_no_time(floor_excess: float) -> None:
    readings = [*decaying(rate_per_h=3.0)[:7], floor_excess]
    assert fit_decay(TIMES_S, readings, limit_excess=1.0, floor_excess=floor_excess) is NoFit.AT_THE_FLOOR


def test_oxygen_is_fitted_by_what_is_missing() -> None:
    # From 8 % towards 20.9 % at 2 an hour; missing 12.9 falls to 0.1 after ln 129 / 2 = 2.43 h.
    missing = [12.9 * math.exp(-2.0 * time_s / HOUR_S) for time_s in TIMES_S]
    fit = fit_decay(TIMES_S, missing, limit_excess=0.1)
    assert isinstance(fit, Fit)
    assert fit.latest_s / HOUR_S == pytest.approx(2.43, abs=0.005)


def test_a_limit_reached_already_is_in_the_past_and_means_test_now() -> None:
    fit = fit_decay(TIMES_S, decaying(rate_per_h=3.0), limit_excess=5.0)
    assert isinstance(fit, Fit)
    assert fit.latest_s < TIMES_S[-1]


@pytest.mark.parametrize(
    ("times_s", "excesses", "says"),
    [
        ([0.0, 0.0], [1.0, 1.0], "do not rise"),
        ([0.0], [1.0, 2.0], "1 times were given for 2 readings"),
        ([0.0], [-1.0], "excess: -1.0"),
        ([math.nan], [1.0], "time_s: nan"),
    ],
)
def test_readings_that_cannot_be_are_refused(times_s: list[float], excesses: list[float], says: str) -> None:
    with pytest.raises(ValueError, match=says):
        fit_decay(times_s, excesses, limit_excess=1.0)
