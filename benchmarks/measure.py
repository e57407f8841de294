"""Taking time and memory: medians, percentiles, and runs in a process of their own."""

from __future__ import annotations

import json
import math
import os
import platform
import subprocess
import sys
import time
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import Any

ROOT = Path(__file__).resolve().parent.parent


def seconds(work: Callable[[], object]) -> float:
    """Return how long `work` takes."""
    start = time.perf_counter()
    work()
    return time.perf_counter() - start


def processor_seconds(work: Callable[[], object]) -> tuple[float, float]:
    """Return how long `work` takes by the clock, and how much of this process's processor time it uses."""
    start, used = time.perf_counter(), time.process_time()
    work()
    return time.perf_counter() - start, time.process_time() - used


def percentile(values: Sequence[float], share: float) -> float:
    """Return the nearest-rank percentile: the least value that `share` of all values do not exceed."""
    ordered = sorted(values)
    return ordered[max(0, math.ceil(share * len(ordered)) - 1)]


def median(values: Sequence[float]) -> float:
    """Return the 50th percentile by nearest rank."""
    return percentile(values, 0.5)


def peak_megabytes() -> float:
    """Return the most memory that this process ever held."""
    import resource

    unit = 1 if sys.platform == "darwin" else 1024
    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss * unit / 1e6


def in_own_process(*arguments: str) -> dict[str, Any]:
    """Run this benchmark in a fresh process with `arguments` and return the JSON that its last line holds."""
    command = [sys.executable, "-m", "benchmarks.spine", *arguments]
    done = subprocess.run(command, cwd=ROOT, env=environment(), capture_output=True, text=True, check=False)
    if done.returncode:
        raise RuntimeError(f"{' '.join(arguments)} failed:\n{done.stderr}")
    answer: dict[str, Any] = json.loads(done.stdout.splitlines()[-1])
    return answer


def python_seconds(program: str) -> float:
    """Return how long a fresh Python takes for a program, start of the interpreter included."""
    command = [sys.executable, "-c", program]
    return seconds(lambda: subprocess.run(command, cwd=ROOT, env=environment(), check=True, capture_output=True))


def environment() -> dict[str, str]:
    """Return the environment in which fresh processes find the sources."""
    return {**os.environ, "PYTHONPATH": str(ROOT / "src")}


def machine() -> str:
    """Return what the figures were taken on."""
    load = f", load {os.getloadavg()[0]:.1f}" if hasattr(os, "getloadavg") else ""
    return f"Python {platform.python_version()}, {platform.machine()}, {os.cpu_count()} processors{load}"
