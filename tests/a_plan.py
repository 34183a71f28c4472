"""A plan of the small invented week, made by hand: for tests of what is written and shown.

The plan keeps no rule and need not: nothing here is solved or checked. Ship, people and places are invented.
"""

from __future__ import annotations

from datetime import timedelta

from scheduler.domain.plan import (
    Air,
    Arrival,
    AskFor,
    Attends,
    Band,
    Counts,
    Course,
    Easing,
    EmptySet,
    EntryCounts,
    Held,
    Inputs,
    Level,
    Named,
    OperationCounts,
    Order,
    Override,
    Plan,
    PlannedEntry,
    PlannedOperation,
    PlannedPhase,
    PlannedSpeed,
    Proof,
    Ready,
    Reason,
    RestRow,
    Rows,
    Shut,
    Tell,
    Warned,
    WouldFit,
)
from scheduler.domain.restrictions import OPEN, OUT_OF_USE, KeepApart, KeepClear, KeepOrder, Phase, SpeedLimit
from scheduler.domain.source import Source, SourceKind
from tests.a_folder import START, at

SOLAS_10_M = Source(kind=SourceKind.PUBLISHED, text="SOLAS II-2/4.5.3.4")
OURS = Source(kind=SourceKind.OUR_CHOICE, text="")


def _crew(*pairs: tuple[str, str]) -> tuple[Named, ...]:
    return tuple(Named(person=person, duty=duty) for person, duty in pairs)


_INSIDE = _crew(
    ("bo", "entrant"),
    ("a1", "entrant"),
    ("a2", "attendant"),
    ("co", "officer in charge"),
    ("a3", "rescue on call"),
    ("o1", "rescue on call"),
)
_FANS = (Held(gear="water-driven fan", count=2),)


def _e1() -> PlannedEntry:
    return PlannedEntry(
        entry="E1",
        space="4P",
        outcome="planned",
        phases=(
            PlannedPhase(phase="brief", start=at(9, "05:00"), end=at(9, "05:15"), session=1, people=_INSIDE),
            PlannedPhase(
                phase="isolate",
                start=at(9, "05:15"),
                end=at(9, "06:00"),
                people=_crew(("co", "officer in charge"), ("a3", "rigging")),
            ),
            PlannedPhase(
                phase="ventilate",
                start=at(9, "06:00"),
                end=at(10, "05:30"),
                people=_crew(("bo", "rigging"), ("a1", "rigging")),
                gear=_FANS,
            ),
            PlannedPhase(
                phase="test",
                start=at(10, "05:30"),
                end=at(10, "06:00"),
                session=1,
                people=_crew(("co", "officer in charge"), ("co", "gas tester")),
                gear=_FANS,
            ),
            PlannedPhase(
                phase="enter",
                start=at(10, "06:00"),
                end=at(10, "09:00"),
                session=1,
                entrance="MH-4PA",
                people=_INSIDE,
                gear=_FANS,
            ),
            PlannedPhase(
                phase="restore",
                start=at(10, "09:00"),
                end=at(10, "10:00"),
                people=_crew(("co", "officer in charge"), ("bo", "rigging"), ("a1", "rigging")),
            ),
        ),
        easing=(
            Easing(
                start=at(10, "05:30"),
                end=at(10, "09:00"),
                speed_kn=8.0,
                heaving_to=False,
                because="swell of 2.4 m on the bow; light work wants 8 kn or less.",
            ),
        ),
        isolation=(
            Shut(
                device="BV-41",
                action="close, lock and tag",
                because="one of two closed devices between 4P and the ballast main",
                tell="chief officer",
            ),
            Shut(
                device="BV-42",
                action="close, lock and tag",
                because="the second closed device between 4P and the ballast main",
                tell="engine room",
            ),
        ),
        air=Air(
            method="two fans, ducted to the bottom",
            hours=10.5,
            fans=_FANS,
            mixing_factor=6.0,
            because="oxygen from 0 % to 20.9 % in 900 m3",
            source="CDC, MMWR 1994;43(RR-13) Table S3-1 (published)",
        ),
        tell=(Tell(who="bridge", when="before isolate", what="No. 4 port ballast line is out of use"),),
        records=("permit to enter",),
        cautions=("Oxygen at the start is our choice until the test.",),
    )


def _left_out() -> tuple[PlannedEntry, ...]:
    return (
        PlannedEntry(
            entry="E2",
            space="5S",
            outcome="left out",
            reasons=(
                Reason(rule="air", share=1.0, because="The volume of 5S is not given (spaces.csv, column volume_m3)."),
            ),
            would_fit_if=(
                WouldFit(change="the volume of 5S is given", then="E2 fits on Thursday morning; nothing else moves."),
            ),
        ),
        PlannedEntry(
            entry="E3",
            space="AV",
            outcome="left out",
            reasons=(
                Reason(rule="vapour", share=0.62, because="Outlet PV-3 blows within 10 m of MH-AV while 3C is purged."),
                Reason(rule="hours", share=0.55, because="Outside working hours of ship's time, and night is no."),
            ),
        ),
    )


def a_plan() -> Plan:
    """A plan of that week: one entry in, two out, the ship eased for three hours and a half."""
    return Plan(
        ship="Tern Hollow",
        week_start=START,
        week_end=at(15, "00:00"),
        known_at=at(8, "00:00"),
        policy={"grid_min": "15", "at_once.open": "4"},
        overrides=(Override(key="at_once.open", value="4", published="3", source="our choice"),),
        valid_until=at(8, "18:00"),
        supposed=(),
        replaces="",
        orders=(Order(file="orders/berth.csv", digest="01" * 32, received=at(8, "00:00")),),
        inputs=Inputs(
            digest="ab" * 32, forecast_digest="cd" * 32, forecast_issued=START - timedelta(hours=6), rule_set="MSC.581"
        ),
        standing="best found",
        proof=Proof(
            levels=(
                Level(name="entries of priority 1", value=0.0, bound=0.0, met=True),
                Level(name="minutes late", value=0.0, bound=0.0, met=True),
                Level(name="entries of priority 2", value=1.0, bound=1.0, met=True),
                Level(name="hours of easing", value=3.5, bound=2.5, met=False),
                Level(name="entries of priority 3", value=0.0, bound=1.0, met=False),
                Level(name="comfort", value=41.0, bound=20.0, met=False),
            ),
            confirmed_by="",
            effort=12.25,
            solver="CP-SAT 9.15",
            seed=7,
        ),
        entries=(_e1(), *_left_out()),
        operations=(
            PlannedOperation(
                operation="BW-OUT",
                start=at(8, "10:00"),
                end=at(8, "13:00"),
                moved=True,
                people=_crew(("o1", "cargo watch")),
            ),
            PlannedOperation(operation="STN-1", start=at(12, "05:00"), end=at(12, "07:00"), moved=False),
        ),
        speeds=(
            PlannedSpeed(
                start=START,
                end=at(10, "05:00"),
                speed_kn=13.0,
                heading_deg=214.5,
                heaving_to=False,
                because="the planned speed",
            ),
            PlannedSpeed(
                start=at(10, "05:00"),
                end=at(10, "09:00"),
                speed_kn=8.0,
                heading_deg=214.5,
                heaving_to=False,
                because="eased for E1",
            ),
            PlannedSpeed(
                start=at(10, "09:00"),
                end=at(12, "06:00"),
                speed_kn=13.4,
                heading_deg=214.5,
                heaving_to=False,
                because="making good the time",
            ),
        ),
        arrivals=(
            Arrival(
                leg="L1",
                place="Cape Wender",
                planned=at(12, "06:00"),
                arrive_by=at(12, "08:00"),
                expected=at(12, "06:20"),
                fuel_t=Band(low=86.5, high=92.0),
                fuel_t_without_easing=Band(low=88.0, high=93.5),
            ),
        ),
        keep_clear=(
            KeepClear(
                entry="E1",
                phases=OPEN,
                start=at(12, "03:00"),
                end=at(12, "07:00"),
                rule="ship handling",
                because="Stations from 08:00.",
                source=OURS,
            ),
            KeepClear(
                entry="E1",
                phases=(Phase.TEST, Phase.ENTER),
                start=at(9, "00:00"),
                end=at(9, "04:00"),
                rule="motion",
                because="No weather basis.",
                source=OURS,
            ),
            KeepClear(
                entry="BW-OUT",
                phases=(Phase.EMPTIED,),
                start=at(11, "00:00"),
                end=at(12, "00:00"),
                rule="condition",
                because="Sea above 3 m.",
                source=OURS,
            ),
        ),
        keep_apart=(
            KeepApart(
                entry="E3",
                phases=OPEN,
                other="PURGE-3C",
                start=at(9, "06:00"),
                end=at(9, "07:00"),
                gap_after_min=30,
                rule="vapour",
                because="PV-3 is 8.2 m from MH-AV.",
                source=SOLAS_10_M,
            ),
            KeepApart(
                entry="E1",
                phases=OUT_OF_USE,
                other="E3",
                other_phases=OPEN,
                rule="lines",
                because="Both want BV-42.",
                source=OURS,
            ),
        ),
        keep_order=(
            KeepOrder(
                first="BW-OUT",
                then="E1",
                rule="contents",
                because="4P holds ballast until BW-OUT is over.",
                source=OURS,
            ),
            KeepOrder(
                first="E1",
                then="BW-IN",
                gap_min=15,
                either="contents E1",
                branch=1,
                rule="contents",
                because="Before it is filled again.",
                source=OURS,
            ),
        ),
        speed_limits=(
            SpeedLimit(
                entry="E1",
                phases=(Phase.TEST, Phase.ENTER),
                start=at(10, "00:00"),
                end=at(10, "12:00"),
                limit_kn=8.0,
                rule="motion",
                because="Sea of 2.4 m.",
                source=OURS,
            ),
        ),
        rest=(
            RestRow(person="co", least_24h=12.0, least_7d=88.25, longest_work_h=9.0, verdict="kept", because=""),
            RestRow(
                person="o1",
                least_24h=None,
                least_7d=None,
                longest_work_h=None,
                verdict="unknown",
                because="No past hours are given.",
            ),
        ),
        counts=Counts(
            entries=EntryCounts(asked=3, planned=1, left_out=2, broken_off=0),
            operations=OperationCounts(asked=2, placed=2),
            rows={"entries": Rows(read=4, taken=3, blank=1), "spaces": Rows(read=3, taken=3, blank=0)},
        ),
        conditions=(EmptySet(start=at(8, "10:00"), end=at(11, "02:00"), condition="B2", empty=("4P",), set_used="4P"),),
        permissions=(AskFor(place="Wender roads", what="entries", ask_by=at(11, "06:00"), answer="open"),),
        visitors=(Attends(visitor="surveyor", entry="E1", session=1),),
        ready=(
            Ready(what="STN-1", all_closed_by=at(10, "10:00"), lines_back_by=at(10, "10:00"), margin_min=2460),
            Ready(what="L2", all_closed_by=at(10, "10:00"), lines_back_by=at(10, "10:00"), margin_min=2640),
        ),
        stop_now=(),
        courses=(
            Course(
                start=at(10, "05:00"),
                end=at(10, "09:00"),
                from_deg=240.0,
                to_deg=270.0,
                because="The swell on the quarter would spare the easing.",
            ),
        ),
        cautions=(
            Warned(
                text="The oxygen in AV starts from 0 %: closed longer than is known.",
                table="contents",
                row=4,
                entry="E3",
            ),
            Warned(text="at_once.open is 4, looser than 3 (our choice).", table="policy"),
            *(
                Warned(
                    text=f"Row {row} of cargoes.csv is blank where the flash point stands; the cautious value holds.",
                    table="cargoes",
                    row=row,
                )
                for row in range(2, 7)
            ),
        ),
    )
