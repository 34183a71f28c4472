"""What must agree about operations and entries."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from datetime import timedelta

from scheduler.domain.policy import KEY_BY_NAME
from scheduler.errors import Fault
from scheduler.inputs.cells import decimal_text
from scheduler.inputs.names import normal
from scheduler.inputs.rows import Row
from scheduler.inputs.voyage_rows import VoyageRows
from scheduler.inputs.work_tables import ON_SPACES

_FIXED = ("start", "end")
_MOVABLE = ("earliest", "latest", "hours")


def check_operations(voyage: VoyageRows) -> Iterator[Fault]:
    """Each is fixed or movable, a movable one fits its window, and what works on spaces names them."""
    for row in voyage.of("operations"):
        yield from _fixed_or_movable(row)
        if row.reads("kind") and row.text("kind") in ON_SPACES and "spaces" not in row.bad and not row.reads("spaces"):
            yield row.fault("spaces", f"a {row.text('kind')} names no space", "the spaces that it works on")
        if row.reads(*_MOVABLE) and voyage.clock_holds:
            window = row.time("latest") - row.time("earliest")
            if timedelta() < window < timedelta(hours=row.must("hours", float)):
                found = f"{decimal_text(row.must('hours', float))} hours do not fit between earliest and {{}}"
                yield row.fault("latest", found, "a window that holds them")


def _fixed_or_movable(row: Row) -> Iterator[Fault]:
    if row.bad.intersection((*_FIXED, *_MOVABLE)):
        return
    fixed = [name for name in _FIXED if row.reads(name)]
    movable = [name for name in _MOVABLE if row.reads(name)]
    wanted = "start (and end), or else earliest, latest and hours"
    if fixed and movable:
        yield row.fault(movable[0], f"{fixed[0]} and {movable[0]} are both given", wanted)
    elif not fixed and len(movable) < len(_MOVABLE):
        column = next(name for name in _MOVABLE if name not in movable) if movable else "start"
        yield row.fault(column, "it is neither fixed nor movable", wanted)
    elif fixed == ["end"]:
        yield row.fault("start", "an end is given and no start", wanted)


def check_entries(voyage: VoyageRows) -> Iterator[Fault]:
    """People, hours and times of an entry agree with each other and with policy."""
    least = _entrants_min(voyage)
    for row in voyage.of("entries"):
        if least and row.reads("entrants") and row.must("entrants", int) < least:
            yield row.fault("entrants", "{} is fewer than policy's entrants_min", f"at least {least}")
        session = row.may("least_session_hours", float)
        if session and row.reads("hours") and session > row.must("hours", float):
            yield row.fault("least_session_hours", "{} is more than the hours of the entry", "at most its hours")
        yield from _pinned(row, voyage)


def _pinned(row: Row, voyage: VoyageRows) -> Iterator[Fault]:
    if not row.reads("at") or not voyage.clock_holds:
        return
    if row.reads("earliest") and row.time("at") < row.time("earliest"):
        yield row.fault("at", "{} is before earliest", "a time between earliest and due")
    if row.reads("due") and row.time("at") >= row.time("due"):
        yield row.fault("at", "{} is not before due", "a time between earliest and due")


def _entrants_min(voyage: VoyageRows) -> int | None:
    policy = voyage.of("policy")
    if not policy or "entrants_min" in policy[0].bad:
        return None
    return policy[0].may("entrants_min", int) or int(str(KEY_BY_NAME["entrants_min"].default))


def check_one_id(voyage: VoyageRows) -> Iterator[Fault]:
    """No id names both an entry and an operation."""
    operations = {normal(row.text("operation")): row for row in voyage.readable("operations", "operation")}
    for row in voyage.readable("entries", "entry"):
        other = operations.get(normal(row.text("entry")))
        if other:
            found = f"{{}} is also an operation ({other.place}, row {other.row})"
            yield row.fault("entry", found, "an id that no operation has")


def check_coatings(voyage: VoyageRows) -> Iterator[Fault]:
    """Each entry that coats has its row of coatings, and no other entry has one."""
    works = {row.text("entry"): row for row in voyage.readable("entries", "entry", "work")}
    coated = {row.text("entry") for row in voyage.readable("coatings", "entry")}
    for row in voyage.readable("coatings", "entry"):
        entry = works.get(row.text("entry"))
        if entry and entry.text("work") != "coat":
            found = f"{{}} is an entry whose work is {entry.text('work')} ({entry.place}, row {entry.row})"
            yield row.fault("entry", found, "an entry whose work is coat")
    for name in sorted(works):
        row = works[name]
        if row.text("work") == "coat" and name not in coated and _all_read(voyage.of("coatings"), "entry"):
            yield row.fault("work", f"{name} coats and has no row in coatings", "a row in coatings")


def _all_read(rows: tuple[Row, ...], column: str) -> bool:
    return all(column not in row.bad for row in rows)


def check_after(voyage: VoyageRows) -> Iterator[Fault]:
    """Nothing waits for itself, be it over others."""
    for table, key in (("entries", "entry"), ("operations", "operation")):
        rows = {row.text(key): row for row in voyage.readable(table, key)}
        waits = {name: row.names("after") for name, row in rows.items() if row.reads("after")}
        for loop in _loops(waits):
            yield rows[loop[0]].fault("after", " waits for ".join((*loop, loop[0])), "an order without a circle")


def _loops(waits: Mapping[str, tuple[str, ...]]) -> Iterator[tuple[str, ...]]:
    """Each circle once, from its first name in the order of letters."""
    done: set[str] = set()
    for first in sorted(waits):
        way, at = [first], {first: 0}
        stack = [iter(waits[first])]
        while stack and first not in done:
            name = next(stack[-1], None)
            if name is None:
                done.add(way.pop())
                stack.pop()
                at = {known: place for place, known in enumerate(way)}
            elif name in at:
                loop = way[at[name] :]
                turn = loop.index(min(loop))
                yield (*loop[turn:], *loop[:turn])
            elif name in waits and name not in done:
                at[name] = len(way)
                way.append(name)
                stack.append(iter(waits[name]))
