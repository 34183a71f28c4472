"""What keeps an entry from a time, a place or a person: one rule a file, all of one signature, listed here.

A rule reads the folder and yields restrictions, each with its cause in a sentence and its source. It knows neither
the solver nor the checker; two rules know of each other only where one's table is the other's input.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import Final

from scheduler.domain.folder import VoyageFolder
from scheduler.domain.restrictions import Restriction
from scheduler.rules import (
    after,
    air,
    at_once,
    cargo_work,
    closures,
    coating,
    condition,
    contents,
    daylight,
    fresh_test,
    gear,
    hours,
    lines,
    motion,
    next_space,
    people,
    port,
    profile,
    rest,
    ship_handling,
    spray,
    vapour,
    visitors,
    window,
)

RULES: Final[tuple[tuple[str, Callable[[VoyageFolder], Iterator[Restriction]]], ...]] = (
    ("vapour", vapour.vapour),
    ("cargo work", cargo_work.cargo_work),
    ("lines", lines.lines),
    ("contents", contents.contents),
    ("condition", condition.condition),
    ("profile", profile.profile),
    ("next space", next_space.next_space),
    ("closures", closures.closures),
    ("port", port.port),
    ("ship handling", ship_handling.ship_handling),
    ("motion", motion.motion),
    ("spray", spray.spray),
    ("daylight", daylight.daylight),
    ("hours", hours.hours),
    ("air", air.air),
    ("coating", coating.coating),
    ("fresh test", fresh_test.fresh_test),
    ("people", people.people),
    ("rest", rest.rest),
    ("gear", gear.gear),
    ("at once", at_once.at_once),
    ("visitors", visitors.visitors),
    ("after", after.after),
    ("window", window.window),
)
"""Every rule by its name, in the order of the rule book."""


def restrictions(folder: VoyageFolder) -> tuple[Restriction, ...]:
    """All that all rules say of a folder: rule by rule, and within a rule by entry, operation or person."""
    return tuple(restriction for _, rule in RULES for restriction in rule(folder))
