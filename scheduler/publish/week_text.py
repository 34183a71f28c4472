"""What `lull plan` prints: first what is forced and asked, then what is left out, then the week by day."""

from __future__ import annotations

from scheduler.domain.folder import VoyageFolder
from scheduler.domain.plan import Plan
from scheduler.publish.asked import asked_lines, stop_lines
from scheduler.publish.closing import caution_lines, further_lines, rest_lines
from scheduler.publish.days import days_lines
from scheduler.publish.left_out import left_out_lines
from scheduler.publish.speech import Speech
from scheduler.publish.standing import head


def week_text(folder: VoyageFolder, plan: Plan) -> str:
    """The plan as plain text within a hundred columns, in ship's time.

    The plan must have passed the check: the text says so.
    """
    say = Speech.of(folder)
    lines = [
        *head(plan, say),
        *stop_lines(plan, say),
        *asked_lines(plan, say),
        *left_out_lines(plan, say),
        *days_lines(plan, say),
        *rest_lines(plan, say),
        *caution_lines(plan),
        *further_lines(plan),
    ]
    return "\n".join(lines) + "\n"
