"""Which spaces touch, which openings lead into each, and which operations name it."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping

from scheduler.domain.folder import VoyageFolder
from scheduler.domain.operations import Operation
from scheduler.domain.ship import Opening

CLOSEST_FIRST = ("opening", "bulkhead", "edge", "corner")
UNKNOWN_CONTACT = "unknown"


def contacts(folder: VoyageFolder) -> Mapping[str, Mapping[str, str]]:
    """For each space its neighbours and how they touch; a space in no row touches every other one ('unknown')."""
    found = folder.cache.get("contacts")
    if not isinstance(found, dict):
        found = folder.cache["contacts"] = _contacts(folder)
    return found


def neighbours_of(folder: VoyageFolder, space: str) -> tuple[str, ...]:
    """The spaces that touch a space, sorted; all others where nothing is known of either."""
    return tuple(sorted(contacts(folder).get(space, {})))


def openings_of(folder: VoyageFolder, space: str) -> tuple[Opening, ...]:
    """The openings of a space, by id."""
    known = folder.cache.get("openings")
    if not isinstance(known, dict):
        grouped: dict[str, list[Opening]] = defaultdict(list)
        for opening in sorted(folder.openings, key=lambda each: each.opening):
            grouped[opening.space].append(opening)
        known = folder.cache["openings"] = dict(grouped)
    return tuple(known.get(space, ()))


def operations_of(folder: VoyageFolder, space: str) -> tuple[Operation, ...]:
    """The operations that name a space, by the start (or earliest start), then by id."""
    known = folder.cache.get("operations by space")
    if not isinstance(known, dict):
        grouped: dict[str, list[Operation]] = defaultdict(list)
        for operation in sorted_operations(folder):
            for name in operation.spaces:
                grouped[name].append(operation)
        known = folder.cache["operations by space"] = dict(grouped)
    return tuple(known.get(space, ()))


def sorted_operations(folder: VoyageFolder) -> tuple[Operation, ...]:
    """All operations by the start (or earliest start), then by id."""
    return tuple(
        sorted(folder.operations, key=lambda each: (each.start or each.earliest or folder.week.start, each.operation))
    )


def _contacts(folder: VoyageFolder) -> dict[str, dict[str, str]]:
    found: dict[str, dict[str, str]] = {space.space: {} for space in folder.spaces}
    for row in folder.neighbours:
        for one, other in ((row.space, row.neighbour), (row.neighbour, row.space)):
            known = found.setdefault(one, {}).get(other)
            if known is None or CLOSEST_FIRST.index(row.contact) < CLOSEST_FIRST.index(known):
                found[one][other] = row.contact
    for space in [name for name, touched in found.items() if not touched]:
        for other in found:
            if other != space:
                found[space].setdefault(other, UNKNOWN_CONTACT)
                found[other].setdefault(space, UNKNOWN_CONTACT)
    return found
