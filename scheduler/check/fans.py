"""Ventilation long enough for the fans that the plan lists, and air enough for a coating."""

from __future__ import annotations

import math
from datetime import timedelta
from typing import Final

from scheduler.check.findings import Ledger
from scheduler.check.scene import Scene, Stay
from scheduler.check.span import DAY, HOUR, NOTHING, Span
from scheduler.check.states import States
from scheduler.domain.entries import Coating
from scheduler.domain.plan import Held, PlannedPhase
from scheduler.hazards.air import (
    OXYGEN_OF_SUPPLY_PERCENT,
    OXYGEN_REACHED_PERCENT,
    lower_zone_time_s,
    oxygen_recovery_time_s,
)

AIR: Final = "air"
COATING: Final = "coating"
LOWER_SHARE: Final = 0.6  # of the volume that a short duct does not reach; constructed
FITTED: Final = ("pump room", "duct keel")  # ventilated by a fixed fan where no portable one is listed
THROUGH_FLOW: Final = ("manhole", "hatch", "door", "ventilator")
AIRED: Final = ("ballast out", "gas-free")  # leave air behind that came in through open pipes or from fans


def look(scene: Scene, states: States, ledger: Ledger) -> None:
    """Work out how long the fans must run, and hold the plan against it."""
    for stay in scene.stays:
        first = [phase for phase in stay.of("ventilate") if phase not in stay.tail]
        for phase in first[:1]:
            _long_enough(scene, states, stay, phase, ledger)
        for phase in [phase for phase in stay.tail if phase.phase == "ventilate"]:
            _tail(scene, stay, phase, ledger)
        if stay.entry.work == "coat":
            _coating(scene, stay, ledger)


def _long_enough(scene: Scene, states: States, stay: Stay, phase: PlannedPhase, ledger: Ledger) -> None:
    fans = fans_of(scene, phase)
    text = f"the fans of {stay.name} are {_named(stay.planned.air.fans if stay.planned.air else ())} by its air, "
    said = {held.gear: held.count for held in stay.planned.air.fans} if stay.planned.air else {}
    ledger.expect(
        AIR, said == {held.gear: held.count for held in fans}, f"{text}and {_named(fans)} as held.", entry=stay.name
    )
    needed = needed_time(scene, states, stay, phase)
    length = phase.end - phase.start
    if needed is None:
        text = f"{_named(fans)}, listed for {stay.name}, give no air that can be reckoned with{_missing(stay)}."
        ledger.expect(AIR, False, text, entry=stay.name, start=phase.start, end=phase.end)
        return
    lacking = needed - length
    text = f"{stay.name} is ventilated for {length / HOUR:.2f} h with {_named(fans)}; {needed / HOUR:.2f} h are needed."
    ledger.expect(AIR, lacking <= NOTHING, text, entry=stay.name, start=phase.start, end=phase.end, by=lacking)


def _tail(scene: Scene, stay: Stay, phase: PlannedPhase, ledger: Ledger) -> None:
    """After coating the fans run on at least while it dries, and as long as any space of the kind is ventilated."""
    given = _coating_of(scene, stay)
    drying = timedelta(hours=given.drying_h or 0.0) if given else NOTHING
    needed = max(drying, floor(scene, stay, gas_freed=False))
    length = phase.end - phase.start
    lacking = needed - length
    text = f"after coating {stay.name} is ventilated {length / HOUR:g} h; {needed / HOUR:g} h are needed."
    ledger.expect(COATING, lacking <= NOTHING, text, entry=stay.name, start=phase.start, end=phase.end, by=lacking)


def needed_time(scene: Scene, states: States, stay: Stay, phase: PlannedPhase) -> timedelta | None:
    """The time that the fans listed need, never under the floor; None where no air can be reckoned with."""
    before = states.at(stay.space.space, phase.start)
    aired = before.last is not None and before.last.kind in AIRED and phase.start - before.last.span.end <= DAY
    gas_freed = before.last is not None and before.last.kind == "gas-free"
    least = floor(scene, stay, gas_freed=gas_freed)
    fans = fans_of(scene, phase)
    if not fans:
        return least if _fitted(scene, stay) else None
    flow_m3_s, volume_m3 = flow(scene, fans), stay.space.volume_m3
    if flow_m3_s <= 0 or volume_m3 is None or volume_m3 <= 0:
        return None
    start = scene.policy.number("air.o2_start.pumped_out" if aired else "air.o2_start.closed")
    mixing = _mixing(scene, stay)
    if _reaches_bottom(scene, stay, fans):
        seconds = oxygen_recovery_time_s(
            volume_m3=volume_m3, flow_m3_s=flow_m3_s, start_percent=start, mixing_factor=mixing
        )
    else:
        seconds = lower_zone_time_s(
            volume_m3=volume_m3, flow_m3_s=flow_m3_s, lower_share=LOWER_SHARE, start=start, mixing_factor=mixing,
            exchange_share=scene.policy.number("air.lower_exchange"), target=OXYGEN_REACHED_PERCENT,
            supply=OXYGEN_OF_SUPPLY_PERCENT,
        )  # fmt: skip
    return max(least, timedelta(seconds=math.floor(seconds)))


def floor(scene: Scene, stay: Stay, *, gas_freed: bool) -> timedelta:
    """The least ventilation of any space of this kind."""
    kind = stay.space.kind
    if kind in ("ballast tank", "peak tank"):
        return scene.length("air.floor_h.ballast_tank")
    if kind in ("cargo tank", "slop tank") and gas_freed:
        return scene.length("air.floor_h.cargo_tank")
    return scene.length("air.floor_h.pump_room" if kind == "pump room" else "air.floor_h.void")


def fans_of(scene: Scene, phase: PlannedPhase) -> tuple[Held, ...]:
    """The fans that a phase holds, by id."""
    held = [held for held in phase.gear if held.gear in scene.gear and scene.gear[held.gear].kind == "fan"]
    return tuple(sorted((held for held in held if held.count > 0), key=lambda held: held.gear))


def flow(scene: Scene, fans: tuple[Held, ...]) -> float:
    """Fresh air of the fans through their ducting, in cubic metres a second; a fan without a figure gives none."""
    total_m3_h = 0.0
    for held in fans:
        fan = scene.gear[held.gear]
        total_m3_h += held.count * (fan.flow_m3_h or 0.0) * _left(scene, fan.duct_m)
    return total_m3_h / 3600.0


def _left(scene: Scene, duct_m: float | None) -> float:
    """The share of its free flow that a fan keeps behind so much ducting."""
    if duct_m is None or duct_m > 30.0:
        return scene.policy.number("air.derate_unknown")
    return scene.policy.number("air.derate_10m" if duct_m <= 10.0 else "air.derate_30m")


def _mixing(scene: Scene, stay: Stay) -> float:
    framing = stay.space.framing if stay.space.framing in ("open", "moderate") else "heavy"
    factor = scene.policy.number(f"air.k_{framing}")
    through = [o for o in scene.openings.get(stay.space.space, ()) if o.kind in THROUGH_FLOW]
    return factor if len(through) > 1 else max(factor, scene.policy.number("air.k_undue"))


def _ducted(scene: Scene, stay: Stay, fans: tuple[Held, ...]) -> bool:
    depth, ducts = stay.space.depth_m, [scene.gear[held.gear].duct_m for held in fans]
    return depth is not None and all(duct is not None and duct >= depth for duct in ducts)


def _reaches_bottom(scene: Scene, stay: Stay, fans: tuple[Held, ...]) -> bool:
    return stay.space.air_reaches_bottom is True or _ducted(scene, stay, fans)


def _fitted(scene: Scene, stay: Stay) -> bool:
    return stay.space.kind in FITTED and any(
        {pipe.point, pipe.to_point} >= {stay.space.space} and "fixed fan" in f"{pipe.point} {pipe.to_point}"
        for pipe in scene.folder.lines
    )


def _coating_of(scene: Scene, stay: Stay) -> Coating | None:
    return next((coating for coating in scene.folder.coatings if coating.entry == stay.name), None)


def _coating(scene: Scene, stay: Stay, ledger: Ledger) -> None:
    """Without a solvent reckoning only the maker's least air through ducted fans lets a coating stand."""
    given = _coating_of(scene, stay)
    text = f"nothing is said of the coating of {stay.name}."
    if not ledger.expect(COATING, given is not None, text, entry=stay.name):
        return
    least = given.least_air_m3_h if given else None
    text = f"the maker's least air for the coating of {stay.name} is not given."
    if not ledger.expect(COATING, least is not None, text, entry=stay.name) or least is None:
        return
    held = [phase for phase in stay.of("ventilate", "enter") if phase.phase == "enter" or phase in stay.tail]
    for phase in held:
        fans = fans_of(scene, phase)
        given_m3_h = flow(scene, fans) * 3600.0
        text = f"{_named(fans)} give {given_m3_h:.0f} m³/h in {phase.phase} of {stay.name}; {least:g} are asked for."
        _expect(ledger, stay, Span(phase.start, phase.end), given_m3_h >= least - 1e-6, text)
        text = f"the ducting of {_named(fans)} does not reach the bottom of {stay.space.space} for {stay.name}."
        _expect(ledger, stay, Span(phase.start, phase.end), bool(fans) and _ducted(scene, stay, fans), text)


def _expect(ledger: Ledger, stay: Stay, span: Span, holds: bool, text: str) -> None:
    ledger.expect(COATING, holds, text, entry=stay.name, start=span.start, end=span.end)


def _named(fans: tuple[Held, ...]) -> str:
    return " and ".join(f"{held.count} × {held.gear}" for held in fans) or "no fans"


def _missing(stay: Stay) -> str:
    return "" if stay.space.volume_m3 is not None else ", whose volume_m3 is not given"
