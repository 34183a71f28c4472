"""People for entries at given times by trying everybody: no solver, and rest counted by the plain reading."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from scheduler.domain.restrictions import DutyKind, Phase
from scheduler.solve.outcome import Named, Placed, Timed
from scheduler.solve.problem import Need, Problem, Task
from tests.benchmarks.validity import clashes, parts_of, tired

Role = tuple[Task, Need, int]
"""One person of a need, in a session (0: the phase has none)."""
Part = tuple[tuple[str, Phase, int], DutyKind]
Names = Mapping[str, tuple[Part, ...]]
"""What each person does."""


@dataclass(kw_only=True)
class Naming:
    """Tries all people for all roles; what one person can do is looked at once."""

    problem: Problem
    _able: dict[tuple[str, tuple[Part, ...], tuple[Placed, ...]], bool] = field(default_factory=dict)

    def can_be_had(self, timed: Timed) -> bool:
        """True when there are people for all entries that stand."""
        roles = [
            (task, need, session)
            for task in self.problem.tasks
            if task.entry in timed.entries
            for need in task.needs
            for session in _sessions(need, timed.entries[task.entry])
            for _ in range(need.count)
            if not (need.phase is Phase.TEST and need.duty is DutyKind.IN_CHARGE)  # he who leads the session
        ]
        return self._found(roles, {}, timed)

    def _found(self, roles: Sequence[Role], names: Names, timed: Timed) -> bool:
        """The role with the fewest able people first."""
        roles = [role for role in roles if not _doubled(role, names)]
        if not roles:
            return True
        fewest: tuple[int, list[Names]] | None = None
        for i, (task, need, session) in enumerate(roles):
            if need.may_double and any(r[0] is task and r[1].duty is DutyKind.IN_CHARGE for r in roles):
                continue  # who leads may be his own gas tester: the leaders first
            able = self._choices((task, need, session), names, timed)
            if not able:
                return False
            if fewest is None or len(able) < len(fewest[1]):
                fewest = (i, able)
        assert fewest is not None  # a leader is never passed over
        at, able = fewest
        return any(self._found([*roles[:at], *roles[at + 1 :]], more, timed) for more in able)

    def _choices(self, role: Role, names: Names, timed: Timed) -> list[Names]:
        task, need, session = role
        placed = timed.entries[task.entry]
        parts: list[Part] = [((task.entry, need.phase, session), need.duty)]
        if need.phase is Phase.ENTER and need.duty is DutyKind.IN_CHARGE:
            parts.append(((task.entry, Phase.TEST, session), need.duty))
        later = len(placed.sessions) if need.phase in (Phase.RESTORE, Phase.TEST) else 0
        brief = (task.entry, Phase.BRIEF, session or later)
        found: list[Names] = []
        for person in need.people:
            mine = (*names.get(person, ()), *parts)
            if brief not in {key for key, _ in mine}:
                mine = (*mine, (brief, need.duty))
            if len({key for key, _ in mine}) == len(mine) and self._can(person, mine, timed):
                found.append({**names, person: mine})
        return found

    def _can(self, person: str, mine: tuple[Part, ...], timed: Timed) -> bool:
        """Nothing that the person alone does is at fault."""
        key = (person, tuple(sorted(mine)), tuple(timed.entries[name] for name in sorted({p[0][0] for p in mine})))
        if key not in self._able:
            people: dict[tuple[str, Phase, int], tuple[Named, ...]] = {part: ((person, duty),) for part, duty in mine}
            parts = parts_of(self.problem, timed, people)[person]
            self._able[key] = not [*clashes(self.problem, person, parts), *tired(self.problem, person, parts)]
        return self._able[key]


def _doubled(role: Role, names: Names) -> bool:
    """True for a gas tester whose session is led by one who can test."""
    task, need, session = role
    lead = ((task.entry, need.phase, session), DutyKind.IN_CHARGE)
    return need.may_double and any(lead in names.get(person, ()) for person in need.people)


def _sessions(need: Need, placed: Placed) -> list[int]:
    if need.phase in (Phase.TEST, Phase.ENTER):
        return list(range(1, len(placed.sessions) + 1))
    return [0]
