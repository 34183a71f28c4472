"""How long briefing, isolation, test and closing take, and how the time inside may be cut into sessions."""

from __future__ import annotations

from collections.abc import Iterator

from scheduler.domain.entries import Entry
from scheduler.domain.folder import VoyageFolder
from scheduler.domain.restrictions import Length, Phase, Refusal, Restriction, Sessions
from scheduler.domain.ship import Space
from scheduler.domain.source import Source, SourceKind
from scheduler.rules.air import choices
from scheduler.rules.boundary import isolation
from scheduler.rules.coating import tail_min
from scheduler.rules.kinds import fans_stop, spaces_of
from scheduler.rules.outlook import entries_of
from scheduler.rules.spoken import length_of, up_to_grid

RULE = "fresh test"
PERMIT = "permit"
TESTING = Source(kind=SourceKind.PUBLISHED, text="IMO MSC.581(110), by published summaries: every level, fans stopped")
PROVING = Source(kind=SourceKind.PUBLISHED, text="MSC.1/Circ.1401 5.3; its length is our choice")
PRACTICE = Source(kind=SourceKind.PRACTICE, text="")
LEAST_ISOLATE_MIN = 45  # common practice, no source
PROVING_MIN = 30  # our choice
MORE_SESSIONS = 2  # beyond as few as can be, so that meals and the day's end may cut a job; our choice


def fresh_test(folder: VoyageFolder) -> Iterator[Restriction]:
    """The lengths of each entry's phases, its sessions, and a Refusal where they cannot be."""
    for entry in entries_of(folder):
        yield from _lengths(folder, entry)
        sessions = _sessions(folder, entry)
        yield sessions
        yield from _too_long(folder, entry, sessions)


def proving_min(space: Space) -> int:
    """Minutes of the proving session: 0 only where a hose is known to reach every part of the space."""
    return 0 if space.reach == "hose" else PROVING_MIN


def isolate_min(folder: VoyageFolder, space: str) -> int:
    """Minutes that shutting off takes, by the number of devices."""
    policy, devices = folder.policy, len(isolation(folder, space).devices)
    minutes = policy.whole("phase.isolate_min") + policy.whole("phase.isolate_per_device_min") * devices
    return up_to_grid(folder, max(LEAST_ISOLATE_MIN, minutes))


def settle_min(folder: VoyageFolder, space: Space) -> int:
    """Minutes with the fans stopped before the readings are taken."""
    return folder.policy.whole("test.settle_min") if fans_stop(folder.policy, space) else 0


def length_of_test_min(folder: VoyageFolder, space: Space) -> int:
    """Minutes of one test: settling and every level."""
    levels = folder.policy.whole("test.levels") * folder.policy.whole("test.per_level_min")
    return up_to_grid(folder, settle_min(folder, space) + levels)


def restore_min(folder: VoyageFolder, entry: Entry) -> int:
    """Minutes of closing up; after hot work the fire watch is part of it."""
    watch = folder.policy.whole("hot_work.watch_min") if entry.work == "hot work" else 0
    return up_to_grid(folder, folder.policy.whole("phase.restore_min") + watch)


def _lengths(folder: VoyageFolder, entry: Entry) -> Iterator[Length]:
    policy, space = folder.policy, spaces_of(folder)[entry.space]
    brief = up_to_grid(folder, policy.whole("phase.brief_min"))
    yield _length(entry, Phase.BRIEF, brief, f"A briefing takes {length_of(brief)}.", PRACTICE)
    devices, isolate = len(isolation(folder, entry.space).devices), isolate_min(folder, entry.space)
    because = f"{devices} devices to shut, lock and tag: {length_of(isolate)}, and never under {LEAST_ISOLATE_MIN} min."
    yield _length(entry, Phase.ISOLATE, isolate, because, PRACTICE)
    settle, test = settle_min(folder, space), length_of_test_min(folder, space)
    levels, each = policy.whole("test.levels"), policy.whole("test.per_level_min")
    settling = f"{settle} min with the fans stopped, then " if settle else "Fans running as policy says: "
    because = f"{settling}{levels} levels of {each} min: {length_of(test)} on the planning grid."
    yield _length(entry, Phase.TEST, test, because, TESTING)
    restore = restore_min(folder, entry)
    watch = f", fire watch of {policy.whole('hot_work.watch_min')} min included" if entry.work == "hot work" else ""
    because = f"Head count, closing, tags off, lines back: {length_of(restore)}{watch}."
    yield _length(entry, Phase.RESTORE, restore, because, PRACTICE)


def _length(entry: Entry, phase: Phase, minutes: int, because: str, source: Source) -> Length:
    return Length(entry=entry.entry, phase=phase, minutes=minutes, rule=RULE, because=because, source=source)


def _sessions(folder: VoyageFolder, entry: Entry) -> Sessions:
    policy, space = folder.policy, spaces_of(folder)[entry.space]
    step, test, proving = policy.whole("grid_min"), length_of_test_min(folder, space), proving_min(space)
    permit = round(policy.number("permit.longest_h") * 60)
    greatest = min(round(policy.number("session.longest_h") * 60), permit - test) // step * step
    inside = up_to_grid(folder, entry.hours * 60)
    least = up_to_grid(folder, (entry.least_session_hours or 0) * 60) or step
    tail = up_to_grid(folder, tail_min(folder, entry))
    return Sessions(
        entry=entry.entry,
        inside_min=inside,
        least_min=min(inside, least) if entry.splittable else inside,
        greatest_min=greatest,
        most=_most(inside, least, greatest, proving) if entry.splittable else 1,
        proving_min=up_to_grid(folder, proving),
        tail_ventilate_min=tail,
        tail_test_min=test if tail else 0,
        valid_min=policy.whole("test.valid_min"),
        open_longest_min=round(policy.number("permit.open_longest_h") * 60),
        permit_min=permit,
        rule=RULE,
        because=_said(inside, greatest, proving, policy.whole("test.valid_min")),
        source=PROVING if proving else TESTING,
    )


def _most(inside: int, least: int, greatest: int, proving: int) -> int:
    """The greatest number of sessions that the plan may try."""
    if greatest <= proving:
        return 1  # no session fits: refused below
    fewest = -(-(inside + proving) // greatest)
    return max(fewest, min(fewest + MORE_SESSIONS, -(-inside // least)))


def _said(inside: int, greatest: int, proving: int, valid: int) -> str:
    first = f" The first begins with {proving} min of proving, the gas tester inside." if proving else ""
    return (
        f"{length_of(inside)} inside in all, at most {length_of(greatest)} in one stay; each stay begins at most "
        f"{valid} min after its own test.{first}"
    )


def _too_long(folder: VoyageFolder, entry: Entry, sessions: Sessions) -> Iterator[Refusal]:
    """What no cutting can help: longer than a stay, than a permit, or than a space may stand open."""
    whole, longest = sessions.inside_min + sessions.proving_min, length_of(sessions.greatest_min)
    proving = f" and {sessions.proving_min} min of proving" if sessions.proving_min else ""
    if not entry.splittable and whole > sessions.greatest_min:
        yield _refused(
            entry,
            f"{length_of(sessions.inside_min)} inside{proving} are more than one stay of {longest}",
            "divide it: set splittable to yes, or ask for less in one entry",
            folder.policy.source("session.longest_h"),
        )
    elif sessions.least_min > sessions.greatest_min or sessions.proving_min >= sessions.greatest_min:
        yield _refused(
            entry,
            f"a session of {length_of(sessions.least_min)} at least{proving} is more than one stay of {longest}",
            "shorter sessions (entries.csv: least_session_hours)",
            folder.policy.source("session.longest_h"),
        )
    yield from _open_too_long(folder, entry, sessions)


def _open_too_long(folder: VoyageFolder, entry: Entry, sessions: Sessions) -> Iterator[Refusal]:
    air = min((choice.minutes for choice in choices(folder, entry)), default=0)
    test = length_of_test_min(folder, spaces_of(folder)[entry.space])
    tail = sessions.tail_ventilate_min + sessions.tail_test_min
    least = air + test + sessions.inside_min + sessions.proving_min + tail + restore_min(folder, entry)
    if least > sessions.open_longest_min:
        yield _refused(
            entry,
            f"{entry.space} would stand open {length_of(least)} at least ({length_of(air)} of them ventilation), and "
            f"{length_of(sessions.open_longest_min)} is the most",
            "divide it, more air, or air to the bottom (spaces.csv: air_reaches_bottom)",
            folder.policy.source("permit.open_longest_h"),
        )


def _refused(entry: Entry, what: str, would_change: str, source: Source) -> Refusal:
    return Refusal(
        entry=entry.entry, rule=PERMIT, because=f"{entry.entry}: {what}.", would_change=would_change, source=source
    )
