"""The wind over the deck in each hour, at every speed that the plan may choose: the sectors it may blow into."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from datetime import datetime
from itertools import groupby

from scheduler.domain.folder import VoyageFolder
from scheduler.domain.voyage import Leg
from scheduler.domain.weather import ForecastRow
from scheduler.hazards.outlets import DeckPoint, bearing_from_bow_deg, in_sector
from scheduler.hazards.wind import Wind, angle_between_deg, apparent_wind, from_bow_deg, on_the_compass_deg
from scheduler.rules.forecast import basis_of
from scheduler.rules.track import Piece, fix_on, leg_at, pieces_before, pieces_of, planned_speed_kn
from scheduler.times import HOUR
from scheduler.units import m_s_from_kn

ABEAM_DEG = 90.0


@dataclass(frozen=True, slots=True)
class Sector:
    """Where the wind blows to, clockwise from the bow, and half the angle that counts as downwind."""

    to_deg: float
    half_deg: float


@dataclass(frozen=True, slots=True)
class DeckAir:
    """What the air over the deck may do in an hour.

    `calm` says why vapour may lie anywhere ('' when it does not), `kind` the same without the hour's numbers.
    """

    calm: str = ""
    kind: str = ""
    sectors: tuple[Sector, ...] = ()
    least_m_s: float = 0.0
    greatest_m_s: float = 0.0
    known: dict[tuple[DeckPoint, DeckPoint], bool] = field(default_factory=dict, compare=False, repr=False)

    def blows(self, outlet: DeckPoint, opening: DeckPoint) -> bool:
        """True when an outlet lies upwind of an opening at some speed."""
        pair = (outlet, opening)
        if pair not in self.known:
            bearing_deg = bearing_from_bow_deg(outlet, opening)
            self.known[pair] = bearing_deg is None or any(
                in_sector(bearing_deg, sector.to_deg, sector.half_deg) for sector in self.sectors
            )
        return self.known[pair]


@dataclass(frozen=True, slots=True)
class AirSpan:
    """Hours in a row in which the air over the deck does the same."""

    span: tuple[datetime, datetime]
    air: DeckAir


def airs_of(folder: VoyageFolder) -> tuple[AirSpan, ...]:
    """The air over the deck from some hours before the week to its end."""
    found = folder.cache.get("airs")
    if not isinstance(found, tuple):
        pieces = (*pieces_before(folder), *pieces_of(folder))
        judged = [(piece, air_of(folder, piece)) for piece in pieces]
        groups = (list(group) for _, group in groupby(judged, key=lambda each: id(each[1])))
        found = folder.cache["airs"] = tuple(
            AirSpan((group[0][0].start, group[-1][0].end), group[0][1]) for group in groups
        )
    return found


def air_of(folder: VoyageFolder, piece: Piece) -> DeckAir:
    """The air over the deck in a piece of an hour; the same object for pieces in which nothing differs."""
    known = folder.cache.setdefault("deck air", {})
    assert isinstance(known, dict)
    leg = piece.leg
    if leg is None:
        return _anywhere("voyage.csv has no leg then")
    basis = basis_of(folder, piece.hour)
    courses = _courses(folder, leg, piece.hour + HOUR / 2) if leg.kind == "passage" else ()
    key = (leg.leg, courses, basis.why_none, tuple(map(id, basis.rows)))  # rows live as long as the folder
    if key not in known:
        known[key] = _calm_at_once(folder, leg, basis.why_none) or _air(folder, leg, courses, basis.rows)
    found = known[key]
    assert isinstance(found, DeckAir)
    return found


def _courses(folder: VoyageFolder, leg: Leg, middle: datetime) -> tuple[float, ...]:
    """The course of the leg in that hour, and of the leg that the hour's middle lies on; none where one is unknown."""
    there = leg_at(folder, middle)
    legs = [leg] if there is None or there.kind != "passage" else [leg, there]
    found = [course_of(folder, each, middle) for each in legs]
    known = {course for course in found if course is not None}
    return tuple(sorted(known)) if None not in found else ()


def course_of(folder: VoyageFolder, leg: Leg, at: datetime) -> float | None:
    """The course on a passage's planned track at an instant; None without positions."""
    if leg.to_lat is None or leg.to_lon is None:
        return None
    fix = fix_on(folder, leg, at)
    return None if fix is None else fix.course_deg


def waves_from_deg(row: ForecastRow) -> tuple[float, ...]:
    """Where the higher of the two wave systems comes from: both where they are equal, none where it is not known."""
    sea, swell = row.wave_height_m, row.swell_height_m
    if sea is None or swell is None:
        return ()
    systems = [(sea, row.wave_from_deg), (swell, row.swell_from_deg)]
    highest = max(height for height, _ in systems)
    found = [direction for height, direction in systems if height == highest]
    return tuple(direction for direction in found if direction is not None) if None not in found else ()


def _calm_at_once(folder: VoyageFolder, leg: Leg, why_no_basis: str) -> DeckAir | None:
    """Where nothing needs to be worked out, because neither the wind nor the way she lies is known."""
    if why_no_basis:
        return _anywhere(f"{why_no_basis}, so the wind is not known")
    if leg.kind == "drifting":
        return _anywhere("the ship drifts")
    if leg.kind == "anchorage" and leg.lies_to != "wind" and _degrees(leg.lies_to) is None:
        swings = (
            "the ship lies to the tide at anchor" if leg.lies_to == "tide" else "nobody knows how she lies at anchor"
        )
        return _anywhere(f"{swings}, so the wind may come from any side")
    if leg.kind == "berth" and leg.heading_deg is None:
        return _anywhere("the heading at the berth is not given")
    return None


def _degrees(text: str) -> float | None:
    try:
        found = float(text)
    except ValueError:
        return None
    return found if math.isfinite(found) else None


def _air(folder: VoyageFolder, leg: Leg, courses: Sequence[float], rows: Sequence[ForecastRow]) -> DeckAir:
    if leg.kind == "passage" and not courses:
        return _anywhere("the course is not known")
    sectors: set[Sector] = set()
    strengths: list[float] = []
    for row in rows:
        if row.wind_kn is None or row.wind_from_deg is None:
            return _anywhere("the forecast gives no wind")
        if calm := _gusty(folder, row):
            return DeckAir(calm=calm, kind="gusts")
        headings = tuple(_ways(folder, leg, courses, row, row.wind_from_deg))
        if not headings:
            return DeckAir(
                calm="the forecast does not say where the higher waves come from, into which she would heave to"
            )
        for heading, speed_kn in headings:
            wind = apparent_wind(m_s_from_kn(row.wind_kn), row.wind_from_deg, m_s_from_kn(speed_kn), heading)
            aft = angle_between_deg(row.wind_from_deg, heading) > ABEAM_DEG
            if calm := _too_light(folder, wind, speed_kn, aft=aft):
                return DeckAir(calm=calm, kind="light")
            assert wind.from_deg is not None
            sectors.add(_sector(folder, leg, wind, heading, aft=aft))
            strengths.append(wind.speed_m_s)
    return DeckAir(
        sectors=tuple(joined_sectors(sorted(sectors, key=lambda each: (each.to_deg, each.half_deg)))),
        least_m_s=min(strengths),
        greatest_m_s=max(strengths),
    )


def _anywhere(why: str) -> DeckAir:
    return DeckAir(calm=why, kind=why)


def _gusty(folder: VoyageFolder, row: ForecastRow) -> str:
    ratio = folder.policy.number("vapour.gust_ratio")
    if row.wind_kn is not None and row.gust_kn is not None and row.gust_kn >= ratio * row.wind_kn:
        return f"gusts of {row.gust_kn:g} kn over a wind of {row.wind_kn:g} kn leave its direction open"
    return ""


def _ways(
    folder: VoyageFolder, leg: Leg, courses: Sequence[float], row: ForecastRow, wind_from_deg: float
) -> Iterator[tuple[float, float]]:
    """Every heading with every speed through the water that the plan may choose; none where hove to is not known."""
    if leg.kind != "passage":
        lies = wind_from_deg if leg.lies_to == "wind" else _degrees(leg.lies_to)
        heading = leg.heading_deg if leg.kind == "berth" else lies
        assert heading is not None
        yield heading, 0.0
        return
    into = waves_from_deg(row)
    if not into:
        return
    speeds = {float(knots) for knots in range(int(folder.ship.greatest_speed_kn) + 1)}
    for speed_kn in sorted(speeds | {planned_speed_kn(folder, leg)}):
        for course in courses:
            yield course, speed_kn
    for heading in into:
        yield heading, 0.0


def _too_light(folder: VoyageFolder, wind: Wind, speed_kn: float, *, aft: bool) -> str:
    number = folder.policy.number
    calm_m_s, aft_m_s = number("vapour.calm_m_s"), number("vapour.calm_aft_m_s")
    at = f"the wind over the deck is {wind.speed_m_s:.1f} m/s at {speed_kn:g} kn"
    if wind.from_deg is None or wind.speed_m_s < calm_m_s:
        return f"{at}, under {calm_m_s:g} m/s"
    if aft and wind.speed_m_s < aft_m_s:
        return f"{at} with the true wind abaft the beam, under {aft_m_s:g} m/s"
    return ""


def _sector(folder: VoyageFolder, leg: Leg, wind: Wind, heading: float, *, aft: bool) -> Sector:
    assert wind.from_deg is not None
    at_anchor_to_wind = leg.kind == "anchorage" and leg.lies_to == "wind"
    wide = at_anchor_to_wind or (aft and leg.kind != "berth")
    half = folder.policy.number("vapour.sector_wide_deg" if wide else "vapour.sector_deg")
    return Sector(on_the_compass_deg(from_bow_deg(wind.from_deg, heading) + 180.0), half)


def joined_sectors(sectors: Sequence[Sector]) -> tuple[Sector, ...]:
    """The same directions in as few sectors as can be; a full circle is one of half-angle 180°."""
    spans: list[list[float]] = []
    for low, high in sorted((on_the_compass_deg(s.to_deg - s.half_deg), 2.0 * s.half_deg) for s in sectors):
        if spans and low <= spans[-1][1]:
            spans[-1][1] = max(spans[-1][1], low + high)
        else:
            spans.append([low, low + high])
    while len(spans) > 1 and spans[-1][1] - 360.0 >= spans[0][0]:  # the last one runs on past the bow
        spans[-1][1] = max(spans[-1][1], spans[0][1] + 360.0)
        spans.pop(0)
    return tuple(Sector(on_the_compass_deg((low + high) / 2.0), min(180.0, (high - low) / 2.0)) for low, high in spans)
