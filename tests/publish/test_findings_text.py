"""What the officer reads after `lull check`."""

from __future__ import annotations

from dataclasses import dataclass

from scheduler.publish.findings_text import findings_text
from scheduler.publish.page import WIDTH_COLUMNS


@dataclass(frozen=True)
class _Breach:
    text: str


@dataclass(frozen=True)
class _Findings:
    breaches: tuple[_Breach, ...]
    checks: dict[str, int]


def test_a_plan_without_a_breach_is_counted_and_not_praised() -> None:
    said = findings_text(_Findings((), {"vapour": 1200, "rest": 34, "coating": 0}))
    assert said.splitlines()[:2] == [
        "No breach in 1,234 checks.",
        "A plan is not a permit. Tests and permit at the space decide.",
    ]
    assert "safe" not in said


def test_each_breach_has_its_line() -> None:
    said = findings_text(
        _Findings((_Breach("rest: co lacks 15 min."), _Breach("hours: E1 runs 5 min late.")), {"rest": 1})
    )
    assert said.splitlines()[:3] == [
        "2 breaches. Do not use this plan.",
        "  rest: co lacks 15 min.",
        "  hours: E1 runs 5 min late.",
    ]


def test_checks_are_counted_by_rule_and_a_rule_without_any_is_named() -> None:
    said = findings_text(_Findings((), {"vapour": 1200, "coating": 0, "rest": 34}))
    assert "  vapour  1,200\n  rest       34\n" in said
    assert said.endswith("Nothing in this plan called for: coating.\n")


def test_a_long_breach_stays_within_a_hundred_columns() -> None:
    said = findings_text(_Findings((_Breach("vapour: " + "an outlet and a manhole " * 20),), {}))
    assert max(map(len, said.splitlines())) <= WIDTH_COLUMNS
