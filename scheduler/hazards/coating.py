"""Solvent vapour while a space is coated: air that it needs, whether the mix can ignite, what gathers below.

For a verdict only: adequate on paper, or not. All solvent counts as given off at once, nothing for slow drying;
no share of the flammable limit that comes out here is a forecast, and none is shown.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence

from scheduler.hazards.bounds import between, finite, not_negative, positive

GAS_CONSTANT_J_MOL_K = 8.314462618  # molar gas constant, SI
STANDARD_PRESSURE_PA = 101_325.0  # standard atmosphere, by definition


def solvent_flow_m3_s(*, mixed_m3_s: float, thinner_share: float, own_share: float) -> float:
    """Liquid solvent in the mixed paint that is applied: the thinner in full and the product's own.

    Assumes: shares by volume; all of the thinner is solvent.
    Parameters:
        mixed_m3_s: mixed paint applied [m³/s], ≥ 0.
        thinner_share: thinner in the mix [1], 0 … 1.
        own_share: solvent in the product before thinning [1], 0 … 1.
    Returns: liquid solvent [m³/s], ≥ 0.
    Raises: ValueError for a number outside its bound.
    Source: balance of volumes.
    Example:
        30 L/h mixed with 30 % thinner and 40 % solvent of its own: 17.4 L/h.

        >>> round(solvent_flow_m3_s(mixed_m3_s=30e-3 / 3600, thinner_share=0.3, own_share=0.4) * 3.6e6, 6)
        17.4
    """
    not_negative(mixed_m3_s=mixed_m3_s)
    between(0.0, 1.0, thinner_share=thinner_share, own_share=own_share)
    return mixed_m3_s * ((1.0 - thinner_share) * own_share + thinner_share)


def vapour_per_liquid(
    *,
    density_kg_m3: float,
    molar_mass_kg_mol: float,
    temperature_k: float,
    pressure_pa: float = STANDARD_PRESSURE_PA,
) -> float:
    """Cubic metres of vapour from one cubic metre of liquid.

    Assumes: an ideal gas.
    Parameters:
        density_kg_m3: the liquid's density [kg/m³], > 0.
        molar_mass_kg_mol: molar mass of what evaporates [kg/mol], > 0.
        temperature_k: temperature of the air [K], > 0.
        pressure_pa: air pressure [Pa], > 0.
    Returns: vapour to liquid by volume [m³/m³], > 0.
    Raises: ValueError for a number outside its bound.
    Source: ideal gas.
    Example:
        A litre of mixed xylenes gives about 197 litres of vapour at 20 °C.

        >>> round(vapour_per_liquid(density_kg_m3=870.0, molar_mass_kg_mol=0.10617, temperature_k=293.15))
        197
    """
    positive(
        density_kg_m3=density_kg_m3,
        molar_mass_kg_mol=molar_mass_kg_mol,
        temperature_k=temperature_k,
        pressure_pa=pressure_pa,
    )
    return density_kg_m3 / molar_mass_kg_mol * GAS_CONSTANT_J_MOL_K * temperature_k / pressure_pa


def air_needed_m3_s(*, vapour_m3_s: float, lfl_share: float, limit_of_lfl: float, mixing_factor: float) -> float:
    """Fresh air that keeps a steady flow of vapour at a share of its lower flammable limit: K·G·(1−f·LFL)/(f·LFL).

    Assumes: one well-swept zone, so ducted to the bottom; poor mixing is in the mixing factor.
    Parameters:
        vapour_m3_s: vapour given off [m³/s], ≥ 0.
        lfl_share: lower flammable limit [m³/m³], > 0 … < 1.
        limit_of_lfl: share of the limit to stay at [1], > 0 … 1.
        mixing_factor: 1 (perfect) … 10 (very poor) [1], ≥ 1.
    Returns: fresh air [m³/s], ≥ 0.
    Raises: ValueError for a number outside its bound.
    Source: ACGIH, Industrial Ventilation, dilution for fire and explosion, with the exact term of the mass balance as
        29 CFR 1910.94(c)(6)(ii) has it; 10 % of the limit: 29 CFR 1915.35(b).
    Example:
        >>> round(air_needed_m3_s(vapour_m3_s=2.49 / 3600, lfl_share=0.01, limit_of_lfl=0.1, mixing_factor=1.0) * 3600)
        2488
    """
    not_negative(vapour_m3_s=vapour_m3_s)
    positive(lfl_share=lfl_share, limit_of_lfl=limit_of_lfl)
    between(0.0, 1.0, lfl_share=lfl_share, limit_of_lfl=limit_of_lfl)
    if not (math.isfinite(mixing_factor) and mixing_factor >= 1):
        raise ValueError(f"mixing_factor: {mixing_factor} was given; expected 1 or more. Correct the figure.")
    allowed = limit_of_lfl * lfl_share
    return mixing_factor * vapour_m3_s * (1.0 - allowed) / allowed


def can_ignite(*, temperature_k: float, flash_k: float, margin_k: float) -> bool:
    """True when the film or the space is so warm that the saturated vapour may reach the flammable limit.

    Assumes: `temperature_k` is the warmest of film, plating and air; `flash_k` is that of the thinned mix, or the
        thinner's own where the mix's is unknown. At its flash point a liquid's saturated vapour is about at its limit.
    Parameters:
        temperature_k: warmest temperature there [K], > 0.
        flash_k: flash point [K], > 0.
        margin_k: how far below the flash point still counts [K], ≥ 0.
    Returns: True when it can.
    Raises: ValueError for a number outside its bound.
    Source: definition of the flash point; the margin is our choice.
    Example:
        >>> can_ignite(temperature_k=294.0, flash_k=298.15, margin_k=5.0)
        True
    """
    positive(temperature_k=temperature_k, flash_k=flash_k)
    not_negative(margin_k=margin_k)
    return temperature_k >= flash_k - margin_k


def plating_k(*, air_k: float, above_air_k: float, measured_k: float | None = None) -> float:
    """Temperature of sunlit plating: as measured, or a bound over the air's.

    Assumes: the bound is policy by the deck's colour; it holds for the film and the flash-point question only, never
        for the air in a tank.
    Parameters:
        air_k: air temperature [K], > 0.
        above_air_k: how far above it the plating may be [K], ≥ 0.
        measured_k: what was measured on the plating [K], > 0, or None.
    Returns: temperature [K], > 0.
    Raises: ValueError for a number outside its bound.
    Source: sol-air temperature of a horizontal surface, ASHRAE (from memory), 900 W/m² on dark paint: about 44 K; the
        bounds of 45 K dark and 15 K light are our choice.
    Example:
        >>> plating_k(air_k=303.15, above_air_k=45.0)
        348.15
    """
    positive(air_k=air_k)
    not_negative(above_air_k=above_air_k)
    if measured_k is None:
        return air_k + above_air_k
    positive(measured_k=measured_k)
    return measured_k


def below_after_s(
    *,
    vapour_m3_s: float,
    exchange_m3_s: float,
    lower_m3: float,
    after_s: float,
    saturation_share: float | None = None,
) -> float:
    """Share of vapour in a lower zone that fresh air does not reach, after a time of coating there.

    Assumes: all vapour stays in the lower zone but for the exchange with clean air above; one mixed zone.
    Parameters:
        vapour_m3_s: vapour given off there [m³/s], ≥ 0.
        exchange_m3_s: air that passes between the zones [m³/s], > 0.
        lower_m3: volume of the lower zone [m³], > 0.
        after_s: time gone by [s], ≥ 0.
        saturation_share: share of vapour at which the air is saturated [1], > 0, or None: no cap.
    Returns: share of vapour [m³/m³], 0 … 1.
    Raises: ValueError for a number outside its bound.
    Source: mass balance, Cl = (G/b)·(1 − exp(−b·t/vl)).
    Example:
        300 m³, lower half, exchange 125 m³/h, 5.9 m³/h of vapour: 2.7 % after an hour.

        >>> round(below_after_s(vapour_m3_s=5.9 / 3600, exchange_m3_s=125 / 3600, lower_m3=150.0, after_s=3600.0), 4)
        0.0267
    """
    not_negative(vapour_m3_s=vapour_m3_s, after_s=after_s)
    positive(exchange_m3_s=exchange_m3_s, lower_m3=lower_m3)
    gathered = -vapour_m3_s / exchange_m3_s * math.expm1(-exchange_m3_s * after_s / lower_m3)
    if saturation_share is not None:
        positive(saturation_share=saturation_share)
        gathered = min(gathered, saturation_share)
    return min(gathered, 1.0)


def lfl_of_mixture(lfl_shares: Sequence[float], vapour_shares: Sequence[float]) -> float:
    """Lower flammable limit of mixed vapours: 1/Σ(y/LFL), y their shares among each other.

    Assumes: flammable vapours only, in air.
    Parameters:
        lfl_shares: lower flammable limit of each [m³/m³], > 0 … < 1.
        vapour_shares: amount of each vapour [any one unit], ≥ 0, their sum > 0.
    Returns: lower flammable limit of the mixture [m³/m³].
    Raises: ValueError for a number outside its bound, or lists of different length.
    Source: Le Chatelier; Crowl & Louvar, Chemical Process Safety, 2nd ed.
    Example:
        >>> round(lfl_of_mixture([0.012, 0.053, 0.031], [0.0024, 0.0061, 0.0015]), 7)
        0.0275117
    """
    _alike(lfl_shares, vapour_shares)
    for lfl_share, vapour_share in zip(lfl_shares, vapour_shares, strict=True):
        positive(lfl_share=lfl_share)
        between(0.0, 1.0, lfl_share=lfl_share)
        not_negative(vapour_share=vapour_share)
    total = math.fsum(vapour_shares)
    positive(sum_of_vapour_shares=total)
    return total / math.fsum(share / limit for share, limit in zip(vapour_shares, lfl_shares, strict=True))


def mole_shares(mass_by_molar_mass: Mapping[str, tuple[float, float]]) -> dict[str, float]:
    """Shares by amount of substance from masses.

    Assumes: all of it evaporates, so that these are the shares of the vapour.
    Parameters: for each name its mass [any one unit], ≥ 0, and its molar mass [kg/mol], > 0; the masses' sum > 0.
    Returns: share of each [1], summing to 1, in the order given.
    Raises: ValueError for a number outside its bound.
    Source: definition.
    Example:
        >>> shares = mole_shares({"xylene": (60.0, 0.10617), "n-butanol": (25.0, 0.07412), "MEK": (15.0, 0.07211)})
        >>> {name: round(share, 4) for name, share in shares.items()}
        {'xylene': 0.5089, 'n-butanol': 0.3037, 'MEK': 0.1873}
    """
    amounts = {}
    for name, (mass, molar_mass_kg_mol) in mass_by_molar_mass.items():
        not_negative(mass=mass)
        positive(molar_mass_kg_mol=molar_mass_kg_mol)
        amounts[name] = mass / molar_mass_kg_mol
    total = math.fsum(amounts.values())
    positive(sum_of_masses=total)
    return {name: amount / total for name, amount in amounts.items()}


def saturation_share(vapour_pressure_pa: float, pressure_pa: float = STANDARD_PRESSURE_PA) -> float:
    """Share of vapour in saturated air.

    Assumes: an ideal gas; the vapour pressure is that of the mix at the film's temperature.
    Parameters:
        vapour_pressure_pa: vapour pressure [Pa], ≥ 0.
        pressure_pa: air pressure [Pa], > 0.
    Returns: share of vapour [1], 0 … 1.
    Raises: ValueError for a number outside its bound.
    Source: Dalton.
    Example:
        m-Xylene at 20 °C, 834 Pa, saturates air at 0.82 %, below its limit of 1.0 %.

        >>> round(saturation_share(834.0), 5)
        0.00823
    """
    not_negative(vapour_pressure_pa=vapour_pressure_pa)
    positive(pressure_pa=pressure_pa)
    finite(vapour_pressure_pa=vapour_pressure_pa)
    return min(vapour_pressure_pa / pressure_pa, 1.0)


def _alike(one: Sequence[float], other: Sequence[float]) -> None:
    if len(one) != len(other):
        raise ValueError(f"{len(one)} limits were given for {len(other)} vapours; expected one for each. Pair them.")
