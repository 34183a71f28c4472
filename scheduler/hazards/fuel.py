"""Fuel at a speed, as a band: never to a percent."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise


def fuel_t_per_day(table: Sequence[tuple[float, float]], speed_kn: float) -> tuple[float, float] | None:
    """Tonnes a day at a speed through the water: a low and a high figure; None without a table.

    Assumes: `table` is (speed [kn] > 0, fuel [t/day] > 0), for this draught and a clean hull.
    Parameters: speed_kn [kn], ≥ 0.
    Returns: inside the table both figures are the straight line between its rows; outside it the nearest row is
        carried on with exponents 2 and 3 of the speed.
    Raises: ValueError for a negative speed.
    Source: the cube law P ~ V^3 and a flatter real exponent between 2 and 3 off the design speed (common practice;
        noon reports of tankers show the flatter law below it).

    >>> fuel_t_per_day([(10.0, 20.0), (14.0, 40.0)], 12.0)
    (30.0, 30.0)
    >>> fuel_t_per_day([(10.0, 20.0), (14.0, 40.0)], 5.0)
    (2.5, 5.0)
    """
    if speed_kn < 0:
        raise ValueError(f"speed_kn is {speed_kn}; expected 0 or more")
    rows = sorted(table)
    if not rows:
        return None
    for (low, low_t), (high, high_t) in pairwise(rows):
        if low <= speed_kn <= high:
            share = (speed_kn - low) / (high - low) if high > low else 0.0
            fuel = low_t + share * (high_t - low_t)
            return fuel, fuel
    speed, fuel = rows[0] if speed_kn < rows[0][0] else rows[-1]
    square, cube = fuel * (speed_kn / speed) ** 2, fuel * (speed_kn / speed) ** 3
    return min(square, cube), max(square, cube)
