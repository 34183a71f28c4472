"""A plan that keeps every rule is left alone, and every rule was looked at."""

from __future__ import annotations

from scheduler.check import check
from tests.check.made import a_folder, a_plan


def test_a_plan_that_keeps_every_rule_has_no_breach() -> None:
    folder = a_folder()
    findings = check(folder, a_plan(folder))
    assert [breach.text for breach in findings.breaches] == []
