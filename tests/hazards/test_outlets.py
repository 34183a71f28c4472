"""Outlets and openings on deck: x forward, y to port."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from scheduler.hazards.outlets import Blow, DeckPoint, bearing_from_bow_deg, blow, in_sector, within_reach
from scheduler.hazards.wind import Wind

RISER = DeckPoint(100.0, 4.0)
PLACES = st.builds(DeckPoint, st.floats(0.0, 200.0), st.floats(-16.0, 16.0))
WINDS = st.builds(Wind, st.floats(0.0, 20.0), st.floats(0.0, 359.9))


def blow_on(
    opening: DeckPoint | None,
    wind: Wind | None,
    *,
    outlet: DeckPoint | None = RISER,
    half_angle_deg: float = 60.0,
    reach_m: float = 10.0,
) -> Blow:
    return blow(
        outlet=outlet,
        opening=opening,
        wind_over_deck=wind,
        half_angle_deg=half_angle_deg,
        reach_m=reach_m,
        calm_m_s=3.0,
    )


@pytest.mark.parametrize(
    ("opening", "bearing_deg"),
    [
        (DeckPoint(120.0, 4.0), 0.0),  # ahead
        (DeckPoint(100.0, -16.0), 90.0),  # to starboard
        (DeckPoint(80.0, 4.0), 180.0),  # aft
        (DeckPoint(100.0, 16.0), 270.0),  # to port
        (DeckPoint(110.0, -6.0), 45.0),
    ],
)
def test_bearings_go_clockwise_from_the_bow(opening: DeckPoint, bearing_deg: float) -> None:
    assert bearing_from_bow_deg(RISER, opening) == pytest.approx(bearing_deg)


def test_wind_on_the_port_beam_blows_to_starboard() -> None:
    # From 270 it blows to 90; 20 m to starboard is downwind and 12 m to port is clear.
    wind = Wind(8.0, 270.0)
    assert blow_on(DeckPoint(100.0, -16.0), wind) is Blow.DOWNWIND
    assert blow_on(DeckPoint(100.0, 16.0), wind) is Blow.CLEAR


def test_downwind_on_the_cargo_deck_there_is_no_limit_of_distance() -> None:
    assert blow_on(DeckPoint(0.0, 4.0), Wind(8.0, 0.0), outlet=DeckPoint(250.0, 4.0)) is Blow.DOWNWIND


def test_the_edge_of_the_sector_counts_as_inside() -> None:
    assert in_sector(240.0, 180.0, 60.0)
    assert not in_sector(240.1, 180.0, 60.0)


def test_the_sector_reaches_over_the_bow() -> None:
    # Blowing to 350° with ±60°: 290° over 0° to 50°.
    assert in_sector(45.0, 350.0, 60.0)
    assert not in_sector(55.0, 350.0, 60.0)


def test_exactly_at_the_reach_is_within_it() -> None:
    assert blow_on(DeckPoint(110.0, 4.0), Wind(8.0, 0.0)) is Blow.WITHIN_REACH
    assert blow_on(DeckPoint(110.01, 4.0), Wind(8.0, 0.0)) is Blow.CLEAR


def test_calm_takes_the_whole_deck_and_just_three_metres_a_second_is_no_calm() -> None:
    upwind = DeckPoint(150.0, 4.0)
    assert blow_on(upwind, Wind(2.99, 0.0)) is Blow.CALM
    assert blow_on(upwind, Wind(3.0, 0.0)) is Blow.CLEAR


def test_a_wind_without_direction_is_as_calm() -> None:
    assert blow_on(DeckPoint(150.0, 4.0), Wind(5.0, None)) is Blow.CALM


def test_what_is_not_known_blocks() -> None:
    assert blow_on(DeckPoint(150.0, 4.0), None) is Blow.UNKNOWN
    assert blow_on(None, Wind(8.0, 0.0)) is Blow.UNKNOWN
    assert blow_on(DeckPoint(150.0, 4.0), Wind(8.0, 0.0), outlet=None) is Blow.UNKNOWN
    assert within_reach(None, RISER, 5.0) and within_reach(RISER, None, 5.0)


def test_only_clear_does_not_block() -> None:
    assert [verdict.value for verdict in Blow if not verdict.blocks] == ["clear"]


@given(PLACES, PLACES, WINDS)
def test_the_deck_mirrored_port_to_starboard_gives_the_mirrored_answer(
    outlet: DeckPoint, opening: DeckPoint, wind: Wind
) -> None:
    one = blow_on(opening, wind, outlet=outlet)
    other = blow_on(
        DeckPoint(opening.x_m, -opening.y_m),
        Wind(wind.speed_m_s, -(wind.from_deg or 0.0)),
        outlet=DeckPoint(outlet.x_m, -outlet.y_m),
    )
    assert one is other


@given(PLACES, PLACES, WINDS, st.floats(0.0, 180.0), st.floats(0.0, 180.0), st.floats(0.0, 30.0), st.floats(0.0, 30.0))
def test_a_wider_sector_or_a_longer_reach_never_frees_an_opening(
    outlet: DeckPoint, opening: DeckPoint, wind: Wind, one_deg: float, two_deg: float, one_m: float, two_m: float
) -> None:
    narrow = blow_on(opening, wind, outlet=outlet, half_angle_deg=min(one_deg, two_deg), reach_m=min(one_m, two_m))
    wide = blow_on(opening, wind, outlet=outlet, half_angle_deg=max(one_deg, two_deg), reach_m=max(one_m, two_m))
    assert wide.blocks or not narrow.blocks


@given(PLACES, PLACES, WINDS)
def test_a_half_angle_of_180_degrees_is_the_whole_deck(outlet: DeckPoint, opening: DeckPoint, wind: Wind) -> None:
    assert blow_on(opening, wind, outlet=outlet, half_angle_deg=180.0).blocks


def test_a_half_angle_beyond_the_circle_is_refused() -> None:
    with pytest.raises(ValueError, match="half_angle_deg: 181"):
        blow_on(DeckPoint(150.0, 4.0), Wind(8.0, 0.0), half_angle_deg=181.0)
