"""Hours of rest, person by person, from real elapsed time.

STCW A-VIII/1 and MLC 2006 A2.3: ten hours of rest in any 24, 77 in any seven days; in the 24 hours from the
beginning of work the two longest rests make ten hours and one of them six; no more than 14 hours between rests.
A window is judged where all of it is known and it ends inside the week. The least of all sliding windows is found
among those that begin with work, end with work, or lie at an edge of what is known.
"""

from __future__ import annotations

from bisect import bisect_right
from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime, timedelta
from functools import cached_property
from typing import Final

from scheduler.check.findings import Ledger
from scheduler.check.scene import Scene
from scheduler.check.span import DAY, HOUR, NOTHING, Span, common, less, stamp, union
from scheduler.check.work import Rota, Task
from scheduler.domain.crew import Person
from scheduler.domain.policy import Policy

RULE: Final = "rest"
SEVEN_DAYS: Final = 7 * DAY
DAY_HOLDS: Final = 27  # blocks that 24 hours can hold, an hour of rest between any two, and the gaps at the edges
FIRST_HOURS: Final = timedelta(hours=10)  # no entry duty so early without a history; STCW A-VIII/1 counts back
HALF_A_HUNDREDTH_H: Final = 0.0051  # figures are compared to two decimals


@dataclass(frozen=True, kw_only=True, slots=True)
class Rules:
    """What must be kept."""

    day: timedelta
    longest: timedelta
    week: timedelta
    work_span: timedelta
    short_break: timedelta

    @staticmethod
    def of(policy: Policy) -> Rules:
        """The values in force."""
        return Rules(
            day=timedelta(hours=policy.number("rest.day_h")),
            longest=timedelta(hours=policy.number("rest.longest_h")),
            week=timedelta(hours=policy.number("rest.week_h")),
            work_span=timedelta(hours=policy.number("rest.work_span_h")),
            short_break=timedelta(minutes=policy.number("rest.short_break_min")),
        )


@dataclass(frozen=True, kw_only=True, slots=True)
class Lack:
    """A stretch in which somebody has too little rest, and by how much."""

    span: Span
    words: str
    by: timedelta


class Hours:
    """Work and rest of one person over known time."""

    def __init__(self, work: Iterable[Span], known: Span, week: Span, rules: Rules) -> None:
        self._known, self._week, self._rules = known, week, rules
        inside = (common(span, known) for span in work)
        self.blocks = _blocks([span for span in inside if span], rules.short_break)
        # A gap under an hour at an edge of what is known is no rest, and makes no block longer.
        self._busy = sorted([*self.blocks, *_edges(self.blocks, known, rules.short_break)])
        self._ends = [busy.end for busy in self._busy]

    @cached_property
    def least_day(self) -> timedelta | None:
        """The least rest in any 24 hours that end in the week."""
        return min((self._rest(window) for window in self._windows(DAY)), default=None)

    @cached_property
    def least_week(self) -> timedelta | None:
        """The least rest in any seven days that end in the week."""
        return min((self._rest(window) for window in self._windows(SEVEN_DAYS)), default=None)

    @cached_property
    def longest_work(self) -> timedelta:
        """The longest work without a rest that ends in the week."""
        return max((block.length for block in self._ending()), default=NOTHING)

    @cached_property
    def lacks(self) -> tuple[Lack, ...]:
        """Everything that is not kept."""
        found = [*self._short_sums(DAY, self._rules.day, "24 hours")]
        found += self._short_sums(SEVEN_DAYS, self._rules.week, "seven days")
        found += self._badly_divided()
        for block in self._ending():
            over = block.length - self._rules.work_span
            if over > NOTHING:
                words = f"{_h(block.length)} without a rest, {_h(self._rules.work_span)} at most"
                found.append(Lack(span=block, words=words, by=over))
        return tuple(sorted(set(found), key=lambda lack: (lack.span, lack.words)))

    def _short_sums(self, length: timedelta, needed: timedelta, words: str) -> list[Lack]:
        found = []
        for window in self._windows(length):
            rest = self._rest(window)
            if rest < needed:
                said = f"{_h(rest)} of rest in {words}, {_h(needed)} needed"
                found.append(Lack(span=window, words=said, by=needed - rest))
        return found

    def _badly_divided(self) -> list[Lack]:
        found = []
        for block in self.blocks:
            window = Span(block.start, block.start + DAY)
            if not self._judged(window):
                continue
            near = self._busy[bisect_right(self._ends, window.start) :][:DAY_HOLDS]
            rests = sorted((rest.length for rest in less(window, near)), reverse=True)
            two, one = sum(rests[:2], NOTHING), max(rests, default=NOTHING)
            if two < self._rules.day:
                said = f"the two longest rests make {_h(two)}, {_h(self._rules.day)} needed"
                found.append(Lack(span=window, words=said, by=self._rules.day - two))
            if one < self._rules.longest:
                said = f"the longest rest is {_h(one)}, {_h(self._rules.longest)} needed"
                found.append(Lack(span=window, words=said, by=self._rules.longest - one))
        return found

    def _windows(self, length: timedelta) -> list[Span]:
        ends = {block.start + length for block in self.blocks} | {block.end for block in self.blocks}
        ends |= {self._week.start, self._week.end, self._known.start + length}
        windows = (Span(end - length, end) for end in sorted(ends))
        return [window for window in windows if self._judged(window)]

    def _judged(self, window: Span) -> bool:
        return self._known.start <= window.start and self._week.start <= window.end <= self._week.end

    def _ending(self) -> list[Span]:
        return [block for block in self.blocks if block.end > self._week.start]

    def _rest(self, window: Span) -> timedelta:
        rest = window.length
        for busy in self._busy[bisect_right(self._ends, window.start) :]:
            if busy.start >= window.end:
                break
            rest -= min(busy.end, window.end) - max(busy.start, window.start)
        return rest


def look(scene: Scene, ledger: Ledger) -> None:
    """Judge everybody aboard, and hold the plan's figures against our own."""
    rules, rota = Rules.of(scene.policy), Rota(scene)
    fixed = _fixed_work(scene)
    for name, person in sorted(scene.people.items()):
        tasks, known = rota.by_person[name], known_time(scene, person)
        planned = [task.span for task in tasks if not task.on_call]
        hours = Hours([*fixed[name], *planned], known, scene.week, rules)
        _kept(name, hours.lacks, [task for task in tasks if not task.on_call], "", ledger)
        called = [task for task in tasks if task.on_call]
        if called:
            ready = Hours([*fixed[name], *(task.span for task in tasks)], known, scene.week, rules)
            _kept(name, ready.lacks, called, ", were the call to come", ledger)
        _first_hours(scene, person, known, tasks, ledger)
        _figures(scene, name, hours, known, ledger)


def known_time(scene: Scene, person: Person) -> Span:
    """From seven days before the week where past hours are given; else from the week's start or from joining."""
    if any(past.person == person.person for past in scene.folder.past_hours):
        return Span(scene.week.start - SEVEN_DAYS, scene.week.end)
    joined = person.joins if person.joins is not None else scene.week.start
    return Span(min(max(joined, scene.week.start), scene.week.end), scene.week.end)


def _fixed_work(scene: Scene) -> dict[str, list[Span]]:
    work: dict[str, list[Span]] = defaultdict(list)
    for duty in scene.folder.duties:
        work[duty.person].append(Span(duty.start, duty.end))
    for past in scene.folder.past_hours:
        work[past.person].append(Span(past.start, past.end))
    return work


def _kept(name: str, lacks: tuple[Lack, ...], tasks: list[Task], words: str, ledger: Ledger) -> None:
    """What fixed duties break by themselves is no breach, but nothing planned may lie in it."""
    ledger.count(RULE, max(1, len(tasks)))
    for lack in lacks:
        inside = [task for task in tasks if common(task.span, lack.span)]
        if inside:
            text = f"{name} has {lack.words}, in {lack.span}{words}; {inside[0]} lies in it."
            ledger.breach(
                RULE, text, entry=inside[0].what, person=name, start=lack.span.start, end=lack.span.end, by=lack.by
            )


def _first_hours(scene: Scene, person: Person, known: Span, tasks: tuple[Task, ...], ledger: Ledger) -> None:
    if known.start < scene.week.start:
        return
    earliest: datetime = known.start + FIRST_HOURS
    for task in tasks:
        if task.stay is None:
            continue
        early = earliest - task.span.start
        begins = stamp(task.span.start)
        text = f"{person.person} is {task} at {begins}; without past hours, not before {stamp(earliest)}."
        ledger.expect(
            RULE, early <= NOTHING, text, entry=task.what, person=person.person,
            start=task.span.start, end=earliest, by=early,
        )  # fmt: skip


def _figures(scene: Scene, name: str, hours: Hours, known: Span, ledger: Ledger) -> None:
    rows = [row for row in scene.plan.rest if row.person == name]
    if not ledger.expect(RULE, len(rows) == 1, f"the plan gives {len(rows)} rows of rest for {name}.", person=name):
        return
    own = verdict(hours, known)
    text = f"the plan calls the rest of {name} '{rows[0].verdict}'; it is '{own}'."
    ledger.expect(RULE, rows[0].verdict == own, text, person=name)
    _figure(name, "least rest in 24 h", rows[0].least_24h, hours.least_day, ledger)
    _figure(name, "least rest in seven days", rows[0].least_7d, hours.least_week, ledger)
    _figure(name, "longest work", rows[0].longest_work_h, hours.longest_work, ledger)


def verdict(hours: Hours, known: Span) -> str:
    """'broken', 'unknown' until seven days are known, or 'kept'."""
    if hours.lacks:
        return "broken"
    return "unknown" if known.length < SEVEN_DAYS else "kept"


def _figure(name: str, words: str, said: float | None, own: timedelta | None, ledger: Ledger) -> None:
    if own is None or said is None:  # noqa: SIM108 - three cases read better apart
        same = said is None and not own
    else:
        same = abs(said - own / HOUR) <= HALF_A_HUNDREDTH_H
    shown = "not known" if own is None else _h(own)
    ledger.expect(RULE, same, f"the plan gives {name} a {words} of {said} h; it is {shown}.", person=name)


def _blocks(work: list[Span], short_break: timedelta) -> list[Span]:
    """Work with less than a short break between is one block."""
    blocks: list[Span] = []
    for span in union(work):
        if blocks and span.start - blocks[-1].end < short_break:
            blocks[-1] = Span(blocks[-1].start, span.end)
        else:
            blocks.append(span)
    return blocks


def _edges(blocks: list[Span], known: Span, short_break: timedelta) -> list[Span]:
    """Gaps at the edges of known time that are too short to be called rest."""
    if not blocks:
        return [known] if NOTHING < known.length < short_break else []
    gaps = (Span(known.start, blocks[0].start), Span(blocks[-1].end, known.end))
    return [gap for gap in gaps if NOTHING < gap.length < short_break]


def _h(length: timedelta) -> str:
    return f"{length / HOUR:.2f} h"
