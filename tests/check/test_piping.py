"""The isolation boundary against every path, one by one, on small networks."""

from __future__ import annotations

import random
from itertools import pairwise

import pytest

from scheduler.check.piping import Piping
from scheduler.check.scene import Scene
from scheduler.domain.ship import Pipe
from tests.check.made import a_folder, a_pipe, the_good_week

THE_PLAN = the_good_week()[1]

STRENGTH = {"valve": 1, "non-return valve": 0, "pipe": 0, "removable piece": 2, "spectacle blank": 2}
POINTS = ("3P", "pipe a", "pipe b", "joint c", "3S", "main: x", "blind end d", "pump e")


def a_network(seed: int) -> tuple[tuple[Pipe, ...], frozenset[str]]:
    """Ten devices at random between eight points, and some of them shut."""
    chance = random.Random(seed)
    pipes = []
    for number in range(10):
        one, other = chance.sample(POINTS, 2)
        pipes.append(a_pipe(one, other, chance.choice(sorted(STRENGTH)), f"D{number}", lockable=chance.random() < 0.8))
    shut = frozenset(pipe.device_id for pipe in pipes if pipe.lockable and chance.random() < 0.7)
    return tuple(pipes), shut


def is_source(point: str) -> bool:
    return not point.startswith(("pipe", "joint", "blind end"))


def every_path(pipes: tuple[Pipe, ...], shut: frozenset[str]) -> dict[str, int]:
    """For each source the least sum of strengths shut over all simple paths that meet no other source, 2 at most."""
    found: dict[str, int] = {}

    def walk(point: str, seen: tuple[str, ...], strength: int) -> None:
        if len(seen) > 1 and is_source(point):
            found[point] = min(found.get(point, 2), min(strength, 2))
            return
        for pipe in pipes:
            for here, there in ((pipe.point, pipe.to_point), (pipe.to_point, pipe.point)):
                if here == point and there not in seen:
                    closed = STRENGTH[pipe.device] if pipe.device_id in shut else 0
                    walk(there, (*seen, there), strength + closed)

    walk("3P", ("3P",), 0)
    return found


@pytest.mark.parametrize("seed", range(300))
def test_the_weakest_way_is_that_of_all_paths(seed: int) -> None:
    pipes, shut = a_network(seed)
    piping = Piping(Scene(a_folder(lines=pipes), THE_PLAN))
    assert piping.weakest("3P", shut) == every_path(pipes, shut)


def chain(*devices: str) -> tuple[Pipe, ...]:
    """A space, devices in a row, and the main at their end."""
    points = ["3P", *(f"pipe {n}" for n in range(len(devices) - 1)), "main: x"]
    return tuple(
        a_pipe(a, b, kind, f"D{n}") for n, ((a, b), kind) in enumerate(zip(pairwise(points), devices, strict=True))
    )


@pytest.mark.parametrize(
    ("devices", "strength"),
    [
        (("valve",), 1), (("valve", "valve"), 2), (("spectacle blank",), 2), (("removable piece",), 2),
        (("non-return valve", "valve"), 1), (("pipe",), 0), (("valve", "non-return valve", "valve"), 2),
    ],
)  # fmt: skip
def test_two_valves_or_one_blank_make_a_boundary(devices: tuple[str, ...], strength: int) -> None:
    pipes = chain(*devices)
    piping = Piping(Scene(a_folder(lines=pipes), THE_PLAN))
    assert piping.weakest("3P", frozenset(pipe.device_id for pipe in pipes)) == {"main: x": strength}


def test_a_blind_end_sends_nothing() -> None:
    lines = (a_pipe("3P", "blind end", "pipe", "D0", lockable=False),)
    assert Piping(Scene(a_folder(lines=lines), THE_PLAN)).weakest("3P", frozenset()) == {}


def test_an_operation_with_blank_lines_uses_every_device_up_to_the_mains() -> None:
    folder, plan = a_folder(), THE_PLAN
    scene = Scene(folder, plan)
    out = next(run for run in scene.runs if run.name == "LOAD")
    blank = type(out)(operation=type(out.operation)(operation="Y", kind="load", spaces=("4P",)), span=out.span)
    assert Piping(scene).used_by(blank) == {"BA4P", "BB4P"}
