"""Where vapour may blow, and when.

The default ship steams north into the wind; her outlet is at x 110 m, on the centre line, her openings where a test
says. What an opening lies abaft of blows on it, what it lies ahead of does not.
"""

from __future__ import annotations

import math
from datetime import timedelta
from typing import Any

import pytest

from scheduler.domain.restrictions import OPEN, KeepApart, KeepClear
from scheduler.domain.ship import OutletTank
from scheduler.domain.weather import ForecastRow
from scheduler.rules.deck_air import Sector, joined_sectors
from scheduler.rules.vapour import vapour
from tests.builders import (
    DAYS,
    START,
    a_berth,
    a_cargo,
    a_folder,
    a_forecast,
    a_forecast_row,
    a_leg,
    a_space,
    an_entry,
    an_opening,
    an_operation,
    an_outlet,
    at,
    content,
    policy,
    spaces,
    touching,
)

MINUTE = timedelta(minutes=1)
END = START + timedelta(days=DAYS)


def blowing(x_m: float | None = 60.0, y_m: float | None = 0.0, *, on_deck: bool = True, **over: Any) -> list[Any]:
    """What the rule says of 3P with one opening there, while C3 is gas-freed on Tuesday from 10 to 12; no breathing."""
    return [each for each in all_said(x_m, y_m, on_deck=on_deck, **over) if not each.because.startswith("By day")]


def all_said(x_m: float | None, y_m: float | None, *, on_deck: bool = True, **over: Any) -> list[Any]:
    """The same with the breathing of tanks."""
    given: dict[str, Any] = {
        "openings": (an_opening("3P", x_m=x_m, y_m=y_m, on_weather_deck=on_deck),),
        "operations": (an_operation(kind="gas-free", spaces=("C3",), cargo="OIL"),),
        "cargoes": (a_cargo(),),
        "contents": tuple(content(each.space) for each in spaces()),
    }
    return list(vapour(a_folder(**(given | over))))


def times(found: list[Any]) -> list[tuple[Any, Any]]:
    return [(each.start, each.end) for each in found]


# -- distance ---------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(("metres", "blocked"), [(9.0, True), (10.0, True), (11.0, False)])
def test_within_ten_metres_an_outlet_blows_in_any_direction(metres: float, *, blocked: bool) -> None:
    # ahead of the outlet, so that the wind carries it away from the opening
    assert bool(blowing(110.0 + metres)) is blocked


@pytest.mark.parametrize(("metres", "blocked"), [(14.0, True), (15.0, True), (16.0, False)])
def test_a_toxic_cargo_is_kept_fifteen_metres_off(metres: float, *, blocked: bool) -> None:
    assert bool(blowing(110.0 + metres, cargoes=(a_cargo(toxic=True),))) is blocked


@pytest.mark.parametrize("cargoes", [(), (a_cargo(toxic=None),)])
def test_a_cargo_of_which_nothing_is_known_counts_as_toxic(cargoes: Any) -> None:
    assert blowing(122.0, cargoes=cargoes)


def test_what_was_in_the_tank_before_counts_too() -> None:
    contents = (content("3P"), content("C3", "empty with vapour", "BAD"))
    cargoes = (a_cargo(), a_cargo("BAD", toxic=True))
    assert blowing(122.0, contents=contents, cargoes=cargoes, legs=(a_berth(),))


@pytest.mark.parametrize(
    "over",
    [
        {"outlets": (an_outlet(x_m=None),)},
        {"outlet_tanks": ()},
        {"openings": ()},
        {"operations": (an_operation(kind="gas-free", cargo="OIL"),)},
    ],
)
def test_whatever_place_is_not_known_the_vapour_is_there(over: dict[str, Any]) -> None:
    assert blowing(200.0, **over)


def test_the_time_kept_clear_is_the_operation_and_half_an_hour_after() -> None:
    (found,) = blowing(110.0)
    assert isinstance(found, KeepClear)
    assert found.phases == OPEN
    assert (found.start, found.end) == (at(2, "10:00"), at(2, "12:30"))
    assert "0.0 m" in found.because


# -- wind -------------------------------------------------------------------------------------------------------


def seen(bearing_deg: float, metres: float = 40.0) -> tuple[float, float]:
    """A place that bears so from the outlet, clockwise from the bow; y counts to port."""
    angle = math.radians(bearing_deg)
    return 110.0 + metres * math.cos(angle), -metres * math.sin(angle)


@pytest.mark.parametrize(("bearing", "blocked"), [(119.0, False), (120.0, True), (121.0, True), (241.0, False)])
def test_the_sector_is_sixty_degrees_to_either_side_of_downwind(bearing: float, *, blocked: bool) -> None:
    # wind from ahead blows to 180°: 120° to 240° are inside, the edges with them
    assert bool(blowing(*seen(bearing))) is blocked


@pytest.mark.parametrize(("bearing", "blocked"), [(269.0, False), (271.0, True), (89.0, True), (91.0, False)])
def test_with_the_wind_abaft_the_beam_the_sector_is_ninety_degrees(bearing: float, *, blocked: bool) -> None:
    # 60 kn from astern: at any speed over the deck it is still over 9 m/s and blows to the bow
    weather = a_forecast(wind_kn=60.0, wind_from_deg=180.0, gust_kn=61.0)
    assert bool(blowing(*seen(bearing), weather=weather)) is blocked


def test_at_a_berth_the_sector_stays_sixty_degrees() -> None:
    # the same wind from astern: 70° off the bow is inside 90° but not inside 60°
    weather = a_forecast(wind_kn=60.0, wind_from_deg=180.0, gust_kn=61.0)
    assert blowing(*seen(70.0), weather=weather)
    assert not blowing(*seen(70.0), weather=weather, legs=(a_berth(),))


def test_at_anchor_to_the_wind_the_sector_is_ninety_degrees() -> None:
    # the wind comes from ahead and blows to 180°: 100° is 80° off
    leg = a_leg(kind="anchorage", place="Wender Roads", lies_to="wind", speed_kn=None)
    assert blowing(*seen(100.0), legs=(leg,))
    assert not blowing(*seen(100.0), legs=(a_berth(),))


def test_sectors_that_overlap_are_joined_over_the_bow() -> None:
    # 340° ± 30°, 20° ± 30° and 60° ± 30° reach from 310° to 90°: 140° wide, its middle at 20°
    found = joined_sectors([Sector(340.0, 30.0), Sector(20.0, 30.0), Sector(60.0, 30.0)])
    assert found == (Sector(20.0, 70.0),)


def test_sectors_all_round_are_the_whole_circle() -> None:
    (found,) = joined_sectors([Sector(float(to), 60.0) for to in range(0, 360, 90)])
    assert found.half_deg == 180.0


def test_sectors_apart_stay_apart() -> None:
    assert len(joined_sectors([Sector(0.0, 20.0), Sector(180.0, 20.0)])) == 2


def test_only_openings_on_the_weather_deck_lie_downwind() -> None:
    assert blowing(60.0)
    assert not blowing(60.0, on_deck=False)


def alongside(wind_kn: float, wind_from_deg: float = 0.0, **over: Any) -> list[Any]:
    """The same at a berth, the opening ahead of the outlet: clear of a wind from ahead that is strong enough."""
    weather = a_forecast(wind_kn=wind_kn, wind_from_deg=wind_from_deg, gust_kn=None)
    return blowing(150.0, legs=(a_berth(),), **({"weather": weather} | over))


@pytest.mark.parametrize(("wind_kn", "blocked"), [(5.83, True), (5.84, False)])
def test_under_three_metres_a_second_the_whole_deck_counts(wind_kn: float, *, blocked: bool) -> None:
    # 3 m/s are 3 × 3600 / 1852 = 5.832 kn
    assert bool(alongside(wind_kn)) is blocked


@pytest.mark.parametrize(("wind_kn", "blocked"), [(17.49, True), (17.50, False)])
def test_with_the_wind_from_astern_calm_begins_at_nine_metres_a_second(wind_kn: float, *, blocked: bool) -> None:
    # 9 m/s are 17.495 kn; the wind blows to the bow, and an opening right astern of the outlet is clear of it
    weather = a_forecast(wind_kn=wind_kn, wind_from_deg=180.0, gust_kn=None)
    assert bool(blowing(60.0, legs=(a_berth(),), weather=weather)) is blocked


@pytest.mark.parametrize(("gust_kn", "blocked"), [(19.9, False), (20.0, True), (None, False)])
def test_gusts_of_twice_the_wind_leave_its_direction_open(gust_kn: float | None, *, blocked: bool) -> None:
    weather = a_forecast(wind_kn=10.0, gust_kn=gust_kn)
    assert bool(alongside(10.0, weather=weather)) is blocked


@pytest.mark.parametrize("weather", [(), a_forecast(wind_kn=None), a_forecast(wind_from_deg=None), a_forecast(days=1)])
def test_without_a_wind_the_whole_deck_counts(weather: Any) -> None:
    (found,) = alongside(10.0, weather=weather)
    assert "whole cargo deck" in found.because


def test_under_way_every_speed_counts_so_that_easing_cannot_make_a_calm() -> None:
    # 20 kn from 60° off the bow never falls under 3 m/s; 12 kn from right astern does at 12 kn
    assert not blowing(150.0, weather=a_forecast(wind_kn=20.0, wind_from_deg=60.0, gust_kn=None))
    assert blowing(150.0, weather=a_forecast(wind_kn=12.0, wind_from_deg=180.0, gust_kn=None))


def test_a_wind_that_only_her_own_way_makes_is_a_calm_when_she_stops() -> None:
    # 5 kn from ahead are 2.6 m/s: at 12 kn the deck feels 8.7 m/s, stopped it is calm
    assert blowing(150.0, weather=a_forecast(wind_kn=5.0, gust_kn=None))


@pytest.mark.parametrize(("bearing", "blocked"), [(155.0, False), (157.0, True)])
def test_the_greatest_speed_counts_as_well_as_the_planned_one(bearing: float, *, blocked: bool) -> None:
    # 20 kn from 60° with 14 kn ahead come from atan(17.32 / 24) = 35.8° and blow to 215.8°: from 155.8° on downwind;
    # with the planned 12 kn from atan(17.32 / 22) = 38.2°, from 158.2° on
    weather = a_forecast(wind_kn=20.0, wind_from_deg=60.0, gust_kn=None)
    assert bool(blowing(*seen(bearing), weather=weather)) is blocked


def test_an_opening_without_a_place_counts_whatever_its_space() -> None:
    openings = (an_opening("3P"), an_opening("AV", x_m=None))
    assert blowing(openings=openings, entries=(an_entry(tank="AV"),))


def abaft(x_m: float, area: str, house_m: float | None) -> list[Any]:
    """An opening of a void of an area, in a calm; the cargo area's aftmost opening is at 60 m, a cabin somewhere."""
    house = a_space("CABIN", kind="other", area="accommodation", x_m=house_m)
    return blowing(
        spaces=(a_space("3P"), a_space("C3", kind="cargo tank"), a_space("AV", kind="void", area=area), house),
        openings=(an_opening("3P", x_m=60.0), an_opening("AV", x_m=x_m, y_m=9.0)),
        entries=(an_entry(tank="AV"),),
        weather=a_forecast(wind_kn=2.0, gust_kn=None),
    )


@pytest.mark.parametrize(
    ("x_m", "area", "house_m", "blocked"),
    [
        (59.0, "other", 70.0, False), (60.0, "other", 70.0, True), (59.0, "other", 59.0, False),
        (59.0, "other", 58.0, True), (59.0, "other", None, True), (59.0, "machinery", None, False),
        (59.0, "forward", 70.0, True),
    ],
)  # fmt: skip
def test_only_what_is_known_to_be_abaft_the_cargo_deck_is_off_it(
    x_m: float, area: str, house_m: float | None, *, blocked: bool
) -> None:
    assert bool(abaft(x_m, area, house_m)) is blocked


def test_hove_to_counts_as_a_heading_of_its_own() -> None:
    # under way the wind from ahead clears an opening ahead; hove to into a swell from astern it lies downwind
    weather = a_forecast(wind_kn=30.0, gust_kn=None, swell_height_m=3.0, swell_from_deg=180.0)
    assert blowing(150.0, weather=weather)


def at_anchor(lies_to: str, x_m: float, wind_kn: float = 12.0) -> list[Any]:
    leg = a_leg(kind="anchorage", place="Wender Roads", lies_to=lies_to, speed_kn=None)
    return blowing(x_m, legs=(leg,), weather=a_forecast(wind_kn=wind_kn, wind_from_deg=200.0, gust_kn=None))


@pytest.mark.parametrize(("lies_to", "ahead", "astern"), [
    ("wind", False, True), ("tide", True, True), ("unknown", True, True), ("200", False, True), ("300", True, True),
])  # fmt: skip
def test_at_anchor_the_way_she_lies_decides(lies_to: str, *, ahead: bool, astern: bool) -> None:
    # lying to 300° the wind of 200° comes from 100° to port, abaft the beam, with 6 m/s: the whole deck
    assert (bool(at_anchor(lies_to, 150.0)), bool(at_anchor(lies_to, 60.0))) == (ahead, astern)


def test_drifting_the_whole_deck_counts() -> None:
    assert blowing(150.0, legs=(a_leg(kind="drifting"),))


def turning() -> tuple[ForecastRow, ...]:
    """30 kn from ahead until Tuesday 09:00, from 10:00 on from the beam; a row each hour."""
    return tuple(
        a_forecast_row(START + timedelta(hours=h), wind_from_deg=0.0 if h < 34 else 90.0, wind_kn=30.0, gust_kn=None)
        for h in range(24 * DAYS + 1)
    )


def test_each_hour_is_judged_by_its_own_wind_and_like_hours_are_said_once() -> None:
    operation = an_operation(kind="gas-free", spaces=("C3",), cargo="OIL", start=at(2, "06:00"), end=at(2, "14:00"))
    found = blowing(60.0, legs=(a_berth(),), weather=turning(), operations=(operation,))
    # from ahead until 09:00 of Tuesday (hour 33); the hour from 09:00 has a row of each, the worse holds;
    # from 10:00 the wind is on the beam and blows to port, 90° off the opening right astern
    assert times(found) == [(at(2, "06:00"), at(2, "10:30"))]


# -- which operations -------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("kind", "told", "blocked"),
    [
        ("load", None, True), ("load", "return line", False), ("load", "none", False), ("discharge", None, False),
        ("discharge", "to outlets", True), ("gauging", None, True), ("tank wash", None, True), ("purge", None, True),
        ("vent down", None, True), ("line blow", None, True), ("stores", None, False), ("ballast in", None, False),
    ],
)  # fmt: skip
def test_a_blank_counts_as_to_outlets_where_gas_is_pushed_out(kind: str, told: str | None, *, blocked: bool) -> None:
    operation = an_operation(kind=kind, spaces=("C3",), cargo="OIL", vapour=told)
    found = [
        each for each in blowing(110.0, operations=(operation,), legs=(a_berth(),)) if each.start == at(2, "10:00")
    ]
    assert bool(found) is blocked


def test_ballast_into_a_tank_that_was_not_cleaned_pushes_vapour_out() -> None:
    operation = an_operation(kind="ballast in", spaces=("C3",))
    contents = (content("3P"), content("C3", "empty with vapour", "OIL"))
    assert blowing(110.0, operations=(operation,), contents=contents, legs=(a_berth(),))


def test_a_movable_operation_is_kept_apart_hour_by_hour() -> None:
    operation = an_operation(kind="gas-free", spaces=("C3",), cargo="OIL", hours=4.0)
    found = blowing(60.0, legs=(a_berth(),), weather=turning(), operations=(operation,))
    first = found[0]
    assert isinstance(first, KeepApart)
    assert first.end == at(2, "10:00")
    assert first.gap_after_min == 30


def test_what_came_out_just_before_the_wind_turns_still_counts() -> None:
    # the first hour with the beam wind is that from 09:00; 08:30 to 08:50 is within half an hour of it
    operation = an_operation(kind="gas-free", spaces=("C3",), cargo="OIL", start=at(2, "06:00"), end=at(2, "08:50"))
    found = blowing(*seen(270.0), legs=(a_berth(),), weather=turning(), operations=(operation,))
    assert times(found) == [(at(2, "08:30"), at(2, "09:20"))]


def test_vapour_let_out_before_the_week_still_counts() -> None:
    operation = an_operation(kind="gas-free", spaces=("C3",), cargo="OIL", start=at(0, "20:00"), end=at(0, "23:50"))
    assert times(blowing(110.0, operations=(operation,))) == [(START, START + 20 * MINUTE)]


# -- breathing --------------------------------------------------------------------------------------------------


def breathing(metres: float, state: str = "cargo", cargo: str | None = "OIL", **over: Any) -> list[Any]:
    """3P so far ahead of the outlet of C3, which holds something; nothing is being done."""
    contents = (content("3P"), content("C3", state, cargo))
    return all_said(110.0 + metres, 0.0, operations=(), contents=contents, **over)


@pytest.mark.parametrize(("metres", "blocked"), [(4.0, True), (5.0, True), (6.0, False)])
def test_a_loaded_tank_breathes_five_metres_around(metres: float, *, blocked: bool) -> None:
    assert bool(breathing(metres)) is blocked


def test_it_breathes_from_nine_to_eighteen_of_ships_time() -> None:
    first = breathing(3.0)[0]
    assert (first.start, first.end) == (at(1, "09:00"), at(1, "18:00"))
    assert len(breathing(3.0)) == DAYS


@pytest.mark.parametrize(("state", "blocked"), [
    ("cargo", True), ("empty with vapour", True), ("inerted", True), ("gas-free", False), ("residue", False),
])  # fmt: skip
def test_only_cargo_vapour_and_inert_gas_breathe(state: str, *, blocked: bool) -> None:
    assert bool(breathing(3.0, state)) is blocked


def test_alongside_nothing_breathes() -> None:
    assert not breathing(3.0, legs=(a_berth(),))


def test_a_solid_cargo_gives_off_nothing() -> None:
    assert not breathing(3.0, cargoes=(a_cargo(kind="solid"),))


def test_an_outlet_of_large_flow_only_does_not_breathe_where_another_does() -> None:
    outlets = (an_outlet("OV", small_flow=False), an_outlet("PV", x_m=20.0))
    tanks = (OutletTank(outlet="OV", space="C3"), OutletTank(outlet="PV", space="C3"))
    assert not breathing(3.0, outlets=outlets, outlet_tanks=tanks)


def test_toxic_breathing_counts_as_a_large_flow() -> None:
    # fifteen metres in any direction, and downwind however far
    assert breathing(15.0, cargoes=(a_cargo(toxic=True),))
    assert breathing(-80.0, cargoes=(a_cargo(toxic=True),))
    assert not breathing(16.0, cargoes=(a_cargo(toxic=True),))


def test_toxic_vapour_lies_on_deck_for_half_an_hour_more() -> None:
    first = breathing(3.0, cargoes=(a_cargo(toxic=True),))[0]
    assert (first.start, first.end) == (at(1, "09:00"), at(1, "18:30"))


def test_a_tank_does_not_breathe_on_its_own_entry() -> None:
    entries = (an_entry(tank="C3"),)
    contents = (content("3P"), content("C3", "empty with vapour", "OIL"))
    openings = (an_opening("C3", x_m=113.0),)
    assert not all_said(113.0, 0.0, operations=(), contents=contents, entries=entries, openings=openings)


def test_a_tank_stops_breathing_when_it_is_gas_free() -> None:
    done = an_operation("GF", "gas-free", spaces=("C3",), vapour="none", start=at(3, "02:00"), end=at(3, "06:00"))
    wash = an_operation("TW", "tank wash", spaces=("C3",), vapour="none", start=at(2, "20:00"), end=at(2, "23:00"))
    contents = (content("3P"), content("C3", "empty with vapour", "OIL"))
    found = all_said(113.0, 0.0, operations=(wash, done), contents=contents)
    assert times(found) == [(at(day, "09:00"), at(day, "18:00")) for day in (1, 2)]


# -- the fans of other entries ----------------------------------------------------------------------------------


def two_entries(metres: float, *, kind: str = "ballast tank", state: str = "clean and empty", **over: Any) -> list[Any]:
    """3P and T open together, T so far ahead of 3P; T is of a kind and in a state."""
    given: dict[str, Any] = {
        "spaces": (a_space("3P"), a_space("T", kind=kind)),
        "openings": (an_opening("3P", x_m=60.0), an_opening("T", x_m=60.0 + metres)),
        "neighbours": touching("3P T"),
        "contents": (content("3P"), content("T", state, "OIL" if state == "gas-free" else None)),
        "cargoes": (a_cargo(),),
        "outlets": (),
        "outlet_tanks": (),
        "entries": (an_entry("E1", "3P"), an_entry("E2", "T")),
    }
    return list(vapour(a_folder(**(given | over))))


@pytest.mark.parametrize(("metres", "apart"), [(2.0, 2), (3.0, 2), (4.0, 0)])
def test_clean_air_is_kept_three_metres_off_in_both_directions(metres: float, apart: int) -> None:
    found = two_entries(metres)
    assert len(found) == apart
    assert all(isinstance(each, KeepApart) and each.other_phases == OPEN for each in found)


@pytest.mark.parametrize(("metres", "apart"), [(9.0, True), (10.0, True), (11.0, False)])
def test_air_out_of_a_cargo_tank_is_a_large_flow(metres: float, *, apart: bool) -> None:
    # T astern of 3P, so that the wind carries its air away
    found = [each for each in two_entries(-metres, kind="cargo tank", state="gas-free") if each.other == "E2"]
    assert bool(found) is apart


def test_air_out_of_a_cargo_tank_blows_on_what_lies_downwind() -> None:
    (found,) = two_entries(40.0, kind="cargo tank", state="gas-free")
    assert (found.entry, found.other, found.end) == ("E1", "E2", END)
    assert found.gap_after_min == 30


def test_air_out_of_a_space_that_is_coated_is_foul() -> None:
    assert not two_entries(40.0)
    (found,) = two_entries(40.0, entries=(an_entry("E1", "3P"), an_entry("E2", "T", work="coat")))
    assert found.other == "E2"


def test_air_out_of_a_pump_room_is_foul() -> None:
    (found,) = two_entries(40.0, kind="pump room")
    assert found.other == "E2"


def test_entries_that_cannot_be_open_together_are_not_kept_apart() -> None:
    entries = (an_entry("E1", "3P", due=at(1, "12:00")), an_entry("E2", "T", earliest=at(6, "12:00")))
    assert not two_entries(40.0, kind="cargo tank", state="gas-free", entries=entries)


# -- policy -----------------------------------------------------------------------------------------------------


def test_the_company_may_ask_for_more_room() -> None:
    assert blowing(125.0, policy=policy(vapour__reach_m=20.0))
