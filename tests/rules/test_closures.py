"""What stands open on the weather deck under way by night."""

from __future__ import annotations

from typing import Any

import pytest

from scheduler.domain.restrictions import MANNED, KeepClear, Notice
from scheduler.rules.closures import closures
from tests.builders import a_berth, a_folder, a_leg, a_space, an_entry, an_opening, at


def clear(*openings: Any, **over: Any) -> list[KeepClear]:
    given = {"openings": openings or (an_opening("3P"),)}
    return [each for each in closures(a_folder(**(given | over))) if isinstance(each, KeepClear)]


def test_under_way_by_night_nobody_tests_or_enters_from_the_weather_deck() -> None:
    found = clear()
    assert {each.phases for each in found} == {MANNED}
    # the ship is at 30°W on UTC: local midnight is 02:00, local noon 14:00
    assert any(each.start < at(3, "02:00") < each.end for each in found)
    assert not any(each.start < at(3, "14:00") < each.end for each in found)


@pytest.mark.parametrize("legs", [(a_berth(),), (a_leg(kind="anchorage", lies_to="wind"),)])
def test_alongside_and_at_anchor_the_night_closes_nothing(legs: Any) -> None:
    assert clear(legs=legs) == []


def test_another_way_in_under_deck_is_enough() -> None:
    assert clear(an_opening("3P", "DECK"), an_opening("3P", "UNDER", on_weather_deck=False)) == []


def test_an_air_pipe_under_deck_is_no_way_in() -> None:
    assert clear(an_opening("3P", "DECK"), an_opening("3P", "PIPE", kind="air pipe", on_weather_deck=False))


def test_a_space_without_openings_counts_as_open_to_the_deck() -> None:
    assert clear(spaces=(a_space("X"), a_space()), entries=(an_entry(tank="X"),))


def test_the_bridge_is_told_of_the_rounds() -> None:
    (found,) = [each for each in closures(a_folder()) if isinstance(each, Notice)]
    assert (found.who, "every 2 h" in found.what) == ("bridge", True)
