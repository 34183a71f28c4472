"""Which ballast spaces may stand empty together."""

from __future__ import annotations

from typing import Any

import pytest

from scheduler.domain.operations import Operation
from scheduler.domain.restrictions import Caution, KeepApart, KeepClear, Phase, Refusal, Restriction
from scheduler.rules.condition import condition
from tests.builders import (
    START,
    a_berth,
    a_condition,
    a_folder,
    a_forecast,
    a_space,
    an_entry,
    an_operation,
    at,
    content,
)

TANKS = ("2P", "2S", "3P", "3S", "4P")
PAIR_2, PAIR_3 = frozenset({"2P", "2S"}), frozenset({"3P", "3S"})


def out(name: str, *spaces: str, **over: Any) -> Operation:
    return an_operation(name, "ballast out", spaces=spaces, **over)


def found(
    *operations: Operation, listed: tuple[frozenset[str], ...] = (PAIR_2, PAIR_3), **over: Any
) -> list[Restriction]:
    """What the rule says of a week with full tanks 2P 2S 3P 3S 4P, and sets that may be empty."""
    given: dict[str, Any] = {
        "spaces": tuple(a_space(tank) for tank in TANKS),
        "contents": tuple(content(tank, "ballast") for tank in TANKS),
        "conditions": (a_condition(*TANKS, may_be_empty=listed),),
        "operations": operations,
        "entries": (an_entry(tank="2P"),),
    }
    return list(condition(a_folder(**(given | over))))


def of(kind: type, restrictions: list[Restriction]) -> list[Any]:
    return [each for each in restrictions if isinstance(each, kind)]


def test_a_listed_pair_may_be_emptied() -> None:
    assert not found(out("O2", "2P", "2S"))


@pytest.mark.parametrize("spaces", [("2P",), ("2P", "2S", "3P")])
def test_less_or_more_than_a_listed_set_is_not_that_set(spaces: tuple[str, ...]) -> None:
    said = found(out("O", *spaces))
    assert [each.entry for each in of(Refusal, said)] == ["E1"]
    assert [each.weight for each in of(Caution, said) if "instrument" in each.text] == [0]


def test_without_any_condition_nothing_may_be_emptied_and_no_ballast_space_is_entered() -> None:
    assert {each.entry for each in of(Refusal, found(out("O2", "2P", "2S"), conditions=()))} == {"E1"}
    assert {each.entry for each in of(Refusal, found(conditions=()))} == {"E1"}


def test_a_ballast_space_is_not_entered_in_a_time_without_a_condition() -> None:
    said = found(conditions=(a_condition(end=at(3, "00:00")),))
    assert [(each.entry, each.start) for each in of(KeepClear, said)] == [("E1", at(3, "00:00"))]


def test_a_space_that_never_holds_ballast_needs_no_condition() -> None:
    assert not found(conditions=(), entries=(an_entry(tank="V"),), spaces=(a_space("V", kind="void"),), contents=())


def test_a_space_that_the_condition_does_not_have_full_does_not_count() -> None:
    row = a_condition("2P", "2S", may_be_empty=(PAIR_2,))
    assert not found(out("O", "2P", "2S", "4P"), conditions=(row,))


def test_two_pairs_whose_union_is_not_listed_are_never_empty_together() -> None:
    (apart,) = found(out("O2", "2P", "2S", hours=2.0), out("O3", "3P", "3S", hours=2.0))
    assert isinstance(apart, KeepApart)
    assert {apart.entry, apart.other} == {"O2", "O3"}
    assert apart.phases == apart.other_phases == (Phase.EMPTIED,)
    assert (apart.start, apart.end) == (None, None)


def test_two_pairs_whose_union_is_listed_may_be_empty_together() -> None:
    assert not [
        each
        for each in found(
            out("O2", "2P", "2S", hours=2.0), out("O3", "3P", "3S", hours=2.0), listed=(PAIR_2, PAIR_3, PAIR_2 | PAIR_3)
        )
        if not isinstance(each, Caution)
    ]


def test_a_pair_refilled_before_the_other_begins_is_no_conflict() -> None:
    refill = an_operation("I2", "ballast in", spaces=("2P", "2S"), start=at(3, "10:00"), end=at(3, "12:00"))
    later = out("O3", "3P", "3S", start=at(3, "12:00"), end=at(3, "14:00"))
    assert not found(out("O2", "2P", "2S"), refill, later)


def test_two_fixed_emptyings_at_one_time_keep_the_entries_out_and_say_so_first() -> None:
    # 2P and 2S are full again on Wednesday 12:00, and 3P and 3S begin to empty an hour before.
    refill = an_operation("I2", "ballast in", spaces=("2P", "2S"), start=at(3, "10:00"), end=at(3, "12:00"))
    said = found(out("O2", "2P", "2S"), refill, out("O3", "3P", "3S", start=at(3, "11:00"), end=at(3, "14:00")))
    assert [(each.entry, each.start, each.end) for each in of(KeepClear, said)] == [
        ("E1", at(3, "11:00"), at(3, "12:00"))
    ]
    assert {each.weight for each in of(Caution, said)} == {0}


def test_three_sets_of_which_every_two_are_listed_are_not_all_three() -> None:
    a, b, c = frozenset({"2P"}), frozenset({"3P"}), frozenset({"4P"})
    listed = (a, b, c, a | b, b | c, a | c)
    apart = of(KeepApart, found(*(out(f"O{n}", *each, hours=2.0) for n, each in enumerate((a, b, c))), listed=listed))
    assert len(apart) == 1


def test_a_union_listed_under_one_condition_only_is_kept_apart_under_the_other() -> None:
    first = a_condition(*TANKS, may_be_empty=(PAIR_2, PAIR_3, PAIR_2 | PAIR_3), end=at(3, "00:00"))
    second = a_condition(*TANKS, may_be_empty=(PAIR_2, PAIR_3), condition="LC2", start=at(3, "00:00"))
    operations = (out("O2", "2P", "2S", hours=2.0), out("O3", "3P", "3S", hours=2.0))
    (apart,) = of(KeepApart, found(*operations, conditions=(first, second)))
    assert apart.start == at(3, "00:00")


def test_a_movable_emptying_keeps_clear_of_the_time_of_a_condition_that_does_not_list_it() -> None:
    first = a_condition(*TANKS, may_be_empty=(), end=at(3, "00:00"))
    second = a_condition(*TANKS, may_be_empty=(PAIR_2,), condition="LC2", start=at(3, "00:00"))
    (clear,) = found(out("O2", "2P", "2S", hours=2.0), conditions=(first, second))
    assert isinstance(clear, KeepClear)
    assert (clear.entry, clear.phases, clear.start, clear.end) == ("O2", (Phase.EMPTIED,), START, at(3, "00:00"))


def test_a_tank_that_is_empty_as_the_week_begins_counts_with_the_others() -> None:
    states = tuple(content(tank, "clean and empty" if tank in PAIR_3 else "ballast") for tank in TANKS)
    said = found(out("O2", "2P", "2S", hours=2.0), contents=states)
    assert [(each.entry, each.phases) for each in of(KeepClear, said)] == [("O2", (Phase.EMPTIED,))]


def test_a_tank_that_is_empty_as_the_week_begins_counts_until_it_is_filled() -> None:
    states = tuple(content(tank, "clean and empty" if tank in PAIR_3 else "ballast") for tank in TANKS)
    fill = an_operation("I3", "ballast in", spaces=("3P", "3S"))
    said = found(out("O2", "2P", "2S", hours=2.0), fill, contents=states)
    assert [(each.entry, each.start, each.end) for each in of(KeepClear, said)] == [("O2", START, at(2, "12:00"))]


# Sea and swell of h each are h·√2 together: 0.7 m are 0.99 m, 0.8 m are 1.13 m.
@pytest.mark.parametrize(("height_m", "limit_m", "rough"), [(0.8, 1.0, True), (0.7, 1.0, False), (0.7, None, True)])
def test_the_sea_above_the_conditions_limit_keeps_a_movable_emptying_clear(
    height_m: float, limit_m: float | None, *, rough: bool
) -> None:
    rows = a_forecast(wave_height_m=height_m, swell_height_m=height_m)
    row = a_condition(*TANKS, may_be_empty=(PAIR_2,), sea_limit_m=limit_m)
    said = found(out("O2", "2P", "2S", hours=2.0), conditions=(row,), weather=rows)
    assert [each.phases for each in of(KeepClear, said)] == ([(Phase.EMPTIED,)] if rough else [])


def test_a_fixed_emptying_in_too_high_a_sea_keeps_its_entries_out() -> None:
    rows = a_forecast(wave_height_m=2.0, swell_height_m=3.0)
    said = found(out("O2", "2P", "2S"), weather=rows)
    assert {each.entry for each in of(KeepClear, said)} == {"E1"}


def test_alongside_there_is_no_sea() -> None:
    rows = a_forecast(wave_height_m=3.0, swell_height_m=3.0)
    assert not found(out("O2", "2P", "2S", hours=2.0), weather=rows, legs=(a_berth(),))


def test_water_on_one_side_only_is_a_caution_about_heel_and_no_more() -> None:
    # 900 m³ × 1.025 × 8 m = 7,380 tm over 9,000 t × 2 m: 0.41, that is 22°.
    row = a_condition(*TANKS, may_be_empty=(frozenset({"2P"}),), displacement_t=9000.0, gm_m=2.0)
    spaces = tuple(a_space(tank, y_m=8.0 if tank.endswith("P") else -8.0) for tank in TANKS)
    (said,) = found(out("O2", "2P"), conditions=(row,), spaces=spaces)
    assert isinstance(said, Caution)
    assert "22.3°" in said.text


def test_an_entry_whose_tank_is_also_emptied_without_a_condition_keeps_out_of_that_time() -> None:
    # 2P goes out alone on Tuesday, which no condition lists, and with its pair on Thursday, which one does.
    refill = an_operation("I", "ballast in", spaces=("2P",), start=at(2, "14:00"), end=at(2, "16:00"))
    again = out("O2", "2P", "2S", start=at(4, "10:00"), end=at(4, "12:00"))
    said = found(out("O1", "2P"), refill, again)
    assert not of(Refusal, said)
    assert [(each.entry, each.start, each.end) for each in of(KeepClear, said)] == [
        ("E1", at(2, "10:00"), at(2, "16:00"))
    ]
    movable = found(out("O1", "2P", earliest=START, latest=at(2, "12:00"), hours=2.0), refill, again)
    assert ("E1", "O1") in {(each.entry, each.other) for each in of(KeepApart, movable)}


def test_the_sea_does_not_matter_to_spaces_that_the_condition_does_not_have_full() -> None:
    row = a_condition("3P", "3S", may_be_empty=(PAIR_3,), sea_limit_m=0.1)
    assert not found(out("O2", "2P", "2S", hours=2.0), conditions=(row,))


def test_sets_are_not_kept_apart_under_a_condition_that_bars_one_of_them_anyway() -> None:
    first = a_condition(*TANKS, may_be_empty=(PAIR_3,), end=at(3, "00:00"))
    second = a_condition(*TANKS, may_be_empty=(PAIR_2, PAIR_3), condition="LC2", start=at(3, "00:00"))
    operations = (out("O2", "2P", "2S", hours=2.0), out("O3", "3P", "3S", hours=2.0))
    said = found(*operations, conditions=(first, second))
    assert [(each.entry, each.end) for each in of(KeepClear, said)] == [("O2", at(3, "00:00"))]
    assert [each.start for each in of(KeepApart, said)] == [at(3, "00:00")]
