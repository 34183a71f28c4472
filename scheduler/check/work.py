"""Every named duty of the plan as a stretch of somebody's time."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import Final

from scheduler.check.scene import Run, Scene, Stay, minutes, when
from scheduler.check.span import Span
from scheduler.domain.plan import PlannedPhase

ON_CALL: Final = "rescue on call"
HINDERING: Final = ("watch", "sole watch", "other")  # fixed duties that bar any entry duty


@dataclass(frozen=True, kw_only=True)
class Task:
    """One person, one duty, one stretch; `stay` or `run` says of what, `phase` is empty for an operation."""

    person: str
    duty: str
    span: Span
    stay: Stay | None = None
    phase: PlannedPhase | None = None
    run: Run | None = None

    @property
    def on_call(self) -> bool:
        """Ready, but not at work: rescue on call while others are inside."""
        return self.duty == ON_CALL and self.phase is not None and self.phase.phase == "enter"

    @property
    def what(self) -> str:
        """The entry's or the operation's id."""
        return self.stay.name if self.stay else self.run.name if self.run else ""

    @property
    def phase_name(self) -> str:
        """The phase, or 'run' for an operation."""
        return self.phase.phase if self.phase else "run"

    def __str__(self) -> str:
        return f"{self.duty} in {self.phase_name} of {self.what}"


class Rota:
    """The duties of all people."""

    def __init__(self, scene: Scene) -> None:
        self._scene = scene

    @cached_property
    def tasks(self) -> tuple[Task, ...]:
        """All duties of entries and operations, by person and time."""
        found = [task for stay in self._scene.stays for task in self._of_entry(stay)]
        found += [
            Task(person=named.person, duty=named.duty, span=run.span, run=run)
            for run in self._scene.runs
            for named in run.people
        ]
        return tuple(sorted(found, key=lambda task: (task.person, task.span, task.what, task.duty)))

    def _of_entry(self, stay: Stay) -> list[Task]:
        open_up = minutes(self._scene.policy.whole("phase.open_up_min"))
        found = []
        for phase in stay.phases:
            span = when(phase)
            if phase.phase == "ventilate":
                # Opening up is the only work of it; then the fans run unattended.
                span = Span(span.start, min(span.end, span.start + open_up))
            found += [
                Task(person=named.person, duty=named.duty, span=span, stay=stay, phase=phase) for named in phase.people
            ]
        return found

    @cached_property
    def by_person(self) -> dict[str, tuple[Task, ...]]:
        """The duties of each person that the folder knows, in time."""
        by_person: dict[str, list[Task]] = {person: [] for person in self._scene.people}
        for task in self.tasks:
            if task.person in by_person:
                by_person[task.person].append(task)
        return {person: tuple(tasks) for person, tasks in by_person.items()}
