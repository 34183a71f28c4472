"""The officer strikes a word from a table by hand: exactly the entries that hang on it move or go."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from scheduler.domain.plan import Plan, PlannedEntry
from scheduler.inputs import read_folder
from scheduler.week import plan_week
from tests.stories.edited import Row, cell, edited, few_entries

EFFORT = 20.0


def planned(folder: Path) -> Plan:
    return plan_week(read_folder(folder), seconds=EFFORT)


def of(plan: Plan, name: str) -> PlannedEntry:
    return next(entry for entry in plan.entries if entry.entry == name)


def outcomes(plan: Plan) -> dict[str, str]:
    return {entry.entry: entry.outcome for entry in plan.entries}


def test_without_the_return_line_the_void_by_the_outlet_loses_its_time_and_nothing_else_does(tmp_path: Path) -> None:
    # E24 stands in the after-peak void while L2 loads to a return line; E23 is in a fuel tank on the day before, under
    # L1, which blows to the outlets whatever happens to L2.
    small = few_entries(tmp_path / "with", "E23", "E24")
    struck = edited(tmp_path / "without", "operations", cell("operation", "L2", "vapour", "to outlets"), base=small)
    before, after = planned(small), planned(struck)
    assert outcomes(before) == {"E23": "planned", "E24": "planned"}
    assert of(after, "E23").outcome == "planned"
    assert of(after, "E24").phases != of(before, "E24").phases
    share = {reason.rule: reason for reason in of(after, "E24").reasons}
    assert "L2" in share["vapour"].because or share["vapour"].share > of_rule(of(before, "E24"), "vapour")


def of_rule(entry: PlannedEntry, rule: str) -> float:
    return next((reason.share for reason in entry.reasons if reason.rule == rule), 0.0)


def without_set(listed: str) -> Callable[[list[Row]], list[Row]]:
    def change(rows: list[Row]) -> list[Row]:
        return [
            row | {"may_be_empty": ";".join(s for s in row["may_be_empty"].split(";") if s != listed)} for row in rows
        ]

    return change


def test_a_set_struck_from_the_conditions_takes_its_two_tanks_and_no_others(tmp_path: Path) -> None:
    small = few_entries(tmp_path / "with", "E01", "E02", "E03")
    struck = edited(tmp_path / "without", "conditions", without_set("B2P+B2S"), base=small)
    before, after = planned(small), planned(struck)
    assert set(outcomes(before).values()) == {"planned"}
    assert outcomes(after) == {"E01": "left out", "E02": "left out", "E03": "planned"}
    for name in ("E01", "E02"):
        assert of(after, name).reasons[0].rule == "condition"
    assert any("BO2" in warned.text for warned in after.cautions)


def test_two_pairs_are_never_empty_in_one_night(demo_plan: Plan) -> None:
    # E03 and E04 want No. 4 pair empty, E05 No. 5 pair in the same night; only sets of one pair are listed at sea.
    spans = sorted((one.start, one.end, one.empty) for one in demo_plan.conditions)
    for i, (_, end, empty) in enumerate(spans):
        for start, _, other in spans[i + 1 :]:
            union = set(empty) | set(other)
            assert start >= end or union == {"B2P", "B2S", "B4P", "B4S"}, (empty, other)
    stands = outcomes(demo_plan)
    assert not (stands["E03"] == stands["E05"] == "planned")
