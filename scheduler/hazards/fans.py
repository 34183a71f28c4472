"""What is left of a fan's free flow behind its ducting, and what several fans give together."""

from __future__ import annotations

import math
from collections.abc import Sequence

from scheduler.hazards.bounds import between, not_negative, positive

SHORT_DUCT_M = 10.0  # first of the two duct lengths that a derating stands for; our choice
LONG_DUCT_M = 30.0  # second of them; our choice


def duct_derating(duct_m: float | None, *, derate_10m: float, derate_30m: float, derate_unknown: float) -> float:
    """Share of a fan's free flow that is left behind its ducting.

    Assumes: the three deratings are policy; ducting beyond 30 m or of unknown length takes the least of them.
    Parameters:
        duct_m: length of the ducting [m], ≥ 0, or None when unknown.
        derate_10m: share left with ducting of up to 10 m [1], > 0 … 1.
        derate_30m: share left with ducting of up to 30 m [1], > 0 … 1.
        derate_unknown: share left when the length is unknown [1], > 0 … 1.
    Returns: share of the free flow [1], > 0 … 1.
    Raises: ValueError for a number outside its bound.
    Source: our choice, below a worked fan and duct (0.85 to 0.70 of the free flow for 0 to 30 m); fan curves are
        rarely on board and a collapsed flexible duct is worse.
    Example:
        >>> [duct_derating(length, derate_10m=0.75, derate_30m=0.6, derate_unknown=0.5)
        ...  for length in (8.0, 25.0, 40.0, None)]
        [0.75, 0.6, 0.5, 0.5]
    """
    positive(derate_10m=derate_10m, derate_30m=derate_30m, derate_unknown=derate_unknown)
    between(0.0, 1.0, derate_10m=derate_10m, derate_30m=derate_30m, derate_unknown=derate_unknown)
    if duct_m is not None:
        not_negative(duct_m=duct_m)
        if duct_m <= SHORT_DUCT_M:
            return derate_10m
        if duct_m <= LONG_DUCT_M:
            return min(derate_10m, derate_30m)
    return min(derate_10m, derate_30m, derate_unknown)


def flow_of_fans_m3_s(free_flows_m3_s: Sequence[float], deratings: Sequence[float]) -> float:
    """Fresh air that several fans give together, each with its own ducting.

    Assumes: each fan blows through its own opening or duct, so that the flows add.
    Parameters:
        free_flows_m3_s: free flow of each fan [m³/s], > 0.
        deratings: share left of each [1], > 0 … 1, as many as fans.
    Returns: flow [m³/s], ≥ 0; 0 without fans.
    Raises: ValueError for a number outside its bound or when the two differ in length.
    Source: sum of parallel flows.
    Example:
        >>> flow_of_fans_m3_s([1.0, 2.0], [0.75, 0.5])
        1.75
    """
    if len(free_flows_m3_s) != len(deratings):
        raise ValueError(
            f"deratings: {len(deratings)} were given for {len(free_flows_m3_s)} fans; expected one for each. "
            "Give each fan its derating."
        )
    for flow_m3_s, derating in zip(free_flows_m3_s, deratings, strict=True):
        positive(free_flow_m3_s=flow_m3_s, derating=derating)
        between(0.0, 1.0, derating=derating)
    return math.fsum(flow * share for flow, share in zip(free_flows_m3_s, deratings, strict=True))
