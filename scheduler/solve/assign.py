"""Names at the times that were found; where they cannot be had, the entry is moved, or left out at last."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from ortools.sat.python import cp_model

from scheduler.domain.restrictions import Phase
from scheduler.solve.names import Duty, NamedWeek, named
from scheduler.solve.outcome import LevelFound, Named, Placed, Timed
from scheduler.solve.problem import Problem, Span, Task
from scheduler.solve.resting import broken_windows
from scheduler.solve.search import Budget, Say, Stopped, run, timed

_WEIGHT = {1: 1_000_000, 2: 10_000, 3: 100}
_SHORT = 2_000_000  # a fixed operation gets its people before any entry does
_ROUNDS = 60


@dataclass(frozen=True, kw_only=True, slots=True)
class Staffed:
    """A week with names, every rest kept."""

    timed: Timed
    people: Mapping[tuple[str, Phase, int], tuple[Named, ...]]
    short: Mapping[str, int]
    comfort: LevelFound | None = None

    def missing(self, wanted: Timed) -> tuple[str, ...]:
        """Entries that stood in the times and have no people."""
        return tuple(sorted(set(wanted.entries) - set(self.timed.entries)))


class Assigning:
    """Names for the times of one week."""

    def __init__(self, problem: Problem, budget: Budget, say: Say, stopped: Stopped) -> None:
        self.problem, self.budget, self.say, self.stopped = problem, budget, say, stopped
        self.tasks: dict[str, Task] = {task.entry: task for task in problem.tasks}

    def staffed(self, times: Timed) -> Staffed | None:
        """Names for all entries of `times`; those without people are tried at other times, then left out."""
        best = self._solve(times, frozenset(), "names")
        if best is None:
            return None
        for name in sorted(best.missing(times), key=lambda n: (self.tasks[n].priority, n)):
            best = self._elsewhere(best, name) or best
        return self._comfortable(best)

    def _elsewhere(self, best: Staffed, name: str) -> Staffed | None:
        """The entry alone free, then with those that stand nearest; kept only when it comes in and none goes out."""
        if self.stopped() or self.budget.spent >= self.budget.seconds:
            return None
        for others in (0, 3):
            free = frozenset({name, *self._nearest(best.timed, name, others)})
            tried = self._solve(best.timed, free, f"another time for {name}")
            if tried and set(tried.timed.entries) >= set(best.timed.entries) | {name}:
                return tried
        return None

    def _nearest(self, times: Timed, name: str, count: int) -> list[str]:
        task = self.tasks[name]
        inside = [e for e in times.entries.values() if e.start < task.due and e.end > task.earliest]
        lowest = sorted(inside, key=lambda e: (-self.tasks[e.entry].priority, e.start, e.entry))
        return [e.entry for e in lowest[:count]]

    def _solve(self, times: Timed, free: frozenset[str], name: str) -> Staffed | None:
        """Everybody that stands, and what is free, with names; failing that as much of it as can be."""
        week = self._week(times, free)
        for entry in {*times.entries, *free}:
            week.model.add(week.entries[entry].present == 1)
        found = self._until_rested(week, name, 0.1)
        if found or free:
            return found
        week = self._week(times, free)
        worth = [_WEIGHT[e.task.priority] * e.present for e in week.entries.values()]
        lacking = [_SHORT * s for shorts in week.short.values() for s in shorts]
        week.model.maximize(sum(worth) - sum(lacking))
        return self._until_rested(week, f"{name}, as far as they go", 0.1)

    def _week(self, times: Timed, free: frozenset[str]) -> NamedWeek:
        week = NamedWeek(self.problem, times, free)
        week.add_all()
        self._no_more_easing(week, times)
        return week

    def _no_more_easing(self, week: NamedWeek, times: Timed) -> None:
        """Names ask the ship for nothing that the times did not."""
        for vars_ in week.passages:
            known = times.eased.get(vars_.passage.leg, {})
            for hour, literal in vars_.any_eased.items():
                if hour not in known:
                    week.model.add(literal == 0)
                elif known[hour] > 0:
                    week.model.add(vars_.hove_to[hour] == 0)
            if vars_.late_min is not None:
                week.model.add(vars_.late_min <= times.late_min.get(vars_.passage.leg, 0))

    def _until_rested(self, week: NamedWeek, name: str, share: float) -> Staffed | None:
        """Solve, look at everybody's rest, forbid what broke it, and again until nothing does."""
        until = min(self.budget.seconds, self.budget.spent + share * self.budget.seconds)
        for _ in range(_ROUNDS):
            solver = self.budget.parameters(share)
            if self.budget.spent >= until or not run(solver, week.model, name, self.budget, self.say, self.stopped):
                return None
            if not self._cut(week, solver):
                value, bound = solver.objective_value, solver.best_objective_bound
                return Staffed(
                    timed=self._needed(timed(week, solver)),
                    people=named(week, solver),
                    short={n: solver.value(sum(s)) for n, s in sorted(week.short.items()) if solver.value(sum(s))},
                    comfort=LevelFound(name="comfort", value=round(value), bound=round(bound, 3)),
                )
        return None

    def _cut(self, week: NamedWeek, solver: cp_model.CpSolver) -> bool:
        """Forbid each set of duties that broke somebody's rest; True when there was one."""
        mine: dict[str, list[Duty]] = defaultdict(list)
        for duty in week.duties:
            if solver.boolean_value(duty.given):
                mine[duty.person].append(duty)
        found = False
        for person, duties in sorted(mine.items()):
            for on_call in (False, True):
                held = [d for d in duties if d.work or on_call]
                if on_call and len(held) == sum(d.work for d in held):
                    continue
                spans = [self._minutes(d, solver) for d in held]
                for indices in broken_windows(self.problem, person, spans):
                    found = True
                    self._forbid(week, [held[i] for i in indices])
        return found

    def _forbid(self, week: NamedWeek, duties: Sequence[Duty]) -> None:
        """Not all of these to one person; the same for everybody whose fixed hours and parts are alike would follow."""
        week.model.add_bool_or([d.given.negated() for d in duties])

    def _minutes(self, duty: Duty, solver: cp_model.CpSolver) -> Span:
        step = self.problem.step_min
        return solver.value(duty.start) * step, solver.value(duty.end) * step

    def _needed(self, times: Timed) -> Timed:
        """Easing that no entry that stands needs any more is taken back."""
        needed: set[int] = set()
        for name, placed in times.entries.items():
            for cap in self.tasks[name].caps:
                a, b = self.problem.hour_spans[cap.hour]
                spans = touched(placed, self.tasks[name], cap.stretch.value)
                if any(start < b and end > a for start, end in spans):
                    needed.add(cap.hour)
        eased = {leg: {h: v for h, v in hours.items() if h in needed} for leg, hours in times.eased.items()}
        return replace(times, eased=eased)

    def _comfortable(self, best: Staffed) -> Staffed:
        """The same times and entries, with names that work less out of hours, change less and share more evenly."""
        if self.stopped() or self.budget.spent >= self.budget.seconds:
            return replace(best, comfort=None)
        week = self._week(best.timed, frozenset())
        for name in best.timed.entries:
            week.model.add(week.entries[name].present == 1)
        for name, shorts in week.short.items():
            week.model.add(sum(shorts) <= best.short.get(name, 0))
        week.model.minimize(self._discomfort(week, best.timed))
        found = self._until_rested(week, "comfort", 0.2)
        return found or replace(best, comfort=None)

    def _discomfort(self, week: NamedWeek, times: Timed) -> cp_model.LinearExprT:
        """Quarter hours of work outside the person's own hours, people in one entry, and the greatest load."""
        terms: list[cp_model.LinearExprT] = []
        load: dict[str, list[cp_model.LinearExprT]] = defaultdict(list)
        together: dict[tuple[str, str], list[cp_model.IntVar]] = defaultdict(list)
        for duty in week.duties:
            span = self._fixed_span(duty, times)
            outside = 0 if span is None else self._outside(duty.person, span)
            terms.append(duty.given * (4 * outside if duty.work else outside))
            if duty.of in self.tasks:
                together[duty.of, duty.person].append(duty.given)
                if duty.work and span is not None:
                    load[duty.person].append(duty.given * (span[1] - span[0]))
        for (entry, person), given in sorted(together.items()):
            here = week.model.new_bool_var(f"{person} in {entry}")
            for literal in given:
                week.model.add_implication(literal, here)
            terms.append(3 * here)
        most = week.model.new_int_var(0, 10 * self.problem.steps, "greatest load")
        for _, parts in sorted(load.items()):
            week.model.add(sum(parts) <= most)
        return cp_model.LinearExpr.sum([*terms, 2 * most])

    def _fixed_span(self, duty: Duty, times: Timed) -> Span | None:
        """Steps of a duty at frozen times; None for operations and for briefings, which follow the others."""
        placed = times.entries.get(duty.of)
        if placed is None or duty.phase is Phase.BRIEF:
            return None
        task = self.tasks[duty.of]
        stay = placed.sessions[max(duty.session, 1) - 1]
        spans: dict[Phase, Span] = {
            Phase.ISOLATE: (placed.start, placed.opened),
            Phase.VENTILATE: (placed.opened, placed.opened + 2),
            Phase.TEST: (
                (placed.closing - task.tail_test, placed.closing)
                if duty.session < 0
                else (stay.test, stay.test + task.test)
            ),
            Phase.ENTER: (stay.enter, stay.out),
            Phase.RESTORE: (placed.closing, placed.end),
        }
        return spans.get(duty.phase)

    def _outside(self, person: str, span: Span) -> int:
        """Steps of a span that lie outside the person's day work."""
        step = self.problem.step_min
        inside = 0
        for a, b in self.problem.day_work_min.get(person, ()):
            inside += max(0, min(b, span[1] * step) - max(a, span[0] * step))
        return max(0, (span[1] - span[0]) - inside // step)


def touched(placed: Placed, task: Task, stretch: str) -> list[Span]:
    """The spans of a stretch of a placed entry, in steps."""
    match stretch:
        case "test":
            tail = [(placed.closing - task.tail_test, placed.closing)] if task.tail_test else []
            return [(s.test, s.test + task.test) for s in placed.sessions] + tail
        case "enter":
            return [(s.enter, s.out) for s in placed.sessions]
        case "session":
            return [(s.test, s.out) for s in placed.sessions]
        case "isolate":
            return [(placed.start, placed.opened)]
        case "ventilate":
            return [(placed.opened, placed.sessions[0].test)]
        case "restore":
            return [(placed.closing, placed.end)]
        case "open":
            return [(placed.opened, placed.end)]
        case _:
            return [(placed.start, placed.end)]
