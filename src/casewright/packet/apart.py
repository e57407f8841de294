"""Draws pages in processes of their own, while this one searches layouts: what is drawn needs no layout.

A process (`processes`) is given order, shop and page names as a pickle and gives the contexts back the same way. The
answer does not depend on how many processes there are; where one cannot be started or fails, its pages are drawn here.
"""

from __future__ import annotations

import copyreg
import io
import pickle
import sys
import threading
from collections.abc import Iterable, Iterator, Sequence
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from types import MappingProxyType
from typing import Any

from casewright.packet.pages.registry import PAGES, Page
from casewright.packet.pages.setting import PaperName, unframed_setting
from casewright.packet.processes import Process, end
from casewright.project import Project

HERE = 3.6  # what this process has to do beside pages, in the pages' measure (`Page.effort`)


@dataclass(slots=True)
class Drawer:
    """A process that draws some pages; a thread reads its answer, which may be longer than a pipe holds."""

    names: tuple[str, ...]
    process: Process
    answer: bytes = b""
    reader: threading.Thread | None = None

    def begin(self, task: bytes) -> None:
        """Send the task, and wait for the answer in a thread."""
        self.reader = threading.Thread(target=self._talk, args=(task,), daemon=True)
        self.reader.start()

    def _talk(self, task: bytes) -> None:
        with suppress(OSError, ValueError):  # it was ended, or did not start: then there is no answer
            self.answer = self.process.communicate(task)[0]

    def contexts(self) -> dict[str, Any]:
        """Wait, and return the contexts by page name; empty where the process failed."""
        if self.reader is not None:
            self.reader.join()
        if self.process.returncode != 0 or not self.answer:
            return {}
        found: dict[str, Any] = pickle.loads(self.answer)
        return found


@contextmanager
def drawn_apart(
    project: Project, paper: PaperName, pages: tuple[Page, ...], processes: Sequence[Process]
) -> Iterator[list[Drawer]]:
    """Let waiting processes draw the pages that take long, and end those that still draw when the caller is done."""
    drawers: list[Drawer] = []
    try:
        for process, names in zip(processes, shares(pages, len(processes)), strict=False):
            task = _task(project, paper, names)
            if task:
                drawers.append(Drawer(names, process))
                drawers[-1].begin(task)
        yield drawers
    finally:
        for drawer in drawers:
            end(drawer.process)
            if drawer.reader is not None:
                drawer.reader.join()


def gathered(drawers: Iterable[Drawer]) -> dict[str, Any]:
    """Return every context that was drawn apart, by page name."""
    return {name: context for drawer in drawers for name, context in drawer.contexts().items()}


def shares(pages: tuple[Page, ...], processes: int) -> tuple[tuple[str, ...], ...]:
    """Return which pages each process draws, the heaviest dealt out first; pages of this process are in none.

    Only pages of the registry are given away: a page made by the caller stays with the caller.
    """
    loads = [HERE, *[0.0] * processes]
    dealt: list[list[str]] = [[] for _ in loads]
    for page in sorted((p for p in pages if p.effort and p in PAGES), key=lambda p: -p.effort):
        lightest = loads.index(min(loads))
        loads[lightest] += page.effort
        dealt[lightest].append(page.name)
    return tuple(tuple(names) for names in dealt[1:] if names)


def _view(items: dict[Any, Any]) -> MappingProxyType[Any, Any]:
    return MappingProxyType(items)


class _Sender(pickle.Pickler):
    """Pickles read-only views of mappings too, which stock is made of."""

    dispatch_table = copyreg.dispatch_table | {MappingProxyType: lambda view: (_view, (dict(view),))}


def _task(project: Project, paper: PaperName, names: tuple[str, ...]) -> bytes:
    """Return what a process is sent; nothing where the project holds what cannot be sent, and is drawn here."""
    out = io.BytesIO()
    with suppress(TypeError, AttributeError, pickle.PicklingError):
        _Sender(out).dump((*project.inputs, paper, names))
        return out.getvalue()
    return b""


def draw() -> None:
    """Read a task from standard input, draw its pages, write their contexts to standard output."""
    order, shop, given, paper, names = pickle.load(sys.stdin.buffer)
    answer = sys.stdout.buffer
    setting = unframed_setting(Project(order, shop, **given), paper)
    contexts = {page.name: page.context(setting) for page in PAGES if page.name in names}
    answer.write(pickle.dumps(contexts))
    answer.flush()
