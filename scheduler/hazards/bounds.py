"""The doors of this room: a number outside its bounds is refused by name, never repaired."""

from __future__ import annotations

import math


def finite(**quantities: float) -> None:
    """Refuse what is not a finite number.

    Assumes: each keyword is the name of a quantity with its unit at the end.
    Parameters: quantities [as named], finite.
    Returns: nothing.
    Raises: ValueError naming the first quantity that is infinite or not a number.
    Source: none needed.
    Example:
        >>> finite(volume_m3=float("nan"))
        Traceback (most recent call last):
        ...
        ValueError: volume_m3: nan was given; expected a finite number. Correct the figure.
    """
    for name, number in quantities.items():
        if not math.isfinite(number):
            raise ValueError(f"{name}: {number} was given; expected a finite number. Correct the figure.")


def positive(**quantities: float) -> None:
    """Refuse what is not a finite number above zero.

    Assumes: each keyword is the name of a quantity with its unit at the end.
    Parameters: quantities [as named], > 0.
    Returns: nothing.
    Raises: ValueError naming the first quantity outside its bound.
    Source: none needed.
    Example:
        >>> positive(flow_m3_s=0.0)
        Traceback (most recent call last):
        ...
        ValueError: flow_m3_s: 0.0 was given; expected a finite number above 0. Correct the figure.
    """
    for name, number in quantities.items():
        if not (math.isfinite(number) and number > 0):
            raise ValueError(f"{name}: {number} was given; expected a finite number above 0. Correct the figure.")


def not_negative(**quantities: float) -> None:
    """Refuse what is not a finite number of at least zero.

    Assumes: each keyword is the name of a quantity with its unit at the end.
    Parameters: quantities [as named], ≥ 0.
    Returns: nothing.
    Raises: ValueError naming the first quantity outside its bound.
    Source: none needed.
    Example:
        >>> not_negative(after_s=-1.0)
        Traceback (most recent call last):
        ...
        ValueError: after_s: -1.0 was given; expected a finite number of at least 0. Correct the figure.
    """
    for name, number in quantities.items():
        if not (math.isfinite(number) and number >= 0):
            raise ValueError(f"{name}: {number} was given; expected a finite number of at least 0. Correct the figure.")


def between(low: float, high: float, **quantities: float) -> None:
    """Refuse what lies outside low … high, both ends allowed.

    Assumes: low ≤ high.
    Parameters: low, high [as the quantities]; quantities [as named], low … high.
    Returns: nothing.
    Raises: ValueError naming the first quantity outside its bounds.
    Source: none needed.
    Example:
        >>> between(-90.0, 90.0, lat_deg=91.0)
        Traceback (most recent call last):
        ...
        ValueError: lat_deg: 91.0 was given; expected -90.0 to 90.0. Correct the figure.
    """
    for name, number in quantities.items():
        if not (math.isfinite(number) and low <= number <= high):
            raise ValueError(f"{name}: {number} was given; expected {low} to {high}. Correct the figure.")
