"""The fans of one open space blow out what another must not take in."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from scheduler.domain.entries import Entry
from scheduler.domain.folder import VoyageFolder
from scheduler.domain.restrictions import OPEN, KeepApart
from scheduler.domain.source import Source, SourceKind
from scheduler.rules.air import is_coating
from scheduler.rules.blown import Blown, blown, run_together
from scheduler.rules.cargo_work import CARGO_TANKS
from scheduler.rules.contents import states_at_entry
from scheduler.rules.during import Span
from scheduler.rules.flows import PLAIN_WATER, exhausts_of, is_toxic
from scheduler.rules.kinds import spaces_of
from scheduler.rules.outlook import entries_of, open_span
from scheduler.rules.state import CLEAN, stretches
from scheduler.times import MINUTE, overlap

RULE: Final = "vapour"
FANS = Source(kind=SourceKind.OUR_CHOICE, text="foul air as a large flow of vapour, clean air by distance")
CLEAN_KINDS: Final = (
    "ballast tank", "peak tank", "void", "cofferdam", "stool", "duct keel", "chain locker", "fresh-water tank",
)  # fmt: skip
HELD_CLEAN: Final = (*CLEAN, *PLAIN_WATER)


def blown_on_by_fans(folder: VoyageFolder) -> Iterator[KeepApart]:
    """Entries whose fans blow on each other's openings are not open together."""
    for source in entries_of(folder):
        clean, toxic = _is_clean(folder, source), _is_toxic(folder, source)
        key = "vapour.own_exhaust_m" if clean else "vapour.toxic_m" if toxic else "vapour.reach_m"
        reach_m = folder.policy.number(key)
        for entry in entries_of(folder):
            both = _both_open(folder, entry, source)
            if entry.space == source.space or both[0] >= both[1]:
                continue
            found = blown(folder, exhausts_of(folder, source.space), entry.space, reach_m, winds=not clean)
            for each in run_together(folder, found):
                if overlap(both, each.span or both):
                    yield _apart(folder, entry, source, each, clean=clean)


def _both_open(folder: VoyageFolder, entry: Entry, source: Entry) -> Span:
    """When both can be open by their own times, and what the source left just before."""
    one, other = open_span(folder, entry), open_span(folder, source)
    start = max(one[0], other[0]) - MINUTE * folder.policy.whole("vapour.after_min")
    return max(start, folder.week.start), min(one[1], other[1])


def _is_clean(folder: VoyageFolder, entry: Entry) -> bool:
    """True for a ballast or void space that holds nothing but air and clean water all week, and is not being coated."""
    states = states_at_entry(folder, entry)
    return (
        spaces_of(folder)[entry.space].kind in CLEAN_KINDS
        and bool(states)
        and all(state == "clean and empty" and cargo is None for state, cargo in states)
        and all(each.state.state in HELD_CLEAN for each in stretches(folder, entry.space))
        and not is_coating(folder, entry)
    )


def _is_toxic(folder: VoyageFolder, entry: Entry) -> bool:
    """True where a toxic cargo may have been in the space, or nobody knows what was."""
    states = states_at_entry(folder, entry)
    tank = spaces_of(folder)[entry.space].kind in CARGO_TANKS
    fouled = [cargo for state, cargo in states if tank or cargo is not None or state != "clean and empty"]
    return not states or any(is_toxic(folder, cargo) for cargo in fouled)


def _apart(folder: VoyageFolder, entry: Entry, source: Entry, each: Blown, *, clean: bool) -> KeepApart:
    after_min = 0 if clean else folder.policy.whole("vapour.after_min")
    air = "air" if clean else "foul air"
    within = each.span and (each.span[0] - MINUTE * after_min, each.span[1])
    return KeepApart(
        entry=entry.entry,
        phases=OPEN,
        other=source.entry,
        other_phases=OPEN,
        start=within and within[0],
        end=within and within[1],
        gap_after_min=after_min,
        rule=RULE,
        because=f"The fans of {source.entry} blow {air} of {source.space} out by {each.by}, {each.how}.",
        source=FANS,
    )
