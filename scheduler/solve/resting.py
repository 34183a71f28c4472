"""Hours of rest of a named week: which duties, given together, break which window."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass

from ortools.sat.python import cp_model

from scheduler.domain.restrictions import DutyKind, Phase
from scheduler.hazards.rest import RestFigures, RestLimits, rest_figures
from scheduler.solve.problem import Problem, Span

AROUND_MIN = 50 * 60  # far enough around a stretch of work for every 24 hours that it can touch
DAY_MIN = 24 * 60


def limits_of(problem: Problem) -> RestLimits:
    """The limits in force."""
    day, longest, week, span, short = problem.rest_limits
    return RestLimits(
        rest_24h_min=day,
        rest_7d_min=week,
        two_rests_min=day,
        long_rest_min=longest,
        longest_work_min=span,
        least_rest_min=short,
    )


def figures(problem: Problem, person: str, more_work: Iterable[Span]) -> RestFigures:
    """Figures of one person: fixed work and `more_work`, in minutes from the week's start.

    Without past hours only what begins in the week is known, and windows that reach before it are not judged.
    """
    end = problem.steps * problem.step_min
    begin = problem.known_from_min.get(person)
    known = (0 if begin is None else begin, end)
    work = [(max(a, known[0]), min(b, known[1])) for a, b in (*problem.work_min.get(person, ()), *more_work)]
    return rest_figures([w for w in work if w[0] < w[1]], known=known, week=(0, end), limits=limits_of(problem))


def breaks(problem: Problem, person: str, given: Sequence[Span]) -> list[int] | None:
    """The indices of `given` (minutes) that lie in the first broken window that holds any of them; None when none does.

    A window that fixed duties break by themselves still counts what was given in it: no entry duty goes there.
    """
    for breach in figures(problem, person, given).breaches:
        a, b = breach.window
        inside = [i for i, (start, end) in enumerate(given) if start < b and end > a]
        if inside:
            return inside
    return None


@dataclass(frozen=True, kw_only=True, eq=False, slots=True)
class Held:
    """One person's possible part: what it is, when (minutes from the week's start), and its literal."""

    key: tuple[str, Phase, int, DutyKind]
    person: str
    work: bool
    span_min: Span
    literal: cp_model.IntVar
    elsewhere: Callable[[], cp_model.IntVar] | None = None
    """Gives a literal that puts the part at another time; None where its time is fixed."""


class Resting:
    """Finds who was given what breaks his rest, and forbids it: to him, and to everybody whose rest it would break.

    On call is looked at twice: left out, and counted as if it were work, since it may not fall in a needed rest.
    """

    def __init__(self, problem: Problem) -> None:
        self.problem = problem
        self._limits = limits_of(problem)
        self._known: dict[tuple[str, tuple[Span, ...]], bool] = {}
        self._near: dict[tuple[int, tuple[Span, ...]], bool] = {}
        alike: dict[object, int] = {}
        self._alike = {
            person: alike.setdefault((problem.work_min.get(person), problem.known_from_min.get(person)), len(alike))
            for person in problem.people
        }

    def rested(self, person: str, spans: Sequence[Span]) -> bool:
        """True unless this work (minutes) breaks a window of 24 hours beside the person's fixed work around it."""
        key = (self._alike[person], tuple(spans))
        if key not in self._near:
            self._near[key] = self._rested(person, spans)
        return self._near[key]

    def _rested(self, person: str, spans: Sequence[Span]) -> bool:
        a, b = min(s[0] for s in spans), max(s[1] for s in spans)
        begin = self.problem.known_from_min.get(person)
        low = min(a, max(a - AROUND_MIN, 0 if begin is None else begin))
        high = min(b + AROUND_MIN, self.problem.steps * self.problem.step_min)
        fixed = self.problem.work_min.get(person, ())
        work = [(max(x, low), min(y, high)) for x, y in fixed if x < high and y > low]
        found = rest_figures([*work, *spans], known=(low, high), week=(low, high), limits=self._limits)
        return not any(breach.window[0] < b and breach.window[1] > a for breach in found.breaches)

    def alone(self, model: cp_model.CpModel, parts: Sequence[Held]) -> None:
        """Forbid each part that breaks its person's rest all by itself."""
        for part in parts:
            if self._broken(part.person, [part]):
                model.add(part.literal == 0)

    def pairs(self, model: cp_model.CpModel, parts: Sequence[Held]) -> None:
        """Forbid each two parts of one person, within a day of each other, that break the rest between them."""
        mine: dict[str, list[Held]] = defaultdict(list)
        for part in parts:
            if self.rested(part.person, [part.span_min]):
                mine[part.person].append(part)
        for person, held in sorted(mine.items()):
            held.sort(key=lambda p: p.span_min)
            for i, early in enumerate(held):
                for late in held[i + 1 :]:
                    if late.span_min[0] - early.span_min[1] >= DAY_MIN:
                        break
                    if late.span_min[0] >= early.span_min[1] and not self.rested(
                        person, [early.span_min, late.span_min]
                    ):
                        model.add_bool_or(early.literal.negated(), late.literal.negated())

    def cut(self, model: cp_model.CpModel, parts: Sequence[Held], given: Sequence[bool]) -> bool:
        """Add what must not be given together again; True when something was."""
        by_key: dict[tuple[str, Phase, int, DutyKind], dict[str, Held]] = defaultdict(dict)
        mine: dict[str, list[Held]] = defaultdict(list)
        for part, is_given in zip(parts, given, strict=True):
            by_key[part.key][part.person] = part
            if is_given:
                mine[part.person].append(part)
        found = False
        for person, held in sorted(mine.items()):
            for sample in ([p for p in held if p.work], held):
                left = list(sample)
                while guilty := self._guilty(person, left):
                    found = True
                    self._forbid(model, [p.key for p in guilty], by_key)
                    left.remove(guilty[0])
        return found

    def _guilty(self, person: str, held: Sequence[Held]) -> list[Held]:
        """A smallest set, one part after the other left out, that still breaks the person's rest."""
        inside = breaks(self.problem, person, [p.span_min for p in held])
        if inside is None:
            return []
        kept = [held[i] for i in inside]
        if not self._broken(person, kept):
            return kept  # together with what lies outside the window; forbid the window's own
        for part in list(kept):
            fewer = [p for p in kept if p is not part]
            if fewer and self._broken(person, fewer):
                kept = fewer
        return kept

    def _broken(self, person: str, parts: Sequence[Held]) -> bool:
        key = (person, tuple(sorted(p.span_min for p in parts)))
        if key not in self._known:
            self._known[key] = breaks(self.problem, person, key[1]) is not None
        return self._known[key]

    def _forbid(
        self,
        model: cp_model.CpModel,
        keys: Sequence[tuple[str, Phase, int, DutyKind]],
        by_key: Mapping[tuple[str, Phase, int, DutyKind], Mapping[str, Held]],
    ) -> None:
        everybody = set.intersection(*(set(by_key[key]) for key in keys))
        for person in sorted(everybody):
            parts = [by_key[key][person] for key in keys]
            if self._broken(person, parts):
                moved = [p.elsewhere() for p in parts if p.elsewhere]
                model.add_bool_or([*(p.literal.negated() for p in parts), *moved])
