"""The best plan of a tiny week by writing down every plan: no solver, no model, no bound but arithmetic."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from itertools import product
from math import prod

from scheduler.solve.outcome import Placed, PlacedSession, Timed
from scheduler.solve.problem import Problem, Task
from tests.benchmarks.validity import arrival_min, faults_of_entry, faults_of_times, meet, spans_of
from tests.properties.naming import Naming

Levels = tuple[int, int, int, int, int]
"""Entries of priority 1, minutes late, entries of 2, hours of easing, entries of 3; fewer late and eased are better."""


def better(a: Levels, b: Levels) -> bool:
    """True when the first is the better plan, level by level."""
    return _rank(a) > _rank(b)


def _rank(levels: Levels) -> Levels:
    one, late, two, eased, three = levels
    return one, -late, two, -eased, three


@dataclass(kw_only=True)
class Exhaustive:
    """Every plan of a week in turn. `named`: only those for which people can be found."""

    problem: Problem
    named: bool = False
    best: Levels | None = None
    plan: Timed | None = None
    looked_at: int = 0
    _options: dict[str, list[Placed]] = field(default_factory=dict)
    _alone: dict[tuple[str, int], bool] = field(default_factory=dict)
    _together: dict[tuple[tuple[str, int], ...], bool] = field(default_factory=dict)
    _naming: Naming = field(init=False)
    _staffed: dict[tuple[tuple[str, int], ...], bool] = field(default_factory=dict)

    def __post_init__(self) -> None:
        self._naming = Naming(problem=self.problem)

    def plans(self) -> int:
        """At most how many plans there are."""
        counts = [1 + len(list(options(self.problem, task))) for task in self.problem.tasks]
        return prod((*counts, *(1 + job.latest - job.earliest for job in self.problem.jobs)))

    def search(self) -> Levels | None:
        """The best levels there are; None when not even the empty plan is allowed."""
        tasks = self._in_turn()
        self._options = {task.entry: list(options(self.problem, task)) for task in tasks}
        movable = [range(j.earliest, j.latest + 1) for j in self.problem.jobs]
        for starts in product(*movable):
            operations = {j.operation: s for j, s in zip(self.problem.jobs, starts, strict=True)}
            if not faults_of_times(self.problem, self._timed({}, operations)):
                self._alone = {}
                self._extend(tasks, {}, operations)
        return self.best

    def _in_turn(self) -> list[Task]:
        """By priority, but nothing before what it waits for."""
        left, found = sorted(self.problem.tasks, key=lambda t: (t.priority, t.entry)), list[Task]()
        while left:
            waits = {o.then for o in self.problem.orders if o.presence and o.first in {t.entry for t in left}}
            free = [t for t in left if t.entry not in waits]
            if not free:
                break  # a ring: none of them can stand
            found.append(free[0])
            left.remove(free[0])
        return found

    def _extend(self, left: Sequence[Task], chosen: dict[str, int], operations: Mapping[str, int]) -> None:
        now = self._levels(chosen, left)
        if now is None or (self.best is not None and not better(now, self.best)):
            return
        if not left:
            self.best, self.plan = now, self._timed(chosen, operations)
            return
        task, rest = left[0], left[1:]
        for index in range(len(self._options[task.entry])):
            more = {**chosen, task.entry: index}
            self.looked_at += 1
            if self._allowed(task, more, operations) and (not self.named or self._can_be_staffed(more)):
                self._extend(rest, more, operations)
        self._extend(rest, chosen, operations)

    def _levels(self, chosen: Mapping[str, int], left: Iterable[Task]) -> Levels | None:
        """What a plan would be worth if all that is left stood too and asked for nothing; None: the ship may not."""
        stand = Counter(t.priority for t in self.problem.tasks if t.entry in chosen) + Counter(t.priority for t in left)
        eased = self._eased(chosen)
        if any(sum(h <= hour < h + 168 for hour in eased) > self.problem.easing_max for h in eased):
            return None
        late = 0
        for passage in self.problem.passages:
            arrival = arrival_min(self.problem, eased, passage.leg)
            if arrival is None or arrival > passage.latest_min:
                return None
            late += max(0, arrival - passage.arrive_by_min)
        return stand[1], late, stand[2], len(eased), stand[3]

    def _eased(self, chosen: Mapping[str, int]) -> dict[int, float]:
        """The hours that must be eased for what stands; easing more than that helps nobody."""
        under_way = {h.hour for p in self.problem.passages for h in p.hours}
        eased: dict[int, float] = {}
        for task in self.problem.tasks:
            for cap in task.caps if task.entry in chosen else ():
                spans = spans_of(task, self._options[task.entry][chosen[task.entry]], cap.stretch)
                if cap.hour in under_way and any(meet(s, self.problem.hour_spans[cap.hour]) for s in spans):
                    limit = 0.0 if cap.hove_to_only else cap.limit_kn
                    eased[cap.hour] = min(eased.get(cap.hour, 99.0), limit)
        return eased

    def _allowed(self, task: Task, chosen: Mapping[str, int], operations: Mapping[str, int]) -> bool:
        """The newcomer with the operations, with each other entry, and with all of them."""
        name, index = task.entry, chosen[task.entry]
        if any(o.presence and o.then == name and o.first not in chosen for o in self.problem.orders):
            return False
        if (name, index) not in self._alone:
            self._alone[name, index] = self._faultless({name: index}, operations)
        if not self._alone[name, index]:
            return False
        others = [{other: i, name: index} for other, i in chosen.items() if other != name]
        for pair in others:
            key = tuple(sorted(pair.items()))
            if key not in self._together:
                self._together[key] = self._faultless(pair, operations)
            if not self._together[key]:
                return False
        return len(others) < 2 or self._faultless(chosen, operations)

    def _faultless(self, chosen: Mapping[str, int], operations: Mapping[str, int]) -> bool:
        said = faults_of_times(self.problem, self._timed(chosen, operations))
        return not [text for text in said if " stands without " not in text]  # looked at above, in turn

    def _timed(self, chosen: Mapping[str, int], operations: Mapping[str, int]) -> Timed:
        eased = self._eased(chosen)
        return Timed(
            entries={name: self._options[name][index] for name, index in chosen.items()},
            operations=operations,
            eased={p.leg: eased for p in self.problem.passages},
        )

    # -- people -----------------------------------------------------------------------------------------------

    def _can_be_staffed(self, chosen: Mapping[str, int]) -> bool:
        """People for all that stands: looked for once for each set; a set with a part that cannot be is out at once."""
        key = tuple(sorted(chosen.items()))
        if key not in self._staffed:
            fewer = ({n: i for n, i in chosen.items() if n != name} for name in chosen)
            parts = all(self._can_be_staffed(less) for less in fewer if less)
            self._staffed[key] = parts and self._naming.can_be_had(self._timed(chosen, {}))
        return self._staffed[key]


# -- times of one entry -----------------------------------------------------------------------------------------


def options(problem: Problem, task: Task) -> Iterator[Placed]:
    """Every way in which one entry can stand, all else being out of the way."""
    for index, way in enumerate(task.ways):
        for start in range(problem.steps):
            opened = start + task.isolate
            for sessions in _all_sessions(problem, task, opened + way.steps + task.brief, task.inside, task.most):
                for closing in _closings(problem, task, sessions[-1].out):
                    placed = Placed(
                        entry=task.entry, start=start, opened=opened, sessions=sessions, closing=closing,
                        end=closing + task.restore, fans=way.fans, way=index,
                    )  # fmt: skip
                    if not faults_of_entry(problem, task, placed):
                        yield placed


def _all_sessions(
    problem: Problem, task: Task, after: int, left: int, most: int
) -> Iterator[tuple[PlacedSession, ...]]:  # fmt: skip
    for test in range(after, min(problem.steps, task.due)):
        for enter in range(test + task.test, test + task.test + task.valid + 1):
            lengths = [left] if task.most == 1 else range(1, min(left, task.greatest) + 1)
            for length in lengths:
                session = PlacedSession(test=test, enter=enter, out=enter + length)
                if session.out > task.due:
                    continue
                if length == left:
                    yield (session,)
                elif most > 1:
                    for more in _all_sessions(problem, task, session.out + task.brief, left - length, most - 1):
                        yield (session, *more)


def _closings(problem: Problem, task: Task, out: int) -> Iterable[int]:
    return range(out + task.tail_ventilate + task.tail_test, problem.steps) if task.tail_test else (out,)
