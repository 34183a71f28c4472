"""Entries that want daylight."""

from __future__ import annotations

from collections.abc import Iterator

from scheduler.domain.folder import VoyageFolder
from scheduler.domain.restrictions import INSIDE, Restriction
from scheduler.domain.source import Source, SourceKind
from scheduler.rules.during import clear
from scheduler.rules.light import darkness
from scheduler.rules.outlook import entries_of

RULE = "daylight"
SUN = Source(kind=SourceKind.PUBLISHED, text="NOAA solar calculator (Meeus); the margin: policy daylight.margin_min")


def daylight(folder: VoyageFolder) -> Iterator[Restriction]:
    """Where the entry asks for it, sessions lie between sunrise and sunset less a margin."""
    margin_min = folder.policy.whole("daylight.margin_min")
    for entry in entries_of(folder):
        if entry.daylight:
            for dark in darkness(folder, margin_min):
                yield from clear(
                    folder, entry.entry, INSIDE, dark.span, rule=RULE, because=dark.because, source=SUN
                )  # fmt: skip
