"""How a full-bodied ship moves in waves: heave, pitch, roll, vertical acceleration, for each metre of wave.

Closed forms, an estimate for ranking hours, headings and speeds. As published they are NOT on the safe side for
tankers; the model factors below make up for that on the two hulls that they were fitted to, and were tried on no
third. Directions: 180° head seas, 0° following, as in `spectra`. Places: x forward of midships, y to port.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from scheduler.hazards.bounds import between, finite, positive
from scheduler.hazards.encounter import GRAVITY_M_S2

Array = NDArray[np.float64]
ComplexArray = NDArray[np.complex128]

FULL_BLOCK = 0.7  # from it on the effective length is CW·L: fitted to two full hulls; our choice
LEAST_BEAM_TO_DRAUGHT = 2.5  # below it the roll estimate is untested and turned out low; our choice
ROLL_DAMPING = 0.05  # share of critical damping; our choice
ROLL_FACTOR = 1.2  # model factor on roll; fitted to two hulls, our choice
SHORT_PERIOD_S = 11.0  # peak period that parts the two factors below; our choice
ACCELERATION_FACTORS = {
    # (following, beam, head): model factors on vertical acceleration, fitted to two hulls in head, bow and beam seas;
    # the following ones are untested; our choice
    True: (2.5, 1.2, 2.5),  # peak period under 11 s
    False: (1.5, 1.2, 1.8),
}


@dataclass(frozen=True, kw_only=True, slots=True)
class Hull:
    """What the estimate needs of a ship as she is loaded."""

    length_m: float
    beam_m: float
    draught_m: float
    block_coefficient: float
    waterplane_coefficient: float
    roll_period_s: float
    kg_m: float

    def __post_init__(self) -> None:
        positive(
            length_m=self.length_m,
            beam_m=self.beam_m,
            draught_m=self.draught_m,
            roll_period_s=self.roll_period_s,
            kg_m=self.kg_m,
        )
        between(0.3, 1.0, block_coefficient=self.block_coefficient)
        between(0.5, 1.0, waterplane_coefficient=self.waterplane_coefficient)

    @property
    def effective_length_m(self) -> float:
        """Length that the closed form works with: CW·L of a full hull."""
        full = self.block_coefficient >= FULL_BLOCK
        return self.length_m * (self.waterplane_coefficient if full else 1.0)

    @property
    def roll_is_estimated(self) -> bool:
        """False below a beam of 2.5 draughts, where the roll estimate is not to be trusted."""
        return self.beam_m / self.draught_m >= LEAST_BEAM_TO_DRAUGHT


@dataclass(frozen=True, kw_only=True, slots=True, eq=False)
class Motions:
    """Responses to a metre of wave amplitude, on the grid that frequency, direction and speed broadcast to.

    `heave` [m/m] and `pitch` [rad/m, bow up positive at x > 0] carry phases against the wave at midships;
    `roll` [rad/m] is a size alone; `met_rad_s` is the frequency of encounter, below 0 where she overtakes.
    """

    met_rad_s: Array
    wave_number_rad_m: Array
    heave: ComplexArray
    pitch: ComplexArray
    roll: Array


def motions(
    hull: Hull, frequency_rad_s: Array, direction_rad: Array, speed_m_s: Array, *, length_m: float | None = None
) -> Motions:
    """Heave, pitch and roll of a hull for each metre of wave amplitude.

    Assumes: deep water, a wall-sided box of the hull's block coefficient, long waves against beam and draught.
    Parameters:
        hull: the ship as loaded.
        frequency_rad_s: circular frequency of the waves [rad/s], > 0.
        direction_rad: where they run to, from the bow [rad]; π is head seas.
        speed_m_s: ship's speed [m/s], ≥ 0. The three broadcast against each other.
        length_m: length for heave and pitch [m]; None: the hull's effective one.
    Returns: Motions.
    Raises: ValueError for a number outside its bound.
    Source: Jensen, Mansour, Olsen, Ocean Engineering 31 (2004) 61–85, heave and pitch; roll by effective wave slope,
        2008 IS Code weather criterion (from memory), the paper's own roll being far too low for tankers.
    Example:
        180 m, 14 kn, head seas of 0.4 rad/s, the paper's own length.

        >>> hull = Hull(length_m=180.0, beam_m=32.2, draught_m=11.0, block_coefficient=0.8,
        ...             waterplane_coefficient=0.86, roll_period_s=15.0, kg_m=11.0)
        >>> found = motions(hull, np.array(0.4), np.array(math.pi), np.array(14 * 1852 / 3600), length_m=180.0)
        >>> round(float(found.met_rad_s), 4), round(float(abs(found.heave)), 3), round(float(abs(found.pitch)), 4)
        (0.5175, 0.904, 0.0174)
    """
    frequency, direction, speed = np.broadcast_arrays(frequency_rad_s, direction_rad, speed_m_s)
    _check(frequency, direction, speed)
    along = np.cos(direction)
    wave_number = frequency**2 / GRAVITY_M_S2
    met = frequency - wave_number * speed * along
    heave, pitch = _heave_and_pitch(hull, wave_number, along, met / frequency, length_m or hull.effective_length_m)
    roll = _roll(hull, wave_number, direction, met)
    return Motions(met_rad_s=met, wave_number_rad_m=wave_number, heave=heave, pitch=pitch, roll=roll)


def vertical_acceleration(found: Motions, *, x_m: float, y_m: float) -> Array:
    """Vertical acceleration at a place for each metre of wave amplitude, heave, pitch and roll added as squares.

    Assumes: heave and pitch a quarter of a period apart, as the closed form has them; roll in no fixed phase.
    Parameters:
        found: the motions.
        x_m: forward of midships [m], finite.
        y_m: to port of the centre line [m], finite.
    Returns: acceleration [m/s² for each m].
    Raises: ValueError for a number outside its bound.
    Source: Jensen, Mansour, Olsen 2004.
    Example:
        >>> hull = Hull(length_m=180.0, beam_m=32.2, draught_m=11.0, block_coefficient=0.8,
        ...             waterplane_coefficient=0.86, roll_period_s=15.0, kg_m=11.0)
        >>> found = motions(hull, np.array(0.4), np.array(math.pi), np.array(0.0))
        >>> bool(vertical_acceleration(found, x_m=60.0, y_m=0.0) > vertical_acceleration(found, x_m=0.0, y_m=0.0))
        True
    """
    finite(x_m=x_m, y_m=y_m)
    size = np.abs(found.heave) ** 2 + (x_m * np.abs(found.pitch)) ** 2 + (y_m * found.roll) ** 2
    return np.asarray(found.met_rad_s**2 * np.sqrt(size))


def acceleration_factor(direction_rad: Array, *, peak_period_s: float) -> Array:
    """Model factor on vertical acceleration by where the waves run to; straight lines between the tried headings.

    Assumes: tried in head, bow (45° off the bow) and beam seas only; as much is asked astern as ahead in short seas.
    Parameters:
        direction_rad: where the waves run to, from the bow [rad]; π is head seas.
        peak_period_s: peak period of the wave system [s], > 0.
    Returns: factor on the size [1], ≥ 1.
    Raises: ValueError for a number outside its bound.
    Source: our choice, from a comparison of the closed form with boundary elements on two hulls.
    Example:
        >>> factors = acceleration_factor(np.radians([0.0, 90.0, 112.5, 180.0]), peak_period_s=8.0)
        >>> [round(float(factor), 3) for factor in factors]
        [2.5, 1.2, 1.85, 2.5]
    """
    positive(peak_period_s=peak_period_s)
    following, beam, head = ACCELERATION_FACTORS[peak_period_s < SHORT_PERIOD_S]
    off_bow_deg = np.degrees(np.abs(np.arctan2(np.sin(direction_rad), np.cos(direction_rad))))
    return np.asarray(np.interp(off_bow_deg, [0.0, 45.0, 90.0, 135.0, 180.0], [following, following, beam, head, head]))


def roll_period_s(*, beam_m: float, draught_m: float, waterline_m: float, gm_m: float) -> float:
    """Natural roll period from the metacentric height; an observed period always stands before it.

    Assumes: a usual merchant hull.
    Parameters:
        beam_m: moulded beam [m], > 0.
        draught_m: mean draught [m], > 0.
        waterline_m: length on the waterline [m], > 0.
        gm_m: metacentric height, corrected for free surfaces [m], > 0.
    Returns: period [s].
    Raises: ValueError for a number outside its bound; a ship without metacentric height has no period.
    Source: 2008 IS Code, part A 2.3: T = 2·C·B/√GM, C = 0.373 + 0.023·B/d − 0.043·Lwl/100.
    Example:
        >>> round(roll_period_s(beam_m=32.2, draught_m=11.0, waterline_m=190.0, gm_m=2.0), 2)
        16.33
    """
    positive(beam_m=beam_m, draught_m=draught_m, waterline_m=waterline_m, gm_m=gm_m)
    coefficient = 0.373 + 0.023 * beam_m / draught_m - 0.043 * waterline_m / 100.0
    return 2.0 * coefficient * beam_m / math.sqrt(gm_m)


def _heave_and_pitch(
    hull: Hull, wave_number: Array, along: Array, alpha: Array, length_m: float
) -> tuple[ComplexArray, ComplexArray]:
    """The closed form; as complex numbers its phases come by themselves (time as exp(+iωt))."""
    beam_m, draught_m = hull.beam_m * hull.block_coefficient, hull.draught_m
    deep = wave_number * draught_m
    width = np.clip(wave_number * beam_m * alpha**2 / 2.0, 0.0, math.pi)
    radiated = (2.0 * np.sin(width) * np.exp(-deep * alpha**2)) ** 2
    # Where she runs with the waves alpha is 0 and so is what she radiates: their quotients' limits are 0.
    met = np.where(np.abs(alpha) < 1e-6, 1e-6, alpha)
    forced = (1.0 - deep) + 1j * radiated / (wave_number * beam_m * met**3)
    resisted = (1.0 - 2.0 * deep * alpha**2) + 1j * radiated / (wave_number * beam_m * met**2)
    met_by_hull = np.abs(wave_number * along)
    carried = np.exp(-met_by_hull * draught_m) * forced / resisted
    half = met_by_hull * length_m / 2.0
    heave = carried * np.sinc(half / math.pi)
    slope = _slope(half) / length_m
    return np.asarray(heave), np.asarray(-1j * np.sign(along) * carried * slope)


def _slope(half: Array) -> Array:
    """6·(sin s/s − cos s)/s, by its series where s is small."""
    safe = np.where(half < 1e-2, 1.0, half)
    exact = 6.0 / safe * (np.sin(safe) / safe - np.cos(safe))
    return np.where(half < 1e-2, 2.0 * half - half**3 / 5.0, exact)


def _roll(hull: Hull, wave_number: Array, direction: Array, met: Array) -> Array:
    """Effective wave slope on a damped oscillator of the observed roll period."""
    lever = (hull.kg_m - hull.draught_m) / hull.draught_m
    effective = min(max(0.73 + 0.6 * lever, 0.4), 1.0)
    half = wave_number * np.abs(np.cos(direction)) * hull.length_m / 2.0
    tuned = met * hull.roll_period_s / (2.0 * math.pi)
    driven = effective * wave_number * np.abs(np.sin(direction)) * np.abs(np.sinc(half / math.pi))
    return np.asarray(driven / np.hypot(1.0 - tuned**2, 2.0 * ROLL_DAMPING * tuned))


def _check(frequency: Array, direction: Array, speed: Array) -> None:
    if not (np.isfinite(frequency).all() and (frequency > 0.0).all()):
        raise ValueError("frequency_rad_s: holds a number that is not above 0; expected > 0. Leave it out.")
    if not np.isfinite(direction).all():
        raise ValueError("direction_rad: holds a number that is not finite; expected an angle. Leave it out.")
    if not (np.isfinite(speed).all() and (speed >= 0.0).all()):
        raise ValueError("speed_m_s: holds a number below 0; expected ≥ 0. Give speeds ahead.")
