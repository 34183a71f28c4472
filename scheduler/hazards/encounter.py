"""How a moving ship meets the waves: periods, lengths, and what the guidance to masters warns of.

Angles are from the bow to where the waves come from: 0° head seas, 180° following seas. What is flagged here is
flagged only: no amplitude of parametric roll and no motion on a wave's crest is computed.
"""

from __future__ import annotations

import math
from enum import StrEnum

from scheduler.hazards.bounds import finite, not_negative, positive
from scheduler.units import KN_PER_M_S

GRAVITY_M_S2 = 9.80665  # standard gravity, by definition
LEAST_MET_S = 1e-9  # a denominator below it: the ship rides with the wave
SAME_PERIOD = 0.15  # share by which two periods may differ and still count as the same; our choice


class Danger(StrEnum):
    """What the guidance warns of at a speed, heading and sea."""

    SURF_RIDING = "surf-riding and broaching-to"
    HIGH_WAVES_IN_GROUPS = "successive high waves"
    SYNCHRONOUS_ROLL = "synchronous rolling"
    PARAMETRIC_ROLL = "parametric rolling"


def wavelength_m(period_s: float) -> float:
    """Length of a deep-water wave.

    Assumes: deep water.
    Parameters: period_s [s], > 0.
    Returns: length [m].
    Raises: ValueError for a number outside its bound.
    Source: linear wave theory, g·T²/2π.
    Example:
        >>> round(wavelength_m(10.0), 1)
        156.1
    """
    positive(period_s=period_s)
    return GRAVITY_M_S2 * period_s**2 / (2.0 * math.pi)


def encounter_period_s(wave_period_s: float, speed_m_s: float, angle_deg: float) -> float | None:
    """Period at which the ship meets the waves; None when she rides with them.

    Assumes: deep water; the guidance's rounded constant, within 2 % of linear theory.
    Parameters:
        wave_period_s: wave period [s], > 0.
        speed_m_s: ship's speed [m/s], ≥ 0.
        angle_deg: from the bow to where the waves come from [deg], finite; 0 is head seas.
    Returns: period [s], > 0, also where she overtakes the waves; None when they never pass her.
    Raises: ValueError for a number outside its bound.
    Source: MSC.1/Circ.1228 1.6 (formula from memory): TE = 3·TW²/(3·TW + V·cos α), V in knots.
    Example:
        >>> round(encounter_period_s(8.0, 15.0 * 1852 / 3600, 0.0), 3)
        4.923
        >>> encounter_period_s(6.0, 18.0 * 1852 / 3600, 180.0) is None
        True
    """
    positive(wave_period_s=wave_period_s)
    not_negative(speed_m_s=speed_m_s)
    finite(angle_deg=angle_deg)
    met = 3.0 * wave_period_s + speed_m_s * KN_PER_M_S * math.cos(math.radians(angle_deg))
    return None if abs(met) < LEAST_MET_S else 3.0 * wave_period_s**2 / abs(met)


def surf_riding_from_m_s(length_m: float, angle_deg: float) -> float | None:
    """Speed above which a ship may surf-ride; None where the waves do not come from astern.

    Assumes: steep waves of about her length.
    Parameters:
        length_m: length between perpendiculars [m], > 0.
        angle_deg: from the bow to where the waves come from [deg], finite.
    Returns: speed [m/s], or None outside 135° … 225°.
    Raises: ValueError for a number outside its bound.
    Source: MSC.1/Circ.1228 4.2.1 (range found in a copy, formula from memory): 1.8·√L/cos(180° − α) knots.
    Example:
        >>> round(surf_riding_from_m_s(100.0, 180.0) * 3600 / 1852, 2)
        18.0
    """
    positive(length_m=length_m)
    finite(angle_deg=angle_deg)
    off_astern_deg = abs(math.remainder(angle_deg - 180.0, 360.0))
    if off_astern_deg > 45.0:
        return None
    return 1.8 * math.sqrt(length_m) / math.cos(math.radians(off_astern_deg)) / KN_PER_M_S


def dangers(
    *,
    length_m: float,
    roll_period_s: float,
    height_m: float,
    wave_period_s: float,
    speed_m_s: float,
    angle_deg: float,
) -> tuple[Danger, ...]:
    """What the guidance to masters warns of; flags only.

    Assumes: wave period and height are those of the sea that she meets.
    Parameters:
        length_m: length between perpendiculars [m], > 0.
        roll_period_s: natural roll period [s], > 0.
        height_m: significant height [m], ≥ 0.
        wave_period_s: wave period [s], > 0.
        speed_m_s: ship's speed [m/s], ≥ 0.
        angle_deg: from the bow to where the waves come from [deg], finite.
    Returns: the dangers in the order of `Danger`.
    Raises: ValueError for a number outside its bound.
    Source: MSC.1/Circ.1228 4.2 (parametric roll at half the period: from memory); bands of ±15 % are our choice.
    Example:
        >>> [each.value for each in dangers(length_m=180.0, roll_period_s=15.0, height_m=3.0, wave_period_s=9.0,
        ...                                 speed_m_s=3.0, angle_deg=0.0)]
        ['parametric rolling']
    """
    positive(roll_period_s=roll_period_s)
    not_negative(height_m=height_m)
    met_s = encounter_period_s(wave_period_s, speed_m_s, angle_deg)
    surf_m_s = surf_riding_from_m_s(length_m, angle_deg)
    long_and_high = wavelength_m(wave_period_s) > 0.8 * length_m and height_m > 0.04 * length_m
    in_groups = met_s is not None and 1.8 <= met_s / wave_period_s <= 3.0
    found = {
        Danger.SURF_RIDING: surf_m_s is not None and speed_m_s > surf_m_s,
        Danger.HIGH_WAVES_IN_GROUPS: long_and_high and in_groups,
        Danger.SYNCHRONOUS_ROLL: _same(met_s, roll_period_s),
        Danger.PARAMETRIC_ROLL: _same(met_s, roll_period_s / 2.0),
    }
    return tuple(danger for danger in Danger if found[danger])


def _same(met_s: float | None, period_s: float) -> bool:
    return met_s is not None and abs(met_s / period_s - 1.0) <= SAME_PERIOD
