"""When the worst level may come to its limit, from readings taken while the fans run.

The answer is a late bound for planning a test, or a reason why there is none. It only lengthens a planned time
or says 'test now'; it never shortens one and opens no space. Readings of an upper level must not come in here:
the upper air looks fifteen times better than the bottom.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum
from itertools import pairwise

from scheduler.hazards.bounds import finite, not_negative, positive

LEAST_READINGS = 5  # our choice: fewer say too little about their own scatter
LEAST_TIME_CONSTANTS = 1.5  # our choice: readings over a shorter stretch say too little about the decay
# Student's t, one-sided 99 %, for 1 … 20 degrees of freedom, from published tables; beyond, the value of 20 stays.
T_99 = (
    31.821, 6.965, 4.541, 3.747, 3.365, 3.143, 2.998, 2.896, 2.821, 2.764,
    2.718, 2.681, 2.650, 2.624, 2.602, 2.583, 2.567, 2.552, 2.539, 2.528,
)  # fmt: skip


class NoFit(StrEnum):
    """Why readings give no time."""

    TOO_FEW = "fewer than five readings"
    AT_THE_FLOOR = "a reading at the meter's floor"
    NO_DECAY = "the readings do not show that it falls"
    TOO_SHORT = "the readings span too short a time"


@dataclass(frozen=True, kw_only=True, slots=True)
class Fit:
    """A decay that readings show: its rate, and when the limit is reached at the latest [s on the readings' clock].

    `latest_s` is the one-sided 99 % bound. It may lie before the last reading: then it is time to test.
    """

    decay_per_s: float
    likeliest_s: float
    latest_s: float


def fit_decay(
    times_s: Sequence[float], excesses: Sequence[float], *, limit_excess: float, floor_excess: float = 0.0
) -> Fit | NoFit:
    """The decay of the worst level's readings and the late bound on the time to the limit.

    Assumes: readings of one level, the worst; fans and openings unchanged while they were taken; nothing given off;
        equal relative scatter. An excess is the distance from what the supply brings: a vapour's reading itself,
        or for oxygen 20.9 less the reading.
    Parameters:
        times_s: times of the readings from any one instant [s], finite, rising.
        excesses: their excesses [any one unit], ≥ 0.
        limit_excess: excess at the limit [the same unit], > 0.
        floor_excess: least excess that the meter shows apart from nothing [the same unit], ≥ 0.
    Returns: Fit, or NoFit: never a time where the slope may be nothing.
    Raises: ValueError for a number outside its bound, times that do not rise, lists of different length.
    Source: straight line through the logarithms; Fieller's bound on where a line meets a level (1954).
    Example:
        A clean decay of one time constant an hour from 50 to the limit of 1 takes ln 50 = 3.912 h.

        >>> hours = [0.0, 0.5, 1.0, 1.5, 2.0, 2.5]
        >>> fit = fit_decay([h * 3600 for h in hours], [50 * 2.718281828 ** -h for h in hours], limit_excess=1.0)
        >>> round(fit.likeliest_s / 3600, 3), round(fit.latest_s / 3600, 3)
        (3.912, 3.912)
        >>> fit_decay([0.0, 60.0], [50.0, 40.0], limit_excess=1.0).value
        'fewer than five readings'
    """
    _check(times_s, excesses, limit_excess, floor_excess)
    if len(times_s) < LEAST_READINGS:
        return NoFit.TOO_FEW
    if any(excess <= floor_excess for excess in excesses):
        return NoFit.AT_THE_FLOOR
    return _fit(times_s, [math.log(excess / limit_excess) for excess in excesses])


def _fit(times_s: Sequence[float], logs: Sequence[float]) -> Fit | NoFit:
    """Fit the logarithms of excess over limit; the limit is where they are 0."""
    count = len(times_s)
    middle_s, middle_log = math.fsum(times_s) / count, math.fsum(logs) / count
    spread = math.fsum((time - middle_s) ** 2 for time in times_s)
    slope = math.fsum((time - middle_s) * log for time, log in zip(times_s, logs, strict=True)) / spread
    misses = (log - middle_log - slope * (time - middle_s) for time, log in zip(times_s, logs, strict=True))
    scatter = _t_99(count - 2) ** 2 * math.fsum(miss**2 for miss in misses) / (count - 2)
    surely = slope**2 - scatter / spread
    if slope >= 0 or surely <= 0:
        return NoFit.NO_DECAY
    if -slope * (times_s[-1] - times_s[0]) < LEAST_TIME_CONSTANTS:
        return NoFit.TOO_SHORT
    root = math.sqrt(max((middle_log * slope) ** 2 - surely * (middle_log**2 - scatter / count), 0.0))
    return Fit(
        decay_per_s=-slope,
        likeliest_s=middle_s - middle_log / slope,
        latest_s=middle_s + (root - middle_log * slope) / surely,
    )


def _t_99(degrees_of_freedom: int) -> float:
    return T_99[min(degrees_of_freedom, len(T_99)) - 1]


def _check(times_s: Sequence[float], excesses: Sequence[float], limit_excess: float, floor_excess: float) -> None:
    positive(limit_excess=limit_excess)
    not_negative(floor_excess=floor_excess)
    if len(times_s) != len(excesses):
        raise ValueError(
            f"{len(times_s)} times were given for {len(excesses)} readings; expected one for each. Pair them."
        )
    for time_s, excess in zip(times_s, excesses, strict=True):
        finite(time_s=time_s)
        not_negative(excess=excess)
    if any(later <= sooner for sooner, later in pairwise(times_s)):
        raise ValueError("times_s: do not rise from reading to reading; expected rising times. Sort them.")
