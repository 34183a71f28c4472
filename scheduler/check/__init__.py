"""The independent inspection of a plan: every promise worked out again from the voyage folder.

It shares no rule, no clock and no arithmetic with what made the plan, walks the week in exact minutes, and believes
of a plan only where things stand in it, never why. `check` is the whole of its face.
"""

from scheduler.check.findings import Breach, Findings
from scheduler.check.inspection import check

__all__ = ["Breach", "Findings", "check"]
