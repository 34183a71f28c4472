"""What `lull check` prints: every promise that a plan does not keep, and how many checks were made by rule."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Protocol

from scheduler.publish.page import columns, heading, paragraph
from scheduler.publish.speech import counted
from scheduler.publish.standing import NO_PERMIT


class Broken(Protocol):
    """One breach; `text` names rule, who or what, when and by how much."""

    @property
    def text(self) -> str:
        """One plain sentence."""


class Findings(Protocol):
    """What a check found."""

    @property
    def breaches(self) -> Sequence[Broken]:
        """Every breach, earliest first."""

    @property
    def checks(self) -> Mapping[str, int]:
        """Checks made, by rule."""


def findings_text(findings: Findings) -> str:
    """One line for each breach, then the checks by rule, within a hundred columns."""
    lines: list[str] = []
    if findings.breaches:
        lines += [f"{counted(len(findings.breaches), 'breach', 'breaches')}. Do not use this plan."]
        for breach in findings.breaches:
            lines += paragraph(breach.text, indent=2, hang=2)
    else:
        lines += [f"No breach in {counted(sum(findings.checks.values()), 'check')}.", NO_PERMIT]
    lines += heading("Checks made, by rule")
    made = [(rule, f"{count:,}", "") for rule, count in findings.checks.items() if count]
    lines += columns(made, indent=2, right=(1,))
    unused = [rule for rule, count in findings.checks.items() if not count]
    if unused:
        lines += paragraph(f"Nothing in this plan called for: {', '.join(unused)}.")
    return "\n".join(line.rstrip() for line in lines) + "\n"
