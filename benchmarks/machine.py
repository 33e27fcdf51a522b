"""On what the figures were measured."""

from __future__ import annotations

import os
import platform
from importlib.metadata import version
from pathlib import Path


def machine() -> dict[str, object]:
    """The CPU, how busy it was, and the versions of what computes."""
    return {
        "machine.cpu": _cpu(),
        "machine.cores": os.cpu_count(),
        "machine.load_average": load_average(),
        "machine.system": platform.platform(),
        "versions.python": platform.python_version(),
        **{f"versions.{name}": version(name) for name in ("numba", "llvmlite", "numpy", "scipy")},
    }


def load_average() -> list[float]:
    """How many wanted a core: of the last minute, five, and fifteen."""
    return [round(load, 2) for load in os.getloadavg()]


def _cpu() -> str:
    facts = Path("/proc/cpuinfo")
    lines = facts.read_text("utf-8").splitlines() if facts.exists() else []
    names = [line.partition(":")[2].strip() for line in lines if line.startswith("model name")]
    return names[0] if names else platform.processor() or platform.machine()
