"""The round: every look at a plan, one after the other."""

from __future__ import annotations

from scheduler.check import (
    at_once,
    ballast,
    booking,
    cargo,
    contents,
    daylight,
    fans,
    gear,
    hours,
    limits,
    neighbours,
    passage,
    people,
    piping,
    ports,
    profiles,
    rest,
    sea,
    steps,
    tally,
    vapour,
    visitors,
)
from scheduler.check.deck import Wind
from scheduler.check.findings import Findings, Ledger
from scheduler.check.scene import Scene
from scheduler.check.sky import Sky
from scheduler.check.states import States
from scheduler.check.track import Track
from scheduler.domain.folder import VoyageFolder
from scheduler.domain.plan import Plan


def check(folder: VoyageFolder, plan: Plan) -> Findings:
    """Hold a plan against the folder that it was made from; gives every breach, and the checks made by rule.

    A plan that names what the folder does not know is a breach, not an error. A plan stands only when no breach is
    found; an exception means that it does not stand.
    """
    scene, ledger = Scene(folder, plan), Ledger()
    for room in (
        tally, steps, limits, hours, people, booking, rest, at_once, gear, visitors, cargo, piping, profiles, ports,
    ):  # fmt: skip
        room.look(scene, ledger)
    _along_the_way(scene, ledger)
    return ledger.findings()


def _along_the_way(scene: Scene, ledger: Ledger) -> None:
    """What needs the ship's place, the weather there, or what is in the tanks by then."""
    states, track = States(scene), Track(scene)
    sky = Sky(scene, track)
    contents.look(scene, states, ledger)
    fans.look(scene, states, ledger)
    neighbours.look(scene, states, sky, ledger)
    ballast.look(scene, sky, ledger)
    vapour.look(scene, Wind(scene, track, sky), states, ledger)
    passage.look(scene, track, ledger)
    sea.look(scene, track, sky, ledger)
    daylight.look(scene, sky, ledger)
