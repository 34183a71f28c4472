"""A new voyage folder: every table with its columns and an example, together a tiny voyage that can be read.

All names and figures of the examples are invented.
"""

from __future__ import annotations

import csv
import io
from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Final

from scheduler.errors import Fault, InputFaults
from scheduler.inputs.columns import Table
from scheduler.inputs.reference import FILES

_ABLE: Final = "officer in charge; gas tester"
_ROWS: Final[Mapping[str, Sequence[Mapping[str, str]]]] = {
    "spaces": (
        {
            "space": "W1P", "name": "No. 1 water ballast tank, port", "kind": "ballast tank", "area": "other",
            "in_charge": "deck", "volume_m3": "310", "depth_m": "11.5", "framing": "moderate", "reach": "hose",
            "dangerous": "yes", "air_reaches_bottom": "yes", "rescue_note": "stretcher by tripod", "x_m": "84.5",
            "y_m": "6.2",
        },
        {
            "space": "C1", "name": "No. 1 cargo tank", "kind": "cargo tank", "area": "cargo", "in_charge": "deck",
            "volume_m3": "1240", "depth_m": "11.2", "framing": "open", "reach": "hose", "dangerous": "yes",
            "air_reaches_bottom": "yes", "x_m": "82", "y_m": "0",
        },
        {
            "space": "V1", "name": "Forward void", "kind": "void", "area": "forward", "in_charge": "deck",
            "volume_m3": "95", "depth_m": "6", "framing": "heavy", "reach": "hose", "x_m": "93", "y_m": "0",
        },
    ),
    "neighbours": (
        {"space": "C1", "neighbour": "W1P", "contact": "bulkhead"},
        {"space": "C1", "neighbour": "V1", "contact": "bulkhead"},
        {"space": "V1", "neighbour": "W1P", "contact": "corner"},
    ),
    "openings": (
        {
            "opening": "W1P manhole aft", "space": "W1P", "kind": "manhole", "x_m": "80", "y_m": "7.1", "z_m": "12.4",
            "on_weather_deck": "yes", "clear_mm": "600", "lifting": "tripod",
        },
        {
            "opening": "C1 hatch", "space": "C1", "kind": "hatch", "x_m": "80", "y_m": "1.5", "z_m": "13.1",
            "on_weather_deck": "yes", "clear_mm": "800", "lifting": "davit",
        },
        {
            "opening": "V1 manhole", "space": "V1", "kind": "manhole", "x_m": "92", "y_m": "0.5", "z_m": "12.6",
            "on_weather_deck": "yes", "clear_mm": "600", "lifting": "tripod",
        },
    ),
    "outlets": (
        {"outlet": "OV1", "kind": "high velocity", "x_m": "60", "y_m": "0", "z_m": "15", "small_flow": "yes"},
    ),
    "outlet_tanks": ({"outlet": "OV1", "space": "C1"},),
    "lines": (
        {
            "point": "W1P", "to_point": "pipe W1P", "device": "valve", "device_id": "B-101", "lockable": "yes",
            "worked_from": "deck",
        },
        {
            "point": "pipe W1P", "to_point": "main: ballast", "device": "valve", "device_id": "B-102",
            "lockable": "yes", "worked_from": "engine room",
        },
        {
            "point": "C1", "to_point": "main: cargo", "device": "spectacle blank", "device_id": "C-101",
            "lockable": "yes", "worked_from": "deck",
        },
    ),
    "gear": (
        {"gear": "FAN-1", "kind": "fan", "count": "2", "flow_m3_h": "4000", "duct_m": "15", "drive": "water"},
        {
            "gear": "GAS-1", "kind": "gas instrument", "count": "1", "measures": "oxygen; lfl; co; h2s; co2",
            "due": "2027-06-30",
        },
    ),
    "people": (
        {
            "person": "P1", "name": "Rosalind Achterberg", "rank": "chief officer", "department": "deck",
            "able": _ABLE, "last_drill": "2027-02-21", "calendar_address": "mate@sallow-reach.example",
        },
        {
            "person": "P2", "name": "Joaquim Tellander", "rank": "able seaman", "department": "deck",
            "able": "entrant; attendant; rigging; rescue", "last_drill": "2027-02-21",
        },
    ),
    "duties": (
        {
            "person": "P2", "start": "2027-03-08T08:00", "end": "2027-03-08T17:00", "kind": "day work",
            "repeat": "daily",
        },
    ),
    "past_hours": (
        {"person": "P1", "start": "2027-03-07T08:00", "end": "2027-03-07T16:00"},
        {"person": "P2", "start": "2027-03-07T08:00", "end": "2027-03-07T12:00"},
    ),
    "clocks": ({"at": "2027-02-28T00:00Z", "offset": "+01:00"},),
    "voyage": (
        {
            "leg": "L1", "kind": "passage", "place": "Gannet Bank", "start": "2027-03-08T00:00Z",
            "end": "2027-03-15T00:00Z", "from_lat": "44.5", "from_lon": "-9.8", "to_lat": "28.6", "to_lon": "-16.1",
            "track": "rhumb line", "speed_kn": "6", "arrive_by": "2027-03-15T00:00Z", "late_allowed_h": "2",
            "may_heave_to": "no", "lies_to": "unknown", "restricted": "no",
        },
    ),
    "places": (
        {
            "place": "Gannet Bank", "entries": "allowed", "hot_work": "ask", "coating": "ask", "venting": "ask",
            "ballast_out": "allowed", "notice_h": "24", "note": "open sea",
        },
    ),
    "permissions": (
        {
            "place": "Gannet Bank", "what": "hot_work", "asked_at": "2027-03-07T10:00", "answer": "no",
            "reference": "GB 17",
        },
    ),
    "conditions": (
        {
            "condition": "Ballast", "start": "2027-03-08T00:00Z", "end": "2027-03-15T00:00Z", "draught_fwd_m": "3.9",
            "draught_aft_m": "5.2", "displacement_t": "6900", "gm_m": "1.9", "kg_m": "6.1", "roll_period_s": "11",
            "full": "W1P", "may_be_empty": "W1P", "sea_limit_m": "2", "checked_with": "loading instrument",
            "checked_by": "P1", "checked_at": "2027-03-07T18:00",
        },
    ),
    "contents": (
        {"space": "W1P", "state": "ballast"},
        {"space": "C1", "state": "gas-free", "cargo": "METHANOL", "temp_c": "15", "closed_since": "2027-03-06T18:00"},
        {"space": "V1", "state": "clean and empty", "closed_since": "2027-01-12T09:00Z"},
    ),
    "cargoes": (
        {
            "cargo": "METHANOL", "kind": "liquid", "cas": "67-56-1", "toxic": "yes", "uses_oxygen": "no",
            "lfl_percent": "6", "exposure_limit_ppm": "200", "flash_c": "9", "vapour_density": "1.1",
            "source": "shipper's data sheet",
        },
    ),
    "operations": (
        {
            "operation": "B-OUT", "kind": "ballast out", "earliest": "2027-03-08T08:00",
            "latest": "2027-03-10T08:00", "hours": "3", "spaces": "W1P", "rate_m3_h": "120", "vapour": "none",
            "lines": "B-101; B-102", "leaves": "clean and empty", "bars": "none", "firm": "yes",
        },
        {
            "operation": "B-IN", "kind": "ballast in", "earliest": "2027-03-11T08:00", "latest": "2027-03-14T18:00",
            "hours": "3", "spaces": "W1P", "rate_m3_h": "120", "vapour": "none", "lines": "B-101; B-102",
            "after": "B-OUT",
        },
        {
            "operation": "DRILL-1", "kind": "entry drill", "start": "2027-03-09T15:30", "end": "2027-03-09T16:30",
            "people": "rescue:1", "bars": "none", "firm": "yes", "note": "on deck",
        },
    ),
    "entries": (
        {
            "entry": "E1", "space": "W1P", "purpose": "look at the coating", "work": "inspect", "hours": "1.5",
            "splittable": "no", "entrants": "2", "effort": "light", "priority": "2", "earliest": "2027-03-09T08:00",
            "due": "2027-03-13T18:00", "daylight": "no", "night": "no", "needs": "SURVEYOR", "reference": "WO 41",
        },
        {
            "entry": "E2", "space": "V1", "purpose": "touch up the ladder", "work": "coat", "hours": "2",
            "splittable": "yes", "least_session_hours": "1", "entrants": "2", "effort": "light", "priority": "3",
            "after": "E1", "daylight": "yes", "night": "no",
        },
    ),
    "coatings": (
        {
            "entry": "E2", "product": "solvent-free epoxy", "litres": "4", "litres_per_hour": "2",
            "thinner_percent": "0", "own_solvent_percent": "2", "density_kg_l": "1.4", "solvents": "100-51-6:100",
            "flash_c": "101", "lfl_percent": "1.3", "least_air_m3_h": "2500", "supplied_air": "yes", "drying_h": "12",
            "source": "maker's sheet",
        },
    ),
    "visitors": (
        {
            "visitor": "SURVEYOR", "name": "Odalys Brennecke", "role": "surveyor", "from": "2027-03-08T01:00",
            "until": "2027-03-14T20:00",
        },
    ),
    "weather": (
        {
            "issued": "2027-03-07T12:00Z", "time": "2027-03-08T00:00Z", "wind_kn": "14", "wind_from_deg": "330",
            "gust_kn": "19", "wave_height_m": "0.7", "wave_period_s": "4.5", "wave_from_deg": "330",
            "swell_height_m": "1.1", "swell_period_s": "10", "swell_from_deg": "310", "air_c": "14",
        },
    ),
    "readings": (
        {
            "entry": "E2", "time": "2027-03-07T16:00", "level": "bottom", "place": "at the ladder",
            "oxygen_percent": "20.9", "lfl_percent": "0", "hydrocarbon_percent": "0", "co2_percent": "0.1",
            "h2s_ppm": "0", "co_ppm": "0",
            "instrument": "GAS-1", "by": "P1",
        },
    ),
    "progress": (
        {"time": "2027-03-07T16:10", "what": "E2", "event": "closed", "inside": "0", "by": "P1"},
    ),
}  # fmt: skip

_KEYS: Final[Mapping[str, str]] = {
    "ship": """\
name = "Sallow Reach"
type = "tanker"
length_m = 96.0
beam_m = 16.4
block_coefficient = 0.78
waterplane_coefficient = 0.86
service_speed_kn = 11.0
greatest_speed_kn = 12.5
least_speed_kn = 4.0
hove_to_speed_kn = 1.5
barred_speeds_kn = [[6.5, 7.5]]
engine_notice_min = 60
deck_z_m = 12.2

[[fuel]]
speed_kn = 4.0
t_per_day = 2.6

[[fuel]]
speed_kn = 11.0
t_per_day = 9.4
""",
    "policy": """\
# Every key may be left out: the README lists them with their defaults, ranges and sources.
entrants_min = 2

[test]
valid_min = 30
""",
    "week": """\
start = "2027-03-08T00:00Z"
days = 7
frozen_until = "2027-03-08T06:00"
posted_at = "2027-03-07T20:00"
work_hours = [["08:00", "18:00"]]
meals = [["12:00", "13:00"]]
rest_days = ["Sunday"]
prepared_by = "P1"
""",
}


def begin_folder(path: Path) -> None:
    """Lay out every table with its columns and an example; raises InputFaults when a file is there already."""
    files = {path / table.folder / table.file: _text(table) for table in FILES}
    there = sorted(file for file in files if file.exists())
    if path.exists() and not path.is_dir():
        there = [path]
    if there:
        raise InputFaults(
            Fault(
                file=file.name, found="this file is there already", expected="a new or an empty folder",
                mend="Nothing was written. Name another folder.",
            )
            for file in there
        )  # fmt: skip
    for file, text in files.items():
        file.parent.mkdir(parents=True, exist_ok=True)
        file.write_text(text, encoding="utf-8", newline="\n")


def _text(table: Table) -> str:
    if table.key_value:
        return _KEYS[table.name]
    text = io.StringIO()
    writer = csv.DictWriter(text, table.names, restval="", lineterminator="\n")
    writer.writeheader()
    writer.writerows(_ROWS[table.name])
    return text.getvalue()
