"""Rows of ship/ and crew/ as records of the domain. The rows have no faults when this is reached."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, datetime

from scheduler.domain.crew import Duty, PastHours, Person
from scheduler.domain.policy import Policy, Value
from scheduler.domain.ship import Contact, FuelRow, Gear, Opening, Outlet, OutletTank, Pipe, Ship, Space
from scheduler.domain.voyage import Week
from scheduler.inputs.duties import spans_of
from scheduler.inputs.rows import Row
from scheduler.inputs.ship_tables import CONTACTS
from scheduler.times import ShipClock


def ship_of(row: Row, fuel: Sequence[Row]) -> Ship:
    """The ship's particulars."""
    return Ship(
        name=row.text("name"),
        kind=row.text("type"),
        length_m=row.must("length_m", float),
        beam_m=row.must("beam_m", float),
        block_coefficient=row.may("block_coefficient", float),
        waterplane_coefficient=row.may("waterplane_coefficient", float),
        service_speed_kn=row.must("service_speed_kn", float),
        greatest_speed_kn=row.must("greatest_speed_kn", float),
        least_speed_kn=row.must("least_speed_kn", float),
        hove_to_speed_kn=row.must("hove_to_speed_kn", float),
        barred_speeds_kn=row.bands("barred_speeds_kn"),
        engine_notice_min=_rounded_up(row.may("engine_notice_min", float)),
        deck_z_m=row.may("deck_z_m", float),
        fuel=tuple(
            FuelRow(speed_kn=one.must("speed_kn", float), t_per_day=one.must("t_per_day", float)) for one in fuel
        ),
    )


def _rounded_up(minutes: float | None) -> int | None:
    return None if minutes is None else -int(-minutes // 1)


def space_of(row: Row) -> Space:
    """One space."""
    return Space(
        space=row.text("space"),
        name=row.text("name"),
        kind=row.text("kind"),
        area=row.text("area"),
        in_charge=row.text("in_charge"),
        volume_m3=row.may("volume_m3", float),
        depth_m=row.may("depth_m", float),
        framing=row.may("framing", str),
        reach=row.may("reach", str),
        dangerous=row.may("dangerous", bool),
        air_reaches_bottom=row.may("air_reaches_bottom", bool),
        rescue_note=row.text("rescue_note"),
        x_m=row.may("x_m", float),
        y_m=row.may("y_m", float),
        origin=row.origin,
    )


def contacts_of(rows: Sequence[Row]) -> tuple[Contact, ...]:
    """Every row of the table; where a pair has several contacts, each row carries the closest."""
    closest: dict[frozenset[str], str] = {}
    for row in rows:
        pair = frozenset((row.text("space"), row.text("neighbour")))
        found = (closest.get(pair, CONTACTS[-1]), row.text("contact"))
        closest[pair] = min(found, key=CONTACTS.index)
    return tuple(
        Contact(
            space=row.text("space"),
            neighbour=row.text("neighbour"),
            contact=closest[frozenset((row.text("space"), row.text("neighbour")))],
            origin=row.origin,
        )
        for row in rows
    )


def opening_of(row: Row) -> Opening:
    """One way in."""
    return Opening(
        opening=row.text("opening"),
        space=row.text("space"),
        kind=row.text("kind"),
        x_m=row.may("x_m", float),
        y_m=row.may("y_m", float),
        z_m=row.may("z_m", float),
        on_weather_deck=row.must("on_weather_deck", bool),
        clear_mm=row.may("clear_mm", float),
        lifting=row.text("lifting", blank="none"),
        origin=row.origin,
    )


def outlet_of(row: Row) -> Outlet:
    """One outlet."""
    return Outlet(
        outlet=row.text("outlet"),
        kind=row.text("kind"),
        x_m=row.may("x_m", float),
        y_m=row.may("y_m", float),
        z_m=row.may("z_m", float),
        small_flow=row.must("small_flow", bool),
        origin=row.origin,
    )


def outlet_tank_of(row: Row) -> OutletTank:
    """One joining of a space to an outlet."""
    return OutletTank(outlet=row.text("outlet"), space=row.text("space"), origin=row.origin)


def pipe_of(row: Row) -> Pipe:
    """One device of the piping."""
    return Pipe(
        point=row.text("point"),
        to_point=row.text("to_point"),
        device=row.text("device"),
        device_id=row.text("device_id"),
        lockable=row.yes("lockable", blank=False),
        worked_from=row.text("worked_from"),
        origin=row.origin,
    )


def gear_of(row: Row) -> Gear:
    """One row of gear."""
    return Gear(
        gear=row.text("gear"),
        kind=row.text("kind"),
        count=row.must("count", int),
        flow_m3_h=row.may("flow_m3_h", float),
        duct_m=row.may("duct_m", float),
        drive=row.may("drive", str),
        measures=row.names("measures"),
        due=row.may("due", date),
        origin=row.origin,
    )


def policy_of(policy: Row, week: Row) -> Policy:
    """The limits that are given; week.toml beats policy.toml for hours, meals and days of rest."""
    given = dict(policy.values)
    given |= {key: week.values[name] for name, key in _WEEK_BEATS if week.values.get(name) is not None}
    return Policy(overrides={name: _policy_value(value) for name, value in given.items() if value is not None})


_WEEK_BEATS = (("work_hours", "hours.work"), ("meals", "hours.meals"), ("rest_days", "hours.rest_days"))


def _policy_value(value: object) -> Value:
    if not isinstance(value, int | float | str | tuple):
        raise TypeError(f"{value!r} is no policy value")
    return value


def person_of(row: Row) -> Person:
    """One of the crew."""
    return Person(
        person=row.text("person"),
        name=row.text("name"),
        rank=row.text("rank"),
        department=row.text("department"),
        able=row.names("able"),
        last_drill=row.may("last_drill", date),
        joins=row.may("joins", datetime),
        leaves=row.may("leaves", datetime),
        calendar_address=row.text("calendar_address"),
        origin=row.origin,
    )


def duties_of(row: Row, clock: ShipClock, week: Week) -> tuple[Duty, ...]:
    """A duty, or each repetition of a daily one that touches the week."""
    return tuple(
        Duty(person=row.text("person"), start=start, end=end, kind=row.text("kind"), origin=row.origin)
        for start, end in spans_of(row, clock, (week.start, week.end))
    )


def past_hours_of(row: Row) -> PastHours:
    """One stretch of work before the week."""
    return PastHours(person=row.text("person"), start=row.time("start"), end=row.time("end"), origin=row.origin)
