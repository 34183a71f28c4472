"""Tables of week/ that say where the ship is, by which clock, in what weather, and what places allow."""

from __future__ import annotations

from typing import Final

from scheduler.inputs.columns import (
    Column,
    Kind,
    Table,
    ident,
    named,
    number,
    reference,
    special,
    text,
    time,
    whole,
    word,
    yes_no,
)

LEG_KINDS: Final = ("passage", "anchorage", "berth", "drifting")
ANSWERS: Final = ("allowed", "forbidden", "ask")
ASKED: Final = ("entries", "hot_work", "coating", "venting", "ballast_out")


def _degrees(name: str, meaning: str, blank: str) -> Column:
    return number(name, f"{meaning} [degrees true]", blank, least=0, most=360)


def _lat(name: str, blank: str) -> Column:
    return number(name, "latitude [degrees, north positive]", blank, least=-90, most=90)


def _lon(name: str, blank: str) -> Column:
    return number(name, "longitude [degrees, east positive]", blank, least=-180, most=180)


WEEK: Final = Table(
    name="week", folder="week", key_value=True, meaning="the week that is planned",
    columns=(
        time("start", "start, on a whole quarter of an hour in UTC"),
        whole("days", "length [days]", least=1, most=28),
        time("frozen_until", "a replan begins nothing new before this", "the week's start"),
        time("posted_at", "when the plan was posted", "not posted"),
        special("work_hours", Kind.HOURS, "working hours in ship's time", "policy's hours.work"),
        special("meals", Kind.HOURS, "meals in ship's time", "policy's hours.meals"),
        special("rest_days", Kind.REST_DAYS, "days of rest in ship's time", "policy's hours.rest_days"),
        text("prepared_by", "who prepared the tables", "not said"),
    ),
)  # fmt: skip

CLOCKS: Final = Table(
    name="clocks", folder="week", key=("at",), meaning="ship's clock; the first row at or before the week's start",
    columns=(
        special("at", Kind.UTC_TIME, "from this instant in UTC on"),
        special("offset", Kind.OFFSET, "ship's time is UTC plus this"),
    ),
)  # fmt: skip

VOYAGE: Final = Table(
    name="voyage", folder="week", key=("leg",), meaning="the legs, one after the other",
    columns=(
        ident("leg", "id of the leg"),
        word("kind", LEG_KINDS, "what the ship does"),
        named("place", "place names", "where; a berth or anchorage without a row in places counts as 'ask'"),
        time("start", "begins"),
        time("end", "ends"),
        _lat("from_lat", "unknown: no weather basis; never blank on a passage"),
        _lon("from_lon", "as from_lat"),
        _lat("to_lat", "as from_lat"),
        _lon("to_lon", "as from_lat"),
        word("track", ("great circle", "rhumb line"), "how she steers", "rhumb line"),
        number("speed_kn", "planned speed [kn]", "never blank on a passage", least=0, most=40),
        time("arrive_by", "latest arrival", "the leg's end"),
        number("late_allowed_h", "lateness that is allowed [h]", "0", least=0, most=240),
        yes_no("may_heave_to", "whether the plan may heave to", "no"),
        _degrees("heading_deg", "heading at a berth", "every heading counts"),
        special("lies_to", Kind.LIES_TO, "what an anchored or drifting ship lies to, or degrees", "unknown"),
        yes_no("restricted", "restricted waters all along"),
    ),
)  # fmt: skip

PLACES: Final = Table(
    name="places", folder="week", key=("place",), meaning="what a place says",
    columns=(
        ident("place", "name of the place"),
        *(word(what, ANSWERS, f"what the place says to {what}") for what in ASKED),
        number("notice_h", "ask so long before [h]", "24", least=0, most=720),
        text("note", "note", "none"),
    ),
)  # fmt: skip

PERMISSIONS: Final = Table(
    name="permissions", folder="week", key=("place", "what", "from"), optional=True, meaning="questions and answers",
    columns=(
        reference("place", "place names", "a place of places or of voyage"),
        word("what", ASKED, "what is asked for"),
        time("asked_at", "when it was asked", "not asked yet"),
        word("answer", ("yes", "no"), "the answer", "still open"),
        time("from", "holds from", "the whole stay"),
        time("until", "holds until", "the whole stay"),
        text("reference", "the place's reference", "none"),
    ),
)  # fmt: skip

VISITORS: Final = Table(
    name="visitors", folder="week", key=("visitor",), optional=True,
    meaning="people from outside; never counted as crew",
    columns=(
        ident("visitor", "id of the visitor"),
        text("name", "name"),
        word("role", ("surveyor", "inspector", "shore gang", "chemist", "other"), "role"),
        time("from", "aboard from"),
        time("until", "aboard until"),
    ),
)  # fmt: skip

WEATHER: Final = Table(
    name="weather", folder="week", key=("issued", "time", "lat", "lon", "member"), digest="forecast",
    meaning="the forecast; wave is the wind sea, directions are 'coming from'",
    columns=(
        time("issued", "when the forecast was issued"),
        time("time", "valid at"),
        _lat("lat", "along the planned track"),
        _lon("lon", "along the planned track"),
        text("member", "member of an ensemble", "a single forecast"),
        number("wind_kn", "mean wind [kn]", "no wind basis: counts as calm", least=0, most=200),
        _degrees("wind_from_deg", "wind from", "no wind basis: counts as calm"),
        number("gust_kn", "gusts [kn]", "not given", least=0, most=300),
        number("wave_height_m", "significant height of the wind sea [m]", "no sea basis", least=0, most=30),
        number("wave_period_s", "period of the wind sea [s]", "not given", least=0, most=40),
        _degrees("wave_from_deg", "wind sea from", "not given"),
        number("swell_height_m", "significant height of the swell [m]", "no sea basis", least=0, most=30),
        number("swell_period_s", "period of the swell [s]", "not given", least=0, most=40),
        _degrees("swell_from_deg", "swell from", "not given"),
        number("air_c", "air temperature [°C]", "not given", least=-70, most=60),
    ),
)  # fmt: skip

VOYAGE_TABLES: Final = (WEEK, CLOCKS, VOYAGE, PLACES, PERMISSIONS, VISITORS, WEATHER)
