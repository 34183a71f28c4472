"""Comfort, the last level: less work out of hours, the same people in one entry, an even load."""

from __future__ import annotations

from collections import defaultdict

from ortools.sat.python import cp_model

from scheduler.domain.restrictions import Phase
from scheduler.solve.fixed_names import FixedNames
from scheduler.solve.problem import Problem, Span

# weights, our choice: a quarter of an hour of work out of hours against another face in an entry and a fuller day
OUT_OF_HOURS = 4
ANOTHER_PERSON = 3
FULLEST = 2


def discomfort(week: FixedNames) -> cp_model.LinearExprT:
    """Steps of work outside people's own hours, people in each entry, and the greatest load of one person."""
    terms: list[cp_model.LinearExprT] = []
    load: dict[str, list[cp_model.LinearExprT]] = defaultdict(list)
    together: dict[tuple[str, str], list[cp_model.IntVar]] = defaultdict(list)
    for part in week.parts:
        if part.phase is not Phase.BRIEF:
            outside = _outside(week.problem, part.person, part.span)
            terms.append(part.given * (OUT_OF_HOURS * outside if part.work else outside))
        if part.of in week.present:
            together[part.of, part.person].append(part.given)
            if part.work:
                load[part.person].append(part.given * (part.span[1] - part.span[0]))
    for (entry, person), given in sorted(together.items(), key=lambda item: item[0]):
        here = week.model.new_bool_var(f"{person} in {entry}")
        week.model.add_max_equality(here, given)
        terms.append(ANOTHER_PERSON * here)
    most = week.model.new_int_var(0, 10 * week.problem.steps, "greatest load")
    for _, parts in sorted(load.items()):
        week.model.add(sum(parts) <= most)
    return cp_model.LinearExpr.sum([*terms, FULLEST * most])


def _outside(problem: Problem, person: str, span: Span) -> int:
    """Steps of a span that lie outside the person's day work."""
    step = problem.step_min
    inside = 0
    for a, b in problem.day_work_min.get(person, ()):
        inside += max(0, min(b, span[1] * step) - max(a, span[0] * step))
    return max(0, (span[1] - span[0]) - inside // step)
