"""A space is entered only while it is empty, and in a state in which people may be inside."""

from __future__ import annotations

from typing import Final

from scheduler.check.findings import Ledger
from scheduler.check.scene import Scene, Stay
from scheduler.check.states import EMPTY, State, States

RULE: Final = "contents"


def look(scene: Scene, states: States, ledger: Ledger) -> None:
    """Look at what is in each space from its isolation on."""
    for stay in scene.stays:
        accepted = (*EMPTY, "residue") if _bears_residue(stay) else EMPTY
        if stay.out_of_use is None:
            continue
        for piece, state in states.during(stay.space.space, stay.out_of_use):
            text = (
                f"{stay.space.space} is '{state.name}'{_since(state)} while {stay.name} has it out of use, {piece}; "
                f"{' or '.join(accepted)} is needed."
            )
            ledger.expect(
                RULE, state.name in accepted, text,
                entry=stay.name, other=stay.space.space, start=piece.start, end=piece.end, by=piece.length,
            )  # fmt: skip


def _bears_residue(stay: Stay) -> bool:
    """Residue is met by cleaning by hand; in a hold, where a solid cargo leaves it, by all but hot work and coating."""
    cold = stay.entry.work not in ("hot work", "coat")
    return stay.entry.work == "clean by hand" or (stay.space.kind == "hold" and cold)


def _since(state: State) -> str:
    return f" after {state.last.kind} {state.last.name}" if state.last else " as the week begins"
