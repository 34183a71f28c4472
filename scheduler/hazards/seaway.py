"""From a ship's responses and a forecast's wave systems to her motions, hour by hour, for every heading and speed.

A table of squared responses is made once for a loading condition; each hour is then one product of matrices.
Wind sea and swell are systems of their own whose variances add.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum

import numpy as np

from scheduler.hazards.motion import (
    ROLL_FACTOR,
    SHORT_PERIOD_S,
    Array,
    Hull,
    acceleration_factor,
    motions,
    vertical_acceleration,
)
from scheduler.hazards.spectra import bretschneider, jonswap, spreading_weights
from scheduler.hazards.spray import RELATIVE_FACTOR, relative_motion

FREQUENCIES_RAD_S: Array = np.geomspace(0.15, 2.4, 48)
DIRECTIONS_RAD: Array = np.radians(np.arange(0.0, 360.0, 5.0))
LONGEST_PERIOD_S = 30.0  # a peak beyond it lies off the table's frequencies
SHORTEST_PERIOD_S = 2.7  # likewise


class Sea(StrEnum):
    """What kind of wave system a height and period stand for."""

    WIND_SEA = "wind sea"
    SWELL = "swell"


@dataclass(frozen=True, kw_only=True, slots=True)
class Place:
    """A place aboard: metres forward of midships, metres to port of the centre line."""

    x_m: float
    y_m: float


@dataclass(frozen=True, kw_only=True, slots=True)
class WaveSystem:
    """One wave system through several hours: significant heights, peak periods, where it comes from [deg true]."""

    kind: Sea
    heights_m: Array
    peak_periods_s: Array
    from_deg: Array

    def __post_init__(self) -> None:
        shapes = {self.heights_m.shape, self.peak_periods_s.shape, self.from_deg.shape}
        if len(shapes) != 1 or self.heights_m.ndim != 1:
            raise ValueError(
                f"heights_m, peak_periods_s, from_deg: shapes {shapes}; expected one list each. Pair them."
            )
        if not ((self.heights_m >= 0.0) & np.isfinite(self.heights_m)).all():
            raise ValueError("heights_m: holds a number below 0 or none; expected ≥ 0. An unknown sea has no estimate.")
        if not ((self.peak_periods_s >= SHORTEST_PERIOD_S) & (self.peak_periods_s <= LONGEST_PERIOD_S)).all():
            raise ValueError(
                f"peak_periods_s: outside {SHORTEST_PERIOD_S} to {LONGEST_PERIOD_S} s; expected a peak between. "
                "Such a sea has no estimate."
            )
        if not np.isfinite(self.from_deg).all():
            raise ValueError("from_deg: holds no number; expected degrees true. An unknown sea has no estimate.")


@dataclass(frozen=True, kw_only=True, slots=True, eq=False)
class ResponseTable:
    """Squared responses over frequency, direction and speed, spread over directions, model factors taken in.

    `short` stands for wave systems with a peak under 11 s, `long` for the others. The names of the rows: `roll`,
    `acceleration PLACE`, `relative PLACE`, `relative rate PLACE`.
    """

    rows: tuple[str, ...]
    speeds_m_s: Array
    short: Array
    long: Array


def response_table(
    hull: Hull,
    *,
    places: Mapping[str, Place],
    openings: Mapping[str, Place],
    speeds_m_s: Array,
    cautious: bool,
) -> ResponseTable:
    """The table of one loading condition.

    Assumes: what `motions` assumes; energy spread as cosine squared over ±90°.
    Parameters:
        hull: the ship as loaded.
        places: names and places where people work inside: vertical acceleration.
        openings: names and places of deck openings: relative motion and its rate.
        speeds_m_s: speeds [m/s], ≥ 0, rising.
        cautious: True takes the model factors in, False leaves all of them out.
    Returns: ResponseTable.
    Raises: ValueError for a number outside its bound.
    Source: linear superposition, St. Denis and Pierson 1953.
    Example:
        >>> hull = Hull(length_m=180.0, beam_m=32.2, draught_m=11.0, block_coefficient=0.8,
        ...             waterplane_coefficient=0.86, roll_period_s=15.0, kg_m=11.0)
        >>> table = response_table(hull, places={"2P": Place(x_m=30.0, y_m=8.0)}, openings={},
        ...                        speeds_m_s=np.array([0.0, 7.0]), cautious=True)
        >>> table.rows, table.short.shape
        (('roll', 'acceleration 2P'), (2, 48, 72, 2))
    """
    frequency, direction = FREQUENCIES_RAD_S[:, None, None], DIRECTIONS_RAD[None, :, None]
    found = motions(hull, frequency, direction, speeds_m_s[None, None, :])
    rows: dict[str, tuple[Array, Array]] = {"roll": _twice((ROLL_FACTOR if cautious else 1.0) * found.roll)}
    factors = [acceleration_factor(direction, peak_period_s=period_s) for period_s in (1.0, SHORT_PERIOD_S)]
    for name, place in places.items():
        size = vertical_acceleration(found, x_m=place.x_m, y_m=place.y_m)
        short, long = factors if cautious else (np.ones_like(direction), np.ones_like(direction))
        rows[f"acceleration {name}"] = (short * size, long * size)
    for name, place in openings.items():
        size = relative_motion(found, direction, x_m=place.x_m, y_m=place.y_m) * (RELATIVE_FACTOR if cautious else 1.0)
        rows[f"relative {name}"] = _twice(size)
        rows[f"relative rate {name}"] = _twice(size * np.abs(found.met_rad_s))
    short_rows, long_rows = (np.stack([row[which] ** 2 for row in rows.values()]) for which in (0, 1))
    return ResponseTable(rows=tuple(rows), speeds_m_s=speeds_m_s, short=_spread(short_rows), long=_spread(long_rows))


def variances(table: ResponseTable, systems: Sequence[WaveSystem], headings_deg: Array) -> Array:
    """Variance of each row for every hour, heading and speed, all wave systems together.

    Assumes: wave systems independent of each other; swell with the long-run shape, wind sea with the short-fetch one.
    Parameters:
        table: the table.
        systems: the wave systems, of equally many hours.
        headings_deg: the ship's headings for each hour [deg true], hours × headings.
    Returns: variances [the row's unit squared], rows × hours × headings × speeds.
    Raises: ValueError when hours do not agree.
    Source: linear superposition.
    Example:
        In head seas of 4 m nothing rolls her.

        >>> hull = Hull(length_m=180.0, beam_m=32.2, draught_m=11.0, block_coefficient=0.8,
        ...             waterplane_coefficient=0.86, roll_period_s=15.0, kg_m=11.0)
        >>> table = response_table(hull, places={}, openings={}, speeds_m_s=np.array([7.0]), cautious=False)
        >>> swell = WaveSystem(kind=Sea.SWELL, heights_m=np.array([4.0]), peak_periods_s=np.array([12.0]),
        ...                    from_deg=np.array([0.0]))
        >>> found = variances(table, [swell], np.array([[0.0, 90.0]]))
        >>> bool(found[0, 0, 1, 0] > 3 * found[0, 0, 0, 0])
        True
    """
    total = np.zeros((len(table.rows), *headings_deg.shape, len(table.speeds_m_s)))
    for system in systems:
        if headings_deg.ndim != 2 or len(system.heights_m) != len(headings_deg):
            raise ValueError(
                f"headings_deg: shape {headings_deg.shape} for {len(system.heights_m)} hours of waves; "
                "expected hours × headings. Give headings for each hour."
            )
        total += _of_system(table, system, headings_deg)
    return total


def greatest_good(passes: Array) -> tuple[Array, Array]:
    """The greatest speed below which every speed passes, and whether a gap was skipped.

    Assumes: the last axis holds speeds from the lowest up. Motion is not monotone in speed: a faster one may pass
    above one that fails, and is not taken.
    Parameters: passes: True where a speed passes everything [bool], … × speeds.
    Returns: index of the speed, −1 where not even the lowest passes; and True where a faster one would pass.
    Raises: nothing.
    Source: our choice.
    Example:
        >>> good, gap = greatest_good(np.array([[True, True, False, True], [False, True, True, True]]))
        >>> good.tolist(), gap.tolist()
        ([1, -1], [True, True])
    """
    unbroken = np.cumprod(np.asarray(passes, dtype=np.int64), axis=-1)
    good = unbroken.sum(axis=-1) - 1
    return good, np.asarray(passes, dtype=bool).sum(axis=-1) > good + 1


def _of_system(table: ResponseTable, system: WaveSystem, headings_deg: Array) -> Array:
    energy = _energy(system)
    below = (system.peak_periods_s < SHORT_PERIOD_S)[:, None, None, None]
    by_direction = np.where(below, _weighed(energy, table.short), _weighed(energy, table.long))
    # Where the waves run to, from the bow: they come from `from_deg`, and a wave from ahead runs to 180°. A wave from
    # starboard runs to port, so angles grow anticlockwise, as y to port.
    runs_to_deg = (180.0 + headings_deg - system.from_deg[:, None]) % 360.0
    return _at_direction(by_direction, runs_to_deg)


def _energy(system: WaveSystem) -> Array:
    """Energy in each frequency for each hour [m²], hours × frequencies, summing to H²/16 whatever the grid cuts off."""
    weights = np.gradient(FREQUENCIES_RAD_S)
    energy = np.zeros((len(system.heights_m), len(FREQUENCIES_RAD_S)))
    for hour, (height_m, period_s) in enumerate(zip(system.heights_m, system.peak_periods_s, strict=True)):
        shape = jonswap if system.kind is Sea.WIND_SEA else bretschneider
        density = weights * shape(FREQUENCIES_RAD_S, height_m=1.0, peak_period_s=float(period_s))
        energy[hour] = density / density.sum() * float(height_m) ** 2 / 16.0
    return energy


def _weighed(energy: Array, squares: Array) -> Array:
    """Variances, hours × rows × directions × speeds."""
    return np.asarray(np.einsum("hf,rfdu->hrdu", energy, squares, optimize=True))


def _at_direction(by_direction: Array, runs_to_deg: Array) -> Array:
    """Straight lines between the table's directions; rows × hours × headings × speeds."""
    count = len(DIRECTIONS_RAD)
    place = runs_to_deg / 360.0 * count
    low = np.floor(place).astype(np.int64)
    share = (place - low)[..., None, None]
    hours = np.arange(len(by_direction))[:, None]
    turned = by_direction.transpose(0, 2, 1, 3)  # hours × directions × rows × speeds
    found = (1.0 - share) * turned[hours, low % count] + share * turned[hours, (low + 1) % count]
    return np.asarray(found.transpose(2, 0, 1, 3))


def _spread(squares: Array) -> Array:
    """Each direction's share of the energy on it, by the cosine squared law; the directions lie in a circle."""
    weights = spreading_weights(DIRECTIONS_RAD)
    turns = np.stack([np.roll(weights, mean) for mean in range(len(weights))])  # mean direction × direction
    return np.asarray(np.einsum("md,rfdu->rfmu", turns, squares, optimize=True))


def _twice(size: Array) -> tuple[Array, Array]:
    return size, size
