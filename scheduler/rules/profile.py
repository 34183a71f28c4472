"""What a kind of space asks for beyond the common steps."""

from __future__ import annotations

from collections.abc import Iterator

from scheduler.domain.entries import Entry
from scheduler.domain.folder import VoyageFolder
from scheduler.domain.restrictions import (
    OUT_OF_USE,
    Caution,
    KeepApart,
    KeepClear,
    Notice,
    Paper,
    Refusal,
    Restriction,
)
from scheduler.domain.source import Source, SourceKind
from scheduler.rules.during import clear, during
from scheduler.rules.kinds import WAYS_IN, fans_stop, kind_of, spaces_of
from scheduler.rules.nearby import contacts, openings_of, sorted_operations
from scheduler.rules.outlook import entries_of
from scheduler.rules.spoken import listed
from scheduler.rules.state import CLEAN, stretches
from scheduler.rules.track import legs_of
from scheduler.times import gaps

RULE = "profile"
PRACTICE = Source(kind=SourceKind.PRACTICE, text="")
SOLID_CARGO = Source(kind=SourceKind.PUBLISHED, text="IMSBC 3.6; SOLAS VI/4 for fumigation, from memory")
PAPERS = Source(kind=SourceKind.PUBLISHED, text="IMO MSC.581(110), by published summaries")
ANCHOR_READY = ("canal", "pilotage", "restricted waters", "stations")  # common practice, no source


def profile(folder: VoyageFolder) -> Iterator[Restriction]:
    """Ways in, pumps, anchors, pairs of tanks, fumigation; papers, and what is done before opening."""
    entries = entries_of(folder)
    for entry in entries:
        yield from _ways_in(folder, entry)
        yield from _engine_side(folder, entry)
        yield from _pumps(folder, entry)
        yield from _anchor(folder, entry)
        yield from _fumigated(folder, entry)
        yield from _told(folder, entry)
        yield from _papers(folder, entry)
    yield from _fresh_water(folder, entries)


def _refused(entry: Entry, because: str, would_change: str, source: Source = PRACTICE) -> Refusal:
    return Refusal(entry=entry.entry, rule=RULE, because=because, would_change=would_change, source=source)


def _caution(entry: Entry, text: str, weight: int) -> Caution:
    return Caution(text=text, weight=weight, entry=entry.entry, rule=RULE)


def _ways_in(folder: VoyageFolder, entry: Entry) -> Iterator[Refusal | Caution]:
    space = spaces_of(folder)[entry.space]
    ways = [row.opening for row in openings_of(folder, entry.space) if row.kind in WAYS_IN]
    least = kind_of(space).ways_in
    if not ways:
        because = f"No way in is given for {entry.space}: openings.csv has no manhole, hatch or door."
        yield _refused(entry, because, "the openings of the space in openings.csv")
    elif len(ways) < least:
        because = f"A {space.kind} wants {least} entrances, and openings.csv gives {listed(ways)} for {entry.space}."
        yield _refused(entry, because, "a second entrance in openings.csv")
    elif len(ways) < 2 and space.kind == "peak tank":
        yield _caution(entry, f"{entry.space} has one manhole in openings.csv; two are wanted for a {space.kind}.", 4)


def _engine_side(folder: VoyageFolder, entry: Entry) -> Iterator[Refusal]:
    space = spaces_of(folder)[entry.space]
    if space.kind == "fuel tank" and space.in_charge != "engine":
        because = (
            f"{entry.space} is a fuel tank: the engine side is in charge of it, and spaces.csv says {space.in_charge}."
        )
        yield _refused(entry, because, "in_charge engine in spaces.csv")


def _pumps(folder: VoyageFolder, entry: Entry) -> Iterator[KeepClear | KeepApart]:
    space = spaces_of(folder)[entry.space]
    for operation in sorted_operations(folder):
        if operation.kind in kind_of(space).stops:
            because = (
                f"{operation.operation} ({operation.kind}) runs pumps or lines through {entry.space}; they are stopped "
                f"and locked while the {space.kind} is out of use."
            )
            yield from during(entry.entry, OUT_OF_USE, operation, folder, rule=RULE, because=because, source=PRACTICE)


def _anchor(folder: VoyageFolder, entry: Entry) -> Iterator[KeepClear | KeepApart]:
    """A chain locker is never out of use at anchor, nor while the anchors are kept ready."""
    if spaces_of(folder)[entry.space].kind != "chain locker":
        return
    week = (folder.week.start, folder.week.end)
    for leg in legs_of(folder):
        if leg.kind == "anchorage" or leg.restricted:
            why = "she lies at anchor" if leg.kind == "anchorage" else "the anchors are kept ready"
            because = f"{entry.space} is a chain locker, and {why} on {leg.leg} ({leg.place})."
            yield from clear(
                folder, entry.entry, OUT_OF_USE, (leg.start, leg.end), rule=RULE, because=because, source=PRACTICE
            )
    for span in gaps(((leg.start, leg.end) for leg in legs_of(folder)), *week):
        because = f"{entry.space} is a chain locker, and voyage.csv does not say where she lies then."
        yield from clear(folder, entry.entry, OUT_OF_USE, span, rule=RULE, because=because, source=PRACTICE)
    for operation in sorted_operations(folder):
        if operation.kind in ANCHOR_READY:
            because = f"{entry.space} is a chain locker, and the anchors are kept ready in {operation.operation}."
            yield from during(entry.entry, OUT_OF_USE, operation, folder, rule=RULE, because=because, source=PRACTICE)


def _fumigated(folder: VoyageFolder, entry: Entry) -> Iterator[Refusal]:
    """Gas of a fumigated hold comes through every opening that joins it to another space."""
    for neighbour, contact in sorted(contacts(folder).get(entry.space, {}).items()):
        fumigated = any(each.state.state == "fumigated" for each in stretches(folder, neighbour))
        if contact in ("opening", "unknown") and fumigated:
            because = (
                f"{entry.space} is joined to {neighbour}, which is fumigated; no certificate says that it is free."
            )
            yield _refused(entry, because, f"a certificate, or the gas-freeing of {neighbour}", SOLID_CARGO)


def _fresh_water(folder: VoyageFolder, entries: tuple[Entry, ...]) -> Iterator[KeepApart]:
    """One fresh-water tank always stays in use."""
    tanks = [entry for entry in entries if spaces_of(folder)[entry.space].kind == "fresh-water tank"]
    for index, entry in enumerate(tanks):
        for other in tanks[index + 1 :]:
            if other.space != entry.space:
                yield KeepApart(
                    entry=entry.entry,
                    phases=OUT_OF_USE,
                    other=other.entry,
                    other_phases=OUT_OF_USE,
                    rule=RULE,
                    because=f"{entry.space} and {other.space} are fresh-water tanks, never out of use together.",
                    source=PRACTICE,
                )


def _told(folder: VoyageFolder, entry: Entry) -> Iterator[Notice | Caution]:
    space = spaces_of(folder)[entry.space]
    yield _notice(entry, "officer in charge", "during isolate", f"{entry.space}: {kind_of(space).before}")
    if not fans_stop(folder.policy, space):
        text = f"{entry.space}: fans run while the pump room is tested (policy pump_room.test); read at the bottom too."
        yield _caution(entry, text, 3)
    foul = [name for name in _around(folder, entry) if _may_be_foul(folder, name)]
    if foul:
        what = f"test {entry.space} for what lies next to it: {', '.join(foul)}"
        yield _notice(entry, "gas tester", "before test", what)
    yield from _oxygen(folder, entry)


def _notice(entry: Entry, who: str, when: str, what: str) -> Notice:
    return Notice(entry=entry.entry, who=who, when=when, what=what, rule=RULE, source=PRACTICE)


def _around(folder: VoyageFolder, entry: Entry) -> list[str]:
    return sorted(contacts(folder).get(entry.space, {}))


def _may_be_foul(folder: VoyageFolder, space: str) -> bool:
    """True when the space is at some time of the week in a state that no entry accepts and that is not plain water."""
    fine = (*CLEAN, "ballast", "fresh water")
    return any(each.state.state not in fine for each in stretches(folder, space))


def _oxygen(folder: VoyageFolder, entry: Entry) -> Iterator[Notice | Caution]:
    """A cargo that uses oxygen makes its hold, the ladder trunk and every joined space foul until tested."""
    users = {row.cargo for row in folder.cargoes if row.kind == "solid" and row.uses_oxygen is not False}
    joined = [name for name, contact in contacts(folder).get(entry.space, {}).items() if contact == "opening"]
    for name in sorted([entry.space, *joined]):
        cargo = sorted({each.state.cargo or "" for each in stretches(folder, name)} & users)
        if cargo:
            what = f"{entry.space}: {listed(cargo)} in {name} uses oxygen; test the trunk at each landing, going down"
            yield Notice(
                entry=entry.entry, who="gas tester", when="before test", what=what, rule=RULE, source=SOLID_CARGO
            )
            text = f"{entry.space} counts as short of oxygen until tested: {listed(cargo)} in {name} uses it up."
            yield _caution(entry, text, 1)


def _papers(folder: VoyageFolder, entry: Entry) -> Iterator[Paper]:
    """What is on file before people go in."""
    wanted = ["enclosed-space entry permit", "risk assessment", "isolation list with tags", "record of gas tests"]
    roles = {visitor.visitor: visitor.role for visitor in folder.visitors}
    if entry.work == "hot work":
        wanted.append("hot-work permit")
    if any(roles.get(visitor) == "chemist" for visitor in entry.needs):
        wanted.append("chemist's certificate")
    if entry.work == "coat":
        wanted.append("maker's data sheets of coating and thinner")
    if any(entry.space in row.full for row in folder.conditions):
        wanted.append("loading condition worked on the loading instrument")
    if entry.reference:
        wanted.append(f"work order {entry.reference}")
    for record in wanted:
        yield Paper(entry=entry.entry, record=record, rule=RULE)
