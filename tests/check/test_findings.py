"""What a check says to a program."""

from __future__ import annotations

import json
from dataclasses import replace

from scheduler.check import check
from tests.check.made import at, the_good_week
from tests.faults.breaking import first, the, with_phase

FOLDER, PLAN = the_good_week()


def test_a_breach_says_who_when_by_how_much_and_how() -> None:
    entry = first(PLAN)
    assert entry is not None
    session = the(entry, "enter")
    late = with_phase(PLAN, entry, session, start=at(11, "09:01"))
    # Its test ends at 08:30 and counts for half an hour; the work is half an hour short as well.
    said = json.loads(json.dumps(check(FOLDER, late).as_json()))["breaches"]
    assert {
        "rule": "fresh test", "entry": "E1", "start": "2027-03-11T09:01:00Z", "end": "2027-03-11T10:30:00Z",
        "by_min": 1,
        "text": "fresh test: the test of enter 1 of E1 at 2027-03-11 09:01Z is 31 min old; 30 min is the most.",
    } in said  # fmt: skip


def test_every_rule_is_counted_even_where_nothing_asks_for_it() -> None:
    checks = check(FOLDER, PLAN).checks
    assert checks["coating"] == 0
    assert all(checks[rule] > 0 for rule in ("vapour", "lines", "rest", "people", "speeds", "policy", "condition"))


def test_what_is_found_comes_in_order_of_time() -> None:
    broken = replace(PLAN, entries=(), operations=(), rest=(), speeds=())
    starts = [breach.start for breach in check(FOLDER, broken).breaches]
    known = [start for start in starts if start is not None]
    assert known == sorted(known)
    assert starts == known + [None] * (len(starts) - len(known))


def test_the_same_folder_and_plan_give_the_same_findings() -> None:
    broken = replace(PLAN, rest=())
    assert check(FOLDER, broken) == check(FOLDER, broken)
