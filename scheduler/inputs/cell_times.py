"""Cells that hold times: one strict form, ship's time only through the clock table."""

from __future__ import annotations

import re
from datetime import date, datetime, timedelta
from typing import Final

from scheduler.inputs.cell_figures import is_number
from scheduler.inputs.cells import Known, bad, parts_of
from scheduler.inputs.columns import Column
from scheduler.inputs.names import normal, quoted
from scheduler.times import ShipClock, UnclearTime, clock_time, offset_of, parse_time, zulu

_CENTURY: Final = re.compile(r"20[0-9]{2}-[0-9 T:Z+\-\u2212]*")
_SHOWN: Final = re.compile(r"([0-9-]{10})[T ]([0-9]{2}:[0-9]{2})(:00)?")
_DAY: Final = re.compile(r"20[0-9]{2}-[0-9]{2}-[0-9]{2}")
_RANGE: Final = re.compile(r"([0-9]{2}:[0-9]{2})\s*[-\u2013]\s*([0-9]{2}:[0-9]{2})")
WEEKDAYS: Final = ("Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday")


def read_time(text: str, column: Column, known: Known) -> datetime:
    """An instant, through the ship's clock where no offset is written."""
    if is_number(text):
        raise bad(text, column, "is a plain number, not a time")
    if not _CENTURY.fullmatch(text):
        raise bad(text, column, "is not a time")
    try:
        return parse_time(text, known.clock)
    except UnclearTime as unclear:
        raise bad(text, column, f"cannot be read: {unclear}{_both_readings(text, known.clock)}") from None


def _both_readings(text: str, clock: ShipClock) -> str:
    """For a time that the clocks skip: what it would be by the old and by the new offset."""
    found = _SHOWN.fullmatch(text)
    try:
        shown = datetime.fromisoformat(f"{found[1]}T{found[2]}") if found else None
    except ValueError:
        return ""
    if shown is None or clock.readings(shown):
        return ""
    for (_, old), (at, new) in zip(clock.steps, clock.steps[1:], strict=False):
        if (at + old).replace(tzinfo=None) <= shown < (at + new).replace(tzinfo=None):
            by_old, by_new = (zulu((shown - offset).replace(tzinfo=at.tzinfo)) for offset in (old, new))
            return f"; by the old offset it would be {by_old}, by the new one {by_new}"
    return ""


def read_utc_time(text: str, column: Column, known: Known) -> datetime:
    """An instant that is written with Z."""
    if not text.endswith("Z"):
        raise bad(text, column, "has no Z at its end")
    return read_time(text, column, known)


def read_day(text: str, column: Column, _: Known) -> date:
    """A date that exists."""
    try:
        return date.fromisoformat(text if _DAY.fullmatch(text) else "")
    except ValueError:
        raise bad(text, column, "is not a date") from None


def read_offset(text: str, column: Column, _: Known) -> timedelta:
    """Ship's time less UTC."""
    try:
        return offset_of(text)
    except UnclearTime as unclear:
        raise bad(text, column, f"cannot be read: {unclear}") from None


def read_hours(text: str, column: Column, _: Known) -> tuple[tuple[str, str], ...]:
    """Pairs of hh:mm, sorted; `none` is no pair."""
    if normal(text) == "none":
        return ()
    return tuple(sorted(_hours(part, text, column) for part in parts_of(text, column)))


def _hours(part: str, text: str, column: Column) -> tuple[str, str]:
    found = _RANGE.fullmatch(part)
    if not found:
        raise bad(text, column, f"has {quoted(part)}, which is no pair of hh:mm")
    try:
        return f"{clock_time(found[1]):%H:%M}", f"{clock_time(found[2]):%H:%M}"
    except UnclearTime as unclear:
        raise bad(text, column, f"cannot be read: {unclear}") from None


def read_rest_days(text: str, column: Column, known: Known) -> tuple[str, ...]:
    """Weekdays by name and dates, in that order; `none` is no day."""
    if normal(text) == "none":
        return ()
    found = [_rest_day(part, column, known) for part in parts_of(text, column)]
    return tuple(sorted(found, key=lambda day: (WEEKDAYS.index(day) if day in WEEKDAYS else len(WEEKDAYS), day)))


def _rest_day(part: str, column: Column, known: Known) -> str:
    for name in WEEKDAYS:
        if normal(name) == normal(part):
            return name
    return read_day(part, column, known).isoformat()
