"""Waves, encounter and ship motion against printed figures.

Sources stand at each test. Figures called constructed were computed from the same formulas by other code: they guard
against slips and prove nothing about the sea.
"""

from __future__ import annotations

import math

import numpy as np
import pytest

from scheduler.hazards.encounter import GRAVITY_M_S2, encounter_period_s, surf_riding_from_m_s, wavelength_m
from scheduler.hazards.motion import Hull, motions, roll_period_s, vertical_acceleration
from scheduler.hazards.spectra import bretschneider, jonswap, moment, peak_period_s
from scheduler.units import kn_from_m_s, m_s_from_kn

FINE_RAD_S = np.linspace(0.02, 12.0, 60_000)
BOX_TANKER = Hull(
    length_m=180.0,
    beam_m=32.2,
    draught_m=11.0,
    block_coefficient=0.8,
    waterplane_coefficient=0.857,
    roll_period_s=19.5,
    kg_m=11.0,
)
TEST_TANKER = Hull(
    length_m=180.0,
    beam_m=32.2,
    draught_m=11.0,
    block_coefficient=0.794,
    waterplane_coefficient=0.857,
    roll_period_s=19.5,
    kg_m=11.0,
)


def test_the_published_case_of_a_fully_developed_sea_comes_out() -> None:
    # DNV research wave-spectrum case 15 (found in a copy): Hs 12 m, Tz 10 s give ωp 0.44634, Tp 14.077, m0 9 and
    # S(0.5) 25.84 m²s. The printed Tp/Tz is 1.4077 to more digits than IACS's 1.408.
    assert peak_period_s(10.0) == pytest.approx(14.077, abs=0.005)
    density = bretschneider(FINE_RAD_S, height_m=12.0, peak_period_s=14.077)
    assert 2 * math.pi / 14.077 == pytest.approx(0.44634, abs=5e-6)
    assert moment(FINE_RAD_S, density, 0) == pytest.approx(9.0, rel=1e-4)
    assert np.interp(0.5, FINE_RAD_S, density) == pytest.approx(25.84, abs=0.005)


def test_a_growing_sea_has_its_height_and_its_peak() -> None:
    # Constructed: JONSWAP, Hs 4 m, Tp 10 s, peak factor 3.3: peak 4.946 m²s, 4·√m0 = 4.005 m.
    density = jonswap(FINE_RAD_S, height_m=4.0, peak_period_s=10.0)
    assert float(density.max()) == pytest.approx(4.946, abs=0.001)
    assert 4 * math.sqrt(moment(FINE_RAD_S, density, 0)) == pytest.approx(4.005, abs=0.001)
    plain = jonswap(FINE_RAD_S, height_m=4.0, peak_period_s=10.0, peak_factor=1.0)
    assert np.interp(2 * math.pi / 10, FINE_RAD_S, plain) == pytest.approx(2.280, abs=0.001)


@pytest.mark.parametrize(
    ("wave_s", "speed_kn", "angle_deg", "met_s"),
    [
        (8.0, 15.0, 0.0, 4.923),
        (8.0, 15.0, 180.0, 21.333),
        (10.0, 12.0, 45.0, 7.795),
        (10.0, 12.0, 135.0, 13.944),
        (10.0, 15.0, 0.0, 6.667),
        (10.0, 15.0, 180.0, 20.0),
        (8.0, 12.0, 135.0, 12.38),
    ],
)
def test_the_guidances_encounter_period_comes_out_and_lies_near_linear_theory(
    wave_s: float, speed_kn: float, angle_deg: float, met_s: float
) -> None:
    # MSC.1/Circ.1228 (formula from memory); figures constructed from it. Linear theory: ωe = ω + ω²·U·cos α/g.
    speed_m_s = m_s_from_kn(speed_kn)
    found_s = encounter_period_s(wave_s, speed_m_s, angle_deg)
    assert found_s == pytest.approx(met_s, abs=0.006)
    frequency = 2 * math.pi / wave_s
    met = frequency + frequency**2 * speed_m_s * math.cos(math.radians(angle_deg)) / GRAVITY_M_S2
    assert found_s == pytest.approx(2 * math.pi / met, rel=0.02)


def test_a_ship_that_rides_with_the_waves_meets_none() -> None:
    # 3·6 + 18·cos 180° = 0.
    assert encounter_period_s(6.0, m_s_from_kn(18.0), 180.0) is None


def test_a_ship_faster_than_the_waves_from_astern_overtakes_them_at_a_period_above_nothing() -> None:
    # 3·36/|18 − 24| = 18 s.
    assert encounter_period_s(6.0, m_s_from_kn(24.0), 180.0) == pytest.approx(18.0)


@pytest.mark.parametrize(
    ("length_m", "angle_deg", "speed_kn"), [(100.0, 180.0, 18.0), (100.0, 135.0, 25.46), (180.0, 180.0, 24.15)]
)
def test_the_guidances_surf_riding_speed_comes_out(length_m: float, angle_deg: float, speed_kn: float) -> None:
    # MSC.1/Circ.1228 4.2.1 (range found in a copy, formula from memory); figures constructed.
    from_m_s = surf_riding_from_m_s(length_m, angle_deg)
    assert from_m_s is not None
    assert kn_from_m_s(from_m_s) == pytest.approx(speed_kn, abs=0.005)


def test_a_wave_of_ten_seconds_is_156_metres_long() -> None:
    # MSC.1/Circ.1228: 1.56·T² (from memory).
    assert wavelength_m(10.0) == pytest.approx(156.0, abs=0.2)


@pytest.mark.parametrize(
    ("beam_m", "draught_m", "waterline_m", "gm_m", "period_s"),
    [(32.2, 11.0, 190.0, 2.0, 16.33), (20.0, 6.0, 110.0, 1.0, 16.10), (32.2, 11.0, 176.0, 2.2, 15.83)],
)
def test_the_is_codes_roll_period_comes_out(
    beam_m: float, draught_m: float, waterline_m: float, gm_m: float, period_s: float
) -> None:
    # 2008 IS Code, part A 2.3 (found in public implementations); figures constructed from it, one rounded up.
    found_s = roll_period_s(beam_m=beam_m, draught_m=draught_m, waterline_m=waterline_m, gm_m=gm_m)
    assert found_s == pytest.approx(period_s, abs=0.006)


@pytest.mark.parametrize("gm_m", [0.0, -0.5])
def test_a_ship_without_metacentric_height_has_no_roll_period(gm_m: float) -> None:
    with pytest.raises(ValueError, match="gm_m"):
        roll_period_s(beam_m=32.2, draught_m=11.0, waterline_m=190.0, gm_m=gm_m)


@pytest.mark.parametrize(
    ("frequency", "met", "heave", "pitch"), [(0.4, 0.5175, 0.9038, 0.01741), (0.5, None, 0.4988, 0.02192)]
)
def test_heave_and_pitch_of_the_closed_form_come_out_in_head_seas(
    frequency: float, met: float | None, heave: float, pitch: float
) -> None:
    # Jensen, Mansour, Olsen 2004; no check value is printed. Constructed: 180 × 32.2 × 11 m, CB 0.8, 14 kn, gravity
    # probably 9.81, which moves the second pair by 0.0006 and 0.00001.
    found = motions(BOX_TANKER, np.array(frequency), np.array(math.pi), np.array(m_s_from_kn(14.0)), length_m=180.0)
    assert float(np.abs(found.heave)) == pytest.approx(heave, abs=7e-4)
    assert float(np.abs(found.pitch)) == pytest.approx(pitch, abs=2e-5)
    if met is not None:
        assert float(found.met_rad_s) == pytest.approx(met, abs=1e-4)


def test_in_beam_seas_heave_comes_out_and_there_is_no_pitch() -> None:
    # Constructed: 0.3 rad/s: heave 1.120.
    found = motions(BOX_TANKER, np.array(0.3), np.array(math.pi / 2), np.array(0.0), length_m=180.0)
    assert float(np.abs(found.heave)) == pytest.approx(1.120, abs=1e-3)
    assert float(np.abs(found.pitch)) == pytest.approx(0.0, abs=1e-12)


def test_in_very_long_waves_she_rides_with_the_water() -> None:
    # Constructed: at 0.1 rad/s heave 1.002 and pitch 1.003 wave slopes.
    found = motions(BOX_TANKER, np.array(0.1), np.array(math.pi), np.array(m_s_from_kn(14.0)), length_m=180.0)
    slope = float(found.wave_number_rad_m)
    assert float(np.abs(found.heave)) == pytest.approx(1.002, abs=1e-3)
    assert float(np.abs(found.pitch)) / slope == pytest.approx(1.003, abs=2e-3)


@pytest.mark.parametrize(
    ("waves_per_length", "heave", "pitch_slopes"), [(2.0, 0.661, 0.804), (1.0, 0.000, 0.334), (0.5, 0.000, 0.022)]
)
def test_the_closed_form_has_false_zeros_where_boundary_elements_have_none(
    waves_per_length: float, heave: float, pitch_slopes: float
) -> None:
    # Constructed: zero speed, head seas, the length itself. A boundary-element run of the same hull gave heave 0.751,
    # 0.205, 0.063 and pitch 0.853, 0.531, 0.053: the closed form is low, which is why the model factors stand.
    frequency = math.sqrt(2 * math.pi * GRAVITY_M_S2 / (waves_per_length * 180.0))
    found = motions(TEST_TANKER, np.array(frequency), np.array(math.pi), np.array(0.0), length_m=180.0)
    slope = float(found.wave_number_rad_m)
    assert float(np.abs(found.heave)) == pytest.approx(heave, abs=2e-3)
    assert float(np.abs(found.pitch)) / slope == pytest.approx(pitch_slopes, abs=3e-3)


@pytest.mark.parametrize(("direction_deg", "ours_deg", "elements_deg"), [(90.0, 3.37, 2.54), (135.0, 2.17, 1.91)])
def test_the_roll_estimate_comes_out_above_boundary_elements_near_resonance(
    direction_deg: float, ours_deg: float, elements_deg: float
) -> None:
    # Constructed: waves of 18.6 s, roll period 19.5 s, 5 % damping on both sides; degrees for each metre of amplitude.
    found = motions(TEST_TANKER, np.array(2 * math.pi / 18.6), np.radians(np.array(direction_deg)), np.array(0.0))
    roll_deg = math.degrees(float(found.roll))
    assert roll_deg == pytest.approx(ours_deg, abs=0.015)
    assert roll_deg > elements_deg


@pytest.mark.parametrize(
    ("height_m", "period_s", "speed_kn", "direction_deg", "in_g"),
    [
        (4.0, 10.0, 14.0, 180.0, 0.0233),
        (4.0, 10.0, 7.0, 180.0, 0.0231),
        (4.0, 10.0, 14.0, 0.0, 0.0031),
        (4.0, 12.0, 14.0, 180.0, 0.0449),
        (2.0, 8.0, 14.0, 180.0, 0.0033),
    ],
)
def test_acceleration_sixty_metres_forward_comes_out(
    height_m: float, period_s: float, speed_kn: float, direction_deg: float, in_g: float
) -> None:
    # Constructed: long-crested JONSWAP, peak factor 3.3, no model factor, the length itself. The other code's grid is
    # not told: within 3 % or a digit of the last place.
    frequency = np.linspace(0.15, 2.0, 4000)
    found = motions(
        BOX_TANKER,
        frequency,
        np.array(math.radians(direction_deg)),
        np.array(m_s_from_kn(speed_kn)),
        length_m=180.0,
    )
    size = vertical_acceleration(found, x_m=60.0, y_m=0.0)
    sea = jonswap(frequency, height_m=height_m, peak_period_s=period_s)
    rms_g = math.sqrt(moment(frequency, size**2 * sea, 0)) / GRAVITY_M_S2
    assert rms_g == pytest.approx(in_g, rel=0.03, abs=1.2e-4)
