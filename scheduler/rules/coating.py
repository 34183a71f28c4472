"""Coating: the fresh air that the maker asks for while it is put on, and the venting afterwards."""

from __future__ import annotations

from collections.abc import Iterator

from scheduler.domain.entries import Coating, Entry
from scheduler.domain.folder import VoyageFolder
from scheduler.domain.restrictions import Caution, Notice, Refusal, Restriction
from scheduler.domain.source import Source, SourceKind
from scheduler.rules.air import choices, coating_of, floor_min, greatest_flow_m3_h, is_coating
from scheduler.rules.kinds import spaces_of
from scheduler.rules.outlook import entries_of

RULE = "coating"
SOLVENTS = Source(kind=SourceKind.PUBLISHED, text="29 CFR 1915.35: vapour under 10 % LFL, venting until gas-free")


def coating(folder: VoyageFolder) -> Iterator[Restriction]:
    """A Refusal unless the fans, ducted to the bottom, give the maker's least air; who is told of the solvents."""
    for entry in entries_of(folder):
        if is_coating(folder, entry):
            yield from _adequate(folder, entry, coating_of(folder, entry))


def tail_min(folder: VoyageFolder, entry: Entry) -> float:
    """Minutes of venting after the last session, 0 without coating: the drying time, never under the kind's floor;
    where no drying time is given the ventilation once more."""
    if not is_coating(folder, entry):
        return 0
    row = coating_of(folder, entry)
    floor = floor_min(folder, spaces_of(folder)[entry.space], gas_freed=False)
    if row is not None and row.drying_h is not None:
        return max(row.drying_h * 60, floor)
    return max([floor, *(choice.minutes for choice in choices(folder, entry))])


def _adequate(folder: VoyageFolder, entry: Entry, row: Coating | None) -> Iterator[Refusal | Notice | Caution]:
    if row is None:
        what = f"{entry.entry} coats {entry.space} and coatings.csv has no row for it"
        yield _refused(entry, what, "a row in coatings.csv with the maker's figures")
    elif row.least_air_m3_h is None:
        what = f"{entry.entry}: coatings.csv, column least_air_m3_h, is blank for {row.product}"
        yield _refused(entry, what, "the maker's least air in coatings.csv, column least_air_m3_h")
    elif spaces_of(folder)[entry.space].air_reaches_bottom is not True:
        what = f"{entry.entry}: the fans' air is not known to reach the bottom of {entry.space}, where solvent gathers"
        yield _refused(entry, what, "ducting to the bottom (spaces.csv: air_reaches_bottom)")
    elif not choices(folder, entry):
        most = greatest_flow_m3_h(folder, entry)
        what = (
            f"{entry.entry}: the maker of {row.product} asks for {row.least_air_m3_h:,.0f} m³/h of fresh air, and the "
            f"fans with ducting to the bottom give {most:,.0f} m³/h at most (electric ones not counted)"
        )
        yield _refused(entry, what, "more or larger fans with ducting (gear.csv), or a product that asks for less")
    else:
        yield from _said(entry, row)


def _refused(entry: Entry, what: str, would_change: str) -> Refusal:
    return Refusal(entry=entry.entry, rule=RULE, because=f"{what}.", would_change=would_change, source=SOLVENTS)


def _said(entry: Entry, row: Coating) -> Iterator[Notice | Caution]:
    what = (
        f"{entry.space}: {row.product}, fresh air of {row.least_air_m3_h:,.0f} m³/h throughout; out at once if a "
        "fan stops or 10 % LFL is read; solvent comes out at the exhaust until the space is gas-free"
    )
    for who in ("bridge", "officer in charge"):
        yield Notice(entry=entry.entry, who=who, when="before enter", what=what, rule=RULE, source=SOLVENTS)
    if row.supplied_air is not True:
        text = f"{entry.entry}: {row.product} is put on without supplied air; its vapour is breathed inside."
        yield Caution(text=text, weight=1, entry=entry.entry, table=row.origin.file, row=row.origin.row, rule=RULE)
