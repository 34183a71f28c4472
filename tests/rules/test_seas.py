"""What the sea allows: rules motion and spray by the policy's wave heights.

Wind sea is set to nothing, so that the swell alone is the height. Heavy work: free to 1.5 m, eased to 2.5 m, hove to
to 3.5 m; light work: 2, 3 and 4 m.
"""

from __future__ import annotations

from typing import Any

import pytest

from scheduler.domain.restrictions import MANNED, OPEN, KeepClear, SpeedLimit
from scheduler.rules.motion import motion
from scheduler.rules.spray import spray
from tests.builders import (
    END,
    START,
    a_berth,
    a_folder,
    a_forecast,
    a_forecast_row,
    a_leg,
    an_entry,
    an_opening,
    at,
)

AT_SEA = (a_leg(may_heave_to=True),)
AT_ANCHOR = (a_leg(kind="anchorage", lies_to="wind"),)


def sea(height_m: float, effort: str = "heavy", **over: Any) -> Any:
    given: dict[str, Any] = {
        "entries": (an_entry(effort=effort),),
        "legs": AT_SEA,
        "weather": a_forecast(wave_height_m=0.0, swell_height_m=height_m),
    }
    return a_folder(**(given | over))


def said(height_m: float, effort: str = "heavy", **over: Any) -> str:
    """The one thing that the rule motion says of a week of one height."""
    found = list(motion(sea(height_m, effort, **over)))
    if not found:
        return "free"
    (only,) = found
    assert isinstance(only, KeepClear | SpeedLimit)
    assert (only.phases, only.start, only.end) == (MANNED, START, END)
    if isinstance(only, KeepClear):
        return "clear"
    return "hove to" if only.hove_to_only else f"{only.limit_kn:g} kn"


@pytest.mark.parametrize(
    ("height_m", "effort", "expected"),
    [
        (1.5, "heavy", "free"), (1.6, "heavy", "8 kn"), (2.5, "heavy", "8 kn"), (2.6, "heavy", "hove to"),
        (3.5, "heavy", "hove to"), (3.6, "heavy", "clear"), (2.0, "light", "free"), (2.1, "light", "8 kn"),
        (3.0, "light", "8 kn"), (3.1, "light", "hove to"), (4.0, "light", "hove to"), (4.1, "light", "clear"),
        (1.6, "other", "8 kn"),
    ],
)  # fmt: skip
def test_the_height_of_the_sea_decides_by_the_effort_of_the_work(height_m: float, effort: str, expected: str) -> None:
    assert said(height_m, effort) == expected


def test_wind_sea_and_swell_count_together() -> None:
    # 1.2 and 0.9 m by root of squares are 1.5 m, 1.2 and 1.0 m are 1.56 m
    assert said(0, weather=a_forecast(wave_height_m=1.2, swell_height_m=0.9)) == "free"
    assert said(0, weather=a_forecast(wave_height_m=1.2, swell_height_m=1.0)) == "8 kn"


def test_a_leg_on_which_she_may_not_heave_to_is_kept_clear() -> None:
    assert said(3.0, legs=(a_leg(may_heave_to=False),)) == "clear"


@pytest.mark.parametrize(("height_m", "expected"), [(3.5, "free"), (3.6, "clear")])
@pytest.mark.parametrize("legs", [AT_ANCHOR, (a_leg(kind="drifting"),)])
def test_lying_still_every_speed_is_met_until_the_sea_is_too_high(height_m: float, expected: str, legs: Any) -> None:
    assert said(height_m, legs=legs) == expected


def test_alongside_there_is_no_sea() -> None:
    assert said(9.0, legs=(a_berth(),)) == "free"
    assert said(9.0, legs=(a_berth(),), weather=()) == "free"


@pytest.mark.parametrize("legs", [AT_SEA, AT_ANCHOR, ()])
def test_without_a_basis_nobody_is_inside(legs: Any) -> None:
    assert said(0, legs=legs, weather=()) == "clear"


def test_hours_in_which_the_same_holds_are_said_once_with_the_heights() -> None:
    rows = (
        a_forecast_row(at(1, "00:00"), wave_height_m=0.0, swell_height_m=1.0),
        a_forecast_row(at(1, "06:00"), wave_height_m=0.0, swell_height_m=1.8),
        a_forecast_row(at(1, "12:00"), wave_height_m=0.0, swell_height_m=2.2),
        a_forecast_row(at(1, "18:00"), wave_height_m=0.0, swell_height_m=1.0),
        a_forecast_row(at(2, "00:00"), wave_height_m=0.0, swell_height_m=1.0),
    )
    limits = [each for each in motion(sea(0, weather=rows)) if isinstance(each, SpeedLimit)]
    # the worse of the rows that bracket an hour: 1.8 m from 00:00, 2.2 m from 06:00 to 18:00, then 1 m
    assert [(each.start, each.end) for each in limits] == [(START, at(1, "18:00"))]
    assert "1.8 to 2.2 m" in limits[0].because


# -- spray ------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(("height_m", "shut"), [(3.5, False), (3.6, True)])
@pytest.mark.parametrize("effort", ["light", "heavy"])
def test_weather_deck_openings_are_shut_in_a_high_sea(height_m: float, effort: str, *, shut: bool) -> None:
    found = list(spray(sea(height_m, effort)))
    assert bool(found) is shut
    assert all(isinstance(each, KeepClear) and each.phases == OPEN for each in found)


def test_no_easing_is_asked_for_fans_alone() -> None:
    assert not list(spray(sea(3.0, legs=(a_leg(may_heave_to=False),))))


def test_a_space_that_opens_under_deck_stays_open() -> None:
    openings = (an_opening("3P", "DECK"), an_opening("3P", "UNDER", on_weather_deck=False))
    assert not list(spray(sea(9.0, openings=openings)))


def test_without_a_basis_weather_deck_openings_stay_shut_at_sea() -> None:
    assert list(spray(sea(0, weather=())))
    assert not list(spray(sea(0, weather=(), legs=(a_berth(),))))
