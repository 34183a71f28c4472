"""What the places allow, and what must be asked of them."""

from __future__ import annotations

from datetime import datetime
from typing import Final

from scheduler.check.findings import Ledger, whole_minutes
from scheduler.check.scene import Scene, Stay
from scheduler.check.span import HOUR, Span, common, less, stamp
from scheduler.domain.voyage import Leg

RULE: Final = "port"
VENTING: Final = ("load", "purge", "gas-free", "tank wash", "vent down", "line blow", "gauging")
IN_PORT: Final = ("berth", "anchorage")


def look(scene: Scene, ledger: Ledger) -> None:
    """Hold open spaces and movable operations against the rules of each place."""
    for leg in scene.legs:
        if leg.kind not in IN_PORT:
            continue
        stay_there = Span(leg.start, leg.end)
        for stay in scene.stays:
            shared = common(stay.opened, stay_there) if stay.opened else None
            for what in _wanted(stay) if shared else ():
                _allowed(scene, leg, what, shared or stay_there, stay.name, "", ledger)
        for run in scene.runs:
            shared = common(run.span, stay_there)
            if not run.operation.movable or shared is None:
                continue
            if run.kind in ("ballast out", "ballast exchange"):
                _allowed(scene, leg, "ballast_out", shared, "", run.name, ledger)
            if run.operation.vapour == "to outlets" or (run.operation.vapour is None and run.kind in VENTING):
                _allowed(scene, leg, "venting", shared, "", run.name, ledger)


def _wanted(stay: Stay) -> tuple[str, ...]:
    also = {"hot work": ("hot_work",), "coat": ("coating",)}
    return ("entries", *also.get(stay.entry.work, ()))


def _allowed(scene: Scene, leg: Leg, what: str, span: Span, entry: str, operation: str, ledger: Ledger) -> None:
    ledger.count(RULE)
    said = _rule_of(scene, leg.place, what)
    name = entry or operation
    if said == "forbidden":
        text = f"{leg.place} forbids {what.replace('_', ' ')}; {name} stands there for {whole_minutes(span.length)} min"
        _breach(ledger, f"{text}, {span}.", entry, operation, leg, span)
    if said != "ask":
        return
    answers = [p for p in scene.folder.permissions if p.place == leg.place and p.what == what]
    for refused in (p for p in answers if p.answer == "no"):
        no = common(span, Span(refused.from_ or span.start, refused.until or span.end))
        if no is not None:
            text = f"{leg.place} has said no to {what.replace('_', ' ')} for {name}, {no}."
            _breach(ledger, text, entry, operation, leg, no)
    granted = [Span(p.from_ or span.start, p.until or span.end) for p in answers if p.answer == "yes"]
    if not granted:
        _asked(scene, leg, what, span, entry, operation, ledger)
        return
    for piece in less(span, [yes for yes in granted if common(yes, span)]):
        text = f"{leg.place} has allowed {what.replace('_', ' ')} at other times only; {name} stands there {piece}."
        _breach(ledger, text, entry, operation, leg, piece)


def _asked(scene: Scene, leg: Leg, what: str, span: Span, entry: str, operation: str, ledger: Ledger) -> None:
    """Not answered yet: the plan must say that it is to be asked, and early enough."""
    rules = [rules for rules in scene.folder.places if rules.place == leg.place]
    notice = rules[0].notice_h if rules else None
    hours = notice if notice is not None else scene.policy.number("port.notice_h")
    asked = [ask for ask in scene.plan.permissions if ask.place == leg.place and ask.what == what]
    name = entry or operation
    wanted = f"{what.replace('_', ' ')} at {leg.place} from {stamp(span.start)}"
    text = f"{name} needs {wanted}, and the plan does not ask for it."
    if not ledger.expect(RULE, bool(asked), text, entry=entry, other=operation or leg.place, start=span.start):
        return
    latest: datetime = span.start - hours * HOUR
    first = min(ask.ask_by for ask in asked)
    text = f"{leg.place} is to be asked about {name} by {stamp(first)}, after {stamp(latest)}, {hours:g} h before."
    ledger.expect(
        RULE, first <= latest, text, entry=entry, other=operation or leg.place,
        start=latest, end=first, by=first - latest,
    )  # fmt: skip


def _rule_of(scene: Scene, place: str, what: str) -> str:
    """What a place says; a place without a row counts as 'ask'."""
    for rules in scene.folder.places:
        if rules.place == place:
            given = {
                "entries": rules.entries, "hot_work": rules.hot_work, "coating": rules.coating,
                "venting": rules.venting, "ballast_out": rules.ballast_out,
            }  # fmt: skip
            return given[what]
    return "ask"


def _breach(ledger: Ledger, text: str, entry: str, operation: str, leg: Leg, span: Span) -> None:
    ledger.breach(RULE, text, entry=entry, other=operation or leg.place, start=span.start, end=span.end, by=span.length)
