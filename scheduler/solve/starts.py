"""The table of starts: for each entry, which grid starts each rule alone forbids, and which all together leave.

This is our own enumeration, not the solver's word: 'cannot be placed' rests on it.
"""

from __future__ import annotations

from bisect import bisect_right
from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from scheduler.domain.plan import Reason
from scheduler.domain.restrictions import KeepClear, SpeedLimit
from scheduler.solve.pose import Posing, merged
from scheduler.solve.problem import Span, Stretch, Task, stretches

Blocked = Mapping[Stretch, Sequence[Span]]


@dataclass(frozen=True, kw_only=True, slots=True)
class StartTable:
    """Starts of `isolate` between earliest and due: how many in all, how many no rule alone or together forbids."""

    entry: str
    asked: int
    left: int
    reasons: tuple[Reason, ...]


def start_table(posing: Posing, task: Task) -> StartTable:
    """What each rule alone forbids, largest share first, and what all together leave."""
    by_rule: dict[str, list[KeepClear | SpeedLimit]] = defaultdict(list)
    for r in (*posing.of[KeepClear][task.entry], *posing.of[SpeedLimit][task.entry]):
        if isinstance(r, KeepClear) or (isinstance(r, SpeedLimit) and not may_ask(task.priority, r)):
            by_rule[r.rule].append(r)
    asked = range(task.earliest, max(task.earliest, task.due))
    free = possible_starts(task, {}, posing.grid.steps)
    reasons = []
    for rule, clears in sorted(by_rule.items()):
        left = possible_starts(task, _blocked(posing, clears), posing.grid.steps)
        share = 1 - len(left & set(asked)) / len(asked) if asked else 1.0
        lost = len(free - left)
        if lost:
            reasons.append(Reason(rule=rule, share=round(share, 4), because=_widest(clears)))
    if len(free) < len(asked):
        share = round(1 - len(free) / len(asked), 4) if asked else 1.0
        reasons.append(Reason(rule="window", share=share, because=_too_late(task, posing.grid.step_min)))
    left_in_all = possible_starts(task, task.blocked, posing.grid.steps)
    return StartTable(
        entry=task.entry,
        asked=len(asked),
        left=len(left_in_all),
        reasons=tuple(sorted(reasons, key=lambda r: (-r.share, r.rule))),
    )


def _too_late(task: Task, step_min: int) -> str:
    least = task.isolate + min((w.steps for w in task.ways), default=0) + task.brief + task.test + task.inside
    return f"from isolation to the last coming out it takes at least {least * step_min / 60:.4g} h before it is due"


def may_ask(priority: int, limit: SpeedLimit) -> bool:
    """Easing is for priority 1 and 2, heaving to for priority 1; to the others a speed limit keeps clear."""
    return priority == 1 or (priority == 2 and not limit.hove_to_only)


def _widest(clears: Sequence[KeepClear | SpeedLimit]) -> str:
    """The cause that keeps the longest time clear."""
    total: dict[str, float] = defaultdict(float)
    for clear in clears:
        total[clear.because] += (clear.end - clear.start).total_seconds()
    return max(sorted(total), key=lambda because: total[because])


def _blocked(posing: Posing, clears: Sequence[KeepClear | SpeedLimit]) -> dict[Stretch, tuple[Span, ...]]:
    found: dict[Stretch, list[Span]] = defaultdict(list)
    for clear in clears:
        for stretch in stretches(clear.phases):
            found[stretch].append(posing.span(clear.start, clear.end))
    return {stretch: merged(spans, posing.grid.steps) for stretch, spans in found.items()}


def possible_starts(task: Task, blocked: Blocked, steps: int) -> set[int]:
    """Starts of `isolate` from which the entry can be brought to its end, everything else being out of the way."""
    if not task.ways:
        return set()
    way = min(w.steps for w in task.ways)
    ends = _earliest_ends(task, blocked, steps)
    found = set()
    for start in range(max(task.earliest, task.brief), task.due):
        opened = start + task.isolate
        limit = min(
            steps,
            opened + task.open_longest,
            _next(blocked.get(Stretch.OPEN, ()), opened),
            _next(blocked.get(Stretch.OUT_OF_USE, ()), start),
        )
        if not _free(blocked.get(Stretch.BRIEF, ()), start - task.brief, start):
            continue
        if not _free(blocked.get(Stretch.ISOLATE, ()), start, opened):
            continue
        first = opened + way + task.brief
        if (
            first < len(ends)
            and ends[first] <= limit
            and _free(blocked.get(Stretch.VENTILATE, ()), opened, opened + way)
        ):
            found.add(start)
    return found


def _earliest_ends(task: Task, blocked: Blocked, steps: int) -> list[int]:
    """For each step the earliest end of the entry whose first test begins at or after it."""
    never = steps * 10
    ends = [never] * (steps + 1)
    for test in range(steps - 1, -1, -1):
        ends[test] = min(ends[test + 1], _end_from(task, blocked, test, never))
    return ends


def _end_from(task: Task, blocked: Blocked, test: int, never: int) -> int:
    """The end when the first test begins at `test` and each session is made as long as it can be."""
    at, left, first = test, task.inside, True
    for _ in range(task.most):
        if not first:
            moved = _next_test(task, blocked, at)
            if moved is None:
                return never
            at = moved
        elif not _free(blocked.get(Stretch.BRIEF, ()), at - task.brief, at):
            return never
        stay = _stay(task, blocked, at, left, pinned=task.at if first else None)
        if stay is None:
            return never
        enter, out = stay
        left -= out - enter
        at, first = out, False
        if left <= 0:
            closing = _gas_free(task, blocked, out)
            fits = out <= task.due and _free(blocked.get(Stretch.RESTORE, ()), closing, closing + task.restore)
            return closing + task.restore if fits else never
    return never


def _gas_free(task: Task, blocked: Blocked, out: int) -> int:
    """When what follows the last coming out may begin: at once, or after coating at the end of the test."""
    if not task.tail_test:
        return out
    test, last = out + task.tail_ventilate, out + task.open_longest
    while test < last and not _free(blocked.get(Stretch.TEST, ()), test, test + task.tail_test):
        test += 1
    return test + task.tail_test


def _stay(task: Task, blocked: Blocked, test: int, left: int, *, pinned: int | None) -> Span | None:
    if not _free(blocked.get(Stretch.TEST, ()), test, test + task.test):
        return None
    walls = blocked.get(Stretch.ENTER, ())
    for enter in range(test + task.test, test + task.test + task.valid + 1):
        if pinned is not None and enter != pinned:
            continue
        room = min(_next(walls, enter) - enter, task.greatest, left)
        enough = left if task.most == 1 else min(left, task.least)
        if room >= enough > 0:
            return enter, enter + room
    return None


def _next_test(task: Task, blocked: Blocked, after: int) -> int | None:
    for test in range(after + task.brief, task.due):
        briefed = _free(blocked.get(Stretch.BRIEF, ()), test - task.brief, test)
        if briefed and _stay(task, blocked, test, task.least, pinned=None):
            return test
    return None


def _free(spans: Sequence[Span], start: int, end: int) -> bool:
    return start >= 0 and not any(a < end and b > start for a, b in spans)


def _next(spans: Sequence[Span], at: int) -> int:
    """The step at which the next blocked span begins; `at` itself when it lies in one."""
    index = bisect_right([a for a, _ in spans], at)
    if index and spans[index - 1][1] > at:
        return at
    return spans[index][0] if index < len(spans) else 10**9
