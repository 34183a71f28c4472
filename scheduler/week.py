"""The story of a week, top to bottom: folder → restrictions → plan → findings. Read this file first."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from scheduler.check import Findings, check
from scheduler.domain.folder import VoyageFolder
from scheduler.domain.plan import Plan
from scheduler.domain.restrictions import Restriction
from scheduler.errors import Disagreement, NoPlan, Stopped
from scheduler.rules import restrictions as restrictions_of
from scheduler.rules.outlook import heading
from scheduler.solve.assemble import Assembling
from scheduler.solve.child import Answer, solve
from scheduler.solve.pose import Posing
from scheduler.solve.summary import plan_of
from scheduler.solve.witness import what_blocks

EFFORT_S = 60.0  # deterministic seconds that a plan may take unless told otherwise: our choice
SEED = 1

Progress = Callable[[str], None]


def plan_week(
    folder: VoyageFolder, *, seconds: float | None = None, seed: int = SEED, progress: Progress | None = None
) -> Plan:
    """The best checked plan of the week; raises NoPlan, Disagreement or Stopped, and never returns an unchecked one."""
    restrictions = restrictions_of(folder)
    posing = Posing(folder, restrictions)
    problem = posing.problem()
    answer = solve(problem, seconds=seconds or EFFORT_S, seed=seed, say=progress or _quiet)
    plan = _plan(folder, restrictions, posing, answer, seed)
    findings = check(folder, plan)
    if findings.breaches:
        raise Disagreement(
            "No plan. Do not use. The checker refuses what the planner made; this is our fault, not yours.",
            [breach.text for breach in findings.breaches],
        )
    return plan


def check_plan(folder: VoyageFolder, plan: Plan) -> Findings:
    """What the independent checker finds in a plan."""
    return check(folder, plan)


def _plan(folder: VoyageFolder, restrictions: Sequence[Restriction], posing: Posing, answer: Answer, seed: int) -> Plan:
    if answer.outcome is None:
        if answer.stopped:
            raise Stopped("Stopped before any plan was found; nothing was written.")
        raise NoPlan(what_blocks(folder, restrictions, posing, answer))
    assembling = Assembling(
        folder=folder,
        posing=posing,
        problem=posing.problem(),
        outcome=answer.outcome,
        heading=lambda leg, at, hove_to: heading(folder, leg, at, hove_to=hove_to),
    )
    return plan_of(assembling, restrictions, seed)


def _quiet(_: str) -> None:
    """Says nothing."""
