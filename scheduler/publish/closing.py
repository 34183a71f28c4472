"""The end of the week's text: hours of rest, changed limits, cautions."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Final

from scheduler.domain.plan import Plan, RestRow, Warned
from scheduler.publish.page import columns, heading, paragraph
from scheduler.publish.speech import Speech, counted, full_stop

FIRST_CAUTIONS: Final = 5


def rest_lines(plan: Plan, say: Speech) -> list[str]:
    """Least rest of each person, all work counted."""
    lines = heading("Least rest of each person, in hours")
    head = ("person", "in 24 h", "in 7 days", "longest work", "verdict")
    return lines + columns([head, *(_row(row, say) for row in plan.rest)], right=(1, 2, 3))


def _row(row: RestRow, say: Speech) -> tuple[str, ...]:
    figures = (_hours(row.least_24h), _hours(row.least_7d), _hours(row.longest_work_h))
    return (say.person(row.person), *figures, f"{row.verdict}: {row.because}" if row.because else row.verdict)


def _hours(hours: float | None) -> str:
    return "unknown" if hours is None else f"{hours:.2f}"


def caution_lines(plan: Plan) -> list[str]:
    """At most five cautions, in the order of the plan."""
    first = plan.cautions[:FIRST_CAUTIONS]
    if not first:
        return [*heading("Cautions"), "None."]
    more = len(plan.cautions) - len(first)
    title = (
        f"Cautions, the first {len(first)} of {len(plan.cautions)}; the rest stand at the end" if more else "Cautions"
    )
    return heading(title) + _numbered(first, 1)


def further_lines(plan: Plan) -> list[str]:
    """Limits that the ship has changed, and the cautions after the fifth."""
    lines: list[str] = []
    if plan.overrides:
        lines += heading("Limits changed by policy.toml or week.toml")
        for row in plan.overrides:
            lines += paragraph(f"{row.key} is {row.value}; {row.published} by {row.source}.", hang=2)
    rest = plan.cautions[FIRST_CAUTIONS:]
    if rest:
        lines += heading(f"{counted(len(rest), 'further caution')}") + _numbered(rest, FIRST_CAUTIONS + 1)
    return lines


def _numbered(cautions: Iterable[Warned], first: int) -> list[str]:
    lines: list[str] = []
    for number, row in enumerate(cautions, first):
        lines += paragraph(f"{number}. {full_stop(row.text)}{_place(row)}", hang=3)
    return lines


def _place(row: Warned) -> str:
    place = f"{row.table}, row {row.row}" if row.table and row.row else row.table
    named = "; ".join(part for part in (row.entry, place) if part)
    return f" ({named})" if named else ""
