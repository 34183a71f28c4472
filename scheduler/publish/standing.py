"""The first lines of every output: what was asked and stands, and what may be claimed of it."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Final

from scheduler.domain.plan import Counts, Level, Plan
from scheduler.publish.page import heading, paragraph, plain
from scheduler.publish.speech import Speech, counted

NO_PERMIT: Final = "A plan is not a permit. Tests and permit at the space decide."
COMFORT: Final = "comfort"
_CLAIMS: Final = {
    "proven best": "No better plan exists under these rules, by two differing solver runs that agree.",
    "best by one run": "Best by one solver run, not cross-checked by a second.",
    "best found": "Best found within its budget; a better one may exist.",
}


def head(plan: Plan, say: Speech) -> list[str]:
    """Ship and week, counts, standing, and what the plan was made from."""
    span = f"{say.moment(plan.week_start)} to {say.moment(plan.week_end)}, ship's time"
    return [
        *paragraph(f"{plan.ship}: the week's entries, {span}."),
        *counts_lines(plan.counts),
        *heading("Standing"),
        *standing_lines(plan),
        *paragraph(NO_PERMIT),
        *basis_lines(plan, say),
    ]


def counts_lines(counts: Counts) -> list[str]:
    """What was asked and what became of it, row for row; loud where it does not add up."""
    entries, operations, rows = counts.entries, counts.operations, counts.rows.values()
    read, taken, blank = (sum(getattr(row, name) for row in rows) for name in ("read", "taken", "blank"))
    lines = [
        f"{counted(entries.asked, 'entry', 'entries')} asked: {entries.planned} planned, {entries.left_out} left out, "
        f"{entries.broken_off} broken off. {operations.placed} of {counted(operations.asked, 'operation')} placed.",
        f"{counted(read, 'row')} read: {taken:,} taken, {blank:,} blank.",
    ]
    adds_up = (
        entries.asked == entries.planned + entries.left_out + entries.broken_off
        and operations.asked == operations.placed
        and all(row.read == row.taken + row.blank for row in rows)
    )
    return lines if adds_up else [*lines, "THE COUNTS DO NOT ADD UP. Do not use this plan."]


def standing_lines(plan: Plan) -> list[str]:
    """The claim that the standing allows, and no more; level by level where a bound is not met."""
    lines = paragraph(f"No rule is broken, by a check that is made apart from the planner. {_CLAIMS[plan.standing]}")
    if plan.standing == "best found":
        for level in plan.proof.levels:
            if not level.met and level.name != COMFORT:
                lines += paragraph(f"{could_be_better(level)}.", indent=2, hang=2)
    for level in plan.proof.levels:
        if level.name == COMFORT and not level.met:
            lines += paragraph(f"Comfort is said apart: {level.value:g} found, bound {level.bound:g}.")
    return lines


def could_be_better(level: Level) -> str:
    """How much better another plan could be at one level, by the solver's bound."""
    gap = f"{abs(level.bound - level.value):g}"
    if level.name.startswith("entries"):
        return f"{level.name}: {level.value:g} planned; at most {gap} more"
    return f"{level.name}: {level.value:g}; at most {gap} fewer"


def basis_lines(plan: Plan, say: Speech) -> list[str]:
    """Digest, forecast, limits, supposed changes and orders, and until when the plan holds."""
    issued = plan.inputs.forecast_issued
    forecast = f"forecast issued {say.moment(issued)}" if issued else "no forecast"
    lines = paragraph(
        f"Valid until {say.moment(plan.valid_until)}. Made from inputs {plan.inputs.digest[:12]}, {forecast}, "
        f"entry limits {plan.inputs.rule_set}, seed {plan.proof.seed}."
    )
    lines += _each("Supposed, not given: ", plan.supposed)
    lines += _each("Port order taken in: ", (f"{o.file}, received {say.moment(o.received)}" for o in plan.orders))
    if plan.replaces:
        lines += paragraph(f"Replaces the plan {plan.replaces[:12]}.")
    return lines


def _each(lead: str, texts: Iterable[str]) -> list[str]:
    return [line for text in texts for line in paragraph(f"{lead}{plain(text)}", hang=2)]
