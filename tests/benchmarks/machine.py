"""The machine that figures were measured on, and how much memory was used on it."""

from __future__ import annotations

import os
import platform
import resource
from importlib.metadata import version
from pathlib import Path


def machine() -> str:
    """Processor, cores, memory and versions, and how busy the machine was."""
    memory_gib = os.sysconf("SC_PAGE_SIZE") * os.sysconf("SC_PHYS_PAGES") / 2**30
    busy = ", ".join(f"{load:.1f}" for load in os.getloadavg())
    return (
        f"{_processor()}, {os.cpu_count()} cores, {memory_gib:.0f} GiB; {platform.system()} {platform.machine()}, "
        f"Python {platform.python_version()}, ortools {version('ortools')}; load before the run {busy}"
    )


def _processor() -> str:
    about = Path("/proc/cpuinfo")
    lines = about.read_text(encoding="utf-8").splitlines() if about.exists() else []
    names = [line.partition(":")[2].strip() for line in lines if line.startswith("model name")]
    return names[0] if names else platform.processor() or "unknown processor"


def peaks_mib() -> tuple[float, float]:
    """Greatest memory so far of this process, and of the largest child process that has ended, in MiB."""
    kib = 1 if platform.system() == "Darwin" else 1024  # the unit is bytes there, KiB elsewhere
    mine, child = (resource.getrusage(who).ru_maxrss for who in (resource.RUSAGE_SELF, resource.RUSAGE_CHILDREN))
    return mine * kib / 2**20, child * kib / 2**20
