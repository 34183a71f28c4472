"""Names at the times that were found; where they cannot be had, the entry is moved, or left out at last."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import partial

from ortools.sat.python import cp_model

from scheduler.domain.restrictions import Phase
from scheduler.solve.comfort import discomfort
from scheduler.solve.fixed_names import FixedNames
from scheduler.solve.names import NamedWeek
from scheduler.solve.outcome import LevelFound, Named, Timed, touched
from scheduler.solve.problem import Problem, Task
from scheduler.solve.resting import Held, Resting
from scheduler.solve.search import Budget, Say, Stopped, run, timed

_WEIGHT = {1: 1_000_000, 2: 10_000, 3: 100}
_SHORT = 2_000_000  # a fixed operation gets its people before any entry does
_ROUNDS = 200
_TRIES = 12  # times that are tried for entries that lack people


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
        self.resting = Resting(problem)
        self.tasks: dict[str, Task] = {task.entry: task for task in problem.tasks}

    def staffed(self, times: Timed) -> Staffed | None:
        """Names for all entries of `times`; those without people are tried at other times, then left out."""
        best = self._everybody(times) or self._as_many(times) or self._operations_alone(times) or self._afresh(times)
        if best is None:
            return None
        for free in self._attempts(best, times):
            missing = set(best.missing(times))
            if not free & missing or self.stopped() or self.budget.spent >= self.budget.seconds:
                continue
            tried = self._moved(best, free, "another time")
            if tried and set(tried.timed.entries) > set(best.timed.entries):
                best = tried
        return self._comfortable(best)

    def _attempts(self, best: Staffed, times: Timed) -> Iterator[frozenset[str]]:
        """What is set free to be moved: all that lack people, each alone, then each with those that stand near it."""
        missing = sorted(best.missing(times), key=lambda n: (self.tasks[n].priority, n))
        if missing:
            yield frozenset(missing)
        for name in missing if len(missing) > 1 else ():
            yield frozenset({name})
        for count in (3, 6):
            for name in missing:
                yield frozenset({name, *self._nearest(times, name, count)})

    # -- at fixed times -------------------------------------------------------------------------------------

    def _everybody(self, times: Timed) -> Staffed | None:
        """All entries and all operations with all their people."""
        return self._all_named(times, {})

    def _all_named(self, times: Timed, short: Mapping[str, int]) -> Staffed | None:
        """All entries, and all operations but for those that are known to fall `short`."""
        week = self._fixed(times)
        for present in week.present.values():
            week.model.add(present == 1)
        for operation, shorts in week.short.items():
            week.model.add(sum(shorts) <= short.get(operation, 0))
        return self._rested(week, "names", 0.06)

    def _as_many(self, times: Timed) -> Staffed | None:
        """Operations first, then entries by priority, as far as the people go."""
        week = self._fixed(times)
        worth = [_WEIGHT[self.tasks[name].priority] * present for name, present in week.present.items()]
        lacking = [_SHORT * s for shorts in week.short.values() for s in shorts]
        week.model.maximize(sum(worth) - sum(lacking))
        # each look at everybody's rest may cost the whole share, and a week is not given up for want of a second look
        return self._rested(week, "names, as far as they go", 0.06, in_all=0.24)

    def _operations_alone(self, times: Timed) -> Staffed | None:
        """No entry at all: those that lack people are tried one by one from here."""
        week = self._fixed(replace(times, entries={}))
        week.model.minimize(sum(s for shorts in week.short.values() for s in shorts))
        return self._rested(week, "names of operations", 0.06, in_all=0.24)

    def _afresh(self, times: Timed) -> Staffed | None:
        """The operations cannot be manned at these times: other times for everything, the entries as far as they go."""
        week = NamedWeek(self.problem, times, frozenset(self.tasks))
        week.add_all()
        self._no_more_easing(week, times)
        week.model.maximize(sum(_WEIGHT[e.task.priority] * e.present for e in week.entries.values()))
        solver = self.budget.parameters(0.2)
        if not run(solver, week.model, "names and times afresh", self.budget, self.say, self.stopped):
            return None
        return self._as_many(timed(week, solver))

    def _fixed(self, times: Timed) -> FixedNames:
        week = FixedNames(self.problem, times)
        week.add_all()
        return week

    def _comfortable(self, best: Staffed) -> Staffed:
        """The same times and entries, with names that work less out of hours, change less and share more evenly.

        One ship's date after the other is named anew, the rest staying as it is, as long as everybody's rest is kept.
        """
        if self.stopped() or self.budget.spent >= self.budget.seconds:
            return replace(best, comfort=None)
        week = self._fixed(best.timed)
        for present in week.present.values():
            week.model.add(present == 1)
        for name, shorts in week.short.items():
            week.model.add(sum(shorts) <= best.short.get(name, 0))
        self._hint(week, best)
        solver = self._settled(week, week.model, "names", 0.05)
        if solver is None:
            return replace(best, comfort=None)
        given = [solver.boolean_value(p.given) for p in week.parts]
        week.model.minimize(discomfort(week))
        bound = self._comfort_bound(week)
        for dawn, dusk in self.problem.days:
            if self.stopped() or self.budget.spent >= self.budget.seconds:
                break
            day = week.model.clone()
            day.clear_hints()  # type: ignore[no-untyped-call]  # the library leaves it untyped
            for part, has in zip(week.parts, given, strict=True):
                if not dawn <= part.span[0] < dusk:
                    day.add(part.given == int(has))
                day.add_hint(part.given, has)
            better = self._settled(week, day, "comfort", 0.006, each=0.002)
            if better is not None:
                solver = better
                given = [solver.boolean_value(p.given) for p in week.parts]
        comfort = LevelFound(name="comfort", value=round(solver.objective_value), bound=bound)
        return replace(self._read(week, solver), comfort=comfort if solver.objective_value else None)

    def _comfort_bound(self, week: FixedNames) -> float:
        """What no naming of these times can get under, by a short look at the whole."""
        solver = self.budget.parameters(0.002)
        run(solver, week.model, "comfort bound", self.budget, self.say, self.stopped)
        return round(solver.best_objective_bound, 3)

    def _hint(self, week: FixedNames, best: Staffed) -> None:
        for part in week.parts:
            given = (part.person, part.duty) in best.people.get((part.of, part.phase, part.session), ())
            week.model.add_hint(part.given, given)

    def _rested(self, week: FixedNames, name: str, share: float, *, in_all: float | None = None) -> Staffed | None:
        solver = self._settled(week, week.model, name, share, in_all=in_all)
        return None if solver is None else self._read(week, solver)

    def _settled(
        self,
        week: FixedNames,
        model: cp_model.CpModel,
        name: str,
        share: float,
        *,
        each: float | None = None,
        in_all: float | None = None,
    ) -> cp_model.CpSolver | None:
        """Solve, look at everybody's rest, forbid what broke it, and again until nothing does."""
        parts = self._held(week)
        if not each:
            self.resting.alone(model, parts)
            self.resting.pairs(model, parts)
        until = min(self.budget.seconds, self.budget.spent + (in_all or share) * self.budget.seconds)
        for _ in range(_ROUNDS):
            if self.budget.spent >= until:
                return None
            solver = self.budget.parameters(each or share)
            if not run(solver, model, name, self.budget, self.say, self.stopped):
                return None
            if not self.resting.cut(model, parts, [solver.boolean_value(p.given) for p in week.parts]):
                return solver
        return None

    def _held(self, week: FixedNames) -> list[Held]:
        step = self.problem.step_min
        return [
            Held(
                key=(p.of, p.phase, p.session, p.duty),
                person=p.person,
                work=p.work,
                span_min=(p.span[0] * step, p.span[1] * step),
                literal=p.given,
            )
            for p in week.parts
        ]

    def _read(self, week: FixedNames, solver: cp_model.CpSolver) -> Staffed:
        stands = {n: e for n, e in week.times.entries.items() if solver.boolean_value(week.present[n])}
        return Staffed(
            timed=self._needed(replace(week.times, entries=stands)),
            people=week.named(solver),
            short=_lacking(week.short, solver),
        )

    # -- at other times -------------------------------------------------------------------------------------

    def _nearest(self, times: Timed, name: str, count: int) -> list[str]:
        """Entries that stand nearest in time to where this one was to stand."""
        here = times.entries[name].start
        others = [e for e in times.entries.values() if e.entry != name]
        return [e.entry for e in sorted(others, key=lambda e: (abs(e.start - here), e.entry))[:count]]

    def _moved(self, best: Staffed, free: frozenset[str], name: str) -> Staffed | None:
        times = best.timed
        week = NamedWeek(self.problem, times, free)
        week.add_all()
        self._no_more_easing(week, times)
        for entry in sorted({*times.entries, *free}):
            week.model.add(week.entries[entry].present == 1)
        self._forbid_known(week)
        for operation, shorts in week.short.items():
            week.model.add(sum(shorts) <= best.short.get(operation, 0))
        until = min(self.budget.seconds, self.budget.spent + 0.06 * self.budget.seconds)
        for _ in range(_TRIES):
            solver = self.budget.parameters(0.04)
            if self.budget.spent >= until or not run(solver, week.model, name, self.budget, self.say, self.stopped):
                return None
            found = self._all_named(timed(week, solver), best.short)
            if found:
                return found
            # these times again would fail again: one of the free entries stands elsewhere
            elsewhere = [week.not_at(entry, solver.value(week.entries[entry].start)) for entry in sorted(free)]
            week.model.add_bool_or(elsewhere)
            self._forbid_broken(week, free, solver)
        return None

    def _forbid_broken(self, week: NamedWeek, free: frozenset[str], solver: cp_model.CpSolver) -> None:
        """What broke somebody's rest at these times is not given again, unless its time changes."""
        step = self.problem.step_min
        parts = [
            Held(
                key=(d.of, d.phase, d.session, d.duty),
                person=d.person,
                work=d.work,
                span_min=(solver.value(d.start) * step, solver.value(d.end) * step),
                literal=d.given,
                elsewhere=partial(week.elsewhere, d, solver.value(d.start)) if d.of in free else None,
            )
            for d in week.duties
        ]
        self.resting.cut(week.model, parts, [solver.boolean_value(d.given) for d in week.duties])

    def _forbid_known(self, week: NamedWeek) -> None:
        """What breaks somebody's rest among the parts whose times are fixed."""
        step = self.problem.step_min
        fixed = [
            Held(
                key=(d.of, d.phase, d.session, d.duty),
                person=d.person,
                work=d.work,
                span_min=(d.fixed[0] * step, d.fixed[1] * step),
                literal=d.given,
            )
            for d in week.duties
            if d.fixed
        ]
        self.resting.alone(week.model, fixed)
        self.resting.pairs(week.model, fixed)

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

    # -- both -----------------------------------------------------------------------------------------------

    def _needed(self, times: Timed) -> Timed:
        """Easing that no entry that stands needs any more is taken back."""
        needed: set[int] = set()
        for name, placed in times.entries.items():
            for cap in self.tasks[name].caps:
                a, b = self.problem.hour_spans[cap.hour]
                spans = touched(placed, self.tasks[name], cap.stretch)
                if any(start < b and end > a for start, end in spans):
                    needed.add(cap.hour)
        eased = {leg: {h: v for h, v in hours.items() if h in needed} for leg, hours in times.eased.items()}
        return replace(times, eased=eased)


def _lacking(short: Mapping[str, Sequence[cp_model.IntVar]], solver: cp_model.CpSolver) -> dict[str, int]:
    totals = {name: sum(solver.value(s) for s in shorts) for name, shorts in sorted(short.items())}
    return {name: total for name, total in totals.items() if total}
