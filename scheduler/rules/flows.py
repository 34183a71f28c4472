"""Which operations send vapour to the deck, where it comes out, what is in it, and which tanks breathe."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

from scheduler.domain.folder import VoyageFolder
from scheduler.domain.operations import Cargo, Operation
from scheduler.domain.ship import Opening, Outlet
from scheduler.hazards.outlets import DeckPoint
from scheduler.rules.during import Span, run_of
from scheduler.rules.kinds import spaces_of
from scheduler.rules.nearby import openings_of
from scheduler.rules.state import CLEAN, State, Stretch, stretches

BLANK_GOES_OUT: Final = ("load", "purge", "gas-free", "tank wash", "vent down", "line blow", "gauging")
PUSHES_GAS_OUT: Final = ("inert", "nitrogen", "transfer", "slops")
"""These push gas out of a cargo tank as well; that a blank counts so is our choice."""
NO_CARGO_IN: Final = ("fuel tank", "fresh-water tank")
BRINGS_CARGO: Final = ("load", "transfer", "slops")
BREATHES: Final = ("cargo", "empty with vapour", "inerted")
PLAIN_WATER: Final = ("ballast", "fresh water")


@dataclass(frozen=True, slots=True)
class Spot:
    """Where vapour comes out: an outlet or an opening; `at` None: its place is not known, and it blows everywhere."""

    name: str
    at: DeckPoint | None


def sends_vapour(folder: VoyageFolder, operation: Operation) -> bool:
    """True when an operation sends vapour to the outlets: as its row says, else by its kind and the tanks' state."""
    if operation.vapour is not None:
        return operation.vapour == "to outlets"
    if operation.kind in ("ballast in", "ballast exchange"):
        return any(
            _uncleaned(state) for space in operation.spaces for state in _states_before(folder, space, operation)
        )
    if operation.kind in PUSHES_GAS_OUT:
        kinds = {spaces_of(folder)[space].kind for space in operation.spaces}
        return not kinds or not kinds <= set(NO_CARGO_IN)
    return operation.kind in BLANK_GOES_OUT


def spots_of(folder: VoyageFolder, spaces: tuple[str, ...]) -> tuple[Spot, ...]:
    """Every outlet that the spaces are joined to; a space without one, or no space at all, blows everywhere."""
    found = {spot for space in spaces for spot in _outlets(folder, space)}
    return tuple(sorted(found or {Spot("an unknown outlet", None)}, key=lambda each: each.name))


def breathing_spots(folder: VoyageFolder, space: str) -> tuple[Spot, ...]:
    """Where a tank breathes: by its outlets of small flow, by all of them when none is marked, else everywhere."""
    small = [each for each in outlets_of(folder, space) if each.small_flow]
    return tuple(_spot(each) for each in small) or tuple(sorted(_outlets(folder, space), key=lambda each: each.name))


def outlets_of(folder: VoyageFolder, space: str) -> tuple[Outlet, ...]:
    """The outlets that a space's vapour leaves by, by id."""
    names = {row.outlet for row in folder.outlet_tanks if row.space == space}
    return tuple(sorted((row for row in folder.outlets if row.outlet in names), key=lambda each: each.outlet))


def opening_spot(opening: Opening) -> Spot:
    """An opening as a place that fans blow out of."""
    return Spot(opening.opening, point_of(opening.x_m, opening.y_m))


def exhausts_of(folder: VoyageFolder, space: str) -> tuple[Spot, ...]:
    """Where the fans of an open space blow out: each of its openings; without any, everywhere."""
    found = tuple(opening_spot(each) for each in openings_of(folder, space))
    return found or (Spot(f"{space}, whose openings are not given", None),)


def point_of(x_m: float | None, y_m: float | None) -> DeckPoint | None:
    """A place on deck, when both coordinates are known."""
    return None if x_m is None or y_m is None else DeckPoint(x_m, y_m)


def sends_toxic(folder: VoyageFolder, operation: Operation) -> bool:
    """True when what an operation sends out is, or may be, toxic: what it brings, and what was in its tanks before."""
    states = [state for space in operation.spaces for state in _states_before(folder, space, operation)]
    if operation.cargo is not None:
        fouled = [state.cargo for state in states if _uncleaned(state)]
        return any(is_toxic(folder, cargo) for cargo in (operation.cargo, *fouled))
    brings = operation.kind in BRINGS_CARGO
    return brings or not states or any(is_toxic(folder, state.cargo) for state in states)


def is_toxic(folder: VoyageFolder, cargo: str | None) -> bool:
    """True for a toxic cargo, for one whose row leaves it open, and for one without a row."""
    row = cargo_row(folder, cargo)
    return row is None or row.toxic is not False


def cargo_row(folder: VoyageFolder, cargo: str | None) -> Cargo | None:
    """The row of a cargo."""
    return next((row for row in folder.cargoes if row.cargo == cargo), None)


@dataclass(frozen=True, slots=True)
class Breathing:
    """A space that breathes vapour in and out by day, as long as `span`."""

    space: str
    cargo: str | None
    span: Span


def breathing(folder: VoyageFolder) -> tuple[Breathing, ...]:
    """All spaces that hold cargo, vapour or inert gas, with the longest time that they may; solids give off none."""
    found = folder.cache.get("breathing")
    if not isinstance(found, tuple):
        names = sorted(space.space for space in folder.spaces)
        found = folder.cache["breathing"] = tuple(each for name in names for each in _breathing(folder, name))
    return found


def _breathing(folder: VoyageFolder, space: str) -> Iterator[Breathing]:
    for stretch in stretches(folder, space):
        row = cargo_row(folder, stretch.state.cargo)
        if stretch.state.state in BREATHES and not (row is not None and row.kind == "solid"):
            yield Breathing(space, stretch.state.cargo, _longest(folder, stretch))


def _longest(folder: VoyageFolder, stretch: Stretch) -> Span:
    """From the earliest start of the operation that brings the state to the latest end of the one that ends it."""
    start = folder.week.start if stretch.after is None else run_of(stretch.after, folder)[0]
    end = folder.week.end if stretch.before is None else run_of(stretch.before, folder)[1]
    return start, end


def _outlets(folder: VoyageFolder, space: str) -> set[Spot]:
    found = {_spot(each) for each in outlets_of(folder, space)}
    return found or {Spot(f"{space}, which has no outlet in outlet_tanks.csv,", None)}


def _spot(outlet: Outlet) -> Spot:
    return Spot(outlet.outlet, point_of(outlet.x_m, outlet.y_m))


def _states_before(folder: VoyageFolder, space: str, operation: Operation) -> list[State]:
    """What may be in a space as an operation begins: the state before it; any of the week's where it changes none."""
    found = [stretch.state for stretch in stretches(folder, space) if stretch.before == operation]
    return found or [stretch.state for stretch in stretches(folder, space)]


def _uncleaned(state: State) -> bool:
    return state.state not in (*CLEAN, *PLAIN_WATER) or (state.state in PLAIN_WATER and _water_on_cargo(state))


def _water_on_cargo(state: State) -> bool:
    return state.cargo is not None and not state.clean_before
