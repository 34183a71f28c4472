"""The isolation of a space: walked outward, device by device, and kept from every operation."""

from __future__ import annotations

from collections import defaultdict
from typing import Final

from scheduler.check.findings import Ledger
from scheduler.check.scene import Run, Scene, Stay
from scheduler.check.span import common
from scheduler.domain.ship import Pipe

RULE: Final = "lines"
NEEDED: Final = 2  # two closed devices, or one blank; IMO MSC.581(110), by published summaries
STRENGTH: Final = {"removable piece": 2, "spectacle blank": 2, "valve": 1}
WALKED_THROUGH: Final = ("pipe", "joint")
HARMLESS: Final = "blind end"
OWN_FAN: Final = "fixed fan"
FANS_AS_FITTED: Final = ("duct keel", "pump room")


class Piping:
    """The pipes of the ship as a graph."""

    def __init__(self, scene: Scene) -> None:
        self._spaces = scene.spaces
        self._at: dict[str, list[tuple[str, Pipe]]] = defaultdict(list)
        for pipe in scene.folder.lines:
            self._at[pipe.point].append((pipe.to_point, pipe))
            self._at[pipe.to_point].append((pipe.point, pipe))

    def knows(self, space: str) -> bool:
        """True when some line of the space is on the list."""
        return space in self._at

    def source(self, point: str, home: str) -> bool:
        """True for what may send something into the space `home`: all but pipes, joints and blind ends."""
        if point == home or point.startswith((*WALKED_THROUGH, HARMLESS)):
            return False
        own_fan = point.startswith(OWN_FAN) and home in self._spaces
        return not (own_fan and self._spaces[home].kind in FANS_AS_FITTED)

    def weakest(self, home: str, shut: frozenset[str]) -> dict[str, int]:
        """For each source, the least strength of the devices shut on any way to the space."""
        least, ahead = {home: 0}, [home]
        while ahead:
            point = ahead.pop()
            if self.source(point, home):
                continue  # what comes behind a source cannot be nearer than the source
            for other, pipe in self._at[point]:
                strength = min(NEEDED, least[point] + _strength(pipe, shut))
                if strength < least.get(other, NEEDED + 1):
                    least[other] = strength
                    ahead.append(other)
        return {point: strength for point, strength in least.items() if self.source(point, home)}

    def branches(self, home: str) -> frozenset[str]:
        """Every device of every branch that reaches a space, up to its sources."""
        seen, ahead, devices = {home}, [home], set()
        while ahead:
            point = ahead.pop()
            if point != home and (point in self._spaces or not point.startswith(WALKED_THROUGH)):
                continue
            for other, pipe in self._at[point]:
                devices.add(pipe.device_id)
                if other not in seen:
                    seen.add(other)
                    ahead.append(other)
        return frozenset(devices)

    def used_by(self, run: Run) -> frozenset[str]:
        """The devices that an operation uses; blank means every branch of its spaces."""
        operation = run.operation
        given = operation.spaces if operation.lines is None else operation.lines
        used: set[str] = set()
        for name in given:
            used |= self.branches(name) if name in self._spaces else {name}
        return frozenset(used)


def look(scene: Scene, ledger: Ledger) -> None:
    """Walk the boundary of every space that is entered, and hold it against every operation."""
    piping = Piping(scene)
    used = [(run, piping.used_by(run)) for run in scene.runs]
    lockable = {pipe.device_id for pipe in scene.folder.lines if pipe.lockable}
    for stay in scene.stays:
        shut = frozenset(device.device for device in stay.planned.isolation)
        for device in sorted(shut - lockable):
            text = f"{device}, on the isolation list of {stay.name}, is no lockable device of this ship."
            ledger.expect(RULE, False, text, entry=stay.name, other=device)
        text = f"no line of {stay.space.space} is on the list, so its isolation for {stay.name} cannot be shown."
        ledger.expect(RULE, piping.knows(stay.space.space), text, entry=stay.name, other=stay.space.space)
        for source, strength in sorted(piping.weakest(stay.space.space, shut & lockable).items()):
            text = (
                f"with the devices listed for {stay.name} shut, {source} still reaches {stay.space.space} "
                f"through a strength of {strength}; {NEEDED} is needed."
            )
            ledger.expect(RULE, strength >= NEEDED, text, entry=stay.name, other=source)
        for run, devices in used:
            _left_alone(stay, run, devices & shut, ledger)


def _left_alone(stay: Stay, run: Run, needed: frozenset[str], ledger: Ledger) -> None:
    ledger.count(RULE)
    shared = common(stay.out_of_use, run.span) if stay.out_of_use else None
    if shared is None:
        return
    if needed:
        text = f"{run.kind} {run.name} needs {', '.join(sorted(needed))}, shut for {stay.name}, {shared}."
        ledger.breach(RULE, text, entry=stay.name, other=run.name, start=shared.start, end=shared.end, by=shared.length)
    if stay.space.space in run.operation.spaces:
        text = f"{run.kind} {run.name} works on {stay.space.space}, out of use for {stay.name}, {shared}."
        ledger.breach(RULE, text, entry=stay.name, other=run.name, start=shared.start, end=shared.end, by=shared.length)


def _strength(pipe: Pipe, shut: frozenset[str]) -> int:
    return STRENGTH.get(pipe.device, 0) if pipe.lockable and pipe.device_id in shut else 0
