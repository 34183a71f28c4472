"""Random weeks to measure with: as hard as a bad week at sea, the same for the same seed, all of it constructed.

A quarter of an hour a step; 30 spaces, four fans of one kind, two instruments, two spaces manned at once, 40
operations. Each entry is kept out for 46 to 53 % of the week. Nothing here is easier in a larger week.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from random import Random

from scheduler.domain.restrictions import DutyKind, Phase
from scheduler.solve.problem import Apart, Cap, Hour, Job, Need, Order, Passage, Problem, Span, Stretch, Task, Way

STEP_MIN = 15
DAY = 96
HOUR = 4
SPACES = 30
OPERATIONS = 40
MOVABLE = 12
BLOCKED_LEAST, BLOCKED_MOST = 0.46, 0.53
CREW = {10: 16, 25: 20, 60: 24, 120: 24}
DAYS = {10: 7, 25: 7, 60: 7, 120: 14}
WATCHES = ((0, 12), (4, 16), (8, 20))  # hours at which a watch of four hours begins
SESSION = (Stretch.TEST, Stretch.ENTER)
OPEN = (Stretch.OPEN,)


@dataclass(frozen=True, kw_only=True, slots=True)
class Crew:
    """People by what they can do, and when each of them works anyway."""

    officers: tuple[str, ...]
    ratings: tuple[str, ...]
    watches: Mapping[str, tuple[int, ...]]

    @property
    def people(self) -> tuple[str, ...]:
        """Everybody."""
        return (*self.officers, *self.ratings)


def a_crew(size: int) -> Crew:
    """A third are officers; three officers and three ratings keep the watches, the others work by day."""
    officers = tuple(f"O{i:02d}" for i in range(1, size * 3 // 10 + 2))
    ratings = tuple(f"R{i:02d}" for i in range(1, size - len(officers) + 1))
    keepers = zip(WATCHES, officers[1:4], ratings[:3], strict=True)
    watches = {person: hours for hours, *pair in keepers for person in pair}
    return Crew(officers=officers, ratings=ratings, watches=watches)


def random_week(entries: int, seed: int, *, hours: bool = False) -> Problem:
    """A week of 10, 25 or 60 entries, or two weeks of 120. `hours` adds working hours 08–12 and 13–18: harder."""
    return _Making(entries, seed, hours=hours).problem()


class _Making:
    """One week in the making: each part draws from one generator, in a fixed order."""

    def __init__(self, entries: int, seed: int, *, hours: bool) -> None:
        self.random = Random(f"{entries} {seed}")
        self.entries, self.hours = entries, hours
        self.days = DAYS[entries]
        self.steps = self.days * DAY
        self.crew = a_crew(CREW[entries])
        self.spaces = [f"S{i:02d}" for i in range(1, SPACES + 1)]

    def problem(self) -> Problem:
        """The whole week."""
        jobs, kept_out = self.operations()
        foul = self.foul_hours()
        tasks = [self.entry(i, kept_out, foul) for i in range(self.entries)]
        tasks = [_within_hours(task, self.days) for task in tasks] if self.hours else tasks
        week = ((0, self.steps),)
        return Problem(
            steps=self.steps,
            step_min=STEP_MIN,
            hour_spans=tuple((h * HOUR, h * HOUR + HOUR) for h in range(self.days * 24)),
            days=tuple((d * DAY, d * DAY + DAY) for d in range(self.days)),
            tasks=tuple(tasks),
            jobs=tuple(jobs),
            aparts=(*self.apart_from_operations(tasks, jobs), *_same_space(tasks)),
            orders=tuple(self.one_after_another(tasks)),
            stocks={name: ((week[0], count),) for name, count in (("fan", 4), ("instrument", 2), ("manned", 2))},
            passages=self.passages(),
            easing_max=12,
            people=self.crew.people,
            away=self.on_watch(early=0),
            away_on_call=self.on_watch(early=0),
            away_enter=self.on_watch(early=1),
            away_operation={},
            work_min={p: self.work(p, -7) for p in self.crew.people},
            day_work_min={p: self.day_work(p, 0) for p in self.crew.people},
            known_from_min=dict.fromkeys(self.crew.people, -7 * 1440),
            sessions_a_day=2,
            rest_limits=(600, 360, 77 * 60, 840, 60),
        )

    # -- operations and what they keep out --------------------------------------------------------------------

    def operations(self) -> tuple[list[Job], Mapping[str, list[tuple[Span, tuple[Stretch, ...]]]]]:
        """Fixed operations keep spaces shut or empty of people; movable ones wait for somewhere to go."""
        jobs: list[Job] = []
        kept_out: dict[str, list[tuple[Span, tuple[Stretch, ...]]]] = defaultdict(list)
        for i in range(1, OPERATIONS + 1):
            movable = i <= MOVABLE
            held = self.random.sample(self.crew.ratings[3:], 4) if movable and i % 3 == 0 else []
            length = self.random.randrange(2, 5 if held else 9) * HOUR
            earliest = self.random.randrange(0, self.steps - 30 * HOUR)
            latest = earliest + (self.random.randrange(12, 30) * HOUR - length if movable else 0)
            needs = (Need(phase=Phase.RUN, duty=DutyKind.RIGGING, count=1, people=tuple(sorted(held))),) if held else ()
            jobs.append(
                Job(operation=f"X{i:02d}", movable=movable, earliest=earliest, latest=latest, steps=length, needs=needs)
            )
            if not movable:
                stretches = OPEN if self.random.random() < 0.3 else SESSION
                for space in self._some_spaces():
                    kept_out[space].append(((earliest, earliest + length), stretches))
        return jobs, kept_out

    def _some_spaces(self) -> list[str]:
        return [space for space in self.spaces if self.random.random() < 0.2]

    def apart_from_operations(self, tasks: Iterable[Task], jobs: Iterable[Job]) -> list[Apart]:
        """A movable operation keeps clear of the entries of some spaces, half of them with two hours to shut."""
        found = []
        for job in (j for j in jobs if j.movable):
            spaces = set(self._some_spaces())
            gap = self.random.choice((0, 2 * HOUR))
            stretches = OPEN if self.random.random() < 0.5 else SESSION
            found += [
                Apart(
                    a=task.entry, a_stretch=stretch, b=job.operation, b_stretch=Stretch.RUN, span=None,
                    before=gap, after=0,
                )
                for task in tasks
                if task.space in spaces
                for stretch in stretches
            ]  # fmt: skip
        return found

    def one_after_another(self, tasks: list[Task]) -> list[Order]:
        """Of ten entries one waits for another."""
        found = []
        for first, then in zip(tasks[::10], tasks[1::10], strict=True):
            found.append(Order(first=first.entry, then=then.entry, gap=0, either="", branch=0, presence=True))
        return found

    # -- entries ----------------------------------------------------------------------------------------------

    def entry(
        self, index: int, kept_out: Mapping[str, list[tuple[Span, tuple[Stretch, ...]]]], foul: list[int]
    ) -> Task:
        """One entry: a fifth of them so long that it takes two sessions or more."""
        space = self.random.choice(self.spaces) if index >= SPACES else self.spaces[index]
        priority = self.random.choices((1, 2, 3), (2, 4, 4))[0]
        long = self.random.random() < 0.2
        inside = self.random.randrange(18, 29) if long else self.random.randrange(4, 13)
        window = self.random.randrange(2, 5) * DAY
        earliest = self.random.randrange(0, max(1, self.steps - window))
        fans_h = self.random.randrange(4, 13)
        return Task(
            entry=f"E{index + 1:03d}",
            space=space,
            priority=priority,
            brief=1,
            isolate=self.random.randrange(3, 7),
            test=self.random.randrange(1, 4),
            restore=self.random.randrange(2, 7),
            inside=inside,
            least=4,
            greatest=16,
            most=4 if long else 1,
            proving=0,
            tail_ventilate=0,
            tail_test=0,
            valid=2,
            open_longest=3 * DAY,
            permit=8 * HOUR,
            earliest=earliest,
            due=min(self.steps, earliest + window),
            at=None,
            ways=tuple(Way(fans=(("fan", n),), steps=fans_h * HOUR // n) for n in (1, 2)),
            blocked=self._blocked(kept_out.get(space, [])),
            caps=self._caps(priority, foul),
            needs=self.needs(),
            gear=tuple((Stretch.SESSION, name, 1) for name in ("instrument", "manned")),
        )

    def _blocked(self, given: list[tuple[Span, tuple[Stretch, ...]]]) -> dict[Stretch, tuple[Span, ...]]:
        """What operations block, and more (weather, cargo, port calls) until the wanted share is reached."""
        wanted = round(self.random.uniform(BLOCKED_LEAST + 0.005, BLOCKED_MOST - 0.005) * self.steps)
        spans: dict[Stretch, list[Span]] = defaultdict(list)
        shut: set[int] = set()
        for span, stretches in given:
            if len(shut | set(range(*span))) <= wanted:
                _block(spans, shut, span, stretches)
        while len(shut) < wanted:
            start, length = self.random.randrange(self.steps), self.random.randrange(2, 13) * HOUR
            end = min(self.steps, start + length)
            while len(shut | set(range(start, end))) > wanted:
                end -= 1
            span = (start, end)
            _block(spans, shut, span, OPEN if self.random.random() < 0.2 else SESSION)
        return {stretch: disjoint(found) for stretch, found in sorted(spans.items())}

    def needs(self) -> tuple[Need, ...]:
        """What every entry asks: the officers lead and test, two ratings can test, all others do the rest."""
        officers, ratings = self.crew.officers, self.crew.ratings
        testers, people = (*officers, *ratings[3:5]), self.crew.people
        return (
            Need(phase=Phase.ISOLATE, duty=DutyKind.IN_CHARGE, count=1, people=officers),
            Need(phase=Phase.ISOLATE, duty=DutyKind.RIGGING, count=1, people=ratings),
            Need(phase=Phase.VENTILATE, duty=DutyKind.RIGGING, count=2, people=ratings, steps=2),
            Need(phase=Phase.TEST, duty=DutyKind.IN_CHARGE, count=1, people=officers),
            Need(phase=Phase.TEST, duty=DutyKind.GAS_TESTER, count=1, people=testers, may_double=True),
            Need(phase=Phase.ENTER, duty=DutyKind.ENTRANT, count=2, people=ratings),
            Need(phase=Phase.ENTER, duty=DutyKind.ATTENDANT, count=1, people=people),
            Need(phase=Phase.ENTER, duty=DutyKind.IN_CHARGE, count=1, people=officers),
            Need(phase=Phase.ENTER, duty=DutyKind.ON_CALL, count=2, people=people, work=False),
            Need(phase=Phase.RESTORE, duty=DutyKind.IN_CHARGE, count=1, people=officers),
            Need(phase=Phase.RESTORE, duty=DutyKind.RIGGING, count=2, people=ratings),
        )

    # -- the passage ------------------------------------------------------------------------------------------

    def foul_hours(self) -> list[int]:
        """Two spells of a day and a half in which a ship that is not eased rolls too much for anybody inside."""
        found: set[int] = set()
        for _ in range(2):
            start = self.random.randrange(0, self.days * 24 - 36)
            found |= set(range(start, start + 36))
        return sorted(found)

    def _caps(self, priority: int, foul: list[int]) -> tuple[Cap, ...]:
        """A third of the musts and shoulds ask for an eased ship in the foul hours."""
        limit = self.random.choice((6.0, 9.0))
        if self.random.random() >= 1 / 3 or priority == 3:
            return ()
        return tuple(Cap(stretch=Stretch.ENTER, hour=h, limit_kn=limit, hove_to_only=False) for h in foul)

    def passages(self) -> tuple[Passage, ...]:
        """Under way all week, with an hour to spare at the end."""
        hours = self.days * 24
        return (
            Passage(
                leg="L1",
                hours=tuple(Hour(leg="L1", hour=h, span_min=(h * 60, h * 60 + 60)) for h in range(hours)),
                start_min=0, planned_min=hours * 60, behind_nm=0.0, distance_nm=12.0 * hours, planned_kn=12.0,
                greatest_kn=12.5, least_kn=4.0, arrive_by_min=hours * 60 + 60, latest_min=hours * 60 + 240,
                may_heave_to=False, barred=(),
            ),
        )  # fmt: skip

    # -- people -----------------------------------------------------------------------------------------------

    def on_watch(self, *, early: int) -> dict[str, tuple[Span, ...]]:
        """Steps of each watchkeeper's watches, `early` steps before them included."""
        return {
            person: tuple(
                (max(0, d * DAY + h * HOUR - early), d * DAY + (h + 4) * HOUR)
                for d in range(self.days)
                for h in self.crew.watches[person]
            )
            for person in sorted(self.crew.watches)
        }

    def work(self, person: str, first_day: int) -> tuple[Span, ...]:
        """Minutes of watches or day work from a day on."""
        if person in self.crew.watches:
            hours = self.crew.watches[person]
            return tuple(
                (d * 1440 + h * 60, d * 1440 + h * 60 + 240) for d in range(first_day, self.days) for h in hours
            )
        return self.day_work(person, first_day)

    def day_work(self, person: str, first_day: int) -> tuple[Span, ...]:
        """Minutes of day work, 08–12 and 13–17; a watchkeeper has none."""
        if person in self.crew.watches:
            return ()
        return tuple(
            (d * 1440 + a, d * 1440 + b) for d in range(first_day, self.days) for a, b in ((480, 720), (780, 1020))
        )


def _block(
    spans: dict[Stretch, list[Span]], shut: set[int], span: Span, stretches: Iterable[Stretch]
) -> None:  # fmt: skip
    shut |= set(range(*span))
    for stretch in stretches:
        spans[stretch].append(span)


def _same_space(tasks: list[Task]) -> list[Apart]:
    """Two entries of one space are never open at once."""
    whole = Stretch.OUT_OF_USE
    return [
        Apart(a=a.entry, a_stretch=whole, b=b.entry, b_stretch=whole, span=None, before=0, after=0)
        for i, a in enumerate(tasks)
        for b in tasks[i + 1 :]
        if a.space == b.space
    ]


def _within_hours(task: Task, days: int) -> Task:
    """The same entry kept to working hours, unless it is a must."""
    if task.priority == 1:
        return task
    nights = tuple(
        (d * DAY + a * HOUR, d * DAY + b * HOUR) for d in range(days) for a, b in ((0, 8), (12, 13), (18, 24))
    )
    staffed = (Stretch.BRIEF, Stretch.ISOLATE, Stretch.TEST, Stretch.ENTER)
    return replace(
        task, blocked={**task.blocked, **{s: disjoint([*task.blocked.get(s, ()), *nights]) for s in staffed}}
    )


def disjoint(spans: Iterable[Span]) -> tuple[Span, ...]:
    """The union of spans, ascending."""
    found: list[Span] = []
    for a, b in sorted(spans):
        if found and a <= found[-1][1]:
            found[-1] = (found[-1][0], max(b, found[-1][1]))
        else:
            found.append((a, b))
    return tuple(found)


def blocked_share(task: Task, steps: int) -> float:
    """The part of the week in which something keeps people out of an entry's space."""
    shut = {step for spans in task.blocked.values() for a, b in spans for step in range(a, b)}
    return len(shut) / steps


def described(problem: Problem) -> str:
    """What makes a week hard, in one line."""
    shares = sorted(blocked_share(task, problem.steps) for task in problem.tasks)
    movable = sum(job.movable for job in problem.jobs)
    return (
        f"{len(problem.tasks)} entries, {problem.steps * problem.step_min // 1440} days, {len(problem.people)} people, "
        f"{len(problem.jobs)} operations ({movable} movable), {len(problem.aparts)} pairs apart, "
        f"{shares[0]:.0%} to {shares[-1]:.0%} of the week blocked"
    )
