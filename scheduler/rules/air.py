"""How long a space is ventilated before its test: with each number of fans that helps."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final, TypeAlias

from scheduler.domain.entries import Coating, Entry
from scheduler.domain.folder import VoyageFolder
from scheduler.domain.operations import Cargo
from scheduler.domain.restrictions import AirChoice, Caution, Refusal, Restriction
from scheduler.domain.ship import Gear, Space
from scheduler.domain.source import Source, SourceKind
from scheduler.hazards.air import OXYGEN_OF_SUPPLY_PERCENT, OXYGEN_REACHED_PERCENT, dilution_time_s, lower_zone_time_s
from scheduler.hazards.fans import duct_derating
from scheduler.rules.contents import emptied_lately, states_at_entry, surely_gas_freed
from scheduler.rules.kinds import WAYS_IN, kind_of, spaces_of
from scheduler.rules.outlook import entries_of
from scheduler.rules.spoken import length_of, listed, up_to_grid
from scheduler.units import m3_s_from_m3_h

RULE = "air"
MIXING = Source(kind=SourceKind.PUBLISHED, text="ACGIH, Industrial Ventilation; CDC, MMWR 1994;43(RR-13) Table S3-1")
TABLES = Source(kind=SourceKind.PRACTICE, text="")
LOWER_SHARE = 0.6  # of the volume, where the duct does not reach the bottom; our choice, after a worked two-zone tank
CAUTIOUS_LFL_PERCENT = 0.6  # of a cargo without one: the least of common oils and solvents, from memory
CAUTIOUS_EXPOSURE_PPM = 0.5  # of a toxic cargo without one; our choice, under most listed limits
PURE_VAPOUR_PERCENT = 100.0  # residue may have filled the space with vapour: no more than that can be
PPM_PER_PERCENT = 1e4
S_PER_MIN = 60.0
AIR_PASSES: Final = (*WAYS_IN, "ventilator")


def air(folder: VoyageFolder) -> Iterator[Restriction]:
    """Each entry's ways to be ventilated, or why there is none."""
    for gear in _fans(folder):
        if gear.flow_m3_h is None:
            text = f"{gear.gear}: gear.csv, column flow_m3_h, is blank; the fan is not counted."
            yield Caution(text=text, weight=4, table=gear.origin.file, row=gear.origin.row, rule=RULE)
    for entry in entries_of(folder):
        yield from _refused(folder, entry)
        yield from choices(folder, entry)
        yield from _gives_off(folder, entry)


def choices(folder: VoyageFolder, entry: Entry) -> tuple[AirChoice, ...]:
    """Every sensible number of fans of each kind, with the minutes that it takes; none where air can't be worked out.

    A coating entry has only choices that give the maker's least air.
    """
    known = folder.cache.setdefault("air choices", {})
    assert isinstance(known, dict)
    if entry.entry not in known:
        known[entry.entry] = tuple(_choices(folder, entry))
    return tuple(known[entry.entry])


def is_coating(folder: VoyageFolder, entry: Entry) -> bool:
    """True when the entry coats something."""
    return entry.work == "coat" or coating_of(folder, entry) is not None


def coating_of(folder: VoyageFolder, entry: Entry) -> Coating | None:
    """The entry's row of coatings.csv."""
    return next((row for row in folder.coatings if row.entry == entry.entry), None)


def floor_min(folder: VoyageFolder, space: Space, *, gas_freed: bool) -> float:
    """The least minutes of ventilation of a space; the short one of cargo tanks is for after gas-freeing only."""
    kind = kind_of(space)
    key = kind.floor_gas_freed if gas_freed and kind.floor_gas_freed else kind.floor
    return folder.policy.number(key) * 60


def greatest_flow_m3_h(folder: VoyageFolder, entry: Entry) -> float:
    """The most air that all fans together give the entry's space."""
    return _flow_m3_h(folder, [(gear, gear.count) for gear in _usable(folder, entry)])


def _fans(folder: VoyageFolder) -> list[Gear]:
    return sorted((gear for gear in folder.gear if gear.kind == "fan" and gear.count > 0), key=lambda each: each.gear)


def _usable(folder: VoyageFolder, entry: Entry) -> list[Gear]:
    """Fans of a known flow; for coating only those with ducting to the bottom that no cable drives.

    Source of the cable: 29 CFR 1915.36, from memory.
    """
    fans, depth_m = [gear for gear in _fans(folder) if gear.flow_m3_h], spaces_of(folder)[entry.space].depth_m
    if is_coating(folder, entry):
        fans = [gear for gear in fans if gear.duct_m and depth_m is not None and gear.duct_m >= depth_m]
        fans = [gear for gear in fans if gear.drive in ("air", "water")]
    return fans


_Fans: TypeAlias = Sequence[tuple[Gear, int]]


def _flow_m3_h(folder: VoyageFolder, fans: _Fans) -> float:
    """What so many fans give together, each behind its ducting."""
    return sum((gear.flow_m3_h or 0.0) * _derating(folder, gear) * count for gear, count in fans)


def _derating(folder: VoyageFolder, gear: Gear) -> float:
    number = folder.policy.number
    return duct_derating(
        gear.duct_m,
        derate_10m=number("air.derate_10m"),
        derate_30m=number("air.derate_30m"),
        derate_unknown=number("air.derate_unknown"),
    )


def _refused(folder: VoyageFolder, entry: Entry) -> Iterator[Refusal]:
    what = ""
    if not spaces_of(folder)[entry.space].volume_m3:
        what, would_change = f"spaces.csv, column volume_m3, is blank for {entry.space}", "the volume of the space"
    elif not any(gear.flow_m3_h for gear in _fans(folder)):
        what, would_change = "gear.csv names no fan with a flow", "a fan with its flow_m3_h in gear.csv"
    if what:
        because = f"{entry.entry}: {what}, so no length of ventilation can be worked out."
        yield Refusal(entry=entry.entry, rule=RULE, because=because, would_change=would_change, source=TABLES)


def _gives_off(folder: VoyageFolder, entry: Entry) -> Iterator[Caution]:
    """Dilution has no end while residue gives off vapour: the hours are for the plan, the readings decide."""
    if len(_goals(folder, entry)) > 1:
        text = f"{entry.space}: residue gives off vapour while it lies there; only the readings say when to go in."
        yield Caution(text=text, weight=1, entry=entry.entry, rule=RULE)


@dataclass(frozen=True, kw_only=True, slots=True)
class _Goal:
    """One thing to be driven out: from `start` to `target`, where the supply has `supply`, in any one unit."""

    what: str
    start: float
    target: float
    supply: float


def _choices(folder: VoyageFolder, entry: Entry) -> Iterator[AirChoice]:
    space, least_m3_h = spaces_of(folder)[entry.space], 0.0
    if is_coating(folder, entry):
        row = coating_of(folder, entry)
        if row is None or row.least_air_m3_h is None or space.air_reaches_bottom is not True:
            return
        least_m3_h = row.least_air_m3_h
    if space.volume_m3:
        for group in _groups(folder, entry, least_m3_h):
            shortest = 0
            for fans in group:
                choice = _choice(folder, entry, fans)
                if not shortest or choice.minutes < shortest:
                    shortest = choice.minutes
                    yield choice


def _groups(folder: VoyageFolder, entry: Entry, least_m3_h: float) -> Iterator[list[_Fans]]:
    """The numbers of each kind of fan that give the least air; kinds together only where none gives it alone."""
    usable = _usable(folder, entry)
    alone: list[list[_Fans]] = [[[(gear, n)] for n in range(1, gear.count + 1)] for gear in usable]
    enough = [[fans for fans in group if _flow_m3_h(folder, fans) >= least_m3_h] for group in alone]
    if any(enough):
        yield from (group for group in enough if group)
        return
    together: list[tuple[Gear, int]] = []
    for gear in sorted(usable, key=lambda each: (-_flow_m3_h(folder, [(each, 1)]), each.gear)):
        more: list[_Fans] = [[*together, (gear, n)] for n in range(1, gear.count + 1)]
        if found := [fans for fans in more if _flow_m3_h(folder, fans) >= least_m3_h]:
            yield found
            return
        together.append((gear, gear.count))


def _choice(folder: VoyageFolder, entry: Entry, fans: _Fans) -> AirChoice:
    """One way: the longest of the goals, never under the floor of the kind."""
    space = spaces_of(folder)[entry.space]
    flow_m3_h, (mixing, why) = _flow_m3_h(folder, fans), mixing_factor(folder, space)
    times = [(_minutes(folder, space, flow_m3_h, mixing, goal), goal) for goal in _goals(folder, entry)]
    longest, goal = max(times, key=lambda each: (each[0], each[1].what))
    floor = floor_min(folder, space, gas_freed=surely_gas_freed(folder, entry))
    governs = (
        f"{length_of(longest)}, which governs over the floor of {length_of(floor)}"
        if longest > floor
        else f"{length_of(longest)}, and the floor of {length_of(floor)} for a {space.kind} governs"
    )
    return AirChoice(
        entry=entry.entry,
        fans=tuple((gear.gear, count) for gear, count in fans),
        minutes=up_to_grid(folder, max(longest, floor)),
        method=_method(space),
        mixing_factor=mixing,
        rule=RULE,
        because=(
            f"{listed(_named(folder, gear, count) for gear, count in fans)} give {flow_m3_h:,.0f} m³/h into "
            f"{space.volume_m3:,.0f} m³; mixing factor {mixing:g} ({why}); {goal.what} takes {governs}."
        ),
        source=MIXING,
    )


def _named(folder: VoyageFolder, gear: Gear, count: int) -> str:
    ducting = "ducting of unknown length" if gear.duct_m is None else f"{gear.duct_m:g} m of ducting"
    return f"{count} × {gear.gear} of {gear.flow_m3_h:,.0f} m³/h ({_derating(folder, gear):g} of it behind {ducting})"


def _method(space: Space) -> str:
    if space.air_reaches_bottom:
        return "supply fans ducted to the bottom"
    return "supply fans, air not known to reach the bottom: worked in two zones, the lower one counts"


def mixing_factor(folder: VoyageFolder, space: Space) -> tuple[float, str]:
    """The mixing factor of a space, and why: by its framing, and never less with a single opening."""
    number = folder.policy.number
    key = {"open": "air.k_open", "moderate": "air.k_moderate"}.get(space.framing or "", "air.k_heavy")
    by_framing, why = number(key), f"{space.framing or 'unknown'} framing"
    openings = sum(1 for opening in folder.openings if opening.space == space.space and opening.kind in AIR_PASSES)
    if openings < 2 and number("air.k_undue") >= by_framing:
        return number("air.k_undue"), f"{openings or 'no'} opening for air in and out"
    return by_framing, why


def _minutes(folder: VoyageFolder, space: Space, flow_m3_h: float, mixing: float, goal: _Goal) -> float:
    volume_m3, flow_m3_s = space.volume_m3 or 0.0, m3_s_from_m3_h(flow_m3_h)
    if space.air_reaches_bottom:
        time_s = dilution_time_s(
            volume_m3=volume_m3,
            flow_m3_s=flow_m3_s,
            start=goal.start,
            target=goal.target,
            supply=goal.supply,
            mixing_factor=mixing,
        )
    else:
        time_s = lower_zone_time_s(
            volume_m3=volume_m3,
            flow_m3_s=flow_m3_s,
            lower_share=LOWER_SHARE,
            exchange_share=folder.policy.number("air.lower_exchange"),
            start=goal.start,
            target=goal.target,
            supply=goal.supply,
            mixing_factor=mixing,
        )
    return time_s / S_PER_MIN


def _goals(folder: VoyageFolder, entry: Entry) -> Sequence[_Goal]:
    """Oxygen back, and where residue of a liquid lies inside its vapour out: to each limit that is known."""
    lately = emptied_lately(folder, entry)
    start = folder.policy.number("air.o2_start.pumped_out" if lately else "air.o2_start.closed")
    oxygen = f"oxygen from {start:g} to {OXYGEN_REACHED_PERCENT} %"
    goals = [_Goal(what=oxygen, start=start, target=OXYGEN_REACHED_PERCENT, supply=OXYGEN_OF_SUPPLY_PERCENT)]
    cargoes = {cargo.cargo: cargo for cargo in folder.cargoes}
    for state, cargo in states_at_entry(folder, entry):
        known = cargoes.get(cargo or "")
        if state == "residue" and (known is None or known.kind != "solid"):
            goals.extend(_vapour(folder, cargo or "unknown residue", known))
    return goals


def _vapour(folder: VoyageFolder, name: str, cargo: Cargo | None) -> Iterator[_Goal]:
    """Pure vapour at first; the entry limits are shares of the flammable and of the exposure limit."""
    lfl = CAUTIOUS_LFL_PERCENT if cargo is None or cargo.lfl_percent is None else cargo.lfl_percent
    target = lfl * folder.policy.number("limits.lfl_percent_max") / 100.0
    what = f"vapour of {name} down to {target:.3g} % vol"
    yield _Goal(what=what, start=PURE_VAPOUR_PERCENT, target=target, supply=0.0)
    exposure_ppm = None if cargo is None else cargo.exposure_limit_ppm
    if exposure_ppm is None and (cargo is None or cargo.toxic is not False):
        exposure_ppm = CAUTIOUS_EXPOSURE_PPM
    if exposure_ppm is not None:
        target = exposure_ppm * folder.policy.number("limits.toxic_share_max") / PPM_PER_PERCENT
        what = f"vapour of {name} down to {target * PPM_PER_PERCENT:.3g} ppm"
        yield _Goal(what=what, start=PURE_VAPOUR_PERCENT, target=target, supply=0.0)
