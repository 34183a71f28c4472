"""Daylight where it is asked for, and no session through a weather-deck opening at night under way."""

from __future__ import annotations

from typing import Final

from scheduler.check.findings import Ledger, whole_minutes
from scheduler.check.scene import Scene, Stay, when
from scheduler.check.sky import Sky
from scheduler.check.span import NOTHING
from scheduler.domain.plan import PlannedPhase

DAYLIGHT: Final = "daylight"
CLOSURES: Final = "closures"


def look(scene: Scene, sky: Sky, ledger: Ledger) -> None:
    """Hold sessions against the sun."""
    margin = scene.length("daylight.margin_min")
    for stay in scene.stays:
        for session in stay.inside if stay.entry.daylight else ():
            ledger.count(DAYLIGHT)
            for piece in sky.dark(when(session), margin):
                text = (
                    f"session {session.session} of {stay.name} lies outside daylight for {whole_minutes(piece.length)} "
                    f"min ({piece}), {whole_minutes(margin)} min kept from sunrise and sunset."
                )
                ledger.breach(DAYLIGHT, text, entry=stay.name, start=piece.start, end=piece.end, by=piece.length)
        for phase in stay.of("test", "enter"):
            if _through_weather_deck(scene, stay, phase):
                _fans_only_by_night(scene, sky, stay, phase, ledger)


def _through_weather_deck(scene: Scene, stay: Stay, phase: PlannedPhase) -> bool:
    ways = scene.ways_in(stay.space.space)
    used = [way for way in ways if phase.entrance is None or way.opening in phase.entrance.split("; ")] or list(ways)
    return all(way.on_weather_deck for way in used)


def _fans_only_by_night(scene: Scene, sky: Sky, stay: Stay, phase: PlannedPhase, ledger: Ledger) -> None:
    ledger.count(CLOSURES)
    for span in scene.under_way(when(phase)):
        for piece in sky.dark(span, NOTHING):
            text = (
                f"{phase.phase} of {stay.name} has a weather-deck opening of {stay.space.space} in use at night under "
                f"way for {whole_minutes(piece.length)} min ({piece}); by night it is open for fans only."
            )
            ledger.breach(CLOSURES, text, entry=stay.name, start=piece.start, end=piece.end, by=piece.length)
