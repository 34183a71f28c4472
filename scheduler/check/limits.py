"""When an entry may be: asked window, pinned time, waiting for others, permit and session lengths."""

from __future__ import annotations

from datetime import date, datetime, timedelta
from typing import Final

from scheduler.check.findings import Ledger
from scheduler.check.scene import Scene, Stay, minutes
from scheduler.check.span import HOUR, NOTHING, common, stamp
from scheduler.check.steps import proving_time
from scheduler.domain.plan import PlannedPhase

WINDOW: Final = "window"
PERMIT: Final = "permit"


def look(scene: Scene, ledger: Ledger) -> None:
    """Hold each entry against what was asked for, and against its permit."""
    for stay in scene.stays:
        _window(stay, ledger)
        _after(scene, stay, ledger)
        _stays(scene, stay, ledger)
        _time_inside(scene, stay, ledger)
        _permit(scene, stay, ledger)
        _same_space(scene, stay, ledger)


def _window(stay: Stay, ledger: Ledger) -> None:
    entry, out = stay.entry, stay.out_of_use
    if entry.earliest is not None and out is not None:
        text = f"{stay.name} is isolated from {stamp(out.start)}; not before {stamp(entry.earliest)} was asked for."
        ledger.expect(
            WINDOW, out.start >= entry.earliest, text,
            entry=stay.name, start=out.start, end=entry.earliest, by=entry.earliest - out.start,
        )  # fmt: skip
    if entry.due is not None and stay.last_out is not None:
        late = stay.last_out - entry.due
        text = f"people come out of {stay.name} at {stamp(stay.last_out)}, {late / minutes(1):g} min after it is due."
        ledger.expect(WINDOW, late <= NOTHING, text, entry=stay.name, start=entry.due, end=stay.last_out, by=late)
    if entry.at is not None and stay.inside:
        first = stay.inside[0].start
        text = f"{stay.name} is first entered at {stamp(first)}; {stamp(entry.at)} was asked for."
        ledger.expect(WINDOW, first == entry.at, text, entry=stay.name, start=first, by=abs(first - entry.at))


def _after(scene: Scene, stay: Stay, ledger: Ledger) -> None:
    out = stay.out_of_use
    for other in stay.entry.after:
        ends = _ends_of(scene, other)
        if not ends or out is None:
            text = f"{stay.name} waits for {other}, which the plan leaves out."
            ledger.expect("after", False, text, entry=stay.name, other=other)
            continue
        early = max(ends) - out.start
        text = f"{stay.name} is isolated from {stamp(out.start)}, {early / minutes(1):g} min before {other} is over."
        ledger.expect(
            "after", early <= NOTHING, text,
            entry=stay.name, other=other, start=out.start, end=max(ends), by=early,
        )  # fmt: skip


def _ends_of(scene: Scene, name: str) -> list[datetime]:
    """When an entry or an operation is over; nothing where the plan has it not."""
    closed = [stay.out_of_use.end for stay in scene.stays if stay.name == name and stay.out_of_use]
    return closed + [run.span.end for run in scene.runs if run.name == name]


def _stays(scene: Scene, stay: Stay, ledger: Ledger) -> None:
    longest = scene.length("session.longest_h")
    for session in stay.inside:
        length = session.end - session.start
        over = length - longest
        text = f"session {session.session} of {stay.name} lasts {_h(length)}; {_h(longest)} is the most."
        _expect(ledger, stay, session, over <= NOTHING, text, over)
    if not stay.entry.splittable:
        text = f"{stay.name} may not be divided, and has {len(stay.inside)} sessions."
        ledger.expect(PERMIT, len(stay.inside) <= 1, text, entry=stay.name)
        return
    least = timedelta(hours=stay.entry.least_session_hours or 0)
    for number, session in enumerate(stay.inside[:-1]):
        work = session.end - session.start - (proving_time(stay) if number == 0 else NOTHING)
        text = f"session {session.session} of {stay.name} holds {_h(work)} of work; {_h(least)} is the least."
        _expect(ledger, stay, session, work >= least, text, least - work)


def _time_inside(scene: Scene, stay: Stay, ledger: Ledger) -> None:
    asked = timedelta(hours=stay.entry.hours)
    inside = sum((s.end - s.start for s in stay.inside), NOTHING) - proving_time(stay)
    if stay.planned.outcome == "broken off":
        asked = NOTHING
    lacking = asked - inside
    text = f"{stay.name} has {_h(inside)} of work inside; {_h(asked)} was asked for."
    ledger.expect(PERMIT, lacking <= NOTHING, text, entry=stay.name, by=lacking)
    if stay.planned.outcome == "planned":
        over = inside - asked
        text = f"{stay.name} has {_h(inside)} of work inside, {_h(over)} more than was asked for."
        ledger.expect(PERMIT, over < scene.length("grid_min"), text, entry=stay.name, by=over)
    if stay.inside and proving_time(stay):
        first = stay.inside[0]
        text = f"session 1 of {stay.name} is shorter than the 30 min that prove the space."
        _expect(ledger, stay, first, first.end - first.start >= proving_time(stay), text, NOTHING)


def _permit(scene: Scene, stay: Stay, ledger: Ledger) -> None:
    longest = scene.length("permit.longest_h")
    tests = [phase for phase in stay.of("test") if phase not in stay.tail]
    days: dict[date, list[PlannedPhase]] = {}
    for phase in (*tests, *stay.inside):
        days.setdefault(scene.clock.day(phase.start), []).append(phase)
    for day, phases in sorted(days.items()):
        start, end = min(p.start for p in phases), max(p.end for p in phases)
        over = end - start - longest
        text = f"the permit of {stay.name} for {day} spans {_h(end - start)}; {_h(longest)} is the most."
        ledger.expect(PERMIT, over <= NOTHING, text, entry=stay.name, start=start, end=end, by=over)
    if stay.opened is not None:
        most = scene.length("permit.open_longest_h")
        over = stay.opened.length - most
        text = f"{stay.name} is open for {_h(stay.opened.length)}; {_h(most)} is the most."
        ledger.expect(
            PERMIT, over <= NOTHING, text, entry=stay.name, start=stay.opened.start, end=stay.opened.end, by=over
        )


def _same_space(scene: Scene, stay: Stay, ledger: Ledger) -> None:
    """One entry's closing up would take the tags off over the heads of another's people."""
    for other in scene.stays:
        if other.name <= stay.name or other.space is not stay.space:
            continue
        shared = common(stay.out_of_use, other.out_of_use) if stay.out_of_use and other.out_of_use else None
        text = f"{stay.name} and {other.name} have {stay.space.space} out of use at one time, {shared}."
        ledger.expect(
            "lines", shared is None, text, entry=stay.name, other=other.name,
            start=shared and shared.start, end=shared and shared.end, by=shared and shared.length,
        )  # fmt: skip


def _expect(ledger: Ledger, stay: Stay, phase: PlannedPhase, holds: bool, text: str, by: timedelta) -> None:
    ledger.expect(PERMIT, holds, text, entry=stay.name, start=phase.start, end=phase.end, by=by)


def _h(length: timedelta) -> str:
    return f"{length / HOUR:g} h"
