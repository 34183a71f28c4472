"""A good plan broken in one way: the check names it, with who, what, when and by how much."""

from __future__ import annotations

import pytest

import tests.faults.crew
import tests.faults.deck
import tests.faults.rest_and_gear
import tests.faults.ship
import tests.faults.steps
import tests.faults.voyage  # noqa: F401 - importing registers the faults
from scheduler.check import Breach, check
from scheduler.check.findings import RULE_NAMES
from tests.check.made import the_good_week
from tests.faults.breaking import FAULTS, Broken, Fault


def names(breach: Breach, broken: Broken) -> bool:
    """True when a breach says of a broken plan all that it must say."""
    return (
        (not broken.entry or broken.entry in (breach.entry, *breach.other.split(", ")))
        and (not broken.person or breach.person == broken.person)
        and (not broken.other or broken.other in (breach.entry, *breach.other.split(", ")))
        and (broken.by_min is None or breach.by_min == broken.by_min)
        and (broken.start is None or breach.start == broken.start)
        and broken.says in breach.text
    )


@pytest.mark.parametrize("fault", FAULTS, ids=lambda fault: f"{fault.rule}: {fault.name}")
def test_the_check_names_what_is_broken(fault: Fault) -> None:
    broken = fault.make(*the_good_week())
    assert broken is not None, "the small plan offers nothing to break in this way"
    found = [breach for breach in check(broken.folder, broken.plan).breaches if breach.rule == fault.rule]
    assert any(names(breach, broken) for breach in found), "\n".join(breach.text for breach in found) or "no breach"


def test_the_ways_to_break_a_plan_are_many_and_each_is_another() -> None:
    # sixty at the least; each is caught above, on the small plan, and again on that of the demonstration
    assert len(FAULTS) == len({(fault.rule, fault.name) for fault in FAULTS}) >= 60


def test_every_rule_is_broken_in_some_way() -> None:
    # coating wants a plan of its own: tests/check/test_kinds.py
    assert set(RULE_NAMES) - {fault.rule for fault in FAULTS} == {"coating"}
