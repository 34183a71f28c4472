"""What goes on next door: pumping beside people, cargo beside coating, and all that hot work asks of its neighbours."""

from __future__ import annotations

import math
from typing import Final

from scheduler.check.findings import Ledger
from scheduler.check.scene import Run, Scene, Stay
from scheduler.check.sky import Sky
from scheduler.check.span import NOTHING, Span, common, shared_with, union
from scheduler.check.states import States
from scheduler.domain.ship import Space

RULE: Final = "next space"
PUMPED_OR_PRESSED: Final = (
    "load", "discharge", "transfer", "slops", "bunkering", "ballast in", "ballast out", "ballast exchange", "inert",
    "purge", "top up", "nitrogen", "tank wash", "line blow",
)  # fmt: skip
NOT_WITH_HOT_WORK: Final = (
    "load", "discharge", "transfer", "slops", "ballast in", "ballast out", "ballast exchange", "tank wash", "gas-free",
    "purge", "inert", "top up", "nitrogen", "vent down", "line blow", "gauging", "bunkering", "pilotage",
)  # fmt: skip
COLD_WORK_ONLY: Final = ("ballast tank", "void", "cofferdam")
FOR_HOT_WORK: Final = ("gas-free", "clean and empty", "ballast", "fresh water")  # inerted counts only after a purge


def look(scene: Scene, states: States, sky: Sky, ledger: Ledger) -> None:
    """Look over each bulkhead while people are at the space."""
    for stay in scene.stays:
        near = scene.next_to.get(stay.space.space, frozenset())
        for run in scene.runs:
            if run.kind in PUMPED_OR_PRESSED and near & set(run.operation.spaces):
                _not_beside(stay, run, near, ledger)
        if stay.entry.work in ("coat", "hot work") and stay.space.kind in COLD_WORK_ONLY:
            _no_cargo_beside(states, stay, near, ledger)
        if stay.hot:
            _hot_work(scene, states, sky, stay, near, ledger)


def _not_beside(stay: Stay, run: Run, near: frozenset[str], ledger: Ledger) -> None:
    ledger.count(RULE)
    beside = ", ".join(sorted(near & set(run.operation.spaces)))
    for piece in shared_with(run.span, stay.manned):
        text = f"people are at {stay.space.space} for {stay.name}; {run.kind} {run.name} works next to it, {beside}"
        _breach(ledger, stay, run.name, piece, f"{text}, {piece}.")


def _no_cargo_beside(states: States, stay: Stay, near: frozenset[str], ledger: Ledger) -> None:
    for space in sorted(near):
        ledger.count(RULE)
        for piece in _while(stay.manned, states.when(space, ("cargo",))):
            text = f"{stay.entry.work} in {stay.space.space} for {stay.name} with cargo next to it in {space}, {piece}."
            _breach(ledger, stay, space, piece, text)


def _hot_work(scene: Scene, states: States, sky: Sky, stay: Stay, near: frozenset[str], ledger: Ledger) -> None:
    # The fire watch stands after the work, so what is asked of the neighbours holds until all is closed up.
    hot = union((*stay.manned, *(Span(p.start, p.end) for p in stay.of("restore"))))
    for space in sorted(near):
        ledger.count(RULE)
        for span in hot:
            for piece, state in states.during(space, span):
                purged = state.name == "inerted" and state.last is not None and state.last.kind == "purge"
                if state.name not in FOR_HOT_WORK and not purged:
                    text = f"hot work for {stay.name} with {space} next to it '{state.name}', {piece}."
                    _breach(ledger, stay, space, piece, text)
    for run in scene.runs:
        ledger.count(RULE)
        if run.kind in NOT_WITH_HOT_WORK:
            for piece in _while(hot, [run.span]):
                text = f"hot work for {stay.name} during {run.kind} {run.name}, {piece}."
                _breach(ledger, stay, run.name, piece, text)
    _slops_far_off(scene, states, stay, hot, ledger)
    for session in stay.inside:
        ledger.count(RULE)
        for piece in sky.dark(Span(session.start, session.end), NOTHING):
            _breach(ledger, stay, "", piece, f"hot work for {stay.name} between sunset and sunrise, {piece}.")


def _slops_far_off(scene: Scene, states: States, stay: Stay, hot: list[Span], ledger: Ledger) -> None:
    least_m = scene.policy.number("hot_work.slop_m")
    for slop in sorted(space for space, known in scene.spaces.items() if known.kind == "slop tank"):
        ledger.count(RULE)
        apart_m = _apart_m(stay.space, scene.spaces[slop])
        if apart_m is not None and apart_m >= least_m:
            continue
        for span in hot:
            for piece, state in states.during(slop, span):
                if state.name not in FOR_HOT_WORK:
                    far = "at an unknown distance" if apart_m is None else f"{apart_m:.0f} m off"
                    text = f"hot work for {stay.name} with '{state.name}' in {slop}, {far}; {least_m:g} m, {piece}."
                    _breach(ledger, stay, slop, piece, text)


def _apart_m(one: Space, other: Space) -> float | None:
    if one.x_m is None or one.y_m is None or other.x_m is None or other.y_m is None:
        return None
    return math.hypot(one.x_m - other.x_m, one.y_m - other.y_m)


def _while(spans: tuple[Span, ...] | list[Span], others: list[Span]) -> list[Span]:
    return union(shared for span in spans for other in others if (shared := common(span, other)))


def _breach(ledger: Ledger, stay: Stay, other: str, piece: Span, text: str) -> None:
    ledger.breach(RULE, text, entry=stay.name, other=other, start=piece.start, end=piece.end, by=piece.length)
