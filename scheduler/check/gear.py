"""Gear: never more than there is, none out of date, fans held without a gap, and what tests and sessions need."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise
from typing import Final

from scheduler.check.fans import fans_of
from scheduler.check.findings import Ledger
from scheduler.check.scene import Scene, Stay, people_with, when
from scheduler.check.span import Span, stamp, union
from scheduler.domain.plan import PlannedPhase

RULE: Final = "gear"
GASES: Final = ("oxygen", "lfl", "co2", "h2s", "co")  # SOLAS XI-1/7; carbon dioxide by MSC.581(110)
READY: Final = {"breathing set": 2, "resuscitator": 1, "lifting gear": 1}  # at the entrance; common practice, no source


@dataclass(frozen=True, kw_only=True)
class Holding:
    """Pieces of gear held by an entry over a stretch."""

    gear: str
    count: int
    span: Span
    entry: str


def look(scene: Scene, ledger: Ledger) -> None:
    """Count every piece at every time."""
    held: list[Holding] = []
    for stay in scene.stays:
        _known(scene, stay, ledger)
        _fans_kept(scene, stay, ledger)
        held += _holdings(scene, stay)
        for phase in stay.of("test"):
            _instruments(scene, stay, phase, ledger)
        for session in stay.inside:
            _at_the_entrance(scene, stay, session, ledger)
    _stock(scene, held, ledger)


def _known(scene: Scene, stay: Stay, ledger: Ledger) -> None:
    for phase in stay.phases:
        for held in phase.gear:
            gear = scene.gear.get(held.gear)
            text = f"{held.gear}, held in {phase.phase} of {stay.name}, is not on the list of gear."
            if not _expect(ledger, stay, phase, gear is not None, text, held.gear) or gear is None:
                continue
            day = scene.clock.last_day(when(phase))
            in_date = gear.due is None or day <= gear.due
            text = f"{held.gear} is out of date from {gear.due} and used on {day} in {phase.phase} of {stay.name}."
            _expect(ledger, stay, phase, in_date, text, held.gear)


def _fans_kept(scene: Scene, stay: Stay, ledger: Ledger) -> None:
    """Every phase from the first fan to the last session, or the test after it, holds the same fans."""
    wanted: dict[str, int] = {}
    for phase in stay.of("ventilate")[:1]:
        wanted = {held.gear: held.count for held in fans_of(scene, phase)}
    for phase in stay.of("ventilate", "test", "enter"):
        here = {held.gear: held.count for held in fans_of(scene, phase)}
        text = f"{phase.phase} of {stay.name} at {stamp(phase.start)} holds fans {here}; {wanted} from the start."
        _expect(ledger, stay, phase, here == wanted, text)


def _holdings(scene: Scene, stay: Stay) -> Iterator[Holding]:
    fans: dict[str, int] = {}
    for phase in stay.phases:
        for held in phase.gear:
            if held.gear in scene.gear and scene.gear[held.gear].kind == "fan":
                fans[held.gear] = max(held.count, fans.get(held.gear, 0))
            else:
                yield Holding(gear=held.gear, count=held.count, span=when(phase), entry=stay.name)
    for gear, count in sorted(fans.items()):
        if stay.fans_on is not None:
            yield Holding(gear=gear, count=count, span=stay.fans_on, entry=stay.name)


def _stock(scene: Scene, held: list[Holding], ledger: Ledger) -> None:
    for name, gear in sorted(scene.gear.items()):
        mine = [holding for holding in held if holding.gear == name]
        ledger.count(RULE)
        over: dict[tuple[int, str], list[Span]] = {}
        edges = sorted({at for holding in mine for at in holding.span})
        for start, end in pairwise(edges):
            now = [holding for holding in mine if holding.span.start <= start < holding.span.end]
            count = sum(holding.count for holding in now)
            if count > gear.count:
                over.setdefault((count, ", ".join(sorted({h.entry for h in now}))), []).append(Span(start, end))
        for (count, who), pieces in sorted(over.items()):
            for piece in union(pieces):
                text = f"{count} × {name} are held at one time for {who}, {piece}; there are {gear.count}."
                ledger.breach(
                    RULE, text, entry=who.split(", ")[0], other=name, start=piece.start, end=piece.end, by=piece.length
                )


def _instruments(scene: Scene, stay: Stay, phase: PlannedPhase, ledger: Ledger) -> None:
    instruments = [
        scene.gear[held.gear] for held in phase.gear
        if held.count > 0 and held.gear in scene.gear and scene.gear[held.gear].kind == "gas instrument"
    ]  # fmt: skip
    measured = {gas for instrument in instruments for gas in instrument.measures}
    for gas in GASES:
        text = f"the test of {stay.name} at {stamp(phase.start)} has no gas instrument that measures {gas}."
        _expect(ledger, stay, phase, gas in measured, text, gas)


def _at_the_entrance(scene: Scene, stay: Stay, session: PlannedPhase, ledger: Ledger) -> None:
    inside = len(set(people_with(session, "entrant", "gas tester")))
    needed = READY | {"personal meter": inside, "lamp": inside}
    for kind, count in sorted(needed.items()):
        found = sum(
            held.count for held in session.gear if held.gear in scene.gear and scene.gear[held.gear].kind == kind
        )
        text = f"session {session.session} of {stay.name} at {stamp(session.start)} has {found} {kind}; {count} needed."
        _expect(ledger, stay, session, found >= count, text, kind)


def _expect(ledger: Ledger, stay: Stay, phase: PlannedPhase, holds: bool, text: str, other: str = "") -> bool:
    return ledger.expect(RULE, holds, text, entry=stay.name, other=other, start=phase.start, end=phase.end)
