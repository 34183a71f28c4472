"""How many spaces are manned, open, or in hot work at one time."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Final

from scheduler.check.findings import Ledger
from scheduler.check.scene import Scene, Stay, when
from scheduler.check.span import Span, most_at_once, union

RULE: Final = "at once"


def look(scene: Scene, ledger: Ledger) -> None:
    """Count over the whole week."""
    stays = scene.stays
    manned = ((stay, span) for stay in stays for span in union(stay.manned))
    _most(scene, ledger, RULE, "at_once.manned", "manned", manned)
    opened = [(stay, stay.opened) for stay in stays if stay.opened is not None]
    _most(scene, ledger, RULE, "at_once.open", "open", opened)
    hot = ((stay, when(phase)) for stay in stays if stay.hot for phase in stay.of("test", "enter", "restore"))
    _most(scene, ledger, RULE, "at_once.hot_work", "in hot work", hot)
    deck = [(s, piece) for s, span in opened if _on_deck(scene, s) for piece in scene.under_way(span)]
    key = "at_once.open_weather_deck_under_way"
    _most(scene, ledger, "closures", key, "open on the weather deck under way", deck)


def _on_deck(scene: Scene, stay: Stay) -> bool:
    openings = scene.openings.get(stay.space.space, ())
    return not openings or any(opening.on_weather_deck for opening in openings)


def _most(scene: Scene, ledger: Ledger, rule: str, key: str, words: str, held: Iterable[tuple[Stay, Span]]) -> None:
    listed = list(held)
    allowed = scene.policy.whole(key)
    found, where = most_at_once(_once_each(listed))
    ledger.count(rule)
    if found <= allowed or where is None:
        return
    names = sorted({stay.name for stay, span in listed if span.start <= where.start < span.end})
    text = f"{found} spaces are {words} at one time, {', '.join(names)}, {where}; {allowed} is the most."
    ledger.breach(
        rule, text, entry=names[0], other=", ".join(names[1:]), start=where.start, end=where.end, by=where.length
    )


def _once_each(held: list[tuple[Stay, Span]]) -> list[Span]:
    """An entry's own test and session that touch or overlap count as one."""
    names = sorted({stay.name for stay, _ in held})
    return [piece for name in names for piece in union(span for stay, span in held if stay.name == name)]
