"""Who stands where: counts, abilities, drills, time aboard, one officer in charge, nobody alone."""

from __future__ import annotations

from collections import Counter
from datetime import timedelta
from typing import Final

from scheduler.check.findings import Ledger
from scheduler.check.scene import Scene, Stay, people_with, when
from scheduler.check.ship_time import months_later
from scheduler.check.span import NOTHING, Span, stamp
from scheduler.check.work import ON_CALL, Rota, Task
from scheduler.domain.crew import Person
from scheduler.domain.plan import PlannedPhase

RULE: Final = "people"
IN_CHARGE: Final = "officer in charge"
AT_ENTRANCE: Final = "rescue at the entrance"
ABILITY: Final = {
    "entrant": "entrant", "attendant": "attendant", IN_CHARGE: IN_CHARGE, "gas tester": "gas tester",
    ON_CALL: "rescue", AT_ENTRANCE: "rescue", "rigging": "rigging",
}  # fmt: skip
PLACES: Final = {
    "brief": tuple(ABILITY), "isolate": (IN_CHARGE, "rigging"), "ventilate": ("rigging",),
    "test": (IN_CHARGE, "gas tester"),
    "enter": ("entrant", "attendant", IN_CHARGE, "gas tester", ON_CALL, AT_ENTRANCE),
    "restore": (IN_CHARGE, "rigging"),
}  # fmt: skip


def look(scene: Scene, ledger: Ledger) -> None:
    """Look at everybody whom the plan names for an entry."""
    rota = Rota(scene)
    for task in rota.tasks:
        if task.stay is not None:
            _able(scene, task, ledger)
            _assignable(scene, rota, task, ledger)
    for stay in scene.stays:
        for phase in stay.phases:
            _once_in_phase(stay, phase, ledger)
            _enough(scene, stay, phase, ledger)
        _one_in_charge(stay, ledger)
        _briefed(stay, ledger)


def _able(scene: Scene, task: Task, ledger: Ledger) -> None:
    person, phase, stay = scene.people.get(task.person), task.phase, task.stay
    if phase is None or stay is None:
        return
    if person is None:
        _say(ledger, task, False, f"{task.person}, named as {task}, is not in the crew list.")
        return
    fits = task.duty in PLACES.get(phase.phase, ())
    _say(ledger, task, fits, f"{task.duty} is no duty of {phase.phase}; {task.person} holds it in {stay.name}.")
    able = ABILITY.get(task.duty, task.duty) in person.able
    _say(ledger, task, able, f"{task.person} is not able to be {task}.")
    if task.duty == IN_CHARGE:
        right = person.department == stay.space.in_charge
        text = f"{task.person} of the {person.department} department is in charge of {stay.space.space}, "
        _say(ledger, task, right, f"{text}a space of the {stay.space.in_charge} department ({stay.name}).")
    if task.duty == "entrant" and phase.phase == "enter" and stay.entry.only:
        allowed = task.person in stay.entry.only
        _say(ledger, task, allowed, f"{task.person} goes inside for {stay.name}, which names others only.")


def _assignable(scene: Scene, rota: Rota, task: Task, ledger: Ledger) -> None:
    person = scene.people.get(task.person)
    if person is None:
        return
    if person.joins is not None:
        early = person.joins + scene.length("joined_h") - task.span.start
        text = f"{task.person} joined at {stamp(person.joins)} and is {task} at {stamp(task.span.start)}, too soon."
        _say(ledger, task, early <= NOTHING, text, early)
    if person.leaves is not None:
        late = task.span.end - person.leaves
        text = f"{task.person} leaves at {stamp(person.leaves)} and is {task} until {stamp(task.span.end)}."
        _say(ledger, task, late <= NOTHING, text, late)
    drilled = _drilled(scene, person, task.span) or _drilled_this_week(rota, task)
    said = person.last_drill.isoformat() if person.last_drill else "no date"
    text = f"{task.person} is {task} at {stamp(task.span.start)} without a drill that counts (last: {said})."
    _say(ledger, task, drilled, text)


def _drilled(scene: Scene, person: Person, span: Span) -> bool:
    if person.last_drill is None:
        return False
    day = scene.clock.last_day(span)
    return person.last_drill <= day <= months_later(person.last_drill, scene.policy.whole("drill_months"))


def _drilled_this_week(rota: Rota, task: Task) -> bool:
    held = (other for other in rota.by_person.get(task.person, ()) if other.run is not None)
    return any(o.run is not None and o.run.kind == "entry drill" and o.span.end <= task.span.start for o in held)


def _once_in_phase(stay: Stay, phase: PlannedPhase, ledger: Ledger) -> None:
    for person, times in sorted(Counter(named.person for named in phase.people).items()):
        duties = sorted(named.duty for named in phase.people if named.person == person)
        both = phase.phase == "test" and duties == ["gas tester", IN_CHARGE]
        text = f"{person} holds {' and '.join(duties)} at one time in {phase.phase} of {stay.name}."
        _phase(ledger, stay, phase, times == 1 or both, text, person)


def _enough(scene: Scene, stay: Stay, phase: PlannedPhase, ledger: Ledger) -> None:
    for duty, needed in _needed(scene, stay, phase).items():
        found = len(set(people_with(phase, duty)))
        text = f"{phase.phase} of {stay.name} at {stamp(phase.start)} has {found} {duty}; {needed} needed."
        _phase(ledger, stay, phase, found >= needed, text)
    in_charge = len(set(people_with(phase, IN_CHARGE)))
    if phase.phase != "brief":
        begins = stamp(phase.start)
        text = f"{phase.phase} of {stay.name} at {begins} has {in_charge} officers in charge; 1 is the most."
        _phase(ledger, stay, phase, in_charge <= 1, text)
    if phase.phase == "enter":
        _enough_inside(scene, stay, phase, ledger)


def _needed(scene: Scene, stay: Stay, phase: PlannedPhase) -> dict[str, int]:
    match phase.phase:
        case "isolate":
            return {IN_CHARGE: 1, "rigging": 1}
        case "ventilate":
            return {} if phase in stay.tail else {"rigging": 2}
        case "test":
            return {IN_CHARGE: 1, "gas tester": 1}
        case "enter":
            entrants = max(stay.entry.entrants, scene.policy.whole("entrants_min"))
            ways = 2 if stay.space.kind == "duct keel" else 1
            return {"entrant": entrants, "attendant": ways, IN_CHARGE: 1}
        case "restore":
            return {IN_CHARGE: 1, "rigging": 2}
        case _:
            return {}


def _enough_inside(scene: Scene, stay: Stay, phase: PlannedPhase, ledger: Ledger) -> None:
    team, near = people_with(phase, ON_CALL, AT_ENTRANCE), people_with(phase, AT_ENTRANCE)
    needed, standing = scene.policy.whole("rescue.people"), scene.policy.whole("rescue.at_entrance")
    text = f"the rescue team of {stay.name} at {stamp(phase.start)} has {len(set(team))} people; {needed} needed."
    _phase(ledger, stay, phase, len(set(team)) >= needed, text)
    text = f"{len(set(near))} of the rescue team stand at the entrance of {stay.name}; {standing} needed."
    _phase(ledger, stay, phase, len(set(near)) >= standing, text)
    if stay.hot:
        able = [p for p in people_with(phase, "entrant") if p in scene.people and "hot work" in scene.people[p].able]
        text = f"nobody inside for {stay.name} at {stamp(phase.start)} is able to do hot work."
        _phase(ledger, stay, phase, bool(able), text)
    if stay.space.reach == "proving session" and phase == stay.inside[0]:
        text = f"no gas tester goes inside with the proving session of {stay.name} at {stamp(phase.start)}."
        _phase(ledger, stay, phase, bool(people_with(phase, "gas tester")), text)


def _one_in_charge(stay: Stay, ledger: Ledger) -> None:
    for test, session in zip([t for t in stay.of("test") if t not in stay.tail], stay.inside, strict=False):
        before, inside = people_with(test, IN_CHARGE), people_with(session, IN_CHARGE)
        text = (
            f"{', '.join(before) or 'nobody'} is in charge of the test and {', '.join(inside) or 'nobody'} "
            f"of session {session.session} of {stay.name}; one officer is needed for both."
        )
        _phase(ledger, stay, session, set(before) == set(inside), text)


def _briefed(stay: Stay, ledger: Ledger) -> None:
    briefs = stay.of("brief")
    for number, brief in enumerate(briefs):
        last = number == len(briefs) - 1
        until = None if last else briefs[number + 1].start
        following = [p for p in stay.phases if p.start >= brief.end and (until is None or p.start < until)]
        heard = {named.person for named in brief.people}
        for phase in following:
            # What comes after the last session is briefed last, whichever briefing it stands behind.
            for person in sorted({named.person for named in phase.people} - heard):
                text = f"{person} is in {phase.phase} of {stay.name} and misses the briefing at {stamp(brief.start)}."
                _phase(ledger, stay, brief, False, text, person)
        ledger.count(RULE)


def _say(ledger: Ledger, task: Task, holds: bool, text: str, by: timedelta | None = None) -> None:
    ledger.expect(
        RULE, holds, text, entry=task.what, person=task.person, start=task.span.start, end=task.span.end, by=by
    )


def _phase(ledger: Ledger, stay: Stay, phase: PlannedPhase, holds: bool, text: str, person: str = "") -> None:
    span = when(phase)
    ledger.expect(RULE, holds, text, entry=stay.name, person=person, start=span.start, end=span.end)
