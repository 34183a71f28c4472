"""The round: every look at a plan, one after the other."""

from __future__ import annotations

from collections.abc import Callable
from typing import Final

from scheduler.check import at_once, booking, hours, limits, people, rest, steps, tally
from scheduler.check.findings import Findings, Ledger
from scheduler.check.scene import Scene
from scheduler.domain.folder import VoyageFolder
from scheduler.domain.plan import Plan

LOOKS: Final[tuple[Callable[[Scene, Ledger], None], ...]] = (
    tally.look, steps.look, limits.look, hours.look, people.look, booking.look, rest.look, at_once.look,
)  # fmt: skip


def check(folder: VoyageFolder, plan: Plan) -> Findings:
    """Hold a plan against the folder that it was made from; gives every breach, and the checks made by rule.

    A plan that names what the folder does not know is a breach, not an error. A plan stands only when no breach is
    found; an exception means that it does not stand.
    """
    scene, ledger = Scene(folder, plan), Ledger()
    for look in LOOKS:
        look(scene, ledger)
    return ledger.findings()
