"""What the plan says of itself: counts, rows, operations in their windows, policy, week, inputs."""

from __future__ import annotations

import re
from collections import Counter
from datetime import datetime, timedelta
from typing import Final

from scheduler.check.findings import Ledger
from scheduler.check.scene import Run, Scene, minutes
from scheduler.check.span import NOTHING, Span, stamp
from scheduler.domain.plan import PlannedEntry, PlannedOperation
from scheduler.domain.policy import Value

COUNTS: Final = "counts"
OUTCOMES: Final = ("planned", "left out", "broken off")


def look(scene: Scene, ledger: Ledger) -> None:
    """Nothing asked may be missing, doubled or made up, and nothing may be said that the folder does not say."""
    _entries(scene, ledger)
    _operations(scene, ledger)
    _counts(scene, ledger)
    _rows(scene, ledger)
    _policy(scene, ledger)
    _origin(scene, ledger)


def _entries(scene: Scene, ledger: Ledger) -> None:
    found = Counter(planned.entry for planned in scene.plan.entries)
    for name in sorted(set(scene.entries) | set(found)):
        asked = name in scene.entries
        text = f"entry {name} stands {found[name]} times in the plan; {_asked(asked)}"
        ledger.expect(COUNTS, found[name] == 1 and asked, text, entry=name)
    for planned in scene.plan.entries:
        _entry(scene, planned, ledger)


def _entry(scene: Scene, planned: PlannedEntry, ledger: Ledger) -> None:
    name = planned.entry
    text = f"entry {name} has the outcome '{planned.outcome}'; {', '.join(OUTCOMES)} are known."
    ledger.expect(COUNTS, planned.outcome in OUTCOMES, text, entry=name)
    placed = bool(planned.phases) != (planned.outcome == "left out")
    text = f"entry {name} is '{planned.outcome}' and has {len(planned.phases)} phases."
    ledger.expect(COUNTS, placed, text, entry=name)
    asked = scene.entries.get(name)
    if asked is not None:
        text = f"entry {name} is asked for in {asked.space} and planned in {planned.space}."
        ledger.expect(COUNTS, asked.space == planned.space, text, entry=name, other=planned.space)


def _operations(scene: Scene, ledger: Ledger) -> None:
    found = Counter(placed.operation for placed in scene.plan.operations)
    for name in sorted(set(scene.operations) | set(found)):
        asked = name in scene.operations
        text = f"operation {name} stands {found[name]} times in the plan; {_asked(asked)}"
        ledger.expect(COUNTS, found[name] == 1 and asked, text, other=name)
    for placed in scene.plan.operations:
        _fixed(scene, placed, ledger)
    for run in scene.runs:
        if run.operation.movable:
            _movable(scene, run, ledger)
        _in_order(scene, run, ledger)


def _asked(asked: bool) -> str:
    return "1 is needed." if asked else "nobody asked for it."


def _fixed(scene: Scene, placed: PlannedOperation, ledger: Ledger) -> None:
    operation = scene.operations.get(placed.operation)
    if operation is None or operation.start is None:
        return
    end = operation.end if operation.end is not None else scene.week.end
    as_given = (placed.start, placed.end) == (operation.start, end) and not placed.moved
    text = (
        f"operation {placed.operation} is fixed, {Span(operation.start, end)}; "
        f"the plan has it {Span(placed.start, placed.end)}{' as moved' if placed.moved else ''}."
    )
    by = max(abs(placed.start - operation.start), abs(placed.end - end))
    ledger.expect("window", as_given, text, other=placed.operation, start=placed.start, end=placed.end, by=by)


def _movable(scene: Scene, run: Run, ledger: Ledger) -> None:
    operation, span = run.operation, run.span
    earliest = max(operation.earliest or scene.week.start, scene.week.start)
    latest = min(operation.latest or scene.week.end, scene.week.end)
    text = f"operation {run.name} begins at {stamp(span.start)}, before {stamp(earliest)}."
    _window(run, span.start >= earliest, text, earliest - span.start, ledger)
    text = f"operation {run.name} ends at {stamp(span.end)}, after {stamp(latest)}."
    _window(run, span.end <= latest, text, span.end - latest, ledger)
    needed = timedelta(hours=operation.hours or 0)
    over = span.length - needed
    text = f"operation {run.name} runs {span.length / minutes(1):g} min; {needed / minutes(1):g} are asked for."
    right = NOTHING <= over < scene.length("grid_min") and bool(operation.hours)
    _window(run, right, text, abs(over), ledger)


def _window(run: Run, holds: bool, text: str, by: timedelta, ledger: Ledger) -> None:
    ledger.expect("window", holds, text, other=run.name, start=run.span.start, end=run.span.end, by=by)


def _in_order(scene: Scene, run: Run, ledger: Ledger) -> None:
    """A fixed operation stands as given, so an order between two fixed ones is the folder's own matter."""
    for name in run.operation.after:
        first = scene.operations.get(name)
        if first is not None and not first.movable and not run.operation.movable:
            continue
        ends: list[datetime] = [other.span.end for other in scene.runs if other.name == name]
        ends += [stay.out_of_use.end for stay in scene.stays if stay.name == name and stay.out_of_use]
        early = max(ends, default=run.span.start) - run.span.start
        text = f"operation {run.name} begins at {stamp(run.span.start)}, before {name} is over."
        ledger.expect(
            "after", early <= NOTHING, text, other=run.name, start=run.span.start, end=run.span.start + early, by=early
        )


def _counts(scene: Scene, ledger: Ledger) -> None:
    said, outcomes = scene.plan.counts.entries, Counter(planned.outcome for planned in scene.plan.entries)
    own = (len(scene.folder.entries), *(outcomes[name] for name in OUTCOMES))
    given = (said.asked, said.planned, said.left_out, said.broken_off)
    text = f"the plan counts {given} entries asked, planned, left out, broken off; there are {own}."
    ledger.expect(COUNTS, given == own and said.asked == sum(given[1:]), text)
    operations = scene.plan.counts.operations
    counted = (len(scene.folder.operations), len(scene.runs))
    text = f"the plan counts {(operations.asked, operations.placed)} operations asked, placed; there are {counted}."
    ledger.expect(COUNTS, (operations.asked, operations.placed) == counted and counted[0] == counted[1], text)


def _rows(scene: Scene, ledger: Ledger) -> None:
    own = {table: (rows.read, rows.taken, rows.blank) for table, rows in scene.folder.rows}
    given = {table: (rows.read, rows.taken, rows.blank) for table, rows in scene.plan.counts.rows.items()}
    for table in sorted(set(own) | set(given)):
        text = f"the plan gives {given.get(table)} rows read, taken, blank of {table}; the folder has {own.get(table)}."
        ledger.expect(COUNTS, given.get(table) == own.get(table), text, other=table)
    for table, (read, taken, blank) in sorted(own.items()):
        text = f"of {table} {read} rows were read, {taken} taken and {blank} blank; that does not add up."
        ledger.expect(COUNTS, read == taken + blank, text, other=table)


def _policy(scene: Scene, ledger: Ledger) -> None:
    own, given = scene.policy.in_force(), scene.plan.policy
    for key in sorted(set(own) | set(given)):
        same = key in own and key in given and _same_value(own[key], given[key])
        text = f"the plan was made with {key} = {given.get(key)}; the folder has {own.get(key)}."
        ledger.expect("policy", same, text, other=key)


def _same_value(own: Value, given: str) -> bool:
    if isinstance(own, int | float):
        try:
            return float(given) == float(own)
        except ValueError:
            return False
    if isinstance(own, str):
        return given == own
    words = [word for item in own for word in ((item,) if isinstance(item, str) else item)]
    # How a list is written is the writer's affair; which words stand in it, in which order, is not.
    return re.findall(r"[\w:-]*\w", given.replace("–", " ").replace("-", " " if ":" in given else "-")) == words


def _origin(scene: Scene, ledger: Ledger) -> None:
    plan, folder = scene.plan, scene.folder
    same = plan.inputs.digest == folder.digest
    text = f"the plan was made from inputs {plan.inputs.digest[:12]}…; the folder is {folder.digest[:12]}…."
    ledger.expect("inputs", same, text)
    rule_set = scene.policy.word("limits.rule_set")
    text = f"the plan was made under {plan.inputs.rule_set}; the folder says {rule_set}."
    ledger.expect("inputs", plan.inputs.rule_set == rule_set, text)
    text = f"the plan is for {plan.ship}; the folder is of {folder.ship.name}."
    ledger.expect("inputs", plan.ship == folder.ship.name, text)
    _valid(scene, ledger)
    planned = Span(plan.week_start, plan.week_end)
    text = f"the plan is for {planned}; the week is {scene.week}."
    ledger.expect("week", planned == scene.week, text, start=planned.start, end=planned.end)


def _valid(scene: Scene, ledger: Ledger) -> None:
    """A plan holds to the week's end, and no longer than its forecast does."""
    plan, folder = scene.plan, scene.folder
    newest = max((row.issued for row in folder.weather), default=None)
    issued = plan.inputs.forecast_issued
    if plan.inputs.forecast_digest == folder.forecast_digest:
        said = "none" if issued is None else stamp(issued)
        own = "none" if newest is None else stamp(newest)
        text = f"the plan says that its forecast is of {said}; it is of {own}."
        ledger.expect("inputs", issued == newest, text)
        issued = newest
    latest = scene.week.end
    if issued is not None:
        latest = min(latest, issued + scene.length("weather.longest_age_h"))
    late = plan.valid_until - latest
    text = f"the plan is said to hold until {stamp(plan.valid_until)}; it holds until {stamp(latest)}."
    ledger.expect("inputs", late <= NOTHING, text, start=latest, end=plan.valid_until, by=late)
