"""Published distances from outlets, as the geometry sees them.

Sources: SOLAS II-2/4.5.3.4.1 (10 m horizontally from large-flow outlets), SOLAS II-2/11.6.2 (5 m from small-flow
outlets of ships built before 2017), IBC Code 15.12 (15 m for toxic cargoes): found in copies of the texts.
These are construction distances against ignition and no proof of clean air. The texts allow an opening at
exactly the distance; here exactly the distance still counts as within reach.
"""

from __future__ import annotations

import pytest

from scheduler.hazards.outlets import Blow, DeckPoint, blow, within_reach
from scheduler.hazards.wind import Wind

OUTLET = DeckPoint(100.0, 0.0)


@pytest.mark.parametrize("reach_m", [5.0, 10.0, 15.0])
def test_an_opening_under_the_published_distance_is_within_reach_whatever_the_wind(reach_m: float) -> None:
    upwind = DeckPoint(100.0 + reach_m - 0.1, 0.0)
    assert (
        blow(
            outlet=OUTLET,
            opening=upwind,
            wind_over_deck=Wind(8.0, 0.0),
            half_angle_deg=60.0,
            reach_m=reach_m,
            calm_m_s=3.0,
        )
        is Blow.WITHIN_REACH
    )


@pytest.mark.parametrize("reach_m", [5.0, 10.0, 15.0])
def test_an_upwind_opening_over_the_published_distance_is_clear(reach_m: float) -> None:
    upwind = DeckPoint(100.0 + reach_m + 0.1, 0.0)
    verdict = blow(
        outlet=OUTLET,
        opening=upwind,
        wind_over_deck=Wind(8.0, 0.0),
        half_angle_deg=60.0,
        reach_m=reach_m,
        calm_m_s=3.0,
    )
    assert verdict is Blow.CLEAR


def test_the_distance_is_horizontal_over_the_diagonal() -> None:
    # 6 m forward and 8 m to port are 10 m.
    assert within_reach(OUTLET, DeckPoint(106.0, 8.0), 10.0)
    assert not within_reach(OUTLET, DeckPoint(106.0, 8.1), 10.0)
