"""The piping around each space: its boundary, and the devices that an operation uses."""

from __future__ import annotations

from scheduler.domain.folder import VoyageFolder
from scheduler.domain.operations import Operation
from scheduler.domain.ship import Pipe
from scheduler.hazards import piping
from scheduler.rules.kinds import kind_of, spaces_of

FIXED_FAN = "fixed fan"


def isolation(folder: VoyageFolder, space: str) -> piping.Isolation:
    """The boundary of a space, worked out once a folder."""
    known = folder.cache.setdefault("isolation", {})
    assert isinstance(known, dict)
    if space not in known:
        exception = kind_of(spaces_of(folder)[space]).fixed_fan
        known[space] = piping.isolate(_devices(folder, named_exception=exception), space, spaces_of(folder))
    found = known[space]
    assert isinstance(found, piping.Isolation)
    return found


def devices_used(folder: VoyageFolder, operation: Operation) -> frozenset[str]:
    """The devices and pipes that an operation uses: as its row lists them, or all that reach its spaces."""
    named = operation.spaces if operation.lines is None else operation.lines
    used: set[str] = set()
    for name in named:
        used.update(_reaching(folder, name) if name in spaces_of(folder) else (name,))
    return frozenset(used)


def _reaching(folder: VoyageFolder, space: str) -> tuple[str, ...]:
    known = folder.cache.setdefault("devices reaching", {})
    assert isinstance(known, dict)
    if space not in known:
        known[space] = piping.devices_reaching(_devices(folder, named_exception=False), space, spaces_of(folder))
    return tuple(known[space])


def _devices(folder: VoyageFolder, *, named_exception: bool) -> tuple[piping.Device, ...]:
    """The piping as the graph wants it. Where a kind of space needs its fixed fan for air, that line stays open:
    a named exception, blanked at its far end."""
    known = folder.cache.setdefault("piping", {})
    assert isinstance(known, dict)
    if named_exception not in known:
        known[named_exception] = tuple(
            piping.Device(
                point=_point(pipe.point, named_exception=named_exception),
                to_point=_point(pipe.to_point, named_exception=named_exception),
                device_id=device_id(pipe),
                strength=piping.strength_when_closed(pipe.device),
                lockable=pipe.lockable,
                kind=pipe.device,
            )
            for pipe in folder.lines
        )
    return tuple(known[named_exception])


def _point(name: str, *, named_exception: bool) -> str:
    is_fan = named_exception and name.casefold().startswith(FIXED_FAN)
    return f"{piping.DEAD}: {name}" if is_fan else name


def device_id(pipe: Pipe) -> str:
    """A device's id; a pipe without one is named by its two points."""
    return pipe.device_id or f"{pipe.point} – {pipe.to_point}"
