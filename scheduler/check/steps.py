"""The steps of an entry: all there, in order, joined where they must be, each as long as it must be."""

from __future__ import annotations

from datetime import timedelta
from itertools import pairwise
from typing import Final

from scheduler.check.findings import Ledger
from scheduler.check.scene import PHASE_NAMES, PROVING, Scene, Stay, minutes
from scheduler.check.span import NOTHING, stamp
from scheduler.domain.plan import PlannedPhase

RULE: Final = "fresh test"
LEAST_ISOLATE_MIN: Final = 45  # common practice, no source


def look(scene: Scene, ledger: Ledger) -> None:
    """Walk the phases of every entry."""
    for stay in scene.stays:
        _known_and_apart(scene, stay, ledger)
        _lengths(scene, stay, ledger)
        _sessions(scene, stay, ledger)
        if stay.planned.outcome == "broken off":
            # What was begun is cut short; closing up in full is the one step that may never be missing.
            _once(stay, "restore", ledger)
            continue
        _all_there(stay, ledger)
        _joined(stay, ledger)
        _tail(stay, ledger)


def _known_and_apart(scene: Scene, stay: Stay, ledger: Ledger) -> None:
    for phase in stay.phases:
        known = phase.phase in PHASE_NAMES and phase.phase != "clean"
        text = f"{stay.name} has a phase '{phase.phase}' at {stamp(phase.start)}, for which no length is known."
        _expect(ledger, stay, phase, known, text)
        text = f"{_of(stay, phase)} ends at {stamp(phase.end)}, not after its start {stamp(phase.start)}."
        _expect(ledger, stay, phase, phase.start < phase.end, text)
        inside = scene.week.start <= phase.start and phase.end <= scene.week.end
        text = f"{_of(stay, phase)}, {stamp(phase.start)} to {stamp(phase.end)}, leaves the week {scene.week}."
        ledger.expect("week", inside, text, entry=stay.name, start=phase.start, end=phase.end)
    for one, then in pairwise(stay.phases):
        text = f"{_of(stay, then)} begins at {stamp(then.start)}, before {one.phase} ends at {stamp(one.end)}."
        _expect(ledger, stay, then, one.end <= then.start, text, by=one.end - then.start)


def _all_there(stay: Stay, ledger: Ledger) -> None:
    _once(stay, "isolate", ledger)
    _once(stay, "restore", ledger)
    tails = sum(1 for phase in stay.tail if phase.phase == "ventilate")
    vents = len(stay.of("ventilate")) - tails
    ledger.expect(RULE, vents == 1, f"{stay.name} is ventilated {vents} times before it is entered.", entry=stay.name)
    tests = len(stay.of("test")) - sum(1 for phase in stay.tail if phase.phase == "test")
    sessions, briefs = len(stay.inside), len(stay.of("brief"))
    text = f"{stay.name} has {sessions} sessions, {tests} tests and {briefs} briefings; each session needs its own."
    # The briefing before isolation does for the first session, unless that one has its own.
    enough = sessions >= 1 and sessions == tests and briefs in (sessions, sessions + 1)
    ledger.expect(RULE, enough, text, entry=stay.name)
    _numbered(stay, ledger)


def _once(stay: Stay, name: str, ledger: Ledger) -> None:
    found = len(stay.of(name))
    ledger.expect(RULE, found == 1, f"{stay.name} has {found} phases {name}; one is needed.", entry=stay.name)


def _numbered(stay: Stay, ledger: Ledger) -> None:
    tests = [phase for phase in stay.of("test") if phase not in stay.tail]
    for name, phases in (("test", tests), ("enter", stay.inside)):
        numbers = [phase.session for phase in phases]
        text = f"the phases {name} of {stay.name} are numbered {numbers}; 1, 2, 3 in time is needed."
        ledger.expect(RULE, numbers == list(range(1, len(numbers) + 1)), text, entry=stay.name)
    for brief in stay.of("brief"):
        following = [test.session for test in tests if test.start >= brief.end][:1]
        text = f"{_of(stay, brief)} at {stamp(brief.start)} is numbered {brief.session}; {following} follows it."
        _expect(ledger, stay, brief, brief.session in following or brief.session is None, text)


def _joined(stay: Stay, ledger: Ledger) -> None:
    order = [phase for phase in stay.phases if phase.phase in PHASE_NAMES]
    follows = {"brief": ("isolate", "test"), "isolate": ("ventilate",), "ventilate": ("brief", "test")}
    follows |= {"test": ("enter", "restore"), "enter": ("brief", "ventilate", "restore"), "restore": ()}
    first = order[0].phase if order else "nothing"
    ledger.expect(RULE, first == "brief", f"{stay.name} begins with {first}, not with a briefing.", entry=stay.name)
    for one, then in pairwise(order):
        fits = then.phase in follows.get(one.phase, ())
        text = f"in {stay.name}, {then.phase} at {stamp(then.start)} follows {one.phase}, which it may not."
        _expect(ledger, stay, then, fits, text)
        if (one.phase, then.phase) not in (("test", "enter"), ("enter", "brief")):
            gap = then.start - one.end
            text = f"in {stay.name}, {then.phase} begins {_min(gap)} after {one.phase} ends; they must touch."
            _expect(ledger, stay, then, gap == NOTHING, text, by=abs(gap))


def _lengths(scene: Scene, stay: Stay, ledger: Ledger) -> None:
    devices = len(stay.planned.isolation)
    isolate = scene.length("phase.isolate_min") + devices * scene.length("phase.isolate_per_device_min")
    restore = scene.length("phase.restore_min")
    if stay.hot:
        restore += scene.length("hot_work.watch_min")
    least = {
        "brief": scene.length("phase.brief_min"),
        "isolate": max(isolate, minutes(LEAST_ISOLATE_MIN)),
        "test": test_length(scene, stay),
        "restore": restore,
    }
    for phase in stay.phases:
        needed = least.get(phase.phase, NOTHING)
        _long_enough(ledger, stay, phase, needed)


def _long_enough(ledger: Ledger, stay: Stay, phase: PlannedPhase, needed: timedelta) -> None:
    lacking = needed - (phase.end - phase.start)
    lasts = _min(phase.end - phase.start)
    text = f"{_of(stay, phase)} at {stamp(phase.start)} lasts {lasts}; {_min(needed)} is needed."
    _expect(ledger, stay, phase, lacking <= NOTHING, text, by=lacking)


def test_length(scene: Scene, stay: Stay) -> timedelta:
    """What a test takes: settling where the profile stops the fans, then every level."""
    return (scene.length("test.settle_min") if fans_stop(scene, stay) else NOTHING) + (
        scene.policy.whole("test.levels") * scene.length("test.per_level_min")
    )


def fans_stop(scene: Scene, stay: Stay) -> bool:
    """Whether the profile of the space stops the fans for a test; what is not said counts as stopped."""
    if stay.space.kind == "duct keel":
        return False  # its fixed fan runs as fitted; common practice, no source
    return stay.space.kind != "pump room" or scene.policy.word("pump_room.test") != "running"


def _sessions(scene: Scene, stay: Stay, ledger: Ledger) -> None:
    valid = scene.length("test.valid_min")
    tests = [phase for phase in stay.of("test") if phase not in stay.tail]
    for session in stay.inside:
        before = [test for test in tests if test.end <= session.start]
        if not before:
            text = f"session {session.session} of {stay.name} at {stamp(session.start)} has no test before it."
            _expect(ledger, stay, session, False, text)
            continue
        age = session.start - before[-1].end
        begins = stamp(session.start)
        text = f"the test of {_of(stay, session)} at {begins} is {_min(age)} old; {_min(valid)} is the most."
        _expect(ledger, stay, session, age <= valid, text, by=age - valid)
    for test, session in zip(tests, stay.inside, strict=False):
        text = f"a session of {stay.name} begins at {stamp(session.start)}, before its own test ends."
        _expect(ledger, stay, session, test.end <= session.start, text, by=test.end - session.start)


def _tail(stay: Stay, ledger: Ledger) -> None:
    names = [phase.phase for phase in stay.tail]
    wanted = ["ventilate", "test"] if stay.entry.work == "coat" else []
    text = f"after its last session {stay.name} has {names or 'nothing'}; {wanted or 'nothing'} is needed."
    ledger.expect(RULE, names == wanted, text, entry=stay.name, start=stay.last_out)


def proving_time(stay: Stay) -> timedelta:
    """What the first session spends on proving the space, before the work begins."""
    return PROVING if stay.space.reach == "proving session" else NOTHING


def _expect(
    ledger: Ledger, stay: Stay, phase: PlannedPhase, holds: bool, text: str, by: timedelta | None = None
) -> None:
    by = by if by is not None and by > NOTHING else None
    ledger.expect(RULE, holds, text, entry=stay.name, start=phase.start, end=phase.end, by=by)


def _of(stay: Stay, phase: PlannedPhase) -> str:
    number = f" {phase.session}" if phase.session is not None else ""
    return f"{phase.phase}{number} of {stay.name}"


def _min(length: timedelta) -> str:
    return f"{length / minutes(1):g} min"
