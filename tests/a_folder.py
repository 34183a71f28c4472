"""A small invented week as a voyage folder, made by hand. Ship, people and places are invented."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

from scheduler.domain.crew import Person
from scheduler.domain.entries import Entry
from scheduler.domain.folder import RowCount, VoyageFolder
from scheduler.domain.operations import Operation
from scheduler.domain.policy import Policy
from scheduler.domain.ship import FuelRow, Opening, Ship, Space
from scheduler.domain.voyage import ClockStep, Leg, Permission, PlaceRules, Week
from scheduler.domain.weather import ForecastRow

START = datetime(2027, 3, 8, tzinfo=UTC)


def at(day: int, clock: str) -> datetime:
    """The instant of `hh:mm` UTC on a date of March 2027."""
    hour, minute = clock.split(":")
    return datetime(2027, 3, day, int(hour), int(minute), tzinfo=UTC)


def _person(person: str, name: str, rank: str, *able: str, department: str = "deck") -> Person:
    return Person(person=person, name=name, rank=rank, department=department, able=able)


def a_folder() -> VoyageFolder:
    """The *Tern Hollow*, three spaces, six people, ship's time UTC+3 and an hour back on the night of the 10th."""
    return VoyageFolder(
        ship=Ship(
            name="Tern Hollow",
            kind="tanker",
            length_m=120.0,
            beam_m=20.0,
            service_speed_kn=13.0,
            greatest_speed_kn=14.0,
            least_speed_kn=5.0,
            hove_to_speed_kn=2.0,
            fuel=(FuelRow(speed_kn=13.0, t_per_day=22.0),),
        ),
        spaces=(
            Space(
                space="4P",
                name="No. 4 port ballast tank",
                kind="ballast tank",
                area="cargo",
                in_charge="deck",
                volume_m3=900.0,
            ),
            Space(space="5S", name="No. 5 starboard ballast tank", kind="ballast tank", area="cargo", in_charge="deck"),
            Space(space="AV", name="after void", kind="void", area="other", in_charge="deck", volume_m3=200.0),
        ),
        neighbours=(),
        openings=(
            Opening(opening="MH-4PA", space="4P", kind="manhole", on_weather_deck=True),
            Opening(opening="MH-4PF", space="4P", kind="manhole", on_weather_deck=True),
            Opening(opening="MH-AV", space="AV", kind="manhole", on_weather_deck=False),
        ),
        outlets=(),
        outlet_tanks=(),
        lines=(),
        gear=(),
        policy=Policy(overrides={"at_once.open": 4}),
        people=(
            _person("co", "Ines Marwood", "chief officer", "officer in charge", "gas tester"),
            _person("bo", "Tomas Ebbing", "bosun", "entrant", "rescue", "rigging"),
            _person("a1", "Ravi Colebrook", "able seaman", "entrant", "attendant", "rigging"),
            _person("a2", "Piet Sandholm", "able seaman", "entrant", "attendant", "rescue"),
            _person("a3", "Luis Farrow", "able seaman", "attendant", "rescue", "rigging"),
            _person("o1", "Dan Withey", "oiler", "rescue", department="engine"),
        ),
        duties=(),
        past_hours=(),
        week=Week(start=START, days=7, prepared_by="chief officer"),
        clocks=(
            ClockStep(at=START - timedelta(days=1), offset=timedelta(hours=3)),
            ClockStep(at=at(10, "22:00"), offset=timedelta(hours=2)),
        ),
        legs=(
            Leg(
                leg="L1",
                kind="passage",
                place="to Cape Wender",
                start=START,
                end=at(12, "06:00"),
                speed_kn=13.0,
                arrive_by=at(12, "08:00"),
            ),
            Leg(leg="L2", kind="anchorage", place="Wender roads", start=at(12, "06:00"), end=at(15, "00:00")),
        ),
        places=(
            PlaceRules(
                place="Wender roads",
                entries="ask",
                hot_work="forbidden",
                coating="ask",
                venting="ask",
                ballast_out="allowed",
            ),
        ),
        permissions=(Permission(place="Wender roads", what="entries"),),
        operations=(
            Operation(
                operation="BW-OUT",
                kind="ballast out",
                earliest=at(8, "00:00"),
                latest=at(10, "00:00"),
                hours=3.0,
                spaces=("4P",),
            ),
            Operation(operation="STN-1", kind="stations", start=at(12, "05:00"), end=at(12, "07:00")),
        ),
        entries=(
            Entry(
                entry="E1",
                space="4P",
                purpose="class inspection of frames",
                work="inspect",
                hours=3.0,
                entrants=2,
                effort="light",
                priority=2,
            ),
            Entry(
                entry="E2",
                space="5S",
                purpose="scale sample",
                work="clean by hand",
                hours=2.0,
                entrants=2,
                effort="heavy",
                priority=3,
            ),
            Entry(
                entry="E3",
                space="AV",
                purpose="suspected crack at frame 12",
                work="inspect",
                hours=2.0,
                entrants=2,
                effort="light",
                priority=1,
            ),
        ),
        weather=(
            ForecastRow(issued=START - timedelta(hours=6), time=at(8, "00:00"), wind_kn=12.0, wind_from_deg=220.0),
            ForecastRow(issued=START - timedelta(hours=6), time=at(13, "00:00"), wind_kn=18.0, wind_from_deg=240.0),
        ),
        rows=(("entries", RowCount(read=4, taken=3, blank=1)), ("spaces", RowCount(read=3, taken=3, blank=0))),
        not_read=("notes.txt",),
        missing=("spaces.csv, row 3: volume_m3 of 5S is blank; its air cannot be worked out.",),
        digest="ab" * 32,
        forecast_digest="cd" * 32,
        seen_digest="ef" * 32,
    )
