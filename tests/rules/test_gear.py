"""Gear, and the dates of the instruments."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta
from typing import Any

import pytest

from scheduler.domain.restrictions import Caution, GearNeed, Phase, Refusal, Stock
from scheduler.domain.ship import Gear
from scheduler.domain.voyage import ClockStep
from scheduler.rules.gear import gear as rule
from tests.builders import START, a_cargo, a_folder, a_space, an_entry, at, content, gear


def needs(**over: Any) -> dict[str, int]:
    return {each.resource: each.count for each in rule(a_folder(**over)) if isinstance(each, GearNeed)}


def stocks(resource: str, **over: Any) -> list[tuple[Any, Any, int]]:
    rows = [each for each in rule(a_folder(**over)) if isinstance(each, Stock) and each.resource == resource]
    return [(each.start, each.end, each.count) for each in rows]


def refusals(**over: Any) -> list[Refusal]:
    return [each for each in rule(a_folder(**over)) if isinstance(each, Refusal)]


def but(kind: str, **over: Any) -> tuple[Gear, ...]:
    """The usual gear, each piece of one kind changed."""
    return tuple(replace(each, **over) if each.kind == kind else each for each in gear())


def test_what_an_entry_of_two_holds() -> None:
    assert needs() == {
        "gas instrument": 1,
        "personal meter": 2,
        "lamp": 2,
        "radio": 3,
        "breathing set": 2,
        "resuscitator": 1,
        "lifting gear": 1,
    }


def test_the_instrument_is_held_from_the_test_to_the_last_out_of_a_session() -> None:
    (row,) = [each for each in rule(a_folder()) if isinstance(each, GearNeed) and each.resource == "gas instrument"]
    assert row.phases == (Phase.TEST, Phase.ENTER)


def test_the_gas_tester_of_a_proving_session_and_visitors_have_their_own_meters() -> None:
    found = needs(spaces=(a_space(reach="proving session"),), entries=(an_entry(needs=("SURVEYOR",)),))
    assert (found["personal meter"], found["lamp"]) == (4, 4)


def test_an_instrument_counts_to_the_end_of_its_last_date_in_ships_time() -> None:
    # Ship's time is three hours behind UTC: Wednesday 10 March ends at 03:00 UTC on Thursday.
    clocks = (ClockStep(at=START - timedelta(days=1), offset=timedelta(hours=-3)),)
    found = stocks("gas instrument", gear=but("gas instrument", due=date(2027, 3, 10)), clocks=clocks)
    assert found == [(START, at(4, "03:00"), 1)] * 2


def test_an_instrument_out_of_date_before_the_week_is_not_there() -> None:
    (refused,) = refusals(gear=but("gas instrument", due=date(2027, 3, 7)))
    assert "gas instrument" in refused.because
    assert not refusals(gear=but("gas instrument", due=date(2027, 3, 8)))
    assert not stocks("gas instrument", gear=but("gas instrument", due=date(2027, 3, 7)))


@pytest.mark.parametrize("lacking", ["oxygen", "lfl", "co2", "h2s", "co"])
def test_an_instrument_that_does_not_measure_everything_does_not_count_and_says_so(lacking: str) -> None:
    measures = tuple(each for each in ("oxygen", "lfl", "co2", "h2s", "co") if each != lacking)
    rows = list(rule(a_folder(gear=but("gas instrument", measures=measures))))
    assert [each for each in rows if isinstance(each, Refusal)]
    assert all(f"does not measure {lacking}" in each.text for each in rows if isinstance(each, Caution))


def test_an_instrument_without_a_date_does_not_count() -> None:
    assert refusals(gear=but("gas instrument", due=None))


@pytest.mark.parametrize(
    "kind", ["gas instrument", "personal meter", "lamp", "radio", "breathing set", "resuscitator", "lifting gear"]
)
def test_a_kind_that_is_not_on_board_refuses_the_entry_and_names_the_table(kind: str) -> None:
    (refused,) = refusals(gear=tuple(each for each in gear() if each.kind != kind))
    assert kind in refused.because
    assert "gear.csv" in refused.because


@pytest.mark.parametrize(("count", "refused"), [(1, True), (2, False), (3, False)])
def test_two_breathing_sets_are_wanted(count: int, *, refused: bool) -> None:
    assert bool(refusals(gear=but("breathing set", count=count))) is refused


@pytest.mark.parametrize(("cargo", "wanted"), [("OIL", False), ("BAD", True), ("WHO KNOWS", True), (None, True)])
def test_after_a_toxic_or_unknown_cargo_its_own_vapour_is_measured_too(cargo: str | None, *, wanted: bool) -> None:
    over: dict[str, Any] = {
        "entries": (an_entry(tank="C3"),),
        "contents": (content("C3", "gas-free", cargo),),
        "cargoes": (a_cargo("OIL"), a_cargo("BAD", toxic=True)),
    }
    assert ("gas instrument: other" in needs(**over)) is wanted
    assert bool(refusals(**over)) is wanted
    tubes = Gear(gear="tubes", kind="gas instrument", count=1, measures=("other",), due=date(2028, 1, 1))
    assert not refusals(gear=(*gear(), tubes), **over)


def test_every_stock_names_its_pieces() -> None:
    rows = [each for each in rule(a_folder()) if isinstance(each, Stock) and each.resource == "personal meter"]
    assert [each.gear for each in rows] == [f"PM{n}" for n in range(1, 9)]


def test_every_fan_is_a_stock_of_its_own() -> None:
    assert [each[2] for each in stocks("fan")] == [4]
