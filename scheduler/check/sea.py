"""The sea against people inside and against open manholes, by the policy's wave heights."""

from __future__ import annotations

from typing import Final

from scheduler.check.findings import Ledger, whole_minutes
from scheduler.check.scene import Scene, Stay
from scheduler.check.sky import Sky
from scheduler.check.span import Span, common, hours_of, union
from scheduler.check.track import TOLERANCE_KN, Track
from scheduler.domain.voyage import Leg

MOTION: Final = "motion"
SPRAY: Final = "spray"


def look(scene: Scene, track: Track, sky: Sky, ledger: Ledger) -> None:
    """Look at every hour in which somebody is at a space or a weather-deck opening stands open."""
    for stay in scene.stays:
        found: dict[str, list[Span]] = {}
        for span in union(stay.manned):
            for piece, leg, hour in _pieces(scene, span):
                ledger.count(MOTION)
                words = _against(scene, track, sky, stay, leg, hour)
                if words:
                    found.setdefault(words, []).append(piece)
        _write(stay, MOTION, "people at it", found, ledger)
        if stay.opened is not None and _only_weather_deck(scene, stay):
            _spray(scene, sky, stay, stay.opened, ledger)


def _pieces(scene: Scene, span: Span) -> list[tuple[Span, Leg | None, Span]]:
    """A stretch cut by hours and legs; alongside there is no sea."""
    return [
        (piece, leg, hour)
        for hour in hours_of(span)
        for piece, leg in scene.leg_spans(Span(max(hour.start, span.start), min(hour.end, span.end)))
        if leg is None or leg.kind != "berth"
    ]


def _against(scene: Scene, track: Track, sky: Sky, stay: Stay, leg: Leg | None, hour: Span) -> str:
    """What speaks against people at the space in an hour; nothing when nothing does."""
    effort = "heavy" if stay.entry.effort != "light" else "light"
    parts = ("free_m", "eased_m", "eased_kn", "hove_to_m")
    limits = {part: scene.policy.number(f"sea.{effort}.{part}") for part in parts}
    sea_m = sky.sea_m(hour)
    if sea_m is None or leg is None:
        return "without a forecast of the sea"
    if sea_m > limits["hove_to_m"]:
        return f"in a sea of {sea_m:.1f} m, {limits['hove_to_m']:g} m at most"
    if sea_m <= limits["free_m"] or leg.kind != "passage":
        return ""
    if sea_m <= limits["eased_m"]:
        return _too_fast(track, stay, leg, hour, limits["eased_kn"], sea_m)
    return _not_hove_to(track, stay, leg, hour, sea_m)


def _too_fast(track: Track, stay: Stay, leg: Leg, hour: Span, eased_kn: float, sea_m: float) -> str:
    """A could never has the ship slow down for it, nor profits from another's easing."""
    planned = track.planned_speed(leg)
    if stay.entry.priority > 2 and planned > eased_kn + TOLERANCE_KN:
        return f"in a sea of {sea_m:.1f} m, which asks for {eased_kn:g} kn of a ship planned at {planned:g} kn"
    fastest = _fastest(track, leg, hour)
    if fastest is None or fastest > eased_kn + TOLERANCE_KN:
        return f"at {_kn(fastest)} in a sea of {sea_m:.1f} m, {eased_kn:g} kn at most"
    return ""


def _not_hove_to(track: Track, stay: Stay, leg: Leg, hour: Span, sea_m: float) -> str:
    if stay.entry.priority > 1 or not leg.may_heave_to:
        return f"in a sea of {sea_m:.1f} m, for which she may not heave to"
    speeds = track.speeds_in(_within(leg, hour))
    if not speeds or not all(speed.heaving_to for speed in speeds):
        return f"in a sea of {sea_m:.1f} m, not hove to"
    return ""


def _fastest(track: Track, leg: Leg, hour: Span) -> float | None:
    return max((speed.speed_kn for speed in track.speeds_in(_within(leg, hour))), default=None)


def _within(leg: Leg, hour: Span) -> Span:
    """A limited phase that touches an hour limits the whole of it, as far as the leg goes."""
    return common(hour, Span(leg.start, leg.end)) or hour


def _kn(speed: float | None) -> str:
    return "a speed not said" if speed is None else f"{speed:g} kn"


def _only_weather_deck(scene: Scene, stay: Stay) -> bool:
    ways = scene.ways_in(stay.space.space)
    return all(way.on_weather_deck for way in ways)


def _spray(scene: Scene, sky: Sky, stay: Stay, opened: Span, ledger: Ledger) -> None:
    highest = scene.policy.number("sea.heavy.hove_to_m")
    found: dict[str, list[Span]] = {}
    for piece, _, hour in _pieces(scene, opened):
        ledger.count(SPRAY)
        sea_m = sky.sea_m(hour)
        if sea_m is None:
            found.setdefault("without a forecast of the sea", []).append(piece)
        elif sea_m > highest:
            found.setdefault(f"in a sea above {highest:g} m", []).append(piece)
    _write(stay, SPRAY, "a weather-deck opening open", found, ledger)


def _write(stay: Stay, rule: str, words: str, found: dict[str, list[Span]], ledger: Ledger) -> None:
    for cause, pieces in sorted(found.items()):
        for piece in union(pieces):
            text = f"{stay.name} has {words} for {whole_minutes(piece.length)} min {cause} ({piece})."
            ledger.breach(rule, text, entry=stay.name, start=piece.start, end=piece.end, by=piece.length)
