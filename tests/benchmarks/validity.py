"""Is a named week allowed? Read from the problem's words, step by step, with nothing of the solver or the rest room.

Slow and plain: each thing is counted in every step of the week, rest minute by minute of the grid.
"""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterator, Mapping, Sequence
from itertools import combinations, pairwise
from math import gcd

from scheduler.domain.restrictions import DutyKind, Phase
from scheduler.solve.outcome import Named, Placed, Timed
from scheduler.solve.problem import Need, Problem, Span, Stretch, Task

TAIL = -1
People = Mapping[tuple[str, Phase, int], tuple[Named, ...]]


def faults(problem: Problem, timed: Timed, people: People, short: Mapping[str, int] | None = None) -> list[str]:
    """Every way in which the plan is not allowed; none: it is. `short`: people that fixed operations may lack."""
    return [
        *faults_of_times(problem, timed),
        *_people_lack(problem, timed, people, short or {}),
        *_people_clash(problem, timed, people),
        *_rest_broken(problem, timed, people),
    ]


def faults_of_times(problem: Problem, timed: Timed) -> list[str]:
    """The same without people."""
    tasks = {task.entry: task for task in problem.tasks}
    found: list[str] = []
    for name, placed in sorted(timed.entries.items()):
        found += faults_of_entry(problem, tasks[name], placed)
    return [
        *found,
        *_operations(problem, timed),
        *_apart(problem, timed),
        *out_of_order(problem, timed),
        *_stocks(problem, timed),
        *_speed(problem, timed),
    ]


def faults_of_entry(problem: Problem, task: Task, placed: Placed) -> list[str]:
    """What is wrong with the times of one entry, all others being out of the way."""
    return [*_steps_of(problem, task, placed), *_blocked(task, placed)]


def spans_of(task: Task, placed: Placed, stretch: Stretch) -> list[Span]:
    """When a placed entry is in a stretch, in steps."""
    tails = [(placed.closing - task.tail_test, placed.closing)] if task.tail_test else []
    match stretch:
        case Stretch.BRIEF:
            ends = [placed.start, *(s.test for s in placed.sessions)]
            return [(end - task.brief, end) for end in ends]
        case Stretch.ISOLATE:
            return [(placed.start, placed.start + task.isolate)]
        case Stretch.VENTILATE:
            return [(placed.opened, placed.sessions[0].test - task.brief)]
        case Stretch.TEST:
            return [*((s.test, s.test + task.test) for s in placed.sessions), *tails]
        case Stretch.ENTER:
            return [(s.enter, s.out) for s in placed.sessions]
        case Stretch.SESSION:
            return [*((s.test, s.out) for s in placed.sessions), *tails]
        case Stretch.RESTORE:
            return [(placed.end - task.restore, placed.end)]
        case Stretch.OPEN:
            return [(placed.opened, placed.end)]
        case Stretch.OUT_OF_USE:
            return [(placed.start, placed.end)]
        case _:
            return []


def meet(a: Span, b: Span) -> bool:
    """True when two half-open spans share a step."""
    return max(a[0], b[0]) < min(a[1], b[1])


# -- times ------------------------------------------------------------------------------------------------------


def _steps_of(problem: Problem, task: Task, placed: Placed) -> Iterator[str]:
    name, first, last = task.entry, placed.sessions[0], placed.sessions[-1]
    way = task.ways[placed.way]
    tail = task.tail_ventilate + task.tail_test if task.tail_test else 0
    held = {
        "brief lies in the week": placed.start >= task.brief,
        "not before its time": placed.start >= task.earliest,
        "isolate has its length": placed.opened == placed.start + task.isolate,
        "the fans are those of the way": placed.fans == way.fans,
        "ventilated for long enough": first.test - task.brief - placed.opened >= way.steps,
        "pinned": task.at is None or first.enter == task.at,
        "out by the due time": last.out <= task.due,
        "tail": placed.closing >= last.out + tail and (tail > 0 or placed.closing == last.out),
        "restore has its length": placed.end == placed.closing + task.restore,
        "ends in the week": placed.end <= problem.steps,
        "not open for too long": placed.end - placed.opened <= task.open_longest,
        "sessions": 1 <= len(placed.sessions) <= task.most,
        "hours inside": sum(s.out - s.enter for s in placed.sessions) == task.inside,
        "first session beyond proving": len(placed.sessions) == 1 or first.out - first.enter > task.proving,
    }
    yield from (f"{name}: not so: {what}" for what, so in held.items() if not so)
    for session in placed.sessions:
        if not session.test + task.test <= session.enter <= session.test + task.test + task.valid:
            yield f"{name}: the test is not fresh"
        if task.most > 1 and session.out - session.enter > task.greatest:
            yield f"{name}: a session is too long"
        if session is not last and session.out - session.enter < task.least:
            yield f"{name}: a session is too short"
    for early, late in pairwise(placed.sessions):
        if late.test - task.brief < early.out:
            yield f"{name}: a briefing begins before the session before it is over"
    yield from _permits(problem, task, placed)


def _permits(problem: Problem, task: Task, placed: Placed) -> Iterator[str]:
    for dawn, dusk in problem.days:
        today = [s for s in placed.sessions if dawn <= s.test < dusk]
        if today and today[-1].out - today[0].test > task.permit:
            yield f"{task.entry}: one permit is not enough for a day"


def _blocked(task: Task, placed: Placed) -> Iterator[str]:
    for stretch, walls in task.blocked.items():
        for span in spans_of(task, placed, stretch):
            if any(meet(span, wall) for wall in walls):
                yield f"{task.entry}: {stretch} {span} meets what is kept clear"


def _operations(problem: Problem, timed: Timed) -> Iterator[str]:
    for job in problem.jobs:
        start = timed.operations[job.operation]
        if not job.earliest <= start <= job.latest:
            yield f"{job.operation}: outside its window"
        again = next((j for j in problem.jobs if j.operation == job.emptied_until), None)
        may_move = again is not None and (job.movable or again.movable)
        if again is not None and may_move and timed.operations[again.operation] < start + job.steps:
            yield f"{again.operation}: presses up what {job.operation} has not emptied yet"
        for span in operation_spans(problem, timed, job.operation, Stretch.RUN) if job.movable else []:
            if any(meet(span, wall) for wall in job.blocked.get(Stretch.RUN, ())):
                yield f"{job.operation}: {span} meets what is kept clear"


def operation_spans(problem: Problem, timed: Timed, name: str, stretch: Stretch) -> list[Span]:
    """When an operation runs, or how long it leaves spaces empty."""
    job = next(j for j in problem.jobs if j.operation == name)
    start = timed.operations[name]
    if stretch is Stretch.RUN:
        return [(start, start + job.steps)]
    until = problem.steps
    if job.emptied_until is not None:
        again = next(j for j in problem.jobs if j.operation == job.emptied_until)
        until = timed.operations[again.operation] + again.steps
    return [(start, until)]


def _whenever(problem: Problem, timed: Timed, name: str, stretch: Stretch) -> list[Span]:
    task = next((t for t in problem.tasks if t.entry == name), None)
    if task is None:
        return operation_spans(problem, timed, name, stretch)
    placed = timed.entries.get(name)
    return spans_of(task, placed, stretch) if placed else []


def _apart(problem: Problem, timed: Timed) -> Iterator[str]:
    for apart in problem.aparts:
        for a in _whenever(problem, timed, apart.a, apart.a_stretch):
            for b in _whenever(problem, timed, apart.b, apart.b_stretch):
                part = b if apart.span is None else (max(b[0], apart.span[0]), min(b[1], apart.span[1]))
                if part[0] < part[1] and meet(a, (part[0] - apart.before, part[1] + apart.after)):
                    yield f"{apart.a} {apart.a_stretch} {a} is not apart from {apart.b} {apart.b_stretch} {b}"


def out_of_order(problem: Problem, timed: Timed) -> Iterator[str]:
    """What stands before what it waits for, or without it."""
    branches: dict[str, dict[int, bool]] = defaultdict(dict)
    for order in problem.orders:
        first = _whenever(problem, timed, order.first, _all_of(problem, order.first))
        then = _whenever(problem, timed, order.then, _all_of(problem, order.then))
        if order.presence and then and not first:
            yield f"{order.then} stands without {order.first}"
        kept = not first or not then or first[0][1] + order.gap <= then[0][0]
        if order.either:
            before = branches[order.either].get(order.branch, True)
            branches[order.either][order.branch] = before and kept
        elif not kept:
            yield f"{order.then} begins before {order.first} is over"
    for either, choices in branches.items():
        if not any(choices.values()):
            yield f"{either}: no branch is kept"


def _all_of(problem: Problem, name: str) -> Stretch:
    return Stretch.OUT_OF_USE if any(t.entry == name for t in problem.tasks) else Stretch.RUN


def _stocks(problem: Problem, timed: Timed) -> Iterator[str]:
    used: dict[str, Counter[int]] = defaultdict(Counter)
    for name, placed in timed.entries.items():
        task = next(t for t in problem.tasks if t.entry == name)
        for stretch, resource, count in task.gear:
            for a, b in spans_of(task, placed, stretch):
                used[resource].update(dict.fromkeys(range(a, b), count))
        for fan, count in placed.fans:
            used[fan].update(dict.fromkeys(range(placed.opened, placed.closing), count))
    for resource, steps in sorted(used.items()):
        for step, count in sorted(steps.items()):
            there = sum(n for (a, b), n in problem.stocks.get(resource, ()) if a <= step < b)
            if count > there:
                yield f"{resource}: {count} of {there} in step {step}"
                break


# -- speed ------------------------------------------------------------------------------------------------------


def _speed(problem: Problem, timed: Timed) -> Iterator[str]:
    eased = {hour: limit for hours in timed.eased.values() for hour, limit in hours.items()}
    for name, placed in timed.entries.items():
        task = next(t for t in problem.tasks if t.entry == name)
        for cap in task.caps:
            touched = any(meet(span, problem.hour_spans[cap.hour]) for span in spans_of(task, placed, cap.stretch))
            if touched and _may_be_late_in(problem, cap.hour):
                yield f"{name}: a late ship may be under way in hour {cap.hour}"
            if not touched or not any(h.hour == cap.hour for p in problem.passages for h in p.hours):
                continue
            kept = eased.get(cap.hour)
            if kept is None or kept > (0 if cap.hove_to_only else cap.limit_kn):
                yield f"{name}: the ship is too fast in hour {cap.hour}"
    for hour in eased:
        if sum(hour <= h < hour + 168 for h in eased) > problem.easing_max:
            yield f"more hours of easing than {problem.easing_max}"
            break
    for passage in problem.passages:
        arrival = arrival_min(problem, timed.eased.get(passage.leg, {}), passage.leg)
        if arrival is None or arrival > passage.latest_min:
            yield f"{passage.leg}: not there in time, or at a speed she may not keep"


def _may_be_late_in(problem: Problem, hour: int) -> bool:
    """True in an hour after the planned arrival by which the ship may still not be there."""
    minutes = (problem.hour_spans[hour][0] * problem.step_min, problem.hour_spans[hour][1] * problem.step_min)
    return any(meet(minutes, (p.planned_min, p.latest_min)) for p in problem.passages)


def arrival_min(problem: Problem, eased: Mapping[int, float], leg: str) -> int | None:
    """The minute of arrival with hours eased to limits (0: hove to), all else at the best speed; None: not allowed."""
    passage = next(p for p in problem.passages if p.leg == leg)
    behind = passage.behind_nm
    for hour in passage.hours:
        length_h = (hour.span_min[1] - hour.span_min[0]) / 60
        limit = eased.get(hour.hour)
        speed = 0.0
        if limit is None:
            behind = max(0.0, behind - (passage.greatest_kn - passage.planned_kn) * length_h)
            continue
        if limit > 0:
            kept = passage.eased_kn(limit)
            if kept is None:
                return None
            speed = kept
        elif not passage.may_heave_to:
            return None
        behind += (passage.planned_kn - speed) * length_h
    more_min = behind / passage.greatest_kn * 60
    return passage.planned_min + int(more_min + 0.999)


# -- people -----------------------------------------------------------------------------------------------------


def _sessions(task: Task, placed: Placed, need: Need) -> list[int]:
    if need.phase is Phase.TEST:
        return [*range(1, len(placed.sessions) + 1), *([TAIL] if task.tail_test else [])]
    if need.phase is Phase.ENTER:
        return [1] if need.session == 1 else list(range(1, len(placed.sessions) + 1))
    return [0]


def _people_lack(problem: Problem, timed: Timed, people: People, short: Mapping[str, int]) -> Iterator[str]:
    for task in problem.tasks:
        placed = timed.entries.get(task.entry)
        if placed is None:
            continue
        for need in task.needs:
            for session in _sessions(task, placed, need):
                there = people.get((task.entry, need.phase, session), ())
                named = {p for p, duty in there if duty is need.duty and p in need.people}
                doubles = {p for p, duty in there if duty is DutyKind.IN_CHARGE and p in need.people}
                count = len(named | doubles) if need.may_double else len(named)
                if count < need.count:
                    yield f"{task.entry}: {need.phase} {session} lacks {need.duty}"
        yield from _led_by_one(task, placed, people)
        yield from _briefed(task, placed, people)
    for job in problem.jobs:
        needed = sum(need.count for need in job.needs)
        given = len(people.get((job.operation, Phase.RUN, 0), ()))
        inside = meet(
            (timed.operations[job.operation], timed.operations[job.operation] + job.steps), (0, problem.steps)
        )
        if inside and given + (0 if job.movable else short.get(job.operation, 0)) < needed:
            yield f"{job.operation}: lacks people"


def _led_by_one(task: Task, placed: Placed, people: People) -> Iterator[str]:
    for k in range(1, len(placed.sessions) + 1):
        test, inside = (
            {p for p, duty in people.get((task.entry, phase, k), ()) if duty is DutyKind.IN_CHARGE}
            for phase in (Phase.TEST, Phase.ENTER)
        )
        if test != inside:
            yield f"{task.entry}: session {k} is not led by who led its test"


def _briefed(task: Task, placed: Placed, people: People) -> Iterator[str]:
    last = len(placed.sessions)
    for (name, phase, session), there in people.items():
        if name != task.entry or phase is Phase.BRIEF:
            continue
        k = session if session > 0 else last if phase in (Phase.RESTORE, Phase.TEST) else 0
        heard = {p for p, _ in people.get((name, Phase.BRIEF, k), ())}
        for person in {p for p, _ in there} - heard:
            yield f"{name}: {person} of {phase} {session} was not briefed"


Part = tuple[Span, str, Phase, DutyKind, bool]
"""When, of what, in which phase, as what, and whether it is work."""


def parts_of(problem: Problem, timed: Timed, people: People) -> dict[str, list[Part]]:
    """What each person does."""
    found: dict[str, list[Part]] = defaultdict(list)
    tasks = {task.entry: task for task in problem.tasks}
    for (name, phase, session), there in sorted(people.items()):
        for person, duty in there:
            if phase is Phase.RUN:
                (span,) = operation_spans(problem, timed, name, Stretch.RUN)
                found[person].append(((max(0, span[0]), min(problem.steps, span[1])), name, phase, duty, True))
                continue
            span = _span(tasks[name], timed.entries[name], phase, session, duty)
            found[person].append((span, name, phase, duty, duty is not DutyKind.ON_CALL or phase is Phase.BRIEF))
    return found


def _span(task: Task, placed: Placed, phase: Phase, session: int, duty: DutyKind) -> Span:
    if phase is Phase.VENTILATE:
        need = next(n for n in task.needs if n.phase is phase and n.duty is duty)
        return placed.opened, placed.opened + need.steps if need.steps else placed.sessions[0].test - task.brief
    if phase is Phase.TEST and session == TAIL:
        return placed.closing - task.tail_test, placed.closing
    index = session if phase is Phase.BRIEF else max(0, session - 1)
    return spans_of(task, placed, Stretch(phase.value))[index]


def _people_clash(problem: Problem, timed: Timed, people: People) -> Iterator[str]:
    for person, parts in sorted(parts_of(problem, timed, people).items()):
        yield from clashes(problem, person, parts)


def clashes(problem: Problem, person: str, parts: Sequence[Part]) -> Iterator[str]:
    """What one person cannot do: be in two places, be where he is away, go in too often."""
    for one, other in combinations(parts, 2):
        if meet(one[0], other[0]) and not _may_go_together(one, other):
            yield f"{person}: {one[1]} {one[2]} as {one[3]} and {other[1]} {other[2]} as {other[3]} at once"
    for span, name, phase, _duty, work in parts:
        if any(meet(span, away) for away in _absent(problem, person, phase, work)):
            yield f"{person}: away in {name} {phase} {span}"
    for dawn, dusk in problem.days:
        inside = [p for p in parts if p[2] is Phase.ENTER and p[4] and dawn <= p[0][0] < dusk]
        if len(inside) > problem.sessions_a_day:
            yield f"{person}: {len(inside)} sessions in a day"


def _may_go_together(one: Part, other: Part) -> bool:
    """The officer in charge may be his own gas tester; one on call may prepare another entry."""
    same = one[1] == other[1] and one[2] is other[2] is Phase.TEST
    if same:
        return True
    if one[4] and other[4]:
        return False
    return any(p[4] and p[3] is DutyKind.RIGGING and p[2] not in (Phase.RUN, Phase.BRIEF) for p in (one, other))


def _absent(problem: Problem, person: str, phase: Phase, work: bool) -> tuple[Span, ...]:
    if phase is Phase.RUN:
        return problem.away_operation.get(person, ())
    if not work:
        return problem.away_on_call.get(person, ())
    return (problem.away_enter if phase is Phase.ENTER else problem.away).get(person, ())


# -- rest -------------------------------------------------------------------------------------------------------


def _rest_broken(problem: Problem, timed: Timed, people: People) -> Iterator[str]:
    for person, parts in sorted(parts_of(problem, timed, people).items()):
        yield from tired(problem, person, parts)


def tired(problem: Problem, person: str, parts: Sequence[Part]) -> Iterator[str]:
    """What one person's parts leave of his rest, with and without being on call as work: one fault at most."""
    step = problem.step_min
    for on_call in (False, True):
        given = [(p[0][0] * step, p[0][1] * step) for p in parts if p[4] or on_call]
        broken = rest_broken(problem, person, given)
        if broken:
            yield f"{person}: {broken}{' with on call as work' if on_call else ''}"
            return


def rest_broken(problem: Problem, person: str, given: list[Span]) -> str:
    """The first window of a person's hours that is not allowed and in which something of `given` lies; '' for none.

    Counted in the longest unit that measures all of the person's hours; breaks under the least rest are work.
    """
    day_min, long_min, week_min, span_min, least_min = problem.rest_limits
    known = problem.known_from_min.get(person)
    fixed = problem.work_min.get(person, ())
    edges = [known or 0, problem.steps * problem.step_min, 1440, *(at for span in (*fixed, *given) for at in span)]
    unit = gcd(*edges)
    begin, end = (0 if known is None else known) // unit, problem.steps * problem.step_min // unit
    works, mine = bytearray(end - begin), bytearray(end - begin)
    for spans, marks in (((*fixed, *given), works), (given, mine)):
        for a, b in spans:
            for at in range(max(a // unit, begin), min(-(-b // unit), end)):
                marks[at - begin] = 1
    rests = [r for r in _runs(works, 0) if (r[1] - r[0]) * unit >= least_min]
    rested = [0] * (len(works) + 1)
    for a, b in rests:
        for at in range(a, b):
            rested[at + 1] = 1
    for at in range(len(works)):
        rested[at + 1] += rested[at]
    for length, least, name in ((1440, day_min, "24 h"), (10080, week_min, "seven days")):
        for a in range(max(0, -begin - length // unit + 1), len(works) - length // unit + 1):
            b = a + length // unit
            if (rested[b] - rested[a]) * unit < least and any(mine[a:b]):
                return f"{(rested[b] - rested[a]) * unit} min of rest in {name} from minute {(a + begin) * unit}"
    for (_, a), (b, _) in pairwise([(0, 0), *rests, (len(works), len(works))]):
        if a < b and any(works[a:b]):
            said = _block(works, mine, rests, (a, b), begin, unit, (day_min, long_min, span_min))
            if said:
                return said
    return ""


def _block(
    works: bytearray,
    mine: bytearray,
    rests: list[Span],
    block: Span,
    begin: int,
    unit: int,
    limits: tuple[int, int, int],
) -> str:
    """What is wrong with a block of work and the 24 h that begin with it."""
    day_min, long_min, span_min = limits
    a = next(at for at in range(*block) if works[at])
    b = next(at for at in range(block[1] - 1, block[0] - 1, -1) if works[at]) + 1
    if (b - a) * unit > span_min and b + begin > 0 and any(mine[a:b]):
        return f"{(b - a) * unit} min of work in one piece"
    until = a + 1440 // unit
    if until > len(works) or until + begin <= 0 or not any(mine[a:until]):
        return ""
    longest = sorted((min(y, until) - max(x, a) for x, y in rests if meet((x, y), (a, until))), reverse=True)
    if sum(longest[:2]) * unit < day_min or max(longest, default=0) * unit < long_min:
        return f"rests of {[n * unit for n in longest[:2]]} min in the day from minute {(a + begin) * unit}"
    return ""


def _runs(marks: bytearray, value: int) -> list[Span]:
    edges = [0, *(i for i in range(1, len(marks)) if marks[i] != marks[i - 1]), len(marks)]
    return [(a, b) for a, b in pairwise(edges) if a < b and marks[a] == value]
