"""Wave spectra: how a forecast's height and period spread over frequencies and directions.

Directions in this room: where the waves run to, as an angle from the ship's bow that grows to port, so that 180°
is head seas, 0° following seas, and waves that come over the starboard side run to port at 90°.
"""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import NDArray

from scheduler.hazards.bounds import not_negative, positive

Array = NDArray[np.float64]

PEAK_OVER_ZERO_CROSSING = 1.408  # Tp/Tz of the Bretschneider spectrum; IACS Recommendation 34
WIDTH_BELOW_PEAK = 0.07  # JONSWAP sigma below the peak; Hasselmann et al. 1973, DNV-RP-C205
WIDTH_ABOVE_PEAK = 0.09  # JONSWAP sigma above the peak; the same
SHORT_FETCH_PEAK = 3.3  # mean JONSWAP peak enhancement; the same
SPREADING_POWER = 2  # cosine squared over ±90°; ISSC and common practice
HEIGHT_PER_DAY = 0.05  # a forecast height grows by this share for each day of lead; our choice
HEIGHT_GROWS_TO = 1.3  # and not beyond; our choice


def bretschneider(frequency_rad_s: Array, *, height_m: float, peak_period_s: float) -> Array:
    """Spectral density of a fully developed sea.

    Assumes: one wave system, deep water.
    Parameters:
        frequency_rad_s: circular frequencies [rad/s], > 0.
        height_m: significant height [m], ≥ 0.
        peak_period_s: peak period [s], > 0.
    Returns: density [m²·s] at each frequency.
    Raises: ValueError for a number outside its bound.
    Source: S = 5/16·H²·ωp⁴·ω⁻⁵·exp(−1.25·(ωp/ω)⁴); ITTC 1978, IACS Recommendation 34.
    Example:
        Height 12 m, zero-crossing period 10 s: 25.84 m²·s at 0.5 rad/s.

        >>> float(round(bretschneider(np.array([0.5]), height_m=12.0, peak_period_s=14.077)[0], 2))
        25.84
    """
    _frequencies(frequency_rad_s)
    not_negative(height_m=height_m)
    positive(peak_period_s=peak_period_s)
    peak = 2.0 * math.pi / peak_period_s
    shape = peak**4 * frequency_rad_s**-5.0 * np.exp(-1.25 * (peak / frequency_rad_s) ** 4)
    return np.asarray(5.0 / 16.0 * height_m**2 * shape)


def jonswap(
    frequency_rad_s: Array, *, height_m: float, peak_period_s: float, peak_factor: float = SHORT_FETCH_PEAK
) -> Array:
    """Spectral density of a growing sea: higher and narrower at its peak.

    Assumes: one wave system, deep water.
    Parameters:
        frequency_rad_s: circular frequencies [rad/s], > 0.
        height_m: significant height [m], ≥ 0.
        peak_period_s: peak period [s], > 0.
        peak_factor: enhancement of the peak [1], 1 (fully developed) … 7.
    Returns: density [m²·s] at each frequency.
    Raises: ValueError for a number outside its bound.
    Source: Hasselmann et al. 1973; factor 1 − 0.287·ln γ: DNV-RP-C205.
    Example:
        >>> float(round(jonswap(np.array([0.6283185]), height_m=4.0, peak_period_s=10.0)[0], 3))
        4.946
    """
    if not 1.0 <= peak_factor <= 7.0:
        raise ValueError(f"peak_factor: {peak_factor} was given; expected 1 to 7. Correct the figure.")
    plain = bretschneider(frequency_rad_s, height_m=height_m, peak_period_s=peak_period_s)
    peak = 2.0 * math.pi / peak_period_s
    width = np.where(frequency_rad_s <= peak, WIDTH_BELOW_PEAK, WIDTH_ABOVE_PEAK)
    enhanced = peak_factor ** np.exp(-0.5 * ((frequency_rad_s - peak) / (width * peak)) ** 2)
    return np.asarray((1.0 - 0.287 * math.log(peak_factor)) * plain * enhanced)


def moment(frequency_rad_s: Array, density: Array, order: int) -> float:
    """A moment of a spectrum: ∫ω^n·S dω by trapezoids.

    Assumes: frequencies rise and reach far enough.
    Parameters:
        frequency_rad_s: circular frequencies [rad/s], rising.
        density: density at each [any unit·s].
        order: which moment [1], ≥ 0.
    Returns: the moment; that of order 0 is the variance.
    Raises: ValueError when the two differ in length.
    Source: definition.
    Example:
        >>> frequency = np.linspace(0.05, 6.0, 4000)
        >>> density = bretschneider(frequency, height_m=4.0, peak_period_s=10.0)
        >>> round(4.0 * moment(frequency, density, 0) ** 0.5, 2)
        4.0
    """
    if frequency_rad_s.shape != density.shape:
        raise ValueError(
            f"density: {density.shape} was given for {frequency_rad_s.shape} frequencies; expected one for each. "
            "Pair them."
        )
    return float(np.trapezoid(frequency_rad_s**order * density, frequency_rad_s))


def peak_period_s(zero_crossing_period_s: float) -> float:
    """Peak period of a fully developed sea from its zero-crossing period.

    Assumes: the Bretschneider shape.
    Parameters: zero_crossing_period_s [s], > 0.
    Returns: peak period [s].
    Raises: ValueError for a number outside its bound.
    Source: IACS Recommendation 34.
    Example:
        >>> round(peak_period_s(10.0), 2)
        14.08
    """
    positive(zero_crossing_period_s=zero_crossing_period_s)
    return PEAK_OVER_ZERO_CROSSING * zero_crossing_period_s


def spreading_weights(angle_rad: Array) -> Array:
    """Shares of a sea's energy in directions off its mean: cosine squared within ±90°, nothing beyond.

    Assumes: evenly spaced angles round the whole circle; their shares then sum to 1.
    Parameters: angle_rad: angles off the mean direction [rad].
    Returns: share of each [1].
    Raises: ValueError when no angle lies within ±90°.
    Source: ISSC; common practice.
    Example:
        >>> weights = spreading_weights(np.radians(np.arange(0.0, 360.0, 5.0)))
        >>> round(float(weights.sum()), 12), float(round(weights[9] / weights[0], 6))
        (1.0, 0.5)
    """
    along = np.cos(angle_rad)
    weights = np.where(along > 1e-12, np.abs(along) ** SPREADING_POWER, 0.0)
    if not weights.sum() > 0.0:
        raise ValueError("angle_rad: no angle lies within ±90°; expected angles round the circle. Give them all.")
    return np.asarray(weights / weights.sum())


def height_at_lead_m(height_m: float, lead_s: float) -> float:
    """A forecast's height made larger for how far ahead it looks.

    Assumes: errors of forecasts grow with lead time; about a tenth on the first day and a quarter on the fifth.
    Parameters:
        height_m: significant height as forecast [m], ≥ 0.
        lead_s: time from the forecast's issue [s], ≥ 0.
    Returns: height [m], never less than forecast.
    Raises: ValueError for a number outside its bound.
    Source: our choice.
    Example:
        >>> round(height_at_lead_m(2.0, 3 * 86_400.0), 3), round(height_at_lead_m(2.0, 30 * 86_400.0), 3)
        (2.3, 2.6)
    """
    not_negative(height_m=height_m, lead_s=lead_s)
    return height_m * min(1.0 + HEIGHT_PER_DAY * lead_s / 86_400.0, HEIGHT_GROWS_TO)


def _frequencies(frequency_rad_s: Array) -> None:
    if not (np.isfinite(frequency_rad_s).all() and (frequency_rad_s > 0.0).all()):
        raise ValueError("frequency_rad_s: holds a number that is not above 0; expected > 0. Leave it out.")
