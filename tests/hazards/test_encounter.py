"""Meeting the waves: what is flagged and what is not."""

from __future__ import annotations

import pytest

from scheduler.hazards.encounter import Danger, dangers, surf_riding_from_m_s


def flagged(
    *, roll_period_s: float = 20.0, height_m: float = 2.0, wave_s: float = 9.0, speed_m_s: float, angle_deg: float
) -> tuple[Danger, ...]:
    return dangers(
        length_m=100.0,
        roll_period_s=roll_period_s,
        height_m=height_m,
        wave_period_s=wave_s,
        speed_m_s=speed_m_s,
        angle_deg=angle_deg,
    )


def test_nothing_is_flagged_in_an_easy_sea() -> None:
    # Met at 9·9·3/(27 + 9.7·cos 60°) = 7.6 s: neither 20 s nor 10 s.
    assert flagged(speed_m_s=5.0, angle_deg=60.0) == ()


def test_a_fast_short_ship_before_the_sea_may_surf_ride() -> None:
    # 1.8·√100 = 18 kn = 9.26 m/s.
    assert Danger.SURF_RIDING in flagged(speed_m_s=9.3, angle_deg=180.0)
    assert Danger.SURF_RIDING not in flagged(speed_m_s=9.2, angle_deg=180.0)


@pytest.mark.parametrize(
    ("angle_deg", "may"), [(134.0, False), (135.0, True), (225.0, True), (226.0, False), (-180.0, True)]
)
def test_surf_riding_needs_the_sea_from_astern(angle_deg: float, may: bool) -> None:
    assert (surf_riding_from_m_s(100.0, angle_deg) is not None) is may


def test_long_high_waves_met_slowly_from_astern_come_in_groups() -> None:
    # Waves of 9 s are 126 m long, over 0.8·100; 4.1 m is over 0.04·100; at 12.5 kn from astern met at
    # 243/(27 − 12.5) = 16.8 s, 1.86 wave periods.
    assert Danger.HIGH_WAVES_IN_GROUPS in flagged(height_m=4.1, speed_m_s=6.43, angle_deg=180.0)
    assert Danger.HIGH_WAVES_IN_GROUPS not in flagged(height_m=4.0, speed_m_s=6.43, angle_deg=180.0)


def test_a_period_of_encounter_near_the_roll_period_or_half_of_it_is_flagged() -> None:
    # At rest she meets 9 s waves at 9 s.
    assert flagged(roll_period_s=10.0, speed_m_s=0.0, angle_deg=90.0) == (Danger.SYNCHRONOUS_ROLL,)
    assert flagged(roll_period_s=17.0, speed_m_s=0.0, angle_deg=90.0) == (Danger.PARAMETRIC_ROLL,)


def test_riding_with_the_waves_flags_no_roll() -> None:
    assert (
        dangers(
            length_m=300.0,
            roll_period_s=6.0,
            height_m=1.0,
            wave_period_s=6.0,
            speed_m_s=18 * 1852 / 3600,
            angle_deg=180.0,
        )
        == ()
    )
