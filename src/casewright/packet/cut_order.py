"""In what order a sheet's fences are set: everything that waits for one setting is cut before the fence moves.

Source: common practice (repeated sizes against one setting, all pieces of that setting together).
Fewest visits to a fence under "a plate is there before it is cut" is a scheduling problem. Each setting needs at least
one visit. Where the plain rule (go on with what can be finished) needs more, a best-first search over what has been cut
(A*; Hart, Nilsson and Raphael, 1968) counts a visit for each setting that is left; it ends with the fewest visits, or,
after `LOOK` states, with the plain rule from the state that promises most.
"""

from __future__ import annotations

import heapq
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field

from casewright.layout.model import Axis, Cut, Laid, Rest

Node = Cut | Laid | Rest

LOOK = 400  # states that are looked at for one sheet


@dataclass(frozen=True, slots=True)
class Key:
    """A setting: direction, what the fence is set to as it is printed, and whether the cut is a rough one."""

    axis: Axis
    text: str
    rough: bool


@dataclass(frozen=True, slots=True)
class Run:
    """Lines of one plate at one setting: `lines[first : first + count]` of the cut, and the pieces that come off.

    `last` is what is left of the plate where these are its last lines, else None, and `to` the setting that it would
    have: printed sizes do not add up to the plate, so that a part that is left over is trimmed to its own.
    """

    cut: Cut
    key: Key
    first: int
    pieces: tuple[Node, ...]
    last: Node | None
    to: str = ""


SettingOf = Callable[[Cut, Node], str]  # what the fence is set to for a piece of a cut, as it is printed


@dataclass(slots=True)
class _Work:
    """What is done and what waits: `waiting` plates lie there, `to_come` counts the runs left by setting."""

    runs: dict[int, list[Run]]  # of each cut, by the identity of the node in the tree
    waiting: list[int] = field(default_factory=list)
    done: dict[int, int] = field(default_factory=dict)  # how many runs of a cut are made
    to_come: dict[Key, int] = field(default_factory=dict)

    def copy(self) -> _Work:
        return _Work(self.runs, list(self.waiting), dict(self.done), dict(self.to_come))

    def bring(self, node: Node) -> None:
        """A piece has come off: lay it where it waits."""
        if isinstance(node, Cut):
            self.waiting.append(id(node))

    def state(self) -> frozenset[tuple[int, int]]:
        """What has been cut."""
        return frozenset(self.done.items())

    def settings_left(self) -> int:
        return sum(count > 0 for count in self.to_come.values())

    def following(self, at: int) -> Run:
        """Return the next run of a plate that waits."""
        return self.runs[at][self.done.get(at, 0)]

    def ready(self) -> list[Key]:
        """Return the settings that something waits for, in the order in which it came to wait."""
        return list(dict.fromkeys(self.following(at).key for at in self.waiting))

    def visit(self, key: Key) -> list[Run]:
        """Cut all that waits for a setting, and what comes to wait for it meanwhile."""
        made: list[Run] = []
        while (at := next((w for w in self.waiting if self.following(w).key == key), None)) is not None:
            run = self.following(at)
            self.done[at] = self.done.get(at, 0) + 1
            if self.done[at] == len(self.runs[at]):
                self.waiting.remove(at)
            self.to_come[key] -= 1
            made.append(run)
            for piece in run.pieces:
                self.bring(piece)
            if run.last is not None:
                self.bring(run.last)
        return made


def ordered_runs(root: Node, setting: SettingOf) -> list[list[Run]]:
    """Return the visits to the fence in order, each a list of runs at one setting."""
    runs = {id(node): list(_runs(node, setting)) for node in nodes_of(root) if isinstance(node, Cut)}
    work = _Work(runs)
    for of_cut in runs.values():
        for run in of_cut:
            work.to_come[run.key] = work.to_come.get(run.key, 0) + 1
    work.bring(root)
    keys = _plain(work.copy(), None)
    if len(keys) > len(work.to_come):
        keys = min(keys, _fewest(work.copy()), key=len)
    return [work.visit(key) for key in keys]


def _plain(work: _Work, last: Key | None) -> list[Key]:
    """Finish the work by the plain rule; return the settings in the order of visits."""
    keys: list[Key] = []
    while (key := _next(work, last)) is not None:
        work.visit(key)
        keys.append(key)
        last = key
    return keys


def _next(work: _Work, last: Key | None) -> Key | None:
    """Return the setting to go on with: rough cuts first, then one that can be finished, in the direction at hand."""
    ready = work.ready()
    if not ready:
        return None

    def rank(key: Key) -> tuple[bool, int, bool]:
        blocked = work.to_come[key] - _within_reach(work, key)
        return (not key.rough, blocked, last is not None and key.axis is not last.axis)

    return min(ready, key=rank)


def _within_reach(work: _Work, key: Key) -> int:
    """How many runs of a setting one visit would make now: those that wait, and what comes off them for it."""
    trial = work.copy()
    return len(trial.visit(key))


def _fewest(work: _Work) -> list[Key]:
    """Search for the order of least visits; every visit cuts all that waits for its setting, which is never worse."""
    seen = {work.state()}
    heap: list[tuple[int, int, int, list[Key], _Work]] = [(work.settings_left(), 0, 0, [], work)]
    pushed = 0
    for _ in range(LOOK):
        _, _, _, keys, at = heapq.heappop(heap)
        ready = at.ready()
        if not ready:
            return keys
        for key in [k for k in ready if k.rough] or ready:
            after = at.copy()
            after.visit(key)
            if (state := after.state()) not in seen:
                seen.add(state)
                pushed += 1
                visits = len(keys) + 1
                # Among equals the one that is further on, then the one that the plate offers first.
                heapq.heappush(heap, (visits + after.settings_left(), -visits, pushed, [*keys, key], after))
    _, _, _, keys, at = heap[0]
    return keys + _plain(at, keys[-1] if keys else None)


def nodes_of(node: Node) -> Iterator[Node]:
    """Yield a cut tree's nodes, each before its pieces, in the order of the tree."""
    yield node
    if isinstance(node, Cut):
        for piece in node.pieces:
            yield from nodes_of(piece)


def _runs(cut: Cut, setting: SettingOf) -> Iterator[Run]:
    """Yield the runs of one plate: neighbours at one setting."""
    texts = [setting(cut, piece) for piece in cut.pieces[: len(cut.lines)]]
    first = 0
    for end in range(1, len(texts) + 1):
        if end < len(texts) and texts[end] == texts[first]:
            continue
        last = cut.pieces[-1] if end == len(texts) else None
        key = Key(cut.axis, texts[first], cut.rough)
        to = setting(cut, last) if last is not None and not isinstance(last, Rest) else ""
        yield Run(cut, key, first, cut.pieces[first:end], last, to)
        first = end
