"""Time that fresh air needs, and what it leaves behind: dilution, build-up, two zones.

Every time here is for planning, an upper look at how long to run the fans before a test is worth while;
it opens no space. Concentrations may be shares, percent or ppm, as long as all of one call are alike.
None of it holds while liquid or residue gives off vapour: then there is no time at all.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from scheduler.hazards.bounds import between, finite, not_negative, positive

OXYGEN_OF_SUPPLY_PERCENT = 20.9  # oxygen in fresh air as a meter shows it; IMO MSC.581(110) names the same figure
OXYGEN_REACHED_PERCENT = 20.8  # the above less a meter's step of 0.1; 20.9 itself is only approached. Our choice
S_PER_MIN = 60.0
MIN_PER_H = 60.0
HALVINGS = 80  # halves an interval to below the spacing of floats


@dataclass(frozen=True, kw_only=True, slots=True)
class ZonesLeft:
    """Share of the first excess that is left in the upper and in the lower zone [0 … 1]."""

    upper: float
    lower: float


def air_changes_per_h(*, volume_m3: float, flow_m3_s: float) -> float:
    """Air changes an hour that a flow gives a volume.

    Assumes: the flow is what reaches the space, already derated.
    Parameters:
        volume_m3: gross volume of the space [m³], > 0.
        flow_m3_s: fresh air [m³/s], > 0.
    Returns: air changes an hour [1/h], > 0.
    Raises: ValueError for a number outside its bound.
    Source: definition.
    Example:
        >>> round(air_changes_per_h(volume_m3=500.0, flow_m3_s=5000.0 / 3600.0), 6)
        10.0
    """
    positive(volume_m3=volume_m3, flow_m3_s=flow_m3_s)
    return flow_m3_s * 3600.0 / volume_m3


def minutes_to_remove(*, air_changes_per_h: float, share: float, mixing_factor: float = 1.0) -> float:
    """Minutes until a share of what was in the air is gone.

    Assumes: nothing more is given off; clean supply; imperfect mixing lengthens the time by the mixing factor.
    Parameters:
        air_changes_per_h: air changes an hour [1/h], > 0.
        share: share that is to be gone [1], 0 … < 1.
        mixing_factor: 1 (perfect) … 10 (very poor) [1], ≥ 1.
    Returns: minutes [min], ≥ 0.
    Raises: ValueError for a number outside its bound.
    Source: CDC, MMWR 1994;43(RR-13) Table S3-1 and its note on the mixing factor.
    Example:
        >>> round(minutes_to_remove(air_changes_per_h=6.0, share=0.99))
        46
    """
    positive(air_changes_per_h=air_changes_per_h)
    _mixing(mixing_factor)
    not_negative(share=share)
    if share >= 1:
        raise ValueError(f"share: {share} was given; expected 0 to below 1. The last trace is never gone.")
    return -mixing_factor * math.log1p(-share) * MIN_PER_H / air_changes_per_h


def dilution_time_s(
    *,
    volume_m3: float,
    flow_m3_s: float,
    start: float,
    target: float,
    supply: float = 0.0,
    mixing_factor: float,
) -> float:
    """Seconds until a whole space has come from `start` to `target`: t = K·V/Q·ln((C0−Cs)/(Ct−Cs)).

    Assumes: nothing more is given off; the space is one zone whose poor mixing is in the mixing factor.
        A target above the supply is reached from above (a vapour), one below it from below (oxygen); a
        start already at the target or beyond it needs no time.
    Parameters:
        volume_m3: gross volume of the space [m³], > 0.
        flow_m3_s: fresh air, already derated [m³/s], > 0.
        start: concentration at first [any one unit], finite.
        target: concentration to be reached [the same unit], not equal to the supply's.
        supply: concentration of the supplied air [the same unit], finite.
        mixing_factor: 1 (perfect) … 10 (very poor) [1], ≥ 1.
    Returns: seconds [s], ≥ 0.
    Raises: ValueError for a number outside its bound, and for a target equal to the supply: it is only approached.
    Source: ACGIH, Industrial Ventilation, dilution of a decaying concentration; mixing factor up to 10:
        CDC, MMWR 1994;43(RR-13) Table S3-1.
    Example:
        500 m³, 5,000 m³/h, from 10 % to 1 % of the lower flammable limit, mixing factor 3.

        >>> round(dilution_time_s(volume_m3=500.0, flow_m3_s=5000.0 / 3600.0, start=10.0, target=1.0,
        ...                       mixing_factor=3.0) / 60.0, 2)
        41.45
    """
    positive(volume_m3=volume_m3, flow_m3_s=flow_m3_s)
    _mixing(mixing_factor)
    excess = _excess(start, target, supply)
    if excess <= 1:
        return 0.0
    return mixing_factor * volume_m3 / flow_m3_s * math.log(excess)


def oxygen_recovery_time_s(
    *,
    volume_m3: float,
    flow_m3_s: float,
    start_percent: float,
    target_percent: float = OXYGEN_REACHED_PERCENT,
    supply_percent: float = OXYGEN_OF_SUPPLY_PERCENT,
    mixing_factor: float,
) -> float:
    """Seconds until oxygen has come back to the target.

    Assumes: what `dilution_time_s` assumes. A calculated oxygen figure never stands in for a test.
    Parameters:
        volume_m3: gross volume of the space [m³], > 0.
        flow_m3_s: fresh air, already derated [m³/s], > 0.
        start_percent: oxygen at first [% by volume], 0 … 100; 0 when unknown.
        target_percent: oxygen to be reached [% by volume], ≥ 0, below the supply.
        supply_percent: oxygen of the supplied air [% by volume], 0 … 100.
        mixing_factor: 1 (perfect) … 10 (very poor) [1], ≥ 1.
    Returns: seconds [s], ≥ 0; 0 also for air richer in oxygen than the target, which a test must refuse.
    Raises: ValueError for a number outside its bound, and for a target not below the supply.
    Source: as `dilution_time_s`.
    Example:
        From 8 % it takes 4.86 changes of a perfectly mixed space.

        >>> round(oxygen_recovery_time_s(volume_m3=1.0, flow_m3_s=1.0, start_percent=8.0, mixing_factor=1.0), 2)
        4.86
    """
    between(0.0, 100.0, start_percent=start_percent, target_percent=target_percent, supply_percent=supply_percent)
    if target_percent >= supply_percent:
        raise ValueError(
            f"target_percent: {target_percent} was given; expected below the supply's {supply_percent}, "
            "which is only approached. Take the supply less the meter's step."
        )
    return dilution_time_s(
        volume_m3=volume_m3,
        flow_m3_s=flow_m3_s,
        start=start_percent,
        target=target_percent,
        supply=supply_percent,
        mixing_factor=mixing_factor,
    )


def concentration_after(
    *,
    volume_m3: float,
    flow_m3_s: float,
    source_m3_s: float = 0.0,
    start: float = 0.0,
    after_s: float,
    mixing_factor: float,
) -> float:
    """Share of vapour in the air after a time with a steady source: C = G/Q' + (C0 − G/Q')·exp(−Q't/V), Q' = Q/K.

    Assumes: one zone, steady source and flow, clean supply, concentrations small against 1.
    Parameters:
        volume_m3: gross volume of the space [m³], > 0.
        flow_m3_s: fresh air, already derated [m³/s], > 0.
        source_m3_s: vapour given off [m³/s], ≥ 0.
        start: share of vapour at first [m³/m³], ≥ 0.
        after_s: time gone by [s], ≥ 0.
        mixing_factor: 1 (perfect) … 10 (very poor) [1], ≥ 1.
    Returns: share of vapour [m³/m³], ≥ 0.
    Raises: ValueError for a number outside its bound.
    Source: ACGIH, Industrial Ventilation, build-up and purging of a contaminant.
    Example:
        100,000 ft³, 6,000 cfm, 1.2 cfm of vapour, mixing factor 3 (any one unit of volume will do).

        >>> share = concentration_after(volume_m3=100_000.0, flow_m3_s=6_000.0, source_m3_s=1.2, after_s=60.0,
        ...                             mixing_factor=3.0)
        >>> round(share * 1e6)
        419
    """
    positive(volume_m3=volume_m3, flow_m3_s=flow_m3_s)
    not_negative(source_m3_s=source_m3_s, start=start, after_s=after_s)
    _mixing(mixing_factor)
    steady = steady_concentration(flow_m3_s=flow_m3_s, source_m3_s=source_m3_s, mixing_factor=mixing_factor)
    return steady + (start - steady) * math.exp(-flow_m3_s * after_s / (mixing_factor * volume_m3))


def steady_concentration(*, flow_m3_s: float, source_m3_s: float, mixing_factor: float) -> float:
    """Share of vapour that a steady source ends at: K·G/Q.

    Assumes: one zone, steady source and flow, clean supply, concentrations small against 1.
    Parameters:
        flow_m3_s: fresh air, already derated [m³/s], > 0.
        source_m3_s: vapour given off [m³/s], ≥ 0.
        mixing_factor: 1 (perfect) … 10 (very poor) [1], ≥ 1.
    Returns: share of vapour [m³/m³], ≥ 0.
    Raises: ValueError for a number outside its bound.
    Source: ACGIH, Industrial Ventilation, steady state of dilution.
    Example:
        >>> round(steady_concentration(flow_m3_s=6_000.0, source_m3_s=1.2, mixing_factor=3.0) * 1e6)
        600
    """
    positive(flow_m3_s=flow_m3_s)
    not_negative(source_m3_s=source_m3_s)
    _mixing(mixing_factor)
    return mixing_factor * source_m3_s / flow_m3_s


def build_up_time_s(
    *,
    volume_m3: float,
    flow_m3_s: float,
    source_m3_s: float,
    start: float = 0.0,
    target: float,
    mixing_factor: float,
) -> float | None:
    """Seconds until a steady source has raised the air to `target`; None when it never does.

    Assumes: what `concentration_after` assumes.
    Parameters:
        volume_m3: gross volume of the space [m³], > 0.
        flow_m3_s: fresh air, already derated [m³/s], > 0.
        source_m3_s: vapour given off [m³/s], ≥ 0.
        start: share of vapour at first [m³/m³], ≥ 0.
        target: share of vapour that is asked about [m³/m³], > 0.
        mixing_factor: 1 (perfect) … 10 (very poor) [1], ≥ 1.
    Returns: seconds [s], 0 when it is there already; None when the steady state lies at or below the target.
    Raises: ValueError for a number outside its bound.
    Source: ACGIH, Industrial Ventilation, build-up of a contaminant.
    Example:
        >>> time = build_up_time_s(volume_m3=100_000.0, flow_m3_s=6_000.0, source_m3_s=1.2, target=200e-6,
        ...                        mixing_factor=3.0)
        >>> round(time, 1)
        20.3
    """
    positive(volume_m3=volume_m3, target=target)
    not_negative(start=start)
    steady = steady_concentration(flow_m3_s=flow_m3_s, source_m3_s=source_m3_s, mixing_factor=mixing_factor)
    if start >= target:
        return 0.0
    if steady <= target:
        return None
    return mixing_factor * volume_m3 / flow_m3_s * math.log((steady - start) / (steady - target))


def zones_left(
    *,
    volume_m3: float,
    flow_m3_s: float,
    lower_share: float,
    exchange_share: float,
    after_s: float,
    mixing_factor: float = 1.0,
) -> ZonesLeft:
    """What is left in the upper and the lower zone when fresh air reaches only the upper one.

    Assumes: both zones begin alike; nothing more is given off; each zone is mixed; air passes between them at
        a share of the fan's flow; the mixing factor slows all flows alike.
    Parameters:
        volume_m3: gross volume of the space [m³], > 0.
        flow_m3_s: fresh air into the upper zone, already derated [m³/s], > 0.
        lower_share: share of the volume that the duct does not reach [1], > 0 … < 1.
        exchange_share: flow between the zones as a share of the fan's [1], > 0 … 1.
        after_s: time gone by [s], ≥ 0.
        mixing_factor: 1 (perfect) … 10 (very poor) [1], ≥ 1.
    Returns: ZonesLeft, shares of the first excess over the supply.
    Raises: ValueError for a number outside its bound.
    Source: mass balance of two zones, vu·Cu' = −(Q+b)·Cu + b·Cl, vl·Cl' = b·(Cu−Cl), solved in closed form.
    Example:
        1,000 m³, lower 60 %, 10,000 m³/h, exchange 5 %, after two hours.

        >>> left = zones_left(volume_m3=1000.0, flow_m3_s=10_000.0 / 3600.0, lower_share=0.6,
        ...                   exchange_share=0.05, after_s=7200.0)
        >>> round(left.upper, 5), round(left.lower, 5)
        (0.01038, 0.21135)
    """
    slow, fast, exchange = _zone_rates(volume_m3, flow_m3_s, lower_share, exchange_share, mixing_factor)
    not_negative(after_s=after_s)
    by_slow = fast / (fast - slow) * math.exp(-slow * after_s)
    by_fast = slow / (fast - slow) * math.exp(-fast * after_s)
    upper = by_slow * (1.0 - slow / exchange) + by_fast * (fast / exchange - 1.0)
    return ZonesLeft(upper=max(upper, 0.0), lower=max(by_slow - by_fast, 0.0))


def lower_zone_time_s(
    *,
    volume_m3: float,
    flow_m3_s: float,
    lower_share: float,
    exchange_share: float,
    start: float,
    target: float,
    supply: float = 0.0,
    mixing_factor: float = 1.0,
) -> float:
    """Seconds until the lower zone, which the fan's air does not reach, has come to the target.

    Assumes: what `zones_left` assumes. The upper zone is there long before and says nothing about the lower.
    Parameters:
        volume_m3: gross volume of the space [m³], > 0.
        flow_m3_s: fresh air into the upper zone, already derated [m³/s], > 0.
        lower_share: share of the volume that the duct does not reach [1], > 0 … < 1.
        exchange_share: flow between the zones as a share of the fan's [1], > 0 … 1.
        start: concentration at first, in both zones [any one unit], finite.
        target: concentration to be reached in the lower zone [the same unit], not equal to the supply's.
        supply: concentration of the supplied air [the same unit], finite.
        mixing_factor: 1 (perfect) … 10 (very poor) [1], ≥ 1.
    Returns: seconds [s], ≥ 0, rounded up within the spacing of floats.
    Raises: ValueError for a number outside its bound, and for a target equal to the supply.
    Source: as `zones_left`.
    Example:
        >>> time_s = lower_zone_time_s(volume_m3=1000.0, flow_m3_s=10_000.0 / 3600.0, lower_share=0.6,
        ...                            exchange_share=0.05, start=1.0, target=0.21135)
        >>> round(time_s / 3600.0, 3)
        2.0
    """
    slow, fast, _ = _zone_rates(volume_m3, flow_m3_s, lower_share, exchange_share, mixing_factor)
    excess = _excess(start, target, supply)
    if excess <= 1:
        return 0.0
    # The slow part alone lies above the whole, so its time is an upper end to halve from.
    early_s, late_s = 0.0, math.log(excess * fast / (fast - slow)) / slow
    for _ in range(HALVINGS):
        middle_s = (early_s + late_s) / 2.0
        left = (fast * math.exp(-slow * middle_s) - slow * math.exp(-fast * middle_s)) / (fast - slow)
        early_s, late_s = (middle_s, late_s) if left * excess > 1.0 else (early_s, middle_s)
    return late_s


def _mixing(mixing_factor: float) -> None:
    if not (math.isfinite(mixing_factor) and mixing_factor >= 1):
        raise ValueError(
            f"mixing_factor: {mixing_factor} was given; expected 1 (perfect) or more. "
            "Below 1 the air would be better than perfectly mixed."
        )


def _excess(start: float, target: float, supply: float) -> float:
    """How many times the allowed distance from the supply the start is away, on the target's side of it."""
    finite(start=start, target=target, supply=supply)
    if target == supply:
        raise ValueError(
            f"target: {target} was given, which is the supply; expected another value. "
            "The supply's concentration is only approached."
        )
    return (start - supply) / (target - supply)


def _zone_rates(
    volume_m3: float, flow_m3_s: float, lower_share: float, exchange_share: float, mixing_factor: float
) -> tuple[float, float, float]:
    """Slow and fast decay rates of the two zones and the lower zone's exchange rate [1/s]."""
    positive(volume_m3=volume_m3, flow_m3_s=flow_m3_s, lower_share=lower_share, exchange_share=exchange_share)
    between(0.0, 1.0, exchange_share=exchange_share)
    _mixing(mixing_factor)
    if lower_share >= 1:
        raise ValueError(f"lower_share: {lower_share} was given; expected below 1. Leave the fan some room.")
    flow, exchange = flow_m3_s / mixing_factor, exchange_share * flow_m3_s / mixing_factor
    lower = exchange / (lower_share * volume_m3)
    upper = (flow + exchange) / ((1.0 - lower_share) * volume_m3)
    coupling = exchange / ((1.0 - lower_share) * volume_m3) * lower
    fast = (upper + lower + math.hypot(upper - lower, 2.0 * math.sqrt(coupling))) / 2.0
    slow = (upper * lower - coupling) / fast  # the product of the two rates over one keeps the small one exact
    return slow, fast, lower
