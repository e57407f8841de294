"""Filling one board: the open group first, then whole groups, then single pieces."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from casewright.layout.boards.fill import Fill, Lane, open_fill
from casewright.layout.boards.needs import Group, Key, Needs
from casewright.layout.boards.panels import limits
from casewright.layout.model import BoardDemand, BoardStock


@dataclass(slots=True)
class Load:
    """A filled board, what is needed after it, and the group that goes on to the next board.

    `times` boards are cut alike; `work` is how many pieces and keys were looked at to fill it.
    """

    fill: Fill
    needs: Needs
    open: Group | None
    served: bool  # the group that was open before has a piece on this board
    shown: int = 0  # surface of the show parts on it
    times: int = 1
    work: int = 1


def load_board(
    demand: BoardDemand,
    source: BoardStock,
    rip_first: bool,
    needs: Needs,
    opened: Group | None,
    groups: Sequence[Group],
    order: Sequence[Key],
) -> Load:
    """Fill a board of `source`; `order` ranks the keys. At most one group is left open when the board is closed."""
    fill = open_fill(demand, source, rip_first)
    needs = needs.copy()
    rank = {key: i for i, key in enumerate(order)}
    served = True
    if opened is not None:
        fill, needs, served = _fill_group(fill, needs, opened, rank)
    still = opened if opened is not None and not needs.done(opened.keys) else None
    tries = 0
    full: set[str] = set()  # panels of which no other goes on: copies are alike
    for group in _waiting(needs, groups, still, rank):
        alone = group.keys[0][0] if len(group.keys) == 1 else ""
        if alone in full:
            continue
        tries += 1
        trial, after, placed = _fill_group(fill, needs, group, rank)
        if placed and (still is None or after.done(group.keys)):
            fill, needs = trial, after
            still = still if after.done(group.keys) else group
        elif alone:
            full.add(alone)
    grouped = {k for g in groups for k in g.keys}
    _fill_with(fill, needs, [k for k in order if k not in grouped])
    held = sum(len(lane.pieces) + 1 for lane in fill.lanes)
    work = len(order) // 4 + 8 * held + tries * (held + len(order) // 8)
    return Load(fill, needs, still, served, _shown(fill, needs), work=work)


def _waiting(needs: Needs, groups: Sequence[Group], still: Group | None, rank: dict[Key, int]) -> list[Group]:
    """The groups that are not done and not open, show parts first."""
    waiting = [g for g in groups if g is not still and not needs.done(g.keys)]
    return sorted(waiting, key=lambda g: (not g.show, min(rank[k] for k in g.keys if needs.wants(k))))


def _shown(fill: Fill, needs: Needs) -> int:
    pieces = [p for lane in fill.lanes for p in lane.pieces]
    return sum(p.along * p.across for p in pieces if needs.parts[p.name.partition("#")[0]].show)


def _fill_group(fill: Fill, needs: Needs, group: Group, rank: dict[Key, int]) -> tuple[Fill, Needs, bool]:
    """Return the fill and needs with as much of `group` as fits, and whether anything did.

    A panel begun before goes on first, and no more than one panel is left begun, so that the strips
    of each panel come from neighbouring boards.
    """
    before = fill.used
    fill, needs = fill.copy(), needs.copy()
    keys = sorted((k for k in group.keys if needs.wants(k)), key=rank.__getitem__)
    begun = next((k for k in keys if needs.begun(k)), None)
    if begun is not None and not _fill_with(fill, needs, [begun]):
        return fill, needs, False
    begun = begun if begun is not None and needs.wants(begun) else None
    full: set[str] = set()
    for key in keys:
        if not needs.wants(key) or key == begun or key[0] in full:
            continue
        if not needs.is_panel(key):
            _fill_with(fill, needs, [key])
            continue
        trial, after = fill.copy(), needs.copy()
        if _fill_with(trial, after, [key]) and (begun is None or not after.wants(key)):
            fill, needs = trial, after
            begun = key if after.wants(key) else begun
        else:
            full.add(key[0])
    return fill, needs, fill.used > before


def _fill_with(fill: Fill, needs: Needs, keys: Sequence[Key]) -> bool:
    """Put in as much of `keys` as fits, in their order; True where anything did."""
    before = fill.used
    for key in keys:
        while needs.wants(key) and _put(fill, needs, key):
            pass
    return fill.used > before


def _put(fill: Fill, needs: Needs, key: Key) -> bool:
    return _put_in_lane(fill, needs, key) or _put_in_new_lane(fill, needs, key)


def _put_in_lane(fill: Fill, needs: Needs, key: Key) -> bool:
    length = needs.parts[key[0]].length
    best: tuple[int, int, Lane, int] | None = None
    for lane in fill.lanes:
        limit = lane.size if fill.rip_first else lane.longest_free()
        if (lane.longest_free() if fill.rip_first else lane.size) < length:
            continue
        width = needs.width(key, limit) if fill.rip_first else _even_width(fill, needs, key, limit)
        spare = lane.size - (width if fill.rip_first else length)
        if width and (best is None or (spare, lane.at) < best[:2]):
            best = spare, lane.at, lane, width
    if best is None:
        return False
    _lay(fill, needs, key, best[2], best[3])
    return True


def _put_in_new_lane(fill: Fill, needs: Needs, key: Key) -> bool:
    length = needs.parts[key[0]].length
    if fill.rip_first:
        width = _even_width(fill, needs, key, fill.widest_room())
        lane = fill.open_lane(length, width) if width else None
    else:
        width = _even_width(fill, needs, key, fill.longest_span())
        lane = fill.open_lane(width, length) if width else None
    if lane is None:
        return False
    _lay(fill, needs, key, lane, width)
    return True


def _lay(fill: Fill, needs: Needs, key: Key, lane: Lane, width: int) -> None:
    length = needs.parts[key[0]].length
    name = needs.cut(key, width)
    along, across = (length, width) if fill.rip_first else (width, length)
    fill.put(lane, name, along, across)


def _even_width(fill: Fill, needs: Needs, key: Key, room: int) -> int:
    """The width to cut next from `room`: even strips where these can still finish the panel, else what can."""
    return needs.width(key, _even(fill, needs, key, room)) or needs.width(key, room)


def _even(fill: Fill, needs: Needs, key: Key, room: int) -> int:
    """The limit for a strip so that `room` is ripped into strips of one width without a sliver left."""
    part = needs.parts[key[0]]
    if not part.strip_min:
        return room
    bounds = limits(part)
    strips = -(-(room + fill.kerf) // (bounds.most + fill.kerf))
    width = (room + fill.kerf) // max(1, strips) - fill.kerf
    return width if width >= bounds.least else room
