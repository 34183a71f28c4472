"""Why there is no plan at all: the operations whose windows are shut, named from our own table."""

from __future__ import annotations

from collections.abc import Sequence

from scheduler.domain.folder import VoyageFolder
from scheduler.domain.restrictions import Restriction
from scheduler.solve.child import Answer
from scheduler.solve.model import intersect, starts_clear
from scheduler.solve.pose import Posing
from scheduler.solve.problem import Job, Stretch
from scheduler.solve.summary import blocking


def what_blocks(folder: VoyageFolder, restrictions: Sequence[Restriction], posing: Posing, answer: Answer) -> str:
    """One sentence a fact, for an officer: which operation has no time, and what shuts it."""
    lines = ["No plan. Do not use."]
    for operation in folder.operations:
        job = posing.job(operation)
        if operation.movable and not _can_start(job, posing.grid.steps):
            causes = dict.fromkeys(clear.because.rstrip(".") for clear in blocking(restrictions, operation.operation))
            why = "; ".join(causes) or f"its window is shorter than its {operation.hours:g} h"
            lines.append(f"{operation.origin}: {operation.operation} has no time between earliest and latest: {why}.")
    if len(lines) == 1 and answer.proven_empty:
        lines.append(
            "The solver reports that the movable operations and the ship's arrival cannot all be met, even with no "
            "entry at all. Widen the window of a movable operation, or the latest arrival."
        )
        lines.append(_tried(folder, answer.without))
    if len(lines) == 1:
        lines.append(f"None was found in the effort given ({answer.trouble or 'no answer'}). Give more with --seconds.")
    return "\n".join(lines)


def _tried(folder: VoyageFolder, without: Sequence[str]) -> str:
    """What came of leaving one of them away at a time."""
    if not without:
        return "Each operation and passage was left away in turn, and no times were found without it either."
    origin = {o.operation: o.origin for o in folder.operations} | {leg.leg: leg.origin for leg in folder.legs}
    named = ", ".join(f"{name} ({origin[name]})" for name in without)
    return f"Each was left away in turn: times are found without any one of {named}. Look at these first."


def _can_start(job: Job, steps: int) -> bool:
    """True when some start in the window keeps clear, also of what may not stand empty while it is being emptied."""
    starts = [[job.earliest, job.latest]] if job.earliest <= job.latest else []
    for stretch in (Stretch.RUN, Stretch.EMPTIED):
        starts = intersect(starts, starts_clear(steps, job.steps, job.blocked.get(stretch, ())))
    return bool(starts)
