"""Working hours, meals and days of rest, minute by minute on the ship's clock."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date, datetime
from typing import Final

from scheduler.check.findings import Ledger, whole_minutes
from scheduler.check.scene import Scene, Stay, when
from scheduler.check.ship_time import as_minutes, within
from scheduler.domain.plan import PlannedPhase

RULE: Final = "hours"
BOUND: Final = ("brief", "isolate", "test", "enter")
WEEKDAYS: Final = ("monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday")


def look(scene: Scene, ledger: Ledger) -> None:
    """Walk every phase that has working hours."""
    idle, resting = _out_of_hours(scene), _on_rest_day(scene)
    for stay in scene.stays:
        for phase in stay.of(*BOUND):
            if not (stay.entry.priority == 1 and stay.entry.night):
                _walk(scene, stay, phase, ledger, idle, "outside working hours or in a meal")
            if stay.entry.priority != 1:
                _walk(scene, stay, phase, ledger, resting, "on a day of rest")


def _walk(
    scene: Scene, stay: Stay, phase: PlannedPhase, ledger: Ledger, bad: Callable[[datetime], bool], words: str
) -> None:
    ledger.count(RULE)
    for piece in scene.clock.stretches(when(phase), bad):
        shown = scene.clock.shown(piece.start).strftime("%d %b %H:%M")
        text = (
            f"{phase.phase} of {stay.name} lies {words} for {whole_minutes(piece.length)} min "
            f"from {shown} ship's time ({piece})."
        )
        ledger.breach(RULE, text, entry=stay.name, start=piece.start, end=piece.end, by=piece.length)


def _out_of_hours(scene: Scene) -> Callable[[datetime], bool]:
    week, policy = scene.folder.week, scene.policy
    work = as_minutes(week.work_hours if week.work_hours is not None else policy.pairs("hours.work"))
    meals = as_minutes(week.meals if week.meals is not None else policy.pairs("hours.meals"))
    return lambda shown: not within(work, shown) or within(meals, shown)


def _on_rest_day(scene: Scene) -> Callable[[datetime], bool]:
    given = scene.folder.week.rest_days
    days: tuple[int | date | str, ...] = scene.policy.words("hours.rest_days") if given is None else given
    named = {day.strip().lower() for day in days if isinstance(day, str)}

    def resting(shown: datetime) -> bool:
        weekday = shown.weekday()
        return (
            shown.date() in days or weekday in days or WEEKDAYS[weekday] in named
            or shown.date().isoformat() in named
        )  # fmt: skip

    return resting
