"""Air for coating work and vapour of paint solvents against printed figures.

Sources stand at each test. The ACGIH and OSHA examples and OSHA's table of vapour volumes are from memory; their
arithmetic reproduces. Cubic feet and minutes stand where functions say cubic metres and seconds where noted.
"""

from __future__ import annotations

import pytest

from scheduler.hazards.coating import (
    air_needed_m3_s,
    below_after_s,
    lfl_of_mixture,
    mole_shares,
    saturation_share,
    solvent_flow_m3_s,
    vapour_per_liquid,
)
from scheduler.hazards.solvents import SOLVENTS

FT3_PER_GALLON = 0.133680556  # 231 cubic inches, by definition
PINTS_PER_GALLON = 8.0
K_AT_70_F = 294.26
TOLUENE, XYLENE, MEK = SOLVENTS["108-88-3"], SOLVENTS["1330-20-7"], SOLVENTS["78-93-3"]


def test_oshas_worked_gallon_of_toluene_needs_8564_cubic_feet_of_air() -> None:
    # 29 CFR 1910.94(c)(6)(ii): 4·(100 − LEL)·(vapour a gallon)/LEL with 1.4 % and 30.4 ft³. That is four times the
    # air that brings the vapour of a gallon to its limit itself.
    to_the_limit = air_needed_m3_s(vapour_m3_s=30.4, lfl_share=0.014, limit_of_lfl=1.0, mixing_factor=1.0)
    assert 4 * to_the_limit == pytest.approx(8564, abs=0.5)


def test_a_quarter_of_the_limit_never_gets_less_air_than_oshas_four_times() -> None:
    quarter = air_needed_m3_s(vapour_m3_s=30.4, lfl_share=0.014, limit_of_lfl=0.25, mixing_factor=1.0)
    assert 8564 <= quarter < 8564 * 1.02


def test_acgihs_dilution_for_a_pint_of_toluene_a_minute_comes_out() -> None:
    # ACGIH, Industrial Ventilation: Q = 403·SG·100·ER·C/(MW·LEL·B); SG 0.866, 1 pint a minute, C 4, LEL 1.27, B 1:
    # 1,193 cfm. 403 stands for the vapour volume at 70 °F. The rounded constant is good to half a percent.
    acgih_cfm = 403 * 0.866 * 100 * 1.0 * 4 / (92.13 * 1.27)
    gallons_per_min = 1 / PINTS_PER_GALLON
    vapour_cfm = (
        gallons_per_min
        * FT3_PER_GALLON
        * vapour_per_liquid(density_kg_m3=866.0, molar_mass_kg_mol=0.09213, temperature_k=K_AT_70_F)
    )
    ours_cfm = air_needed_m3_s(vapour_m3_s=vapour_cfm, lfl_share=0.0127, limit_of_lfl=0.25, mixing_factor=1.0)
    assert acgih_cfm == pytest.approx(1193.1, abs=0.2)
    assert ours_cfm == pytest.approx(acgih_cfm, rel=0.005)


def test_acgihs_oven_of_xylol_needs_159_cfm_before_the_correction_for_heat() -> None:
    # ACGIH oven example: 2 pints an hour, SG 0.88, MW 106, LEL 1.0, C 10, B 0.7 above 250 °F: 159 cfm at 70 °F.
    gallons_per_min = 2 / 60 / PINTS_PER_GALLON
    vapour_cfm = (
        gallons_per_min
        * FT3_PER_GALLON
        * vapour_per_liquid(density_kg_m3=880.0, molar_mass_kg_mol=0.106, temperature_k=K_AT_70_F)
    )
    ours_cfm = air_needed_m3_s(vapour_m3_s=vapour_cfm, lfl_share=0.01, limit_of_lfl=0.1, mixing_factor=1.0) / 0.7
    assert ours_cfm == pytest.approx(159, rel=0.005)


@pytest.mark.parametrize(
    ("cas", "printed_ft3"),
    [
        ("108-88-3", 30.4),
        ("78-93-3", 36.4),
        ("67-64-1", 44.0),
        ("71-36-3", 35.2),
        ("123-86-4", 24.8),
        ("1330-20-7", 26.8),
    ],
)
def test_the_vapour_of_a_gallon_agrees_with_oshas_table(cas: str, printed_ft3: float) -> None:
    # 29 CFR 1910.94 Table G-11, at 70 °F; its densities are not told, so within 2.5 %.
    solvent = SOLVENTS[cas]
    ratio = vapour_per_liquid(
        density_kg_m3=solvent.density_kg_m3, molar_mass_kg_mol=solvent.molar_mass_kg_mol, temperature_k=K_AT_70_F
    )
    assert ratio * FT3_PER_GALLON == pytest.approx(printed_ft3, rel=0.025)


def test_le_chatelier_of_crowl_and_louvar_comes_out_for_both_limits() -> None:
    # Crowl & Louvar, Chemical Process Safety, 2nd ed., worked example (found in a copy): 0.0275117 and 0.129276.
    vapours = [0.0024, 0.0061, 0.0015]
    assert lfl_of_mixture([0.012, 0.053, 0.031], vapours) == pytest.approx(0.0275117, abs=5e-8)
    assert lfl_of_mixture([0.075, 0.15, 0.32], vapours) == pytest.approx(0.129276, abs=5e-7)


def test_a_paints_vapour_by_mass_has_its_mixed_limit() -> None:
    # Constructed: by mass 60 % xylene (1.0 %), 25 % butanol (1.4 %), 15 % MEK (1.5 %), all evaporated: 1.1754 %.
    shares = mole_shares({"xylene": (60.0, 0.10617), "butanol": (25.0, 0.07412), "MEK": (15.0, 0.07211)})
    assert lfl_of_mixture([0.010, 0.014, 0.015], list(shares.values())) == pytest.approx(0.011754, abs=5e-7)


@pytest.mark.parametrize(
    ("cas", "m3_per_kg"),
    [
        ("1330-20-7", 0.2266),
        ("71-36-3", 0.3245),
        ("78-93-3", 0.3336),
        ("108-88-3", 0.2611),
        ("141-78-6", 0.2730),
        ("123-86-4", 0.2071),
    ],
)
def test_a_kilogram_of_solvent_at_20_degrees_gives_its_volume(cas: str, m3_per_kg: float) -> None:
    # Constructed from 24.055 L/mol.
    solvent = SOLVENTS[cas]
    ratio = vapour_per_liquid(density_kg_m3=1.0, molar_mass_kg_mol=solvent.molar_mass_kg_mol, temperature_k=293.15)
    assert ratio == pytest.approx(m3_per_kg, abs=1e-4)


@pytest.mark.parametrize(
    ("thinner_share", "at_10_percent_m3_h", "at_1_percent_m3_h"),
    [(0.0, 2492, 24_938), (0.1, 2865, 28_679), (0.3, 3613, 36_160), (0.5, 4360, 43_642)],
)
def test_thinner_counts_in_full_and_one_percent_is_out_of_reach_of_portable_fans(
    thinner_share: float, at_10_percent_m3_h: float, at_1_percent_m3_h: float
) -> None:
    # Constructed: 30 L/h mixed, 40 % solvent of its own, m-xylene at 38 °C, limit 1.0 %, mixing factor 1. The density
    # behind the figures is not told: within 0.5 %.
    liquid = solvent_flow_m3_s(mixed_m3_s=30e-3 / 3600, thinner_share=thinner_share, own_share=0.4)
    vapour = liquid * vapour_per_liquid(density_kg_m3=864.0, molar_mass_kg_mol=0.10617, temperature_k=311.15)
    for limit, printed_m3_h in ((0.1, at_10_percent_m3_h), (0.01, at_1_percent_m3_h)):
        air = air_needed_m3_s(vapour_m3_s=vapour, lfl_share=0.01, limit_of_lfl=limit, mixing_factor=1.0)
        assert air * 3600 == pytest.approx(printed_m3_h, rel=0.005)


@pytest.mark.parametrize(
    ("thinner_share", "with_slow_drying_of_lfl"), [(0.0, 1.04), (0.3, 1.36), (0.4, 1.45), (0.5, 1.53)]
)
def test_what_gathers_below_is_never_told_lower_than_a_film_that_dries_slowly_gives(
    thinner_share: float, with_slow_drying_of_lfl: float
) -> None:
    # Constructed: 300 m³, lower half, exchange 125 m³/h, 40 L/h mixed, 40 % own solvent, xylene at 38 °C, one hour. An
    # integration with a film that dries in a quarter of an hour gave the shares of the limit above; without credit
    # for drying ours is higher, up to saturation at 225 % of the limit.
    liquid = solvent_flow_m3_s(mixed_m3_s=40e-3 / 3600, thinner_share=thinner_share, own_share=0.4)
    vapour = liquid * vapour_per_liquid(density_kg_m3=864.0, molar_mass_kg_mol=0.10617, temperature_k=311.15)
    gathered = below_after_s(
        vapour_m3_s=vapour, exchange_m3_s=125 / 3600, lower_m3=150.0, after_s=3600.0, saturation_share=0.0225
    )
    assert with_slow_drying_of_lfl <= gathered / 0.01 <= 2.25


@pytest.mark.parametrize(
    ("cas", "pressure_pa", "percent_of_lfl"), [("108-38-3", 834.0, 82.0), ("108-88-3", 2926.0, 288.0)]
)
def test_saturated_air_at_20_degrees_stands_at_its_share_of_the_limit(
    cas: str, pressure_pa: float, percent_of_lfl: float
) -> None:
    # Vapour pressures: Perry's Chemical Engineers' Handbook, as carried by a public package; constructed from them.
    assert saturation_share(pressure_pa) / SOLVENTS[cas].lfl_share * 100 == pytest.approx(percent_of_lfl, abs=1.0)


# Lower flammable limits in percent and flash points in °C as printed: IEC 60079-20-1:2010, NFPA 497:2008, NIOSH Pocket
# Guide (all three as a public package carries them). None: not on that list.
PRINTED_LFL = {
    "108-38-3": (1.0, None, 1.1),
    "1330-20-7": (None, 0.9, None),
    "95-47-6": (1.0, None, 0.9),
    "106-42-3": (0.9, None, 1.1),
    "71-36-3": (1.4, 1.4, 1.4),
    "78-83-1": (1.4, 1.2, 1.7),
    "78-93-3": (1.5, 1.4, 1.4),
    "108-88-3": (1.0, 1.1, 1.1),
    "100-41-4": (0.8, 0.8, 0.8),
    "141-78-6": (2.0, 2.0, 2.0),
    "123-86-4": (1.2, 1.7, 1.7),
    "67-64-1": (2.5, 2.5, 2.5),
    "108-10-1": (1.2, None, 1.2),
}
PRINTED_FLASH_C = {
    "108-38-3": (25, None, 27.8),
    "1330-20-7": (None, 25, None),
    "95-47-6": (30, None, 32.2),
    "106-42-3": (25, None, 27.2),
    "71-36-3": (35, 36, 28.9),
    "78-83-1": (28, None, 27.8),  # NFPA's -40 is an evident misprint
    "78-93-3": (-10, -6, -8.9),
    "108-88-3": (4, 4, 4.4),
    "100-41-4": (15, 15, 12.8),
    "141-78-6": (-4, -4, -4.4),
    "123-86-4": (22, 22, 22.2),
    "67-64-1": (-20, -20, -17.8),
}


@pytest.mark.parametrize("cas", PRINTED_LFL)
def test_each_solvent_has_the_lowest_limit_that_any_list_prints(cas: str) -> None:
    lowest = min(limit for limit in PRINTED_LFL[cas] if limit is not None)
    assert SOLVENTS[cas].lfl_share * 100 == pytest.approx(lowest)


@pytest.mark.parametrize("cas", PRINTED_FLASH_C)
def test_each_solvent_has_the_lowest_flash_point_that_any_list_prints(cas: str) -> None:
    lowest = min(flash for flash in PRINTED_FLASH_C[cas] if flash is not None)
    assert SOLVENTS[cas].flash_k - 273.15 == pytest.approx(lowest)
