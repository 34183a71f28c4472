"""What else the ship does: cargo, stations, pilots, drills, bunkers, and what they forbid."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from scheduler.check.findings import Ledger, whole_minutes
from scheduler.check.scene import Run, Scene, Stay
from scheduler.check.span import Span, shared_with

CARGO: Final = "cargo work"
HANDLING: Final = "ship handling"
ALL_CLOSED: Final = ("stations", "pilotage", "canal", "restricted waters")
NOT_NOW: Final = ("drill", "entry drill", "power test", "helicopter")
MOVING_CARGO: Final = ("load", "discharge", "transfer", "slops")
TANK_WORK: Final = ("inert", "top up", "purge", "gas-free", "tank wash", "vent down", "line blow", "nitrogen")
CARGO_TANKS: Final = ("cargo tank", "slop tank")
BESIDE_HOLDS: Final = ("ballast tank", "stool", "void", "cofferdam", "hold")


def look(scene: Scene, ledger: Ledger) -> None:
    """Hold every entry against every operation, and every leg in restricted waters."""
    area = cargo_area(scene)
    for stay in scene.stays:
        for run in scene.runs:
            for rule, words, span, bound in _forbids(scene, run, stay, area):
                _clear(stay, rule, run.name, f"{words} {run.name}", span, bound, ledger)
        for leg in scene.legs:
            if leg.restricted and stay.opened is not None:
                span = Span(leg.start - scene.length("closed_before_h"), leg.end)
                _clear(stay, HANDLING, leg.leg, f"restricted waters of leg {leg.leg}", span, (stay.opened,), ledger)


def _forbids(
    scene: Scene, run: Run, stay: Stay, area: frozenset[str]
) -> Iterator[tuple[str, str, Span, tuple[Span, ...]]]:
    """Which rule, in which words, over which time, binds which stretches of the entry."""
    if stay.opened is None:
        return
    opened, kind, span = (stay.opened,), run.kind, run.span
    early = Span(span.start - scene.length("closed_before_h"), span.end)
    if kind in ALL_CLOSED:
        yield HANDLING, f"{kind}, or the hours before it,", early, opened
    if kind in NOT_NOW:
        yield HANDLING, kind, span, opened
    if run.operation.bars in ("entries", "all") or (run.operation.bars == "hot work" and stay.hot):
        yield HANDLING, "the standing order of", span, opened
    if kind == "bunkering" and _by_bunkers(scene, run, stay):
        yield HANDLING, "bunkering", span, opened
    if scene.folder.ship.is_tanker and stay.space.space in area:
        if kind in MOVING_CARGO:
            yield CARGO, f"{kind}, or the hours before it,", early, opened
        if kind in TANK_WORK:
            yield CARGO, kind, span, opened
    elif not scene.folder.ship.is_tanker and kind in ("load", "discharge") and _beside_hold(scene, run, stay):
        yield CARGO, kind, span, stay.manned


def _clear(stay: Stay, rule: str, other: str, words: str, span: Span, bound: tuple[Span, ...], ledger: Ledger) -> None:
    ledger.count(rule)
    state = "open" if bound == (stay.opened,) else "manned"
    for piece in shared_with(span, bound):
        text = f"{stay.name} is {state} for {whole_minutes(piece.length)} min of {words} ({piece})."
        ledger.breach(rule, text, entry=stay.name, other=other, start=piece.start, end=piece.end, by=piece.length)


def cargo_area(scene: Scene) -> frozenset[str]:
    """Cargo and slop tanks, all that touches one, pump room and duct keel, and what the ship calls cargo area."""
    tanks = {space.space for space in scene.spaces.values() if space.kind in CARGO_TANKS}
    touching = {other for tank in tanks for other in scene.next_to.get(tank, ())}
    named = {s.space for s in scene.spaces.values() if s.kind in ("pump room", "duct keel") or s.area == "cargo"}
    return frozenset(tanks | touching | named)


def _by_bunkers(scene: Scene, run: Run, stay: Stay) -> bool:
    """No hot work, no coating, no fuel space, and nothing that touches what is filled."""
    fuel = {space.space for space in scene.spaces.values() if space.kind == "fuel tank"}
    filled = set(run.operation.spaces) or fuel
    touching = {other for space in filled for other in scene.next_to.get(space, ())}
    return stay.hot or stay.entry.work == "coat" or stay.space.space in fuel | filled | touching


def _beside_hold(scene: Scene, run: Run, stay: Stay) -> bool:
    worked = set(run.operation.spaces) or {s.space for s in scene.spaces.values() if s.kind == "hold"}
    near = {other for hold in worked for other in scene.next_to.get(hold, ())} | worked
    return stay.space.space in near and stay.space.kind in BESIDE_HOLDS
