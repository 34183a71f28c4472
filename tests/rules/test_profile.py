"""What a kind of space asks for."""

from __future__ import annotations

from typing import Any

import pytest

from scheduler.domain.restrictions import Caution, KeepApart, KeepClear, Notice, Paper, Phase, Refusal
from scheduler.domain.ship import Contact
from scheduler.rules.profile import profile
from tests.builders import (
    START,
    a_berth,
    a_cargo,
    a_folder,
    a_leg,
    a_space,
    a_visitor,
    an_entry,
    an_opening,
    an_operation,
    at,
    content,
    policy,
    two_manholes,
)


def of(kind: str, *, state: str = "clean and empty", **over: Any) -> list[Any]:
    """What the rule says of an entry into a space T of a kind."""
    given: dict[str, Any] = {
        "spaces": (a_space("T", kind=kind),),
        "openings": two_manholes("T"),
        "neighbours": (),
        "contents": (content("T", state),),
        "entries": (an_entry(tank="T"),),
    }
    return list(profile(a_folder(**(given | over))))


def kinds(rows: list[Any], kind: type) -> list[Any]:
    return [each for each in rows if isinstance(each, kind)]


@pytest.mark.parametrize(
    ("opening", "refused"), [("manhole", False), ("hatch", False), ("door", False), ("air pipe", True)]
)
def test_without_a_way_in_there_is_no_entry(opening: str, *, refused: bool) -> None:
    assert bool(kinds(of("void", openings=(an_opening("T", kind=opening),)), Refusal)) is refused


def test_a_space_that_the_openings_table_does_not_know_is_refused() -> None:
    (refused,) = kinds(of("void", openings=()), Refusal)
    assert "No way in is given" in refused.because


def test_a_duct_keel_wants_two_entrances() -> None:
    assert kinds(of("duct keel", openings=two_manholes("T")[:1]), Refusal)
    assert not kinds(of("duct keel"), Refusal)


def test_a_ballast_tank_wants_two_manholes_and_a_peak_is_content_with_one() -> None:
    assert kinds(of("ballast tank", openings=two_manholes("T")[:1]), Refusal)
    assert not kinds(of("peak tank", openings=two_manholes("T")[:1]), Refusal)


def test_a_fuel_tank_that_the_deck_is_said_to_be_in_charge_of_is_refused() -> None:
    assert kinds(of("fuel tank"), Refusal)
    assert not kinds(of("fuel tank", spaces=(a_space("T", kind="fuel tank", in_charge="engine"),)), Refusal)


def test_a_chain_locker_is_never_out_of_use_at_anchor() -> None:
    anchorage = a_leg("A", kind="anchorage", start=at(3, "00:00"), end=at(5, "00:00"))
    legs = (a_leg(end=at(3, "00:00")), anchorage, a_berth(start=at(5, "00:00")))
    (clear,) = kinds(of("chain locker", legs=legs), KeepClear)
    assert (clear.start, clear.end) == (at(3, "00:00"), at(5, "00:00"))
    assert Phase.ISOLATE in clear.phases
    assert not kinds(of("void", legs=legs), KeepClear)


def test_a_chain_locker_is_in_use_while_nobody_says_where_she_lies() -> None:
    (clear,) = kinds(of("chain locker", legs=(a_berth(start=at(2, "00:00")),)), KeepClear)
    assert (clear.start, clear.end) == (START, at(2, "00:00"))


@pytest.mark.parametrize("operation", ["pilotage", "canal", "restricted waters", "stations"])
def test_a_chain_locker_is_in_use_while_the_anchors_are_kept_ready(operation: str) -> None:
    (clear,) = kinds(of("chain locker", operations=(an_operation("X", operation),)), KeepClear)
    assert (clear.start, clear.end) == (at(2, "10:00"), at(2, "12:00"))


def test_a_restricted_leg_keeps_the_anchors_ready() -> None:
    legs = (a_leg(end=at(2, "00:00"), restricted=True), a_berth(start=at(2, "00:00")))
    (clear,) = kinds(of("chain locker", legs=legs), KeepClear)
    assert (clear.start, clear.end) == (START, at(2, "00:00"))


@pytest.mark.parametrize("kind", ["pump room", "duct keel"])
@pytest.mark.parametrize(("operation", "barred"), [("discharge", True), ("ballast out", True), ("stores", False)])
def test_pumps_stand_still_while_pump_room_or_duct_keel_is_out_of_use(
    kind: str, operation: str, *, barred: bool
) -> None:
    fixed = an_operation("X", operation, spaces=())
    assert bool(kinds(of(kind, operations=(fixed,)), KeepClear)) is barred
    movable = an_operation("X", operation, spaces=(), hours=2.0)
    assert bool(kinds(of(kind, operations=(movable,)), KeepApart)) is barred


def test_two_fresh_water_tanks_are_never_out_of_use_together() -> None:
    tanks = (a_space("FWP", kind="fresh-water tank"), a_space("FWS", kind="fresh-water tank"))
    entries = (an_entry("E1", "FWP"), an_entry("E2", "FWS"), an_entry("E3", "FWS"))
    openings = (*two_manholes("FWP"), *two_manholes("FWS"))
    found = kinds(of("void", spaces=tanks, entries=entries, openings=openings), KeepApart)
    assert [(each.entry, each.other) for each in found] == [("E1", "E2"), ("E1", "E3")]


@pytest.mark.parametrize(("contact", "refused"), [("opening", True), ("bulkhead", False)])
def test_a_space_joined_to_a_fumigated_hold_is_refused(contact: str, *, refused: bool) -> None:
    over: dict[str, Any] = {
        "spaces": (a_space("T", kind="stool"), a_space("H", kind="hold")),
        "neighbours": (Contact(space="T", neighbour="H", contact=contact),),
        "contents": (content("T"), content("H", "fumigated", "GRAIN")),
    }
    assert bool(kinds(of("stool", **over), Refusal)) is refused


@pytest.mark.parametrize(("uses", "said"), [(True, True), (None, True), (False, False)])
def test_a_cargo_that_uses_oxygen_makes_its_hold_and_what_is_joined_to_it_foul(
    uses: bool | None, *, said: bool
) -> None:
    over: dict[str, Any] = {
        "spaces": (a_space("T", kind="stool"), a_space("H", kind="hold")),
        "neighbours": (Contact(space="T", neighbour="H", contact="opening"),),
        "contents": (content("T"), content("H", "cargo", "COAL")),
        "cargoes": (a_cargo("COAL", kind="solid", uses_oxygen=uses),),
    }
    assert any("oxygen" in each.text for each in kinds(of("stool", **over), Caution)) is said


def test_what_lies_next_door_decides_what_is_tested() -> None:
    over: dict[str, Any] = {
        "spaces": (a_space("T", kind="void"), a_space("C", kind="cargo tank"), a_space("B")),
        "neighbours": (
            Contact(space="T", neighbour="C", contact="corner"),
            Contact(space="T", neighbour="B", contact="bulkhead"),
        ),
        "contents": (content("T"), content("C", "cargo", "OIL"), content("B", "ballast")),
    }
    (notice,) = [each for each in kinds(of("void", **over), Notice) if each.who == "gas tester"]
    assert notice.what == "test T for what lies next to it: C"


def test_papers_follow_the_work() -> None:
    plain = {each.record for each in kinds(of("void"), Paper)}
    assert plain == {
        "enclosed-space entry permit", "risk assessment", "isolation list with tags", "record of gas tests",
    }  # fmt: skip
    hot = of(
        "void",
        entries=(an_entry(tank="T", work="hot work", needs=("CHEMIST",), reference="WO 7"),),
        visitors=(a_visitor("CHEMIST", role="chemist"),),
    )
    assert {each.record for each in kinds(hot, Paper)} - plain == {
        "hot-work permit", "chemist's certificate", "work order WO 7",
    }  # fmt: skip


def test_a_pump_room_tested_with_its_fans_running_is_a_caution() -> None:
    running = kinds(of("pump room", policy=policy(pump_room__test="running")), Caution)
    assert [each.weight for each in running] == [3]
    assert not kinds(of("pump room"), Caution)
