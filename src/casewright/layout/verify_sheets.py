"""An independent check of sheet layouts: shares no code with the solver, reads records alone.

Laws: each pattern's cuts divide the trimmed sheet with nothing lost or counted twice; every cut can be made by
the saws (lift, longest rip, widest crosscut, stages, first direction); every part lies as its grain asks, as often
as wanted or is named in `unplaced`; groups lie side by side in sequence on one sheet; locked patterns are kept; no
more stock is used than there is; value, bound, status and the goals' values are what the layout says they are.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator

from casewright.layout.model import (
    GRID,
    Axis,
    Cut,
    Goal,
    Laid,
    Rest,
    Saws,
    SheetDemand,
    SheetLayout,
    SheetPart,
    SheetPattern,
    SheetStock,
    Status,
)

Piece = Cut | Laid | Rest


def verify_sheets(demand: SheetDemand, layout: SheetLayout) -> tuple[str, ...]:
    """Return the faults of `layout` as an answer to `demand`; empty if it is good."""
    faults: list[str] = []
    stock = {sheet.id: sheet for sheet in demand.stock}
    parts = {part.id: part for part in demand.parts}
    for number, pattern in enumerate(layout.patterns, 1):
        where = f"pattern {number} on {pattern.stock}"
        if pattern.stock not in stock:
            faults.append(f"{where}: no such stock")
        else:
            faults += [f"{where}: {fault}" for fault in _pattern(demand, stock[pattern.stock], parts, pattern)]
    if faults:
        return tuple(faults)
    faults += _counts(demand, layout)
    faults += _groups(demand, layout)
    faults += _outcome(demand, layout, stock)
    return tuple(faults)


def _pattern(
    demand: SheetDemand, sheet: SheetStock, parts: dict[str, SheetPart], pattern: SheetPattern
) -> Iterator[str]:
    if pattern.times < 1:
        yield f"made {pattern.times} times"
    left, right, low, high = sheet.trim
    inside = (left, low, sheet.length - left - right, sheet.width - low - high)
    if _box(pattern.root) != inside:
        yield f"root {_box(pattern.root)} is not the trimmed sheet {inside}"
    yield from _divided(pattern.root)
    for leaf in _leaves(pattern.root):
        if isinstance(leaf, Laid):
            yield from _lies_well(leaf, parts.get(leaf.part))
        elif leaf.keep and (leaf.length < max(1, demand.keep_length) or leaf.width < max(1, demand.keep_width)):
            yield f"rest {_box(leaf)} is too small to keep"
    if not pattern.locked:  # what has been cut already need not suit today's saws
        yield from _sawn(demand, pattern.root, stage=0, above=None)


def _box(piece: Piece) -> tuple[int, int, int, int]:
    return piece.x, piece.y, piece.length, piece.width


def _leaves(piece: Piece) -> Iterator[Laid | Rest]:
    if isinstance(piece, Cut):
        for below in piece.pieces:
            yield from _leaves(below)
    else:
        yield piece


def _cuts(piece: Piece) -> Iterator[Cut]:
    if isinstance(piece, Cut):
        yield piece
        for below in piece.pieces:
            yield from _cuts(below)


def _divided(piece: Piece) -> Iterator[str]:
    """Check that the pieces of each cut are exactly what its lines leave of the plate."""
    for cut in _cuts(piece):
        if not cut.lines or len(cut.pieces) != len(cut.lines) + 1 or cut.kerf < 0:
            yield f"cut {_box(cut)} has {len(cut.lines)} lines and {len(cut.pieces)} pieces, kerf {cut.kerf}"
            continue
        along_x = cut.axis is Axis.CROSSCUT
        start = cut.x if along_x else cut.y
        end = start + (cut.length if along_x else cut.width)
        for index, below in enumerate(cut.pieces):
            last = index == len(cut.lines)
            stop = end if last else cut.lines[index]
            if not (min(start, end) <= stop <= end) or (not last and stop == end):
                yield f"cut {_box(cut)}: line {stop} is outside {start}..{end}"
            begin, size = min(start, end), max(0, stop - start)
            want = (begin, cut.y, size, cut.width) if along_x else (cut.x, begin, cut.length, size)
            if _box(below) != want:
                yield f"piece {_box(below)} should be {want}"
            if size == 0 and not isinstance(below, Rest):
                yield f"piece {_box(below)} has no size"
            start = stop + cut.kerf


def _lies_well(laid: Laid, part: SheetPart | None) -> Iterator[str]:
    if part is None:
        yield f"unknown part {laid.part}"
    elif laid.turned and not part.turn:
        yield f"{laid.part} is turned against its grain"
    else:
        want = (part.width, part.length) if laid.turned else (part.length, part.width)
        if (laid.length, laid.width) != want:
            yield f"{laid.part} is {laid.length} x {laid.width}, not {want[0]} x {want[1]}"


def _liftable(saws: Saws, piece: Piece) -> bool:
    limits = [limit for limit in (saws.lift_length, saws.lift_width) if limit is not None]
    if not limits:
        return True
    big, small = max(piece.length, piece.width), min(piece.length, piece.width)
    return big <= max(limits) and small <= min(limits) if len(limits) == 2 else big <= limits[0]


def _sawn(demand: SheetDemand, piece: Piece, *, stage: int, above: Axis | None) -> Iterator[str]:
    """Check each cut against the saws, from the sheet down."""
    if not isinstance(piece, Cut):
        return
    saws = demand.saws
    stage += piece.axis is not above
    if above is None and demand.first not in (None, piece.axis):
        yield f"first cut is a {piece.axis.value}"
    if demand.stages is not None and stage > demand.stages:
        yield f"cut {_box(piece)} is in stage {stage} of {demand.stages}"
    if piece.rough == _liftable(saws, piece):
        yield f"cut {_box(piece)} is {'rough but liftable' if piece.rough else 'not rough but too large to lift'}"
    if piece.kerf != (saws.rough_width if piece.rough else saws.kerf):
        yield f"cut {_box(piece)} takes {piece.kerf}"
    rip = piece.axis is Axis.RIP
    run, limit = (piece.length, saws.longest_rip) if rip else (piece.width, saws.widest_crosscut)
    if not piece.rough and limit is not None and run > limit:
        yield f"{piece.axis.value} of {run} is longer than {limit}"
    for below in piece.pieces:
        yield from _sawn(demand, below, stage=stage, above=piece.axis)


def _laid_counts(patterns: tuple[SheetPattern, ...]) -> Counter[str]:
    count: Counter[str] = Counter()
    for pattern in patterns:
        for leaf in _leaves(pattern.root):
            if isinstance(leaf, Laid):
                count[leaf.part] += pattern.times
    return count


def _counts(demand: SheetDemand, layout: SheetLayout) -> Iterator[str]:
    laid, locked = _laid_counts(layout.patterns), _laid_counts(demand.locked)
    missing: Counter[str] = Counter()
    for entry in layout.unplaced:
        missing[entry.part] += entry.count
        if not entry.why:
            yield f"unplaced {entry.part} has no reason"
    wanted: Counter[str] = Counter()
    for part in demand.parts:
        wanted[part.id] += max(0, part.count)
    for name in sorted(wanted.keys() | laid.keys()):
        if laid[name] + missing[name] != max(wanted[name], locked[name]):
            yield f"{name}: {laid[name]} laid and {missing[name]} unplaced of {wanted[name]}"
    used: Counter[str] = Counter()
    for pattern in layout.patterns:
        used[pattern.stock] += pattern.times
    for sheet in demand.stock:
        if sheet.count is not None and used[sheet.id] > sheet.count:
            yield f"{used[sheet.id]} of {sheet.id} used, {sheet.count} there"
    kept, found = Counter(demand.locked), Counter(pattern for pattern in layout.patterns if pattern.locked)
    if kept != found:
        yield "locked patterns are not those of the demand"


def _groups(demand: SheetDemand, layout: SheetLayout) -> Iterator[str]:
    locked = _laid_counts(demand.locked)
    for group in sorted({part.group for part in demand.parts if part.group}):
        members = {part.id: part for part in demand.parts if part.group == group}
        if any(locked[name] for name in members):
            continue  # its sheet was settled before
        runs = []
        for pattern in layout.patterns:
            run = [leaf for leaf in _leaves(pattern.root) if isinstance(leaf, Laid) and leaf.part in members]
            if run:
                runs.append((pattern, run))
        if not runs:
            continue  # counted as unplaced
        if len(runs) > 1 or runs[0][0].times != 1 or len(runs[0][1]) != sum(p.count for p in members.values()):
            yield f"group {group} does not come from one sheet"
        elif not _in_sequence(demand.saws, members, runs[0][1]):
            yield f"group {group} does not lie side by side in sequence"


def _in_sequence(saws: Saws, members: dict[str, SheetPart], run: list[Laid]) -> bool:
    gaps = {saws.kerf, saws.rough_width}
    if len({leaf.turned for leaf in run}) > 1:
        return False
    for along_x in (True, False):
        line = sorted(run, key=lambda leaf: leaf.x if along_x else leaf.y)
        if len({leaf.y if along_x else leaf.x for leaf in line}) > 1:
            continue
        ends = [leaf.x + leaf.length if along_x else leaf.y + leaf.width for leaf in line]
        starts = [leaf.x if along_x else leaf.y for leaf in line]
        order = [members[leaf.part].sequence for leaf in line]
        close = all(start - end in gaps for end, start in zip(ends, starts[1:], strict=False))
        if close and order in (sorted(order), sorted(order, reverse=True)):
            return True
    return False


def _outcome(demand: SheetDemand, layout: SheetLayout, stock: dict[str, SheetStock]) -> Iterator[str]:
    outcome = layout.outcome
    if [goal for goal, _ in outcome.goals] != list(demand.goals):
        yield "goals are not those of the demand"
    for goal, value in outcome.goals:
        if value != (measured := _measure(goal, layout, stock)):
            yield f"{goal.name} is given as {value}, measured {measured}"
    if demand.goals:
        first = _measure(demand.goals[0], layout, stock)
        if outcome.value != (-first if demand.goals[0] in (Goal.OFFCUTS, Goal.REMNANT) else first):
            yield f"value {outcome.value} is not that of the first goal"
    if layout.unplaced:
        if outcome.status is not Status.INFEASIBLE:
            yield f"something is unplaced, status is {outcome.status.name}"
    elif outcome.bound > outcome.value:
        yield f"bound {outcome.bound} is above the value {outcome.value}"
    elif outcome.status is Status.PROVEN and outcome.bound != outcome.value:
        yield f"called proven with bound {outcome.bound} and value {outcome.value}"


def _measure(goal: Goal, layout: SheetLayout, stock: dict[str, SheetStock]) -> int:
    match goal:
        case Goal.COST:
            return sum(stock[pattern.stock].price * pattern.times for pattern in layout.patterns)
        case Goal.OFFCUTS:
            used = [(stock[pattern.stock], pattern.times) for pattern in layout.patterns]
            return sum(sheet.length * sheet.width * times for sheet, times in used if sheet.offcut) // GRID**2
        case Goal.REMNANT:
            return max((_remnant(pattern) for pattern in layout.patterns), default=0) // GRID**2
        case Goal.SETTINGS:
            return len({setting for pattern in layout.patterns for setting in _settings(pattern)})
        case Goal.CUTS:
            return sum(_saw_lines(pattern) * pattern.times for pattern in layout.patterns)


def _remnant(pattern: SheetPattern) -> int:
    """Area of the largest rest that runs the whole length or width of the trimmed sheet."""
    root = pattern.root
    rests = [leaf for leaf in _leaves(root) if isinstance(leaf, Rest)]
    full = [leaf for leaf in rests if leaf.length == root.length or leaf.width == root.width]
    return max((leaf.length * leaf.width for leaf in full), default=0)


def _settings(pattern: SheetPattern) -> Iterator[tuple[Axis, int]]:
    """The distance from fence to blade for each piece that is not a rest."""
    for cut in _cuts(pattern.root):
        for below in cut.pieces:
            if not isinstance(below, Rest):
                yield cut.axis, below.length if cut.axis is Axis.CROSSCUT else below.width


def _saw_lines(pattern: SheetPattern) -> int:
    """Lines sawn, and turns: each plate that is cut across the direction in which it was made."""
    turns = sum(
        isinstance(below, Cut) and below.axis is not cut.axis for cut in _cuts(pattern.root) for below in cut.pieces
    )
    return sum(len(cut.lines) for cut in _cuts(pattern.root)) + turns
