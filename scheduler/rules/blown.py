"""Where and when what comes out of one place may blow on the openings of a space."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import groupby

from scheduler.domain.folder import VoyageFolder
from scheduler.domain.ship import Opening
from scheduler.hazards.outlets import DeckPoint, distance_m, within_reach
from scheduler.rules.deck_air import AirSpan, DeckAir, airs_of
from scheduler.rules.during import Span
from scheduler.rules.flows import Spot, point_of
from scheduler.rules.kinds import spaces_of
from scheduler.rules.nearby import openings_of
from scheduler.rules.spoken import at_ships_time


@dataclass(frozen=True, slots=True)
class Target:
    """An opening that vapour may blow on; `at` None: not known, so everything blows on it."""

    name: str
    at: DeckPoint | None
    on_cargo_deck: bool


@dataclass(frozen=True, slots=True)
class Blown:
    """A place blows on a space in `span` (None: whenever it blows at all): by which spot, and how, in words."""

    span: Span | None
    by: str
    how: str


def blown(folder: VoyageFolder, spots: Sequence[Spot], space: str, reach_m: float, *, winds: bool) -> tuple[Blown, ...]:
    """All times in which one of the spots may blow on an opening of the space; without `winds` by distance only.

    Hours of the week and the hours before it; adjacent hours of one cause are one.
    """
    known = folder.cache.setdefault("blown", {})
    assert isinstance(known, dict)
    key = (tuple(spots), space, reach_m, winds)
    if key not in known:
        known[key] = tuple(_blown(folder, spots, targets_of(folder, space), reach_m, winds=winds))
    return tuple(known[key])


def run_together(folder: VoyageFolder, found: Sequence[Blown]) -> Iterator[Blown]:
    """Times that follow each other without a gap as one, whatever the cause; the first cause is said."""
    runs: list[list[Blown]] = []
    for each in found:
        last = runs[-1][-1].span if runs else None
        if last is not None and each.span is not None and last[1] == each.span[0]:
            runs[-1].append(each)
        else:
            runs.append([each])
    for run in runs:
        first, last = run[0], run[-1].span
        if len(run) == 1 or first.span is None or last is None:
            yield first
        else:
            until = f"until {at_ships_time(folder, first.span[1])}, and for other causes until"
            how = f"{first.how} ({until} {at_ships_time(folder, last[1])})"
            yield Blown((first.span[0], last[1]), first.by, how)


def targets_of(folder: VoyageFolder, space: str) -> tuple[Target, ...]:
    """The openings of a space, each of them intake and exhaust; without any, next to every outlet."""
    deck = cargo_deck(folder)
    found = tuple(
        Target(f"{each.opening} of {space}", point_of(each.x_m, each.y_m), each.opening in deck)
        for each in openings_of(folder, space)
    )
    return found or (Target(f"{space}, whose openings are not given", None, on_cargo_deck=True),)


def cargo_deck(folder: VoyageFolder) -> frozenset[str]:
    """Openings on the weather deck in the cargo area and forward, and what else is not known to be abaft it.

    Abaft is what lies aft of every outlet and of every weather-deck opening of the cargo area, and not ahead of the
    accommodation; where no space of the accommodation has a place, only machinery and accommodation lie abaft.
    """
    found = folder.cache.get("cargo deck")
    if not isinstance(found, frozenset):
        on_deck = [each for each in folder.openings if each.on_weather_deck]
        aftmost_m = _aftmost_m(folder, on_deck)
        found = folder.cache["cargo deck"] = frozenset(
            each.opening for each in on_deck if not _abaft(folder, each, aftmost_m)
        )
    return found


def _aftmost_m(folder: VoyageFolder, on_deck: Sequence[Opening]) -> float | None:
    spaces = spaces_of(folder)
    known = [*(each.x_m for each in folder.outlets), *(e.x_m for e in on_deck if spaces[e.space].area == "cargo")]
    return min((x_m for x_m in known if x_m is not None), default=None)


def _abaft(folder: VoyageFolder, opening: Opening, aftmost_m: float | None) -> bool:
    area = spaces_of(folder)[opening.space].area
    if area in ("cargo", "forward") or opening.x_m is None or aftmost_m is None or opening.x_m >= aftmost_m:
        return False
    places = [space.x_m for space in folder.spaces if space.area == "accommodation" and space.x_m is not None]
    return opening.x_m <= max(places) if places else area != "other"


def _blown(
    folder: VoyageFolder, spots: Sequence[Spot], targets: Sequence[Target], reach_m: float, *, winds: bool
) -> Iterator[Blown]:
    for spot in spots:
        for target in targets:
            if within_reach(spot.at, target.at, reach_m):
                yield Blown(None, spot.name, _near(spot, target, reach_m))
                return
    if winds:
        on_deck = [target for target in targets if target.on_cargo_deck]
        yield from _by_wind(folder, spots, on_deck)


def _near(spot: Spot, target: Target, reach_m: float) -> str:
    if spot.at is None:
        return f"whose place is not known and which blows on everything, {target.name} too"
    if target.at is None:
        return f"and it counts as next to {target.name}"
    return (
        f"{distance_m(spot.at, target.at):.1f} m from {target.name}; more than {reach_m:g} m are kept in any direction"
    )


@dataclass(frozen=True, slots=True)
class _Cause:
    spot: Spot
    target: Target
    calm_kind: str
    """Why the whole deck counts; empty where the wind decides."""


def _by_wind(folder: VoyageFolder, spots: Sequence[Spot], targets: Sequence[Target]) -> Iterator[Blown]:
    if not spots or not targets:
        return
    judged = ((each, _cause(each.air, spots, targets)) for each in airs_of(folder))
    for cause, group in groupby(judged, key=lambda each: each[1]):
        if cause is not None:
            yield _said(cause, [each for each, _ in group])


def _cause(air: DeckAir, spots: Sequence[Spot], targets: Sequence[Target]) -> _Cause | None:
    if air.calm:
        return _Cause(spots[0], targets[0], air.kind)
    for spot in spots:
        for target in targets:
            if spot.at is not None and target.at is not None and air.blows(spot.at, target.at):
                return _Cause(spot, target, "")
    return None


def _said(cause: _Cause, hours: Sequence[AirSpan]) -> Blown:
    span = (hours[0].span[0], hours[-1].span[1])
    if cause.calm_kind:
        how = f"and may lie on the whole cargo deck, {cause.target.name} too: {hours[0].air.calm}"
        return Blown(span, cause.spot.name, how)
    assert cause.spot.at is not None and cause.target.at is not None
    low = min(each.air.least_m_s for each in hours)
    high = max(each.air.greatest_m_s for each in hours)
    how = (
        f"{distance_m(cause.spot.at, cause.target.at):.0f} m upwind of {cause.target.name} at some speed that the plan "
        f"may choose; wind over the deck {low:.1f} to {high:.1f} m/s"
    )
    return Blown(span, cause.spot.name, how)
