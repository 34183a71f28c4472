"""What differs by kind of space: ways in, anchors, pairs of tanks, lines that run through."""

from __future__ import annotations

from typing import Final

from scheduler.check.findings import Ledger
from scheduler.check.scene import Scene, Stay
from scheduler.check.span import common

RULE: Final = "profile"
TWO_WAYS: Final = ("ballast tank", "duct keel")
THROUGH_KEEL: Final = (
    "ballast in", "ballast out", "ballast exchange", "load", "discharge", "transfer", "slops", "bunkering",
)  # fmt: skip


def look(scene: Scene, ledger: Ledger) -> None:
    """Hold each entry against the profile of its space."""
    for stay in scene.stays:
        _ways_in(scene, stay, ledger)
        if stay.space.kind == "chain locker":
            _no_anchor(scene, stay, ledger)
        if stay.space.kind == "fresh-water tank":
            _never_both(scene, stay, ledger)
        if stay.space.kind == "duct keel":
            _lines_stop(scene, stay, ledger)


def _ways_in(scene: Scene, stay: Stay, ledger: Ledger) -> None:
    ways = scene.ways_in(stay.space.space)
    text = f"no way into {stay.space.space} is given, and {stay.name} goes there."
    ledger.expect(RULE, bool(ways), text, entry=stay.name, other=stay.space.space)
    needed = 2 if stay.space.kind in TWO_WAYS else 1
    text = f"{stay.space.space}, a {stay.space.kind}, has {len(ways)} way in; {needed} are needed for {stay.name}."
    ledger.expect(RULE, len(ways) >= needed or not ways, text, entry=stay.name, other=stay.space.space)
    names = {way.opening for way in ways}
    for session in stay.inside:
        way = f"'{session.entrance}', no way into {stay.space.space}"
        text = f"session {session.session} of {stay.name} goes in by {way}."
        used = [name.strip() for name in (session.entrance or "").split(";")]
        ledger.expect(
            RULE,
            set(used) <= set(names) and len(set(used)) == len(used),
            text,
            entry=stay.name,
            start=session.start,
            end=session.end,
        )


def _no_anchor(scene: Scene, stay: Stay, ledger: Ledger) -> None:
    if stay.out_of_use is None:
        return
    for piece, leg in scene.leg_spans(stay.out_of_use):
        anchored = leg is None or leg.kind == "anchorage"
        text = f"{stay.name} has {stay.space.space} out of use, {piece}, while the ship lies at anchor."
        ledger.expect(
            RULE, not anchored, text, entry=stay.name, other=leg.leg if leg else "",
            start=piece.start, end=piece.end, by=piece.length,
        )  # fmt: skip


def _never_both(scene: Scene, stay: Stay, ledger: Ledger) -> None:
    for other in scene.stays:
        if other.space.kind != stay.space.kind or other.space is stay.space or other.name <= stay.name:
            continue
        shared = common(stay.out_of_use, other.out_of_use) if stay.out_of_use and other.out_of_use else None
        text = f"{stay.space.space} and {other.space.space} are out of use at one time, {shared}; never both."
        ledger.expect(
            RULE, shared is None, text, entry=stay.name, other=other.name,
            start=shared and shared.start, end=shared and shared.end, by=shared and shared.length,
        )  # fmt: skip


def _lines_stop(scene: Scene, stay: Stay, ledger: Ledger) -> None:
    """The table does not say which lines run through the keel, so all that may do."""
    for run in scene.runs:
        shared = common(stay.opened, run.span) if stay.opened and run.kind in THROUGH_KEEL else None
        text = f"{run.kind} {run.name} may run through {stay.space.space}, open for {stay.name}, {shared}."
        ledger.expect(
            RULE, shared is None, text, entry=stay.name, other=run.name,
            start=shared and shared.start, end=shared and shared.end, by=shared and shared.length,
        )  # fmt: skip
