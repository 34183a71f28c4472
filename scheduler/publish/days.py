"""The week by day in ship's time: entries with their phases and people, clock steps, and what the ship does next."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import date, datetime, timedelta
from typing import Final, TypeAlias

from scheduler.domain.plan import Plan, PlannedEntry, PlannedPhase, Ready
from scheduler.publish.page import heading, paragraph
from scheduler.publish.speech import MONTHS, WEEKDAYS, Speech, counted, length, offset_text, pieces, sentence
from scheduler.times import MINUTE, overlap

Item: TypeAlias = tuple[datetime, int, str, list[str]]
"""When, what kind (for things at one time), name, and the lines."""

_READY, _ENTRY = 0, 1
_INDENT: Final = 4


def days_lines(plan: Plan, say: Speech) -> list[str]:
    """Every ship's date of the week, also an empty one."""
    lines = heading("The week by day, in ship's time")
    for day, start, end in say.clock.days(plan.week_start, plan.week_end):
        begin, finish = max(start, plan.week_start), min(end, plan.week_end)
        lines += ["", day_name(day, begin, say)]
        lines += _steps(begin, finish, say)
        items = sorted((*_next(plan, begin, finish, say), *_entries(plan, begin, finish, say)))
        lines += [line for item in items for line in item[3]] or ["  No entry."]
    return lines


def day_name(day: date, start: datetime, say: Speech) -> str:
    """`Tuesday 9 March 2027, UTC+03:00`."""
    name = f"{WEEKDAYS[day.weekday()]} {day.day} {MONTHS[day.month - 1]} {day.year}"
    return f"{name}, {offset_text(say.clock.offset(start))}"


def _steps(start: datetime, end: datetime, say: Speech) -> Iterator[str]:
    for (at, new), (_, old) in zip(say.clock.steps[1:], say.clock.steps, strict=False):
        if start <= at < end and new != old:
            yield from paragraph(step_text(at, old, new), indent=2, hang=2)


def step_text(at: datetime, old: timedelta, new: timedelta) -> str:
    """`Clocks go back 1 h at 01:00, to 00:00 (UTC+02:00).`"""
    way = "back" if new < old else "forward"
    return f"Clocks go {way} {length(abs(new - old))} at {at + old:%H:%M}, to {at + new:%H:%M} ({offset_text(new)})."


def _next(plan: Plan, start: datetime, end: datetime, say: Speech) -> Iterator[Item]:
    begins = {row.operation: row.start for row in plan.operations}
    for row in plan.ready:
        leg = say.legs.get(row.what)
        at = begins.get(row.what, leg.start if leg else row.all_closed_by)
        at = max(plan.week_start, min(at, plan.week_end - MINUTE))
        if start <= at < end:
            yield at, _READY, row.what, paragraph(ready_text(row, at, say), indent=2, hang=2)


def ready_text(row: Ready, at: datetime, say: Speech) -> str:
    """By when all is closed up for what the ship does at an instant, and how much time is in hand."""
    hand = f"{length(timedelta(minutes=row.margin_min))} in hand"
    short = f"{length(timedelta(minutes=-row.margin_min))} SHORT"
    return (
        f"{say.time(at)} {say.operation(row.what)}: ready, all closed by {say.moment(row.all_closed_by)}, "
        f"lines back by {say.moment(row.lines_back_by)}, {hand if row.margin_min >= 0 else short}."
    )


def _entries(plan: Plan, start: datetime, end: datetime, say: Speech) -> Iterator[Item]:
    for entry in plan.entries:
        today = [phase for phase in entry.phases if overlap((phase.start, phase.end), (start, end))]
        opened = _open_since(entry)
        if today or (opened and overlap(opened, (start, end))):
            first = min((phase.start for phase in today), default=start)
            yield max(first, start), _ENTRY, entry.entry, _entry_day(entry, plan, today, start, say)


def _open_since(entry: PlannedEntry) -> tuple[datetime, datetime] | None:
    """From the start of the first ventilation to the end of the last phase."""
    starts = [phase.start for phase in entry.phases if phase.phase == "ventilate"]
    return (min(starts), max(phase.end for phase in entry.phases)) if starts else None


def _entry_day(entry: PlannedEntry, plan: Plan, today: list[PlannedPhase], start: datetime, say: Speech) -> list[str]:
    asked = say.entries.get(entry.entry)
    weight = f" ({say.weight(entry.entry)})" if asked else ""
    purpose = f"{asked.purpose}; " if asked else ""
    broken = " BROKEN OFF." if entry.outcome == "broken off" else ""
    lines = paragraph(
        f"{entry.entry}{weight}: {purpose}{say.space(entry.space)}, by {_entrances(entry, say)}.{broken}",
        indent=2,
        hang=2,
    )
    opened = _open_since(entry)
    if opened and opened[0] < start < opened[1] and not any(phase.start < start for phase in today):
        lines += paragraph(f"Open under its fans since {say.moment(opened[0])}, guarded.", indent=_INDENT)
    for phase in sorted(today, key=lambda row: (row.start, row.end)):
        lines += _phase(entry, phase, plan, start, say)
    return lines


def _entrances(entry: PlannedEntry, say: Speech) -> str:
    named = dict.fromkeys(phase.entrance for phase in entry.phases if phase.entrance)
    return " and ".join(say.entrance(opening) for opening in named) or "an entrance that is not named"


def _phase(entry: PlannedEntry, phase: PlannedPhase, plan: Plan, day: datetime, say: Speech) -> list[str]:
    session = f" {phase.session}" if phase.session else ""
    if phase.start < day:
        begun = f"Until {say.until(day, phase.end).split(' to ', 1)[1]}, since {say.moment(phase.start)}"
        return paragraph(f"{begun}: {phase.phase}{session} goes on.", indent=_INDENT, hang=2)
    what = _what(entry, phase, session)
    told = [_who(entry, phase, say), *_with(phase, plan, entry, say)]
    text = ". ".join((f"{say.until(phase.start, phase.end)}: {what}", *(sentence(part) for part in told if part)))
    return [*paragraph(f"{text}.", indent=_INDENT, hang=2), *_depends(entry, phase, say)]


def _what(entry: PlannedEntry, phase: PlannedPhase, session: str) -> str:
    match phase.phase:
        case "ventilate":
            first = phase.start == min(other.start for other in entry.phases if other.phase == "ventilate")
            need = f", {entry.air.hours:g} h needed" if entry.air and first else ""
            fans = pieces(phase.gear)
            return f"ventilate, {length(phase.end - phase.start)}{need}, with {fans or 'no fan named'}"
        case "isolate" if entry.isolation:
            return (
                f"isolate {counted(len(entry.isolation), 'device')}: {', '.join(row.device for row in entry.isolation)}"
            )
        case "enter" | "test" | "brief":
            return f"{phase.phase}{session}"
        case _:
            return phase.phase


def _who(entry: PlannedEntry, phase: PlannedPhase, say: Speech) -> str:
    named = {row.person for row in phase.people}
    if phase.phase == "brief" and named:
        later = [other.start for other in entry.phases if other.phase == "brief" and other.start > phase.start]
        if named == _named_in(entry, phase.end, min(later, default=None)):
            return f"all {len(named)} who are named below{', up to the next briefing' if later else ''}"
    return say.by_duty(phase.people)


def _named_in(entry: PlannedEntry, start: datetime, end: datetime | None) -> set[str]:
    """Everyone with a duty in the phases that begin in [start, end); None: to the last."""
    phases = (phase for phase in entry.phases if start <= phase.start and (end is None or phase.start < end))
    return {row.person for phase in phases for row in phase.people}


def _with(phase: PlannedPhase, plan: Plan, entry: PlannedEntry, say: Speech) -> Iterable[str]:
    if phase.phase != "enter":
        return ()
    there = [v.visitor for v in plan.visitors if (v.entry, v.session) == (entry.entry, phase.session)]
    return (f"With visitor {', '.join(there)}",) if there else ()


def _depends(entry: PlannedEntry, phase: PlannedPhase, say: Speech) -> Iterator[str]:
    """The line that says that a session hangs on the ship's easing."""
    if phase.phase not in ("test", "enter"):
        return
    for easing in entry.easing:
        if overlap((easing.start, easing.end), (phase.start, phase.end)):
            how = "she heaves to" if easing.heaving_to else f"she eases to {easing.speed_kn:g} kn or less"
            text = f"ONLY WHILE {how}, {say.until(easing.start, easing.end)}; else nobody goes in."
            yield from paragraph(text, indent=_INDENT + 2, hang=2)
