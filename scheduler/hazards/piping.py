"""The isolation boundary of a space: which devices to close so that no pipe can bring anything in.

The piping is a graph of points joined by devices. The walk goes outward from the space until every branch
holds two closed devices or one blank. It is a boundary at the space itself, never a cut far away.
"""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Collection, Iterable, Sequence
from dataclasses import dataclass

STRENGTH_TO_HOLD = 2  # two closed devices or one blank; IMO MSC.581(110) and 29 CFR 1915.15 ask for isolation, the
# count of two is common practice, no source
STRENGTH_WHEN_CLOSED = {
    "spectacle blank": 2,
    "removable piece": 2,
    "valve": 1,
    "non-return valve": 0,
    "pipe": 0,
}  # common practice, no source: a blank or a piece taken out holds by itself, a non-return valve never counts
WALKED_THROUGH = ("pipe", "joint")
DEAD = "blind end"


@dataclass(frozen=True, kw_only=True, slots=True)
class Device:
    """One device between two points; `strength` is what it holds when closed, none of it unless `lockable`."""

    point: str
    to_point: str
    device_id: str
    strength: int
    lockable: bool
    kind: str = ""

    @property
    def holds(self) -> int:
        """The strength that counts: only a device that can be locked counts."""
        return self.strength if self.lockable else 0


@dataclass(frozen=True, kw_only=True, slots=True)
class Branch:
    """One system of pipes that touches the space, and the devices that close it, sorted."""

    devices: tuple[str, ...]
    at: tuple[str, ...]
    """Ids of the devices and pipes by which it touches the space, sorted."""


@dataclass(frozen=True, kw_only=True, slots=True)
class OpenBranch:
    """A way from a source into the space that cannot be closed: the devices and pipes on it, outward."""

    source: str
    holds: int
    way: tuple[str, ...]


@dataclass(frozen=True, kw_only=True, slots=True)
class Isolation:
    """What to close around one space, branch by branch, and what cannot be closed."""

    space: str
    branches: tuple[Branch, ...]
    cannot_close: tuple[OpenBranch, ...]

    @property
    def closes(self) -> bool:
        """True when every branch can be closed."""
        return not self.cannot_close

    @property
    def devices(self) -> tuple[str, ...]:
        """All devices to close, sorted, each once."""
        return tuple(sorted({device for branch in self.branches for device in branch.devices}))


def strength_when_closed(kind: str) -> int:
    """What a device of a kind holds when it is closed and locked.

    Assumes: kinds as the piping table writes them.
    Parameters: kind: spectacle blank, removable piece, valve, non-return valve, pipe.
    Returns: strength [1], 0, 1 or 2.
    Raises: ValueError for an unknown kind.
    Source: common practice, no source.
    Example:
        >>> strength_when_closed("valve"), strength_when_closed("spectacle blank")
        (1, 2)
    """
    if kind not in STRENGTH_WHEN_CLOSED:
        known = ", ".join(STRENGTH_WHEN_CLOSED)
        raise ValueError(f"kind: {kind!r} was given; expected one of {known}. Correct the piping table.")
    return STRENGTH_WHEN_CLOSED[kind]


def isolate(devices: Iterable[Device], space: str, spaces: Collection[str]) -> Isolation:
    """The isolation boundary of a space.

    Assumes: a point whose name begins `pipe` or `joint` and is no space is walked through, a `blind end` is no
        source, every other point and every other space is one; so is a stretch of pipe at which only one device
        stands, for where it leads is not known, and a blind end at which two stand, for it is not blind.
        A device that can't be locked counts as open. Devices behind which the walk meets only blind ends are
        not listed.
    Parameters:
        devices: the piping of the whole ship; strengths [1], ≥ 0.
        space: the space to be isolated.
        spaces: the names of all spaces.
    Returns: Isolation; with its devices closed, every path from a source to the space holds at least 2 wherever
        `closes` is true.
    Raises: ValueError for a strength below 0.
    Source: IMO MSC.581(110) and 29 CFR 1915.15 for isolating; two devices or one blank: common practice, no source.
    Example:
        >>> sea = [Device(point="tank 3", to_point="pipe 1", device_id="V1", strength=1, lockable=True),
        ...        Device(point="pipe 1", to_point="main: ballast", device_id="V2", strength=1, lockable=True)]
        >>> isolate(sea, "tank 3", {"tank 3"}).devices
        ('V1', 'V2')
        >>> isolate(sea[:1] + [Device(point="pipe 1", to_point="main: ballast", device_id="N2", strength=0,
        ...                           lockable=False)], "tank 3", {"tank 3"}).cannot_close
        (OpenBranch(source='main: ballast', holds=1, way=('V1', 'N2')),)
    """
    piping = _Piping(devices, spaces)
    reached = _walk(piping, space)
    points = frozenset(point for point in reached if point != space and piping.goes_on(point))
    branches = _branches(_live_edges(piping, space, points), space, points)
    return Isolation(space=space, branches=branches, cannot_close=_unclosed(piping, reached, space))


def devices_reaching(devices: Iterable[Device], space: str, spaces: Collection[str]) -> tuple[str, ...]:
    """Every device and pipe of every branch that reaches a space, as far as its sources.

    Assumes: what `isolate` assumes about points; closed or not does not matter.
    Parameters:
        devices: the piping of the whole ship.
        space: the space.
        spaces: the names of all spaces.
    Returns: device ids, sorted.
    Raises: ValueError for a strength below 0.
    Source: none needed.
    Example:
        >>> line = [Device(point="tank 3", to_point="pipe 1", device_id="V1", strength=1, lockable=True),
        ...         Device(point="pipe 1", to_point="main: cargo", device_id="V2", strength=1, lockable=True),
        ...         Device(point="main: cargo", to_point="manifold 1", device_id="V3", strength=1, lockable=True)]
        >>> devices_reaching(line, "tank 3", {"tank 3"})
        ('V1', 'V2')
    """
    piping = _Piping(devices, spaces)
    met, seen, to_do = set[str](), {space}, [space]
    while to_do:
        for device, far in piping.edges_at(to_do.pop()):
            met.add(device.device_id)
            if far not in seen and piping.goes_on(far):
                seen.add(far)
                to_do.append(far)
    return tuple(sorted(met))


def is_walked_through(point: str, spaces: Collection[str]) -> bool:
    """True for a stretch of pipe or a junction: no source, and the walk goes on through it.

    Assumes: a space keeps being one, whatever its name begins with.
    Parameters: point: a name; spaces: the names of all spaces.
    Returns: True for points to walk through.
    Raises: nothing.
    Source: none needed.
    Example:
        >>> is_walked_through("joint 4", {"pipe tunnel"}), is_walked_through("pipe tunnel", {"pipe tunnel"})
        (True, False)
    """
    return point not in spaces and point.casefold().startswith(WALKED_THROUGH)


_Walk = dict[str, tuple[int, tuple[str, ...]]]
"""For each point reached before its branch holds: the least strength on a way to it, and that way's devices."""


class _Piping:
    """The graph: each device under both its points, and what kind of point each one is.

    A stretch of pipe at which only one device stands leads nobody knows where, and a blind end at which two stand
    is not blind: both count as sources.
    """

    def __init__(self, devices: Iterable[Device], spaces: Collection[str]) -> None:
        self._spaces = frozenset(spaces)
        self._edges = defaultdict[str, list[tuple[Device, str]]](list)
        for device in sorted(devices, key=lambda each: (each.device_id, each.point, each.to_point)):
            if device.strength < 0:
                raise ValueError(
                    f"device {device.device_id}: strength {device.strength} was given; expected 0 or more. "
                    "Correct the piping table."
                )
            if device.point != device.to_point:
                self._edges[device.point].append((device, device.to_point))
                self._edges[device.to_point].append((device, device.point))

    def edges_at(self, point: str) -> list[tuple[Device, str]]:
        """The devices at a point with the point beyond each, in the order of device ids."""
        return self._edges.get(point, [])

    def goes_on(self, point: str) -> bool:
        return is_walked_through(point, self._spaces) and len(self.edges_at(point)) > 1

    def is_dead(self, point: str) -> bool:
        return point not in self._spaces and point.casefold().startswith(DEAD) and len(self.edges_at(point)) == 1

    def is_source(self, point: str) -> bool:
        return not self.goes_on(point) and not self.is_dead(point)


def _walk(piping: _Piping, space: str) -> _Walk:
    """Go outward from the space, everything closed that can be, until each branch holds; the weakest way counts."""
    reached: _Walk = {space: (0, ())}
    for strength in range(STRENGTH_TO_HOLD):
        to_do = sorted(point for point, (found, _) in reached.items() if found == strength)
        for point in to_do:  # grows while it is walked
            if point != space and not piping.goes_on(point):
                continue
            for device, far in piping.edges_at(point):
                behind = strength + device.holds
                if behind < STRENGTH_TO_HOLD and (far not in reached or behind < reached[far][0]):
                    reached[far] = (behind, (*reached[point][1], device.device_id))
                    if behind == strength:
                        to_do.append(far)
    return reached


def _unclosed(piping: _Piping, reached: _Walk, space: str) -> tuple[OpenBranch, ...]:
    """The sources that the walk reached although everything was closed that can be, the weakest way to each."""
    return tuple(
        OpenBranch(source=point, holds=holds, way=way)
        for point, (holds, way) in sorted(reached.items())
        if point != space and piping.is_source(point)
    )


def _live_edges(piping: _Piping, space: str, points: frozenset[str]) -> list[Device]:
    """The devices that the walk met, less those behind which there are only blind ends."""
    met = {id(device): device for point in sorted({space, *points}) for device, _ in piping.edges_at(point)}
    live = [device for device in met.values() if not any(piping.is_dead(end) for end in _ends(device))]
    while True:
        ways = Counter(end for device in live for end in _ends(device))
        kept = [device for device in live if not any(end in points and ways[end] == 1 for end in _ends(device))]
        if len(kept) == len(live):
            return live
        live = kept


def _branches(live: Sequence[Device], space: str, points: frozenset[str]) -> tuple[Branch, ...]:
    """The live devices, those together whose pipes hang together outside the space."""
    systems: list[tuple[set[str], list[Device]]] = []
    for device in live:
        inner = {end for end in _ends(device) if end in points}
        joined = [system for system in systems if system[0] & inner]
        systems = [system for system in systems if not system[0] & inner]
        systems.append((inner.union(*(system[0] for system in joined)), [*(d for s in joined for d in s[1]), device]))
    branches = [_branch(members, space) for _, members in systems]
    return tuple(sorted((branch for branch in branches if branch.devices), key=lambda each: (each.at, each.devices)))


def _branch(members: Sequence[Device], space: str) -> Branch:
    return Branch(
        at=tuple(sorted({device.device_id for device in members if space in _ends(device)})),
        devices=tuple(sorted({device.device_id for device in members if device.holds})),
    )


def _ends(device: Device) -> tuple[str, str]:
    return device.point, device.to_point
