"""What is in each space, followed from the week's first state through every operation that names it."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import datetime
from functools import cached_property
from itertools import pairwise
from typing import Final

from scheduler.check.scene import Run, Scene
from scheduler.check.span import Span, union

EMPTY: Final = ("clean and empty", "gas-free")
VAPOUR: Final = ("cargo", "empty with vapour", "inerted")
BALLAST_KINDS: Final = ("ballast tank", "peak tank")
HARMLESS: Final = ("gauging", "visit", "stores", "stations", "drill", "entry drill", "power test", "helicopter")
LEAVES: Final = {
    "load": "cargo", "discharge": "empty with vapour", "tank wash": "empty with vapour", "ballast in": "ballast",
    "ballast exchange": "ballast", "inert": "inerted", "purge": "inerted", "bunkering": "fuel",
    "nitrogen": "nitrogen padded", "transfer": "unknown", "slops": "unknown",
}  # fmt: skip
DIRTYING: Final = ("load", "bunkering", "transfer", "slops")


@dataclass(frozen=True, kw_only=True, slots=True)
class State:
    """What is in a space. `before` is what was in it before ballast; `last` the operation that left it so."""

    name: str
    cargo: str | None = None
    washed: bool = False
    before: str = ""
    last: Run | None = None


class States:
    """The states of all spaces over the week."""

    def __init__(self, scene: Scene) -> None:
        self._scene = scene
        self._given = {content.space: content for content in scene.folder.contents}

    @cached_property
    def _stretches(self) -> dict[str, tuple[tuple[Span, State], ...]]:
        return {space: self._follow(space) for space in self._scene.spaces}

    def spans(self, space: str) -> tuple[tuple[Span, State], ...]:
        """The states of a space over the week, one after the other."""
        return self._stretches.get(space, ())

    def at(self, space: str, instant: datetime) -> State:
        """The state at an instant."""
        for span, state in self.spans(space):
            if span.start <= instant < span.end:
                return state
        return State(name="unknown")

    def before(self, space: str, instant: datetime) -> State:
        """The state just before an instant: what an operation that begins then finds."""
        earlier = [state for span, state in self.spans(space) if span.start < instant]
        return earlier[-1] if earlier else self._first(space)

    def during(self, space: str, span: Span) -> list[tuple[Span, State]]:
        """The states that a space has in a stretch."""
        cut = ((Span(max(s.start, span.start), min(s.end, span.end)), state) for s, state in self.spans(space))
        return [(piece, state) for piece, state in cut if piece.start < piece.end]

    def when(self, space: str, names: tuple[str, ...]) -> list[Span]:
        """When a space is in one of these states."""
        return union(span for span, state in self.spans(space) if state.name in names)

    def _follow(self, space: str) -> tuple[tuple[Span, State], ...]:
        week = self._scene.week
        runs = [r for r in self._scene.runs if space in r.operation.spaces and r.span.end > week.start]
        edges = {week.start, week.end}
        edges |= {at for run in runs for at in run.span if week.start < at < week.end}
        ordered, state, found = sorted(edges), self._first(space), []
        for start, end in pairwise(ordered):
            for run in sorted((r for r in runs if r.span.end == start), key=lambda r: (r.span.start, r.name)):
                state = self._after(space, state, run)
            busy = any(run.span.start <= start < run.span.end for run in runs)
            found.append((Span(start, end), replace(state, name="unknown") if busy else state))
        return tuple(found)

    def _first(self, space: str) -> State:
        content = self._given.get(space)
        return State(name=content.state, cargo=content.cargo) if content else State(name="unknown")

    def _after(self, space: str, was: State, run: Run) -> State:
        operation = run.operation
        kind, cargo = operation.kind, operation.cargo or was.cargo
        name = self._name_after(space, was, kind, cargo)
        told = operation.leaves
        if told and _strictness(told) >= _strictness(name):
            name = told  # a folder may say that a space is left worse than usual, never better
        washed = (was.washed or kind == "tank wash") and kind not in DIRTYING
        before = was.name if kind in ("ballast in", "ballast exchange") and was.name != "ballast" else was.before
        return State(name=name, cargo=cargo, washed=washed, before=before, last=run)

    def _name_after(self, space: str, was: State, kind: str, cargo: str | None) -> str:
        if kind == "ballast out":
            return self._after_ballast(space, was)
        if kind == "gas-free":
            return self._after_gas_freeing(was, cargo)
        if kind == "discharge" and self._cargo_kind(cargo) == "solid":
            return "residue"
        if kind in LEAVES:
            return LEAVES[kind]
        if kind in HARMLESS or _strictness(was.name) == 2:
            return was.name
        return "unknown"

    def _after_ballast(self, space: str, was: State) -> str:
        if self._scene.spaces[space].kind in BALLAST_KINDS or was.before in EMPTY:
            return "clean and empty"
        return "empty with vapour"

    def _after_gas_freeing(self, was: State, cargo: str | None) -> str:
        inerted = was.last is not None and was.last.kind in ("inert", "purge")
        if was.washed or (inerted and self._cargo_kind(cargo) == "gas"):
            return "gas-free"
        return "empty with vapour"

    def _cargo_kind(self, cargo: str | None) -> str:
        return next((known.kind for known in self._scene.folder.cargoes if known.cargo == cargo), "")


def _strictness(name: str) -> int:
    """0: people may enter; 1: for cleaning by hand only; 2: nobody."""
    return 0 if name in EMPTY else 1 if name == "residue" else 2


def solid(scene: Scene, cargo: str | None) -> bool:
    """A solid cargo by its own row: it lets no vapour out on deck."""
    return any(known.kind == "solid" for known in scene.folder.cargoes if known.cargo == cargo)


def toxic(scene: Scene, cargo: str | None) -> bool:
    """A cargo counts as toxic unless its own row says that it is not."""
    return next((known.toxic is not False for known in scene.folder.cargoes if known.cargo == cargo), True)
