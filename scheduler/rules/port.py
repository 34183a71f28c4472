"""What places say to entries, hot work, coating, venting and ballast out."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Final

from scheduler.domain.entries import Entry
from scheduler.domain.folder import VoyageFolder
from scheduler.domain.operations import Operation
from scheduler.domain.restrictions import OPEN, RUN, Ask, Caution, KeepClear, Phase, Restriction
from scheduler.domain.source import Source, SourceKind
from scheduler.domain.voyage import Permission, PlaceRules
from scheduler.rules.air import is_coating
from scheduler.rules.during import Span, clear, run_of
from scheduler.rules.flows import sends_vapour
from scheduler.rules.nearby import sorted_operations
from scheduler.rules.outlook import entries_of, legs_of
from scheduler.rules.spoken import at_ships_time, length_of
from scheduler.times import HOUR, gaps, joined, overlap

RULE = "port"
LOCAL = Source(kind=SourceKind.GIVEN, text="places.csv and permissions.csv")
SAID: Final = {
    "entries": "entries",
    "hot_work": "hot work",
    "coating": "coating",
    "venting": "venting",
    "ballast_out": "pumping ballast out",
}


@dataclass(frozen=True, slots=True)
class Stay:
    """A time at one place, over all the legs that follow each other there."""

    place: str
    span: Span
    rules: PlaceRules | None

    def word(self, what: str) -> str:
        """Allowed, forbidden or ask; a berth or anchorage without a row counts as 'ask'."""
        return "ask" if self.rules is None else str(getattr(self.rules, what))


@dataclass(frozen=True, slots=True)
class _Wish:
    """Something that wants a place's word: an entry or an operation, and its phases."""

    who: str
    phases: tuple[Phase, ...]
    what: str
    span: Span
    """The time in which it could take place."""


def port(folder: VoyageFolder) -> Iterator[Restriction]:
    """Forbidden or refused: kept clear; asked for: what to ask, and not before notice could be given."""
    places = stays_of(folder)
    for entry in entries_of(folder):
        for what in _whats(folder, entry):
            wish = _Wish(entry.entry, OPEN, what, (folder.week.start, folder.week.end))
            for stay in places:
                yield from _ruled(folder, wish, stay)
    for operation in sorted_operations(folder):
        for what in _asks(folder, operation):
            wish = _Wish(operation.operation, RUN, what, run_of(operation, folder))
            for stay in places:
                if overlap(wish.span, stay.span):
                    yield from _operation(folder, operation, wish, stay)


def stays_of(folder: VoyageFolder) -> tuple[Stay, ...]:
    """The stays at berths and anchorages, and on passages through places that have a row of their own."""
    rules = {row.place: row for row in folder.places}
    found: list[Stay] = []
    for leg in legs_of(folder):
        if leg.kind not in ("berth", "anchorage") and leg.place not in rules:
            continue
        last = found[-1] if found else None
        if last is not None and last.place == leg.place and last.span[1] >= leg.start:
            found[-1] = Stay(leg.place, (last.span[0], max(leg.end, last.span[1])), last.rules)
        else:
            found.append(Stay(leg.place, (leg.start, leg.end), rules.get(leg.place)))
    return tuple(found)


def _whats(folder: VoyageFolder, entry: Entry) -> Iterator[str]:
    yield "entries"
    if entry.work == "hot work":
        yield "hot_work"
    if is_coating(folder, entry):
        yield "coating"


def _asks(folder: VoyageFolder, operation: Operation) -> Iterator[str]:
    if sends_vapour(folder, operation):
        yield "venting"
    if operation.kind in ("ballast out", "ballast exchange"):
        yield "ballast_out"


def _operation(folder: VoyageFolder, operation: Operation, wish: _Wish, stay: Stay) -> Iterator[Restriction]:
    """A fixed operation stands as given: what the place says against it is said aloud, and moves nothing."""
    for restriction in _ruled(folder, wish, stay):
        if operation.movable or isinstance(restriction, Ask):
            yield restriction
        elif isinstance(restriction, KeepClear) and overlap((restriction.start, restriction.end), wish.span):
            text = f"{operation.operation} ({operation.kind}) stands as given, but: {restriction.because}"
            yield Caution(text=text, weight=1, table="operations.csv", row=operation.origin.row, rule=RULE)


def _ruled(folder: VoyageFolder, wish: _Wish, stay: Stay) -> Iterator[Restriction]:
    word, answers = stay.word(wish.what), _answers(folder, wish, stay)
    no = _spans(stay, [row for row in answers if row.answer == "no"])
    said = f"{stay.place} {{}} {SAID[wish.what]}"
    if word == "forbidden":
        note = f" ({stay.rules.note})" if stay.rules and stay.rules.note else ""
        yield from _keep(folder, wish, stay.span, said.format("forbids") + f"{note}.")
        return
    for span in no:
        yield from _keep(folder, wish, span, said.format("was asked for") + ", and the answer is no.")
    if word == "allowed":
        return
    yes = [row for row in answers if row.answer == "yes"]
    if yes:
        yield from _only_in(folder, wish, stay, _spans(stay, yes))
    elif no != (stay.span,):
        yield from _asked(folder, wish, stay, [row for row in answers if row.answer is None])


def _answers(folder: VoyageFolder, wish: _Wish, stay: Stay) -> list[Permission]:
    found = [row for row in folder.permissions if row.place == stay.place and row.what == wish.what]
    return sorted(found, key=lambda row: (row.asked_at or folder.week.start, row.reference, row.origin.row))


def _spans(stay: Stay, rows: Sequence[Permission]) -> tuple[Span, ...]:
    """The parts of the stay that answers speak of; without from and until all of it."""
    start, end = stay.span
    return joined((max(start, row.from_ or start), min(end, row.until or end)) for row in rows)


def _only_in(folder: VoyageFolder, wish: _Wish, stay: Stay, yes: Sequence[Span]) -> Iterator[KeepClear | Ask]:
    when = " and ".join(f"from {at_ships_time(folder, a)} to {at_ships_time(folder, b)}" for a, b in yes)
    because = f"{stay.place} allows {SAID[wish.what]} {when or 'at other times'}."
    for span in gaps(yes, *stay.span):
        yield from _keep(folder, wish, span, f"{because[:-1]} only.")
    for span in yes:
        yield _ask(folder, wish, stay, span, "yes", because)


def _asked(folder: VoyageFolder, wish: _Wish, stay: Stay, open_: Sequence[Permission]) -> Iterator[KeepClear | Ask]:
    """Nothing before notice can have been given; from then on tentative."""
    notice_h = _notice_h(folder, stay)
    asked = [row.asked_at for row in open_ if row.asked_at is not None]
    since = min(asked) if asked else folder.week.start
    ready = since + notice_h * HOUR
    how = f"asked on {at_ships_time(folder, since)}" if asked else "not asked yet, at the earliest as the week begins"
    because = f"{stay.place} wants {SAID[wish.what]} asked for {length_of(notice_h * 60)} before; {how}."
    yield from _keep(folder, wish, (stay.span[0], min(ready, stay.span[1])), because)
    if ready < stay.span[1]:
        answer = "asked" if asked else ""
        span = (max(stay.span[0], ready), stay.span[1])
        yield _ask(folder, wish, stay, span, answer, f"{because} Subject to permission.")


def _notice_h(folder: VoyageFolder, stay: Stay) -> float:
    if stay.rules is None or stay.rules.notice_h is None:
        return folder.policy.number("port.notice_h")
    return stay.rules.notice_h


def _keep(folder: VoyageFolder, wish: _Wish, span: Span, because: str) -> Iterator[KeepClear]:
    yield from clear(folder, wish.who, wish.phases, span, rule=RULE, because=because, source=LOCAL)


def _ask(folder: VoyageFolder, wish: _Wish, stay: Stay, span: Span, answer: str, because: str) -> Ask:
    start, end = span
    return Ask(
        entry=wish.who,
        place=stay.place,
        what=wish.what,
        start=_within(folder, start),
        end=_within(folder, end),
        notice_h=_notice_h(folder, stay),
        answer=answer,
        rule=RULE,
        because=because,
        source=LOCAL,
    )


def _within(folder: VoyageFolder, at: datetime) -> datetime:
    return min(max(at, folder.week.start), folder.week.end)
