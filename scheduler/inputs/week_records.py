"""Rows of week/ as records of the domain. The rows have no faults when this is reached."""

from __future__ import annotations

from datetime import date, datetime, time, timedelta

from scheduler.domain.crew import Visitor
from scheduler.domain.entries import Coating, Entry, Progress, Reading
from scheduler.domain.operations import Cargo, Condition, Content, Operation
from scheduler.domain.voyage import ClockStep, Leg, Permission, PlaceRules, Week
from scheduler.domain.weather import ForecastRow
from scheduler.inputs.cell_times import WEEKDAYS
from scheduler.inputs.rows import Row
from scheduler.times import clock_time


def week_of(row: Row) -> Week:
    """The week that is planned."""
    rest_days = row.may("rest_days", tuple)
    return Week(
        start=row.time("start"),
        days=row.must("days", int),
        frozen_until=row.may("frozen_until", datetime),
        posted_at=row.may("posted_at", datetime),
        work_hours=_pairs(row.hours("work_hours")),
        meals=_pairs(row.hours("meals")),
        rest_days=None if rest_days is None else tuple(_rest_day(str(day)) for day in rest_days),
        prepared_by=row.text("prepared_by"),
        origin=row.origin,
    )


def _pairs(hours: tuple[tuple[str, str], ...] | None) -> tuple[tuple[time, time], ...] | None:
    return None if hours is None else tuple((clock_time(begin), clock_time(end)) for begin, end in hours)


def _rest_day(text: str) -> int | date:
    return WEEKDAYS.index(text) if text in WEEKDAYS else date.fromisoformat(text)


def clock_step_of(row: Row) -> ClockStep:
    """One step of the ship's clock."""
    return ClockStep(at=row.time("at"), offset=row.must("offset", timedelta), origin=row.origin)


def leg_of(row: Row) -> Leg:
    """One leg."""
    return Leg(
        leg=row.text("leg"),
        kind=row.text("kind"),
        place=row.text("place"),
        start=row.time("start"),
        end=row.time("end"),
        from_lat=row.may("from_lat", float),
        from_lon=row.may("from_lon", float),
        to_lat=row.may("to_lat", float),
        to_lon=row.may("to_lon", float),
        track=row.text("track", blank="rhumb line"),
        speed_kn=row.may("speed_kn", float),
        arrive_by=row.may("arrive_by", datetime),
        late_allowed_h=row.may("late_allowed_h", float) or 0.0,
        may_heave_to=row.yes("may_heave_to", blank=False),
        heading_deg=row.may("heading_deg", float),
        lies_to=row.text("lies_to", blank="unknown"),
        restricted=row.must("restricted", bool),
        origin=row.origin,
    )


def place_of(row: Row) -> PlaceRules:
    """What one place says."""
    return PlaceRules(
        place=row.text("place"),
        entries=row.text("entries"),
        hot_work=row.text("hot_work"),
        coating=row.text("coating"),
        venting=row.text("venting"),
        ballast_out=row.text("ballast_out"),
        notice_h=row.may("notice_h", float),
        note=row.text("note"),
        origin=row.origin,
    )


def permission_of(row: Row) -> Permission:
    """One question and its answer."""
    return Permission(
        place=row.text("place"),
        what=row.text("what"),
        asked_at=row.may("asked_at", datetime),
        answer=row.may("answer", str),
        from_=row.may("from", datetime),
        until=row.may("until", datetime),
        reference=row.text("reference"),
        origin=row.origin,
    )


def condition_of(row: Row) -> Condition:
    """One loading condition."""
    return Condition(
        condition=row.text("condition"),
        start=row.time("start"),
        end=row.time("end"),
        draught_fwd_m=row.may("draught_fwd_m", float),
        draught_aft_m=row.may("draught_aft_m", float),
        displacement_t=row.may("displacement_t", float),
        gm_m=row.may("gm_m", float),
        kg_m=row.may("kg_m", float),
        roll_period_s=row.may("roll_period_s", float),
        full=row.names("full"),
        may_be_empty=row.sets("may_be_empty"),
        sea_limit_m=row.may("sea_limit_m", float),
        checked_with=row.text("checked_with"),
        checked_by=row.text("checked_by"),
        checked_at=row.may("checked_at", datetime),
        origin=row.origin,
    )


def content_of(row: Row) -> Content:
    """What is in one space."""
    return Content(
        space=row.text("space"),
        state=row.text("state"),
        cargo=row.may("cargo", str),
        temp_c=row.may("temp_c", float),
        closed_since=row.may("closed_since", datetime),
        origin=row.origin,
    )


def cargo_of(row: Row) -> Cargo:
    """One cargo."""
    return Cargo(
        cargo=row.text("cargo"),
        kind=row.text("kind"),
        cas=row.text("cas"),
        toxic=row.may("toxic", bool),
        uses_oxygen=row.may("uses_oxygen", bool),
        lfl_percent=row.may("lfl_percent", float),
        exposure_limit_ppm=row.may("exposure_limit_ppm", float),
        flash_c=row.may("flash_c", float),
        vapour_density=row.may("vapour_density", float),
        source=row.text("source"),
        origin=row.origin,
    )


def operation_of(row: Row) -> Operation:
    """One operation, fixed or movable."""
    return Operation(
        operation=row.text("operation"),
        kind=row.text("kind"),
        start=row.may("start", datetime),
        end=row.may("end", datetime),
        earliest=row.may("earliest", datetime),
        latest=row.may("latest", datetime),
        hours=row.may("hours", float),
        spaces=row.names("spaces"),
        rate_m3_h=row.may("rate_m3_h", float),
        vapour=row.may("vapour", str),
        lines=row.names("lines") or None,
        people=row.counts("people"),
        cargo=row.may("cargo", str),
        leaves=row.may("leaves", str),
        after=row.names("after"),
        bars=row.text("bars", blank="none"),
        firm=row.yes("firm", blank=True),
        note=row.text("note"),
        origin=row.origin,
    )


def entry_of(row: Row) -> Entry:
    """One entry."""
    return Entry(
        entry=row.text("entry"),
        space=row.text("space"),
        purpose=row.text("purpose"),
        work=row.text("work"),
        hours=row.must("hours", float),
        splittable=row.yes("splittable", blank=False),
        least_session_hours=row.may("least_session_hours", float),
        entrants=row.must("entrants", int),
        effort=row.text("effort"),
        priority=row.must("priority", int),
        earliest=row.may("earliest", datetime),
        due=row.may("due", datetime),
        after=row.names("after"),
        daylight=row.yes("daylight", blank=False),
        night=row.yes("night", blank=False),
        needs=row.names("needs"),
        at=row.may("at", datetime),
        only=row.names("only"),
        reference=row.text("reference"),
        note=row.text("note"),
        origin=row.origin,
    )


def coating_of(row: Row) -> Coating:
    """The coating of one entry."""
    return Coating(
        entry=row.text("entry"),
        product=row.text("product"),
        litres=row.must("litres", float),
        litres_per_hour=row.must("litres_per_hour", float),
        thinner_percent=row.may("thinner_percent", float),
        thinner_cas=row.text("thinner_cas"),
        own_solvent_percent=row.may("own_solvent_percent", float),
        density_kg_l=row.may("density_kg_l", float),
        solvents=row.shares("solvents"),
        flash_c=row.may("flash_c", float),
        flash_c_thinned=row.may("flash_c_thinned", float),
        lfl_percent=row.may("lfl_percent", float),
        least_air_m3_h=row.may("least_air_m3_h", float),
        supplied_air=row.yes("supplied_air", blank=False),
        drying_h=row.may("drying_h", float),
        source=row.text("source"),
        origin=row.origin,
    )


def visitor_of(row: Row) -> Visitor:
    """One visitor."""
    return Visitor(
        visitor=row.text("visitor"),
        name=row.text("name"),
        role=row.text("role"),
        from_=row.time("from"),
        until=row.time("until"),
        origin=row.origin,
    )


def forecast_of(row: Row) -> ForecastRow:
    """One step of a forecast."""
    return ForecastRow(
        issued=row.time("issued"),
        time=row.time("time"),
        lat=row.may("lat", float),
        lon=row.may("lon", float),
        member=row.may("member", str),
        wind_kn=row.may("wind_kn", float),
        wind_from_deg=row.may("wind_from_deg", float),
        gust_kn=row.may("gust_kn", float),
        wave_height_m=row.may("wave_height_m", float),
        wave_period_s=row.may("wave_period_s", float),
        wave_from_deg=row.may("wave_from_deg", float),
        swell_height_m=row.may("swell_height_m", float),
        swell_period_s=row.may("swell_period_s", float),
        swell_from_deg=row.may("swell_from_deg", float),
        air_c=row.may("air_c", float),
        origin=row.origin,
    )


def reading_of(row: Row) -> Reading:
    """One gas reading."""
    return Reading(
        entry=row.text("entry"),
        time=row.time("time"),
        level=row.text("level"),
        place=row.text("place"),
        oxygen_percent=row.may("oxygen_percent", float),
        lfl_percent=row.may("lfl_percent", float),
        hydrocarbon_percent=row.may("hydrocarbon_percent", float),
        co2_percent=row.may("co2_percent", float),
        h2s_ppm=row.may("h2s_ppm", float),
        co_ppm=row.may("co_ppm", float),
        other=row.text("other"),
        fans_off_since=row.may("fans_off_since", datetime),
        instrument=row.text("instrument"),
        by=row.text("by"),
        origin=row.origin,
    )


def progress_of(row: Row) -> Progress:
    """One thing that was seen to happen."""
    return Progress(
        time=row.time("time"),
        what=row.text("what"),
        event=row.text("event"),
        inside=row.may("inside", int),
        by=row.text("by"),
        origin=row.origin,
    )
