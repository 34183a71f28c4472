"""What holds for all rules alike."""

from __future__ import annotations

from dataclasses import fields, replace
from pathlib import Path
from typing import Any

from scheduler.domain.folder import VoyageFolder
from scheduler.domain.restrictions import Caution, Paper
from scheduler.inputs import read_folder
from scheduler.rules import RULES, restrictions

BULK = Path(__file__).parent.parent / "bulk_voyage"
IN_ORDER = (
    "vapour, cargo work, lines, contents, condition, profile, next space, closures, port, ship handling, motion, "
    "spray, daylight, hours, air, coating, fresh test, people, rest, gear, at once, visitors, after, window"
)


def said(folder: VoyageFolder) -> list[str]:
    return sorted(map(repr, restrictions(folder)))


def test_the_rules_stand_in_the_order_of_the_rule_book() -> None:
    assert ", ".join(name for name, _ in RULES) == IN_ORDER


def test_every_restriction_names_its_rule_its_cause_and_its_source() -> None:
    for each in restrictions(read_folder(BULK)):
        assert each.rule in {*IN_ORDER.split(", "), "permit"}, each
        if not isinstance(each, Caution | Paper):
            assert str(each.source)
        if hasattr(each, "because"):
            assert each.because.strip(), each


def test_the_order_of_rows_changes_nothing() -> None:
    folder = read_folder(BULK)
    turned: dict[str, Any] = {
        each.name: getattr(folder, each.name)[::-1]
        for each in fields(folder)
        if isinstance(getattr(folder, each.name), tuple) and each.name != "rows"
    }
    assert said(replace(folder, **turned, cache={})) == said(folder)


def test_the_same_folder_says_the_same_twice() -> None:
    folder = read_folder(BULK)
    assert restrictions(folder) == restrictions(folder)
