"""Seas over the openings of the weather deck: by wave heights of the policy while no hull data are used."""

from __future__ import annotations

from collections.abc import Iterator

from scheduler.domain.folder import VoyageFolder
from scheduler.domain.restrictions import OPEN, Restriction
from scheduler.domain.source import Source, SourceKind
from scheduler.rules.closures import only_from_weather_deck
from scheduler.rules.during import clear
from scheduler.rules.outlook import entries_of
from scheduler.rules.seas import Sea, SeaSpan, sea_spans

RULE = "spray"
HEIGHTS = Source(kind=SourceKind.OUR_CHOICE, text="wave heights of policy sea.heavy; Load Lines reg. 18, from memory")


def spray(folder: VoyageFolder) -> Iterator[Restriction]:
    """A space that opens to the weather deck only is shut in a sea too high for heavy work, or where none is known."""
    for entry in entries_of(folder):
        if not only_from_weather_deck(folder, entry.space):
            continue
        for span in sea_spans(folder, "heavy"):
            if because := _wet(folder, entry.space, span):
                yield from clear(folder, entry.entry, OPEN, span.span, rule=RULE, because=because, source=HEIGHTS)


def _wet(folder: VoyageFolder, space: str, span: SeaSpan) -> str:
    most_m = folder.policy.number("sea.heavy.hove_to_m")
    if span.sea is Sea.UNKNOWN:
        return f"{space} opens to the weather deck, and there is no basis to judge the sea: {span.why_unknown}."
    if span.sea is Sea.TOO_HIGH:
        return f"{space} opens to the weather deck, and seas of {span.height} are over {most_m:g} m."
    return ""
