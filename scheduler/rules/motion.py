"""How the ship moves under people at work: by wave heights of the policy while no hull data are used."""

from __future__ import annotations

from collections.abc import Iterator

from scheduler.domain.entries import Entry
from scheduler.domain.folder import VoyageFolder
from scheduler.domain.restrictions import MANNED, KeepClear, Restriction, SpeedLimit
from scheduler.domain.source import Source, SourceKind
from scheduler.rules.during import clear
from scheduler.rules.outlook import entries_of
from scheduler.rules.seas import Sea, SeaSpan, sea_spans

RULE = "motion"
HEIGHTS = Source(kind=SourceKind.OUR_CHOICE, text="wave heights by effort, policy sea.heavy and sea.light")


def motion(folder: VoyageFolder) -> Iterator[Restriction]:
    """For each stretch of sea: any speed, a limit, hove to only, or no test and no session."""
    for entry in entries_of(folder):
        for span in sea_spans(folder, _effort(entry)):
            yield from _limit(folder, entry, span)


def _effort(entry: Entry) -> str:
    """Anything but light work counts as heavy."""
    return "light" if entry.effort == "light" else "heavy"


def _limit(folder: VoyageFolder, entry: Entry, span: SeaSpan) -> Iterator[KeepClear | SpeedLimit]:
    number, effort = folder.policy.number, _effort(entry)
    if span.sea is Sea.EASED:
        limit_kn = number(f"sea.{effort}.eased_kn")
        over = f"over {number(f'sea.{effort}.free_m'):g} m for {effort} work"
        yield _speed(entry, span, limit_kn, f"Seas of {span.height}, {over}: at {limit_kn:g} kn or less.")
    elif span.sea is Sea.HOVE_TO:
        over = f"over {number(f'sea.{effort}.eased_m'):g} m for {effort} work"
        yield _speed(
            entry, span, folder.ship.hove_to_speed_kn, f"Seas of {span.height}, {over}: hove to only.", hove_to=True
        )
    elif span.sea is not Sea.FREE:
        because = _too_high(folder, span, effort)
        yield from clear(folder, entry.entry, MANNED, span.span, rule=RULE, because=because, source=HEIGHTS)


def _too_high(folder: VoyageFolder, span: SeaSpan, effort: str) -> str:
    if span.sea is Sea.UNKNOWN:
        return f"No basis to judge the sea: {span.why_unknown}."
    if span.sea is Sea.MAY_NOT_HEAVE_TO:
        over = f"over {folder.policy.number(f'sea.{effort}.eased_m'):g} m for {effort} work"
        return f"Seas of {span.height}, {over}: hove to only, and voyage.csv does not let her heave to."
    most_m = folder.policy.number(f"sea.{effort}.hove_to_m")
    return f"Seas of {span.height}, over {most_m:g} m for {effort} work even hove to."


def _speed(entry: Entry, span: SeaSpan, limit_kn: float, because: str, *, hove_to: bool = False) -> SpeedLimit:
    return SpeedLimit(
        entry=entry.entry,
        phases=MANNED,
        start=span.span[0],
        end=span.span[1],
        limit_kn=limit_kn,
        hove_to_only=hove_to,
        rule=RULE,
        because=because,
        source=HEIGHTS,
    )
