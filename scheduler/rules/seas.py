"""What the forecast's sea allows hour by hour, by wave heights of the policy: for ships without hull data."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum
from itertools import groupby

from scheduler.domain.folder import VoyageFolder
from scheduler.rules.during import Span
from scheduler.rules.forecast import worst_sea_m
from scheduler.rules.track import Piece, pieces_of


class Sea(StrEnum):
    """What the sea allows."""

    FREE = "any speed"
    EASED = "eased"
    HOVE_TO = "hove to"
    MAY_NOT_HEAVE_TO = "hove to only, which the leg does not allow"
    TOO_HIGH = "too high"
    UNKNOWN = "unknown"


@dataclass(frozen=True, slots=True)
class SeaSpan:
    """Hours in a row in which the sea allows the same; heights are significant [m], 0 where unknown."""

    span: Span
    sea: Sea
    least_m: float
    greatest_m: float
    why_unknown: str

    @property
    def height(self) -> str:
        """The heights in words."""
        low, high = f"{self.least_m:.1f}", f"{self.greatest_m:.1f}"
        return f"{high} m" if low == high else f"{low} to {high} m"


@dataclass(frozen=True, slots=True)
class _Judged:
    piece: Piece
    sea: Sea
    height_m: float
    why_unknown: str


def sea_spans(folder: VoyageFolder, effort: str) -> tuple[SeaSpan, ...]:
    """The week by what the sea allows to work of an effort (heavy or light); alongside there is no sea."""
    known = folder.cache.setdefault("sea spans", {})
    assert isinstance(known, dict)
    if effort not in known:
        known[effort] = tuple(_joined(_judge(folder, piece, effort) for piece in pieces_of(folder)))
    return tuple(known[effort])


def _judge(folder: VoyageFolder, piece: Piece, effort: str) -> _Judged:
    if not piece.at_sea:
        return _Judged(piece, Sea.FREE, 0.0, "")
    if piece.leg is None:
        return _Judged(piece, Sea.UNKNOWN, 0.0, "voyage.csv has no leg then")
    height_m, why_none = worst_sea_m(folder, piece.hour)
    if height_m is None:
        return _Judged(piece, Sea.UNKNOWN, 0.0, why_none)
    return _Judged(piece, _allows(folder, piece, effort, height_m), height_m, "")


def _allows(folder: VoyageFolder, piece: Piece, effort: str, height_m: float) -> Sea:
    """Where she lies still every speed is met, and only what is too high hove to is too high there."""
    free_m, eased_m, hove_to_m = (
        folder.policy.number(f"sea.{effort}.{key}") for key in ("free_m", "eased_m", "hove_to_m")
    )
    if height_m > hove_to_m:
        return Sea.TOO_HIGH
    if height_m <= free_m or piece.leg is None or piece.leg.kind != "passage":
        return Sea.FREE
    if height_m <= eased_m:
        return Sea.EASED
    return Sea.HOVE_TO if piece.leg.may_heave_to else Sea.MAY_NOT_HEAVE_TO


def _joined(judged: Iterator[_Judged]) -> Iterator[SeaSpan]:
    for (sea, why), group in groupby(judged, key=lambda each: (each.sea, each.why_unknown)):
        hours = list(group)
        heights = [each.height_m for each in hours]
        yield SeaSpan((hours[0].piece.start, hours[-1].piece.end), sea, min(heights), max(heights), why)
