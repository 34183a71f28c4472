"""What differs by kind of space: a table, read by several rules."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Final

from scheduler.domain.folder import VoyageFolder
from scheduler.domain.policy import Policy
from scheduler.domain.ship import Space

WAYS_IN: Final = ("manhole", "hatch", "door")
"""Openings that a person goes through; a ventilator or an air pipe is no way in."""

PUMPED: Final = (
    "ballast exchange",
    "ballast in",
    "ballast out",
    "discharge",
    "line blow",
    "load",
    "slops",
    "tank wash",
    "transfer",
)
"""Operations whose lines and pumps a pump room and a duct keel hold: common practice, no source."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Kind:
    """One row of the table of kinds; all of it common practice, no source, unless a rule names one.

    `before` is done before opening; `floor` is the policy key of the least ventilation, `floor_gas_freed` that after
    gas-freeing; `entrances` are in use, each with its own attendant; `ways_in` are there at least; no operation of the
    kinds in `stops` runs while it is out of use; `fixed_fan`: its fixed fan's line stays open for air.
    """

    before: str
    floor: str = "air.floor_h.void"
    entrances: int = 1
    ways_in: int = 1
    stops: tuple[str, ...] = ()
    fixed_fan: bool = False
    floor_gas_freed: str = ""


_CARGO = Kind(
    before=(
        "shut and blank cargo, stripping, wash, heating, vapour, inert gas and nitrogen branches; lock the in-tank pump"
    ),
    floor_gas_freed="air.floor_h.cargo_tank",
)
_BALLAST = Kind(
    before="shut its own valves and the cross-overs, strip it, open both manholes",
    floor="air.floor_h.ballast_tank",
    ways_in=2,
)
_PEAK = replace(_BALLAST, ways_in=1)
_EMPTY = Kind(before="shut bilge and sounding lines; count it as foul, whatever its neighbours hold")
_WORST = Kind(before="shut every line that leads into it; count it as foul")

KINDS: Final[Mapping[str, Kind]] = {
    "ballast tank": _BALLAST,
    "peak tank": _PEAK,
    "cargo tank": _CARGO,
    "slop tank": _CARGO,
    "pump room": Kind(
        before="stop and lock the pumps, run the exhaust fan first, rig the lifting gear",
        floor="air.floor_h.pump_room",
        stops=PUMPED,
        fixed_fan=True,
    ),
    "void": _EMPTY,
    "cofferdam": _EMPTY,
    "stool": _EMPTY,
    "duct keel": Kind(
        before="stop every line through it, run its fixed fan as fitted, set up the radio relay",
        entrances=2,
        ways_in=2,
        stops=(*PUMPED, "bunkering"),
        fixed_fan=True,
    ),
    "chain locker": Kind(before="isolate the windlass, lash the chain"),
    "hold": Kind(before="lock hatch cover and crane"),
    "fuel tank": Kind(before="shut heating, transfer and common air pipes"),
    "fresh-water tank": Kind(before="shut suction, filling and common air pipes"),
}


def kind_of(space: Space) -> Kind:
    """What the table says of a space's kind; for a kind that it does not name the worst."""
    return KINDS.get(space.kind, _WORST)


def fans_stop(policy: Policy, space: Space) -> bool:
    """True when the fans stop and the air settles before a test; only the owner's word lets a pump room's run."""
    return not (space.kind == "pump room" and policy.word("pump_room.test") == "running")


def spaces_of(folder: VoyageFolder) -> Mapping[str, Space]:
    """The spaces by id."""
    found = folder.cache.setdefault("spaces by id", {space.space: space for space in folder.spaces})
    assert isinstance(found, dict)
    return found
