"""The levels of the plan, one after the other; each is fixed before the next is asked."""

from __future__ import annotations

import time
from collections.abc import Callable, Mapping
from dataclasses import dataclass

from ortools.sat.python import cp_model

from scheduler.solve.constraints import WeekTimes
from scheduler.solve.counts import PeopleCounts
from scheduler.solve.outcome import LevelFound, Placed, PlacedSession, Timed
from scheduler.solve.problem import Problem

Say = Callable[[str], None]
Stopped = Callable[[], bool]


@dataclass(kw_only=True)
class Budget:
    """What a run may spend: deterministic seconds, and a wall guard that stops a stuck run."""

    seconds: float
    guard_until: float
    seed: int
    differently: bool = False
    """True for the second run: another seed, and no presolve."""
    spent: float = 0.0
    cut: bool = False

    def parameters(self, share: float) -> cp_model.CpSolver:
        """A solver for the next stage: one worker and a deterministic limit, so that runs repeat."""
        solver = cp_model.CpSolver()
        p = solver.parameters
        p.num_workers = 1
        p.random_seed = self.seed
        p.max_deterministic_time = max(0.05, min(share * self.seconds, self.seconds - self.spent))
        p.max_time_in_seconds = max(0.1, self.guard_until - time.monotonic())
        if self.differently:
            p.random_seed = self.seed + 7919
            # reported wrong answers of this solver came with presolve: the second run goes without
            p.cp_model_presolve = False
        return solver


class _Watch(cp_model.CpSolverSolutionCallback):
    """Says what was found as it is found, and stops when asked."""

    def __init__(self, name: str, before: float, say: Say, stopped: Stopped) -> None:
        super().__init__()
        self._name, self._before, self._say, self._stopped = name, before, say, stopped

    def on_solution_callback(self) -> None:
        """Called by the solver at each better answer."""
        self._say(
            f"{self._name}: {self.objective_value:g}, bound {self.best_objective_bound:g}, "
            f"effort {self._before + self.deterministic_time:.2f}"
        )
        if self._stopped():
            self.stop_search()


def run(
    solver: cp_model.CpSolver, model: cp_model.CpModel, name: str, budget: Budget, say: Say, stopped: Stopped
) -> bool:
    """Solve one stage; True when there is an answer. A bad model is our own fault and raises RuntimeError."""
    status = solver.solve(model, _Watch(name, budget.spent, say, stopped))
    budget.spent += solver.response_proto.deterministic_time
    if status == cp_model.MODEL_INVALID:
        raise RuntimeError(f"{name}: {model.validate()}")
    if stopped() or (status != cp_model.OPTIMAL and time.monotonic() >= budget.guard_until):
        budget.cut = True
    return status in (cp_model.OPTIMAL, cp_model.FEASIBLE)


LEVELS = ("entries of priority 1", "minutes late", "entries of priority 2", "hours of easing", "entries of priority 3")


def level_expression(week: WeekTimes, name: str) -> tuple[cp_model.LinearExprT, int]:
    """The expression of a level and +1 when more is better, −1 when less is."""
    if name.startswith("entries"):
        priority = int(name[-1])
        return sum(e.present for e in week.entries.values() if e.task.priority == priority), 1
    if name == "minutes late":
        return sum(v.late_min for v in week.passages if v.late_min is not None), -1
    return sum(literal for v in week.passages for literal in v.any_eased.values()), -1


class NothingStands(Exception):
    """The solver found no times at all within its budget, or none exist (`proven`)."""

    def __init__(self, *, proven: bool) -> None:
        super().__init__("no times found")
        self.proven = proven


def best_times(
    problem: Problem, budget: Budget, say: Say, stopped: Stopped, *, early: bool = True
) -> tuple[Timed, tuple[LevelFound, ...]]:
    """Times through all levels, with `early` also an early finish; raises NothingStands."""
    week = PeopleCounts(problem)
    week.add_all()
    found: Timed | None = None
    levels: list[LevelFound] = []
    for name in LEVELS:
        expression, sign = level_expression(week, name)
        found, level = _one_level(week, name, expression, sign, found, budget, say, stopped)
        levels.append(level)
        if isinstance(expression, int):
            continue
        week.model.add(expression >= round(level.value) if sign > 0 else expression <= round(level.value))
    assert found is not None  # a level that finds nothing raises
    return (_early(week, found, budget, say, stopped) if early else found), tuple(levels)


def _one_level(
    week: WeekTimes,
    name: str,
    expression: cp_model.LinearExprT,
    sign: int,
    known: Timed | None,
    budget: Budget,
    say: Say,
    stopped: Stopped,
) -> tuple[Timed, LevelFound]:
    if isinstance(expression, int) and known is not None:
        return known, LevelFound(name=name, value=expression, bound=expression)
    solver = budget.parameters(0.1)
    (week.model.maximize if sign > 0 else week.model.minimize)(expression)
    if known is not None:
        hint(week, known)
    if stopped() and known is not None:
        return known, _kept(week, name, known, sign)
    if not run(solver, week.model, name, budget, say, stopped):
        if known is None:
            raise NothingStands(proven=solver.response_proto.status == cp_model.INFEASIBLE)
        return known, _kept(week, name, known, sign)
    return timed(week, solver), LevelFound(
        name=name, value=round(solver.objective_value), bound=round(solver.best_objective_bound, 3)
    )


def _kept(week: WeekTimes, name: str, known: Timed, sign: int) -> LevelFound:
    """A level that was not improved on: the value of the times at hand, and the trivial bound."""
    if name.startswith("entries"):
        here = [e for e in week.entries.values() if e.task.priority == int(name[-1])]
        return LevelFound(name=name, value=sum(e.task.entry in known.entries for e in here), bound=len(here))
    if name == "minutes late":
        return LevelFound(name=name, value=sum(known.late_min.values()), bound=0)
    return LevelFound(name=name, value=sum(len(hours) for hours in known.eased.values()), bound=0)


def _early(week: WeekTimes, known: Timed, budget: Budget, say: Say, stopped: Stopped) -> Timed:
    """Among the best, times that finish early and keep spaces open for a short time."""
    if stopped():
        return known
    hint(week, known)
    terms: list[cp_model.LinearExprT] = []
    for entry in week.entries.values():
        late = week.model.new_int_var(0, 2 * week.problem.steps, "finish and time open")
        week.model.add(late >= entry.end + (entry.end - entry.start)).only_enforce_if(entry.present)
        terms.append(late)
    week.model.minimize(sum(terms))
    solver = budget.parameters(0.004)
    return timed(week, solver) if run(solver, week.model, "early finish", budget, say, stopped) else known


def hint(week: WeekTimes, known: Timed) -> None:
    """Tell the solver the times at hand."""
    m = week.model
    m.clear_hints()  # type: ignore[no-untyped-call]  # the library leaves it untyped
    for name, entry in week.entries.items():
        placed = known.entries.get(name)
        m.add_hint(entry.present, placed is not None)
        if placed is None:
            continue
        m.add_hint(entry.start, placed.start)
        m.add_hint(entry.last_out, placed.sessions[-1].out)
        for index, chosen in enumerate(entry.ways):
            m.add_hint(chosen, index == placed.way)
        for k, session in enumerate(entry.sessions):
            here = k < len(placed.sessions)
            if k:
                m.add_hint(session.present, here)
            if here and isinstance(session.test, cp_model.IntVar) and isinstance(session.enter, cp_model.IntVar):
                m.add_hint(session.test, placed.sessions[k].test)
                m.add_hint(session.enter, placed.sessions[k].enter)
    for name, start in known.operations.items():
        job = week.jobs[name]
        if job.job.movable and isinstance(job.start, cp_model.IntVar):
            m.add_hint(job.start, start)


def timed(week: WeekTimes, solver: cp_model.CpSolver) -> Timed:
    """Read the times out of a solved model."""
    entries: dict[str, Placed] = {}
    for name, entry in week.entries.items():
        if not solver.boolean_value(entry.present):
            continue
        way = next(i for i, chosen in enumerate(entry.ways) if solver.boolean_value(chosen))
        entries[name] = Placed(
            entry=name,
            start=solver.value(entry.start),
            opened=solver.value(entry.opened),
            sessions=tuple(
                PlacedSession(test=solver.value(s.test), enter=solver.value(s.enter), out=solver.value(s.out))
                for s in entry.sessions
                if solver.boolean_value(s.present)
            ),
            closing=solver.value(entry.closing),
            end=solver.value(entry.end),
            fans=entry.task.ways[way].fans,
            way=way,
        )
    return Timed(
        entries=entries,
        operations={name: solver.value(job.start) for name, job in week.jobs.items()},
        eased={v.passage.leg: _eased(v.eased, v.hove_to, solver) for v in week.passages},
        late_min={v.passage.leg: solver.value(v.late_min) for v in week.passages if v.late_min is not None},
    )


def _eased(
    eased: Mapping[int, Mapping[float, cp_model.IntVar]],
    hove_to: Mapping[int, cp_model.IntVar],
    solver: cp_model.CpSolver,
) -> dict[int, float]:
    found: dict[int, float] = {}
    for hour, levels in eased.items():
        if solver.boolean_value(hove_to[hour]):
            found[hour] = 0.0
            continue
        kept = [limit for limit, literal in levels.items() if solver.boolean_value(literal)]
        if kept:
            found[hour] = min(kept)
    return found
