"""What the plan says beside its entries: counts, rest, readiness, permissions, cautions, standing."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Sequence
from datetime import datetime
from importlib.metadata import version

from scheduler.domain.folder import VoyageFolder
from scheduler.domain.operations import pressed_up_by
from scheduler.domain.plan import (
    AskFor,
    Attends,
    Counts,
    EmptySet,
    EntryCounts,
    Inputs,
    Level,
    OperationCounts,
    Override,
    Plan,
    PlannedEntry,
    PlannedOperation,
    Proof,
    Ready,
    RestRow,
    Rows,
    Warned,
)
from scheduler.domain.policy import KEY_BY_NAME
from scheduler.domain.restrictions import (
    Ask,
    Caution,
    KeepApart,
    KeepClear,
    KeepOrder,
    Phase,
    Refusal,
    Restriction,
    SpeedLimit,
)
from scheduler.solve.assemble import Assembling
from scheduler.solve.outcome import Outcome
from scheduler.solve.problem import Span
from scheduler.solve.resting import figures
from scheduler.times import HOUR, minutes_between

CUT_SHORT = "cut short: another run may differ"
_NEXT = ("stations", "pilotage", "canal", "restricted waters", "load", "discharge", "transfer", "slops")


def plan_of(assembling: Assembling, restrictions: Sequence[Restriction], seed: int) -> Plan:
    """The whole answer of one week."""
    folder, outcome = assembling.folder, assembling.outcome
    entries, operations = assembling.entries(), assembling.operations()
    issued = max((row.issued for row in folder.weather), default=None)
    longest = HOUR * folder.policy.number("weather.longest_age_h")
    valid = min(folder.week.end, issued + longest) if issued else folder.week.start
    return Plan(
        ship=folder.ship.name,
        week_start=folder.week.start,
        week_end=folder.week.end,
        known_at=known_at(folder),
        policy={name: said(value) for name, value in folder.policy.in_force().items()},
        overrides=overrides(folder),
        valid_until=valid,
        inputs=Inputs(
            digest=folder.digest,
            forecast_digest=folder.forecast_digest,
            forecast_issued=issued,
            rule_set=folder.policy.word("limits.rule_set"),
        ),
        standing=standing(outcome),
        proof=proof(outcome, seed),
        entries=entries,
        operations=operations,
        speeds=assembling.speeds(),
        arrivals=assembling.arrivals(),
        keep_clear=tuple(r for r in restrictions if isinstance(r, KeepClear)),
        keep_apart=tuple(r for r in restrictions if isinstance(r, KeepApart)),
        keep_order=tuple(r for r in restrictions if isinstance(r, KeepOrder)),
        speed_limits=tuple(r for r in restrictions if isinstance(r, SpeedLimit)),
        rest=tuple(rest_rows(assembling, entries, operations)),
        counts=counts(folder, entries, operations),
        conditions=tuple(empty_sets(folder, operations)),
        permissions=tuple(permissions(restrictions, entries, operations)),
        visitors=tuple(visitors(folder, entries)),
        ready=tuple(ready(folder, entries, operations)),
        cautions=tuple(cautions(folder, restrictions, outcome, entries)),
    )


def said(value: object) -> str:
    """A policy value as text."""
    if isinstance(value, float):
        return f"{value:g}"
    if isinstance(value, tuple):
        return "; ".join("–".join(v) if isinstance(v, tuple) else str(v) for v in value)
    return str(value)


def known_at(folder: VoyageFolder) -> datetime:
    """The newest instant that the inputs speak of: no clock reading stands in a plan."""
    spoken: list[datetime | None] = [row.issued for row in folder.weather]
    spoken += [row.time for row in folder.readings]
    spoken += [row.time for row in folder.progress]
    spoken += [row.asked_at for row in folder.permissions]
    spoken += [row.checked_at for row in folder.conditions]
    spoken += [folder.week.posted_at]
    return max((at for at in spoken if at is not None), default=folder.week.start)


def overrides(folder: VoyageFolder) -> tuple[Override, ...]:
    """Policy values that the folder changes."""
    return tuple(
        Override(
            key=key,
            value=said(value),
            published=said(KEY_BY_NAME[key].default),
            source=str(KEY_BY_NAME[key].source),
        )
        for key, value in sorted(folder.policy.overrides.items())
        if value != KEY_BY_NAME[key].default
    )


def standing(outcome: Outcome) -> str:
    """What can be vouched for, in our words."""
    binding = [level for level in outcome.levels if level.name != "comfort"]
    if not all(level.met for level in binding) or outcome.cut:
        return "best found"
    return "proven best" if outcome.confirmed else "best by one run"


def proof(outcome: Outcome, seed: int) -> Proof:
    """The levels with their bounds."""
    confirmed = "a second solve with another seed and without presolve agrees" if outcome.confirmed else ""
    if outcome.cut:
        confirmed = CUT_SHORT
    return Proof(
        levels=tuple(Level(name=x.name, value=x.value, bound=x.bound, met=x.met) for x in outcome.levels),
        confirmed_by=confirmed,
        effort=outcome.effort,
        solver=f"ortools {version('ortools')} CP-SAT",
        seed=seed,
    )


def counts(folder: VoyageFolder, entries: Sequence[PlannedEntry], operations: Sequence[PlannedOperation]) -> Counts:
    """What was asked and what stands."""
    by_outcome: dict[str, int] = defaultdict(int)
    for entry in entries:
        by_outcome[entry.outcome] += 1
    return Counts(
        entries=EntryCounts(
            asked=len(folder.entries),
            planned=by_outcome["planned"],
            left_out=by_outcome["left out"],
            broken_off=by_outcome["broken off"],
        ),
        operations=OperationCounts(asked=len(folder.operations), placed=len(operations)),
        rows={name: Rows(read=r.read, taken=r.taken, blank=r.blank) for name, r in folder.rows},
    )


def work_spans(
    folder: VoyageFolder, entries: Sequence[PlannedEntry], operations: Sequence[PlannedOperation]
) -> dict[str, list[Span]]:
    """Each person's entry and operation work in minutes from the week's start; on call is none."""
    opening = folder.policy.whole("phase.open_up_min")
    found: dict[str, list[Span]] = defaultdict(list)
    start = folder.week.start
    for entry in entries:
        for phase in entry.phases:
            a, b = minutes_between(start, phase.start), minutes_between(start, phase.end)
            b = min(b, a + opening) if phase.phase == Phase.VENTILATE else b
            for named in phase.people:
                if phase.phase == Phase.BRIEF or named.duty != "rescue on call":
                    found[named.person].append((a, b))
    for operation in operations:
        span = minutes_between(start, operation.start), minutes_between(start, operation.end)
        for named in operation.people:
            found[named.person].append(span)
    return found


def rest_rows(
    assembling: Assembling, entries: Sequence[PlannedEntry], operations: Sequence[PlannedOperation]
) -> Iterable[RestRow]:
    """Hours of rest of each person, all work counted."""
    folder, problem = assembling.folder, assembling.problem
    worked = work_spans(folder, entries, operations)
    for person in folder.people:
        end = problem.steps * problem.step_min
        spans = [(max(0, a), min(b, end)) for a, b in worked.get(person.person, ())]
        found = figures(problem, person.person, [s for s in spans if s[0] < s[1]])
        because = "; ".join(
            f"{b.clause.value}: {b.found_min / 60:.2f} h, limit {b.limit_min / 60:g} h" for b in found.breaches[:2]
        )
        unknown = not found.breaches and found.unknown_until_min is not None and found.unknown_until_min > end
        if unknown:
            because = "without the seven days before the week nobody can say"
        yield RestRow(
            person=person.person,
            least_24h=_hours(found.least_24h_min),
            least_7d=_hours(found.least_7d_min),
            longest_work_h=_hours(found.longest_work_min),
            verdict="broken" if found.breaches else "unknown" if unknown else "kept",
            because=because,
        )


def _hours(minutes: int | None) -> float | None:
    return None if minutes is None else round(minutes / 60, 2)


def empty_sets(folder: VoyageFolder, operations: Sequence[PlannedOperation]) -> Iterable[EmptySet]:
    """The stretches in which ballast spaces are empty, and the listed set that allows it."""
    placed = {o.operation: o for o in operations}
    for operation in folder.operations:
        if operation.kind != "ballast out":
            continue
        filling = pressed_up_by(operation, folder.operations)
        start = placed[operation.operation].start
        end = placed[filling.operation].end if filling else folder.week.end
        row = next((c for c in folder.conditions if c.start <= start < c.end), None)
        empty = frozenset(operation.spaces)
        listed = row is not None and empty in row.may_be_empty
        yield EmptySet(
            start=start,
            end=end,
            condition=row.condition if row else "",
            empty=tuple(sorted(empty)),
            set_used="+".join(sorted(empty)) if listed else "",
        )


def permissions(
    restrictions: Sequence[Restriction], entries: Sequence[PlannedEntry], operations: Sequence[PlannedOperation]
) -> Iterable[AskFor]:
    """What to ask of a place, and by when, for the entries and operations that stand there."""
    spans = {
        e.entry: [(p.start, p.end) for p in e.phases if p.phase in ("ventilate", "test", "enter", "restore")]
        for e in entries
    }
    spans |= {o.operation: [(o.start, o.end)] for o in operations}
    found: dict[tuple[str, str, str], datetime] = {}
    for ask in restrictions:
        if not isinstance(ask, Ask):
            continue
        here = [start for start, end in spans.get(ask.entry, ()) if start < ask.end and end > ask.start]
        if not here:
            continue
        by = max(min(here), ask.start) - HOUR * ask.notice_h
        key = (ask.place, ask.what, ask.answer)
        found[key] = min(by, found.get(key, by))
    for (place, what, answer), by in sorted(found.items()):
        yield AskFor(place=place, what=what, ask_by=by, answer=answer)


def visitors(folder: VoyageFolder, entries: Sequence[PlannedEntry]) -> Iterable[Attends]:
    """Which visitor attends which session: every session of an entry that needs him."""
    needs = {e.entry: e.needs for e in folder.entries}
    for entry in entries:
        for phase in entry.phases:
            if phase.phase == Phase.ENTER and phase.session:
                for visitor in needs[entry.entry]:
                    yield Attends(visitor=visitor, entry=entry.entry, session=phase.session)


def ready(
    folder: VoyageFolder, entries: Sequence[PlannedEntry], operations: Sequence[PlannedOperation]
) -> Iterable[Ready]:
    """When all is closed and the lines are back before what the ship does next, and what is to spare."""
    kinds = {o.operation: o.kind for o in folder.operations}
    ends = sorted(p.phases[-1].end for p in entries if p.phases)
    before = HOUR * folder.policy.number("closed_before_h")
    for operation in sorted(operations, key=lambda o: (o.start, o.operation)):
        if kinds[operation.operation] not in _NEXT or not folder.week.start <= operation.start < folder.week.end:
            continue
        # what is still open later than that is not bound by this operation, or the check would refuse the plan
        closed = max((end for end in ends if end <= operation.start - before), default=None)
        if closed is not None:
            yield Ready(
                what=operation.operation,
                all_closed_by=closed,
                lines_back_by=closed,
                margin_min=minutes_between(closed, operation.start - before),
            )


def cautions(
    folder: VoyageFolder, restrictions: Sequence[Restriction], outcome: Outcome, entries: Sequence[PlannedEntry]
) -> Iterable[Warned]:
    """All cautions, what kills first."""
    found = [(c.weight, Warned(text=c.text, table=c.table, row=c.row, entry=c.entry)) for c in _said(restrictions)]
    for name in folder.policy.looser():
        key = KEY_BY_NAME[name]
        value, usual = said(folder.policy.value(name)), said(key.default)
        text = f"policy {name} is {value}, looser than {usual} ({key.source}): the company answers for it"
        found.append((1, Warned(text=text, table="policy.toml")))
    refused = {r.entry for r in restrictions if isinstance(r, Refusal)}
    musts = {e.entry for e in folder.entries if e.priority == 1}
    found += [
        (1, Warned(text=f"{entry.entry} is a must and is left out", entry=entry.entry))
        for entry in entries
        if entry.outcome == "left out" and entry.entry in musts - refused
    ]
    found += [
        (2, Warned(text=f"{operation} lacks {lacking} of its people as given", table="operations.csv"))
        for operation, lacking in sorted(outcome.short.items())
    ]
    if outcome.cut:
        found.append((3, Warned(text=CUT_SHORT)))
    found += [(5, Warned(text=text)) for text in folder.missing]
    unique = dict.fromkeys(sorted(found, key=lambda f: (f[0], f[1].entry, f[1].text)))
    return [warned for _, warned in unique]


def _said(restrictions: Sequence[Restriction]) -> list[Caution]:
    return [r for r in restrictions if isinstance(r, Caution)]


def blocking(restrictions: Sequence[Restriction], operation: str) -> list[KeepClear]:
    """What keeps an operation from its window."""
    return [r for r in restrictions if isinstance(r, KeepClear) and r.entry == operation]
