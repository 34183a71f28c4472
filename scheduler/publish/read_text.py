"""What `lull read` prints: what was understood of a voyage folder, table by table, and what is missing."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable
from datetime import datetime
from typing import Final

from scheduler.domain.folder import RowCount, VoyageFolder
from scheduler.domain.policy import KEY_BY_NAME, Value
from scheduler.publish.days import step_text
from scheduler.publish.page import columns, heading, paragraph
from scheduler.publish.speech import WEIGHT, Speech, counted, length, offset_text
from scheduler.times import zulu


def read_text(folder: VoyageFolder) -> str:
    """The folder as plain text within a hundred columns, in ship's time."""
    say = Speech.of(folder)
    lines = [
        *_ship(folder),
        *_tables(folder),
        *_week(folder, say),
        *forecast_lines(folder, say),
        *_limits(folder),
        *_listed("Missing, or taken at its worst", folder.missing, "Nothing."),
        *_listed("Port orders, none of them applied", folder.orders, "None."),
        *_listed("Files that were not read", folder.not_read, "None."),
        *paragraph(
            f"Inputs {folder.digest[:12]}, forecast {folder.forecast_digest[:12]}, seen {folder.seen_digest[:12]}."
        ),
    ]
    return "\n".join(lines) + "\n"


def _ship(folder: VoyageFolder) -> list[str]:
    ship = folder.ship
    asked = f"{counted(len(folder.entries), 'entry', 'entries')} asked for"
    does = f"{counted(len(folder.operations), 'operation')}, {len(folder.people)} people aboard or joining"
    size = f"{ship.length_m:g} by {ship.beam_m:g} m, {ship.service_speed_kn:g} kn"
    return paragraph(f"{ship.name}, {ship.kind}, {size}: {asked}, {does}.")


def _tables(folder: VoyageFolder) -> list[str]:
    total = RowCount(
        read=sum(rows.read for _, rows in folder.rows),
        taken=sum(rows.taken for _, rows in folder.rows),
        blank=sum(rows.blank for _, rows in folder.rows),
    )
    rows = [("table", "read", "taken", "blank", "understood as")]
    rows += [(name, *_figures(count), _understood(name, folder)) for name, count in folder.rows]
    return heading("Tables") + columns([*rows, ("all", *_figures(total), "")], right=(1, 2, 3))


def _figures(count: RowCount) -> tuple[str, str, str]:
    return f"{count.read:,}", f"{count.taken:,}", f"{count.blank:,}"


def _understood(table: str, folder: VoyageFolder) -> str:
    summary = _SUMMARIES.get(table.rsplit("/", 1)[-1].removesuffix(".csv"))
    return summary(folder) if summary else ""


def _kinds(words: Iterable[str]) -> str:
    return ", ".join(f"{count} {word}" for word, count in Counter(words).most_common())


def _entries(folder: VoyageFolder) -> str:
    weights = Counter(entry.priority for entry in folder.entries)
    named = ", ".join(f"{weights[priority]} {word}" for priority, word in WEIGHT.items())
    return f"{named}; {sum(entry.hours for entry in folder.entries):g} h inside in all"


def _operations(folder: VoyageFolder) -> str:
    movable = sum(operation.movable for operation in folder.operations)
    return f"{len(folder.operations) - movable} fixed, {movable} that the plan may move"


def _people(folder: VoyageFolder) -> str:
    able = Counter(word for person in folder.people for word in person.able)
    undrilled = sum(person.last_drill is None for person in folder.people)
    return f"able: {', '.join(f'{able[word]} {word}' for word in sorted(able))}; {undrilled} without a drill date"


def _lines(folder: VoyageFolder) -> str:
    return _kinds(pipe.device for pipe in folder.lines)


_SUMMARIES: Final[dict[str, Callable[[VoyageFolder], str]]] = {
    "spaces": lambda folder: _kinds(space.kind for space in folder.spaces),
    "neighbours": lambda folder: _kinds(contact.contact for contact in folder.neighbours),
    "openings": lambda folder: _kinds(opening.kind for opening in folder.openings),
    "outlets": lambda folder: _kinds(outlet.kind for outlet in folder.outlets),
    "lines": _lines,
    "gear": lambda folder: _kinds(gear.kind for gear in folder.gear),
    "people": _people,
    "duties": lambda folder: f"{counted(len(folder.duties), 'stretch', 'stretches')} when each date is written out",
    "voyage": lambda folder: _kinds(leg.kind for leg in folder.legs),
    "contents": lambda folder: _kinds(content.state for content in folder.contents),
    "cargoes": lambda folder: ", ".join(cargo.cargo for cargo in folder.cargoes),
    "operations": _operations,
    "entries": _entries,
    "readings": lambda folder: f"at {counted(len({row.entry for row in folder.readings}), 'entry', 'entries')}",
}


def _week(folder: VoyageFolder, say: Speech) -> list[str]:
    week = folder.week
    lines = heading("The week, in ship's time")
    lines += paragraph(
        f"{say.moment(week.start)} ({offset_text(say.clock.offset(week.start))}) to {say.moment(week.end)} "
        f"({offset_text(say.clock.offset(week.end))}), {counted(week.days, 'day')}."
    )
    for (at, new), (_, old) in zip(say.clock.steps[1:], say.clock.steps, strict=False):
        if week.start <= at < week.end and new != old:
            lines += paragraph(f"{say.date(at)}: {step_text(at, old, new)}", indent=2, hang=2)
    rows = [
        (say.moment(leg.start), "to " + say.moment(leg.end), leg.leg, f"{leg.kind}, {leg.place}") for leg in folder.legs
    ]
    return lines + columns(rows, indent=2)


def forecast_lines(folder: VoyageFolder, say: Speech) -> list[str]:
    """When the forecast was issued, how old it is as the week begins, how far it reaches, until when it counts."""
    lines = heading("Forecast")
    if not folder.weather:
        return [*lines, "None: every hour at sea is without a weather basis."]
    issued = max(row.issued for row in folder.weather)
    steps = [row.time for row in folder.weather if row.issued == issued]
    text = (
        f"Issued {say.moment(issued)}, {_age(issued, folder.week.start)}; {counted(len(steps), 'row')} of that issue, "
    )
    text += f"from {say.moment(min(steps))} to {say.moment(max(steps))}."
    if max(steps) < folder.week.end:
        text += f" The last {length(folder.week.end - max(steps))} of the week have no weather basis."
    oldest = folder.policy.number("weather.longest_age_h")
    return lines + paragraph(f"{text} A plan holds for {oldest:g} h after the issue.")


def _age(issued: datetime, start: datetime) -> str:
    if issued <= start:
        return f"{length(start - issued)} old as the week begins"
    return f"{length(issued - start)} after the week begins"


def _limits(folder: VoyageFolder) -> list[str]:
    given = sorted(folder.policy.overrides)
    values = {name: folder.policy.value(name) for name in given}
    changed = [f"{name} = {_value(values[name])}" for name in given if values[name] != KEY_BY_NAME[name].default]
    looser = [f"{name} is looser than its source: a caution on every output." for name in folder.policy.looser()]
    return _listed("Limits changed by policy.toml", [*changed, *looser], "None: every limit is the default.")


def _value(value: Value) -> str:
    if not isinstance(value, tuple):
        return str(value)
    return ", ".join(part if isinstance(part, str) else " to ".join(part) for part in value)


def _listed(title: str, texts: Iterable[str], none: str) -> list[str]:
    found = [line for text in texts for line in paragraph(text, indent=2, hang=2)]
    return heading(title) + (found or [none])


def read_json(folder: VoyageFolder) -> dict[str, object]:
    """The same for a program: ship, week, tables, forecast, what is missing and what was not read."""
    issued = max((row.issued for row in folder.weather), default=None)
    return {
        "ship": folder.ship.name,
        "week": {"start": zulu(folder.week.start), "end": zulu(folder.week.end)},
        "clocks": [{"at": zulu(step.at), "offset": offset_text(step.offset)} for step in folder.clocks],
        "tables": {name: {"read": row.read, "taken": row.taken, "blank": row.blank} for name, row in folder.rows},
        "forecast_issued": zulu(issued) if issued else None,
        "overrides": {name: folder.policy.overrides[name] for name in sorted(folder.policy.overrides)},
        "missing": list(folder.missing),
        "orders": list(folder.orders),
        "not_read": list(folder.not_read),
        "inputs": {
            "digest": folder.digest,
            "forecast_digest": folder.forecast_digest,
            "seen_digest": folder.seen_digest,
        },
    }
