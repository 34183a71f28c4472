"""The plan of the demonstration voyage, broken in each of the same ways."""

from __future__ import annotations

import pytest

from scheduler.check import check
from scheduler.domain.folder import VoyageFolder
from scheduler.domain.plan import Plan
from tests.faults.breaking import Fault
from tests.faults.test_faults import FAULTS, names


def test_the_plan_of_the_demonstration_keeps_every_rule(demo_folder: VoyageFolder, demo_plan: Plan) -> None:
    assert [breach.text for breach in check(demo_folder, demo_plan).breaches] == []


@pytest.mark.parametrize("fault", FAULTS, ids=lambda fault: f"{fault.rule}: {fault.name}")
def test_the_check_names_what_is_broken_in_the_demonstration(
    fault: Fault, demo_folder: VoyageFolder, demo_plan: Plan
) -> None:
    broken = fault.make(demo_folder, demo_plan)
    if broken is None:
        pytest.skip("this plan offers nothing to break in this way; the small one does")
    found = [breach for breach in check(broken.folder, broken.plan).breaches if breach.rule == fault.rule]
    assert any(names(breach, broken) for breach in found), "\n".join(breach.text for breach in found) or "no breach"
