"""Processes that wait for pages to draw (`apart`): they load what that needs while the caller still loads and reads.

A process is started as a plain command, so it works from any program, whatever that has as its main module. Nothing
heavy is imported here: a command starts its processes before all else.
"""

from __future__ import annotations

import os
import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager, suppress

MOST = 3
COMMAND = "from casewright.packet.apart import draw; draw()"

Process = subprocess.Popen[bytes]


@contextmanager
def waiting(cores: int | None = None) -> Iterator[tuple[Process, ...]]:
    """Start a process for each core beside this one's, at most `MOST`, and end them when the caller is done or fails.

    `cores` is what the machine has, unless it is given. Where none can be started there are none.
    """
    count = min((cores or os.cpu_count() or 1) - 1, MOST)
    started = [process for process in (_started() for _ in range(count)) if process is not None]
    try:
        yield tuple(started)
    finally:
        for process in started:
            end(process)
            _close(process)


def end(process: Process) -> None:
    """End a process that may have ended already; a thread may still be reading what it wrote."""
    with suppress(OSError):
        process.kill()
    with suppress(OSError, ValueError):
        process.wait()


def _close(process: Process) -> None:
    for pipe in (process.stdin, process.stdout):
        with suppress(OSError):  # what was written and never read
            if pipe is not None:
                pipe.close()


def _started() -> Process | None:
    environment = {**os.environ, "PYTHONPATH": os.pathsep.join(p for p in sys.path if p)}
    try:
        return subprocess.Popen(
            [sys.executable, "-c", COMMAND],
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            stderr=subprocess.DEVNULL,
            env=environment,
        )
    except (OSError, ValueError):
        return None  # no interpreter to start: everything is drawn here
