"""A small invented week and a plan that keeps every rule: the stock of which the fault tests break one thing.

The tanker Wren Hollow: four days at sea in ballast, an anchorage, a berth where she loads. Ship, people, places and
times are invented. The figures of rest are counted here minute by minute, so that they lean on nothing of the check.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from datetime import UTC, date, datetime, time, timedelta
from functools import cache

from scheduler.domain.crew import Duty, PastHours, Person, Visitor
from scheduler.domain.entries import Entry
from scheduler.domain.folder import RowCount, VoyageFolder
from scheduler.domain.operations import Cargo, Condition, Content, Operation
from scheduler.domain.plan import (
    Air,
    Arrival,
    AskFor,
    Attends,
    Counts,
    EntryCounts,
    Held,
    Inputs,
    Named,
    OperationCounts,
    Plan,
    PlannedEntry,
    PlannedOperation,
    PlannedPhase,
    PlannedSpeed,
    Proof,
    RestRow,
    Rows,
    Shut,
)
from scheduler.domain.policy import Policy
from scheduler.domain.ship import Contact, Gear, Opening, Outlet, OutletTank, Pipe, Ship, Space
from scheduler.domain.voyage import ClockStep, Leg, PlaceRules, Week
from scheduler.domain.weather import ForecastRow

MONDAY = datetime(2027, 3, 8, tzinfo=UTC)
DAYS = 8
MINUTE = timedelta(minutes=1)
LOOKOUT = ("AB4", "AB5", "AB6", "AB7")  # the rescue team


def at(day: int, clock: str) -> datetime:
    """The instant of `hh:mm` UTC on a date of March 2027."""
    hour, minute = clock.split(":")
    return datetime(2027, 3, day, int(hour), int(minute), tzinfo=UTC)


SHIP = Ship(
    name="Wren Hollow", kind="tanker", length_m=120.0, beam_m=20.0, service_speed_kn=12.0, greatest_speed_kn=14.0,
    least_speed_kn=6.0, hove_to_speed_kn=2.0, barred_speeds_kn=((9.0, 10.0),),
)  # fmt: skip


def a_space(space: str, kind: str, area: str = "cargo", **over: object) -> Space:
    """A space of 600 m³, 8 m deep, that a hose reaches."""
    sound = Space(
        space=space, name=space, kind=kind, area=area, in_charge="deck", volume_m3=600.0, depth_m=8.0,
        framing="open", reach="hose", x_m=50.0, y_m=0.0,
    )  # fmt: skip
    return replace(sound, **over)  # type: ignore[arg-type]


SPACES = (
    a_space("3P", "ballast tank", x_m=60.0, y_m=7.0),
    a_space("3S", "ballast tank", x_m=60.0, y_m=-7.0),
    a_space("4P", "ballast tank", x_m=50.0, y_m=7.0),
    a_space("C3", "cargo tank", x_m=60.0),
    a_space("C4", "cargo tank", x_m=50.0),
    a_space("FV", "void", "forward", reach="proving session", x_m=110.0),
    a_space("FW", "fresh-water tank", "machinery", x_m=10.0),
    a_space("FO", "fuel tank", "machinery", in_charge="engine", x_m=22.0, y_m=4.0),
    a_space("HUT", "other", "accommodation", x_m=25.0),
)
NEIGHBOURS = (
    Contact(space="3P", neighbour="C3", contact="bulkhead"),
    Contact(space="3P", neighbour="4P", contact="bulkhead"),
    Contact(space="3S", neighbour="C3", contact="bulkhead"),
    Contact(space="4P", neighbour="C4", contact="bulkhead"),
    Contact(space="C3", neighbour="C4", contact="bulkhead"),
    Contact(space="FV", neighbour="FW", contact="corner"),
    Contact(space="FO", neighbour="HUT", contact="bulkhead"),
)


def an_opening(opening: str, space: str, x_m: float, y_m: float, **over: object) -> Opening:
    """A manhole on the weather deck."""
    sound = Opening(opening=opening, space=space, kind="manhole", x_m=x_m, y_m=y_m, z_m=12.0, on_weather_deck=True)
    return replace(sound, **over)  # type: ignore[arg-type]


OPENINGS = (
    an_opening("3P-F", "3P", 64.0, 8.0), an_opening("3P-A", "3P", 56.0, 8.0),
    an_opening("3S-F", "3S", 64.0, -8.0), an_opening("3S-A", "3S", 56.0, -8.0),
    an_opening("4P-F", "4P", 54.0, 8.0), an_opening("4P-A", "4P", 46.0, 8.0),
    an_opening("C3-H", "C3", 60.0, 1.0), an_opening("C3-V", "C3", 58.0, 1.0),
    an_opening("C4-H", "C4", 50.0, 1.0), an_opening("C4-V", "C4", 48.0, 1.0),
    an_opening("FV-H", "FV", 110.0, 0.0), an_opening("FV-V", "FV", 108.0, 0.0),
    an_opening("FW-H", "FW", 10.0, 0.0, on_weather_deck=False),
    an_opening("FW-V", "FW", 12.0, 0.0, on_weather_deck=False),
    an_opening("FO-H", "FO", 22.0, 4.0, on_weather_deck=False),
    an_opening("FO-V", "FO", 24.0, 4.0, on_weather_deck=False),
)  # fmt: skip
OUTLETS = (
    Outlet(outlet="V3", kind="high velocity", x_m=60.0, y_m=-3.0, z_m=14.0, small_flow=True),
    Outlet(outlet="V4", kind="high velocity", x_m=48.0, y_m=-3.0, z_m=14.0, small_flow=True),
)
OUTLET_TANKS = (OutletTank(outlet="V3", space="C3"), OutletTank(outlet="V4", space="C4"))


def a_pipe(point: str, to_point: str, device: str, device_id: str, *, lockable: bool = True) -> Pipe:
    """One device between two points."""
    return Pipe(
        point=point, to_point=to_point, device=device, device_id=device_id, lockable=lockable, worked_from="deck"
    )


LINES = (
    a_pipe("3P", "pipe 3P", "valve", "BA3P"), a_pipe("pipe 3P", "main: ballast", "valve", "BB3P"),
    a_pipe("3S", "pipe 3S", "valve", "BA3S"), a_pipe("pipe 3S", "main: ballast", "valve", "BB3S"),
    a_pipe("4P", "pipe 4P", "valve", "BA4P"), a_pipe("pipe 4P", "main: ballast", "valve", "BB4P"),
    a_pipe("main: ballast", "sea chest", "valve", "SC1"),
    a_pipe("FV", "pump: eductor", "spectacle blank", "FVB"),
    a_pipe("C3", "main: cargo", "removable piece", "CR3"), a_pipe("C4", "main: cargo", "removable piece", "CR4"),
    a_pipe("FW", "pump: fresh", "spectacle blank", "FWB"), a_pipe("FO", "pump: fuel", "spectacle blank", "FOB"),
)  # fmt: skip

ALL_GASES = ("oxygen", "lfl", "co2", "h2s", "co")
GEAR = (
    Gear(gear="FAN", kind="fan", count=4, flow_m3_h=6000.0, duct_m=10.0, drive="water"),
    Gear(
        gear="GI1", kind="gas instrument", count=1, measures=ALL_GASES,
        due=date(2027, 3, 12),
    ),
    Gear(
        gear="GI2", kind="gas instrument", count=1, measures=ALL_GASES,
        due=date(2027, 6, 1),
    ),
    Gear(gear="PM", kind="personal meter", count=8, measures=ALL_GASES, due=date(2027, 6, 1)),
    Gear(gear="BA", kind="breathing set", count=4), Gear(gear="RES", kind="resuscitator", count=1),
    Gear(gear="TRI", kind="lifting gear", count=1), Gear(gear="LMP", kind="lamp", count=8),
    Gear(gear="UHF", kind="radio", count=8),
)  # fmt: skip

HANDS = ("entrant", "attendant", "rescue", "rigging")


def a_person(person: str, rank: str, able: tuple[str, ...], department: str = "deck", **over: object) -> Person:
    """Somebody aboard for the whole week who had the drill on 26 February."""
    sound = Person(
        person=person, name=person, rank=rank, department=department, able=able, last_drill=date(2027, 2, 26)
    )
    return replace(sound, **over)  # type: ignore[arg-type]


PEOPLE = (
    a_person("CO", "chief officer", ("officer in charge", "gas tester")),
    a_person("2O", "second officer", ("officer in charge", "gas tester")),
    a_person("2E", "second engineer", ("officer in charge", "gas tester"), "engine"),
    a_person("PMP", "pumpman", (*HANDS, "gas tester")),
    a_person("BSN", "bosun", (*HANDS, "hot work")),
    *(a_person(f"AB{number}", "able seafarer", HANDS) for number in range(1, 8)),
    a_person("NEW", "ordinary seafarer", HANDS, joins=at(13, "10:00"), last_drill=date(2027, 3, 13)),
)
DAY_WORKERS = ("CO", "2E", "PMP", "BSN", "AB1", "AB2", "AB3", "AB4", "AB5", "AB6", "AB7")


def _daily(person: str, start: str, end: str, kind: str) -> list[Duty]:
    return [Duty(person=person, start=at(8 + day, start), end=at(8 + day, end), kind=kind) for day in range(DAYS)]


DUTIES = tuple(
    duty
    for person in DAY_WORKERS
    for start, end in (("08:00", "12:00"), ("13:00", "17:00"))
    for duty in _daily(person, start, end, "day work")
) + tuple(_daily("2O", "00:00", "04:00", "watch") + _daily("2O", "12:00", "16:00", "watch"))
PAST = tuple(
    PastHours(person=person, start=at(day, start), end=at(day, end))
    for person in (*DAY_WORKERS, "2O")
    for day in range(1, 8)
    for start, end in (("08:00", "12:00"), ("13:00", "17:00"))
)

LEGS = (
    Leg(
        leg="P1", kind="passage", place="", start=at(8, "00:00"), end=at(12, "00:00"), from_lat=30.0, from_lon=-20.0,
        to_lat=11.0, to_lon=-20.0, speed_kn=12.0, arrive_by=at(12, "00:00"), late_allowed_h=2.0, may_heave_to=True,
    ),
    Leg(
        leg="A1", kind="anchorage", place="Ruddock Roads", start=at(12, "00:00"), end=at(14, "00:00"), from_lat=11.0,
        from_lon=-20.0, lies_to="wind",
    ),
    Leg(
        leg="B1", kind="berth", place="Ruddock Quay", start=at(14, "00:00"), end=at(16, "00:00"), from_lat=11.0,
        from_lon=-20.0, heading_deg=0.0,
    ),
)  # fmt: skip
PLACES = tuple(
    PlaceRules(place=place, entries=entries, hot_work="forbidden", coating="ask", venting="allowed", ballast_out="ask")
    for place, entries in (("Ruddock Roads", "ask"), ("Ruddock Quay", "allowed"))
)
WEATHER = tuple(
    ForecastRow(
        issued=at(7, "18:00"), time=MONDAY + timedelta(hours=6 * step), wind_kn=14.0, wind_from_deg=0.0, gust_kn=18.0,
        wave_height_m=0.6, wave_period_s=5.0, wave_from_deg=0.0, swell_height_m=0.8, swell_period_s=9.0,
        swell_from_deg=300.0, air_c=24.0,
    )
    for step in range(4 * DAYS + 2)
)  # fmt: skip

OPERATIONS = (
    Operation(
        operation="OUT3", kind="ballast out", earliest=at(8, "00:00"), latest=at(10, "00:00"), hours=4.0,
        spaces=("3P", "3S"), lines=("BA3P", "BB3P", "BA3S", "BB3S", "SC1"), people=(("rigging", 1),),
    ),
    Operation(
        operation="IN3", kind="ballast in", earliest=at(9, "12:00"), latest=at(12, "00:00"), hours=4.0,
        spaces=("3P", "3S"), lines=("BA3P", "BB3P", "BA3S", "BB3S", "SC1"), after=("OUT3",),
    ),
    Operation(operation="STN", kind="stations", start=at(14, "00:00"), end=at(14, "02:00")),
    Operation(operation="DRL", kind="drill", start=at(8, "08:00"), end=at(8, "09:00")),
    Operation(
        operation="LOAD", kind="load", start=at(14, "12:00"), end=at(15, "06:00"), spaces=("C3",), cargo="naphtha",
        vapour="to outlets", lines=("CR3",),
    ),
)  # fmt: skip
CONDITIONS = (
    Condition(
        condition="sea ballast", start=MONDAY, end=MONDAY + timedelta(days=DAYS), full=("3P", "3S", "4P"),
        may_be_empty=(frozenset({"3P", "3S"}),), sea_limit_m=2.0, checked_with="loading instrument", checked_by="CO",
    ),
)  # fmt: skip
CONTENTS = (
    Content(space="3P", state="ballast"), Content(space="3S", state="ballast"), Content(space="4P", state="ballast"),
    Content(space="C3", state="inerted", cargo="naphtha"), Content(space="C4", state="gas-free"),
    Content(space="FV", state="clean and empty"), Content(space="FW", state="fresh water"),
    Content(space="FO", state="fuel"), Content(space="HUT", state="clean and empty"),
)  # fmt: skip
CARGOES = (Cargo(cargo="naphtha", kind="liquid", toxic=False),)

ENTRIES = (
    Entry(
        entry="E1", space="3P", purpose="frames", work="inspect", hours=2.0, entrants=2, effort="light", priority=2,
        earliest=at(8, "00:00"), due=at(11, "18:00"), daylight=True, after=("E2",),
    ),
    Entry(
        entry="E2", space="FV", purpose="bracket", work="repair", hours=5.0, splittable=True, least_session_hours=2.0,
        entrants=2, effort="light", priority=1,
    ),
    Entry(
        entry="E3", space="C4", purpose="heating coil", work="inspect", hours=2.0, entrants=2, effort="light",
        priority=3, needs=("SUR",), at=at(13, "09:30"),
    ),
    Entry(entry="E4", space="3S", purpose="anodes", work="measure", hours=1.0, entrants=2, effort="light", priority=3),
)  # fmt: skip
VISITORS = (Visitor(visitor="SUR", name="surveyor", role="surveyor", from_=at(13, "08:00"), until=at(13, "16:00")),)

TABLES = ("spaces", "entries", "operations", "people")


def a_folder(**over: object) -> VoyageFolder:
    """The voyage folder, with keyword overrides."""
    folder = VoyageFolder(
        ship=SHIP, spaces=SPACES, neighbours=NEIGHBOURS, openings=OPENINGS, outlets=OUTLETS, outlet_tanks=OUTLET_TANKS,
        lines=LINES, gear=GEAR, policy=Policy(), people=PEOPLE, duties=DUTIES, past_hours=PAST,
        week=Week(start=MONDAY, days=DAYS, meals=((time(12), time(13)),)),
        clocks=(ClockStep(at=MONDAY, offset=timedelta(0)),),
        legs=LEGS, places=PLACES, conditions=CONDITIONS, contents=CONTENTS, cargoes=CARGOES, operations=OPERATIONS,
        entries=ENTRIES, visitors=VISITORS, weather=WEATHER,
        rows=tuple((table, RowCount(read=9, taken=8, blank=1)) for table in TABLES),
        digest="d" * 64, forecast_digest="f" * 64, seen_digest="s" * 64,
    )  # fmt: skip
    return replace(folder, **over)  # type: ignore[arg-type]


def named(duties: Iterable[tuple[str, str]]) -> tuple[Named, ...]:
    """People with their duties."""
    return tuple(Named(person=person, duty=duty) for person, duty in duties)


IN_CHARGE = ("CO", "officer in charge")
RIGGERS = (("BSN", "rigging"), ("AB1", "rigging"))
OUTSIDE = (("BSN", "attendant"), IN_CHARGE, *((person, "rescue on call") for person in LOOKOUT))
INSIDE = (("AB1", "entrant"), ("AB2", "entrant"))
FANS = (Held(gear="FAN", count=2),)
TEST_GEAR = (*FANS, Held(gear="GI2", count=1))
INSIDE_GEAR = (
    *FANS, Held(gear="PM", count=3), Held(gear="BA", count=2), Held(gear="RES", count=1), Held(gear="TRI", count=1),
    Held(gear="LMP", count=3), Held(gear="UHF", count=4), Held(gear="GI2", count=1),
)  # fmt: skip


def a_phase(
    phase: str, start: datetime, minutes: int, people: Iterable[tuple[str, str]], *, session: int | None = None,
    entrance: str | None = None, gear: tuple[Held, ...] = (),
) -> PlannedPhase:  # fmt: skip
    """A phase of so many minutes."""
    return PlannedPhase(
        phase=phase, start=start, end=start + minutes * MINUTE, session=session, entrance=entrance,
        people=named(people), gear=gear,
    )  # fmt: skip


def a_stay(
    entry: str, space: str, *, brief: datetime, tests: tuple[datetime, ...], inside_min: tuple[int, ...], entrance: str,
    prover: str = "", devices: tuple[str, ...] = (),
) -> PlannedEntry:  # fmt: skip
    """An entry in time: a day of fans, a test and a session each, closing up."""
    isolate, ventilate = brief + 15 * MINUTE, brief + 60 * MINUTE
    inside = (*INSIDE, *((((prover, "gas tester"),)) if prover else ()))
    everybody = dict((*RIGGERS, *OUTSIDE, *inside))
    phases = [
        a_phase("brief", brief, 15, everybody.items(), session=1),
        a_phase("isolate", isolate, 45, (IN_CHARGE, RIGGERS[0])),
        a_phase("ventilate", ventilate, (tests[0] - ventilate) // MINUTE, RIGGERS, gear=FANS),
    ]
    for number, (start, length) in enumerate(zip(tests, inside_min, strict=True), 1):
        if number > 1:
            phases.append(a_phase("brief", start - 15 * MINUTE, 15, everybody.items(), session=number))
        testers = (IN_CHARGE, ("CO", "gas tester"))
        phases.append(a_phase("test", start, 30, testers, session=number, gear=TEST_GEAR))
        people = (*(inside if number == 1 else INSIDE), *OUTSIDE)
        enter = start + 30 * MINUTE
        phases.append(a_phase("enter", enter, length, people, session=number, entrance=entrance, gear=INSIDE_GEAR))
    phases.append(a_phase("restore", phases[-1].end, 60, (IN_CHARGE, *RIGGERS)))
    return PlannedEntry(
        entry=entry, space=space, outcome="planned", phases=tuple(phases),
        isolation=tuple(Shut(device=device, action="close and lock", because="", tell="") for device in devices),
        air=Air(
            method="two fans", hours=(tests[0] - ventilate) / timedelta(hours=1), fans=FANS, mixing_factor=3.0,
            because="", source="",
        ),
    )  # fmt: skip


def the_stays() -> tuple[PlannedEntry, ...]:
    """Three entries that stand, and one left out."""
    return (
        a_stay(
            "E1", "3P", brief=at(10, "08:00"), tests=(at(11, "08:00"),), inside_min=(120,), entrance="3P-F",
            devices=("BA3P", "BB3P"),
        ),
        a_stay(
            "E2", "FV", brief=at(8, "10:45"), tests=(at(9, "08:00"), at(9, "13:30")), inside_min=(210, 120),
            entrance="FV-H", prover="PMP", devices=("FVB",),
        ),
        a_stay(
            "E3", "C4", brief=at(12, "13:00"), tests=(at(13, "09:00"),), inside_min=(120,), entrance="C4-H",
            devices=("CR4",),
        ),
        PlannedEntry(entry="E4", space="3S", outcome="left out"),
    )  # fmt: skip


def the_operations() -> tuple[PlannedOperation, ...]:
    """Where the plan has the operations."""
    times = {
        "OUT3": (at(8, "18:00"), at(8, "22:00")), "IN3": (at(11, "12:00"), at(11, "16:00")),
        **{o.operation: (o.start, o.end) for o in OPERATIONS if o.start is not None},
    }  # fmt: skip
    return tuple(
        PlannedOperation(
            operation=o.operation, start=times[o.operation][0], end=times[o.operation][1], moved=o.movable,  # type: ignore[arg-type]
            people=named([("AB7", "rigging")] if o.operation == "OUT3" else []),
        )
        for o in OPERATIONS
    )  # fmt: skip


def a_plan(folder: VoyageFolder | None = None, **over: object) -> Plan:
    """A plan of the folder that keeps every rule, with keyword overrides."""
    folder = folder if folder is not None else a_folder()
    entries, operations = the_stays(), the_operations()
    plan = Plan(
        ship=SHIP.name, week_start=MONDAY, week_end=folder.week.end, known_at=at(7, "18:00"),
        policy={key: str(value) for key, value in folder.policy.in_force().items()}, overrides=(),
        valid_until=at(8, "18:00"),
        inputs=Inputs(
            digest=folder.digest, forecast_digest=folder.forecast_digest, forecast_issued=at(7, "18:00"),
            rule_set="MSC.581",
        ),
        standing="best found", proof=Proof(levels=(), confirmed_by="", effort=0.0, solver="", seed=0),
        entries=entries, operations=operations,
        speeds=(
            PlannedSpeed(
                start=at(8, "00:00"), end=at(12, "00:00"), speed_kn=12.0, heading_deg=180.0, heaving_to=False,
                because="",
            ),
        ),
        arrivals=(
            Arrival(
                leg="P1", place="", planned=at(12, "00:00"), arrive_by=at(12, "00:00"), expected=at(12, "00:00"),
                fuel_t=None, fuel_t_without_easing=None,
            ),
        ),
        counts=Counts(
            entries=EntryCounts(asked=4, planned=3, left_out=1, broken_off=0),
            operations=OperationCounts(asked=5, placed=5),
            rows={table: Rows(read=9, taken=8, blank=1) for table in TABLES},
        ),
        permissions=(AskFor(place="Ruddock Roads", what="entries", ask_by=at(11, "00:00"), answer=""),),
        visitors=(Attends(visitor="SUR", entry="E3", session=1),),
    )  # fmt: skip
    return with_rest(folder, replace(plan, **over))  # type: ignore[arg-type]


def a_week_of(
    stay: PlannedEntry, entry: Entry, operations: tuple[Operation, ...] = (), plan: dict[str, object] | None = None,
    **over: object,
) -> tuple[VoyageFolder, Plan]:  # fmt: skip
    """A folder that asks for one entry only, and a plan that has it so; keyword overrides for the folder."""
    folder = a_folder(entries=(entry,), operations=operations, **over)
    placed = tuple(
        PlannedOperation(operation=o.operation, start=o.start, end=o.end or folder.week.end, moved=False)
        for o in operations
        if o.start is not None
    )
    counts = Counts(
        entries=EntryCounts(asked=1, planned=1, left_out=0, broken_off=0),
        operations=OperationCounts(asked=len(operations), placed=len(placed)),
        rows={table: Rows(read=9, taken=8, blank=1) for table in TABLES},
    )
    given = {"entries": (stay,), "operations": placed, "counts": counts, **(plan or {})}
    return folder, a_plan(folder, **given)


@cache
def the_good_week() -> tuple[VoyageFolder, Plan]:
    """Folder and plan, made once: they are frozen."""
    folder = a_folder()
    return folder, a_plan(folder)


def with_rest(folder: VoyageFolder, plan: Plan) -> Plan:
    """The plan with its figures of rest counted anew."""
    return replace(plan, rest=tuple(rest_row(folder, plan, person) for person in folder.people))


def rest_row(folder: VoyageFolder, plan: Plan, person: Person) -> RestRow:
    """Figures of rest, counted minute by minute over an array of the known minutes."""
    start, working = minutes_of_work(folder, plan, person)
    week = max(0, (folder.week.start - start) // MINUTE)
    known = len(working)
    least_day, least_week = _least(working, 24 * 60, week), _least(working, 7 * 24 * 60, week)
    longest = max((end - begin for begin, end in _runs(working) if end > week), default=0)
    return RestRow(
        person=person.person, least_24h=least_day, least_7d=least_week, longest_work_h=round(longest / 60, 2),
        verdict="kept" if known >= 7 * 24 * 60 else "unknown", because="",
    )  # fmt: skip


def minutes_of_work(folder: VoyageFolder, plan: Plan, person: Person) -> tuple[datetime, list[bool]]:
    """The first known minute, and for each known minute whether it is work or a break of under an hour."""
    name = person.person
    history = any(past.person == name for past in folder.past_hours)
    joined = min(max(person.joins or folder.week.start, folder.week.start), folder.week.end)
    start = folder.week.start - timedelta(days=7) if history else joined
    working = [False] * ((folder.week.end - start) // MINUTE)
    for begin, end in _all_work(folder, plan, name):
        first, last = (begin - start) // MINUTE, -((start - end) // MINUTE)
        for minute in range(max(0, first), min(len(working), last)):
            working[minute] = True
    return start, _short_breaks_filled(working)


def _all_work(folder: VoyageFolder, plan: Plan, name: str) -> Iterable[tuple[datetime, datetime]]:
    for given in (*folder.duties, *folder.past_hours):
        if given.person == name:
            yield given.start, given.end
    for operation in plan.operations:
        if any(who.person == name for who in operation.people):
            yield operation.start, operation.end
    for phase in (phase for entry in plan.entries for phase in entry.phases):
        duties = {who.duty for who in phase.people if who.person == name}
        if duties - ({"rescue on call"} if phase.phase == "enter" else set()):
            short = phase.phase == "ventilate"
            yield phase.start, min(phase.end, phase.start + 30 * MINUTE) if short else phase.end


def _short_breaks_filled(working: list[bool]) -> list[bool]:
    filled, last = list(working), None
    for minute, works in enumerate(working):
        if works:
            if last is not None and minute - last - 1 < 60:
                filled[last + 1 : minute] = [True] * (minute - last - 1)
            last = minute
    return filled


def _least(working: list[bool], length: int, week: int) -> float | None:
    """The least rest over every window of so many minutes that ends at the week's first instant or later."""
    if len(working) < length:
        return None
    rest = [0]
    for works in working:
        rest.append(rest[-1] + (not works))
    ends = range(max(length, week), len(working) + 1)
    return round(min(rest[end] - rest[end - length] for end in ends) / 60, 2)


def _runs(working: list[bool]) -> list[tuple[int, int]]:
    runs, begin = [], None
    for minute, works in enumerate([*working, False]):
        if works and begin is None:
            begin = minute
        elif not works and begin is not None:
            runs.append((begin, minute))
            begin = None
    return runs
