"""The folder of a plan on disk: plan.json and run.json, each whole or not at all."""

from __future__ import annotations

import json
import os
import platform
import sys
from collections.abc import Mapping
from importlib.metadata import PackageNotFoundError, version
from pathlib import Path
from typing import Final

from scheduler.domain.plan import Plan
from scheduler.domain.planfile import plan_json, read_plan
from scheduler.errors import NotAPlan

PLAN_FILE: Final = "plan.json"
RUN_FILE: Final = "run.json"
_PACKAGES: Final = ("lull", "ortools", "pandas", "python-dateutil", "astral", "geographiclib")
_MOST_BYTES: Final = 200_000_000  # no plan is near it; a file that is larger is something else


def load_plan(path: Path) -> Plan:
    """The plan in a file; raises NotAPlan, also for a file that is not there or cannot be read."""
    try:
        if path.stat().st_size > _MOST_BYTES:
            raise NotAPlan(f"{path}: {path.stat().st_size:,} bytes found; expected a plan file of Lull.")
        return read_plan(path.read_bytes().decode())
    except UnicodeDecodeError:
        raise NotAPlan(f"{path}: not UTF-8; expected a plan file of Lull. Make the plan again.") from None
    except OSError as why:
        raise NotAPlan(
            f"{path}: {why.strerror or why}; expected a plan file of Lull. Name one that is there."
        ) from None
    except NotAPlan as why:
        raise NotAPlan(f"{path}: {why}") from None


def write_plan(directory: Path, plan: Plan, run: Mapping[str, object]) -> Path:
    """Write plan.json and run.json into a folder and give plan.json's path; raises OSError.

    Both are on the disk under other names before either takes its place, so a reader never sees half a file.
    """
    directory.mkdir(parents=True, exist_ok=True)
    texts = {PLAN_FILE: plan_json(plan), RUN_FILE: json.dumps(run, ensure_ascii=False, indent=1) + "\n"}
    drafts = {name: directory / f".{name}.{os.getpid()}" for name in texts}
    try:
        for name, text in texts.items():
            _on_disk(drafts[name], text)
        for name, draft in drafts.items():
            draft.replace(directory / name)
    finally:
        for draft in drafts.values():
            draft.unlink(missing_ok=True)
    return directory / PLAN_FILE


def _on_disk(path: Path, text: str) -> None:
    with path.open("wb") as file:
        file.write(text.encode())
        file.flush()
        os.fsync(file.fileno())


def run_record(*, wall_s: float, seconds: float | None, seed: int, stopped: bool) -> dict[str, object]:
    """What differs from run to run and so stands beside the plan: wall time, machine, versions."""
    return {
        "wall_s": round(wall_s, 2),
        "asked": {"seconds": seconds, "seed": seed},
        "stopped": stopped,
        "machine": {
            "system": f"{platform.system()} {platform.release()}",
            "architecture": platform.machine(),
            "processors": os.cpu_count() or 0,
        },
        "versions": {"python": sys.version.split()[0], **{name: installed(name) for name in _PACKAGES}},
    }


def installed(package: str) -> str:
    """The version of an installed package, or that there is none."""
    try:
        return version(package)
    except PackageNotFoundError:
        return "not installed"
