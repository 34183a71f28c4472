"""How many spaces are manned, open and under hot work at once."""

from __future__ import annotations

from scheduler.domain.restrictions import OPEN, OUT_OF_USE, GearNeed, KeepApart, Phase, Stock
from scheduler.rules.at_once import at_once
from tests.builders import START, a_berth, a_folder, a_leg, an_entry, at, policy, two_manholes


def stocks(resource: str, **over: object) -> list[tuple[object, object, int]]:
    found = [each for each in at_once(a_folder(**over)) if isinstance(each, Stock) and each.resource == resource]
    return [(each.start, each.end, each.count) for each in found]


def needs(resource: str, **over: object) -> list[GearNeed]:
    return [each for each in at_once(a_folder(**over)) if isinstance(each, GearNeed) and each.resource == resource]


def test_one_manned_three_open_one_with_hot_work() -> None:
    week = (START, a_folder().week.end)
    assert stocks("manned") == [(*week, 1)]
    assert stocks("open") == [(*week, 3)]
    assert stocks("hot work") == [(*week, 1)]


def test_under_way_two_on_the_weather_deck_alongside_as_many_as_may_be_open() -> None:
    legs = (a_leg(end=at(3, "06:00")), a_berth(start=at(3, "06:00")))
    end = a_folder().week.end
    deck = "open on the weather deck under way"
    assert stocks(deck, legs=legs) == [(START, at(3, "06:00"), 2), (at(3, "06:00"), end, 3)]


def test_a_quarter_of_an_hour_that_touches_the_passage_counts_as_under_way() -> None:
    legs = (a_leg(end=at(3, "06:05")), a_berth(start=at(3, "06:05")))
    deck = stocks("open on the weather deck under way", legs=legs)
    assert [each[1] for each in deck] == [at(3, "06:15"), a_folder().week.end]


def test_drifting_is_under_way_and_so_is_a_time_without_a_leg() -> None:
    legs = (a_leg(kind="drifting", end=at(3, "06:00")),)
    assert [each[2] for each in stocks("open on the weather deck under way", legs=legs)] == [2]


def test_a_space_counts_as_manned_in_its_test_and_session_and_as_open_throughout() -> None:
    assert [each.phases for each in needs("manned")] == [(Phase.TEST, Phase.ENTER)]
    assert [each.phases for each in needs("open")] == [OPEN]


def test_only_ways_in_on_the_weather_deck_count_there() -> None:
    deck = "open on the weather deck under way"
    assert len(needs(deck)) == 1
    assert not needs(deck, openings=two_manholes("3P", on_weather_deck=False))


def test_only_hot_work_counts_as_hot_work() -> None:
    assert not needs("hot work")
    assert len(needs("hot work", entries=(an_entry(work="hot work"),))) == 1


def test_two_entries_into_one_space_follow_each_other() -> None:
    entries = (an_entry("E1"), an_entry("E2"), an_entry("E3", "3S"))
    (apart,) = [each for each in at_once(a_folder(entries=entries)) if isinstance(each, KeepApart)]
    assert (apart.entry, apart.other, apart.phases, apart.other_phases) == ("E1", "E2", OUT_OF_USE, OUT_OF_USE)


def test_policy_sets_the_numbers() -> None:
    assert [each[2] for each in stocks("manned", policy=policy(at_once__manned=2))] == [2]
