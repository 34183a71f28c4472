"""Records for tests: sound defaults, keyword overrides. Ship, people and places are invented.

The default folder is a quiet Monday to Sunday at sea: the *Teal Marsh* steams north at 12 kn into 16 kn of wind and
half a metre of sea, ship's time is UTC, everything is clean and empty and nothing else goes on. What a test is about
it says itself.
"""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta
from typing import Any

from scheduler.domain.crew import Duty, Person, Visitor
from scheduler.domain.entries import Entry
from scheduler.domain.folder import VoyageFolder
from scheduler.domain.operations import Cargo, Condition, Content, Operation
from scheduler.domain.policy import Policy, Value
from scheduler.domain.ship import Contact, Gear, Opening, Outlet, OutletTank, Pipe, Ship, Space
from scheduler.domain.voyage import ClockStep, Leg, Permission, PlaceRules, Week
from scheduler.domain.weather import ForecastRow

START = datetime(2027, 3, 8, tzinfo=UTC)  # a Monday
DAYS = 7
END = START + timedelta(days=DAYS)


def at(day: int, clock: str) -> datetime:
    """`hh:mm` UTC of a day of the week, 1 the Monday, 0 the Sunday before."""
    hour, minute = clock.split(":")
    return START + timedelta(days=day - 1, hours=int(hour), minutes=int(minute))


def a_ship(**over: Any) -> Ship:
    """A tanker of 120 m."""
    given: dict[str, Any] = {
        "name": "Teal Marsh",
        "kind": "tanker",
        "length_m": 120.0,
        "beam_m": 20.0,
        "service_speed_kn": 12.0,
        "greatest_speed_kn": 14.0,
        "least_speed_kn": 4.0,
        "hove_to_speed_kn": 2.0,
    }
    return Ship(**(given | over))


def a_space(space: str = "3P", **over: Any) -> Space:
    """A ballast tank beside the cargo tanks; everything about it is known."""
    given: dict[str, Any] = {
        "space": space,
        "name": f"No. {space} tank",
        "kind": "ballast tank",
        "area": "cargo",
        "in_charge": "deck",
        "volume_m3": 900.0,
        "depth_m": 10.0,
        "framing": "moderate",
        "reach": "hose",
        "air_reaches_bottom": True,
    }
    return Space(**(given | over))


def an_opening(space: str = "3P", name: str = "", **over: Any) -> Opening:
    """A manhole on the weather deck, on the centre line 60 m from aft."""
    given: dict[str, Any] = {
        "opening": name or f"MH-{space}",
        "space": space,
        "kind": "manhole",
        "x_m": 60.0,
        "y_m": 0.0,
        "z_m": 12.0,
        "on_weather_deck": True,
        "clear_mm": 600.0,
        "lifting": "tripod",
    }
    return Opening(**(given | over))


def an_outlet(outlet: str = "OV", **over: Any) -> Outlet:
    """An outlet 50 m forward of the default manhole."""
    given: dict[str, Any] = {
        "outlet": outlet,
        "kind": "high velocity",
        "x_m": 110.0,
        "y_m": 0.0,
        "z_m": 14.0,
        "small_flow": True,
    }
    return Outlet(**(given | over))


def a_leg(leg: str = "L1", **over: Any) -> Leg:
    """The whole week on passage north at 12 kn; one minute of latitude is about one mile."""
    given: dict[str, Any] = {
        "leg": leg,
        "kind": "passage",
        "place": "open sea",
        "start": START,
        "end": START + timedelta(days=DAYS),
        "from_lat": -20.0,
        "from_lon": -30.0,
        "to_lat": 14.0,
        "to_lon": -30.0,
        "speed_kn": 12.0,
    }
    return Leg(**(given | over))


def a_berth(leg: str = "B1", **over: Any) -> Leg:
    """The whole week alongside, heading north."""
    given: dict[str, Any] = {
        "kind": "berth",
        "place": "Wender Quay",
        "to_lat": -20.0,
        "to_lon": -30.0,
        "speed_kn": None,
        "heading_deg": 0.0,
    }
    return a_leg(leg, **(given | over))


def a_forecast_row(time: datetime = START, **over: Any) -> ForecastRow:
    """16 kn from the north, half a metre of sea and of swell from there."""
    given: dict[str, Any] = {
        "issued": START - timedelta(hours=6),
        "time": time,
        "wind_kn": 16.0,
        "wind_from_deg": 0.0,
        "gust_kn": 20.0,
        "wave_height_m": 0.5,
        "wave_period_s": 5.0,
        "wave_from_deg": 0.0,
        "swell_height_m": 0.5,
        "swell_period_s": 9.0,
        "swell_from_deg": 0.0,
        "air_c": 20.0,
    }
    return ForecastRow(**(given | over))


def a_forecast(*, days: int = DAYS, every_h: int = 3, **over: Any) -> tuple[ForecastRow, ...]:
    """The same weather from the week's start to its end, a row every three hours."""
    return tuple(a_forecast_row(START + timedelta(hours=hour), **over) for hour in range(0, days * 24 + 1, every_h))


def an_entry(entry: str = "E1", tank: str = "3P", **over: Any) -> Entry:
    """Two hours inside for two people, light work, a 'should'."""
    given: dict[str, Any] = {
        "entry": entry,
        "space": tank,
        "purpose": "look at the frames",
        "work": "inspect",
        "hours": 2.0,
        "entrants": 2,
        "effort": "light",
        "priority": 2,
    }
    return Entry(**(given | over))


def an_operation(operation: str = "OP1", kind: str = "other", **over: Any) -> Operation:
    """An operation on Tuesday from 10 to 12 UTC; with `earliest` or `hours` given, one that may move."""
    if "earliest" in over or "hours" in over:
        given: dict[str, Any] = {"earliest": START, "latest": START + timedelta(days=DAYS), "hours": 2.0}
    else:
        given = {"start": at(2, "10:00"), "end": at(2, "12:00")}
    given |= {"operation": operation, "kind": kind}
    return Operation(**(given | over))


def a_person(person: str, *able: str, department: str = "deck", **over: Any) -> Person:
    """Somebody with a drill of last week."""
    given: dict[str, Any] = {
        "person": person,
        "name": f"Robin {person}",
        "rank": "able seaman",
        "department": department,
        "able": able,
        "last_drill": date(2027, 3, 1),
    }
    return Person(**(given | over))


def a_crew() -> tuple[Person, ...]:
    """Sixteen people: three officers in charge (one of the engine side) and hands for everything."""
    officer, hand = ("officer in charge", "gas tester"), ("entrant", "attendant", "rigging", "rescue", "hot work")
    return (
        a_person("P01", *officer, rank="chief officer"),
        a_person("P02", *officer, rank="second officer"),
        a_person("P03", *officer, department="engine", rank="second engineer"),
        *(a_person(f"P{number:02d}", *hand, "mooring", "cargo watch") for number in range(4, 13)),
        *(a_person(f"P{number:02d}", *hand, department="engine", rank="oiler") for number in range(13, 17)),
    )


def day_work(people: tuple[Person, ...], days: int = DAYS) -> tuple[Duty, ...]:
    """Day work from 08 to 17 for everybody, each day."""
    return tuple(
        Duty(person=each.person, start=at(day, "08:00"), end=at(day, "17:00"), kind="day work")
        for each in people
        for day in range(1, days + 1)
    )


def two_valves(space: str, source: str = "main: ballast") -> tuple[Pipe, ...]:
    """A branch that two lockable valves close."""
    middle = f"pipe {space}"
    shared: dict[str, Any] = {"device": "valve", "lockable": True, "worked_from": "deck"}
    return (
        Pipe(point=space, to_point=middle, device_id=f"V1-{space}", **shared),
        Pipe(point=middle, to_point=source, device_id=f"V2-{space}", **shared),
    )


def gear() -> tuple[Gear, ...]:
    """Four ducted fans and what else an entry holds."""
    due, all_gases = date(2028, 1, 1), ("oxygen", "lfl", "co2", "h2s", "co")
    return (
        Gear(gear="fan", kind="fan", count=4, flow_m3_h=6000.0, duct_m=10.0, drive="water"),
        *(Gear(gear=f"GI{n}", kind="gas instrument", count=1, measures=all_gases, due=due) for n in (1, 2)),
        *(Gear(gear=f"PM{n}", kind="personal meter", count=1, measures=all_gases, due=due) for n in range(1, 9)),
        Gear(gear="set", kind="breathing set", count=4),
        Gear(gear="resuscitator", kind="resuscitator", count=1),
        Gear(gear="tripod", kind="lifting gear", count=2),
        Gear(gear="lamp", kind="lamp", count=12),
        Gear(gear="radio", kind="radio", count=12),
    )


def policy(**over: Value) -> Policy:
    """The defaults, with keys overridden: dots are written as two underscores."""
    return Policy(overrides={name.replace("__", "."): value for name, value in over.items()})


def content(space: str, state: str = "clean and empty", cargo: str | None = None) -> Content:
    """The state of a space as the week begins."""
    return Content(space=space, state=state, cargo=cargo)


def a_cargo(cargo: str = "OIL", **over: Any) -> Cargo:
    """A liquid that is not toxic."""
    given: dict[str, Any] = {"cargo": cargo, "kind": "liquid", "toxic": False, "uses_oxygen": False, "lfl_percent": 1.0}
    return Cargo(**(given | over))


def a_condition(*empty: str, **over: Any) -> Condition:
    """A row for the whole week under which the spaces named may be empty together; without any nothing need be full."""
    given: dict[str, Any] = {
        "condition": "LC1",
        "start": START,
        "end": START + timedelta(days=DAYS),
        "full": empty,
        "may_be_empty": (frozenset(empty),),
        "sea_limit_m": 3.0,
        "checked_with": "loading instrument",
        "checked_by": "P01",
        "checked_at": START,
    }
    return Condition(**(given | over))


def a_visitor(visitor: str = "SURVEYOR", **over: Any) -> Visitor:
    """A surveyor aboard on Wednesday from 09 to 16."""
    given: dict[str, Any] = {
        "visitor": visitor,
        "name": "Alex Thornbury",
        "role": "surveyor",
        "from_": at(3, "09:00"),
        "until": at(3, "16:00"),
    }
    return Visitor(**(given | over))


def a_place(place: str = "Wender Quay", **over: Any) -> PlaceRules:
    """A place that allows everything."""
    given: dict[str, Any] = dict.fromkeys(("entries", "hot_work", "coating", "venting", "ballast_out"), "allowed")
    return PlaceRules(**({"place": place} | given | over))


def a_permission(place: str = "Wender Quay", what: str = "entries", **over: Any) -> Permission:
    """A question asked the day before the week."""
    given: dict[str, Any] = {"place": place, "what": what, "asked_at": START - timedelta(days=1)}
    return Permission(**(given | over))


def spaces() -> tuple[Space, ...]:
    """Ballast tanks 3P and 3S, cargo tank C3 between them; far aft a void AV and the after peak."""
    return (
        a_space("3P"),
        a_space("3S"),
        a_space("C3", kind="cargo tank"),
        a_space("AV", kind="void", area="other"),
        a_space("APK", kind="peak tank", area="other"),
    )


def touching(*pairs: str) -> tuple[Contact, ...]:
    """Bulkheads between spaces, each written as 'ONE OTHER'."""
    return tuple(Contact(space=one, neighbour=other, contact="bulkhead") for one, other in map(str.split, pairs))


def two_manholes(space: str, **over: Any) -> tuple[Opening, ...]:
    """A manhole 60 m and one 64 m from aft."""
    return tuple(
        an_opening(space, f"MH-{space}{letter}", **({"x_m": x_m} | over)) for letter, x_m in (("A", 60.0), ("F", 64.0))
    )


def a_folder(**over: Any) -> VoyageFolder:
    """The week of the module's first words, with one entry in 3P."""
    people, given_spaces = a_crew(), over.get("spaces", spaces())
    given: dict[str, Any] = {
        "ship": a_ship(),
        "spaces": given_spaces,
        "neighbours": touching("3P C3", "3S C3", "AV APK"),
        "openings": tuple(opening for each in given_spaces for opening in two_manholes(each.space)),
        "outlets": (an_outlet(),),
        "outlet_tanks": (OutletTank(outlet="OV", space="C3"),),
        "lines": tuple(pipe for each in given_spaces for pipe in two_valves(each.space)),
        "gear": gear(),
        "policy": Policy(),
        "people": people,
        "duties": day_work(people),
        "past_hours": (),
        "week": Week(start=START, days=DAYS),
        "clocks": (ClockStep(at=START - timedelta(days=1), offset=timedelta()),),
        "legs": (a_leg(),),
        "places": (),
        "contents": tuple(content(each.space) for each in given_spaces),
        "conditions": (a_condition(),),
        "entries": (an_entry(),),
        "weather": a_forecast(),
    }
    return VoyageFolder(**(given | over))
