"""People as counts: a relaxation of the named week whose optimum bounds it."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping
from typing import TypeAlias

from ortools.sat.python import cp_model

from scheduler.domain.restrictions import DutyKind, Phase
from scheduler.solve.constraints import WeekTimes
from scheduler.solve.model import EntryVars
from scheduler.solve.problem import Need, Span, Stretch

_PHASES = {
    Phase.ISOLATE: Stretch.ISOLATE,
    Phase.TEST: Stretch.TEST,
    Phase.ENTER: Stretch.ENTER,
    Phase.RESTORE: Stretch.RESTORE,
}


Use: TypeAlias = tuple[frozenset[str], list[cp_model.IntervalVar], int, bool, bool]
"""People, intervals, count, rigging, on call."""


class PeopleCounts(WeekTimes):
    """At no time more people of one kind at work than are there."""

    def add_all(self) -> None:
        """The times, and the counts of people."""
        super().add_all()
        self.add_people_counts()

    def add_people_counts(self) -> None:
        """For each set of people that some need may draw on: all needs that can draw on nobody else."""
        uses: list[Use] = []
        for _, entry in sorted(self.entries.items()):
            for need in entry.task.needs:
                if self._doubled(entry, need):
                    continue
                intervals = self._need_intervals(entry, need)
                uses.append((frozenset(need.people), intervals, need.count, need.duty is DutyKind.RIGGING, not need.work))
        for people in sorted({u[0] for u in uses}, key=sorted):
            self._crowd(people, uses)

    def _doubled(self, entry: EntryVars, need: Need) -> bool:
        """The gas tester of a test may be the officer in charge; the latter's test lies in his session."""
        return need.may_double or (need.phase is Phase.TEST and need.duty is DutyKind.IN_CHARGE)

    def _need_intervals(self, entry: EntryVars, need: Need) -> list[cp_model.IntervalVar]:
        if need.phase is Phase.VENTILATE:
            return [
                self.model.new_optional_fixed_size_interval_var(
                    entry.opened, need.steps or 1, entry.present, f"{entry.task.entry} opening up"
                )
            ]
        stretch = _PHASES[need.phase]
        if need.duty is DutyKind.IN_CHARGE and need.phase is Phase.ENTER:
            stretch = Stretch.SESSION
        found = entry.intervals[stretch]
        return found[:1] if need.session == 1 else found

    def _crowd(
        self, people: frozenset[str], uses: list[Use]
    ) -> None:
        """On call goes with another entry's rigging, so rigging is counted apart where people are drawn on for both."""
        rigging_only = all(u[3] for u in uses if u[0] == people)
        intervals: list[cp_model.IntervalVar] = []
        demands: list[int] = []
        for able, held, count, rigging in uses:
            if able <= people and (rigging_only or not rigging):
                intervals += held
                demands += [count] * len(held)
        on_call = any(u[0] <= people and u[4] for u in uses)
        for (a, b), missing in self._missing(people, self.problem.away_on_call if on_call else self.problem.away):
            intervals.append(self.model.new_fixed_size_interval_var(a, b - a, "away"))
            demands.append(missing)
        self.model.add_cumulative(intervals, demands, len(people))

    def _missing(self, people: frozenset[str], away: Mapping[str, tuple[Span, ...]]) -> list[tuple[Span, int]]:
        edges: dict[int, int] = defaultdict(int)
        for person in people:
            for a, b in away.get(person, ()):
                edges[a] += 1
                edges[b] -= 1
        found: list[tuple[Span, int]] = []
        count, at = 0, 0
        for edge in sorted(edges):
            if count and edge > at:
                found.append(((at, edge), count))
            count, at = count + edges[edge], edge
        return found
