"""What the plan does not place or breaks off: why, and what would let it in. Musts come first."""

from __future__ import annotations

from scheduler.domain.plan import Plan, PlannedEntry
from scheduler.publish.page import columns, heading, paragraph
from scheduler.publish.speech import Speech, full_stop


def left_out_lines(plan: Plan, say: Speech) -> list[str]:
    """One block an entry that is left out or broken off, by weight and name; says so where there is none."""
    out = [entry for entry in plan.entries if entry.outcome != "planned"]
    lines = heading("Left out and broken off")
    if not out:
        return [*lines, "Nothing: every entry asked for is planned."]
    lines += paragraph(
        "Each share is of the starts that the rule alone forbids between earliest and due; they overlap."
    )
    for entry in sorted(out, key=lambda row: (_priority(row, say), row.entry)):
        lines += _block(entry, say)
    return lines


def _priority(entry: PlannedEntry, say: Speech) -> int:
    asked = say.entries.get(entry.entry)
    return asked.priority if asked else 0


def _block(entry: PlannedEntry, say: Speech) -> list[str]:
    weight = say.weight(entry.entry)
    named = f"{entry.entry} ({weight})" if weight else entry.entry
    asked = say.entries.get(entry.entry)
    purpose = f": {asked.purpose}" if asked else ""
    lines = paragraph(f"{named}{purpose}; {say.space(entry.space)}; {entry.outcome}.", hang=2)
    ordered = sorted(entry.reasons, key=lambda row: (-row.share, row.rule, row.because))
    lines += columns(([share(row.share), row.rule, full_stop(row.because)] for row in ordered), indent=2, right=(0,))
    for change in entry.would_fit_if:
        lines += paragraph(f"Would fit if {change.change}: {full_stop(change.then)}", indent=2, hang=2)
    return lines


def share(part: float) -> str:
    """A share as whole percent; only all is 100 %, and only none is 0 %."""
    percent = round(part * 100)
    if percent == 100 and part < 1:
        return "99 %"
    return "1 %" if percent == 0 and part > 0 else f"{percent} %"
