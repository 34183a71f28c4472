"""The isolation boundary of a space: what is shut, and what may not run while it is."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Collection, Iterator

from scheduler.domain.entries import Entry
from scheduler.domain.folder import VoyageFolder
from scheduler.domain.operations import Operation
from scheduler.domain.restrictions import OUT_OF_USE, Device, Notice, Refusal, Restriction
from scheduler.domain.ship import Pipe, Space
from scheduler.domain.source import Source, SourceKind
from scheduler.hazards import piping
from scheduler.rules.boundary import FIXED_FAN, device_id, devices_used, isolation
from scheduler.rules.during import during
from scheduler.rules.kinds import kind_of, spaces_of
from scheduler.rules.nearby import sorted_operations
from scheduler.rules.outlook import entries_of
from scheduler.rules.spoken import listed

RULE = "lines"
ISOLATION = Source(
    kind=SourceKind.PUBLISHED,
    text="IMO MSC.581(110), by published summaries, and 29 CFR 1915.15; two devices or one blank: common practice",
)
ACTIONS = {
    "valve": "shut, lock, tag",
    "spectacle blank": "swing to blank, lock, tag",
    "removable piece": "take out, blank the open ends, tag",
}


def lines(folder: VoyageFolder) -> Iterator[Restriction]:
    """For each entry the devices to shut, what cannot be shut, and the operations that need one of them."""
    for entry in entries_of(folder):
        yield from _boundary(folder, entry)
        for operation in sorted_operations(folder):
            because = _conflict(folder, entry, operation)
            if because:
                yield from during(
                    entry.entry, OUT_OF_USE, operation, folder, rule=RULE, because=because, source=ISOLATION
                )


def _boundary(folder: VoyageFolder, entry: Entry) -> Iterator[Device | Notice | Refusal]:
    found = isolation(folder, entry.space)
    pipes = {device_id(pipe): pipe for pipe in folder.lines}
    for branch in found.branches:
        for device in branch.devices:
            yield _shut(entry, pipes[device], branch)
    for way in found.cannot_close:
        yield _refused(entry, way)
    yield from _no_pipes(folder, spaces_of(folder)[entry.space], entry)
    yield from _exception(folder, entry)
    yield from _told(entry, [pipes[device] for device in found.devices])


def _shut(entry: Entry, pipe: Pipe, branch: piping.Branch) -> Device:
    ends = f"between {pipe.point} and {pipe.to_point}"
    return Device(
        entry=entry.entry,
        device=pipe.device_id,
        action=ACTIONS[pipe.device],
        because=f"{pipe.device} {ends}, on the branch that reaches {entry.space} by {listed(branch.at)}",
        tell=_worked_from(pipe),
        rule=RULE,
        source=ISOLATION,
    )


def _refused(entry: Entry, way: piping.OpenBranch) -> Refusal:
    return Refusal(
        entry=entry.entry,
        rule=RULE,
        because=(
            f"{entry.space} cannot be shut off from {way.source}: the way {' – '.join(way.way)} holds {way.holds} of 2 "
            "with all shut that can be locked; two valves or one blank are asked for."
        ),
        would_change="a blank, a removable piece or a lockable valve on that way (lines.csv: device, lockable)",
        source=ISOLATION,
    )


def _no_pipes(folder: VoyageFolder, space: Space, entry: Entry) -> Iterator[Refusal]:
    """A space without a single pipe is a gap in the data: nobody can show that it is shut off."""
    if not any(space.space in (pipe.point, pipe.to_point) for pipe in folder.lines):
        yield Refusal(
            entry=entry.entry,
            rule=RULE,
            because=f"lines.csv names no pipe that leads into {entry.space} ({space.kind}), so it cannot be shut off.",
            would_change="the space's pipes and devices in lines.csv; where there are none, a pipe to a 'blind end'",
            source=ISOLATION,
        )


def _exception(folder: VoyageFolder, entry: Entry) -> Iterator[Notice]:
    """The fixed fan's line, which is not shut where the kind of space needs it for air."""
    if not kind_of(spaces_of(folder)[entry.space]).fixed_fan:
        return
    for pipe in sorted(folder.lines, key=device_id):
        ends = (pipe.point, pipe.to_point)
        if entry.space in ends and any(end.casefold().startswith(FIXED_FAN) for end in ends):
            what = f"{device_id(pipe)} stays open for air; nothing else may be led to that line, its far end is blanked"
            yield _notice(entry, "engine room", "before isolate", what)


def _told(entry: Entry, pipes: Collection[Pipe]) -> Iterator[Notice]:
    """Where the devices are worked from is told what is out of use, and when it is back."""
    at: dict[str, list[str]] = defaultdict(list)
    for pipe in sorted(pipes, key=device_id):
        at[_worked_from(pipe)].append(pipe.device_id)
    for who, devices in sorted(at.items()):
        for when, what in (
            ("before isolate", f"out of use for {entry.space} until you hear otherwise: {', '.join(devices)}"),
            ("after restore", f"back in use: {', '.join(devices)}"),
        ):
            yield _notice(entry, who, when, what)


def _worked_from(pipe: Pipe) -> str:
    """Who is told: where the device is worked from, and all three places when that is not known."""
    return pipe.worked_from or "deck, cargo control and engine room"


def _notice(entry: Entry, who: str, when: str, what: str) -> Notice:
    return Notice(entry=entry.entry, who=who, when=when, what=what, rule=RULE, source=ISOLATION)


def _conflict(folder: VoyageFolder, entry: Entry, operation: Operation) -> str:
    """Why an operation may not run while the space is out of use; empty when it may."""
    if entry.space in operation.spaces:
        return f"{operation.operation} ({operation.kind}) works on {entry.space} itself."
    wanted = sorted(devices_used(folder, operation) & set(isolation(folder, entry.space).devices))
    if wanted:
        shut = f"shut for {entry.entry} in {entry.space}"
        return f"{operation.operation} ({operation.kind}) needs {listed(wanted)}, {shut}."
    return ""
