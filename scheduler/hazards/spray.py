"""How often the sea comes over the edge of a deck opening: dry, doubtful or wet, and no digits.

The rate below is an estimate that a tenth more motion multiplies by five; it decides between three words only.
"""

from __future__ import annotations

import math
from enum import StrEnum

import numpy as np

from scheduler.hazards.bounds import finite, not_negative
from scheduler.hazards.motion import Array, Motions

RELATIVE_FACTOR = 1.3  # model factor on relative motion; fitted to two hulls, our choice
TRIM_ALLOWANCE_M = 0.1  # taken off the height above still water for trim and heel; our choice
S_PER_H = 3600.0


class Deck(StrEnum):
    """What the estimate says of an opening."""

    DRY = "dry"
    DOUBTFUL = "doubtful"
    WET = "wet"


def relative_motion(found: Motions, direction_rad: Array, *, x_m: float, y_m: float) -> Array:
    """Motion of the water against a point of the deck edge for each metre of wave amplitude.

    Assumes: the wave is not changed by the hull; roll is in no fixed phase and added as a square.
    Parameters:
        found: the motions on a grid.
        direction_rad: where the waves run to, from the bow [rad], broadcasting to the motions; π is head seas.
        x_m: forward of midships [m], finite.
        y_m: to port of the centre line [m], finite.
    Returns: size of the relative motion [m/m].
    Raises: ValueError for a number outside its bound.
    Source: linear superposition, wave at the point less heave and pitch there.
    Example:
        In waves far longer than the ship she follows the water.

        >>> from scheduler.hazards.motion import Hull, motions
        >>> hull = Hull(length_m=180.0, beam_m=32.2, draught_m=11.0, block_coefficient=0.8,
        ...             waterplane_coefficient=0.86, roll_period_s=15.0, kg_m=11.0)
        >>> found = motions(hull, np.array(0.05), np.array(math.pi), np.array(0.0))
        >>> bool(relative_motion(found, np.array(math.pi), x_m=60.0, y_m=0.0) < 0.01)
        True
    """
    finite(x_m=x_m, y_m=y_m)
    away_m = x_m * np.cos(direction_rad) + y_m * np.sin(direction_rad)
    water = np.exp(-1j * found.wave_number_rad_m * away_m)
    against = water - found.heave - x_m * found.pitch
    return np.asarray(np.sqrt(np.abs(against) ** 2 + (y_m * found.roll) ** 2))


def wettings_per_h(*, variance_m2: Array, rate_variance_m2_s2: Array, height_m: float) -> Array:
    """How often an hour the water rises over a height, in the mean.

    Assumes: a Gaussian sea and linear motion; peaks as Rayleigh has them.
    Parameters:
        variance_m2: variance of the relative motion [m²], ≥ 0.
        rate_variance_m2_s2: variance of its speed [m²/s²], ≥ 0.
        height_m: coaming's top above still water, allowance taken off [m]; at or below 0 it is always wet.
    Returns: times an hour [1/h], ≥ 0; infinite where the height is not above the water.
    Raises: ValueError for a height that is not finite or a variance below 0.
    Source: Rice 1944: (3600/2π)·√(m2/m0)·exp(−h²/2·m0).
    Example:
        >>> rate = wettings_per_h(variance_m2=np.array(1.0), rate_variance_m2_s2=np.array(0.36), height_m=3.0)
        >>> float(round(float(rate), 2))
        3.82
    """
    finite(height_m=height_m)
    if (variance_m2 < 0.0).any() or (rate_variance_m2_s2 < 0.0).any():
        raise ValueError("variance_m2: holds a number below 0; expected variances. Correct the spectrum.")
    if height_m <= 0.0:
        return np.full(np.shape(variance_m2), math.inf)
    still = variance_m2 <= 0.0
    variance = np.where(still, 1.0, variance_m2)
    often = (
        S_PER_H / (2.0 * math.pi) * np.sqrt(rate_variance_m2_s2 / variance) * np.exp(-(height_m**2) / (2.0 * variance))
    )
    return np.where(still, 0.0, often)


def deck_state(plain_per_h: float, cautious_per_h: float, limit_per_h: float) -> Deck:
    """Dry where the cautious run keeps the limit too, wet where not even the plain one does, else doubtful.

    Assumes: the cautious run has model factors on, the plain one none.
    Parameters:
        plain_per_h: rate of the plain run [1/h], ≥ 0.
        cautious_per_h: rate of the cautious run [1/h], ≥ 0.
        limit_per_h: rate that is allowed, itself included [1/h], ≥ 0.
    Returns: Deck.
    Raises: ValueError for a rate that is not a number or below 0.
    Source: our choice.
    Example:
        >>> deck_state(0.01, 0.5, 0.1).value
        'doubtful'
    """
    not_negative(limit_per_h=limit_per_h)
    for rate in (plain_per_h, cautious_per_h):
        if not rate >= 0.0:
            raise ValueError(f"rate: {rate} was given; expected at least 0. Correct the run.")
    if max(plain_per_h, cautious_per_h) <= limit_per_h:
        return Deck.DRY
    return Deck.WET if plain_per_h > limit_per_h else Deck.DOUBTFUL
