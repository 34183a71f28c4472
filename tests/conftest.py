"""What all tests share: the demonstration voyage, read once and solved once."""

from __future__ import annotations

import os
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest

from scheduler.domain.folder import VoyageFolder
from scheduler.domain.plan import Plan
from scheduler.domain.planfile import plan_json, read_plan

DEMO = Path(__file__).parents[1] / "demo_voyage"


@pytest.fixture(scope="session")
def demo_folder() -> VoyageFolder:
    """The demonstration voyage as it is read."""
    from scheduler.inputs import read_folder

    return read_folder(DEMO)


@pytest.fixture(scope="session")
def demo_plan(demo_folder: VoyageFolder, tmp_path_factory: pytest.TempPathFactory) -> Plan:
    """The plan of the demonstration voyage: solved once in a run, also where several processes share the tests."""
    from scheduler.week import plan_week

    shared = tmp_path_factory.getbasetemp()
    if "PYTEST_XDIST_WORKER" in os.environ:
        shared = shared.parent
    solved = shared / "demo plan.json"
    with _alone(shared / "demo plan.lock"):
        if not solved.exists():
            solved.write_text(plan_json(plan_week(demo_folder, seconds=None, seed=1, progress=None)), encoding="utf-8")
    return read_plan(solved.read_text(encoding="utf-8"))


@contextmanager
def _alone(path: Path) -> Iterator[None]:
    """One process at a time; others wait. Where files cannot be locked (Windows) each process solves for itself."""
    try:
        import fcntl
    except ImportError:
        yield
        return
    with path.open("w") as lock:
        fcntl.flock(lock, fcntl.LOCK_EX)
        yield
